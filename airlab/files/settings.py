"""What does job.json hold? The switches of a job, checked on the way in and on the way out."""

import json
from collections.abc import Mapping
from types import MappingProxyType

from airlab.building import FLOW_EXPONENT, counting_rule, metric
from airlab.building.site import site_from_settings
from airlab.files.cells import clean_text
from airlab.leak_check.assumptions import ASSUMPTIONS, assumptions_from
from airlab.leak_check.prices import PRICE_KEYS
from airlab.leak_check.when import own_day
from airlab.words import (
    HAZARD_ANSWERS,
    InputError,
    display_unit,
    hazards,
    require_between,
    require_choice,
    require_positive,
)
from airlab.words.units import UNIT_SYSTEMS

__all__ = [
    "BY_ENTRY", "DEFAULTS", "MIGRATIONS", "SCHEMA", "changed", "checked", "freeze", "parse_settings",
    "thaw",
]  # fmt: skip

SCHEMA = 1
# One entry for each older schema: the function that turns its settings into the next one's.
MIGRATIONS = {}

DEFAULTS = {
    "name": "",
    "place": "",
    "about": "",
    "invented": False,
    "units": "metric",
    "counting": {"rule": "ISO 9972"},
    "target": None,
    "limit": None,
    "confidence": 0.9,
    "flow_exponent": FLOW_EXPONENT,
    "assumptions": {},
    "hazards": {hazard.key: "don't know" for hazard in hazards()},
    "fan": None,
    "direction": "depressurise",
    "temperatures": {"inside": 20.0, "outside": 10.0},
    "rough": None,
    "site": {},
    "prices": {},
    "construction": "",
    "released_by": "",
    "check_on": "",
    "stops_done": [],
}
_HEAT = {units: f"heat_{display_unit('J', units).lower()}" for units in UNIT_SYSTEMS}
# Changed entry by entry, each with the names a new entry may bear; blank where any name goes.
BY_ENTRY = {
    "assumptions": (*(one.key for one in ASSUMPTIONS), "bedrooms", "fresh_air_rule", "appliance"),
    "counting": (),
    "hazards": tuple(DEFAULTS["hazards"]),
    "prices": (*PRICE_KEYS, "currency", *_HEAT.values(),
               *(f"{heat}_co2_{display_unit('kg', units)}" for units, heat in _HEAT.items())),
    "site": (),
    "temperatures": tuple(DEFAULTS["temperatures"]),
}  # fmt: skip


def freeze(value):
    """Return a value that cannot be changed: mappings read-only, lists as tuples."""
    if isinstance(value, dict | MappingProxyType):
        return MappingProxyType({key: freeze(entry) for key, entry in value.items()})
    return tuple(map(freeze, value)) if isinstance(value, list | tuple) else value


def thaw(value):
    """Return a frozen value as plain dicts and lists."""
    if isinstance(value, dict | MappingProxyType):
        return {key: thaw(entry) for key, entry in value.items()}
    return list(map(thaw, value)) if isinstance(value, list | tuple) else value


def _text(key, value):
    if not isinstance(value, str):
        raise InputError(f"{key.capitalize()} is {value!r}. Text is needed.")
    return clean_text(value)


def _flag(key, value):
    if not isinstance(value, bool):
        raise InputError(f"{key.capitalize()} is {value!r}. Write true or false.")
    return value


def _one_of(*options):
    return lambda key, value: require_choice(key, value, options)


def _between(low, high, unit="-", slip=""):
    return lambda key, value: require_between(key, value, low, high, unit, slip)


def _mapping(key, value):
    if not isinstance(value, dict):
        raise InputError(f"{key.capitalize()} is {value!r}. Named entries are needed.")
    return dict(value)


