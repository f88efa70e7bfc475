"""Fresh air by published rules, and the pull of extract fans."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import (
    Geometry,
    fan_suction,
    leakage_flow_from,
    ventilation_needs,
)
from airlab.words import InputError, ach, convert, from_si, litre_per_s


def need(country, *arguments):
    return next(n for n in ventilation_needs(*arguments) if n.jurisdiction == country).flow


def test_worked_example_of_the_american_rule():
    # Web primer quoting ASHRAE 62.2-2013 (second-hand): 2400 ft², 3 bedrooms: 102 cfm; with 30 cfm
    # of infiltration the fan gives 72.
    flow = from_si(need("USA", convert(2400.0, "ft2", "m2"), 3), "cfm")
    assert flow == pytest.approx(102.0, abs=1e-6)
    assert flow - 30.0 == pytest.approx(72.0, abs=1e-6)


def test_worked_example_of_the_irish_rule():
    # TGD F 2019 appendix 1 example 3 as corrected: 4 people, 21 L/s (read in the correction).
    assert from_si(need("Ireland", 60.0, 3), "L/s") == pytest.approx(21.0)


@pytest.mark.parametrize(
    ("bedrooms", "flow"), [(0, 13), (1, 19), (2, 25), (3, 31), (4, 37), (5, 43), (7, 55)]
)
def test_english_table(bedrooms, flow):
    # Approved Document F volume 1, 2021, table 1.3 (read); 6 L/s for each bedroom above five.
    assert from_si(need("England", 40.0, bedrooms), "L/s") == pytest.approx(flow)
    assert from_si(need("England", 300.0, bedrooms), "L/s") == pytest.approx(90.0)


def test_english_example_in_air_changes():
    # 90 m² with 3 bedrooms at 2.4 m: 31 L/s is 0.52 air changes an hour (derived).
    assert ach(need("England", 90.0, 3), 90.0 * 2.4) == pytest.approx(0.52, abs=5e-3)


def test_australian_example():
    # NCC 2022 volume 2 H6V3 (read), 150 m², 3 bedrooms: 21.5 L/s running all the time (derived).
    assert from_si(need("Australia", 150.0, 3), "L/s") == pytest.approx(21.5)


def test_every_need_is_said_with_status():
    for one in ventilation_needs(120.0, 4):
        assert one.status in one.sentence().lower() and "Check your local rules" in one.sentence()
        assert "cfm for the whole dwelling" in one.sentence("us")


@pytest.mark.parametrize(
    ("flow", "suction"), [(20, "9.5"), (40, "27.6"), (60, "51.4"), (100, "113")]
)
def test_pull_of_extract_fans_in_a_tight_house(flow, suction):
    # n50 0.6 at 50 Pa, 353.5 m³, n 0.65: Δp = 50 (Q/q50)^(1/n), worked outside (derived).
    house = Geometry(353.5)
    found = fan_suction(litre_per_s(flow), leakage_flow_from("n50", 0.6, house))
    digits = len(suction.split(".")[1]) if "." in suction else 0
    assert found.suction == pytest.approx(float(suction), abs=0.5 * 10**-digits)


@pytest.mark.parametrize(("n50", "flow"), [(0.6, 11), (1, 19), (3, 57), (5, 95), (10, 190)])
def test_extract_that_stays_under_four_pascal(n50, flow):
    # Same house (derived).
    found = fan_suction(litre_per_s(1.0), leakage_flow_from("n50", n50, Geometry(353.5)))
    assert from_si(found.flow_below(4.0), "L/s") == pytest.approx(flow, abs=0.5)


@given(st.floats(0.001, 0.2), st.floats(0.01, 2.0), st.floats(0.5, 1.0))
@settings(max_examples=50, deadline=None)
def test_suction_and_flow_are_each_others_inverse(extract, leak, n):
    found = fan_suction(extract, leak, n)
    assert found.flow_below(found.suction) == pytest.approx(extract, rel=1e-9)


def test_cautions_come_with_the_suction_that_reaches_them():
    house = leakage_flow_from("n50", 0.6, Geometry(353.5))
    assert fan_suction(litre_per_s(5.0), house).cautions == ()
    assert [c.pressure for c in fan_suction(litre_per_s(20.0), house).cautions] == [5.0]
    assert [c.pressure for c in fan_suction(litre_per_s(60.0), house).cautions] == [5.0, 30.0]
    assert fan_suction(litre_per_s(20.0), house).warnings == ()
    assert "4 to 100 Pa" in fan_suction(litre_per_s(100.0), house).sentence()
    assert "4 to 100 Pa" in fan_suction(litre_per_s(5.0), house).sentence()
    assert "licensed person" in fan_suction(litre_per_s(5.0), house).sentence()


def test_what_is_no_dwelling_is_refused():
    for bad in ((0.0, 3), (90.0, -1), (90.0, 2.5), (90.0, 3, 0), (float("nan"), 3)):
        with pytest.raises(InputError):
            ventilation_needs(*bad)
    for bad in ((0.0, 1.0), (0.02, 0.0), (0.02, 1.0, 0.4), (float("inf"), 1.0)):
        with pytest.raises(InputError):
            fan_suction(*bad)
