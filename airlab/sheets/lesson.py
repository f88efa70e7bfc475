"""Which pages does a teacher need for a lesson? A plan of its length, a hand-out, its key.

The key is computed when it is printed and stays a page of its own. Words and minutes of a plan
come from `teaching.lessons`, wrong answers from the exercises of its notebooks.
"""

from functools import cache

from airlab.plots.line_drawing import line_drawing
from airlab.sheets.glossary import all_sources, named_sources
from airlab.sheets.house import inline
from airlab.sheets.lessons_guesses import guesses
from airlab.sheets.page import make_page
from airlab.teaching import exercise as exercise_of
from airlab.teaching import exercises_for
from airlab.teaching.lessons import DAY, lesson_plan
from airlab.words import label, show, show_percent, us_worth

__all__ = ["asked", "handout_page", "key_page", "lesson_page", "said", "tolerances", "worth"]

_MOST_SLIPS = (6, 3)  # on a plan of 45 minutes, on a longer one; the key has them all
_EVERYBODY = (
    "one screen for all, or tablets; no network is needed",
    "hand-outs, black and white; the key stays with you",
)


def asked(exercise):
    """Return what a hand-out prints of an exercise: no answer.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    """
    parts = exercise.parts()
    kind = "order" if hasattr(exercise, "steps") else "choice" if parts else "number"
    kind = (
        "both"
        if hasattr(exercise, "grounds")
        else "places"
        if hasattr(exercise, "places")
        else kind
    )
    return {"key": exercise.key, "question": exercise.question, "parts": tuple(parts.items()), "kind": kind,
            "unit": label(getattr(exercise, "unit", "")), "drawing": _drawn(exercise.key) if kind == "places" else ""}  # fmt: skip


def worth(facts, exercises):
    """Return what the units of some exercises are worth, for a class in US units; the questions stay metric.

    Parameters
    ----------
    facts : Facts
        Units of the page.
    exercises : iterable of Exercise
        The exercises of a page.
    """
    if facts.shown.system != "us":
        return ""
    texts = (f"{one['question']} {one['parts']} 1 {one['unit']}" for one in map(asked, exercises))
    return us_worth(" ".join(texts))


@cache
def _drawn(key):
    """Return the drawing of an exercise; it is the same for every learner's number."""
    one = exercise_of(key.partition("/")[0])
    return inline(line_drawing(one.view(), marked=one.told_names))


def said(exercise):
    """Return (wrong answer in words, hint) of every slip an exercise knows.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    """
    unit, parts = getattr(exercise, "unit", None), exercise.parts()
    if hasattr(exercise, "grounds"):  # a code such as b2 stands for other words on another sheet
        return [
            (f"{parts[code[0]]}, because {parts[code[1:]]}", hint)
            for code, hint in exercise.wrong()
        ]
    return [(text if unit is None else show(text, unit), hint) for text, hint in exercise.wrong()]


def _answered(exercise):
    return asked(exercise) | {
        "answer": exercise.told(),
        "explain": exercise.explain,
        "slips": said(exercise),
    }


def _sources(exercises):
    known = all_sources()
    return [one.source for one in exercises if one.source in known]


def _clock(minutes, length):
    return f"{minutes // 60}:{minutes % 60:02d}" if length == DAY else f"{minutes}"


def lesson_page(facts, lesson="01", length=45):
    """Return a lesson plan: outcomes, kit, room, care, minutes, board, likely answers, exit ticket.

    Parameters
    ----------
    facts : Facts
        The job whose house is spoken of.
    lesson : str
        A notebook, such as "01", or a path, such as "apprentice".
    length : int
        Minutes: 45, 60, 90, or 360 for a practical day.
    """
    plan = lesson_plan(lesson, length)
    start, steps = 0, []
    for step in plan.steps:
        end = start + step.minutes
        steps.append((f"{_clock(start, length)}–{_clock(end, length)}",
                      f"* {step.you}" if step.optional else step.you, step.they, step.board))  # fmt: skip
        start = end
    exercises = [one for notebook in plan.notebooks for one in exercises_for(notebook)]
    told = [(one.key, *said(one)[0]) for one in exercises if said(one)]
    most = None if lesson.isdigit() else 1
    seen = [pair for notebook in plan.notebooks for pair in guesses(notebook, facts)[:most]]
    return make_page(
        "lesson", f"Lesson plan: {plan.title}",
        f"{plan.lasts[:1].upper()}{plan.lasts[1:]} with notebook{'s' * (len(plan.notebooks) > 1)} {', '.join(plan.notebooks)}, "
        f"for {plan.audience}. The idea: {plan.idea}.",
        facts.heading, computed=seen[:1],
        sources=named_sources("TRADE", "AIRLAB", "DERIVED", *_sources(exercises)),
        plan=plan, kit=_EVERYBODY + plan.kit, steps=steps, guesses=seen,
        optional=sum(step.minutes for step in plan.steps if step.optional),
        slips=told[:: -(-len(told) // _MOST_SLIPS[length > 45]) or 1],
    )  # fmt: skip


def handout_page(facts, notebook="01"):
    """Return the learners' page: guesses, exercises, exit ticket; no answers.

    Parameters
    ----------
    facts : Facts
        Head of the page and its units.
    notebook : str
        Its two digits.
    """
    plan = lesson_plan(notebook)
    return make_page(
        "handout", f"{plan.title}: hand-out", "Guess first, then look, then reckon.", facts.heading, computed=(),
        care=plan.care, guesses=[(question, "", "") for question, _ in guesses(notebook, facts)],
        exercises=[asked(exercise) for exercise in exercises_for(notebook)], ticket=plan.ticket, whose=None,
        worth=worth(facts, exercises_for(notebook)),
    )  # fmt: skip


def key_page(facts, notebook="01"):
    """Return the answer key to the hand-out, every value computed now.

    Parameters
    ----------
    facts : Facts
        Head of the page and its units.
    notebook : str
        Its two digits.
    """
    exercises, seen = exercises_for(notebook), guesses(notebook, facts)
    return make_page(
        "key", f"{lesson_plan(notebook).title}: answer key", "For the teacher; keep it apart from the hand-outs.",
        facts.heading, computed=[*seen, *((one.key, one.told()) for one in exercises)],
        sources=named_sources("DERIVED", *_sources(exercises)), guesses=seen,
        exercises=[_answered(exercise) for exercise in exercises], tolerance=tolerances(exercises),
    )  # fmt: skip


def tolerances(exercises):
    """Return how far a number may be off and still counts as right, in words.

    Parameters
    ----------
    exercises : iterable of Exercise
        The exercises of the page.
    """
    found = sorted({one.tolerance for one in exercises if hasattr(one, "tolerance")})
    return " or ".join(show_percent(one) for one in found if one >= 1e-3) or "a rounding error"
