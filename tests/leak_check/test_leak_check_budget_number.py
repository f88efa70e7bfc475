"""The number by the budget's posterior beside the number by the drift."""

from dataclasses import replace
from math import exp, log, sqrt
from statistics import NormalDist

import numpy as np
import pytest

from airlab.design import BudgetLine
from airlab.files import demo_job
from airlab.leak_check import Reading, decide, open_rows
from airlab.leak_check.day import in_short
from airlab.words import from_si, m3_per_h

TENTH = NormalDist().inv_cdf(0.9)


def line(name, low, mid, high, **more):
    return BudgetLine(name, 1.0, "item", "", "", *(m3_per_h(q) for q in (low, mid, high)), **more)


@pytest.fixture
def board(house):
    house.junctions = tuple(replace(j, length=1.0) for j in house.junctions)
    return house


# Known answer: one line, log-normal; reading log-normal about it. The posterior of the logarithm is
# normal with 1/s² = 1/s0² + 1/u² (textbook conjugate rule), and the line is all of the house.


def test_one_line_by_the_conjugate_rule(board):
    prior = line("all", 200.0, 300.0, 450.0)
    s0, u = log(450 / 200) / (2 * TENTH), 0.03
    board.settings["limit"]["value"] = 330.0 / 300.0  # 330 m³/h in 300 m³
    found = decide(board, budget=[prior], readings=(
        Reading("1", 50.0, m3_per_h(340), "depressurise", stage="after sealing"),
    )).by_budget  # fmt: skip
    precision = 1 / s0**2 + 1 / u**2
    mean = (log(300) / s0**2 + log(340) / u**2) / precision
    spread = sqrt(1 / precision + u**2)  # the final test has its own spread
    exact = NormalDist().cdf((log(330) - mean) / spread)
    assert found.probability == pytest.approx(exact, abs=0.01)
    low, high = (exp(mean + z * sqrt(1 / precision)) for z in (-TENTH, TENTH))
    assert [from_si(q, "m3/h") for q in found.final[::2]] == pytest.approx([low, high], rel=0.005)


def test_posterior_against_a_grid(board):
    """Two lines, one of them still to be built: the same sum on a grid of both."""
    built = line("built", 150.0, 250.0, 400.0, grade="tested product")
    later = line("later", 20.0, 60.0, 180.0, grade="tested product", at_check="not built yet")
    board.settings["limit"]["value"] = 360.0 / 300.0
    found = decide(board, budget=[built, later], readings=(
        Reading("1", 50.0, m3_per_h(260), "depressurise", stage="after sealing"),
    )).by_budget  # fmt: skip
    z = np.linspace(-5, 5, 401)
    weight = np.exp(-0.5 * z**2)
    now = 250 * np.exp(z * log(400 / 150) / (2 * TENTH))
    come = 60 * np.exp(z * log(180 / 20) / (2 * TENTH))
    fits = weight * np.exp(-0.5 * (np.log(now / 260) / 0.03) ** 2)
    total = now[:, None] + come[None, :]
    normal = np.vectorize(NormalDist().cdf)
    keeps = normal(np.log(360 / total) / 0.03)
    grid = float(np.sum(fits[:, None] * weight[None, :] * keeps) / (fits.sum() * weight.sum()))
    assert found.probability == pytest.approx(grid, abs=0.012)


def by_budget(job, flow, **parts):
    return decide(job, False, readings=(Reading("1", 50.0, m3_per_h(flow)),), **parts).by_budget


def test_both_numbers_stand_side_by_side():
    job = demo_job()
    found = by_budget(job, 515)
    assert (
        found.by_drift
        == decide(job, False, readings=(Reading("1", 50.0, m3_per_h(515)),)).number.probability
    )
    assert "By the budget, taught by today's reading" in found.sentence()
    assert not found.apart
    far = by_budget(job, 650)
    assert far.apart and "so the lower decides" in far.sentence()
    tighter = by_budget(job, 420)
    assert tighter.probability > found.probability > far.probability


