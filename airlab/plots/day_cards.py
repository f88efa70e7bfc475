"""What does the day of the check look like on a page: readings, leaks, new holes?

Each function turns records into HTML. What people typed is escaped; a state is a shape and a word.
"""

from html import escape

from airlab.leak_check import MARKS
from airlab.plots.day_html import bare_flow, flags, flow_words, table
from airlab.plots.decision import headroom_drawing, readings_drawing
from airlab.plots.leak_map import leak_map
from airlab.plots.sizes import tile_row
from airlab.words import caution, display_unit, from_si, show, show_percent, show_range

__all__ = ["hole_card", "log_card", "next_acts", "reading_card"]

_STRENGTHS = {1: "1 faint", 2: "2 clear", 3: "3 strong"}
_ACTS = {
    "marked": "tag it anew", "sealed": "seal", "rechecked": "re-check", "not a leak": "not a leak",
    "intentional": "intentional, never seal", "unreachable": "out of reach now",
    "accepted": "accept with a reason", "reopened": "open again", "covered": "covered",
}  # fmt: skip
_MOST_READINGS = 8


def next_acts(leak):
    """Return what may be done to a leak now, as pairs of words and act.

    Parameters
    ----------
    leak : Leak
        The leak.
    """
    return tuple((_ACTS[did], did) for did in leak.allowed)


def _stop(stop, units):
    if stop is None:
        return '<p class="airlab-stop"><b>Next stop:</b> the route is walked to its end.</p>'
    return f'<p class="airlab-stop"><b>Next stop</b> {escape(stop.sentence(units))}</p>'


# readings -----------------------------------------------------------------------------------


def reading_card(day, stop=None, units="metric"):
    """Return readings against what is expected, gain of the last batch, the next stop.

    Parameters
    ----------
    day : CheckDay
        The day as it stands.
    stop : Stop or None
        Next stop of the route.
    units : str
        'metric' or 'us'.
    """
    plan = day.plan
    parts = []
    if plan is None:
        parts.append(f'<p class="airlab-missing">{escape(day.missing)}</p>')
    else:
        expected = plan.expected
        unit = display_unit("m3/s", units)
        low, high = (from_si(flow, unit) for flow in (expected.low, expected.high))
        aim = "search only, no number"
        if expected.pass_flow is not None:
            aim = (
                flow_words(expected.pass_flow, units)
                if expected.pass_flow > 0.0
                else "nothing is left"
            )
        parts.append(tile_row((
            (show_range(low, high, unit, digits=3), "to expect at 50 Pa today"),
            (aim, f"read at most at 50 Pa, to be {show_percent(plan.confidence)} sure of the limit"),
            (_reach(plan), "what the fan is reckoned to hold"),
        )))  # fmt: skip
        faults = plan.preparation.faults
        if faults:
            parts.append(flags([line.sentence(units) for line in faults]))
        parts.append(_stop(stop, units))
    if day.total is not None:
        words = day.total.sentence(units)
        parts.append(f'<p class="airlab-stop airlab-total">{escape(words)}</p>')
    parts.append(f'<div class="airlab-draw">{readings_drawing(day, units)}</div>')
    if day.readings:
        parts.append(_reading_table(day, units))
        parts.append(flags(
            warning if warning.startswith("Reading ") else f"Reading {one.reading.name}. {warning}"
            for one in day.readings[-2:] for warning in one.warnings
        ))  # fmt: skip
        parts.append(f'<p class="airlab-gain">{escape(day.gained(units))}</p>')
    return "".join(parts)


def _reach(plan):
    if plan.fan is None:
        return "no fan entered"
    low = min(float(plan.fan.at_high.pressure_difference), 50.0)
    high = min(float(plan.fan.at_low.pressure_difference), 50.0)
    return show_range(low, high, "Pa", digits=3)


def _reading_table(day, units):
    rows = [_reading_row(one, units) for one in day.readings[-_MOST_READINGS:]]
    unit = display_unit("m3/s", units)
    flow = show(0.0, unit).removeprefix("0 ")
    name = "Readings"
    if len(day.readings) > _MOST_READINGS:
        name += f", the last {_MOST_READINGS} of {len(day.readings)}"
    heads = ("No.", "Time", "Stage", "Fan", "Reached", f"Read [{flow}]", f"At 50 Pa [{flow}], 95 %",
             "Zero", "Ring")  # fmt: skip
    return table(name, heads, rows)


