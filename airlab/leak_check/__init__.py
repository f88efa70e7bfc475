"""Leak check: plan the check, prepare, search, log, measure the gain, decide, protect.

When to check, what to expect on the day, whether the fan can hold the house, what to close, where to
walk, what was found, with what it is sealed, what it gained, and whether the layer may be covered.
`make_plan` gathers the plan of a job, `Log` keeps what was done, `gain` compares two readings,
`decide` weighs the release, `open_rows` asks it again row by row, `rescue` helps after a miss.
"""

from airlab.leak_check.assumptions import ASSUMPTIONS, Assumptions, assumptions_from
from airlab.leak_check.batches import fix_groups
from airlab.leak_check.budget_number import BudgetNumber, budget_number
from airlab.leak_check.day import (
    CheckDay,
    in_short,
    make_day,
    next_stage,
    reading_pair,
    stop_key,
    walked,
)
from airlab.leak_check.drift import (
    STAGE_PAIRS,
    combined_spread,
    hindcast,
    pass_mark,
    probability_final,
)
from airlab.leak_check.expected import expected_flow, holes_to_come
from airlab.leak_check.fan_choice import fan_choice, fan_ranges
from airlab.leak_check.fan_set import fan_set
from airlab.leak_check.film import film_loads
from airlab.leak_check.gain import gain, repeat_spread, smallest_provable
from airlab.leak_check.house_number import HouseNumber
from airlab.leak_check.leak import MARKS, SETTLED, STATES
from airlab.leak_check.leak_size import JET_WARNING, size_from_gap, size_from_jet
from airlab.leak_check.log import Log
from airlab.leak_check.materials import material_schedule
from airlab.leak_check.miss import Miss, after_a_miss
from airlab.leak_check.open_rows import OpenRows, decision_costs, open_rows
from airlab.leak_check.partial import OTHER_STATES, SITUATIONS, two_zones, two_zones_read
from airlab.leak_check.plan import CheckPlan, decide, make_plan
from airlab.leak_check.prepare import HazardVerdict, hazard_verdict, preparation
from airlab.leak_check.prices import PRICE_KEYS, Choices
from airlab.leak_check.readings import STAGES, correct_reading, house_flow, to_reference
from airlab.leak_check.register import HoleRegister, hole_register, weigh_hole
from airlab.leak_check.release import VERDICTS, Release, release
from airlab.leak_check.rescue import Remedy, remedy_candidates, rescue
from airlab.leak_check.route import PHASES, Stop, search_route
from airlab.leak_check.sealing import MOVEMENTS, REACHES, SHAPES, choose_fix, substrates
from airlab.leak_check.stage import LAYER_STATES, layer_state, standing_areas
from airlab.leak_check.tables import (
    DIRECTIONS,
    HEIGHTS,
    HOLES,
    LEAKS,
    OPENINGS,
    READINGS,
    TRADES,
    Hole,
    LeakEvent,
    Opening,
    Reading,
    Task,
    Trade,
)
from airlab.leak_check.weather_window import weather_window
from airlab.leak_check.when import CHECK_PATTERNS

__all__ = [
    "ASSUMPTIONS",
    "CHECK_PATTERNS",
    "DIRECTIONS",
    "HEIGHTS",
    "HOLES",
    "JET_WARNING",
    "LAYER_STATES",
    "LEAKS",
    "MARKS",
    "MOVEMENTS",
    "OPENINGS",
    "OTHER_STATES",
    "PHASES",
    "PRICE_KEYS",
    "REACHES",
    "READINGS",
    "SETTLED",
    "SHAPES",
    "SITUATIONS",
    "STAGES",
    "STAGE_PAIRS",
    "STATES",
    "TRADES",
    "VERDICTS",
    "Assumptions",
    "BudgetNumber",
    "CheckDay",
    "CheckPlan",
    "Choices",
    "HazardVerdict",
    "Hole",
    "HoleRegister",
    "HouseNumber",
    "LeakEvent",
    "Log",
    "Miss",
    "OpenRows",
    "Opening",
    "Reading",
    "Release",
    "Remedy",
    "Stop",
    "Task",
    "Trade",
    "after_a_miss",
    "assumptions_from",
    "budget_number",
    "choose_fix",
    "combined_spread",
    "correct_reading",
    "decide",
    "decision_costs",
    "expected_flow",
    "fan_choice",
    "fan_ranges",
    "fan_set",
    "film_loads",
    "fix_groups",
    "gain",
    "hazard_verdict",
    "hindcast",
    "hole_register",
    "holes_to_come",
    "house_flow",
    "in_short",
    "layer_state",
    "make_day",
    "make_plan",
    "material_schedule",
    "next_stage",
    "open_rows",
    "pass_mark",
    "preparation",
    "probability_final",
    "reading_pair",
    "release",
    "remedy_candidates",
    "repeat_spread",
    "rescue",
    "search_route",
    "size_from_gap",
    "size_from_jet",
    "smallest_provable",
    "standing_areas",
    "stop_key",
    "substrates",
    "to_reference",
    "two_zones",
    "two_zones_read",
    "walked",
    "weather_window",
    "weigh_hole",
]
