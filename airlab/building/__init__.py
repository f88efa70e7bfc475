"""The house: its rooms, envelope and junctions, and what one leakage flow means for it.

Tables become records, records become a geometry, a geometry turns one measured flow into every
common indicator, carries published limits onto this house and says what to aim for.
"""

from airlab.building.line import Junction
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
    "ENVELOPE",
    "ENVELOPE_KINDS",
    "JUNCTIONS",
    "LAYER_STATUSES",
    "PARTY_KINDS",
    "PAST_RESULTS",
    "ROOMS",
    "TABLES",
    "EnvelopeElement",
    "Junction",
    "Room",
]
