"""Variance shares against closed forms and sampling; the cheapest set against every set."""

import re
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from airlab.design import Entry, Training, answer_of, draw_houses, make_budget
from airlab.design.cheapest import Option, _solve, cheapest, options_of, price_list
from airlab.design.variance import WORKMANSHIP, variance_shares
from airlab.files import demo_job
from airlab.plots.budget import budget_bars, budget_houses, cheapest_table, variance_table
from airlab.words import InputError, m3_per_h


def entry(name, median=1.0, spread=0.5, **more):
    return Entry(name, 1.0, "m", median, spread, **more)


@pytest.fixture(scope="module")
def answer():
    return make_budget(demo_job(), 20_000)


# variance ---------------------------------------------------------------------------------


def test_small_spreads_are_the_linear_gaussian_case():
    """Y = Σ c_i X_i, X_i Gaussian with a common factor: shares are c_i² and (Σ c_i)² (textbook)."""
    c, rho, s = np.array([1.0, 2.0, 4.0]), 0.3, 1e-4
    found = {
        one.name: one
        for one in variance_shares([entry(f"l{i}", m, s) for i, m in enumerate(c)], rho)
    }
    variance = rho * c.sum() ** 2 + (1 - rho) * np.sum(c**2)
    assert found[WORKMANSHIP].first == pytest.approx(rho * c.sum() ** 2 / variance, rel=1e-3)
    for i, m in enumerate(c):
        share = (1 - rho) * m**2 / variance
        assert found[f"l{i}"].first == pytest.approx(share, rel=1e-3)
        assert found[f"l{i}"].total == pytest.approx(share, rel=1e-3)


def test_shares_agree_with_pick_and_freeze_sampling():
    """Sobol' indices estimated by freezing one input (Jansen's formulas, from memory)."""
    medians, spreads, rho, count = (1.0, 0.5, 2.0), (0.5, 0.8, 0.3), 0.4, 400_000
    rng = np.random.default_rng(3)
    a, b = rng.standard_normal((2, 4, count))  # workmanship, then each line's own

    def flow(z):
        return sum(
            m * np.exp(s * (np.sqrt(rho) * z[0] + np.sqrt(1 - rho) * z[i + 1]))
            for i, (m, s) in enumerate(zip(medians, spreads))
        )

    base, other = flow(a), flow(b)
    found = {
        one.name: one
        for one in variance_shares(
            [entry(f"l{i}", m, s) for i, (m, s) in enumerate(zip(medians, spreads))], rho
        )
    }
    for place, name in enumerate((WORKMANSHIP, "l0", "l1", "l2")):
        mixed = a.copy()
        mixed[place] = b[place]
        frozen = flow(mixed)
        total = np.mean((base - frozen) ** 2) / 2 / base.var()
        first = 1 - np.mean((other - frozen) ** 2) / 2 / base.var()
        assert found[name].total == pytest.approx(total, abs=0.02)
        assert found[name].first == pytest.approx(first, abs=0.02)


def test_independent_lines_and_holes_share_everything():
    parts = [entry("a", shared=False), entry("b", 2.0, 0.3, shared=False), entry("h", holes=2.0)]
    found = variance_shares(parts)
    assert sum(one.first for one in found) == pytest.approx(1.0)
    assert draw_houses(parts, 400_000).final.var() * found[0].first == pytest.approx(
        {"h": 2.0 * np.exp(0.5), "a": np.exp(0.25) * np.expm1(0.25)}.get(found[0].name), rel=0.03
    )


def test_nothing_spreads():
    with pytest.raises(InputError, match="no uncertainty"):
        variance_shares([entry("a", spread=0.0)])


