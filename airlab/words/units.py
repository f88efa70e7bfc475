"""Units: the one place where a number changes its unit.

Inside the package everything is SI (Pa, m, m2, m3, m3/s, kg/m3, s) with temperatures in °C.
Indicators that are defined per hour keep 1/h or m3/(h.m2) and say so. People see other units at
the edges only, and every change between them passes through `convert`.

Sign: a pressure difference is inside minus outside; a flow is positive outwards.
"""

from dataclasses import dataclass

import numpy as np

from airlab.words.errors import InputError

__all__ = [
    "PRESSURE_REFERENCE",
    "UNITS",
    "UNIT_SYSTEMS",
    "Unit",
    "ach",
    "cfm",
    "cm2",
    "convert",
    "display_unit",
    "from_si",
    "label",
    "litre_per_s",
    "m3_per_h",
    "mm",
    "to_si",
]

PRESSURE_REFERENCE = 50.0  # Pa; the pressure difference at which houses are compared


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: how it is printed, what it measures, its size in SI, its zero in SI."""

    label: str
    dimension: str
    size: float
    zero: float = 0.0


_FOOT = 0.3048  # m, exact (international yard and pound agreement, 1959)
_INCH = 0.0254  # m, exact
_CFM = _FOOT**3 / 60.0
_POUND = 0.45359237  # kg, avoirdupois, exact (agreement of 1959)
_BTU = 1055.05585262  # J, international table, exact by its definition (1956)

UNITS = {
    "-": Unit("", "number", 1.0),
    "%": Unit("%", "number", 0.01),
    "Pa": Unit("Pa", "pressure", 1.0),
    "hPa": Unit("hPa", "pressure", 100.0),
    "kPa": Unit("kPa", "pressure", 1000.0),
    "bar": Unit("bar", "pressure", 1e5),
    "inH2O": Unit("in H₂O", "pressure", 249.08891),  # conventional, water at 4 °C
    "m": Unit("m", "length", 1.0),
    "cm": Unit("cm", "length", 0.01),
    "mm": Unit("mm", "length", 0.001),
    "ft": Unit("ft", "length", _FOOT),
    "in": Unit("in", "length", _INCH),
    "m2": Unit("m²", "area", 1.0),
    "cm2": Unit("cm²", "area", 1e-4),
    "mm2": Unit("mm²", "area", 1e-6),
    "ft2": Unit("ft²", "area", _FOOT**2),
    "in2": Unit("in²", "area", _INCH**2),
    "m3": Unit("m³", "volume", 1.0),
    "L": Unit("L", "volume", 1e-3),
    "mL": Unit("mL", "volume", 1e-6),
    "ft3": Unit("ft³", "volume", _FOOT**3),
    "s": Unit("s", "time", 1.0),
    "min": Unit("min", "time", 60.0),
    "h": Unit("h", "time", 3600.0),
    "m/s": Unit("m/s", "speed", 1.0),
    "km/h": Unit("km/h", "speed", 1.0 / 3.6),
    "mph": Unit("mph", "speed", 5280.0 * _FOOT / 3600.0),
    "kn": Unit("kn", "speed", 1852.0 / 3600.0),
    "m3/s": Unit("m³/s", "flow", 1.0),
    "m3/h": Unit("m³/h", "flow", 1.0 / 3600.0),
    "L/s": Unit("L/s", "flow", 1e-3),
    "cfm": Unit("cfm", "flow", _CFM),
    "1/s": Unit("/s", "rate", 1.0),
    "1/h": Unit("/h", "rate", 1.0 / 3600.0),
    "m3/(s.m2)": Unit("m³/(s·m²)", "flow per area", 1.0),
    "m3/(h.m2)": Unit("m³/(h·m²)", "flow per area", 1.0 / 3600.0),
    "L/(s.m2)": Unit("L/(s·m²)", "flow per area", 1e-3),
    "cfm/ft2": Unit("cfm/ft²", "flow per area", _CFM / _FOOT**2),
    "m3/(s.m)": Unit("m³/(s·m)", "flow per length", 1.0),
    "m3/(h.m)": Unit("m³/(h·m)", "flow per length", 1.0 / 3600.0),
    "cfm/ft": Unit("cfm/ft", "flow per length", _CFM / _FOOT),
    "L/(s.m)": Unit("L/(s·m)", "flow per length", 1e-3),
    "m3/(s.Pa^n)": Unit("m³/(s·Paⁿ)", "flow coefficient", 1.0),
    "m3/(h.Pa^n)": Unit("m³/(h·Paⁿ)", "flow coefficient", 1.0 / 3600.0),
    "cfm/Pa^n": Unit("cfm/Paⁿ", "flow coefficient", _CFM),
    "cm2/m2": Unit("cm²/m²", "area per area", 1e-4),
    "in2/100ft2": Unit("in²/100 ft²", "area per area", 1.0 / 14400.0),
    "kg/m3": Unit("kg/m³", "density", 1.0),
    "lb/ft3": Unit("lb/ft³", "density", _POUND / _FOOT**3),
    "Pa.s": Unit("Pa·s", "viscosity", 1.0),
    "Pa.s/m3": Unit("Pa·s/m³", "creeping resistance", 1.0),
    "Pa.s2/m6": Unit("Pa·s²/m⁶", "inertial resistance", 1.0),
    "m3/(s.Pa.m2)": Unit("m³/(s·Pa·m²)", "permeance", 1.0),
    "cfm/(Pa.ft2)": Unit("cfm/(Pa·ft²)", "permeance", _CFM / _FOOT**2),
    "C": Unit("°C", "temperature", 1.0, 0.0),
    "F": Unit("°F", "temperature", 5.0 / 9.0, -160.0 / 9.0),
    "K": Unit("K", "temperature difference", 1.0),
    "perm": Unit("perm", "vapour permeance", 5.72135e-11),  # kg/(s.m2.Pa), at 0 °C, from memory
    "dF": Unit("°F", "temperature difference", 5.0 / 9.0),
    "W": Unit("W", "power", 1.0),
    "kW": Unit("kW", "power", 1e3),
    "Btu/h": Unit("Btu/h", "power", _BTU / 3600.0),
    "kBtu/h": Unit("kBtu/h", "power", _BTU / 3.6),
    "kWh": Unit("kWh", "energy", 3.6e6),
    "J": Unit("J", "energy", 1.0),
    "therm": Unit("therms", "energy", 1e5 * _BTU),
    "N": Unit("N", "force", 1.0),
    "kg": Unit("kg", "mass", 1.0),
    "g": Unit("g", "mass", 1e-3),
    "lb": Unit("lb", "mass", _POUND),
    "oz": Unit("oz", "mass", _POUND / 16.0),
    "deg": Unit("°", "angle", np.pi / 180.0),
}

# What people see for each SI unit, by the job's display setting.
UNIT_SYSTEMS = {
    "metric": {"m3/s": "m3/h", "m3/(s.m2)": "m3/(h.m2)", "m2": "m2", "m3": "m3", "m": "m", "mm": "mm", "kg": "kg",
               "hole": "cm2", "m/s": "m/s", "C": "C", "Pa": "Pa", "J": "kWh"},
    "us": {"m3/s": "cfm", "m3/(s.m2)": "cfm/ft2", "m2": "ft2", "m3": "ft3", "m": "ft", "mm": "in", "kg": "lb",
           "hole": "in2", "m/s": "mph", "C": "F", "Pa": "Pa", "K": "dF", "kW": "kBtu/h", "cm2": "in2",
           "m3/h": "cfm", "L/s": "cfm", "m3/(h.m2)": "cfm/ft2", "L/(s.m2)": "cfm/ft2", "m3/(h.m)": "cfm/ft",
           "cm2/m2": "in2/100ft2", "m3/(h.Pa^n)": "cfm/Pa^n", "m3/(s.Pa^n)": "cfm/Pa^n", "kg/m3": "lb/ft3",
           "m3/(s.Pa.m2)": "cfm/(Pa.ft2)", "J": "therm", "W": "Btu/h", "g": "oz"},
}  # fmt: skip


def _unit(key):
    try:
        return UNITS[key]
    except KeyError:
        raise InputError(f"Unit is {key!r}. Known units: {', '.join(UNITS)}.") from None


def label(key):
    """Return how a unit is printed, '' for none."""
    return UNITS[key].label if key in UNITS else ("" if not key else _unit(key).label)


def to_si(value, unit):
    """Return the value in the SI unit of its dimension (temperatures in °C)."""
    entry = _unit(unit)
    return _times(value, entry.size) + entry.zero if entry.zero else _times(value, entry.size)


def from_si(value, unit):
    """Return an SI value in the unit given (temperatures from °C)."""
    entry = _unit(unit)
    shifted = np.asarray(value, dtype=float) - entry.zero if entry.zero else value
    result = np.asarray(shifted, dtype=float) / entry.size
    return float(result) if result.ndim == 0 else result


def _times(value, size):
    result = np.asarray(value, dtype=float) * size
    return float(result) if result.ndim == 0 else result


def convert(value, unit, to):
    """Return the value in another unit of the same dimension.

    Raises
    ------
    InputError
        If a unit is unknown or the two measure different things.

    Examples
    --------
    >>> round(convert(1.0, "cfm", "m3/h"), 5)
    1.69901
    >>> convert(20.0, "C", "F")
    68.0
    """
    first, second = _unit(unit), _unit(to)
    if first.dimension != second.dimension:
        raise InputError(
            f"{first.label or unit} measures {first.dimension}, {second.label or to} measures "
            f"{second.dimension}. One cannot be turned into the other without more facts."
        )
    if unit == to:
        return value
    result = from_si(to_si(value, unit), to)
    return result if np.ndim(result) else round(result, 12) if second.zero or first.zero else result


def display_unit(si_unit, system="metric"):
    """Return the unit people see for an SI unit in a display system ('metric' or 'us')."""
    if system not in UNIT_SYSTEMS:
        listed = ", ".join(f"'{name}'" for name in UNIT_SYSTEMS)
        raise InputError(f"Display units is {system!r}. Choose one of: {listed}.")
    return UNIT_SYSTEMS[system].get(si_unit, si_unit)


def ach(flow, volume):
    """Return air changes per hour from a flow [m3/s] and a volume [m3]."""
    return from_si(np.asarray(flow, dtype=float) / volume, "1/h")


def cm2(value):
    """Return square centimetres as m2."""
    return to_si(value, "cm2")


def mm(value):
    """Return millimetres as m."""
    return to_si(value, "mm")


def m3_per_h(value):
    """Return cubic metres per hour as m3/s."""
    return to_si(value, "m3/h")


def litre_per_s(value):
    """Return litres per second as m3/s."""
    return to_si(value, "L/s")


def cfm(value):
    """Return cubic feet per minute as m3/s."""
    return to_si(value, "cfm")
