"""The release: per area whatever the probability; the number for the house."""

import re
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from airlab.building import Junction
from airlab.leak_check import (
    VERDICTS,
    Hole,
    LeakEvent,
    Log,
    Opening,
    Reading,
    Trade,
    decide,
    probability_final,
    release,
)
from airlab.words import InputError, from_si, m3_per_h

DONE = "complete and visible"


def reading(flow, pressure=50.0, **more):
    given = {"direction": "depressurise", "zero_before": 0.0, "zero_after": 0.0} | more
    return (Reading("1", pressure, m3_per_h(flow), **given),)


def verdicts(found):
    return {one.area: one.verdict for one in found.areas}


def with_status(house, number, status):
    row = replace(house.envelope[number], status=status)
    return (*house.envelope[:number], row, *house.envelope[number + 1 :])


# Known answers.


def test_a_clean_house_far_below_the_limit(house):
    found = decide(house, openings=house.openings[:1])
    # today 300, limit 450 m3/h: P = Phi(ln(450/300) / sqrt(0.1^2 + 2 0.03^2))
    assert found.probability == pytest.approx(probability_final(300.0, 450.0, 1.0, 0.10))
    assert found.verdict == "GO"
    assert set(found.supported) == {area.area for area in house.envelope[:5]}
    text = found.sentence()
    assert text.startswith("GO: evidence supports covering: areas parlour floor, ")
    assert (
        "The limit (contract) is 450 m³/h at 50 Pa, with the final 300 m³ of air and 280 m² of envelope"
        in text
    )
    assert "A person decides and signs" in text
    assert "not a certificate" in text


def test_the_published_miss_would_have_been_not_yet(house, trade):
    # Vancouver account of 2022 (read): 3.2 against 3.5 per hour at 50 Pa in the middle, 3.9 at the
    # end. Services were to come: drift 1.10, spread 0.20, and no list of holes.
    house.settings["limit"] = {"metric": "n50", "value": 3.5}
    come = Trade("services", holes_expected=1, hole_diameter=0.001, share_left_open=0.0)
    found = decide(house, readings=reading(3.2 * 300), trades=(come,))
    assert found.probability == pytest.approx(0.49, abs=0.005)
    assert found.verdict == "NOT YET"
    assert "less than the 90 % wanted" in found.sentence()


def test_conditions(house, trade):
    found = decide(house, trades=(trade,), readings=reading(200))
    assert found.verdict == "GO WITH CONDITIONS"
    text = " ".join(found.conditions)
    assert "electrician" in text
    assert "Take off 1 seal " in text
    log = Log().found(1, area="attic wall").accept(1, "2 mm, behind the post")
    assert "behind the post" in " ".join(decide(house, leaks=log).conditions)


def test_both_directions_are_averaged(house):
    push = Reading("2", 50.0, m3_per_h(340), "pressurise", stage="first reading", zero_before=0.0)
    both = (*reading(300, stage="first reading"), push)
    found = decide(house, readings=both)
    assert from_si(found.number.house.flow_50, "m3/h") == pytest.approx(320)


def test_holes_seals_and_register_come_on_top_of_the_drift(house, trade):
    seal = replace(house.openings[1], hides_leak=True, free_area=50e-4)
    hole = Hole("h1", diameter=0.05, area="attic wall")
    found = decide(house, openings=(seal,), trades=(trade,), holes=(hole,)).number
    # 50 mm passes 39.29 m3/h, 50 cm2 100 m3/h at 50 Pa (derived, Cd 0.61 against our 0.6110)
    assert from_si(found.holes[0].flow, "m3/h") == pytest.approx(20 * 0.1 * 39.29, rel=5e-3)
    assert from_si(found.hidden_flow, "m3/h") == pytest.approx(0.1 * 100, rel=5e-3)
    assert from_si(found.register_flow, "m3/h") == pytest.approx(39.29, rel=5e-3)
    assert found.headroom == pytest.approx(found.pass_flow - found.house.flow_50)


def test_a_hole_made_before_the_reading_is_in_it_already(house):
    at = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
    hole = Hole("h1", diameter=0.05, area="attic wall", made_on=date(2026, 3, 1))
    before = decide(house, readings=reading(300, at=at), holes=(hole,))
    assert before.number.register_flow == 0.0
    after = decide(house, readings=reading(300, at=at),
                   holes=(replace(hole, made_on=date(2026, 3, 9)),))  # fmt: skip
    assert after.number.register_flow > 0.0


# No number.


def test_incomplete_layer_search_only(house):
    found = decide(house, envelope=with_status(house, 1, "not started"))
    assert found.verdict == "NO NUMBER"
    assert found.probability is None
    assert "Search only, no number" in found.sentence()
    assert verdicts(found)["parlour wall"] == "NOT YET"
    assert verdicts(found)["attic roof"] == "NO NUMBER"
    assert found.supported == ()


