"""Which pages carry the house? The geometry sheet and the line sheet."""

from markupsafe import Markup

from airlab.building import junction_lengths, line_views, slip_sensitivity
from airlab.plots.line_drawing import line_drawing
from airlab.plots.line_shapes import SHAPES
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page, tick, two_lines
from airlab.words import InputError, show

__all__ = ["geometry_page", "inline", "line_page"]

_SLIP = 0.05  # the slip that every result is tried with
_HEIGHTS = (2.0, 4.0)  # m; a mean height outside is looked at again


def geometry_page(facts):
    """Return the geometry sheet: rooms, envelope, rule, check ratios, what a slip would do.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, house, shown = facts.job, facts.plan.geometry, facts.shown
    inside = [room for room in job.rooms if room.included]
    outside = {room.name for room in job.rooms if not room.included}
    sizes = house_sizes(house, shown)
    return make_page(
        "geometry", "Geometry sheet",
        "The sizes every result is divided by, how they were counted, who agreed to them.",
        facts.heading,
        computed=sizes,
        sources=named_sources("ISO9972", house.rule.source, "DERIVED"),
        sizes=[(name, text, "") for name, text in sizes],
        rooms=[_room_row(room, shown) for room in inside],
        room_total=("all rooms", "", "", "", "", shown.bare(house.floor_area, "m2"),
                    shown.bare(house.internal_volume, "m3"), ""),
        decisions=[(room.name, "in" if room.included else "OUT", room.why or "no reason given")
                   for room in job.rooms if room.why or not room.included],
        rule=house.rule,
        envelope=[_element_row(e, house.rule.counts(e) and e.room not in outside, shown)
                  for e in job.envelope],
        envelope_total=("counted", "", "", "", shown.bare(house.envelope_area, "m2"), "", ""),
        checks=_checks(house, shown),
        slips=_slips(facts),
        indicators=list(_indicators(facts)),
        warnings=house.warnings, assumed=facts.assumed,
    )  # fmt: skip


def house_sizes(house, shown):
    """Return the sizes of a house as (name, text)."""
    found = [("internal volume V", shown.value(house.internal_volume, "m3"))]
    if house.envelope_area is not None:
        found.append(("envelope area A_E", shown.value(house.envelope_area, "m2")))
    if house.floor_area is not None:
        found.append(("floor area A_F", shown.value(house.floor_area, "m2")))
        found.append(("mean height V / A_F", shown.value(house.mean_height, "m")))
    return tuple(found)


def _room_row(room, shown):
    shape = "" if room.shape in ("", "box") else room.shape
    return (
        two_lines(room.name, shape), room.storey, *(shown.bare(size, "m") for size in
                                  (room.length, room.width, room.height)),
        shown.bare(room.area, "m2"), shown.bare(room.air_volume, "m3"), tick(False),
    )  # fmt: skip


def _element_row(element, counted, shown):
    kind = "" if element.kind in element.element.casefold() else f" ({element.kind})"
    return (
        element.area, f"{element.element}{kind}", element.room, element.layer or "–",
        shown.bare(element.area_m2, "m2"), "yes" if counted else "no", tick(False),
    )  # fmt: skip


def _checks(house, shown):
    """Yield (check, this house, what to expect)."""
    low, high = (shown.value(height, "m") for height in _HEIGHTS)
    for storey in house.storeys:
        if storey.mean_height is not None:
            yield (
                f"mean height, {storey.name} storey", shown.value(storey.mean_height, "m"),
                f"{low} to {high}; a nominal storey height is too large",
            )  # fmt: skip
    if house.envelope_area is None:
        return
    whole = house.whole_envelope_area
    cube = 6.0 * house.internal_volume ** (2.0 / 3.0)
    yield (
        "volume over envelope V / A_E", shown.value(house.internal_volume / whole, "m"),
        "ratio between a result per area of envelope and the same result per hour",
    )  # fmt: skip
    yield (
        "envelope over that of a cube of this volume", show(whole / cube),
        "just above 1 for a plain box, more for wings and dormers, below 1 for a forgotten face",
    )  # fmt: skip
    ground = house.storeys[0].floor_area if house.storeys else None
    if house.lowest_floor_area and ground:
        yield (
            "lowest floor of the envelope over ground storey's rooms",
            show(house.lowest_floor_area / ground),
            "1 or a little more; the rest is partitions",
        )  # fmt: skip


def _slips(facts):
    """Yield (size, what a slip does to each result divided by it), from the target's flow."""
    for slip in slip_sensitivity(facts.indicators, _SLIP):
        if slip.metric.key not in ("n50", "qE50", "qF50"):
            continue
        unit = slip.metric.unit
        low, high = (facts.shown.indicator(v, unit) for v in (slip.if_too_large, slip.if_too_small))
        yield (
            slip.size, f"{slip.metric.symbol} {facts.shown.indicator(slip.value, unit)}",
            f"would read {high} with the {slip.size} too small, {low} with it too large",
        )  # fmt: skip


