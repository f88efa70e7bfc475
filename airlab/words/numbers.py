"""How a number is printed: three significant digits, decimal point, no thousands mark.

One formatter serves axis labels, sentences, tables and error messages, so that the same value
never reads differently in two places.
"""

import math
import re
from statistics import NormalDist

from airlab.words.units import convert, display_unit, label

__all__ = [
    "normal_point",
    "show",
    "show_clock",
    "show_duration",
    "show_percent",
    "show_range",
    "us_worth",
]

_ASKED = ("m3/h", "m3/(h.m2)", "L/s", "L", "m3", "m2", "cm2", "m", "cm", "mm", "m/s", "kg/m3")
_MORE_US = {"cm": "in", "L": "ft3"}


def normal_point(share):
    """Return where a share of the normal distribution lies below, in spreads from its middle.

    Parameters
    ----------
    share : float
        Share below, between 0 and 1. [-]

    Examples
    --------
    >>> round(normal_point(0.9), 4), round(normal_point(0.975), 2)
    (1.2816, 1.96)
    """
    return NormalDist().inv_cdf(share)


def show(value, unit="", digits=3):
    """Return the value as text with its unit.

    Parameters
    ----------
    value : float
        The number to print, already in the unit given.
    unit : str
        Unit key of `words.units`; empty or "-" prints none.
    digits : int
        Significant digits.

    Examples
    --------
    >>> show(1558.5, "m3/h")
    '1560 m³/h'
    >>> show(0.0004931)
    '0.000493'
    >>> show(3.0, "1/h")
    '3 /h'
    """
    suffix = label(unit)
    text = _plain(float(value), digits)
    return f"{text} {suffix}" if suffix else text


def _plain(value, digits):
    if math.isnan(value):
        return "not a number"
    if math.isinf(value):
        return "without end" if value > 0 else "minus without end"
    if value == 0.0:
        return "0"
    exponent = math.floor(math.log10(abs(value)))
    if exponent < -6 or exponent > 9:
        return f"{value:.{digits - 1}e}"
    rounded = round(value, digits - 1 - exponent)
    places = max(0, digits - 1 - math.floor(math.log10(abs(rounded)))) if rounded else 0
    text = f"{rounded:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−")


def show_range(low, high, unit="", digits=2):
    """Return 'low to high unit'; one number where both print alike.

    Examples
    --------
    >>> show_range(310.0, 940.0, "m3/h")
    '310 to 940 m³/h'
    """
    first, second = show(low, digits=digits), show(high, digits=digits)
    if first == second:
        return show(low, unit, digits)
    suffix = label(unit)
    return f"{first} to {second} {suffix}".rstrip()


def show_percent(fraction, digits=2):
    """Return a fraction as a percentage; the ends read 'under 1 %' and 'over 99 %'.

    Examples
    --------
    >>> show_percent(0.368)
    '37 %'
    >>> show_percent(0.9993)
    'over 99 %'
    """
    if 0.0 < fraction < 0.01:
        return "under 1 %"
    if 0.99 < fraction < 1.0:
        return "over 99 %"
    return f"{show(100.0 * fraction, digits=digits)} %"


def show_duration(seconds, digits=3):
    """Return a time as people say it: seconds, minutes and seconds, or hours and minutes.

    Examples
    --------
    >>> show_duration(0.3645)
    '0.364 s'
    >>> show_duration(379)
    '6 min 19 s'
    >>> show_duration(4200)
    '1 h 10 min'
    """
    if not math.isfinite(seconds):
        return "never"
    if seconds < 99.5:
        return show(seconds, "s", digits)
    minutes, rest = divmod(round(seconds), 60)
    if minutes < 60:
        return f"{minutes} min {rest} s" if rest else f"{minutes} min"
    hours, minutes = divmod(round(seconds / 60), 60)
    if hours < 48:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    return f"{show(hours / 24)} days"


def show_clock(moment):
    """Return date and time as read on the spot, to the minute.

    Examples
    --------
    >>> from datetime import datetime, timezone
    >>> show_clock(datetime(2026, 3, 4, 9, 5, tzinfo=timezone.utc))
    '2026-03-04 09:05'
    """
    return f"{moment:%Y-%m-%d %H:%M}"


def us_worth(text):
    """Return what the metric units after the numbers of a text are worth in US units; empty where there is none.

    Parameters
    ----------
    text : str
        A question in metric units, which stay as they are.

    Examples
    --------
    >>> us_worth("How many m³/h pass a hole of 1 cm²? Answer in 1 m³/h.")
    'In US units: 1 m³/h is 0.589 cfm, 1 cm² is 0.155 in².'
    """
    said = [
        f"{show(1.0, unit)} is {show(convert(1.0, unit, to), to)}"
        for unit, to in ((one, _MORE_US.get(one, display_unit(one, "us"))) for one in _ASKED)
        if re.search(rf"\d\s{re.escape(label(unit))}(?![\w²³/·])", text)
    ]
    if re.search(r"\d\s°C", text):
        said += [
            f"{show(celsius, 'C')} is {show(convert(celsius, 'C', 'F'), 'F')}"
            for celsius in (0.0, 20.0)
        ]
    return f"In US units: {', '.join(said)}." if said else ""
