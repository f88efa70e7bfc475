"""What does it look like while a vessel drains: the vessel itself, to scale, at one moment.

A balloon shrinks on its capped neck; a jar keeps its air and loses its pressure; a fan keeps
pushing new air in. Clock, pressure gauge and jet belong to the same moment.
"""

import math

from airlab.physics import Balloon, FanHeldVolume, HoleSet, SealedVessel, equivalent_hole_area
from airlab.plots.style import FLOW, INK, PRESSURE, QUIET, VOLUME, nice_limit
from airlab.plots.svg import arrow, circle, drawing, line, path, rect, text
from airlab.words import from_si, show, show_duration, to_si

__all__ = [
    "drain_drawing",
    "flow_unit",
    "flow_words",
    "pace_words",
    "ticks_in_real_time",
    "volume_words",
]

WIDTH, HEIGHT = 320, 400
_MIDDLE, _FLOOR = 160.0, 372.0
_ROOM = 222.0  # px for the largest thing drawn
_USUAL = 0.32  # m; things up to this size share one scale, so that small looks small
_SKIN = (0.0, -38.0, 38.0, 180.0, 218.0, 142.0)  # where holes in the rubber are drawn, degrees
_MOST = len(_SKIN)  # holes drawn; the rest are counted
_SHOWN_HOLE = 1.5  # px, the least radius
_FASTER, _SLOWER = 1.15, 0.87


def volume_words(volume, units="metric", beside=None):
    """Return a volume as people say it: millilitres, litres, cubic metres, or cubic feet.

    Parameters
    ----------
    volume : float
        What is said. [m3]
    units : str
        'metric' or 'us'.
    beside : float, optional
        A volume it is compared with, whose unit it takes; itself if left out. [m3]

    Examples
    --------
    >>> volume_words(0.0117), volume_words(0.00028), volume_words(500.0)
    ('11.7 L', '280 mL', '500 m³')
    """
    if units == "us":
        return show(from_si(volume, "ft3"), "ft3")
    size = volume if beside is None else beside
    unit = "m3" if size >= 1.0 else "L" if size >= 1e-3 or size == 0.0 else "mL"
    return show(from_si(volume, unit), unit)


def flow_unit(record, units="metric"):
    """Return the unit of flow that suits the size of the vessel."""
    return "cfm" if units == "us" else "m3/h" if record.vessel.volume >= 1.0 else "L/s"


def flow_words(record, flow, units="metric"):
    """Return a flow in the unit that suits the vessel."""
    unit = flow_unit(record, units)
    return show(from_si(flow, unit), unit)


def ticks_in_real_time(frame, tick, most):
    """Return how many frames [s] pass in one tick [s] of a true clock, 1 to `most`."""
    return max(1, min(most, round(tick / frame))) if frame > 0.0 else 1


def pace_words(frame, tick, frames=1):
    """Return how fast the clock on the page goes, in words; empty if it is about true.

    Parameters
    ----------
    frame : float
        Time from one frame to the next. [s]
    tick : float
        Time between two pictures. [s]
    frames : int
        Frames the clock goes on between them.

    Examples
    --------
    >>> pace_words(0.3, 0.05), pace_words(0.005, 0.05, 2), pace_words(0.05, 0.05)
    ('6 times as fast', '5 times slower', '')
    """
    pace = frames * frame / tick
    if _SLOWER <= pace <= _FASTER:
        return ""
    if pace > 1.0:
        return f"{show(pace, digits=2)} times as fast"
    return f"{show(1.0 / pace, digits=2)} times slower"


