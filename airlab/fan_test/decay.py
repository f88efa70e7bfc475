"""What does the fall of pressure tell when the fan is stopped and covered? A quick leakage.

``[V / (kappa P) + S] dΔp/dt = q_in(t) - C Δp^n``: the compressed air of the house, and what a
flexible skin gives back (S), leave through the leaks. It lasts a second or two. Whether the air
keeps its temperature (kappa 1) or cools (1.4), and how far the skin gives, is not known on site:
the leakage follows only between bounds. It never replaces a fan test.
"""

import math
from dataclasses import dataclass

import numpy as np

from airlab.fan_test.fit import PowerLawFit, fit_power_law
from airlab.physics.decay import air_storage, pressure_after
from airlab.words import (
    InputError,
    display_unit,
    from_si,
    require_between,
    require_finite,
    show,
    show_range,
)

__all__ = [
    "DecayResult",
    "leakage_from_decay",
    "leakage_from_record",
]


@dataclass(frozen=True, slots=True)
class DecayResult:
    """Leakage by decay: bounds for air that keeps its temperature and air that cools."""

    isothermal: PowerLawFit
    adiabatic: PowerLawFit
    start: float
    lowest: float
    points: int
    warnings: tuple[str, ...] = ()

    @property
    def flow_exponent(self):
        """Exponent, the same for both bounds. [-]."""
        return self.isothermal.flow_exponent

    def flow_bounds(self, pressure_difference):
        """Return the flow with the air cooling, and with its temperature kept. [m3/s]."""
        pair = self.adiabatic.flow(pressure_difference), self.isothermal.flow(pressure_difference)
        return min(pair), max(pair)

    def sentence(self, units="metric"):
        """Return the leakage between its bounds, and what the method cannot know."""
        unit = display_unit("m3/s", units)
        spans = [
            f"at {show(p, 'Pa')} {show_range(*(from_si(q, unit) for q in self.flow_bounds(p)), unit, 3)}"
            for p in (50.0, 10.0, 4.0)
            if self.lowest <= p <= 1.3 * self.start
        ]
        text = (f"By the decay the house leaks {'; '.join(spans) or 'at pressures outside these'}. "
                f"n is {show(self.flow_exponent)}. The bounds are for air that cools and air that keeps "
                "its temperature. A skin that gives makes the true leakage larger than this. An "
                "estimate, no fan test.")  # fmt: skip
        return " ".join((text, *self.warnings))


def leakage_from_decay(time, pressure_difference, volume, skin_compliance=0.0, flow_exponent=None):
    """Return the leakage from a record of falling pressure, the fan stopped and covered.

    Least squares of the closed form on the pressures as read.

    Parameters
    ----------
    time : array
        Times of the record, rising. [s]
    pressure_difference : array
        Pressure differences, of one sign. [Pa]
    volume : float
        Air in the house. [m3]
    skin_compliance : float
        Volume the skin gives back for each pascal, in m³/Pa.
    flow_exponent : float, optional
        Held if given; else found within 0.5 to 1. [-]

    Returns
    -------
    DecayResult
        Between two bounds.

    Raises
    ------
    InputError
        If there are fewer than five readings, the pressure does not fall, or times do not rise.

    References
    ----------
    [MATTSSON2007] what the rate depends on; [DERIVED] closed form

    Examples
    --------
    >>> t = np.linspace(0.0, 0.8, 9)
    >>> found = leakage_from_decay(t, pressure_after(t, 50.0, 0.0197, 0.65, 300.0), 300.0)
    >>> round(float(found.isothermal.flow_coefficient), 4), round(float(found.flow_exponent), 3)
    (0.0197, 0.65)
    """
    from scipy.optimize import least_squares

    t = require_finite("time", np.atleast_1d(time), "s")
    p = require_finite("pressure_difference", np.atleast_1d(pressure_difference), "Pa")
    if t.size != p.size or t.size < 5:
        raise InputError(f"There are {t.size} times and {p.size} pressures. Five of each are needed at least.")  # fmt: skip
    if np.any(np.diff(t) <= 0.0):
        raise InputError("Times do not rise. Each reading is later than the one before.")
    p = p * (1.0 if p[0] > 0.0 else -1.0)
    if p[0] <= 0.0 or p[-1] >= 0.8 * p[0]:
        raise InputError("The pressure does not fall by a fifth. Start the record when the fan is stopped and covered.")  # fmt: skip
    t = t - t[0]
    storage = air_storage(volume, 1.0, skin_compliance)
    fixed = (
        None if flow_exponent is None else require_between("flow_exponent", flow_exponent, 0.5, 1.0)
    )
    half = t[np.argmax(p <= 0.5 * (p[0] + p[-1]))] or t[1]
    guess = storage * math.log(p[0] / max(0.5 * (p[0] + p[-1]), 1e-3)) / half * p[0] ** 0.35

    def law(values):
        n = values[2] if fixed is None else fixed
        return pressure_after(
            t, math.exp(values[1]), math.exp(values[0]), n, volume, 1.0, skin_compliance
        )

    first = [math.log(guess), math.log(p[0])] + ([0.65] if fixed is None else [])
    bounds = ([-40.0, first[1] - 1.0, 0.5][: len(first)], [10.0, first[1] + 1.0, 1.0][: len(first)])
    found = least_squares(lambda values: law(values) - p, first, bounds=bounds, xtol=1e-15, ftol=1e-15, gtol=1e-15)  # fmt: skip
    n = float(found.x[2]) if fixed is None else float(fixed)
    sizes = np.exp(np.linspace(math.log(max(p.min(), 0.02 * p[0])), math.log(p[0]), 7))
    isothermal = fit_power_law(sizes, math.exp(found.x[0]) * sizes**n)
    ratio = air_storage(volume, 1.4, skin_compliance) / storage
    warnings = []
    left = float(np.sqrt(np.mean(found.fun**2)))
    if left > 0.03 * p[0]:
        warnings.append(
            f"The record strays {show(left, 'Pa')} from the law: wind, or the cover was late."
        )
    if fixed is None and (n < 0.501 or n > 0.999):
        warnings.append("n sits at the edge of 0.5 to 1: give it, or look at the record.")
    return DecayResult(isothermal, isothermal.times(ratio), float(p[0]), float(max(p.min(), 0.0)), t.size, tuple(warnings))  # fmt: skip


