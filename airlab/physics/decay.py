"""How long does a house hold its pressure when the fan stops, and how little air must leave?"""

import math
from dataclasses import dataclass

import numpy as np

from airlab.physics.air import CLASSROOM_AIR, STANDARD_PRESSURE
from airlab.physics.drain_record import Drain
from airlab.physics.draining import drain
from airlab.physics.vessels import FanHeldVolume, SealedVessel
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    mm,
    require_between,
    require_positive,
    show,
    show_duration,
    show_range,
    to_si,
)

__all__ = [
    "FanStop",
    "air_storage",
    "fan_stop",
    "pressure_after",
    "pressure_decay_time",
    "pressure_half_time",
    "spare_air",
]

_ALIKE = 1e-6  # closer to 1 than this, an exponent is 1
_COOLS = 1.4  # air that cools as it thins
_SOON = 60.0  # s
_BULGE = mm(5.0)


def air_storage(volume, kappa=1.0, skin_compliance=0.0):
    """Return how much air leaves per pascal: ``V / (kappa P)``, and what the skin gives. [m3/Pa]."""
    require_positive("volume", volume, "m3")
    require_between("kappa", kappa, 1.0, 1.4)
    slip = "It is the volume the skin gives for each pascal, in m³/Pa."
    require_positive("skin_compliance", skin_compliance, "-", slip, allow_zero=True)
    return volume / (kappa * STANDARD_PRESSURE) + skin_compliance


def spare_air(volume, pressure_difference=PRESSURE_REFERENCE, kappa=1.0):
    """Return the air that must leave a stiff vessel for its pressure to vanish: ``V p / (kappa P)``.

    Parameters
    ----------
    volume : float or array
        Volume of the vessel. [m3]
    pressure_difference : float or array
        Pressure at the start. [Pa]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]

    Returns
    -------
    float or array
        Volume of air that leaves. [m3]

    References
    ----------
    [DERIVED] gas law at constant volume

    Examples
    --------
    >>> from airlab.words import from_si
    >>> round(from_si(spare_air(500.0), "L"), 1)
    246.7
    """
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    return air_storage(volume, kappa) * pressure


def pressure_decay_time(ach50, flow_exponent=0.65, start=PRESSURE_REFERENCE, end=5.0, kappa=1.0):
    """Return how long the pressure of a sealed house takes to fall.

    ``t = tau (1 - (end/start)**(1-n)) / (1-n)``, ``tau ln(start/end)`` for n = 1, with
    ``tau = start / (kappa P) / ACH(start)``.

    Parameters
    ----------
    ach50 : float or array
        Air changes per hour at 50 Pa. [1/h]
    flow_exponent : float or array
        Exponent of the leakage. [-]
    start, end : float or array
        Pressure differences; an end of 0 gives the time to nothing, endless for n = 1. [Pa]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]

    Returns
    -------
    float or array
        Time; the size of the house does not matter. [s]

    Raises
    ------
    InputError
        If the end is not below the start, or an argument is out of range.

    References
    ----------
    [DERIVED] gas law at constant volume with a power-law leak

    Examples
    --------
    >>> round(float(pressure_decay_time(3.0, 0.5, end=0.0)), 4)
    1.1843
    """
    rate = to_si(require_positive("air_change_rate", ach50, "1/h"), "1/h")
    n = require_between("flow_exponent", flow_exponent, 0.5, 1.0)
    start = require_positive("start", start, "Pa")
    end = require_positive("end", end, "Pa", allow_zero=True)
    kappa = require_between("kappa", kappa, 1.0, 1.4)
    if np.any(np.greater_equal(end, start)):
        raise InputError("The pressure at the end must be below that at the start.")
    rate = rate * np.power(start / PRESSURE_REFERENCE, n)
    tau = start / (kappa * STANDARD_PRESSURE) / rate
    with np.errstate(divide="ignore", invalid="ignore"):
        fall = np.log(np.asarray(end, dtype=float) / start)
        k = np.asarray(1.0 - np.asarray(n, dtype=float))
        share = np.where(k > 1e-12, -np.expm1(k * fall) / np.where(k > 1e-12, k, 1.0), -fall)
    return (tau * share)[()]


def pressure_after(
    time, start, flow_coefficient, flow_exponent, volume, kappa=1.0, skin_compliance=0.0
):
    """Return the pressure some time after the fan has stopped.

    ``Δp^(1-n) = Δp_0^(1-n) - (1-n) k t``, ``k = C / (V / (kappa P) + S)``; ``exp(-k t)`` for n = 1.

    Parameters
    ----------
    time : float or array
        Since the fan stopped and was covered. [s]
    start : float or array
        Pressure difference at the start. [Pa]
    flow_coefficient : float or array
        Coefficient of the leaks. [m3/(s.Pa^n)]
    flow_exponent : float or array
        Exponent of the leaks. [-]
    volume : float
        Air in the house. [m3]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]
    skin_compliance : float
        Volume the skin gives back for each pascal, in m³/Pa.

    Returns
    -------
    float or array
        Pressure difference; nothing once the spare air is gone. [Pa]

    References
    ----------
    [DERIVED] gas law with a power-law leak

    Examples
    --------
    >>> round(float(pressure_after(0.36445537, 50.0, 0.01966118, 0.65, 300.0)), 5)
    25.0
    """
    t = require_positive("time", time, "s", allow_zero=True)
    p0 = require_positive("start", start, "Pa")
    c = require_positive("flow_coefficient", flow_coefficient, "m3/(s.Pa^n)")
    n = np.asarray(require_between("flow_exponent", flow_exponent, 0.5, 1.0))
    k = c / air_storage(volume, kappa, skin_compliance)
    rest = 1.0 - n
    safe = np.where(rest < _ALIKE, 1.0, rest)
    left = np.maximum(1.0 - safe * k * t / p0**safe, 0.0)
    with np.errstate(divide="ignore"):
        curve = p0 * np.exp(np.log(left) / safe)
    return np.where(rest < _ALIKE, p0 * np.exp(-k * t), curve)[()]


