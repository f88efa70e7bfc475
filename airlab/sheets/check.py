"""Which pages go to site on the day? Preparation, search route, leak log, day sheet."""

from collections import Counter
from itertools import groupby

from airlab.leak_check import MARKS, PHASES, STATES, house_flow
from airlab.sheets.facts import pass_marks, whole_down
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page, tick, two_lines
from airlab.words import (
    HAZARD_ANSWERS,
    PRESSURE_REFERENCE,
    caution,
    label,
    show,
    show_clock,
    show_percent,
    show_range,
)

__all__ = ["day_page", "log_page", "preparation_page", "route_page"]

LOG_ROWS = 12
READING_ROWS = 6
_SPARE_ROWS = 3
_MARKS = tuple(
    (MARKS[state], state.split(",")[0], words)
    for state, words in (
        ("open", "found, not sealed, or still leaking"),
        ("sealed, awaiting re-check", "sealed, waits for the re-check under pressure"),
        ("closed", "re-checked under pressure, tight"),
    )
)


def preparation_page(facts):
    """Return the preparation schedule: hazards first, then every opening, then the count.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    shown, ready, verdict = facts.shown, facts.plan.preparation, facts.plan.hazards
    computed = [
        ("openings to prepare", show(len(ready.lines))), ("seals for the day", show(ready.seals)),
    ]  # fmt: skip
    computed += [
        ("sealed openings at 50 Pa if left open", shown.flow(ready.excluded_flow)),
        ("leaks hidden behind seals, at 50 Pa", shown.flow(ready.hidden_flow)),
    ]
    return make_page(
        "preparation", "Preparation schedule",
        "What is closed, sealed, open or left as found before the fan runs, and what comes off again.",
        facts.heading, computed=computed, sources=named_sources("TRADE", "DERIVED"),
        filled=facts.filled and any(line.opening.found for line in ready.lines),
        hazards=[_hazard_row(one, answer, facts) for one, answer in verdict.answers],
        may_run=facts.fan_may_run, verdict=verdict,
        rows=[_opening_row(number, line, facts) for number, line in enumerate(ready.lines, 1)],
        blank=_SPARE_ROWS if ready.lines else LOG_ROWS, ready=ready,
        never=caution("fire_stopping").text, off=caution("seals_off").text,
    )  # fmt: skip


def _hazard_row(one, answer, facts):
    """A blank sheet leaves the boxes to whoever stands in the house and says what is on record."""
    return (
        one.name + (" (stops the fan)" if one.stops_fan else ""), one.text, answer,
        *(tick(facts.filled and answer == word) for word in HAZARD_ANSWERS),
    )  # fmt: skip


def _opening_row(number, line, facts):
    one, shown = line.opening, facts.shown
    hides = "–"
    if line.sealed:
        hides = f"{shown.flow(line.flow)} if open" if line.flow else "size not entered"
    if line.hides:
        hides = f"A LEAK, {hides}"
    filled, where = facts.filled, ", ".join(part for part in (one.room, one.height) if part)
    return (
        number, two_lines(one.name, ". ".join((where, *line.notes))), one.required,
        one.found if filled else "", one.sealed_with if filled or line.sealed else "", hides,
        one.photo if filled else "", one.initials if filled else "",
        tick(one.removed if filled else False) if line.sealed else "–",
    )  # fmt: skip


def route_page(facts):
    """Return the search route: stop by stop, with method, pressure and door position.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    route, fan = facts.plan.route, facts.plan.fan
    doors = Counter(stop.doors for stop in route.stops).most_common(1)
    usual = doors[0][0] if doors else ""
    computed = [
        ("stops", show(len(route.stops))),
        ("rooms walked", show(len({stop.room for stop in route.stops if stop.room}))),
        ("direction", route.direction if facts.fan_may_run else "fan off, looking only"),
    ]
    if fan is not None:
        computed.append(("the fan is reckoned to reach", _reach(fan)))
    return make_page(
        "route", "Search route",
        "Where to walk and in which order, what to hold, how the doors stand. Tick as you go.",
        facts.heading, computed=computed, sources=named_sources("SINTEF_PATHS", "E1186", "TRADE"),
        phases=[
            (phase, [(room, _storey(stops), _own_doors(stops, usual), [_stop_row(s) for s in stops])
                     for room, stops in _by_room(route.phase(phase))])
            for phase in PHASES if route.phase(phase)
        ],
        usual=usual, warnings=route.warnings, verdict=facts.plan.hazards,
    )  # fmt: skip


