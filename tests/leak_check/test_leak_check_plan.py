"""The plan: state of the layer, expected flow, fan, preparation, hazards."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from airlab.building import EnvelopeElement
from airlab.building.site import WeatherHour
from airlab.files import demo_job
from airlab.leak_check import (
    LAYER_STATES,
    Assumptions,
    Hole,
    Opening,
    Trade,
    assumptions_from,
    expected_flow,
    fan_choice,
    fan_ranges,
    hazard_verdict,
    holes_to_come,
    layer_state,
    make_plan,
    preparation,
)
from airlab.leak_check.tables import Task
from airlab.physics import FanCurve, FixedFlow
from airlab.words import InputError, from_si, hazards, litre_per_s, m3_per_h

DONE = "complete and visible"
SAFE = {one.key: "safe" for one in hazards()}


def areas(*statuses, later=False):
    return tuple(
        EnvelopeElement(f"a{i}", "wall", "wall", "Hall", 50.0, "board", status, later)
        for i, status in enumerate(statuses)
    )


# State of the layer: the five states of the rule, and the drift that goes with each.


@pytest.mark.parametrize(
    ("house", "trades", "state", "drift"),
    [
        (areas(DONE, "not started"), (), "layer incomplete", (None, None)),
        (areas(DONE, "open laps"), (), "laps open", (1.00, 0.20)),
        (areas(DONE, "covered", later=True), (), "complete, later layers add tightness", (0.85, 0.10)),
        (areas(DONE, "covered"), (), "complete, nothing to come", (1.00, 0.10)),
        (areas(DONE), (Trade("electrician", holes_expected=3),), "complete, services to come",
         (1.10, 0.20)),
        (areas(DONE, later=True), (Trade("electrician", holes_expected=3),),
         "complete, services to come", (1.10, 0.20)),
        (areas("open laps"), (Trade("electrician", holes_expected=3),), "laps open", (1.10, 0.20)),
    ],
)  # fmt: skip
def test_states(house, trades, state, drift):
    found = layer_state(house, trades)
    assert found.state == state
    assert state in LAYER_STATES
    assert (found.drift_median, found.drift_spread) == drift
    assert found.number_counts == (drift[0] is not None)


def test_incomplete_means_search_only():
    assert "Search only, no number" in layer_state(areas("not started")).sentence()


def test_a_small_later_layer_does_not_count():
    house = (*areas(DONE, DONE), *areas(DONE, later=True))
    assert layer_state(house).state == "complete, nothing to come"


def test_drift_is_the_persons_own():
    own = Assumptions().changed(drift_services=1.3)
    assert layer_state(areas(DONE), (Trade("x", holes_expected=1),), own).drift_median == 1.3


# Expected flow.


def test_complete_house_target_times_bad_day():
    found = expected_flow(m3_per_h(300), areas(DONE, DONE))
    assert from_si(found.low, "m3/h") == pytest.approx(300)
    assert from_si(found.high, "m3/h") == pytest.approx(900)
    assert [line.kind for line in found.lines] == ["area", "area"]


def test_open_laps_and_missing_layers_add_by_area():
    found = expected_flow(m3_per_h(300), areas(DONE, "open laps"))
    assert from_si(found.low, "m3/h") == pytest.approx(300 + 50 * 0.5)
    assert from_si(found.high, "m3/h") == pytest.approx(900 + 50 * 5)
    found = expected_flow(m3_per_h(300), areas(DONE, "not started"))
    assert from_si(found.high, "m3/h") == pytest.approx(900 + 50 * 50)
    assert found.pass_flow is None
    assert found.final_low is None


def test_holes_of_a_trade_from_their_diameter():
    # A 20 mm sharp hole passes 6.29 m3/h at 50 Pa (derived, Cd 0.61 against our 0.6110), 10 mm 1.57,
    # 68 mm 72.68, 125 mm 245.59
    for diameter, flow in ((0.010, 1.57), (0.020, 6.29), (0.068, 72.68), (0.125, 245.59)):
        one = holes_to_come(
            [Trade("x", holes_expected=1, hole_diameter=diameter, share_left_open=1.0)]
        )
        assert from_si(one[0].flow, "m3/h") == pytest.approx(flow, rel=5e-3)
    (some,) = holes_to_come(
        [Trade("x", holes_expected=10, hole_diameter=0.02, share_left_open=0.5)]
    )
    assert from_si(some.flow, "m3/h") == pytest.approx(5 * 6.29, rel=5e-3)
    assert some.keys == ()
    (ours,) = holes_to_come([Trade("x", holes_expected=10)])
    assert ours.keys == ("left_open_unbriefed", "hole_diameter")


def test_registered_holes_are_taken_off_the_trade():
    trade = Trade("Electrician", holes_expected=3)
    made = (Hole("h1", trade="electrician "), Hole("h2", trade="plumber"))
    assert holes_to_come([trade], made)[0].count == 2
    assert holes_to_come([replace(trade, holes_expected=1)], made) == ()


def test_seals_that_hide_more_than_the_house_leaks_are_said():
    seal = Opening("window", "window", "Hall", "sealed", hides_leak=True, free_area=2.0)
    found = expected_flow(m3_per_h(300), areas(DONE), (seal,))
    assert found.low > 0
    assert "enter the gap that stays" in found.sentence()


def test_openings_left_open_add():
    vent = Opening("vent", "vent", "Hall", "open", free_area=50e-4)
    found = expected_flow(m3_per_h(300), areas(DONE), (vent,))
    # 50 cm2 passes 100 m3/h at 50 Pa (derived, 2.0 m3/h for each cm2)
    assert from_si(found.low, "m3/h") == pytest.approx(400, abs=1)
    as_found = expected_flow(m3_per_h(300), areas(DONE), (replace(vent, required="as found"),))
    assert from_si(as_found.low, "m3/h") == pytest.approx(300)
    assert from_si(as_found.high, "m3/h") == pytest.approx(1000, abs=1)


def test_reading_against_the_range():
    found = expected_flow(m3_per_h(300), areas(DONE))
    assert [found.compare(m3_per_h(q)) for q in (200, 500, 1000)] == ["below", "inside", "above"]


@settings(max_examples=50, deadline=None)
@given(st.lists(st.sampled_from(["not started", "open laps", DONE, "covered"]), min_size=1, max_size=8),
       st.floats(50, 3000), st.floats(0.0, 300e-4), st.integers(0, 30))  # fmt: skip
def test_range_is_a_range_and_worse_status_never_lowers_it(statuses, target, seal, holes):
    opening = Opening("o", "duct", "Hall", "sealed", hides_leak=True, free_area=seal)
    trade = Trade("t", holes_expected=holes)
    found = expected_flow(m3_per_h(target), areas(*statuses), (opening,), (trade,))
    assert 0.0 < found.low <= found.high
    worse = expected_flow(
        m3_per_h(target), areas("not started", *statuses[1:]), (opening,), (trade,)
    )
    assert worse.high >= found.high - 1e-12
    if found.pass_flow is not None:
        assert found.pass_flow >= 0.0
        assert found.final_low <= found.final_high


# Fan.


def test_pressure_reached_by_a_small_fan():
    # Derived: p = 50 (Q/Q50)^(1/n); n50 0.6, 353.5 m3, n 0.65: 20, 40, 60, 100 L/s give 9.5,
    # 27.6, 51.4, 113 Pa
    expected = expected_flow(m3_per_h(0.6 * 353.5), areas(DONE))
    for flow, pressure in ((20, 9.5), (40, 27.6), (60, 51.4), (100, 113)):
        choice = fan_choice(FixedFlow(litre_per_s(flow)), expected)
        assert choice.at_low.pressure_difference == pytest.approx(pressure, rel=5e-3)


def test_crossing_against_brentq():
    fan = FanCurve.from_points(
        [(0.0, m3_per_h(1500)), (60.0, m3_per_h(600)), (90.0, m3_per_h(100))]
    )
    expected = expected_flow(m3_per_h(400), areas(DONE))
    choice = fan_choice(fan, expected)
    for reach, flow in ((choice.at_low, expected.low), (choice.at_high, expected.high)):
        crossing = brentq(lambda p, q=flow: fan.flow(p) - q * (p / 50) ** 0.65, 1e-6, 100)
        assert reach.pressure_difference == pytest.approx(crossing, rel=1e-6)
    assert choice.answer == "perhaps"
    assert choice.short == pytest.approx(expected.high - fan.flow(50.0))


def test_advice_keeps_its_order():
    fault = Opening("bath window", "window", "Bath", "closed", found="ajar")
    expected = expected_flow(m3_per_h(1000), areas(DONE))
    choice = fan_choice(FixedFlow(m3_per_h(500)), expected, faults=preparation((fault,)).faults)
    assert choice.answer == "no"
    for line, word in zip(choice.advice(), ("preparation", "reached", "big hole", "more fan")):
        assert word in line
    assert [line[0] for line in choice.advice()] == ["1", "2", "3", "4"]
    assert "bath window (ajar)" in choice.advice()[0]
    low, high = choice.extrapolation_error
    assert low < 0 < high
    assert "reaches" in choice.sentence()


def test_a_strong_fan_has_nothing_to_explain():
    choice = fan_choice(FixedFlow(1.0), expected_flow(m3_per_h(300), areas(DONE)))
    assert choice.answer == "yes"
    assert choice.short == 0.0


def test_fan_of_the_settings():
    (fan,) = fan_ranges({"name": "blue", "points": [[0, 2000], [60, 900]]})
    assert from_si(fan.flow(60.0), "m3/h") == pytest.approx(900)
    assert fan_ranges(None) == fan_ranges({"name": "x", "points": []}) == ()
    with pytest.raises(InputError, match="pressure in Pa"):
        fan_ranges({"points": [["a", "b"]]})


# Preparation.


def test_seals_are_counted_and_what_they_hide():
    ready = preparation((
        Opening("duct", "duct", "Bath", "sealed", free_area=100e-4, removed=True),
        Opening("sleeve", "duct", "Hall", "sealed", free_area=50e-4, hides_leak=True),
        Opening("window", "window", "Hall", "closed", found="ajar", free_area=30e-4),
        Opening("drain", "drain", "Bath", "as found"),
        Opening("stove", "appliance", "Hall", "closed"),
    ))  # fmt: skip
    assert (ready.seals, ready.removed, ready.counts_match) == (2, 1, False)
    assert [line.opening.name for line in ready.faults] == ["window"]
    assert [line.opening.name for line in ready.hiding] == ["sleeve"]
    assert from_si(ready.hidden_flow, "m3/h") == pytest.approx(100.4, abs=0.1)
    assert from_si(ready.excluded_flow, "m3/h") == pytest.approx(200.8, abs=0.1)
    text = ready.sentence()
    assert "preparation, not gain" in text
    assert "trap" in ready.lines[3].sentence()
    assert "competent person restarts" in ready.lines[4].sentence()
    assert any("comes off again" in warning for warning in ready.warnings)


def test_a_hidden_leak_without_size_is_said():
    ready = preparation((Opening("door gap", "door", "Hall", "sealed", hides_leak=True),))
    assert "unknown size" in " ".join(ready.warnings)


# Hazards: safe, not safe, don't know.


@pytest.mark.parametrize("answer", ["not safe", "don't know"])
@pytest.mark.parametrize("key", ["combustion", "asbestos", "lead", "film"])
def test_four_hazards_stop_the_fan(house, key, answer):
    house.settings["hazards"][key] = answer
    plan = make_plan(house)
    assert not plan.hazards.fan_may_run
    assert plan.expected is None
    assert plan.fan is None
    assert not plan.route.fan_runs
    assert all(stop.pressure is None for stop in plan.route.stops)
    assert plan.hazards.sentence().startswith("No fan, no flow, no go.")
    assert answer in plan.sentence()


@pytest.mark.parametrize("key", ["radon", "falls", "smoke", "people"])
def test_other_hazards_are_asked_and_do_not_stop_it(house, key):
    house.settings["hazards"][key] = "don't know"
    plan = make_plan(house)
    assert plan.hazards.fan_may_run
    assert [one.key for one in plan.hazards.open_questions] == [key]


def test_nothing_answered_is_dont_know():
    assert not hazard_verdict({}).fan_may_run
    assert len(hazard_verdict({}).stops) == 4


def test_loose_film_is_not_safe_whatever_the_answer():
    film = EnvelopeElement("north", "wall", "wall", "Hall", 50.0, "polythene film", DONE)
    assert not hazard_verdict(SAFE, (film,)).fan_may_run
    assert "north" in hazard_verdict(SAFE, (film,)).sentence()
    assert hazard_verdict(SAFE, (replace(film, supported=True),)).fan_may_run
    assert hazard_verdict(SAFE, (replace(film, status="not started"),)).fan_may_run


def test_combustion_says_what_to_do():
    text = hazard_verdict(SAFE | {"combustion": "don't know"}).sentence()
    for word in ("off", "isolated", "cold", "no pilot", "competent person"):
        assert word in text


def test_an_unknown_answer_is_refused():
    with pytest.raises(InputError, match="Choose one of"):
        hazard_verdict({"lead": "probably"})


# The plan as a whole.


def test_plan_of_a_house(house):
    plan = make_plan(house)
    # n50 1.0 and 1.5 of 300 m3 (definition of n50, TightVent FAQ, read)
    assert from_si(plan.target_flow, "m3/h") == pytest.approx(300)
    assert from_si(plan.limit_flow, "m3/h") == pytest.approx(450)
    assert from_si(plan.expected.low, "m3/h") == pytest.approx(300)
    # complete, nothing to come: pass mark 0.87 at 90 % (derived table, two decimals)
    assert from_si(plan.expected.pass_flow, "m3/h") == pytest.approx(450 * 0.87, abs=450 * 0.005)
    assert plan.fan.answer == "yes"
    assert "shed wall" not in [area.area for area in plan.areas]
    assert "cfm" in plan.sentence("us")
    assert "m³/h" in plan.sentence()


def test_final_sizes_are_used_for_the_limit(house):
    house.settings["assumptions"] = {"final_volume_ratio": 0.95}
    plan = make_plan(house)
    assert plan.final.internal_volume == pytest.approx(285)
    assert from_si(plan.limit_flow, "m3/h") == pytest.approx(1.5 * 285)


def test_one_row_changes_the_flow_range_and_the_route(house, trade):
    before = make_plan(house)

    def other(**parts):
        plan = make_plan(house, **parts)
        ranges = [
            (p.expected.low, p.expected.high, p.expected.final_high, p.expected.pass_flow)
            for p in (before, plan)
        ]
        routes = [[stop.sentence() for stop in p.route.stops] for p in (before, plan)]
        assert ranges[0] != ranges[1]
        assert routes[0] != routes[1]
        return plan

    for status in ("open laps", "not started"):
        row = replace(house.envelope[4], status=status)
        plan = other(envelope=(*house.envelope[:4], row, *house.envelope[5:]))
        assert plan.expected.high > before.expected.high
    row = replace(house.openings[1], hides_leak=True)
    plan = other(openings=(house.openings[0], row))
    assert plan.expected.low < before.expected.low
    plan = other(trades=(trade,))
    assert plan.expected.pass_flow < before.expected.pass_flow


def test_two_jobs_two_plans(house):
    small = replace(house.rooms[0], length=6.0)
    assert (
        make_plan(house, rooms=(small, *house.rooms[1:])).target_flow < make_plan(house).target_flow
    )


def test_rough_start_says_so():
    settings_ = {
        "target": {"metric": "n50", "value": 1.0},
        "rough": {"floor_area_m2": 140.0, "mean_height_m": 2.5},
        "hazards": SAFE,
    }
    plan = make_plan(settings=settings_)
    assert plan.rough is not None
    assert plan.sentence().startswith("ROUGH")
    assert from_si(plan.target_flow, "m3/h") == pytest.approx(350)
    assert from_si(plan.expected.high, "m3/h") == pytest.approx(1050)


def test_assumptions_are_checked():
    own = assumptions_from(
        {"assumptions": {"bad_day_high": 5, "someone_elses": 3}, "flow_exponent": 0.7}
    )
    assert own["bad_day_high"] == 5
    assert own["flow_exponent"] == 0.7
    assert own.entry("bad_day_high").changed
    assert "yours" in own.entry("bad_day_high").sentence()
    assert "ours" in own.entry("bad_day_low").sentence()


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: make_plan(), "No rooms are entered"),
        (lambda: make_plan(ceilings=()), "no part ceilings"),
        (lambda: layer_state(()), "no areas"),
        (lambda: assumptions_from({"assumptions": {"bad_day_low": 9}}), "must not be above"),
        (lambda: assumptions_from({"assumptions": {"test_uncertainty": 3}}), "takes 0 to 0.5"),
        (lambda: assumptions_from({"assumptions": {"drift_services": "much"}}), "number is needed"),
        (lambda: Assumptions()["luck"], "Known"),
        (lambda: expected_flow(0.0, areas(DONE)), "above zero"),
        (lambda: expected_flow(1.0, ()), "no areas"),
    ],
)
def test_refused(call, says):
    with pytest.raises(InputError, match=says):
        call()


def test_no_target_is_refused(house):
    house.settings["target"] = house.settings["limit"] = None
    with pytest.raises(InputError, match="No target is set"):
        make_plan(house)
    house.settings["target"] = {"metric": "ach", "value": 1.0}
    with pytest.raises(InputError):
        make_plan(house)


# Dates, weather and costs come with the plan where somebody entered them.


def test_dates_weather_and_costs_come_with_the_plan(house):
    bare = make_plan(house)
    assert (bare.dates, bare.weather, bare.costs) == (None, None, None)
    house.programme = (Task("boards", "covering", starts_on=date(2027, 4, 19)),)
    house.weather = (WeatherHour(datetime(2027, 4, 12, 9, tzinfo=UTC), 5.0, 2.0),)
    house.settings |= {
        "prices": {"check": 300, "open_up": 3000, "retest": 200},
        "site": {"terrain": "open land"}, "released_by": "A. Lead",
    }  # fmt: skip
    full = make_plan(house)
    assert full.dates.latest == date(2027, 4, 15)
    assert full.dates.hold_point.released_by == "A. Lead"
    assert full.weather.hours[0].contrast == 15.0
    assert full.weather.hours[0].wind == pytest.approx(2.0 * 0.5**0.15)  # half the mast, open land
    assert {one.name for one in full.costs.choices} == {"check before it is covered", "no check"}
    house.settings["prices"] = {"check": 300}
    assert make_plan(house).costs is None


def test_the_demo_has_a_day():
    plan = make_plan(demo_job())
    assert (plan.dates.earliest, plan.dates.latest) == (date(2027, 4, 12), date(2027, 4, 15))
    assert plan.dates.before == "service battens on the walls"
    assert plan.weather.windows and plan.weather.camera_windows
