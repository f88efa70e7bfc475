"""What is kept for the next job: foreseen against found, line by line, and room for the change."""

from airlab.leak_check import house_flow
from airlab.leak_check.lessons import job_lessons
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page
from airlab.words import InputError, show, show_percent

__all__ = ["lessons_of", "lessons_page"]

_SMALL = 0.02  # share under which a line with no leak found is named and has no row


def lessons_of(facts):
    """Return the lessons of a job; None without leaks, or without a budget that can be used."""
    job, log = facts.job, facts.plan.log
    if not (job.budget and log.leaks):
        return None
    try:
        return job_lessons(job.budget, job.rooms, job.envelope, job.junctions, log)
    except InputError:
        return None


def lessons_page(facts):
    """Return the lessons sheet: share foreseen and share found by line, change for the next job.

    Parameters
    ----------
    facts : Facts
        A job with a budget and leaks in its log, see `lessons_of`.
    """
    found, shown = lessons_of(facts), facts.shown
    quiet = [one for one in found.lines if one.foreseen < _SMALL and not one.leaks]
    number = house_flow(facts.plan.readings)
    computed = [("foreseen at the check, at 50 Pa", shown.flow(found.foreseen_flow))]
    if number is not None and facts.fan_may_run:
        computed.append(("read last, at 50 Pa", shown.flow(number.flow_50)))
    leaks = sum(len(one.leaks) for one in found.lines)
    computed += [
        ("leaks with a line", show(leaks)), ("leaks no line stands for", show(len(found.nowhere))),
    ]  # fmt: skip
    return make_page(
        "lessons", "Lessons for the next job",
        "Where leakage was foreseen, where leaks were found, and what the next job does otherwise.",
        facts.heading, computed=computed, sources=named_sources("AIRLAB", "DERIVED"), filled=True,
        figures=[(name, text, "") for name, text in computed], words=found.sentence(facts.job.units),
        rows=[_row(one) for one in found.lines if one not in quiet],
        quiet=[one.name for one in quiet], quiet_share=show_percent(sum(q.foreseen for q in quiet)),
        nowhere=_tags(found.nowhere), by_flow=found.by_flow,
    )  # fmt: skip


def _row(one):
    leaks = f"no. {_tags(one.leaks)}" if one.leaks else "none"
    if one.strong:
        leaks += f"; {one.strong} strong"
    return one.name, show_percent(one.foreseen), leaks, show_percent(one.found), one.hint, ""


def _tags(numbers, most=12):
    rest = f" and {len(numbers) - most} more" if len(numbers) > most else ""
    return ", ".join(map(str, numbers[:most])) + rest
