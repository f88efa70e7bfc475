"""Was the test done as its standard asks? Every condition: passed, failed, or not known.

A condition whose reading was not kept is not known; that is not a pass. Nothing here certifies.
"""

from dataclasses import dataclass

import numpy as np

from airlab.words import show, show_percent, show_range

__all__ = ["VERDICTS", "ValidityCheck", "validity"]

VERDICTS = ("passed", "failed", "not known")


@dataclass(frozen=True, slots=True)
class ValidityCheck:
    """One condition of a standard, what was found, and what is known about the condition."""

    key: str
    asked: str
    found: str
    verdict: str
    source: str
    status: str
    direction: str = ""

    def sentence(self, units="metric"):
        """Return the condition in words."""
        where = f" ({self.direction})" if self.direction else ""
        text = f"{self.asked}{where}: {self.verdict}"
        text += f", found {self.found}." if self.found else "."
        return text if self.status == "read" else f"{text} [condition {self.status}]"


def _verdict(passed):
    return "not known" if passed is None else "passed" if passed else "failed"


def validity(result):
    """Return every condition of the result's standard with its verdict.

    Parameters
    ----------
    result : TestResult
        A test worked out by `analyse`.

    Returns
    -------
    tuple of ValidityCheck
        Per direction where the condition is about points, once where it is about the day.

    References
    ----------
    [ISO9972] conditions, mostly from memory; [PASSIPEDIA] those that were read

    Examples
    --------
    >>> from airlab.fan_test.readings import FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> one = Series("depressurise", (20, 35, 50), (0.10, 0.145, 0.183))
    >>> checks = validity(analyse(FanTest(one)))
    >>> [(c.key, c.verdict) for c in checks][:3]
    [('zero flow', 'not known'), ('points', 'failed'), ('step', 'failed')]
    """
    checks = []
    for asked in result.standard.asked:
        rule = _BY_SERIES.get(asked.key)
        if rule:
            for one in result.results:
                text, found, passed = rule(one, asked.limit)
                checks.append(ValidityCheck(asked.key, text, found, _verdict(passed), asked.source,
                                            asked.status, one.direction))  # fmt: skip
        else:
            text, found, passed = _BY_DAY[asked.key](result.test.conditions, asked.limit)
            checks.append(ValidityCheck(asked.key, text, found, _verdict(passed), asked.source,
                                        asked.status))  # fmt: skip
    if result.standard.directions == "both":
        count = len(result.results)
        checks.append(ValidityCheck("directions", "Both directions", f"{count} of 2",
                                    _verdict(count == 2), result.standard.asked[0].source,
                                    "from memory"))  # fmt: skip
    return tuple(checks)


def _zero(one, limit):
    zero, text = one.zero, f"Mean zero-flow pressures within {show(limit, 'Pa')}, before and after"
    if zero.worst is None:
        return text, "none read", None
    found = ", ".join(f"{name} {show(value, 'Pa')}" for name, value in zero.parts)
    if zero.worst > limit:
        return text, found, False
    return text, found, None if zero.drift is None else True


def _points(one, limit):
    return f"At least {limit} points", str(one.induced.size), one.induced.size >= limit


def _step(one, limit):
    steps = np.diff(np.sort(np.abs(one.induced)))
    # Read with the zero-flow pressure taken off, so a step may pass by a little.
    return (
        f"Steps of {show(limit, 'Pa')} at most",
        show(steps.max(), "Pa"),
        steps.max() <= limit + 0.5,
    )


def _lowest(one, limit):
    floor, times, slack = limit
    least = np.abs(one.induced).min()
    asked = max(floor, times * abs(one.zero.mean))
    if times == 0.0:
        return (
            f"Lowest point at {show(floor, 'Pa')} or above",
            show(least, "Pa"),
            least >= floor - 0.5,
        )
    text = f"Lowest point not below {show(asked, 'Pa')}"
    if slack:
        text += f" by more than {show(slack, 'Pa')}"
    return text, show(least, "Pa"), least >= asked - slack


def _highest(one, limit):
    most = np.abs(one.induced).max()
    return f"Highest point {show(limit, 'Pa')} or more", show(most, "Pa"), most >= limit - 0.5


def _exponent(one, limit):
    n = one.fit.flow_exponent
    return f"n within {show_range(*limit)}", show(n), limit[0] <= n <= limit[1]


def _r_squared(one, limit):
    r, text = one.fit.r_squared, f"r² at least {show(limit)}"
    return (text, "", None) if r is None else (text, show(r, digits=5), r >= limit)


def _correlation(one, limit):
    r, text = one.fit.r_squared, f"r at least {show(limit)}"
    return (text, "", None) if r is None else (text, show(r**0.5, digits=5), r >= limit**2)


def _relative_error(one, limit):
    found = float(one.standard_fit.relative_spread(10.0))
    return f"Relative error at 10 Pa {show_percent(limit)} at most", show_percent(found), found <= limit  # fmt: skip


_BY_SERIES = {
    "zero flow": _zero,
    "points": _points,
    "step": _step,
    "lowest": _lowest,
    "highest": _highest,
    "exponent": _exponent,
    "r squared": _r_squared,
    "correlation": _correlation,
    "relative error": _relative_error,
}


def _stack(given, limit):
    text = f"Temperature difference times height {show(limit)} m·K at most"
    if None in (given.inside_temperature, given.outside_temperature, given.building_height):
        return text, "", None
    found = abs(given.inside_temperature - given.outside_temperature) * given.building_height
    return text, f"{show(found)} m·K", found <= limit


def _most(field, name, unit):
    def check(given, limit):
        value = getattr(given, field)
        text = f"{name} {show(limit, unit)} at most"
        return (text, "", None) if value is None else (text, show(value, unit), value <= limit)

    return check


def _share(field, name):
    def check(given, limit):
        value = getattr(given, field)
        text = f"{name} within {show_percent(limit)} of the reading"
        return (text, "", None) if value is None else (text, show_percent(value), value <= limit)

    return check


def _wind(given, limit):
    """Return passed where any of the ways to judge the wind is within its limit."""
    ways = (
        (given.wind_speed, limit[0], "near the ground", "m/s"),
        (given.station_wind_speed, limit[1], "at the weather station", "m/s"),
        (given.beaufort, limit[2], "on the Beaufort scale", ""),
    )
    ways = [way for way in ways if way[1] is not None]
    text = "Wind at most " + ", or ".join(f"{show(way[1], way[3])} {way[2]}" for way in ways)
    known = [way for way in ways if way[0] is not None]
    found = ", ".join(f"{show(way[0], way[3])} {way[2]}" for way in known)
    return text, found, any(way[0] <= way[1] for way in known) if known else None


def _outside(given, limit):
    value, text = given.outside_temperature, f"Outside temperature {show_range(*limit, 'C')}"
    return (text, "", None) if value is None else (text, show(value, "C"), limit[0] <= value <= limit[1])  # fmt: skip


_BY_DAY = {
    "stack": _stack,
    "wind": _wind,
    "outside temperature": _outside,
    "flow accuracy": _share("flow_accuracy", "Flow meter"),
    "pressure accuracy": _most("pressure_accuracy", "Pressure gauge, error", "Pa"),
    "temperature accuracy": _most("temperature_accuracy", "Thermometer, error", "K"),
}
