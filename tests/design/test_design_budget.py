"""Budget: exact sums, rough sums, seeds, junctions of the line, learning, what is refused."""

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ndtr

from airlab.building import Junction
from airlab.design import (
    TEST_SPREAD,
    BudgetLine,
    Entry,
    answer_of,
    budget_entries,
    cheapest,
    draw_houses,
    fit_lognormal,
    learn,
    make_budget,
    taught_lines,
    what_if,
    with_houses,
)
from airlab.files import demo_job
from airlab.words import InputError, m3_per_h

Z90 = 1.2815515655446004  # normal tables


def line(item="joint", quantity=1.0, unit="m", figures=(1.0, 2.0, 4.0), **more):
    low, mid, high = (m3_per_h(one) for one in figures)
    return BudgetLine(item, quantity, unit, low=low, mid=mid, high=high, **more)


def entry(name, median=1.0, spread=0.5, **more):
    return Entry(name, 1.0, "m", median, spread, **more)


@pytest.fixture(scope="module")
def answer():
    return make_budget(demo_job(), 20_000)


# known answers ----------------------------------------------------------------------------


def test_a_single_line_is_its_own_lognormal():
    houses = draw_houses([entry("one", 3.0, 0.6)])
    exact = [3.0 * math.exp(z * 0.6) for z in (-Z90, 0.0, Z90)]
    assert houses.quantiles(houses.final) == pytest.approx(exact, rel=0.01)


def test_figures_are_met_where_they_are_even_in_ratio():
    median, spread = fit_lognormal(1.0, 2.0, 4.0)
    assert median * math.exp(Z90 * spread) == pytest.approx(4.0)
    assert median * math.exp(-Z90 * spread) == pytest.approx(1.0)


def test_lines_wholly_shared_add_as_their_quantiles():
    parts = [entry("a", 1.0, 0.3), entry("b", 2.0, 0.7), entry("c", 0.5, 0.1)]
    houses = draw_houses(parts, shared=1.0)
    exact = [sum(p.median * math.exp(z * p.spread) for p in parts) for z in (-Z90, 0.0, Z90)]
    assert houses.quantiles(houses.final) == pytest.approx(exact, rel=0.01)


@pytest.mark.parametrize("shared", [0.0, 0.5])
def test_mean_and_variance_of_the_sum_are_exact(shared):
    """Sum of correlated lognormals, textbook moments; Fenton-Wilkinson quantiles roughly."""
    spreads, medians = [0.4, 0.5, 0.3, 0.6], [1.0, 0.7, 2.0, 0.4]
    houses = draw_houses(
        [entry(f"l{i}", m, s) for i, (m, s) in enumerate(zip(medians, spreads))], 400_000,
        shared=shared,
    )  # fmt: skip
    means = [m * math.exp(s * s / 2) for m, s in zip(medians, spreads)]
    variance = sum(
        means[i] * means[j] * math.expm1(spreads[i] * spreads[j] * (1.0 if i == j else shared))
        for i in range(4) for j in range(4)
    )  # fmt: skip
    mean = sum(means)
    assert houses.final.mean() == pytest.approx(mean, rel=0.005)
    assert houses.final.var() == pytest.approx(variance, rel=0.03)
    s = math.sqrt(math.log1p(variance / mean**2))
    rough = [mean * math.exp(-s * s / 2 + z * s) for z in (-Z90, 0.0, Z90)]
    assert houses.quantiles(houses.final) == pytest.approx(rough, rel=0.04)


def test_holes_are_a_compound_process():
    """Mean λE[X], variance λE[X²] (compound Poisson, textbook)."""
    houses = draw_houses([entry("holes", 1.0, 0.5, holes=1.7)], 400_000)
    assert houses.final.mean() == pytest.approx(1.7 * math.exp(0.125), rel=0.01)
    assert houses.final.var() == pytest.approx(1.7 * math.exp(0.5), rel=0.03)
    assert np.mean(houses.final == 0.0) == pytest.approx(math.exp(-1.7), abs=0.003)


