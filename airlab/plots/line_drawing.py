"""Can the pen go round without leaving the paper? Plan and sections with the layer as one bold line.

Positions are not in the tables: the order of the elements is right, the shape is schematic and the
drawing says so. A pen lift is a gap with a shape, its number and a word; colour only repeats that.
"""

from typing import NamedTuple

from airlab.building import PlanView
from airlab.plots.line_shapes import BAND, SHAPES, ground, lift_shape, opening, roof, stair
from airlab.plots.style import FAINT, FLOW, GOOD, INK, QUIET
from airlab.plots.svg import arrow, circle, drawing, line, path, rect, text

__all__ = ["line_drawing"]

WIDTH, HEIGHT = 580.0, 440.0
_ROOM_W, _ROOM_H = 322.0, 232.0
_MIDDLE, _FLOOR = 290.0, 340.0
_NARROWEST = 220.0  # px; half the width that its head needs
_LINE, _NODE, _GAP = 7.0, 12.0, 15.0
_SMALL, _LETTER = 13.0, 6.6
_CROWDED = 34  # junctions in one drawing above which closed ones are dots
_ASPECT = 1.4  # of a plan that has not four walls


class _Spot(NamedTuple):
    """Where a junction stands, and which way is out."""

    x: float
    y: float
    out: tuple[float, float]
    mark: object


class _Run(NamedTuple):
    """A stretch of the line: its corners, the element it runs in, the middle of the drawing."""

    points: tuple[tuple[float, float], ...]
    element: object
    middle: float

    @property
    def stretches(self):
        """Straight parts, each with the way out."""
        ends = self.points
        if len({round(y) for _, y in ends}) == 1:
            ends = (ends[0], ends[-1])
        found = []
        for (x1, y1), (x2, y2) in zip(ends, ends[1:]):
            long = max(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5, 1e-9)
            nx, ny = (y1 - y2) / long, (x2 - x1) / long
            away = nx * (0.5 * (x1 + x2) - _MIDDLE) + ny * (0.5 * (y1 + y2) - self.middle)
            sign = 1.0 if away >= 0.0 else -1.0
            found.append(((x1, y1), (x2, y2), (sign * nx, sign * ny), long))
        return found


def line_drawing(view, chosen=0, marked=True):
    """Return a plan or a section of the line, as an SVG string.

    Parameters
    ----------
    view : PlanView or SectionView
        What is drawn.
    chosen : int
        Number of the junction the pen stands at; 0 for none.
    marked : bool
        Whether lifts are told by shape, number and word; without, they are gaps to be counted.
    """
    layout = _plan if isinstance(view, PlanView) else _section
    runs, spots, behind, windows, before = layout(view)
    crowded = len(view.marks) > _CROWDED
    parts = [behind]
    parts += [*(_body(run) for run in runs), *windows]
    parts += [_named(run) for run in runs]
    parts += [_stroke(run) for run in runs]
    shown = dict.fromkeys(spot.mark.number for spot in spots)
    if marked:
        parts += [_spot(spot, spot.mark.number == chosen, crowded) for spot in spots]
    else:
        parts += [_plain(spot, crowded) for spot in spots]
    parts.append(before if marked else "")
    key, wide = _legend(view, marked)
    left, right = _edges(runs, spots if marked else (), wide)
    inside = f'<g transform="translate({-left:.1f} 0)">{"".join(parts)}</g>'
    title = _title(view, shown, marked)
    return drawing(right - left, HEIGHT, title, inside, key, _head(view, right - left))


def _edges(runs, spots, wide):
    """Return how far the drawing reaches to both sides; room for what is written there."""
    xs = [x for run in runs for x, _ in run.points]
    reach = [
        _MIDDLE - min(xs) + BAND + 12.0,
        max(xs) - _MIDDLE + BAND + 12.0,
        0.5 * wide,
        _NARROWEST,
    ]
    reach += [
        abs(spot.x + 50.0 * spot.out[0] - _MIDDLE) + (10.0 * len(spot.mark.state) + 14.0) * abs(spot.out[0])
        for spot in spots if not spot.mark.closed
    ]  # fmt: skip
    half = min(max(reach), _MIDDLE)
    return _MIDDLE - half, _MIDDLE + half


# layouts ------------------------------------------------------------------------------------


