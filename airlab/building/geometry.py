"""How big is the house: how much air, how much envelope, how much floor?"""

import math
from dataclasses import dataclass

from airlab.building.counting import COUNTING_RULES, CountingRule, counting_rule
from airlab.words import InputError, display_unit, from_si, require_between, require_positive, show
from airlab.words.saying import alike, listed

__all__ = ["Geometry", "Storey", "geometry"]


@dataclass(frozen=True, slots=True)
class Storey:
    """What the rooms of one storey add up to."""

    name: str
    floor_area: float
    volume: float
    rooms: tuple[str, ...]

    @property
    def mean_height(self):
        """Volume over floor area; None for a storey without floor. [m]"""
        return self.volume / self.floor_area if self.floor_area else None


# Shape number A / V^(2/3): a sphere has the least, a cube the least of all boxes.
_SPHERE = (36.0 * math.pi) ** (1.0 / 3.0)
_CUBE = 6.0
_STRAGGLING = 12.0  # a box of 40 × 4 × 2.4 m has 11.1
_ASKED = ("garage", "porch", "plant room", "loft", "crawl", "cellar", "conservatory")
_ABSURD = 25.0  # a plate 44 times as long as it is thick


@dataclass(frozen=True, slots=True)
class Geometry:
    """The sizes every indicator is divided by, and how they were counted.

    Parameters
    ----------
    internal_volume : float
        Air volume inside the tested zone. [m3]
    envelope_area : float or None
        Envelope area as counted by the rule; None if not entered. [m2]
    floor_area : float or None
        Net floor area; None if not entered. [m2]
    lowest_floor_area : float or None
        Lowest floor's part of the envelope, counted or not; None if not known. [m2]
    party_area : float or None
        Part with a neighbour on the other side, counted or not; None is taken as none. [m2]
    building_height : float or None
        Height of the topmost ceiling above the lowest floor. [m]
    rule : CountingRule
        What `envelope_area` counts.
    storeys, rooms_in, rooms_out : tuple
        Storey sums; names of rooms counted; (name, why) of rooms left out.
    warnings, assumptions : tuple of str
        What looks odd; what was assumed and not measured.

    Raises
    ------
    InputError
        If a size is not above zero, the envelope is too small to hold the volume or absurdly
        large for it, or the floor area leaves less than 1.5 m of height.

    References
    ----------
    [ISO9972] 6.1, from memory; [TIGHTVENT].

    Examples
    --------
    >>> house = Geometry(353.5, 311.7, 131.6, lowest_floor_area=70.0)
    >>> round(house.mean_height, 2)
    2.69
    """

    internal_volume: float
    envelope_area: float | None = None
    floor_area: float | None = None
    lowest_floor_area: float | None = None
    party_area: float | None = None
    building_height: float | None = None
    rule: CountingRule = COUNTING_RULES[0]
    storeys: tuple[Storey, ...] = ()
    rooms_in: tuple[str, ...] = ()
    rooms_out: tuple[tuple[str, str], ...] = ()
    warnings: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()

    def __post_init__(self):
        require_positive("internal_volume", self.internal_volume, "m3")
        for name in ("envelope_area", "floor_area"):
            if getattr(self, name) is not None:
                require_positive(name, getattr(self, name), "m2")
        for name in ("lowest_floor_area", "party_area"):
            if getattr(self, name) is not None:
                require_positive(name, getattr(self, name), "m2", allow_zero=True)
        if self.building_height is not None:
            require_between("building_height", self.building_height, 1.0, 500.0, "m")
        if self.floor_area is not None and self.mean_height < 1.5 * (1.0 - 1e-9):
            raise InputError(
                f"Floor area is {show(self.floor_area, 'm2')} and volume is "
                f"{show(self.internal_volume, 'm3')}. That leaves a mean height of "
                f"{show(self.mean_height, 'm')}. At least 1.5 m is needed. "
                "Look for a room entered twice, or an area in another unit."
            )
        self._check_shape()

    def _check_shape(self):
        if self.envelope_area is None:
            return
        whole = self.whole_envelope_area
        shape = whole / self.internal_volume ** (2.0 / 3.0)
        if shape < _SPHERE * (1.0 - 1e-9):
            least = _SPHERE * self.internal_volume ** (2.0 / 3.0)
            raise InputError(
                f"Envelope area is {show(whole, 'm2', 4)} for {show(self.internal_volume, 'm3', 4)}. "
                f"That is impossible: even a sphere of that volume has {show(least, 'm2', 4)}. "
                "Look for a missing wall, floor or roof."
            )
        if shape > _ABSURD:
            most = _ABSURD * self.internal_volume ** (2.0 / 3.0)
            raise InputError(
                f"Envelope area is {show(whole, 'm2')} for {show(self.internal_volume, 'm3')}. "
                f"No house is that thin: at most {show(most, 'm2')} is taken. "
                "If the areas are in square feet, 10.8 ft² is 1 m²."
            )

    @property
    def whole_envelope_area(self):
        """Envelope with everything counted, as far as it is known. [m2]"""
        area = self.envelope_area
        if area is None:
            return None
        if not self.rule.party:
            area += self.party_area or 0.0
        if not self.rule.lowest_floor:
            area += self.lowest_floor_area or 0.0
        return area

    @property
    def mean_height(self):
        """Volume over floor area; None without a floor area. [m]"""
        return None if self.floor_area is None else self.internal_volume / self.floor_area

    def size(self, basis):
        """Return what an indicator is divided by, in SI units.

        Parameters
        ----------
        basis : str
            "volume", "floor", "envelope", "heat-loss area", "heat-loss area without lowest floor",
            or "" for 1.

        Raises
        ------
        InputError
            If that size was not entered; the message says which.
        """
        if not basis:
            return 1.0
        if basis == "volume":
            return self.internal_volume
        needed = {"floor": ("floor area", self.floor_area),
                  "envelope": ("envelope area", self.envelope_area),
                  "height": ("building height", self.building_height)}  # fmt: skip
        if basis in needed:
            word, value = needed[basis]
            if value is None:
                raise InputError(f"This needs the {word}, which was not entered.")
            return value
        if self.envelope_area is None:
            raise InputError("This needs the envelope area, which was not entered.")
        rule = counting_rule(basis)
        area = self.whole_envelope_area
        if not rule.party:
            area -= self.party_area or 0.0
        if not rule.lowest_floor:
            if self.lowest_floor_area is None:
                raise InputError("This needs the area of the lowest floor, which was not entered.")
            area -= self.lowest_floor_area
        return require_positive(basis.replace("-", " "), area, "m2")

    def sentence(self, units="metric"):
        """Return the sizes in words."""

        def said(value, unit):
            shown = display_unit(unit, units)
            return show(from_si(value, shown), shown)

        parts = [f"Inside the line there are {said(self.internal_volume, 'm3')} of air"]
        if self.floor_area is not None:
            parts.append(f"{said(self.floor_area, 'm2')} of floor")
        if self.envelope_area is not None:
            parts.append(f"{said(self.envelope_area, 'm2')} of envelope ({self.rule.name})")
        text = listed(parts) + "."
        if self.mean_height is not None:
            text += f" Mean height {said(self.mean_height, 'm')}."
        if self.rooms_out:
            names = ", ".join(name + (f" ({why})" if why else "") for name, why in self.rooms_out)
            text += f" Left out: {names}."
        for note in self.assumptions:
            text += f" {note}"
        return text


