"""How sure is a test of one point, or of two? Quick readings on a site day, with their uncertainty.

One point needs an exponent from elsewhere: sound at the pressure it was read at, hardly at 4 Pa.
"""

import math

import numpy as np

from airlab.fan_test.fit import Line, PowerLawFit
from airlab.words import InputError, require_between, require_positive

__all__ = ["one_point_test", "two_point_test"]

_SLIP = "If you meant 5 %, write 0.05."


def one_point_test(
    pressure_difference,
    flow,
    flow_spread=0.05,
    pressure_spread=1.0,
    flow_exponent=0.65,
    exponent_spread=0.07,
):
    """Return the power law through one point, with an assumed exponent.

    ``u²(ln q_r) = u_q² + (n u_p / p)² + (ln(p_r / p) u_n)²``

    Parameters
    ----------
    pressure_difference : float or array
        Induced pressure difference. [Pa]
    flow : float or array
        Flow through the envelope. [m3/s]
    flow_spread : float or array
        Standard uncertainty of the flow, calibration and all, as a share. [-]
    pressure_spread : float or array
        Standard uncertainty of the pressure difference. [Pa]
    flow_exponent : float or array
        Assumed. [-]
    exponent_spread : float or array
        Standard uncertainty of the exponent; 0.07 for dwellings is from memory. [-]

    Returns
    -------
    PowerLawFit
        `relative_spread` at any pressure is the whole standard uncertainty.

    Raises
    ------
    InputError
        If a number is not above zero or the exponent lies outside 0.5 to 1.

    References
    ----------
    [DERIVED] propagation; [GUM]

    Examples
    --------
    >>> test = one_point_test(40.0, 0.2)
    >>> round(100 * float(test.relative_spread(50.0)), 2)
    5.48
    """
    p = np.abs(pressure_difference)
    require_positive("pressure_difference", p, "Pa")
    q = require_positive("flow", flow, "m3/s")
    n = require_between("flow_exponent", flow_exponent, 0.5, 1.0)
    u_q = require_between("flow_spread", flow_spread, 0.0, 1.0, "-", _SLIP)
    require_positive("pressure_spread", pressure_spread, "Pa", allow_zero=True)
    require_between("exponent_spread", exponent_spread, 0.0, 0.5)
    spread = np.hypot(u_q, n * pressure_spread / p)
    return PowerLawFit(
        Line(n, exponent_spread, np.log(p), np.log(q), spread, points=1), "one point"
    )


def two_point_test(
    pressure_difference, flow, flow_spread=0.01, pressure_spread=0.5, common_spread=0.0
):
    """Return the power law through two points.

    ``n = ln(q1/q2) / ln(p1/p2)``,
    ``u_n² = [u_q1² + u_q2² + n² ((u_p1/p1)² + (u_p2/p2)²)] / ln²(p1/p2)``

    Parameters
    ----------
    pressure_difference : pair of float
        Induced pressure differences. [Pa]
    flow : pair of float
        Flows through the envelope. [m3/s]
    flow_spread : float or pair
        Standard uncertainty of each flow that differs between the two, as a share. [-]
    pressure_spread : float or pair
        Standard uncertainty of each pressure difference. [Pa]
    common_spread : float
        Standard uncertainty common to both flows, such as the calibration. [-]

    Returns
    -------
    PowerLawFit
        With the common part added at the pivot, where it does not touch the exponent.

    Raises
    ------
    InputError
        If there are not two points, or the two pressures are the same.

    References
    ----------
    [DERIVED] propagation; [GUM]

    Examples
    --------
    >>> test = two_point_test((50.0, 12.5), (0.25, 0.1015))
    >>> round(test.flow_exponent, 3), round(test.exponent_spread, 4)
    (0.65, 0.0219)
    """
    p, q = (np.abs(np.asarray(value, dtype=float)) for value in (pressure_difference, flow))
    if p.shape != (2,) or q.shape != (2,):
        raise InputError("A two-point test needs two pressures and two flows.")
    require_positive("pressure_difference", p, "Pa")
    require_positive("flow", q, "m3/s")
    x, y = np.log(p), np.log(q)
    apart = x[0] - x[1]
    if abs(apart) < 0.05:
        raise InputError(
            "The two pressures are the same, or nearly. The exponent needs them far apart, such as "
            "50 and 12.5 Pa."
        )
    n = (y[0] - y[1]) / apart
    each = (
        require_positive("flow_spread", flow_spread, allow_zero=True) ** 2
        + (n * require_positive("pressure_spread", pressure_spread, "Pa", allow_zero=True) / p) ** 2
    )
    if not np.all(each > 0.0):
        raise InputError("State a spread of flow or pressure: two points show none of their own.")
    weight = 1.0 / each
    total = weight.sum()
    pivot = (weight * x).sum() / total
    spread = math.sqrt(each.sum()) / abs(apart)
    height = y[0] + n * (pivot - x[0])
    line = Line(float(n), float(spread), float(pivot), float(height),
                float(np.hypot(total**-0.5, common_spread)), points=2)  # fmt: skip
    warnings = () if 0.5 <= n <= 1.0 else ("n lies outside 0.5 to 1: something moved between the points.",)  # fmt: skip
    return PowerLawFit(line, "two points", warnings)