def _section(view):
    tall = sum(level.height for level in view.levels) or 1.0
    pitched = any(one.kind == "roof" for one in view.tops)
    scale = min(_ROOM_W / view.depth, (0.84 if pitched else 1.0) * _ROOM_H / tall)
    rise = min(0.24 * view.depth * scale, 80.0)
    left, right = _MIDDLE - 0.5 * view.depth * scale, _MIDDLE + 0.5 * view.depth * scale
    heights = [_FLOOR]
    for level in view.levels:
        heights.append(heights[-1] - level.height * scale)
    top, apex = heights[-1], (_MIDDLE, heights[-1] - rise)
    corners, spots, windows = view.corners, [], []
    diagonal = 0.7071

    def put(x, y, out, marks, step=(0.0, 0.0)):
        for i, mark in enumerate(marks):
            spots.append(_Spot(x + i * step[0], y + i * step[1], out, mark))

    put(left, _FLOOR, (-diagonal, diagonal), corners["floor left"], (0, -30))
    put(right, _FLOOR, (diagonal, diagonal), corners["floor right"], (0, -30))
    put(_MIDDLE, _FLOOR, (0, 1), corners["floor"], (30, 0))
    put(left, top, (-1, 0) if pitched else (-diagonal, -diagonal), corners["top left"], (0, 30))
    put(right, top, (1, 0) if pitched else (diagonal, -diagonal), corners["top right"], (0, 30))
    put(*(apex if pitched else (_MIDDLE, top)), (0, -1), corners["top"], (30, 0))
    behind, before = (
        [ground(WIDTH, _FLOOR + BAND), "" if pitched else roof(left, right, top, rise)],
        [],
    )
    for place, level in enumerate(view.levels):
        low, high = heights[place], heights[place + 1]
        if place + 1 < len(view.levels):
            behind.append(rect(left, high - 3, right - left, 6, fill=FAINT))
        put(left, high, (-1, 0), level.edge_left, (0, 30))
        put(right, high, (1, 0), level.edge_right, (0, 30))
        for x, out, held in ((left, -1, level.left), (right, 1, level.right)):
            for i, (one, marks) in enumerate(held):
                share = (i + 1) / (len(held) + 1)
                y = low - (0.36 if one.kind == "door" and len(held) == 1 else share) * (low - high)
                windows.append(opening(x, y, (out, 0)))
                put(x, y, (out, 0), marks, (0, 26))
        names = [name for name in dict.fromkeys(level.rooms) if name]
        for i, name in enumerate(names):
            x = left + (right - left) * ((i + 0.5) / len(names))
            before.append(text(x, 0.5 * (low + high) + 5, _short(name, (right - left) / len(names) - 40),
                               size=_SMALL, anchor="middle", fill=QUIET))  # fmt: skip
    if view.through.endswith("stair") and len(view.levels) > 1:
        behind.append(stair(left, right, heights[0], heights[1]))
    for i, (_, marks) in enumerate(view.on_top):
        share = 0.3 + 0.4 * (i + 0.5) / len(view.on_top)
        x = left + share * (right - left)
        y = top - rise * (1.0 - abs(2.0 * share - 1.0)) if pitched else top
        windows.append(opening(x, y, (0, -1)))
        put(x, y, (0, -1), marks, (26, 0))
    centre = 0.5 * (_FLOOR + top)
    runs = [_Run(((left, _FLOOR), (left, top)), view.left, centre),
            _Run(((right, _FLOOR), (right, top)), view.right, centre)]  # fmt: skip
    for group, y, over in ((view.floors, _FLOOR, False), (view.tops, top, pitched)):
        ends = ((left, y), apex if over else (_MIDDLE, y), (right, y))
        if len(group) == 1:
            runs.append(_Run(ends, group[0], centre))
        for one, two in zip(group if len(group) > 1 else (), (ends[:2], ends[1:])):
            runs.append(_Run(two, one, centre))
    return runs, spots, "".join(behind), windows, "".join(before)


