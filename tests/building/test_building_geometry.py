"""Sizes of a house: known sums, shapes, counting rules, and what is refused."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import (
    COUNTING_RULES,
    NATIONAL_COUNTING,
    EnvelopeElement,
    Geometry,
    Room,
    counting_rule,
    geometry,
)
from airlab.building.terms import SOURCES
from airlab.words import InputError


def box(length=10.0, width=7.0, height=5.05, west="wall"):
    """Return rooms and envelope of a two-storey box."""
    rooms = (
        Room("Down", "ground", length, width, height / 2),
        Room("Up", "first", length, width, height / 2),
    )
    faces = (("floor", length * width, "Down"), ("roof", length * width, "Up"),
             ("wall", length * height, "Down"), ("wall", length * height, "Up"),
             ("wall", width * height, "Down"), (west, width * height, "Up"))  # fmt: skip
    envelope = tuple(
        EnvelopeElement(f"A{i}", kind, kind, room, area, status="covered")
        for i, (kind, area, room) in enumerate(faces)
    )
    return rooms, envelope


# Known answers ---------------------------------------------------------------


def test_box_of_ten_by_seven_by_five_and_a_bit():
    # A cuboid: V = abc and A = 2(ab + bc + ca), Euclid; no closer outside check is needed.
    house = geometry(*box())
    assert house.internal_volume == pytest.approx(353.5, abs=1e-9)
    assert house.envelope_area == pytest.approx(311.7, abs=1e-9)
    assert house.floor_area == pytest.approx(140.0)
    assert house.envelope_area / house.internal_volume == pytest.approx(0.8818, abs=5e-5)
    assert house.building_height == pytest.approx(5.05)
    assert [s.name for s in house.storeys] == ["ground", "first"]
    assert house.storeys[0].mean_height == pytest.approx(2.525)
    assert house.warnings == ()


@pytest.mark.parametrize(("name", "expected"), [
    # Party wall 7 × 5.05 m, lowest floor 10 × 7 m. ISO 9972: all in (from memory). France: lowest
    # floor out, read in the arrêté of 26 October 2010 art. 17. Belgium: heat-loss area
    # (second-hand).
    ("ISO 9972", 311.7), ("heat-loss area", 276.35),
    ("heat-loss area without lowest floor", 206.35), ("without lowest floor", 241.7),
])  # fmt: skip
def test_counting_rules_leave_out_party_walls_and_lowest_floor(name, expected):
    rooms, envelope = box(west="party wall")
    house = geometry(rooms, envelope, counting_rule(name))
    assert house.envelope_area == pytest.approx(expected)
    assert house.rule.name == name and house.rule.name in house.sentence()
    # The same house gives the same area for a basis, however it was counted.
    for basis in ("heat-loss area", "heat-loss area without lowest floor"):
        assert house.size(basis) == pytest.approx(geometry(rooms, envelope).size(basis))


def test_switches_find_the_named_rule():
    assert counting_rule(party=False).name == "heat-loss area"
    assert counting_rule(lowest_floor=False).name == "without lowest floor"
    assert counting_rule("heat-loss area", party=True).name == "ISO 9972"
    assert len({(rule.party, rule.lowest_floor) for rule in COUNTING_RULES}) == 4


def test_every_national_counting_names_a_rule_and_how_it_is_known():
    known = {source.key: source.status for source in SOURCES} | {"ISO9972": "from memory"}
    for one in NATIONAL_COUNTING:
        assert counting_rule(one.rule).name == one.rule
        assert known[one.source] == one.status and one.status in one.sentence()
    french = next(one for one in NATIONAL_COUNTING if one.country == "France")
    assert not counting_rule(french.rule).lowest_floor and not counting_rule(french.rule).party


def test_rooms_left_out_take_their_areas_with_them_and_say_why():
    rooms, envelope = box()
    garage = Room("Garage", "ground", 6.0, 3.0, 2.4, included=False, why="behind its own line")
    wall = EnvelopeElement("G1", "garage wall", "wall", "garage", 14.4, status="covered")
    house = geometry((*rooms, garage), (*envelope, wall))
    assert house.internal_volume == pytest.approx(353.5)
    assert house.envelope_area == pytest.approx(311.7)
    assert house.rooms_out == (("Garage", "behind its own line"),)
    assert "Left out: Garage (behind its own line)" in house.sentence()
    assert any("'G1'" in text for text in house.warnings)


def test_a_garage_or_a_room_left_out_asks_for_its_reason():
    rooms, _ = box()
    bare = Room("Garage", "ground", 6.0, 3.0, 2.4)
    out = Room("Shed", "ground", 2.0, 2.0, 2.2, included=False)
    text = " ".join(geometry((*rooms, bare, out)).warnings)
    assert "'Garage' is in without a reason. Rules differ on a garage" in text
    assert "'Shed' is left out without a reason. Write why" in text
    said = Room("Garage", "ground", 6.0, 3.0, 2.4, why="heated, inside the line")
    assert geometry((*rooms, said)).warnings == ()


def test_us_units_in_the_sentence():
    assert "12500 ft³" in Geometry(353.5).sentence("us")


# Limits and shapes -----------------------------------------------------------


def test_the_sphere_is_the_least_envelope():
    # Isoperimetric inequality: A³ ≥ 36 π V² (Schwarz, 1884).
    radius = 4.0
    volume, area = 4.0 / 3.0 * math.pi * radius**3, 4.0 * math.pi * radius**2
    assert Geometry(volume, area).envelope_area == area
    with pytest.raises(InputError, match="impossible: even a sphere"):
        Geometry(volume, 0.999 * area)


def test_excluded_parts_count_towards_the_sphere():
    france = counting_rule("heat-loss area without lowest floor")
    whole = Geometry(1000.0, 400.0, lowest_floor_area=120.0, rule=france)
    assert whole.whole_envelope_area == pytest.approx(520.0)
    with pytest.raises(InputError, match="sphere"):
        Geometry(1000.0, 400.0, lowest_floor_area=20.0, rule=france)


@given(st.floats(3, 30), st.floats(3, 30), st.floats(3.0, 9.0))
@settings(max_examples=50, deadline=None)
def test_any_box_of_house_size_is_taken_and_sums_are_its_own(length, width, height):
    house = geometry(*box(length, width, height))
    assert house.internal_volume == pytest.approx(length * width * height)
    assert house.envelope_area == pytest.approx(
        2 * (length * width + width * height + height * length)
    )
    assert sum(s.volume for s in house.storeys) == pytest.approx(house.internal_volume)


@given(st.permutations(range(6)))
@settings(max_examples=20, deadline=None)
def test_the_order_of_rows_changes_nothing(order):
    rooms, envelope = box()
    house = geometry(rooms[::-1], [envelope[i] for i in order])
    assert house.envelope_area == pytest.approx(311.7)
    assert house.internal_volume == pytest.approx(353.5)


def test_what_looks_odd_is_said_but_taken():
    rooms, envelope = box(14.0, 10.0, 3.2)
    assert "no roof" in " ".join(
        geometry(rooms, [e for e in envelope if e.kind != "roof"]).warnings
    )
    low = geometry([Room("Den", "ground", 5.0, 5.0, 1.8)])
    assert "Mean height is 1.8 m" in low.warnings[0]
    typo = EnvelopeElement("X", "wall", "wall", "Dwn", 1.0, status="covered")
    assert any("not in the room table" in w for w in geometry(rooms, (*envelope, typo)).warnings)


# Refused ---------------------------------------------------------------------


@pytest.mark.parametrize(("sizes", "words"), [
    ((300.0, 3000.0), "No house is that thin"),
    ((300.0, 150.0), "even a sphere of that volume has 216.7 m²"),
    ((300.0, 250.0, 260.0), "At least 1.5 m is needed"),
    ((-300.0,), "above zero"), ((0.0,), "above zero"), ((float("nan"),), "not a number"),
    ((300.0, float("inf")), "infinite"), ((300.0, 250.0, -1.0), "above zero"),
])  # fmt: skip
def test_sizes_that_cannot_belong_to_one_house_are_refused(sizes, words):
    with pytest.raises(InputError, match=words):
        Geometry(*sizes)


def test_tables_that_cannot_be_are_refused():
    with pytest.raises(InputError, match="No room is inside"):
        geometry([])
    with pytest.raises(InputError, match="No room is inside"):
        geometry([Room("Garage", "ground", 3.0, 3.0, 2.4, included=False)])
    with pytest.raises(
        InputError, match=r"'hall ' stands in the table twice, as entry 1 and entry 2"
    ):
        geometry([Room("Hall", "g", 3.0, 3.0, 2.4), Room("hall ", "g", 2.0, 3.0, 2.4)])
    with pytest.raises(InputError, match="Room 'Hall' has no height, or volume"):
        geometry([Room("Hall", "g", 3.0, 3.0)])
    rooms, envelope = box()
    with pytest.raises(InputError, match="twice"):
        geometry(rooms, (*envelope, envelope[0]))
    with pytest.raises(InputError, match="Choose one of"):
        counting_rule("everything")


def test_a_size_that_was_not_entered_is_named():
    bare = Geometry(353.5)
    for basis, words in (("floor", "floor area"), ("envelope", "envelope area"),
                         ("heat-loss area", "envelope area"), ("height", "building height")):  # fmt: skip
        with pytest.raises(InputError, match=words):
            bare.size(basis)
    with pytest.raises(InputError, match="lowest floor"):
        Geometry(353.5, 311.7).size("heat-loss area without lowest floor")
