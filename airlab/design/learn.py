"""What does a measurement teach about a budget? Houses that fit it weigh more.

Nothing is drawn again: each house drawn is weighted by how well it fits what was measured. Where
hardly any house fits, that is said, and the budget is what must change.
"""

from dataclasses import dataclass, replace

import numpy as np

from airlab.design.budget import GRADES
from airlab.design.spread import Houses
from airlab.words import (
    InputError,
    display_unit,
    from_si,
    require_between,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import alike

__all__ = ["Lesson", "learn", "taught_lines", "weighed"]

_HOUSE_SPREAD = 0.05  # of the house at the check: one test, brought to 50 Pa [AIRLAB]
_REPEAT = 0.015  # spread of a repeat by the same people [PRIGNON2025]


@dataclass(frozen=True, slots=True)
class Lesson:
    """What was learnt.

    Parameters
    ----------
    houses : Houses
        The houses with their new weights.
    measured : float
        Flow that was measured. [m3/s]
    expected : tuple of float
        One in ten, middle, nine in ten of that flow before. [m3/s]
    about : str
        Line it was about; empty for the whole house.
    spread : float
        Spread of the measurement's logarithm. [-]
    moved : tuple of (str, float)
        Lines with the new middle case over the old, the greatest change of flow first.
    """

    houses: Houses
    measured: float
    expected: tuple[float, float, float]
    about: str
    spread: float
    moved: tuple[tuple[str, float], ...]

    @property
    def enough(self):
        """Whether enough houses fit what was measured."""
        return self.houses.enough

    def sentence(self, units="metric"):
        """Return the lesson in words, with how many houses it rests on."""
        unit = display_unit("m3/s", units)
        low, mid, high = (show(from_si(one, unit)) for one in self.expected)
        what = self.about or "the house as it stands"
        count = show(self.houses.effective_count, digits=2)
        count += " house" if count == "1" else " houses"
        text = (
            f"Measured {show(from_si(self.measured, unit), unit)} at 50 Pa, give or take "
            f"{show_percent(self.spread)}, for {what}; the budget said {mid}, eight in ten from {low} "
            f"to {high}. It now rests on as much as {count}. "
        )
        if not self.enough:
            return text + (
                "That is too few to give a chance: the budget did not foresee this. Look at the reading "
                "and its unit, then at what the budget left out; widen low and high, or the unknown, "
                "until such a house is among those drawn."
            )
        others = [one for one in self.moved if alike(one[0]) != alike(self.about)] or self.moved
        name, ratio = others[0]
        return text + (
            f"Most moved{' besides' if self.about else ''}: {name}, {show(ratio, digits=2)} times what it was. One house teaches little "
            "about the next."
        )


def weighed(houses, flow, measured, spread):
    """Return the houses with new weights, by how well a flow of each fits what was measured.

    Parameters
    ----------
    houses : Houses
        Houses drawn; weights they already have are kept.
    flow : array
        What would be measured in each house. [m3/s]
    measured, spread : float
        What was measured [m3/s], and the spread of its logarithm.
    """
    with np.errstate(divide="ignore"):
        logs = -0.5 * np.square(np.log(flow / measured) / spread)
        if houses.weights is not None:
            logs = logs + np.log(houses.weights)
    weights = np.exp(logs - np.max(logs))
    return replace(houses, weights=weights / np.sum(weights))


def learn(houses, measured, spread=None, about=""):
    """Return the houses weighted by a measurement.

    ``w ∝ exp(−½ (ln(q / measured) / u)²)``

    Parameters
    ----------
    houses : Houses
        Houses drawn; weights they already have are kept.
    measured : float
        Flow at 50 Pa that was measured. [m3/s]
    spread : float or None
        Spread of the measurement's logarithm. None takes 5 % for the house, and for a line what the
        difference of two readings of the middle house leaves: ``√2 · 1.5 % · q_house / q``. [-]
    about : str
        Line it is about, as it stands at the check; at the end where it is not built yet. Empty for
        the whole house at the check.

    Returns
    -------
    Lesson
        New weights, effective number of houses, what moved.

    Raises
    ------
    InputError
        If there is no such line, the flow is not above zero, or nothing is in place to measure.

    References
    ----------
    [DERIVED] importance weights. [PRIGNON2025] spread of a repeat, 1 to 2 %. [AIRLAB] 5 %.
    """
    measured = require_positive("measured flow", measured, "m3/s")
    if about:
        places = [i for i, one in enumerate(houses.entries) if alike(one.name) == alike(about)]
        if not places:
            known = ", ".join(one.name for one in houses.entries[:20])
            raise InputError(f"There is no line {about!r} in the budget. There are: {known}.")
        flow = houses.flows[places[0]] * (houses.entries[places[0]].now or 1.0)
    else:
        flow = houses.now
    if not np.any(flow > 0.0):
        raise InputError(
            "Nothing of the budget is in place at the check: there is nothing to learn."
        )
    if spread is None:
        middle = houses.quantiles(houses.now, (0.5,))[0]
        by_difference = min(max(2.0**0.5 * _REPEAT * middle / measured, _HOUSE_SPREAD), 1.0)
        spread = by_difference if about else _HOUSE_SPREAD
    spread = require_between(
        "spread of the measurement", spread, 0.005, 1.0, "-", "Type 0.05 for 5 %."
    )
    before = houses.quantiles(flow)
    learnt = weighed(houses, flow, measured, spread)
    moves = []
    for one, row in zip(houses.entries, houses.flows):
        old, new = (which.quantiles(row, (0.5,))[0] for which in (houses, learnt))
        if old > 0.0:
            moves.append((abs(new - old), one.name, new / old))
    moved = [(name, ratio) for _, name, ratio in sorted(moves, reverse=True)]
    return Lesson(learnt, measured, before, about, spread, tuple(moved))


def taught_lines(lesson, lines):
    """Return the lines of a budget with the figures the lesson leaves them, to start from next time.

    Parameters
    ----------
    lesson : Lesson
        What was learnt.
    lines : iterable of BudgetLine
        The budget as typed.

    Returns
    -------
    tuple of BudgetLine
        The same lines; low, middle and high of one are those of the weighted houses. Lines of holes
        and open lifts stay as they were.

    Raises
    ------
    InputError
        If too few houses fit what was measured to teach anything.
    """
    if not lesson.enough:
        raise InputError("Too few houses fit what was measured: there is nothing to keep.")
    houses, found = lesson.houses, {}
    for one, row in zip(houses.entries, houses.flows):
        if one.line and one.holes is None and not one.is_lift and one.median:
            per = one.quantity * GRADES[one.line.grade][0]
            found[one.line.item] = [flow / per for flow in houses.quantiles(row)]
    return tuple(
        replace(line, component="", **dict(zip(("low", "mid", "high"), found[line.item])))
        if line.item in found
        else line
        for line in lines
    )
