"""Where in the house are we, and what is tagged? A plan and a section, drawn from the house's tables.

The section follows the room one stands in. At the end the same plans show the house opened up.
"""

import math
from typing import NamedTuple

from airlab.plots.practice_plan import (
    Frame,
    fan_parts,
    inside_size,
    plan_parts,
    storey_of,
    tag_box,
)
from airlab.plots.practice_section import roof_line, section_parts
from airlab.plots.style import FLOW, GOOD, INK, QUIET, VOLUME
from airlab.plots.svg import circle, drawing, path, text
from airlab.words import display_unit, from_si, show

__all__ = ["HuntView", "hunt_drawing", "opened_drawing"]

WIDTH, HEIGHT = 900.0, 430.0
_TOP, _FOOT, _EDGE, _GAP = 34.0, 30.0, 10.0, 34.0


class HuntView(NamedTuple):
    """What is drawn of a day: house, where one stands, tags, rooms searched, fan."""

    house: object
    room: str
    height: str
    tags: tuple = ()  # (site, number, whether sealed)
    searched: tuple = ()  # (room, height, method)
    fan_pressure: float = 0.0
    room_pressure: float | None = None
    flow: float | None = None
    doors: str = "open"


def hunt_drawing(view, units="metric"):
    """Return plan and section of the house at this moment, as an SVG string.

    Parameters
    ----------
    view : HuntView
        What is drawn.
    units : str
        'metric' or 'us'.
    """
    house = view.house
    across, deep, low, high = inside_size(house)
    wall = house.facts.wall
    _, span = roof_line(house)
    top = max(high, house.facts.ridge + 0.4)
    room_for = WIDTH - 2.0 * _EDGE - _GAP
    margin = 0.8  # m round the plan for the fan's arrow
    plan_w, plan_h = across + 2 * (wall + margin), deep + 2 * (wall + margin)
    cut_w, cut_h = span + 2 * (wall + 1.0), top - low + 1.7
    scale = min(room_for / (plan_w + cut_w), (HEIGHT - _TOP - _FOOT) / max(plan_h, cut_h))
    spare = 0.5 * (room_for - scale * (plan_w + cut_w))
    foot = HEIGHT - _FOOT
    left = _EDGE + max(spare, 0.0)
    plan = Frame(
        left,
        foot - 0.5 * (HEIGHT - _TOP - _FOOT - scale * plan_h),
        scale,
        -wall - margin,
        -wall - margin,
    )
    right = left + scale * plan_w + _GAP
    cut = Frame(
        right, foot - 0.5 * (HEIGHT - _TOP - _FOOT - scale * cut_h), scale, -wall - 1.0, low - 0.9
    )
    drawn, _ = plan_parts(house, view.room, plan, view.searched, doors=view.doors)
    here, _ = storey_of(house, view.room)
    names = {one.name for one in here}
    tags = []
    for site, number, sealed in view.tags:
        if site.room in names:
            one = house.room(site.room)
            x, y = one.point(site.wall, site.along)
            x = min(max(x, one.x + 0.3), one.x + one.length - 0.3)
            y = min(max(y, one.y + 0.3), one.y + one.width - 0.3)
            tags.append(tag_box(*plan.at(x, y), str(number), sealed))
    heading = [text(left, 22, "Plan, north is up", size=16, font_weight="bold"),
               text(right, 22, f"Section through: {view.room}", size=16, font_weight="bold")]  # fmt: skip
    state = "Fan off"
    if view.fan_pressure:
        unit = display_unit("m3/s", units)
        moved = "" if view.flow is None else f" {show(from_si(view.flow, unit), unit)}"
        state = f"Fan {'sucks' if view.fan_pressure < 0 else 'blows'}{moved}"
        if view.room_pressure is not None:
            state += f"; {view.room}: {show(view.room_pressure, 'Pa')} over outside"
    title = (
        f"{house.name}. You stand in: {view.room}, {view.height}. {state}. {len(view.tags)} tags."
    )
    fan = fan_parts(view, plan) if house.facts.fan_room in names else ""
    words = text(
        left,
        HEIGHT - 8,
        state,
        size=15,
        font_weight="bold",
        fill=FLOW.css if view.fan_pressure else QUIET,
    )
    return drawing(
        WIDTH, HEIGHT, title, *heading, drawn, fan, *tags, section_parts(view, cut), words
    )


