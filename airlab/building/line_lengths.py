"""How long is each junction? From the sizes of walls and rooms where they say it, else as typed.

A wall's length on a storey is its area with its windows and doors, over the height of its rooms.
The perimeter of a storey is the sum over its walls. Frames of windows are typed; their area gives
only what they must at least be.
"""

import math
from dataclasses import dataclass, replace

from airlab.building.line import Junction
from airlab.building.line_elements import OPENING_KINDS_OF_THE_LINE, SIDES, line_elements
from airlab.words import display_unit, from_si, show
from airlab.words.saying import alike

__all__ = ["JunctionLength", "junction_lengths", "with_lengths"]

_AGREE = 0.10  # typed and computed may differ by this share [AIRLAB]


@dataclass(frozen=True, slots=True)
class JunctionLength:
    """The length of one junction.

    Parameters
    ----------
    junction : Junction
        Its row.
    computed : float or None
        Length from the geometry; None where it does not say. [m]
    least : float or None
        For frames: no shorter rectangle holds their areas. [m]
    basis : str
        Where the computed length comes from.
    """

    junction: Junction
    computed: float | None
    least: float | None
    basis: str

    @property
    def typed(self):
        """Length as typed. [m]"""
        return self.junction.length

    @property
    def length(self):
        """Length to reckon with: typed, else computed, else None. [m]"""
        return self.typed if self.typed is not None else self.computed

    @property
    def agrees(self):
        """Whether typed and computed do not contradict each other."""
        if self.typed is None:
            return True
        if self.computed is not None:
            return abs(self.typed - self.computed) <= _AGREE * self.computed
        return self.least is None or self.typed >= (1.0 - _AGREE) * self.least

    def sentence(self, units="metric"):
        """Return the length and where it comes from."""
        unit = display_unit("m", units)

        def said(length):
            return show(from_si(length, unit), unit)

        name = self.junction.junction
        if self.typed is None:
            if self.computed is None:
                return f"{name}: type its length; the sizes do not give it."
            return f"{name}: {said(self.computed)}, from {self.basis}."
        if self.agrees:
            return f"{name}: {said(self.typed)} as typed."
        least = self.computed is None
        held = f"at least {said(self.least)}" if least else said(self.computed)
        return f"{name}: {said(self.typed)} typed, but {self.basis} give{'' if least else 's'} {held}. Look again."


def junction_lengths(rooms, envelope, junctions):
    """Return the length of every junction whose elements are inside the line.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms with their heights.
    envelope : iterable of EnvelopeElement
        Areas; a wall without its windows and doors.
    junctions : iterable of Junction
        Junctions; they also say in which wall a window stands.

    Returns
    -------
    tuple of JunctionLength
        In the order of the rows.

    Notes
    -----
    Walls with a floor or ceiling: length of the wall in the rooms that see both. Walls with the
    edge of a floor: twice that, below and above. Wall with wall: heights of the storeys both stand
    on and of the edge between. A verge under a slope is not given.
    """
    house = _House(rooms, envelope, junctions)
    known = set(house.elements)
    return tuple(
        JunctionLength(joint, *house.length(joint))
        for joint in junctions
        if joint.meets and set(joint.ends) <= known
    )


def with_lengths(rooms, envelope, junctions):
    """Return the junctions, with the length from the geometry where none is typed.

    Parameters
    ----------
    rooms, envelope, junctions : iterable
        As for `junction_lengths`.
    """
    junctions = tuple(junctions)
    if all(joint.length is not None for joint in junctions):
        return junctions
    found = {
        one.junction.junction: round(one.computed, 2)
        for one in junction_lengths(rooms, envelope, junctions)
        if one.computed is not None
    }
    return tuple(
        replace(joint, length=found.get(joint.junction)) if joint.length is None else joint
        for joint in junctions
    )


class _House:
    """Lengths of walls by room, heights, and which wall holds which window."""

    def __init__(self, rooms, envelope, junctions):
        rooms, envelope, junctions = tuple(rooms), tuple(envelope), tuple(junctions)
        self.elements = {alike(one.name): one for one in line_elements(rooms, envelope)}
        self.height_of = {alike(room.name): room.height for room in rooms if room.height}
        self.storey_of = {alike(room.name): room.storey for room in rooms}
        self.areas = {}  # element and room: areas of its rows
        for area in envelope:
            self.areas.setdefault((alike(area.element), alike(area.room)), []).append(area.area_m2)
        hosts = {}
        for joint in junctions:
            for opening, host in (joint.ends, joint.ends[::-1]):
                one = self.elements.get(opening)
                if one and one.kind in OPENING_KINDS_OF_THE_LINE and joint.meets:
                    hosts.setdefault(opening, []).append(host)
        held = {}  # wall and room: area of the windows and doors in it
        for (name, room), sizes in self.areas.items():
            host = next((h for h in hosts.get(name, ()) if (h, room) in self.areas), None)
            if host:
                held[host, room] = held.get((host, room), 0.0) + sum(sizes)
        self.along = {
            (name, room): (sum(sizes) + held.get((name, room), 0.0)) / self.height_of[room]
            for (name, room), sizes in self.areas.items()
            if name in self.elements
            and self.elements[name].kind in SIDES
            and room in self.height_of
        }
        self.heights = {}
        for room, height in self.height_of.items():
            storey = self.storey_of[room]
            self.heights[storey] = max(self.heights.get(storey, 0.0), height)

        edges = [one for one in self.elements.values() if one.kind == "floor edge"]
        around = {}
        for (_, room), long in self.along.items():
            storey = self.storey_of[room]
            around[storey] = around.get(storey, 0.0) + long
        lowest = [(edge.size, around.get(edge.storeys[0], 0.0)) for edge in edges if edge.storeys]
        self.rims = sum(
            size / long for size, long in lowest if long
        )  # m, all edges one over another

    def length(self, joint):
        """Return computed length, least length, basis."""
        ends = sorted((self.elements[end] for end in joint.ends), key=_rank)
        a, b = ends
        others = set(b.rooms) if len(a.rooms) > 1 else b.rooms
        shared = [alike(room) for room in a.rooms if room in others]
        if a.kind in SIDES and b.kind in SIDES:
            return self._corner(a, b)
        if a.kind in SIDES and b.kind in ("floor", "ceiling", "party floor"):
            parts = [self.along.get((alike(a.name), room)) for room in shared]
            if parts and all(parts):
                return sum(parts), None, f"the length of {a.name}"
        if a.kind in SIDES and b.kind == "floor edge":
            parts = [
                long
                for room in map(alike, a.rooms)
                if (long := self.along.get((alike(a.name), room)))
                and self.storey_of[room] in b.storeys[:1]
            ]
            if parts:
                return 2.0 * sum(parts), None, f"the length of {a.name}, below and above"
        if b.kind in OPENING_KINDS_OF_THE_LINE:
            sizes = [s for room in shared for s in self.areas.get((alike(b.name), room), ())]
            least = sum(4.0 * math.sqrt(size) for size in sizes)
            return None, least or None, f"the areas of {b.name}"
        return None, None, ""

    def _corner(self, a, b):
        storeys = [s for s in a.storeys if s in b.storeys and s in self.heights]
        if not storeys or not set(a.rooms) & set(b.rooms):
            return None, None, ""
        tall = sum(self.heights[s] for s in storeys)
        if len(storeys) > 1:
            tall += self.rims
        return tall, None, "the heights of its storeys"


def _rank(element):
    """Walls first, what stands in them last."""
    if element.kind in SIDES:
        return 0
    return 2 if element.kind in OPENING_KINDS_OF_THE_LINE else 1
