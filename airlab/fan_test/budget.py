"""How sure is the result, all told? Scatter from the points, then everything common to them.

Calibration, zero-flow pressure, temperature, wind, volume and preparation move all points together:
they are added after the fit and never shrink with the number of points. How far each moves the
result is found by working the whole chain out again.
"""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from airlab.fan_test.estimators import fit_two_terms
from airlab.fan_test.fit import coverage_factor, fit_power_law
from airlab.fan_test.result import analyse
from airlab.fan_test.steady_wind import wind_spread
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    require_between,
    show,
    show_percent,
)

__all__ = ["SPREADS", "Budget", "BudgetRow", "Trust", "budget", "trust"]

# Standard uncertainties taken where nothing better is known. All are assumptions: change them.
SPREADS = {
    "calibration": 0.03,  # flow, share
    "gauge": 0.01,  # pressure scale, share
    "zero": 0.3,  # Pa, least taken for the zero-flow pressure
    "temperature": 0.6,  # K, each side
    "barometer": 500.0,  # Pa
    "volume": 0.03,  # share
    "preparation": 0.02,  # share
}
_RECTANGLE = math.sqrt(3.0)


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """One source of doubt: standard uncertainty [-] relative to the result, and where it comes from."""

    name: str
    spread: float
    common: bool
    status: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Budget:
    """All sources of doubt of one result, and their sum."""

    what: str
    pressure_difference: float
    value: float  # flow [m3/s], or n50 [1/h]
    rows: tuple[BudgetRow, ...]
    spread: float
    factor: float
    confidence: float

    @property
    def low(self):
        """Lower limit, in the unit of the value."""
        return self.value * math.exp(-self.factor * self.spread)

    @property
    def high(self):
        """Upper limit, in the unit of the value."""
        return self.value * math.exp(self.factor * self.spread)

    def share(self, name):
        """Return the share of the variance that one source brings. [-]."""
        found = [row.spread for row in self.rows if row.name == name]
        if not found:
            raise InputError(f"The budget has no row {name!r}. Rows: {', '.join(r.name for r in self.rows)}.")  # fmt: skip
        return sum(s**2 for s in found) / self.spread**2

    def sentence(self, units="metric"):
        """Return the result with its limits and the largest doubt."""
        unit = "1/h" if self.what == "n50" else display_unit("m3/s", units)
        turn = (lambda value: value) if self.what == "n50" else (lambda value: from_si(value, unit))
        name = "n50" if self.what == "n50" else f"Flow at {show(self.pressure_difference, 'Pa')}"
        largest = max(self.rows, key=lambda row: row.spread)
        tail = ", an assumption" if largest.status == "assumption" else ""
        air_changes = " air changes per hour at 50 Pa" if self.what == "n50" else ""
        shown = (
            show(turn(self.value)) + air_changes if air_changes else show(turn(self.value), unit)
        )
        return (f"{name}: {shown}, {show_percent(self.confidence)} limits "
                f"{show(turn(self.low))} to {show(turn(self.high))}. The largest doubt is "
                f"{largest.name} ({show_percent(largest.spread)}{tail}).")  # fmt: skip


_again = lru_cache(maxsize=32)(analyse)  # a shifted test serves every pressure asked


def _moved(test, rules, pressure, fitter, change):
    """Return half the change of ln q between a change up and the same change down."""
    up, down = (
        math.log(_again(change(test, sign), rules, fitter).flow(pressure)) for sign in (1, -1)
    )
    return abs(up - down) / 2.0


def _shift_zero(amount):
    def change(test, sign):
        series = tuple(
            replace(one, zero_before=tuple(np.add(one.zero_before or (0.0,), sign * amount[k])),
                    zero_after=tuple(np.add(one.zero_after or one.zero_before or (0.0,), sign * amount[k])))
            for k, one in enumerate(test.series)
        )  # fmt: skip
        return replace(test, series=series)

    return change


def _shift_air(field, amount, base):
    def change(test, sign):
        value = getattr(test.conditions, field)
        value = base if value is None else value
        return replace(test, conditions=replace(test.conditions, **{field: value + sign * amount}))

    return change


