"""How do two tests of one house differ: before and after, mid-build and final, two testers?

The difference of two readings is worked out here, once. What the two share (the same fan, the same
volume) takes out of the difference; what each has of its own does not. The two lines may cross: the
flow at 50 Pa can fall while the flow at 4 Pa rises.
"""

from dataclasses import dataclass

import numpy as np

from airlab.fan_test.fit import coverage_factor
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    require_between,
    require_positive,
    show,
    show_percent,
)

__all__ = ["Comparison", "Difference", "compare", "difference"]

_WHY = {  # by whether the exponent rose
    True: "Wide gaps may have been closed and fine cracks added.",
    False: "Fine cracks may have been closed and a wide gap added.",
}


@dataclass(frozen=True, slots=True)
class Difference:
    """Second flow minus first at one pressure, with its limits. Negative: the house got tighter."""

    pressure_difference: float
    first: float
    second: float
    change: float
    low: float
    high: float
    confidence: float

    @property
    def proved(self):
        """Whether the limits leave out no change."""
        return self.low > 0.0 or self.high < 0.0

    @property
    def relative(self):
        """Change over the first flow. [-]."""
        return self.change / self.first

    def sentence(self, units="metric"):
        """Return the difference in words."""
        unit = display_unit("m3/s", units)
        size, low, high = (
            from_si(value, unit) for value in (abs(self.change), self.low, self.high)
        )
        word = "less" if self.change < 0.0 else "more"
        text = (f"At {show(self.pressure_difference, 'Pa')} the second test passes {show(size, unit)} "
                f"{word} ({show_percent(abs(self.relative))}); "
                f"{show_percent(self.confidence)} limits {show(low)} to {show(high, unit)}.")  # fmt: skip
        return (
            text
            if self.proved
            else f"{text} That is within what the two tests differ by: no change is proved."
        )


