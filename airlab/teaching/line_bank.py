"""Exercises of 03: count the pen lifts of a drawn line, say who owns each, see what one costs.

The studio is invented for the exercise. Its line is checked by the graph, so the keys are never
typed in.
"""

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from airlab.building import EnvelopeElement, Junction, LineViews, Room, line_template, line_views
from airlab.physics import equivalent_hole_area
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.teaching.variants import template
from airlab.words import from_si, m3_per_h, show

__all__ = ["LINE", "LineCase", "line_case", "line_case_views"]

_WORST = 31.0  # m3/(h.m) at 50 Pa, worst of 13 measured ways to join a frame to a wall


class LineCase(NamedTuple):
    """What a line is drawn from."""

    rooms: tuple[Room, ...]
    envelope: tuple[EnvelopeElement, ...]
    junctions: tuple[Junction, ...]


@lru_cache(maxsize=1)
def line_case():
    """Return the invented studio, with pen lifts in its line."""
    rooms = tuple(
        Room(name, storey, long, 4.0, tall)
        for name, storey, long, tall in (
            ("Studio", "ground", 5.0, 2.6), ("Stair", "ground", 1.6, 2.6),
            ("Gallery", "first", 5.0, 2.4), ("Landing", "first", 1.6, 2.4),
        )
    )  # fmt: skip
    areas = []

    def area(element, kind, room, size, layer="membrane"):
        areas.append(EnvelopeElement(f"{element} {room}", element, kind, room, size, layer))

    for room in rooms:
        side = "right wall" if room.name in ("Studio", "Gallery") else "left wall"
        for wall in ("front wall", "back wall"):
            area(wall, "wall", room.name, room.length * room.height)
        area(side, "wall", room.name, 4.0 * room.height)
        if room.storey == "ground":
            area("slab", "floor", room.name, room.area, "concrete")
        else:
            area("ceiling", "ceiling", room.name, room.area)
    area("floor edge", "floor edge", "Studio", 6.0)
    area("front windows", "window", "Gallery", 1.44, "frame")
    area("front door", "door", "Stair", 2.0, "frame")
    area("back window", "window", "Studio", 1.44, "frame")
    area("loft hatch", "hatch", "Landing", 0.5, "lining")
    lifted = ("ceiling to back wall", "front door to front wall", "floor edge to left wall")
    rows = tuple(
        replace(row, closed=row.junction not in lifted)
        for row in line_template("timber frame with membrane", rooms, areas)
        if row.junction != "loft hatch to ceiling"  # nobody drew it
    )
    return LineCase(rooms, tuple(areas), rows)


@lru_cache(maxsize=1)
def line_case_views() -> LineViews:
    """Return plan and sections of the studio with what the graph says of its line."""
    return line_views(*line_case())


def _section():
    return next(view for view in line_case_views().sections if view.key == "section A")


def _in_section():
    return float(sum(not mark.closed for mark in _section().marks))


def _in_house():
    return float(len(line_case_views().check.lifts))


def _entered():
    return float(sum(mark.state == "open" for mark in _section().marks))


def _owner(name):
    return line_case_views().check.lift_at(name).owner or "nobody yet"


_OWNERS = ("carpenter", "window fitter", "nobody yet")


@template(
    "03-11", wide=(0.8, 0.9, 1.0, 1.2, 1.5, 1.8, 2.0), tall=(0.6, 1.0, 1.2, 1.3, 1.4, 1.5, 2.1)
)
def _window_joint(key, wide=1.2, tall=1.2):
    frame = 2.0 * (wide + tall)
    hole = from_si(equivalent_hole_area(m3_per_h(_WORST * frame)), "cm2")
    return Numeric(
        key, f"A window of {show(wide)} by {show(tall)} m has {show(frame)} m of joint to its wall. The "
        "worst of thirteen measured ways to join it let 31 m³ an hour through each metre at 50 Pa. What "
        "does this one lift cost, in m³/h at 50 Pa?",
        lambda: _WORST * frame, "m3/h",
        f"As much as a hole of about {show(hole, digits=2)} cm². The best of the thirteen let nothing "
        "through.",
        (
            Slip(_WORST, f"That is one metre. There are {show(frame)} of them."),
            Slip(_WORST * wide * tall, "Air passes the joint, not the glass: take the length, not the "
                 "area."),
            Slip(_WORST * (wide + tall), "Two sides only? Frames leak all round."),
        ),
        source="VANDENBOSSCHE_2012",
    )  # fmt: skip


LINE = (
    Numeric(
        "03-7", "Section A of the studio: follow the layer once round. How often must the pen lift?",
        _in_section, "-",
        "At the front door, where the ceiling meets the back wall, and round the hatch.",
        (
            Slip(_entered, "You counted the gaps that bear a number. A junction that nobody entered "
                 "is a lift, too: look at the ceiling."),
            Slip(_in_house, "That is the whole house. One of them is not cut by this section."),
            Slip(lambda: float(len(_section().marks)), "Those are all the junctions. Count only "
                 "where the line is broken."),
        ),
        tolerance=1e-6, source="TRADE",
    ),
    Numeric(
        "03-8", "The whole studio, plan and both sections: how many pen lifts?",
        _in_house, "-",
        "One more than in section A: the floor edge at the left wall shows in section B alone.",
        (
            Slip(_in_section, "That is section A. Look at the other section and the plan."),
            Slip(lambda: float(len(line_case_views().marks)), "Those are all the junctions. Count "
                 "only where the line is broken."),
        ),
        tolerance=1e-6, source="TRADE",
    ),
    Choice(
        "03-9", "Who owns the lift where the ceiling meets the back wall?", _OWNERS,
        lambda: _owner("ceiling to back wall"),
        "The carpenter hangs the ceiling membrane and laps it down the wall. One name for each "
        "junction, and that name is asked.",
        {
            "window fitter": "The window fitter owns the frames. This is ceiling and wall.",
            "nobody yet": "The list beside the drawing names an owner for it.",
        },
        source="TRADE",
    ),
    Choice(
        "03-10", "And who owns the lift round the loft hatch?", _OWNERS,
        lambda: _owner("loft hatch to ceiling"),
        "It stands in no list, so nobody closes it. Enter it and give it a name: that is the first "
        "thing a drawn line is good for.",
        {
            "carpenter": "The carpenter may well do it, once somebody asks. No list says so.",
            "window fitter": "A hatch is no window. Look whether any list names it.",
        },
        source="TRADE",
    ),
    _window_joint,
    Choice(
        "03-12", "On the plan the line closes everywhere. Is the house closed?",
        ("yes", "no", "the plan cannot say"),
        lambda: "the plan cannot say",
        "A plan cuts walls and corners. Floor, eaves, floor edges and the hatch are seen in sections "
        "only: one through the stair, one through the eaves.",
        {
            "yes": "Where wall and ceiling meet, the plan shows nothing.",
            "no": "It may be. But look where a plan cannot look.",
        },
        source="TRADE",
    ),
)  # fmt: skip
