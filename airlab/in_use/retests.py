"""What becomes of a tight house with the years? Published retests, and what they mean for this one."""

from dataclasses import dataclass

from airlab.building import PublishedContext
from airlab.words import display_unit, from_si, require_positive, show, show_range

__all__ = ["RETESTS", "Ageing", "ageing"]

_BELGIAN_MEAN = 0.24
_SINGLE_HOUSES = (-0.40, 5.80)

RETESTS = (
    PublishedContext("Belgium", "30", "Retested 293 to 4045 days later, on average 24 % leakier, or by "
                     "64 m³/h (at which pressure was not read).", "BE_RETEST", "read"),
    PublishedContext("reviews of field studies", "", "Single houses changed from 40 % tighter to 580 % "
                     "leakier, mostly in the first years.", "AIVC_AGEING", "read"),
    PublishedContext("UK, new homes", "", "Retested one to three years on, two thirds were leakier and one "
                     "third tighter.", "NHBC_AGEING", "read"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Ageing:
    """Leakage at 50 Pa today and what retests elsewhere would make of it [m3/s]."""

    flow50: float
    mean: float
    low: float
    high: float
    findings: tuple[PublishedContext, ...] = RETESTS

    def sentence(self, units="metric"):
        """Return the outlook in words, with what was found and where."""
        unit = display_unit("m3/s", units)
        now, mean = (show(from_si(one, unit), unit) for one in (self.flow50, self.mean))
        ends = show_range(from_si(self.low, unit), from_si(self.high, unit), unit)
        found = " ".join(
            f"{one.place[:1].upper()}{one.place[1:]}{f', {one.houses} dwellings' if one.houses else ''}: "
            f"{one.finding}" for one in self.findings
        )  # fmt: skip
        return (
            f"{found} From abstracts and summaries, read. For this house, {now} at 50 Pa today, the Belgian "
            f"mean would be {mean} and the span of single houses {ends}. Nobody can say which: a retest "
            "after two or three years tells. New holes are made by hand, so ask before drilling."
        )


def ageing(flow50):
    """Return what published retests would make of a leakage.

    Parameters
    ----------
    flow50 : float
        Leakage flow at 50 Pa today. [m3/s]

    Returns
    -------
    Ageing
        Belgian mean and the span of single houses.

    Notes
    -----
    Other houses, other ways to build: a span to have in mind, not a forecast.

    References
    ----------
    [BE_RETEST]; [AIVC_AGEING]; [NHBC_AGEING].

    Examples
    --------
    >>> round(ageing(1.0).mean, 2)
    1.24
    """
    q = require_positive("flow50", flow50, "m3/s")
    low, high = (q * (1.0 + change) for change in _SINGLE_HOUSES)
    return Ageing(q, q * (1.0 + _BELGIAN_MEAN), low, high)