def _goal(key, value):
    """Check a target or a limit: a metric with its pressure, and a value in its unit."""
    if value is None:
        return None
    goal = _mapping(key, value)
    if "metric" not in goal or "value" not in goal:
        raise InputError(f"{key.capitalize()} needs a metric, such as qE50, and a value.")
    if not isinstance(goal["metric"], str):
        raise InputError(f"{key.capitalize()}: the metric is {goal['metric']!r}. Text is needed.")
    goal["value"] = require_positive(key, goal["value"], metric(goal["metric"]).unit)
    return goal


def _assumptions(key, value):
    own = _mapping(key, value)
    assumptions_from({key: own})
    return own


def _counting(key, value):
    counting = {"rule": "ISO 9972", **_mapping(key, value)}
    counting_rule(counting["rule"], counting.get("party"), counting.get("lowest_floor"))
    return counting


def _hazards(key, value):
    answers = {**DEFAULTS["hazards"], **_mapping(key, value)}
    for hazard in DEFAULTS["hazards"]:
        require_choice(f"hazard {hazard}", answers[hazard], HAZARD_ANSWERS)
    return answers


def _fan_points(points):
    points = points or []
    if not isinstance(points, list | tuple) or any(
        not isinstance(point, list | tuple) or len(point) != 2 for point in points
    ):
        raise InputError("The fan's points are pairs of pressure in Pa and flow in m³/h.")
    return [
        [require_between("fan pressure", pressure, 0.0, 1000.0, "Pa"),
         require_between("fan flow", flow, 0.0, 1e6, "m3/h")]
        for pressure, flow in points
    ]  # fmt: skip


def _fan_range(key, value):
    """Check a ring or speed: a name, points, and the lowest flow that is held steady."""
    one = {"name": "", **_mapping(key, value)}
    one["name"] = _text(f"name of the {key}", one["name"])
    one["points"] = _fan_points(one.get("points"))
    if one.get("lowest_m3_per_h") is not None:
        one["lowest_m3_per_h"] = require_between(
            "lowest flow", one["lowest_m3_per_h"], 0.0, 1e6, "m3/h"
        )
    return one


def _fan(key, value):
    """Check a fan: points of pressure [Pa] and flow [m3/h], further rings or speeds, its supply."""
    if value is None:
        return None
    fan = _fan_range(key, value)
    ranges = fan.get("ranges")
    if ranges is not None:
        if not isinstance(ranges, list | tuple):
            raise InputError("The fan's ranges are a list, each with a name and points.")
        fan["ranges"] = [_fan_range("range", one) for one in ranges]
    if fan.get("count") is not None:
        require_choice("count of fans", fan["count"], (1, 2, 3, 4))
    for name, low, high, unit in (("efficiency", 0.01, 1.0, "-"), ("supply_w", 10.0, 1e5, "W")):
        if fan.get(name) is not None:
            fan[name] = require_between(f"fan {name}", fan[name], low, high, unit)
    return fan


def _temperatures(key, value):
    entries = {**DEFAULTS[key], **_mapping(key, value)}
    for name in DEFAULTS[key]:
        entries[name] = require_between(f"temperature {name}", entries[name], -60.0, 60.0, "C")
    return entries


def _rough(key, value):
    if value is None:
        return None
    rough = _mapping(key, value)
    for name, low, high, unit in (
        ("floor_area_m2", 1.0, 1e5, "m2"),
        ("mean_height_m", 1.5, 20.0, "m"),
    ):
        rough[name] = require_between(name, rough.get(name), low, high, unit)
    return rough


def _site(key, value):
    site = _mapping(key, value)
    site_from_settings(site)
    return site


def _prices(key, value):
    prices = _mapping(key, value)
    for name, price in prices.items():
        if name == "currency":
            prices[name] = _text(name, price)
        elif price is not None:
            prices[name] = require_positive(f"price {name}", price, allow_zero=True)
    return prices


def _day(key, value):
    """Check a day, as 2027-04-12; blank for none."""
    day = own_day(_text(key, value))
    return day.isoformat() if day else ""


