"""Why must a fan hold the pressure? The house while it runs, and after it stops and is shut at once."""

import math
from dataclasses import dataclass

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.decay import skin_compliance
from airlab.physics.drain_record import Drain
from airlab.physics.draining import drain
from airlab.physics.vessels import FanHeldVolume, SealedVessel
from airlab.words import display_unit, from_si, mm, show, show_duration, show_range

__all__ = ["FanStop", "fan_stop"]

_COOLS = 1.4  # air that cools as it thins
_SOON = 60.0  # s
_BULGE = mm(5.0)


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

    def half_words(self, digits=2):
        """Return the spread of the half-time, in words."""
        low, high = self.cooling.half_time, self.fan_off.half_time
        if high < _SOON:
            return show_range(low, high, "s", digits)
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
    skin = skin_compliance(film, bulge) if film else 0.0

    def stopped(kappa, skin):
        vessel = SealedVessel(volume, kappa=kappa, skin_compliance=skin, name="house")
        return drain(vessel, leak, air, frames=frames)

    return FanStop(
        drain(FanHeldVolume(volume), leak, air, frames=frames),
        stopped(1.0, skin), stopped(_COOLS, skin), stopped(1.0, 0.0) if skin else None,
    )  # fmt: skip
