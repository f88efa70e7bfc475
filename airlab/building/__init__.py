"""The house: its rooms, envelope and junctions, and what one leakage flow means for it.

Tables become records, records become a geometry, a geometry turns one measured flow into every
common indicator, carries published limits onto this house and says what to aim for.
"""

from airlab.building.aim import (
    ASSUMED_SPREAD,
    PUBLISHED_CONTEXT,
    Aim,
    History,
    PastResult,
    PublishedContext,
    aim_for,
    history,
    pass_probability,
)
from airlab.building.combustion import APPLIANCES, appliance, background_vents, combustion_air
from airlab.building.contract import CONTRACT_CHOICES, ContractLine, contract_line
from airlab.building.counting import COUNTING_RULES, NATIONAL_COUNTING, counting_rule
from airlab.building.exponent import FLOW_EXPONENT, flow_at
from airlab.building.fit import VentilationFit, leaks_supply, ventilation_fit
from airlab.building.geometry import Geometry, geometry
from airlab.building.indicators import Indicators, Slip, indicators, slip_sensitivity
from airlab.building.limits import (
    LIMIT_KINDS,
    CarriedLimit,
    Limit,
    carried_onto,
    judge,
    limit_countries,
    limits,
    own_limit,
)
from airlab.building.line import NOT_MEETING, Junction
from airlab.building.line_check import check_line
from airlab.building.line_details import (
    CONSTRUCTIONS,
    FAMILIES,
    detail_for,
    family_of,
    line_details,
    line_template,
)
from airlab.building.line_elements import line_elements
from airlab.building.line_lengths import junction_lengths, with_lengths
from airlab.building.line_lifts import LIFTS
from airlab.building.line_order import PlanView
from airlab.building.line_views import LineViews, line_views
from airlab.building.metrics import METRICS, leakage_flow_from, metric, metric_value
from airlab.building.rooms import EnvelopeElement, Room
from airlab.building.rough import STAGE_CHANGES, RoughStart, rough_start
from airlab.building.tables import ENVELOPE, JUNCTIONS, PAST_RESULTS, ROOMS
from airlab.building.ventilation import (
    SUCTION_CAUTIONS,
    SuctionCaution,
    fan_suction,
    ventilation_needs,
)

__all__ = [
    "APPLIANCES",
    "ASSUMED_SPREAD",
    "CONSTRUCTIONS",
    "CONTRACT_CHOICES",
    "COUNTING_RULES",
    "ENVELOPE",
    "FAMILIES",
    "FLOW_EXPONENT",
    "JUNCTIONS",
    "LIFTS",
    "LIMIT_KINDS",
    "METRICS",
    "NATIONAL_COUNTING",
    "NOT_MEETING",
    "PAST_RESULTS",
    "PUBLISHED_CONTEXT",
    "ROOMS",
    "STAGE_CHANGES",
    "SUCTION_CAUTIONS",
    "Aim",
    "CarriedLimit",
    "ContractLine",
    "EnvelopeElement",
    "Geometry",
    "History",
    "Indicators",
    "Junction",
    "Limit",
    "LineViews",
    "PastResult",
    "PlanView",
    "PublishedContext",
    "Room",
    "RoughStart",
    "Slip",
    "SuctionCaution",
    "VentilationFit",
    "aim_for",
    "appliance",
    "background_vents",
    "carried_onto",
    "check_line",
    "combustion_air",
    "contract_line",
    "counting_rule",
    "detail_for",
    "family_of",
    "fan_suction",
    "flow_at",
    "geometry",
    "history",
    "indicators",
    "judge",
    "junction_lengths",
    "leakage_flow_from",
    "leaks_supply",
    "limit_countries",
    "limits",
    "line_details",
    "line_elements",
    "line_template",
    "line_views",
    "metric",
    "metric_value",
    "own_limit",
    "pass_probability",
    "rough_start",
    "slip_sensitivity",
    "ventilation_fit",
    "ventilation_needs",
    "with_lengths",
]
