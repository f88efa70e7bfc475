"""Which exercises are there, and what is said to an answer?"""

import re
from dataclasses import replace
from random import Random

from airlab.teaching.balloon_bank import BALLOON, HOUSE
from airlab.teaching.budget_bank import SPEND
from airlab.teaching.check_bank import CHECK_DAY, PLAN
from airlab.teaching.error_bank import ERRORS, made_up_statement
from airlab.teaching.error_variants import ERROR_VARIANTS
from airlab.teaching.exercise import Feedback, judge
from airlab.teaching.fan_test_bank import READ_TEST
from airlab.teaching.house_bank import MEASURE
from airlab.teaching.hunt_bank import HUNT
from airlab.teaching.in_use_bank import LIVING
from airlab.teaching.line_bank import LINE
from airlab.teaching.mark_bank import MARKS
from airlab.teaching.order_bank import ORDERS
from airlab.teaching.outcomes import placed
from airlab.teaching.release_bank import RELEASES
from airlab.teaching.sense_bank import SENSE
from airlab.teaching.teach_bank import TEACH
from airlab.teaching.variants import Template

__all__ = ["ask", "check", "exercise", "exercises_for", "right_answer", "variants_for"]

_LISTED = (
    *BALLOON, *HOUSE, *HUNT, *LINE, *MARKS, *MEASURE, *ERRORS,
    *SPEND, *PLAN, *CHECK_DAY, *RELEASES, *READ_TEST, *LIVING, *TEACH,
    *ORDERS, *SENSE,
)  # fmt: skip
_TEMPLATES = {
    entry.key: entry for entry in (*_LISTED, *ERROR_VARIANTS) if isinstance(entry, Template)
}
_ALL = tuple(placed(entry.base if isinstance(entry, Template) else entry) for entry in _LISTED)
_BY_KEY = {entry.key: entry for entry in _ALL}
_SEEDED = re.compile(r"(\d\d-\d{1,3})/([1-9]\d{0,5})")


def exercises_for(notebook):
    """Return the exercises of a notebook.

    Parameters
    ----------
    notebook : str
        Its two digits, such as "01".

    Returns
    -------
    tuple
        Exercises in order; empty where the notebook has none.
    """
    return tuple(entry for entry in _ALL if entry.key.startswith(f"{notebook}-"))


def variants_for(notebook, seed, whole=False):
    """Return exercises of a notebook as one learner gets them, keys such as "01-2/7".

    Parameters
    ----------
    notebook : str
        Its two digits, such as "01".
    seed : int
        The learner's number, 1 to 999999; the same on every machine.
    whole : bool
        Whether to add the exercises without own numbers, with what they print in an order of the
        seed's.

    Returns
    -------
    tuple
        Exercises in order.

    Examples
    --------
    >>> [entry.key for entry in variants_for("01", 7)][0]
    '01-1/7'
    """
    found = exercises_for(notebook)
    return tuple(
        exercise(f"{entry.key}/{seed}") for entry in found if whole or entry.key in _TEMPLATES
    )


def exercise(key):
    """Return the exercise of that key; or None.

    Parameters
    ----------
    key : str
        Such as "01-2"; with a learner's number "01-2/7"; a made-up statement "05-s7".
    """
    key = str(key)
    if key in _BY_KEY:
        return _BY_KEY[key]
    seeded = _SEEDED.fullmatch(key)
    if not seeded:
        made_up = made_up_statement(key)
        return made_up and placed(made_up, "05-s")
    base, seed = seeded[1], int(seeded[2])
    if base in _TEMPLATES:
        return placed(_TEMPLATES[base].drawn(seed), base)
    return _of_seed(_BY_KEY[base], seed) if base in _BY_KEY else None


def _of_seed(entry, seed):
    """Return an exercise without own numbers under its seed's key, printed in the seed's order."""
    mixed = entry.shuffled(Random(f"{entry.key}/{seed}"))
    return replace(mixed, key=f"{entry.key}/{seed}")


def check(key, answer, *more):
    """Return what the exercise says to an answer; never raises.

    Parameters
    ----------
    key : str
        Key of the exercise, such as "01-2".
    answer : object
        A number, an option or its letter, an order of letters; `...` while not answered.
    *more : object
        What stands after a decimal comma; it says to write a point.

    Returns
    -------
    Feedback
        State and sentence; it prints as one line.

    Examples
    --------
    >>> check("01-1", 30)
    01-1: not yet. That halves the time. Area goes with the diameter squared.
    >>> check("01-1", 15)
    01-1: right. 15 s. 2 times the diameter is 4 times the area, so the time is divided by 4.
    """
    found = exercise(key)
    if found is None:
        known = ", ".join(entry.key for entry in _ALL)
        return Feedback(str(key), "not yet", f"There is no such exercise. There are: {known}.")
    if more:
        whole = ".".join(map(str, (answer, *more)))
        return Feedback(
            str(key), "not yet", f"Give one answer. A decimal has a point: write {whole}."
        )
    return judge(found, answer)


def ask(key):
    """Return the question of an exercise as text, with its options or steps."""
    found = exercise(key)
    listed = "; ".join(f"{a}) {text}" for a, text in found.parts().items())
    return f"{found.question} {listed}".rstrip()


def right_answer(key):
    """Return an answer that is right, computed now; for the printed key and the tests."""
    return exercise(key).answer()