def _plan(view):
    walls, count = view.walls, len(view.walls)
    known = [wall.length for wall in walls if wall.length]
    usual = sum(known) / len(known) if known else 1.0
    longs = [wall.length or usual for wall in walls]
    if count == 4:
        wide, deep = 0.5 * (longs[0] + longs[2]), 0.5 * (longs[1] + longs[3])
        longs = [wide, deep, wide, deep]
    else:
        deep = 0.5 * sum(longs) / (1.0 + _ASPECT)
        wide = _ASPECT * deep
    scale = min(_ROOM_W / wide, _ROOM_H / deep)
    w, h = wide * scale, deep * scale
    x0, y0 = _MIDDLE - 0.5 * w, _FLOOR - 0.5 * (_ROOM_H - h)  # lower left corner
    turns = (0.0, w, w + h, w + h + w, 2.0 * (w + h))
    outs = ((0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0))

    def at(s):
        s = s % turns[4]
        side = max(i for i in range(4) if turns[i] <= s + 1e-9)
        go = s - turns[side]
        place = ((x0 + go, y0), (x0 + w, y0 - go), (x0 + w - go, y0 - h), (x0, y0 - h + go))[side]
        return place, outs[side]

    total, start, runs, spots, windows, middles = sum(longs), 0.0, [], [], [], []
    for wall, long in zip(walls, longs):
        end = start + long / total * turns[4]
        bends = [at(t)[0] for t in turns[1:4] if start + 1e-6 < t < end - 1e-6]
        (first, _), (last, _) = at(start), at(end)
        middles.append(at(0.5 * (start + end))[0])
        runs.append(_Run((first, *bends, last), wall.element, y0 - 0.5 * h))
        for i, (_, marks) in enumerate(wall.openings):
            (x, y), way = at(start + (end - start) * (i + 1) / (len(wall.openings) + 1))
            windows.append(opening(x, y, way))
            spots += [_Spot(x + 28 * j * abs(way[1]), y + 28 * j * abs(way[0]), way, mark)
                      for j, mark in enumerate(marks)]  # fmt: skip
        if count > 1:
            (x, y), _ = at(end)
            way = (x - _MIDDLE, y - (y0 - 0.5 * h))
            size = max((way[0] ** 2 + way[1] ** 2) ** 0.5, 1e-9)
            spots += [_Spot(x + 28 * j, y, (way[0] / size, way[1] / size), mark)
                      for j, mark in enumerate(wall.corner)]  # fmt: skip
        start = end
    return runs, spots, "", windows, _rooms(view, middles, y0 - 0.5 * h)


def _rooms(view, middles, centre):
    """Return the rooms' names, each towards the walls it sees."""
    taken, parts = {}, []
    for name, seen in view.rooms[:12]:
        places = [middles[i] for i in seen] or [(_MIDDLE, centre)]
        x = sum(p[0] for p in places) / len(places)
        y = sum(p[1] for p in places) / len(places)
        pull = 0.9 if len(places) > 1 else 0.5
        x, y = _MIDDLE + pull * (x - _MIDDLE), centre + pull * (y - centre)
        cell = (round(x / 60.0), round(y / 24.0))
        while cell in taken:
            y += 22.0
            cell = (cell[0], round(y / 24.0))
        taken[cell] = name
        parts.append(text(x, y + 5, _short(name, 160.0), size=14, anchor="middle", fill=QUIET))
    return "".join(parts)


# parts --------------------------------------------------------------------------------------


def _body(run):
    """The body of an element: a pale band outside the line."""
    parts, half = [], 0.5 * BAND
    for (x1, y1), (x2, y2), (dx, dy), _ in run.stretches:
        parts.append(line(x1 + half * dx, y1 + half * dy, x2 + half * dx, y2 + half * dy,
                          stroke="#efefef", stroke_width=BAND))  # fmt: skip
    return "".join(parts)


def _stroke(run):
    """The layer: a bold line; dotted and thin where the element has none."""
    d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in run.points)
    look = {"fill": "none", "stroke_linejoin": "round", "stroke_linecap": "round"}
    if not run.element.layers:
        return path(d, stroke=QUIET, stroke_width=2.5, stroke_dasharray="1 7", **look)
    return path(d, stroke=GOOD.css, stroke_width=_LINE, **look)


def _named(run):
    """Name and layer of an element on its body; the name alone where both do not fit."""
    (x1, y1), (x2, y2), (dx, dy), long = max(run.stretches, key=lambda stretch: stretch[3])
    if abs(dx) > 0.1 and abs(dy) > 0.1:  # a slope: over the ridge, or over the eaves
        top = min(y for _, y in run.points)
        whole = len(run.points) > 2
        x, y = (
            (_MIDDLE, top + 42.0)
            if whole
            else (0.5 * (x1 + x2) - 30.0 * dx, 0.5 * (y1 + y2) + 34.0)
        )
        return text(x, y, run.element.name, size=_SMALL, anchor="middle")
    words = f"{run.element.name}: {run.element.layer}"
    if _LETTER * len(words) > long - 34.0:
        words = _short(run.element.name, long - 34.0)
    halo = {"paint_order": "stroke", "stroke": "#efefef", "stroke_width": 6}
    x, y = 0.5 * (x1 + x2) + 22.0 * dx, 0.5 * (y1 + y2) + 22.0 * dy
    if abs(dx) > 0.9:
        return text(x + 4, y, words, size=_SMALL, anchor="middle",
                    transform=f"rotate(-90 {x + 4:.1f} {y:.1f})", **halo)  # fmt: skip
    return text(x, y + 5.0, words, size=_SMALL, anchor="middle", **halo)


