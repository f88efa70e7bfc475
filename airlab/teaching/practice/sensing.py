"""What does a hand, smoke, a probe, a camera, an ear notice of a leak? From its jet or its sink.

Air that comes in is a jet: it leaves the gap at a speed set by the pressure across it and dies away
with distance by the size of the gap. Air that goes out is drawn from all round: a sink, felt only
close by. Whether it is noticed is a chance that grows with speed over the method's threshold. Thresholds,
chances and how much of a wall one look takes in are assumptions.
"""

import math
from dataclasses import dataclass

import numpy as np

from airlab.physics.jets import faded_speed, jet_speed
from airlab.words import InputError, from_si, show

__all__ = ["METHODS", "Method", "Notice", "distant_speed", "jet_speed_in", "notice"]

SUREST = 0.97  # nobody notices everything
LEAST_SIGNAL = 0.4  # of the threshold: below this nothing is noticed
DIFFERENCE = 5.0  # K: below this a camera shows no air
_COLD_POWER = 60.0  # W: an air leak that cools its surroundings this much is seen in half the looks
_HEARD = (0.004, 9.0)  # m3/s and m/s: heard in half the looks
_BAND, _ALONG, _SPREADS = 0.8, 0.35, 0.2  # m of height; share of a slot, of a distance, that helps
_AIR_HEAT = 1206.0  # J/(m3 K)


@dataclass(frozen=True, slots=True)
class Method:
    """A way to look: distance [m] it is led along at, speed [m/s] noticed in half the cases, minutes.

    `swath` is the breadth [m] that one pass along a wall takes in.
    """

    key: str
    name: str
    distance: float
    threshold: float
    swath: float
    minutes: float


