"""Which changes get the house under its limit for the least money?

A mixed-integer programme chooses among better details and training on a sample of drawn houses; what
it chose is then tried on all of them. A detail betters one line; training acts on every line of the
hands that were taught, and a better detail leaves its share of what trained hands leave.
"""

from dataclasses import dataclass

import numpy as np

from airlab.building.components import component
from airlab.words import InputError, display_unit, from_si, require_between, show, show_percent

__all__ = ["CheapestWay", "Option", "cheapest", "options_of", "price_list"]

_CLOSE_LIFT = "close it in the line"
_TRIES = 5
_SCENARIOS = 400  # houses the programme looks at


@dataclass(frozen=True, slots=True)
class Option:
    """A better detail of one line, or training that acts on many.

    Parameters
    ----------
    item, what : str
        Line, and what is done; for training what is taught, and on how much it acts.
    share : float
        Share of the leakage it leaves. [-]
    cost : float
        In the user's money.
    spread_share : float
        Share it leaves of the spread in common. [-]
    lines : tuple of str
        Lines that training acts on; empty for a detail.
    """

    item: str
    what: str
    share: float
    cost: float
    spread_share: float = 1.0
    lines: tuple[str, ...] = ()

    def __post_init__(self):
        for name, one in (("share left", self.share), ("spread left", self.spread_share)):
            require_between(name, one, 0.0, 1.0, "-", "Type 0.3 for 30 %.")
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


def options_of(entries, training=()):
    """Return the better details named in the lines of a budget, and what can be taught.

    Open lifts may be closed.
    """
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
    for one in training:
        lines = one.reaches(entries)
        if lines:
            what = f"acts on {len(lines)} line{'s' if len(lines) > 1 else ''}"
            found.append(Option(one.training, what, one.leaves, one.cost, one.spread_leaves, lines))
    return tuple(found)


def cheapest(answer, wanted=0.9, options=None):
    """Return the changes of least cost that reach a wanted chance of keeping the limit.

    Parameters
    ----------
    answer : BudgetAnswer
        What the budget says.
    wanted : float
        Chance wanted, 0.01 to 0.999. [-]
    options : iterable of Option or None
        What could be done: at most one detail and one training for a line; None takes those of
        the budget.

    Returns
    -------
    CheapestWay
        The set; where all of it is not enough, by how much it falls short.

    Raises
    ------
    InputError
        If there is nothing to choose from, an option names no line, or too few houses fit what was
        measured.

    References
    ----------
    [HIGHS] solver. [DERIVED] one binary for each option, for each pair of training and a detail it
    acts on, and for each house that must pass. [AIRLAB] effects of details and training.
    """
    wanted = require_between("wanted chance", wanted, 0.01, 0.999, "-", "Type 0.9 for 90 %.")
    houses = answer.houses
    if not houses.enough:
        raise InputError("Too few houses fit what was measured to choose by.")
    options = tuple(options_of(houses.entries, answer.training) if options is None else options)
    if not options:
        raise InputError("There is nothing to choose from: name better details with their cost.")
    known = {one.name for one in houses.entries}
    missing = [name for one in options for name in one.lines or (one.item,) if name not in known]
    if missing:
        raise InputError(f"An option names {missing[0]!r}, and the budget has no such line.")
    error = houses.test_errors(answer.test_spread)
    pick = _spread_out(houses, houses.final * error, min(_SCENARIOS, houses.final.size))
    pairs = [(i, j) for i, one in enumerate(options) for j, other in enumerate(options)
             if not one.lines and one.item in other.lines]  # fmt: skip
    sets = [(), *((i,) for i in range(len(options))), *pairs]
    flow, *left = (error[pick] * _left(houses, [options[i] for i in one], pick) for one in sets)
    saved = np.array([flow - one for one in left])
    for place, (i, j) in enumerate(pairs, len(options)):  # what both save beyond their sum
        saved[place] -= saved[i] + saved[j]
    need = wanted
    for _ in range(_TRIES):
        chosen = _solve(flow, saved, options, answer.limit_flow, need, pairs)
        if chosen is None:
            break
        way = _way(answer, wanted, [o for o, x in zip(options, chosen) if x], error)
        if way.reached:
            return _without_idle(way, answer, error)
        need = min(need + max(wanted - way.chance, 1.0 / len(pick)), 1.0)
    best = []
    for one in sorted(options, key=lambda one: one.share * one.spread_share):
        if not any(_exclude(one, other) for other in best):
            best.append(one)
    return _way(answer, wanted, best, error)


