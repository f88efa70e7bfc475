"""How does the air flow through a house in every hour of a year, by the balance of its leaks?

The air-flow engine's own equation, for one zone whose leaks share an exponent and hours by the
thousand: Newton's rule inside a closing bracket, in single precision, which is far finer than any
weather. A test holds it against the engine in double precision.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from airlab.in_use.air import YearAir
from airlab.in_use.house import FLUE_ABOVE
from airlab.physics.air import moist_air_density
from airlab.physics.airflow import GRAVITY
from airlab.physics.airflow_solve import LAMINAR_BELOW
from airlab.physics.wind import averaged_pressure_coefficient
from airlab.words import InputError, require_between, require_choice, require_positive

__all__ = ["FACES", "LeakGroup", "leak_groups", "year_by_engine", "years_by_engine"]

FACES = ("front", "right", "back", "left", "all walls", "roof", "no wind")
WITHIN = 3e-6  # imbalance as a share of the air that passes
_SINGLE = np.float32
_QUARTERS = np.array([[0.0], [90.0], [180.0], [270.0]])
_EVEN = (0.5 - 0.5 / 3.0**0.5, 0.5 + 0.5 / 3.0**0.5)  # two heights that stand for a whole wall
_SCATTER = 137.5  # degrees; turns a wind of unknown direction evenly through the compass


@dataclass(frozen=True, slots=True)
class LeakGroup:
    """Leaks at one height [m] and one face, as a share of the house's leakage [-]."""

    name: str
    share: float
    height: float
    face: str = "no wind"

    def __post_init__(self):
        require_positive("share", self.share)
        require_between("height", self.height, -10.0, 200.0, "m")
        require_choice("face", self.face, FACES)


def leak_groups(house):
    """Return the leaks of a house by height and face: four walls low and high, floor, ceiling, flue.

    Parameters
    ----------
    house : LivedHouse
        Its shares of ceiling and floor say how much is not in the walls, and how much is flue.

    Returns
    -------
    tuple of LeakGroup
        Ten groups, eleven with a flue. Floor leaks feel the mean of the walls, ceiling leaks the
        mean of a pitched roof's slopes.

    References
    ----------
    [AIRLAB] even spread over the height of a wall; a flue ends 2 m above the ceiling

    Examples
    --------
    >>> from airlab.in_use import LivedHouse
    >>> groups = leak_groups(LivedHouse(353.5, 0.4329))
    >>> len(groups), round(sum(group.share for group in groups), 9)
    (10, 1.0)
    """
    R, X, H = house.horizontal_share, house.ceiling_minus_floor, house.height
    rest, long = 1.0 - house.flue_share, house.front_and_back
    walls = rest * (1.0 - R) / 4.0
    groups = [
        LeakGroup(f"{face}, {where}", walls * share, H * at, face)
        for face, share in zip(FACES[:4], 2 * (long, 1.0 - long))
        for where, at in zip(("low", "high"), _EVEN)
        if walls * share > 0.0
    ]
    for name, share, height, face in (
        ("floor", rest * (R - X) / 2.0, 0.0, "all walls"),
        ("ceiling", rest * (R + X) / 2.0, H, "roof"),
        ("flue", house.flue_share, H + FLUE_ABOVE, "roof"),
    ):
        if share > 0.0:
            groups.append(LeakGroup(name, share, height, face))
    return tuple(groups)


@lru_cache(maxsize=4)
def _directions(weather):
    """Return the winds' directions without repeats, the place of each hour among them, share unknown."""
    unknown = np.isnan(weather.wind_from)
    scattered = np.mod(np.arange(weather.hours) * _SCATTER, 360.0)
    direction, place = np.unique(
        np.where(unknown, scattered.round(), weather.wind_from), return_inverse=True
    )
    return direction, place, unknown.mean()


@lru_cache(maxsize=24)
def _coefficients(weather, shielding, front_faces):
    """Return the pressure coefficients of `FACES`, faces by hours; a weather is one object."""
    direction, place, _ = _directions(weather)
    direction = direction - front_faces
    walls = averaged_pressure_coefficient(direction - _QUARTERS, "wall", shielding)
    roof = averaged_pressure_coefficient(direction - _QUARTERS, "pitched roof", shielding)
    still = np.zeros_like(walls[0])
    found = np.vstack([walls, walls.mean(axis=0), roof.mean(axis=0), still]).astype(_SINGLE)
    return np.take(found, place, axis=1)


def year_by_engine(house, weather, supply=0.0, extract=0.0, leaks=None):
    """Return the year of one house by the balance of its leaks; see `years_by_engine`."""
    return years_by_engine((house,), weather, supply, extract, leaks)[0]


