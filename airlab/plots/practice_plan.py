"""One storey of a practice house seen from above: walls, doors, windows, fittings, tags, the fan."""

import math

from airlab.plots.practice_fittings import fitting, wall_band
from airlab.plots.style import FLOW, GOOD, INK, QUIET, VOLUME
from airlab.plots.svg import arrow, circle, line, path, rect, text

__all__ = [
    "THIRDS",
    "Frame",
    "fan_parts",
    "fitted",
    "inside_size",
    "plan_parts",
    "storey_of",
    "tag_box",
]

INNER, VOID, PAPER = "#77716a", "#f1eee8", "#ffffff"
THIRDS = {"low": 0, "mid": 1, "high": 2}
_NOTHING = "#e4dfd6"  # where this storey has no room
_SIDES = ("north", "east", "south", "west")
_LETTER = 0.56  # width of a letter over its size


class Frame:
    """From metres to the drawing: a corner, a scale, what runs across and up."""

    def __init__(self, left, foot, scale, low_u, low_v):
        self.left, self.foot, self.scale, self.low_u, self.low_v = left, foot, scale, low_u, low_v

    def at(self, u, v):
        """Return where a point in metres lies on the drawing."""
        return self.left + (u - self.low_u) * self.scale, self.foot - (v - self.low_v) * self.scale

    def box(self, u, v, across, up, **look):
        """Draw a box given by its lower left corner in metres."""
        x, y = self.at(u, v + up)
        return rect(x, y, across * self.scale, up * self.scale, **look)


def inside_size(house):
    """Return size from west to east and south to north, lowest floor and highest ceiling. [m]."""
    rooms = [r for r in house.rooms if r.kind != "neighbour"]
    return (max(r.x + r.length for r in rooms), max(r.y + r.width for r in rooms),
            min(r.floor for r in rooms), max(r.floor + r.height for r in rooms))  # fmt: skip


def storey_of(house, room):
    """Rooms and voids that stand on the floor of a room; of a void in a floor, those above it."""
    floors = sorted({r.floor for r in house.rooms if r.kind == "room"})
    level = min(floors, key=lambda f: abs(f - house.room(room).floor))
    return [r for r in house.rooms if r.kind != "neighbour" and abs(r.floor - level) < 0.1], level


def fitted(words, room_for, size):
    """Return words cut to the room there is for them."""
    most = max(int(room_for / (_LETTER * size)), 2)
    return words if len(words) <= most else f"{words[: most - 1]}."


def _name(room, frame, bold, size=13.0):
    """The name of a room, on one line or two, turned where the room is narrow."""
    x, y = frame.at(room.x + 0.5 * room.length, room.y + 0.5 * room.width)
    wide, deep = room.length * frame.scale - 6.0, room.width * frame.scale - 6.0
    turned = wide < 0.75 * deep and wide < _LETTER * size * max(map(len, room.name.split()))
    words = room.name.split()
    lines = [room.name] if turned or _LETTER * size * len(room.name) <= wide else words
    space = deep if turned else wide
    out = "".join(
        text(0, size * 1.1 * (i - 0.5 * (len(lines) - 1)) + 0.36 * size, fitted(one, space, size), size=size,
             anchor="middle", font_weight="bold" if bold else None, fill=INK)
        for i, one in enumerate(lines)
    )  # fmt: skip
    spin = " rotate(-90)" if turned else ""
    return f'<g transform="translate({x:.1f} {y:.1f}){spin}">{out}</g>'


def _opening(frame, point, wall, width, thick, leaf=False, glass=False, shut=False):
    """A gap in a wall: with a leaf and the arc it swings, or with panes."""
    x, y = frame.at(*point)
    half, deep = 0.5 * width * frame.scale, thick * frame.scale
    along = wall in ("north", "south")
    way = -1.0 if wall in ("north", "west") else 1.0
    w, h = (2.0 * half, deep) if along else (deep, 2.0 * half)
    gx = x - half if along else (x if way > 0 else x - deep)
    gy = (y if way > 0 else y - deep) if along else y - half
    parts = [rect(gx, gy, w, h, fill=PAPER, stroke=INK, stroke_width=1)]
    if glass:
        middle = (
            (gx, gy + 0.5 * h, gx + w, gy + 0.5 * h)
            if along
            else (gx + 0.5 * w, gy, gx + 0.5 * w, gy + h)
        )
        parts.append(line(*middle, stroke=INK, stroke_width=1.6))
    if shut:
        parts.append(rect(gx, gy, w, h, fill=QUIET))
    if leaf:
        turn = 2.0 * half
        if along:
            d = f"M{x - half:.1f} {y:.1f}v{-way * turn:.1f}A{turn:.1f} {turn:.1f} 0 0 {int(way > 0)} {x + half:.1f} {y:.1f}"
        else:
            d = f"M{x:.1f} {y - half:.1f}h{-way * turn:.1f}A{turn:.1f} {turn:.1f} 0 0 {int(way < 0)} {x:.1f} {y + half:.1f}"
        parts.append(path(d, fill="none", stroke=QUIET, stroke_width=1.2))
    return "".join(parts)


