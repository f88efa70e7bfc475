"""Which joints, faces and materials does the sealing table hold, and from whom?

Generic types only. The reasons are the trade's or a study's; shares left open are mostly assumptions.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from airlab.building import terms as building_terms
from airlab.leak_check import terms
from airlab.physics import terms as physics_terms
from airlab.words import show, to_si
from airlab.words import terms as words_terms
from airlab.words.terms import gather_sources

__all__ = ["SealOption", "origin", "seal_cases", "seal_options", "substrates"]


@cache
def _sources():
    return gather_sources(words_terms, physics_terms, building_terms, terms)


def origin(source, status):
    """Return who says so and how it was obtained, in words."""
    return f"{_sources()[source].body}, {status}"


@dataclass(frozen=True, slots=True)
class SealOption:
    """One way to seal a joint.

    Parameters
    ----------
    material, verdict : str
        Generic material; right, possible or wrong here.
    gap : float or None
        Widest gap it takes. [m]
    moves : str
        How much movement it takes, of `MOVEMENTS`.
    wait : float
        Before it is looked at again. [h]
    per : str
        Counted by m, m2 or item.
    residual, later : float
        Share of the leak left open now; factor on it as years go by. [-]
    figures : str
        How the share was obtained; the factor is an assumption.
    reason, source, status : str
        Why, from whom, how obtained.
    """

    material: str
    verdict: str
    gap: float | None
    moves: str
    wait: float
    per: str
    residual: float
    later: float
    figures: str
    reason: str
    source: str
    status: str

    @property
    def accepted(self):
        """Whether the choice can be defended."""
        return self.verdict != "wrong"

    @property
    def origin(self):
        """Who says so, and how it was obtained."""
        return origin(self.source, self.status)

    def sentence(self, units="metric"):
        """Return material, reason and wait in words."""
        wait = f", wait {show(self.wait)} h before the re-check" if self.wait else ""
        return (
            f"{self.material[:1].upper()}{self.material[1:]} ({self.verdict}){wait}: {self.reason} "
            f"({self.origin})."
        )


@cache
def _rows(name):
    text = files("airlab.leak_check").joinpath(name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def seal_cases():
    """Return {case: row} of the joints, in the table's order."""
    return {row["case"]: row for row in _rows("sealing_cases.csv")}


@cache
def seal_options(case):
    """Return the ways to seal a joint, as the table has them."""
    return tuple(
        SealOption(
            row["material"], row["verdict"],
            to_si(float(row["gap_high_mm"]), "mm") if row["gap_high_mm"] else None, row["moves"],
            float(row["wait_h"]), row["per"], float(row["residual"]), float(row["later"]),
            row["figures"], row["reason"], row["source"], row["status"],
        )
        for row in _rows("sealing.csv") if row["case"] == case
    )  # fmt: skip


def substrates():
    """Return every face that the table knows, in its order."""
    found = [
        name
        for row in seal_cases().values()
        for side in ("first", "second")
        for name in row[side].split("|")
        if name and name not in ("rim", "finish")
    ]
    return tuple(dict.fromkeys(found))
