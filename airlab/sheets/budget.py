"""The budget sheet: what each line may leak, who answers for it, room for what was found."""

from airlab.building.components import component
from airlab.design import HONESTY, make_budget
from airlab.plots.budget import budget_bars, budget_houses
from airlab.sheets.glossary import all_sources, named_sources
from airlab.sheets.house import inline
from airlab.sheets.page import make_page, two_lines
from airlab.words import InputError, from_si, show, show_percent

__all__ = ["budget_page"]

_HOUSES = 50_000


def budget_page(facts):
    """Return the budget sheet: lines with their leakage, share, owner, check, and found after.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, shown, answer, trouble = facts.job, facts.shown, None, ""
    try:
        answer = make_budget(job, _HOUSES)
    except InputError as error:
        trouble = str(error)
    computed = (("lines", show(len(job.budget))), ("the target allows at 50 Pa", shown.flow(facts.plan.target_flow)))  # fmt: skip
    if answer:
        computed += (
            ("middle case at 50 Pa", shown.flow(answer.final[1])),
            ("eight houses in ten at 50 Pa", shown.flows(answer.final[0], answer.final[2])),
            ("chance to keep the limit", show_percent(answer.chance_limit)),
            ("chance to keep the target", show_percent(answer.chance_aim)),
        )
    sources = named_sources("AIRLAB", "DERIVED", *_used(job))
    return make_page(
        "budget", "Leakage budget",
        "Where the leakage of the finished house will be, who answers for it, how it is looked at.",
        facts.heading, computed=computed, sources=sources, trouble=trouble,
        figures=[(name, text, "") for name, text in computed], honesty=HONESTY,
        warnings=answer.warnings if answer else (),
        drawings=[inline(budget_bars(answer, facts.heading.units)), inline(budget_houses(answer, units=facts.heading.units))]
        if answer else [],
        rows=[_row(one, answer.houses.entries, shown) for one in answer.shares] if answer else
        [(one.item, "", "", "", "", one.owner, one.inspection, "") for one in job.budget],
    )  # fmt: skip


def _used(job):
    """Return the sources of the components a budget names."""
    known = all_sources()
    keys = (component(one.component).source for one in job.budget if one.component)
    return [key for key in keys if key in known]


def _row(share, entries, shown):
    line = next(one.line for one in entries if one.name == share.name)
    counted = share.unit in ("item", "hole")
    unit = {"item": "piece"}.get(share.unit, share.unit) if counted else shown.name(share.unit)
    unit += "s" if counted and share.quantity != 1.0 else ""
    size = 1.0 if counted else from_si(1.0, shown.unit(share.unit))  # how many to one of the table
    figures = [q / size for q in line.figures] if line and not share.is_lift else None
    one = " / ".join(shown.bare(flow, "m3/s", 2) for flow in figures) if figures else "open joint" if share.is_lift else "–"  # fmt: skip
    return (
        two_lines(share.name, line.note if line else ""), f"{show(share.quantity * size)} {unit}", one,
        " / ".join(shown.bare(flow, "m3/s", 2) for flow in (share.low, share.mid, share.high)),
        show_percent(share.share), line.owner if line else "", line.inspection if line else "", "",
    )  # fmt: skip
