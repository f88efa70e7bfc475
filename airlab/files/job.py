"""What is a job? One house in one folder: its settings, its tables turned into records."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from airlab.building import (
    ENVELOPE,
    JUNCTIONS,
    PAST_RESULTS,
    ROOMS,
    EnvelopeElement,
    Junction,
    Room,
)
from airlab.building.aim import PastResult
from airlab.building.site import WEATHER, WeatherHour
from airlab.design import BUDGET, TRAINING, BudgetLine, Training
from airlab.fan_test.tables import FAN_TEST_POINTS, FAN_TESTS, FanTestRow, PointRow
from airlab.files.places import is_ours, jobs_folder
from airlab.files.saving import digest, read_bytes
from airlab.files.settings import DEFAULTS, SCHEMA, freeze, parse_settings, thaw
from airlab.files.tables import read_table
from airlab.leak_check.rescue import REMEDIES, Remedy
from airlab.leak_check.tables import (
    HOLES,
    LEAKS,
    OPENINGS,
    PROGRAMME,
    READINGS,
    TRADES,
    Hole,
    LeakEvent,
    Opening,
    Reading,
    Task,
    Trade,
)
from airlab.words import InputError

__all__ = ["JOB_TABLES", "Job", "open_job", "records", "settled"]

# Every table of a job and the record one of its rows becomes.
JOB_TABLES = {
    table.name: (table, record)
    for table, record in (
        (ROOMS, Room),
        (ENVELOPE, EnvelopeElement),
        (JUNCTIONS, Junction),
        (OPENINGS, Opening),
        (TRADES, Trade),
        (HOLES, Hole),
        (READINGS, Reading),
        (LEAKS, LeakEvent),
        (PAST_RESULTS, PastResult),
        (FAN_TESTS, FanTestRow),
        (FAN_TEST_POINTS, PointRow),
        (PROGRAMME, Task),
        (WEATHER, WeatherHour),
        (REMEDIES, Remedy),
        (BUDGET, BudgetLine),
        (TRAINING, Training),
    )
}
_STAYS = "The demo house stays as it is. Start my own house first: a copy of it is yours to change."


def _ours(key):
    return field(default_factory=lambda: freeze(DEFAULTS[key]))


@dataclass(frozen=True, slots=True)
class Job:
    """One house: settings, tables as records, and what is needed to save without losing anything.

    Parameters
    ----------
    folder : Path
        Where it stands.
    name, place, about : str
        Name of the house, where it is, anything to know about it.
    invented : bool
        True for a house that does not exist.
    units : str
        Units people see, "metric" or "us".
    counting : Mapping
        What counts as envelope: `rule`, and `party` or `lowest_floor` where they differ.
    target, limit : Mapping or None
        `metric` (with its pressure) and `value` in its unit; the limit has a `name` too.
    confidence : float
        How sure one wants to be of the limit. [-]
    flow_exponent : float
        Exponent of the leakage. [-]
    assumptions, hazards : Mapping
        Own values by key; "safe", "not safe" or "don't know" by hazard.
    fan : Mapping or None
        `name` and `points`, pairs of pressure in Pa and flow in m³/h.
    direction : str
        Way the fan blows.
    temperatures : Mapping
        `inside` and `outside`. [C]
    rough : Mapping or None
        `floor_area_m2` and `mean_height_m`, until rooms are entered.
    site : Mapping
        `terrain`, `station_terrain`, `shielding`, `eaves_height_m`; `weather` and the names of
        `in_use.lived_settings`; what is not there takes ours.
    prices : Mapping
        Own prices by key, and `currency`.
    construction, released_by : str
        Kind of construction; who may release. Blank where not said.
    check_on : str
        Day of one's own for the check, as 2027-04-12; blank where none is chosen.
    stops_done : tuple of str
        Stops of the search that are done.
    rooms, envelope, junctions, openings, trades, holes, readings, leaks, past_results, programme, weather, remedies, budget, training : tuple
        The tables, one record for each row; `leaks` are the acts of the log.
    fan_tests, fan_test_points : tuple
        The rows of the two tables of fan tests, as they stand.
    extra : Mapping
        Settings we do not know, carried through.
    read_only : str
        Why nothing can be saved; empty where it can.
    notes : tuple of str
        What was noticed on opening, or must be said aloud after the last save.
    files : Mapping
        The tables as they were read, by name.
    digest : str
        Fingerprint of job.json.
    """

    folder: Path
    name: str = ""
    place: str = ""
    about: str = ""
    invented: bool = False
    units: str = "metric"
    counting: Mapping = _ours("counting")
    target: Mapping | None = None
    limit: Mapping | None = None
    confidence: float = DEFAULTS["confidence"]
    flow_exponent: float = DEFAULTS["flow_exponent"]
    assumptions: Mapping = _ours("assumptions")
    hazards: Mapping = _ours("hazards")
    fan: Mapping | None = None
    direction: str = "depressurise"
    temperatures: Mapping = _ours("temperatures")
    rough: Mapping | None = None
    site: Mapping = _ours("site")
    prices: Mapping = _ours("prices")
    construction: str = ""
    released_by: str = ""
    check_on: str = ""
    stops_done: tuple[str, ...] = ()
    rooms: tuple[Room, ...] = ()
    envelope: tuple[EnvelopeElement, ...] = ()
    junctions: tuple[Junction, ...] = ()
    openings: tuple[Opening, ...] = ()
    trades: tuple[Trade, ...] = ()
    holes: tuple[Hole, ...] = ()
    readings: tuple[Reading, ...] = ()
    leaks: tuple[LeakEvent, ...] = ()
    past_results: tuple[PastResult, ...] = ()
    programme: tuple[Task, ...] = ()
    weather: tuple[WeatherHour, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    budget: tuple[BudgetLine, ...] = ()
    training: tuple[Training, ...] = ()
    fan_tests: tuple[FanTestRow, ...] = ()
    fan_test_points: tuple[PointRow, ...] = ()
    extra: Mapping = field(default_factory=dict)
    read_only: str = ""
    notes: tuple[str, ...] = ()
    files: Mapping = field(default_factory=dict)
    digest: str = ""

    def __repr__(self):
        return f"Job({self.name!r}, {len(self.rooms)} rooms, {self.folder.name})"

    @property
    def settings(self):
        """All settings by name, unknown ones too, as plain values that may be changed."""
        return thaw({key: getattr(self, key) for key in DEFAULTS} | dict(self.extra))


def settled(settings):
    """Return settings as the fields of a job."""
    extra = {key: value for key, value in settings.items() if key not in DEFAULTS}
    return {key: freeze(settings[key]) for key in DEFAULTS} | {"extra": freeze(extra)}


def records(found):
    """Return a table's rows as records; name every row that cannot be one."""
    record, key = JOB_TABLES[found.table.name][1], found.table.key
    made, trouble = [], []
    for row in found.rows:
        try:
            made.append(record.from_row(row))
        except InputError as error:
            trouble.append(f"{found.path.name}, {key} '{row[key]}': {error}")
    if trouble:
        raise InputError("\n".join(trouble))
    return tuple(made)


