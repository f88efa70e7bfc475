"""What do all the models say of one house in one weather, side by side?"""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from airlab.in_use.air import YearAir
from airlab.in_use.enhanced import enhanced_model
from airlab.in_use.heat import heat_of_hours, heating_lift
from airlab.in_use.house import COMPASS
from airlab.in_use.rules import divided_by_rules
from airlab.in_use.stack_wind import area_model_1980, basic_model
from airlab.in_use.year import year_by_engine, years_by_engine
from airlab.words import show, show_percent, show_range, to_si

__all__ = ["Models", "Turned", "side_by_side"]


@dataclass(frozen=True, slots=True)
class Turned:
    """The engine's mean while heating with the front turned all round, over that as it stands.

    Least and most [-], where the front then looks, and most over least of the hourly models [-].
    """

    low: float
    high: float
    low_at: str
    high_at: str
    models: float

    def sentence(self, units="metric"):
        """Return what turning the house does, and whether that matters beside the models."""
        ends = [_change(*one) for one in ((self.low, self.low_at), (self.high, self.high_at))]
        said = ", ".join(filter(None, ends))
        text = f"Turned all round, the engine's mean {f'is {said}' if said else 'moves by less than 1 %'}."
        small = self.high / self.low <= self.models
        return f"{text} That is {'less' if small else 'more'} than the models differ by among themselves."


def _change(ratio, front):
    if abs(ratio - 1.0) < 0.01:
        return ""
    way = "higher" if ratio > 1.0 else "lower"
    return f"{show_percent(abs(ratio - 1.0))} {way} with the front to the {front}"


@lru_cache(maxsize=16)
def _rates_turned(house, weather):
    """Return the engine's mean while heating as it stands, and in the first half of the compass."""
    ways = (replace(house, front_faces=45.0 * at) for at in range(len(COMPASS) // 2))
    return [year.mean_while_heating for year in years_by_engine((house, *ways), weather)]


@dataclass(frozen=True, eq=False)
class Models:
    """Every model's answer, the rules first; one by name as `found["handbook basic model"]`."""

    entries: tuple[YearAir, ...]

    def __getitem__(self, model):
        """Return the answer of a model."""
        return next(entry for entry in self.entries if entry.model == model)

    @property
    def house(self):
        """The house."""
        return self.entries[0].house

    @property
    def weather(self):
        """The weather."""
        return self.entries[0].weather

    @property
    def engine(self):
        """The answer of the air-flow engine."""
        return self.entries[-1]

    @cached_property
    def flows(self):
        """What the hourly models say, a row for each. [m3/s]"""
        return np.stack([entry.flow for entry in self.hourly])

    @cached_property
    def heats(self):
        """Heat that each answer carries off while the house is heated, in their order. [J]"""
        lift = heating_lift(self.weather.temperature, self.house.indoor_temperature,
                            self.house.heating_below)  # fmt: skip
        return tuple(heat_of_hours(np.stack([one.flow for one in self.entries]), lift)[1].tolist())

    @property
    def warnings(self):
        """Where a model is stretched, with its name; what all of them say stands once."""
        said = {}
        for one in self.entries:
            for words in one.warnings:
                said.setdefault(words, []).append(one.model)
        return tuple(f"{', '.join(names)}: {words}" for words, names in said.items())

    @cached_property
    def turned(self):
        """What turning the house does; front and back leak alike, so half a turn shows it all.

        A house that leaks twice as much has twice the flow, so one leakage stands for all.
        """
        one = replace(self.house, flow50=self.house.volume * to_si(1.0, "1/h"))
        now, *rates = _rates_turned(one, self.weather)
        if not now > 0.0:
            return Turned(1.0, 1.0, "", "", 1.0)
        ends = [pick(range(len(rates)), key=rates.__getitem__) for pick in (min, max)]
        low, high = self.divisors
        return Turned(*(rates[at] / now for at in ends),
                      *(f"{COMPASS[at]} or {COMPASS[at + len(rates)]}" for at in ends), high / low)  # fmt: skip

    @property
    def hourly(self):
        """The models that follow the weather hour by hour."""
        return tuple(entry for entry in self.entries if entry.hourly)

    @property
    def rules(self):
        """The rules that divide n50."""
        return tuple(entry for entry in self.entries if not entry.hourly)

    @property
    def divisors(self):
        """Least and most N of the models that follow the weather. [-]"""
        found = [entry.divisor for entry in self.hourly]
        return min(found), max(found)

    @property
    def rates(self):
        """Least and most mean air change rate while heating, over all models and rules. [1/h]"""
        found = [entry.mean_while_heating for entry in self.entries]
        return min(found), max(found)

    def sentence(self, units="metric"):
        """Return the comparison in words: 20 is not a constant."""
        low, high = self.divisors
        weather, house = self.weather, self.house
        heated = weather.heating(house.heating_below).any()
        when = "the heating hours" if heated else "all hours, none of them heated,"
        rules = [entry.divisor for entry in self.rules]
        ends = [end for entry in self.rules for end in entry.spread or ()] + rules
        where = "within" if low <= 20.0 <= high else "outside"
        return (
            f"Models and rules together say {show_range(*self.rates)} air changes an hour in everyday "
            f"weather, for {show(house.n50)} at 50 Pa. Take the range, not one of them. By the hourly models n50 is {show_range(low, high, digits=3)} times the everyday air change in {when} of "
            f"{weather.name}. 20 is not a constant: here it lies {where} that span. "
            f"The rules divide by {show_range(min(rules), max(rules), digits=3)}, "
            f"with the spread they give themselves by {show_range(min(ends), max(ends), digits=3)}."
        )


def side_by_side(house, weather, supply=0.0, extract=0.0):
    """Return what rules, area models, enhanced model and engine say of a house in a weather.

    Parameters
    ----------
    house : LivedHouse
        The house.
    weather : WeatherYear
        The weather.
    supply, extract : float
        Fans; the engine and the rule with plant know of them, the others give leaks alone. [m3/s]

    Returns
    -------
    Models
        The answers and their range.
    """
    hourly = (area_model_1980, basic_model, enhanced_model)
    return Models((
        *divided_by_rules(house, weather, supply, extract),
        *(model(house, weather) for model in hourly),
        year_by_engine(house, weather, supply, extract),
    ))  # fmt: skip