def test_learning_agrees_with_a_posterior_on_a_grid():
    parts = [entry("a", 1.0, 0.5), entry("b", 2.0, 0.3, now=0.0)]
    lesson = learn(draw_houses(parts, 400_000, shared=0.0), 1.6, 0.2)
    x = np.linspace(-3, 3, 4001)  # log of a
    density = np.exp(-0.5 * (x / 0.5) ** 2 - 0.5 * ((x - math.log(1.6)) / 0.2) ** 2)
    mean = np.sum(np.exp(x) * density) / density.sum()
    assert lesson.houses.mean(lesson.houses.flows[0]) == pytest.approx(mean, rel=0.01)
    # conjugate on the log scale: precisions add
    middle = math.exp(math.log(1.6) * 0.2**-2 / (0.5**-2 + 0.2**-2))
    spread = (0.5**-2 + 0.2**-2) ** -0.5
    exact = [middle * math.exp(z * spread) for z in (-Z90, 0.0, Z90)]
    assert lesson.houses.quantiles(lesson.houses.flows[0]) == pytest.approx(exact, rel=0.01)
    # what was not in place is not learnt about
    assert lesson.houses.mean(lesson.houses.flows[1]) == pytest.approx(
        2.0 * math.exp(0.045), rel=0.01
    )


def test_what_is_learnt_of_one_line_moves_its_neighbours_through_workmanship():
    houses = draw_houses([entry("a"), entry("b"), entry("bought", shared=False)], shared=0.8)
    moved = dict(learn(houses, 2.0, 0.05, about="a").moved)
    assert moved["a"] == pytest.approx(2.0, rel=0.03)
    # mean of ln b given ln a: ρ ln 2 where the measurement is nearly exact
    assert moved["b"] == pytest.approx(2.0**0.8, rel=0.03)
    assert moved["bought"] == pytest.approx(1.0, abs=0.03)


def test_a_line_measured_by_difference_is_known_by_two_readings_of_the_house():
    """Spread of a difference: √2 · 1.5 % of the house over the line (needs a repeat, 1 to 2 %)."""
    houses = draw_houses([entry("a", 10.0, 0.01), entry("b", 1.0, 0.5)])
    lesson = learn(houses, 1.2, about="b")
    assert lesson.spread == pytest.approx(math.sqrt(2.0) * 0.015 * 11.0 / 1.2, rel=0.01)
    # conjugate on the log scale, as on a grid above
    precision = 0.5**-2 + lesson.spread**-2
    middle = math.exp(math.log(1.2) * lesson.spread**-2 / precision)
    exact = [middle * math.exp(z * precision**-0.5) for z in (-Z90, 0.0, Z90)]
    assert lesson.houses.quantiles(houses.flows[1]) == pytest.approx(exact, rel=0.01)
    assert "give or take 19 %, for b" in lesson.sentence()
    assert "Most moved besides: a" in lesson.sentence()
    assert learn(houses, 11.0).spread == 0.05 and learn(houses, 10.0, about="a").spread == 0.05


def test_a_line_is_measured_as_it_stands_at_the_check():
    for now, middle in ((1.0, 1.0), (2.0, 0.5), (0.0, 1.0)):  # not built yet: at the end
        houses = draw_houses([entry("a", now=now), entry("b")], shared=0.0)
        lesson = learn(houses, 1.0, 0.05, about="a")
        assert lesson.houses.quantiles(houses.flows[0])[1] == pytest.approx(middle, rel=0.02)


def test_lines_taught_by_a_lesson_are_its_quantiles():
    lines = [line("a", 4.0, grade="careful"), line("b", figures=(2.0, 2.0, 2.0))]
    entries, _ = budget_entries(lines)
    lesson = learn(draw_houses(entries), entries[0].median * 2.0, 0.1, about="a")
    taught = taught_lines(lesson, lines)
    low, mid, high = lesson.houses.quantiles(lesson.houses.flows[0])
    assert [4.0 * one for one in taught[0].figures] == pytest.approx([low, mid, high])
    assert taught[1].figures == pytest.approx(lines[1].figures)


def test_the_same_seed_gives_the_same_houses_on_every_machine():
    houses = draw_houses([entry("sill joint", 1.0, 0.5)], 1000, seed=7, shared=0.0)
    # drawn once on another day; the stream of numpy's generator is the same everywhere, and the
    # power of e is taken to seven figures
    assert houses.final[:3] == pytest.approx(
        [0.7588389385442329, 0.6875444708283391, 1.6204876292458876], rel=1e-6
    )


def test_quantiles_are_stable():
    parts = [entry(f"l{i}", 1.0, 0.6) for i in range(40)]
    runs = [draw_houses(parts, seed=seed) for seed in (1, 2, 3)]
    found = np.array([run.quantiles(run.final) for run in runs])
    assert np.all(np.ptp(found, axis=0) / found.mean(axis=0) < 0.01)


