"""Which way does the air go in a practice house now? Its tables as a network, solved by the engine."""

from dataclasses import dataclass

import numpy as np

from airlab.physics import PowerLawLeak, RoundHole
from airlab.physics.airflow import OUTSIDE, Fan, FlowPath, Hold, Network, Outdoors, Zone, door
from airlab.physics.airflow_state import solve_airflow
from airlab.physics.wind import Face
from airlab.words import m3_per_h

__all__ = ["House50", "Setting", "blow", "house_flow", "house_network", "leak_flows"]

BACKGROUND = 0.6  # 1/h at 50 Pa: what is too fine to be found, spread over the rooms
PULLED_OFF, PRESSED_ON = 1.25, 0.7  # size of gaps in film under suction, under pressure
_CARPET = 0.0005  # m left under a door over a new carpet
_BARE = 4.0  # the gap under the door is so many times the table's while floors are bare
_AZIMUTH = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}
_HOSE = 1.2  # m above the floor of the fan's room


@dataclass(frozen=True, slots=True)
class Setting:
    """How the house stands: fan, doors, what is prepared, what is sealed.

    Parameters
    ----------
    pressure : float
        What the fan holds, inside minus outside; 0 is fan off. [Pa]
    doors : str
        'open' or 'shut', all of them.
    prepared : tuple of str
        Openings that are closed, sealed or filled.
    sealed : tuple of (str, float)
        Sites and what of their flow is left.
    """

    pressure: float = 0.0
    doors: str = "open"
    prepared: tuple[str, ...] = ()
    sealed: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class House50:
    """The solved house and the setting it was solved for."""

    setting: Setting
    airflow: object

    def pressure(self, room, height=_HOSE):
        """Return a room's pressure over outside at a height above the datum. [Pa]."""
        return self.airflow.pressure_difference(room, height)

    def at(self, room):
        """Return a room's pressure as one number, rounded to a tenth. [Pa]."""
        return round(float(self.pressure(room)), 1)

    def fan_size(self, fan_room):
        """Return what the fan moves, as a size. [m3/s]."""
        return abs(float(self.airflow.fan_flow(fan_room)))


def _face(wall, house_to):
    return Face(wall, _AZIMUTH[wall]) if wall in _AZIMUTH and house_to == OUTSIDE else None


def _film(site, pressure):
    """Suction pulls film off the frame behind it, pressure lays it on."""
    if site.first != "film" or site.shape != "slot" or not pressure:
        return 1.0
    return PULLED_OFF if pressure < 0.0 else PRESSED_ON


def house_network(house, hidden, setting, flow=None, wind=False):
    """Return the house as a network of zones and openings.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        What the seed hides in it.
    setting : Setting
        Fan, doors, preparation, seals.
    flow : float or None
        A fan of that fixed flow out of the house, instead of one that holds a pressure. [m3/s]
    wind : bool
        Whether the wind presses on the faces.

    Returns
    -------
    Network
        Sites and links by their names, the untraceable rest of each room as "rest of <room>".
    """
    facts, sealed = house.facts, dict(setting.sealed)
    zones = [
        Zone(r.name, facts.inside if r.temperature is None else r.temperature) for r in house.rooms
    ]
    paths = []
    for room in (r for r in house.rooms if r.kind == "room"):
        share = room.length * room.width * room.height / house.volume
        rest = PowerLawLeak.from_flow(m3_per_h(BACKGROUND * house.volume * share))
        paths.append(
            FlowPath(f"rest of {room.name}", rest, room.name, height=house.level(room.name, "mid"))
        )
    for link in house.links:
        level = house.level(link.room, "mid")
        if link.kind == "gap":
            opening = RoundHole.from_area(link.area)
            paths.append(FlowPath(link.name, opening, link.room, link.to, level,
                                  face=_face(link.wall, link.to) if wind else None))  # fmt: skip
        else:
            state = "open" if link.kind == "open" or setting.doors == "open" else "closed"
            state = "closed" if link.kind == "hatch" else state
            undercut = min(link.undercut, _CARPET) if hidden.carpet else _BARE * link.undercut
            made = door(link.name, link.room, link.to, state, link.width, undercut=undercut,
                        sill=house.room(link.room).floor)  # fmt: skip
            paths.append(FlowPath(link.name, made.opening, link.room, link.to, made.height))
    for name, factor in hidden.gaps:
        site = house.site(name)
        opening = site.opening(factor * _film(site, setting.pressure))
        left = sealed.get(name, 1.0)
        if left > 0.0:
            paths.append(FlowPath(name, opening if left == 1.0 else opening.scaled(left), site.room,
                                  site.to, house.level(site.room, site.height),
                                  face=_face(site.wall, site.to) if wind else None))  # fmt: skip
    for one in house.openings:
        if one.area and one.wanted != "leave" and one.name not in setting.prepared:
            paths.append(FlowPath(one.name, RoundHole.from_area(one.area), one.room, one.to,
                                  house.level(one.room, one.height)))  # fmt: skip
    if flow is not None:
        return Network(zones, paths, fans=(Fan("fan", flow, facts.fan_room, OUTSIDE),))
    holds = (Hold(facts.fan_room, setting.pressure, _HOSE),) if setting.pressure else ()
    return Network(zones, paths, holds=holds)


def blow(house, hidden, setting, winds=None):
    """Return the house solved for a setting, without wind or for a row of winds.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        What is hidden in it.
    setting : Setting
        Fan, doors, preparation, seals.
    winds : array or None
        With winds the fan keeps the flow that holds the pressure in still air. [m/s]

    Returns
    -------
    House50
        Solved state.
    """
    outside, out = house.facts.outside, 0.0
    if winds is None or setting.pressure:
        still = solve_airflow(house_network(house, hidden, setting), Outdoors(outside))
        if winds is None:
            return House50(setting, still)
        out = -float(still.fan_flow(house.facts.fan_room))
    network = house_network(house, hidden, setting, out, wind=True)
    weather = Outdoors(outside, np.asarray(winds, dtype=float), hidden.wind_direction)
    return House50(setting, solve_airflow(network, weather))


def leak_flows(house, hidden, sealed=(), pressure=-50.0):
    """Return the flow through every hidden gap with doors open and everything prepared.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        What is hidden in it.
    sealed : tuple of (str, float)
        Sites and what of their flow is left.
    pressure : float
        What the fan holds. [Pa]

    Returns
    -------
    dict
        Site name to flow, as a size. [m3/s]
    """
    flow = _prepared(house, hidden, sealed, pressure).airflow
    tight = {name for name, left in sealed if left <= 0.0}
    return {n: 0.0 if n in tight else abs(float(flow.through(n))) for n in hidden.names}


def house_flow(house, hidden, sealed=()):
    """Return what the fan moves at 50 Pa of suction, doors open, everything prepared. [m3/s]."""
    return _prepared(house, hidden, sealed, -50.0).fan_size(house.facts.fan_room)


def _prepared(house, hidden, sealed, pressure):
    """Return the house blown with doors open and every opening prepared."""
    ready = tuple(one.name for one in house.openings)
    return blow(house, hidden, Setting(pressure, "open", ready, tuple(sealed)))
