"""Rooms, areas of the envelope and junctions as records."""

from datetime import date

import pytest

from airlab.building import (
    ENVELOPE,
    JUNCTIONS,
    PAST_RESULTS,
    ROOMS,
    EnvelopeElement,
    Junction,
    PastResult,
    Room,
    geometry,
)
from airlab.words import InputError

ROWS = [
    (Room, ROOMS, {"room": "Hall", "storey": "ground", "length_m": 4.0, "width_m": 2.0,
                   "height_m": 2.4, "included": True, "why": "", "volume_m3": None,
                   "floor_area_m2": None, "shape": "sloping ceiling", "low_height_m": 1.2,
                   "flat_width_m": None}),
    (EnvelopeElement, ENVELOPE, {"area": "A1", "element": "north wall", "kind": "wall",
                                 "room": "Hall", "area_m2": 9.5, "layer": "membrane",
                                 "status": "open laps", "later_layer": False, "supported": True,
                                 "note": "stair"}),
    (Junction, JUNCTIONS, {"junction": "J1", "element_a": "north wall", "element_b": "roof",
                           "layer_a": "membrane", "layer_b": "membrane", "joined": "tape",
                           "length_m": 7.0, "count": None, "owner": "joiner",
                           "inspection": "before boards", "hidden_on": date(2026, 3, 4),
                           "closed": True}),
    (PastResult, PAST_RESULTS, {"house": "first", "aimed_for": 3.0, "result": 3.4}),
]  # fmt: skip


@pytest.mark.parametrize(("record", "table", "row"), ROWS)
def test_a_row_becomes_a_record_and_the_same_row_again(record, table, row):
    again = record.from_row(row).to_row()
    assert again == row
    assert {column.name for column in table.columns} == set(again)


@pytest.mark.parametrize(("record", "table", "row"), ROWS)
def test_blank_cells_that_need_not_be_filled_take_the_columns_default(record, table, row):
    needed = {c.name: row[c.name] for c in table.columns if c.required}
    blank = {c.name: None for c in table.columns if not c.required}
    again = record.from_row(needed | blank).to_row()
    for column in table.columns:
        if not column.required and column.kind == "yes/no":
            assert again[column.name] is column.default, column.name


def test_unknown_columns_are_left_alone():
    assert Room.from_row({"room": "Hall", "storey": "ground", "colour": "blue"}).name == "Hall"


def test_overrides_stand_before_length_times_width_times_height():
    room = Room("Loft", "top", 6.0, 5.0, 2.4, volume=40.0, floor_area=22.0)
    assert (room.air_volume, room.area) == (40.0, 22.0)
    assert Room("Bay", "ground", height=2.5, floor_area=3.0).air_volume == pytest.approx(7.5)
    assert Room("Stair void", "first", volume=12.0, floor_area=0.0).area == 0.0


@pytest.mark.parametrize(("shape", "sizes", "floor", "volume"), [
    # Cross-sections as triangles, rectangles and trapezia, by hand (derived).
    ("box", {}, 20.0, 48.0),
    ("sloping ceiling", {}, 20.0, 24.0),  # a tent: half the box
    ("sloping ceiling", {"low_height": 1.2}, 20.0, 36.0),  # (1.2 + 2.4)/2 × 20
    ("sloping ceiling", {"low_height": 1.0, "flat_width": 2.0}, 20.0, 41.0),  # 5 × (9.6 − 1.4)
    ("sloping ceiling", {"low_height": 2.4}, 20.0, 48.0),
    ("bay", {"flat_width": 3.0}, 16.0, 38.4),  # (5 + 3)/2 × 4
    ("bay", {}, 20.0, 48.0), ("dormer", {}, 0.0, 24.0), ("stair void", {}, 0.0, 48.0),
    ("floor void", {}, 0.0, 48.0),
])  # fmt: skip
def test_shapes_of_rooms(shape, sizes, floor, volume):
    room = Room("R", "top", 5.0, 4.0, 2.4, shape=shape, **sizes)
    assert room.area == pytest.approx(floor)
    assert room.air_volume == pytest.approx(volume)
    assert room.missing == ()
    assert room.plan_area == (0.0 if shape in ("dormer", "floor void") else floor or 20.0)


def test_an_attic_of_two_slopes_and_two_dormers_adds_up():
    # A pitched roof of 45° over 8 × 10 m with knee walls of 1 m: 10 × (8 × 1 + 4 × 4) = 240 m³.
    rooms = (Room("Attic", "loft", 10.0, 8.0, 5.0, shape="sloping ceiling", low_height=1.0),
             Room("Dormer", "loft", 2.0, 1.5, 1.5, shape="dormer"))  # fmt: skip
    house = geometry(rooms)
    assert house.internal_volume == pytest.approx(240.0 + 2.25)
    assert house.floor_area == pytest.approx(80.0)


def test_shapes_that_cannot_be_are_refused():
    with pytest.raises(InputError, match="Were they swapped"):
        Room("R", "top", 5.0, 4.0, 1.0, shape="sloping ceiling", low_height=2.4)
    with pytest.raises(InputError, match="flat width is 5 m, its width 4 m"):
        Room("R", "top", 5.0, 4.0, 2.4, shape="sloping ceiling", flat_width=5.0)
    with pytest.raises(InputError, match="Choose one of: 'box'"):
        Room("R", "top", 5.0, 4.0, 2.4, shape="dome")
    assert Room("R", "top", 5.0, shape="dormer").missing == ("length, width and height, or volume",)
    assert Room("R", "top", volume=2.0, shape="dormer").missing == ()


def test_what_is_missing_is_said():
    assert Room("A", "g", 3.0, 3.0).missing == ("height, or volume",)
    assert Room("A", "g", height=2.4).missing == ("length and width, or floor area",)
    assert Room("A", "g", 3.0, 3.0, 2.4).missing == ()
    assert Room("A", "g", floor_area=0.0, height=2.4).missing == ("volume",)


@pytest.mark.parametrize(("height", "words"), [
    (2400.0, "If you meant millimetres, write 2.4"),
    (240.0, "If you meant centimetres, write 2.4"),
    (-2.4, "This model takes 0 to 20 m"),
    (float("nan"), "not a number"),
    (float("inf"), "infinite"),
    ("2.4 m", "A number is needed"),
])  # fmt: skip
def test_a_height_that_is_no_height_is_refused_and_the_slip_named(height, words):
    with pytest.raises(InputError, match=words) as told:
        Room("Hall", "ground", 4.0, 3.0, height)
    assert "Hall" in str(told.value)


@pytest.mark.parametrize("change", [
    {"kind": "flor"}, {"status": "done"}, {"area_m2": -1.0}, {"area_m2": None}, {"area": " "},
])  # fmt: skip
def test_areas_that_cannot_be_are_refused(change):
    row = ROWS[1][2] | change
    with pytest.raises(InputError):
        EnvelopeElement(**row)


@pytest.mark.parametrize("change", [
    {"element_b": ""}, {"length_m": -1.0}, {"count": float("nan")}, {"junction": ""},
])  # fmt: skip
def test_junctions_that_cannot_be_are_refused(change):
    with pytest.raises(InputError):
        Junction.from_row(ROWS[2][2] | change)


def test_a_room_without_a_name_is_refused():
    with pytest.raises(InputError, match="no name"):
        Room("  ", "ground")
