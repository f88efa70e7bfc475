"""How does a leakage change with pressure, and which exponent do two values imply?"""

from airlab.words import PRESSURE_REFERENCE, require_between, require_finite, require_positive

__all__ = ["FLOW_EXPONENT", "flow_at", "require_flow_exponent"]

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
