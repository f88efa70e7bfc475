"""Which power law do the points of a fan test follow, and how sure is it?

``q = C |Δp|^n`` is a straight line in logarithms. A line is kept by its slope and its pivot, the
point where slope and height are uncorrelated; everything else follows from these without loss of
digits. All functions take one test, or many at once with the points along the last axis.
"""

import math
from dataclasses import dataclass

import numpy as np

from airlab.words import (
    InputError,
    display_unit,
    from_si,
    require_between,
    require_positive,
    show,
    show_range,
)

__all__ = ["Line", "PowerLawFit", "coverage_factor", "fit_power_law", "straight_line"]


def coverage_factor(confidence=0.95, degrees_of_freedom=math.inf):
    """Return the two-sided factor of Student's distribution.

    Parameters
    ----------
    confidence : float
        Between 0.5 and 0.9999. [-]
    degrees_of_freedom : float or array
        Points minus two for a fitted line; infinite where the spreads were stated. [-]

    Returns
    -------
    float or array
        Half-width over spread. [-]

    Raises
    ------
    InputError
        If the confidence is outside its range.

    Examples
    --------
    >>> round(coverage_factor(0.95, 8), 3), round(coverage_factor(), 3)
    (2.306, 1.96)
    """
    from scipy.special import ndtri, stdtrit

    slip = "If you meant 95 %, write 0.95."
    upper = 0.5 + 0.5 * require_between("confidence", confidence, 0.5, 0.9999, "-", slip)
    if np.ndim(degrees_of_freedom) == 0:
        if math.isinf(degrees_of_freedom):
            return float(ndtri(upper))
        return float(stdtrit(degrees_of_freedom, upper))
    factors = np.full(np.shape(degrees_of_freedom), float(ndtri(upper)))
    finite = np.isfinite(degrees_of_freedom)
    factors[finite] = stdtrit(np.asarray(degrees_of_freedom)[finite], upper)
    return factors


@dataclass(frozen=True, slots=True)
class Line:
    """A fitted straight line by slope and pivot, with spreads; arrays stand for many lines."""

    slope: float
    slope_spread: float
    pivot_x: float
    pivot_y: float
    pivot_spread: float
    degrees_of_freedom: float = math.inf
    points: int = 0
    r_squared: float | None = None
    residual_spread: float | None = None
    chi_squared: float | None = None

    @property
    def intercept(self):
        """Height of the line at x = 0."""
        return self.pivot_y - self.slope * self.pivot_x

    @property
    def intercept_spread(self):
        """Standard uncertainty of the intercept."""
        return self.spread_at(0.0)

    @property
    def covariance(self):
        """Covariance of intercept and slope."""
        return -self.pivot_x * np.square(self.slope_spread)

    def at(self, x):
        """Return the height of the line at x."""
        return self.pivot_y + self.slope * (x - self.pivot_x)

    def spread_at(self, x):
        """Return the standard uncertainty of the line at x, not of a new point there."""
        return np.hypot(self.pivot_spread, (x - self.pivot_x) * self.slope_spread)

    def factor(self, confidence=0.95):
        """Return the coverage factor of this line's intervals."""
        return coverage_factor(confidence, self.degrees_of_freedom)


def straight_line(x, y):
    """Return the least-squares line of y on x, every point with the same weight.

    ``slope = Sxy / Sxx``, ``s² = Σ r² / (N - 2)``, ``s_slope² = s² / Sxx``, pivot at the means.

    Parameters
    ----------
    x, y : array (..., points)
        Three points at least, along the last axis. [-]

    Returns
    -------
    Line
        With r squared and the spread of the residuals.

    Raises
    ------
    InputError
        If there are fewer than three points or all x are the same.

    References
    ----------
    [ISO9972] annex on the regression, from memory; identical with textbook least squares.

    Examples
    --------
    >>> line = straight_line([0.0, 1.0, 2.0], [1.0, 3.1, 4.9])
    >>> round(line.slope, 3), round(line.intercept, 3)
    (1.95, 1.05)
    """
    x, y = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    points = y.shape[-1] if y.ndim else 1
    if points < 3:
        raise InputError(
            f"There are {points} points. A line with an interval needs three at least; two "
            "points go into a two-point test."
        )
    x_mean, y_mean = x.mean(axis=-1), y.mean(axis=-1)
    dx, dy = x - x_mean[..., None], y - y_mean[..., None]
    sxx, syy = np.einsum("...i,...i->...", dx, dx), np.einsum("...i,...i->...", dy, dy)
    if np.any(sxx <= 1e-20 * (1.0 + x_mean**2)):
        raise InputError("All pressures are the same. A line needs points at several pressures.")
    slope = np.einsum("...i,...i->...", dx, dy) / sxx
    dy -= slope[..., None] * dx
    left = np.einsum("...i,...i->...", dy, dy)
    variance = left / (points - 2)
    with np.errstate(invalid="ignore", divide="ignore"):
        r_squared = np.where(syy > 0.0, 1.0 - left / syy, 1.0)
    found = (
        slope,
        np.sqrt(variance / sxx),
        x_mean + np.zeros_like(slope),
        y_mean,
        np.sqrt(variance / points),
    )
    shape = [_plain(value) for value in found]
    return Line(*shape, points - 2, points, _plain(r_squared), _plain(np.sqrt(variance)))


