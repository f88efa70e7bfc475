"""What was the weather, hour by hour, and which hours of it count as heating?

Seasons are told by temperature, never by the month: a year from the south works as one from the
north.
"""

from dataclasses import dataclass, field

import numpy as np

from airlab.physics.air import ZERO_CELSIUS
from airlab.words import InputError, display_unit, from_si, show, to_si

__all__ = ["YEAR_HOURS", "WeatherYear", "weather_year"]

YEAR_HOURS = 8760
_PART = "This is not a year: sums are over these hours only."
_SHORT = 6  # hours; a longer gap is left out, not filled in
_MOST_HOURS = 20 * 8784
_TAKEN = {
    "temperature": (-70.0, 57.0),
    "wind_speed": (0.0, 60.0),
    "wind_from": (0.0, 360.0),
    "humidity": (0.0, 1.05),
}  # 57 °C is above any record
_SAID = {"temperature": ("temperatures", "C"), "wind_speed": ("winds", "m/s"),
         "wind_from": ("wind directions", "deg"), "humidity": ("humidities", "")}  # fmt: skip


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
        columns = ("at", "temperature", "wind_speed", "wind_from", "humidity", "filled")
        for key in columns:
            column = np.asarray(getattr(self, key)).view()
            column.flags.writeable = False  # one year is shared by many houses
            object.__setattr__(self, key, column)
        sizes = {len(getattr(self, key)) for key in columns}
        if len(sizes) != 1 or not self.hours:
            raise InputError(f"Weather {self.name!r} has columns of {sorted(sizes)} hours.")
        if not (self.whole_year or _PART in self.notes):
            object.__setattr__(self, "notes", (_PART, *self.notes))

    @property
    def hours(self):
        """Number of hours."""
        return len(self.at)

    @property
    def whole_year(self):
        """Whether it holds about a year: sums over it are sums over a year."""
        return abs(self.hours - YEAR_HOURS) <= 0.02 * YEAR_HOURS

    @property
    def span(self):
        """How many hours these are, from when to when."""
        first, last = (str(at.astype("datetime64[D]")) for at in (self.at[0], self.at[-1]))
        return f"{self.hours} hours from {first} to {last}"

    @property
    def whose(self):
        """Whose hours these are: name, how many, from when to when, where, on what terms."""
        more = "".join(f", {one}" for one in (self.place, self.licence) if one)
        drawn = int(np.count_nonzero(self.filled))
        drawn = f" ({drawn} of them filled in from their neighbours)" if drawn else ""
        return f"{self.name}: {self.span}{drawn}{more}"

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
        if self.filled.any():
            text += f". Hours filled in from their neighbours: {int(self.filled.sum())}"
        return " ".join((f"{text}.", *self.notes))


def weather_year(at, temperature, wind_speed=None, wind_from=None, humidity=None, name="own weather",
                 place="", licence="", notes=()):  # fmt: skip
    """Return a table of weather as hours in a row, and say everything that was done to it.

    Wild records are refused, gaps of up to six hours are drawn straight, longer ones left out.

    Parameters
    ----------
    at : array of datetime64
        When each row was read; any order, several to an hour are averaged.
    temperature : array
        Air outside; nan where missing. Fahrenheit and kelvin are recognised by their size. [C]
    wind_speed : array or None
        At the station, 10 m high; None where there is none. [m/s]
    wind_from : array or None
        Degrees clockwise from north. [deg]
    humidity : array or None
        Share of saturation, 0 to 1, or percent. [-]
    name, place, licence : str
        What it is, where it is from, on what terms it may be used.
    notes : tuple of str
        What was noticed before.

    Returns
    -------
    WeatherYear
        With its notes.

    Raises
    ------
    InputError
        If it is not hourly, or less than a day of it can be used.

    References
    ----------
    [AIRLAB] limits of what is taken for weather

    Examples
    --------
    >>> import numpy as np
    >>> at = np.datetime64("2013-01-01T00") + np.arange(48)
    >>> weather_year(at, np.full(48, 41.0), np.where(np.arange(48) == 3, 468.0, 4.0)).wind_speed.max()
    np.float64(4.0)
    """
    at = np.asarray(at).astype("datetime64[s]")
    notes, told = list(notes), ~np.isnat(at)
    columns = {"temperature": temperature, "wind_speed": wind_speed, "wind_from": wind_from,
               "humidity": humidity}  # fmt: skip
    columns = {
        key: np.full(at.size, np.nan) if value is None else np.asarray(value, dtype=float)
        for key, value in columns.items()
    }
    if not told.all():
        notes.append(f"Rows without a time, left out: {int((~told).sum())}.")
        at, columns = at[told], {key: value[told] for key, value in columns.items()}
    if not at.size:
        raise InputError(f"{name}: no row has a time.")
    columns["temperature"] = _in_celsius(columns["temperature"], at, notes)
    if np.nanmedian(np.append(columns["humidity"], 0.0)) > 1.5:
        columns["humidity"] = columns["humidity"] / 100.0
    for key, value in columns.items():
        columns[key] = _tamed(key, value, at, notes)
    hour = at.astype("datetime64[h]")
    first, length = hour.min(), int((hour.max() - hour.min()).astype(int)) + 1
    used, place_of = np.unique(hour, return_inverse=True)
    if used.size > 2 and np.median(np.diff(used).astype(int)) > _SHORT:
        step = int(np.median(np.diff(used).astype(int)))
        raise InputError(f"{name} has a row every {step} hours. Rows by the hour are needed.")
    if length > min(_MOST_HOURS, 20 * used.size + 24):
        raise InputError(f"{name} runs from {first} to {hour.max()} with {used.size} hours filled. "
                         "Look for a mistyped year.")  # fmt: skip
    if used.size < at.size:
        notes.append(f"Rows beyond one an hour, averaged: {at.size - used.size}.")
    where = (used - first).astype(int)
    columns = {key: _hourly(key, value, place_of, where, length) for key, value in columns.items()}
    has_wind = bool(np.isfinite(columns["wind_speed"]).any())
    if not has_wind:
        columns["wind_speed"] = np.zeros(length)
        notes.append(
            "There is no wind in it: only warm air drives the leaks, and they look too small."
        )
    filled = np.zeros(length, dtype=bool)
    for key in ("temperature", "wind_speed", "humidity"):
        columns[key], drawn = _bridged(columns[key])
        filled |= drawn & (key != "humidity")
    keep = np.isfinite(columns["temperature"]) & np.isfinite(columns["wind_speed"])
    if keep.sum() < 24:
        raise InputError(f"{name}: {int(keep.sum())} hours can be used. At least a day is needed.")
    if not keep.all():
        notes.append(f"Hours left out, in gaps longer than {_SHORT} hours: {int((~keep).sum())}.")
    return WeatherYear(name, place, licence, (first + np.arange(length))[keep],
                       **{key: value[keep] for key, value in columns.items()},
                       filled=filled[keep], has_wind=has_wind, notes=tuple(notes))  # fmt: skip