def opened_drawing(opened, units="metric"):
    """Return the house opened up, storey by storey: every site, its flow as a disc, what became of it.

    Parameters
    ----------
    opened : Debrief
        The debrief.
    units : str
        'metric' or 'us'.
    """
    house = opened.session.house
    across, deep, _, _ = inside_size(house)
    wall = house.facts.wall
    levels = {}
    for one in house.rooms:
        if one.kind == "room":
            levels.setdefault(storey_of(house, one.name)[1], one.name)
    count = len(levels)
    room_for = (WIDTH - 2.0 * _EDGE - _GAP * (count - 1)) / count
    scale = min(room_for / (across + 2 * wall), (HEIGHT - 74.0) / (deep + 2 * wall))
    spare = 0.5 * (WIDTH - 2 * _EDGE - _GAP * (count - 1) - count * scale * (across + 2 * wall))
    parts = []
    biggest = max((row.flow for row in opened.rows), default=0.0) or 1.0
    for n, (level, name) in enumerate(sorted(levels.items())):
        left = _EDGE + spare + n * (scale * (across + 2 * wall) + _GAP)
        frame = Frame(left, HEIGHT - 44.0, scale, -wall, -wall)
        drawn, _ = plan_parts(house, name, frame, bold=False, size=11.0)
        parts.append(drawn)
        on = [row for row in opened.rows if storey_of(house, row.site.room)[1] == level]
        for row in sorted(on, key=lambda r: -r.flow):
            parts.append(_disc(row, frame, house, biggest))
        unit = display_unit("m", units)
        parts.append(text(left, 22, f"floor at {show(from_si(level, unit), unit)}" if count > 1 else "",
                          size=15, font_weight="bold"))  # fmt: skip
    parts.append(_legend())
    tagged = sum(1 for row in opened.leaks if row.number)
    title = (f"{house.name} opened up: {len(opened.leaks)} leaks, {tagged} tagged; discs by flow. The table "
             "below says each in words.")  # fmt: skip
    return drawing(WIDTH, HEIGHT, title, *parts)


def _disc(row, frame, house, biggest):
    one = house.room(row.site.room)
    x, y = frame.at(*one.point(row.site.wall, row.site.along))
    size = 5.0 + 15.0 * math.sqrt(row.flow / biggest)
    sealed = row.fix is not None and row.fix.right and row.fix.residual < 1.0
    if row.site.kind != "leak":
        return path(
            f"M{x:.1f} {y - 8:.1f}l8 8l-8 8l-8 -8Z", fill="#fff", stroke=QUIET, stroke_width=2.5
        )
    look = GOOD if sealed else VOLUME if row.number else FLOW
    out = circle(x, y, size, fill=look.css, fill_opacity="0.85" if row.number else "0.25", stroke=look.css,
                 stroke_width=2.5, stroke_dasharray=None if row.number else "4 3")  # fmt: skip
    mark = f"{row.number}{'✓' if sealed else ''}" if row.number else "?"
    ink = "#fff" if row.number else INK
    return out + text(x, y + 5, mark, size=13, anchor="middle", font_weight="bold", fill=ink)


def _legend():
    y, out = HEIGHT - 14.0, []
    rows = ((GOOD, "1✓", "tagged and truly fixed"), (VOLUME, "1", "tagged"), (FLOW, "?", "missed"))
    for n, (look, mark, words) in enumerate(rows):
        x = 20.0 + 235.0 * n
        solid = look is not FLOW
        out.append(circle(x, y - 5, 11, fill=look.css, fill_opacity="0.85" if solid else "0.25", stroke=look.css,
                          stroke_width=2, stroke_dasharray=None if solid else "4 3"))  # fmt: skip
        out.append(
            text(
                x,
                y,
                mark,
                size=12,
                anchor="middle",
                font_weight="bold",
                fill="#fff" if solid else INK,
            )
        )
        out.append(text(x + 18, y, words, size=14))
    x = 20.0 + 235.0 * 3 - 70
    out.append(
        path(f"M{x:.1f} {y - 13:.1f}l8 8l-8 8l-8 -8Z", fill="#fff", stroke=QUIET, stroke_width=2.5)
    )
    out.append(text(x + 16, y, "no leak of yours", size=14))
    return "".join(out)
