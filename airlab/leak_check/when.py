"""When is the check: after what, before what, how many of them, and who may let the work go on?

The programme says which work makes, pierces and hides the layer, and how long it cures. The earliest
sensible day lies behind the last that makes it, the latest leaves days for fixes before it is hidden.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.prepare import has_film
from airlab.leak_check.tables import Task
from airlab.words import InputError, require_choice, show
from airlab.words.saying import alike, listed

__all__ = [
    "CHECK_PATTERNS",
    "CheckDates",
    "CheckPattern",
    "HoldPoint",
    "check_dates",
    "check_pattern",
    "own_day",
]

_MAKE = ("layer", "windows", "holes", "sealing")  # what must be done before a number means anything
_WHO = "the airtightness lead; on one's own house the owner"


@dataclass(frozen=True, slots=True)
class CheckPattern:
    """How many checks a kind of construction wants, when, and which of them give a number."""

    construction: str
    checks: tuple[tuple[str, bool], ...]  # when, whether it gives a number
    source: str
    status: str

    def sentence(self, units="metric"):
        """Return the checks in words."""
        many = len(self.checks)
        text = [f"{self.construction.capitalize()}: {many} check{'s' if many > 1 else ''} before the final test."]  # fmt: skip
        for number, (when, counts) in enumerate(self.checks, 1):
            text.append(f"{number}. {when}: {'a number' if counts else 'search only, no number'}.")
        return " ".join((*text, f"({self.status.capitalize()}.)"))


CHECK_PATTERNS = (
    CheckPattern("timber frame, film inside",
                 (("film up, taped and battened, still in sight, holes of first fix made", True),),
                 "UK_TESTER", "second-hand"),
    CheckPattern("timber frame, boards inside",
                 (("boards taped, first fix done, before lining", True),), "UK_TESTER", "second-hand"),
    CheckPattern("boards outside",
                 (("sheathing taped and windows in, before insulation", True),), "US_SHEATHING",
                 "second-hand"),
    CheckPattern("masonry, wet plaster",
                 (("all tapes on, before plaster", False), ("plaster dry, first fix done", True)),
                 "UK_TESTER", "second-hand"),
    CheckPattern("masonry, wet plaster, a first house",
                 (("all tapes on, before plaster", False), ("plaster dry", True),
                  ("first fix done, before anything hides it", True)), "UK_TESTER", "second-hand"),
    CheckPattern("refurbishment",
                 (("before the work, as it is", True), ("new layer up, still in sight", True)),
                 "AIRLAB", "assumption"),
)  # fmt: skip


def check_pattern(construction=None, areas=()):
    """Return how many checks a construction wants.

    Parameters
    ----------
    construction : str or None
        One of the kinds of `CHECK_PATTERNS`; None guesses from the layers of the areas.
    areas : iterable of EnvelopeElement
        Areas with their layers.

    Returns
    -------
    CheckPattern
        Wet plaster over more of the walls than film makes it masonry.

    References
    ----------
    [UK_TESTER], [US_SHEATHING] practice, second-hand; [AIRLAB] refurbishment.
    """
    kinds = {one.construction: one for one in CHECK_PATTERNS}
    if construction:
        return kinds[require_choice("construction", construction, kinds)]
    size = {"film": 0.0, "wet": 0.0, "board": 0.0}
    for area in areas:
        words = area.layer.casefold()
        wet = area.later_layer or any(word in words for word in ("plaster", "parge", "render"))
        kind = "film" if has_film(area) else "wet" if wet and "board" not in words else "board"
        size[kind] += area.area_m2
    if size["film"] >= max(size["wet"], 1e-9):
        return CHECK_PATTERNS[0]
    return CHECK_PATTERNS[3] if size["wet"] > 0.0 else CHECK_PATTERNS[1]


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """Where the work waits: what waits, who may let it go on, by what."""

    waits: tuple[str, ...]
    released_by: str

    def sentence(self, units="metric"):
        """Return the hold point in words."""
        if not self.waits:
            return f"No work that hides the layer is entered. Whoever signs: {self.released_by}."
        return (
            f"Hold point: {listed(self.waits, most=5)} wait until the areas they hide are released. "
            f"Released by {self.released_by}, area by area, signed; a new hole ends a release."
        )


@dataclass(frozen=True, slots=True)
class CheckDates:
    """The days on which a check makes sense.

    Parameters
    ----------
    earliest, latest : date or None
        First and last sensible working day; None where the programme does not say.
    after, before : str
        The work that sets each.
    float_days : int or None
        Working days between them; below zero there is no sensible day.
    in_the_way : tuple of str
        Work that hides the layer too early for a check of the whole on that day, and by how many
        working days.
    meaningless : tuple of str
        What would make a number on the day mean nothing.
    missing : tuple of str
        What the programme does not say.
    on : date or None
        The day that was asked about.
    fits : bool or None
        Whether that day lies between earliest and latest and gives a number.
    hold_point : HoldPoint
        What waits.
    pattern : CheckPattern
        How many checks this construction wants.
    """

    earliest: date | None
    latest: date | None
    after: str
    before: str
    float_days: int | None
    in_the_way: tuple[str, ...]
    meaningless: tuple[str, ...]
    missing: tuple[str, ...]
    on: date | None
    fits: bool | None
    hold_point: HoldPoint
    pattern: CheckPattern

    @property
    def judged(self):
        """What speaks for or against the day asked about, in words; empty where none was."""
        if self.on is None:
            return ""
        if self.fits:
            return f"{_day(self.on)} fits."
        why = [
            ("no working day", self.on.weekday() > 4),
            (f"before {self.after} is ready", bool(self.earliest and self.on < self.earliest)),
            (f"too few days before {self.before}", bool(self.latest and self.on > self.latest)),
            ("a number would mean nothing", bool(self.meaningless)),
        ]
        return f"{_day(self.on)} does not fit: {listed([name for name, holds in why if holds])}."

    def sentence(self, units="metric"):
        """Return earliest, latest and what stands against a day."""
        text = []
        if self.earliest and self.latest and self.float_days >= 0:
            text.append(
                f"Check from {_day(self.earliest)} ({self.after}) to {_day(self.latest)} "
                f"({self.before})."
            )
        elif self.earliest and self.latest:
            text.append(
                f"No sensible day: the layer is ready on {_day(self.earliest)} ({self.after}), and "
                f"{self.before} wants the check by {_day(self.latest)}."
            )
        elif self.earliest:
            text.append(
                f"Check from {_day(self.earliest)} ({self.after}); what hides it has no date."
            )
        elif self.latest:
            text.append(f"Check by {_day(self.latest)} ({self.before}).")
        else:
            text.append("The programme has no dates yet.")
        if self.in_the_way:
            text.append(f"Move, or check those areas first: {listed(self.in_the_way, most=4)}.")
        if self.on:
            text.append(self.judged)
        if self.meaningless:
            text.append(f"Search only, no number: {'; '.join(self.meaningless)}.")
        if self.missing:
            text.append(f"Not said: {'; '.join(self.missing)}.")
        return " ".join((*text, self.hold_point.sentence(units), self.pattern.sentence(units)))


def check_dates(
    programme,
    areas=(),
    junctions=(),
    assumptions=None,
    construction=None,
    on=None,
    released_by="",
):
    """Return the days on which a check makes sense.

    ``earliest = last of (end + cure) + 1``; ``latest = first covering - days for fixes``, in working
    days, Monday to Friday.

    Parameters
    ----------
    programme : iterable of Task
        Work that makes, pierces, seals and hides the layer.
    areas : iterable of EnvelopeElement
        Areas with the state of their layer; one that is not finished wants work in the programme.
    junctions : iterable of Junction
        Joints; the day one is hidden counts as a covering.
    assumptions : Assumptions or None
        Days kept for fixes.
    construction : str or None
        Kind of construction; None guesses from the layers.
    on : date or None
        Day asked about; None is the earliest.
    released_by : str
        Who may release; blank is the airtightness lead.

    Returns
    -------
    CheckDates
        Days, what sets them, what would make a number mean nothing.

    Raises
    ------
    InputError
        If two works bear one name or the construction is unknown.

    References
    ----------
    [TRADE] windows in, holes made and sealed, layer in sight; [FI_CLIENT] what a test firm asks for;
    [AIRLAB] days for fixes.
    """
    given, tasks = assumptions or Assumptions(), tuple(programme)
    names = [alike(task.name) for task in tasks]
    if len(set(names)) < len(names):
        twice = next(task.name for task in tasks if names.count(alike(task.name)) > 1)
        raise InputError(f"Task {twice!r} stands in the programme twice. Give each its own name.")
    areas = tuple(areas)
    making = [task for task in tasks if task.does in _MAKE and not task.done]
    hiding = [task for task in tasks if task.does == "covering" and not task.done]
    hiding += [
        Task(f"hiding {j.junction}", "covering", j.element_a, starts_on=j.hidden_on)
        for j in junctions if j.hidden_on
    ]  # fmt: skip
    missing = [f"when {task.name} ends" for task in making if task.ends_on is None]
    missing += [f"when {task.name} starts" for task in hiding if task.starts_on is None]
    missing += _unplanned(areas, making, tasks)
    ready = [(_ready(task), task.name) for task in making if task.ends_on]
    earliest, after = max(ready, default=(None, ""))
    spare = ceil(given["fix_days"])
    dated = sorted((task for task in hiding if task.starts_on), key=lambda task: task.starts_on)
    hidden = [(_back(task.starts_on, spare), task.name) for task in dated]  # work before joints
    latest, before = hidden[0] if hidden else (None, "")
    free = _working_days(earliest, latest) if earliest and latest else None
    day = on or earliest
    in_the_way = tuple(
        f"{name} ({-_working_days(day, late)} working days too early)"
        for late, name in hidden if day and late < day
    )  # fmt: skip
    meaningless = _meaningless(day, areas, making)
    fits = None
    if on:
        inside = (earliest is None or on >= earliest) and (latest is None or on <= latest)
        fits = bool(inside and not meaningless and on.weekday() < 5)
    waits = [task.name for task in tasks if task.does == "covering" and not task.done]
    joints = len(hiding) - len(waits)
    waits += [f"what hides {joints} joint{'s' if joints > 1 else ''}"] if joints else []
    return CheckDates(
        earliest, latest, after, before, free, in_the_way, tuple(meaningless),
        tuple(dict.fromkeys(missing)), on, fits, HoldPoint(tuple(waits), released_by.strip() or _WHO),
        check_pattern(construction, areas),
    )  # fmt: skip


def own_day(text):
    """Return the day typed, None for a blank; anything but 2027-04-12 is refused."""
    try:
        return date.fromisoformat(text.strip()) if text else None
    except ValueError:
        raise InputError(f"The day is {text[:20]!r}. Write it as 2027-04-12.") from None


def _ready(task):
    """Return the first working day after a work has ended and cured."""
    return _forward(task.ends_on + timedelta(days=ceil(task.cure_days) + 1))


def _forward(day):
    while day.weekday() > 4:
        day += timedelta(days=1)
    return day


def _back(day, count):
    """Return the working day that lies `count` working days before a day."""
    while count > 0:
        day -= timedelta(days=1)
        count -= day.weekday() < 5
    while day.weekday() > 4:
        day -= timedelta(days=1)
    return day


def _working_days(start, end):
    """Return the working days from one day to another, below zero backwards."""
    first, last = min(start, end), max(start, end)
    weeks, rest = divmod((last - first).days, 7)
    count = 5 * weeks + sum((first + timedelta(days=i + 1)).weekday() < 5 for i in range(rest))
    return count if end >= start else -count


def _of(task, area):
    return not task.element or alike(task.element) in (alike(area.element), alike(area.area))


def _unplanned(areas, making, tasks):
    """Yield areas whose layer is not finished and that nobody is down to finish."""
    for area in areas:
        if area.status in ("not started", "open laps"):
            kinds = ("layer", "windows", "sealing") if area.status == "open laps" else ("layer", "windows")  # fmt: skip
            if not any(task.does in kinds and _of(task, area) for task in making):
                yield f"who finishes {area.area} ({area.status})"
    frames = [area for area in areas if area.kind in ("window", "door")]
    in_place = frames and all(area.status != "not started" for area in frames)
    if tasks and not in_place and not any(task.does == "windows" for task in tasks):
        yield "when windows and doors are in"


def _meaningless(day, areas, making):
    """Return what would make a number on a day mean nothing."""
    if day is None:
        return [f"{a.area} is not started" for a in areas if a.status == "not started"]
    found = []
    for task in making:
        if task.ends_on is None or _ready(task) > day:
            cured = task.ends_on is not None and task.ends_on < day
            word = f"not cured ({show(task.cure_days)} days)" if cured else "not finished"
            found.append(f"{task.name} is {word} on {_day(day)}")
    for area in areas:
        if area.status == "not started" and not any(
            task.does in ("layer", "windows") and _of(task, area) for task in making
        ):
            found.append(f"{area.area} is not started")
    return found


def _day(day):
    return f"{day:%a %d %b %Y}"