METHODS = (
    Method("hand", "back of the hand", 0.10, 0.7, 0.25, 1.0),
    Method("damp hand", "damp hand", 0.05, 0.35, 0.25, 1.5),
    Method("smoke", "smoke", 0.03, 0.08, 0.20, 2.0),
    Method("probe", "air-speed probe", 0.05, 0.10, 0.10, 3.0),
    Method("camera", "thermal camera", 1.5, 0.0, 9.0, 1.0),
    Method("listening", "listening", 1.0, 0.0, 9.0, 0.5),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Notice:
    """What one method can notice of one site.

    Parameters
    ----------
    site : str
        The site.
    method : str
        Key of the method.
    inward : bool
        Whether air comes into the room where one stands.
    gap_speed : float
        Speed in the gap. [m/s]
    speed : float
        Speed where the method passes. [m/s]
    signal : float
        Over the threshold; 1 is noticed in half the looks.
    flow : float
        Flow of the gap now, as a size. [m3/s]
    cover : float
        How often a look through a third of the room's height leads right over it, 0 to 1.
    """

    site: str
    method: str
    inward: bool
    gap_speed: float
    speed: float
    signal: float
    flow: float
    cover: float = 1.0

    @property
    def felt(self):
        """How often it is noticed by someone who passes right over it, 0 to 1."""
        if self.signal < LEAST_SIGNAL:
            return 0.0
        return min(1.0 - 0.5 ** (self.signal**2), SUREST)

    @property
    def chance(self):
        """How often one look through the room notices it, 0 to 1."""
        return self.cover * self.felt

    @property
    def words(self):
        """What a person notices, in words."""
        grade = "faint" if self.signal < 1.5 else "clear" if self.signal < 4.0 else "strong"
        if self.method == "camera":
            return f"{grade} cold {'feather' if self.flow and self.signal > 2.5 else 'patch'}"
        if self.method == "listening":
            return "whistle" if self.gap_speed > 7.0 else "rush of air"
        if self.method == "probe":
            return f"{show(self.speed, 'm/s', 2)} at {show(from_si(0.05, 'cm'), 'cm')}"
        if self.method == "smoke":
            return f"smoke is {'blown back' if self.inward else 'drawn in'}, {grade}"
        return f"{grade} {'jet' if self.inward else 'pull'}"


def jet_speed_in(opening, pressure, flow):
    """Return the speed in a gap: flow over the jet's area, at most that of a free jet.

    Parameters
    ----------
    opening : Opening
        The gap.
    pressure : float
        Pressure across it, as a size. [Pa]
    flow : float
        Flow through it, as a size. [m3/s]

    Returns
    -------
    float
        Speed; it hangs on the pressure, not on the size of the gap. [m/s]
    """
    area = float(np.pi / (np.pi + 2.0) * opening.area)
    return min(flow / area, float(jet_speed(pressure)))


def distant_speed(site, factor, inward, gap_speed, flow, distance):
    """Return the speed that a leak makes at a distance from it.

    A jet fades as in `faded_speed`; ``sink: v = Q / (2 pi x**2 + pi x L)``

    Parameters
    ----------
    site : Site
        Shape and size of the gap.
    factor : float
        Its size today over the table's.
    inward : bool
        Jet or sink.
    gap_speed : float
        Speed in the gap. [m/s]
    flow : float
        Flow. [m3/s]
    distance : float
        From the gap. [m]

    Returns
    -------
    float
        Speed. [m/s]

    Notes
    -----
    Behind a slot shorter than the distance the jet is round.

    References
    ----------
    [RAJARATNAM1976] decay of round and plane jets
    """
    size = site.size * factor
    if not inward:
        return flow / (2.0 * math.pi * distance**2 + math.pi * distance * site.length)
    if site.shape == "hole":
        return float(faded_speed(gap_speed, size, distance, plane=False))
    round_as = min(math.sqrt(4.0 * size * site.length / math.pi), 1.0)
    return float(min(
        faded_speed(gap_speed, size, distance),
        faded_speed(gap_speed, round_as, distance, plane=False),
    ))  # fmt: skip


def notice(house, hidden, solved, name, room, method):
    """Return what a method can notice of a site from a room.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        What is hidden in it.
    solved : House50
        How the air goes now.
    name : str
        The site.
    room : str
        Where one stands.
    method : str
        Key of one of `METHODS`.

    Returns
    -------
    Notice
        Speed, signal, flow.
    """
    way = next((one for one in METHODS if one.key == method), None)
    if way is None:
        raise InputError(
            f"Method is {method!r}. Choose one of: {', '.join(m.key for m in METHODS)}."
        )
    site, facts = house.site(name), house.facts
    if site.kind == "cold bridge":
        colder = abs(facts.inside - facts.outside)
        seen = 2.0 if method == "camera" and colder >= DIFFERENCE else 0.0
        return Notice(name, method, False, 0.0, 0.0, seen, 0.0)
    index = [path.name for path in solved.airflow.network.paths]
    if name not in index:  # sealed tight
        return Notice(name, method, False, 0.0, 0.0, 0.0, 0.0)
    at = index.index(name)
    path = solved.airflow.network.paths[at]
    pressure = float(solved.airflow.path_pressure[at])
    flow = abs(float(solved.airflow.path_flow[at]))
    inward = (pressure < 0.0) == (room == site.room)
    factor = dict(hidden.gaps)[name]
    gap = jet_speed_in(path.opening, abs(pressure), flow)
    speed = distant_speed(site, factor, inward, gap, flow, way.distance)
    if method == "camera":
        there = site.to if room == site.room else site.room
        colder = abs(_temperature(house, there) - _temperature(house, room))
        cooling = flow * _AIR_HEAT * colder
        signal = math.sqrt(cooling / _COLD_POWER) if inward and colder >= DIFFERENCE else 0.0
    elif method == "listening":
        signal = flow / _HEARD[0] * (gap / _HEARD[1]) ** 2
    else:
        signal = speed / way.threshold
    cover = min(1.0, (way.swath + _ALONG * site.length + _SPREADS * way.distance) / _BAND)
    return Notice(name, method, inward, gap, speed, signal, flow, cover)


def _temperature(house, place):
    found = next((room for room in house.rooms if room.name == place), None)
    if found is None:
        return house.facts.outside
    return house.facts.inside if found.temperature is None else found.temperature
