"""How far may the leakage of a budget spread? Many houses drawn from its lines, by a seed.

A line is lognormal. All hand-made lines of one house share a part of their spread: a careless site
is careless everywhere, so adding lines up does not make the spread vanish. Holes of second fix are
a random number of random sizes.
"""

from dataclasses import dataclass
from zlib import crc32

import numpy as np

from airlab.words import InputError, normal_point, require_between, require_positive, show

__all__ = [
    "FEW_HOUSES",
    "SHARED_WORKMANSHIP",
    "TEST_SPREAD",
    "Houses",
    "draw_houses",
    "fit_lognormal",
]

SHARED_WORKMANSHIP = 0.5  # nobody has published one [AIRLAB]
TEST_SPREAD = 0.03  # of one fan test; 2.4 % between laboratories at 50 Pa, rounded up [REPEAT_2011]
_TENTH = normal_point(0.9)
FEW_HOUSES = 300  # fewer of equal weight than this are too few to quote a chance from [AIRLAB]
_MOST_CELLS = 16_000_000  # lines times houses held in memory
_FEW = 1000
_FAR = 6.0  # spreads from the limit beyond which no test errs: once in a thousand million


def fit_lognormal(low, mid, high):
    """Return median and log-spread, ``s = ln(high/low) / (2 · 1.2816)``.

    Parameters
    ----------
    low, mid, high : float
        One in ten lies below, middle case, one in ten lies above. [m3/s]

    Returns
    -------
    tuple of float
        Median, the middle case [m3/s], and spread of the logarithm.

    Raises
    ------
    InputError
        If they fall, are negative, or low is zero and high is not.

    Notes
    -----
    Two parameters cannot meet three figures that are not even in ratio: the middle is kept, and the
    ratio of high to low.

    References
    ----------
    [DERIVED]

    Examples
    --------
    >>> fit_lognormal(2.0, 2.0, 2.0)
    (2.0, 0.0)
    """
    low, mid, high = (
        require_positive(name, one, "m3/s", allow_zero=True)
        for name, one in (("low", low), ("middle", mid), ("high", high))
    )
    if not low <= mid <= high:
        raise InputError(
            f"Low, middle and high are {show(low)}, {show(mid)}, {show(high)}. They must not fall."
        )
    if low == high:
        return mid, 0.0
    if low == 0.0:
        raise InputError(
            "Low is 0 and high is not. No joint is perfect: type a tenth of the middle."
        )
    return mid, float(np.log(high / low) / (2.0 * _TENTH))


@dataclass(frozen=True, slots=True)
class Houses:
    """Many houses drawn from one budget.

    Parameters
    ----------
    entries : tuple of Entry
        What was drawn.
    flows : array
        Flow at 50 Pa at the end, one row for each entry, one column for each house. [m3/s]
    final, now : array
        Their sums at the end and at the check. [m3/s]
    shared : float
        Share of log-variance in common. [-]
    seed : int
        Seed.
    common : array
        Workmanship of each house, in spreads from its middle. [-]
    weights : array or None
        Weight of each house after something was learnt, summing to 1; None is equal.
    """

    entries: tuple
    flows: np.ndarray
    final: np.ndarray
    now: np.ndarray
    shared: float
    seed: int
    common: np.ndarray
    weights: np.ndarray | None = None

    @property
    def effective_count(self):
        """Number of houses of equal weight that would say as much. [-]"""
        w = self.weights
        return float(self.final.size if w is None else 1.0 / np.sum(np.square(w)))

    @property
    def enough(self):
        """Whether enough are left to quote a chance from, after something was learnt."""
        return self.weights is None or self.effective_count >= FEW_HOUSES

    def quantiles(self, values, shares=(0.1, 0.5, 0.9)):
        """Return quantiles over the houses, weights counted."""
        if self.weights is None:
            ranked = np.sort(values)  # quicker than picking out a few
            at = np.asarray(shares) * (ranked.size - 1)
            below = at.astype(int)
            above = np.minimum(below + 1, ranked.size - 1)
            return tuple((ranked[below] + (at - below) * (ranked[above] - ranked[below])).tolist())
        order = np.argsort(values)
        heap = np.cumsum(self.weights[order]) - 0.5 * self.weights[order]
        return tuple(float(one) for one in np.interp(shares, heap, values[order]))

    def line_range(self, place):
        """Return one in ten, middle, nine in ten of a line; a lognormal one needs no counting."""
        one = self.entries[place]
        if self.weights is not None or one.holes is not None:
            return self.quantiles(self.flows[place])
        away = float(np.exp(_TENTH * one.spread))
        return one.median / away, one.median, one.median * away

    def chance(self, within):
        """Return the share of houses for which something holds."""
        return float(np.mean(within) if self.weights is None else np.sum(self.weights[within]))

    def keeping(self, limit_flow, test_spread=TEST_SPREAD, flows=None):
        """Return the chance that a final test reads no more than a limit.

        ``P = Σ w Φ(ln(limit / q) / u)``; the test has a spread u of its own.

        Parameters
        ----------
        limit_flow : float
            Limit at 50 Pa. [m3/s]
        test_spread : float
            Spread of the test's logarithm; 0 is a test without error. [-]
        flows : array or None
            Flow of each house at the end; None takes what was drawn. [m3/s]
        """
        flows = self.final if flows is None else flows
        if not test_spread:
            return self.chance(flows <= limit_flow)
        from scipy.special import ndtr

        within = (flows <= limit_flow).astype(float)
        least, most = limit_flow * np.exp(np.array([-_FAR, _FAR]) * test_spread)
        near = np.flatnonzero((flows > least) & (flows < most))  # the test decides no others
        within[near] = ndtr(np.log(limit_flow / flows[near]) / test_spread)
        return self.mean(within)

    def test_errors(self, test_spread):
        """Return a factor for each house by which its final test reads wrong."""
        return np.exp(
            test_spread * np.random.default_rng([self.seed, 2]).standard_normal(self.final.size)
        )

    def mean(self, values):
        """Return the mean over the houses, weights counted."""
        return float(np.average(values, weights=self.weights))


