"""Which fit is better than the standard's where the points are not equally good?

Weights, errors in both readings, the curve itself instead of its logarithm, a fixed exponent, prior
knowledge of the exponent. A chi squared far from points minus two says that the stated spreads do
not fit the scatter.
"""

import math

import numpy as np

from airlab.fan_test.fit import Line, PowerLawFit, _plain, checked_points, straight_line
from airlab.fan_test.lines import effective_variance_line, organic_line, weighted_line, york_line
from airlab.physics.laws import TwoTermLaw
from airlab.words import InputError, require_between, require_choice, require_positive

__all__ = ["FITS", "fit_curve", "fit_two_terms", "fit_with_spreads", "with_prior"]

FITS = (
    "least squares",
    "weighted",
    "effective variance",
    "both errors",
    "organic",
    "fixed exponent",
)
_ROUNDS = 100


def fit_with_spreads(
    pressure_difference,
    flow,
    pressure_spread=0.5,
    flow_spread=0.0,
    method="both errors",
    weighting="product",
    flow_exponent=0.65,
    exponent_spread=0.0,
):
    """Return the power law by one of the fits for points that are not equally good.

    In logarithms ``u_x = u(Δp) / Δp`` and ``u_y = u(q) / q``.

    Parameters
    ----------
    pressure_difference : array (..., points)
        Induced pressure differences, of one sign. [Pa]
    flow : array (..., points)
        Flows. [m3/s]
    pressure_spread : float or array
        Standard uncertainty of each pressure difference. [Pa]
    flow_spread : float or array
        Standard uncertainty of each flow, noise of single readings only. [m3/s]
    method : str
        One of `FITS`.
    weighting : str
        For the organic line.
    flow_exponent : float
        For the fixed exponent. [-]
    exponent_spread : float
        Standard uncertainty of the fixed exponent. [-]

    Returns
    -------
    PowerLawFit
        With a warning where chi squared does not fit the stated spreads.

    Raises
    ------
    InputError
        If the method is unknown, or no spread of the flow is given where it is needed.

    References
    ----------
    [DELMOTTE2013] field use; [WALKER2013] fixed exponent in wind

    Examples
    --------
    >>> p = np.array([10.0, 20.0, 40.0, 60.0])
    >>> fit = fit_with_spreads(p, 0.02 * p**0.65, 0.5, 0.001, "weighted")
    >>> round(fit.flow_exponent, 6)
    0.65
    """
    require_choice("method", method, FITS)
    pressure, flow = checked_points(pressure_difference, flow)
    x, y = np.log(pressure), np.log(flow)
    if method == "least squares":
        return PowerLawFit(straight_line(x, y))
    require_positive("pressure_spread", pressure_spread, "Pa", allow_zero=True)
    uy = require_positive("flow_spread", flow_spread, "m3/s", "State it as a standard uncertainty.")
    ux, uy = pressure_spread / pressure, uy / flow
    if method == "weighted":
        line = weighted_line(x, y, uy)
    elif method == "effective variance":
        line = effective_variance_line(x, y, ux, uy)
    elif method == "both errors":
        line = york_line(x, y, ux, uy)
    elif method == "organic":
        line = organic_line(x, y, ux, uy, weighting)
    else:
        n = require_between("flow_exponent", flow_exponent, 0.5, 1.0)
        weight = 1.0 / (uy**2 + n**2 * ux**2)
        total = weight.sum(axis=-1)
        pivot_x, pivot_y = ((weight * a).sum(axis=-1) / total for a in (x, y))
        left = (y - pivot_y[..., None]) - n * (x - pivot_x[..., None])
        zero = 0.0 * pivot_x
        found = (n + zero, exponent_spread + zero, pivot_x, pivot_y, total**-0.5)
        chi = _plain((weight * left**2).sum(axis=-1))
        line = Line(*map(_plain, found), math.inf, x.shape[-1], None, None, chi)
    return PowerLawFit(line, method, _chi_words(line, method == "fixed exponent"))


def _chi_words(line, fixed):
    """Say where the scatter does not fit the stated spreads (beyond 1 in 1000, either way)."""
    from scipy.special import chdtr

    left = line.points - (1 if fixed else 2)
    if np.ndim(line.chi_squared) or left < 1:
        return ()
    share = float(chdtr(left, line.chi_squared))
    if share < 0.001:
        return ("The points scatter far less than the stated spreads: those are too large, or they "
                "are common to all points.",)  # fmt: skip
    if share > 0.999:
        return ("The points scatter far more than the stated spreads. Something else moved.",)
    return ()


