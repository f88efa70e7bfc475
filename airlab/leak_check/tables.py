"""Which tables does a leak check keep, and what is one row of each?

Openings to prepare, trades still to come, holes made after the check, readings of the gauge and
the log of leaks. Each table is declared once; each row turns into a frozen record and back.
"""

from dataclasses import dataclass
from datetime import date, datetime
from typing import ClassVar
from uuid import uuid4

from airlab.building.rows import RowRecord
from airlab.words import Column, InputError, Table, from_si, require_positive

__all__ = [
    "DID",
    "DIRECTIONS",
    "HEIGHTS",
    "HOLES",
    "LEAKS",
    "OPENINGS",
    "OPENING_KINDS",
    "OPENING_STATES",
    "PROGRAMME",
    "READINGS",
    "TASK_KINDS",
    "TRADES",
    "Hole",
    "LeakEvent",
    "Opening",
    "Reading",
    "Task",
    "Trade",
]

OPENING_KINDS = ("window", "door", "hatch", "duct", "drain", "flue", "vent", "appliance", "other")
OPENING_STATES = ("closed", "sealed", "open", "as found")
HEIGHTS = ("low", "mid", "high")
DIRECTIONS = ("depressurise", "pressurise")
TASK_KINDS = ("layer", "windows", "holes", "sealing", "covering", "final test", "other")
DID = (
    "found", "marked", "sealed", "rechecked", "not a leak", "intentional", "unreachable",
    "accepted", "reopened", "covered", "undone",
)  # fmt: skip

OPENINGS = Table("openings", "Openings to prepare for the fan, one row each.", (
    Column("opening", "text", "name of the opening", required=True),
    Column("kind", "choice", "what it is", required=True, choices=OPENING_KINDS),
    Column("room", "text", "room it opens into", required=True, offers=("rooms.room",)),
    Column("height", "choice", "height in the room", choices=HEIGHTS),
    Column("required", "choice", "state wanted for the reading", required=True,
           choices=OPENING_STATES),
    Column("found", "text", "state found on the day"),
    Column("sealed_with", "text", "what the seal for the day is made of"),
    Column("hides_leak", "yes/no", "the seal hides a leak that belongs in the result",
           default=False),
    Column("area_cm2", "number", "free area if it were left open", "cm2", low=0.0, high=1e5),
    Column("photo", "text", "photo number or file name"),
    Column("initials", "text", "who set it"),
    Column("removed", "yes/no", "seal taken off afterwards", default=False),
), key="opening")  # fmt: skip

TRADES = Table("trades", "Trades that still come and may make holes, one row each.", (
    Column("trade", "text", "name of the trade", required=True),
    Column("work", "text", "what it does"),
    Column("arrives_on", "date", "first day on site"),
    Column("holes_expected", "integer", "holes it will make through the layer", low=0, high=10000,
           default=0),
    Column("hole_diameter_mm", "number", "usual diameter of a hole", "mm", low=0.0, high=1000.0),
    Column("share_left_open", "number", "share of its holes left unsealed, 0 to 1", low=0.0,
           high=1.0, slip="If you meant a percentage, divide by 100."),
    Column("briefed", "yes/no", "briefed on the airtight layer", default=False),
), key="trade")  # fmt: skip

HOLES = Table("holes", "Holes made through the layer after the check, one row each.", (
    Column("hole", "text", "name of the hole", required=True),
    Column("trade", "text", "who made it"),
    Column("area", "text", "area of the envelope it goes through", offers=("envelope.area",)),
    Column("diameter_mm", "number", "diameter of the hole", "mm", low=0.0, high=1000.0),
    Column("why", "text", "what it is for"),
    Column("made_on", "date", "day it was made"),
    Column("approved_by", "text", "who allowed it"),
    Column("sealed_with", "text", "what it was sealed with"),
    Column("checked", "yes/no", "seal looked at", default=False),
), key="hole")  # fmt: skip

READINGS = Table("readings", "Readings of pressure and flow, one row each.", (
    Column("reading", "text", "name or number of the reading", required=True),
    Column("at", "time", "when"),
    Column("stage", "text", "what had been done by then"),
    Column("direction", "choice", "way the fan blew", choices=DIRECTIONS),
    Column("pressure_pa", "number", "pressure difference as read, without sign", "Pa",
           required=True, low=0.0, high=500.0,
           slip="Type the size only and choose the direction; the sign is kept for you."),
    Column("flow_m3_per_h", "number", "fan flow as read", "m3/h", required=True, low=0.0,
           high=1e6),
    Column("zero_before_pa", "number", "pressure with the fan sealed, before; with its sign", "Pa",
           low=-100.0, high=100.0),
    Column("zero_after_pa", "number", "pressure with the fan sealed, after; with its sign", "Pa",
           low=-100.0, high=100.0),
    Column("aperture", "text", "fan ring or plate"),
    Column("by", "text", "who read it"),
    Column("note", "text", "remark"),
), key="reading")  # fmt: skip

PROGRAMME = Table("programme", "Work on the airtight layer and what hides it, one row each.", (
    Column("task", "text", "name of the work", required=True),
    Column("does", "choice", "what it does to the layer", required=True, choices=TASK_KINDS),
    Column("element", "text", "element or area of the envelope; blank is the whole house",
           offers=("envelope.element", "envelope.area")),
    Column("trade", "text", "who does it"),
    Column("starts_on", "date", "first day"),
    Column("ends_on", "date", "last day"),
    Column("cure_days", "number", "days it needs afterwards before it bears 50 Pa", low=0.0,
           high=90.0, default=0.0),
    Column("done", "yes/no", "finished", default=False),
), key="task", optional=True)  # fmt: skip

