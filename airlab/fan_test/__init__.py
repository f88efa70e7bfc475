"""Fan test: from readings to leakage, how sure it is, and what may have gone wrong.

The standards' chain with every step in view, better fits beside it, comparison of two tests, short
tests, and the mistakes that are made most. Limits from the scatter of points are not the whole
uncertainty; each result says what it cannot see. An estimate, never a certificate.
"""

from airlab.fan_test.budget import budget, trust
from airlab.fan_test.compare import Comparison, compare, difference
from airlab.fan_test.corrections import (
    REFERENCE_DENSITY,
    envelope_flow,
    induced_pressure,
    standard_state_factor,
    zero_flow,
)
from airlab.fan_test.coverage import interval_coverage, simulated_tests
from airlab.fan_test.curves import fit_curves, influence, with_point, without_points
from airlab.fan_test.decay import leakage_from_decay, leakage_from_record, pressure_after
from airlab.fan_test.estimators import FITS, fit_two_terms, fit_with_spreads
from airlab.fan_test.faults import diagnose
from airlab.fan_test.faulty import FAULTS, faulty_test
from airlab.fan_test.fit import fit_power_law
from airlab.fan_test.mistakes import MISTAKES, chain_with, name_the_mistake
from airlab.fan_test.page import FitRow, PointChange, TestPage, fits_beside, read_test
from airlab.fan_test.readings import Conditions, FanTest, Series, pressure_at_altitude
from airlab.fan_test.record import RecordCheck, check_record
from airlab.fan_test.result import analyse
from airlab.fan_test.short_tests import one_point_test, two_point_test
from airlab.fan_test.standards import STANDARDS, standard
from airlab.fan_test.steady_wind import steady_wind_error, wind_spread
from airlab.fan_test.tables import (
    FAN_TEST_POINTS,
    FAN_TESTS,
    fan_test_from_rows,
    readable_tests,
    rows_from_fan_test,
)
from airlab.fan_test.validity import validity

__all__ = [
    "FAN_TESTS",
    "FAN_TEST_POINTS",
    "FAULTS",
    "FITS",
    "MISTAKES",
    "REFERENCE_DENSITY",
    "STANDARDS",
    "Comparison",
    "Conditions",
    "FanTest",
    "FitRow",
    "PointChange",
    "RecordCheck",
    "Series",
    "TestPage",
    "analyse",
    "budget",
    "chain_with",
    "check_record",
    "compare",
    "diagnose",
    "difference",
    "envelope_flow",
    "fan_test_from_rows",
    "faulty_test",
    "fit_curves",
    "fit_power_law",
    "fit_two_terms",
    "fit_with_spreads",
    "fits_beside",
    "induced_pressure",
    "influence",
    "interval_coverage",
    "leakage_from_decay",
    "leakage_from_record",
    "name_the_mistake",
    "one_point_test",
    "pressure_after",
    "pressure_at_altitude",
    "read_test",
    "readable_tests",
    "rows_from_fan_test",
    "simulated_tests",
    "standard",
    "standard_state_factor",
    "steady_wind_error",
    "trust",
    "two_point_test",
    "validity",
    "wind_spread",
    "with_point",
    "without_points",
    "zero_flow",
]
