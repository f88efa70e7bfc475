"""What does a pack print of a job? Everything the floors below say about it, asked once.

Pages take one record of facts, so that every page of a pack speaks of the same house.
"""

import math
from dataclasses import dataclass, replace
from datetime import datetime

from airlab.building import Indicators, indicators, metric
from airlab.leak_check import (
    DIRECTIONS,
    CheckPlan,
    Reading,
    Release,
    decide,
    make_plan,
    smallest_provable,
    to_reference,
)
from airlab.leak_check.house_number import house_number
from airlab.physics import equivalent_hole_area
from airlab.sheets.page import Heading, Shown
from airlab.words import PRESSURE_REFERENCE, from_si, m3_per_h

__all__ = [
    "Facts",
    "PassMark",
    "boxes",
    "budget_at_mark",
    "facts_of",
    "pass_marks",
    "whole_down",
    "with_good_reading",
]

PAPER_PRESSURES = tuple(float(pressure) for pressure in range(10, 71, 2))  # Pa, read by pen
_PROBE_FLOW = m3_per_h(1.0)  # any flow: only the mark of the reading is asked for


@dataclass(frozen=True, slots=True)
class PassMark:
    """What a reading at one pressure may be at most for the house to be good enough.

    Parameters
    ----------
    pressure : float
        Pressure difference the fan makes, zero taken off. [Pa]
    factor : float
        Brings a flow read at that pressure to 50 Pa. [-]
    at_50 : float
        Most that the flow at 50 Pa may be, the unknown exponent counted. [m3/s]
    both_at_50 : float
        The same for the mean of both directions. [m3/s]
    """

    pressure: float
    factor: float
    at_50: float
    both_at_50: float

    @property
    def as_read(self):
        """Most that the flow read at this pressure may be. [m3/s]"""
        return self.at_50 / self.factor


@dataclass(frozen=True, slots=True)
class Facts:
    """A job, its plan, its decision, and how they are printed.

    Parameters
    ----------
    job : Job
        The job.
    plan : CheckPlan
        Flow, fan, preparation, hazards, route, log.
    release : Release or None
        The decision; None while no area of the envelope is entered.
    indicators : Indicators
        What the target's flow means for this house.
    heading : Heading
        Head of every page.
    filled : bool
        Whether recorded entries are printed.
    """

    job: object
    plan: CheckPlan
    release: Release | None
    indicators: Indicators
    heading: Heading
    filled: bool

    @property
    def shown(self):
        """Prints values in the units of the job."""
        return Shown(self.heading.units)

    @property
    def fan_may_run(self):
        """Whether no hazard stops the fan."""
        return self.plan.hazards.fan_may_run

    @property
    def assumed(self):
        """What is assumed of a house without rooms; its size stands in the job's units elsewhere."""
        found = self.plan.geometry.assumptions
        if self.heading.units == "metric":
            return found
        return tuple(f"{text.partition(', envelope')[0].rstrip('.')}." for text in found)

    def share(self, flow):
        """Return a flow as a share of the target's flow; None for no flow."""
        return None if flow is None else flow / self.plan.target_flow

    def goal(self, goal):
        """Return a target or limit in words: value, what it is divided by, pressure, name."""
        one = metric(goal["metric"])
        per = f" of {one.basis}" if one.basis and one.basis != "volume" else ""
        name = f" ({goal['name']})" if goal.get("name") else ""
        return f"{self.shown.indicator(goal['value'], one.unit)}{per} {one.at_pressure}{name}"

    @property
    def smallest_gain(self):
        """Smallest gain two readings by the same people prove at the target, and its hole."""
        flow = self.plan.target_flow * float(
            smallest_provable(self.plan.assumptions["repeat_spread"])
        )
        return flow, float(equivalent_hole_area(flow))


def facts_of(job, filled=False, moment=None):
    """Return the facts of a job.

    Parameters
    ----------
    job : Job
        The job.
    filled : bool
        Print what has been recorded.
    moment : datetime or None
        Time of printing; None is now.

    Raises
    ------
    InputError
        If no rooms and no rough sizes are entered, no target is set, or a part cannot be used.
    """
    plan = make_plan(job)
    heading = Heading(
        job.name or job.folder.name, job.place, plan.rough is not None, job.invented, job.units,
        moment or datetime.now().astimezone(),
    )  # fmt: skip
    found = indicators(plan.target_flow, plan.final, plan.assumptions["flow_exponent"])
    return Facts(job, plan, _decided(job), found, heading, filled)


def _decided(job, **parts):
    """Return the decision, None where no area is entered."""
    return decide(job, **parts) if job.envelope and job.rooms else None


def pass_marks(facts, pressures=PAPER_PRESSURES):
    """Return what a reading may be at most, for each pressure the fan may reach.

    The number of the decision is asked, with a reading at that pressure: paper and screen agree.

    Parameters
    ----------
    facts : Facts
        The job and its plan.
    pressures : iterable of float
        Pressure differences with the zero taken off. [Pa]

    Returns
    -------
    tuple of PassMark
        Empty where there is no number to decide on.
    """
    if not facts.fan_may_run or facts.release is None:
        return ()
    exponent = facts.plan.assumptions["flow_exponent"]
    marks = []
    for pressure in pressures:
        one = replace(_good_reading(facts, pressure), stage="paper")
        other = DIRECTIONS[one.direction == DIRECTIONS[0]]
        number = _number(facts, one)
        if number is None:
            return ()
        both = _number(facts, one, replace(one, name="other way", direction=other))
        marks.append(
            PassMark(pressure, float(to_reference(1.0, pressure, exponent)), number.pass_flow,
                     both.pass_flow)
        )  # fmt: skip
    return tuple(marks)


def _good_reading(facts, pressure):
    return Reading("paper", pressure, _PROBE_FLOW, facts.job.direction, facts.heading.moment)


def _number(facts, *readings):
    job, plan = facts.job, facts.plan
    return house_number(
        plan.areas, plan.geometry, plan.limit, readings, job.openings, job.trades, job.holes,
        plan.confidence, job.direction, plan.assumptions,
    )  # fmt: skip


def with_good_reading(facts):
    """Return the decision as it would be with a very good reading: what else holds areas back.

    Parameters
    ----------
    facts : Facts
        The job and its plan.
    """
    good = _good_reading(facts, PRESSURE_REFERENCE)
    return _decided(facts.job, weigh=False, readings=(good,), budget=())


def budget_at_mark(facts, mark):
    """Return what the budget says of a reading at 50 Pa that just passes by the drift; None without one.

    Parameters
    ----------
    facts : Facts
        The job and its plan.
    mark : PassMark
        Of 50 Pa.
    """
    one = replace(_good_reading(facts, PRESSURE_REFERENCE), flow=mark.at_50)
    return _decided(facts.job, weigh=False, readings=(one,)).by_budget


def whole_down(value, unit):
    """Return an SI flow rounded down to a whole number of the unit, as text: never too generous."""
    return f"{math.floor(from_si(value, unit) + 1e-9)}"


def boxes(computed):
    """Return (name, value, note): what stands behind a value and its unit goes small below it."""
    found = []
    for name, text in computed:
        value, of, rest = text.partition(" of ")
        value, at, rest = (value, of, rest) if of else text.partition(" at ")
        found.append((name, value, f"{of}{rest}".strip() if of else f"{at}{rest}".strip()))
    return found
