"""Which pages stand at the two ends of a job? The rough first page, the kit list, the owner's page."""

from collections import Counter

from airlab.building import indicators, judge, limits, ventilation_needs
from airlab.building.site import site_from_settings
from airlab.files.weather_year import weather_of
from airlab.in_use import (
    HeatFactors,
    ageing,
    draught_at,
    fresh_air,
    lived_house,
    lived_settings,
    side_by_side,
)
from airlab.in_use.heat import show_energy
from airlab.leak_check.known_leakage import known_leakage
from airlab.physics import jet_speed
from airlab.sheets.facts import boxes
from airlab.sheets.glossary import named_sources
from airlab.sheets.house import house_sizes
from airlab.sheets.page import make_page, tick
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    caution,
    display_unit,
    from_si,
    mm,
    show,
    show_percent,
    show_range,
)

__all__ = ["kit_page", "owner_page", "rough_page"]

_LEAST_TAGS = 20
_TAGS_FOR_EACH_ROOM = 5
_LEAST_TAPE = 10.0  # m
_PATCH = 0.3  # m of tape round the patch of one hole
_COMPARED_KINDS = ("limit", "backstop", "target")
_PUSH = 4.0  # Pa, a cold or windy day
_GAP, _AWAY = mm(1.0), 2.0  # of a leak, and from it to a chair [m]
_KEYS = ("n50", "qE50", "qF50", "hole50")


def rough_page(facts):
    """Return the one page of the first three minutes: allowance, holes, expected flow, what next.

    Parameters
    ----------
    facts : Facts
        A job without rooms.
    """
    rough, shown, plan = facts.plan.rough, facts.shown, facts.plan
    target = facts.goal({"metric": rough.metric, "value": rough.value})
    computed = [
        ("target", target),
        ("allowance: all leaks together at 50 Pa", shown.flow(rough.allowance)),
        ("all holes together, as one sharp hole", shown.hole(rough.hole_area)),
    ]
    if facts.fan_may_run:
        computed.append(("flow to expect on the day at 50 Pa, layer complete",
                         shown.flows(rough.expected_low, rough.expected_high)))  # fmt: skip
    sizes = house_sizes(rough.geometry, shown)
    return make_page(
        "rough", "First draft",
        "What the target means for a house of this size, before any room has been measured.",
        facts.heading, computed=(*computed, *sizes),
        sources=named_sources("AIRLAB", "STAGE_PAIRS", "DERIVED"),
        figures=boxes(computed), sizes=sizes, verdict=plan.hazards, may_run=facts.fan_may_run,
        day=rough.assumptions[-1],
        assumed=facts.assumed,
        same=[(one.metric.symbol if one.metric.basis else "–", one.metric.name, shown.indicator(one.value, one.metric.unit))
              for one in (facts.indicators[key] for key in _KEYS)],
        fan=shown.flow(rough.expected_high) if facts.fan_may_run else "",
    )  # fmt: skip


