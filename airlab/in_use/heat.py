"""What does the air that leaks carry away over a year, and in the worst hour of it?

Every entry of an array is one hour. Ways of counting stand as rows, so that a result is a range.
"""

from dataclasses import dataclass, field

import numpy as np

from airlab.words import (
    InputError,
    display_unit,
    from_si,
    require_between,
    require_positive,
    show_range,
    to_si,
)

__all__ = [
    "AIR_HEAT",
    "HEATING_BELOW",
    "INDOOR",
    "HeatFactors",
    "YearHeat",
    "heat_of_hours",
    "heating_lift",
    "show_energy",
    "year_heat",
]

AIR_HEAT = 1200.0  # J/(m3.K), 1.2 kg/m3 by 1000 J/(kg.K)
INDOOR = 20.0  # C
HEATING_BELOW = 15.0  # C, ours
_FAHRENHEIT = "If you have °F, take off 32 and divide by 1.8."


@dataclass(frozen=True, slots=True)
class HeatFactors:
    """What the user says of a kWh bought: price in own money, CO2 [kg], heat it delivers [-].

    With units "us" it is a therm and its pounds of CO2. None is not said; there is no price of ours.
    A heat pump delivers more than 1.
    """

    price: float | None = None
    carbon: float | None = None
    efficiency: float = 1.0
    units: str = "metric"

    def __post_init__(self):
        require_between("efficiency", self.efficiency, 0.1, 10.0, "-", "For 90 % write 0.9.")
        for name in ("price", "carbon"):
            if getattr(self, name) is not None:
                require_positive(name, getattr(self, name), allow_zero=True)

    def sentence(self, energy):
        """Return cost and CO2 of a (low, high) energy [J] in words; empty where nothing is said."""
        per, mass = (display_unit(one, self.units) for one in ("J", "kg"))
        bought = [from_si(one, per) / self.efficiency for one in energy]
        pairs = ((self.price, "", " in your money"), (self.carbon, mass, " of CO₂"))
        said = [show_range(*(factor * one for one in bought), unit) + words
                for factor, unit, words in pairs if factor is not None]  # fmt: skip
        return f"With your factors that is {' and '.join(said)}. " if said else ""


@dataclass(frozen=True, slots=True)
class YearHeat:
    """Heat that leaking air carries away; pairs are (low, high) over the ways of counting.

    Energy over all hours [J], power in the worst [W]; numbers of ways, hours, heated hours;
    degree-hours while heated [K.h]; air changes at 50 Pa behind the flows [1/h]; user's factors.
    """

    energy: tuple[float, float]
    peak: tuple[float, float]
    ways: int
    hours: int
    heating_hours: int
    degree_hours: float
    ach50: float | None = None
    factors: HeatFactors = field(default_factory=HeatFactors)

    @property
    def per_ach50(self):
        """Energy for each air change at 50 Pa, (low, high); None where it is not known. [J]."""
        return None if self.ach50 is None else tuple(one / self.ach50 for one in self.energy)

    def sentence(self, units="metric"):
        """Return the heat in words."""
        by = f"by {self.ways} ways of counting" if self.ways > 1 else "by one way of counting alone"
        by += " hour by hour"  # rules for a whole year say less or more and stand beside it
        worth = ""
        if self.per_ach50:
            worth = f"Each 1 /h at 50 Pa is worth {show_energy(self.per_ach50, units)}. "
        power = display_unit("W", units)
        peak = show_range(*(from_si(one, power) for one in self.peak), power)
        return (
            f"Leaking air carries away {show_energy(self.energy, units)} in {self.hours} hours "
            f"({self.heating_hours} heated), {by}. In the "
            f"worst hour it takes {peak}. {worth}"
            f"{self.factors.sentence(self.energy)}An estimate, good for comparing."
        )


def show_energy(energy, units="metric"):
    """Return a (low, high) energy [J] as text, in kWh or therms."""
    unit = display_unit("J", units)
    return show_range(*(from_si(one, unit) for one in energy), unit)


def heating_lift(temperature, indoor_temperature=INDOOR, heating_below=HEATING_BELOW):
    """Return by how much the house is warmer than outside while it is heated [K]; never negative."""
    outside = require_between("temperature", temperature, -60.0, 60.0, "C", _FAHRENHEIT)
    inside = require_between("indoor_temperature", indoor_temperature, 5.0, 35.0, "C", _FAHRENHEIT)
    below = require_between("heating_below", heating_below, -30.0, 35.0, "C", _FAHRENHEIT)
    return np.atleast_1d(np.where(outside < below, np.maximum(inside - outside, 0.0), 0.0))


def heat_of_hours(flow, lift, air_heat=AIR_HEAT):
    """Return the power of each hour [W] and the energy of each row [J]: ``P = ρ c q (θ_in − θ_out)``."""
    q = np.asarray(require_positive("flow", flow, "m3/s", allow_zero=True))
    if q.ndim and q.shape[-1] != lift.size:
        raise InputError(
            f"Flow has {q.shape[-1]} hours, temperature has {lift.size}. Give both for the same hours."
        )
    power = require_positive("air_heat", air_heat) * q * lift
    return power, power.sum(axis=-1) * to_si(1.0, "h")


def year_heat(
    flow,
    temperature,
    ach50=None,
    factors=None,
    indoor_temperature=INDOOR,
    heating_below=HEATING_BELOW,
    air_heat=AIR_HEAT,
):
    """Return the heat that leaking air carries away over the hours given.

    Parameters
    ----------
    flow : float or array
        Infiltration: one value, one for each hour, or a row of hours for each model. [m3/s]
    temperature : array
        Outside, hour by hour. [C]
    ach50 : float or None
        Air changes at 50 Pa behind the flows; gives the worth of one. [1/h]
    factors : HeatFactors or None
        Price and CO2 as the user says.
    indoor_temperature, heating_below : float
        Inside; outside temperature below which the heating runs. [C]
    air_heat : float
        Heat of a cubic metre of air for each kelvin. [J/(m3.K)]

    Returns
    -------
    YearHeat
        Low and high over the models.

    Raises
    ------
    InputError
        If a flow is negative, hours differ, or a temperature is no weather's.

    Notes
    -----
    Sun and people warm a house too, which `heating_below` stands for. Air at 0 °C weighs 8 % more
    than counted here. The worth of 1 /h holds for the same exponent and spread of leaks.

    References
    ----------
    [FI_ENERGY] section 25: 1.2 kg/m3 and 1000 J/(kg.K), 0.3333 Wh/(m3.K). [AIRLAB] 20 and 15 °C.

    Examples
    --------
    >>> print(year_heat([[0.02, 0.02], [0.03, 0.03]], [0.0, -10.0], 5.0).sentence())
    Leaking air carries away 1.2 to 1.8 kWh in 2 hours (2 heated), by 2 ways of counting hour by hour. In the worst hour it takes 720 to 1100 W. Each 1 /h at 50 Pa is worth 0.24 to 0.36 kWh. An estimate, good for comparing.
    """
    lift = heating_lift(temperature, indoor_temperature, heating_below)
    if ach50 is not None:
        require_positive("ach50", ach50, "1/h")
    power, energy = heat_of_hours(flow, lift, air_heat)
    both = [(float(one.min()), float(one.max())) for one in (energy, power.max(axis=-1))]
    return YearHeat(*both, energy.size, lift.size, int(np.count_nonzero(lift)), float(lift.sum()),
                    ach50, factors or HeatFactors())  # fmt: skip
