"""Which page is signed before the layer is covered? The release sheet, filled or to fill by pen.

The blank sheet carries the whole arithmetic: somebody with a pen and no computer reaches the
decision that the computer reaches when the sheet is typed in.
"""

from airlab.leak_check import VERDICTS
from airlab.sheets.facts import (
    boxes,
    budget_at_mark,
    pass_marks,
    whole_down,
    with_good_reading,
)
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page, tick
from airlab.words import PRESSURE_REFERENCE, label, show, show_percent

__all__ = ["release_page"]

_SHAPES = dict(zip(VERDICTS, ("●", "◐", "■", "○")))
_WHY = dict.fromkeys(VERDICTS, "evidence supports covering") | {
    "ALREADY COVERED": "nothing is known against it"
}
_BANDS = 3  # tables side by side
_SIGNED = ("airtightness lead, date", "for the owner, date", "trade that covers, date")


def stated(verdict):
    """Return a verdict as shape and words."""
    return f"{_SHAPES.get(verdict, '–')} {verdict}"


def release_page(facts, blank=False):
    """Return the release sheet: areas, number for the house, assumptions, who signs.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    blank : bool
        The sheet to fill by pen, with its arithmetic, whatever has been read.
    """
    return _by_pen(facts) if blank else _decided(facts)


def _basis(facts):
    """Return (name, text) of what the number for the house rests on."""
    plan, shown = facts.plan, facts.shown
    found = [
        ("limit", facts.goal(plan.limit)),
        ("final internal volume", shown.value(plan.final.internal_volume, "m3")),
        ("final envelope area", shown.value(plan.final.envelope_area, "m2")),
    ]
    if facts.fan_may_run:
        found.append(("limit as a flow at 50 Pa", shown.flow(plan.limit_flow)))
    return found


def _drift(facts):
    """Return the sentences of what is assumed about the way from today to the final test."""
    plan, shown = facts.plan, facts.shown
    said = [plan.state.sentence(facts.job.units)]
    if facts.fan_may_run and plan.expected is not None:
        said += [one.sentence(facts.job.units) for one in plan.expected.holes]
        if plan.expected.hidden_flow:
            said.append(
                f"Behind seals for the day: {shown.flow(plan.expected.hidden_flow)} at 50 Pa."
            )
    return said


def _decided(facts):
    plan, found, shown = facts.plan, facts.release, facts.shown
    computed, number = _basis(facts), None
    if found is not None:
        computed.insert(0, ("decision", found.verdict))
        computed.append(("areas the evidence supports covering", show(len(found.supported))))
        number = found.number if facts.fan_may_run else None
    if number is not None:
        computed += [
            ("today's leakage flow at 50 Pa", shown.flow(number.house.flow_50)),
            ("chance to keep the limit", show_percent(found.probability)),
            ("pass mark for today by the drift at 50 Pa", shown.flow(number.pass_flow)),
        ]
    second = found.by_budget if number is not None else None
    if second is not None:
        chance = "no number" if second.probability is None else show_percent(second.probability)
        which = (
            ("chance by the drift", show_percent(number.probability)),
            ("chance by the budget", chance),
        )
        computed[-1:-1] = which
    return make_page(
        "release", "Release sheet",
        "Which areas may be covered, on what evidence, and who says so. Release is by area, the "
        "number is for the house.",
        facts.heading, computed=computed, sources=_sources(plan),
        filled=facts.filled and bool(plan.readings or plan.log.events), by_pen=False,
        verdict=plan.hazards, release=found, shape=stated, number=number,
        figures=boxes(computed[1:]),
        groups=_grouped(found.areas if found else ()),
        house=number.house.sentence(facts.job.units) if number else "",
        second=second.sentence(facts.job.units) if second else "",
        drift=_drift(facts), moved=[one.sentence(facts.job.units) for one in found.moved]
        if number else [],
        headroom=_headroom(number, shown), signed=_SIGNED,
        confidence=show_percent(plan.confidence),
    )  # fmt: skip


