"""Words: vocabulary, sources, units, the printing of numbers, cautions, and the one error class.

The ground floor. Everything else stands on it; it uses the standard library and numpy alone.
"""

from airlab.words.cautions import CAUTIONS, HAZARD_ANSWERS, Caution, caution, hazards
from airlab.words.columns import Column, Table
from airlab.words.errors import InputError
from airlab.words.guards import (
    require_between,
    require_choice,
    require_finite,
    require_positive,
)
from airlab.words.numbers import (
    normal_point,
    show,
    show_clock,
    show_duration,
    show_percent,
    show_range,
    us_worth,
)
from airlab.words.terms import STATUSES, Source, Term, gather_sources, gather_terms
from airlab.words.units import (
    PRESSURE_REFERENCE,
    ach,
    cfm,
    cm2,
    convert,
    display_unit,
    from_si,
    label,
    litre_per_s,
    m3_per_h,
    mm,
    to_si,
)

__all__ = [
    "CAUTIONS",
    "HAZARD_ANSWERS",
    "PRESSURE_REFERENCE",
    "STATUSES",
    "Caution",
    "Column",
    "InputError",
    "Source",
    "Table",
    "Term",
    "ach",
    "caution",
    "cfm",
    "cm2",
    "convert",
    "display_unit",
    "from_si",
    "gather_sources",
    "gather_terms",
    "hazards",
    "label",
    "litre_per_s",
    "m3_per_h",
    "mm",
    "normal_point",
    "require_between",
    "require_choice",
    "require_finite",
    "require_positive",
    "show",
    "show_clock",
    "show_duration",
    "show_percent",
    "show_range",
    "to_si",
    "us_worth",
]
