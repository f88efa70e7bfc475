"""What came of a drain: the frames, the times people ask for, and the result in plain words."""

import math
from dataclasses import dataclass, field

import numpy as np

from airlab.physics.vessels import FanHeldVolume, SealedVessel
from airlab.words import display_unit, from_si, show, show_duration

__all__ = ["Drain", "Moment", "Race", "race"]


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
    fan-held house if it were pushed out without mixing. Times are `inf` where it never happens. A
    balloon falls to 5 Pa after it counts as flat; that time is reckoned beyond the last frame.
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


@dataclass(frozen=True, slots=True)
class Race:
    """Two drains side by side: which is flat first, and how much slower the other is."""

    first: Drain
    second: Drain
    names: tuple[str, str] = ("first", "second")

    def times(self, frames):
        """Return evenly spaced times until the last one is flat; a minute if none ever is. [s]."""
        ends = [one.time_to_flat for one in (self.first, self.second) if one.drains]
        return np.linspace(0.0, max(ends, default=60.0), frames)

    @property
    def factor(self):
        """Time of the second over time of the first; 1 if neither drains. [-]."""
        if not (self.first.drains or self.second.drains):
            return 1.0
        return self.second.time_to_flat / self.first.time_to_flat if self.first.drains else 0.0

    @property
    def winner(self):
        """'first', 'second' or 'neither' (within a thousandth)."""
        if abs(self.factor - 1.0) < 1e-3:
            return "neither"
        return "first" if self.factor > 1.0 else "second"

    def sentence(self, units="metric"):
        """Return who is flat first, in plain words."""
        left, right = self.names
        times = [show_duration(one.time_to_flat) for one in (self.first, self.second)]
        if self.winner == "neither":
            return f"Neither wins: {left} {times[0]}, {right} {times[1]}."
        slower = max(self.factor, 1.0 / self.factor if self.factor else math.inf)
        how = f"{show(slower)} times as long" if math.isfinite(slower) else "for ever"
        won, other = self.names if self.winner == "first" else self.names[::-1]
        return (
            f"The {won} is flat before the other: {left} {times[0]}, {right} {times[1]}. "
            f"The {other} takes {how}."
        )

    def why(self):
        """Return what the two differ in, in plain words: holes and air that can leave."""
        holes = self.second.hole_area / self.first.hole_area if self.first.hole_area else math.inf
        air = self.second.expelled / self.first.expelled if self.first.expelled else math.inf
        told = [f"{name} as 1 to {show(ratio)}" for name, ratio in (("holes", holes), ("air", air))
                if math.isfinite(ratio)]  # fmt: skip
        return f"{', '.join(told).capitalize()}." if told else ""


def race(first, second, names=("first", "second")):
    """Return the race of two drains.

    Parameters
    ----------
    first, second : Drain
        Two drains, of any vessels.
    names : tuple of str
        What they are called.

    Returns
    -------
    Race
        Winner and factor.

    Examples
    --------
    >>> from airlab.physics import Balloon, RoundHole, drain
    >>> pair = race(drain(Balloon(), RoundHole(0.002)), drain(Balloon(), RoundHole(0.004)))
    >>> pair.winner, round(pair.factor, 3)
    ('second', 0.25)
    """
    return Race(first, second, names)


def _sentence(record, units):
    vessel, pressure = record.vessel, show(record.vessel.pressure_difference, "Pa")
    if not record.drains:
        return f"No holes: the {vessel.name} never drains. It stays at {pressure}."
    flow = display_unit("m3/s", units)
    at_start = show(from_si(record.flow_at_start, flow), flow)
    clock = show_duration(record.time_to_flat)
    if isinstance(vessel, FanHeldVolume):
        return (
            f"The fan holds {pressure}: {at_start} leaks all the time. That would fill the "
            f"{vessel.name} once in {clock}: {show(record.refills_per_hour)} air changes per hour "
            f"at {pressure}. Air mixes, so after that time 37 % of the old air is still inside."
        )
    if isinstance(vessel, SealedVessel):
        half, left = show_duration(record.half_time), _volume_words(vessel.spare, units)
        to_5 = (
            f" and to 5 Pa in {show_duration(record.time_to_5_pa)}" if record.time_to_5_pa else ""
        )
        return (
            f"The pressure in the {vessel.name} falls from {pressure} to half in {half}{to_5}. "
            f"Only {left} of {_volume_words(vessel.volume, units)} have to leave for it to vanish. "
            "Flat is not empty."
        )
    return (
        f"The {vessel.name} starts with {_volume_words(vessel.volume, units)} at {pressure} and is flat "
        f"in {clock} ({record.flat_definition}). That is the pace of "
        f"{show(record.refills_per_hour)} refills an hour at the balloon's own pressure. At the "
        f"gentler 50 Pa the same holes would manage {show(record.air_change_rate_at_50)} an hour."
    )


def _volume_words(volume, units):
    if units == "us":
        return show(from_si(volume, "ft3"), "ft3")
    unit = "mL" if volume < 1e-3 else "L" if volume < 1.0 else "m3"
    return show(from_si(volume, unit), unit)
