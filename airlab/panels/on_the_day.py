"""What does a view of the check day need besides the day: the decision, what is asked beside it, the register?"""

from dataclasses import replace
from typing import NamedTuple

from airlab.files import Job
from airlab.leak_check import (
    Assumptions,
    BudgetNumber,
    CheckDay,
    Choices,
    HoleRegister,
    HouseNumber,
    Miss,
    OpenRows,
    Release,
    Stop,
    after_a_miss,
    decide,
    decision_costs,
    hole_register,
    open_rows,
)
from airlab.words import InputError

__all__ = ["OnTheDay", "on_the_day"]

_MOST_ROWS = 60  # open leaks up to which each is settled by itself and asked again


class OnTheDay(NamedTuple):
    """A job, how its day stands, and what the view on show needs besides."""

    job: Job
    day: CheckDay
    stop: Stop | None
    assumptions: Assumptions
    release: Release | None = None
    register: HoleRegister | None = None
    missing: str = ""
    rows: OpenRows | None = None
    costs: Choices | None = None
    miss: Miss | None = None

    @property
    def number(self) -> HouseNumber | None:
        """The number for the house, where there is one."""
        return self.release.number if self.release else None

    @property
    def by_budget(self) -> BudgetNumber | None:
        """The number by the budget, where there is one."""
        return self.release.by_budget if self.release else None


def on_the_day(job, day, stop, given, view):
    """Return a day with what a view needs besides: for cover or wait and new holes, the decision.

    Parameters
    ----------
    job : Job
        The job.
    day : CheckDay
        How its day stands.
    stop : Stop or None
        Next stop of the route.
    given : Assumptions
        What is assumed.
    view : str
        readings, log, decision or holes.
    """
    if view not in ("decision", "holes"):
        return OnTheDay(job, day, stop, given)
    release, missing = None, ""
    try:
        release = decide(job, leaks=day.log)
    except InputError as error:
        missing = str(error)
    if release is not None and not day.fan_may_run:
        release = replace(release, number=None, by_budget=None, moved=())
    register = hole_register(job.holes, release.number if release else None, given)
    asked = ()
    if view == "decision" and release is not None and day.fan_may_run:
        few = len(day.log.blocking) <= _MOST_ROWS
        if not few:
            missing = (
                f"More than {_MOST_ROWS} leaks are open: they are not settled one by one here."
            )
        asked = (
            open_rows(job, leaks=day.log) if few else None, decision_costs(release, job.prices),
            after_a_miss(job, day),
        )  # fmt: skip
    return OnTheDay(job, day, stop, given, release, register, missing, *asked)
