"""Tables of the leak check: rows become records and rows again, in the headers' units."""

from dataclasses import fields
from datetime import date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.leak_check import (
    HOLES,
    LEAKS,
    OPENINGS,
    READINGS,
    TRADES,
    Hole,
    LeakEvent,
    Opening,
    Reading,
    Trade,
)
from airlab.words import InputError

PAIRS = (
    (OPENINGS, Opening),
    (TRADES, Trade),
    (HOLES, Hole),
    (READINGS, Reading),
    (LEAKS, LeakEvent),
)


def test_each_field_has_its_column():
    for table, record in PAIRS:
        names = [name for _, name in record._fields()]
        assert sorted(names) == sorted(f.name for f in fields(record)), table.name
        assert table.columns[0].name == table.key
        assert table.column(table.key).required != bool(table.named_by)


def test_units_of_the_headers():
    opening = Opening.from_row(
        {"opening": "duct", "kind": "duct", "room": "Bath", "required": "sealed", "area_cm2": 150.0}
    )
    assert opening.free_area == pytest.approx(0.015)
    assert opening.to_row()["area_cm2"] == 150.0
    trade = Trade.from_row(
        {"trade": "plumber", "hole_diameter_mm": 40.0, "arrives_on": "2026-05-04"}
    )
    assert trade.hole_diameter == pytest.approx(0.04)
    assert trade.arrives_on == date(2026, 5, 4)
    reading = Reading.from_row({"reading": "1", "pressure_pa": 50, "flow_m3_per_h": 360})
    assert reading.flow == pytest.approx(0.1)
    assert reading.to_row()["flow_m3_per_h"] == 360.0


def test_times_carry_their_offset():
    event = LeakEvent.from_row({"event": "a", "leak": 1, "did": "found", "at": "2026-03-04T09:05"})
    assert event.at.tzinfo is not None
    assert event.at.replace(tzinfo=None) == datetime(2026, 3, 4, 9, 5)


def test_acts_get_a_name_of_their_own():
    assert LeakEvent(1, "found").event != LeakEvent(1, "found").event


def test_the_name_of_an_act_is_no_number_to_a_spreadsheet():
    """A hexadecimal name of digits and one e reads as a number; a letter before it does not."""
    assert all(LeakEvent(1, "found").event[0] == "a" for _ in range(200))


@settings(max_examples=50, deadline=None)
@given(st.floats(0.01, 99999.0), st.floats(0.1, 499.0), st.floats(1.0, 1e5))
def test_a_number_typed_comes_back_as_typed(area, pressure, flow):
    row = {
        "opening": "a",
        "kind": "vent",
        "room": "b",
        "required": "open",
        "area_cm2": round(area, 2),
    }
    assert Opening.from_row(row).to_row()["area_cm2"] == round(area, 2)
    row = {"reading": "1", "pressure_pa": round(pressure, 1), "flow_m3_per_h": round(flow, 1)}
    again = Reading.from_row(row).to_row()
    assert {key: again[key] for key in row} == row


@pytest.mark.parametrize(
    ("record", "row", "says"),
    [
        (Trade, {"trade": "x", "share_left_open": 30}, "Share left open is 30.*divide by 100"),
        (Trade, {"trade": ""}, "a row has no trade"),
        (Trade, {"trade": "x", "holes_expected": -1}, "takes 0 to 10000"),
        (Hole, {"hole": "x", "diameter_mm": 5000}, "5000 mm.*takes 0 to 1000 mm"),
        (
            Opening,
            {"opening": "x", "kind": "chimney", "room": "a", "required": "open"},
            "Choose one of",
        ),
        (
            Opening,
            {"opening": "x", "kind": "duct", "room": "a", "required": "taped"},
            "Choose one of",
        ),
        (Opening, {"opening": "x", "kind": "duct", "room": "", "required": "open"}, "no room"),
        (LeakEvent, {"event": "a", "leak": None, "did": "found"}, "no leak"),
        (LeakEvent, {"event": "a", "leak": 1, "did": "kicked"}, "Choose one of"),
        (Reading, {"reading": "1", "pressure_pa": 50, "flow_m3_per_h": "many"}, "."),
    ],
)
def test_refused(record, row, says):
    with pytest.raises((InputError, ValueError), match=says):
        record.from_row(row)