# cheapest ---------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(6))
def test_the_programme_agrees_with_every_set(seed):
    rng = np.random.default_rng(seed)
    lines, houses = 5, 60
    flows = rng.lognormal(0.0, 0.7, (lines, houses))
    options = [
        Option(f"l{i}", "", float(rng.uniform(0.1, 0.8)), float(rng.integers(1, 20)))
        for i in (*range(lines), 0, 1)
    ]
    saved = np.array([(1 - o.share) * flows[int(o.item[1:])] for o in options])
    whole, limit, need = flows.sum(axis=0), float(rng.uniform(4, 6)), 0.8
    best = None
    for picked in product((0, 1), repeat=len(options)):
        taken = [o.item for o, x in zip(options, picked) if x]
        if len(set(taken)) < len(taken):
            continue
        if np.mean(whole - np.array(picked) @ saved <= limit) >= need - 1e-9:
            cost = sum(o.cost for o, x in zip(options, picked) if x)
            best = cost if best is None else min(best, cost)
    chosen = _solve(whole, saved, options, limit, need)
    if best is None:
        assert chosen is None
    else:
        assert chosen @ np.array([o.cost for o in options]) == pytest.approx(best)
        assert np.mean(whole - chosen @ saved <= limit + 1e-9) >= need - 1e-9


@pytest.mark.parametrize(("seed", "limit"), [(0, 5.0), (1, 5.0), (1, 6.5), (2, 6.0), (3, 7.0)])
def test_training_agrees_with_every_set_of_houses_drawn_by_hand(seed, limit):
    """The trained flows are written out from the law of a line, not from the programme's savings."""
    rng, rho = np.random.default_rng(seed), 0.5
    parts = [entry(f"l{i}", 1.0 + i % 2, 0.6) for i in range(4)]
    parts.append(entry("lift", 1.5, 0.5, is_lift=True))
    drawn = draw_houses(parts, 1000, seed, rho)
    few = {name: getattr(drawn, name)[..., :200] for name in ("flows", "final", "common")}
    houses = replace(drawn, **few)
    details = [Option(p.name, "", float(rng.uniform(0.2, 0.7)), float(rng.integers(3, 15)))
               for p in parts if p.name != "l3"]  # fmt: skip
    hands = [("l0", "l1", "l2", "lift"), ("l2", "l3"), ("l3",)]
    taught = [Option(f"t{i}", "", float(rng.uniform(0.5, 0.9)), float(rng.integers(3, 15)),
                     float(rng.uniform(0.0, 0.8)), one) for i, one in enumerate(hands)]  # fmt: skip
    options = details + taught
    own = {p.name: np.log(row / p.median) - p.spread * np.sqrt(rho) * houses.common
           for p, row in zip(parts, houses.flows)}  # fmt: skip
    best = np.inf
    for picked in product((0, 1), repeat=len(options)):
        taken = [o for o, x in zip(options, picked) if x]
        reached = [name for o in taken for name in o.lines]
        if len(set(reached)) < len(reached):
            continue  # no hands are taught twice
        flow = 0.0
        for p in parts:
            detail = next((o for o in taken if o.item == p.name), None)
            course = next((o for o in taken if p.name in o.lines), None)
            if p.is_lift and not detail:
                course = None
            k, f = (course.spread_share, course.share) if course else (1.0, 1.0)
            f *= detail.share if detail else 1.0
            flow = flow + f * p.median * np.exp(
                k * p.spread * np.sqrt(rho) * houses.common + own[p.name]
            )
        if np.mean(flow <= limit) >= 0.9:
            best = min(best, sum(o.cost for o in taken))
    base = make_budget(demo_job(), 1000)
    way = cheapest(replace(base, houses=houses, limit_flow=limit, test_spread=0.0), 0.9, options)
    assert way.reached == np.isfinite(best)
    assert not way.reached or way.cost == pytest.approx(best)


def test_training_acts_on_every_line_of_its_hands(answer):
    course = Training("corner", 0.8, 0.6, 500.0, owner="Carpenter", grade="usual")
    names = course.reaches(answer.houses.entries)
    lines = {one.name: one.line for one in answer.houses.entries}
    assert {lines[name].owner for name in names} == {"carpenter"} and "loft hatch" not in names
    assert "floor edge joint (open lift)" in names and len(names) == 9
    assert replace(course, owner="electrician").reaches(answer.houses.entries) == (
        "cable entry", "sockets in outer walls",
    )  # fmt: skip
    assert options_of(answer.houses.entries, [replace(course, owner="roofer")]) == options_of(
        answer.houses.entries
    )
    far = cheapest(answer, 0.95)
    assert answer.training[0].training in far.sentence() and "acts on 9 lines" in far.sentence()
    assert cheapest(replace(answer, training=()), 0.95).cost > far.cost
    cheap = replace(answer, training=(replace(answer.training[0], cost=0.0),))
    assert cheapest(cheap, 0.9).cost < cheapest(answer, 0.9).cost


