"""The first three minutes: floor area, height, target."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import STAGE_CHANGES, rough_start
from airlab.words import InputError, from_si


def test_allowance_per_hour_is_target_times_volume():
    start = rough_start(140.0, 2.5, "n50", 0.6)
    assert from_si(start.allowance, "m3/h") == pytest.approx(0.6 * 350.0)
    # 1 cm² of sharp hole passes 2.008 m³/h at 50 Pa: π/(π+2) and 1.2 kg/m³, by hand.
    assert from_si(start.hole_area, "cm2") == pytest.approx(210.0 / 2.008, rel=5e-4)


def test_allowance_per_square_metre_uses_the_assumed_box():
    # 150 m² on two storeys: plan 75 m² is 10.607 × 7.071 m; walls 35.355 × 5 m; roof and floor 150.
    start = rough_start(150.0, 2.5, "qE50", 3.0, storeys=2)
    assert start.geometry.envelope_area == pytest.approx(150.0 + 35.3553 * 5.0, rel=1e-5)
    assert from_si(start.allowance, "m3/h") == pytest.approx(3.0 * 326.777, rel=1e-5)
    assert "plan 3 : 2" in start.sentence() and "327 m²" in start.sentence()


def test_range_on_the_day_follows_published_stage_pairs():
    # Mid-build 0.20 to final 0.13 (self-build diary, 2016) and 3.2 to 3.9 (trade blog, 2022).
    start = rough_start(140.0, 2.5, "n50", 1.0)
    assert start.expected_low == pytest.approx(start.allowance * 3.2 / 3.9)
    assert start.expected_high == pytest.approx(start.allowance * 0.20 / 0.13)
    assert STAGE_CHANGES[0] < 1.0 < STAGE_CHANGES[1]


def test_every_sentence_says_rough():
    start = rough_start(140.0, 2.5, "qE50", 3.0)
    for text in (start.sentence(), start.sentence("us"), start.heading, start.geometry.sentence()):
        assert "ROUGH" in text
    assert "m²" not in rough_start(140.0, 2.5, "n50", 1.0).sentence("us")


@given(st.floats(40, 400), st.floats(2.2, 4.0), st.floats(0.2, 10), st.integers(1, 4))
@settings(max_examples=50, deadline=None)
def test_allowance_grows_with_target_and_house(area, height, value, storeys):
    for key in ("n50", "qE50"):
        start = rough_start(area, height, key, value, storeys)
        assert rough_start(area, height, key, 2 * value, storeys).allowance == pytest.approx(
            2 * start.allowance
        )
        assert rough_start(1.1 * area, height, key, value, storeys).allowance > start.allowance
        assert start.expected_low < start.allowance < start.expected_high


@pytest.mark.parametrize(("arguments", "words"), [
    ((140.0, 2.5, "q50", 5.0), "Pick one"), ((140.0, 2.5, "", 5.0), "Pick one"),
    ((140.0, 250.0, "n50", 1.0), "240 cm is 2.4"), ((140.0, 1.0, "n50", 1.0), "1.5 to 10 m"),
    ((0.0, 2.5, "n50", 1.0), "above zero"), ((140.0, 2.5, "n50", 60.0), "0.05 to 30"),
    ((140.0, float("nan"), "n50", 1.0), "not a number"), ((140.0, 2.5, "n50", 1.0, 7), "Choose"),
])  # fmt: skip
def test_what_is_no_house_is_refused(arguments, words):
    with pytest.raises(InputError, match=words):
        rough_start(*arguments)
