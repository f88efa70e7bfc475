"""What does the plan of a check look like on a page: figures, schedule, route, assumptions?

Each function turns a record into HTML. What people typed is escaped.
"""

from html import escape

from airlab.leak_check import PHASES, Assumptions
from airlab.words import (
    PRESSURE_REFERENCE,
    display_unit,
    from_si,
    show,
    show_percent,
    show_range,
)
from airlab.words.saying import listed

__all__ = [
    "advice_list",
    "assumption_list",
    "plan_tiles",
    "route_list",
    "schedule_table",
]

_NONE = "–"
_LEAVES = ("window", "door", "hatch")
IN_ROOMS = PHASES[3]


def _flow(value, units):
    unit = display_unit("m3/s", units)
    return show(from_si(value, unit), unit)


def plan_tiles(plan, outlook, units="metric"):
    """Return the figures that a change moves: a number over its name.

    Parameters
    ----------
    plan : CheckPlan
        The plan.
    outlook : Outlook
        The decision looked at ahead.
    units : str
        'metric' or 'us'.
    """
    expected, unit = plan.expected, display_unit("m3/s", units)
    if expected:
        low, high = (from_si(q, unit) for q in (expected.low, expected.high))
        flow = show_range(low, high, unit, digits=3)
        aim = _flow(expected.pass_flow, units) if expected.pass_flow is not None else "search only"
    else:
        flow = aim = "no flow"
    reach = _reach(plan) if expected else "no fan"
    chance = _NONE
    if outlook.at_low is not None:
        chance = f"{show_percent(outlook.at_high)} to {show_percent(outlook.at_low)}"
        chance = chance.replace(" % to", " to") if "under" not in chance else chance
    ready = plan.preparation
    rows = (
        (flow, "to expect at 50 Pa"),
        (aim, f"aim: read at most, for {show_percent(plan.confidence)}"),
        (reach, "held by the fan"),
        (chance, "chance to keep the limit"),
        (f"{len(outlook.held)} of {outlook.areas}", "areas held back"),
        (f"{ready.seals} of {len(ready.lines)}", "openings sealed"),
        (str(len(plan.route.stops)), "stops to search"),
    )
    cells = "".join(f"<div><b>{escape(big)}</b> <span>{name}</span></div>" for big, name in rows)
    return f'<div class="airlab-strip">{cells}</div>'


def _reach(plan):
    if plan.fan is None:
        return "no fan entered"
    low = min(float(plan.fan.at_high.pressure_difference), PRESSURE_REFERENCE)
    high = min(float(plan.fan.at_low.pressure_difference), PRESSURE_REFERENCE)
    return show_range(low, high, "Pa", digits=3)


def advice_list(plan, units="metric"):
    """Return whether the fan reaches 50 Pa, and what to do, in its order."""
    if plan.fan is None:
        return "<p>No fan is entered: give a few points of pressure and flow.</p>"
    answer = {
        "yes": "It reaches 50 Pa.",
        "perhaps": "It reaches 50 Pa only if the house is at its tight end.",
        "no": "It does not reach 50 Pa.",
    }[plan.fan.answer]
    steps = "".join(f"<li>{escape(step)}</li>" for step in plan.fan.advice(units))
    return f'<p><b>{answer}</b></p><ul class="airlab-steps">{steps}</ul>'


def schedule_table(preparation, chosen="", units="metric", fan_runs=True):
    """Return the preparation schedule with its counts.

    Parameters
    ----------
    preparation : Preparation
        The schedule.
    chosen : str
        Opening that is being changed.
    units : str
        'metric' or 'us'.
    fan_runs : bool
        False where a hazard stops the fan: then no flow is shown.
    """
    states = [line.opening.required for line in preparation.lines]
    counts = listed([f"{states.count(s)} {s}" for s in dict.fromkeys(states)])
    rows = "".join(_opening_row(line, chosen, units, fan_runs) for line in preparation.lines)
    names = ("Opening", "For the reading", "Seal for the day", "Left open, at 50 Pa", "Mind")
    head = "".join(f'<th scope="col">{name}</th>' for name in names)
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    return (
        f"<p><b>{escape(counts.capitalize() or 'No openings yet')}.</b> {preparation.removed} of "
        f"{preparation.seals} seals ticked as taken off.</p>"
        f"{_scroll('Preparation schedule', table)}"
    )


