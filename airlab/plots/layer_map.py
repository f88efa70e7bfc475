"""How far is the airtight layer, room by room, and which areas may not be covered yet?

One strip for each room, one block for each area, as wide as the area is large. A block shows its
state as a builder would see it: an empty outline, two parts with a slit, one sheet, a sheet under
a lid. Colour only repeats that.
"""

from html import escape

from airlab.plots.style import FLOW, GOOD, INK, QUIET
from airlab.plots.svg import drawing, line, path, rect, text
from airlab.words import display_unit, from_si, show
from airlab.words.saying import alike, listed

__all__ = ["STATES_IN_WORDS", "layer_map"]

WIDTH = 860
_LEFT, _RIGHT = 168.0, 850.0
_STRIP, _STEP, _STOREY = 25.0, 31.0, 25.0
_LETTER = 6.9  # px of one letter at size 13
STATES_IN_WORDS = ("not started", "open laps", "complete and visible", "covered")


def layer_map(areas, rooms=(), held=(), chosen="", units="metric"):
    """Return the areas of the envelope by room and state, as an SVG string.

    Parameters
    ----------
    areas : iterable of EnvelopeElement
        Areas that are counted.
    rooms : iterable of Room
        Rooms in the order one walks them; areas of other rooms follow.
    held : iterable of str
        Areas that may not be covered yet whatever the number.
    chosen : str
        Area that is being changed.
    units : str
        'metric' or 'us'.
    """
    areas, held = tuple(areas), set(held)
    groups = {}
    for room in rooms:
        own = [area for area in areas if alike(area.room) == alike(room.name)]
        if own:
            groups.setdefault(room.storey, []).append((room.name, own))
    placed = {id(area) for strips in groups.values() for _, own in strips for area in own}
    for area in areas:
        if id(area) not in placed:
            strips = groups.setdefault("", [])
            own = next((own for name, own in strips if name == area.room), None)
            own.append(area) if own else strips.append((area.room or "whole house", [area]))
    most = max(sum(area.area_m2 for area in own) for strips in groups.values() for _, own in strips)
    scale, unit = (_RIGHT - _LEFT) / most, display_unit("m2", units)
    parts, y = [_legend()], 44.0
    for storey, strips in groups.items():
        if storey:
            parts.append(text(8, y + 16, storey, size=14, fill=QUIET, font_weight="bold"))
            y += _STOREY
        for name, own in strips:
            size = show(from_si(sum(area.area_m2 for area in own), unit), unit)
            parts.append(text(_LEFT - 12, y + 11, _short(name, 150.0), size=14, anchor="end"))
            parts.append(text(_LEFT - 12, y + 24, size, size=11, anchor="end", fill=QUIET))
            x = _LEFT
            for area in own:
                width = max(area.area_m2 * scale, 4.0)
                parts.append(_block(area, x, y, width, area.area in held, area.area == chosen))
                x += width
            y += _STEP
    counts = {state: sum(area.status == state for area in areas) for state in STATES_IN_WORDS}
    title = "State of the layer: " + listed(
        [f"{count} {state}" for state, count in counts.items() if count]
    )
    back = f", {len(held)} not to be covered yet" if held else ""
    return drawing(WIDTH, y + 6.0, f"{title} of {len(areas)} areas{back}.", *parts)


def _legend():
    parts, x = [], 8.0
    for state in STATES_IN_WORDS:
        parts.append(_state(state, x, 12.0, 30.0, 16.0))
        parts.append(text(x + 36, 25, state, size=14))
        x += 52 + 7.3 * len(state)
    return "".join(parts) + _flag(x + 6, 24) + text(x + 18, 25, "may not be covered yet", size=14)


def _block(area, x, y, width, held, chosen):
    label, slit = _short(area.element, width - 10.0), area.status == "open laps"
    parts = [_state(area.status, x + 1.0, y, width - 2.0, _STRIP)]
    if label:
        halo = {"paint_order": "stroke", "stroke": FLOW.css_fill, "stroke_width": 4}
        parts.append(text(x + 6, y + 18.5, label, size=13, **(halo if slit else {})))
    if held:
        parts.append(_flag(x + width - 9.0, y + 2.0))
    if chosen:
        parts.append(
            rect(x - 0.5, y - 2.5, width + 1.0, _STRIP + 5.0, rx=5, fill="none", stroke=INK,
                 stroke_width=3)
        )  # fmt: skip
    return f"<g><title>{escape(f'{area.area}: {area.status}')}</title>{''.join(parts)}</g>"


def _state(state, x, y, width, height):
    """One block as its state looks."""
    if state == "not started":
        return rect(x, y, width, height, rx=3, fill="#fff", stroke=QUIET, stroke_width=1.5,
                    stroke_dasharray="4 3")  # fmt: skip
    if state == "open laps":
        middle, lean = x + 0.5 * width, min(0.25 * width, 6.0)
        slit = f"M{middle + lean:.1f} {y - 1:.1f}L{middle - lean:.1f} {y + height + 1:.1f}"
        return (
            rect(x, y, width, height, rx=3, fill=FLOW.css_fill, stroke=FLOW.css, stroke_width=2)
            + path(slit, stroke=FLOW.css, stroke_width=8, fill="none")
            + path(slit, stroke="#fff", stroke_width=4.5, fill="none")
        )
    whole = rect(x, y, width, height, rx=3, fill=GOOD.css_fill, stroke=GOOD.css, stroke_width=1.5)
    if state == "covered":
        whole += rect(x, y, width, 0.3 * height, rx=2, fill=QUIET)
    return whole


def _flag(x, y):
    """A small mark that hangs on what is held back."""
    return line(x, y - 8, x, y + 3, stroke=INK, stroke_width=2) + path(
        f"M{x:.1f} {y - 8:.1f}l9 3.5l-9 3.5Z", fill=INK
    )


def _short(words, width):
    """Words that fit a width; nothing where hardly a letter does."""
    most = int(width / _LETTER)
    if len(words) <= most:
        return words
    return f"{words[: most - 1].rstrip()}…" if most >= 5 else ""
