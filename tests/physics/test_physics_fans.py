"""Fans: the pressure they reach against a leaky house."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from airlab.physics import (
    Crack,
    FanCurve,
    FixedFlow,
    Parallel,
    PowerLawLeak,
    RoundHole,
    fan_air_power,
    pressure_reached,
)
from airlab.words import InputError, from_si, litre_per_s, m3_per_h

CURVE = FanCurve(
    (0.0, 20.0, 50.0, 80.0), tuple(m3_per_h(q) for q in (4000.0, 3500.0, 2600.0, 1400.0))
)

# ---- known answers -------------------------------------------------------------------------------


@pytest.mark.parametrize(("flow", "pressure"), [(20, 9.5), (40, 27.6), (60, 51.4), (100, 113.0)])
def test_fixed_flow(flow, pressure):
    """0.6 air changes per hour in 353.5 m3, n = 0.65; closed form 50 (Q/Q50)**(1/n), worked out elsewhere."""
    house = PowerLawLeak.from_flow(m3_per_h(0.6 * 353.5), 50.0, 0.65)
    reach = pressure_reached(FixedFlow(litre_per_s(flow)), house)
    assert reach.pressure_difference == pytest.approx(
        pressure, abs=0.051 if pressure < 100 else 0.51
    )
    exact = 50.0 * (litre_per_s(flow) / m3_per_h(0.6 * 353.5)) ** (1.0 / 0.65)
    assert reach.pressure_difference == pytest.approx(exact, rel=1e-12)
    assert reach.reaches_50 == (flow >= 60)


def test_air_power():
    """3000 m3/h at 50 Pa is 42 W of air power, about 140 W electrical at 30 %, arithmetic."""
    assert fan_air_power(m3_per_h(3000.0), 50.0) == pytest.approx(42.0, abs=0.5)
    assert fan_air_power(m3_per_h(3000.0), 50.0, 0.3) == pytest.approx(140.0, abs=2.0)


def test_curve_against_a_scalar_root():
    """scipy.optimize.brentq on the same balance, one house at a time."""
    leak = Parallel((RoundHole(0.3), Crack(30.0, 1e-3, 0.1), PowerLawLeak(0.02, 0.7)))
    reach = pressure_reached(CURVE, leak)
    root = brentq(lambda p: float(CURVE.flow(p) - leak.flow(p)), 1e-6, 100.0, xtol=1e-13)
    assert reach.pressure_difference == pytest.approx(root, rel=1e-11)
    assert reach.flow == pytest.approx(float(CURVE.flow(root)), rel=1e-10)


def test_many_houses_at_once():
    flows = m3_per_h(np.array([800.0, 2600.0, 5000.0]))
    reach = pressure_reached(CURVE, PowerLawLeak(flows / 50.0**0.65, 0.65))
    one_by_one = [
        pressure_reached(CURVE, PowerLawLeak.from_flow(q)).pressure_difference for q in flows
    ]
    assert reach.pressure_difference == pytest.approx(np.array(one_by_one), rel=1e-12)
    assert reach.pressure_difference[1] == pytest.approx(50.0)
    assert reach.reaches_50.tolist() == [True, True, False]
    assert "66.7 %" in reach.sentence()


# ---- limits --------------------------------------------------------------------------------------


def test_curve_between_and_beyond_its_points():
    assert from_si(CURVE.flow(35.0), "m3/h") == pytest.approx(3050.0)
    assert CURVE.most_pressure == pytest.approx(115.0)
    assert CURVE.flow(115.0) == 0.0 and CURVE.flow(500.0) == 0.0
    assert CURVE.flow(0.0) == pytest.approx(m3_per_h(4000.0))
    tight = pressure_reached(CURVE, PowerLawLeak.from_flow(m3_per_h(50.0)))
    assert 80.0 < tight.pressure_difference < 115.0
    assert any("beyond the last point" in text for text in tight.warnings)
    start = FanCurve((20.0, 80.0), (1.0, 0.4))
    loose = pressure_reached(start, PowerLawLeak.from_flow(5.0))
    assert any("below the first point" in text for text in loose.warnings)
    assert loose.flow == pytest.approx(1.0)


def test_points_in_any_order():
    pairs = ((80.0, 0.4), (20.0, 1.0), (50.0, 0.8))
    assert FanCurve.from_points(pairs) == FanCurve((20.0, 50.0, 80.0), (1.0, 0.8, 0.4))


def test_lowest_flow():
    fan = FanCurve((0.0, 60.0), (1.0, 0.5), lowest_flow=m3_per_h(150.0))
    warned = pressure_reached(fan, PowerLawLeak.from_flow(m3_per_h(100.0))).warnings
    assert any("smaller aperture" in text for text in warned)
    assert not pressure_reached(fan, PowerLawLeak.from_flow(m3_per_h(1900.0))).warnings


# ---- invariants ----------------------------------------------------------------------------------


@settings(max_examples=50, deadline=None)
@given(st.floats(0.01, 5.0), st.floats(0.5, 1.0), st.floats(1.01, 3.0))
def test_a_looser_house_reaches_less(flow, n, more):
    leak, looser = (PowerLawLeak.from_flow(k * flow, 50.0, n) for k in (1.0, more))
    first, second = (pressure_reached(CURVE, one) for one in (leak, looser))
    assert second.pressure_difference < first.pressure_difference
    assert second.flow > first.flow
    for reach, one in ((first, leak), (second, looser)):
        assert reach.flow == pytest.approx(float(CURVE.flow(reach.pressure_difference)), rel=1e-9)
        assert reach.flow == pytest.approx(float(one.flow(reach.pressure_difference)), rel=1e-12)
        assert reach.reaches_50 == (reach.pressure_difference >= 50.0 - 1e-9)


def test_sentences():
    small = pressure_reached(CURVE, PowerLawLeak.from_flow(m3_per_h(1560.0))).sentence()
    assert "reaches 50 Pa" in small and "1560 m³/h" in small
    large = pressure_reached(CURVE, PowerLawLeak.from_flow(m3_per_h(6000.0)))
    assert "not 50 Pa" in large.sentence() and "cfm" in large.sentence("us")


# ---- refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: FanCurve((50.0,), (1.0,)), "two points or more"),
        (lambda: FanCurve((0.0, 50.0), (1.0,)), "two points or more"),
        (lambda: FanCurve((0.0, 50.0), (1.0, 1.2)), "pressure first"),
        (lambda: FanCurve((50.0, 50.0), (1.0, 0.9)), "same pressure"),
        (lambda: FanCurve((0.0, -50.0), (1.0, 0.5)), "Fan pressure"),
        (lambda: FanCurve((0.0, float("nan")), (1.0, 0.5)), "not a number"),
        (lambda: FanCurve.from_points([(0.0, 1.0, 2.0)]), "a pair"),
        (lambda: FixedFlow(0.0), "Fixed flow"),
        (lambda: FixedFlow(-1.0), "Fixed flow"),
        (lambda: pressure_reached(CURVE, Parallel(())), "no leak"),
        (lambda: fan_air_power(1.0, -5.0), "Pressure difference"),
    ],
)
def test_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()
