"""Component catalogue: conversions against hand figures, class limits, what is refused."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building.components import (
    class_component,
    component,
    components,
    flow_at_50,
    window_class_limit,
)
from airlab.words import InputError, from_si, gather_sources


def per_hour(flow):
    return from_si(flow, "m3/h")


def test_leakage_area_at_4_pa_by_hand():
    # 1 cm2, coefficient 1: 1e-4 sqrt(2*4/1.2) (50/4)^0.65 m3/s, worked out with a pocket calculator.
    assert per_hour(flow_at_50(1.0, "cm2", 4.0, 0.65)) == pytest.approx(4.80, abs=0.01)


@pytest.mark.parametrize(
    ("value", "measure", "pressure", "n", "by_hand"),
    [
        (0.02, "L/s", 75.0, 0.65, 0.055),  # material limit of the Ontario code, 0.02 L/(s.m2)
        (0.2, "L/s", 75.0, 0.65, 0.55),  # assembly limit
        (2.0, "L/s", 75.0, 0.65, 5.5),  # whole enclosure
        (0.1, "m3/h", 10.0, 2 / 3, 0.29),  # joint tape of DIN 18542, from memory
        (1.0, "m3/h", 2.0, 0.65, 8.1),  # loft hatch of BS 9250, from memory
        (0.25, "L/s", 1.0, 0.67, 12.38),  # hinged window, unsealed, BS 5925, from memory
        (0.13, "L/s", 1.0, 0.60, 4.89),  # hinged window, sealed, AIVC note 44, from memory
    ],
)
def test_other_measures_by_hand(value, measure, pressure, n, by_hand):
    assert per_hour(flow_at_50(value, measure, pressure, n)) == pytest.approx(by_hand, rel=0.01)


@pytest.mark.parametrize(
    ("air_class", "area", "joint"),
    [(1, 31.50, 7.87), (2, 17.01, 4.25), (3, 5.67, 1.42), (4, 1.89, 0.47)],
)
def test_window_classes_at_50_pa(air_class, area, joint):
    """Limits of EN 12207 at 100 Pa (second-hand) by 50/100 to the 2/3."""
    found = [per_hour(one) for one in window_class_limit(air_class)]
    assert found == pytest.approx([area, joint], abs=0.006)


def test_a_window_of_class_3_and_4():
    # 1.2 by 1.2 m: at most 8.2 and 2.7 m3/h at 50 Pa.
    assert 1.44 * per_hour(window_class_limit(3)[0]) == pytest.approx(8.2, abs=0.05)
    assert 1.44 * per_hour(window_class_limit(4)[0]) == pytest.approx(2.7, abs=0.05)


def test_worst_joint_is_the_measured_one():
    assert per_hour(component("joint open").high) == pytest.approx(31.0)  # 13 joints, 0 to 31


def test_every_row_is_known_by_its_source():
    from airlab.building import terms as building
    from airlab.physics import terms as physics
    from airlab.words import terms as words

    known = gather_sources(words, physics, building)
    assert len({one.key for one in components()}) == len(components()) < 40
    for one in (*components(), class_component(4)):
        assert one.source in known
        assert one.low <= one.mid <= one.high
        assert one.status in one.sentence() and "at 50 Pa" in one.sentence()
        assert not (one.status == "read" and known[one.source].status != "read")


@settings(max_examples=40)
@given(st.floats(1e-3, 1e3), st.floats(1.0, 200.0), st.floats(0.5, 1.0))
def test_twice_as_much_leaks_twice(value, pressure, n):
    one, two = (flow_at_50(k * value, "cm2", pressure, n) for k in (1.0, 2.0))
    assert two == pytest.approx(2 * one)
    assert flow_at_50(value, "m3/h", 50.0, n) == pytest.approx(value / 3600)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: component("chimney"), "catalogue has"),
        (lambda: component("class 7"), "classes 1 to 4"),
        (lambda: window_class_limit(0), "classes 1 to 4"),
        (lambda: window_class_limit(1, 200.0), "up to 150 Pa"),
        (lambda: flow_at_50(-1.0, "cm2", 4.0, 0.65), "−1"),
        (lambda: flow_at_50(1.0, "cubits", 4.0, 0.65), "cubits"),
        (lambda: flow_at_50(1.0, "cm2", 4.0, 0.3), "0.5"),
        (lambda: flow_at_50(math.nan, "cm2", 4.0, 0.65), "number"),
    ],
)
def test_refused(call, says):
    with pytest.raises(InputError, match=says.replace("(", r"\(")):
        call()
