"""What does the gauge show? A pressure that wanders with the wind, by hose, sign and averaging."""

from dataclasses import dataclass
from random import Random

import numpy as np

from airlab.leak_check.tables import Reading
from airlab.teaching.practice.air import Setting, blow
from airlab.words import display_unit, from_si, show

__all__ = ["AVERAGES", "HOSES", "GaugeReading", "gusts", "read_gauge"]

AVERAGES = (5, 30, 60)  # s
HOSES = {
    "sheltered": "low on the sheltered side, end out of the wind and off the fan's stream",
    "in the wind": "on the wall where the wind blows",
    "swapped": "hoses swapped: outside hose on the inside port",
}
_TAP = {"sheltered": 0.0, "in the wind": 0.6, "swapped": 0.0}
_STEP = 5  # s between the blocks of a minute
_GUSTINESS, _KEPT = 0.45, 0.55  # spread over the mean; share of a gust that is left a block later
_FLOW_SPREAD = 0.007  # of one reading of the fan


@dataclass(frozen=True, slots=True)
class GaugeReading:
    """A reading of pressure and flow.

    Parameters
    ----------
    pressure : float
        As shown, averaged. [Pa]
    wander : float
        Spread of single five-second readings. [Pa]
    zero : float
        Shown with the fan covered, averaged. [Pa]
    flow : float
        Flow of the fan as shown. [m3/s]
    seconds : int
        Averaged over.
    direction : str
        The way the fan blows.
    trace : tuple of float
        The minute in blocks of five seconds. [Pa]
    """

    pressure: float
    wander: float
    zero: float
    flow: float
    seconds: int
    direction: str
    trace: tuple[float, ...]

    def sentence(self, units="metric"):
        """Return the reading in words."""
        unit = display_unit("m3/s", units)
        return (
            f"{show(self.pressure, 'Pa')} on the gauge over {self.seconds} s; single readings wander by "
            f"about {show(self.wander, 'Pa', 2)}. Zero {show(self.zero, 'Pa', 2)}. The fan moves "
            f"{show(from_si(self.flow, unit), unit)}."
        )

    def as_reading(self, name):
        """Return it as a row of the leak check, to be compared with another."""
        flipped = 1.0 if (self.pressure < 0.0) == (self.direction == "depressurise") else -1.0
        zero = flipped * self.zero
        return Reading(name, abs(self.pressure), self.flow, self.direction, zero_before=zero,
                       zero_after=zero, aperture="one")  # fmt: skip


def gusts(hidden, count):
    """Return a minute of wind in blocks of five seconds; the same for the same seed and count."""
    draw = Random(f"{hidden.seed}|gusts|{count}")
    made, now = [], 0.0
    for _ in range(60 // _STEP):
        now = _KEPT * now + (1.0 - _KEPT**2) ** 0.5 * draw.gauss(0.0, 1.0)
        made.append(max(hidden.wind * (1.0 + _GUSTINESS * now), 0.0))
    return np.array(made)


def read_gauge(house, hidden, setting, seconds=30, hose="sheltered", count=0, drift=0.0):
    """Return what the gauge shows while the fan keeps its speed and the wind blows.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        What is hidden in it, its wind too.
    setting : Setting
        How the house stands; its pressure is what the fan was set for.
    seconds : int
        Averaging time: 5, 30 or 60. [s]
    hose : str
        One of `HOSES`.
    count : int
        Number of the reading: other gusts each time.
    drift : float
        What the gauge shows too much. [Pa]

    Returns
    -------
    GaugeReading
        Averaged and as it wandered.
    """
    fan_room, blocks = house.facts.fan_room, seconds // _STEP
    sign = -1.0 if hose == "swapped" else 1.0

    def shown(solved):
        return sign * solved.airflow.pressure_difference(fan_room, 1.2, _TAP[hose]) + drift

    running = blow(house, hidden, setting, gusts(hidden, count))
    trace = shown(running)
    off = Setting(0.0, setting.doors, setting.prepared, setting.sealed)
    zero = shown(blow(house, hidden, off, gusts(hidden, f"{count} zero")))
    flow = abs(float(running.airflow.fan_flow("fan")[0]))
    flow *= 1.0 + _FLOW_SPREAD * Random(f"{hidden.seed}|flow|{count}").gauss(0.0, 1.0)
    direction = "depressurise" if setting.pressure < 0.0 else "pressurise"
    return GaugeReading(float(trace[-blocks:].mean()), float(trace.std()), float(zero[-blocks:].mean()),
                        flow, seconds, direction, tuple(float(p) for p in trace))  # fmt: skip
