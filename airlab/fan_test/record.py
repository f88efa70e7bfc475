"""Is the record of a test complete, and do its stated results follow from its readings?

Lists what is missing and what does not fit. It never certifies: a complete record can still be of
a poorly prepared house.
"""

from dataclasses import dataclass

from airlab.fan_test.mistakes import STATED, Suspicion, name_the_mistake
from airlab.fan_test.result import analyse
from airlab.fan_test.standards import standard
from airlab.fan_test.tables import FAN_TESTS, fan_test_from_rows
from airlab.fan_test.validity import validity
from airlab.words import InputError

__all__ = ["RecordCheck", "check_record"]

# What a record should hold, in the order it is asked for.
_ASKED = ("on", "by", "standard", "purpose", "inside_temperature_c", "outside_temperature_c",
          "building_height_m", "flow_stands_for", "calibration_density_kg_per_m3", "flow_accuracy",
          "gauge_accuracy_pa", "instruments")  # fmt: skip
_REPORTED = {"q50": "stated_q50_m3_per_h", "n50": "stated_n50_1_per_h"}
_TYPED = 2e-3  # how close a stated result must come, relative
_ROUNDED = 3e-3  # a report rounds its mean to three digits


@dataclass(frozen=True, slots=True)
class RecordCheck:
    """What a record lacks, which conditions fail, whether stated results follow."""

    missing: tuple[str, ...]
    failed: tuple[str, ...]
    not_known: tuple[str, ...]
    stated: tuple[tuple[str, Suspicion], ...]  # by direction, or as reported

    @property
    def complete(self):
        """Whether nothing that was asked for is missing."""
        return not self.missing

    def sentence(self, units="metric"):
        """Return the check in words."""
        parts = [
            f"Missing: {'; '.join(self.missing)}."
            if self.missing
            else "Nothing asked for is missing."
        ]
        if self.failed:
            parts.append(f"Not as the standard asks: {'; '.join(self.failed)}.")
        if self.not_known:
            parts.append(f"Cannot be judged: {'; '.join(self.not_known)}.")
        parts += [
            f"{direction.capitalize()}: {found.sentence(units)}" for direction, found in self.stated
        ]
        return " ".join((*parts, "This is a check of the record, not a certificate."))


def check_record(test_row, point_rows, geometry=None, stated=None):
    """Return what a test's record lacks and whether its stated results follow from the readings.

    Parameters
    ----------
    test_row : dict
        Row of the table of tests.
    point_rows : iterable of dict
        Rows of the table of points.
    geometry : Geometry, optional
        Sizes of the house.
    stated : dict, optional
        By direction, a dict of stated results: n, C_env, C_L, q50, q4, n50. The mean that a
        report states stands in the row itself.

    Returns
    -------
    RecordCheck
        Lists in plain words.

    Raises
    ------
    InputError
        If the readings cannot be used, or results are stated for a direction without points.

    Examples
    --------
    >>> rows = [
    ...     {"direction": "depressurise", "pressure_pa": p, "flow_l_per_s": q}
    ...     for p, q in ((60, 203), (50, 180), (40, 156), (30, 129), (20, 99), (12, 71))
    ... ]
    >>> check = check_record({"test": "final"}, rows)
    >>> check.complete, check.missing[0]
    (False, 'date of the test')
    """
    test = fan_test_from_rows(test_row, point_rows, geometry)
    rules = standard(test_row.get("standard") or "ISO 9972:2015")
    result = analyse(test, rules)
    missing = [
        FAN_TESTS.column(name).meaning for name in _ASKED if test_row.get(name) in (None, "")
    ]
    if test_row.get("barometer_pa") in (None, "") and test_row.get("altitude_m") in (None, ""):
        missing.append("air pressure or altitude")
    if all(
        test_row.get(name) in (None, "")
        for name in ("wind_m_per_s", "station_wind_m_per_s", "beaufort")
    ):
        missing.append("wind")
    for one in result.results:
        for when, value in (("before", one.zero.before), ("after", one.zero.after)):
            if value is None:
                missing.append(f"zero-flow pressure {when} ({one.direction})")
    if rules.directions != "depressurise" and len(test.series) < 2:
        missing.append(f"the other direction: there is only {test.series[0].direction}")
    if geometry is None:
        missing.append("volume and areas of the house")
    checks = validity(result)
    failed, unknown = (
        tuple(f"{c.asked}{f' ({c.direction})' if c.direction else ''}" for c in checks if c.verdict == verdict)
        for verdict in ("failed", "not known")
    )  # fmt: skip
    named = []
    for direction, values in (stated or {}).items():
        series = test.of(direction)
        if series is None:
            raise InputError(
                f"Results are stated for {direction!r}, but the test has no such series."
            )
        if set(values) - set(STATED):
            raise InputError(f"Stated results are named: {', '.join(STATED)}.")
        volume = None if geometry is None else geometry.internal_volume
        named.append(
            (direction, name_the_mistake(series, test.conditions, _TYPED, volume, **values))
        )
    reported = {
        name: test_row.get(column)
        for name, column in _REPORTED.items()
        if test_row.get(column) not in (None, "") and (name != "n50" or geometry is not None)
    }
    if reported:
        volume = None if geometry is None else geometry.internal_volume
        series = tuple(one.series for one in result.results)
        found = name_the_mistake(series, test.conditions, _ROUNDED, volume, **reported)
        named.append(("reported", found))
    return RecordCheck(tuple(missing), failed, unknown, tuple(named))
