"""What does the budget, taught by today's reading, say of the final test, beside the drift?

Where a job has a leakage budget, its houses are weighted by how well they fit today's reading; those
that remain say how the final test may come out. The drift of the decision knows no lines and stands
beside it. Neither is proved on houses; where they part, ask why.
"""

from dataclasses import dataclass
from math import hypot
from types import SimpleNamespace

from airlab.design import Lesson, learn, make_budget
from airlab.leak_check.assumptions import assumptions_from
from airlab.leak_check.plan import _gather, decide
from airlab.leak_check.saying import said, said_range
from airlab.words import show_percent

__all__ = ["BudgetNumber", "budget_number"]

_COUNT = 40_000  # houses drawn
_APART = 0.15  # difference of the two probabilities from which the reason is asked for, ours


@dataclass(frozen=True, slots=True)
class BudgetNumber:
    """The number for the house by the budget's posterior, beside the number by the drift.

    Parameters
    ----------
    probability : float or None
        That the final test keeps the limit; None where too few houses fit the reading. [-]
    by_drift : float
        The same by the drift of the decision. [-]
    final : tuple of float
        Final flow at 50 Pa: one in ten, middle, nine in ten. [m3/s]
    limit_flow : float
        The limit. [m3/s]
    lesson : Lesson
        What the reading taught the budget.
    """

    probability: float | None
    by_drift: float
    final: tuple[float, float, float]
    limit_flow: float
    lesson: Lesson

    @property
    def apart(self):
        """Whether the two differ so much that the reason should be found."""
        return self.probability is not None and abs(self.probability - self.by_drift) > _APART

    def sentence(self, units="metric"):
        """Return both probabilities, and what to ask where they part."""
        if self.probability is None:
            return (
                f"By the drift {show_percent(self.by_drift)}. The budget says nothing: too few of its "
                f"houses read {said(self.lesson.measured, 'm3/s', units)} at 50 Pa today. Look for what "
                "it left out."
            )
        text = (
            f"By the budget, taught by today's reading, {show_percent(self.probability)}; by the drift "
            f"{show_percent(self.by_drift)}. By the budget the final flow is "
            f"{said_range(self.final[0], self.final[2], 'm3/s', units)} at 50 Pa in eight of ten."
        )
        if self.apart:
            more = "more" if self.probability > self.by_drift else "less"
            text += (
                f" The budget hopes for {more} than the drift. Which lines are still to be built or "
                "sealed for the day, and are they worth what the budget says? Go by the lower one."
            )
        return text


def budget_number(job=None, budget=None, count=_COUNT, seed=1, **parts):
    """Return the number for the house by the budget's posterior.

    ``w ~ exp(-(ln(q_now / q_read) / u)**2 / 2)``; ``P = sum w Phi(ln(limit / q_final) / u_test)``

    Parameters
    ----------
    job : object or None
        As for `make_plan`, with a budget.
    budget : iterable of BudgetLine or None
        Lines; None takes the job's.
    count, seed : int
        Houses drawn.
    parts : dict
        As for `make_plan`.

    Returns
    -------
    BudgetNumber or None
        None without a budget or without a number for the house.

    Raises
    ------
    InputError
        As for `decide`, or if a line of the budget cannot be used.

    References
    ----------
    [DERIVED] importance weights; [AIRLAB] spreads of the lines.
    """
    lines = tuple(getattr(job, "budget", ()) if budget is None else budget)
    number = decide(job, weigh=False, **parts).number
    if not lines or number is None:
        return None
    found, settings = _gather(job, parts)
    own = SimpleNamespace(budget=lines, settings=settings, **{
        name: found[name] for name in ("rooms", "envelope", "junctions")
    })  # fmt: skip
    uncertainty = assumptions_from(settings)["test_uncertainty"]
    house = number.house
    spread = hypot(uncertainty, house.exponent_part, number.direction_spread)
    lesson = learn(make_budget(own, count, seed).houses, house.flow_50, max(spread, 0.005))
    houses = lesson.houses
    final = houses.quantiles(houses.final)
    chance = houses.keeping(number.limit_flow, uncertainty) if lesson.enough else None
    return BudgetNumber(chance, number.probability, final, number.limit_flow, lesson)
