"""What do all the models say of one house in one weather, side by side?"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from airlab.in_use.air import YearAir
from airlab.in_use.enhanced import enhanced_model
from airlab.in_use.heat import heat_of_hours, heating_lift
from airlab.in_use.rules import divided_by_rules
from airlab.in_use.stack_wind import area_model_1980, basic_model
from airlab.in_use.year import year_by_engine
from airlab.words import show, show_range

__all__ = ["Models", "side_by_side"]


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
            f"By the hourly models n50 is {show_range(low, high, digits=3)} times the everyday air change in {when} of "
            f"{weather.name}. 20 is not a constant: here it lies {where} that span. N moves with "
            f"wind, warmth, height and shelter. The rules divide by {show_range(min(rules), max(rules), digits=3)}, "
            f"with the spread they give themselves by {show_range(min(ends), max(ends), digits=3)}. "
            f"Together they say {show_range(*self.rates)} air changes an hour in everyday weather, for "
            f"{show(house.n50)} at 50 Pa. Take the range, not one of them."
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
