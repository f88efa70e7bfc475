"""Where does a year of weather come from? Open years that came along, or a table of your own.

The first line names the columns, in any order; a unit stands in the name. What cannot be read in a
cell counts as missing and is reported, as are gaps and wild records.
"""

import codecs
import csv
import re
from datetime import datetime, timezone
from functools import lru_cache
from pathlib import Path

import numpy as np

from airlab.files.cells import Refused, parse_cell, survey
from airlab.files.places import data_folder
from airlab.files.saving import read_bytes
from airlab.files.tables import parse_table
from airlab.in_use.weather import weather_year
from airlab.words import Column, InputError, Table, show, to_si

__all__ = [
    "OWN_WEATHER",
    "open_weather",
    "read_weather",
    "weather_choices",
    "weather_of",
    "weather_years",
]

OWN_WEATHER = "weather_year.csv"  # in the job's folder, columns by name

_NAMES = {
    "at": r"at|(date)?_?time.*|timestamp.*|date.*|valid.*|.*_time",
    "temperature": r"t|ta|(air_|outside_|outdoor_|dry_?bulb_?|mean_)*temp(erature)?.*|dry_?bulb.*|tmp.*",
    "wind_from": r"wind_?(from|dir(ection)?|bearing).*|wd(ir)?.*|dir(ection)?.*|drct",
    "wind_speed": r"wind(_?speed|_?sp(ee)?d|_?10m?)?(_(m|mph|k|mi).*)?|ws(pd)?.*|sknt",
    "humidity": r"(relative_?)?humid(ity)?.*|rh(um)?.*|relh.*",
}
# Words in the name of a column that make it something else than air outside, and that make it so.
_NOT_OUTSIDE = r"(in|indoors?|inside|interior|internal|room|dew\w*|soil|ground|feels?\w*|apparent|wet\w*|chill)"
_OUTSIDE = r"(out|outdoors?|outside|exterior|external|ambient|air|dry\w*)"
_PARTS = ("year", "month", "day", "hour")
_UNITS = {
    "temperature": {r"f|fahrenheit|degf": "F", r"c|celsius|degc": "C"},
    "wind_speed": {r"mph|mi_h|miles_per_h(our)?": "mph", r"km_?h|kmh|kph|km_per_h(our)?": "km/h",
                   r"kn|kt|kts|knots?": "kn", r"m_?s|m_per_s": "m/s"},
}  # fmt: skip
_WINDY = 9.0  # m/s on average; more is taken for another unit (assumption)
_NOTHING = {"", "na", "n/a", "nan", "null", "none", "m", "-", "--", "---", "missing"}


def weather_years():
    """Return the open years that came along: file name without ending to its line of the manifest."""
    content = read_bytes(data_folder() / "weather" / "manifest.csv") or b""
    rows = csv.DictReader(content.decode("utf-8").splitlines())
    return {row["file"].removesuffix(".csv"): row for row in rows}


def weather_choices(job):
    """Return the weather a job can be reckoned with, {key: name}; a table of its own goes first."""
    own = {OWN_WEATHER: f"own table {OWN_WEATHER}"} if (job.folder / OWN_WEATHER).exists() else {}
    return own | {key: line["name"] for key, line in weather_years().items()}


def weather_of(job, key=None):
    """Return the weather of a job: the one that is asked for or kept with it, else the first choice.

    Raises
    ------
    InputError
        If there is none of that name, or a table of one's own cannot be read.
    """
    choices = weather_choices(job)
    key = key or job.site.get("weather") or next(iter(choices))
    if key == OWN_WEATHER:
        return read_weather(job.folder / key, f"own table {key}")
    return open_weather(key)


@lru_cache(maxsize=8)
def open_weather(name="new_york_jfk_2013"):
    """Return an open year that came along.

    Parameters
    ----------
    name : str
        One of `weather_years()`.

    Raises
    ------
    InputError
        If there is none of that name.
    """
    years = weather_years()
    if name not in years:
        raise InputError(f"There is no weather {name!r}. There are: {', '.join(years)}.")
    line = years[name]
    return read_weather(data_folder() / "weather" / line["file"], line["name"], line["place"],
                        line["licence"])  # fmt: skip


