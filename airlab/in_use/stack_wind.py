"""How much air do warmth and wind drive through the leakage area? Two area models, hour by hour.

``Q = A_L √(stack·Δθ + wind·U²)``. The leaks are taken as one area at 4 Pa.
"""

import numpy as np

from airlab.in_use.air import YearAir
from airlab.in_use.house import SHELTERS
from airlab.physics.air import ZERO_CELSIUS
from airlab.physics.airflow import GRAVITY
from airlab.physics.wind import TERRAINS
from airlab.words import (
    from_si,
    require_between,
    require_choice,
    require_finite,
    require_positive,
)

__all__ = ["BASIC_STACK", "BASIC_WIND", "SHIELDING_1980", "area_model_1980", "basic_model",
           "basic_model_flow", "stack_and_wind_factors"]  # fmt: skip

# Basic model: flow in m3/s per 1000 cm2, by storeys 1 to 3; wind by the five classes of shelter.
BASIC_STACK = (0.000145, 0.000290, 0.000435)
BASIC_WIND = (
    (0.000319, 0.000420, 0.000494),
    (0.000246, 0.000325, 0.000382),
    (0.000174, 0.000231, 0.000271),
    (0.000104, 0.000137, 0.000161),
    (0.000032, 0.000042, 0.000049),
)
SHIELDING_1980 = (0.324, 0.285, 0.240, 0.185, 0.102)  # the paper itself: .34 .30 .25 .19 .11


def basic_model_flow(leakage_area, storeys, shielding, warmer, wind_at_station):
    """Return the flow of the handbook's basic model.

    Parameters
    ----------
    leakage_area : float
        All leaks as one area at 4 Pa. [m2]
    storeys : float
        1 to 3; between them on a straight line. [-]
    shielding : str
        One of `SHELTERS`.
    warmer : float or array
        Inside less outside; its size counts, so a cool house on a hot day leaks too. [K]
    wind_at_station : float or array
        At the weather station, not brought to the site. [m/s]

    Returns
    -------
    float or array
        Outside air through the leaks. [m3/s]

    References
    ----------
    [ASHRAE_BASIC] tables of stack and wind coefficients

    Examples
    --------
    >>> float(basic_model_flow(0.05, 2, "houses across the street", 39.0, 6.7).round(4))
    0.0736
    """
    require_between("storeys", storeys, 1.0, 3.0)
    shelter = SHELTERS.index(require_choice("shielding", shielding, SHELTERS))
    require_positive("wind_at_station", wind_at_station, "m/s", allow_zero=True)
    stack, wind = (
        float(np.interp(storeys, (1, 2, 3), row)) for row in (BASIC_STACK, BASIC_WIND[shelter])
    )
    area = from_si(require_positive("leakage_area", leakage_area, "m2"), "cm2") / 1000.0
    warmer = np.abs(require_finite("warmer", warmer, "K"))
    return area * np.sqrt(stack * warmer + wind * np.square(wind_at_station))


def stack_and_wind_factors(house, station_terrain="open land", station_height=10.0):
    """Return f_s [-] and f_w [-] of the 1980 model: ``f_s = (1+R/2)/3 · [1-X²/(2-R)²]^1.5``.

    References
    ----------
    [SHERMAN1980] factors, terrains and shielding
    """
    R, X = house.horizontal_share, house.ceiling_minus_floor
    stack = (1.0 + R / 2.0) / 3.0 * (1.0 - X**2 / (2.0 - R) ** 2) ** 1.5
    (a, g), (a0, g0) = TERRAINS[house.terrain], TERRAINS[station_terrain]
    at_house = a * (house.height / 10.0) ** g / (a0 * (station_height / 10.0) ** g0)
    return stack, SHIELDING_1980[house.shelter_class - 1] * np.cbrt(1.0 - R) * at_house


def area_model_1980(house, weather):
    """Return the year of the stack-and-wind area model of 1980.

    ``Q = A_L √(f_s² g H Δθ / T + f_w² U²)``

    References
    ----------
    [SHERMAN1980] the model
    """
    f_s, f_w = stack_and_wind_factors(house)
    warmer = np.abs(house.indoor_temperature - weather.temperature)
    push = GRAVITY * house.height * warmer / (house.indoor_temperature + ZERO_CELSIUS)
    flow = house.leakage_area * np.sqrt(f_s**2 * push + (f_w * weather.wind_speed) ** 2)
    return YearAir("area model of 1980", house, weather, flow, "SHERMAN1980", "from memory",
                   warnings=_stretched(house, weather))  # fmt: skip


def basic_model(house, weather):
    """Return the year of the handbook's basic model.

    References
    ----------
    [ASHRAE_BASIC] the model
    """
    flow = basic_model_flow(
        house.leakage_area,
        house.storeys,
        house.shielding,
        house.indoor_temperature - weather.temperature,
        weather.wind_speed,
    )
    return YearAir("handbook basic model", house, weather, flow, "ASHRAE_BASIC", "from memory",
                   warnings=_stretched(house, weather))  # fmt: skip


def _stretched(house, weather):
    notes = []
    if house.flue_share:
        notes.append("This model does not know of the flue.")
    if not weather.has_wind:
        notes.append("No wind was given: this is warm air alone.")
    return tuple(notes)
