"""Which pages protect the layer after the check? The hole register and a card for each trade."""

from airlab.leak_check import Trade, holes_to_come
from airlab.physics import RoundHole
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page, tick
from airlab.words import PRESSURE_REFERENCE, mm, show, show_percent

__all__ = ["holes_page", "trades_page"]

_USUAL_DIAMETERS = tuple(mm(size) for size in (6.0, 10.0, 25.0, 50.0, 110.0))
_BLANK_ROWS = 8
_MOST_JUNCTIONS = 3


def _cost(diameter, count=1):
    """Flow at 50 Pa through open round holes; None where there is nothing to reckon. [m3/s]"""
    if not diameter or not count:
        return None
    return count * float(RoundHole.from_diameter(diameter).flow(PRESSURE_REFERENCE))


def holes_page(facts):
    """Return the hole register: holes made, holes expected, what each costs at 50 Pa.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, shown = facts.job, facts.shown
    unsealed = [hole for hole in job.holes if not (hole.sealed_with and hole.checked)]
    lost = sum(_cost(hole.diameter) or 0.0 for hole in unsealed)
    to_come = holes_to_come(job.trades, job.holes, facts.plan.assumptions)
    expected = sum(_cost(one.diameter, one.count) for one in to_come)
    left = sum(one.flow for one in to_come)
    diameters = sorted({*(one.diameter for one in to_come), *_USUAL_DIAMETERS})
    computed = (
        ("holes not yet sealed and looked at", show(len(unsealed))),
        ("their flow at 50 Pa if all stand open", shown.flow(lost)),
        ("planned holes at 50 Pa if all stand open", shown.flow(expected)),
        ("planned holes left open at 50 Pa", shown.flow(left)),
        ("all that the house may lose at 50 Pa", shown.flow(facts.plan.target_flow)),
    )
    return make_page(
        "holes", "Hole register",
        "Every hole made through the airtight layer between the check and the final test.",
        facts.heading, computed=computed, sources=named_sources("TRADE", "DERIVED"),
        filled=facts.filled and bool(job.holes),
        figures=[(name, text, "") for name, text in computed],
        rows=[_hole_row(hole, shown) for hole in job.holes] if facts.filled else [],
        blank=_BLANK_ROWS,
        planned=[_to_come_row(one, shown) for one in to_come],
        sizes_heads=[("open round hole", ""), *((shown.value(d, "mm"), "n") for d in diameters)],
        sizes=[
            (f"flow at 50 Pa, {shown.name('m3/s')}", *(shown.bare(_cost(d), "m3/s") for d in diameters)),
            ("share of what it may lose",
             *(show_percent(facts.share(_cost(d))) for d in diameters)),
        ],
    )  # fmt: skip


def _hole_row(hole, shown):
    return (
        hole.name, hole.trade, hole.area, shown.bare(hole.diameter, "mm"),
        shown.bare(_cost(hole.diameter), "m3/s"), hole.why, hole.made_on or "", hole.approved_by,
        hole.sealed_with, tick(hole.checked),
    )  # fmt: skip


def _to_come_row(one, shown):
    trade = one.trade
    return (
        trade.name, trade.work, trade.arrives_on or "–", show(one.count),
        shown.bare(one.diameter, "mm"), shown.bare(_cost(one.diameter, one.count), "m3/s"),
        show_percent(one.share_left_open) + (" assumed" if trade.share_left_open is None else ""),
        shown.bare(one.flow, "m3/s"), "yes" if trade.briefed else "NO",
    )  # fmt: skip


def trades_page(facts):
    """Return a card for each trade to come and each owner of an open junction.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, shown = facts.job, facts.shown
    cards = [_card(trade, job, facts) for trade in (*_owners(job), *job.trades)]
    return make_page(
        "trades", "Trade cards",
        "One side for each trade that still comes: what to look after, what not to do.",
        facts.heading,
        computed=[(card["name"], card["cost"].rstrip(".")) for card in cards],
        sources=named_sources("TRADE", "DERIVED"),
        cards=cards, allowance=shown.flow(facts.plan.target_flow),
        lead="the airtightness lead",
    )  # fmt: skip


def _owners(job):
    """Return who owns a junction that is still open and is not among the trades to come."""
    names = [trade.name.casefold() for trade in job.trades]
    owners = dict.fromkeys(j.owner for j in job.junctions if j.owner and j.meets and not j.closed)
    return [
        Trade(owner, "junctions still open") for owner in owners
        if not any(owner.casefold() in name or name in owner.casefold() for name in names)
    ]  # fmt: skip


def _card(trade, job, facts):
    shown, one = facts.shown, _cost(trade.hole_diameter)
    words = trade.name.casefold()
    own = [j for j in job.junctions if words in j.owner.casefold() or j.owner.casefold() in words]
    own = [junction for junction in own if junction.owner and junction.meets]
    own = sorted(own, key=lambda junction: junction.closed)[:_MOST_JUNCTIONS]
    cost = f"A hole of 1 {shown.name('hole')} takes its share at once: write every one down."
    if one:
        share = show_percent(one / facts.plan.target_flow)
        cost = (
            f"One open hole of {shown.value(trade.hole_diameter, 'mm')} takes {shown.flow(one)} of "
            f"it, {share}."
        )
        if trade.holes_expected:
            whole = _cost(trade.hole_diameter, trade.holes_expected)
            cost += (
                f" All {show(trade.holes_expected)} expected holes left open would take "
                f"{shown.flow(whole)}, {show_percent(whole / facts.plan.target_flow)}."
            )
    return {
        "name": trade.name, "work": trade.work, "cost": cost,
        "junctions": [f"{j.junction}: {j.element_a} to {j.element_b}{'' if j.closed else ', OPEN'}"
                      for j in own],
        "arrives": f"Arrives {trade.arrives_on}." if trade.arrives_on else "",
    }  # fmt: skip
