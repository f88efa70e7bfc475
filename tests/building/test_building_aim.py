"""The value to aim for: tables, small samples, refused input."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import (
    PUBLISHED_CONTEXT,
    History,
    PastResult,
    aim_for,
    history,
    pass_probability,
)
from airlab.building.terms import SOURCES
from airlab.words import InputError

# Known answers ---------------------------------------------------------------

FRACTIONS = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)


@pytest.mark.parametrize(("spread", "row"), [
    # 1 − Φ(ln(T/m)/s) worked outside this package (derived); the spreads are assumptions.
    (0.15, "50 24 7 0.9 0.0 0.0"), (0.20, "50 30 13 4 0.5 0.0"), (0.30, "50 36 23 12 4 1.0"),
    (0.40, "50 40 29 19 10 4"), (0.50, "50 42 33 24 15 8"),
])  # fmt: skip
def test_chance_of_failing_by_aim_over_limit(spread, row):
    found = 100.0 * (1.0 - pass_probability(np.array(FRACTIONS) * 5.0, 5.0, spread))
    for value, text in zip(found, row.split(), strict=True):
        places = len(text.split(".")[1]) if "." in text else 0
        assert value == pytest.approx(float(text), abs=0.5001 * 10**-places)


@pytest.mark.parametrize(("spread", "row"), [
    (0.15, "0.88 0.83 0.78"), (0.20, "0.85 0.77 0.72"), (0.30, "0.78 0.68 0.61"),
    (0.40, "0.71 0.60 0.52"), (0.50, "0.66 0.53 0.44"),
])  # fmt: skip
def test_aim_as_a_fraction_of_the_limit(spread, row):
    for confidence, text in zip((0.8, 0.9, 0.95), row.split(), strict=True):
        assert aim_for(5.0, spread, confidence).fraction == pytest.approx(float(text), abs=0.005)


def test_ninety_percent_on_five_means_three_point_four():
    aim = aim_for(5.0, 0.3, 0.9, "m3/(h.m2)")
    assert aim.aim == pytest.approx(3.4, abs=0.005)
    assert aim.chance_at(5.0) == pytest.approx(0.5)
    assert "To be 90 % sure of 5 m³/(h·m²), aim for 3.4" in aim.sentence()
    assert "Assumed" in aim.sentence()


def test_own_results_use_the_predictive_t():
    # Student's t, 97.5 % with 4 degrees of freedom: 2.776 (tables in any statistics textbook).
    logs = np.array([-0.3, -0.1, 0.0, 0.2, 0.2])
    past = history(PastResult(str(i), 2.0, 2.0 * math.exp(x)) for i, x in enumerate(logs))
    assert (past.count, past.log_mean) == (5, pytest.approx(0.0, abs=1e-12))
    assert past.log_spread == pytest.approx(math.sqrt(0.18 / 4))
    aim = aim_for(1.0, confidence=0.975, history=past)
    by_hand = math.exp(-2.776 * math.sqrt(0.045 * 1.2))
    assert aim.fraction == pytest.approx(by_hand, rel=1e-3)
    assert "From 5 houses of your own" in aim.sentence()


def test_predictive_t_covers_where_the_plug_in_does_not():
    # Draw three past houses and the next one from a known law: the promise must hold in the long
    # run (seeded; standard error 0.4 %).
    from scipy.special import ndtri

    rng = np.random.default_rng(20240601)
    logs = rng.normal(0.1, 0.3, size=(6000, 3))
    following = rng.normal(0.1, 0.3, size=6000)
    inside = plug_in = 0
    for sample, new in zip(logs, following, strict=True):
        past = History(3, sample.mean(), sample.std(ddof=1))
        inside += math.log(aim_for(1.0, confidence=0.9, history=past).aim) + new <= 0.0
        plug_in += -past.log_mean - ndtri(0.9) * past.log_spread + new <= 0.0
    assert inside / 6000 == pytest.approx(0.90, abs=0.015)
    assert plug_in / 6000 < 0.85


# Limits and invariants -------------------------------------------------------


@given(st.floats(0.1, 20), st.floats(0.02, 1.0), st.floats(0.5, 0.999))
@settings(max_examples=50, deadline=None)
def test_aim_and_chance_are_each_others_inverse(limit, spread, confidence):
    aim = aim_for(limit, spread, confidence)
    assert pass_probability(aim.aim, limit, spread) == pytest.approx(confidence, abs=1e-9)
    assert aim.aim <= limit * (1 + 1e-12)
    past = History(4, 0.1, spread)
    own = aim_for(limit, confidence=confidence, history=past)
    assert own.chance_at(own.aim) == pytest.approx(confidence, abs=1e-7)


def test_many_own_results_lead_to_the_normal_law():
    many = aim_for(1.0, confidence=0.9, history=History(100_000, 0.0, 0.3)).aim
    assert many == pytest.approx(aim_for(1.0, 0.3, 0.9).aim, rel=1e-4)


def test_few_results_ask_for_a_lower_aim():
    aims = [aim_for(1.0, confidence=0.9, history=History(k, 0.0, 0.3)).aim for k in (2, 3, 10, 50)]
    assert aims == sorted(aims)


def test_context_is_sourced():
    known = {source.key: source.status for source in SOURCES}
    assert len(PUBLISHED_CONTEXT) >= 5
    for one in PUBLISHED_CONTEXT:
        assert known[one.source] == one.status and one.finding


# Refused ---------------------------------------------------------------------


def test_histories_that_say_nothing_are_refused():
    with pytest.raises(InputError, match="One house says nothing about spread"):
        history([PastResult("one", 3.0, 3.2)])
    with pytest.raises(InputError, match="twice"):
        history([PastResult("one", 3.0, 3.2), PastResult("One ", 3.0, 2.9)])
    with pytest.raises(InputError, match="same fraction"):
        history([PastResult("one", 3.0, 3.3), PastResult("two", 2.0, 2.2)])
    with pytest.raises(InputError, match=r"House 'one'"):
        PastResult("one", 0.0, 3.0)


@pytest.mark.parametrize(("change", "words"), [
    ({"spread": 30.0}, "Type 0.3 for 30 %"), ({"spread": 0.0}, "0.01 to 1.5"),
    ({"confidence": 90.0}, "Type 0.9 for 90 %"), ({"confidence": 0.4}, "0.5 to 0.999"),
    ({"limit": 0.0}, "above zero"), ({"limit": float("nan")}, "not a number"),
])  # fmt: skip
def test_aims_that_cannot_be_are_refused(change, words):
    with pytest.raises(InputError, match=words):
        aim_for(**({"limit": 5.0} | change))
