"""What is a practice house? Rooms, ways between them, possible leaks: one record from its tables."""

from collections import Counter
from dataclasses import dataclass
from typing import ClassVar

from airlab.building.rows import RowRecord
from airlab.physics import Crack, RoundHole, Slot
from airlab.physics.airflow import OUTSIDE
from airlab.teaching.practice.fixes import fixes
from airlab.teaching.practice.tables import HAZARDS, HOUSE, LINKS, OPENINGS, ROOMS, SITES
from airlab.words import InputError, Table

__all__ = ["HEIGHTS", "Hazard", "House", "Link", "Opening", "Room", "Site", "make_house"]

HEIGHTS = ("low", "mid", "high")
LEAST_ROOMS, MOST_SITES = 2, 400
_SHARE = {"low": 0.06, "mid": 0.45, "high": 0.94}  # of the height of the room


@dataclass(frozen=True, slots=True)
class Facts(RowRecord):
    """The one row about the whole house."""

    _table: ClassVar[Table] = HOUSE
    _renamed: ClassVar[dict[str, str]] = {
        "house": "name",
        "wind_m_per_s": "wind",
        "wall_mm": "wall",
    }

    name: str
    about: str
    look: str
    section: str
    cut: float
    eaves: float
    ridge: float
    fan_room: str
    inside: float
    outside: float
    wind: float
    wall: float = 0.3
    volume: float | None = None


@dataclass(frozen=True, slots=True)
class Room(RowRecord):
    """A room, a void or a neighbour: a box with its south-west corner, sizes and floor [m]."""

    _table: ClassVar[Table] = ROOMS
    _renamed: ClassVar[dict[str, str]] = {"room": "name"}

    name: str
    kind: str
    x: float
    y: float
    floor: float
    length: float
    width: float
    height: float
    stop: int | None = None
    temperature: float | None = None

    def point(self, wall, along):
        """Return where a place on a wall of the room lies in plan. [m]."""
        across = {"west": 0.0, "east": 1.0}.get(wall, along)
        deep = {"south": 0.0, "north": 1.0, "west": along, "east": along}.get(wall, 0.5)
        return self.x + across * self.length, self.y + deep * self.width


@dataclass(frozen=True, slots=True)
class Link(RowRecord):
    """A door, hatch, stair or gap between two places."""

    _table: ClassVar[Table] = LINKS
    _renamed: ClassVar[dict[str, str]] = {
        "link": "name",
        "width_mm": "width",
        "undercut_mm": "undercut",
    }

    name: str
    room: str
    to: str
    kind: str
    wall: str = "middle"
    along: float = 0.5
    width: float = 0.8
    undercut: float = 0.0
    area: float = 0.005


@dataclass(frozen=True, slots=True)
class Site(RowRecord):
    """A place where a leak, or what looks like one, may be."""

    _table: ClassVar[Table] = SITES
    _renamed: ClassVar[dict[str, str]] = {"site": "name"}

    name: str
    room: str
    wall: str
    along: float
    height: str
    family: str
    element: str
    junction: str
    path: str
    to: str
    access: str
    trade: str
    shape: str
    size: float
    kind: str = "leak"
    length: float = 0.0
    depth: float = 0.0
    first: str = ""
    second: str = ""
    movement: bool = False

    @property
    def where(self):
        """The place in words."""
        side = f"{self.wall} wall" if self.wall in ("north", "east", "south", "west") else self.wall
        return f"{self.room}, {side}, {self.height}"

    def opening(self, factor=1.0):
        """Return the gap as an opening of `factor` times its size; None where no air passes."""
        size = self.size * factor
        if self.shape == "none" or size == 0.0:
            return None
        if self.shape == "hole":
            return RoundHole.from_diameter(size)
        deep = self.depth >= 10.0 * size  # shallower: the walls of the gap do not hold air back
        return Crack(self.length, size, self.depth) if deep else Slot(self.length, size)


@dataclass(frozen=True, slots=True)
class Opening(RowRecord):
    """Something to close, seal or fill before the fan runs."""

    _table: ClassVar[Table] = OPENINGS
    _renamed: ClassVar[dict[str, str]] = {"opening": "name"}

    name: str
    room: str
    found: str
    wanted: str
    why: str
    to: str = OUTSIDE
    area: float = 0.0
    height: str = "mid"


@dataclass(frozen=True, slots=True)
class Hazard(RowRecord):
    """Something looked at before anything runs, on a safe day and on a day that must stop."""

    _table: ClassVar[Table] = HAZARDS
    _renamed: ClassVar[dict[str, str]] = {"hazard": "key"}

    key: str
    safe: str
    stop: str


