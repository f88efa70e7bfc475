"""In which hours does a reading mean most, and in which does a thermal camera see?

Wind and warm air push on the leaks by themselves. What that leaves on the gauge with the fan sealed,
and what it does to the flow at 50 Pa, comes from leaks in the wind and out of it, low and high. The
weather is a table that people bring; nothing here is a forecast.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np

from airlab.building.site import Site
from airlab.fan_test.steady_wind import offset_error
from airlab.leak_check.assumptions import Assumptions
from airlab.physics.air import moist_air_density
from airlab.physics.airflow import stack_pressure
from airlab.physics.wind import wind_pressure
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    require_between,
    require_positive,
    show,
)

__all__ = ["WeatherWindow", "WindowHour", "weather_window"]

_MOST_ZERO, _MOST_WIND = 5.0, 6.0  # Pa at the gauge, m/s at the eaves
_SPLITS = (0.1, 0.25, 0.5)  # share of the leakage in the wind: even walls give a quarter
_GAP = timedelta(hours=1.5)  # rows further apart do not belong to one window


@dataclass(frozen=True, slots=True)
class WindowHour:
    """One hour: what the weather does to a reading.

    Parameters
    ----------
    at : datetime
        Start of the hour.
    wind : float
        At the eaves. [m/s]
    stack : float
        Pressure that the warm air gains over the height of the house. [Pa]
    zero : float
        Pressure at the gauge with the fan sealed, leaks even all round. [Pa]
    zero_reach : float
        Its largest size, the split of the leaks being unknown. [Pa]
    error, error_both : float
        Largest size of the error at the reference pressure: one direction, mean of both. [-]
    contrast : float
        Inside less outside. [K]
    number, camera : bool
        Whether a reading means much; whether a thermal camera sees.
    why : str
        What is against a reading.
    """

    at: datetime
    wind: float
    stack: float
    zero: float
    zero_reach: float
    error: float
    error_both: float
    contrast: float
    number: bool
    camera: bool
    why: str = ""

    def sentence(self, units="metric"):
        """Return the hour in words."""
        wind = show(from_si(self.wind, display_unit("m/s", units)), display_unit("m/s", units), 2)
        camera = "camera yes" if self.camera else "camera no"
        against = f" {self.why}" if self.why else ""
        return (
            f"{self.at:%a %d %b, %H:%M}: wind {wind} at the eaves, zero {show(self.zero, 'Pa', 2)} at the "
            f"gauge (up to {show(self.zero_reach, 'Pa', 2)} either way), error at 50 Pa up to "
            f"{_percent(self.error)}, {camera}.{against}"
        )


@dataclass(frozen=True, slots=True)
class WeatherWindow:
    """All hours, and the stretches of them that are long enough.

    Parameters
    ----------
    hours : tuple of WindowHour
        In the order of time.
    windows : tuple of tuple of WindowHour
        Stretches for a reading, the calmest first.
    camera_windows : tuple of tuple of WindowHour
        Stretches for a thermal camera, in the order of time.
    need : float
        Hours wanted in a row. [h]
    contrast_wanted : float
        For the camera. [K]
    warnings : tuple of str
        What to mind.
    """

    hours: tuple[WindowHour, ...]
    windows: tuple[tuple[WindowHour, ...], ...]
    camera_windows: tuple[tuple[WindowHour, ...], ...]
    need: float
    contrast_wanted: float
    warnings: tuple[str, ...] = ()

    def sentence(self, units="metric"):
        """Return the best stretch for a reading and the stretch for the camera."""
        wanted = f"{show(self.need)} h"
        if self.windows:
            best = self.windows[0]
            error = max(hour.error for hour in best)
            text = [
                f"Read {_span(best)}: zero within {show(max(h.zero_reach for h in best), 'Pa', 2)}, "
                f"error from wind and warm air at 50 Pa up to {_percent(error)}; the mean of both ways "
                f"up to {_percent(max(h.error_both for h in best))}."
            ]
        else:
            calmest = min(self.hours, key=lambda hour: hour.zero_reach)
            text = [f"No {wanted} in a row suit a reading. Calmest: {calmest.sentence(units)}"]
        if self.camera_windows:
            text.append(f"Camera: {_span(self.camera_windows[0])}.")
        else:
            text.append(
                f"No {wanted} with {show(self.contrast_wanted, 'K')} for a thermal camera: smoke and "
                "hand."
            )
        return " ".join((*text, *self.warnings))


def _percent(share):
    return f"{show(100.0 * share, digits=2)} %"


def _span(hours):
    end = hours[-1].at + timedelta(hours=1)
    return f"{hours[0].at:%a %d %b, %H:%M} to {end:%H:%M}"


def weather_window(
    hours,
    site=None,
    building_height=5.0,
    inside_temperature=20.0,
    assumptions=None,
    need=3.0,
    day=(7, 19),
):
    """Return which hours of a weather table suit a reading, and which a thermal camera.

    ``p_i = Cp_i rho U**2 / 2 - (rho_out - rho_in) g h_i`` for leaks in the wind and out of it, at the
    floor and at the top; the zero and the error follow from `fan_test.offset_error`.

    Parameters
    ----------
    hours : iterable of WeatherHour
        The table, in any order.
    site : Site or None
        Terrain, shelter, height of the eaves.
    building_height : float
        Topmost ceiling above the lowest floor, where the gauge stands. [m]
    inside_temperature : float
        On the day. [C]
    assumptions : Assumptions or None
        Flow exponent; contrast that a camera wants.
    need : float
        Hours wanted in a row. [h]
    day : tuple of int
        First and last hour of the working day.

    Returns
    -------
    WeatherWindow
        A reading wants the zero within 5 Pa however the leaks are split, and at most 6 m/s at the
        eaves.

    Raises
    ------
    InputError
        If there is no hour, or a value is out of range.

    Notes
    -----
    Gusts come on top; so does rain on what is to be sealed. A third of the leaks or a half may face
    the wind: splits of 10, 25 and 50 % are tried. Sun on a wall upsets the camera for hours.

    References
    ----------
    [DERIVED] two-leak model with height; [PASSIPEDIA] zero within 5 Pa, about 6 m/s; [TRADE]
    contrast of the camera; [LIDDAMENT], [SHERMAN1980] from memory.
    """
    given, site = assumptions or Assumptions(), site or Site()
    rows = sorted(hours, key=lambda hour: hour.at)
    if not rows:
        raise InputError(
            "The weather table is empty. Enter hours with temperature and wind: a forecast will do."
        )
    require_between("building_height", building_height, 1.0, 100.0, "m", "Type metres.")
    require_between("inside_temperature", inside_temperature, -30.0, 50.0, "C")
    require_positive("need", need, "h")
    numbers = (
        building_height,
        inside_temperature,
        given["flow_exponent"],
        given["camera_contrast"],
    )
    return _windows(tuple(rows), site, *map(float, numbers), float(need), tuple(day))


@lru_cache(maxsize=8)
def _windows(rows, site, building_height, inside_temperature, flow_exponent, wanted, need, day):
    """Work the table out once for the same weather, house and day."""
    outside = np.array([row.temperature for row in rows], dtype=float)
    wind = site.wind_at_eaves(np.array([row.wind_speed for row in rows], dtype=float))
    stack = stack_pressure(building_height, inside_temperature, outside)
    front, back = (wind_pressure(wind, c, moist_air_density(outside)) for c in site.coefficients)
    offsets = (front, front - stack, back, back - stack)
    zeros, errors = [], []
    for split in _SPLITS:
        shares = (split / 2, split / 2, (1 - split) / 2, (1 - split) / 2)
        both = [
            offset_error(sign * PRESSURE_REFERENCE, offsets, shares, flow_exponent)
            for sign in (-1.0, 1.0)
        ]
        zeros.append(both[0][1])
        errors.append([error for error, _ in both])
    zeros, errors = np.array(zeros), np.array(errors)  # splits by hours, splits by ways by hours
    reach = np.abs(zeros).max(axis=0)
    error, error_both = np.abs(errors).max(axis=(0, 1)), np.abs(errors.mean(axis=1)).max(axis=0)
    contrast = inside_temperature - outside
    found = tuple(
        WindowHour(
            row.at, *map(float, values), not (why := _against(values[0], values[3])),
            bool(abs(values[6]) >= wanted), why,
        )
        for row, *values in zip(rows, wind, stack, zeros[1], reach, error, error_both, contrast)
    )  # fmt: skip
    at_work = [hour for hour in found if day[0] <= hour.at.hour < day[1]]
    windows = _stretches(at_work, lambda hour: hour.number, need)
    windows.sort(key=lambda stretch: (max(h.zero_reach for h in stretch), stretch[0].at))
    warnings = []
    if len(rows) > 1 and max(b.at - a.at for a, b in zip(rows, rows[1:])) > _GAP:
        warnings.append("Hours are missing in the table; a stretch ends at a gap.")
    if float(np.abs(contrast).min()) >= wanted:
        warnings.append(
            "Warm inside and cold outside help the camera and hurt the number: search with the camera "
            "first, read the number when the house has cooled, or on another visit."
        )
    return WeatherWindow(
        found, tuple(windows), tuple(_stretches(found, lambda hour: hour.camera, need)), need,
        wanted, tuple(warnings),
    )  # fmt: skip


def _against(wind, reach):
    """Return what speaks against a reading, empty for nothing."""
    if reach > _MOST_ZERO:
        return f"The zero may reach {show(reach, 'Pa', 2)}, beyond {show(_MOST_ZERO, 'Pa')}."
    if wind > _MOST_WIND:
        return f"Wind above {show(_MOST_WIND, 'm/s')} at the eaves."
    return ""


def _stretches(hours, good, need):
    """Return runs of good hours without a gap, each as long as is needed."""
    runs, run = [], []
    for hour in hours:
        if run and (not good(hour) or hour.at - run[-1].at > _GAP):
            runs.append(run)
            run = []
        if good(hour):
            run.append(hour)
    runs.append(run)
    length = timedelta(hours=need)
    one = timedelta(hours=1)
    return [tuple(run) for run in runs if run and run[-1].at + one - run[0].at >= length]
