"""Whose uncertainty does the result hang on? Variance shares that stay right under correlation.

What is drawn independently is the workmanship of the house and each line's own part; their shares
of the variance of the sum are known in closed form, so nothing is sampled here.
"""

from dataclasses import dataclass

import numpy as np

from airlab.design.spread import SHARED_WORKMANSHIP
from airlab.words import InputError, require_between

__all__ = ["WORKMANSHIP", "VarianceShare", "variance_shares"]

WORKMANSHIP = "workmanship of the house"


@dataclass(frozen=True, slots=True)
class VarianceShare:
    """Share of the variance of the house that goes if this were known: alone, and in all.

    Parameters
    ----------
    name : str
        Line, or the workmanship in common.
    first : float
        What knowing it alone would take away, on average. [-]
    total : float
        What would be left if everything else were known. [-]
    """

    name: str
    first: float
    total: float


def variance_shares(entries, shared=SHARED_WORKMANSHIP):
    """Return first-order and total variance shares of the flow at the end, greatest total first.

    ``q_i = m_i e^{a_i W} e^{b_i E_i}``, ``μ_i = E q_i``: own part ``μ_i² (e^{b_i²} − 1)`` alone and
    ``e^{a_i²}`` times that in all; workmanship ``Σ_ij μ_i μ_j (e^{a_i a_j} − 1)`` alone.

    Parameters
    ----------
    entries : iterable of Entry
        The flows of a budget.
    shared : float
        Share of log-variance that hand-made lines have in common. [-]

    Returns
    -------
    tuple of VarianceShare
        Workmanship and each line; the first-order shares sum to 1 or less.

    Raises
    ------
    InputError
        If nothing spreads.

    References
    ----------
    [SALTELLI] definitions. [DERIVED] closed form for products of lognormals.
    """
    entries = tuple(entries)
    shared = require_between("shared workmanship", shared, 0.0, 1.0)
    s = np.array([one.spread for one in entries])
    common = np.array([one.shared and one.holes is None for one in entries])
    rate = np.array([1.0 if one.holes is None else one.holes for one in entries])
    holes = np.array([one.holes is not None for one in entries])
    a = np.where(common, s * np.sqrt(shared), 0.0)
    b = np.where(common, s * np.sqrt(1.0 - shared), s)
    medians = np.array([one.median for one in entries])
    mean = medians * np.exp(0.5 * s**2)
    own = np.where(holes, rate * medians**2 * np.exp(2.0 * s**2), mean**2 * np.expm1(b**2))
    total = np.where(holes, own, own * np.exp(a**2))
    alone = float(mean @ np.expm1(np.outer(a, a)) @ mean)
    variance = alone + float(total.sum())
    if variance <= 0.0:
        raise InputError("Nothing in this budget spreads: there is no uncertainty to share out.")
    found = [VarianceShare(WORKMANSHIP, alone / variance, 1.0 - float(own.sum()) / variance)]
    found += [
        VarianceShare(one.name, float(f) / variance, float(t) / variance)
        for one, f, t in zip(entries, own, total)
    ]
    return tuple(sorted(found, key=lambda one: one.total, reverse=True))