def read_weather(path, name="", place="", licence=""):
    """Return the weather in a table of yours.

    Parameters
    ----------
    path : path
        A table with columns for time and temperature, and best for wind, its direction, humidity.
        Names such as `temp_f`, `wind_kmh` or `Wind speed (mph)` say the unit.
    name, place, licence : str
        What to call it, where it is from, on what terms.

    Returns
    -------
    WeatherYear
        With notes on everything that was repaired, refused or left out.

    Raises
    ------
    InputError
        If there is no such file or row, no time or temperature outside, or a wind in no likely unit.
    """
    path = Path(path)
    content = read_bytes(path)
    if content is None:
        raise InputError(f"{path.name} is not there.")
    found = parse_table(content, _as_text(content), path.name)
    if not found.rows:
        raise InputError(f"{path.name} holds no rows under its first line.")
    notes, headers = list(found.notes), {_plain(header): header for header in found.columns}
    columns = {
        key: _outside(key, [h for p, h in headers.items() if re.fullmatch(pattern, p)], notes)
        for key, pattern in _NAMES.items()
    }
    cells = {header: [row[header] or "" for row in found.rows] for header in found.columns}
    parts = [headers.get(part) for part in _PARTS]
    if all(parts):
        columns["at"] = None
        at = [_from_parts(four) for four in zip(*(cells[part] for part in parts))]
    elif {"date", "time"} <= set(headers):
        days, clocks = cells[headers["date"]], cells[headers["time"]]
        at = _times([f"{day} {clock}" for day, clock in zip(days, clocks)], notes)
    elif columns["at"]:
        at = _times(cells[columns["at"]], notes)
    else:
        at = []
    for key, word in (("at", "time"), ("temperature", "temperature")):
        if not (len(at) if key == "at" else columns[key]):
            raise InputError(f"{path.name} has no column for {word}. It has: {', '.join(headers.values())}. "
                             f"Name one `{'at' if key == 'at' else 'temperature_c'}`.")  # fmt: skip
    if np.isnat(np.array(at, dtype="datetime64[s]")).all():
        first = next((cells[h][0] for p, h in headers.items() if re.fullmatch(_NAMES["at"], p)), "")
        raise InputError(f"{path.name}: no time could be read, the first is '{first[:30]}'. Write times "
                         "by 24 hours, such as 2023-01-31 13:00.")  # fmt: skip
    numbers = {
        key: _numbers(key, columns[key], cells[columns[key]], notes)
        for key in ("temperature", "wind_speed", "wind_from", "humidity")
        if columns[key]
    }
    return weather_year(np.array(at, dtype="datetime64[s]"), name=name or path.stem, place=place,
                        licence=licence, notes=tuple(notes), **numbers)  # fmt: skip


def _as_text(content):
    """Return a table that takes every column of the file's first line as text."""
    utf16 = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    text = content[:4000].decode("utf-16" if utf16 else "utf-8-sig", "replace")
    line = next((line for line in text.splitlines() if line.strip()), "")
    cells = {cell.strip().strip('"') for mark in ",;\t" for cell in line.split(mark)}
    return Table("weather_year", "weather of many hours", tuple(
        Column(cell, "text", "as it stands") for cell in sorted(cells) if cell))  # fmt: skip


def _plain(header):
    """Return a header in small letters with single underlines: 'Wind speed (km/h)' is wind_speed_km_h."""
    return re.sub(r"[^a-z0-9]+", "_", header.replace("°", "").casefold()).strip("_")


def _outside(key, headers, notes):
    """Return the column of that kind that is air outside; None if there is none."""
    if key not in ("temperature", "humidity"):
        return next(iter(headers), None)
    # 'Temp in °C' names a unit, 'Temp In (C)' a place; tempIn and tempin are two words.
    words = {
        header: "_" + re.sub(r"^temp(?=(in|out)(_|$))", "temp_", _plain(re.sub(
            r"(?<=[a-z])(?=[A-Z])", "_", re.sub(r" in (?=°|deg|[CF]\b|celsius|fahr)", " ", header)))) + "_"
        for header in headers
    }  # fmt: skip
    taken = [h for h in headers if not re.search(f"_{_NOT_OUTSIDE}_", words[h])]
    taken = [h for h in taken if re.search(f"_{_OUTSIDE}_", words[h])] or taken
    if key == "temperature" and headers and not taken:
        raise InputError(f"No column is the air outside; there is {', '.join(headers)}. "
                         "Name one `temperature_c` or `temperature_out_c`.")  # fmt: skip
    if key == "temperature" and len(taken) > 1:
        notes.append(f"Took {taken[0]} as outside air; there is also {', '.join(taken[1:])}.")
    return next(iter(taken), None)


