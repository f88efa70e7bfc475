"""Which pages help after a reading? What each open row costs the decision, and what to do after a miss."""

from airlab.leak_check import decision_costs, open_rows, remedy_candidates, rescue
from airlab.leak_check.readings import final_flow
from airlab.physics import equivalent_hole_area
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page, tick
from airlab.words import show, show_percent
from airlab.words.saying import listed

__all__ = ["miss_of", "miss_page", "open_rows_page"]

_BLANK_ROWS = 4


def open_rows_page(facts):
    """Return every open row taken as settled: what it frees, what it does to the number.

    Parameters
    ----------
    facts : Facts
        A job with a reading, its fan allowed to run.
    """
    found, costs = open_rows(facts.job), decision_costs(facts.release, facts.job.prices)
    computed = [
        ("as it stands", found.verdict), ("open rows", show(len(found.rows))),
        ("if every row were settled", found.together),
    ]  # fmt: skip
    if found.probability is not None:
        computed.append(("chance to keep the limit", show_percent(found.probability)))
    if found.probability_together is not None:
        computed.append(("with every row settled", show_percent(found.probability_together)))
    if costs:
        computed.append(("cheaper in the long run", costs.cheapest.name))
    return make_page(
        "open_rows", "Open rows",
        "What still holds an area back or moves the number, each row asked by itself. The most first.",
        facts.heading, computed=computed, sources=named_sources("AIRLAB", "DERIVED"), filled=True,
        figures=[(name, text, "") for name, text in computed],
        rows=[_row(one) for one in found.rows],
        costs=costs.sentence(facts.job.units) if costs else "",
    )  # fmt: skip


def _row(one):
    chance = "–"
    if None not in (one.before, one.after):
        before, after = show_percent(one.before), show_percent(one.after)
        chance = f"{before} to {after}" if before != after else f"stays {before}"
        chance = chance.replace(" ", "\N{NO-BREAK SPACE}")
    return (
        f"{one.kind} {one.name}", one.settled, listed(one.frees, most=8) or "none by itself", chance,
        one.verdict, tick(False),
    )  # fmt: skip


def miss_of(facts):
    """Return what was missed: flow at 50 Pa, what was allowed [m3/s], in words; None for no miss.

    A final reading is held against the limit, an earlier one against the mark of today.
    """
    if not facts.fan_may_run:
        return None
    flow = final_flow(facts.plan.readings)
    number = facts.release.number if facts.release else None
    if flow is not None:
        allowed = facts.plan.limit_flow
        words = "The final reading against the limit."
    elif number is not None and number.pass_flow > 0.0:
        flow, allowed = number.house.flow_50, number.pass_flow
        words = "Today's reading against the mark of today: what is still to come is counted."
    else:
        return None
    return (flow, allowed, words) if flow > allowed else None


def miss_page(facts):
    """Return what is still within reach after a miss, the gap, and the cheapest set that closes it.

    Parameters
    ----------
    facts : Facts
        A job whose reading misses, see `miss_of`.
    """
    job, plan, shown = facts.job, facts.plan, facts.shown
    flow, allowed, words = miss_of(facts)
    prices = job.prices or {}
    found = rescue(
        flow, allowed, job.remedies, min(max(plan.confidence, 0.5), 0.99),
        retest=prices.get("retest") or 0.0, currency=prices.get("currency") or "",
    ) if job.remedies else None  # fmt: skip
    gap = flow - allowed
    computed = [
        ("leakage flow at 50 Pa", shown.flow(flow)), ("allowed at 50 Pa", shown.flow(allowed)),
        ("too much at 50 Pa", shown.flow(gap)),
        ("as one sharp hole", shown.hole(float(equivalent_hole_area(gap)))),
    ]  # fmt: skip
    if found:
        computed.append(
            ("everything within reach closes it with", show_percent(found.all_probability))
        )
        if found.enough:
            computed.append(("the cheapest set closes it with", show_percent(found.probability)))
    chosen = found.chosen if found and found.enough else ()
    named = {one.name.casefold() for one in job.remedies}
    more = [
        (row["remedy"], row["where"], "yes" if row["reachable"] else "NO", "", "", "", tick(False))
        for row in remedy_candidates(plan.log, job.junctions, plan.areas)
        if row["remedy"].casefold() not in named
    ]
    return make_page(
        "miss", "After a miss",
        "What is still within reach, how big the gap is, which fixes close it for least, when to stop.",
        facts.heading, computed=computed, sources=named_sources("AIRLAB", "DERIVED", "TRADE"),
        filled=True, figures=[(name, text, "") for name, text in computed], words=words,
        advice=found.sentence(job.units) if found else "",
        rows=[(one.name, one.where, "yes" if one.reachable else "NO", shown.flows(one.low, one.high),
               show(one.cost), "yes" if one in chosen else "", tick(False))
              for one in job.remedies] + more,
        blank=_BLANK_ROWS, flow_unit=shown.name("m3/s"),
    )  # fmt: skip
