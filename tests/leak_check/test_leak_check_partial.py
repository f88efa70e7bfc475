"""A zone closed off, a neighbour held: the engine against closed forms, and what two readings say."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.leak_check.partial import OTHER_STATES, partial_reading, party_leakage
from airlab.words import InputError, from_si, m3_per_h

OPEN, SHUT, HELD = OTHER_STATES
FLOW = st.floats(0.01, 1.0)


# Closed forms: power laws of one exponent. Side by side, flows add; one behind the other,
# C = (C1^(-1/n) + C2^(-1/n))^(-n). No outside data set is needed.


@settings(max_examples=50, deadline=None)
@given(FLOW, FLOW, FLOW, st.floats(0.5, 1.0))
def test_closed_forms(outside, between, other, n):
    read = {s: partial_reading(outside, between, other, s, flow_exponent=n) for s in OTHER_STATES}
    assert read[OPEN].flow == pytest.approx(outside + between, rel=1e-9)
    assert read[HELD].flow == pytest.approx(outside, rel=1e-9)
    assert read[HELD].between_flow == pytest.approx(0.0, abs=1e-12)
    ratio = (between / other) ** (1 / n)
    floating = 50.0 * ratio / (1 + ratio)
    if 0.1 < floating < 49.9:  # under 0.1 Pa the engine makes a power law straight
        series = (between ** (-1 / n) + other ** (-1 / n)) ** (-n)
        assert read[SHUT].flow == pytest.approx(outside + series, rel=1e-6)
        assert read[SHUT].other_pressure == pytest.approx(-floating, rel=1e-6)
    for one in read.values():
        assert one.flow == pytest.approx(one.outside_flow + one.between_flow, rel=1e-9)
    assert read[HELD].flow <= read[SHUT].flow <= read[OPEN].flow


def test_a_door_half_way_means_equal_leaks():
    """Equal leakage on both sides of the closed-off zone: it floats at half the pressure."""
    found = partial_reading(0.1, 0.05, 0.05, SHUT)
    assert found.other_pressure == pytest.approx(-25.0)
    assert "goes to 25 Pa" in found.sentence()


def test_direction_makes_no_difference_to_sizes():
    suck = partial_reading(0.1, 0.05, 0.08, SHUT, -50.0)
    blow = partial_reading(0.1, 0.05, 0.08, SHUT, 50.0)
    assert suck.flow == pytest.approx(blow.flow) and suck.other_pressure == -blow.other_pressure


@settings(max_examples=50, deadline=None)
@given(FLOW, st.floats(0.05, 1.0), FLOW, st.floats(0.5, 0.9))
def test_two_readings_give_back_the_wall_between(outside, between, other, n):
    for state in (OPEN, SHUT):
        alone = partial_reading(outside, between, other, state, flow_exponent=n)
        floating = abs(alone.other_pressure)
        if floating > 44.0:
            continue
        guarded = partial_reading(outside, between, other, HELD, flow_exponent=n)
        found = party_leakage(alone.flow, guarded.flow, floating, n)
        assert found.between == pytest.approx(between, rel=1e-5)
        assert found.low <= found.between <= found.high


def test_a_difference_within_chance_is_said():
    """Two readings of 1.5 % prove 4.2 % and no less."""
    small = party_leakage(m3_per_h(610), m3_per_h(600))
    assert not small.proved and "no leakage between is proved" in small.sentence()
    clear = party_leakage(m3_per_h(660), m3_per_h(600))
    assert clear.proved and from_si(clear.between, "m3/h") == pytest.approx(60)
    assert "60 m³/h at 50 Pa across it" in clear.sentence() and "cfm" in clear.sentence("us")


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: partial_reading(0.1, 0.0, 0.1, OPEN), "Between flow"),
        (lambda: partial_reading(0.1, 0.1, 0.1, "ajar"), "Choose one of"),
        (lambda: partial_reading(0.1, 0.1, 0.1, OPEN, 0.0), "Pressure difference is 0"),
        (lambda: party_leakage(0.2, 0.1, 48.0), "goes with the house"),
        (lambda: party_leakage(0.2, 0.1, 90.0), "0 Pa is outside"),
        (lambda: party_leakage(0.2, -0.1), "above zero"),
    ],
)
def test_refused(call, says):
    with pytest.raises(InputError, match=says):
        call()
