"""Vocabulary and sources: the two kinds of entry every floor declares, and this floor's own.

A floor keeps one file `terms.py` with two tuples, `TERMS` and `SOURCES`. Docstrings, axis labels,
panel labels, column headers and the glossary take their words from them, and a test compares.
"""

from dataclasses import dataclass

from airlab.words.errors import InputError
from airlab.words.guards import require_choice
from airlab.words.units import label as unit_label

__all__ = ["SOURCES", "STATUSES", "TERMS", "Source", "Term", "gather_sources", "gather_terms"]

# How a figure or a text was obtained.
STATUSES = ("read", "second-hand", "common practice", "from memory", "assumption", "derived")


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from and how it was obtained."""

    key: str
    body: str
    title: str
    year: str
    locator: str
    status: str

    def __post_init__(self):
        require_choice("status", self.status, STATUSES)

    def sentence(self):
        """Return the source as one line for a page's foot."""
        parts = [self.body, self.title, self.year, self.locator]
        return ", ".join(part for part in parts if part) + f" ({self.status})"


@dataclass(frozen=True, slots=True)
class Term:
    """A quantity: its name in code, symbol, unit, meaning in plain words, source key."""

    name: str
    symbol: str
    unit: str
    meaning: str
    source: str = ""

    def __post_init__(self):
        unit_label(self.unit)

    @property
    def words(self):
        """The name as people read it."""
        return self.name.replace("_", " ")


def gather_terms(*floors):
    """Return {name: Term} over the floors' terms; the same name must mean the same thing."""
    return _gather("term", "name", *(floor.TERMS for floor in floors))


def gather_sources(*floors):
    """Return {key: Source} over the floors' sources; a key stands for one source."""
    return _gather("source", "key", *(floor.SOURCES for floor in floors))


def _gather(kind, field, *tuples):
    found = {}
    for entry in (entry for one in tuples for entry in one):
        name = getattr(entry, field)
        if found.setdefault(name, entry) != entry:
            raise InputError(f"The {kind} {name!r} is declared twice with different content.")
    return found


SOURCES = (
    Source("SI", "BIPM", "The International System of Units, 9th ed.", "2019", "", "from memory"),
    Source("ISO9972", "ISO", "ISO 9972, Thermal performance of buildings: determination of air "
           "permeability of buildings, fan pressurization method", "2015",
           "names and symbols", "from memory"),
    Source("TIGHTVENT", "TightVent Europe", "FAQ: how is building airtightness quantified?", "",
           "indicator names and the volume or area they use", "read"),
    Source("TRADE", "the trade", "common practice on site, no published source", "", "",
           "common practice"),
    Source("AIRLAB", "this project", "assumption of the authors, to be replaced by your own", "",
           "", "assumption"),
    Source("DERIVED", "this project", "derived here from the stated formula", "", "", "derived"),
)  # fmt: skip

TERMS = (
    Term("pressure_difference", "Δp", "Pa", "inside pressure minus outside pressure", "ISO9972"),
    Term("temperature", "θ", "C", "air temperature"),
    Term("pressure", "p", "Pa", "absolute air pressure"),
    Term("relative_humidity", "φ", "-", "water vapour in the air as a fraction of the most it can "
         "hold, 0 to 1"),
    Term("volume", "V", "m3", "space filled by air"),
    Term("flow", "q", "m3/s", "air volume that passes in a time; positive outwards", "ISO9972"),
    Term("time", "t", "s", "time since the start"),
    Term("density", "ρ", "kg/m3", "mass of a volume of air"),
    Term("viscosity", "μ", "Pa.s", "how strongly the air resists shearing"),
    Term("air_change_rate", "ACH", "1/h", "how many times an hour the flow would fill the volume; "
         "always said with its pressure", "TIGHTVENT"),
)  # fmt: skip