def drain_drawing(record, time=0.0, units="metric", holes=None, pace="", caption=""):
    """Return the drawing of a draining vessel at a time, as an SVG string.

    Parameters
    ----------
    record : Drain
        What drains.
    time : float
        Seconds since the hole was opened. [s]
    units : str
        'metric' or 'us'.
    holes : HoleSet, optional
        Its holes one by one; otherwise its openings, sitting as the vessel says.
    pace : str
        How fast the clock goes, said under it.
    caption : str
        Name under the drawing.
    """
    now = record.at(time)
    draw = {Balloon: _balloon, SealedVessel: _jar, FanHeldVolume: _fan}[type(record.vessel)]
    if holes is None:
        holes = HoleSet(record.openings)
        for place in range(len(holes.holes)):
            holes = holes.change(place, hole_mode=record.vessel.hole_mode)
    what, parts = draw(record, now, units, holes.holes)
    title = (
        f"{what} {show_duration(now.time)} after the hole was opened: "
        f"{show(now.pressure_difference, 'Pa')}, "
        + (f"air leaves at {_speed(now, units)}." if now.flow > 0.0 else "no air leaves.")
    )
    head = [_clock(now.time, pace), _gauge(record, now), _stream(record, now, units)]
    if caption:
        head.append(text(306, 392, caption, size=20, anchor="end", font_weight="bold"))
    return drawing(WIDTH, HEIGHT, title, *head, *parts)


def _stream(record, now, units):
    """What leaves at this moment: flow and speed of the jet."""
    return text(
        12, 100, flow_words(record, now.flow, units), size=18, font_weight="bold", fill=FLOW.css
    ) + text(12, 121, f"at {_speed(now, units)}", size=16, fill=FLOW.css)


def _speed(now, units):
    unit = "mph" if units == "us" else "m/s"
    return show(from_si(now.jet_speed, unit), unit)


def _clock(seconds, pace):
    """Time as digits, with a hand that goes round once a minute."""
    turn = 2.0 * math.pi * (seconds % 60.0) / 60.0
    return (
        circle(30, 34, 20, fill="none", stroke=INK, stroke_width=3)
        + line(
            30, 34, 30 + 15 * math.sin(turn), 34 - 15 * math.cos(turn), stroke=INK, stroke_width=3
        )
        + circle(30, 34, 3, fill=INK)
        + text(58, 44, show_duration(seconds), size=26, font_weight="bold")
        + (text(12, 74, f"clock: {pace}", size=14, fill=QUIET) if pace else "")
    )


def _gauge(record, now):
    """Half-round pressure gauge with its needle and the number."""
    x, y, r = 254.0, 62.0, 44.0
    top = nice_limit(1.15 * float(record.pressure_difference.max()))
    angle = math.pi * (1.0 - min(now.pressure_difference / top, 1.0))
    ticks = "".join(
        line(
            x + r * math.cos(a), y - r * math.sin(a),
            x + (r - 8) * math.cos(a), y - (r - 8) * math.sin(a), stroke=QUIET, stroke_width=2,
        )
        for a in (math.pi * k / 4.0 for k in range(5))
    )  # fmt: skip
    needle = line(
        x, y, x + (r - 10) * math.cos(angle), y - (r - 10) * math.sin(angle),
        stroke=PRESSURE.css, stroke_width=4, stroke_linecap="round",
    )  # fmt: skip
    return (
        path(
            f"M{x - r} {y}A{r} {r} 0 0 1 {x + r} {y}", fill=PRESSURE.css_fill,
            stroke=QUIET, stroke_width=2,
        )
        + ticks + needle + circle(x, y, 5, fill=INK)
        + text(x, y + 26, show(now.pressure_difference, "Pa"), size=20, anchor="middle",
               font_weight="bold")
        + text(x, y + 43, "over outside", size=14, anchor="middle", fill=QUIET)
    )  # fmt: skip


def _jet(record, now, x, y, dx, dy):
    """Arrow of the air that leaves: as long as the jet is fast."""
    start = record.jet_speed[0]
    if now.flow <= 0.0 or start <= 0.0:
        return ""
    length = 12.0 + 22.0 * min(now.jet_speed / start, 1.2)
    return arrow(x, y, x + length * dx, y + length * dy, FLOW.css, 5)


def _scale(size):
    """Pixels per metre: one scale for usual sizes, smaller for what would not fit."""
    return _ROOM / max(size, _USUAL)


def _ruler(scale, units):
    number, unit = (4.0, "in") if units == "us" else (10.0, "cm")
    length = to_si(number, unit) * scale
    return (
        line(14, 390, 14 + length, 390, stroke=QUIET, stroke_width=2)
        + line(14, 385, 14, 395, stroke=QUIET, stroke_width=2)
        + line(14 + length, 385, 14 + length, 395, stroke=QUIET, stroke_width=2)
        + text(14, 378, show(number, unit), size=14, fill=QUIET)
    )


