"""What is a room, and what is an area of the envelope?"""

from dataclasses import dataclass
from typing import ClassVar

from airlab.building.rows import RowRecord
from airlab.building.tables import (
    ENVELOPE,
    ENVELOPE_KINDS,
    LAYER_STATUSES,
    PARTY_KINDS,
    ROOM_SHAPES,
    ROOMS,
)
from airlab.words import InputError, Table, require_between, require_choice, show

__all__ = ["EnvelopeElement", "Room"]

_NO_FLOOR = ("dormer", "stair void", "floor void")


def _size(owner, what, value, most, unit):
    """Refuse a size that is not a number, negative or too large; guess the unit that was meant."""
    if value is None:
        return
    try:
        require_between(what, value, 0.0, most, unit)
    except InputError as error:
        slip = ""
        if unit == "m" and isinstance(value, (int, float)) and most < value < 1e6:
            size, word = (0.001, "millimetres") if value >= 1000.0 else (0.01, "centimetres")
            slip = f" If you meant {word}, write {show(value * size)}."
        raise InputError(f"{owner}: {error}{slip}") from None


@dataclass(frozen=True, slots=True)
class Room(RowRecord):
    """A room: sizes by inside dimensions, and whether it is inside the tested volume.

    Parameters
    ----------
    name, storey : str
        Name of the room and of the storey it stands on.
    length, width, height : float or None
        Inside sizes; a box takes the mean height under a slope, a sloping ceiling the greatest. [m]
    included : bool
        Whether it is inside the tested volume.
    why : str
        Why it is in or out.
    volume : float or None
        Volume where the three sizes do not give it. [m3]
    floor_area : float or None
        Floor area where length and width do not give it; 0 for a stair void. [m2]
    shape : str
        One of `ROOM_SHAPES`; empty is a box.
    low_height : float or None
        Sloping ceiling: height where the slope meets the wall; None is 0. [m]
    flat_width : float or None
        Sloping ceiling: width at full height (None is 0). Bay: its front (None is its back). [m]

    Raises
    ------
    InputError
        If a size is negative, not a number, too large for metres or for the shape, or the name is
        empty.

    Notes
    -----
    Sloping ceiling, on one side or both: ``V = L·(W·H − (H − h)·(W − f)/2)``. Bay:
    ``A = (L + f)/2·W``. Dormer, the wedge it adds above a slope: ``V = L·W·H/2``, no floor. Stair
    void and floor void (between two storeys, if your rules count it): ``V = L·W·H``, no floor.
    The floor under a slope counts in full; some rules count it only above a height.

    Examples
    --------
    >>> room = Room("Kitchen", "ground", 4.0, 3.0, 2.4)
    >>> round(room.air_volume, 2), room.area
    (28.8, 12.0)
    >>> Room("Attic", "loft", 5.0, 4.0, 2.4, shape="sloping ceiling", low_height=1.0).air_volume
    34.0
    """

    _table: ClassVar[Table] = ROOMS
    _renamed: ClassVar[dict[str, str]] = {"room": "name"}

    name: str
    storey: str
    length: float | None = None
    width: float | None = None
    height: float | None = None
    included: bool = True
    why: str = ""
    volume: float | None = None
    floor_area: float | None = None
    shape: str = ""
    low_height: float | None = None
    flat_width: float | None = None

    def __post_init__(self):
        if not str(self.name).strip():
            raise InputError("A room has no name. Give each room its own name.")
        for what, most, unit in (
            ("length", 200.0, "m"),
            ("width", 200.0, "m"),
            ("height", 20.0, "m"),
            ("volume", 1e5, "m3"),
            ("floor_area", 1e5, "m2"),
            ("low_height", 20.0, "m"),
            ("flat_width", 200.0, "m"),
        ):
            _size(f"Room {self.name!r}", what, getattr(self, what), most, unit)
        if self.shape:
            require_choice(f"shape of room {self.name!r}", self.shape, ROOM_SHAPES)
        if self.shape == "sloping ceiling":
            self._within("low_height", "height")
            self._within("flat_width", "width")

    def _within(self, part, whole):
        small, large = getattr(self, part), getattr(self, whole)
        if small is not None and large is not None and small > large:
            raise InputError(
                f"Room {self.name!r}: {part.replace('_', ' ')} is {show(small, 'm')}, its {whole} "
                f"{show(large, 'm')}. A part cannot be more than the whole. Were they swapped?"
            )

    @property
    def plan_area(self):
        """Area it takes in the plan of its storey; None if length and width are missing. [m2]"""
        if self.shape in ("dormer", "floor void"):
            return 0.0
        if not (self.length and self.width):
            return self.floor_area
        if self.shape == "bay":
            front = self.length if self.flat_width is None else self.flat_width
            return 0.5 * (self.length + front) * self.width
        return self.length * self.width

    @property
    def area(self):
        """Floor area, from the override or from length and width; None if neither is there. [m2]"""
        if self.floor_area is not None:
            return self.floor_area
        return 0.0 if self.shape in _NO_FLOOR else self.plan_area

    @property
    def air_volume(self):
        """Volume, from the override or from the sizes; None if something is missing. [m3]"""
        if self.volume is not None:
            return self.volume
        sides = self.length and self.width and self.height
        if self.shape in _NO_FLOOR:
            share = 0.5 if self.shape == "dormer" else 1.0
            return share * self.length * self.width * self.height if sides else None
        if self.shape == "sloping ceiling" and sides:
            lost = 0.5 * (self.height - (self.low_height or 0.0))
            return self.length * (
                self.width * self.height - lost * (self.width - (self.flat_width or 0.0))
            )
        return self.area * self.height if self.area and self.height else None

    @property
    def missing(self):
        """What must still be entered before the room counts, as a tuple of words."""
        if self.shape in _NO_FLOOR:
            return () if self.air_volume is not None else ("length, width and height, or volume",)
        lacking = [] if self.area is not None else ["length and width, or floor area"]
        if self.volume is None and not self.height:
            lacking.append("height, or volume")
        elif self.air_volume is None and self.area is not None:
            lacking.append("volume")
        return tuple(lacking)


