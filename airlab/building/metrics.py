"""Which number is meant? Every common way to state one leakage flow, with its convention.

A metric is linear in the flow at 50 Pa for a given house and exponent, so each one can be read
from the flow and turned back into it.
"""

import re
from dataclasses import dataclass

from airlab.building.exponent import FLOW_EXPONENT, require_flow_exponent
from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.openings import SHARP_EDGE, equivalent_hole_area
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    convert,
    from_si,
    require_between,
    require_positive,
    to_si,
)

__all__ = [
    "METRICS",
    "Metric",
    "leakage_flow_from",
    "metric",
    "metric_value",
]

_CGSB = 0.611
_JIS_CONSTANT = 0.7  # cm2 per m3/h at 9.8 Pa
_NL_HEIGHT = 2.5  # m
_NL_POWERS = {"NL": 0.3, "NL_62_2": 0.4}


@dataclass(frozen=True, slots=True)
class Metric:
    """One way to state a leakage.

    `pressure` [Pa] is None for what has none; `basis` is what it is divided by, in words;
    `others` are further units people use for the same thing.
    """

    key: str
    symbol: str
    name: str
    unit: str
    pressure: float | None
    basis: str
    formula: str
    convention: str
    source: str
    others: tuple[str, ...] = ()
    discharge_coefficient: float | None = None

    @property
    def at_pressure(self):
        """'at 50 Pa', or nothing for a metric without a pressure."""
        return "" if self.pressure is None else f"at {self.pressure:g} Pa"


def _whole_flow(pressure):
    p = f"{pressure:g}"
    return Metric(f"q{p}_flow", f"q{p}", f"leakage flow at {p} Pa", "m3/h", pressure, "",
                  "fan flow, or any metric × its size" if p == "50" else f"flow at 50 Pa × ({p}/50)^n", "flow of the whole building", "ISO9972",
                  ("L/s", "cfm"))  # fmt: skip


def _per(key, symbol, name, unit, basis, letter, source, others=()):
    def build(pressure):
        p = f"{pressure:g}"
        return Metric(f"{key}{p}", f"{symbol}{p}", f"{name} at {p} Pa", unit, pressure, basis,
                      f"q{p} / {letter}", f"flow at {p} Pa over {basis}", source, others)  # fmt: skip

    return build


def _area(key, name, coefficient, convention, source):
    def build(pressure):
        p = f"{pressure:g}"
        return Metric(f"{key}{p}", f"{key}{p}", f"{name} at {p} Pa", "cm2", pressure, "",
                      f"q{p} / Cd × √(ρ / (2·{p}))", convention, source, ("in2",),
                      coefficient)  # fmt: skip

    return build