def test_the_spread_of_the_final_test_adds_to_that_of_one_line():
    """ln reading is normal with the variances added (textbook)."""
    houses = draw_houses([entry("a", 1.0, 0.1)])
    assert houses.keeping(1.1, 0.0) == pytest.approx(
        NormalDist(0, 0.1).cdf(math.log(1.1)), abs=0.004
    )
    exact = NormalDist(0, math.hypot(0.1, 0.2)).cdf(math.log(1.1))
    assert houses.keeping(1.1, 0.2) == pytest.approx(exact, abs=0.004)
    by_lot = houses.chance(houses.final * houses.test_errors(0.2) <= 1.1)
    assert by_lot == pytest.approx(exact, abs=0.005)


def test_the_spread_of_the_final_test_is_the_persons_own(answer):
    assert answer.test_spread == TEST_SPREAD and "3 % spread of the final test" in answer.sentence()
    job = demo_job()
    own = make_budget(replace(job, assumptions={"test_uncertainty": 0.2}), 20_000)
    assert own.test_spread == 0.2 and own.chance_limit < answer.chance_limit
    without = make_budget(replace(job, assumptions={"test_uncertainty": 0.0}), 20_000)
    assert without.chance_limit == np.mean(without.houses.final <= without.limit_flow)
    assert "final test" not in without.sentence()
    with pytest.raises(InputError, match=r"0\.03 for 3 %"):
        make_budget(replace(job, assumptions={"test_uncertainty": 3.0}), 1000)


# the demo and the line --------------------------------------------------------------------


def test_three_junctions_decide_in_the_demo(answer):
    assert [one.name for one in answer.big] == [
        "floor edge joint (open lift)", "floor edge joint", "sill joint",
    ]  # fmt: skip
    assert 0.4 < answer.big_share < 0.6
    assert answer.shares[0].quantity == pytest.approx(19.2)  # the drawing: 2 × 9.6 m
    assert "assumptions you own; no public data" in answer.sentence()
    assert sum(one.share for one in answer.shares) == pytest.approx(1.0)


def test_closing_a_lift_moves_the_budget_of_the_same_job(answer):
    job = demo_job()
    closed = tuple(replace(one, closed=True) for one in job.junctions)
    after = make_budget(replace(job, junctions=closed), 20_000)
    assert after.chance_limit > answer.chance_limit + 0.15
    assert after.final[1] < answer.final[1]
    assert not any(one.is_lift for one in after.shares)
    assert "Close it there" in " ".join(answer.warnings)


def test_the_line_alone_makes_a_budget():
    job = replace(demo_job(), budget=())
    answer = make_budget(job, 5000)
    names = [one.name for one in answer.shares]
    assert len(names) == 24 and "unknown" in names
    assert names[0] == "floor edge north"


def test_state_at_the_check():
    parts, _ = budget_entries(
        [line("a"), line("b", at_check="sealed for the day"), line("c", at_check="not built yet"),
         line("d", at_check="covered by a later layer")], later_share=0.5,
    )  # fmt: skip
    assert [one.now for one in parts] == [1.0, 0.0, 0.0, 2.0, 1.0]
    assert parts[-1].name == "unknown"


def test_sizes_come_from_elements_and_junctions():
    junctions = [Junction("sill a", "x", "y", length=3.0, closed=True),
                 Junction("sill b", "x", "z", length=2.0)]  # fmt: skip
    parts, warnings = budget_entries([line("sill", None, sizes_from="sill")], (), (), junctions)
    assert [(one.name, one.quantity) for one in parts[:2]] == [
        ("sill", 3.0), ("sill (open lift)", 2.0),
    ]  # fmt: skip
    assert warnings == ()


def test_what_if_uses_the_same_houses(answer):
    half = what_if(answer, 0.5, "sill joint")
    place = [one.name for one in answer.houses.entries].index("sill joint")
    assert half.houses.flows[place] == pytest.approx(0.5 * answer.houses.flows[place])
    assert half.chance_limit >= answer.chance_limit
    assert what_if(answer, 1.0, "sill joint").final == pytest.approx(answer.final)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.1, 10.0), st.floats(0.0, 1.0), st.floats(0.0, 1.5))
def test_more_of_a_line_is_as_much_more(factor, shared, spread):
    one, more = (
        draw_houses([entry("x", k, spread), entry("y", 2.0 * k, 0.2)], 1000, shared=shared)
        for k in (1.0, factor)
    )
    assert more.final == pytest.approx(factor * one.final)


# refused ----------------------------------------------------------------------------------


def test_measurement_far_from_the_budget_says_so(answer):
    lesson = learn(answer.houses, m3_per_h(20_000.0))
    assert not lesson.enough
    assert "did not foresee this" in lesson.sentence()
    taught = with_houses(answer, lesson.houses)
    assert taught.chance_limit is None and taught.chance_aim is None
    assert "No chance is given" in taught.sentence()
    with pytest.raises(InputError, match="Too few houses"):
        cheapest(taught)
    near = with_houses(answer, learn(answer.houses, m3_per_h(700.0)).houses)
    assert 0.0 < near.chance_limit < 1.0 and near.houses.enough