def test_without_a_reading(house):
    found = decide(house, readings=())
    assert found.verdict == "NO NUMBER"
    assert "No reading yet" in found.sentence()


def test_a_reading_under_10_pa_is_no_number(house):
    found = decide(house, readings=reading(300, pressure=9.0))
    assert found.verdict == "NO NUMBER"
    assert "under 10 Pa" in found.sentence()


def test_reading_at_38_pa_widens_the_spread(house):
    full, weak = decide(house, readings=reading(300)), decide(
        house, readings=reading(300 * (38 / 50) ** 0.65, pressure=38.0))  # fmt: skip
    assert weak.number.house.flow_50 == pytest.approx(full.number.house.flow_50)
    assert weak.number.spread > full.number.spread


# What holds an area back, whatever the probability.


@pytest.mark.parametrize(
    ("parts", "held", "says"),
    [
        ({"leaks": Log().found(1, area="attic wall")}, {"attic wall"}, "Leak 1.*open"),
        ({"leaks": Log().found(1, room="Attic room")}, {"attic wall", "attic roof"}, "open"),
        ({"leaks": Log().found(1, area="attic wall").sealed(1, "tape")}, {"attic wall"}, "awaiting"),
        ({"leaks": Log().found(1, area="attic wall").unreachable(1)}, {"attic wall"}, "unreachable"),
        ({"leaks": Log().found(1)}, "all", "names no area"),
        ({"junctions": (Junction("eaves", "wall", "roof"),)}, {"attic wall", "attic roof"}, "eaves"),
        ({"openings": (Opening("waste", "drain", "Parlour", "sealed", hides_leak=True),)},
         {"parlour floor"}, "hides its leak"),
        ({"openings": (Opening("hood", "duct", "Parlour", "sealed", "mid", hides_leak=True),)},
         {"parlour wall"}, "hides its leak"),
        ({"openings": (Opening("hood", "duct", "Parlour", "sealed", hides_leak=True),)},
         {"parlour floor", "parlour wall", "parlour window"}, "hides its leak"),
        ({"holes": (Hole("h1", area="attic roof"),)}, {"attic roof"}, "open: it ends the release"),
        ({"holes": (Hole("h1", area="attic roof", sealed_with="tape"),)}, {"attic roof"},
         "not looked at"),
    ],
)  # fmt: skip
def test_what_holds_an_area_back(house, parts, held, says):
    found = decide(house, **({"readings": reading(50)} | parts))
    assert found.probability > 0.99
    everything = {area.area for area in house.envelope[:5]}
    held = everything if held == "all" else held
    assert {name for name, verdict in verdicts(found).items() if verdict == "NOT YET"} == held
    reasons = " ".join(" ".join(one.reasons) for one in found.areas)
    assert re.search(says, reasons)
    assert found.verdict == ("NOT YET" if held == everything else "GO WITH CONDITIONS")


def test_what_does_not_hold_it_back(house):
    log = Log().found(1, area="attic wall").accept(1, "small")
    log = log.found(2, area="attic wall").sealed(2, "tape").rechecked(2)
    log = log.found(3, area="attic wall").intentional(3).found(4, area="attic wall").not_a_leak(4)
    hole = Hole("h1", area="attic roof", sealed_with="collar", checked=True)
    gone = replace(house.openings[1], hides_leak=True, removed=True)
    found = decide(house, leaks=log, holes=(hole,), openings=(gone,), readings=reading(50))
    assert "NOT YET" not in verdicts(found).values()


def test_covered_areas(house):
    envelope = with_status(house, 3, "covered")
    assert verdicts(decide(house, envelope=envelope))["attic wall"] == "ALREADY COVERED"
    found = decide(house, envelope=envelope, leaks=Log().found(1, area="attic wall"))
    assert verdicts(found)["attic wall"] == "NOT YET"
    assert "covered already" in found.areas[3].sentence()
    rows = tuple(replace(area, status="covered") for area in house.envelope)
    assert "nothing is left to release" in decide(house, envelope=rows).sentence()


def test_open_laps_hold_their_area_and_the_house_gets_a_number(house):
    found = decide(house, envelope=with_status(house, 4, "open laps"), readings=reading(200))
    assert found.probability is not None
    assert [a for a, v in verdicts(found).items() if v == "NOT YET"] == ["attic roof"]


@pytest.mark.parametrize("key", ["combustion", "asbestos", "lead", "film"])
@pytest.mark.parametrize("answer", ["not safe", "don't know"])
def test_no_go_with_a_hazard(house, key, answer):
    house.settings["hazards"][key] = answer
    found = decide(house, readings=reading(50))
    assert found.verdict == "NOT YET"
    assert found.supported == ()
    assert not found.sentence().startswith("GO")


# One row changes the decision.