_AREA_UNITS = ("L/(s.m2)", "cfm/ft2")
_FAMILIES = {
    "n": _per("n", "n", "air changes per hour", "1/h", "volume", "V", "TIGHTVENT"),
    "qE": _per("qE", "qE", "leakage per envelope area", "m3/(h.m2)", "envelope", "A_E", "TIGHTVENT",
               _AREA_UNITS),
    "qF": _per("qF", "qF", "leakage per floor area", "m3/(h.m2)", "floor", "A_F", "TIGHTVENT",
               _AREA_UNITS),
    "qH": _per("qH", "qH", "leakage per heat-loss area", "m3/(h.m2)", "heat-loss area", "A_H",
               "BE_EPB", _AREA_UNITS),
    "qS": _per("qS", "qS", "leakage per heat-loss area without the lowest floor", "m3/(h.m2)",
               "heat-loss area without lowest floor", "A_S", "FR_2010", _AREA_UNITS),
    "ELA": _area("ELA", "effective leakage area", 1.0, "Cd = 1", "ASHRAE_F16"),
    "EqLA": _area("EqLA", "equivalent leakage area", _CGSB, "Cd = 0.611", "ASHRAE_F16"),
    "hole": _area("hole", "one sharp-edged hole", SHARP_EDGE, "Cd = π/(π+2) = 0.611, sharp edge",
                  "DERIVED"),
}  # fmt: skip
_SINGLE = (
    Metric("C", "C", "flow coefficient", "m3/(h.Pa^n)", None, "", "flow at 50 Pa / 50^n",
           "flow at 1 Pa if the power law held there", "ISO9972"),
    Metric("NLA10", "NLA10", "normalised leakage area at 10 Pa", "cm2/m2", 10.0, "envelope",
           "EqLA10 / A_E", "Cd = 0.611, over envelope", "ASHRAE_F16", (), _CGSB),
    Metric("NL", "NL", "normalised leakage", "-", 4.0, "floor",
           "1000 × (ELA4 / A_F) × (H / 2.5 m)^0.3", "ELA at 4 Pa with Cd = 1 over floor area, "
           "height exponent 0.3", "LBNL_NL", (), 1.0),
    Metric("NL_62_2", "NL(0.4)", "normalised leakage, ventilation standard's form", "-", 4.0,
           "floor", "1000 × (ELA4 / A_F) × (H / 2.5 m)^0.4", "ELA at 4 Pa with Cd = 1 over floor "
           "area, height exponent 0.4", "ASHRAE_F16", (), 1.0),
    Metric("alphaA", "αA", "total equivalent leakage area at 9.8 Pa", "cm2", 9.8, "",
           "0.7 × q9.8 [m³/h]", "Japanese practice; constant 0.7 where Cd = 1 gives 0.687",
           "JIS_A2201"),
    Metric("c_value", "C value", "equivalent leakage area per floor area at 9.8 Pa", "cm2/m2", 9.8,
           "floor", "αA / A_F", "Japanese practice; constant 0.7", "JIS_A2201"),
)  # fmt: skip

# Those every house is shown, in the order they are shown.
METRICS = (
    *(_whole_flow(p) for p in (50.0, 4.0, 10.0, 25.0, 75.0)),
    *(_FAMILIES[family](50.0) for family in ("n", "qE", "qF")),
    _SINGLE[0],
    _FAMILIES["qE"](4.0),
    _FAMILIES["qS"](4.0),
    _FAMILIES["qE"](75.0),
    _FAMILIES["hole"](50.0),
    _FAMILIES["ELA"](4.0),
    _FAMILIES["EqLA"](10.0),
    *_SINGLE[1:],
)
_PATTERN = re.compile(r"^(n|qE|qF|qH|qS|ELA|EqLA|hole|q)(\d+(?:\.\d+)?)(_flow)?$")


def metric(key):
    """Return the metric of a key such as 'n50', 'qE50', 'qF50', 'q50_flow', 'qE75' or 'ELA4'.

    Raises
    ------
    InputError
        If the key is unknown, ambiguous (a bare q50) or lacks its pressure.

    Examples
    --------
    >>> metric("qE75").name
    'leakage per envelope area at 75 Pa'
    >>> metric("q50")
    Traceback (most recent call last):
        ...
    airlab.words.errors.InputError: Metric is 'q50'. In one standard that is the flow of the whole building, in another the flow per area of envelope. Write q50_flow or qE50.
    """
    if isinstance(key, Metric):
        return key
    for one in _SINGLE:
        if one.key == key:
            return one
    match = _PATTERN.match(str(key))
    if match:
        family, pressure, whole = match.group(1), float(match.group(2)), match.group(3)
        require_between("metric_pressure", pressure, 1.0, 100.0, "Pa")
        if family == "q" and whole:
            return _whole_flow(pressure)
        if family in _FAMILIES and not whole:
            return _FAMILIES[family](pressure)
        if family == "q":
            p = match.group(2)
            raise InputError(
                f"Metric is {key!r}. In one standard that is the flow of the whole building, in "
                f"another the flow per area of envelope. Write q{p}_flow or qE{p}."
            )
    if str(key) in (*_FAMILIES, "q", "q_flow", "ach", "ACH", "NLA"):
        raise InputError(
            f"Metric is {key!r}, without its pressure. Say at which pressure: n50, qE50, q50_flow."
        )
    known = ", ".join(one.key for one in METRICS)
    raise InputError(f"Metric is {key!r}. Choose one of: {known}.")


