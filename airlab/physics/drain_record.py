"""What came of a drain: the frames, the times people ask for, and the result in plain words."""

import math
from dataclasses import dataclass, field

import numpy as np

from airlab.physics.vessels import FanHeldVolume, SealedVessel
from airlab.words import display_unit, from_si, show, show_duration

__all__ = ["Drain", "Moment"]


@dataclass(frozen=True, slots=True)
class Moment:
    """One moment of a drain: time [s], pressure [Pa], volume left [m3], flow [m3/s], jet [m/s]."""

    time: float
    pressure_difference: float
    volume: float
    flow: float
    jet_speed: float


@dataclass(frozen=True, slots=True)
class Drain:
    """A vessel that drains through its openings, frame by frame, with the times people ask for.

    `time`, `pressure_difference`, `volume`, `flow`, `jet_speed` are arrays of one length. The
    volume is what is left: the whole balloon; the spare air of a sealed vessel; the old air of a
    fan-held house if it were pushed out without mixing. Times are `inf` where it never happens.
    Rates per hour are None in the sealed vessel: there they would mean nothing.
    """

    vessel: object
    openings: tuple
    air: object
    time: np.ndarray = field(repr=False)
    pressure_difference: np.ndarray = field(repr=False)
    volume: np.ndarray = field(repr=False)
    flow: np.ndarray = field(repr=False)
    jet_speed: np.ndarray = field(repr=False)
    flat_definition: str
    time_to_flat: float
    half_time: float
    time_to_5_pa: float | None
    expelled: float
    flow_at_start: float
    phi: float
    refills_per_hour: float | None
    rate_at_start: float | None
    flow_exponent: float | None
    pressure_factor: float | None
    air_change_rate_at_50: float | None
    hole_area: float
    warnings: tuple[str, ...]

    @property
    def drains(self):
        """Whether any air leaves at all."""
        return math.isfinite(self.time_to_flat)

    @property
    def chips(self):
        """The chain to 50 Pa: refills per hour, start over mean, pressure factor; None in a jar."""
        if self.refills_per_hour is None or not self.drains:
            return None
        return (self.refills_per_hour, self.phi, self.pressure_factor)

    @property
    def diameter(self):
        """Diameter of a ball of the volume that is left, frame by frame. [m]."""
        return np.cbrt(6.0 * self.volume / np.pi)

    def at(self, time):
        """Return the state at a time; before the start and after the end it stands still.

        Parameters
        ----------
        time : float
            Seconds since the hole was opened. [s]

        Returns
        -------
        Moment
            Pressure, volume left, flow and jet speed.
        """
        t = float(np.clip(time, self.time[0], self.time[-1]))
        volume = float(_hermite(t, self.time, self.volume, -self.flow))
        others = (self.pressure_difference, self.flow, self.jet_speed)
        pressure, flow, jet = (float(np.interp(t, self.time, one)) for one in others)
        return Moment(float(time), pressure, volume, flow, jet)

    def chain_sentence(self):
        """Return the way from the clock to 50 Pa in plain words; empty where it has no meaning."""
        if self.chips is None:
            return ""
        refills, phi, factor = (show(chip) for chip in self.chips)
        return (
            f"{refills} refills an hour × {phi} (start over mean) × {factor} (from "
            f"{show(self.vessel.pressure_difference, 'Pa')} to 50 Pa) = "
            f"{show(self.air_change_rate_at_50)} air changes per hour at 50 Pa."
        )

    def sentence(self, units="metric"):
        """Return the result in plain words; `units` is 'metric' or 'us'."""
        return _sentence(self, units)


def _hermite(t, times, values, slopes):
    """Cubic between frames through values and slopes."""
    k = np.clip(np.searchsorted(times, t, side="right") - 1, 0, len(times) - 2)
    h = times[k + 1] - times[k]
    if h <= 0.0:
        return values[k]
    u = (t - times[k]) / h
    rise = values[k + 1] - values[k]
    a, b = slopes[k] * h - rise, rise - slopes[k + 1] * h
    return values[k] + u * rise + u * (1 - u) * ((1 - u) * a + u * b)


def _sentence(record, units):
    vessel, pressure = record.vessel, show(record.vessel.pressure_difference, "Pa")
    if not record.drains:
        return f"No holes: the {vessel.name} never drains. It stays at {pressure}."
    flow = display_unit("m3/s", units)
    at_start = show(from_si(record.flow_at_start, flow), flow)
    clock = show_duration(record.time_to_flat)
    if isinstance(vessel, FanHeldVolume):
        return (
            f"The fan holds {pressure}: {at_start} leaks all the time. That would fill the house "
            f"once in {clock}: {show(record.refills_per_hour)} air changes per hour at {pressure}. "
            "Air mixes, so after that time 37 % of the old air is still inside."
        )
    if isinstance(vessel, SealedVessel):
        half, to_5 = show_duration(record.half_time), show_duration(record.time_to_5_pa)
        left = _volume_words(record.expelled, units)
        return (
            f"The pressure falls from {pressure} to half in {half} and to 5 Pa in {to_5}. "
            f"Only {left} of {_volume_words(vessel.volume, units)} had to leave. "
            "Flat is not empty."
        )
    return (
        f"The balloon starts with {_volume_words(vessel.volume, units)} at {pressure} and is flat "
        f"in {clock} ({record.flat_definition}). That is the pace of "
        f"{show(record.refills_per_hour)} refills an hour at the balloon's own pressure. At the "
        f"gentler 50 Pa the same holes would manage {show(record.air_change_rate_at_50)} an hour."
    )


def _volume_words(volume, units):
    if units == "us":
        return show(from_si(volume, "ft3"), "ft3")
    unit = "mL" if volume < 1e-3 else "L" if volume < 1.0 else "m3"
    return show(from_si(volume, unit), unit)