def draw_houses(entries, count=100_000, seed=1, shared=SHARED_WORKMANSHIP):
    """Return many houses drawn from a budget.

    ``ln q_i = ln m_i + s_i (√ρ W + √(1 − ρ) E_i)``, W common to the hand-made lines of a house;
    holes: a Poisson number of lognormal ones.

    Parameters
    ----------
    entries : iterable of Entry
        The flows.
    count : int
        Number of houses; fewer where the budget has very many lines.
    seed : int
        Seed. Each line has its own stream by its name, so changing one leaves the others as drawn.
    shared : float
        Share of log-variance that hand-made lines have in common, 0 to 1. [-]

    Returns
    -------
    Houses
        The flows of every line in every house.

    Raises
    ------
    InputError
        If there is no line, the share lies outside 0 to 1, or the count below 1000.

    References
    ----------
    [AIRLAB] the shared half is an assumption. [DERIVED]
    """
    entries = tuple(entries)
    if not entries:
        raise InputError("The budget is empty.")
    shared = require_between("shared workmanship", shared, 0.0, 1.0, "-", "Type 0.5 for half.")
    count = int(require_between("number of houses", count, _FEW, 1e7))
    count = max(_FEW, min(count, _MOST_CELLS // len(entries)))
    flows = np.empty((len(entries), count))
    there, later, now = np.zeros(count), np.zeros(count), np.zeros(count)
    common = np.random.default_rng([seed, 0]).standard_normal(count)
    own, part = np.sqrt(1.0 - shared), np.sqrt(shared)
    work, lean = np.empty(count), common * (part / own) if own else common
    for row, one in zip(flows, entries):
        rng = np.random.default_rng([seed, 1, crc32(one.name.encode("utf-8"))])
        if one.holes is not None:
            row[:] = _holes(rng, one, count)
        elif one.median == 0.0 or one.spread == 0.0:
            row[:] = one.median
        else:
            drawn = own if one.shared else 1.0
            if drawn:
                rng.standard_normal(out=row)
            else:
                row[:] = 0.0
            if one.shared:
                row += lean
            row *= one.spread * (drawn or 1.0)
            _exp(row)
            row *= one.median
        if one.now == 1.0:
            there += row
            continue
        later += row
        if one.now:
            now += np.multiply(row, one.now, out=work)
    return Houses(entries, flows, there + later, there + now, shared, seed, common)


def _exp(row):
    """Raise e to a row in place, to seven figures; three times as fast as to sixteen."""
    return np.exp(row, out=row, dtype=np.float32, casting="unsafe")


def _holes(rng, one, count):
    """Return the flow of open holes in each house: all holes of the street, each in any house."""
    sizes = rng.standard_normal(rng.poisson(one.holes * count), dtype=np.float32)
    sizes *= one.spread
    _exp(sizes)
    sizes *= one.median
    return np.bincount(rng.integers(count, size=sizes.size), weights=sizes, minlength=count)
