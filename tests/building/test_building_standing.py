"""Storey sums against footprints, limits on one axis, the four questions."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import (
    EnvelopeElement,
    Geometry,
    Room,
    aim_for,
    indicators,
    limits,
    metric_value,
    own_limit,
)
from airlab.building.answers import QUESTIONS, four_answers
from airlab.building.footprint import Footprint, footprints
from airlab.building.standing import standings
from airlab.words import from_si, m3_per_h

# The worked house of 7 × 10 m, two storeys, in its sizes: 353.5 m³, 311.7 m², 131.6 m².
HOUSE = Geometry(353.5, 311.7, 131.6, lowest_floor_area=70.0, building_height=5.05)


def area(name, kind, room, size, status="complete and visible"):
    return EnvelopeElement(name, name, kind, room, size, status=status)


# footprints -------------------------------------------------------------------------------


def test_rooms_are_held_against_floor_and_ceiling():
    rooms = (
        Room("Kitchen", "ground", 4.0, 5.0, 2.5),
        Room("Hall", "ground", 2.0, 5.0, 2.5),
        Room("Shed", "ground", 3.0, 3.0, 2.0, included=False),
        Room("Landing", "first", 6.0, 5.0, 2.4, floor_area=20.0),
    )
    envelope = (
        area("floor", "floor", "Kitchen", 20.5), area("floor 2", "floor", "Hall", 11.0),
        area("shed floor", "floor", "Shed", 9.0), area("ceiling", "ceiling", "Landing", 30.0),
        area("hatch", "hatch", "Landing", 0.5),
    )  # fmt: skip
    ground, first = footprints(rooms, envelope)
    assert (ground.rooms_area, ground.footprint, ground.against) == (30.0, 31.5, "lowest floor")
    assert ground.mismatch == 1.5 and ground.fits
    assert first.rooms_area == 30.0, "a stair void is no floor but it is under the ceiling"
    assert first.footprint == 30.5


def test_a_storey_under_a_slope_or_without_envelope_is_compared_with_nothing():
    rooms = (Room("Loft", "loft", 5.0, 5.0, 2.0),)
    assert footprints(rooms, ()) == ()
    sloped = (area("slope", "roof", "Loft", 40.0), area("collar", "ceiling", "Loft", 10.0))
    assert footprints(rooms, sloped) == ()


@pytest.mark.parametrize(
    ("rooms_area", "said"),
    [(31.5, "partitions"), (25.0, "Is a room missing?"), (36.0, "A size is wrong")],
)
def test_a_mismatch_is_said_in_square_metres(rooms_area, said):
    one = Footprint("ground", rooms_area, 33.0, "lowest floor")
    assert said in one.sentence()
    assert one.fits is (said == "partitions")
    assert "ft²" in one.sentence("us") and "m²" not in one.sentence("us")


# standings --------------------------------------------------------------------------------


def test_equal_numbers_in_different_metrics_are_not_equal_targets():
    # 3 × 353.5, 3 × 311.7, 3 × 131.6 m³/h, by hand.
    mine = tuple(own_limit(key, 3.0) for key in ("n50", "qE50", "qF50"))
    found = {one.limit.metric: one.allowed_flow for one in standings(m3_per_h(900.0), mine, HOUSE)}
    assert from_si(found["n50"], "m3/h") == pytest.approx(1060.5)
    assert from_si(found["qE50"], "m3/h") == pytest.approx(935.1)
    assert from_si(found["qF50"], "m3/h") == pytest.approx(394.8)


def test_strictest_first_and_those_without_a_size_last():
    bare = Geometry(353.5)
    found = standings(m3_per_h(900.0), limits(), bare)
    known = [one.allowed_flow for one in found if one.allowed_flow is not None]
    assert known == sorted(known) and known
    lost = found[len(known) :]
    assert lost and all(one.missing for one in lost)
    assert any("envelope area" in one.missing for one in lost)


@settings(max_examples=50, deadline=None)
@given(flow=st.floats(10.0, 5000.0), n=st.floats(0.5, 1.0))
def test_a_verdict_agrees_with_the_axis(flow, n):
    for one in standings(m3_per_h(flow), limits(), HOUSE, n):
        if one.limit.sign == "<=" and abs(one.verdict.spare) > 1e-6:
            assert one.verdict.meets is (m3_per_h(flow) < one.allowed_flow)


# four questions ---------------------------------------------------------------------------


@pytest.fixture
def found():
    return indicators(m3_per_h(1000.0), HOUSE)


def test_every_question_has_an_answer_and_none_praises_a_number_alone(found):
    answers = dict(four_answers(found))
    assert tuple(answers) == QUESTIONS
    assert "Only against a limit" in answers["Is it good?"]
    assert "does not say where" in answers["Where is it?"]
    assert "No number releases an area" in answers["May I cover it?"]


def test_good_is_said_against_limit_and_aim(found):
    limit = own_limit("qE50", 5.0, "the contract")
    aim = aim_for(5.0, 0.3, 0.9, limit.unit)
    good = four_answers(found, (), limit, aim).good
    assert "the contract is 5 m³/(h·m²) of envelope at 50 Pa: inside, 36 % to spare" in good
    assert "inside the aim" in good and "ventilation" in good
    leaky = four_answers(indicators(m3_per_h(1400.0), HOUSE), (), limit, aim, "target").good
    assert "above the aim" in leaky and "pass in 64 % of cases" in leaky  # Φ(0.1073 / 0.3) = 0.640
    over = four_answers(indicators(m3_per_h(2000.0), HOUSE), (), limit).good
    assert "over by 28 %" in over
    on = four_answers(indicators(m3_per_h(5.0 * 311.7), HOUSE), (), limit).good
    assert "exactly on it" in on


def test_what_a_fix_gains_is_the_flow_of_a_sharp_hole(found):
    gain = four_answers(found).gain
    flow = from_si(found.leakage_flow, "m3/h")
    # 10 cm² pass 20.08 m³/h at 50 Pa (Cd 0.6110, density 1.2) [derived].
    assert "Sealing 10 cm² of sharp hole takes 20.1 m³/h" in gain
    sealed = indicators(m3_per_h(flow - 20.08), HOUSE)
    assert metric_value("hole50", found.leakage_flow) - metric_value(
        "hole50", sealed.leakage_flow
    ) == pytest.approx(10.0, rel=1e-3)
    assert "1 in²" in four_answers(found, units="us").gain


def test_areas_that_are_not_ready_are_named(found):
    ready = [area(f"wall {i}", "wall", "Hall", 10.0) for i in range(3)]
    assert "Every area is complete" in four_answers(found, ready).cover
    unready = [replace(one, status="open laps") for one in ready]
    unready += [area(f"roof {i}", "roof", "Hall", 10.0, "not started") for i in range(2)]
    cover = four_answers(found, unready).cover
    assert "Not yet: wall 0 (open laps), wall 1 (open laps), wall 2 (open laps) and 2 more" in cover
