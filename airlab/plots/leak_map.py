"""Where are the tags? Storey by storey, room by room, high, mid and low.

Every leak bears its number; its state is a shape with its own outline, and a word in the key.
"""

from airlab.leak_check import MARKS, SETTLED, STATES
from airlab.plots.style import FAINT, FLOW, GOOD, INK, QUIET
from airlab.plots.svg import circle, drawing, line, path, rect, text
from airlab.words.saying import alike

__all__ = ["leak_map", "state_mark"]

WIDTH = 780
_WORDS = {"sealed, awaiting re-check": "sealed, to re-check", "unreachable now": "out of reach"}
_HEIGHTS = ("high", "mid", "low")
_ACROSS = 5  # rooms side by side
_TAG, _ROW, _HEAD = 35.0, 23.0, 24.0
_ELSEWHERE = "no room of the list"


def state_mark(state, x, y, size=9.0):
    """Return the shape of a state, centred on a place."""
    s = size
    if state == "open":
        return path(f"M{x:.1f} {y - s:.1f}L{x + s:.1f} {y + 0.8 * s:.1f}H{x - s:.1f}Z",
                    fill=FLOW.css, stroke=INK, stroke_width=1.0)  # fmt: skip
    if state == "unreachable now":
        return path(f"M{x:.1f} {y - s:.1f}l{s:.1f} {s:.1f}l{-s:.1f} {s:.1f}l{-s:.1f} {-s:.1f}Z",
                    fill=FLOW.css_fill, stroke=FLOW.css, stroke_width=2.5)  # fmt: skip
    if state == "closed":
        return circle(x, y, 0.9 * s, fill=GOOD.css, stroke=INK, stroke_width=1.0)
    if state.startswith("sealed"):
        return rect(x - 0.8 * s, y - 0.8 * s, 1.6 * s, 1.6 * s, fill="#fff", stroke=INK,
                    stroke_width=2.5)  # fmt: skip
    return text(x, y + 0.6 * s, MARKS[state], 1.9 * s, "middle", fill=QUIET, font_weight="700")


def leak_map(rooms, log, leaks=None):
    """Return the tags of a log by storey and room, as an SVG string.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms of the house; storeys are drawn from the last to the first.
    log : Log
        Leaks so far.
    leaks : tuple of Leak or None
        The log's leaks, where they are at hand.
    """
    leaks = log.leaks if leaks is None else leaks
    boxes, storeys = _boxes(rooms, leaks)
    parts, y = [], 6.0
    for storey, names in storeys:
        for start in range(0, len(names), _ACROSS):
            line_of = names[start : start + _ACROSS]
            if start == 0 and storey:
                parts.append(text(4.0, y + 15.0, storey[:12], 14.0, font_weight="700", fill=QUIET))
                y += 20.0
            wide = (WIDTH - 8.0) / max(len(line_of), 3)
            for place, name in enumerate(line_of):
                parts.append(_room(4.0 + wide * place, y, wide - 8.0, name, boxes[name]))
            y += _HEAD + 3.0 * _ROW + 12.0
    parts.append(_key(y + 8.0))
    held = sum(leak.blocks for leak in leaks)
    title = f"{len(leaks)} leaks by storey and room, {held} of them still hold back a release."
    return drawing(WIDTH, y + 32.0, title, *parts)


def _boxes(rooms, leaks):
    """Return {room: {height: leaks}} and the storeys with their rooms, top one first."""
    inside = [room for room in rooms if room.included]
    known = {alike(room.name): room.name for room in inside}
    boxes = {room.name: {height: [] for height in _HEIGHTS} for room in inside}
    lost = {height: [] for height in _HEIGHTS}
    for leak in leaks:
        name = known.get(alike(leak.room))
        (boxes[name] if name else lost)[leak.height or "mid"].append(leak)
    storeys = {}
    for room in inside:
        storeys.setdefault(room.storey, []).append(room.name)
    order = list(reversed(storeys.items()))
    if any(lost.values()):
        boxes[_ELSEWHERE] = lost
        order.append(("", [_ELSEWHERE]))
    return boxes, order


def _room(x, y, wide, name, tags):
    """One room: its name and three heights with their tags."""
    most, room = int(wide / 6.3), wide - 14.0
    words = name if len(name) <= most else name[: most - 1] + "…"
    squeezed = {"textLength": room, "lengthAdjust": "spacingAndGlyphs"}
    parts = [
        rect(x, y, wide, _HEAD + 3.0 * _ROW + 2.0, fill="#fff", stroke=QUIET, stroke_width=1.5, rx=4.0),
        text(x + 7.0, y + 17.0, words, 13.5, **(squeezed if 7.9 * len(words) > room else {})),
    ]  # fmt: skip
    for place, height in enumerate(_HEIGHTS):
        middle = y + _HEAD + _ROW * (place + 0.5)
        if place:
            edge = middle - _ROW / 2.0
            parts.append(line(x + 4.0, edge, x + wide - 4.0, edge, stroke=FAINT, stroke_width=1.0))
        found = sorted(tags[height], key=lambda leak: (leak.state in SETTLED, leak.number))
        fit = max(int((wide - 8.0) / _TAG), 1)
        if len(found) > fit:
            fit -= 1
        for index, leak in enumerate(found[:fit]):
            at = x + 14.0 + _TAG * index
            parts.append(state_mark(leak.state, at, middle, 7.0))
            parts.append(text(at + 9.0, middle + 5.0, leak.number, 13.0, font_weight="700"))
        if len(found) > fit:
            parts.append(text(x + wide - 6.0, middle + 5.0, f"+{len(found) - fit}", 13.0, "end"))
        if not found:
            parts.append(text(x + wide - 6.0, middle + 4.0, height, 11.0, "end", fill=QUIET))
    return "".join(parts)


def _key(y):
    parts, x = [], 14.0
    for state in STATES:
        words = _WORDS.get(state, state)
        parts.append(state_mark(state, x, y + 6.0, 7.0))
        parts.append(text(x + 12.0, y + 11.0, words, 13.0))
        x += 30.0 + 7.6 * len(words)
    return "".join(parts)