def test_one_row_changes_the_decision(house, trade):
    # 380 of 450 m3/h: sure enough with nothing to come
    before = decide(house, readings=reading(380))
    assert before.verdict in ("GO", "GO WITH CONDITIONS")
    status = decide(house, readings=reading(380), envelope=with_status(house, 0, "open laps"))
    seal = decide(house, readings=reading(380), openings=(
        replace(house.openings[1], hides_leak=True, free_area=200e-4),))  # fmt: skip
    trades = decide(house, readings=reading(380), trades=(trade,))
    for after in (status, seal, trades):
        assert after.probability < before.probability
        assert after.supported != before.supported
    assert trades.verdict == "NOT YET"


# Assumptions.


def test_three_assumptions_that_move_it_most(house, trade):
    found = decide(house, readings=reading(330), trades=(trade,))
    assert len(found.moved) == 3
    keys = [one.assumption.key for one in found.moved]
    assert {"drift_services", "drift_services_spread"} <= set(keys)
    swings = [max(abs(one.at_low - found.probability), abs(one.at_high - found.probability))
              for one in found.moved]  # fmt: skip
    assert swings == sorted(swings, reverse=True)
    drift = next(one for one in found.moved if one.assumption.key == "drift_services")
    assert drift.at_low > found.probability > drift.at_high
    assert "ours, change it" in drift.sentence()


def test_own_assumptions_are_used(house):
    before = decide(house, readings=reading(380))
    house.settings["assumptions"] = {"drift_nothing_to_come": 1.2}
    after = decide(house, readings=reading(380))
    assert after.probability < before.probability
    assert after.number.state.drift_median == 1.2


def test_final_volume_and_area(house):
    house.settings["assumptions"] = {"final_volume_ratio": 0.95, "final_area_ratio": 0.98}
    number = decide(house).number
    assert number.final_volume == pytest.approx(285)
    assert number.final_area == pytest.approx(0.98 * 280)
    assert from_si(number.limit_flow, "m3/h") == pytest.approx(1.5 * 285)


# Invariants.


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    flow=st.floats(20, 900),
    pressure=st.floats(12, 70),
    statuses=st.lists(st.sampled_from(["not started", "open laps", DONE, "covered"]), min_size=5, max_size=5),
    acts=st.lists(st.tuples(st.integers(1, 4), st.sampled_from(["found", "sealed", "rechecked", "not a leak"]),
                            st.integers(0, 4)), max_size=8),
)  # fmt: skip
def test_no_area_with_an_open_row_is_ever_released(house, flow, pressure, statuses, acts):
    envelope = tuple(replace(area, status=status) for area, status in zip(house.envelope, statuses))
    log = Log(tuple(
        LeakEvent(leak, did, area=envelope[area].area, material="tape") for leak, did, area in acts
    ))  # fmt: skip
    found = decide(house, envelope=envelope, leaks=log, readings=reading(flow, pressure))
    assert found.verdict in VERDICTS
    open_areas = {leak.area for leak in log.blocking}
    open_areas |= {a.area for a in envelope if a.status in ("open laps", "not started")}
    assert not open_areas & set(found.supported)
    if found.supported:
        assert found.probability >= found.confidence
    if "not started" in statuses:
        assert found.verdict == "NO NUMBER"
    assert found.sentence()
    assert found.sentence("us")


# Refused.


def test_refused(house):
    with pytest.raises(InputError, match="no areas"):
        decide(house, envelope=())
    house.settings["confidence"] = 90
    with pytest.raises(InputError, match=r"write 0\.9"):
        decide(house)
    with pytest.raises(InputError, match="no areas"):
        release((), None, {"metric": "n50", "value": 1.0})


# One direction alone where film can act as a flap.


def test_one_direction_alone_is_trusted_less_where_film_can_flap(house):
    def chance(*readings, film):
        layer = "membrane, laps taped" if film else "board"
        areas = tuple(replace(a, layer=layer, supported=True) for a in house.envelope)
        return decide(house, envelope=areas, readings=readings)

    one = replace(house.readings[0], stage="after sealing")
    other = replace(one, name="2", direction="pressurise")
    single, both = chance(one, film=True), chance(one, other, film=True)
    assert (single.number.direction_spread, both.number.direction_spread) == (0.05, 0.0)
    # spreads add as squares: 5 % on top of drift and two tests
    assert single.number.spread**2 == pytest.approx(both.number.spread**2 + 0.05**2)
    assert single.probability < both.probability
    assert "One direction alone adds 5 % of spread" in single.number.sentence()
    boards = chance(one, film=False)
    assert boards.probability == pytest.approx(both.probability)
    own = house.settings | {"assumptions": {"one_direction_spread": 0.0}}
    film = tuple(replace(a, layer="film", supported=True) for a in house.envelope)
    assert decide(house, envelope=film, readings=(one,), settings=own).probability == pytest.approx(
        both.probability
    )
