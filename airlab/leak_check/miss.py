"""Did the final reading miss the limit, and what then? The final readings of a job held against it."""

from dataclasses import dataclass

from airlab.leak_check.log import Log
from airlab.leak_check.readings import final_flow
from airlab.leak_check.rescue import Rescue, remedy_candidates, rescue
from airlab.words.saying import listed, said

__all__ = ["Miss", "after_a_miss"]


@dataclass(frozen=True, slots=True)
class Miss:
    """A final reading above the limit.

    Parameters
    ----------
    flow_50 : float
        Final reading at 50 Pa, the mean of both directions where both were read. [m3/s]
    limit_flow : float
        The limit at 50 Pa. [m3/s]
    rescue : Rescue or None
        The cheapest set of remedies; None while none are entered.
    candidates : tuple of str
        What the job knows that could still be sealed, within reach.
    """

    flow_50: float
    limit_flow: float
    rescue: Rescue | None
    candidates: tuple[str, ...]

    def sentence(self, units="metric"):
        """Return the miss, and what could be done about it."""
        text = (
            f"The final reading is {said(self.flow_50, 'm3/s', units)} at 50 Pa; the limit is "
            f"{said(self.limit_flow, 'm3/s', units)}."
        )
        if self.rescue is not None:
            return f"{text} {self.rescue.sentence(units)}"
        known = listed(self.candidates, most=6) if self.candidates else "nothing in the job"
        return (
            f"{text} No remedy is entered. Within reach: {known}. Enter for each what it would gain, "
            "from low to high, and what it costs."
        )


def after_a_miss(job, day):
    """Return what to do after a final reading above the limit; None without such a reading.

    Parameters
    ----------
    job : object
        With `remedies`, `junctions`, `envelope`, `leaks`, `prices` and `confidence`.
    day : CheckDay
        The day, with its plan and readings.

    Returns
    -------
    Miss or None
        None where the limit is kept, or the day has no plan or no final reading.
    """
    flow = final_flow(one.corrected for one in day.readings)
    if day.plan is None or flow is None or flow <= day.plan.limit_flow:
        return None
    limit = day.plan.limit_flow
    prices, found = job.prices or {}, None
    if job.remedies:
        found = rescue(
            flow, limit, job.remedies, min(max(job.confidence, 0.5), 0.99),
            prices.get("retest") or 0.0, currency=prices.get("currency") or "",
        )  # fmt: skip
    rows = remedy_candidates(Log(tuple(job.leaks)), job.junctions, job.envelope)
    names = tuple(
        f"{row['remedy']} ({row['where']})" if row["where"] else row["remedy"]
        for row in rows
        if row["reachable"]
    )
    return Miss(flow, limit, found, names)