def _exclude(one, other):
    """Return whether two options cannot both be chosen: of one line, or taught to the same hands."""
    if one.lines or other.lines:
        return bool(set(one.lines) & set(other.lines))
    return one.item == other.item


def _left(houses, chosen, pick=slice(None)):
    """Return the flow at the end that a set of options leaves."""
    details = {one.item: one.share for one in chosen if not one.lines}
    taught = {name: one for one in chosen for name in one.lines}
    flow = houses.final[pick].copy()
    for one, row in zip(houses.entries, houses.flows):
        share, training = details.get(one.name, 1.0), taught.get(one.name)
        if training and not (one.is_lift and one.name not in details):  # an open lift has no hands
            narrowed = (1.0 - training.spread_share) * one.spread * np.sqrt(houses.shared)
            share = share * training.share * np.exp(-narrowed * houses.common[pick])
        if one.name in details or training:
            flow -= (1.0 - share) * row[pick]
    return flow


def _spread_out(houses, flow, count):
    """Return houses evenly spaced in the order of their flow: they sample the odds closely."""
    order = np.argsort(flow)
    at = (np.arange(count) + 0.5) / count
    if houses.weights is None:
        return order[(at * order.size).astype(int)]
    heap = np.cumsum(houses.weights[order])
    return order[np.minimum(np.searchsorted(heap, at), order.size - 1)]


def _without_idle(way, answer, error):
    """Leave out, dearest first, what is not needed after all on all houses."""
    for one in sorted(way.chosen, key=lambda one: -one.cost):
        fewer = _way(answer, way.wanted, [o for o in way.chosen if o is not one], error)
        way = fewer if fewer.reached else way
    return way


def _solve(flows, saved, options, limit, need, pairs=()):
    """Return which options to take, as 0 or 1; None where no set is enough.

    `saved` has a row for each option, then for each pair what both save beyond their sum.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array, diags_array, hstack

    over = flows > limit
    must = int(np.ceil(need * flows.size - 1e-9)) - int(np.sum(~over))
    count, many = int(over.sum()), len(saved)
    if must <= 0:
        return np.zeros(len(options))
    passes = hstack([csr_array(-saved[:, over].T), diags_array(flows[over] - limit)]).tocsr()
    enough = np.repeat([0.0, 1.0], [many, count])
    # no two that exclude each other; a pair is taken where both of it are
    rules = [((i, j), (1.0, 1.0), 1.0) for i, one in enumerate(options) for j in range(i)
             if _exclude(one, options[j])]  # fmt: skip
    for place, (i, j) in enumerate(pairs, len(options)):
        rules += [((i, j, place), (1.0, 1.0, -1.0), 1.0), ((place, i), (1.0, -1.0), 0.0),
                  ((place, j), (1.0, -1.0), 0.0)]  # fmt: skip
    tied = np.zeros((len(rules) + 1, many + count))
    for row, (places, weights, _) in zip(tied, rules):
        row[list(places)] = weights
    cost = np.zeros(many + count)
    cost[: len(options)] = [one.cost for one in options]
    result = milp(
        cost, integrality=np.ones(many + count), bounds=Bounds(0.0, 1.0),
        constraints=[
            LinearConstraint(passes, ub=0.0),
            LinearConstraint(np.array([enough]), lb=must),
            LinearConstraint(tied, ub=[*(most for *_, most in rules), 0.0]),
        ],
        options={"time_limit": 20.0},
    )  # fmt: skip
    return None if result.x is None else np.round(result.x[: len(options)])


def _way(answer, wanted, chosen, error):
    houses, left = answer.houses, _left(answer.houses, chosen)
    chance, half = (
        houses.keeping(answer.limit_flow, answer.test_spread, flow)
        for flow in (left, 0.5 * (houses.final + left))
    )
    cost = float(sum(one.cost for one in chosen))
    short = 0.0
    if chance < wanted:
        short = max(houses.quantiles(error * left, (wanted,))[0] - answer.limit_flow, 1e-12)
    return CheapestWay(wanted, tuple(chosen), cost, chance, half, short)


def price_list(answer, steps=(0.7, 0.8, 0.9, 0.95)):
    """Return the cheapest way to each chance: what each further percent costs."""
    return tuple(cheapest(answer, one) for one in steps)