def metric_value(
    metric_key,
    leakage_flow,
    geometry=None,
    flow_exponent=FLOW_EXPONENT,
    air=CLASSROOM_AIR,
    unit=None,
):
    """Return a metric's value for a leakage flow at 50 Pa.

    Parameters
    ----------
    metric_key : str or Metric
        Which metric.
    leakage_flow : float or array
        Leakage flow at 50 Pa. [m3/s]
    geometry : Geometry or None
        The house; needed by what is divided by a volume or an area.
    flow_exponent : float or array
        Exponent of the power law. [-]
    air : Air or AirState
        Air in the leak, for leakage areas; the classroom's 1.2 kg/m³ unless given.
    unit : str or None
        Unit wanted; None gives the metric's own.

    Returns
    -------
    float or array
        The value, in that unit.

    Raises
    ------
    InputError
        If a size of the house is needed and was not entered, or the unit does not fit.

    Examples
    --------
    >>> from airlab.words import m3_per_h
    >>> round(metric_value("q4_flow", m3_per_h(1558.5)), 1)
    301.8
    """
    one = metric(metric_key)
    flow = require_positive("leakage_flow", leakage_flow, "m3/s", allow_zero=True)
    value = flow * _per_flow(one, geometry, flow_exponent, air)
    return convert(value, one.unit, unit) if unit and unit != one.unit else value


def _per_flow(one, geometry, flow_exponent, air):
    """Return the metric's value, in its unit, for 1 m3/s at 50 Pa."""
    n = require_flow_exponent(flow_exponent)
    if one.pressure is None:
        return from_si(1.0 / PRESSURE_REFERENCE**n, one.unit)
    flow = (one.pressure / PRESSURE_REFERENCE) ** n
    size = 1.0
    if one.basis:
        if geometry is None:
            raise InputError(f"{one.symbol} is a flow over {one.basis}. Give the house's sizes.")
        try:
            size = geometry.size(one.basis)
        except InputError as error:
            raise InputError(f"{one.symbol}: {error}") from None
    if one.key in ("alphaA", "c_value"):
        area = to_si(_JIS_CONSTANT * from_si(flow, "m3/h"), "cm2")
        return from_si(area / size, one.unit)
    if one.discharge_coefficient is None:
        return from_si(flow / size, one.unit)
    area = equivalent_hole_area(flow, one.pressure, air, one.discharge_coefficient)
    if one.key in _NL_POWERS:
        try:
            height = geometry.size("height")
        except InputError as error:
            raise InputError(f"{one.symbol}: {error}") from None
        return 1000.0 * area / size * (height / _NL_HEIGHT) ** _NL_POWERS[one.key]
    return from_si(area / size, one.unit)


def leakage_flow_from(
    metric_key,
    value,
    geometry=None,
    flow_exponent=FLOW_EXPONENT,
    air=CLASSROOM_AIR,
    unit=None,
):
    """Return the leakage flow at 50 Pa that a metric's value stands for.

    Parameters
    ----------
    metric_key : str or Metric
        Which metric, with its pressure: 'n50', 'qE50', 'qF50', 'q50_flow', 'ELA4' and so on.
    value : float or array
        The value, in `unit` or in the metric's own unit.
    geometry : Geometry or None
        The house; needed by what is divided by a volume or an area.
    flow_exponent : float or array
        Exponent of the power law. [-]
    air : Air or AirState
        Air in the leak, for leakage areas; the classroom's 1.2 kg/m³ unless given.
    unit : str or None
        Unit of the value; None means the metric's own.

    Returns
    -------
    float or array
        Leakage flow at 50 Pa. [m3/s]

    Raises
    ------
    InputError
        If the metric is unknown or ambiguous, the value is negative, or a size is missing.

    Examples
    --------
    >>> from airlab.building import Geometry
    >>> from airlab.words import from_si
    >>> house = Geometry(353.5, 311.7, 131.6)
    >>> round(from_si(leakage_flow_from("qE50", 5.0, house), "m3/h"), 1)
    1558.5
    """
    one = metric(metric_key)
    if unit and unit != one.unit:
        value = convert(value, unit, one.unit)
    value = require_positive(one.symbol, value, one.unit, allow_zero=True)
    return value / _per_flow(one, geometry, flow_exponent, air)
