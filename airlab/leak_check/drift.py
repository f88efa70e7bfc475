"""What does a reading in the middle of the build say about the final test?

The final flow is taken as today's times a drift that goes both ways, plus what is still to be
added. The drift is log-normal about a middle case; both tests carry an uncertainty.
"""

from dataclasses import dataclass

import numpy as np

from airlab.words import m3_per_h, require_between, require_positive, show, show_percent

__all__ = [
    "STAGE_PAIRS",
    "Hindcast",
    "StagePair",
    "combined_spread",
    "hindcast",
    "pass_mark",
    "probability_final",
]


def combined_spread(drift_spread, test_uncertainty=0.03, extra_spread=0.0):
    """Return the spread of final over today's flow: ``sqrt(s^2 + 2 u^2 + e^2)``.

    Parameters
    ----------
    drift_spread : float or array
        Spread of the drift as a logarithm. [-]
    test_uncertainty : float or array
        Spread of one test, counted twice. [-]
    extra_spread : float or array
        Further spread, as from bringing a reading to 50 Pa. [-]

    Returns
    -------
    float or array
        Spread as a logarithm. [-]
    """
    require_positive("drift_spread", drift_spread, allow_zero=True)
    require_positive("test_uncertainty", test_uncertainty, allow_zero=True)
    require_positive("extra_spread", extra_spread, allow_zero=True)
    return np.sqrt(
        np.square(drift_spread) + 2.0 * np.square(test_uncertainty) + np.square(extra_spread)
    )


def pass_mark(drift_median, drift_spread, confidence, test_uncertainty=0.03, extra_spread=0.0):
    """Return today's flow over the final limit at which the wanted confidence is just reached.

    ``exp(-z sqrt(s^2 + 2 u^2)) / median``, z the normal quantile of the confidence.

    Parameters
    ----------
    drift_median, drift_spread : float or array
        Final flow over today's: middle case, spread as a logarithm. [-]
    confidence : float or array
        How sure one wants to be, 0.5 to 0.999. [-]
    test_uncertainty, extra_spread : float or array
        Spread of one test, further spread. [-]

    Returns
    -------
    float or array
        Pass mark as a fraction of the limit. [-]

    Examples
    --------
    >>> round(float(pass_mark(1.10, 0.20, 0.80)), 2)
    0.77
    """
    from scipy.special import ndtri

    require_positive("drift_median", drift_median)
    require_between("confidence", confidence, 0.5, 0.999, "-", "If you meant 90 %, write 0.9.")
    spread = combined_spread(drift_spread, test_uncertainty, extra_spread)
    return np.exp(-ndtri(confidence) * spread) / np.asarray(drift_median)


def probability_final(
    flow,
    limit_flow,
    drift_median,
    drift_spread,
    test_uncertainty=0.03,
    extra_spread=0.0,
    added_flow=0.0,
):
    """Return the probability that the final flow is within the limit.

    ``P = Phi(ln((limit - added) / (flow median)) / sqrt(s^2 + 2 u^2 + e^2))``

    Parameters
    ----------
    flow : float or array
        Today's leakage flow at 50 Pa. [m3/s]
    limit_flow : float or array
        Final limit as a flow at 50 Pa, with the final volume and area. [m3/s]
    drift_median, drift_spread : float or array
        Final flow over today's: middle case, spread as a logarithm. [-]
    test_uncertainty, extra_spread : float or array
        Spread of one test, further spread. [-]
    added_flow : float or array
        Flow at 50 Pa still to be added: holes to come, leaks behind seals. [m3/s]

    Returns
    -------
    float or array
        Between 0 and 1; 0 where the added flow alone reaches the limit. [-]

    Examples
    --------
    >>> round(float(probability_final(3.2, 3.5, 1.10, 0.20)), 2)
    0.49
    """
    from scipy.special import ndtr

    q = require_positive("flow", flow, "m3/s")
    limit = require_positive("limit_flow", limit_flow, "m3/s")
    require_positive("drift_median", drift_median)
    added = require_positive("added_flow", added_flow, "m3/s", allow_zero=True)
    spread = combined_spread(drift_spread, test_uncertainty, extra_spread)
    room = np.maximum(np.asarray(limit) - added, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = np.log(room / (q * np.asarray(drift_median)))
        z = np.where(spread > 0.0, distance / spread, np.sign(distance) * np.inf)
    probability = ndtr(np.where(np.isnan(z), 0.0, z))
    return float(probability) if np.ndim(probability) == 0 else probability


@dataclass(frozen=True, slots=True)
class StagePair:
    """Published air changes an hour at 50 Pa in the middle of a build and at its end."""

    case: str
    mid: float
    final: float
    limit: float | None
    note: str
    source: str


STAGE_PAIRS = (
    StagePair("73 row houses, Norway, tightest", 0.70, 0.48, None,
              "ends of two ranges, not the same dwelling; the early layer was the outer one",
              "HOLOS_BEST2"),
    StagePair("73 row houses, Norway, leakiest", 1.63, 1.29, None,
              "ends of two ranges, not the same dwelling; the early layer was the outer one",
              "HOLOS_BEST2"),
    StagePair("self-built passive house, UK", 0.20, 0.13, None, "March to September 2016",
              "STAGE_PAIRS"),
    StagePair("house in Vancouver", 3.2, 3.9, 3.5,
              "told by a firm that sells another way of sealing", "STAGE_PAIRS"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hindcast:
    """What the rule would have said before a published final: an illustration, never a proof.

    Parameters
    ----------
    pair : StagePair
        The published pair.
    drift_median, drift_spread : float
        Drift assumed. [-]
    change : float
        Final over mid. [-]
    rank : float
        Share of the assumed drift that lies below the published change. [-]
    probability : float or None
        Probability given for keeping the limit; None where no limit is published. [-]
    """

    pair: StagePair
    drift_median: float
    drift_spread: float
    change: float
    rank: float
    probability: float | None

    def sentence(self, units="metric"):
        """Return the case in words."""
        pair = self.pair
        text = (
            f"{pair.case[:1].upper()}{pair.case[1:]}: {show(pair.mid)} in the middle, "
            f"{show(pair.final)} at the end, in air changes an hour at 50 Pa"
        )
        if self.probability is None:
            return f"{text}; final over mid {show(self.change, digits=2)}. {self._note}"
        kept = "kept" if pair.final <= pair.limit else "missed"
        return (
            f"{text}, limit {show(pair.limit)}. The rule gives {show_percent(self.probability)}; "
            f"the limit was {kept}. {self._note}"
        )

    @property
    def _note(self):
        return f"One case and our own drift: an illustration, no proof ({self.pair.note})."


def hindcast(drift_median=1.10, drift_spread=0.20, test_uncertainty=0.03):
    """Return what the drift rule says about each published stage pair.

    Parameters
    ----------
    drift_median, drift_spread : float
        Drift assumed. [-]
    test_uncertainty : float
        Spread of one test. [-]

    Returns
    -------
    tuple of Hindcast
        One for each pair.

    References
    ----------
    [STAGE_PAIRS]
    """
    results = []
    for pair in STAGE_PAIRS:
        mid, change = m3_per_h(pair.mid), pair.final / pair.mid
        given = (drift_median, drift_spread, test_uncertainty)
        chance = pair.limit and probability_final(mid, m3_per_h(pair.limit), *given)
        rank = probability_final(1.0, change, *given)
        results.append(Hindcast(pair, drift_median, drift_spread, change, rank, chance))
    return tuple(results)
