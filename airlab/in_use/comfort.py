"""Who feels the draught of a leak? From the speed at the gap to the speed at the person."""

from dataclasses import dataclass

import numpy as np

from airlab.physics import faded_speed, jet_speed
from airlab.words import (
    display_unit,
    from_si,
    require_between,
    require_positive,
    show,
    show_percent,
)

__all__ = ["DRAUGHT_CATEGORIES", "Draught", "draught_at", "draught_category", "draught_rating"]

DRAUGHT_CATEGORIES = {"A": 0.10, "B": 0.20, "C": 0.30}
_FASTEST, _STILL = 0.5, 0.05  # m/s; the rating was made for slower air; nobody feels less
_AIR = (20.0, 26.0)  # C the rating was made for
_CALM, _GUSTY = 0.2, 0.6  # spread of the speed over its mean in rooms, from calm to gusty; ours


def draught_rating(air_speed, temperature=20.0, turbulence=0.4):
    """Return the share of people who are bothered by moving air, the draught rating.

    ``DR = (34 − θ) (v − 0.05)^0.62 (0.37 v Tu + 3.14)``, DR and Tu in percent; at most 100 %.

    Parameters
    ----------
    air_speed, temperature : float or array
        Mean speed [m/s] and air temperature at the person. [C]
    turbulence : float or array
        Spread of the speed over its mean; 0.4 is usual in rooms. [-]

    Returns
    -------
    float or array
        Between 0 and 1. [-]

    Notes
    -----
    Formula from memory. For air of 20 to 26 °C below 0.5 m/s round people who sit still.

    References
    ----------
    [ISO7730] model of draught.

    Examples
    --------
    >>> [round(100 * float(one), 1) for one in draught_rating(np.array([0.08, 0.10, 0.15, 0.20]))]
    [6.9, 10.1, 18.0, 26.3]
    """
    speed = require_positive("air_speed", air_speed, "m/s", allow_zero=True)
    theta = require_between("temperature", temperature, 0.0, 34.0, "C", "20 °C is 68 °F.")
    spread = require_between("turbulence", turbulence, 0.0, 1.0, "-", "For 40 % write 0.4.")
    felt = np.maximum(speed - _STILL, 0.0) ** 0.62 * (0.37 * speed * 100.0 * spread + 3.14)
    return np.clip((34.0 - theta) * felt / 100.0, 0.0, 1.0)


def draught_category(rating):
    """Return 'A', 'B' or 'C' for a rating below 10, 20 or 30 %; 'none' above."""
    return next((key for key, most in DRAUGHT_CATEGORIES.items() if rating < most), "none")


@dataclass(frozen=True, slots=True)
class Draught:
    """A leak and the person near it: pressure [Pa], distance [m], speeds [m/s], rating [-].

    `ratings` is the rating from calm to gusty air, (low, high). [-]
    """

    pressure_difference: float
    distance: float
    at_gap: float
    at_person: float
    rating: float
    ratings: tuple[float, float]
    warnings: tuple[str, ...] = ()

    @property
    def category(self):
        """Category of the draught: 'A', 'B', 'C' or 'none'."""
        return draught_category(self.rating)

    def sentence(self, units="metric"):
        """Return the draught in words."""
        speed, length = display_unit("m/s", units), display_unit("m", units)
        at_gap, here = (show(from_si(v, speed), speed) for v in (self.at_gap, self.at_person))
        worst = draught_category(self.ratings[1])
        within = "beyond category C, the widest, at worst"
        if worst != "none":
            within = f"inside category {worst} at worst"
        low, high = (show_percent(one) for one in self.ratings)
        share = high if low == high else f"{low} to {high}"
        text = (
            f"At {show(self.pressure_difference, 'Pa')} air leaves the gap at {at_gap}, whatever the "
            f"size of the gap. {show(from_si(self.distance, length), length)} away its jet still has "
            f"{here}: {share} of people who sit still would be bothered, in calm to gusty air, {within} "
            "(ISO 7730, from memory)."
        )
        return " ".join((text, *self.warnings))


def draught_at(
    pressure_difference, width, distance, long_gap=True, temperature=20.0, turbulence=0.4
):
    """Return what a person some way from a leak feels.

    Parameters
    ----------
    pressure_difference : float
        Across the gap. [Pa]
    width, distance : float
        Width of the gap or diameter of a hole; from there to the person. [m]
    long_gap : bool
        A long gap; otherwise a round hole.
    temperature, turbulence : float
        At the person: spread of the speed over its mean [-], and the air. [C]

    Returns
    -------
    Draught
        Speeds, share of people who are bothered, category.

    References
    ----------
    [ISO7730] model of draught; [RAJARATNAM1976] how jets fade.

    Examples
    --------
    >>> draught_at(4.0, 0.001, 2.0).category
    'B'
    """
    at_gap = float(jet_speed(pressure_difference))
    speed = float(faded_speed(at_gap, width, distance, long_gap))
    warnings = ("Cold air sinks as it comes, so this is an order of size.",)
    if speed > _FASTEST or not _AIR[0] <= temperature <= _AIR[1]:
        warnings += ("The rating was made for 20 to 26 °C and below 0.5 m/s. This lies outside.",)
    rating, *ends = (float(draught_rating(speed, temperature, one))
                     for one in (turbulence, min(turbulence, _CALM), max(turbulence, _GUSTY)))  # fmt: skip
    return Draught(abs(pressure_difference), distance, at_gap, speed, rating, tuple(ends), warnings)
