"""What can a class measure on a table, without a fan and without a computer? Three rigs, predicted.

A tub that sinks into water pushes air through a drilled hole at a nearly even pressure. The tables hold
what airlab predicts; the class writes what it measures beside it.
"""

import math
from fractions import Fraction

from airlab.physics import RoundHole, covered, hole_flow
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import make_page
from airlab.teaching.lessons import workshop
from airlab.words import caution, from_si, label, mm, show, show_duration, show_percent, to_si

__all__ = ["rigs_page"]

_GRAVITY = 9.81  # m/s2
_WATER = 1000.0 * _GRAVITY  # Pa for each metre of water
_WALL = mm(1.0)  # of the bell
_BELL = {
    "metric": (mm(200.0), mm(100.0)),
    "us": (to_si(8.0, "in"), to_si(4.0, "in")),
}  # inside diameter, way
_DRILLS = {"metric": ("2 mm", "3 mm", "4 mm", "5 mm", "6 mm"),
           "us": ("1/16 in", "3/32 in", "1/8 in", "3/16 in", "1/4 in")}  # fmt: skip
_OUTER = {
    "metric": ("3 mm", "4 mm", "6 mm", "8 mm", "12 mm"),
    "us": ("1/8 in", "3/16 in", "1/4 in", "3/8 in", "1/2 in"),
}
_PRESSURES = (50.0, 100.0, 200.0)
_BOX = 200.0  # Pa across the two-room box
_SEARCH = 100.0  # Pa in the search box
_PLANTED = (0, 1, 1, 2, 3)  # drills of the holes in the search box
_CARE = (
    "Drilling: work clamped, eyes protected, chips wiped off, edges smooth. Whoever may use the drill drills.",
    "Water: away from sockets and leads, floor wiped at once. Weights low, so that nothing falls on a foot.",
    "Air comes from the bell, never from lungs, a compressor or a vacuum cleaner.",
)


def _drilled(name):
    """Return the hole of a drill such as "3 mm" or "3/16 in"."""
    size, unit = name.split()
    return RoundHole.from_diameter(to_si(float(Fraction(size)), unit))


def rigs_page(facts):
    """Return the sheet of table-top rigs: build, predict, measure, compare; then paper activities.

    Parameters
    ----------
    facts : Facts
        Head of the page and its units.
    """
    units = facts.heading.units
    small, light = ("in", "oz") if units == "us" else ("mm", "g")

    def size(length, digits=3):
        return show(from_si(length, small), small, digits)

    bell, way = _BELL[units]
    bell_area = math.pi * bell**2 / 4.0

    def seconds(hole_area, pressure):
        return show_duration(bell_area * way / float(hole_flow(hole_area, pressure)))

    names, outer = _DRILLS[units], _OUTER[units]
    holes = [_drilled(name) for name in names]
    planted = [holes[place].area for place in _PLANTED]
    whole = math.fsum(planted)
    both = [covered(holes[-1], _drilled(name), _BOX) for name in outer]
    rigs = workshop(units)["rigs"]
    loads = ", ".join(
        f"{show(from_si(p * bell_area / _GRAVITY, light), light, 2)} for {show(p, 'Pa')}"
        for p in _PRESSURES
    )
    rigs[0]["kit"] += f" Tub and weights together weigh about {loads}."
    area = "in2" if units == "us" else "mm2"
    tables = (
        ((("hole", ""), (f"area, {label(area)}", "n"), *((f"{show(p, 'Pa')}: predicted", "n") for p in _PRESSURES),
          ("measured", "wn"), ("measured ÷ predicted", "")),
         [(name, show(from_si(one.area, area)), *(seconds(one.area, p) for p in _PRESSURES), "", "")
          for name, one in zip(names, holes)]),
        ((("partition", ""), ("outer hole", ""), (f"on the partition, of {show(_BOX, 'Pa')}", "n"), ("as water", "n"), ("flow taken off", "n"), ("measured", "wn")),
         [(names[-1], wide, show(one.pressure_on_leak, "Pa"),
           size(one.pressure_on_leak / _WATER, 2), show_percent(one.cut), "") for wide, one in zip(outer, both)]),
        ((("holes open", ""), (f"area, {label(area)}", "n"), ("predicted", "n"), ("measured", "wn"), ("gain predicted", "n"), ("gain measured", "")),
         [("all: " + ", ".join(names[place] for place in _PLANTED), show(from_si(whole, area)), seconds(whole, _SEARCH), "", "", ""),
          *((f"{names[place]} taped", show(from_si(whole - holes[place].area, area)),
             seconds(whole - holes[place].area, _SEARCH), "", show_percent(holes[place].area / whole), "")
            for place in dict.fromkeys(_PLANTED))]),
    )  # fmt: skip
    levels = ", ".join(f"{show(p, 'Pa')} is {size(p / _WATER, 2)}" for p in _PRESSURES)
    notes = (
        f"Water levels apart: {levels}. Times are for {size(way)} of sinking, bell {size(bell)} wide inside. For another "
        "bell multiply by its area over this one's. The wall floats more as it sinks, so the pressure falls, by "
        f"{show(4.0 * _WATER * _WALL * way / bell, 'Pa', 2)} over the way for each {size(_WALL, 2)} of wall.",
        "",
        f"At {show(_SEARCH, 'Pa')}, with the bell above; time for {size(way)} of sinking.",
    )
    return make_page(
        "rigs", "Table-top rigs",
        "Holes of known area. Predict with airlab, measure, compare. No fan, no computer at the table.", facts.heading,
        computed=[(f"{names[0]} hole at {show(_PRESSURES[0], 'Pa')}", seconds(holes[0].area, _PRESSURES[0]))],
        sources=named_sources("DERIVED", "AIRLAB", "TRADE"), rigs=list(zip(rigs, tables, notes)),
        care=(*_CARE, caution("smoke").text), activity_rows=[(show(one["minutes"]), one["name"], one["kit"], one["how"]) for one in workshop()["activities"]],
    )  # fmt: skip
