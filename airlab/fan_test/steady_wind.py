"""How far does a steady wind mislead a fan test? A house with one windward and one leeward leak.

With the fan off the house settles between the two wind pressures; that is what the gauge calls the
zero-flow pressure. Subtracting it removes the first part of the error, which has one sign when
sucking and the other when blowing; a second part stays in both.
"""

import numpy as np

from airlab.physics.roots import bracketed_root
from airlab.physics.wind import wind_pressure
from airlab.words import require_between, require_finite, require_positive

__all__ = ["offset_error", "steady_wind_error", "wind_spread"]

# Windward and leeward pressure coefficients of a house with some shelter; from memory.
_WINDWARD, _LEEWARD = 0.25, -0.5


def _signed_power(x, n):
    return np.sign(x) * np.abs(x) ** n


def offset_error(pressure_difference, offsets, shares, flow_exponent=0.65):
    """Return the relative error of the flow at a pressure, and the zero-flow pressure, of any leaks.

    ``sum z_i f(P_0 - p_i) = 0`` gives P_0, then ``error = sum z_i f(P_0 + d - p_i) / f(d) - 1``,
    with ``f(x) = sign(x) |x|**n``.

    Parameters
    ----------
    pressure_difference : float or array
        Induced, with its sign: below zero when depressurising. [Pa]
    offsets : sequence of float or array
        Pressure at the outside of each leak, from wind and from the weight of the air. [Pa]
    shares : sequence of float or array
        Share of the leakage in each, together 1. [-]
    flow_exponent : float
        Of all leaks. [-]

    Returns
    -------
    tuple
        Relative error, and zero-flow pressure at the gauge [Pa].

    Raises
    ------
    InputError
        If a share lies outside 0 to 1 or the induced pressure is zero.

    References
    ----------
    [DERIVED] mass balance of the leaks

    Examples
    --------
    >>> error, zero = offset_error(50.0, (0.0, -4.0), (0.5, 0.5))
    >>> round(100 * float(error), 3), round(float(zero), 3)
    (-0.018, -2.0)
    """
    d = require_finite("pressure_difference", pressure_difference, "Pa")
    require_positive("size_of_pressure", np.abs(d), "Pa")
    n = require_between("flow_exponent", flow_exponent, 0.5, 1.0)
    shares = [require_between("share_of_leakage", z, 0.0, 1.0) for z in shares]
    offsets = [require_finite("offset", p, "Pa") for p in offsets]
    shape = np.broadcast_shapes(*map(np.shape, (*shares, *offsets)))

    def through(p):
        return sum(z * _signed_power(p - at, n) for z, at in zip(shares, offsets))

    low, high = (np.broadcast_to(edge, shape).astype(float) for edge in
                 (np.minimum.reduce(np.broadcast_arrays(*offsets)) - 1e-9,
                  np.maximum.reduce(np.broadcast_arrays(*offsets)) + 1e-9))  # fmt: skip
    zero = bracketed_root(through, low, high)
    return through(zero + d) / _signed_power(d, n) - 1.0, zero


def steady_wind_error(
    pressure_difference,
    wind_speed,
    windward_share=0.5,
    windward=_WINDWARD,
    leeward=_LEEWARD,
    flow_exponent=0.65,
    density=1.2,
):
    """Return the relative error of the flow at a pressure, and the zero-flow pressure.

    ``z |p_w - P_0|**n = (1 - z) |P_0 - p_l|**n`` gives P_0, then
    ``error = [z f(P_0 + d - p_w) + (1 - z) f(P_0 + d - p_l)] / f(d) - 1``.

    Parameters
    ----------
    pressure_difference : float or array
        Induced, with its sign: below zero when depressurising. [Pa]
    wind_speed : float or array
        Steady wind at the eaves. [m/s]
    windward_share : float or array
        Share of the leakage on the windward side, 0 to 1. [-]
    windward, leeward : float
        Pressure coefficients of the two sides. [-]
    flow_exponent : float
        Of both leaks. [-]
    density : float
        Of the air. [kg/m3]

    Returns
    -------
    tuple
        Relative error, and zero-flow pressure [Pa].

    Raises
    ------
    InputError
        If the share lies outside 0 to 1 or the induced pressure is zero.

    References
    ----------
    [DERIVED] two-leak model; [CARRIE2014] errors of the same size

    Examples
    --------
    >>> error, zero = steady_wind_error(50.0, 6.0, 0.5, flow_exponent=0.6667)
    >>> round(100 * float(error), 4), round(float(zero), 3)
    (-0.2936, -2.7)
    """
    z = require_between("windward_share", windward_share, 0.0, 1.0)
    front, back = (wind_pressure(wind_speed, cp, density) for cp in (windward, leeward))
    return offset_error(pressure_difference, (front, back), (z, 1.0 - z), flow_exponent)


def wind_spread(pressure_difference, wind_speed, both_directions=False, flow_exponent=0.65):
    """Return the standard uncertainty a steady wind adds, the split of the leaks being unknown.

    Root mean square of `steady_wind_error` over even splits from 5 to 95 %.

    Parameters
    ----------
    pressure_difference : float
        Size of the induced pressure. [Pa]
    wind_speed : float
        Steady wind at the eaves. [m/s]
    both_directions : bool
        Whether sucking and blowing are averaged.
    flow_exponent : float
        Of the leaks. [-]

    Returns
    -------
    float
        Relative. [-]

    Notes
    -----
    Gusts come on top of it.

    References
    ----------
    [DERIVED] two-leak model

    Examples
    --------
    >>> round(100 * wind_spread(50.0, 4.0), 2), round(100 * wind_spread(50.0, 4.0, True), 2)
    (0.66, 0.05)
    """
    split = np.linspace(0.05, 0.95, 19)
    errors = [steady_wind_error(sign * abs(pressure_difference), wind_speed, split,
                                flow_exponent=flow_exponent)[0] for sign in (-1.0, 1.0)]  # fmt: skip
    chosen = 0.5 * (errors[0] + errors[1]) if both_directions else np.concatenate(errors)
    return float(np.sqrt(np.mean(np.square(chosen))))