def fit_curve(pressure_difference, flow, flow_spread=None, flow_exponent=None):
    """Return the power law fitted to the flows themselves, not to their logarithms.

    Minimises ``sum w (q - C Δp^n)**2``: plain, it weighs by the size of the flow.

    Parameters
    ----------
    pressure_difference : array (points,)
        Induced pressure differences, of one sign. [Pa]
    flow : array (points,)
        Flows. [m3/s]
    flow_spread : array, optional
        Standard uncertainty of each flow; left out, all flows count alike. [m3/s]
    flow_exponent : float, optional
        Held fixed if given. [-]

    Returns
    -------
    PowerLawFit
        Spreads from the scatter, or from the stated spreads.

    Raises
    ------
    InputError
        If there are too few points or the fit does not come to rest.

    References
    ----------
    [NIST_STRD] DanWood, NoInt1, NoInt2: certified

    Examples
    --------
    >>> p = np.array([10.0, 20.0, 40.0, 60.0])
    >>> round(float(fit_curve(p, 0.02 * p**0.65).flow_exponent), 9)
    0.65
    """
    pressure, flow = checked_points(pressure_difference, flow)
    free = 1 if flow_exponent is not None else 2
    points = flow.size
    if flow.ndim != 1 or points <= free:
        raise InputError(
            f"There are {points} points. This fit needs {free + 1} at least, one test."
        )
    root = 1.0 / require_positive("flow_spread", np.ones(points) if flow_spread is None else flow_spread, "m3/s")  # fmt: skip
    x = np.log(pressure)
    middle = x.mean()
    if flow_exponent is None:
        start = straight_line(x, np.log(flow)) if points > 2 else None
        n, height = start.slope, start.at(middle)
    else:
        n = float(flow_exponent)
        shape = np.exp(n * (x - middle))
        height = float(np.log(np.sum(root**2 * flow * shape) / np.sum((root * shape) ** 2)))
    for _ in range(_ROUNDS):
        model = np.exp(height + n * (x - middle))
        left = root * (flow - model)
        columns = root[:, None] * model[:, None] * np.stack([np.ones(points), x - middle], axis=1)
        columns = columns[:, :free]
        step = np.linalg.lstsq(columns, left, rcond=None)[0]
        scale = 1.0
        while scale > 2e-4 and _left(height, n, scale * step, x, middle, flow, root) > left @ left:
            scale *= 0.5
        height, n = height + scale * step[0], n + (scale * step[1] if free == 2 else 0.0)
        if np.all(np.abs(step) <= 1e-14):
            break
        if scale <= 2e-4:
            break
    inverse = np.linalg.inv(columns.T @ columns)
    variance = 1.0 if flow_spread is not None else float(left @ left) / (points - free)
    freedom = math.inf if flow_spread is not None else points - free
    cov = inverse * variance
    if free == 1:
        line = Line(n, 0.0, middle, height, math.sqrt(cov[0, 0]), freedom, points)
    else:
        shift = -cov[0, 1] / cov[1, 1]
        pivot_spread = math.sqrt(cov[0, 0] - cov[0, 1] ** 2 / cov[1, 1])
        line = Line(n, math.sqrt(cov[1, 1]), middle + shift, height + n * shift, pivot_spread,
                    freedom, points, None, math.sqrt(variance), float(left @ left))  # fmt: skip
    return PowerLawFit(line, "curve")


def _left(height, n, step, x, middle, flow, root):
    height, n = height + step[0], n + (step[1] if len(step) > 1 else 0.0)
    return np.sum((root * (flow - np.exp(height + n * (x - middle)))) ** 2)


def fit_two_terms(pressure_difference, flow):
    """Return the other law of leakage, ``Δp = a q + b q²``, fitted as ``Δp / q = a + b q``.

    Parameters
    ----------
    pressure_difference : array (points,)
        Induced pressure differences, of one sign. [Pa]
    flow : array (points,)
        Flows. [m3/s]

    Returns
    -------
    TwoTermLaw
        With `.flow` and `.pressure`; a creeping part below nothing is held at nothing.

    Notes
    -----
    Through the points it is much like the power law. Below them the two part: their distance shows
    what reading a flow at 4 Pa from points above 10 Pa is worth.

    References
    ----------
    [ETHERIDGE1984] the law; [ROULET2008] eq. 4.12 to 4.14, the fit

    Examples
    --------
    >>> p = np.array([10.0, 20.0, 40.0, 60.0])
    >>> law = fit_two_terms(p, 0.02 * p**0.65)
    >>> round(float(law.flow(50.0) / (0.02 * 50.0**0.65)), 3)
    1.001
    """
    pressure, flow = checked_points(pressure_difference, flow)
    line = straight_line(flow, pressure / flow)
    if line.intercept < 0.0:
        return TwoTermLaw(0.0, float((pressure @ flow**2) / (flow**2 @ flow**2)))
    return TwoTermLaw(float(line.intercept), float(max(line.slope, 0.0)))


def with_prior(fit, prior_exponent=0.65, prior_spread=0.07):
    """Return the fit joined with prior knowledge of the exponent; the pivot stays where it is.

    ``1/s² = 1/u_n² + 1/s_0²``, ``n* = s² (n/u_n² + n_0/s_0²)``.

    Parameters
    ----------
    fit : PowerLawFit
        Any fit with a spread of its exponent.
    prior_exponent : float
        What is expected of such a house. [-]
    prior_spread : float
        Standard uncertainty of that; to nothing it gives the fixed exponent. [-]

    Returns
    -------
    PowerLawFit
        Normal limits.

    Notes
    -----
    0.65 with 0.06 to 0.08 for dwellings is from memory. The flow near the pivot hardly moves.

    References
    ----------
    [ROULET2008] the same idea, quoted there; [DERIVED] formulas

    Examples
    --------
    >>> p = np.array([10.0, 20.0, 40.0, 60.0])
    >>> fit = fit_with_spreads(p, 0.02 * p**0.60, 0.5, 0.001, "weighted")
    >>> bool(0.6 < with_prior(fit).flow_exponent < 0.65)
    True
    """
    require_between("prior_exponent", prior_exponent, 0.5, 1.0)
    require_positive("prior_spread", prior_spread)
    line = fit.line
    own, prior = np.square(line.slope_spread), prior_spread**2
    both = 1.0 / (1.0 / own + 1.0 / prior)
    slope = both * (line.slope / own + prior_exponent / prior)
    joined = Line(slope, both**0.5, line.pivot_x, line.pivot_y, line.pivot_spread, math.inf,
                  line.points, None, None, line.chi_squared)  # fmt: skip
    return PowerLawFit(joined, f"{fit.method}, prior on n", fit.warnings)