@dataclass(frozen=True, slots=True)
class House:
    """A practice house; refused with a reason where its tables contradict each other.

    Parameters
    ----------
    facts : Facts
        Name, look, weather, fan.
    rooms, links, sites, openings, hazards : tuple
        Rows of the tables.
    """

    facts: Facts
    rooms: tuple[Room, ...]
    links: tuple[Link, ...]
    sites: tuple[Site, ...]
    openings: tuple[Opening, ...] = ()
    hazards: tuple[Hazard, ...] = ()

    def __post_init__(self):
        names = [room.name for room in self.rooms]
        for what, given in (
            ("room", names),
            ("link", [one.name for one in self.links]),
            ("site", [one.name for one in self.sites]),
            ("opening", [one.name for one in self.openings]),
        ):
            twice = [name for name, times in Counter(given).items() if times > 1]
            if twice:
                raise InputError(f"{self.name}: the {what} {twice[0]!r} stands in the table twice.")
        entered = [room.name for room in self.rooms if room.kind == "room"]
        if len(entered) < LEAST_ROOMS:
            raise InputError(f"{self.name} has {len(entered)} rooms. A hunt needs {LEAST_ROOMS}.")
        if self.facts.fan_room not in entered:
            raise InputError(
                f"{self.name}: the fan stands in {self.facts.fan_room!r}, which is no room."
            )
        for what, table in (("Site", self.sites), ("Link", self.links), ("Opening", self.openings)):
            for one in table:
                self._check_ends(what, one, names)
        if not any(site.kind == "leak" for site in self.sites):
            raise InputError(f"{self.name} has no place where a leak could be. Add rows to sites.")
        if len(self.sites) > MOST_SITES:
            raise InputError(
                f"{self.name} has {len(self.sites)} sites. A hunt takes up to {MOST_SITES}; keep those a "
                "learner could tell apart."
            )
        for site in self.sites:
            if (site.shape == "none") != (site.kind == "cold bridge"):
                raise InputError(
                    f"Site {site.name!r} is a {site.kind} with shape {site.shape!r}. A cold bridge "
                    "has shape none, everything else has a hole or a slot."
                )
            if site.shape == "slot" and not site.length > 0.0:
                raise InputError(f"Site {site.name!r} is a slot without a length.")

    def _check_ends(self, what, one, names):
        if one.room not in names:
            raise InputError(f"{what} {one.name!r} is in room {one.room!r}, which does not exist. "
                             f"Rooms: {', '.join(names)}.")  # fmt: skip
        if one.to not in (*names, OUTSIDE):
            raise InputError(f"{what} {one.name!r} leads to {one.to!r}, which does not exist.")
        if one.to == one.room:
            raise InputError(f"{what} {one.name!r} leads from {one.room!r} to itself.")

    @property
    def name(self):
        """Name of the house."""
        return self.facts.name

    @property
    def walk(self):
        """Names of the rooms in the order of the walk."""
        rooms = [room for room in self.rooms if room.kind == "room" or room.stop is not None]
        return tuple(r.name for r in sorted(rooms, key=lambda r: 999 if r.stop is None else r.stop))

    @property
    def volume(self):
        """Volume of the rooms, or as given. [m3]."""
        boxes = sum(r.length * r.width * r.height for r in self.rooms if r.kind == "room")
        return self.facts.volume or boxes

    def room(self, name):
        """Return the room of that name."""
        return _named(self.rooms, name, "room")

    def site(self, name):
        """Return the site of that name."""
        return _named(self.sites, name, "site")

    def level(self, room, height):
        """Return the height of low, mid or high in a room, above the datum. [m]."""
        one = self.room(room)
        return one.floor + _SHARE[height] * one.height


def _named(rows, name, what):
    found = next((one for one in rows if one.name == name), None)
    if found is None:
        raise InputError(
            f"There is no {what} {name!r}. There are: {', '.join(o.name for o in rows)}."
        )
    return found


def make_house(tables):
    """Return the house of typed rows.

    Parameters
    ----------
    tables : dict
        Table name to its rows (dict of column name to value).

    Returns
    -------
    House
        The house, checked.

    Raises
    ------
    InputError
        If a table is missing or the tables contradict each other.
    """
    facts = tables.get("house", ())
    if len(facts) != 1:
        raise InputError(f"The table house has {len(facts)} rows. It needs one.")
    kinds = {"rooms": Room, "links": Link, "sites": Site, "openings": Opening, "hazards": Hazard}
    parts = {n: tuple(k.from_row(row) for row in tables.get(n, ())) for n, k in kinds.items()}
    house = House(Facts.from_row(facts[0]), **parts)
    for site in house.sites:
        try:
            fixes(site)
        except InputError as error:
            raise InputError(f"Site {site.name!r}: {error}") from None
    return house