def _hole(opening, scale, factor=1.0):
    """Radius in pixels of a hole drawn as a round one of its area, grown or shrunk."""
    area = getattr(opening, "area", None) or equivalent_hole_area(float(opening.flow(50.0)))
    return max(_SHOWN_HOLE, math.sqrt(area * factor / math.pi) * scale)


def _balloon(record, now, units, holes):
    vessel = record.vessel
    across = (6.0 * now.volume / math.pi) ** (1.0 / 3.0)
    scale = _scale(vessel.diameter)
    r0, r = 0.5 * scale * vessel.diameter, 0.5 * scale * across
    neck = 350.0
    y0, y = neck - 8.0 - r0, neck - 8.0 - r
    slack = max(r, 4.0)
    skin = (
        f"M{_MIDDLE - 7} {neck}C{_MIDDLE - 6} {neck - 8} {_MIDDLE - 0.5 * slack} {neck - 8} "
        f"{_MIDDLE - 0.72 * slack:.1f} {y + 0.7 * slack:.1f}"
        f"A{slack:.1f} {slack:.1f} 0 1 1 {_MIDDLE + 0.72 * slack:.1f} {y + 0.7 * slack:.1f}"
        f"C{_MIDDLE + 0.5 * slack:.1f} {neck - 8} {_MIDDLE + 6} {neck - 8} {_MIDDLE + 7} {neck}Z"
    )
    parts = [
        _ruler(scale, units),
        circle(_MIDDLE, y0, r0, fill="none", stroke=QUIET, stroke_width=1.5, stroke_dasharray="3 5"),
        path(skin, fill=VOLUME.css_fill, stroke=VOLUME.css, stroke_width=3, stroke_linejoin="round"),
        path(
            f"M{_MIDDLE - 0.62 * r:.1f} {y - 0.2 * r:.1f}"
            f"A{0.68 * r:.1f} {0.68 * r:.1f} 0 0 1 {_MIDDLE - 0.2 * r:.1f} {y - 0.64 * r:.1f}",
            fill="none", stroke="#fff", stroke_width=max(1.0, 0.06 * r), stroke_linecap="round",
        ),
    ]  # fmt: skip
    words = volume_words(now.volume, units, vessel.volume)
    if r > 58.0:
        parts.append(text(_MIDDLE, y + 9, words, size=27, anchor="middle", font_weight="bold"))
    else:
        parts.append(
            text(_MIDDLE - r - 12, y + 8, words, size=24, anchor="end", font_weight="bold")
        )
    capped = [one for one in holes if one.hole_mode == "rigid"]
    if capped:
        parts.append(rect(_MIDDLE - 9, neck - 3, 18, 8, rx=2, fill=INK))
        many = f"{len(capped)} holes" if len(capped) > 1 else "the hole"
        parts.append(text(_MIDDLE + 34, neck + 8, f"cap with {many}", size=14, fill=QUIET))
        for turn in (0.0, -30.0, 30.0)[: len(capped)]:
            dx, dy = math.sin(math.radians(turn)), math.cos(math.radians(turn))
            parts.append(_jet(record, now, _MIDDLE + 6 * dx, neck + 8, dx, dy))
    else:
        parts.append(path(f"M{_MIDDLE - 8} {neck}h16l4 8h-24z", fill=VOLUME.css))
    stretched = max((now.volume / vessel.unstretched_volume) ** (1.0 / 3.0) - 1.0, 0.0)
    bare = [one for one in holes if one.hole_mode != "rigid"]
    for one, turn in zip(bare, _SKIN):
        factor = vessel.hole_factor(stretched, one.hole_mode)
        dot = min(_hole(one.opening, scale, factor), 0.5 * slack)
        dx, dy = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        parts.append(circle(_MIDDLE + slack * dx, y + slack * dy, dot, fill=INK))
        parts.append(_jet(record, now, _MIDDLE + (slack + 4 + dot) * dx,
                          y + (slack + 4 + dot) * dy, dx, dy))  # fmt: skip
    if len(bare) > _MOST:
        parts.append(text(306, 390, f"and {len(bare) - _MOST} more", size=14, anchor="end"))
    return f"Balloon, {words} left of {volume_words(vessel.volume, units)},", parts