LEAKS = Table("leaks", "What was done about each leak, one row for each act.", (
    Column("event", "text", "random name of the act; blank where a row is typed by hand"),
    Column("at", "time", "when it was done"),
    Column("leak", "integer", "number on the tag", required=True, low=1, high=100000),
    Column("did", "choice", "what was done", required=True, choices=DID),
    Column("area", "text", "area of the envelope", offers=("envelope.area",)),
    Column("room", "text", "room", offers=("rooms.room",)),
    Column("place", "text", "where, in words"),
    Column("height", "choice", "height in the room", choices=HEIGHTS),
    Column("strength", "integer", "1 faint, 2 clear, 3 strong", low=1, high=3),
    Column("flow_m3_per_h", "number", "at least so much at 50 Pa, judged by gap or air speed", "m3/h",
           low=0.0, high=1e5),
    Column("method", "text", "how it was found or looked at"),
    Column("with", "text", "material used"),
    Column("reading", "text", "reading that goes with it"),
    Column("by", "text", "who"),
    Column("photo", "text", "photo number or file name"),
    Column("note", "text", "reason or remark"),
    Column("entered_later", "yes/no", "typed in afterwards", default=False),
    Column("undoes", "text", "the act that this one takes back"),
), key="event", named_by="r")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Opening(RowRecord):
    """An opening to prepare: required state, state found, seal for the day, free area [m2]."""

    _table: ClassVar[Table] = OPENINGS
    _renamed: ClassVar[dict[str, str]] = {"opening": "name", "area_cm2": "free_area"}

    name: str
    kind: str
    room: str
    required: str
    height: str | None = None
    found: str = ""
    sealed_with: str = ""
    hides_leak: bool = False
    free_area: float | None = None
    photo: str = ""
    initials: str = ""
    removed: bool = False


@dataclass(frozen=True, slots=True)
class Trade(RowRecord):
    """A trade still to come: holes expected, their diameter [m], share left open."""

    _table: ClassVar[Table] = TRADES
    _renamed: ClassVar[dict[str, str]] = {"trade": "name"}

    name: str
    work: str = ""
    arrives_on: date | None = None
    holes_expected: int = 0
    hole_diameter: float | None = None
    share_left_open: float | None = None
    briefed: bool = False


@dataclass(frozen=True, slots=True)
class Hole(RowRecord):
    """A hole made after the check: who, where, diameter [m], sealed with, looked at."""

    _table: ClassVar[Table] = HOLES
    _renamed: ClassVar[dict[str, str]] = {"hole": "name"}

    name: str
    trade: str = ""
    area: str = ""
    diameter: float | None = None
    why: str = ""
    made_on: date | None = None
    approved_by: str = ""
    sealed_with: str = ""
    checked: bool = False


@dataclass(frozen=True, slots=True)
class Reading(RowRecord):
    """A reading: pressure size [Pa] and flow [m3/s] as read, direction, zero pressures [Pa]."""

    _table: ClassVar[Table] = READINGS
    _renamed: ClassVar[dict[str, str]] = {"reading": "name"}

    name: str
    pressure: float
    flow: float
    direction: str | None = None
    at: datetime | None = None
    stage: str = ""
    zero_before: float | None = None
    zero_after: float | None = None
    aperture: str = ""
    by: str = ""
    note: str = ""

    def __post_init__(self):
        RowRecord.__post_init__(self)
        require_positive("pressure", self.pressure, "Pa")
        require_positive("flow", from_si(self.flow, "m3/h"), "m3/h")


@dataclass(frozen=True, slots=True)
class Task(RowRecord):
    """A work of the programme: what it does to the layer, where, from when to when, its cure [days]."""

    _table: ClassVar[Table] = PROGRAMME
    _renamed: ClassVar[dict[str, str]] = {"task": "name"}

    name: str
    does: str
    element: str = ""
    trade: str = ""
    starts_on: date | None = None
    ends_on: date | None = None
    cure_days: float = 0.0
    done: bool = False

    def __post_init__(self):
        RowRecord.__post_init__(self)
        if self.starts_on and self.ends_on and self.ends_on < self.starts_on:
            raise InputError(
                f"Task {self.name!r} ends on {self.ends_on} and starts on {self.starts_on}. "
                "Swap the dates, or mend one."
            )


@dataclass(frozen=True, slots=True)
class LeakEvent(RowRecord):
    """One act on one leak: what was done, when, where, its flow at 50 Pa [m3/s], with what, by whom."""

    _table: ClassVar[Table] = LEAKS
    _renamed: ClassVar[dict[str, str]] = {"with": "material"}

    leak: int
    did: str
    at: datetime | None = None
    event: str = ""
    area: str = ""
    room: str = ""
    place: str = ""
    height: str | None = None
    strength: int | None = None
    flow: float | None = None
    method: str = ""
    material: str = ""
    reading: str = ""
    by: str = ""
    photo: str = ""
    note: str = ""
    entered_later: bool = False
    undoes: str = ""

    def __post_init__(self):
        # The letter keeps a spreadsheet from taking the name for a number.
        if not self.event:
            object.__setattr__(self, "event", f"a{uuid4().hex[:12]}")
        RowRecord.__post_init__(self)
