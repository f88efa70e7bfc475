"""Is there enough fresh air, hour by hour, and what do extract fans pull beside it?

Leaks follow the weather and people do not. A mean that is enough says nothing of still days.
"""

from dataclasses import dataclass

import numpy as np

from airlab.building import SUCTION_CAUTIONS, SuctionCaution, combustion_air, fan_suction
from airlab.words import (
    Caution,
    InputError,
    caution,
    from_si,
    label,
    require_choice,
    require_positive,
    show,
    show_range,
)

__all__ = [
    "COMBUSTION_LIMITS",
    "FAN_RULES",
    "LIVING_CAUTIONS",
    "FansBesideFires",
    "FreshAir",
    "combustion_check",
    "fresh_air",
    "with_fans",
]

FAN_RULES = ("quadrature", "displacing")
_EXPONENT_OFF = 0.05  # how far the exponent of a house may be off; ours
_MOST_EXTRACT, _MOST_SUCTION = 1.0, 500.0  # m3/s, Pa: beyond any fans of a house; ours
_WHO_DECIDES = "Local codes and licensed practice decide. Nobody goes by a sum beside a fire."
_WIND_FACTOR = 15.0  # f of ISO 13789 for more than one exposed side; 20 for one

# What suction practice tolerates beside fires that take their air from the rooms.
COMBUSTION_LIMITS = (
    SuctionCaution(2.0, "US practice draws the line for a water heater alone with natural draught",
                   "SUCTION_PRACTICE", "from memory"),
    SuctionCaution(4.0, "Germany draws the line with open-flued fires", "SUCTION_PRACTICE", "from memory"),
    SUCTION_CAUTIONS[0],
    SuctionCaution(15.0, "US practice draws the line for power-vented and sealed appliances",
                   "SUCTION_PRACTICE", "from memory"),
    *SUCTION_CAUTIONS[1:],
)  # fmt: skip

LIVING_CAUTIONS = (
    caution("ventilation"),
    caution("radon"),
    Caution("smoke_outside", "Smoke from outside and from next door",
            "Leaks let in smoke and smells, from outside and from a neighbour, and nobody can close "
            "them. In smoke outside, follow local advice on fans and filters. Gaps to the neighbour "
            "are fire stopping first. Smoke and carbon monoxide alarms stay in place."),
    caution("estimate"),
)  # fmt: skip


def with_fans(flow, flow50, extract_flow=0.0, balanced_flow=0.0, rule="quadrature"):
    """Return outdoor air from leaks and fans together.

    Balanced flow adds. Extract ``q_x`` beside infiltration ``q`` gives ``sqrt(q² + q_x²)`` by
    quadrature; displacing, it gives ``q_x + q / (1 + f/e (q_x/q50)²)`` with ``e = q / q50``.

    Parameters
    ----------
    flow : float or array
        Infiltration without fans. [m3/s]
    flow50 : float
        Leakage flow at 50 Pa. [m3/s]
    extract_flow : float or array
        Extract beyond supply; the same holds for supply beyond extract. [m3/s]
    balanced_flow : float or array
        Supply and extract alike. [m3/s]
    rule : str
        One of `FAN_RULES`.

    Returns
    -------
    float or array
        Outdoor air that comes in. [m3/s]

    Raises
    ------
    InputError
        If a flow is negative or the rule is another.

    Notes
    -----
    Both from memory. The second is made for a year; hour by hour it is ours, with f = 15.

    References
    ----------
    [QUADRATURE]; [ISO_13789] annex C.

    Examples
    --------
    >>> round(float(with_fans(0.21, 3.0, 0.25, rule="displacing")) - 0.25, 3)
    0.084
    """
    require_choice("rule", rule, FAN_RULES)
    q = require_positive("flow", flow, "m3/s", allow_zero=True)
    q50 = require_positive("flow50", flow50, "m3/s")
    pulled = require_positive("extract_flow", extract_flow, "m3/s", allow_zero=True)
    both = require_positive("balanced_flow", balanced_flow, "m3/s", allow_zero=True)
    if rule == "quadrature":
        return np.sqrt(np.square(q) + np.square(pulled))[()] + both
    left = q + _WIND_FACTOR * np.square(pulled) / q50
    leaks = np.divide(
        np.square(q), left, out=np.zeros(np.shape(left)), where=np.not_equal(left, 0.0)
    )
    return leaks[()] + pulled + both


@dataclass(frozen=True, slots=True)
class FreshAir:
    """Fresh air against need over the hours counted; pairs are (low, high) over ways of counting.

    Need, mean supply, supply in the worst hour [m3/s]; hours counted; hours short; most in a row.
    """

    need: float
    mean: tuple[float, float]
    least: tuple[float, float]
    hours: int
    hours_short: tuple[int, int]
    longest: tuple[int, int]

    def sentence(self, units="metric"):
        """Return supply against need in words."""
        unit = "cfm" if units == "us" else "L/s"
        mean, least = (show_range(*(from_si(one, unit) for one in pair), unit)
                       for pair in (self.mean, self.least))  # fmt: skip
        text = (
            f"{show(from_si(self.need, unit), unit)} of fresh air is asked for. Supply is {mean} on average and {least} in the worst "
            f"hour. It falls short in {show_range(*self.hours_short, digits=4)} of {self.hours} hours"
        )
        if self.hours_short[0] == self.hours:
            return (
                text.rpartition(" It falls")[0]
                + f" It falls short in every one of {self.hours} hours."
            )
        if self.hours_short[1]:
            text += f", up to {self.longest[1]} in a row"
        enough = self.mean[1] >= self.need and self.hours_short[1]
        return f"{text}. {'The mean would do, the hours do not.' if enough else ''}".rstrip()


