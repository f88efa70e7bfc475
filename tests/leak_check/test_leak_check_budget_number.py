"""The number by the budget's posterior beside the number by the drift."""

from dataclasses import replace
from math import exp, log, sqrt
from statistics import NormalDist

import numpy as np
import pytest

from airlab.design import BudgetLine
from airlab.files import demo_job
from airlab.leak_check import Reading, decide
from airlab.leak_check.budget_number import budget_number
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
    found = budget_number(board, [prior], count=100_000, readings=(
        Reading("1", 50.0, m3_per_h(340), "depressurise", stage="after sealing"),
    ))  # fmt: skip
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
    found = budget_number(board, [built, later], count=100_000, readings=(
        Reading("1", 50.0, m3_per_h(260), "depressurise", stage="after sealing"),
    ))  # fmt: skip
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


def test_both_numbers_stand_side_by_side():
    job = demo_job()
    reading = (Reading("1", 50.0, m3_per_h(515)),)
    found = budget_number(job, readings=reading)
    assert found.by_drift == decide(job, weigh=False, readings=reading).probability
    assert "By the budget, taught by today's reading" in found.sentence()
    assert not found.apart
    far = budget_number(job, readings=(Reading("1", 50.0, m3_per_h(650)),))
    assert far.apart and "Go by the lower one" in far.sentence()
    tighter = budget_number(job, readings=(Reading("1", 50.0, m3_per_h(420)),))
    assert tighter.probability > found.probability > far.probability


def test_where_the_budget_did_not_foresee_it(board):
    found = budget_number(board, [line("all", 290.0, 300.0, 310.0)], readings=(
        Reading("1", 50.0, m3_per_h(900), "depressurise"),
    ))  # fmt: skip
    assert found.probability is None and "The budget says nothing" in found.sentence()


def test_without_budget_or_number_there_is_none(board):
    assert budget_number(board) is None
    assert budget_number(demo_job()) is None  # no reading yet
