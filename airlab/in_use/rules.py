"""By what is n50 divided? Rules of thumb and of law, each with its spread.

A rule gives one figure for the whole year, whatever the weather; one of them looks at the wind, one at fans.
"""

from functools import lru_cache

import numpy as np

from airlab.in_use.air import YearAir
from airlab.words import InputError, ach, from_si, m3_per_h, require_between, require_positive

__all__ = [
    "credit_divisor",
    "divided_by_rules",
    "finnish_divisor",
    "heat_load_flow",
    "rate_with_open_windows",
    "rate_with_plant",
    "sheltered_side_rate",
    "sherman_divisor",
]

_STOREYS = (1.0, 1.5, 2.0, 3.0)
_BY_HEIGHT = (1.0, 0.9, 0.8, 0.7)
_BY_SHELTER = (0.9, 0.9, 1.0, 1.2, 1.2)  # five classes of shelter; the table has three
_BY_LEAKS = {"small cracks": 1.4, "normal": 1.0, "large holes": 0.7}
_CLIMATE = (14.0, 20.0, 26.0)  # on a map of North America: least, middle, most
_EUROPE = (10.0, 30.0)  # leakage-infiltration ratios 0.1 to 0.033
_CREDIT = (0.5, 0.6, 0.7)  # weather and shielding factor
# EN 12831 e (none, one, more exposed openings) and ISO 13789 e (one, several façades), f.
_E_LOAD = {"exposed": (0.0, 0.03, 0.05), "half height": (0.0, 0.02, 0.03),
           "full height": (0.0, 0.01, 0.02)}  # fmt: skip
_E_PLANT = {"exposed": (0.03, 0.10), "half height": (0.02, 0.07), "full height": (0.01, 0.04)}
_F_PLANT = (20.0, 15.0)


def sherman_divisor(house, climate=20.0, leaks="normal"):
    """Return N = C·H·S·L for a climate number C of the map and a kind of leaks.

    References
    ----------
    [SHERMAN1987] correction tables

    Examples
    --------
    >>> from airlab.in_use import LivedHouse
    >>> exposed = LivedHouse(300.0, 0.4, storeys=2, shielding="nothing near")
    >>> round(sherman_divisor(exposed), 1)
    14.4
    """
    require_between("climate", climate, _CLIMATE[0], _CLIMATE[2])
    if leaks not in _BY_LEAKS:
        raise InputError(f"Leaks is {leaks!r}. Choose one of: {', '.join(_BY_LEAKS)}.")
    height = float(np.interp(house.storeys, _STOREYS, _BY_HEIGHT))
    return climate * height * _BY_SHELTER[house.shelter_class - 1] * _BY_LEAKS[leaks]


def finnish_divisor(storeys):
    """Return x of q = q50·A_E / x by the number of storeys; a half storey counts as a whole one.

    References
    ----------
    [FI_ENERGY_17] section 17
    """
    require_positive("storeys", storeys)
    return 35.0 if storeys <= 1 else 24.0 if storeys <= 2 else 20.0 if storeys <= 4 else 15.0


def credit_divisor(storeys, weather_factor=0.6):
    """Return N of Q = 0.052·wsf·S·Q50, with S = storeys to the power 0.4.

    References
    ----------
    [NREL_62_2] table A-1 and the credit
    """
    require_between("weather_factor", weather_factor, 0.2, 2.0)
    return 1.0 / (0.052 * weather_factor * require_positive("storeys", storeys) ** 0.4)


def sheltered_side_rate(qE50, sheltered_sides=2, wind_speed=4.0):
    """Return (qE50/20)·(1 - 0.075·sides)·(wind/4), with the month's mean wind.

    Parameters
    ----------
    qE50 : float
        Leakage per envelope area, which this rule takes in place of n50. [m3/(h.m2)]
    sheltered_sides : int
        0 to 4. [-]
    wind_speed : float or array
        Mean of the month. [m/s]

    References
    ----------
    [UK_DWELLING] infiltration
    """
    require_between("sheltered_sides", sheltered_sides, 0, 4)
    return qE50 / 20.0 * (1.0 - 0.075 * sheltered_sides) * np.asarray(wind_speed) / 4.0


def rate_with_open_windows(rate):
    """Return the air changes with natural ventilation on top: 0.5 + 0.5 n² below 1.

    References
    ----------
    [UK_DWELLING] natural ventilation
    """
    rate = np.asarray(rate, dtype=float)
    return np.where(rate < 1.0, 0.5 + 0.5 * rate**2, rate)


