"""Which hand skills does a tight layer need, and how are they looked at? One card for each."""

import math

from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page
from airlab.teaching.lessons import workshop
from airlab.words import caution, show

__all__ = ["skills_page"]


def skills_page(facts):
    """Return the hand-skill cards: kit, steps, what is looked at, usual faults, how many in this job.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    job, shown = facts.job, facts.shown
    metres = math.fsum(one.length or 0.0 for one in job.junctions)
    counts = {
        "corners": ("junctions in the list", show(len(job.junctions))),
        "pipes": ("holes still expected", show(sum(trade.holes_expected for trade in job.trades))),
        "windows": ("areas with a frame", show(sum(one.kind in ("window", "door") for one in job.envelope))),
        "joints": ("joint to stick or seal", shown.value(metres, "m")),
    }  # fmt: skip
    return make_page(
        "skills", "Hand-skill cards",
        "Practise on a panel before the house. Cut the cards apart. Whoever did not make it looks at it.",
        facts.heading, computed=list(counts.values()), sources=named_sources("TRADE"),
        cards=[(card, counts[card["counts"]]) for card in workshop(facts.heading.units)["cards"]], fire=caution("fire_stopping").text,
        cables=caution("cables").text,
    )  # fmt: skip
