"""Living in it: what the number at 50 Pa means through the year.

A house and its weather become outside air hour by hour, by several models side by side. From that
air follow heat, comfort, moisture and fresh air, with ranges and cautions.
"""

from airlab.in_use.air import YearAir
from airlab.in_use.house import FLOORS, SHELTERS, LivedHouse, lived_house
from airlab.in_use.weather import YEAR_HOURS, WeatherYear

__all__ = [
    "FLOORS",
    "SHELTERS",
    "YEAR_HOURS",
    "LivedHouse",
    "WeatherYear",
    "YearAir",
    "lived_house",
]
