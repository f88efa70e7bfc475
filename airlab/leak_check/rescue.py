"""After a miss: what is still within reach, what does the gap amount to, and which fixes are cheapest?

Gains nobody has measured are ranges, not numbers. The set of least cost is chosen that closes the gap
as surely as is wanted; where no set does, that is said, with what else there is.
"""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from airlab.building.rows import RowRecord
from airlab.leak_check.leak import ACCEPTED, OPEN, SEALED, UNREACHABLE
from airlab.leak_check.stage import touched_by
from airlab.physics.openings import equivalent_hole_area
from airlab.words import (
    Column,
    InputError,
    Table,
    normal_point,
    require_between,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import alike, listed, said

__all__ = ["REMEDIES", "Remedy", "Rescue", "remedy_candidates", "rescue"]

_EXHAUSTIVE = 12  # remedies up to which every set is looked at
_SCENARIOS, _MILP_SCENARIOS = 4000, 150
_TEN = normal_point(0.9)

REMEDIES = Table("remedies", "What could still be sealed after a miss, one row each.", (
    Column("remedy", "text", "what would be done", required=True),
    Column("where", "text", "where"),
    Column("low_m3_per_h", "number", "gain at 50 Pa that is almost sure", "m3/h", required=True, low=0,
           high=1e5),
    Column("high_m3_per_h", "number", "gain at 50 Pa that would be luck", "m3/h", required=True, low=0,
           high=1e5),
    Column("cost", "number", "cost, in your money", required=True, low=0, high=1e9),
    Column("reachable", "yes/no", "can be got at without opening up", default=True),
), key="remedy", optional=True)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Remedy(RowRecord):
    """Something that could still be sealed: gain at 50 Pa from low to high [m3/s], cost, reach.

    Low and high are the ends that one in ten would fall short of and one in ten would pass.
    """

    _table: ClassVar[Table] = REMEDIES
    _renamed: ClassVar[dict[str, str]] = {"remedy": "name"}

    name: str
    low: float
    high: float
    cost: float
    where: str = ""
    reachable: bool = True

    def __post_init__(self):
        RowRecord.__post_init__(self)
        if self.high < self.low:
            raise InputError(
                f"Remedy {self.name!r}: the high gain is below the low one. Swap them."
            )


@dataclass(frozen=True, slots=True)
class Rescue:
    """The cheapest set that closes the gap as surely as is wanted, or why none does.

    Parameters
    ----------
    gap : float
        Flow at 50 Pa above the limit. [m3/s]
    chosen : tuple of Remedy
        The set; empty where nothing is to be done.
    cost : float
        Of the set, with the retest.
    probability : float
        That the set closes the gap. [-]
    all_probability : float
        That everything within reach closes it. [-]
    confidence : float
        Wanted. [-]
    out_of_reach : tuple of Remedy
        What would need opening up.
    exact : bool
        Whether every set was looked at.
    currency : str
        As people write it.
    """

    gap: float
    chosen: tuple[Remedy, ...]
    cost: float
    probability: float
    all_probability: float
    confidence: float
    out_of_reach: tuple[Remedy, ...]
    exact: bool
    currency: str = ""

    @property
    def enough(self):
        """Whether what is within reach can close the gap as surely as is wanted."""
        return self.probability >= self.confidence

    def sentence(self, units="metric"):
        """Return gap, set, chance, cost, and when to stop."""
        if self.gap <= 0.0:
            return "The limit is kept: nothing has to be sealed for the number."
        hole = said(equivalent_hole_area(self.gap), "hole", units)
        text = [
            f"Too much by {said(self.gap, 'm3/s', units)} at 50 Pa, as much as one sharp hole of {hole}."
        ]
        money = f"{show(self.cost)} {self.currency}".strip()
        if self.enough:
            text.append(
                f"Cheapest set within reach: {listed([r.name for r in self.chosen])}, {money} with the "
                f"retest. It closes the gap with {show_percent(self.probability)}; it may still miss "
                f"with {show_percent(1.0 - self.probability)}. Seal, read, and stop when the reading is "
                "under the limit with room for its spread."
            )
        else:
            text.append(
                f"Everything within reach closes the gap with {show_percent(self.all_probability)} only, "
                f"{show_percent(self.confidence)} wanted. Stop sealing what can be seen: mastic on "
                "finishes does not last."
            )
            if self.out_of_reach:
                names = listed([r.name for r in self.out_of_reach])
                text.append(f"What is left is hidden: {names}. Price opening up.")
            text.append(
                "The other way is to change what the number is held against: ask who does the energy "
                "calculation and the ventilation."
            )
        text.append("Say in the report what was changed, and the value before.")
        return " ".join(text)


def rescue(
    flow_50, limit_flow, remedies, confidence=0.8, retest=0.0, spread=0.03, seed=1, currency=""
):
    """Return the cheapest set of fixes within reach that closes the gap as surely as is wanted.

    ``min sum c_i x_i  so that  P(sum g_i x_i >= gap) >= confidence``, gains log-normal between low
    and high (10 and 90 %), the retest with a spread of its own.

    Parameters
    ----------
    flow_50 : float
        Measured leakage flow at 50 Pa. [m3/s]
    limit_flow : float
        Limit as a flow at 50 Pa. [m3/s]
    remedies : iterable of Remedy
        What could still be sealed.
    confidence : float
        How sure one wants to be. [-]
    retest : float
        Cost of another final test.
    spread : float
        Relative spread of the retest. [-]
    seed : int
        Of the drawn cases.
    currency : str
        As people write it.

    Returns
    -------
    Rescue
        Every set is looked at up to 12 remedies; beyond, a mixed-integer programme over drawn cases.

    Raises
    ------
    InputError
        If the confidence is not 0.5 to 0.99, or two remedies bear one name.

    References
    ----------
    [DERIVED] chance-constrained choice; [AIRLAB] log-normal gains
    """
    require_positive("flow_50", flow_50, "m3/s")
    require_positive("limit_flow", limit_flow, "m3/s")
    require_between("confidence", confidence, 0.5, 0.99, "-", "If you meant 80 %, write 0.8.")
    require_positive("retest", retest, allow_zero=True)
    require_between("spread", spread, 0.0, 0.5, "-", "If you meant 3 %, write 0.03.")
    remedies = tuple(remedies)
    names = [alike(one.name) for one in remedies]
    if len(set(names)) < len(names):
        raise InputError("Two remedies bear one name. Give each its own.")
    gap = float(flow_50 - limit_flow)
    near = tuple(one for one in remedies if one.reachable and one.high > 0.0)
    far = tuple(one for one in remedies if not one.reachable)
    if gap <= 0.0:
        return Rescue(gap, (), 0.0, 1.0, 1.0, confidence, far, True, currency)
    gains, need = _scenarios(near, gap, limit_flow, spread, seed)
    everything = float(np.mean(gains.sum(axis=1) >= need)) if near else 0.0
    exact = len(near) <= _EXHAUSTIVE
    costs = np.array([one.cost for one in near])
    if everything < confidence:
        total = float(costs.sum()) + retest
        return Rescue(gap, near, total, everything, everything, confidence, far, True, currency)
    pick = (_every_set if exact else _programme)(gains, need, costs, confidence)
    chosen = tuple(one for one, taken in zip(near, pick) if taken)
    chance = float(np.mean(gains[:, pick].sum(axis=1) >= need))
    cost = float(costs[pick].sum()) + retest
    return Rescue(gap, chosen, cost, chance, everything, confidence, far, exact, currency)


def remedy_candidates(log=None, junctions=(), areas=()):
    """Return what the job knows that could still be sealed, as rows of the table to be filled in.

    Parameters
    ----------
    log : Log or None
        Leaks that are not closed, not accepted as intentional, not shown to be none.
    junctions : iterable of Junction
        Joints; those not closed.
    areas : iterable of EnvelopeElement
        Areas; what lies behind a covered one is out of reach without opening up.

    Returns
    -------
    tuple of dict
        `remedy`, `where` and `reachable`; gains and cost are for a person to say.
    """
    areas = tuple(areas)
    hidden = {alike(one.area) for one in areas if one.status == "covered"}
    rows = [
        {"remedy": f"leak {leak.number}", "where": leak.where,
         "reachable": leak.state != UNREACHABLE and not leak.covered and alike(leak.area) not in hidden}
        for leak in (log.leaks if log else ())
        if leak.state in (OPEN, UNREACHABLE, SEALED, ACCEPTED)
    ]  # fmt: skip
    for joint in junctions:
        if not joint.closed:
            touched = touched_by(joint, areas)
            seen = not touched or any(alike(one.area) not in hidden for one in touched)
            rows.append({"remedy": joint.junction, "where": f"{joint.element_a} to {joint.element_b}",
                         "reachable": seen})  # fmt: skip
    return tuple(rows)


def _scenarios(remedies, gap, limit_flow, spread, seed):
    """Return drawn gains, cases by remedies, and what each case needs. [m3/s]."""
    rng = np.random.default_rng(seed)
    low = np.array([max(one.low, 1e-3 * one.high) for one in remedies])
    high = np.array([one.high for one in remedies])
    middle, width = 0.5 * np.log(low * high), np.log(high / low) / (2.0 * _TEN)
    draws = rng.standard_normal((_SCENARIOS, len(remedies)))
    need = gap + limit_flow * spread * rng.standard_normal(_SCENARIOS)
    return np.exp(middle + width * draws), need


def _every_set(gains, need, costs, confidence):
    """Return the cheapest set that reaches the confidence, by looking at all of them."""
    count = len(costs)
    sets = (np.arange(2**count)[:, None] >> np.arange(count)) & 1
    order = np.argsort(sets @ costs, kind="stable")
    for block in np.array_split(order, max(1, len(order) // 64)):
        reach = np.mean(gains @ sets[block].T >= need[:, None], axis=0)
        good = np.flatnonzero(reach >= confidence)
        if good.size:
            return sets[block[good[0]]].astype(bool)
    return np.ones(count, dtype=bool)


def _programme(gains, need, costs, confidence):
    """Return a cheap set by a mixed-integer programme over some cases, mended on all of them."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    count, cases = len(costs), _MILP_SCENARIOS
    some, wanted = gains[:cases], need[:cases]
    sure = min(confidence + 0.5 / np.sqrt(cases), 1.0)
    # gains x + M miss >= need in every case; at most (1 - sure) of the cases may miss
    big = np.maximum(wanted, 0.0) + 1e-9
    rows = np.hstack([some, np.diag(big)])
    few = np.concatenate([np.zeros(count), np.ones(cases)])
    found = milp(
        np.concatenate([costs + 1e-9 * costs.max(), np.zeros(cases)]),
        constraints=[LinearConstraint(rows, wanted, np.inf),
                     LinearConstraint(few, 0.0, (1.0 - sure) * cases)],
        integrality=np.ones(count + cases), bounds=Bounds(0.0, 1.0),
        options={"time_limit": 2.0, "mip_rel_gap": 0.01},
    )  # fmt: skip
    pick = np.ones(count, dtype=bool) if found.x is None else found.x[:count] > 0.5
    return _mended(pick, gains, need, costs, confidence)


def _mended(pick, gains, need, costs, confidence):
    """Return a set that reaches the confidence on all cases, with nothing in it that can go."""

    def enough(taken):
        return np.mean(gains[:, taken].sum(axis=1) >= need) >= confidence

    pick = pick.copy()
    for index in np.argsort(-gains.mean(axis=0) / np.maximum(costs, 1e-9)):
        if enough(pick):
            break
        pick[index] = True
    better = True
    while better:
        better = False
        for gone in np.argsort(-costs):  # the dearest first: leave it out, or put a cheaper one in
            if not pick[gone]:
                continue
            for other in (None, *np.argsort(costs)):
                if other is not None and (pick[other] or costs[other] >= costs[gone]):
                    continue
                trial = pick.copy()
                trial[gone] = False
                if other is not None:
                    trial[other] = True
                if enough(trial):
                    pick, better = trial, True
                    break
    return pick
