"""Vocabulary and sources of the design floor."""

from airlab.words.terms import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("shared_workmanship", "ρ", "-", "share of a line's log-variance that all hand-made lines of "
         "one house have in common", "AIRLAB"),
    Term("later_share", "f_later", "-", "what a later layer leaves of the leakage it covers", "AIRLAB"),
)  # fmt: skip

SOURCES = (
    Source("FENTON1960", "L. F. Fenton", "The sum of log-normal probability distributions in scatter "
           "transmission systems", "1960", "matching of mean and variance", "from memory"),
    Source("SALTELLI", "Saltelli and others", "Global Sensitivity Analysis: The Primer", "2008",
           "first-order and total variance shares", "from memory"),
    Source("HIGHS", "Huangfu and Hall", "HiGHS, mixed-integer solver within scipy", "2018",
           "scipy.optimize.milp", "read"),
)  # fmt: skip
