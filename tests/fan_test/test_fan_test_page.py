"""The page of a test: what moves with a point, all fits beside each other, which figure to trust."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.fan_test import (
    FITS,
    Conditions,
    FanTest,
    PointChange,
    Series,
    analyse,
    check_record,
    compare,
    faulty_test,
    fits_beside,
    read_test,
    rows_from_fan_test,
    trust,
)
from airlab.words import InputError

# Exact by hand: residuals (1, -2, 0, 2, -1) are orthogonal to 1 and to x, so n is 0.65 exactly.
PRESSURE = np.array([5.0, 10.0, 20.0, 40.0, 80.0])
RESIDUAL = 0.02 * np.array([1.0, -2.0, 0.0, 2.0, -1.0])
FLOW = 60.0 / 3600.0 * PRESSURE**0.65 * np.exp(RESIDUAL)
AIR = Conditions(20.0, 20.0, 101325.0, None, 0.0, 0.0, "through the envelope")
TEST = FanTest(Series("pressurise", PRESSURE, FLOW, (0.0,), (0.0,)), AIR)


def test_moving_a_point_moves_the_line_as_least_squares_says():
    """Slope moves by ln(f) (x - mean) / Sxx, Sxx = 10 ln(2)²; the point at 20 Pa is the pivot."""
    h = np.log(2.0)
    for k, steps in enumerate((-2, -1, 0, 1, 2)):
        page = read_test(TEST, change=PointChange("pressurise", k + 1, 0.1))
        moved = page.result.flow_exponent - 0.65
        assert moved == pytest.approx(np.log(1.1) * steps * h / (10 * h * h), abs=1e-12)
        expected = np.log(1.1) * (0.2 + steps * h * np.log(4.0 / 20.0) / (10 * h * h))
        assert np.log1p(page.moved(4.0)) == pytest.approx(expected, abs=1e-12)


def test_leaving_a_point_out_is_the_test_without_it():
    page = read_test(TEST, change=PointChange("pressurise", 2, left_out=True))
    keep = np.array([True, False, True, True, True])
    alone = analyse(FanTest(Series("pressurise", PRESSURE[keep], FLOW[keep], (0.0,), (0.0,)), AIR))
    assert page.result.flow(50.0) == pytest.approx(alone.flow(50.0), rel=1e-14)
    effect = next(one for one in page.influence if one.point == 2)
    assert page.moved(50.0) == pytest.approx(effect.flow_50, abs=1e-12)


@settings(max_examples=15, deadline=None)
@given(st.integers(1, 60), st.integers(1, 10), st.floats(-0.3, 0.3))
def test_a_known_page_gives_the_same_as_a_fresh_one(seed, point, moved):
    test = faulty_test(seed=seed).test
    change = PointChange("depressurise", point, moved)
    known = read_test(test)
    fresh, quick = read_test(test, change=change), read_test(test, change=change, known=known)
    assert quick.sentence() == fresh.sentence()
    assert quick.result.flow(4.0) == fresh.result.flow(4.0)
    back = read_test(test, change=PointChange("depressurise", point), known=quick)
    assert back.sentence() == known.sentence()
    assert not back.changed


def test_fits_beside_begin_with_the_standard_and_part_at_4_pa():
    result = analyse(faulty_test("hose in the wind", seed=3).test)
    rows = fits_beside(result)
    assert [one.method for one in rows] == [*FITS, "curve", "prior"]
    assert rows[0].flows[0][1] == result.flow(50.0)
    spans = []
    for k in (0, 1):
        flows = [one.flows[k][1] for one in rows if one.method != "fixed exponent"]
        spans.append(max(flows) / min(flows) - 1.0)
    assert spans[1] > 2.0 * spans[0]
    assert next(one for one in rows if one.method == "fixed exponent").flow_exponent == 0.65
    assert "m³/h at 4 Pa" in rows[3].sentence()


def test_trust_is_the_budgets_and_says_which():
    found = trust(analyse(faulty_test("none", seed=1).test))
    assert found.half(4.0) > found.half(10.0) > found.half(50.0)
    assert found.half(50.0) == pytest.approx(found.at(50.0).high / found.at(50.0).value - 1.0)
    total = [
        sum(spreads[k] ** 2 for _, spreads, _, _ in found.rows() if spreads[k]) for k in range(3)
    ]
    assert np.sqrt(total) == pytest.approx([one.spread for one in found.budgets])
    with pytest.raises(InputError, match="No budget"):
        found.at(25.0)


@pytest.mark.parametrize(
    ("exponents", "said"), [((0.6, 0.7), "fine cracks added"), ((0.7, 0.6), "a wide gap added")]
)
def test_crossing_lines_are_read_the_right_way(exponents, said):
    """n falls where cracks (n near 1) give way to gaps (n 0.5), and rises the other way."""
    p = np.array([60.0, 45.0, 30.0, 20.0, 12.0])
    first, second = (
        analyse(FanTest(Series("pressurise", p, 0.2 * (p / 20.0) ** n, (0.0,), (0.0,)), AIR))
        for n in exponents
    )
    assert said in compare(first, second).sentence()


def test_the_mean_a_report_states_is_held_against_the_readings():
    test = faulty_test("none", seed=1).test
    row, points = rows_from_fan_test(test)
    flow = 3600.0 * analyse(test).flow()
    right = check_record({**row, "stated_q50_m3_per_h": round(flow)}, points)
    assert [(of, found.mistake) for of, found in right.stated] == [("reported", "none")]
    wrong = check_record({**row, "stated_q50_m3_per_h": round(1.2 * flow)}, points)
    assert wrong.stated[0][1].mistake == ""


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (PointChange("pressurise", 9, 0.1), "points 1 to 5"),
        (PointChange("pressurise", 9, left_out=True), "points 1 to 5"),
        (PointChange("depressurise", 1, 0.1), "Direction"),
        (PointChange("pressurise", 1, 5.0), "write 0.05"),
    ],
)
def test_refused_changes(change, said):
    with pytest.raises(InputError, match=said):
        read_test(TEST, change=change)
