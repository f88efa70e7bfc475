"""Leak check: plan the check, prepare, search, log, measure the gain, decide, protect.

What to expect on the day, whether the fan can hold the house, what to close, where to walk, what
was found and sealed, what it gained, and whether the layer may be covered. `make_plan` gathers the
plan of a job, `Log` keeps what was done, `gain` compares two readings, `decide` weighs the release.
"""

from airlab.leak_check.assumptions import ASSUMPTIONS, Assumption, Assumptions, assumptions_from
from airlab.leak_check.drift import (
    STAGE_PAIRS,
    Hindcast,
    StagePair,
    combined_spread,
    hindcast,
    pass_mark,
    probability_final,
)
from airlab.leak_check.expected import ExpectedFlow, HolesToCome, expected_flow, holes_to_come
from airlab.leak_check.fan_choice import FanChoice, fan_choice, fan_from_settings
from airlab.leak_check.gain import Gain, RepeatSpread, gain, repeat_spread, smallest_provable
from airlab.leak_check.house_number import HouseNumber, Moved, final_geometry, goal_flow
from airlab.leak_check.leak import SETTLED, STATES, Leak
from airlab.leak_check.log import Log
from airlab.leak_check.plan import CheckPlan, decide, make_plan
from airlab.leak_check.prepare import (
    HazardVerdict,
    Preparation,
    PreparedOpening,
    hazard_verdict,
    preparation,
)
from airlab.leak_check.readings import (
    STAGES,
    CorrectedReading,
    HouseFlow,
    correct_reading,
    house_flow,
    one_point_spread,
    to_reference,
)
from airlab.leak_check.release import VERDICTS, AreaRelease, Release, release
from airlab.leak_check.route import PHASES, Route, Stop, search_route
from airlab.leak_check.stage import LAYER_STATES, LayerState, layer_state, standing_areas
from airlab.leak_check.tables import (
    DID,
    DIRECTIONS,
    HEIGHTS,
    HOLES,
    LEAKS,
    OPENING_KINDS,
    OPENING_STATES,
    OPENINGS,
    READINGS,
    TRADES,
    Hole,
    LeakEvent,
    Opening,
    Reading,
    Trade,
)

__all__ = [
    "ASSUMPTIONS",
    "DID",
    "DIRECTIONS",
    "HEIGHTS",
    "HOLES",
    "LAYER_STATES",
    "LEAKS",
    "OPENINGS",
    "OPENING_KINDS",
    "OPENING_STATES",
    "PHASES",
    "READINGS",
    "SETTLED",
    "STAGES",
    "STAGE_PAIRS",
    "STATES",
    "TRADES",
    "VERDICTS",
    "AreaRelease",
    "Assumption",
    "Assumptions",
    "CheckPlan",
    "CorrectedReading",
    "ExpectedFlow",
    "FanChoice",
    "Gain",
    "HazardVerdict",
    "Hindcast",
    "Hole",
    "HolesToCome",
    "HouseFlow",
    "HouseNumber",
    "LayerState",
    "Leak",
    "LeakEvent",
    "Log",
    "Moved",
    "Opening",
    "Preparation",
    "PreparedOpening",
    "Reading",
    "Release",
    "RepeatSpread",
    "Route",
    "StagePair",
    "Stop",
    "Trade",
    "assumptions_from",
    "combined_spread",
    "correct_reading",
    "decide",
    "expected_flow",
    "fan_choice",
    "fan_from_settings",
    "final_geometry",
    "gain",
    "goal_flow",
    "hazard_verdict",
    "hindcast",
    "holes_to_come",
    "house_flow",
    "layer_state",
    "make_plan",
    "one_point_spread",
    "pass_mark",
    "preparation",
    "probability_final",
    "release",
    "repeat_spread",
    "search_route",
    "smallest_provable",
    "standing_areas",
    "to_reference",
]