def _plain(value):
    return float(value) if np.ndim(value) == 0 else value


@dataclass(frozen=True, slots=True)
class PowerLawFit:
    """A fitted power law ``q = C Δp^n``: its line in logarithms, and the method that found it."""

    line: Line
    method: str = "least squares"
    warnings: tuple[str, ...] = ()

    @property
    def flow_exponent(self):
        """Exponent n. [-]."""
        return self.line.slope

    @property
    def exponent_spread(self):
        """Standard uncertainty of n. [-]."""
        return self.line.slope_spread

    @property
    def flow_coefficient(self):
        """Coefficient C. [m3/(s.Pa^n)]."""
        return np.exp(self.line.intercept)

    @property
    def log_coefficient_spread(self):
        """Standard uncertainty of ln C: a relative spread. [-]."""
        return self.line.intercept_spread

    @property
    def r_squared(self):
        """Share of the scatter of ln q that the line explains; None where it has no meaning."""
        return self.line.r_squared

    @property
    def pivot_pressure(self):
        """Pressure at which the fit is surest. [Pa]."""
        return np.exp(self.line.pivot_x)

    def flow(self, pressure_difference):
        """Return the flow at the size of a pressure difference. [m3/s]."""
        return np.exp(self.line.at(np.log(np.abs(pressure_difference))))

    def relative_spread(self, pressure_difference):
        """Return the standard uncertainty of the flow as a share of it. [-]."""
        return self.line.spread_at(np.log(np.abs(pressure_difference)))

    def flow_limits(self, pressure_difference, confidence=0.95):
        """Return lower and upper limit of the flow at a pressure difference. [m3/s]."""
        half = self.line.factor(confidence) * self.relative_spread(pressure_difference)
        flow = self.flow(pressure_difference)
        return flow * np.exp(-half), flow * np.exp(half)

    def exponent_limits(self, confidence=0.95):
        """Return lower and upper limit of n. [-]."""
        half = self.line.factor(confidence) * self.exponent_spread
        return self.flow_exponent - half, self.flow_exponent + half

    def coefficient_limits(self, confidence=0.95):
        """Return lower and upper limit of C. [m3/(s.Pa^n)]."""
        half = self.line.factor(confidence) * self.log_coefficient_spread
        return self.flow_coefficient * np.exp(-half), self.flow_coefficient * np.exp(half)

    def times(self, factor):
        """Return the same law with every flow multiplied: a change of air or of convention."""
        line = self.line
        moved = Line(line.slope, line.slope_spread, line.pivot_x, line.pivot_y + np.log(factor),
                     line.pivot_spread, line.degrees_of_freedom, line.points, line.r_squared,
                     line.residual_spread, line.chi_squared)  # fmt: skip
        return PowerLawFit(moved, self.method, self.warnings)

    def sentence(self, units="metric"):
        """Return exponent and flow at 50 Pa with their limits."""
        unit = display_unit("m3/s", units)
        low, high = (from_si(end, unit) for end in self.flow_limits(50.0))
        scattered = math.isfinite(np.max(self.line.degrees_of_freedom))
        by = "the scatter of the points" if scattered else "the stated uncertainties"
        return (
            f"n is {show(self.flow_exponent)} ({show_range(*self.exponent_limits())}). "
            f"At 50 Pa the flow is {show(from_si(self.flow(50.0), unit), unit)}, between "
            f"{show(low)} and {show(high, unit)} by {by} (95 %)."
        )


def fit_power_law(pressure_difference, flow):
    """Return the standard's fit: least squares of ln q on ln |Δp|.

    Parameters
    ----------
    pressure_difference : array (..., points)
        Induced pressure differences, all of one sign. [Pa]
    flow : array (..., points)
        Flows, above zero. [m3/s]

    Returns
    -------
    PowerLawFit
        With Student intervals on points minus two.

    Raises
    ------
    InputError
        If a flow or pressure is zero, signs are mixed, or there are fewer than three points.

    References
    ----------
    [ISO9972] annex on the regression, from memory

    Examples
    --------
    >>> p = np.array([10.0, 20.0, 40.0, 60.0])
    >>> fit = fit_power_law(p, 0.02 * p**0.65)
    >>> round(fit.flow_exponent, 6), round(float(fit.flow_coefficient), 6)
    (0.65, 0.02)
    """
    pressure, flow = checked_points(pressure_difference, flow)
    return PowerLawFit(straight_line(np.log(pressure), np.log(flow)))


def checked_points(pressure_difference, flow):
    """Return sizes of pressure and flow; refuse zero, mixed signs and unequal lengths."""
    pressure = np.asarray(pressure_difference, dtype=float)
    if pressure.ndim and pressure.shape[-1] != np.shape(flow)[-1]:
        raise InputError(
            f"There are {pressure.shape[-1]} pressures and {np.shape(flow)[-1]} flows. Each "
            "pressure needs its flow."
        )
    if np.any(pressure > 0.0) and np.any(pressure < 0.0):
        raise InputError(
            "Pressure differences have both signs. One series is one direction: all below zero "
            "when depressurising, all above when pressurising."
        )
    require_positive("size_of_pressure", np.abs(pressure), "Pa", "Leave the zero readings out.")
    require_positive("flow", flow, "m3/s", "A point without flow has no logarithm: leave it out.")
    return np.abs(pressure), np.asarray(flow, dtype=float)
