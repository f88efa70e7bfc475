"""Which straight line runs through points that are not equally good?

Weighted, with errors in both directions (effective variance, York), and the line of organic
correlation that treats both readings alike. Spreads are stated, not taken from the scatter. One
set of points, or many at once with the points along the last axis.
"""

import math

import numpy as np

from airlab.fan_test.fit import Line, _plain, straight_line
from airlab.words import InputError, require_choice, require_positive

__all__ = ["WEIGHTINGS", "effective_variance_line", "organic_line", "weighted_line", "york_line"]

WEIGHTINGS = ("none", "product", "effective variance")
_ROUNDS = 100
_BLOCK = 1000


def weighted_line(x, y, spread_y):
    """Return the line that weighs each point by its spread in y: ``w = 1 / u_y**2``.

    Parameters
    ----------
    x, y : array (..., points)
        The points. [-]
    spread_y : array (..., points)
        Standard uncertainty of y, above zero. [-]

    Returns
    -------
    Line
        Spreads follow from those stated, not from the scatter.

    References
    ----------
    [ISOTS28037] clause 6

    Examples
    --------
    >>> line = weighted_line(np.arange(1, 7), [3.2, 4.3, 7.6, 8.6, 11.7, 12.8], [.5, .5, .5, 1, 1, 1])
    >>> round(line.intercept, 3), round(line.slope, 3), round(line.chi_squared, 3)
    (0.885, 2.057, 4.131)
    """
    x, y = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    weight = require_positive("spread", np.asarray(spread_y, dtype=float)) ** -2.0
    return _weighted(x, y, weight + np.zeros(np.broadcast_shapes(x.shape, y.shape)))


def _weighted(x, y, weight):
    points = weight.shape[-1]
    if points < 2:
        raise InputError("A weighted line needs two points at least.")
    total = weight.sum(axis=-1)
    x_mean, y_mean = (weight * x).sum(axis=-1) / total, (weight * y).sum(axis=-1) / total
    dx, dy = x - x_mean[..., None], y - y_mean[..., None]
    sxx = (weight * dx * dx).sum(axis=-1)
    if np.any(sxx <= 1e-20 * total):
        raise InputError("All pressures are the same. A line needs points at several pressures.")
    slope = (weight * dx * dy).sum(axis=-1) / sxx
    chi = (weight * (dy - slope[..., None] * dx) ** 2).sum(axis=-1)
    found = (slope, sxx**-0.5, x_mean, y_mean, total**-0.5)
    return Line(*map(_plain, found), math.inf, points, None, None, _plain(chi))


def effective_variance_line(x, y, spread_x, spread_y):
    """Return the weighted line with ``w = 1 / (u_y**2 + slope**2 u_x**2)``, repeated until it rests.

    Parameters
    ----------
    x, y : array (..., points)
        The points. [-]
    spread_x, spread_y : array (..., points)
        Standard uncertainties. [-]

    Returns
    -------
    Line
        Near York's line, simpler.

    Raises
    ------
    InputError
        If it does not come to rest.

    References
    ----------
    [OKUYAMA2012] idea, from memory

    Examples
    --------
    >>> line = effective_variance_line([1.0, 2.0, 3.0], [1.0, 2.1, 2.9], 0.1, 0.1)
    >>> round(line.slope, 2)
    0.95
    """
    x, y, ux, uy = _four(x, y, spread_x, spread_y)
    slope = np.asarray(straight_line(x, y).slope)
    for _ in range(_ROUNDS):
        line = _weighted(x, y, 1.0 / (uy**2 + np.square(slope)[..., None] * ux**2))
        new = np.asarray(line.slope)
        if np.all(np.abs(new - slope) <= 1e-14 * np.abs(new)):
            return line
        slope = new
    raise InputError("The effective-variance fit does not come to rest. The spreads are too large.")


def _four(x, y, spread_x, spread_y):
    arrays = [np.asarray(value, dtype=float) for value in (x, y)]
    shape = np.broadcast_shapes(*(a.shape for a in arrays))
    spreads = (
        np.broadcast_to(
            require_positive(name, np.asarray(value, dtype=float), allow_zero=zero), shape
        )
        for name, value, zero in (("spread_x", spread_x, True), ("spread_y", spread_y, False))
    )
    return (*(np.broadcast_to(a, shape) for a in arrays), *spreads)


def york_line(x, y, spread_x, spread_y):
    """Return York's line: errors in both x and y, not correlated with each other.

    ``W = w_x w_y / (w_x + b**2 w_y)``, ``beta = W (U / w_y + b V / w_x)``,
    ``b = sum(W beta V) / sum(W beta U)``, repeated.

    Parameters
    ----------
    x, y : array (..., points)
        The points. [-]
    spread_x, spread_y : array (..., points)
        Standard uncertainties; x may be exact, y not. [-]

    Returns
    -------
    Line
        Spreads from those stated, at the adjusted points.

    Raises
    ------
    InputError
        If it does not come to rest.

    References
    ----------
    [YORK2004] unified equations

    Examples
    --------
    >>> line = york_line([1.0, 2.0, 3.0], [1.0, 2.1, 2.9], 0.1, 0.1)
    >>> round(line.slope, 3)
    0.954
    """
    x, y, ux, uy = _four(x, y, spread_x, spread_y)
    if x.ndim != 2 or len(x) <= _BLOCK:
        found = _york(x, y, ux, uy)
    else:  # blocks that stay in the processor's cache
        blocks = (slice(k, k + _BLOCK) for k in range(0, len(x), _BLOCK))
        parts = [_york(x[k], y[k], ux[k], uy[k]) for k in blocks]
        found = [np.concatenate(column) for column in zip(*parts)]
    *line, chi = map(_plain, found)
    return Line(*line, math.inf, x.shape[-1], None, None, chi)


