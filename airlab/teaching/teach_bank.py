"""Exercises of 11: which slip is alive, whose sheet it is, guess before you explain, points for a task."""

from airlab.teaching.exercise import Choice, Numeric, Ordering, Slip
from airlab.teaching.variants import template

__all__ = ["TEACH"]

_CLASS = 20


def _alive(reached, later, back):
    """Return in how many learners of a class the slip is alive, from the board of that class."""
    from airlab.teaching.board import class_board
    from airlab.teaching.marks import Try

    slip, right = ("not yet", "hint"), ("right", "")
    said = [(slip, right)] * later + [(slip,)] * (reached - later) + [(right, slip)] * back
    tries = [
        Try(str(who), "01-1", state, "", hint) for who, ones in enumerate(said, 1) for state, hint in ones
    ]  # fmt: skip
    return len(class_board(tries).slips[0].alive)


@template("11-1", reached=(11, 12, 13, 14), later=(5, 6, 7, 8), back=(1, 2, 3))
def _board(key, reached=12, later=8, back=2):
    return Numeric(
        key, f"{reached} of {_CLASS} learners reached the same hint with their first answer to 01-1. {later} of them "
        f"had it right later. {back} others had it right first, and then gave that same wrong answer. In how many is "
        "the slip alive?",
        lambda: _alive(reached, later, back), "-",
        "Reached, and not right since. Those who fell back count; those who got over it do not.",
        (
            Slip(reached, "That is who answered so at first. Who got over it does not count any more."),
            Slip(reached + back, "That is everybody who ever reached it. Some have got over it."),
            Slip(reached - later, "Those who fell back count too: look at what came last."),
            Slip(later, "Those have got over it."),
        ),
        source="DERIVED", outcome="T1", level="core",
    )  # fmt: skip


_BEFORE, _LOOK, _TELL, _WHY, _OUT = (
    "everybody locks a guess", "the clock runs, nobody explains", "learners say what they saw",
    "you explain", "exit ticket at the door",
)  # fmt: skip


def _decides():
    from airlab.teaching.marks import grade

    return grade("D10", 2, 2, 0, 1, 2).missing[0]


TEACH = (
    _board,
    Choice(
        "11-2", "Student 8 hands in a sheet. All answers are wrong, and all of them are right for student 9. What "
        "comes first?",
        ("no points for copying", "read the check mark on the sheet", "a new sheet for student 8",
         "mark it with the key of student 9"),
        lambda: "read the check mark on the sheet",
        "The mark belongs to one student of one class. The panel says whose sheet it is.",
        {
            "no points for copying": "Perhaps two sheets were mixed up when they were given out. The sheet can tell.",
            "a new sheet for student 8": "It may come to that. First find out what happened to this one.",
            "mark it with the key of student 9": "Then student 9 has no sheet, and you do not know why.",
        },
        source="TRADE", outcome="T1", level="start",
    ),
    Ordering(
        "11-3", "Put the steps of a demonstration in order.",
        (_BEFORE, _LOOK, _TELL, _WHY, _OUT),
        "Guess, look, say, explain, ask once more. Watching without a guess of one's own teaches little.",
        {
            _BEFORE: "Without a guess of their own, people watch and learn little.",
            _LOOK: "There is nothing to talk about before it has run.",
            _TELL: "Many see what they expected. Let them say it before you explain.",
            _WHY: "The ticket asks what was understood, so the explanation comes before it.",
        },
        source="CROUCH2004", outcome="T1", level="start",
    ),
    Choice(
        "11-4", "\"Your house changes its air 1.9 times an hour when a fan holds 50 Pa. That is fairly tight: less "
        "draught on the sofa. The next tester may find a little more or less.\" Which criterion of D10 fails this, whatever the "
        "other points?",
        ("the number", "its meaning", "fresh air", "length"),
        _decides,
        "A tight house is praised only together with its ventilation. This one criterion decides alone.",
        {
            "the number": "It has its unit and its pressure.",
            "its meaning": "Less draught on the sofa: an owner understands that.",
            "length": "Three sentences, as asked.",
        },
        source="TRADE", outcome="D10", level="core",
    ),
    Choice(
        "11-5", "The board shows it: a week later half the class still says that a hole of twice the diameter needs half "
        "the time. You have five minutes. What do you do?",
        ("explain the area once more", "a new guess with three times the diameter, then the clock",
         "let the one explain who has it right", "give the answer and go on"),
        lambda: "a new guess with three times the diameter, then the clock",
        "They watch their own guess fail, and say what they saw. Then you explain, and the ticket asks once more.",
        {
            "explain the area once more": "They have heard it. They have not yet seen their own guess fail.",
            "let the one explain who has it right": "Good, but later: first each one needs a guess of his own to lose.",
            "give the answer and go on": "The slip comes back with the house, where the diameter is hidden in an area.",
        },
        source="CROUCH2004", outcome="T1", level="core",
    ),
)  # fmt: skip
