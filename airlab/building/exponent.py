"""How does a leakage change with pressure, and which exponent do two values imply?"""

import numpy as np

from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    require_between,
    require_finite,
    require_positive,
)

__all__ = ["FLOW_EXPONENT", "flow_at", "implied_exponent", "require_flow_exponent"]

FLOW_EXPONENT = 0.65  # usual for houses; common practice


def require_flow_exponent(flow_exponent):
    """Return the exponent as a float or array; refuse what lies outside 0.5 to 1."""
    return require_between(
        "flow_exponent", flow_exponent, 0.5, 1.0, "-", "0.5 is a sharp hole, 1 is a fine crack."
    )


def flow_at(pressure_difference, leakage_flow, flow_exponent=FLOW_EXPONENT):
    """Return the leakage flow at another pressure, ``q = q50 · (Δp/50)^n``.

    Parameters
    ----------
    pressure_difference : float or array
        Pressure difference wanted, its size. [Pa]
    leakage_flow : float or array
        Leakage flow at 50 Pa. [m3/s]
    flow_exponent : float or array
        Exponent of the power law, 0.5 to 1. [-]

    Returns
    -------
    float or array
        Leakage flow at that pressure. [m3/s]

    Raises
    ------
    InputError
        If the exponent lies outside 0.5 to 1.

    Notes
    -----
    Holds where the power law holds, about 4 to 100 Pa. A slip of 0.05 in the exponent moves a
    step from 50 to 4 Pa by 13 %.

    References
    ----------
    [ISO9972] from memory; [ASHRAE_F16].

    Examples
    --------
    >>> round(flow_at(4.0, 1.0), 4)
    0.1936
    """
    n = require_flow_exponent(flow_exponent)
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    return require_finite("leakage_flow", leakage_flow) * (pressure / PRESSURE_REFERENCE) ** n


def implied_exponent(first, first_pressure, second, second_pressure):
    """Return the exponent two values of one metric imply, ``n = ln(a/b) / ln(p_a/p_b)``.

    Parameters
    ----------
    first, second : float or array
        The two values, in the same unit.
    first_pressure, second_pressure : float or array
        Their pressures. [Pa]

    Returns
    -------
    float or array
        Flow exponent. [-]

    Raises
    ------
    InputError
        If the two pressures are the same, or a value is not above zero.

    References
    ----------
    [DERIVED] from the power law.

    Examples
    --------
    >>> round(implied_exponent(8.0, 50.0, 1.57, 4.0), 3)
    0.645
    """
    ratio = require_positive("first_pressure", first_pressure, "Pa") / require_positive(
        "second_pressure", second_pressure, "Pa"
    )
    if np.any(ratio == 1.0):
        raise InputError("Both values are at the same pressure. Two pressures are needed.")
    result = np.log(require_positive("first", first) / require_positive("second", second))
    result = np.asarray(result / np.log(ratio))
    return float(result) if result.ndim == 0 else result