def plan_parts(house, room, frame, searched=(), bold=True, size=13.0, doors="open"):
    """The storey of a room: walls, doors, windows, fittings, names, what was searched."""
    here, level = storey_of(house, room)
    across, deep, _, _ = inside_size(house)
    wall, facts = house.facts.wall, house.facts
    out = [frame.box(0, 0, across, deep, fill=_NOTHING)]
    for one in here:  # partitions: what is left between the rooms
        west, south = max(one.x - 0.12, 0.0), max(one.y - 0.12, 0.0)
        east, north = min(one.x + one.length + 0.12, across), min(one.y + one.width + 0.12, deep)
        out.append(frame.box(west, south, east - west, north - south, fill=INNER))
    for one in here:
        active = one.name == room and bold
        void = one.kind == "void"
        out.append(frame.box(one.x, one.y, one.length, one.width,
                             fill=VOLUME.css_fill if active else VOID if void else PAPER,
                             stroke=QUIET if void else None, stroke_dasharray="5 4" if void else None))  # fmt: skip
        out.append("" if void else fitting(one, frame))
    outer = ((-wall, -wall, across + 2 * wall, wall), (-wall, deep, across + 2 * wall, wall),
             (-wall, 0, wall, deep), (across, 0, wall, deep))  # fmt: skip
    out += [wall_band(frame, *band, facts.look) for band in outer]
    names = {one.name for one in here}
    for link in house.links:
        if link.kind in ("door", "open") and link.room in names and link.wall in _SIDES:
            spot = house.room(link.room).point(link.wall, link.along)
            leaf = link.kind == "door" and doors == "open"
            shut = link.kind == "door" and doors == "shut"
            out.append(_opening(frame, spot, link.wall, link.width, 0.1, leaf=leaf, shut=shut))
    drawn = set()
    for site in house.sites:
        spot = (site.element, site.room, site.wall)
        if (
            site.room in names
            and site.family in ("window", "door")
            and site.wall in _SIDES
            and spot not in drawn
        ):
            one = house.room(site.room)
            x, y = one.point(site.wall, min(max(site.along, 0.22), 0.78))
            edge = {"south": y, "north": deep - y, "west": x, "east": across - x}[site.wall]
            if edge < 0.05:
                drawn.add(spot)
                reach = one.length if site.wall in ("north", "south") else one.width
                glass = site.family == "window"
                out.append(_opening(frame, (x, y), site.wall, min(1.3 if glass else 0.95, 0.5 * reach), wall,
                                    leaf=not glass, glass=glass))  # fmt: skip
    for one in here:
        if one.kind == "room":
            out.append(_name(one, frame, one.name == room and bold, size))
            done = {height for place, height, _ in searched if place == one.name}
            x, y = frame.at(one.x, one.y)
            for height, n in THIRDS.items():
                if searched:
                    out.append(circle(x + 8 + 11 * n, y - 8, 4, fill=VOLUME.css if height in done else PAPER,
                                      stroke=QUIET, stroke_width=1.2))  # fmt: skip
    active = house.room(room)
    if bold and active in here:
        out.append(frame.box(active.x, active.y, active.length, active.width, fill="none",
                             stroke=VOLUME.css, stroke_width=4))  # fmt: skip
    return "".join(out), level


def fan_parts(view, frame):
    """The fan in its door, and which way it blows."""
    house = view.house
    one = house.room(house.facts.fan_room)
    site = next(
        (s for s in house.sites if s.room == one.name and s.family == "door" and s.wall in _SIDES),
        None,
    )
    if site is None:
        return ""
    x, y = frame.at(*one.point(site.wall, min(max(site.along, 0.22), 0.78)))
    ux, uy = {"north": (0, -1), "south": (0, 1), "west": (-1, 0), "east": (1, 0)}[site.wall]
    reach = house.facts.wall * frame.scale
    cx, cy = x + 0.5 * reach * ux, y + 0.5 * reach * uy
    out = circle(cx, cy, 10, fill=INK) + "".join(
        line(cx, cy, cx + 8 * math.cos(a), cy + 8 * math.sin(a), stroke=PAPER, stroke_width=2.5)
        for a in (0.5, 2.6, 4.7)
    )
    if view.fan_pressure:
        sucks = view.fan_pressure < 0.0
        ends = (reach + 3, reach + 27) if sucks else (reach + 27, reach + 3)
        (x1, y1), (x2, y2) = ((x + e * ux, y + e * uy) for e in ends)
        out += arrow(x1, y1, x2, y2, FLOW.css, 6)
    return out


def tag_box(x, y, words, sealed):
    """Draw a numbered tag; sealed ones have another colour and a tick."""
    look = GOOD if sealed else VOLUME
    return rect(x - 11, y - 10, 22, 20, rx=3, fill=look.css, stroke="#fff", stroke_width=2) + text(
        x, y + 5, f"{words}✓" if sealed else words, size=13, anchor="middle", font_weight="bold", fill="#fff")  # fmt: skip