def _by_room(stops):
    """Return the stops in runs of one room, as they are walked."""
    return [(room, list(run)) for room, run in groupby(stops, key=lambda stop: stop.room)]


def _storey(stops):
    return stops[0].storey


def _own_doors(stops, usual):
    return "; ".join(dict.fromkeys(stop.doors for stop in stops if stop.doors != usual))


def _reach(fan):
    low, high = (float(end.pressure_difference) for end in (fan.at_high, fan.at_low))
    return show_range(min(low, PRESSURE_REFERENCE), min(high, PRESSURE_REFERENCE), "Pa")


def _stop_row(stop):
    pressure = f" at {show(stop.pressure, 'Pa')}" if stop.pressure else ""
    return (
        stop.number, tick(False), stop.height or "all", two_lines(stop.place, stop.why),
        f"{stop.method}{pressure}",
    )  # fmt: skip


def log_page(facts, blank=False):
    """Return the leak log: numbered empty rows, or the log as its acts leave it.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    blank : bool
        Empty rows to write on, whatever has been recorded.
    """
    log, shown = facts.plan.log, facts.shown
    filled = not blank
    first = log.next_number
    computed = [("areas of this job", show(len(facts.plan.areas)))]
    if filled:
        computed += [(state, show(sum(leak.state == state for leak in log.leaks)))
                     for state in STATES if any(leak.state == state for leak in log.leaks)]  # fmt: skip
    else:
        computed.append(("next free number", show(first)))
    flow, hole = facts.smallest_gain
    provable = f"{shown.flow(flow)} at 50 Pa, a sharp hole of {shown.hole(hole)}"
    computed.append(("smallest gain two readings prove at the target", provable))
    return make_page(
        "log-blank" if blank else "log", "Leak log" + (", blank" if blank else ""),
        "Find, mark, seal, look again under pressure: one row for each leak.",
        facts.heading, computed=computed,
        sources=named_sources("TRADE", "PRIGNON2025", "DERIVED"),
        filled=filled and bool(log.events), blank=blank,
        rows=[(number, *[""] * 7) for number in range(first, first + LOG_ROWS)] if blank
        else [_leak_row(leak, shown) for leak in log.leaks],
        sentence=log.sentence(), next_number=first, direction=facts.job.direction, marks=_MARKS,
        problems=[problem for leak in log.leaks for problem in leak.problems],
        never=f"{caution('fire_stopping').text} {caution('cables').text}",
        provable=f"Near the target two readings by the same people prove a gain from {provable}. "
        "Smaller ones: seal several, then read.",
        areas=[area.area for area in facts.plan.areas],
    )  # fmt: skip


def _leak_row(leak, shown):
    last = leak.events[-1]
    found = next((event for event in leak.events if event.did == "found"), leak.events[0])
    checks = [event for event in leak.events if event.did in ("rechecked", "reopened")]
    recheck = ""
    if checks:
        recheck = "tight" if checks[-1].did == "rechecked" else "still leaks"
        recheck += f" {_day(checks[-1])}"
    photos = dict.fromkeys(event.photo for event in leak.events if event.photo)
    remarks = [leak.reason] if leak.reason else []
    remarks += [f"at least {shown.flow(leak.flow)} at 50 Pa"] if leak.flow else []
    remarks += ["entered afterwards"] if leak.late else []
    remarks += (
        [f"covered{' before it was looked at' if leak.hidden else ''}"] if leak.covered else []
    )
    people = dict.fromkeys(event.by for event in leak.events if event.by)
    return (
        leak.number, f"{MARKS[leak.state]} {leak.state}", leak.where, leak.area,
        leak.strength or "", found.method, leak.material, recheck.strip(),
        ", ".join(people) or last.by, ", ".join(photos), "; ".join(remarks),
    )  # fmt: skip


