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
from airlab.building.counting import COUNTING_RULES, CountingRule, counting_rule
from airlab.building.exponent import FLOW_EXPONENT, flow_at, implied_exponent
from airlab.building.geometry import Geometry, Storey, geometry
from airlab.building.indicators import (
    EXPONENT_BAND,
    Indicator,
    Indicators,
    Slip,
    indicators,
    slip_sensitivity,
)
from airlab.building.limits import (
    LIMIT_KINDS,
    CarriedLimit,
    Limit,
    Verdict,
    carried_onto,
    judge,
    limit_countries,
    limits,
    own_limit,
)
from airlab.building.line import Junction
from airlab.building.metrics import (
    METRICS,
    Metric,
    leakage_flow_from,
    metric,
    metric_value,
)
from airlab.building.rooms import EnvelopeElement, Room
from airlab.building.rough import ROUGH_TARGETS, STAGE_CHANGES, RoughStart, rough_start
from airlab.building.tables import (
    ENVELOPE,
    ENVELOPE_KINDS,
    JUNCTIONS,
    LAYER_STATUSES,
    PARTY_KINDS,
    PAST_RESULTS,
    ROOMS,
    TABLES,
)
from airlab.building.ventilation import (
    SUCTION_CAUTIONS,
    FanSuction,
    SuctionCaution,
    VentilationNeed,
    fan_suction,
    ventilation_needs,
)

__all__ = [
    "ASSUMED_SPREAD",
    "COUNTING_RULES",
    "ENVELOPE",
    "ENVELOPE_KINDS",
    "EXPONENT_BAND",
    "FLOW_EXPONENT",
    "JUNCTIONS",
    "LAYER_STATUSES",
    "LIMIT_KINDS",
    "METRICS",
    "PARTY_KINDS",
    "PAST_RESULTS",
    "PUBLISHED_CONTEXT",
    "ROOMS",
    "ROUGH_TARGETS",
    "STAGE_CHANGES",
    "SUCTION_CAUTIONS",
    "TABLES",
    "Aim",
    "CarriedLimit",
    "CountingRule",
    "EnvelopeElement",
    "FanSuction",
    "Geometry",
    "History",
    "Indicator",
    "Indicators",
    "Junction",
    "Limit",
    "Metric",
    "PastResult",
    "PublishedContext",
    "Room",
    "RoughStart",
    "Slip",
    "Storey",
    "SuctionCaution",
    "VentilationNeed",
    "Verdict",
    "aim_for",
    "carried_onto",
    "counting_rule",
    "fan_suction",
    "flow_at",
    "geometry",
    "history",
    "implied_exponent",
    "indicators",
    "judge",
    "leakage_flow_from",
    "limit_countries",
    "limits",
    "metric",
    "metric_value",
    "own_limit",
    "pass_probability",
    "rough_start",
    "slip_sensitivity",
    "ventilation_needs",
]
