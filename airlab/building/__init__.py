"""The house: its rooms, envelope and junctions, and what one leakage flow means for it.

Tables become records, records become a geometry, a geometry turns one measured flow into every
common indicator, carries published limits onto this house and says what to aim for.
"""

from airlab.building.counting import COUNTING_RULES, CountingRule, counting_rule
from airlab.building.geometry import Geometry, Storey, geometry
from airlab.building.indicators import (
    EXPONENT_BAND,
    Indicator,
    Indicators,
    Slip,
    indicators,
    slip_sensitivity,
)
from airlab.building.line import Junction
from airlab.building.metrics import (
    FLOW_EXPONENT,
    METRICS,
    Metric,
    flow_at,
    leakage_flow_from,
    metric,
    metric_value,
)
from airlab.building.rooms import EnvelopeElement, Room
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

__all__ = [
    "COUNTING_RULES",
    "ENVELOPE",
    "ENVELOPE_KINDS",
    "EXPONENT_BAND",
    "FLOW_EXPONENT",
    "JUNCTIONS",
    "LAYER_STATUSES",
    "METRICS",
    "PARTY_KINDS",
    "PAST_RESULTS",
    "ROOMS",
    "TABLES",
    "CountingRule",
    "EnvelopeElement",
    "Geometry",
    "Indicator",
    "Indicators",
    "Junction",
    "Metric",
    "Room",
    "Slip",
    "Storey",
    "counting_rule",
    "flow_at",
    "geometry",
    "indicators",
    "leakage_flow_from",
    "metric",
    "metric_value",
    "slip_sensitivity",
]