def _texts(key, value):
    if not isinstance(value, list | tuple):
        raise InputError(f"{key.capitalize()} is {value!r}. A list of texts is needed.")
    return list(dict.fromkeys(_text(key, one) for one in value))


CHECKS = {
    "name": _text,
    "place": _text,
    "about": _text,
    "invented": _flag,
    "units": _one_of(*UNIT_SYSTEMS),
    "counting": _counting,
    "target": _goal,
    "limit": _goal,
    "confidence": _between(0.5, 0.999, slip="If you meant 90 %, write 0.9."),
    "flow_exponent": _between(0.5, 1.0, slip="0.5 is a sharp hole, 1 is a fine crack."),
    "assumptions": _assumptions,
    "hazards": _hazards,
    "fan": _fan,
    "direction": _one_of("depressurise", "pressurise"),
    "temperatures": _temperatures,
    "rough": _rough,
    "site": _site,
    "prices": _prices,
    "construction": _text,
    "released_by": _text,
    "check_on": _day,
    "stops_done": _texts,
}


def checked(settings, newer=False):
    """Return the settings, each checked, with what is missing filled in; unknown ones stay.

    Parameters
    ----------
    settings : dict
        Setting to value.
    newer : bool
        True for a file of a newer program: what we cannot use takes our default.

    Raises
    ------
    InputError
        If any cannot be used; one message names them all.
    """
    done, trouble = {}, []
    for key, value in {**DEFAULTS, **settings}.items():
        try:
            done[key] = CHECKS[key](key, thaw(value)) if key in CHECKS else value
        except InputError as error:
            done[key] = DEFAULTS[key]
            trouble.append(f"{key}: {error}")
    if trouble and not newer:
        count = "1 setting" if len(trouble) == 1 else f"{len(trouble)} settings"
        raise InputError("\n".join([f"job.json: {count} cannot be used.", *trouble]))
    return done


def changed(settings, changes):
    """Return settings with changes put in, each checked; None takes out what goes by entry.

    Raises
    ------
    InputError
        If a setting or an entry of one is unknown, or cannot be used.
    """
    settings = dict(settings)
    for key, value in changes.items():
        if key not in DEFAULTS:
            raise InputError(f"Setting is {key!r}. A job has: {', '.join(DEFAULTS)}.")
        if key in BY_ENTRY and isinstance(value, Mapping):
            for name in set(value) - set(settings[key]):
                if BY_ENTRY[key] and name not in BY_ENTRY[key]:
                    raise InputError(
                        f"{key.capitalize()} have no {name!r}. Known: {', '.join(BY_ENTRY[key])}."
                    )
            merged = {**settings[key], **thaw(value)}
            value = {name: entry for name, entry in merged.items() if entry is not None}
        settings[key] = thaw(value)
    return checked(settings)


def _no_constant(word):
    raise ValueError(f"{word} is no number here")


def parse_settings(content):
    """Return the settings in the bytes of a job.json, and its schema.

    Parameters
    ----------
    content : bytes
        The whole file.

    Returns
    -------
    dict, int
        Settings brought to the present schema and checked, unknown keys among them; schema of
        the file, larger than ours where a newer program wrote it.

    Raises
    ------
    InputError
        If the file is half-written or a setting cannot be used.
    """
    try:
        found = json.loads(content.decode("utf-8-sig"), parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise InputError(
            f"job.json cannot be read ({error}). It looks half-written or edited by hand. The "
            "copy before the last change is job.previous.json, if there was one."
        ) from None
    schema = found.pop("schema", None) if isinstance(found, dict) else None
    if isinstance(schema, bool) or not isinstance(schema, int):
        raise InputError("job.json has no schema number. Is it the settings of a job?")
    for old in range(schema, SCHEMA):
        if old not in MIGRATIONS:
            raise InputError(f"job.json has schema {schema}, which this version cannot read.")
        found = MIGRATIONS[old](found)
    return checked(found, newer=schema > SCHEMA), schema