def _day(event):
    return show_clock(event.at) if event.at else ""


def day_page(facts, blank=False):
    """Return the day sheet: what to expect, today's aim, readings, fan advice, next steps.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    blank : bool
        Empty rows for readings, whatever has been recorded.
    """
    job, shown = facts.job, facts.shown
    readings = () if blank or not facts.filled else job.readings
    plan, expected = facts.plan, facts.plan.expected
    fan_sentence, advice = _fan_words(plan.fan, job.units)
    computed = [("direction", job.direction)]
    if expected is not None:
        computed += [("expected flow at 50 Pa", shown.flows(expected.low, expected.high)),
                     ("target at 50 Pa", shown.flow(facts.plan.target_flow)),
                     ("limit at 50 Pa", shown.flow(facts.plan.limit_flow))]  # fmt: skip
        unit = shown.unit("m3/s")
        computed += [(f"read at 50 Pa at most, to be {show_percent(plan.confidence)} sure",
                      f"{whole_down(mark.at_50, unit)} {label(unit)}")
                     for mark in pass_marks(facts, (PRESSURE_REFERENCE,))]  # fmt: skip
    return make_page(
        "day", "Day sheet",
        "Readings of the day against what was expected, and what to do next.",
        facts.heading, computed=computed if expected is not None else [
            *computed, ("hazards that stop the fan", show(len(facts.plan.hazards.stops)))],
        sources=named_sources("AIRLAB", "DERIVED", "PASSIPEDIA"),
        filled=bool(readings),
        may_run=facts.fan_may_run, verdict=facts.plan.hazards, expected=expected,
        state=plan.state.sentence(job.units), may_number=plan.state.number_counts,
        boxes=[(name, text, "") for name, text in computed[1:]],
        parts=[_part_row(line, shown) for line in expected.lines if line.kind != "area"]
        if expected else [],
        worst=_worst_areas(expected, shown) if expected else [],
        fan=plan.fan, fan_sentence=fan_sentence, advice=advice,
        rows=[_reading_row(reading, shown) for reading in readings],
        blank=max(READING_ROWS - len(readings), 2),
        corrected=[one.sentence(job.units) for one in plan.readings] if readings else [],
        compared=_compared(plan) if readings and expected else "",
        ventilation=caution("ventilation").text,
    )  # fmt: skip


def _fan_words(fan, units):
    """Return what the fan reaches, and the advice, which its sentence may begin, as a list."""
    if not fan:
        return "", ()
    said, advice = fan.sentence(units), fan.advice(units)
    for line in advice:
        said = said.replace(line, "").strip()
    return said, advice


def _compared(plan):
    """Return where the last reading lies against the expected range, in a sentence."""
    house = house_flow(plan.readings)
    where = plan.expected.compare(house.flow_50) if house else ""
    return {
        "below": "Below the expected range: look whether the gauge, the ring and the seals are right "
        "before you are glad.",
        "inside": "Inside the expected range.",
        "above": "Above the expected range: go over the preparation first, then look for the big hole.",
        "": "",
    }[where]


def _part_row(line, shown):
    return (line.what, line.kind, shown.flows(line.low, line.high), line.why)


def _worst_areas(expected, shown, most=6):
    areas = [line for line in expected.lines if line.kind == "area"]
    areas.sort(key=lambda line: -line.high)
    return [(line.what, shown.flows(line.low, line.high), line.why) for line in areas[:most]]


def _reading_row(reading, shown):
    return (
        reading.name, show_clock(reading.at) if reading.at else "", reading.stage,
        reading.direction or "", show(reading.pressure), shown.bare(reading.flow, "m3/s"),
        "" if reading.zero_before is None else show(reading.zero_before),
        "" if reading.zero_after is None else show(reading.zero_after),
        reading.aperture, reading.by, reading.note,
    )  # fmt: skip
