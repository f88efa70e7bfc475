"""Which tables hold a fan test? One row per test for the day, one row per reading for the points.

Columns may stand in any order. A flow is typed in one of its columns, whichever unit the meter
shows; zero-flow pressures are rows of their own, as single samples or as one mean.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from airlab.fan_test.readings import DIRECTIONS, FLOW_BASES, Conditions, FanTest, Series
from airlab.fan_test.standards import STANDARDS
from airlab.words import Column, InputError, Table, from_si, require_choice, to_si

__all__ = [
    "FAN_TESTS",
    "FAN_TEST_POINTS",
    "KINDS",
    "FanTestRow",
    "PointRow",
    "fan_test_from_rows",
    "readable_tests",
    "rows_from_fan_test",
]

KINDS = ("zero before", "point", "zero after")
_FLOWS = {
    "flow_m3_per_h": "m3/h",
    "flow_l_per_s": "L/s",
    "flow_m3_per_s": "m3/s",
    "flow_cfm": "cfm",
}

FAN_TESTS = Table("fan_tests", "Fan tests: the day, the air, the instruments; one row per test.", (
    Column("test", "text", "name of the test, each used once", required=True),
    Column("on", "date", "date of the test"),
    Column("by", "text", "who tested"),
    Column("standard", "choice", "standard it follows", default=STANDARDS[0].key,
           choices=tuple(one.key for one in STANDARDS)),
    Column("purpose", "text", "preparation of the building: in use, envelope, or a purpose"),
    Column("inside_temperature_c", "number", "air temperature inside", "C", low=-30, high=60),
    Column("outside_temperature_c", "number", "air temperature outside", "C", low=-50, high=60),
    Column("barometer_pa", "number", "air pressure", "Pa", low=5e4, high=1.1e5,
           slip="If you read 1013 hPa, type 101300."),
    Column("altitude_m", "number", "height above sea level, where air pressure was not read", "m",
           low=-500, high=6000),
    Column("inside_humidity", "number", "relative humidity inside, 0 to 1", low=0, high=1,
           slip="If you meant 50 %, type 0.5."),
    Column("outside_humidity", "number", "relative humidity outside, 0 to 1", low=0, high=1,
           slip="If you meant 50 %, type 0.5."),
    Column("flow_stands_for", "choice", "what the flow column is: the meter's reading, the flow "
           "through the fan, or already that through the leaks", choices=FLOW_BASES,
           default=FLOW_BASES[0]),
    Column("calibration_density_kg_per_m3", "number", "air density the meter is calibrated for",
           "kg/m3", low=0.5, high=2.0, default=1.2),
    Column("wind_m_per_s", "number", "wind near the ground", "m/s", low=0, high=60),
    Column("station_wind_m_per_s", "number", "wind at a weather station", "m/s", low=0, high=60),
    Column("beaufort", "integer", "wind on the Beaufort scale", low=0, high=12),
    Column("building_height_m", "number", "height of the building", "m", low=1, high=200),
    Column("flow_accuracy", "number", "flow meter, share of the reading: 0.05 is 5 %", low=0, high=1),
    Column("gauge_accuracy_pa", "number", "pressure gauge", "Pa", low=0, high=50),
    Column("thermometer_accuracy_k", "number", "thermometer", "K", low=0, high=20),
    Column("instruments", "text", "instruments and their calibration"),
    Column("stated_q50_m3_per_h", "number", "flow at 50 Pa that a report states, mean of the "
           "directions", "m3/h", low=0, high=1e6),
    Column("stated_n50_1_per_h", "number", "n50 that a report states", "1/h", low=0, high=1000),
    Column("note", "text", "anything else"),
), key="test")  # fmt: skip

FAN_TEST_POINTS = Table("fan_test_points", "Readings of the fan tests, one row each.", (
    Column("reading", "text", "name of the reading, each used once; a blank one gets a name"),
    Column("test", "text", "name of the test", required=True),
    Column("direction", "choice", "way the fan blew", required=True, choices=DIRECTIONS),
    Column("kind", "choice", "zero-flow reading before or after, or a point", choices=KINDS,
           default="point"),
    Column("pressure_pa", "number", "pressure difference: a point by its size or with its sign, a "
           "zero-flow reading always with its sign, inside minus outside", "Pa", required=True,
           low=-500, high=500, slip="Pressure and flow may be swapped."),
    Column("flow_m3_per_h", "number", "flow as read", "m3/h", low=0, high=1e6),
    Column("flow_l_per_s", "number", "flow as read", "L/s", low=0, high=3e5),
    Column("flow_m3_per_s", "number", "flow as read", "m3/s", low=0, high=300,
           slip="If you have m³/h, use flow_m3_per_h."),
    Column("flow_cfm", "number", "flow as read", "cfm", low=0, high=6e5),
    Column("aperture", "text", "fan ring or plate"),
    Column("note", "text", "remark"),
), key="reading", named_by="p")  # fmt: skip

_FIELDS = {
    "inside_temperature_c": "inside_temperature", "outside_temperature_c": "outside_temperature",
    "barometer_pa": "pressure", "altitude_m": "altitude", "inside_humidity": "inside_humidity",
    "outside_humidity": "outside_humidity", "flow_stands_for": "flow_basis",
    "calibration_density_kg_per_m3": "calibration_density", "wind_m_per_s": "wind_speed",
    "station_wind_m_per_s": "station_wind_speed", "beaufort": "beaufort",
    "building_height_m": "building_height", "flow_accuracy": "flow_accuracy",
    "gauge_accuracy_pa": "pressure_accuracy", "thermometer_accuracy_k": "temperature_accuracy",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class FanTestRow:
    """A row of `FAN_TESTS` as it stands; refused if no test can have such a day."""

    row: Mapping

    @classmethod
    def from_row(cls, row):
        """Return the row, looked at."""
        _conditions(row)
        return cls(MappingProxyType(dict(row)))

    def to_row(self):
        """Return the row as a dict."""
        return dict(self.row)


@dataclass(frozen=True, slots=True)
class PointRow(FanTestRow):
    """A row of `FAN_TEST_POINTS` as it stands; a point without its one flow is refused."""

    @classmethod
    def from_row(cls, row):
        """Return the row, looked at."""
        if (row.get("kind") or "point") == "point":
            _flow(row, "a point")
        return cls(MappingProxyType(dict(row)))


def _blank(value):
    return value is None or (isinstance(value, str) and not value.strip())


def _number(value, where, column):
    """Return a number from a cell that may still be text; a comma is not guessed at."""
    if isinstance(value, str):
        try:
            return float(value.strip())
        except ValueError:
            slip = " Type a decimal point: 12.5, not 12,5." if "," in value else ""
            raise InputError(
                f"{where}, column {column}: {value!r} is not a number.{slip}"
            ) from None
    return float(value)


def fan_test_from_rows(test_row, point_rows, geometry=None):
    """Return the fan test that rows of the two tables hold.

    Parameters
    ----------
    test_row : dict
        One row of `FAN_TESTS`; blank cells stay unknown.
    point_rows : iterable of dict
        Rows of `FAN_TEST_POINTS`; those of other tests are left alone.
    geometry : Geometry, optional
        Sizes of the house.

    Returns
    -------
    FanTest
        Depressurising first.

    Raises
    ------
    InputError
        If a cell is not a number, a flow is missing or given twice, or units are mixed in a series.

    Examples
    --------
    >>> rows = [
    ...     {"test": "final", "direction": "depressurise", "pressure_pa": p, "flow_l_per_s": q}
    ...     for p, q in ((50, 180), (35, 142), (20, 98))
    ... ]
    >>> fan_test_from_rows({"test": "final"}, rows).series[0].flow[0]
    0.18
    """
    name = test_row.get("test") or "fan test"
    rows = [row for row in point_rows if row.get("test", name) in (name, None, "")]
    if not rows:
        raise InputError(f"Test {name!r} has no readings.")
    series = []
    for direction in DIRECTIONS:
        chosen = [
            (k, row) for k, row in enumerate(rows, start=1) if row.get("direction") == direction
        ]
        if chosen:
            series.append(_series(name, direction, chosen))
    if not series:
        require_choice("direction", rows[0].get("direction"), DIRECTIONS)
    return FanTest(tuple(series), _conditions(test_row), name, geometry)


def readable_tests(test_rows, point_rows):
    """Return the rows of the tests that have readings; a test without a row of its own gets one.

    Parameters
    ----------
    test_rows : iterable of dict
        Rows of `FAN_TESTS`.
    point_rows : iterable of dict
        Rows of `FAN_TEST_POINTS`.

    Examples
    --------
    >>> points = ({"test": "final"}, {"test": "final"}, {"test": "first"})
    >>> readable_tests(({"test": "first"}, {"test": "other"}), points)
    ({'test': 'first'}, {'test': 'final'})
    """
    read = dict.fromkeys(row["test"] for row in point_rows)
    known = {row["test"]: row for row in test_rows if row["test"] in read}
    return (*known.values(), *({"test": name} for name in read if name not in known))


def _conditions(row):
    """Return the air and instruments of a row of `FAN_TESTS`; blank cells stay unknown."""
    given, where = {}, f"Test {row.get('test') or 'fan test'!r}"
    for column, field in _FIELDS.items():
        value = row.get(column)
        if not _blank(value):
            text = FAN_TESTS.column(column).kind == "choice"
            given[field] = value if text else _number(value, where, column)
    return Conditions(**given)


def _flow(row, where):
    """Return the one column a flow is typed in, and the flow. [m3/s]."""
    typed = [column for column in _FLOWS if not _blank(row.get(column))]
    if len(typed) != 1:
        what = "no flow is typed" if not typed else f"a flow is typed in {' and '.join(typed)}"
        raise InputError(f"{where}: {what}. Type it in one of: {', '.join(_FLOWS)}.")
    return typed[0], to_si(_number(row[typed[0]], where, typed[0]), _FLOWS[typed[0]])


def _series(name, direction, rows):
    found = {kind: [] for kind in KINDS}
    flows, units = [], {}
    for number, row in rows:
        where = f"Test {name!r}, reading {number}"
        kind = require_choice(f"{where}: kind", row.get("kind") or "point", KINDS)
        if _blank(row.get("pressure_pa")):
            raise InputError(f"{where}: the pressure is missing.")
        found[kind].append(_number(row["pressure_pa"], where, "pressure_pa"))
        if kind != "point":
            continue
        column, flow = _flow(row, where)
        units.setdefault(column, number)
        flows.append(flow)
    if len(units) > 1:
        listed = " and ".join(f"{column} (reading {number})" for column, number in units.items())
        raise InputError(f"Test {name!r}, {direction}: flows are typed in {listed}. Use one unit in a series.")  # fmt: skip
    return Series(direction, tuple(found["point"]), tuple(flows), tuple(found["zero before"]),
                  tuple(found["zero after"]))  # fmt: skip


def rows_from_fan_test(test):
    """Return the test as rows of the two tables: (row of the test, rows of its readings).

    Parameters
    ----------
    test : FanTest
        Any test.

    Returns
    -------
    tuple
        A dict and a tuple of dicts, ready to be written.

    Examples
    --------
    >>> one = Series("depressurise", (20, 35, 50), (0.1, 0.145, 0.183), (-1.0,))
    >>> row, points = rows_from_fan_test(FanTest(one))
    >>> len(points), points[0]["kind"]
    (4, 'zero before')
    """
    row = {"test": test.name}
    for column, field in _FIELDS.items():
        row[column] = getattr(test.conditions, field)
    points = []
    for one in test.series:
        base = {"test": test.name, "direction": one.direction}
        points += [{**base, "kind": KINDS[0], "pressure_pa": p} for p in one.zero_before]
        points += [
            {**base, "kind": KINDS[1], "pressure_pa": p, "flow_m3_per_h": from_si(q, "m3/h")}
            for p, q in zip(one.pressure, one.flow)
        ]
        points += [{**base, "kind": KINDS[2], "pressure_pa": p} for p in one.zero_after]
    return row, tuple(points)
