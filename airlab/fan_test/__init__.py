"""Fan test: from readings to leakage, how sure it is, and what may have gone wrong.

The standards' chain with every step in view, better fits beside it, comparison of two tests, short
tests, and the mistakes that are made most. Limits from the scatter of points are not the whole
uncertainty; each result says what it cannot see. An estimate, never a certificate.
"""

from airlab.fan_test.budget import SPREADS, Budget, BudgetRow, Trust, budget, trust
from airlab.fan_test.compare import Comparison, Difference, compare, difference
from airlab.fan_test.corrections import (
    REFERENCE_DENSITY,
    ZeroFlow,
    envelope_flow,
    fan_flow,
    induced_pressure,
    standard_state_factor,
    zero_flow,
)
from airlab.fan_test.coverage import Coverage, interval_coverage, simulated_tests
from airlab.fan_test.curves import (
    FitCurve,
    Influence,
    fit_curves,
    influence,
    with_point,
    without_points,
)
from airlab.fan_test.decay import (
    DecayResult,
    leakage_from_decay,
    leakage_from_record,
    pressure_after,
)
from airlab.fan_test.estimators import FITS, fit_curve, fit_two_terms, fit_with_spreads, with_prior
from airlab.fan_test.faults import CAUSES, SYMPTOMS, Finding, diagnose
from airlab.fan_test.faulty import FAULTS, FaultyTest, faulty_test
from airlab.fan_test.fit import Line, PowerLawFit, coverage_factor, fit_power_law, straight_line
from airlab.fan_test.lines import (
    WEIGHTINGS,
    effective_variance_line,
    organic_line,
    weighted_line,
    york_line,
)
from airlab.fan_test.mistakes import MISTAKES, Suspicion, chain_with, name_the_mistake
from airlab.fan_test.page import FitRow, PointChange, TestPage, fits_beside, read_test
from airlab.fan_test.readings import (
    DIRECTIONS,
    FLOW_BASES,
    Conditions,
    FanTest,
    Series,
    pressure_at_altitude,
)
from airlab.fan_test.record import RecordCheck, check_record
from airlab.fan_test.result import SeriesResult, TestResult, analyse, analyse_series
from airlab.fan_test.short_tests import one_point_test, two_point_test
from airlab.fan_test.standards import STANDARDS, Asked, Standard, standard
from airlab.fan_test.steady_wind import steady_wind_error, wind_spread
from airlab.fan_test.tables import (
    FAN_TEST_POINTS,
    FAN_TESTS,
    fan_test_from_rows,
    readable_tests,
    rows_from_fan_test,
)
from airlab.fan_test.validity import ValidityCheck, validity

__all__ = [
    "CAUSES",
    "DIRECTIONS",
    "FAN_TESTS",
    "FAN_TEST_POINTS",
    "FAULTS",
    "FITS",
    "FLOW_BASES",
    "MISTAKES",
    "REFERENCE_DENSITY",
    "SPREADS",
    "STANDARDS",
    "SYMPTOMS",
    "WEIGHTINGS",
    "Asked",
    "Budget",
    "BudgetRow",
    "Comparison",
    "Conditions",
    "Coverage",
    "DecayResult",
    "Difference",
    "FanTest",
    "FaultyTest",
    "Finding",
    "FitCurve",
    "FitRow",
    "Influence",
    "Line",
    "PointChange",
    "PowerLawFit",
    "RecordCheck",
    "Series",
    "SeriesResult",
    "Standard",
    "Suspicion",
    "TestPage",
    "TestResult",
    "Trust",
    "ValidityCheck",
    "ZeroFlow",
    "analyse",
    "analyse_series",
    "budget",
    "chain_with",
    "check_record",
    "compare",
    "coverage_factor",
    "diagnose",
    "difference",
    "effective_variance_line",
    "envelope_flow",
    "fan_flow",
    "fan_test_from_rows",
    "faulty_test",
    "fit_curve",
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
    "organic_line",
    "pressure_after",
    "pressure_at_altitude",
    "read_test",
    "readable_tests",
    "rows_from_fan_test",
    "simulated_tests",
    "standard",
    "standard_state_factor",
    "steady_wind_error",
    "straight_line",
    "trust",
    "two_point_test",
    "validity",
    "weighted_line",
    "wind_spread",
    "with_point",
    "with_prior",
    "without_points",
    "york_line",
    "zero_flow",
]
