"""Which way does the air go through a house, and how much?

Zones are joined by openings to each other and to outside. Fans, wind and the weight of warm and
cold air push; the pressures settle so that as much air leaves every zone as enters it, by mass.
A case may be one state of the house, or an array of states solved together.

Heights are above one common datum, the lowest floor. Pressures are over outside air at the same
height without wind. A doorway passes air one way at a time here; the two-way exchange through an
open door between a warm and a cold room is left out.
"""

from collections import Counter
from dataclasses import dataclass

from airlab.physics.air import STANDARD_PRESSURE, moist_air_density
from airlab.physics.combined import Parallel
from airlab.physics.openings import Opening, PowerLawLeak, Slot
from airlab.physics.wind import Face
from airlab.words import InputError, m3_per_h, require_between, require_choice, require_finite

__all__ = [
    "DOOR_STATES",
    "GRAVITY",
    "OUTSIDE",
    "Fan",
    "FlowPath",
    "Hold",
    "Network",
    "Outdoors",
    "Zone",
    "door",
    "stack_pressure",
]

OUTSIDE = "outside"
GRAVITY = 9.81  # m/s2
DOOR_STATES = ("open", "ajar", "closed")
_CLOSED_DOOR = 4.31  # m3/h per metre of crack at 50 Pa: 0.9 cm2 of effective area per metre


def stack_pressure(height, inside_temperature, outside_temperature, pressure=STANDARD_PRESSURE):
    """Return the pressure that a column of warm air gains on cold air: ``p = (rho_o - rho_i) g h``.

    Parameters
    ----------
    height : float or array
        Height of the column. [m]
    inside_temperature, outside_temperature : float or array
        Air temperatures. [C]
    pressure : float
        Absolute pressure. [Pa]

    Returns
    -------
    float or array
        Pressure over the whole height; half of it at each end if the leaks are even. [Pa]

    Examples
    --------
    >>> round(float(stack_pressure(5.0, 20.0, 0.0)), 2)
    4.32
    """
    height = require_finite("height", height, "m")
    out, inside = (
        moist_air_density(t, pressure) for t in (outside_temperature, inside_temperature)
    )
    return (out - inside) * GRAVITY * height


@dataclass(frozen=True, slots=True)
class Outdoors:
    """The weather: temperature [C], wind [m/s] at eaves height from a direction [deg], pressure [Pa]."""

    temperature: float = 10.0
    wind_speed: float = 0.0
    wind_direction: float = 0.0
    pressure: float = STANDARD_PRESSURE
    relative_humidity: float = 0.0


@dataclass(frozen=True, slots=True)
class Zone:
    """A room, a flat, a void: one body of air with one temperature [C]."""

    name: str
    temperature: float = 20.0
    relative_humidity: float = 0.0


@dataclass(frozen=True, slots=True)
class FlowPath:
    """An opening that joins a zone to outside or to another zone, at a height [m].

    Flow is positive from the zone to the other side. Wind presses on an outside path by its face,
    or by a plain pressure coefficient.
    """

    name: str
    opening: Opening
    zone: str
    to: str = OUTSIDE
    height: float = 0.0
    face: Face | None = None
    pressure_coefficient: float = 0.0

    def __post_init__(self):
        if not isinstance(self.opening, Opening):
            raise InputError(f"Path {self.name!r}: {self.opening!r} is not an opening.")
        require_between("height", self.height, -20.0, 200.0, "m", "Type metres.")
        require_finite("pressure_coefficient", self.pressure_coefficient)


@dataclass(frozen=True, slots=True)
class Fan:
    """A fan that moves air from one place into another: a fixed flow [m3/s] or a `FanCurve`.

    A supply fan has ``source="outside"``; an extract fan has ``target="outside"``.
    """

    name: str
    flow: object
    source: str = OUTSIDE
    target: str = OUTSIDE
    height: float = 0.0

    def __post_init__(self):
        if not hasattr(self.flow, "flow"):
            require_finite("flow", self.flow, "m3/s", "If you have m³/h, write m3_per_h(...).")
        if self.source == self.target:
            raise InputError(f"Fan {self.name!r} takes air from where it blows to: {self.source}.")


@dataclass(frozen=True, slots=True)
class Hold:
    """A fan to outside that holds a zone at a pressure difference [Pa], read at a height [m].

    The outside tap may stand in the wind: then it has a pressure coefficient of its own.
    """

    zone: str
    pressure_difference: float = 50.0
    height: float = 0.0
    tap_coefficient: float = 0.0

    def __post_init__(self):
        require_between("pressure_difference", self.pressure_difference, -500.0, 500.0, "Pa")


