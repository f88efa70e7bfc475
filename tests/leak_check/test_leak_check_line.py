"""Closing a joint of the line moves the expected flow and the route of the same house."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import EnvelopeElement, Junction
from airlab.building.components import component
from airlab.files import demo_job
from airlab.leak_check import Assumptions, assumptions_from, expected_flow, make_plan
from airlab.words import InputError, from_si, m3_per_h, to_si

DONE = "complete and visible"
AREAS = (
    EnvelopeElement("wall", "wall", "wall", "Hall", 50.0, "board", DONE),
    EnvelopeElement("floor", "floor", "floor", "Hall", 50.0, "slab", DONE),
)
SILL = Junction("sill", "floor", "wall", length=10.0)


def flows(found):
    return from_si(found.low, "m3/h"), from_si(found.high, "m3/h")


# Known answers: 10 m of open joint at 5 and 31 m3/(h.m) are 50 and 310 m3/h. The high figure is the
# worst of 13 joints measured at windows at 50 Pa [VANDENBOSSCHE_2012], the low one is ours.


def test_an_open_joint_adds_its_length():
    shut = expected_flow(m3_per_h(300), AREAS, junctions=[replace(SILL, closed=True)])
    leaky = expected_flow(m3_per_h(300), AREAS, junctions=[SILL])
    assert flows(shut) == pytest.approx((300, 900))
    assert flows(leaky) == pytest.approx((350, 1210))
    assert [line.what for line in leaky.lines if line.kind == "joint"] == ["sill"]
    assert Assumptions().entry("open_joint_high").value == pytest.approx(31.0)


def test_an_open_joint_is_the_one_of_the_budget():
    joint, given = component("joint open"), Assumptions()
    assert given["open_joint_low"] == pytest.approx(joint.low)
    assert given["open_joint_high"] == pytest.approx(joint.high)
    entry = given.entry("open_joint_low")
    assert entry.source == joint.source and joint.status in entry.sentence()


def test_what_a_metre_adds_is_the_persons_own():
    own = assumptions_from({"assumptions": {"open_joint_low": 1.0, "open_joint_high": 30.0}})
    found = expected_flow(m3_per_h(300), AREAS, assumptions=own, junctions=[SILL])
    assert flows(found) == pytest.approx((310, 1200))
    with pytest.raises(InputError, match="Open joint low"):
        assumptions_from({"assumptions": {"open_joint_low": 40.0}})
    with pytest.raises(InputError, match="This model takes"):
        assumptions_from({"assumptions": {"open_joint_high": -1.0}})


def test_open_laps_and_the_joint_along_them_are_counted_once():
    laps = (replace(AREAS[0], status="open laps"), AREAS[1])
    base = flows(expected_flow(m3_per_h(300), laps))  # laps add 25 and 250
    assert base == pytest.approx((325, 1150))
    short = replace(SILL, length=5.0)  # 25 and 155: no more than the laps
    assert flows(expected_flow(m3_per_h(300), laps, junctions=[short])) == pytest.approx(base)
    assert flows(expected_flow(m3_per_h(300), laps, junctions=[SILL])) == pytest.approx((350, 1210))
    long = replace(SILL, length=100.0)  # 500 and 3100: more than the laps alone
    assert flows(expected_flow(m3_per_h(300), laps, junctions=[long])) == pytest.approx((800, 4000))
    both = expected_flow(m3_per_h(300), laps, junctions=[long, replace(long, junction="again")])
    assert flows(both) == pytest.approx((1300, 7100)), "what laps add is taken off once"


def test_a_joint_without_length_or_elsewhere():
    found = expected_flow(m3_per_h(300), AREAS, junctions=[replace(SILL, length=None)])
    assert flows(found) == pytest.approx((300, 900))
    assert "Junction sill is open and has no length" in found.sentence()
    away = Junction("shed", "shed wall", "shed floor", length=10.0)
    assert flows(expected_flow(m3_per_h(300), AREAS, junctions=[away])) == pytest.approx((300, 900))


@given(st.lists(st.floats(0.0, 500.0), min_size=1, max_size=8), st.integers(0, 7))
@settings(max_examples=50, deadline=None)
def test_closing_a_joint_never_adds(lengths, which):
    joints = [Junction(f"j{i}", "wall", "floor", length=long) for i, long in enumerate(lengths)]
    before = expected_flow(m3_per_h(300), AREAS, junctions=joints)
    which %= len(joints)
    joints[which] = replace(joints[which], closed=True)
    after = expected_flow(m3_per_h(300), AREAS, junctions=joints)
    for end, each in (("low", 5.0), ("high", 31.0)):
        gone = getattr(before, end) - getattr(after, end)
        assert gone == pytest.approx(to_si(each * lengths[which], "m3/(h.m)"), abs=1e-9)


def test_closing_the_demo_lift_moves_flow_and_route():
    job = demo_job()
    closed = tuple(replace(joint, closed=True) for joint in job.junctions)
    before, after = make_plan(job), make_plan(job, junctions=closed)
    assert after.expected.low < before.expected.low
    assert after.expected.high < before.expected.high
    stops = [stop.place for stop in before.route.stops if "joint not closed yet" in stop.place]
    assert stops and all(place.startswith("floor edge north") for place in stops)
    assert not [s for s in after.route.stops if "joint not closed yet" in s.place]


def test_a_length_that_is_not_typed_comes_from_the_walls():
    job = demo_job()
    blank = tuple(replace(joint, length=None) for joint in job.junctions)
    assert make_plan(job, junctions=blank).expected.high == pytest.approx(
        make_plan(job).expected.high, rel=1e-4
    )
