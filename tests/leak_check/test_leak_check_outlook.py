"""The decision looked at before the day: same numbers as the decision itself, every area named."""

from dataclasses import replace

import pytest

from airlab.files import demo_job
from airlab.leak_check import Reading, decide, make_plan, probability_final
from airlab.leak_check.outlook import assumed_in, outlook
from airlab.words import InputError


@pytest.fixture(scope="module")
def job():
    return demo_job()


def test_both_ends_are_what_the_decision_says_of_such_a_reading(job):
    seen = outlook(job)
    for flow, chance in ((seen.low, seen.at_low), (seen.high, seen.at_high)):
        reading = Reading("r", 50.0, flow, direction="depressurise")
        assert chance == pytest.approx(
            decide(job, readings=(reading,)).number.probability, rel=1e-12
        )
    expected = make_plan(job).expected
    by_hand = probability_final(
        expected.low, make_plan(job).limit_flow, 1.10, 0.20, 0.03, 0.05,  # film, one direction
        added_flow=expected.holes_flow + expected.hidden_flow,
    )  # fmt: skip
    assert seen.at_low == pytest.approx(by_hand, rel=1e-9)


def test_reading_the_aim_gives_just_the_wanted_confidence(job):
    aim = make_plan(job).expected.pass_flow
    assert decide(job, readings=(Reading("r", 50.0, aim),)).probability == pytest.approx(0.9)


def test_held_areas_are_those_with_open_laps_open_joints_or_a_hiding_seal(job):
    held = {one.area for one in outlook(job).held}
    assert {"ceiling bathroom", "floor edge north and east"} <= held
    closed = tuple(
        replace(area, status="complete and visible") if area.status == "open laps" else area
        for area in job.envelope
    )
    joints = tuple(replace(one, closed=True) for one in job.junctions)
    openings = tuple(replace(one, hides_leak=False) for one in job.openings)
    free = outlook(job, envelope=closed, junctions=joints, openings=openings)
    assert free.held == ()
    assert free.sentence().endswith("No area is held back.")
    assert free.high < outlook(job).high and free.at_high > outlook(job).at_high


def test_a_hazard_leaves_no_number_and_holds_every_area_not_covered_yet(job):
    settings = job.settings | {"hazards": {**job.hazards, "lead": "don't know"}}
    seen = outlook(job, settings=settings)
    assert (seen.low, seen.at_low, seen.at_high) == (None, None, None)
    assert seen.sentence().startswith("A hazard stops the fan")
    assert len(seen.held) >= sum(area.status != "covered" for area in job.envelope)


def test_an_area_without_its_layer_means_search_only(job):
    bare = (replace(job.envelope[0], status="not started"), *job.envelope[1:])
    seen = outlook(job, envelope=bare)
    assert seen.at_low is None and seen.high > outlook(job).high
    assert "Search only, no number." in seen.sentence()


def test_without_areas_nothing_can_be_released(job):
    goal = {"metric": "n50", "value": 2.0}
    seen = outlook(job, envelope=(), settings=job.settings | {"target": goal, "limit": goal})
    assert seen.held == () and "none can be released" in seen.sentence()
    with pytest.raises(InputError, match="No rooms"):
        outlook(job, rooms=())


def test_assumptions_named_are_those_the_figures_stand_on(job):
    plan = make_plan(job)
    keys = assumed_in(plan)
    assert {"drift_services", "open_laps_high", "hidden_share"} <= set(keys)
    for key in set(keys) - {"flow_exponent", "test_uncertainty"}:
        _, high = plan.assumptions.swing(key)
        moved = make_plan(job, settings=job.settings | {"assumptions": {key: high}}).expected
        same = plan.expected
        assert (moved.low, moved.high, moved.pass_flow) != (same.low, same.high, same.pass_flow), (
            key
        )
    assert "not_started_low" not in keys
