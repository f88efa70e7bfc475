"""How much does one metre, square metre or piece usually leak, and how well is that known?

The rows stand in `components.csv` beside this module: a short selection, each in the measure of its
source, carried to 50 Pa with a stated exponent. They are orders of magnitude, not product data.
"""

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

import numpy as np

from airlab.building.exponent import require_flow_exponent
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    from_si,
    require_choice,
    require_positive,
    show,
    to_si,
)
from airlab.words.saying import alike

__all__ = [
    "QUANTITY_UNITS",
    "WINDOW_CLASSES",
    "Component",
    "class_component",
    "component",
    "components",
    "flow_at_50",
    "window_class_limit",
]

QUANTITY_UNITS = ("m", "m2", "item")
MEASURES = ("m3/h", "L/s", "cm2")
_DENSITY = 1.2  # kg/m3, the air for which leakage areas are tabulated
_CLASS_EXPONENT = 2.0 / 3.0
# Class: greatest test pressure [Pa], m³/h at 100 Pa of one m² and of one m of joint.
WINDOW_CLASSES = {
    1: (150.0, 50.0, 12.5),
    2: (300.0, 27.0, 6.75),
    3: (600.0, 9.0, 2.25),
    4: (600.0, 3.0, 0.75),
}
_CLASS_PRESSURE = 100.0
_UNDER_LIMIT = (0.25, 0.5)  # a product leaks less than its limit: low and middle [AIRLAB]


def flow_at_50(value, measure, pressure, flow_exponent):
    """Return the flow at 50 Pa of a leakage stated in another way.

    ``q50 = q · (50/p)^n``; an effective leakage area counts as ``q = A √(2p/ρ)``, ρ = 1.2 kg/m³.

    Parameters
    ----------
    value : float or array
        Leakage in the measure, of one unit.
    measure : str
        "m3/h" or "L/s" for a flow, "cm2" for an effective leakage area with coefficient 1.
    pressure : float or array
        Pressure it is stated at. [Pa]
    flow_exponent : float or array
        Exponent that carries it to 50 Pa. [-]

    Returns
    -------
    float or array
        Flow at 50 Pa of one unit. [m3/s]

    Raises
    ------
    InputError
        If the measure is unknown, a value is negative, or the exponent lies outside 0.5 to 1.

    References
    ----------
    [ASHRAE_F16] effective leakage area. [DERIVED]

    Examples
    --------
    >>> from airlab.words import from_si
    >>> round(from_si(flow_at_50(1.0, "cm2", 4.0, 0.65), "m3/h"), 2)
    4.8
    """
    require_choice("measure", measure, MEASURES)
    value = require_positive("leakage", value, measure, allow_zero=True)
    pressure = require_positive("pressure", pressure, "Pa")
    n = require_flow_exponent(flow_exponent)
    flow = to_si(value, measure)
    if measure == "cm2":
        flow = flow * np.sqrt(2.0 * pressure / _DENSITY)
    return flow * (PRESSURE_REFERENCE / pressure) ** n


@dataclass(frozen=True, slots=True)
class Component:
    """One row of the catalogue.

    Parameters
    ----------
    key, group, item : str
        Name, group and description.
    unit : str
        What one of it is: m, m2 or item.
    low, mid, high : float
        Flow at 50 Pa of one: one in ten is below, middle case, one in ten above. [m3/s]
    stated : str
        The figures as their source gives them.
    status, source, note : str
        How they are known, key of the source, remark.
    """

    key: str
    group: str
    item: str
    unit: str
    low: float
    mid: float
    high: float
    stated: str
    status: str
    source: str
    note: str = ""

    def sentence(self, units="metric"):
        """Return the component with its figures, how they are known, and as they were stated."""
        per = {"m": "a metre", "m2": "a square metre", "item": "each"}[self.unit]
        low, mid, high = (from_si(one, "m3/h") for one in (self.low, self.mid, self.high))
        note = f" {self.note[:1].upper()}{self.note[1:]}." if self.note else ""
        return (
            f"{self.item[:1].upper()}{self.item[1:]}: {show(mid, 'm3/h')} at 50 Pa {per}, usually "
            f"{show(low)} to {show(high)}. Stated as {self.stated}; {self.status} [{self.source}].{note}"
        )


