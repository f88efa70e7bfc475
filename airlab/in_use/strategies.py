"""Tightening and ventilating together: what do four ways cost in heat, and who gets fresh air?

The same house twice, leaky and tight, in the same weather. Heat and fresh air are read together:
a way that saves heat by withholding air has saved nothing.
"""

from dataclasses import dataclass

import numpy as np

from airlab.building import flow_at
from airlab.in_use.air_supply import (
    FAN_RULES,
    FansBesideFires,
    FreshAir,
    combustion_check,
    fresh_air,
    with_fans,
)
from airlab.in_use.heat import heat_of_hours, heating_lift, show_energy
from airlab.physics import hole_flow
from airlab.words import (
    InputError,
    caution,
    from_si,
    require_between,
    require_positive,
    show,
    show_percent,
    show_range,
    to_si,
)

__all__ = ["FourWays", "Way", "four_ways"]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to live; pairs are (low, high) over models and fan rules.

    Heat that outdoor air takes in the heating hours, fan power included, and the same if windows
    were opened for just what is missing [J]; fresh air; what fans pull on a still day.
    """

    name: str
    energy: tuple[float, float]
    made_up: tuple[float, float]
    air: FreshAir
    suction: FansBesideFires | None = None

    @property
    def share_short(self):
        """Share of the heating hours with too little fresh air, (low, high). [-]."""
        return tuple(one / self.air.hours for one in self.air.hours_short)

    def sentence(self, units="metric"):
        """Return heat and fresh air in one breath."""
        unit = "cfm" if units == "us" else "L/s"
        supply = show_range(*(from_si(one, unit) for one in self.air.mean), unit)
        text = f"{self.name}: {show_energy(self.energy, units)}, mean supply {supply}, "
        if not self.air.hours_short[1]:
            text += f"never short of fresh air in {self.air.hours} heating hours."
        else:
            short = show_range(*self.air.hours_short, digits=4)
            text += (
                f"short of fresh air in {short} of {self.air.hours} heating hours. With windows opened "
                f"for what is missing: {show_energy(self.made_up, units)}."
            )
        if self.suction is not None:
            text += (
                f" On a still day the fan pulls {show_range(*self.suction.suctions, 'Pa')}: ask a licensed "
                "person before any fire takes its air from these rooms."
            )
        return text


@dataclass(frozen=True, slots=True)
class FourWays:
    """The four ways side by side: need [m3/s], recovery [-], notes."""

    ways: tuple[Way, ...]
    need: float
    recovery: float
    notes: tuple[str, ...]

    def brief(self, units="metric"):
        """Return heat and hours short of fresh air of all four, to stand beside a table."""
        said = []
        for way in self.ways:
            short = "never short of fresh air"
            if way.air.hours_short[1]:
                low, high = (show_percent(one) for one in way.share_short)
                both = high if low == high else f"{low} to {high}"
                short = f"short of fresh air in {both} of the heating hours"
                if way.share_short[0] == 1.0:
                    short = "short of fresh air in every heating hour"
            said.append(f"{way.name}: {show_energy(way.energy, units)}, {short}.")
        return f"{' '.join(said)} Read heat and fresh air together: less heat with less air is no gain."

    def sentence(self, units="metric"):
        """Return all four, heat and fresh air together; no number is praised alone."""
        unit = "cfm" if units == "us" else "L/s"
        lines = " ".join(one.sentence(units) for one in self.ways)
        return (
            f"Asked for: {show(from_si(self.need, unit), unit)} of fresh air. {lines} Read heat and "
            f"fresh air together: less heat with less air is no gain. {' '.join(self.notes)} "
            f"{caution('ventilation').text} {caution('estimate').text}"
        )


def four_ways(
    leaky,
    tight,
    need,
    extract_flow=None,
    balanced_flow=None,
    recovery=0.75,
    fan_power=0.0,
    vent_area=0.0,
):
    """Return heat and fresh air of leaky and tight, natural, extract and heat recovery.

    Parameters
    ----------
    leaky, tight : sequence of YearAir
        The house twice in one weather, by the same models, without fans.
    need : float
        Fresh air asked for. [m3/s]
    extract_flow, balanced_flow : float or None
        Continuous extract; supply and extract of heat recovery; None takes the need. [m3/s]
    recovery : float
        Share of the heat that heat recovery keeps over the season. [-]
    fan_power : float
        Electric power for each flow of the heat recovery; 0 leaves it out. [W/(m3/s)]
    vent_area : float
        Open vents in the two natural ways; they feel the weather as the leaks do. [m2]

    Returns
    -------
    FourWays
        Leaky and natural, tight and natural, tight with extract, tight with heat recovery.

    Raises
    ------
    InputError
        If no model goes by the hour, no hour is heated, or the tight house is the leakier.

    Notes
    -----
    Ranges span the models and both `FAN_RULES`. Fans run in every hour and are taken to deliver.
    Whether the air reaches each room is a question of design. A rule with one figure for the year
    says nothing of hours and is left out.

    References
    ----------
    [QUADRATURE] and [ISO_13789] fans beside leaks, from memory. [FI_ENERGY] heat of air.
    [AIRLAB] recovery of 75 %, vents that feel the leaks' pressure.
    """
    asked = require_positive("need", need, "m3/s")
    by_hour = [[one for one in airs if one.hourly] for airs in (leaky, tight)]
    if not all(by_hour):
        raise InputError(
            "No model goes by the hour. Add one that does: a mean hides the still days."
        )
    (old, new), weather = (airs[0].house for airs in by_hour), by_hour[0][0].weather
    if any(one.weather.hours != weather.hours for airs in by_hour for one in airs):
        raise InputError("The two houses stand in different weather. Use one weather for both.")
    if new.flow50 > old.flow50:
        raise InputError("The tight house leaks more at 50 Pa than the leaky one. Swap the two.")
    extract, balanced = (
        asked if one is None else require_positive(name, one, "m3/s")
        for name, one in (("extract_flow", extract_flow), ("balanced_flow", balanced_flow))
    )
    kept = require_between("recovery", recovery, 0.0, 0.95, "-", "If you meant 80 %, write 0.8.")
    power = require_between("fan_power", fan_power, 0.0, 2e4, "-", "2 W for each L/s is 2000.")
    vents = require_between("vent_area", vent_area, 0.0, 1.0, "m2", "For 420 cm² write cm2(420).")
    lift = heating_lift(weather.temperature, new.indoor_temperature, new.heating_below)
    old_leaks, leaks = (np.stack([one.flow for one in airs]) for airs in by_hour)

    def beside(house):
        return 1.0 + float(hole_flow(vents, 4.0) / flow_at(4.0, house.flow50, house.flow_exponent))

    def way(name, supply, warmed=0.0, watts=0.0, suction=None):
        fans = watts * np.count_nonzero(lift) * to_si(1.0, "h")
        heat, fuller = (heat_of_hours(one - kept * warmed, lift)[1] + fans
                        for one in (supply, np.maximum(supply, asked)))  # fmt: skip
        pairs = [(float(one.min()), float(one.max())) for one in (heat, fuller)]
        return Way(name, *pairs, fresh_air(supply, asked, lift > 0.0), suction)

    pulled = np.stack([with_fans(leaks, new.flow50, extract, rule=one) for one in FAN_RULES])
    recovered = with_fans(leaks, new.flow50, balanced_flow=balanced)
    ways = (
        way("Leaky, natural", old_leaks * beside(old)),
        way("Tight, natural", leaks * beside(new)),
        way("Tight, continuous extract", pulled,
            suction=combustion_check(extract, new)),
        way("Tight, heat recovery", recovered, balanced, power * balanced),
    )  # fmt: skip
    notes = (
        f"Heat recovery is taken to keep {show_percent(kept)} (assumption), "
        + (
            f"with fans of {show(power * balanced, 'W')}." if power else "its fans are not counted."
        ),
        f"The natural ways have {'open vents as said' if vents else 'no open vents'}; vents feel the "
        "weather as the leaks do (assumption).",
        "Fans are taken to run in every hour, and windows to be open when nobody heats. Fans and leaks "
        "are added by two rules, both from memory: the ranges span them and the models.",
    )
    return FourWays(ways, asked, kept, notes)
