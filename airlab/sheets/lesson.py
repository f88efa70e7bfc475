"""Which pages does a teacher need for notebook 01? A plan of 45 minutes, a hand-out, its key.

The key is computed when it is printed and stays a page of its own. Times in the plan add up to
the length of the lesson; a test adds them.
"""

from airlab.physics import Balloon, FanHeldVolume, RoundHole, drain
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page
from airlab.words import label, mm, show, show_duration, show_percent

__all__ = ["LESSON_MINUTES", "handout_page", "key_page", "lesson_page"]

LESSON_MINUTES = 45
_DIAMETERS = tuple(mm(size) for size in (1.0, 2.5, 6.0))
_TICKET = (
    "A house and a balloon have the same hole. Which one changes its air more often in an hour at "
    "the same pressure, and why? One sentence."
)
_STEPS = (
    (5, "Balloon in the hand, hole covered. \"It is only a tiny hole.\" Ask: how long?",
     "listen", "How long?"),
    (5, "Show the three holes. Nobody speaks. Guesses go on the hand-out.",
     "write three guesses, do not change them", "table of guesses: lowest, highest"),
    (12, "Open notebook 01 on the projector. One hole at a time, the smallest last. Let them say "
     "what they see before you explain.", "write what they saw beside the guess",
     "hole, guess, seen"),
    (8, "What happened: the hole goes with the area. Litres out per minute over litres inside: "
     "refills an hour. Always with its pressure.", "say the division aloud, with units",
     "flow ÷ volume = refills per hour, at … Pa"),
    (7, "Exercises on the hand-out or in the notebook, in pairs. Walk round, name the slip.",
     "work in pairs", "numbers of the exercises"),
    (4, "* From balloon to house: the fan keeps 50 Pa, the flow stays.",
     "compare balloon and house", "the house at 50 Pa, volume and flow"),
    (4, "Exit ticket at the door.", "write one sentence", "the question"),
)  # fmt: skip
_OUTCOMES = (
    "say what a hole, a volume and a pressure each do to the time until a balloon is flat",
    "turn a flow and a volume into refills per hour, and say at which pressure",
    "explain why twice the diameter drains four times as fast",
    "say why a number of air changes without its pressure means nothing",
)
_KIT = (
    "one screen for all, or tablets; no network is needed",
    "the hand-out, one each, black and white; the key stays with you",
    "if you like: a balloon on a pump and caps drilled with the three holes",
    "a clock that everyone can see",
)
_EXTENSION = (
    "Two holes at once: is the time the mean of the two? Predict, then try.",
    "The hole in bare rubber instead of a cap: why does the end take longer?",
)
_OPTIONAL = "*"


def _holes(shown):
    """Yield (hole, time to flat, rate) for the three holes of the lesson."""
    for diameter in _DIAMETERS:
        seen = drain(Balloon(), (RoundHole.from_diameter(diameter),))
        yield (
            shown.value(diameter, "mm"), show_duration(seen.time_to_flat),
            f"{show(seen.refills_per_hour)} refills per hour, mean over the draining, from "
            f"{show(Balloon().pressure_difference, 'Pa')} down",
        )  # fmt: skip


def _exercises():
    from airlab.teaching import exercises_for

    return tuple(exercises_for("01"))


def _asked(exercise):
    """Return what a hand-out prints of an exercise: no answer."""
    options = getattr(exercise, "options", None)
    if options is not None:
        options = [(chr(ord("a") + i), text) for i, text in enumerate(options)]
    elif hasattr(exercise, "printed"):
        options = list(exercise.printed().items())
    return {"key": exercise.key, "question": exercise.question, "options": options or [],
            "unit": label(getattr(exercise, "unit", ""))}  # fmt: skip


def _answered(exercise):
    """Return what the key prints of an exercise: answer, reason, slips with their hints."""
    asked = _asked(exercise)
    if hasattr(exercise, "expected"):
        answer = show(exercise.expected(), exercise.unit)
        slips = [(show(float(slip.number()), exercise.unit), slip.hint) for slip in exercise.slips]
    elif hasattr(exercise, "options"):
        right = exercise.right()
        answer = next(f"{letter} {text}" for letter, text in asked["options"] if text == right)
        slips = list(exercise.hints.items())
    else:
        letters = {step: letter for letter, step in exercise.printed().items()}
        answer = ", ".join(letters[step] for step in exercise.steps)
        slips = [(f"{letters[step]} too late", why) for step, why in exercise.reasons.items()]
    return asked | {"answer": answer, "explain": exercise.explain, "slips": slips}