def test_three_changes_lift_the_demo_to_ninety_percent(answer):
    way = cheapest(answer, 0.9)
    assert way.reached and way.chance >= 0.9 and len(way.chosen) == 3
    assert "floor edge joint (open lift): close it in the line" in way.sentence()
    assert answer.chance_limit < way.chance_half < way.chance


def test_each_further_percent_costs_more(answer):
    costs = [way.cost for way in price_list(answer, (0.7, 0.9, 0.95))]
    assert costs == sorted(costs) and costs[-1] > costs[0]


def test_out_of_reach_says_by_how_much(answer):
    hard = replace(answer, limit_flow=m3_per_h(150.0))
    way = cheapest(hard, 0.9)
    assert not way.reached and way.short_by > 0.0
    assert "too much is left" in way.sentence()
    options = options_of(answer.houses.entries, answer.training)
    assert len(way.chosen) == len({one.item for one in options})


def test_nothing_needed(answer):
    easy = cheapest(replace(answer, limit_flow=1e6), 0.9)
    assert easy.chosen == () and "Nothing is needed" in easy.sentence()


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda a: cheapest(a, 90.0), "0.9 for 90 %"),
        (lambda a: cheapest(a, options=()), "nothing to choose"),
        (lambda a: cheapest(a, options=[Option("roof", "", 0.5, 1.0)]), "'roof'"),
        (lambda a: Option("x", "", 30.0, 1.0), "0.3 for 30 %"),
        (lambda a: Option("x", "", 0.3, -1.0), "−1"),
        (lambda a: Option("x", "", 0.3, 1.0, 60.0), "0.3 for 30 %"),
        (lambda a: Training("x", 80.0, 0.5, 1.0), "0.7 for 70 %"),
    ],
)
def test_refused(answer, call, says):
    with pytest.raises(InputError) as error:
        call(answer)
    assert says in str(error.value)


# pictures ---------------------------------------------------------------------------------


def test_pictures_say_what_they_show_and_escape_what_is_typed(answer):
    bad = "<b>&\"'"
    entries = tuple(
        replace(one, name=bad) if one.name == "sill joint" else one for one in answer.houses.entries
    )
    shares = tuple(
        replace(one, name=bad) if one.name == "sill joint" else one for one in answer.shares
    )
    odd = replace(answer, houses=replace(answer.houses, entries=entries), shares=shares)
    us = budget_houses(odd, answer, "us")
    assert "cfm/ft²" in us and "m³" not in us
    for drawn in (budget_bars(odd), budget_bars(odd, "us"), budget_houses(odd, answer), us):
        assert 'role="img"' in drawn and bad not in drawn
    assert "59 % within the limit" in budget_houses(answer)
    table = cheapest_table(cheapest(answer)) + variance_table(variance_shares(entries))
    assert bad not in table and "workmanship of the house" in table


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("limit", [0.02, 0.5, 3.0, 11.0, 400.0])
@pytest.mark.parametrize("target", [0.01, 2.0, 9.0, 300.0])
def test_labels_stay_inside_the_picture_wherever_limit_and_target_lie(answer, limit, target, units):
    """Widths as DejaVu Sans, which matplotlib brings along, sets them."""
    goals = ({"metric": "qE50", "value": one} for one in (target, limit))
    found = answer_of(answer.houses, answer.geometry, *goals)
    drawn = budget_houses(found, units=units)
    words = re.findall(r'<text x="([-\d.]+)" y="[-\d.]+" font-size="([\d.]+)" text-anchor="(\w+)"([^>]*)>([^<]*)', drawn)  # fmt: skip
    assert {"limit", "target"} <= {one[-1].split()[0] for one in words}
    for x, size, anchor, look, said in words:
        font = FontProperties(family="DejaVu Sans", weight="bold" if "bold" in look else "normal")
        wide = TextPath((0, 0), said, size=float(size), prop=font).get_extents().width
        start = float(x) - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        assert start >= -0.5 and start + wide <= 441.0, said