def _reading_row(one, units):
    typed, corrected = one.reading, one.corrected
    unit = display_unit("m3/s", units)
    low, high = (from_si(flow, unit) for flow in (one.low, one.high))
    zero = "not read" if corrected.zero is None else show(corrected.zero, "Pa", 2)
    return (
        escape(typed.name),
        typed.at.strftime("%H:%M") if typed.at else "",
        escape(typed.stage),
        "suction" if corrected.direction == "depressurise" else "blowing in",
        show(abs(corrected.pressure_difference), "Pa"),
        bare_flow(typed.flow, units),
        f"<b>{bare_flow(corrected.flow_50, units)}</b> ({show_range(low, high, digits=3)})",
        zero,
        escape(typed.aperture),
    )


# leaks --------------------------------------------------------------------------------------


def log_card(log, rooms=(), stop=None, units="metric", chosen=None, most=60):
    """Return where the tags are and each leak with its state and its next act.

    Parameters
    ----------
    log : Log
        Leaks so far.
    rooms : iterable of Room
        Rooms of the house.
    stop : Stop or None
        Next stop of the route.
    units : str
        'metric' or 'us'.
    chosen : int or None
        Number of the leak that is being worked on.
    most : int
        Rows printed; those that still need something come first.
    """
    leaks = log.leaks
    draw = f'<div class="airlab-draw">{leak_map(rooms, log, leaks)}</div>'
    order = sorted(leaks, key=lambda leak: (leak.number != chosen, not leak.blocks, -leak.number))
    rows = [_leak_row(leak, leak.number == chosen) for leak in order[:most]]
    name = "Leaks, those that need something first"
    if len(leaks) > most:
        name += f": {most} of {len(leaks)}; the printed log has them all"
    heads = ("Tag", "State", "Where", "Strength", "Fixed with", "Next")
    listed = table(name, heads, rows, "No leak is entered yet.")
    problems = flags(problem for leak in leaks for problem in leak.problems)
    never = f"<p>{escape(caution('fire_stopping').text)}</p>"
    return (_stop(stop, units) if stop else "") + draw + problems + listed + never


def _leak_row(leak, chosen):
    mark = f'<span class="airlab-shape">{MARKS[leak.state]}</span> {leak.number}'
    notes = [leak.state]
    notes += ["covered"] if leak.covered else []
    state = escape(", ".join(notes))
    if leak.late:
        state += " <small>entered afterwards</small>"
    if leak.reason and leak.state not in ("open", "closed"):
        state += f" <small>{escape(leak.reason)}</small>"
    where = leak.where if leak.area in ("", leak.where) else f"{leak.where} ({leak.area})"
    todo = leak.todo
    if chosen:
        mark = f'<span aria-hidden="true">▸</span> {mark}'
        todo = "may be: " + ", ".join(words for words, _ in next_acts(leak))
    return (
        mark, state, escape(where), _STRENGTHS.get(leak.strength, ""), escape(leak.material),
        escape(todo),
    )  # fmt: skip


# holes --------------------------------------------------------------------------------------


def hole_card(register, number=None, draft=None, units="metric"):
    """Return the register of holes against what is left, with the hole that is being typed.

    Parameters
    ----------
    register : HoleRegister
        Holes so far.
    number : HouseNumber or None
        The number for the house.
    draft : RegisteredHole or None
        A hole that is not entered yet.
    units : str
        'metric' or 'us'.
    """
    parts = []
    if number is not None:
        drawn = headroom_drawing(register, number, draft, units)
        parts.append(f'<div class="airlab-draw">{drawn}</div>')
    if draft is not None:
        parts.append(f'<p class="airlab-stop"><b>Not entered yet.</b> {escape(draft.sentence(units))}</p>')  # fmt: skip
    unit = "in" if units == "us" else "mm"
    rows = [
        (
            escape(one.hole.name), escape(one.hole.area or "not entered: every area"),
            show(from_si(one.diameter, unit), unit), flow_words(one.flow, units),
            escape(one.hole.trade), "planned" if one.planned else "not planned",
            f"{'■' if one.ends_release else '●'} {one.state}",
            "ended until sealed and looked at" if one.ends_release else "stands",
        )
        for one in reversed(register.holes)
    ]  # fmt: skip
    heads = ("Hole", "Area", "Across", "Open, at 50 Pa", "Trade", "Planned", "State", "Release")
    parts.append(table("Holes made since the check", heads, rows, "No hole is entered yet."))
    parts.append(f"<p>{escape(caution('fire_stopping').text)}</p>")
    return "".join(parts)