def _opening_row(line, chosen, units, fan_runs):
    o = line.opening
    none = not fan_runs or not line.flow or (o.kind in _LEAVES and not line.sealed)
    mind = [*line.notes, *([f"found {o.found}: put right first"] if line.fault else [])]
    cells = (
        (f"■ {o.required}" if line.sealed else f"□ {o.required}", "airlab-whole"),
        ((o.sealed_with or "to choose") if line.sealed else _NONE, ""),
        (_NONE if none else _flow(line.flow, units), "airlab-whole"),
        ("; ".join(mind), ""),
    )
    mark = " aria-current=true" if o.name == chosen else ""
    where = ", ".join(part for part in (o.room, o.height) if part)
    name = f'<th scope="row">{escape(o.name)}<small>{escape(where)}</small></th>'
    return f"<tr{mark}>{name}{''.join(_cell(*cell) for cell in cells)}</tr>"


def _cell(words, kind):
    return f'<td class="{kind}">{escape(words)}</td>' if kind else f"<td>{escape(words)}</td>"


def route_list(stops):
    """Return stops of the route as a list; doors and method are said where they change.

    Parameters
    ----------
    stops : iterable of Stop
        In order.
    """
    parts, group, doors, how = [], None, None, None
    for stop in stops:
        here = f"{stop.room}, {stop.storey}" if stop.phase == IN_ROOMS and stop.room else stop.phase
        if here != group:
            parts.append("</ol>" if group else "")
            parts.append(f'<p class="airlab-part">{escape(_upper(here))}</p>')
            doors = parts.append(f"<p>Doors: {escape(stop.doors)}.</p>") or stop.doors
            parts.append("<ol>")
            group, how = here, None
        where = stop.height if stop.phase == IN_ROOMS else _where(stop)
        pressure = f" at {show(stop.pressure, 'Pa')}" if stop.pressure else ""
        method = f"{_upper(stop.method)}{pressure}."
        if stop.doors != doors:
            doors = stop.doors
            method += f" Doors: {doors}."
        said = f"<span>{escape(method)}</span>" if method != how else ""
        how = method
        parts.append(
            f'<li value="{stop.number}">{f"<b>{escape(where)}</b>: " if where else ""}'
            f"{escape(stop.place if where else _upper(stop.place))}."
            f" <i>{escape(_upper(stop.why))}.</i>{said}</li>"
        )
    parts.append("</ol>" if group else "<p>No stops here.</p>")
    return _scroll("Search route", "".join(parts), "airlab-route")


def _where(stop):
    return _upper(", ".join(part for part in (stop.room, stop.height) if part))


def _upper(words):
    return words[:1].upper() + words[1:]


def assumption_list(assumptions, keys, chosen="", units="metric"):
    """Return assumptions as a list: what, value, whose it is.

    Parameters
    ----------
    assumptions : Assumptions
        All of them.
    keys : iterable of str
        Those to show.
    chosen : str
        The one that is being changed.
    units : str
        'metric' or 'us'.
    """
    rows = []
    for one in (assumptions.entry(key) for key in keys):
        mark = " aria-current=true" if one.key == chosen else ""
        whose = "ours" if one.value == Assumptions().entry(one.key).value else "yours"
        value = escape(one.said(units))
        rows.append(
            f"<li{mark}><span>{escape(_upper(one.meaning))}</span><b>{value}, {whose}</b></li>"
        )
    return (
        "<p><b>Assumed, not measured.</b> Change any of them on the left.</p>"
        f'<ul class="airlab-facts">{"".join(rows)}</ul>'
    )


def _scroll(name, inside, kind=""):
    classes = f"airlab-scroll airlab-list {kind}".strip()
    return f'<div class="{classes}" tabindex="0" role="region" aria-label="{name}">{inside}</div>'