def years_by_engine(houses, weather, supply=0.0, extract=0.0, leaks=None):
    """Return the year of each house: what comes in through its leaks, and its pressure.

    Parameters
    ----------
    houses : iterable of LivedHouse
        The houses.
    weather : WeatherYear
        The weather of all of them.
    supply, extract : float or array of hours
        Fans that blow in and out, as volume at the density inside. [m3/s]
    leaks : tuple of LeakGroup, optional
        Where the leaks are; by default `leak_groups` of each house.

    Returns
    -------
    tuple of YearAir
        Flow counts air at the density inside. What fans supply is not in it.

    Raises
    ------
    InputError
        If a fan's flow is below zero, or the shares of the leaks do not make one.

    Notes
    -----
    Where the wind's direction is unknown it is turned evenly through the compass.

    References
    ----------
    [DERIVED] balance by mass; [LIDDAMENT] pressure coefficients and [SHERMAN1980] wind at the
    eaves, both from memory
    """
    for name, value in (("supply", supply), ("extract", extract)):
        require_positive(name, value, "m3/s", "If you have m³/h, write m3_per_h(...).", True)
    net = np.broadcast_to(np.subtract(supply, extract), (weather.hours,)).astype(float)
    outside = moist_air_density(weather.temperature)
    notes = []
    if not weather.has_wind:
        notes.append("No wind was given: this is warm air alone.")
    elif _directions(weather)[2] > 0.05:
        notes.append("Where the wind's direction is unknown it was turned through the compass.")
    found = []
    for house in houses:
        groups = leak_groups(house) if leaks is None else tuple(leaks)
        share = np.array([group.share for group in groups])
        if abs(share.sum() - 1.0) > 1e-6:
            raise InputError(
                f"The shares of the leaks add up to {share.sum():.4g}. They must make 1."
            )
        inside = moist_air_density(house.indoor_temperature)
        lighter = (GRAVITY * (outside - inside)).astype(_SINGLE)
        gust = (0.5 * outside * house.wind_at_eaves(weather.wind_speed) ** 2).astype(_SINGLE)
        faces = _coefficients(weather, house.shielding_of_faces, house.front_faces)
        offset = faces[[FACES.index(group.face) for group in groups]]
        offset *= -gust
        offset += np.array([[group.height] for group in groups], dtype=_SINGLE) * lighter
        pressure, flow, left = _balance(
            offset, house.coefficient * share, outside / inside, house.flow_exponent, net
        )
        lost = int(np.count_nonzero(left > 100.0 * WITHIN))
        more = (f"{lost} hours did not balance.",) if lost else ()
        found.append(
            YearAir("air-flow engine", house, weather, flow, "DERIVED", "from memory",
                    pressure_low=pressure, pressure_high=pressure + lighter * house.height,
                    warnings=(*notes, *more))
        )  # fmt: skip
    return tuple(found)


def _balance(offset, coefficient, ratio, n, supply, rounds=60):
    """Return pressure, flow inwards and what is left over, case by case.

    Finds p with Σ c_k ρ |p + offset_k|^n sgn = supply, where ρ is 1 outwards and `ratio` inwards.
    """
    coefficient = coefficient.astype(_SINGLE)[:, None]
    heavier, supply = (ratio - 1.0).astype(_SINGLE), supply.astype(_SINGLE)
    n, limit, half = _SINGLE(n), _SINGLE(LAMINAR_BELOW), _SINGLE(0.5)
    weakest = coefficient.sum() * np.minimum(1.0 + heavier, 1.0)
    reach = np.abs(supply) / weakest
    reach = np.maximum(reach, reach ** (1.0 / n)) * np.sign(supply)
    span = np.abs(offset).max(axis=0) * _SINGLE(1e-5) + 2.0 * limit
    low = -offset.max(axis=0) - span + np.minimum(reach, 0.0)
    high = -offset.min(axis=0) + span + np.maximum(reach, 0.0)
    p = -(coefficient * offset).sum(axis=0) / coefficient.sum() + reach
    p = np.clip(p, low, high).astype(_SINGLE)
    pressure, inward, left = (np.zeros_like(p) for _ in range(3))
    live = np.arange(p.size)
    space = [np.empty_like(offset) for _ in range(3)]
    for _ in range(rounds):
        x, size, slope = space
        np.add(offset, p, out=x)
        np.abs(x, out=size)
        straight = size < limit
        np.maximum(size, limit, out=slope)
        np.log(slope, out=slope)  # exp and log are several times quicker than a power
        slope *= n - 1
        np.exp(slope, out=slope)
        slope *= coefficient
        np.multiply(slope, x < 0, out=size)
        size *= heavier
        slope += size
        x *= slope
        total = x.sum(axis=0)
        steep = n * slope.sum(axis=0)
        slope *= straight
        steep += (1 - n) * slope.sum(axis=0)
        passed = np.abs(x, out=x).sum(axis=0)
        rest = total - supply
        share = np.abs(rest) / np.maximum(passed, _SINGLE(1e-30))
        pressure[live], left[live], inward[live] = p, share, half * (passed - total)
        go = share > WITHIN
        if not go.any():
            break
        high, low = np.where(rest > 0, p, high), np.where(rest > 0, low, p)
        new = p - rest / steep
        new = np.where((new <= low) | (new >= high), half * (low + high), new)
        stuck = new == p
        go &= ~stuck
        if not go.any():
            break
        p = np.where(go, new, p)
        if go.mean() < 0.6:
            live, p, low, high, heavier, supply = (
                part[go] for part in (live, p, low, high, heavier, supply)
            )
            offset = offset[:, go]
            space = [np.empty_like(offset) for _ in range(3)]
    return pressure.astype(float), inward.astype(float), left