def _find(folder):
    """Return the path of a job given as a path or as a folder name among the jobs."""
    path = Path(folder).expanduser()
    inside = jobs_folder() / path
    return path if path.is_absolute() or (path.exists() and not inside.exists()) else inside


def open_job(folder):
    """Return the job in a folder.

    Parameters
    ----------
    folder : path or str
        The folder, or its name among the jobs.

    Returns
    -------
    Job
        Read-only where it is the demo, or where a newer program wrote it.

    Raises
    ------
    InputError
        If it is no job, or a file of it cannot be used; the message says where.
    """
    folder = _find(folder)
    content = read_bytes(folder / "job.json")
    if content is None:
        raise InputError(f"{folder.name} is not the folder of a job: it has no job.json.")
    settings, schema = parse_settings(content)
    tables, made, notes, trouble = {}, {}, [], []
    for name, (table, _) in JOB_TABLES.items():
        try:
            tables[name] = read_table(folder / f"{name}.csv", table)
            made[name] = records(tables[name])
            if tables[name].digest or not table.optional:
                notes += tables[name].notes
        except InputError as error:
            trouble.append(str(error))
    if trouble:
        raise InputError("\n".join(trouble))
    read_only = _STAYS if is_ours(folder) else ""
    if schema > SCHEMA:
        read_only = (
            f"This job was written by a newer version (schema {schema}; this one knows {SCHEMA}). "
            "It can be read and not changed here."
        )
        notes.append(read_only)
    return Job(
        folder,
        **settled(settings),
        **made,
        read_only=read_only,
        notes=tuple(notes),
        files=MappingProxyType(tables),
        digest=digest(content),
    )
