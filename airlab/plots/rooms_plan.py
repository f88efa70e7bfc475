"""Are the rooms right? Each storey's rooms drawn to one scale, so that a slip is seen.

Only lengths and widths are known, not where a room lies; the rooms stand side by side as on a
sheet of paper cut-outs. Under each storey its sum is held against the floor it stands on.
"""

from airlab.plots.style import FLOW, GOOD, INK, QUIET, VOLUME
from airlab.plots.svg import drawing, line, path, rect, text
from airlab.words import display_unit, from_si, show

__all__ = ["rooms_plan"]

_WIDTH = 430.0  # px of one storey's drawing
_EDGE, _GAP, _TOP = 10.0, 6.0, 40.0
_LETTER = 0.56  # width of a letter over its size


def rooms_plan(rooms, footprints=(), units="metric"):
    """Return one drawing a storey, as SVG strings in the order of the storeys.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms in and out; those without sizes are named, not drawn.
    footprints : iterable of Footprint
        Storey sums held against floors.
    units : str
        'metric' or 'us'.

    Returns
    -------
    tuple of str
        Drawings at one scale.
    """
    rooms = tuple(rooms)
    names = tuple(dict.fromkeys(room.storey for room in rooms))
    storeys = [[room for room in rooms if room.storey == name] for name in names]
    sizes = {id(room): _sides(room) for room in rooms}
    known = [side for side in sizes.values() if side]
    if not known:
        return ()
    across = max(
        max(_area(storey, sizes) ** 0.5 * 1.22 for storey in storeys),
        max(max(side) for side in known),
    )
    scale = (_WIDTH - 2.0 * _EDGE - 3.0 * _GAP) / across
    return tuple(
        _storey(name, storey, sizes, scale, footprints, units)
        for name, storey in zip(names, storeys)
    )


def _sides(room):
    """Return length and width; a square where only the area is known; None for nothing."""
    if not room.plan_area:
        return None
    if room.length and room.width:
        return max(room.length, room.width), min(room.length, room.width)
    return (room.plan_area**0.5,) * 2


def _area(storey, sizes):
    return sum(sizes[id(room)][0] * sizes[id(room)][1] for room in storey if sizes[id(room)])


def _storey(name, rooms, sizes, scale, footprints, units):
    drawn = [room for room in rooms if sizes[id(room)]]
    lost = [room for room in rooms if not sizes[id(room)]]
    y, parts = _TOP, []
    for shelf in _shelves(drawn, sizes, scale):
        x = _EDGE
        for room in shelf:
            length, width = (side * scale for side in sizes[id(room)])
            parts.append(_room(room, x, y, length, width, units))
            x += length + _GAP
        y += max(sizes[id(room)][1] for room in shelf) * scale + _GAP
    y += 10.0
    parts.append(_scale_bar(_EDGE, y, scale, units))
    lines = [_undrawn(room, units) for room in lost if room.included]
    lines += [f"{room.name}: left out, no size" for room in lost if not room.included]
    for words in lines:
        y += 22.0
        parts.append(text(_EDGE, y + 14.0, words, size=14, fill=FLOW.colour))
    for one in footprints:
        if one.storey == name:
            y += 26.0
            parts.append(_check(one, y, units))
    inside = [room for room in drawn if room.included]
    unit = display_unit("m2", units)
    total = show(from_si(sum(room.area or 0.0 for room in inside), unit), unit)
    count = f"{len(inside)} room{'' if len(inside) == 1 else 's'}"
    listed = "; ".join(f"{room.name} {_size_words(room, units)}" for room in drawn)
    title = f"Storey {name} to scale: {count} inside, {total} of floor. {listed}."
    head = text(
        _EDGE, 24, f"{name[:1].upper()}{name[1:]}: {total} of floor", size=18, font_weight="bold"
    )
    return drawing(_WIDTH, y + 34.0, title, head, *parts)


def _undrawn(room, units):
    """Say why a room inside is not drawn: something is missing, or it is air above a floor."""
    if room.missing:
        return f"{room.name}: no {' and '.join(room.missing)}"
    unit = display_unit("m3", units)
    return f"{room.name}: {room.shape or 'no floor'}, {show(from_si(room.air_volume, unit), unit)}"


