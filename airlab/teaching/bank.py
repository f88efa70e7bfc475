"""Which exercises are there, and what is said to an answer?"""

from airlab.teaching.balloon_bank import BALLOON, HOUSE
from airlab.teaching.budget_bank import SPEND
from airlab.teaching.check_bank import CHECK_DAY, PLAN
from airlab.teaching.error_bank import ERRORS, made_up_statement
from airlab.teaching.exercise import Choice, Feedback, Numeric, judge
from airlab.teaching.fan_test_bank import READ_TEST
from airlab.teaching.house_bank import MEASURE
from airlab.teaching.hunt_bank import HUNT
from airlab.teaching.line_bank import LINE

__all__ = ["ask", "check", "exercise", "exercises_for", "right_answer"]

_ALL = (*BALLOON, *HOUSE, *HUNT, *LINE, *MEASURE, *ERRORS, *SPEND, *PLAN, *CHECK_DAY, *READ_TEST)


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


def exercise(key):
    """Return the exercise of that key, also a made-up one such as "05-s7"; or None."""
    listed = next((entry for entry in _ALL if entry.key == key), None)
    return listed or made_up_statement(key)


def check(key, answer):
    """Return what the exercise says to an answer; never raises.

    Parameters
    ----------
    key : str
        Key of the exercise, such as "01-2".
    answer : object
        A number, an option or its letter, an order of letters; `...` while not answered.

    Returns
    -------
    Feedback
        State and sentence; it prints as one line.

    Examples
    --------
    >>> check("01-1", 30)
    01-1: not yet. That halves the time. Area goes with the diameter squared.
    >>> check("01-1", 15)
    01-1: right. 15 s. Twice the diameter is four times the area, so a quarter of the time.
    """
    found = exercise(key)
    if found is None:
        known = ", ".join(entry.key for entry in _ALL)
        return Feedback(str(key), "not yet", f"There is no such exercise. There are: {known}.")
    return judge(found, answer)


def ask(key):
    """Return the question of an exercise as text, with its options or steps."""
    found = exercise(key)
    if isinstance(found, Numeric):
        return found.question
    listed = (
        {chr(ord("a") + i): option for i, option in enumerate(found.options)}
        if isinstance(found, Choice)
        else found.printed()
    )
    return f"{found.question} " + "; ".join(f"{a}) {text}" for a, text in listed.items())


def right_answer(key):
    """Return an answer that is right, computed now; for the printed key and the tests."""
    found = exercise(key)
    if isinstance(found, Numeric):
        return float(found.expected())
    if isinstance(found, Choice):
        return found.right()
    letters = {step: letter for letter, step in found.printed().items()}
    return "".join(letters[step] for step in found.steps)
