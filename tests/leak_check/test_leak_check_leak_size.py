"""The size of one leak from its gap or its draught: order of size, and what a jet does not show."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.leak_check.leak_size import JET_WARNING, size_from_gap, size_from_jet
from airlab.physics import RoundHole, jet_speed
from airlab.words import InputError, from_si, mm


def per_hour(size):
    return [from_si(flow, "m3/h") for flow in (size.low, size.middle, size.high)]


# Known answers: flow of a sharp hole at 50 Pa with coefficient 0.61 (fluid mechanics): 20 mm passes
# 6.29 m³/h, 68 mm 72.7; the speed of the jet is 9.1 m/s at 50 Pa, 2.6 at 4 Pa (Bernoulli).


@pytest.mark.parametrize(("diameter", "flow"), [(10, 1.57), (20, 6.29), (68, 72.7)])
def test_a_round_hole(diameter, flow):
    assert per_hour(size_from_gap(mm(diameter)))[1] == pytest.approx(flow, rel=0.005)


# A crack by the quadratic form (Baker, Sharples and Ward, from memory), m³/h per metre at 50 Pa,
# worked out by hand: p = 12 mu z / h^3 q + 0.75 rho / h^2 q^2.
@pytest.mark.parametrize(
    ("gap", "depth", "flow"), [(1.0, 50, 12.7), (2.0, 100, 36.0), (0.25, 50, 0.256), (5.0, 10, 100)]
)
def test_a_long_gap_of_known_depth(gap, depth, flow):
    """The last one is shallow: the sharp slot, 100 m³/h, and not the crack's 133."""
    found = size_from_gap(mm(gap), 1.0, mm(depth))
    assert per_hour(found)[1] == pytest.approx(flow, rel=0.02)


def test_the_speed_says_nothing_of_the_size():
    assert jet_speed(50.0) == pytest.approx(9.13, abs=0.01)
    near = size_from_jet(9.0, mm(5), 50.0)
    assert near.middle is None and JET_WARNING in near.warnings
    assert near.sentence().startswith("No size from 9 m/s felt 5 mm from the gap.")
    assert "mph" in near.sentence("us")


def test_the_reach_of_a_jet_shows_the_size():
    """A hole of 20 mm: its jet is 0.782 times as wide; after 6.2 of those the speed has halved twice."""
    jet = 0.020 * np.sqrt(np.pi / (np.pi + 2.0))
    v0 = jet_speed(50.0)
    found = size_from_jet(v0 / 4.0, 6.2 * jet * 4.0, 50.0)
    assert found.middle == pytest.approx(float(RoundHole(0.020).flow(50.0)), rel=1e-3)
    assert found.high == pytest.approx(2 * found.middle) and found.low == found.middle / 2
    long = size_from_jet(v0 / 4.0, 0.3, 50.0, length=1.0)
    assert long.middle == pytest.approx(v0 * 0.3 / (4 * 2.47) ** 2, rel=1e-9)


@settings(max_examples=50, deadline=None)
@given(st.floats(0.0005, 0.02), st.floats(0.05, 5.0), st.floats(0.005, 0.3))
def test_wider_or_shallower_never_passes_less(width, length, depth):
    one = size_from_gap(width, length, depth)
    assert one.low <= one.middle <= one.high
    assert size_from_gap(width * 1.1, length, depth).middle > one.middle
    assert size_from_gap(width, length, depth * 2).middle <= one.middle
    unknown = size_from_gap(width, length)
    assert unknown.low <= unknown.middle <= unknown.high
    if 0.01 <= depth <= 0.1:
        assert unknown.low <= one.low * (1 + 1e-12) and unknown.high >= one.high * (1 - 1e-12)


@settings(max_examples=50, deadline=None)
@given(st.floats(0.1, 8.0), st.floats(0.01, 1.0), st.floats(10.0, 60.0))
def test_a_farther_or_faster_jet_is_a_larger_leak(speed, distance, pressure):
    if speed >= 0.9 * jet_speed(pressure):
        return
    one = size_from_jet(speed, distance, pressure).middle
    assert size_from_jet(speed, distance * 1.5, pressure).middle == pytest.approx(2.25 * one)
    if speed * 1.05 < 0.9 * jet_speed(pressure):
        assert size_from_jet(speed * 1.05, distance, pressure).middle > one


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: size_from_gap(0.0), "Width is 0"),
        (lambda: size_from_gap(-mm(2), 1.0), "above zero"),
        (lambda: size_from_gap(float("nan")), "not a number"),
        (lambda: size_from_jet(12.0, 0.3, 50.0), "50 Pa makes 9.13 m/s at most"),
        (lambda: size_from_jet(1.0, 300.0, 50.0), "write mm"),
        (lambda: size_from_jet(1.0, 0.3, 0.0), "at most"),
    ],
)
def test_refused(call, says):
    with pytest.raises(InputError, match=says):
        call()