def _shelves(rooms, sizes, scale):
    """Return the rooms row by row: the deepest first, each row as full as it gets."""
    left = sorted(rooms, key=lambda room: (not room.included, -sizes[id(room)][1]))
    room_for = _WIDTH - 2.0 * _EDGE + 0.5
    while left:
        shelf, used = [], 0.0
        for room in tuple(left):
            length = sizes[id(room)][0] * scale
            if not shelf or used + _GAP + length <= room_for:
                used += length + (_GAP if shelf else 0.0)
                shelf.append(room)
                left.remove(room)
        yield shelf


def _size_words(room, units):
    unit = display_unit("m", units)
    if room.length and room.width:
        return f"{show(from_si(room.length, unit))} × {show(from_si(room.width, unit), unit)}"
    return "shape not known"


def _shape_words(room):
    return "" if room.shape in ("", "box") else room.shape


def _room(room, x, y, length, width, units):
    unit = display_unit("m2", units)
    inside, shaped = room.included, bool(room.length and room.width)
    look = {
        "fill": VOLUME.css_fill if inside else "#f4f4f4",
        "stroke": VOLUME.css if inside else QUIET,
        "stroke_width": 2.5,
        "stroke_dasharray": None if inside and shaped else "7 4",
    }
    area = show(from_si(room.area, unit), unit) if room.area is not None else ""
    ink = INK if inside else QUIET
    lines = [(words, 14, "bold") for words in _wrapped(room.name, length - 10.0, 14)]
    lines += [
        (words, 13, "normal")
        for words in (_size_words(room, units), area if inside else "OUT", _shape_words(room))
        if words and _LETTER * 13 * len(words) <= length - 4.0
    ]
    lines = lines[: max(int((width - 4.0) / 16.0), 1)]
    middle = y + 0.5 * width - 8.0 * (len(lines) - 1) + 5.0
    written = "".join(
        text(x + 0.5 * length, middle + 16.0 * i, words, size=size, anchor="middle",
             font_weight=weight, fill=ink)
        for i, (words, size, weight) in enumerate(lines)
    )  # fmt: skip
    cross = "" if inside else path(
        f"M{x:.1f} {y:.1f}l{length:.1f} {width:.1f}M{x + length:.1f} {y:.1f}l{-length:.1f} {width:.1f}",
        stroke="#cfcfcf", stroke_width=1.5, fill="none",
    )  # fmt: skip
    return rect(x, y, length, width, **look) + cross + written


def _wrapped(words, room_for, size):
    """Return words in lines that fit; what is too long even alone is cut with a point."""
    most = max(int(room_for / (_LETTER * size)), 3)
    lines = [""]
    for word in words.split():
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return [one if len(one) <= most else f"{one[: most - 1]}." for one in lines[:3]]


def _scale_bar(x, y, scale, units):
    """A bar of two metres or five feet."""
    unit, count = ("ft", 5.0) if units == "us" else ("m", 2.0)
    long = count * scale / from_si(1.0, unit)
    ends = "".join(line(at, y + 3, at, y + 13, stroke=INK, stroke_width=3) for at in (x, x + long))
    bar = line(x, y + 8, x + long, y + 8, stroke=INK, stroke_width=3)
    return bar + ends + text(x + long + 8, y + 13, show(count, unit), size=14)


def _check(one, y, units):
    """Two bars of one length scale: the rooms, and the floor they stand on."""
    unit = display_unit("m2", units)
    widest = max(one.rooms_area, one.footprint)
    room_for = 150.0
    look = GOOD if one.fits else FLOW
    sign = "+" if one.mismatch >= 0.0 else "−"
    mismatch = f"{sign}{show(from_si(abs(one.mismatch), unit), unit)}"
    verdict = f"{one.against} {mismatch}" + (", partitions" if one.fits else ": look again")
    return (
        rect(_EDGE, y, room_for * one.rooms_area / widest, 10, fill=VOLUME.css)
        + rect(_EDGE, y + 12, room_for * one.footprint / widest, 10, fill=look.css)
        + text(_EDGE + room_for + 10, y + 8, f"rooms {show(from_si(one.rooms_area, unit), unit)}", size=13)
        + text(_EDGE + room_for + 10, y + 24, f"{'✓' if one.fits else '⚠'} {verdict}", size=13,
               font_weight="bold")
    )  # fmt: skip