def test_the_job_s_own_assumptions_of_the_budget_are_read():
    """What hands have in common teaches the lines not built yet; a later layer takes off what it leaves."""
    job = still_to_build()
    alone, wholly = (
        by_budget(replace(job, assumptions={"shared_workmanship": one}), 400) for one in (0.0, 1.0)
    )
    assert alone.final[2] != pytest.approx(wholly.final[2], rel=0.02)
    covered = replace(demo_job(), budget=tuple(
        replace(one, at_check="covered by a later layer") if one.item == "walls" else one
        for one in demo_job().budget
    ))  # fmt: skip
    little, much = (
        by_budget(replace(covered, assumptions={"later_layer_leaves": one}), 515)
        for one in (0.2, 1.0)
    )
    assert little.final[1] < much.final[1]


NOT_BUILT = ("eaves joint", "sill joint", "window frames", "door frames", "floor edge joint")


def still_to_build():
    """The demo house with its leakiest joints not built yet: a good reading says little."""
    job = demo_job()
    return replace(job, budget=tuple(
        replace(one, at_check="not built yet") if one.item in NOT_BUILT else one for one in job.budget
    ), readings=(Reading("1", 50.0, m3_per_h(480)),))  # fmt: skip


def test_the_lower_of_budget_and_drift_decides():
    found = decide(still_to_build(), weigh=False)
    assert found.number.probability > 0.9 > 0.01 > found.by_budget.probability == found.probability
    assert found.verdict == "NOT YET" and not found.supported
    short = in_short(found)
    assert "under 1 % by the budget, 98 % by the drift; the lower decides" in short
    assert "Under 1 % by the budget is less than the 90 % wanted." in found.reasons
    # where the drift is the lower one, it decides
    drift = decide(demo_job(), False, readings=(Reading("1", 50.0, m3_per_h(650)),))
    assert drift.by_budget.probability > 0.9 > drift.number.probability == drift.probability
    assert drift.verdict == "NOT YET" and "70 % by the drift is less" in " ".join(drift.reasons)


def test_what_moves_the_chance_is_asked_of_both():
    job = replace(demo_job(), readings=(Reading("1", 50.0, m3_per_h(520)),))
    moved = decide(job).moved
    assert len(moved) == 3
    for one in moved:
        own = dict(job.settings) | {"assumptions": {one.assumption.key: one.low}}
        assert decide(job, False, settings=own).probability == pytest.approx(one.at_low)


def test_open_rows_stand_on_the_lower_one():
    found = open_rows(still_to_build())
    assert found.verdict == "NOT YET" and found.probability < 0.01
    assert {row.verdict for row in found.rows} == {"NOT YET"} and found.together == "NOT YET"


def test_where_the_budget_did_not_foresee_it(board):
    """Too few houses are no number: the drift decides, and its release is on a condition."""
    budget = [line("all", 290.0, 300.0, 310.0)]
    found = decide(board, False, budget=budget, readings=(
        Reading("1", 50.0, m3_per_h(150), "depressurise"),
    ))  # fmt: skip
    assert (
        found.by_budget.probability is None
        and "The budget says nothing" in found.by_budget.sentence()
    )
    assert found.probability == found.number.probability > 0.9
    assert found.verdict == "GO WITH CONDITIONS"
    assert "The drift decides alone: too few houses" in " ".join(found.conditions)
    assert "no number by the budget" in in_short(found)
    lost = decide(board, False, budget=[replace(budget[0], quantity=None, sizes_from="no area")])
    assert "the lines of the budget cannot be used" in " ".join(lost.conditions)
    assert "The budget is left out: " in lost.by_budget.sentence()


def test_without_budget_or_number_there_is_none(board):
    assert decide(board).by_budget is None
    assert decide(demo_job()).by_budget is None  # no reading yet


def test_a_budget_with_nothing_in_place_is_no_number(board):
    budget = [line("unknown", 100.0, 300.0, 500.0, at_check="not built yet")]
    assert decide(board, False, budget=budget).by_budget.probability is None
