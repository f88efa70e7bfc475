"""A practice house cut through the room one stands in."""

from airlab.plots.practice_fittings import person, wall_band
from airlab.plots.practice_plan import INNER, PAPER, THIRDS, VOID, fitted, inside_size, tag_box
from airlab.plots.style import INK, QUIET, VOLUME
from airlab.plots.svg import line, path, rect, text

__all__ = ["roof_line", "section_parts"]


def roof_line(house):
    """Return height of the roof's underside over a place across the section, or None if flat."""
    facts, (across, deep, _, _) = house.facts, inside_size(house)
    span = across if facts.section == "x" else deep
    if facts.ridge <= facts.eaves + 0.1:
        return None, span
    rise = (facts.ridge - facts.eaves) / (0.5 * span + facts.wall)
    return (lambda u: facts.eaves + rise * (0.5 * span + facts.wall - abs(u - 0.5 * span))), span


def section_parts(view, frame):
    """The house cut through the room one stands in."""
    house, facts = view.house, view.house.facts
    active = house.room(view.room)
    along_x = facts.section == "x"
    cut = active.y + 0.5 * active.width if along_x else active.x + 0.5 * active.length
    roof, span = roof_line(house)
    _, _, low, high = inside_size(house)
    top = facts.eaves if roof else high
    wall, out = facts.wall, []
    ground = -0.15 if not any(r.kind == "neighbour" and r.floor < -1 for r in house.rooms) else None
    if ground is not None:
        x1, y = frame.at(-wall - 1.0, ground)
        x2 = frame.at(span + wall + 1.0, ground)[0]
        out.append(rect(x1, y, x2 - x1, 8, fill="#d8d2c6"))
        out.append(line(x1, y, x2, y, stroke=INK, stroke_width=2))
    if roof:
        over = [(-wall - 0.35, facts.eaves - 0.1), (0.5 * span, roof(0.5 * span) + 0.3),
                (span + wall + 0.35, facts.eaves - 0.1), (span + wall, facts.eaves), (-wall, facts.eaves)]  # fmt: skip
        out.append(_shape(frame, over, fill="#b9a58a", stroke=INK, stroke_width=2))
    cut_rooms = []
    for one in house.rooms:
        start, reach = (one.y, one.width) if along_x else (one.x, one.length)
        if start <= cut <= start + reach:
            cut_rooms.append(one)
    for one in cut_rooms:  # floors and partitions: what is left between the rooms
        u, size = (one.x, one.length) if along_x else (one.y, one.width)
        if one.kind == "room":
            low_u, high_u = max(u - 0.12, 0.0), min(u + size + 0.12, span)
            most = min(one.floor + one.height + 0.25, top) - one.floor
            out.append(frame.box(low_u, one.floor - 0.2, high_u - low_u, most + 0.2, fill=INNER))
    for u in (-wall, span):
        out.append(wall_band(frame, u, low - 0.2, wall, top - low + 0.2, facts.look))
    for one in sorted(cut_rooms, key=lambda r: ("void", "neighbour", "room").index(r.kind)):
        u, size = (one.x, one.length) if along_x else (one.y, one.width)
        floor, tall = one.floor, one.height
        if one.kind == "neighbour":  # as much of it as there is room for
            u, right = max(u, -wall - 0.9), min(u + size, span + wall + 0.9)
            floor, roof_of = max(floor, low - 0.8), min(floor + tall, top + 0.8)
            size, tall = right - u, roof_of - floor
        me = one.name == view.room
        fill = VOLUME.css_fill if me else PAPER if one.kind == "room" else VOID
        corners = [(u, floor)]
        for k in range(17):
            at = u + size * k / 16.0
            corners.append((at, min(floor + tall, max(roof(at), floor)) if roof else floor + tall))
        corners.append((u + size, floor))
        dashes = "5 4" if one.kind != "room" else None
        out.append(_shape(frame, corners, fill=fill, stroke=VOLUME.css if me else QUIET,
                          stroke_width=3 if me else 1, stroke_dasharray=dashes))  # fmt: skip
        if me and view.height:
            third = one.height / 3.0
            out.append(frame.box(u, one.floor + third * THIRDS[view.height], size, third, fill=VOLUME.css,
                                 fill_opacity="0.25"))  # fmt: skip
            out.append(person(frame, u + 0.32 * size, one, view.height))
        x, y = frame.at(u + 0.5 * size, floor + 0.5 * tall)
        if tall * frame.scale > 16 and size * frame.scale > 44 and not (me and one.kind == "room"):
            quiet = INK if one.kind == "room" else QUIET
            out.append(
                text(
                    x,
                    y + 5,
                    fitted(one.name, size * frame.scale - 4, 13),
                    size=13,
                    anchor="middle",
                    fill=quiet,
                )
            )
    for site, number, sealed in view.tags:
        if site.room == view.room:
            px, py = active.point(site.wall, site.along)
            u = px if along_x else py
            out.append(
                tag_box(*frame.at(u, house.level(site.room, site.height)), str(number), sealed)
            )
    return "".join(out)


def _shape(frame, points, **look):
    return path("M" + "L".join("{:.1f} {:.1f}".format(*frame.at(*p)) for p in points) + "Z", **look)