def leakage_from_record(
    time, pressure_difference, volume, inflow=0.0, skin_compliance=0.0, window=7
):
    """Return the leakage from a record of pressure while air is let in, or after a pulse.

    ``q_leak = q_in - [V / (kappa P) + S] dΔp/dt``, slope by parabolas through a moving window,
    then a line in logarithms.

    Parameters
    ----------
    time : array
        Times of the record, evenly spaced. [s]
    pressure_difference : array
        Pressure differences. [Pa]
    volume : float
        Air in the house. [m3]
    inflow : float or array
        Air let in from outside at each time. [m3/s]
    skin_compliance : float
        Volume the skin gives back for each pascal, in m³/Pa.
    window : int
        Readings in the moving window, odd.

    Returns
    -------
    DecayResult
        Each bound has its own fit.

    Raises
    ------
    InputError
        If the record is shorter than three windows or shows no leakage.

    Notes
    -----
    Noise in the pressure grows in its slope: take a wide window.

    References
    ----------
    [DERIVED] gas law

    Examples
    --------
    >>> t = np.linspace(0.0, 0.8, 201)
    >>> p = pressure_after(t, 50.0, 0.0197, 0.65, 300.0)
    >>> found = leakage_from_record(t, p, 300.0)
    >>> round(float(found.flow_bounds(20.0)[1] / (0.0197 * 20.0**0.65)), 3)
    1.0
    """
    t = require_finite("time", np.atleast_1d(time), "s")
    p = require_finite("pressure_difference", np.atleast_1d(pressure_difference), "Pa")
    require_between("window", window, 3, 1001)
    if t.size != p.size or t.size < 3 * window:
        raise InputError(f"The record has {t.size} times and {p.size} pressures. It needs three windows, {3 * window}, of each.")  # fmt: skip
    gaps = np.diff(t)
    if np.any(gaps <= 0.0) or gaps.max() > 1.01 * gaps.min():
        raise InputError("Times are not evenly spaced.")
    half = int(window) // 2
    steps = np.arange(-half, half + 1)
    kernel = steps / (steps @ steps) / gaps.mean()
    inner = slice(half, t.size - half)
    slope = np.convolve(p, kernel[::-1], "valid")
    smooth_in = np.broadcast_to(require_finite("inflow", inflow, "m3/s"), p.shape)[inner]
    fits, used = [], None
    for kappa in (1.0, 1.4):
        flow = smooth_in - air_storage(volume, kappa, skin_compliance) * slope
        good = (p[inner] > 0.02 * p.max()) & (flow > 0.0)
        if good.sum() < 5:
            raise InputError("The record shows no leakage: the pressure does not fall, nor does the inflow hold it.")  # fmt: skip
        used = p[inner][good]
        fits.append(fit_power_law(used, flow[good]))
    return DecayResult(*fits, float(used.max()), float(used.min()), int(used.size))