def door(name, zone, to, state="closed", width=0.8, height=2.0, undercut=0.0, ajar=0.1, sill=0.0):
    """Return the path of a door or hatch that is open, ajar or closed.

    Closed, it leaks round its edge (4.31 m3/h at 50 Pa per metre, n 0.65) and under its leaf.

    Parameters
    ----------
    name, zone, to : str
        Name of the door and the two places it joins.
    state : str
        One of `DOOR_STATES`.
    width : float
        Width of the leaf. [m]
    height : float
        Height of the leaf. [m]
    undercut : float
        Gap under the closed leaf. [m]
    ajar : float
        Gap at the edge of the leaf that stands ajar. [m]
    sill : float
        Height of the door's foot above the datum. [m]

    Returns
    -------
    FlowPath
        Stands at mid-height of the door.

    Raises
    ------
    InputError
        If the state is unknown or a size is out of range.

    References
    ----------
    [NISTIR6585] closet-door crack, typical

    Examples
    --------
    >>> door("stairs", "hall", "landing", "open").opening.area
    np.float64(1.6)
    """
    require_choice("state", state, DOOR_STATES)
    require_between("width", width, 0.1, 1.0, "m", "Type metres.")
    if state == "closed":
        edge = PowerLawLeak.from_flow(m3_per_h(_CLOSED_DOOR * 2.0 * (width + height)))
        opening = Parallel((edge, Slot(width, undercut))) if undercut else edge
    else:
        opening = Slot(height, width if state == "open" else ajar)
    return FlowPath(f"{name} ({state})", opening, zone, to, sill + 0.5 * height)


@dataclass(frozen=True, slots=True)
class Network:
    """The house as zones, paths, fans and holds; refused if air cannot balance in it.

    Examples
    --------
    >>> from airlab.physics.openings import PowerLawLeak
    >>> leak = PowerLawLeak.from_flow(0.25)
    >>> Network([Zone("hall"), Zone("loft")], [FlowPath("leak", leak, "hall")])
    Traceback (most recent call last):
        ...
    airlab.words.errors.InputError: Zone 'loft' is joined to nothing. Add an opening to outside or to another zone.
    """

    zones: tuple
    paths: tuple
    fans: tuple = ()
    holds: tuple = ()

    def __post_init__(self):
        for field in ("zones", "paths", "fans", "holds"):
            object.__setattr__(self, field, tuple(getattr(self, field)))
        names = [zone.name for zone in self.zones]
        if not names:
            raise InputError("The network has no zone.")
        for kind, given in (
            ("zone", names),
            ("path", [path.name for path in self.paths]),
            ("fan", [fan.name for fan in self.fans]),
            ("held zone", [hold.zone for hold in self.holds]),
        ):
            twice = [name for name, times in Counter(given).items() if times > 1]
            if twice:
                raise InputError(f"The {kind} name {twice[0]!r} is used more than once.")
        if OUTSIDE in names:
            raise InputError(f"{OUTSIDE!r} is the name of the outdoors; a zone cannot have it.")
        known = {*names, OUTSIDE}
        for path in self.paths:
            _check_ends(f"Path {path.name!r}", path.zone, path.to, known)
            if path.zone == OUTSIDE:
                raise InputError(f"Path {path.name!r} starts outside. Start it in the zone.")
        for fan in self.fans:
            _check_ends(f"Fan {fan.name!r}", fan.source, fan.target, known)
        for hold in self.holds:
            if hold.zone not in names:
                raise InputError(f"Hold: there is no zone {hold.zone!r}. Zones: {_list(names)}.")
        self._check_way_out(names)

    def _check_way_out(self, names):
        """Every zone must reach outside, or a held zone, through openings; fans do not count."""
        if not self.paths:
            raise InputError("The network has no opening. Air that a fan moves must find a leak.")
        joined = {name: set() for name in (*names, OUTSIDE)}
        for path in self.paths:
            joined[path.zone].add(path.to)
            joined[path.to].add(path.zone)
        reached, edge = set(), [OUTSIDE, *(hold.zone for hold in self.holds)]
        while edge:
            place = edge.pop()
            if place not in reached:
                reached.add(place)
                edge.extend(joined[place])
        lost = [name for name in names if name not in reached]
        if lost:
            fan = next((f.name for f in self.fans if {f.source, f.target} & set(lost)), None)
            alone = [name for name in lost if not joined[name]]
            what = (
                f"Zone {_list(alone)} is joined to nothing"
                if alone
                else (f"Zones {_list(lost)} are joined to each other only and have no way out")
            )
            also = f" Fan {fan!r} would have no opening to blow through." if fan else ""
            raise InputError(f"{what}. Add an opening to outside or to another zone.{also}")


def _list(names):
    return ", ".join(repr(name) for name in names)


def _check_ends(what, first, second, known):
    for end in (first, second):
        if end not in known:
            raise InputError(f"{what}: there is no zone {end!r}. Known: {_list(sorted(known))}.")
    if first == second:
        raise InputError(f"{what} joins {first!r} to itself.")
