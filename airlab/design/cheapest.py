"""Which changes get the house under its limit for the least money?

A mixed-integer programme chooses among the better details on a sample of drawn houses; what it
chose is then tried on all of them.
"""

from dataclasses import dataclass

import numpy as np

from airlab.building.components import component
from airlab.words import InputError, display_unit, from_si, require_between, show, show_percent

__all__ = ["CheapestWay", "Option", "cheapest", "options_of", "price_list"]

_CLOSE_LIFT = "close it in the line"
_TRIES = 5


@dataclass(frozen=True, slots=True)
class Option:
    """A better detail: line, what is done, share of the leakage it leaves, cost."""

    item: str
    what: str
    share: float
    cost: float

    def __post_init__(self):
        require_between("share left", self.share, 0.0, 1.0, "-", "Type 0.3 for 30 %.")
        require_between("cost", self.cost, 0.0, 1e12)


@dataclass(frozen=True, slots=True)
class CheapestWay:
    """The set of changes of least cost.

    Parameters
    ----------
    wanted : float
        Chance wanted to be within the limit. [-]
    chosen : tuple of Option
        What to do; all there is where even that is not enough.
    cost : float
        What it costs, in the user's money.
    chance : float
        Chance with it, on all houses. [-]
    chance_half : float
        Chance if every change works half as well. [-]
    short_by : float
        Flow at 50 Pa by which the wanted share of houses misses the limit; 0 if reached. [m3/s]
    """

    wanted: float
    chosen: tuple[Option, ...]
    cost: float
    chance: float
    chance_half: float
    short_by: float = 0.0

    @property
    def reached(self):
        """Whether the wanted chance is reached."""
        return self.short_by == 0.0

    def sentence(self, units="metric"):
        """Return the set in words, with what is left of it if estimates are wrong."""
        names = "; ".join(f"{one.item}: {one.what or 'better'}" for one in self.chosen)
        if not self.reached:
            unit = display_unit("m3/s", units)
            return (
                f"All changes together reach {show_percent(self.chance)}, not "
                f"{show_percent(self.wanted)}: {show(from_si(self.short_by, unit), unit)} at 50 Pa "
                "too much is left."
            )
        if not self.chosen:
            return f"Nothing is needed: {show_percent(self.chance)} without any change."
        count = len(self.chosen)
        return (
            f"Cheapest way to {show_percent(self.wanted)}: {count} change{'s' if count > 1 else ''} "
            f"for {show(self.cost)}: {names}. That gives {show_percent(self.chance)}; if each works "
            f"half as well, {show_percent(self.chance_half)}."
        )


def options_of(entries):
    """Return the better details named in the lines of a budget; open lifts may be closed."""
    found = []
    sealed, opened = component("joint sealed").mid, component("joint open").mid
    for one in entries:
        line = one.line
        if one.is_lift:
            cost = (line.better_cost if line else None) or 0.0
            like = line.figures[1] if line else sealed  # as good as the rest of its line
            found.append(Option(one.name, _CLOSE_LIFT, min(like / opened, 1.0), cost))
        elif line and line.better_share is not None:
            found.append(Option(one.name, line.better, line.better_share, line.better_cost))
    return tuple(found)