def heat_load_flow(house, exposed_openings=2, height_above_ground=5.0):
    """Return the flow for sizing a heater, 2·V·n50·e·ε. [m3/s].

    References
    ----------
    [EN_12831] e by shelter; ε 1.0 to 10 m, 1.2 to 30 m, 1.5 above
    """
    e = _E_LOAD[house.shielding_of_faces][min(int(exposed_openings), 2)]
    high = 1.0 if height_above_ground <= 10.0 else 1.2 if height_above_ground <= 30.0 else 1.5
    return 2.0 * m3_per_h(house.volume * house.n50 * e * high)


def rate_with_plant(n50, volume, shielding="half height", several=True, supply=0.0, extract=0.0):
    """Return n50·e / [1 + (f/e)·((V1 - V2)/(V·n50))²]: a fan that pulls one way displaces leaks.

    Parameters
    ----------
    n50 : float
        Air changes at 50 Pa. [1/h]
    volume : float
        Air inside the line. [m3]
    shielding : str
        One of `airlab.physics.wind.SHIELDINGS`.
    several : bool
        Whether more than one side meets the wind.
    supply, extract : float
        Fans that blow in and out. [m3/s]

    References
    ----------
    [ISO_13789] annex C

    Examples
    --------
    >>> round(rate_with_plant(3.0, 300.0), 2)
    0.21
    """
    e, f = _E_PLANT[shielding][int(several)], _F_PLANT[int(several)]
    uneven = float(ach(supply - extract, volume)) / require_positive("n50", n50, "1/h")
    return n50 * e / (1.0 + f / e * uneven**2)


@lru_cache(maxsize=8)
def _by_month(weather):
    """Return the month's mean wind, hour by hour."""
    _, place, count = np.unique(
        weather.at.astype("datetime64[M]"), return_inverse=True, return_counts=True
    )
    return (np.bincount(place, weather.wind_speed) / count)[place]


def divided_by_rules(house, weather, supply=0.0, extract=0.0):
    """Return what each rule says of the house, as a tuple of `YearAir`.

    Parameters
    ----------
    house : LivedHouse
        The house.
    weather : WeatherYear
        The weather; only the rule by sheltered sides looks at it.
    supply, extract : float
        Fans; only the rule with plant looks at them. [m3/s]

    References
    ----------
    [KRONVALL_PERSILY] 20; [EU_SPREAD] 10 to 30; [SHERMAN1987]; [FI_ENERGY_17]; [NREL_62_2];
    [UK_DWELLING]; [EN_12831]; [ISO_13789]
    """

    def rule(model, flow, source, status, spread=None, *warnings):
        return YearAir(model, house, weather, flow, source, status, hourly=False, spread=spread,
                       warnings=warnings)  # fmt: skip

    whole, shielding = house.flow50, house.shielding_of_faces
    sherman = [sherman_divisor(house, climate) for climate in _CLIMATE]
    credit = [credit_divisor(house.storeys, factor) for factor in _CREDIT]
    n50, memory = house.n50, "from memory"
    found = [
        rule("divide by 20", whole / 20.0, "KRONVALL_PERSILY", memory, _EUROPE,
             "That range is of European rules."),
        rule("1987 corrections", whole / sherman[1], "SHERMAN1987", memory,
             (sherman[0], sherman[2]), "Its climate map is of North America; the middle is taken."),
        rule("Finnish law", whole / finnish_divisor(house.storeys), "FI_ENERGY_17", "read"),
        rule("US credit", whole / credit[1], "NREL_62_2", "second-hand", (credit[2], credit[0])),
        rule("heat load, EN 12831", heat_load_flow(house), "EN_12831", memory, None,
             "It sizes a heater for the coldest hours; it is no mean."),
        rule("ISO 13789, annex C",
             m3_per_h(house.volume * rate_with_plant(n50, house.volume, shielding, True, supply, extract)),
             "ISO_13789", memory),
    ]  # fmt: skip
    if house.envelope_area and weather.has_wind:
        per_area = from_si(house.flow50 / house.envelope_area, "m3/(h.m2)")
        rate = sheltered_side_rate(per_area, house.shelter_class - 1, _by_month(weather))
        found.append(rule("sheltered sides, UK and Irish", m3_per_h(rate * house.volume),
                          "UK_DWELLING", memory, None, "It divides qE50, not n50."))  # fmt: skip
    return tuple(found)