def _extrapolation(result, pressure):
    """Return how far two laws part where there are no points, as a rectangle's spread."""
    apart = []
    for one in result.results:
        sizes = np.abs(one.induced)
        if not sizes.min() <= pressure <= sizes.max():
            law = fit_two_terms(one.induced, one.through_envelope)
            apart.append(math.log(law.flow(pressure) / one.fit.flow(pressure)))
    return abs(sum(apart)) / len(result.results) / _RECTANGLE


def budget(
    result,
    pressure_difference=PRESSURE_REFERENCE,
    what="flow",
    confidence=0.95,
    wind_speed=None,
    spreads=None,
    fitter=fit_power_law,
):
    """Return the budget of the leakage flow at a pressure, or of n50.

    ``u²(ln q) = u²(scatter) + u²(calibration) + u²(gauge) + u²(zero) + ...``

    Parameters
    ----------
    result : TestResult
        Worked out by `analyse`.
    pressure_difference : float
        Pressure of the flow; 50 for n50. [Pa]
    what : str
        "flow" or "n50".
    confidence : float
        Of the limits; the factor follows from effective degrees of freedom. [-]
    wind_speed : float, optional
        Wind at the eaves; else that of the test's conditions. [m/s]
    spreads : dict, optional
        Standard uncertainties instead of those in `SPREADS`.
    fitter : callable
        The fit `result` was made with.

    Returns
    -------
    Budget
        Rows with spread, status and note.

    Raises
    ------
    InputError
        If a spread has an unknown name, or n50 is asked without a volume.

    Notes
    -----
    A zero-flow error is common to all points and bends the line: its effect at 4 Pa is several
    times that at 50 Pa. Wind is the steady two-leak model; gusts are left out.

    References
    ----------
    [GUM] sum of squares, Welch and Satterthwaite; [DERIVED]

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions, FanTest, Series
    >>> one = Series("depressurise", (12, 25, 40, 60), (0.1, 0.161, 0.219, 0.285), (-1.0,), (-0.5,))
    >>> result = analyse(FanTest(one, Conditions(20.0, 10.0)))
    >>> high, low = budget(result, 50.0), budget(result, 4.0)
    >>> bool(low.spread > 2.0 * high.spread)
    True
    """
    given = dict(SPREADS)
    for name, value in (spreads or {}).items():
        if name not in SPREADS:
            raise InputError(f"Spread is {name!r}. Choose from: {', '.join(SPREADS)}.")
        given[name] = require_between(name, value, 0.0, 5000.0)
    if what not in ("flow", "n50"):
        raise InputError(f"What is {what!r}. Choose 'flow' or 'n50'.")
    if what == "n50":
        if result.n50 is None:
            raise InputError("n50 needs the volume of the house. Give the test its geometry.")
        pressure_difference = PRESSURE_REFERENCE
    test, rules, p = result.test, result.standard, pressure_difference
    test = replace(test, series=tuple(one.series for one in result.results))
    asked = test.conditions

    def status(name, known=None):
        return "read" if known is not None else "given" if name in (spreads or {}) else "assumption"

    scatter, freedom = result.spread_and_freedom(p)
    n = result.flow_exponent
    calibration, gauge = given["calibration"], given["gauge"]
    if asked.flow_accuracy is not None and "calibration" not in (spreads or {}):
        calibration = asked.flow_accuracy / _RECTANGLE
    zeros = [max(one.zero.spread, given["zero"]) for one in result.results]
    zero_parts = [
        _moved(
            test, rules, p, fitter, _shift_zero([z if k == j else 0.0 for k in range(len(zeros))])
        )
        for j, z in enumerate(zeros)
    ]
    rows = [
        BudgetRow("scatter of the points", scatter, False, "read", "the only part the fit can see"),
        BudgetRow("calibration of the flow", calibration, True, status("calibration", asked.flow_accuracy)),
        BudgetRow("scale of the pressure gauge", n * gauge, True, status("gauge")),
        BudgetRow("zero-flow pressure", math.hypot(*zero_parts), True,
                  status("zero", None if min(zeros) <= given["zero"] else True),
                  "common to all points of a series"),
    ]  # fmt: skip
    if asked.flow_basis != "through the envelope":
        parts = [_moved(test, rules, p, fitter, _shift_air(f"{side}_temperature", given["temperature"], 20.0))
                 for side in ("inside", "outside")]  # fmt: skip
        rows.append(BudgetRow("temperatures", math.hypot(*parts), True, status("temperature")))
        moved = _moved(
            test, rules, p, fitter, _shift_air("pressure", given["barometer"], asked.barometer)
        )
        rows.append(BudgetRow("air pressure", moved, True, status("barometer")))
    speed = asked.wind_speed if wind_speed is None else wind_speed
    if speed is None:
        rows.append(BudgetRow("wind", 0.0, True, "not known", "no wind speed: left out"))
    else:
        moved = wind_spread(p, speed, len(result.results) == 2, float(np.clip(n, 0.5, 1.0)))
        rows.append(
            BudgetRow("wind", moved, True, "derived", "steady wind, split of leaks unknown")
        )
    apart = _extrapolation(result, p)
    if apart > 0.0:
        rows.append(BudgetRow("law outside the points", apart, True, "derived",
                              "power law against two-term law, through the same points"))  # fmt: skip
    rows.append(BudgetRow("preparation", given["preparation"], True, status("preparation"),
                          "what was closed or sealed; between teams it may be far more"))  # fmt: skip
    if what == "n50":
        rows.append(BudgetRow("volume", given["volume"], True, status("volume")))
    spread = math.sqrt(sum(row.spread**2 for row in rows))
    effective = freedom * (spread / scatter) ** 4 if scatter > 0.0 else math.inf
    factor = coverage_factor(confidence, effective)
    value = result.n50 if what == "n50" else result.flow(p)
    return Budget(what, float(p), float(value), tuple(rows), spread, float(factor), confidence)