def _box(record):
    """Return left edge, top, width and height of a jar of that volume, to scale."""
    across = (record.vessel.volume / 1.068) ** (1.0 / 3.0)  # height 1.36 times the width
    scale = _scale(1.36 * across)
    width, height = across * scale, 1.36 * across * scale
    return _MIDDLE - 0.5 * width, _FLOOR - height, width, height, scale


def _lid(record, now, x, y, width, holes):
    """The lid with its holes, spread over it."""
    parts = [rect(x - 4, y - 12, width + 8, 14, rx=4, fill=INK)]
    shown = holes[:_MOST]
    for place in range(len(shown)):
        at = _MIDDLE + (place - 0.5 * (len(shown) - 1)) * min(26.0, 0.8 * width / len(shown))
        parts.append(rect(at - 3, y - 13, 6, 16, fill="#fff"))
        parts.append(_jet(record, now, at, y - 14, 0.0, -1.0))
    return "".join(parts)


def _jar(record, now, units, holes):
    x, y, width, height, scale = _box(record)
    spare = record.volume[0]
    share = min(spare / record.vessel.volume, 1.0) * height
    left = share * now.volume / spare
    words = volume_words(record.vessel.volume, units)
    parts = [
        _ruler(scale, units) if record.vessel.volume < 1.0 else "",
        rect(x, y, width, height, rx=10, fill=VOLUME.css_fill, stroke=VOLUME.css, stroke_width=3),
        rect(x + 3, y + 3, width - 6, max(left, 0.0), fill=VOLUME.css),
        text(_MIDDLE, y + 0.52 * height, words, size=27, anchor="middle", font_weight="bold"),
        text(_MIDDLE, y + 0.52 * height + 24, "stays inside", anchor="middle"),
        text(
            _MIDDLE,
            y + 34,
            f"{volume_words(now.volume, units, record.volume[0])} to spare",
            anchor="middle",
        ),
        _lid(record, now, x, y, width, holes),
    ]
    return (
        f"Sealed {record.vessel.name if record.vessel.name != 'sealed vessel' else 'jar'} of {words}, {volume_words(now.volume, units, record.volume[0])} of spare air left,",
        parts,
    )


def _fan(record, now, units, holes):
    x, y, width, height, scale = _box(record)
    old = height * now.volume / record.vessel.volume
    turn = 40.0 * now.time % 120.0
    fx, fy = x, _FLOOR - 40.0
    blades = "".join(
        f'<ellipse cx="{fx:.1f}" cy="{fy - 11:.1f}" rx="5" ry="10" fill="{INK}" '
        f'transform="rotate({turn + 120 * k:.0f} {fx:.1f} {fy:.1f})"/>'
        for k in range(3)
    )
    parts = [
        _ruler(scale, units) if record.vessel.volume < 1.0 else "",
        rect(x, y, width, height, rx=10, fill="#fff", stroke=VOLUME.css, stroke_width=3),
        rect(x + 1.5, y, width - 3, max(old, 0.0), rx=8, fill=VOLUME.css_fill) if old > 0 else "",
        line(x, y + old, x + width, y + old, stroke=VOLUME.css, stroke_width=2, stroke_dasharray="6 4"),
        text(_MIDDLE, y + 34, f"{volume_words(now.volume, units, record.vessel.volume)} old air", anchor="middle"),
        text(_MIDDLE, y + 54, "if it did not mix", anchor="middle", size=14, fill=QUIET),
        arrow(fx - 62, fy, fx - 26, fy, FLOW.css, 5),
        circle(fx, fy, 23, fill="#fff", stroke=INK, stroke_width=3), blades,
        circle(fx, fy, 4, fill="#fff"),
        text(fx + 30, fy + 6, "fan", size=15),
        _lid(record, now, x, y, width, holes),
    ]  # fmt: skip
    words = volume_words(record.vessel.volume, units)
    name = record.vessel.name
    return f"{name[:1].upper()}{name[1:]} of {words} with a fan that holds the pressure,", parts
