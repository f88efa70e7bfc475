"""Words: units against an independent units library, number printing, guards, registry."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from airlab import words
from airlab.words import InputError, convert, from_si, show, to_si
from airlab.words.units import UNIT_SYSTEMS, UNITS

REGISTRY = pint.UnitRegistry()
# Our keys in the spelling of pint, a general-purpose units library used here as the oracle.
PINT = {
    "Pa": "pascal", "hPa": "hectopascal", "kPa": "kilopascal", "bar": "bar",
    "inH2O": "inch_H2O", "m": "meter", "cm": "centimeter", "mm": "millimeter", "ft": "foot",
    "in": "inch", "m2": "meter**2", "cm2": "centimeter**2", "mm2": "millimeter**2",
    "ft2": "foot**2", "in2": "inch**2", "m3": "meter**3", "L": "liter", "mL": "milliliter",
    "ft3": "foot**3", "s": "second", "min": "minute", "h": "hour", "m/s": "meter/second",
    "km/h": "kilometer/hour", "mph": "mile/hour", "m3/s": "meter**3/second",
    "m3/h": "meter**3/hour", "L/s": "liter/second", "cfm": "foot**3/minute", "1/s": "1/second",
    "1/h": "1/hour", "m3/(s.m2)": "meter/second", "m3/(h.m2)": "meter/hour",
    "L/(s.m2)": "liter/second/meter**2", "cfm/ft2": "foot/minute", "m3/(s.m)": "meter**2/second",
    "m3/(h.m)": "meter**2/hour", "L/(s.m)": "liter/second/meter", "cm2/m2": "centimeter**2/meter**2",
    "kn": "knot", "kWh": "kilowatt_hour", "kW": "kilowatt", "deg": "degree", "%": "percent",
    "g": "gram", "oz": "ounce", "lb": "pound", "cfm/ft": "foot**2/minute",
    "lb/ft3": "pound/foot**3", "in2/100ft2": "inch**2/decafoot**2", "kBtu/h": "kiloBtu_it/hour",
    "dF": "delta_degree_Fahrenheit", "cfm/(Pa.ft2)": "foot/minute/pascal",
    "Btu/h": "Btu_it/hour", "therm": "therm", "perm": "grain/hour/foot**2/inch_Hg",
}  # fmt: skip


@pytest.mark.parametrize("key", PINT)
def test_unit_sizes_agree_with_pint(key):
    si = REGISTRY.Quantity(1.0, PINT[key]).to_base_units()
    expected = si.magnitude
    if key == "kWh":
        expected = REGISTRY.Quantity(1.0, "kilowatt_hour").to("joule").magnitude
    tolerance = 1e-5 if key in ("inH2O", "perm", "therm") else 1e-12  # conventional, rounded there
    assert math.isclose(UNITS[key].size, expected, rel_tol=tolerance)


def test_every_unit_is_checked_or_is_its_own_si_unit():
    unchecked = set(UNITS) - set(PINT)
    coherent = {key for key in unchecked if UNITS[key].size == 1.0}
    assert unchecked - coherent == {"F", "m3/(h.Pa^n)", "cfm/Pa^n"}


@pytest.mark.parametrize(
    ("celsius", "fahrenheit"), [(-40.0, -40.0), (0.0, 32.0), (20.0, 68.0), (100.0, 212.0)]
)
def test_fahrenheit_fixed_points(celsius, fahrenheit):
    assert convert(celsius, "C", "F") == pytest.approx(fahrenheit)
    assert convert(fahrenheit, "F", "C") == pytest.approx(celsius)


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6))
def test_there_and_back_changes_nothing(unit, value):
    assert from_si(to_si(value, unit), unit) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_arrays_stay_arrays_and_numbers_stay_numbers():
    assert isinstance(words.cm2(50), float)
    assert np.allclose(words.m3_per_h(np.array([3600.0, 7200.0])), [1.0, 2.0])
    assert words.ach(0.25, 300.0) == pytest.approx(3.0)


def test_different_quantities_do_not_mix():
    with pytest.raises(InputError, match="measures flow"):
        convert(1.0, "m3/h", "m2")
    with pytest.raises(InputError, match="Known units"):
        convert(1.0, "furlong", "m")


def test_display_systems_offer_a_unit_of_the_same_kind():
    for system, table in UNIT_SYSTEMS.items():
        for si_unit, shown in table.items():
            assert shown in UNITS
            if si_unit in UNITS:
                assert UNITS[shown].dimension == UNITS[si_unit].dimension, (system, si_unit)
    with pytest.raises(InputError, match="metric"):
        words.display_unit("m2", "imperial")


@pytest.mark.parametrize(
    ("value", "text"),
    [(1558.5, "1560"), (0.0, "0"), (9.996, "10"), (0.049999, "0.05"), (-2.345, "−2.35"),
     (123456.0, "123000"), (2.0, "2"), (float("nan"), "not a number"), (4.409, "4.41"),
     (1e-9, "1.00e-09"), (999.6, "1000")],
)  # fmt: skip
def test_three_digits_point_no_thousands_mark(value, text):
    assert show(value) == text


@given(st.floats(1e-5, 1e8))
def test_printed_number_is_within_half_a_digit(value):
    assert float(show(value)) == pytest.approx(value, rel=5.1e-3)


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(15.2, "15.2 s"), (60.0, "60 s"), (100.0, "1 min 40 s"), (120.0, "2 min"), (3600.0, "1 h"),
     (math.inf, "never"), (86400.0 * 3, "3 days")],
)  # fmt: skip
def test_durations_read_as_people_say_them(seconds, text):
    assert words.show_duration(seconds) == text


def test_percent_never_claims_certainty():
    assert words.show_percent(0.9999) == "over 99 %"
    assert words.show_percent(0.0001) == "under 1 %"
    assert words.show_percent(0.49) == "49 %"


@pytest.mark.parametrize(
    "bad", [float("nan"), float("inf"), "ten", None, True, [1.0, float("nan")]]
)
def test_what_is_no_finite_number_is_refused_by_name(bad):
    with pytest.raises(InputError, match="Hole diameter"):
        words.require_finite("hole_diameter", bad, "m")


def test_guards_name_value_unit_range_and_slip():
    with pytest.raises(
        InputError, match=r"Hole area is 50 m²\. This model takes 0 to 5 m²\. If you"
    ):
        words.require_between("hole_area", 50, 0, 5, "m2", "If you meant 50 cm², write cm2(50).")
    with pytest.raises(InputError, match="entry 1"):
        words.require_positive("hole_area", [1.0, -2.0], "m2")
    with pytest.raises(InputError, match="above zero"):
        words.require_positive("volume", 0.0, "m3")
    assert words.require_positive("volume", 0.0, "m3", allow_zero=True) == 0.0
    with pytest.raises(InputError, match="'rigid', 'free'"):
        words.require_choice("hole_mode", "stuck", ("rigid", "free"))


def test_registry_refuses_the_same_name_for_two_things():
    class One:
        TERMS = (words.Term("flow", "q", "m3/s", "air in a time"),)

    class Two:
        TERMS = (words.Term("flow", "Q", "m3/h", "air in a time"),)

    assert words.gather_terms(One, One)["flow"].unit == "m3/s"
    with pytest.raises(InputError, match="declared twice"):
        words.gather_terms(One, Two)


def test_a_source_must_say_how_it_was_obtained():
    with pytest.raises(InputError, match="second-hand"):
        words.Source("X", "body", "title", "2020", "p. 1", "certain")


def test_hazards_that_stop_the_fan():
    stops = {entry.key for entry in words.hazards() if entry.stops_fan}
    assert stops == {"combustion", "asbestos", "lead", "film"}
    assert "cold" in words.caution("combustion").text


def test_what_the_metric_units_of_a_question_are_worth():
    # Factors from pint, the general-purpose library; the flow's as a check from outside both.
    said = words.us_worth(
        "300 m³/h, 5 m³/(h·m²), 353.5 m³, 311.7 m², 2 L/s, 1.2 by 1.2 m, 30 cm, 21 °C"
    )
    for unit, to in (("m3/h", "cfm"), ("m3/(h.m2)", "cfm/ft2"), ("m3", "ft3"), ("m2", "ft2"), ("L/s", "cfm"),
                     ("m", "ft"), ("cm", "in")):  # fmt: skip
        worth = REGISTRY.Quantity(1.0, PINT[unit]).to(PINT[to]).magnitude
        assert f"{show(1.0, unit)} is {show(worth, to)}" in said
    assert said.endswith("0 °C is 32 °F, 20 °C is 68 °F.")
    assert words.us_worth("1.2 kg/m³ at 50 Pa") == "In US units: 1 kg/m³ is 0.0624 lb/ft³."
    assert words.us_worth("60 refills an hour at 50 Pa in 3 s") == ""
