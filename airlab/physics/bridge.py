"""What does the balloon say about a house? Refills, holes for a rate, old air that stays."""

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.openings import equivalent_hole_area, hole_flow
from airlab.words import PRESSURE_REFERENCE, ach, from_si, require_between, require_positive, to_si

__all__ = [
    "air_change_rate_of_hole",
    "carried_to_50",
    "hole_area_for_ach50",
    "mixing_time",
    "refills_per_hour",
    "remaining_old_air",
]


def air_change_rate_of_hole(
    area,
    volume,
    pressure_difference=PRESSURE_REFERENCE,
    air=CLASSROOM_AIR,
):
    """Return the air changes per hour that a hole gives a volume: ``Cd A sqrt(2 p/rho) / V``.

    Parameters
    ----------
    area : float or array
        Area of all holes together. [m2]
    volume : float or array
        Volume behind them. [m3]
    pressure_difference : float or array
        Pressure across the holes. [Pa]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    float or array
        Air changes per hour at that pressure. [1/h]

    Examples
    --------
    >>> from airlab.words import cm2
    >>> [round(float(air_change_rate_of_hole(cm2(300), v)), 2) for v in (500.0, 1000.0)]
    [1.2, 0.6]
    """
    volume = require_positive("volume", volume, "m3")
    return ach(hole_flow(area, pressure_difference, air), volume)


def hole_area_for_ach50(ach50, volume, air=CLASSROOM_AIR):
    """Return the area of one sharp hole that gives a volume its air changes at 50 Pa.

    About 0.5 cm2 per m3 for each air change per hour.

    Parameters
    ----------
    ach50 : float or array
        Air changes per hour at 50 Pa. [1/h]
    volume : float or array
        Volume behind the hole. [m3]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    float or array
        Area of one hole. [m2]

    Examples
    --------
    >>> from airlab.words import from_si
    >>> round(from_si(hole_area_for_ach50(0.6, 450.0), "cm2"), 1)
    134.5
    """
    rate = to_si(require_positive("air_change_rate", ach50, "1/h"), "1/h")
    volume = require_positive("volume", volume, "m3")
    return equivalent_hole_area(rate * volume, PRESSURE_REFERENCE, air)


def remaining_old_air(air_change_rate, time):
    """Return the share of the old air that is still there with perfect mixing: ``exp(-ACH t)``.

    Parameters
    ----------
    air_change_rate : float or array
        Air changes per hour of the flow. [1/h]
    time : float or array
        Time since the start. [s]

    Returns
    -------
    float or array
        Between 0 and 1. [-]

    References
    ----------
    [CDC2003] table B.1, same formula

    Examples
    --------
    >>> round(float(remaining_old_air(3.0, 20 * 60)), 3)
    0.368
    """
    rate = to_si(
        require_positive("air_change_rate", air_change_rate, "1/h", allow_zero=True), "1/h"
    )
    return np.exp(-rate * require_positive("time", time, "s", allow_zero=True))[()]


def mixing_time(air_change_rate, remaining):
    """Return when a share of the old air is left, with perfect mixing: ``-ln(share) / ACH``.

    Parameters
    ----------
    air_change_rate : float or array
        Air changes per hour of the flow. [1/h]
    remaining : float or array
        Share of the old air still there, above 0 and at most 1. [-]

    Returns
    -------
    float or array
        Time. [s]

    References
    ----------
    [CDC2003] table B.1

    Examples
    --------
    >>> from airlab.words import from_si
    >>> round(from_si(mixing_time(2.0, 0.01), "min"))
    138
    """
    rate = to_si(require_positive("air_change_rate", air_change_rate, "1/h"), "1/h")
    share = require_between("remaining", remaining, 1e-12, 1.0)
    return -np.log(share) / rate


def carried_to_50(refills_per_hour, phi, pressure_difference, flow_exponent=0.5):
    """Return the air changes per hour at 50 Pa behind a refill rate: the chain of three chips.

    ``ACH50 = refills per hour * phi * (50 / p)**n``

    Parameters
    ----------
    refills_per_hour : float or array
        One hour over the time to drain. [1/h]
    phi : float or array
        Flow at the start over the mean flow. [-]
    pressure_difference : float or array
        Pressure at the start. [Pa]
    flow_exponent : float or array
        Exponent of the holes. [-]

    Returns
    -------
    float or array
        Air changes per hour at 50 Pa. [1/h]

    Examples
    --------
    >>> round(carried_to_50(60.0, 1.0, 2400.0), 2)
    8.66
    """
    rate = require_positive("refills_per_hour", refills_per_hour, "1/h")
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    exponent = require_between("flow_exponent", flow_exponent, 0.5, 1.0)
    factor = np.power(PRESSURE_REFERENCE / np.asarray(pressure, dtype=float), exponent)
    result = rate * require_positive("phi", phi) * factor
    return result if np.ndim(result) else float(result)


def refills_per_hour(time):
    """Return how many times an hour a vessel would be refilled that drains in a time. [1/h]."""
    return from_si(1.0 / require_positive("time", time, "s"), "1/h")