def _grouped(areas):
    """Return areas of one verdict and one reason together: verdict, areas by room, why."""
    groups = {}
    for one in areas:
        groups.setdefault((one.verdict, " ".join(one.reasons)), []).append(one)
    order = list(VERDICTS)
    ranked = sorted(groups.items(), key=lambda item: order.index(item[0][0])
                    if item[0][0] in order else len(order))  # fmt: skip
    return [
        (stated(verdict), show(len(group)), ", ".join(seen_from(one) for one in group),
         why or _WHY[verdict])
        for (verdict, why), group in ranked
    ]  # fmt: skip


def _headroom(number, shown):
    if number is None:
        return ""
    if number.headroom < 0.0:
        return f"By the drift too much by {shown.flow(-number.headroom)} at 50 Pa today."
    return f"Left by the drift for holes that nobody has planned: {shown.flow(number.headroom)} at 50 Pa."


def _sources(plan):
    return named_sources(
        "AIRLAB", "STAGE_PAIRS", "PASSIPEDIA", "DERIVED",
        *(plan.assumptions.entry(key).source for key in ("test_uncertainty", "exponent_spread")),
    )  # fmt: skip


def _by_pen(facts):
    plan, shown = facts.plan, facts.shown
    unit = shown.unit("m3/s")
    marks = pass_marks(facts)
    at_50 = next((one for one in marks if one.pressure == PRESSURE_REFERENCE), None)
    usable = at_50 is not None and at_50.at_50 > 0.0
    computed = _basis(facts)
    if usable:
        computed.append(("pass mark at 50 Pa", f"{whole_down(at_50.at_50, unit)} {label(unit)}"))
    return make_page(
        "release-blank", "Release sheet, to fill by pen",
        "The whole decision on paper: read, reckon, look at every area, sign. Type it in later; "
        "it comes out the same.",
        facts.heading, computed=computed, sources=_sources(plan), by_pen=True,
        verdict=plan.hazards, may_run=facts.fan_may_run, state=plan.state,
        state_sentence=plan.state.sentence(facts.job.units),
        mark=whole_down(at_50.at_50, unit) if usable else "", flow_unit=label(unit),
        metric_mark="" if unit == "m3/h" or not usable else f"{whole_down(at_50.at_50, 'm3/h')} m³/h",
        second=_asked_at(budget_at_mark(facts, at_50)) if usable else "",
        used_up=at_50 is not None and not usable, entered=facts.release is not None,
        sucking=facts.job.direction == "depressurise", direction=facts.job.direction,
        bands=_bands(marks, unit) if usable else [], lowest=show(marks[0].pressure) if marks else "",
        figures=boxes(computed),
        areas=[_area_row(one) for one in with_good_reading(facts).areas] if usable else [],
        drift=_drift(facts), confidence=show_percent(plan.confidence), signed=_SIGNED,
    )  # fmt: skip


def _asked_at(second):
    """Return what the budget says of a reading at the pass mark, which is the drift's; empty without one."""
    if second is None:
        return ""
    text = "The mark is by the drift. The job has a budget, and the lower of the two decides:"
    if second.probability is None:
        return f"{text} asked at that reading it gives no number, so the drift decides alone."
    chance = show_percent(second.probability)
    if second.probability >= second.by_drift:
        return f"{text} asked at that reading it gives {chance} and agrees."
    return (
        f"{text} asked at that reading it gives {chance}, which is lower. Sign nothing by pen: type the "
        "reading in first."
    )


def _bands(marks, unit):
    """Return the marks side by side: pressure, read at most, factor, mean of both at 50 Pa."""
    rows = [
        (show(one.pressure), whole_down(one.as_read, unit), f"{one.factor:.3f}",
         whole_down(one.both_at_50, unit))
        for one in marks
    ]  # fmt: skip
    size = -(-len(rows) // _BANDS)
    return [rows[start : start + size] for start in range(0, len(rows), size)]


def seen_from(one):
    """Return an area's name, with its room unless the name says it."""
    named = not one.room or one.room.casefold() in one.area.casefold()
    return one.area if named else f"{one.area} ({one.room})"


def _area_row(one):
    """Return an area with what is known against it when the sheet is printed."""
    where = seen_from(one)
    if one.verdict not in VERDICTS:
        return (where, "covered already", *("–",) * 5)
    return (where, " ".join(one.reasons) or "nothing known", *(tick(False),) * 5)
