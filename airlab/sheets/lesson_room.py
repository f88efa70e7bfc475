"""Does a hand-out stay on one side of paper, its exit ticket at the foot? Heights by count of letters.

A4 is the narrower sheet and Letter the shorter one; what fits both is planned. The heights are an
estimate, set once against printed pages.
"""

from datetime import UTC, datetime
from functools import cache
from itertools import permutations

from airlab.files import demo_job
from airlab.sheets.facts import facts_of
from airlab.sheets.lessons_guesses import guesses
from airlab.teaching.lessons import lesson_plan

__all__ = ["height_of", "room_on"]

_SIDE = 253.0  # mm of Letter between the margins, less a spare
_LINE, _LETTERS, _CELL = 4.5, 110, 36  # mm; letters in a line of the page, in a cell of guesses
_FIXED = 77.0  # mm: head, number, headings, lines to write on, foot


def _lines(text, letters=_LETTERS):
    return -(-len(text) // letters)


@cache
def _filled(lengths):
    """Return lines taken by options side by side, in the order that takes most: each sheet has its own."""
    most = 0
    for order in set(permutations(lengths)):
        lines, used = 0, _LETTERS
        for long in order:
            if used + long > _LETTERS:
                lines, used = lines - (-long // _LETTERS), 0
            used = min(used + long, _LETTERS)
        most = max(most, lines)
    return most


def height_of(exercise):
    """Return how much of a side an exercise takes, its drawing left out. [mm]

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    """
    parts = exercise.parts()
    answered = 0.0 if hasattr(exercise, "options") and not hasattr(exercise, "grounds") else 4.6
    return (
        6.8
        + _LINE
        * (
            _lines(exercise.question)
            + _filled(tuple(sorted(len(text) + 8 for text in parts.values())))
        )
        + answered
    )


@cache
def _facts():
    return facts_of(demo_job(), False, datetime(2000, 1, 1, tzinfo=UTC))


@cache
def room_on(notebook):
    """Return what a hand-out of a notebook leaves for its exercises. [mm]

    Parameters
    ----------
    notebook : str
        Its two digits.
    """
    plan = lesson_plan(notebook)
    rows = [max(8.0, 1.0 + 4.1 * _lines(asked, _CELL)) for asked, _ in guesses(notebook, _facts())]
    care = sum(1.0 + _LINE * _lines(text) for text in plan.care)
    seen = 20.0 + sum(rows) if rows else 0.0
    return _SIDE - _FIXED - care - _LINE * _lines(plan.ticket) - seen