def pressure_half_time(ach50, flow_exponent=0.65, kappa=1.0):
    """Return how long a house at 50 Pa takes to lose half its pressure, fan off and covered.

    About 1.1 s over the air changes per hour at 50 Pa.

    Parameters
    ----------
    ach50 : float or array
        Air changes per hour at 50 Pa. [1/h]
    flow_exponent : float or array
        Exponent of the leakage. [-]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]

    Returns
    -------
    float or array
        Time. [s]

    References
    ----------
    [DERIVED] see `pressure_decay_time`

    Examples
    --------
    >>> round(float(pressure_half_time(3.0)), 5)
    0.36446
    """
    return pressure_decay_time(ach50, flow_exponent, end=0.5 * PRESSURE_REFERENCE, kappa=kappa)


@dataclass(frozen=True, slots=True)
class FanStop:
    """A house while a fan holds 50 Pa, and after the fan has stopped, its opening shut.

    `fan_off` keeps the temperature of the air, `cooling` lets it cool as it thins: the truth lies
    between. `stiff` is the stop without the loose film that the others have; None without film.
    """

    fan_on: Drain
    fan_off: Drain
    cooling: Drain
    stiff: Drain | None = None

    @property
    def ratio(self):
        """Time of one air change over the half-time of the pressure. [-]."""
        return self.fan_on.time_to_flat / self.fan_off.half_time

    def half_words(self):
        """Return the spread of the half-time, in words."""
        low, high = self.cooling.half_time, self.fan_off.half_time
        if high < _SOON:
            return show_range(low, high, "s", 2)
        return f"{show_duration(low)} to {show_duration(high)}" if high < math.inf else "never"

    def sentence(self, units="metric"):
        """Return what holding takes and what stopping does, in plain words."""
        on, off = self.fan_on, self.fan_off
        if not on.drains:
            return "No holes: the pressure stays, and no fan is needed."
        flow, volume = display_unit("m3/s", units), display_unit("m3", units)
        spare = "ft3" if units == "us" else "L"
        told = (
            f"To hold 50 Pa the fan moves {show(from_si(on.flow_at_start, flow), flow)}: "
            f"{show(on.rate_at_start)} air changes per hour at 50 Pa, one in "
            f"{show_duration(on.time_to_flat)}. Without it half of the pressure is gone in "
            f"{self.half_words()}, and 5 Pa are reached in {show_duration(off.time_to_5_pa, 2)}. Only "
            f"{show(from_si(off.vessel.spare, spare), spare)} of "
            f"{show(from_si(on.vessel.volume, volume), volume)} have to leave."
        )
        if off.half_time < _SOON:
            told += (
                f" One air change takes {show(self.ratio, digits=2)} times as long as losing "
                "half of the pressure: so a fan must hold it."
            )
        if self.stiff is not None:
            told += (
                f" Without the loose film half would be gone in "
                f"{show_duration(self.stiff.half_time, 2)}."
            )
        return told


def fan_stop(volume, leak, film=0.0, bulge=_BULGE, air=CLASSROOM_AIR, frames=201):
    """Hold a house at 50 Pa through its leak, then stop the fan and shut its opening at once.

    Parameters
    ----------
    volume : float
        Volume of the house. [m3]
    leak : HoleSet, opening or sequence of openings
        Its whole leakage.
    film : float
        Area of loose film that bulges, 0 for stiff walls. [m2]
    bulge : float
        Its mean bulge at 50 Pa. [m]
    air : Air or AirState
        The air that passes.
    frames : int
        Moments in each record.

    Returns
    -------
    FanStop
        Fan on, fan off with both ends of the spread, and stiff walls for comparison.

    Notes
    -----
    An opening left open behind the fan is a hole itself and shortens the times.

    References
    ----------
    [DERIVED] gas law at constant volume, bulging film added to the storage

    Examples
    --------
    >>> from airlab.physics import PowerLawLeak
    >>> from airlab.words import m3_per_h
    >>> stop = fan_stop(500.0, PowerLawLeak.from_flow(m3_per_h(1500)))
    >>> stop.half_words(), round(stop.ratio)
    ('0.26 to 0.36 s', 3293)
    """
    require_positive("film", film, "m2", allow_zero=True)
    require_positive("bulge", bulge, "m", "If you meant 5 mm, write mm(5).")
    skin = film * bulge / PRESSURE_REFERENCE

    def stopped(kappa, skin):
        vessel = SealedVessel(volume, kappa=kappa, skin_compliance=skin, name="house")
        return drain(vessel, leak, air, frames=frames)

    return FanStop(
        drain(FanHeldVolume(volume), leak, air, frames=frames),
        stopped(1.0, skin), stopped(_COOLS, skin), stopped(1.0, 0.0) if skin else None,
    )  # fmt: skip
