"""What does a budget say: will the house pass, and what leaks most?

No public data sets a budget against the measured result of the same house, line by line. Every
spread and grade is an assumption of whoever uses it, and every result says so.
"""

from dataclasses import dataclass, replace

import numpy as np

from airlab.building import (
    FLOW_EXPONENT,
    Geometry,
    counting_rule,
    geometry,
    leakage_flow_from,
    metric,
    metric_value,
    rough_start,
)
from airlab.design.entries import LATER_SHARE, budget_entries, certain
from airlab.design.spread import SHARED_WORKMANSHIP, TEST_SPREAD, Houses, draw_houses
from airlab.design.training import Training
from airlab.words import (
    InputError,
    convert,
    display_unit,
    from_si,
    label,
    require_between,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import alike

__all__ = [
    "HONESTY",
    "BudgetAnswer",
    "LineShare",
    "answer_of",
    "make_budget",
    "what_if",
    "with_houses",
]

HONESTY = (
    "Spreads and grades are assumptions you own; no public data tests a budget against the "
    "measured result from end to end."
)
_BIG = 3


@dataclass(frozen=True, slots=True)
class LineShare:
    """One line with its flow at the end and its share of the house.

    Parameters
    ----------
    name : str
        Line.
    quantity : float
        How much of it.
    unit : str
        What is counted.
    low, mid, high : float
        One in ten, middle, nine in ten of its flow at 50 Pa. [m3/s]
    share : float
        Mean flow over the mean of the house. [-]
    is_lift : bool
        Whether it is an open lift of the line.
    """

    name: str
    quantity: float
    unit: str
    low: float
    mid: float
    high: float
    share: float
    is_lift: bool = False


@dataclass(frozen=True, slots=True)
class BudgetAnswer:
    """What a budget says of the house.

    Parameters
    ----------
    houses : Houses
        What was drawn.
    geometry : Geometry
        Sizes of the house at the end.
    metric : str
        Metric of the target.
    flow_exponent : float
        Exponent of the house. [-]
    aim_flow, limit_flow : float
        What aim and limit allow at 50 Pa. [m3/s]
    shares : tuple of LineShare
        Lines, the greatest share first.
    final, now : tuple of float
        One in ten, middle, nine in ten at 50 Pa, at the end and at the check. [m3/s]
    chance_aim, chance_limit : float or None
        Chance that the end is within aim, within limit; None where too few houses fit. [-]
    known : tuple of str
        What to look at in the budget itself.
    test_spread : float
        Spread of the final test, counted in the chances. [-]
    training : tuple of Training
        What could be taught.
    """

    houses: Houses
    geometry: Geometry
    metric: str
    flow_exponent: float
    aim_flow: float
    limit_flow: float
    shares: tuple[LineShare, ...]
    final: tuple[float, float, float]
    now: tuple[float, float, float]
    chance_aim: float | None
    chance_limit: float | None
    known: tuple[str, ...] = ()
    test_spread: float = TEST_SPREAD
    training: tuple[Training, ...] = ()

    @property
    def warnings(self):
        """What to look at: in the budget, open lifts counted as open, lines counted as sure."""
        lifts = ", ".join(one.name for one in self.shares if one.is_lift)
        open_now = (
            f"Open in the line and counted as open: {lifts}. Close it there." if lifts else ""
        )
        return tuple(one for one in (*self.known, open_now, self.certain) if one)

    @property
    def certain(self):
        """Which lines are counted without any doubt; empty where every one spreads."""
        return certain(self.houses.entries)

    @property
    def big(self):
        """The three lines with the greatest shares."""
        return self.shares[:_BIG]

    @property
    def big_share(self):
        """What they make up together. [-]"""
        return sum(one.share for one in self.big)

    def metric_unit(self, units="metric"):
        """Return the unit people see the metric of the target in."""
        return display_unit(metric(self.metric).unit, units)

    def in_metric(self, flow, units="metric"):
        """Return the value of the target's metric for a flow at 50 Pa, in the unit people see."""
        one = metric(self.metric)
        value = metric_value(one.key, flow, self.geometry, self.flow_exponent)
        return convert(value, one.unit, self.metric_unit(units))

    def counts(self, bins=40, most=None):
        """Return edges of equal flow classes up to a flow, and the share of houses in each."""
        most = most or max(self.houses.quantiles(self.houses.final, (0.995,))[0], self.limit_flow)
        edges = np.linspace(0.0, most, bins + 1)
        heap, _ = np.histogram(self.houses.final, edges, weights=self.houses.weights)
        total = self.houses.final.size if self.houses.weights is None else 1.0
        return tuple(edges.tolist()), tuple((heap / total).tolist())

    def sentence(self, units="metric"):
        """Return chances, range, the biggest lines and how honest all this is, in words."""
        if not self.houses.enough:
            return (
                f"No chance is given: too few of the houses drawn fit what was measured. {HONESTY}"
            )
        unit = display_unit("m3/s", units)
        low, mid, high = (show(self.in_metric(flow, units)) for flow in self.final)
        at = f"{label(self.metric_unit(units))} {metric(self.metric).at_pressure}".strip()
        test = f" ({show_percent(self.test_spread)} spread of the final test counted)"
        names = ", ".join(one.name for one in self.big)
        over = ""
        if self.final[1] > self.limit_flow:
            miss = show(from_si(self.final[1] - self.limit_flow, unit), unit)
            over = f" The middle case is {miss} over the limit."
        return (
            f"Chance to be within the limit: {show_percent(self.chance_limit)}; within the target: "
            f"{show_percent(self.chance_aim)}{test if self.test_spread else ''}. Middle case {mid} {at} "
            f"({show(from_si(self.final[1], unit), unit)}), eight in ten from {low} to {high}."
            f"{over} The biggest three, {names}, make up {show_percent(self.big_share)}. {HONESTY}"
        )


def answer_of(
    houses, size, goal, limit, flow_exponent=FLOW_EXPONENT, warnings=(), test_spread=TEST_SPREAD,
    training=(),
):  # fmt: skip
    """Return what drawn houses say.

    Parameters
    ----------
    houses : Houses
        Houses drawn from a budget.
    size : Geometry
        Sizes of the house at the end.
    goal, limit : dict
        Target and limit: `metric` and `value` in its unit.
    flow_exponent : float
        Exponent of the house. [-]
    warnings : iterable of str
        What is known already.
    test_spread : float
        Spread of the final test's logarithm; 0 leaves it out. [-]
    training : iterable of Training
        What could be taught.

    Returns
    -------
    BudgetAnswer
        Chances, ranges, shares.

    Raises
    ------
    InputError
        If there is no target, or a size it needs is missing.
    """
    if not goal or goal.get("value") is None:
        raise InputError("No target is set. Choose one in notebook 05.")
    spread = require_between(
        "spread of the final test", test_spread, 0.0, 0.5, "-", "Type 0.03 for 3 %."
    )
    aim_flow, limit_flow = (
        float(leakage_flow_from(one["metric"], one["value"], size, flow_exponent))
        for one in (goal, limit)
    )
    whole = houses.mean(houses.final)
    shares = sorted(
        (
            LineShare(one.name, one.quantity, one.unit, *houses.line_range(place),
                      houses.mean(houses.flows[place]) / whole if whole else 0.0, one.is_lift)
            for place, one in enumerate(houses.entries)
        ),
        key=lambda one: one.share, reverse=True,
    )  # fmt: skip
    chances = (houses.keeping(q, spread) if houses.enough else None for q in (aim_flow, limit_flow))
    return BudgetAnswer(
        houses, size, goal["metric"], flow_exponent, aim_flow, limit_flow, tuple(shares),
        houses.quantiles(houses.final), houses.quantiles(houses.now), *chances, tuple(warnings),
        spread, tuple(training),
    )  # fmt: skip


def what_if(answer, share, *names):
    """Return the answer if lines leaked a share of what they do; the same houses.

    Parameters
    ----------
    answer : BudgetAnswer
        The answer as it stands.
    share : float
        What is left of their leakage, 0 to 10. [-]
    names : tuple of str
        Lines.

    Returns
    -------
    BudgetAnswer
        The same houses with those lines changed.

    Raises
    ------
    InputError
        If there is no such line, or the share is negative.
    """
    share = require_positive("share left", share, allow_zero=True)
    houses, wanted = answer.houses, {alike(name) for name in names}
    known = {alike(one.name) for one in houses.entries}
    if wanted - known:
        raise InputError(f"There is no line {sorted(wanted - known)[0]!r} in the budget.")
    factors = np.array([share if alike(one.name) in wanted else 1.0 for one in houses.entries])
    flows = houses.flows * factors[:, None]
    now = np.array([one.now for one in houses.entries]) @ flows
    entries = tuple(replace(o, median=o.median * f) for o, f in zip(houses.entries, factors))
    changed = replace(houses, entries=entries, flows=flows, final=flows.sum(axis=0), now=now)
    return with_houses(answer, changed)


def with_houses(answer, houses):
    """Return the answer for other houses of the same size, target and limit, as after a lesson.

    Parameters
    ----------
    answer : BudgetAnswer
        The answer as it stands.
    houses : Houses
        Houses that were changed or weighted.
    """
    n, size, key = answer.flow_exponent, answer.geometry, answer.metric
    goal, limit = (
        {"metric": key, "value": metric_value(key, flow, size, n)}
        for flow in (answer.aim_flow, answer.limit_flow)
    )
    return answer_of(
        houses, size, goal, limit, n, answer.known, answer.test_spread, answer.training
    )


def make_budget(job, count=100_000, seed=1):
    """Return what the budget of a job says, by the assumptions the job keeps.

    Parameters
    ----------
    job : object
        Anything with rooms, envelope, junctions, budget and settings; `training` if it has any.
        Of the settings' `assumptions` it reads `shared_workmanship`, `later_layer_leaves` and
        `test_uncertainty`; what is not there is ours.
    count, seed : int
        Number of houses drawn, and the seed.

    Returns
    -------
    BudgetAnswer
        The answer.

    Raises
    ------
    InputError
        If budget and line are empty, no target is set, or there is no size of the house.
    """
    settings = dict(job.settings)
    held = settings.get("assumptions") or {}
    entries, warnings = budget_entries(
        job.budget, job.rooms, job.envelope, job.junctions,
        held.get("later_layer_leaves", LATER_SHARE),
    )  # fmt: skip
    goal = settings.get("target") or settings.get("limit") or {}
    shared = held.get("shared_workmanship", SHARED_WORKMANSHIP)
    return answer_of(
        draw_houses(entries, count, seed, shared), _sizes(job, settings, goal), goal,
        settings.get("limit") or goal, settings.get("flow_exponent") or FLOW_EXPONENT, warnings,
        held.get("test_uncertainty", TEST_SPREAD), getattr(job, "training", ()),
    )  # fmt: skip


def _sizes(job, settings, goal):
    """Return the sizes at the end, as the plan of the check takes them."""
    if job.rooms:
        counting = settings.get("counting") or {}
        rule = counting_rule(
            counting.get("rule", "ISO 9972"), counting.get("party"), counting.get("lowest_floor")
        )
        size = geometry(job.rooms, job.envelope, rule)
    elif settings.get("rough"):
        rough = settings["rough"]
        size = rough_start(
            rough["floor_area_m2"], rough["mean_height_m"], goal.get("metric"), goal.get("value")
        ).geometry
    else:
        raise InputError("No rooms are entered. Enter rooms, or floor area and mean height.")
    own = settings.get("assumptions") or {}
    area = size.envelope_area and size.envelope_area * own.get("final_area_ratio", 1.0)
    volume = size.internal_volume * own.get("final_volume_ratio", 1.0)
    return replace(size, internal_volume=volume, envelope_area=area)