def _york(x, y, ux, uy):
    """Return slope, its spread, pivot, height and spread there, chi squared."""
    var_x, var_y = ux * ux, uy * uy
    slope = np.asarray(straight_line(x, y).slope)
    for _ in range(_ROUNDS):
        b = slope[..., None]
        weight = 1.0 / (var_y + b * b * var_x)
        total = weight.sum(axis=-1)
        x_mean = np.einsum("...i,...i->...", weight, x) / total
        y_mean = np.einsum("...i,...i->...", weight, y) / total
        dx, dy = x - x_mean[..., None], y - y_mean[..., None]
        beta = weight * (dx * var_y + b * dy * var_x)
        both = weight * beta
        new = np.einsum("...i,...i->...", both, dy) / np.einsum("...i,...i->...", both, dx)
        rest = np.all(np.abs(new - slope) <= 1e-12 * np.abs(new))
        slope = new
        if rest:
            break
    else:
        raise InputError("York's fit does not come to rest. The spreads are too large.")
    shift = np.einsum("...i,...i->...", weight, beta) / total
    spread = np.einsum("...i,...i->...", weight, (beta - shift[..., None]) ** 2) ** -0.5
    chi = np.einsum("...i,...i->...", weight, (dy - slope[..., None] * dx) ** 2)
    return slope, spread, x_mean + shift, y_mean + slope * shift, total**-0.5, chi


def organic_line(x, y, spread_x=None, spread_y=None, weighting="none"):
    """Return the line of organic correlation: x and y treated alike, ``b = sqrt(Syy / Sxx)``.

    Parameters
    ----------
    x, y : array (..., points)
        The points. [-]
    spread_x, spread_y : array (..., points), optional
        Standard uncertainties, for the weights. [-]
    weighting : str
        "none"; "product", ``w = 1 / (u_x u_y)``; or "effective variance",
        ``w = 1 / (u_y**2 + b**2 u_x**2)``. Which one the papers print was not readable.

    Returns
    -------
    Line
        Its spreads are those of the weighted or plain line with the same weights.

    Raises
    ------
    InputError
        If the weighting is unknown or spreads are missing.

    References
    ----------
    [DELMOTTE2013] use in fan tests; [PRIGNON2018] use in fan tests

    Examples
    --------
    >>> round(organic_line([1.0, 2.0, 3.0], [1.0, 2.1, 2.9]).slope, 3)
    0.954
    """
    require_choice("weighting", weighting, WEIGHTINGS)
    plain = straight_line(x, y)
    if weighting == "none":
        dx = np.asarray(x) - np.mean(x, axis=-1, keepdims=True)
        dy = np.asarray(y) - np.mean(y, axis=-1, keepdims=True)
        slope = np.sqrt((dy**2).sum(axis=-1) / (dx**2).sum(axis=-1)) * np.sign(plain.slope)
        return Line(_plain(slope), plain.slope_spread, plain.pivot_x, plain.pivot_y,
                    plain.pivot_spread, plain.degrees_of_freedom, plain.points, plain.r_squared,
                    plain.residual_spread)  # fmt: skip
    if spread_x is None or spread_y is None:
        raise InputError(f"Weighting {weighting!r} needs the spreads of both readings.")
    x, y, ux, uy = _four(x, y, spread_x, spread_y)
    slope = np.asarray(plain.slope)
    for _ in range(_ROUNDS):
        if weighting == "product":
            weight = 1.0 / (np.maximum(ux, 1e-12) * uy)
        else:
            weight = 1.0 / (uy**2 + np.square(slope)[..., None] * ux**2)
        total = weight.sum(axis=-1)
        dx = x - ((weight * x).sum(axis=-1) / total)[..., None]
        dy = y - ((weight * y).sum(axis=-1) / total)[..., None]
        new = np.sqrt((weight * dy**2).sum(axis=-1) / (weight * dx**2).sum(axis=-1))
        new = new * np.sign((weight * dx * dy).sum(axis=-1))
        rest = np.all(np.abs(new - slope) <= 1e-13 * np.abs(new))
        slope = new
        if rest:
            break
    near = _weighted(x, y, 1.0 / (uy**2 + np.square(slope)[..., None] * ux**2))
    pivot_x, pivot_y = ((weight * a).sum(axis=-1) / total for a in (x, y))
    chi = (weight * (dy - slope[..., None] * dx) ** 2).sum(axis=-1)
    return Line(_plain(slope), near.slope_spread, _plain(pivot_x), _plain(pivot_y),
                near.pivot_spread, math.inf, x.shape[-1], None, None, _plain(chi))  # fmt: skip
