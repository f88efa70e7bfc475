"""Rings, two fans, load and place of the fan."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from airlab.leak_check import Reading, make_plan
from airlab.leak_check.fan_choice import below_range, fan_ranges
from airlab.leak_check.fan_set import fan_places, fan_set
from airlab.physics import FanCurve, PowerLawLeak, pressure_reached
from airlab.physics.fans import side_by_side
from airlab.words import InputError, caution, from_si, m3_per_h

FAN = {
    "name": "F",
    "points": [[0, 3000], [50, 2000], [80, 0]],
    "lowest_m3_per_h": 700,
    "ranges": [
        {"name": "ring A", "points": [[0, 1000], [50, 800], [90, 300]], "lowest_m3_per_h": 200},
        {"name": "ring B", "points": [[0, 300], [50, 260], [90, 100]], "lowest_m3_per_h": 40},
    ],
}


class Expected:
    def __init__(self, low, high):
        self.low, self.high = m3_per_h(low), m3_per_h(high)


def choose(low, high, **more):
    return fan_set(fan_ranges(FAN), Expected(low, high), **more)


# Two fans side by side: scipy.optimize.brentq on the sum of both curves, one house at a time.


@settings(max_examples=50, deadline=None)
@given(st.floats(200, 9000), st.floats(0.5, 1.0))
def test_two_fans_against_a_scalar_root(flow, exponent):
    one = FanCurve((0.0, 20.0, 50.0), (0.9, 0.8, 0.5), name="one")
    two = FanCurve((0.0, 60.0, 90.0), (0.6, 0.3, 0.0), name="two")
    house = PowerLawLeak.from_flow(m3_per_h(flow), flow_exponent=exponent)
    reach = pressure_reached(side_by_side(one, two), house)

    def rest(p):
        return float(one.flow(p) + two.flow(p) - house.flow(p))

    root = brentq(rest, 1e-9, max(one.most_pressure, two.most_pressure), xtol=1e-12)
    assert reach.pressure_difference == pytest.approx(root, rel=1e-9)


def test_one_fan_beside_none_is_itself_and_none_is_refused():
    fan = FanCurve((0.0, 50.0), (1.0, 0.5), lowest_flow=0.2)
    p = np.linspace(0.0, 120.0, 40)
    assert side_by_side(fan).flow(p) == pytest.approx(fan.flow(p))
    assert side_by_side(fan, fan).flow(p) == pytest.approx(2 * fan.flow(p))
    with pytest.raises(InputError, match="No fan"):
        side_by_side()


def test_the_smallest_ring_that_reaches_50_pa_is_first():
    assert choose(300, 700).first.fan.name == "F, ring A"
    assert choose(100, 250).first.fan.name == "F, ring B"
    assert choose(900, 1800).first.fan.name == "F"
    assert choose(900, 1800).second is None


def test_a_wide_range_needs_a_second_ring():
    found = choose(300, 1800)
    assert (found.first.fan.name, found.second.fan.name) == ("F", "F, ring A")
    assert "Below 700 m³/h it is not steady: change to F, ring A." in found.sentence()
    assert not found.warnings


def test_a_flow_no_ring_holds_is_said():
    found = choose(20, 100)
    assert found.second is None and "no ring holds the flow steady" in found.sentence()


def test_two_fans_where_one_is_too_small():
    found = choose(1500, 3600)
    assert found.count == 2 and found.together.answer == "yes"
    assert "needs 2 of them side by side; they reach 50 Pa" in found.sentence()
    one = choose(1500, 3600, most=1)
    assert one.count == 1 and one.together is None
    third = choose(1500, 9000)
    assert third.count == 2 and third.together.answer != "yes"


def test_load():
    """3000 m³/h at 50 Pa: 42 W into the air, 140 W from the socket at 30 %; arithmetic of Q p."""
    strong = FanCurve((0.0, 50.0, 80.0), tuple(m3_per_h(q) for q in (5000, 4000, 0)))
    found = fan_set((strong,), Expected(1000, 3000))
    assert found.air_power == pytest.approx(41.7, abs=0.1)
    assert found.electric_power == pytest.approx(139, abs=0.5)
    assert caution("electric").text in found.sentence()
    weak = fan_set((strong,), Expected(1000, 3000), supply=100.0)
    assert "The supply gives 100 W; that is too little" in weak.sentence()


def test_the_plan_carries_rings_and_places(house):
    house.settings["fan"] = FAN
    plan = make_plan(house)
    assert plan.fan is plan.fans.first
    assert len(plan.fans.choices) == 3
    places = {place.name: place for place in plan.places}
    assert list(places) == ["front door"]  # the drain is none
    assert not places["front door"].fits and "way out stays free" in places["front door"].sentence()
    house.settings["hazards"]["lead"] = "don't know"
    assert make_plan(house).fans is None and make_plan(house).places == ()


def test_doors_before_windows_and_what_is_too_wide(house):
    def opening(name, kind, area, **more):
        from airlab.leak_check import Opening

        return Opening(name, kind, "Parlour", "closed", free_area=area, **more)

    found = fan_places([
        opening("window", "window", 1.4), opening("terrace door", "door", 3.8),
        opening("skylight", "window", 0.2), opening("back door", "door", 1.9),
    ])  # fmt: skip
    assert [(p.name, p.fits) for p in found] == [
        ("back door", True), ("window", True), ("terrace door", False), ("skylight", False)]  # fmt: skip
    assert "needs a board" in found[1].sentence()
    shed = opening("shed door", "door", 1.9)
    assert fan_places([shed], [type("R", (), {"name": "Parlour", "included": False})()]) == ()


@settings(max_examples=40, deadline=None)
@given(st.floats(30, 3000), st.floats(1.0, 5.0))
def test_the_first_ring_reaches_as_far_as_any(low, factor):
    found = choose(low, low * factor)
    best = max(float(one.at_high.pressure_difference) for one in found.choices)
    assert found.first.answer == "yes" or float(found.first.at_high.pressure_difference) == best
    if found.second:
        assert found.second.steady and found.second.at_low.reaches_50


@pytest.mark.parametrize(
    ("fan", "says"),
    [
        ({"name": "F", "points": [[0, "many"], [50, 1]]}, "F: points are not pairs"),
        ({"name": "F", "points": [[0, 100], [50, 200]]}, "moves less air"),
        ({"name": "F", "ranges": [{"points": [[0, 100]]}]}, "two points or more"),
        ({"name": "F", "points": [[0, 100], [50, 50]], "lowest_m3_per_h": -1}, "Lowest flow"),
    ],
)
def test_refused(fan, says):
    with pytest.raises(InputError, match=says):
        fan_ranges(fan)


def test_a_reading_below_the_range_of_its_ring_is_said(house):
    low = Reading("3", 50.0, m3_per_h(150), "depressurise", aperture="ring A")
    assert "Reading 3: the flow is below" in below_range(low, fan_ranges(FAN))
    assert below_range(replace(low, aperture="Ring B"), fan_ranges(FAN)) == ""
    assert below_range(replace(low, aperture=""), fan_ranges(FAN))  # the fan without a ring: 700
    assert below_range(low, ()) == ""
    house.settings["fan"], house.readings = FAN, (low,)
    assert any("F, ring A holds steady" in text for text in make_plan(house).warnings)


def test_more_that_is_refused():
    assert fan_ranges(None) == ()
    with pytest.raises(InputError, match="No fan is entered"):
        fan_set((), Expected(1, 2))
    with pytest.raises(InputError, match=r"write 0\.3"):
        choose(300, 700, efficiency=30)
    with pytest.raises(InputError, match="Supply is 0"):
        choose(300, 700, supply=0)
    assert from_si(choose(300, 700).first.at_high.flow_needed, "m3/h") == pytest.approx(700)