def _unit(key, header):
    """Return the unit that a column's name says; None where it says none."""
    plain = _plain(header)
    for pattern, unit in _UNITS.get(key, {}).items():
        if re.fullmatch(rf".*_({pattern})", plain):
            return unit
    if key == "temperature" and header.endswith(("F", "C")):  # tempF
        return header[-1]
    return {"sknt": "kn", "tmpf": "F", "tmpc": "C"}.get(plain)


def _numbers(key, header, cells, notes):
    cells = ["nan" if cell.casefold() in _NOTHING else cell for cell in cells]
    try:
        values = np.array(cells).astype(float)
    except ValueError:  # decimal commas, or text among the numbers
        values = _one_by_one(Column(header, "number", key), cells, notes)
    unit = _unit(key, header)
    if unit and unit not in ("C", "m/s"):
        notes.append(f"{header} was read as {_said(unit)}.")
    elif (
        not unit
        and key == "wind_speed"
        and np.isfinite(values).any()
        and np.nanmean(values) > _WINDY
    ):
        raise InputError(
            f"{header} names no unit, and its mean is {show(np.nanmean(values))}. Hardly any place blows so in m/s "
            f"(above {show(_WINDY)}, assumption). Name the column wind_kmh or wind_mph, or wind_m_s if it is so."
        )
    elif not unit and key == "wind_speed":
        notes.append(f"{header} names no unit; it was read as m/s.")
    return to_si(values, unit) if unit else values


def _one_by_one(column, cells, notes):
    habits, values, lost = survey(((column, cell) for cell in cells), ","), [], []
    for cell in cells:
        try:
            values.append(float("nan") if cell == "nan" else parse_cell(column, cell, habits))
        except Refused:
            values.append(float("nan"))
            lost.append(cell)
    if lost:
        notes.append(
            f"Cells of {column.name} that are no number: {len(lost)}, such as '{lost[0][:20]}'."
        )
    return np.array(values)


def _said(unit):
    """Return a unit as people write it."""
    return {"F": "°F", "kn": "knots"}.get(unit, unit)


def _from_parts(four):
    try:
        year, month, day, hour = (int(float(cell)) for cell in four)
        # Hour 24 ends the day.
        return np.datetime64(f"{year:04d}-{month:02d}-{day:02d}", "h") + hour
    except ValueError:
        return np.datetime64("NaT", "h")


def _times(cells, notes):
    """Return times as the table's own clock shows them; offsets are brought to the first one's."""
    if all(re.fullmatch(r"\d{4}-\d\d-\d\d[T ]\d\d(:\d\d){0,2}", cell) for cell in cells):
        try:
            return np.array(cells).astype("datetime64[s]")
        except ValueError:  # such as 30 February: found cell by cell
            pass
    local = [re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})(.*)", cell) for cell in cells]
    day_first = not any(found and int(found[2]) > 12 for found in local)
    if any(local) and not any(found and max(int(found[1]), int(found[2])) > 12 for found in local):
        notes.append("Dates have two readings; the day was taken to stand first.")
    offset, times = None, []
    for cell, found in zip(cells, local):
        if found:
            day, month = (found[1], found[2]) if day_first else (found[2], found[1])
            cell = f"{found[3]}-{int(month):02d}-{int(day):02d}{found[4]}"
        try:
            time = datetime.fromisoformat(re.sub(r"[ T](\d):", r"T0\1:", cell))
        except ValueError:
            times.append(np.datetime64("NaT"))
            continue
        if time.tzinfo:
            offset = time.utcoffset() if offset is None else offset
            time = time.astimezone(timezone(offset)).replace(tzinfo=None)
        times.append(np.datetime64(time.replace(microsecond=0)))
    return times