@dataclass(frozen=True, slots=True)
class Trust:
    """Which figure to build on: the budgets at 50, 10 and 4 Pa."""

    budgets: tuple[Budget, ...]

    def at(self, pressure_difference):
        """Return the budget at one of the pressures."""
        for one in self.budgets:
            if one.pressure_difference == pressure_difference:
                return one
        raise InputError(f"No budget was worked out at {show(pressure_difference, 'Pa')}.")

    def rows(self):
        """Return every doubt once: name, its spread at each pressure (None: none), status, note."""
        known = [{row.name: row for row in one.rows} for one in self.budgets]
        found = []
        for name in dict.fromkeys(name for one in known for name in one):
            rows = [one.get(name) for one in known]
            first = next(row for row in rows if row)
            left_out = first.status == "not known"
            spreads = tuple(None if row is None or left_out else row.spread for row in rows)
            found.append((name, spreads, first.status, first.note))
        return tuple(found)

    def half(self, pressure_difference):
        """Return the upper half-width of the limits as a share. [-]."""
        one = self.at(pressure_difference)
        return math.expm1(one.factor * one.spread)

    def sentence(self, units="metric"):
        """Return which figure to build on."""
        first, *rest = (
            (show(b.pressure_difference, "Pa"), show_percent(self.half(b.pressure_difference)))
            for b in self.budgets
        )
        parts = ", ".join(f"at {pressure} to {half}" for pressure, half in rest)
        word = "Build on the first, hardly on the last."
        ends = [self.half(b.pressure_difference) for b in (self.budgets[0], self.budgets[-1])]
        if ends[1] < 1.5 * ends[0]:
            word = "They are about equally sure."
        return f"The flow at {first[0]} is known to {first[1]} (95 %), {parts}. {word}"


def trust(result, **more):
    """Return which figure to build on.

    Parameters
    ----------
    result : TestResult
        Worked out by `analyse`.
    more : dict
        Passed on to `budget`.

    Returns
    -------
    Trust
        The budgets, with a sentence.

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions, FanTest, Series
    >>> one = Series("depressurise", (12, 25, 40, 60), (0.1, 0.161, 0.219, 0.285), (-1.0,), (-0.5,))
    >>> trust(analyse(FanTest(one, Conditions(20.0, 10.0)))).sentence()[:37]
    'The flow at 50 Pa is known to 7.5 % ('
    """
    return Trust(tuple(budget(result, p, **more) for p in (50.0, 10.0, 4.0)))
