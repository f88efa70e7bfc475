"""How does the day stand: what was read, what the last batch of seals gained, what comes next?"""

import re
from contextlib import suppress
from dataclasses import dataclass

from airlab.leak_check.assumptions import assumptions_from
from airlab.leak_check.batches import RunningTotal, running_total
from airlab.leak_check.fan_choice import fan_ranges
from airlab.leak_check.gain import Gain, RepeatSpread, gain, repeat_spread, smallest_provable
from airlab.leak_check.judged import JudgedReading, judge_reading
from airlab.leak_check.log import Log
from airlab.leak_check.plan import CheckPlan, decide, make_plan
from airlab.leak_check.readings import STAGES, correct_reading, stages_of
from airlab.leak_check.release import NOT_YET
from airlab.leak_check.route import BEFORE
from airlab.words import InputError, show_percent
from airlab.words.saying import listed, said

__all__ = [
    "CheckDay",
    "in_short",
    "make_day",
    "next_stage",
    "reading_pair",
    "stop_key",
    "walked",
]


def _in_time(readings):
    """Return readings by time; one without a time stays behind the one before it."""
    keyed, clock = [], float("-inf")
    for reading in readings:
        clock = reading.at.timestamp() if reading.at else clock
        keyed.append((clock, reading))
    return tuple(reading for _, reading in sorted(keyed, key=lambda pair: pair[0]))


def next_stage(readings, log):
    """Return the stage to offer for the next reading.

    Parameters
    ----------
    readings : iterable of Reading
        Readings so far.
    log : Log
        Leaks so far.

    Returns
    -------
    str
        The first reading; after sealing, where leaks were sealed since; else a repeat.
    """
    usable = _in_time(one for one in readings if one.stage != STAGES[3])
    if not usable:
        return STAGES[0]
    last = usable[-1]
    if last.at and log.between(last.at, None):
        return STAGES[2]
    return STAGES[4]


def reading_pair(readings, log):
    """Return the reading before and the reading after the last batch of seals.

    Parameters
    ----------
    readings : iterable of Reading
        Readings of one visit.
    log : Log
        Leaks, with the time each was sealed.

    Returns
    -------
    (Reading, Reading, tuple of int) or None
        Before, after, numbers of the leaks sealed in between. Where no seal lies between two
        readings of one direction, the last of each stage are compared; None with fewer than two
        readings.
    """
    usable = _in_time(one for one in readings if one.stage != STAGES[3])
    if len(usable) < 2:
        return None
    last = usable[-1]
    alike = [one for one in usable if one.direction == last.direction]
    if len(alike) < 2:
        return usable[-2], last, ()
    for before, after in zip(alike[-2::-1], alike[:0:-1]):
        if before.at and after.at and (batch := log.between(before.at, after.at)):
            return before, after, batch
    stages = stages_of(usable)
    changed = [
        one
        for one, stage in zip(usable, stages)
        if one.direction == last.direction and stage != stages[-1]
    ]
    return (changed or alike[:-1])[-1], last, ()


def _untouched(log, before, after):
    """Return whether the log knows that nothing was sealed between two readings: by times, or by none."""
    seals = [event for event in log.events if event.did == "sealed"]
    timed = before.at and after.at and all(one.at and not one.entered_later for one in seals)
    return not seals or bool(timed)


@dataclass(frozen=True, slots=True)
class CheckDay:
    """The day as it stands.

    Parameters
    ----------
    plan : CheckPlan or None
        None while rooms or target are missing.
    missing : str
        What the plan still needs.
    log : Log
        Leaks so far.
    readings : tuple of JudgedReading
        Readings so far; empty where a hazard stops the fan.
    gain : Gain or None
        Gain of the last batch of seals.
    batch : tuple of int
        Numbers of the leaks sealed between the two readings.
    since : Gain or None
        Change from the reading after that batch to the last one, with no seal in between.
    repeat : RepeatSpread
        How well a reading repeats.
    smallest : float or None
        Smallest gain the next reading could prove. [m3/s]
    next_stage : str
        Stage to offer for the next reading.
    total : RunningTotal or None
        What the visit has gained, what is missing to today's aim, and whether to go on; None after a
        final reading.
    """

    plan: CheckPlan | None
    missing: str
    log: Log
    readings: tuple[JudgedReading, ...]
    gain: Gain | None
    batch: tuple[int, ...]
    since: Gain | None
    repeat: RepeatSpread
    smallest: float | None
    next_stage: str
    total: RunningTotal | None = None

    @property
    def fan_may_run(self):
        """Whether no hazard stops the fan."""
        return self.plan is None or self.plan.hazards.fan_may_run

    def gained(self, units="metric"):
        """Return what the last batch gained, or the smallest gain that could be proved."""
        if self.gain is not None:
            batch = (
                f"Leak{'s' if len(self.batch) > 1 else ''} {listed(self.batch)} sealed in between. "
                if self.batch
                else ""
            )
            return batch + self.gain.sentence(units) + self._later(units)
        if self.smallest is None:
            return ""
        return (
            f"The smallest gain the next reading could prove is {said(self.smallest, 'm3/s', units)} "
            f"at 50 Pa, from {self.repeat.source}. Group small fixes until they pass it."
        )

    def _later(self, units):
        """Return what changed after that without a seal in the log."""
        if self.since is None:
            return ""
        return f" Since then nothing was sealed by the log. {self.since.sentence(units)}"

    def sentence(self, units="metric"):
        """Return the last reading, or what to expect of the first."""
        if not self.fan_may_run:
            return self.plan.hazards.sentence(units)
        if self.readings:
            return self.readings[-1].sentence(units)
        if self.plan is None:
            return f"No plan yet. {self.missing}"
        return f"No reading yet. {self.plan.expected.sentence(units)}"