def _spot(spot, chosen, crowded):
    """A junction: a bead on the line, or the gap where the pen lifts."""
    x, y, (dx, dy), mark = spot
    ring = circle(x, y, 23.0, fill="none", stroke=INK, stroke_width=3.5) if chosen else ""
    if mark.closed:
        if crowded and not chosen:
            return circle(x, y, 3.5, fill="#fff", stroke=GOOD.css, stroke_width=2)
        bead = circle(x, y, _NODE, fill="#fff", stroke=GOOD.css, stroke_width=2.5)
        return bead + text(x, y + 5, mark.number, size=14, anchor="middle") + ring
    gap = circle(x, y, _GAP + 4, fill="#fff")
    way = arrow(x - 28 * dx, y - 28 * dy, x + 46 * dx, y + 46 * dy, FLOW.css, 3)
    tx, ty = x + 50 * dx, y + 50 * dy + 5 + (8 if dy > 0.5 else -4 if dy < -0.5 else 0)
    anchor = "end" if dx < -0.3 else "start" if dx > 0.3 else "middle"
    word = text(tx, ty, mark.state, size=16, anchor=anchor, font_weight="bold", paint_order="stroke",
                stroke="#fff", stroke_width=4)  # fmt: skip
    return gap + way + lift_shape(mark.state, x, y, mark.number) + word + ring


def _plain(spot, crowded):
    """A junction of the exercise: the line goes on, or there is a gap. Nothing is told."""
    x, y, (dx, dy), mark = spot
    gap = "" if mark.closed else circle(x, y, _GAP, fill="#fff")
    if crowded or mark.state == "missing":
        return gap
    return gap + text(x - 19 * dx, y - 19 * dy + 5, mark.number, size=_SMALL, anchor="middle",
                      paint_order="stroke", stroke="#fff", stroke_width=3)  # fmt: skip


def _head(view, width):
    return text(10, 22, view.name, size=17, font_weight="bold") + text(
        width - 8, 22, "schematic, not to scale", size=12, anchor="end", fill=QUIET
    )


def _legend(view, marked):
    """Return what the line and the shapes mean, only those that are there; and its width."""
    y = HEIGHT - 18.0
    parts = [line(12, y, 40, y, stroke=GOOD.css, stroke_width=_LINE, stroke_linecap="round"),
             text(48, y + 5, "layer, pen down", size=14)]  # fmt: skip
    x, words = 182.0, "A gap: the pen lifts. Dots: no layer."
    if marked:
        words = "no pen lift in this drawing" if all(mark.closed for mark in view.marks) else ""
        for why in SHAPES:
            if any(mark.state == why for mark in view.marks):
                parts += [lift_shape(why, x, y, size=8.0), text(x + 16, y + 5, why, size=14)]
                x += 36 + 8.0 * len(why)
    return "".join(parts) + text(x, y + 5, words, size=14), x + 8.0 * len(words)


def _title(view, shown, marked):
    marks = [mark for mark in view.marks if mark.number in shown]
    if not marked:
        walk = ", ".join(f"{mark.number} {'joined' if mark.closed else 'gap'}" for mark in marks)
        return f"{view.name}. A schematic of the line, to count its gaps. Walking round: {walk}."
    lifts = [f"{mark.number} {mark.name}, {mark.state}" for mark in marks if not mark.closed]
    told = f"{len(lifts)} pen lifts: {'; '.join(lifts)}" if lifts else "no pen lift"
    return (
        f"{view.name}. Schematic; the layer is a bold line through {len(marks)} junctions; {told}."
    )


def _short(words, width):
    """Words that fit a width; nothing where hardly a letter does."""
    most = int(width / _LETTER)
    if len(words) <= most:
        return words
    return f"{words[: most - 1].rstrip(' ,:')}…" if most >= 6 else ""
