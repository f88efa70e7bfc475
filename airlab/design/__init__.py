"""Design: spend a leakage budget before the house is built, with its honest spread.

Lines of a budget become flows with a spread and a workmanship they share; many houses are drawn
from them. From those come the chance of keeping aim and limit, what leaks most, whose uncertainty
matters, what a better detail is worth, the cheapest way under, and what a measurement teaches.
"""

from airlab.design.answers import (
    HONESTY,
    BudgetAnswer,
    answer_of,
    make_budget,
    what_if,
    with_houses,
)
from airlab.design.budget import BUDGET, BudgetLine
from airlab.design.cheapest import CheapestWay, cheapest, price_list
from airlab.design.entries import Entry, budget_entries
from airlab.design.learn import Lesson, learn, taught_lines
from airlab.design.spread import TEST_SPREAD, draw_houses, fit_lognormal
from airlab.design.training import TRAINING, Training
from airlab.design.variance import VarianceShare, variance_shares

__all__ = [
    "BUDGET",
    "HONESTY",
    "TEST_SPREAD",
    "TRAINING",
    "BudgetAnswer",
    "BudgetLine",
    "CheapestWay",
    "Entry",
    "Lesson",
    "Training",
    "VarianceShare",
    "answer_of",
    "budget_entries",
    "cheapest",
    "draw_houses",
    "fit_lognormal",
    "learn",
    "make_budget",
    "price_list",
    "taught_lines",
    "variance_shares",
    "what_if",
    "with_houses",
]
