"""Attempts, hints, rubrics and the class as one record.

Values are worked by hand from small classes written out here; the point counts of a rubric are
plain sums. Sources of the physics behind the exercises stand with the exercises' own tests.
"""

from datetime import datetime, timedelta, timezone

import pytest

from airlab.teaching import ask, check, exercise, exercises_for
from airlab.teaching.board import class_board
from airlab.teaching.marks import (
    MARKS,
    RUBRICS,
    Guess,
    Try,
    grade,
    hint_reached,
    learner_code,
    try_of,
)
from airlab.words import InputError

START = datetime(2026, 3, 24, 9, 0, tzinfo=timezone(timedelta(hours=1)))


def tries(learner, key, *answers, minute=0):
    made = []
    for place, answer in enumerate(answers):
        said = check(key, answer)
        when = START + timedelta(minutes=minute + place)
        made.append(
            Try(learner, key, said.state, str(answer), hint_reached(said), when=when, time_s=30.0)
        )
    return made


# ---- who, and what is kept ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "kept"), [(7, "7"), (" 007 ", "7"), ("b-12", "B-12"), ("0", "0")]
)
def test_a_code_is_kept_in_one_way(given, kept):
    assert learner_code(given) == kept


@pytest.mark.parametrize("given", ["", " ", "Ann Miller", "a" * 13, "../x", "=1", "Zoë", "-"])
def test_a_name_is_not_taken(given):
    with pytest.raises(InputError, match="A name is not needed"):
        learner_code(given)


def test_an_attempt_goes_to_a_row_and_back():
    one = try_of("7", check("01-1", 30), 30, "twice as wide", 41.27)
    assert (one.state, one.answer, one.time_s) == ("not yet", "30", 41.3)
    assert one.hint == "That halves the time. Area goes with the diameter squared."
    assert one.when.utcoffset() is not None
    assert Try.from_row(one.to_row()) == one
    assert set(one.to_row()) == {column.name for column in MARKS.columns}
    assert try_of("7", check("01-1", 15), 15).hint == ""  # a right answer keeps no answer beside it


def test_attempts_have_names_of_their_own():
    assert len({try_of(1, check("01-1", 1), 1).attempt for _ in range(500)}) == 500


@pytest.mark.parametrize("notebook", [f"{n:02d}" for n in range(1, 12)])
def test_the_hint_of_every_slip_is_kept(notebook):
    """Whatever kind of exercise: the hint that is shown is the hint that is kept."""
    asked = exercises_for(notebook)
    for entry in asked:
        for answer, hint in entry.wrong():
            said = check(entry.key, answer)
            assert said.state != "right", (entry.key, answer)
            kept = hint_reached(said)
            assert kept and said.sentence.endswith(kept), (entry.key, answer, said)
            assert kept == hint or said.state == "right number, wrong unit", (entry.key, answer)
        assert hint_reached(check(entry.key, ...)) == ""
        assert hint_reached(check(entry.key, entry.answer())) == ""


def test_too_large_is_no_slip_and_a_wrong_unit_is():
    assert hint_reached(check("01-1", 500.0)) == ""
    assert "minutes and seconds" in hint_reached(check("01-1", 15.0 / 60.0))


# ---- open tasks ---------------------------------------------------------------------------------


def test_rubrics_are_of_the_three_open_tasks():
    assert set(RUBRICS) == {"D5", "D9", "D10"}
    for criteria in RUBRICS.values():
        assert len({c.name for c in criteria}) == len(criteria) == 5
        assert all(len(set(c.levels)) == 3 for c in criteria)
        assert any(c.must for c in criteria)


def test_points_add_up_and_a_must_decides_alone():
    assert grade("D5", 2, 1, 0, 2, 1).total == 6
    assert grade("D5", 2, 1, 0, 2, 1).missing == ()
    assert "Next: corner, cut, a pinhole left" in grade("D5", 2, 1, 0, 2, 1).sentence()
    unsafe = grade("D9", 0, 2, 2, 2, 2)
    assert (unsafe.total, unsafe.out_of, unsafe.missing) == (8, 10, ("safety",))
    assert (
        unsafe.sentence() == "D9: 8 of 10 points. Not passed, whatever the points: safety is at 0."
    )
    assert grade("D10", 2, 2, 2, 2, 2).sentence() == "D10: 10 of 10 points. Nothing is missing."
    kept = unsafe.kept("3", "fan was running")
    assert (kept.exercise, kept.state, kept.points, kept.out_of) == ("D9", "graded", 8, 10)
    assert kept.answer.startswith("safety 0, decision 2")


@pytest.mark.parametrize(("task", "points"), [("D5", (2, 2)), ("D5", (3, 0, 0, 0, 0)), ("D1", (0,)),
                                              ("D9", ("2", 0, 0, 0, 0))])  # fmt: skip
def test_other_points_are_refused(task, points):
    with pytest.raises(InputError):
        grade(task, *points)


# ---- the class ----------------------------------------------------------------------------------