def lesson_page(facts):
    """Return the lesson plan for notebook 01: outcomes, kit, timing, board, likely answers.

    Parameters
    ----------
    facts : Facts
        The job whose house is shown at the end of the lesson.
    """
    shown = facts.shown
    clock, steps = 0, []
    for minutes, *rest in _STEPS:
        steps.append((f"{clock}–{clock + minutes}", *rest))
        clock += minutes
    answered = [_answered(exercise) for exercise in _exercises()]
    house = FanHeldVolume(facts.plan.geometry.internal_volume)
    held = show_duration(_seconds_to_fill(house, facts.plan.target_flow))
    computed = (
        *((f"{hole} hole: flat after", time) for hole, time, _ in _holes(shown)),
        (f"{facts.heading.name} at its target",
         f"{shown.flow(facts.plan.target_flow)} at 50 Pa through {shown.value(house.volume, 'm3')}, "
         f"{show(facts.indicators.n50)} air changes an hour at 50 Pa, one in {held}"),
    )  # fmt: skip
    return make_page(
        "lesson", "Lesson plan: the balloon",
        f"{LESSON_MINUTES} minutes with notebook 01, for 6 to 24 apprentices: a hole drains a volume; "
        "refills per hour is a mean flow over a volume. No maths beyond a division.",
        facts.heading, computed=computed, sources=named_sources("TRADE", "DERIVED", "MULLER2004", "BALLOON_DATA"),
        figures=[(name, text, "") for name, text in computed[:-1]], house=computed[-1],
        minutes=LESSON_MINUTES, outcomes=_OUTCOMES, kit=_KIT, steps=steps, extension=_EXTENSION, ticket=_TICKET,
        optional=sum(step[0] for step in _STEPS if step[1].startswith(_OPTIONAL)),
        slips=[(one["key"], said, hint) for one in answered for said, hint in one["slips"][:1]],
    )  # fmt: skip


def _seconds_to_fill(vessel, flow):
    return vessel.volume / flow


def _house(facts):
    """Return volume, flow at 50 Pa and air changes of the lesson's house as (name, text)."""
    return (
        ("its air", facts.shown.value(facts.plan.geometry.internal_volume, "m3")),
        ("through its leaks at 50 Pa, at the target", facts.shown.flow(facts.plan.target_flow)),
        ("air changes an hour at 50 Pa", show(facts.indicators.n50)),
    )


def handout_page(facts):
    """Return the learners' page: guesses, exercises, exit ticket; no answers.

    Parameters
    ----------
    facts : Facts
        Head of the page and its units.
    """
    return make_page(
        "handout", "The balloon: hand-out",
        "Guess first, then look, then reckon.", facts.heading, computed=_house(facts)[:2],
        house=_house(facts),
        holes=[(hole, "", "") for hole, _, _ in _holes(facts.shown)],
        exercises=[_asked(exercise) for exercise in _exercises()], ticket=_TICKET,
    )  # fmt: skip


def key_page(facts):
    """Return the answer key to the hand-out, every value computed now.

    Parameters
    ----------
    facts : Facts
        Head of the page and its units.
    """
    exercises = _exercises()
    tolerance = {show_percent(one.tolerance) for one in exercises if hasattr(one, "tolerance")}
    return make_page(
        "key", "The balloon: answer key", "For the teacher; keep it apart from the hand-outs.",
        facts.heading,
        computed=[(one.key, _answered(one)["answer"]) for one in exercises] + [_house(facts)[2]],
        sources=named_sources("DERIVED", "MULLER2004"),
        house=_house(facts), holes=list(_holes(facts.shown)),
        exercises=[_answered(exercise) for exercise in exercises],
        tolerance=" or ".join(sorted(tolerance)),
    )  # fmt: skip
