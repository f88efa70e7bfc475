"""What does the budget, taught by today's reading, say of the final test, beside the drift?

Where a job has a leakage budget, its houses are weighed by how well they fit today's reading; those
that remain say how the final test may come out. The drift knows no lines and stands beside it.
Neither is proved on houses, so the lower of the two decides; where they part, ask why.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import hypot

from airlab.design import budget_entries, draw_houses
from airlab.design.learn import weighed
from airlab.design.spread import SHARED_WORKMANSHIP
from airlab.words import InputError, show_percent
from airlab.words.saying import said, said_range

__all__ = ["BudgetNumber", "budget_asker", "budget_number"]

_COUNT = 40_000  # houses drawn
_APART = 0.15  # difference of the two probabilities from which the reason is asked for, ours


@dataclass(frozen=True, slots=True)
class BudgetNumber:
    """The number for the house by the budget's posterior, beside the number by the drift.

    Parameters
    ----------
    probability : float or None
        That the final test keeps the limit; None where the budget gives no number. [-]
    by_drift : float
        The same by the drift. [-]
    final : tuple of float
        Final flow at 50 Pa: one in ten, middle, nine in ten. [m3/s]
    measured : float
        Today's flow at 50 Pa, which taught the budget. [m3/s]
    left_out : str
        Why the lines of the budget cannot be asked; empty where they can.
    """

    probability: float | None
    by_drift: float
    final: tuple[float, ...]
    measured: float
    left_out: str = ""

    @property
    def lower(self):
        """The lower of the two; the drift's where the budget gives none. [-]."""
        return self.by_drift if self.probability is None else min(self.probability, self.by_drift)

    @property
    def apart(self):
        """Whether the two differ so much that the reason should be found."""
        return self.probability is not None and abs(self.probability - self.by_drift) > _APART

    @property
    def why(self):
        """Why the budget gives no number, as the end of a sentence; empty where it gives one."""
        if self.probability is not None:
            return ""
        few = "too few houses of the budget read what was read today, so look for what it left out"
        return "the lines of the budget cannot be used" if self.left_out else few

    def short(self):
        """Return both probabilities, and that the lower decides."""
        if self.probability is None:
            return f"{show_percent(self.by_drift)} by the drift, no number by the budget"
        by_budget, by_drift = show_percent(self.probability), show_percent(self.by_drift)
        return f"{by_budget} by the budget, {by_drift} by the drift; the lower decides"

    def sentence(self, units="metric"):
        """Return both probabilities, which decides, and what to ask where they part."""
        if self.probability is None:
            text = f"The drift decides alone: {show_percent(self.by_drift)}. "
            if self.left_out:
                return f"{text}The budget is left out: {self.left_out}"
            return (
                f"{text}The budget says nothing: too few of its houses read "
                f"{said(self.measured, 'm3/s', units)} at 50 Pa today. Look for what it left out."
            )
        text = (
            f"By the budget, taught by today's reading, {show_percent(self.probability)}; by the drift "
            f"{show_percent(self.by_drift)}. Neither is proved on houses, so the lower decides. By the "
            f"budget the final flow is {said_range(self.final[0], self.final[2], 'm3/s', units)} at "
            "50 Pa in eight of ten."
        )
        if self.apart:
            more = "more" if self.probability > self.by_drift else "less"
            text += (
                f" The budget hopes for {more} than the drift. Which lines are still to be built or "
                "sealed for the day, and are they worth what the budget says?"
            )
        return text


def budget_number(number, entries, test_uncertainty, shared=SHARED_WORKMANSHIP, count=_COUNT):
    """Return the number for the house by the budget's posterior.

    ``w ~ exp(-(ln(q_now / q_read) / u)**2 / 2)``; ``P = sum w Phi(ln(limit / q_final) / u_test)``

    Parameters
    ----------
    number : HouseNumber
        Today's flow, the limit, the number by the drift.
    entries : tuple of Entry
        What `budget_entries` makes of the lines.
    test_uncertainty : float
        Spread of one test. [-]
    shared : float
        Share of log-variance that hand-made lines have in common. [-]
    count : int
        Houses drawn.

    Returns
    -------
    BudgetNumber
        Without a probability where too few houses fit the reading.

    References
    ----------
    [DERIVED] importance weights; [AIRLAB] spreads of the lines.
    """
    house = number.house
    spread = max(hypot(test_uncertainty, house.exponent_part, number.direction_spread), 0.005)
    asked = (house.flow_50, spread, number.limit_flow, test_uncertainty)
    chance, final = _posterior(entries, count, shared, *asked)
    return BudgetNumber(chance, number.probability, final, house.flow_50)


def budget_asker(lines, rooms=(), envelope=(), junctions=()):
    """Return what asks the budget of a house: a function of `HouseNumber` and `Assumptions`.

    Parameters
    ----------
    lines : iterable of BudgetLine
        The budget.
    rooms, envelope, junctions : iterable
        The house and its line.

    Returns
    -------
    callable or None
        None without a budget. Lines that cannot be used leave the budget out, and it says so.
    """
    if not lines:
        return None

    @lru_cache(maxsize=8)
    def entries(later_share):
        return budget_entries(lines, rooms, envelope, junctions, later_share)[0]

    def ask(number, given):
        try:
            found = entries(given["later_layer_leaves"])
        except InputError as error:
            return BudgetNumber(None, number.probability, (), number.house.flow_50, str(error))
        return budget_number(number, found, given["test_uncertainty"], given["shared_workmanship"])

    return ask


@lru_cache(maxsize=8)
def _drawn(entries, count, shared):
    """Return the houses without their lines: sums at the check and at the end are all that is asked."""
    houses = draw_houses(entries, count, shared=shared)
    return replace(houses, entries=(), flows=houses.flows[:0].copy())


@lru_cache(maxsize=256)
def _posterior(entries, count, shared, flow, spread, limit, test_uncertainty):
    """Return the chance, None where too few houses fit, and quantiles of the final flow."""
    houses = _drawn(entries, count, shared)
    if not houses.now.any():  # nothing in place to be read
        return None, ()
    houses = weighed(houses, houses.now, flow, spread)
    chance = houses.keeping(limit, test_uncertainty) if houses.enough else None
    return chance, houses.quantiles(houses.final)