def _in_celsius(value, at, notes):
    """Turn temperatures that can only be Fahrenheit or kelvin."""
    known = value[np.isfinite(value)]
    if not known.size:
        raise InputError("There is no temperature in it.")
    hot = np.median(known) > 36.0  # a month can be that hot, no place is the year round
    whole = np.ptp(at) > np.timedelta64(300, "D")
    for unit, seen, turned in (
        ("kelvin", np.median(known) > 200.0, value - ZERO_CELSIUS),
        ("°F", np.mean(known > 50.0) > 0.02 or (hot and whole), to_si(value, "F")),
    ):
        if seen:
            notes.append(f"Temperatures up to {show(known.max())} cannot be °C; read as {unit}.")
            return turned
    if hot:
        notes.append(
            "Half of its hours are above 36 °C. If that is °F, name the column temperature_f."
        )
    return value


def _tamed(key, value, at, notes):
    """Blank what no weather can be, and say so."""
    low, high = _TAKEN[key]
    with np.errstate(invalid="ignore"):
        wild = (value < low) | (value > high) | np.isinf(value)
    if wild.any():
        word, unit = _SAID[key]
        first = int(np.argmax(wild))
        notes.append(f"Refused {word}: {int(wild.sum())}, the first {show(value[first], unit)} "
                     f"at {at[first].astype('datetime64[h]')}.")  # fmt: skip
    return np.where(wild, np.nan, value)


def _hourly(key, value, place_of, where, length):
    """Put rows into their hours; several in one hour are averaged, directions as arrows."""
    angle = key == "wind_from"
    turned = np.exp(1j * np.deg2rad(value)) if angle else value
    known = np.isfinite(value)
    count = np.bincount(place_of[known], minlength=where.size)
    total = sum(
        part * np.bincount(place_of[known], values, minlength=where.size)
        for part, values in ((1.0, turned[known].real), (1j, turned[known].imag))
    )
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.mod(np.rad2deg(np.angle(total)).round(6), 360.0) if angle else total.real / count
    result = np.full(length, np.nan)
    result[where] = np.where(count > 0, mean, np.nan)
    return result


def _bridged(value):
    """Draw a straight line over gaps of up to six hours; return the values and which were drawn."""
    known = np.flatnonzero(np.isfinite(value))
    if not known.size:
        return value, np.zeros(value.size, dtype=bool)
    every = np.arange(value.size)
    after = np.searchsorted(known, every)
    before, next_one = known[np.maximum(after - 1, 0)], known[np.minimum(after, known.size - 1)]
    inside = (every > known[0]) & (every < known[-1])
    drawn = ~np.isfinite(value) & inside & (next_one - before <= _SHORT + 1)
    return np.where(drawn, np.interp(every, known, value[known]), value), drawn
