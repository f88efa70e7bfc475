"""Which value is worth aiming for, so that the result is inside the limit as often as wanted?

A limit is the worst allowed. As-built results spread about what was aimed for; a house that aims
at its limit misses it half the time.
"""

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from airlab.building.rows import RowRecord
from airlab.building.tables import PAST_RESULTS
from airlab.words import (
    InputError,
    Table,
    require_between,
    require_choice,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import alike

__all__ = [
    "ASSUMED_SPREAD",
    "PUBLISHED_CONTEXT",
    "Aim",
    "History",
    "PastResult",
    "PublishedContext",
    "above_limit",
    "aim_for",
    "history",
    "pass_probability",
]

ASSUMED_SPREAD = 0.3  # log-spread of as-built about aim [AIRLAB]: nobody has published one


def pass_probability(aim, limit, spread=ASSUMED_SPREAD, history=None):
    """Return the chance that a house that aims at `aim` comes out within `limit`.

    ``P = Φ(ln(limit / aim) / s)``; with past results a predictive Student t instead.

    Parameters
    ----------
    aim, limit : float or array
        Value aimed for and limit, in the same metric and unit.
    spread : float or array
        Spread of the logarithm of as-built over aim; 0.3 is about ±30 % for two in three. [-]
    history : History or None
        Own past results; replaces the spread.

    Returns
    -------
    float or array
        Probability, 0 to 1. [-]

    Raises
    ------
    InputError
        If a value is not above zero.

    Notes
    -----
    As-built is taken as lognormal about the aim. Test uncertainty is part of the spread.

    References
    ----------
    [DERIVED] lognormal tail. [AIRLAB] the spread of 0.3 is an assumption.

    Examples
    --------
    >>> round(pass_probability(5.0, 5.0), 3), round(pass_probability(3.4, 5.0), 2)
    (0.5, 0.9)
    """
    from scipy.special import ndtr, stdtr

    ratio = np.log(require_positive("limit", limit) / require_positive("aim", aim))
    if history is not None:
        t = (ratio - history.log_mean) / history.predictive_spread
        result = stdtr(history.count - 1, t)
    else:
        result = ndtr(ratio / require_positive("spread", spread))
    return float(result) if np.ndim(result) == 0 else result


@dataclass(frozen=True, slots=True)
class Aim:
    """The value to aim for: median, and what it is a fraction of."""

    limit: float
    unit: str
    spread: float
    confidence: float
    aim: float
    history: "History | None" = None
    at: str = ""

    def shown(self, value):
        """Return a value in the limit's unit, with its pressure."""
        return f"{show(value, self.unit)} {self.at}".rstrip()

    @property
    def fraction(self):
        """Aim over limit. [-]"""
        return self.aim / self.limit

    def chance_at(self, aim):
        """Return the chance to be within the limit for another aim. [-]"""
        return pass_probability(aim, self.limit, self.spread, self.history)

    def result_at(self, share, aim=None):
        """Return the result that a share of houses stays within, aiming at the aim or another.

        Parameters
        ----------
        share : float or array
            Share of houses, between 0 and 1. [-]
        aim : float or None
            Value aimed for, in the limit's unit; None takes the aim.
        """
        from scipy.special import ndtri, stdtrit

        aim = self.aim if aim is None else require_positive("aim", aim, self.unit or "-")
        if self.history is None:
            return aim * np.exp(self.spread * ndtri(share))
        past = self.history
        return aim * np.exp(past.log_mean + stdtrit(past.count - 1, share) * past.predictive_spread)

    def sentence(self):
        """Return the aim in words, with its assumption."""
        sure = show_percent(self.confidence)
        text = (
            f"To be {sure} sure of {self.shown(self.limit)}, aim for {self.shown(self.aim)}. "
            f"That is {show(self.fraction, digits=2)} of the limit. "
        )
        if self.history is not None:
            return text + self.history.sentence()
        return text + (
            f"Assumed: results spread about the aim by {show(self.spread)} in the logarithm. "
            "No published figure exists; put your own results in its place."
        )


def above_limit(aim, limit):
    """Return a warning where an aim lies above its limit, both in one unit; else nothing.

    Examples
    --------
    >>> above_limit(9.0, 3.0)[:32], above_limit(3.0, 3.0)
    ('The target lies above the limit:', '')
    """
    if aim <= limit * (1.0 + 1e-9):
        return ""
    return (
        "The target lies above the limit: a house that just keeps its target fails the test. Set the "
        "target at the limit or lower."
    )


def aim_for(limit, spread=ASSUMED_SPREAD, confidence=0.9, unit="", history=None, at=""):
    """Return the median to aim for so that the limit is met with the confidence wanted.

    ``aim = limit · exp(−s · Φ⁻¹(confidence))``; with past results
    ``aim = limit · exp(−b − t · s·√(1 + 1/k))``.

    Parameters
    ----------
    limit : float
        The limit, in any metric.
    spread : float
        Spread of the logarithm of as-built over aim. [-]
    confidence : float
        Chance wanted of being within the limit, 0.5 to 0.999. [-]
    unit : str
        Unit of the limit, for the sentence.
    history : History or None
        Own past results; replaces the spread.
    at : str
        Pressure of the limit in words, such as "at 50 Pa", for the sentence.

    Returns
    -------
    Aim
        The aim with its assumptions.

    Raises
    ------
    InputError
        If the limit is not above zero, the spread outside 0.01 to 1.5, or the confidence outside
        0.5 to 0.999.

    References
    ----------
    [DERIVED] lognormal quantile. [AIRLAB] the spread is an assumption.

    Examples
    --------
    >>> aim_for(5.0, unit="m3/(h.m2)").sentence()[:66]
    'To be 90 % sure of 5 m³/(h·m²), aim for 3.4 m³/(h·m²). That is 0.6'
    """
    from scipy.special import ndtri, stdtrit

    limit = require_positive("limit", limit, unit or "-")
    spread = require_between(
        "spread", spread, 0.01, 1.5, "-", "Type 0.3 for 30 %." if 1.5 < (spread or 0) <= 100 else ""
    )
    slip = "Type 0.9 for 90 %." if isinstance(confidence, (int, float)) and confidence > 1 else ""
    confidence = require_between("confidence", confidence, 0.5, 0.999, "-", slip)
    if history is None:
        aim = limit * math.exp(-spread * ndtri(confidence))
    else:
        t = stdtrit(history.count - 1, confidence)
        aim = limit * math.exp(-history.log_mean - t * history.predictive_spread)
    return Aim(limit, unit, spread, confidence, float(aim), history, at)


@dataclass(frozen=True, slots=True)
class PastResult(RowRecord):
    """One earlier house: what was aimed for and what came out, in the same metric and unit."""

    _table: ClassVar[Table] = PAST_RESULTS

    house: str
    aimed_for: float
    result: float

    def __post_init__(self):
        for what in ("aimed_for", "result"):
            try:
                require_positive(what, getattr(self, what))
            except InputError as error:
                raise InputError(f"House {self.house!r}: {error}") from None


@dataclass(frozen=True, slots=True)
class History:
    """What own past results say: how many, mean and spread of the logarithm of result over aim."""

    count: int
    log_mean: float
    log_spread: float

    @property
    def median_ratio(self):
        """Typical result over aim. [-]"""
        return math.exp(self.log_mean)

    @property
    def predictive_spread(self):
        """Scale of the Student t for the next house: ``s √(1 + 1/k)``. [-]"""
        return self.log_spread * math.sqrt(1.0 + 1.0 / self.count)

    def sentence(self):
        """Return the past in words, with what so few houses can tell."""
        text = (
            f"From {self.count} houses of your own: results came out at "
            f"{show(self.median_ratio, digits=2)} times the aim, spread "
            f"{show(self.log_spread, digits=2)} in the logarithm."
        )
        if self.count < 10:
            text += " So few houses say little about the spread, so the aim is lower for it."
        return text


def history(results):
    """Return what own past results say about the next house.

    Parameters
    ----------
    results : iterable of PastResult
        Two houses or more.

    Returns
    -------
    History
        Count, mean and sample spread of ln(result / aim).

    Raises
    ------
    InputError
        If there are fewer than two houses, a house stands twice, or all came out alike.

    Notes
    -----
    The next house is predicted by Student's t with k − 1 degrees of freedom and the scale
    s·√(1 + 1/k), not by putting the sample spread into the normal law.

    References
    ----------
    [DERIVED] predictive distribution of a normal sample.
    """
    results = tuple(results)
    if len(results) < 2:
        raise InputError(
            f"{len(results)} past result. One house says nothing about spread. Enter two or more, "
            "or keep the assumed spread."
        )
    names = [alike(one.house) for one in results]
    if len(set(names)) < len(names):
        twice = next(one.house for one, name in zip(results, names) if names.count(name) > 1)
        raise InputError(f"House {twice!r} stands in the past results twice. Keep one.")
    logs = np.log([one.result / one.aimed_for for one in results])
    spread = float(np.std(logs, ddof=1))
    if spread < 1e-6:
        raise InputError(
            "All past results came out at the same fraction of their aim. Real houses do not; "
            "were the aims typed as results?"
        )
    return History(len(results), float(np.mean(logs)), spread)


@dataclass(frozen=True, slots=True)
class PublishedContext:
    """A published finding about results against targets, in our words."""

    place: str
    houses: str
    finding: str
    source: str
    status: str

    def __post_init__(self):
        require_choice("status", self.status, ("read", "second-hand"))


PUBLISHED_CONTEXT = (
    PublishedContext("UK, new dwellings 2015 to 2016", "144 024 tests", "Results pile up in narrow "
                     "peaks just inside the target; the authors point to sealing during the test.",
                     "LOVE_2017", "read"),
    PublishedContext("UK, model of the same tests", "", "39 % of dwellings at the five commonest "
                     "targets are inferred to have been sealed at the test. The typical value "
                     "before that is inferred as 4.38 m³/(h·m²) of envelope at 50 Pa.",
                     "CRAWLEY_2019", "read"),
    PublishedContext("UK, low-energy homes", "188", "Nearly half of those without a passive-house "
                     "target came out leakier than aimed for, by almost 2 m³/(h·m²) at 50 Pa on "
                     "average.", "GUPTA", "second-hand"),
    PublishedContext("UK, all building types 2007 to 2010", "", "About 20 % failed and went into "
                     "use unmodified.", "BSRIA_NEWS", "read"),
    PublishedContext("France, houses", "about 215 000 tests in all", "Mean 0.41 m³/(h·m²) of "
                     "heat-loss area without lowest floor at 4 Pa in 2015, limit 0.6.",
                     "MOUJALLED_2018", "read"),
    PublishedContext("Norway, row houses", "73", "Aim n50 below 1.0 at 50 Pa; final results 0.48 to "
                     "1.29 per hour at 50 Pa, so some missed the aim.", "HOLOS_BEST2", "read"),
)  # fmt: skip
