"""What was the weather, hour by hour, and which hours of it count as heating?

Seasons are told by temperature, never by the month: a year from the south works as one from the
north.
"""

from dataclasses import dataclass, field

import numpy as np

from airlab.words import InputError, display_unit, from_si, show

__all__ = ["YEAR_HOURS", "WeatherYear"]

YEAR_HOURS = 8760


@dataclass(frozen=True, slots=True, eq=False)
class WeatherYear:
    """Weather over many hours; values that were filled in are marked.

    Parameters
    ----------
    name, place, licence : str
        What it is called, where it was measured, on what terms it may be used.
    at : array of datetime64[h]
        Start of each hour.
    temperature : array
        Air outside. [C]
    wind_speed : array
        At the station, 10 m high; zero throughout where no wind is known. [m/s]
    wind_from : array
        Degrees clockwise from north; nan where unknown. [deg]
    humidity : array
        Share of saturation, 0 to 1; nan where unknown. [-]
    filled : array of bool
        Hours with a value that was drawn between its neighbours.
    has_wind : bool
        Whether any wind was given.
    notes : tuple of str
        What was repaired, refused or left out.
    """

    name: str
    place: str
    licence: str
    at: np.ndarray = field(repr=False)
    temperature: np.ndarray = field(repr=False)
    wind_speed: np.ndarray = field(repr=False)
    wind_from: np.ndarray = field(repr=False)
    humidity: np.ndarray = field(repr=False)
    filled: np.ndarray = field(repr=False)
    has_wind: bool = True
    notes: tuple[str, ...] = ()

    def __post_init__(self):
        sizes = {len(getattr(self, key)) for key in
                 ("at", "temperature", "wind_speed", "wind_from", "humidity", "filled")}  # fmt: skip
        if len(sizes) != 1 or not self.hours:
            raise InputError(f"Weather {self.name!r} has columns of {sorted(sizes)} hours.")

    @property
    def hours(self):
        """Number of hours."""
        return len(self.at)

    @property
    def whole_year(self):
        """Whether it holds about a year: sums over it are sums over a year."""
        return abs(self.hours - YEAR_HOURS) <= 0.02 * YEAR_HOURS

    @property
    def hemisphere(self):
        """'north' or 'south' by the warmer half of the year; empty where it does not tell."""
        month = self.at.astype("datetime64[M]").astype(int) % 12 + 1
        summer, winter = (np.isin(month, m) for m in ((6, 7, 8), (12, 1, 2)))
        if not (summer.any() and winter.any()):
            return ""
        warmer = self.temperature[summer].mean() - self.temperature[winter].mean()
        return "" if abs(warmer) < 1.0 else "north" if warmer > 0 else "south"

    def heating(self, heating_below=15.0):
        """Return which hours are colder outside than `heating_below` [C]."""
        return self.temperature < heating_below

    def degree_hours(self, indoor_temperature=20.0, heating_below=15.0):
        """Return the degree hours of the heating hours; an hour warmer than inside counts as none. [K.h]."""
        below = np.maximum(indoor_temperature - self.temperature, 0.0)
        return float(below[self.heating(heating_below)].sum())

    def sentence(self, units="metric"):
        """Return the weather in words, with everything that was done to it."""
        temperature, wind = display_unit("C", units), display_unit("m/s", units)
        text = (
            f"{self.name}: {self.hours} hours, mean {show(from_si(self.temperature.mean(), temperature), temperature)}"
        )  # fmt: skip
        if self.has_wind:
            text += (
                f" and {show(from_si(self.wind_speed.mean(), wind), wind)} of wind at the station"
            )
        if not self.whole_year:
            text += ". This is not a year: sums are over these hours only"
        if self.filled.any():
            text += f". {int(self.filled.sum())} hours were filled in from their neighbours"
        return " ".join((f"{text}.", *self.notes))