def make_day(job=None, **parts):
    """Return how the day of a job stands.

    Parameters
    ----------
    job, **parts
        As for `make_plan`.

    Returns
    -------
    CheckDay
        Without a plan where rooms or target are missing; readings and log are kept all the same.

    Raises
    ------
    InputError
        If a reading cannot be corrected, or an assumption cannot be used.
    """
    settings = parts.get("settings", getattr(job, "settings", None)) or {}
    log = parts.get("leaks", getattr(job, "leaks", ()))
    log = log if isinstance(log, Log) else Log(tuple(log))
    readings = tuple(parts.get("readings", getattr(job, "readings", ())))
    given = assumptions_from(settings)
    direction = settings.get("direction")
    corrected = tuple(correct_reading(one, given, direction=direction) for one in readings)
    plan, missing = None, ""
    try:
        plan = make_plan(job, **{**parts, "leaks": log})
    except InputError as error:
        missing = str(error)
    repeat = repeat_spread(corrected, given)
    stage = next_stage(readings, log)
    empty = CheckDay(plan, missing, log, (), None, (), None, repeat, None, stage)
    if not corrected or (plan and not plan.hazards.fan_may_run):
        return empty
    expected = plan.expected if plan else None
    fans = fan_ranges(settings.get("fan"))
    limit = plan.limit_flow if plan else None
    count = (settings.get("fan") or {}).get("count") or 1
    judged = tuple(judge_reading(one, given, expected, fans, limit, count) for one in corrected)
    last = _in_time(readings)[-1]
    pair, found, batch, since = reading_pair(readings, log), None, (), None
    if pair:
        before, after, batch = pair
        nothing = not batch and _untouched(log, before, after)
        found = gain(before, after, readings, given, direction=direction, unsealed=nothing)
        if after is not last and last.direction == after.direction and last.stage != STAGES[3]:
            since = gain(after, last, readings, given, direction=direction, unsealed=True)
    now = next(one for one in corrected if one.reading is last)
    smallest = float(smallest_provable(repeat.spread, repeat.factor) * now.flow_50)
    # An aim below zero asks no more than a house without a leak.
    aim = None if expected is None or expected.pass_flow is None else max(expected.pass_flow, 0.0)
    total = None
    if last.stage != STAGES[3]:
        read = next(one for one in judged if one.reading is last)
        doubt = next(iter(read.warnings), "")
        if not (doubt or log.blocking) and aim is not None and now.flow_50 <= aim:
            doubt = _budget_doubt(job, {**parts, "leaks": log})
        begun = bool(settings.get("stops_done"))
        total = running_total(_in_time(readings), log, aim, given, direction, begun, doubt)
    return CheckDay(plan, missing, log, judged, found, batch, since, repeat, smallest, stage, total)


def _budget_doubt(job, parts):
    """Return why the budget does not call a reading good enough; empty where it does or is not asked."""
    with suppress(InputError):
        found = decide(job, False, **parts)
        if found.by_budget and found.probability < found.confidence:
            return (
                f"The chance to keep the limit is {found.by_budget.short()}; wanted: "
                f"{show_percent(found.confidence)}."
            )
    return ""


def stop_key(stop):
    """Return what names a stop when the route is laid anew and the numbers move."""
    return "; ".join(filter(None, (stop.phase, stop.room, stop.place, stop.height)))


def walked(route, ticked=(), readings=()):
    """Return the numbers of the stops that are done.

    Parameters
    ----------
    route : Route
        The search.
    ticked : iterable of str
        Keys of the stops that somebody ticked.
    readings : iterable of Reading
        Readings so far.

    Returns
    -------
    frozenset
        Stops that were ticked, and those before the fan once there is a reading. A leak in the log
        ticks no stop: it may have been found out of turn.
    """
    ticked, read = frozenset(ticked), bool(tuple(readings))
    return frozenset(
        stop.number
        for stop in route.stops
        if stop_key(stop) in ticked or (read and stop.phase == BEFORE)
    )


# Of a hazard the answer is enough here; what it does stands in the card and at the question.
_ANSWER = re.compile(r"^([^.]*: (?:not safe|don't know)[^.]*\.) .*")


def in_short(release, units="metric", miss=None):
    """Return a decision in a few sentences: verdict, reasons, chance, what a person does.

    Parameters
    ----------
    release : Release
        The decision.
    units : str
        'metric' or 'us'.
    miss : Miss or None
        A final reading above the limit, which comes first.
    """
    text = f"{release.verdict}."
    if release.supported:
        text = (
            f"{release.verdict}: evidence supports covering {len(release.supported)} of "
            f"{len(release.areas)} areas."
        )
    number, reasons = release.number, [_ANSWER.sub(r"\1", one) for one in release.reasons]
    if number is not None:
        chance = (
            release.by_budget.short() if release.by_budget else show_percent(number.probability)
        )
        reasons = [
            one for one in reasons if " is less than the " not in one and one[:9] != "Not yet: "
        ]
        sizes = f"{said(number.final_volume, 'm3', units)} of air"
        if number.final_area:
            sizes += f", {said(number.final_area, 'm2', units)} of envelope"
        reasons.insert(
            0,
            f"Chance to keep the limit of {said(number.limit_flow, 'm3/s', units)} at 50 Pa "
            f"({sizes}): {chance}; wanted: {show_percent(release.confidence)}.",
        )
    if miss is not None:
        reasons = [miss.sentence(units)]
    wait = sum(one.verdict == NOT_YET for one in release.areas)
    waiting = f"{wait} of {len(release.areas)} areas wait." if wait else ""
    return " ".join(part for part in (text, *reasons, waiting, "A person signs.") if part)
