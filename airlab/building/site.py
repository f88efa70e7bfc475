"""Where does the house stand, and what is the weather there hour by hour?

The weather is a table that people bring: from a forecast, a station near by, their own notes.
"""

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from airlab.building.rows import RowRecord
from airlab.physics.wind import SHIELDINGS, TERRAINS, averaged_pressure_coefficient, wind_speed_at
from airlab.words import Column, Table, require_between, require_choice

__all__ = ["WEATHER", "Site", "WeatherHour", "site_from_settings"]

WEATHER = Table("weather", "weather by the hour, from a forecast, a station or your own notes", (
    Column("at", "time", "start of the hour", required=True),
    Column("temperature_c", "number", "air outside", "C", required=True, low=-50, high=55,
           slip="If you have °F, take off 32 and divide by 1.8."),
    Column("wind_m_per_s", "number", "mean wind at the weather station, 10 m high", "m/s",
           required=True, low=0, high=50,
           slip="If you have km/h, divide by 3.6; if mph, multiply by 0.447."),
    Column("wind_from", "number", "where it blows from, degrees clockwise from north", low=0,
           high=360),
    Column("note", "text", "rain, sun, gusts"),
), key="at", optional=True)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WeatherHour(RowRecord):
    """One hour of weather: when, temperature [C], wind at the station [m/s], its direction [deg]."""

    _table: ClassVar[Table] = WEATHER
    _renamed: ClassVar[dict[str, str]] = {"wind_m_per_s": "wind_speed"}

    at: datetime
    temperature: float
    wind_speed: float
    wind_from: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Site:
    """How the wind reaches the house.

    Parameters
    ----------
    terrain, station_terrain : str
        Round the house, round the weather station; one of `TERRAINS`.
    shielding : str
        Height of what stands near the house, against the house: one of `SHIELDINGS`.
    eaves_height : float
        Height of the eaves above the ground. [m]
    """

    terrain: str = "suburb"
    station_terrain: str = "open land"
    shielding: str = "half height"
    eaves_height: float = 5.0

    def __post_init__(self):
        require_choice("terrain", self.terrain, TERRAINS)
        require_choice("station_terrain", self.station_terrain, TERRAINS)
        require_choice("shielding", self.shielding, SHIELDINGS)
        require_between("eaves_height", self.eaves_height, 1.0, 100.0, "m", "Type metres.")

    def wind_at_eaves(self, wind_speed):
        """Return the wind at the eaves from the wind at the station. [m/s]."""
        return wind_speed_at(self.eaves_height, wind_speed, self.terrain, self.station_terrain)

    @property
    def coefficients(self):
        """Pressure coefficients of the wall that faces the wind, and of the others on average."""
        front, *others = averaged_pressure_coefficient(
            [0.0, 90.0, 180.0, 270.0], "wall", self.shielding
        )
        return float(front), float(sum(others) / len(others))


def site_from_settings(site):
    """Return the site of a job's settings; blanks take ours.

    Parameters
    ----------
    site : dict or None
        `terrain`, `station_terrain`, `shielding` and `eaves_height_m`.

    Returns
    -------
    Site
        Where the house stands.

    Raises
    ------
    InputError
        If a name is unknown or the height is not that of a house.

    References
    ----------
    [SHERMAN1980] terrains; [LIDDAMENT] coefficients by shielding; both from memory.

    Examples
    --------
    >>> site = site_from_settings({"terrain": "open land"})
    >>> round(float(site.wind_at_eaves(4.0)), 2), [round(c, 2) for c in site.coefficients]
    (3.61, [0.4, -0.27])
    """
    known = {key: value for key, value in (site or {}).items() if value not in (None, "")}
    names = {"terrain", "station_terrain", "shielding"}
    more = {"eaves_height": known["eaves_height_m"]} if "eaves_height_m" in known else {}
    return Site(**{key: known[key] for key in names & set(known)}, **more)
