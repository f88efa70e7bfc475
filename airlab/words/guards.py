"""The guards that every function checks its input with.

Which input is refused, and how is it said? Always in the same order: name, value with its unit,
what is allowed, the likely slip. The guards take numbers and arrays and hand back floats or float
arrays, so a function can check and convert its arguments in one line.
"""

from math import isfinite

import numpy as np

from airlab.words.errors import InputError
from airlab.words.numbers import show

__all__ = ["require_between", "require_choice", "require_finite", "require_positive"]


def _name(name):
    return name.replace("_", " ").capitalize()


def _first_bad(value, bad):
    """Describe where the first refused entry stands in an array; empty for a plain number."""
    if np.ndim(value) == 0:
        return "", float(value)
    index = tuple(int(i[0]) for i in np.nonzero(bad))
    place = index[0] if len(index) == 1 else index
    return f" (entry {place})", float(np.asarray(value)[index])


def _say(name, value, unit, allowed, slip):
    sentence = f"{_name(name)} is {show(value, unit, digits=6)}. {allowed}"
    return f"{sentence} {slip}" if slip else sentence


def require_finite(name, value, unit="-", slip=""):
    """Return the value as float or float array; refuse text, NaN and infinity.

    Raises
    ------
    InputError
        If the value is not a number, or any entry is NaN or infinite.
    """
    if isinstance(value, bool) or value is None:
        raise InputError(f"{_name(name)} is {value!r}. A number is needed. {slip}".strip())
    if type(value) is float and isfinite(value):
        return value
    try:
        array = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        raise InputError(
            f"{_name(name)} is {str(value)!r}. A number is needed. {slip}".strip()
        ) from None
    bad = ~np.isfinite(array)
    if bad.any():
        where, worst = _first_bad(array, bad)
        word = "not a number" if np.isnan(worst) else "infinite"
        raise InputError(
            f"{_name(name)}{where} is {word}. A finite number is needed. {slip}".strip()
        )
    return float(array) if array.ndim == 0 else array


def require_positive(name, value, unit="-", slip="", allow_zero=False):
    """Return the value; refuse what is not above zero (or below zero, with `allow_zero`).

    Raises
    ------
    InputError
        If any entry is negative, or zero where zero is not allowed.
    """
    number = require_finite(name, value, unit, slip)
    bad = number < 0.0 if allow_zero else number <= 0.0
    if bad if isinstance(bad, bool) else np.any(bad):
        where, worst = _first_bad(number, bad)
        allowed = "It must be zero or more." if allow_zero else "It must be above zero."
        raise InputError(_say(name + where, worst, unit, allowed, slip))
    return number


def require_between(name, value, low, high, unit="-", slip=""):
    """Return the value; refuse what lies outside `low` to `high` (both included).

    Raises
    ------
    InputError
        If any entry lies outside the range; the message names the range.

    Examples
    --------
    >>> require_between("hole_area", 50.0, 0.0, 5.0, "m2", "If you meant 50 cm², write cm2(50).")
    Traceback (most recent call last):
        ...
    airlab.words.errors.InputError: Hole area is 50 m². This model takes 0 to 5 m². If you meant 50 cm², write cm2(50).
    """
    number = require_finite(name, value, unit, slip)
    bad = (number < low) | (number > high)
    if bad if isinstance(bad, bool) else np.any(bad):
        where, worst = _first_bad(number, bad)
        allowed = f"This model takes {show(low, digits=6)} to {show(high, unit, digits=6)}."
        raise InputError(_say(name + where, worst, unit, allowed, slip))
    return number


def require_choice(name, value, options):
    """Return the value if it is one of the options; otherwise list them.

    Raises
    ------
    InputError
        If the value is not among the options.
    """
    options = tuple(options)
    if value not in options:
        listed = ", ".join(f"'{option}'" for option in options)
        raise InputError(f"{_name(name)} is {value!r}. Choose one of: {listed}.")
    return value