def test_a_budget_far_over_the_limit_says_by_how_much(answer):
    job = demo_job()
    huge = replace(job, budget=(*job.budget, line("hole", 1.0, "item", (4000, 5000, 6000))))
    said = make_budget(huge, 5000).sentence()
    assert "over the limit" in said


def test_zero_spread_and_zero_leakage():
    houses = draw_houses([entry("sure", 2.0, 0.0), entry("none", 0.0, 0.0)], 1000)
    assert houses.final == pytest.approx(2.0)
    assert fit_lognormal(0.0, 0.0, 0.0) == (0.0, 0.0)


def test_five_thousand_lines_stay_in_memory():
    lines = [line(f"l{i}") for i in range(5000)]
    parts, _ = budget_entries(lines)
    houses = draw_houses(parts)
    assert houses.flows.size <= 16_000_000 and houses.final.size >= 1000


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: line(figures=(5.0, 2.0, 9.0)), "must not fall"),
        (lambda: line(figures=(0.0, 2.0, 9.0)), "a tenth of the middle"),
        (lambda: line(quantity=-1.0), "−1"),
        (lambda: line(unit="cubit"), "cubit"),
        (lambda: BudgetLine("x", 1.0, "m"), "No figures"),
        (lambda: BudgetLine("x", 1.0, "m2", component="joint fair"), "by m, the line by m2"),
        (lambda: BudgetLine("x", 1.0, "m", component="chimney"), "catalogue has"),
        (lambda: BudgetLine("x", None, "m", component="joint fair"), "No quantity"),
        (lambda: BudgetLine("x", 1.0, "m", low=1.0, component="joint fair"), "or none"),
        (lambda: line(better_share=0.5), "both its share and its cost"),
        (lambda: line(left_open=30.0), "0.1 for 10 %"),
        (lambda: budget_entries([]), "empty"),
        (lambda: budget_entries([line("a"), line("A ")]), "Name each once"),
        (lambda: budget_entries([line(quantity=None, sizes_from="attic")]), "begins with"),
        (lambda: draw_houses([]), "empty"),
        (lambda: draw_houses([entry("a")], shared=1.5), "0.5 for half"),
        (lambda: draw_houses([entry("a")], count=10), "1000"),
        (lambda: learn(draw_houses([entry("a", now=0.0)], 1000), 1.0), "nothing to learn"),
        (lambda: learn(draw_houses([entry("a")], 1000), -1.0), "−1"),
        (lambda: learn(draw_houses([entry("a")], 1000), 1.0, about="b"), "no line 'b'"),
        (lambda: learn(draw_houses([entry("a")], 1000), 1.0, 5.0), "0.05 for 5 %"),
        (lambda: what_if(make_budget(demo_job(), 1000), 0.5, "roof"), "no line 'roof'"),
        (lambda: make_budget(replace(demo_job(), target=None, limit=None)), "No target"),
        (lambda: make_budget(replace(demo_job(), rooms=())), "No rooms"),
        (lambda: answer_of(draw_houses([entry("a")], 1000), None, {}, {}), "No target"),
    ],
)
def test_refused(call, says):
    with pytest.raises(InputError) as error:
        call()
    assert says in str(error.value)


def test_the_range_of_a_line_is_that_of_its_draws(answer):
    """Closed form against the houses drawn: four standard errors of a quantile, √(p(1−p)/N)/φ(z)."""
    error = math.sqrt(0.09 / answer.houses.final.size) / NormalDist().pdf(Z90)
    for place, one in enumerate(answer.houses.entries):
        drawn = np.quantile(answer.houses.flows[place], (0.1, 0.5, 0.9))
        near = 4.0 * error * one.spread if one.holes is None else 1e-9
        assert answer.houses.line_range(place) == pytest.approx(drawn, rel=near)


def test_quantiles_are_those_of_numpy_and_the_chance_is_the_whole_sum(answer):
    houses = answer.houses
    assert houses.quantiles(houses.now, (0.0, 0.123, 1.0)) == pytest.approx(
        np.quantile(houses.now, (0.0, 0.123, 1.0))
    )
    for spread in (0.01, 0.03, 0.3):
        whole = ndtr(np.log(answer.limit_flow / houses.final) / spread).mean()
        assert houses.keeping(answer.limit_flow, spread) == pytest.approx(whole, abs=1e-8)