def _no_duplicates(what, names):
    seen = {}
    for number, name in enumerate(names, start=1):
        first = seen.setdefault(alike(name), number)
        if first != number:
            raise InputError(
                f"{what} {name!r} stands in the table twice, as entry {first} and entry {number}. "
                "Give each its own name, or delete one."
            )


def geometry(rooms, envelope=(), rule=COUNTING_RULES[0], building_height=None):
    """Return the geometry of a house from its rooms and the areas of its envelope.

    ``V = Σ L·W·H``, ``A_F = Σ L·W``, ``A_E = Σ A`` over what is included.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms in and out.
    envelope : iterable of EnvelopeElement
        Areas of the envelope; may be empty.
    rule : CountingRule
        What counts as envelope area.
    building_height : float or None
        Height of the topmost ceiling; if None, the storeys' mean heights are added up. [m]

    Returns
    -------
    Geometry
        Sizes, storey sums, rooms in and out, warnings.

    Raises
    ------
    InputError
        If no room is included, a size is missing, a name stands twice, or the sizes cannot belong
        to one house.

    Notes
    -----
    An area seen from a room that is left out is not counted. Furniture is ignored.

    References
    ----------
    [ISO9972] 6.1, from memory.

    Examples
    --------
    >>> from airlab.building import Room
    >>> geometry([Room("Hall", "ground", 10.0, 7.0, 2.5)]).internal_volume
    175.0
    """
    rooms, envelope = tuple(rooms), tuple(envelope)
    _no_duplicates("Room", (room.name for room in rooms))
    _no_duplicates("Area", (element.area for element in envelope))
    inside = [room for room in rooms if room.included]
    if not inside:
        raise InputError("No room is inside the tested volume. Enter at least one room.")
    for room in inside:
        if room.missing:
            lacking = " and ".join(room.missing)
            raise InputError(f"Room {room.name!r} has no {lacking}. Fill it in, or leave it out.")
    volume, floor_area = sum(r.air_volume for r in inside), sum(r.area for r in inside)
    out = {alike(room.name) for room in rooms if not room.included}
    standing = [element for element in envelope if alike(element.room) not in out]
    counted = [element.area_m2 for element in standing if rule.counts(element)]
    storeys = _storeys(inside)
    if building_height is None:
        building_height = sum(storey.mean_height or 0.0 for storey in storeys) or None
    return Geometry(
        internal_volume=volume,
        envelope_area=sum(counted) or None,
        floor_area=floor_area or None,
        lowest_floor_area=sum(e.area_m2 for e in standing if e.lowest_floor) if standing else None,
        party_area=sum(e.area_m2 for e in standing if e.party) if standing else None,
        building_height=building_height,
        rule=rule,
        storeys=storeys,
        rooms_in=tuple(room.name for room in inside),
        rooms_out=tuple((room.name, room.why) for room in rooms if not room.included),
        warnings=tuple(_warnings(rooms, inside, envelope, standing, storeys, volume, floor_area)),
    )


