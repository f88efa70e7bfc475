"""The practice house: tables of a house, leaks hidden by a seed, a day of searching, a debrief.

What is felt, seen and measured in it comes from the mass balance of the whole house.
"""

from airlab.teaching.practice.hiding import FAULTS, Hidden, hide
from airlab.teaching.practice.house import House, make_house
from airlab.teaching.practice.hunt import Session, start
from airlab.teaching.practice.score import RESULTS, Debrief, debrief, result_row
from airlab.teaching.practice.tables import TABLES

__all__ = [
    "FAULTS",
    "RESULTS",
    "TABLES",
    "Debrief",
    "Hidden",
    "House",
    "Session",
    "debrief",
    "hide",
    "make_house",
    "result_row",
    "start",
]
