"""What does the balloon say about a house? Refills, holes for a rate, old air that stays."""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.draining import drain
from airlab.physics.openings import SHARP_EDGE, RoundHole, equivalent_hole_area, hole_flow
from airlab.words import (
    PRESSURE_REFERENCE,
    ach,
    display_unit,
    from_si,
    require_between,
    require_finite,
    require_positive,
    show,
    to_si,
)

__all__ = [
    "air_change_rate_of_hole",
    "carried_to_50",
    "everyday_pressure",
    "hole_area_for_ach50",
    "hole_area_to_drain",
    "mean_rate_factor",
    "mixing_time",
    "refills_per_hour",
    "remaining_old_air",
]

_GRAVITY = 9.80665  # m/s2, standard value by definition
_WATER = 998.2  # kg/m3 at 20 °C


def air_change_rate_of_hole(
    area,
    volume,
    pressure_difference=PRESSURE_REFERENCE,
    air=CLASSROOM_AIR,
    discharge_coefficient=SHARP_EDGE,
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
    discharge_coefficient : float
        0.611 for sharp holes. [-]

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
    return ach(hole_flow(area, pressure_difference, air, discharge_coefficient), volume)


def hole_area_for_ach50(ach50, volume, air=CLASSROOM_AIR, discharge_coefficient=SHARP_EDGE):
    """Return the area of one hole that gives a volume its air changes at 50 Pa.

    About 0.5 cm2 per m3 for each air change per hour.

    Parameters
    ----------
    ach50 : float or array
        Air changes per hour at 50 Pa. [1/h]
    volume : float or array
        Volume behind the hole. [m3]
    air : Air or AirState
        The air that passes.
    discharge_coefficient : float
        0.611 for a sharp hole. [-]

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
    return equivalent_hole_area(rate * volume, PRESSURE_REFERENCE, air, discharge_coefficient)


def hole_area_to_drain(vessel, time, air=CLASSROOM_AIR, hole_mode=None, flat=0.01):
    """Return the area of a sharp hole that lets a vessel go flat in a time: time goes with 1/area.

    Parameters
    ----------
    vessel : Balloon or SealedVessel
        What drains.
    time : float
        Time until it is flat. [s]
    air : Air or AirState
        The air that passes.
    hole_mode : str, optional
        As in `Balloon`.
    flat : float
        What counts as flat, as in `drain`. [-]

    Returns
    -------
    float
        Area of the hole. [m2]

    Examples
    --------
    >>> from airlab.physics import Balloon
    >>> from airlab.words import from_si
    >>> round(from_si(hole_area_to_drain(Balloon(), 60.0), "mm2"), 2)
    4.96
    """
    time = require_positive("time", time, "s")
    area = 1e-3 * vessel.most_hole_area
    modes = None if hole_mode is None else (hole_mode,)
    record = drain(vessel, RoundHole.from_area(area), air, frames=2, flat=flat, hole_modes=modes)
    return float(area * record.time_to_flat / time)


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


def mean_rate_factor(power):
    """Return flow at the start over mean flow: ``1 / (1 - k)`` if ``Q`` goes with volume left ** k.

    Parameters
    ----------
    power : float or array
        k; below 0 where the flow grows as the vessel empties. [-]

    Returns
    -------
    float or array
        Phi; endless from 1 on, where the vessel never empties. [-]

    Examples
    --------
    >>> mean_rate_factor([0.0, 0.5, 1.0]).tolist()
    [1.0, 2.0, inf]
    """
    k = np.asarray(require_finite("power", power), dtype=float)
    return np.where(k < 1.0, 1.0 / np.where(k < 1.0, 1.0 - k, 1.0), np.inf)[()]


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


@dataclass(frozen=True, slots=True)
class EverydayPressure:
    """A pressure as things people know: water [m], air column [m], load [kg/m2], wind [m/s]."""

    pressure_difference: float
    water_height: float
    air_height: float
    load: float
    wind_speed: float

    def sentence(self, units="metric"):
        """Return the pressure in everyday terms."""
        height, load = show(from_si(self.water_height, "mm"), "mm"), show(self.load, digits=2)
        wind = display_unit("m/s", units) if units == "us" else "km/h"
        return (
            f"{show(self.pressure_difference, 'Pa')} is {height} of water, {load} kg on every square "
            f"metre, or the push of a wind of {show(from_si(self.wind_speed, wind), wind)}."
        )


def everyday_pressure(pressure_difference, air=CLASSROOM_AIR):
    """Return a pressure as a height of water and of air, a load, and the wind that makes it.

    Parameters
    ----------
    pressure_difference : float
        Pressure difference. [Pa]
    air : Air or AirState
        The air of the column and the wind.

    Returns
    -------
    EverydayPressure
        Heights, load, wind speed.

    References
    ----------
    [DERIVED] p / (rho g), p / g, sqrt(2 p / rho)

    Examples
    --------
    >>> everyday_pressure(50.0).sentence()
    '50 Pa is 5.11 mm of water, 5.1 kg on every square metre, or the push of a wind of 32.9 km/h.'
    """
    p = require_positive("pressure_difference", pressure_difference, "Pa")
    return EverydayPressure(
        p, p / (_WATER * _GRAVITY), p / (air.density * _GRAVITY), p / _GRAVITY,
        float(np.sqrt(2.0 * p / air.density)),
    )  # fmt: skip