def kit_page(facts):
    """Return the kit list: what to load for this house, counted from its own tables.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    plan, shown = facts.plan, facts.shown
    rooms = {stop.room for stop in plan.route.stops if stop.room}
    seals = Counter(
        line.opening.sealed_with or "tape and film"
        for line in plan.preparation.lines
        if line.sealed
    )
    unclosed = [one for one in facts.job.junctions if not one.closed]
    metres = sum(one.length or 0.0 for one in unclosed)
    holes = sum(trade.holes_expected for trade in facts.job.trades)
    tape = max(_LEAST_TAPE, metres + _PATCH * holes)
    tags = max(_LEAST_TAGS, _TAGS_FOR_EACH_ROOM * len(rooms))
    drains = sum(line.opening.kind == "drain" for line in plan.preparation.lines)
    camera = any("camera" in stop.method and "no" not in stop.method for stop in plan.route.stops)
    rows = [
        ("fan, door panel or frame, gauge, hoses", _fan_need(facts)),
        ("protected lead, guard, wedges for doors", f"{len(rooms)} wedges, one for each room"),
        ("smoke pens, and a damp cloth for the hand", f"{len(plan.route.stops)} stops on the route"),
        ("thermal camera", "worth it: enough contrast" if camera else
         "little use: too little contrast, or the fan stays off"),
        ("numbered tags, wax crayon", f"{tags}"),
        *((f"seals for the day: {name}", f"{count}") for name, count in sorted(seals.items())),
        ("water for traps", f"{drains} drains"),
        ("patch tape, primer, sealant, collars by the material list",
         f"{shown.value(tape, 'm')} of tape: open joints {shown.value(metres, 'm')}, "
         f"{show(holes)} holes still expected"),
        ("this pack on paper, pens, a hard board, spare log sheets", "1 of each for each person"),
        ("carbon monoxide alarm, eye protection, gloves, torch, ladder with a second person", "1 set"),
    ]  # fmt: skip
    return make_page(
        "kit", "Kit list", "What to load for this house. Amounts come from its own tables.",
        facts.heading,
        computed=[("rooms walked", show(len(rooms))), ("tags", show(tags)),
                  ("seals for the day", show(plan.preparation.seals)),
                  ("patch tape", shown.value(tape, "m"))],
        sources=named_sources("TRADE", "AIRLAB"),
        rows=[(tick(False), what, amount, tick(False)) for what, amount in rows],
    )  # fmt: skip


def _fan_need(facts):
    expected = facts.plan.expected
    if expected is None:
        return "not before the hazards are settled"
    return f"up to {facts.shown.flow(expected.high)} at {show(PRESSURE_REFERENCE, 'Pa')}"


def owner_page(facts):
    """Return the owner's page: the number, what it compares to, fresh air, what not to drill.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    plan, shown, job = facts.plan, facts.shown, facts.job
    known = known_leakage(job) if facts.filled else None
    measured = known is not None and known.measured
    flow = known.flow if measured else plan.target_flow
    exponent = known.flow_exponent if measured else plan.assumptions["flow_exponent"]
    whose = known.origin.removeprefix("from ") if measured else "the target"
    found = indicators(flow, plan.final, exponent)
    computed = [(f"leakage at 50 Pa, {whose}", shown.flow(flow))]
    computed += [(found[key].metric.name, shown.indicator(found[key].value, found[key].metric.unit))
                 for key in _KEYS if found[key].value is not None]  # fmt: skip
    later, leak = ageing(flow), draught_at(_PUSH, _GAP, _AWAY)
    days = _everyday(facts, flow, exponent)
    if "air" in days:
        computed.append(("air changes an hour in everyday weather", days["air"]))
    layers = {}
    for area in plan.areas:
        layers.setdefault(area.layer or "not named", {})[area.element] = None
    return make_page(
        "owner", "For the owner",
        "What the number says, what it does not say, and how to keep it.",
        facts.heading, computed=computed,
        sources=named_sources("TIGHTVENT", "ISO7730", *(one.source for one in later.findings), "DERIVED"),
        filled=measured, figures=[(name, text, "") for name, text in computed[:1 + len(_KEYS)]],
        times=show(found["n50"].value), hole=shown.indicator(found["hole50"].value, "cm2"),
        measured=measured, whose=whose, push=shown.value(jet_speed(PRESSURE_REFERENCE), "m/s", 1),
        days=days, leak=leak, bothered=[show_percent(one) for one in leak.ratings], later=later,
        aged=(shown.flow(later.mean), shown.flows(later.low, later.high)),
        limit=facts.goal(plan.limit), limit_share=show_percent(flow / plan.limit_flow),
        compared=[_compared_row(one, facts) for one in _verdicts(flow, facts)],
        layers=[(layer, ", ".join(where)) for layer, where in layers.items()], ventilation=caution("ventilation").text,
        radon=caution("radon").text,
    )  # fmt: skip


def _everyday(facts, flow, exponent):
    """Return in words what every model says of the finished house in its weather; or why none can."""
    job = facts.job
    try:
        house = lived_house(facts.plan.final, flow, exponent, site_from_settings(job.site),
                            **lived_settings(job))  # fmt: skip
        found = side_by_side(house, weather_of(job))
    except InputError as error:
        return {"refused": str(error)}
    heat = min(found.heats), max(found.heats)
    per = f"heat_{display_unit('J', job.units).lower()}"
    return {
        "air": show_range(*found.rates), "once": show_range(*(1.0 / one for one in found.rates[::-1])),
        "models": len(found.entries), "chosen": bool(job.site.get("weather")), "whose": found.weather.whose,
        "repaired": found.weather.notes, "stands": house.stands, "heat": show_energy(heat, job.units),
        "need": _need(job, found), "money": HeatFactors(job.prices.get(per), units=job.units).sentence(heat),
    }  # fmt: skip


def _need(job, found):
    """Return the fresh air that the rule kept with the job asks for, against what leaks bring; or nothing."""
    own, floor = job.assumptions, found.house.floor_area
    rules = ventilation_needs(floor, own["bedrooms"]) if floor and "bedrooms" in own else ()
    asked = next((one for one in rules if one.jurisdiction == own.get("fresh_air_rule")), None)
    if asked is None:
        return ""
    unit = display_unit("L/s", job.units)
    air = fresh_air(found.flows, asked.flow, found.engine.heating)
    need, *ends = (from_si(one, unit) for one in (asked.flow, *air.mean))
    return (
        f"{asked.jurisdiction}, {asked.document} ({asked.status}), asks for {show(need, unit)} with {own['bedrooms']} "
        f"bedrooms. The leaks bring {show_range(*ends, unit)} on average while the heating runs: too little in "
        f"{show_range(*air.hours_short, digits=4)} of {air.hours} hours."
    )


def _verdicts(flow, facts):
    """Return the house held against the first bound that was read in each country's document."""
    first = {}
    for one in limits(kinds=_COMPARED_KINDS):
        if one.status == "read":
            first.setdefault(one.jurisdiction, one)
    found = judge(flow, first.values(), facts.plan.final, facts.plan.assumptions["flow_exponent"])
    return [one for one in found if one.value is not None]


def _compared_row(one, facts):
    limit, unit = one.limit, one.limit.unit
    allowed, value = (facts.shown.indicator(each, unit) for each in (limit.value, one.value))
    figure = limit.shown() if limit.shown().startswith(allowed) else f"{limit.shown()}, {allowed}"
    return (
        f"{limit.name}, {limit.applies_to}",
        figure,
        f"{value}, {'inside' if one.meets else 'over'}",
    )
