"""What is a room, and what is an area of the envelope?"""

from dataclasses import dataclass
from typing import ClassVar

from airlab.building.rows import RowRecord
from airlab.building.tables import ENVELOPE, ENVELOPE_KINDS, LAYER_STATUSES, PARTY_KINDS, ROOMS
from airlab.words import InputError, Table, require_between, require_choice, show

__all__ = ["EnvelopeElement", "Room"]


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
        Inside sizes; the height is the mean one under a slope. [m]
    included : bool
        Whether it is inside the tested volume.
    why : str
        Why it is in or out.
    volume : float or None
        Volume where the three sizes do not give it. [m3]
    floor_area : float or None
        Floor area where length and width do not give it; 0 for a stair void. [m2]

    Raises
    ------
    InputError
        If a size is negative, not a number or too large for metres, or the name is empty.

    Examples
    --------
    >>> room = Room("Kitchen", "ground", 4.0, 3.0, 2.4)
    >>> round(room.air_volume, 2), room.area
    (28.8, 12.0)
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

    def __post_init__(self):
        if not str(self.name).strip():
            raise InputError("A room has no name. Give each room its own name.")
        for what, most, unit in (
            ("length", 200.0, "m"),
            ("width", 200.0, "m"),
            ("height", 20.0, "m"),
            ("volume", 1e5, "m3"),
            ("floor_area", 1e5, "m2"),
        ):
            _size(f"Room {self.name!r}", what, getattr(self, what), most, unit)

    @property
    def area(self):
        """Floor area, from the override or from length and width; None if neither is there. [m2]"""
        if self.floor_area is not None:
            return self.floor_area
        return self.length * self.width if self.length and self.width else None

    @property
    def air_volume(self):
        """Volume, from the override or from the sizes; None if something is missing. [m3]"""
        if self.volume is not None:
            return self.volume
        return self.area * self.height if self.area and self.height else None

    @property
    def missing(self):
        """What must still be entered before the room counts, as a tuple of words."""
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