def cheapest(answer, wanted=0.9, options=None, scenarios=400):
    """Return the changes of least cost that reach a wanted chance of keeping the limit.

    Parameters
    ----------
    answer : BudgetAnswer
        What the budget says.
    wanted : float
        Chance wanted, 0.01 to 0.999. [-]
    options : iterable of Option or None
        What could be done, at most one for a line is chosen; None takes those of the budget.
    scenarios : int
        Number of houses the programme looks at.

    Returns
    -------
    CheapestWay
        The set; where all of it is not enough, by how much it falls short.

    Raises
    ------
    InputError
        If there is nothing to choose from, or an option names no line.

    References
    ----------
    [HIGHS] solver. [DERIVED] one binary for each option and for each house that must pass.
    """
    wanted = require_between("wanted chance", wanted, 0.01, 0.999, "-", "Type 0.9 for 90 %.")
    houses, limit = answer.houses, answer.limit_flow
    options = tuple(options_of(houses.entries) if options is None else options)
    if not options:
        raise InputError("There is nothing to choose from: name better details with their cost.")
    rows = {one.name: row for one, row in zip(houses.entries, houses.flows)}
    missing = [one.item for one in options if one.item not in rows]
    if missing:
        raise InputError(f"An option names {missing[0]!r}, and the budget has no such line.")
    pick = _spread_out(houses, min(scenarios, houses.final.size))
    saved = np.array([(1.0 - one.share) * rows[one.item][pick] for one in options])
    need, chosen = wanted, None
    for _ in range(_TRIES):
        chosen = _solve(houses.final[pick], saved, options, limit, need)
        if chosen is None:
            break
        way = _way(answer, wanted, [o for o, x in zip(options, chosen) if x], rows)
        if way.reached:
            return _without_idle(way, answer, rows)
        need = min(need + max(wanted - way.chance, 1.0 / len(pick)), 1.0)
    best = {}
    for one in options:
        if one.item not in best or one.share < best[one.item].share:
            best[one.item] = one
    return _way(answer, wanted, list(best.values()), rows)


def _spread_out(houses, count):
    """Return houses evenly spaced in the order of their flow: they sample the odds closely."""
    order = np.argsort(houses.final)
    at = (np.arange(count) + 0.5) / count
    if houses.weights is None:
        return order[(at * order.size).astype(int)]
    heap = np.cumsum(houses.weights[order])
    return order[np.minimum(np.searchsorted(heap, at), order.size - 1)]


def _without_idle(way, answer, rows):
    """Leave out, dearest first, what is not needed after all on all houses."""
    for one in sorted(way.chosen, key=lambda one: -one.cost):
        fewer = _way(answer, way.wanted, [o for o in way.chosen if o is not one], rows)
        way = fewer if fewer.reached else way
    return way


def _solve(flows, saved, options, limit, need):
    """Return which options to take, as 0 or 1; None where no set is enough."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array, diags_array, hstack

    over = flows > limit
    must = int(np.ceil(need * flows.size - 1e-9)) - int(np.sum(~over))
    count, kinds = int(over.sum()), sorted({one.item for one in options})
    if must <= 0:
        return np.zeros(len(options))
    passes = hstack([csr_array(-saved[:, over].T), diags_array(flows[over] - limit)]).tocsr()
    blank = np.zeros(count)
    one_each = [np.concatenate([[float(o.item == kind) for o in options], blank]) for kind in kinds]
    enough = np.concatenate([np.zeros(len(options)), blank + 1.0])
    result = milp(
        np.concatenate([[one.cost for one in options], blank]),
        integrality=np.ones(len(options) + count), bounds=Bounds(0.0, 1.0),
        constraints=[
            LinearConstraint(passes, ub=0.0),
            LinearConstraint(np.array([enough]), lb=must),
            LinearConstraint(np.array(one_each), ub=1.0),
        ],
        options={"time_limit": 20.0},
    )  # fmt: skip
    return None if result.x is None else np.round(result.x[: len(options)])


def _way(answer, wanted, chosen, rows):
    houses, saved = answer.houses, 0.0
    for one in chosen:
        saved = saved + (1.0 - one.share) * rows[one.item]
    left = houses.final - saved
    chance = houses.chance(left <= answer.limit_flow)
    half = houses.chance(houses.final - 0.5 * saved <= answer.limit_flow)
    cost = float(sum(one.cost for one in chosen))
    short = 0.0
    if chance < wanted:
        short = max(houses.quantiles(left, (wanted,))[0] - answer.limit_flow, 1e-12)
    return CheapestWay(wanted, tuple(chosen), cost, chance, half, short)


def price_list(answer, steps=(0.7, 0.8, 0.9, 0.95), options=None):
    """Return the cheapest way to each chance: what each further percent costs."""
    return tuple(cheapest(answer, one, options) for one in steps)
