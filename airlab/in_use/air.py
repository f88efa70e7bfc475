"""How much outside air came through the leaks, hour by hour, by one model?"""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from airlab.in_use.house import LivedHouse
from airlab.in_use.weather import WeatherYear
from airlab.words import STATUSES, InputError, ach, require_choice, show, show_range

__all__ = ["YearAir"]


@dataclass(frozen=True, eq=False)
class YearAir:
    """What one model says of a house in a weather.

    Parameters
    ----------
    model : str
        Name of the model.
    house : LivedHouse
        The house.
    weather : WeatherYear
        The weather.
    flow : array
        Outside air through the leaks, each hour. [m3/s]
    source, status : str
        Key of the source; how its coefficients were obtained.
    hourly : bool
        False for a rule that gives one figure for the whole year.
    spread : tuple or None
        Least and most divisor the source itself gives. [-]
    pressure_low, pressure_high : array or None
        Inside over outside at the floor and at the top, without wind; the engine only. [Pa]
    warnings : tuple of str
        Where the model is stretched.
    """

    model: str
    house: LivedHouse
    weather: WeatherYear = field(repr=False)
    flow: np.ndarray = field(repr=False)
    source: str = "DERIVED"
    status: str = "derived"
    hourly: bool = True
    spread: tuple[float, float] | None = None
    pressure_low: np.ndarray | None = field(default=None, repr=False)
    pressure_high: np.ndarray | None = field(default=None, repr=False)
    warnings: tuple[str, ...] = ()

    def __post_init__(self):
        require_choice("status", self.status, STATUSES)
        flow = np.broadcast_to(np.asarray(self.flow, dtype=float), (self.weather.hours,))
        if not np.isfinite(flow).all():
            raise InputError(f"{self.model}: some hours have no flow.")
        object.__setattr__(self, "flow", flow)

    @cached_property
    def heating(self):
        """Which hours are heated."""
        return self.weather.heating(self.house.heating_below)

    @property
    def air_change_rate(self):
        """Outside air through the leaks, each hour, without any fan. [1/h]"""
        return ach(self.flow, self.house.volume)

    @cached_property
    def mean_while_heating(self):
        """Mean air change rate over the heating hours; over all hours if none is heated. [1/h]"""
        chosen = self.heating if self.heating.any() else slice(None)
        return float(np.mean(self.air_change_rate[chosen]))

    @property
    def divisor(self):
        """N: air changes at 50 Pa over the mean while heating; infinite where nothing leaks in."""
        mean = self.mean_while_heating
        return self.house.n50 / mean if mean > 0 else np.inf

    def sentence(self, units="metric"):
        """Return the model's answer in words."""
        when = (
            "while the heating runs" if self.heating.any() else "over the year; no hour is heated"
        )
        text = (
            f"{self.model}: {show(self.mean_while_heating)} air changes an hour through the leaks in "
            f"everyday weather {when}. That is n50 divided by {show(self.divisor)} ({self.status})."
        )
        if self.spread:
            text += f" Its own range is {show_range(*self.spread)}."
        return " ".join((text, *self.warnings))