def test_a_slip_is_alive_until_the_exercise_is_right():
    marks = [
        *tries("1", "01-1", 30, 15),  # reached the hint, then right
        *tries("2", "01-1", 30, 30),  # twice, and still there
        *tries("3", "01-1", 15, 30),  # right, then fell back
        *tries("4", "01-1", 120),  # another slip
        *tries("5", "01-1", 15),
    ]
    board = class_board(marks)
    first, second = board.slips
    assert first.hint.startswith("That halves the time")
    assert (first.hits, first.learners, first.alive) == (4, ("1", "2", "3"), ("2", "3"))
    assert (second.learners, second.alive) == (("4",), ("4",))
    item = board.items[0]
    assert item.tries == {
        "1": (2, True),
        "2": (2, False),
        "3": (1, True),
        "4": (1, False),
        "5": (1, True),
    }
    assert (item.first_right, item.right, item.time) == (2, 3, 30.0)
    assert board.learners == ("1", "2", "3", "4", "5")
    assert "60 %" in board.sentence()
    assert "Take up first: 01-1: 3 reached it, 2 still there." in board.sentence()


def test_the_order_of_files_does_not_matter_but_the_clock_does():
    late, early = tries("1", "01-1", 15, minute=9), tries("1", "01-1", 30)
    for marks in ([*late, *early], [*early, *late]):
        assert class_board(marks).slips[0].alive == ()
    assert "No slip is alive" in class_board([*late, *early]).sentence()


def test_learners_with_their_own_numbers_share_one_slip():
    """Own numbers word a hint in their own way ("halves", "divides by 2.5"); it is one slip."""
    keys = [f"01-1/{seed}" for seed in range(1, 13)]
    said = {exercise(key).wrong()[0][1] for key in keys}
    assert len(said) > 1
    marks = [
        one for n, key in enumerate(keys) for one in tries(str(n), key, exercise(key).wrong()[0][0])
    ]
    board = class_board(marks)
    assert [item.base for item in board.items] == ["01-1"]
    assert [(slip.base, slip.hint, slip.hits) for slip in board.slips] == [
        ("01-1", exercise("01-1").wrong()[0][1], 12)
    ]
    assert board.items[0].first_right == 0
    own = [tries(str(n), key, exercise(key).answer())[0] for n, key in enumerate(keys)]
    assert class_board(own).predictions[0].ratios == pytest.approx([1.0] * 12)


def test_first_answers_stand_over_the_right_ones():
    marks = [*tries("1", "01-1", 30, 15), *tries("2", "01-1", 15.3), *tries("3", "01-1", "a lot"),
             *tries("4", "01-5", "the same")]  # fmt: skip
    (only,) = class_board(marks).predictions
    assert only.ratios == pytest.approx((1.02, 2.0))
    assert (only.kind, only.near) == ("first answers", 1)
    assert only.question == ask("01-1")


def test_guesses_stand_beside_them():
    guesses = [Guess("flat after", 30.0, 60.0, "s", "1"), Guess("flat after", 120.0, 60.0, "s"),
               Guess("nothing came out", 1.0, 0.0)]  # fmt: skip
    (only,) = class_board(guesses=guesses).predictions
    assert only.ratios == (0.5, 2.0)
    assert class_board(guesses=guesses).learners == ("1",)
    assert only.sentence() == (
        "flat after: 0 of 2 within a tenth, the middle one 1.2 times what came out."
    )


def test_the_hunt_of_a_class():
    day = {"house": "Yard", "seed": 7, "unsafe_steps": 0, "wrong_choices": 0, "leaks": 3}
    rows = [
        {**day, "learner": "1", "points": 80, "missed": "Hall, ceiling, high"},
        {**day, "learner": "2", "points": 20, "missed": "Bath, floor, low; Hall, ceiling, high", "unsafe_steps": 1},
        {**day, "learner": "3", "points": 100, "missed": "none"},
        {**day, "learner": "4", "points": 60, "missed": ""},  # written before this was kept
        {**day, "learner": "5", "points": 10, "seed": 8, "missed": "", "wrong_choices": 2},
    ]  # fmt: skip
    first, second = class_board(hunts=rows).hunts
    assert first.points == (20, 60, 80, 100)
    assert (first.missed, first.told) == ((("Hall, ceiling, high", 2), ("Bath, floor, low", 1)), 3)
    assert first.sentence() == (
        "Yard, seed 7: 4 days, 20 to 100 points, 70 in the middle. Missed most: Hall, ceiling, high, "
        "by 2 of 3. An unsafe step in 1 of 4 days: talk about it first."
    )
    assert second.sentence() == (
        "Yard, seed 8: 1 day, 10 points. 2 places were sealed with something that does not hold there."
    )
    (level,) = class_board(hunts=[{**row, "points": 0, "seed": 7} for row in rows[2:4]]).hunts
    assert level.sentence() == "Yard, seed 7: 2 days, 0 points each."


def test_an_empty_class_says_so():
    assert class_board().sentence() == "0 learners."
