"""Living in it: what the number at 50 Pa means through the year.

A house and its weather become outside air hour by hour, by several models side by side. From that
air follow heat, comfort, moisture and fresh air, with ranges and cautions.
"""

from airlab.in_use.air import YearAir
from airlab.in_use.air_supply import (
    COMBUSTION_LIMITS,
    FAN_RULES,
    LIVING_CAUTIONS,
    FansBesideFires,
    FreshAir,
    combustion_check,
    fresh_air,
    with_fans,
)
from airlab.in_use.comfort import (
    DRAUGHT_CATEGORIES,
    Draught,
    draught_at,
    draught_category,
    draught_rating,
)
from airlab.in_use.heat import AIR_HEAT, HeatFactors, YearHeat, year_heat
from airlab.in_use.house import (
    COMPASS,
    FLOORS,
    FLUE_SHARE,
    SHELTERS,
    LivedHouse,
    keep_lived,
    lived_house,
    lived_settings,
)
from airlab.in_use.models import Models, Turned, side_by_side
from airlab.in_use.moisture import (
    PUBLISHED_MOISTURE,
    GapMoisture,
    PublishedMoisture,
    gap_moisture,
    vapour_density,
)
from airlab.in_use.retests import RETESTS, Ageing, ageing
from airlab.in_use.strategies import FourWays, Way, four_ways
from airlab.in_use.weather import YEAR_HOURS, WeatherYear, weather_year
from airlab.in_use.year import LeakGroup, leak_groups, year_by_engine, years_by_engine

__all__ = [
    "AIR_HEAT",
    "COMBUSTION_LIMITS",
    "COMPASS",
    "DRAUGHT_CATEGORIES",
    "FAN_RULES",
    "FLOORS",
    "FLUE_SHARE",
    "LIVING_CAUTIONS",
    "PUBLISHED_MOISTURE",
    "RETESTS",
    "SHELTERS",
    "YEAR_HOURS",
    "Ageing",
    "Draught",
    "FansBesideFires",
    "FourWays",
    "FreshAir",
    "GapMoisture",
    "HeatFactors",
    "LeakGroup",
    "LivedHouse",
    "Models",
    "PublishedMoisture",
    "Turned",
    "Way",
    "WeatherYear",
    "YearAir",
    "YearHeat",
    "ageing",
    "combustion_check",
    "draught_at",
    "draught_category",
    "draught_rating",
    "four_ways",
    "fresh_air",
    "gap_moisture",
    "keep_lived",
    "leak_groups",
    "lived_house",
    "lived_settings",
    "side_by_side",
    "vapour_density",
    "weather_year",
    "with_fans",
    "year_by_engine",
    "year_heat",
    "years_by_engine",
]