def difference(
    first,
    second,
    first_spread,
    second_spread,
    common_spread=0.0,
    pressure_difference=PRESSURE_REFERENCE,
    confidence=0.95,
    degrees_of_freedom=np.inf,
    change_spread=0.0,
):
    """Return second flow minus first, with limits.

    ``u² = (u_1 q_1)² + (u_2 q_2)² + (u_c (q_2 - q_1))² + u_x²``

    Parameters
    ----------
    first, second : float
        Flows at the same pressure. [m3/s]
    first_spread, second_spread : float
        Standard uncertainty of each that the other does not share, relative. [-]
    common_spread : float
        Standard uncertainty that moves both alike, such as one fan's calibration, relative. [-]
    pressure_difference : float
        Pressure of both flows. [Pa]
    confidence : float
        Of the limits. [-]
    degrees_of_freedom : float
        Of the spreads. [-]
    change_spread : float
        Standard uncertainty of the change from elsewhere, such as bringing both readings from
        different pressures to one. [m3/s]

    Returns
    -------
    Difference
        Change and limits.

    Raises
    ------
    InputError
        If a flow is not above zero or a spread is negative.

    References
    ----------
    [GUM] correlated contributions; [DERIVED]

    Examples
    --------
    >>> change = difference(0.30, 0.27, 0.01, 0.01, common_spread=0.05)
    >>> round(change.change, 3), change.proved
    (-0.03, True)
    """
    q1, q2 = require_positive("first", first, "m3/s"), require_positive("second", second, "m3/s")
    for name, spread in (("first_spread", first_spread), ("second_spread", second_spread),
                         ("common_spread", common_spread)):  # fmt: skip
        require_between(name, spread, 0.0, 2.0, "-", "If you meant 5 %, write 0.05.")
    require_positive("change_spread", change_spread, "m3/s", allow_zero=True)
    change = q2 - q1
    spread = np.sqrt((first_spread * q1) ** 2 + (second_spread * q2) ** 2
                     + (common_spread * change) ** 2 + change_spread**2)  # fmt: skip
    half = coverage_factor(confidence, degrees_of_freedom) * spread
    found = (float(pressure_difference), q1, q2, change, change - half, change + half)
    return Difference(*(float(value) for value in found), confidence)


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two tests side by side: difference at some pressures, and where the lines cross."""

    differences: tuple[Difference, ...]
    crossing: float | None  # pressure at which both pass the same [Pa]
    exponents: tuple[float, float]
    exponents_differ: bool

    def at(self, pressure_difference):
        """Return the difference at one of the pressures asked for."""
        for one in self.differences:
            if one.pressure_difference == pressure_difference:
                return one
        raise InputError(f"No difference was worked out at {show(pressure_difference, 'Pa')}.")

    @property
    def crosses_within(self):
        """Whether the lines cross between 4 and 50 Pa."""
        return self.crossing is not None and 4.0 < self.crossing < PRESSURE_REFERENCE

    def sentence(self, units="metric"):
        """Return the comparison in words."""
        text = [one.sentence(units) for one in self.differences]
        first, second = self.exponents
        text.append(f"n went from {show(first)} to {show(second)}"
                    + ("." if self.exponents_differ else ", within what chance gives."))  # fmt: skip
        if self.crosses_within:
            text.append(f"The two lines cross at {show(self.crossing, 'Pa')}: at 50 Pa and at 4 Pa the "
                        f"change goes opposite ways. {_WHY[second > first]}")  # fmt: skip
        return " ".join(text)


def compare(
    first, second, common_spread=0.0, own_spread=0.0, pressures=(50.0, 4.0), confidence=0.95
):
    """Return how two tests of one house differ.

    Parameters
    ----------
    first, second : TestResult
        Worked out by `analyse`, earlier one first.
    common_spread : float
        Standard uncertainty that moves both alike (the same fan and gauge), relative. [-]
    own_spread : float
        Standard uncertainty of each test beyond scatter that the other does not share
        (preparation, weather, another fan), relative. [-]
    pressures : sequence of float
        Where to compare. [Pa]
    confidence : float
        Of the limits. [-]

    Returns
    -------
    Comparison
        Differences, crossing of the lines, exponents.

    Notes
    -----
    With both spreads at zero the limits hold the scatter of the points only.

    References
    ----------
    [REPEAT_2011] 2.4 % between laboratories, for the own spread; [DERIVED]

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions, FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> p = np.array([60.0, 45.0, 30.0, 20.0, 12.0])
    >>> before, after = (
    ...     analyse(FanTest(Series("pressurise", p, c * p**n, (0.0,), (0.0,)), Conditions(20.0, 20.0)))
    ...     for c, n in ((0.020, 0.60), (0.0148, 0.70))
    ... )
    >>> found = compare(before, after)
    >>> round(found.crossing, 1), found.crosses_within
    (20.2, True)
    """
    spreads, freedoms = [], []
    for pressure in pressures:
        pair, freedom = [], []
        for one in (first, second):
            spread, dof = one.spread_and_freedom(pressure)
            pair.append(np.hypot(spread, own_spread))
            freedom.append(dof * (pair[-1] / spread) ** 4 if spread > 0.0 else np.inf)
        spreads.append(pair)
        freedoms.append(freedom)
    differences = []
    for pressure, (u1, u2), (f1, f2) in zip(pressures, spreads, freedoms):
        a, b = (u1 * first.flow(pressure)) ** 2, (u2 * second.flow(pressure)) ** 2
        down = a**2 / f1 + b**2 / f2
        dof = float((a + b) ** 2 / down) if down > 0.0 else np.inf
        differences.append(difference(first.flow(pressure), second.flow(pressure), u1, u2,
                                      common_spread, pressure, confidence, max(dof, 1.0)))  # fmt: skip
    exponents = first.flow_exponent, second.flow_exponent
    known = [one.exponent_spread_and_freedom() for one in (first, second)]
    total = np.hypot(known[0][0], known[1][0])
    down = sum(spread**4 / dof for spread, dof in known)
    dof = total**4 / down if down > 0.0 else np.inf
    differ = abs(exponents[1] - exponents[0]) > coverage_factor(confidence, max(dof, 1.0)) * total
    return Comparison(tuple(differences), _crossing(first, second), exponents, bool(differ))


def _crossing(first, second):
    """Return the pressure between 1 and 1000 Pa at which the mean flows are equal."""
    pressures = np.exp(np.linspace(0.0, np.log(1000.0), 400))
    gap = np.log(second.flow(pressures) / first.flow(pressures))
    turns = np.flatnonzero(np.sign(gap[1:]) != np.sign(gap[:-1]))
    if not turns.size or not np.any(np.abs(gap) > 1e-12):
        return None
    from scipy.optimize import brentq

    k = turns[0]
    root = brentq(lambda x: np.log(second.flow(np.exp(x)) / first.flow(np.exp(x))),
                  np.log(pressures[k]), np.log(pressures[k + 1]), xtol=1e-12)  # fmt: skip
    return float(np.exp(root))