@lru_cache(maxsize=1)
def components():
    """Return the catalogue, in the order of its table."""
    text = files("airlab.building").joinpath("components.csv").read_text(encoding="utf-8")
    return tuple(_component(row) for row in csv.DictReader(text.splitlines()))


def _component(row):
    figures = [float(row[name]) for name in ("low", "mid", "high")]
    pressure, n = float(row["pressure"]), float(row["exponent"])
    flows = (float(flow_at_50(one, row["measure"], pressure, n)) for one in figures)
    stated = (
        f"{show(figures[0])} / {show(figures[1])} / {show(figures[2], row['measure'])} at "
        f"{show(pressure, 'Pa')}, exponent {show(n)}"
    )
    rest = (row["status"], row["source"], row["note"])
    return Component(row["key"], row["group"], row["item"], row["unit"], *flows, stated, *rest)


def component(key):
    """Return the component of that key; "class 1" to "class 4" are windows and doors by class.

    Raises
    ------
    InputError
        If there is none; the message lists those there are.

    Examples
    --------
    >>> component("joint poor").unit
    'm'
    """
    name = alike(key)
    if name.startswith("class ") and name[6:].isdigit():
        return class_component(int(name[6:]))
    for one in components():
        if one.key == name:
            return one
    known = ", ".join([one.key for one in components()] + [f"class {c}" for c in WINDOW_CLASSES])
    raise InputError(f"Component is {key!r}. The catalogue has: {known}.")


def window_class_limit(air_class, pressure=PRESSURE_REFERENCE):
    """Return what a window or door of a class may leak, ``Q = Q100 (p/100)^(2/3)``.

    Parameters
    ----------
    air_class : int
        Class 1 to 4.
    pressure : float or array
        Pressure wanted, not above the greatest test pressure of the class. [Pa]

    Returns
    -------
    tuple
        Limit of one m² of the whole product and of one m of opening joint. [m3/s]

    Raises
    ------
    InputError
        If there is no such class, or the pressure is above its tests.

    Notes
    -----
    The product alone: the joint of frame and wall comes on top.

    References
    ----------
    [WINDOW_CLASSES] second-hand; the law of 2/3 from memory.

    Examples
    --------
    >>> from airlab.words import from_si
    >>> area, joint = window_class_limit(3)
    >>> round(from_si(1.44 * area, "m3/h"), 1)
    8.2
    """
    if air_class not in WINDOW_CLASSES:
        raise InputError(f"Class is {air_class!r}. Windows and doors have classes 1 to 4.")
    most, *limits = WINDOW_CLASSES[air_class]
    pressure = require_positive("pressure", pressure, "Pa")
    if np.max(pressure) > most:
        raise InputError(f"Class {air_class} is tested up to {show(most, 'Pa')}, not beyond.")
    share = (pressure / _CLASS_PRESSURE) ** _CLASS_EXPONENT
    return tuple(to_si(limit, "m3/h") * share for limit in limits)


def class_component(air_class):
    """Return a window or door of a class as a component of one square metre."""
    limit = float(window_class_limit(air_class)[0])
    low, mid = (share * limit for share in _UNDER_LIMIT)
    return Component(
        f"class {air_class}", "window", f"window or door of class {air_class}, tested", "m2",
        low, mid, limit, f"at most {show(WINDOW_CLASSES[air_class][1], 'm3/h')} at 100 Pa",
        "second-hand", "WINDOW_CLASSES",
        "the high figure is the limit of the class; low and middle are our assumption; the joint to "
        "the wall comes on top",
    )  # fmt: skip