def _indicators(facts):
    """Yield (indicator, value, convention) of the target's flow in every common form."""
    for entry in facts.indicators.entries:
        if entry.value is not None:
            one = entry.metric
            value = facts.shown.indicator(entry.value, one.unit)
            yield f"{one.name[:1].upper()}{one.name[1:]}, {one.symbol}", value, one.convention


def line_page(facts):
    """Return the line sheet: pen lifts with their cure, layers, junctions, plan and sections.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, shown = facts.job, facts.shown
    layers = {}
    for element in job.envelope:
        layers.setdefault((element.element, element.layer or "not named", element.status), []).append(element)  # fmt: skip
    unclosed = [junction for junction in job.junctions if not junction.closed]
    length = sum(j.length or 0.0 for j in unclosed)
    views, trouble, doubts = _drawn(job, facts.heading.units)
    computed = (
        ("junctions", show(len(job.junctions))),
        ("of which still open", show(len(unclosed))),
        ("open length", shown.value(length, "m")),
        *((("pen lifts in all", show(len(views.check.lifts))),) if views else ()),
    )
    return make_page(
        "line", "Line sheet",
        "The airtight line, element by element and joint by joint: what it is, who owns it.",
        facts.heading, computed=computed, sources=named_sources("TRADE", "AIRLAB"),
        figures=[(name, text, "") for name, text in computed],
        lifts=[_lift_row(lift, shown) for lift in views.check.lifts] if views else [],
        line_closed=views is not None and views.check.closed,
        drawings=[inline(line_drawing(view)) for view in views.drawings] if views else [],
        rest=[mark.name for mark in views.rest] if views else [],
        notes=[*([trouble] if trouble else views.check.warnings), *doubts],
        layers=[(element, layer, status,
                 shown.bare(sum(one.area_m2 for one in group), "m2"),
                 ", ".join(dict.fromkeys(one.room for one in group)))
                for (element, layer, status), group in layers.items()],
        junctions=[_junction_row(number, junction, shown)
                   for number, junction in enumerate(job.junctions, start=1)],
        unclosed=[junction.junction for junction in unclosed],
    )  # fmt: skip


def _drawn(job, units):
    """Return the line in its drawings, or why it has none, and lengths to look at again."""
    try:
        views = line_views(
            job.rooms, job.envelope, job.junctions, holes=job.holes, trades=job.trades
        )
        lengths = junction_lengths(job.rooms, job.envelope, job.junctions)
    except InputError as error:
        return None, str(error), []
    return views, "", [one.sentence(units) for one in lengths if not one.agrees]


def inline(svg):
    """Return a drawing as a part of the page, which needs no name of a standard."""
    return Markup(svg.replace(' xmlns="http://www.w3.org/2000/svg"', ""))


def _lift_row(lift, shown):
    between = f"{lift.element_a} to {lift.element_b}" if lift.element_b else ", ".join(lift.rooms)
    between = "" if between == lift.name else between
    size = shown.value(lift.length, "m") if lift.length else "–"
    return (
        lift.number, f"{SHAPES[lift.why]} {lift.why}", two_lines(lift.name, between), size,
        lift.owner or "nobody yet", lift.cure, tick(False),
    )  # fmt: skip


def _junction_row(number, junction, shown):
    size = shown.value(junction.length, "m") if junction.length is not None else (
        show(junction.count, "") if junction.count is not None else "–"
    )  # fmt: skip
    layers = dict.fromkeys(layer or "not named" for layer in (junction.layer_a, junction.layer_b))
    return (
        number,
        two_lines(junction.junction, f"{junction.element_a} to {junction.element_b}"),
        two_lines(junction.joined or "not said", " / ".join(layers)),
        size, two_lines(junction.owner or "nobody yet", junction.inspection),
        junction.hidden_on or "–", tick(junction.closed),
    )  # fmt: skip