@dataclass(frozen=True, slots=True)
class EnvelopeElement(RowRecord):
    """One area of the envelope: an element as seen from one room, and the state of its layer.

    Parameters
    ----------
    area, element : str
        Name of the area (used once) and of the element it belongs to.
    kind : str
        One of `ENVELOPE_KINDS`; floor is the lowest floor.
    room : str
        Room it is seen from.
    area_m2 : float
        Size by inside dimensions. [m2]
    layer : str
        Material that is the airtight layer.
    status : str
        One of `LAYER_STATUSES`.
    later_layer, supported : bool
        A later layer adds tightness; film is battened.
    note : str
        Anything else.
    """

    _table: ClassVar[Table] = ENVELOPE
    _renamed: ClassVar[dict[str, str]] = {"area_m2": "area_m2"}

    area: str
    element: str
    kind: str
    room: str
    area_m2: float
    layer: str = ""
    status: str = "not started"
    later_layer: bool = False
    supported: bool = False
    note: str = ""

    def __post_init__(self):
        if not str(self.area).strip():
            raise InputError("An area of the envelope has no name. Give each area its own name.")
        require_choice("kind of area", self.kind, ENVELOPE_KINDS)
        require_choice("status of area", self.status, LAYER_STATUSES)
        if self.area_m2 is None:
            raise InputError(f"Area {self.area!r} has no size. Fill in area_m2.")
        _size(f"Area {self.area!r}", "size", self.area_m2, 1e5, "m2")

    @property
    def party(self):
        """Whether a neighbour is on the other side."""
        return self.kind in PARTY_KINDS

    @property
    def lowest_floor(self):
        """Whether it is the lowest floor."""
        return self.kind == "floor"