def _longest_run(short):
    """Return the most True in a row along the last axis."""
    step = np.arange(1, short.shape[-1] + 1)
    since = np.maximum.accumulate(np.where(short, 0, step), axis=-1)
    return (step - since).max(axis=-1)


def fresh_air(supply, need, counted=None):
    """Return how supply meets need, hour by hour.

    Parameters
    ----------
    supply : array
        Outdoor air, hours along the last axis, a row for each way of counting. [m3/s]
    need : float
        Fresh air asked for, as from `airlab.building.ventilation_needs`. [m3/s]
    counted : array of bool or None
        Hours to count, as those with windows likely shut; None counts all.

    Returns
    -------
    FreshAir
        Means, hours short and the longest spell.

    Raises
    ------
    InputError
        If a flow is negative, or no hour is counted.

    Examples
    --------
    >>> print(fresh_air([0.02, 0.05, 0.01, 0.02], 0.03).sentence())
    30 L/s of fresh air is asked for. Supply is 25 L/s on average and 10 L/s in the worst hour. It falls short in 3 of 4 hours, up to 2 in a row.
    """
    air = np.atleast_1d(require_positive("supply", supply, "m3/s", allow_zero=True))
    asked = require_positive("need", need, "m3/s")
    if counted is not None:
        air = air[..., np.asarray(counted, dtype=bool)]
    if not air.shape[-1]:
        raise InputError(
            "No hour is counted: the heating never runs. Raise the temperature below which it does."
        )
    short = air < asked * (1.0 - 1e-9)

    def ends(values, kind):
        return kind(np.min(values)), kind(np.max(values))

    return FreshAir(asked, ends(air.mean(axis=-1), float), ends(air.min(axis=-1), float), air.shape[-1],
                    ends(short.sum(axis=-1), int), ends(_longest_run(short), int))  # fmt: skip


@dataclass(frozen=True, slots=True)
class FansBesideFires:
    """What extract fans pull on a still day, and what published figures say of it.

    Extract [m3/s]; suction at the exponent and, as (low, high), with it 0.05 to either side [Pa];
    what is read of the appliance and its openings, and who decides.
    """

    extract_flow: float
    suction: float
    suctions: tuple[float, float]
    said: tuple[str, ...] = ()

    @property
    def reached(self):
        """The published figures that the high end reaches."""
        return tuple(one for one in COMBUSTION_LIMITS if self.suctions[1] >= one.pressure)

    def brief(self, units="metric"):
        """Return what the fans pull, in words."""
        unit = "cfm" if units == "us" else "L/s"
        flow = show(from_si(self.extract_flow, unit), unit)
        return (
            f"{flow} of extract pulls {show(self.suction, 'Pa')} on a still day, all shut, "
            f"{show_range(*self.suctions, 'Pa')} with the exponent {_EXPONENT_OFF} lower or higher."
        )

    def sentence(self, units="metric"):
        """Return in words what they pull, which figures that reaches, and who decides."""
        found = "".join(
            f" At {show(c.pressure, 'Pa')} {c.text} ({c.status})." for c in self.reached
        )
        found = found or " That is below every figure listed here, which proves nothing."
        return " ".join((f"{self.brief(units)}{found}", *self.said))


def combustion_check(extract_flow, house, appliance=None, rated_output=0.0, units="metric"):
    """Return what extract fans pull on a still day, and what is read of the appliance beside them.

    Parameters
    ----------
    extract_flow : float
        All extract fans together. [m3/s]
    house : LivedHouse
        Its leakage, exponent and envelope.
    appliance : Appliance or None
        One of `airlab.building.APPLIANCES` that takes its air from the rooms.
    rated_output : float
        Of the appliance; 0 asks for no openings. [W]
    units : str
        'metric' or 'us', for what is read of the appliance.

    Returns
    -------
    FansBesideFires
        Suction and what it means.

    Raises
    ------
    InputError
        If no fans of a house move or pull so much.

    References
    ----------
    [EN_ADJ] 1.20, table 1, appendix D; [CMHC]; [SUCTION_PRACTICE] from memory.
    """
    extract = require_positive("extract_flow", extract_flow, "m3/s", allow_zero=True)

    def pulls(exponent):
        if not extract:
            return 0.0
        return fan_suction(extract, house.flow50, min(max(exponent, 0.5), 1.0)).suction

    n, said = house.flow_exponent, []
    ends = [pulls(n + off) for off in (-_EXPONENT_OFF, _EXPONENT_OFF)]
    if appliance:
        said.append(appliance.sentence(extract, units))
    if appliance and appliance.fuel and rated_output and house.envelope_area:
        designed = from_si(house.flow50 / house.envelope_area, "m3/(h.m2)")
        try:
            said.append(combustion_air(appliance.fuel, rated_output, designed).sentence(units))
        except InputError as error:  # no area was read for its fuel
            said.append(str(error))
    pulled = pulls(n)
    if extract > _MOST_EXTRACT or pulled > _MOST_SUCTION:
        unit = "cfm" if units == "us" else "L/s"
        flow, most = (show(from_si(one, unit), unit, 4) for one in (extract, _MOST_EXTRACT))
        raise InputError(
            f"{flow} of extract would pull {show(pulled, 'Pa')}. No fans of a house do (above {most} or "
            f"{show(_MOST_SUCTION, 'Pa')}, assumption). Look for a flow by the hour typed as {label(unit)}, or a house taken too tight."
        )
    return FansBesideFires(extract, pulled, (min(ends), max(ends)), (*said, _WHO_DECIDES))