def _storeys(inside):
    names = list(dict.fromkeys(room.storey for room in inside))
    return tuple(
        Storey(
            name,
            sum(room.area for room in inside if room.storey == name),
            sum(room.air_volume for room in inside if room.storey == name),
            tuple(room.name for room in inside if room.storey == name),
        )
        for name in names
    )


def _warnings(rooms, inside, envelope, standing, storeys, volume, floor_area):
    """Yield what looks odd but can be true."""
    if floor_area and not 2.0 <= volume / floor_area <= 4.0:
        yield (
            f"Mean height is {show(volume / floor_area, 'm')}. Houses lie between 2 and 4 m. "
            "Check the heights."
        )
    for room in inside:
        small = room.shape in ("dormer", "floor void")
        if room.height and not (small or 1.0 <= room.height <= 8.0):
            yield f"Room {room.name!r} is {show(room.height, 'm')} high. Check it."
    for room in (room for room in rooms if not room.why):
        asked = next((word for word in _ASKED if word in alike(room.name)), "")
        if asked or not room.included:
            side = "in" if room.included else "left out"
            tail = f" Rules differ on a {asked}." if asked else ""
            yield f"Room {room.name!r} is {side} without a reason.{tail} Write why, so that the tester counts the same."
    known = {alike(room.name) for room in rooms}
    lost = [e for e in envelope if alike(e.room) not in known]
    for element in lost:
        yield f"Area {element.area!r} is seen from {element.room!r}, which is not in the room table."
    for element in (e for e in envelope if e not in standing):
        yield f"Area {element.area!r} is seen from a room that is left out. It is not counted."
    if not standing:
        return
    whole = sum(element.area_m2 for element in standing)
    shape = whole / volume ** (2.0 / 3.0)
    if _SPHERE <= shape < _CUBE:
        yield "The envelope is smaller than any box of that volume. Is a wall, floor or roof missing?"
    if shape > _STRAGGLING:
        yield "The envelope is large for the volume. Are windows counted in the walls as well?"
    kinds = {element.kind for element in standing}
    if not kinds & {"floor", "party floor"}:
        yield "The envelope has no floor."
    if not kinds & {"roof", "ceiling", "party floor"}:
        yield "The envelope has no roof or ceiling."
    low = sum(element.area_m2 for element in standing if element.lowest_floor)
    widest = max(storey.floor_area for storey in storeys)
    if low and widest and not 0.75 <= low / widest <= 1.5:
        yield (
            f"The lowest floor is {show(low, 'm2')}, the largest storey's rooms have "
            f"{show(widest, 'm2')}. Check both."
        )
