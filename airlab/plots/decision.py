"""How does today's reading stand to the limit at the end: reading, drift, what is left?

Every picture has one axis, the leakage flow at 50 Pa. What is read is black, what is within the
limit is green with a plain edge, what is beyond it is vermillion and hatched.
"""

from math import copysign, exp, log, pi, sqrt

from airlab.plots.style import FAINT, FLOW, GOOD, INK, PRESSURE, QUIET, VOLUME, nice_limit
from airlab.plots.svg import circle, drawing, line, path, rect, text
from airlab.words import display_unit, from_si, label, m3_per_h, normal_point, show, show_percent

__all__ = ["decision_drawing", "headroom_drawing", "readings_drawing"]

WIDTH = 780
_LEFT, _RIGHT = 24.0, 24.0
_SMALL = 14.0
_STEPS = 160
_NORMAL = normal_point(0.975)
_HALO = {"stroke": "#fff", "stroke_width": 5.0, "paint_order": "stroke"}


class _Axis:
    """The flow axis: from SI flow to place on the page."""

    def __init__(self, largest, units, width=WIDTH, left=_LEFT):
        self.unit = display_unit("m3/s", units)
        self.end = nice_limit(from_si(largest, self.unit))
        self._left, self._span = left, width - left - _RIGHT

    def x(self, flow):
        """Return the place of a flow [m3/s]."""
        return self.of(from_si(flow, self.unit))

    def of(self, shown):
        """Return the place of a flow in the unit shown."""
        return self._left + self._span * min(max(shown / self.end, -0.01), 1.02)

    def said(self, flow):
        """Return a flow [m3/s] as people read it, without its unit."""
        return show(from_si(flow, self.unit))

    def ticks(self, y):
        """Return the axis line with its numbers and name."""
        step = _round_step(self.end / 4.0)
        parts = [line(self.of(0.0), y, self.of(self.end), y, stroke=QUIET, stroke_width=1.5)]
        place = 0.0
        while place <= self.end * 1.0001:
            x = self.of(place)
            parts.append(line(x, y, x, y + 6.0, stroke=QUIET, stroke_width=1.5))
            anchor = "end" if place > self.end * 0.97 else "middle"
            parts.append(text(x, y + 22.0, show(place), _SMALL, anchor))
            place += step
        name = f"leakage flow at 50 Pa [{label(self.unit)}]"
        parts.append(text(self.of(self.end), y + 42.0, name, _SMALL, "end", fill=QUIET))
        return "".join(parts)

    def label_at(self, x, y, words, **more):
        """Return words at a place, kept inside the picture."""
        half = 4.2 * len(words)
        right = self._left + self._span
        anchor = "start" if x - half < self._left else "end" if x + half > right else "middle"
        x = max(x, self._left) if anchor == "start" else min(x, right) if anchor == "end" else x
        return text(x, y, words, _SMALL + 1.0, anchor, **{**_HALO, **more})


def _round_step(most):
    """Return the largest of 1, 2, 2.5, 5 times a power of ten up to the value."""
    power = 10.0 ** int(f"{most:e}".split("e")[1])
    return max(step * power for step in (1.0, 2.0, 2.5, 5.0) if step * power <= most * 1.001)


def _limit_line(axis, flow, top, bottom, words):
    x = axis.x(flow)
    return line(x, top, x, bottom, stroke=INK, stroke_width=3.0) + axis.label_at(
        x, top - 7.0, words, font_weight="700"
    )


def decision_drawing(number, units="metric"):
    """Return today's reading, the drift to the end and the limit, as an SVG string.

    Parameters
    ----------
    number : HouseNumber
        The number for the house.
    units : str
        'metric' or 'us'.
    """
    flow, limit = number.house.flow_50, number.limit_flow
    middle, spread = flow * number.state.drift_median, max(number.spread, 1e-3)
    added = number.added_flow
    far = added + middle * exp(2.6 * spread)
    axis = _Axis(max(far, 1.15 * limit, 1.15 * flow), units)
    chance = show_percent(number.probability)
    title = (
        f"Today's reading {axis.said(flow)} {label(axis.unit)} at 50 Pa, the final flow about "
        f"{axis.said(added + middle)}, the limit {axis.said(limit)}; chance to keep "
        f"the limit {chance}."
    )
    base, top = 268.0, 118.0
    parts = [axis.ticks(base)]
    parts += _likely(axis, number, middle, spread, added, base, top)
    parts.append(_limit_line(axis, limit, 34.0, base, f"limit at the end {axis.said(limit)}"))
    parts.append(_today(axis, number, 72.0))
    return drawing(WIDTH, 318, title, *parts)


def _today(axis, number, y):
    """The reading with its spread, and the most it may be."""
    flow, u = number.house.flow_50, number.spread**2 - (number.state.drift_spread or 0.0) ** 2
    u = sqrt(max(u, 0.0) / 2.0)
    x = axis.x(flow)
    low, high = axis.x(flow * exp(-_NORMAL * u)), axis.x(flow * exp(_NORMAL * u))
    words, limit = f"read today {axis.said(flow)}", axis.x(number.limit_flow)
    clear = limit + copysign(4.6 * len(words) + 6.0, x - limit)  # off the line of the limit
    beside = max(x, clear) if x > limit else min(x, clear)
    marks = [
        line(axis.of(0.0), y, axis.of(axis.end), y, stroke=FAINT, stroke_width=1.5),
        line(low, y, high, y, stroke=PRESSURE.css, stroke_width=4.0),
        *(line(at, y - 8.0, at, y + 8.0, stroke=PRESSURE.css, stroke_width=3.0) for at in (low, high)),
        rect(x - 7.0, y - 7.0, 14.0, 14.0, fill=PRESSURE.css),
        axis.label_at(beside, y + 27.0, words, font_weight="700"),
    ]  # fmt: skip
    if number.pass_flow > 0.0:
        p = axis.x(number.pass_flow)
        marks.append(path(f"M{p - 8:.1f} {y - 19:.1f}h16L{p:.1f} {y - 5:.1f}Z", fill=GOOD.css,
                          stroke=INK, stroke_width=1.2))  # fmt: skip
        marks.append(axis.label_at(p, y - 25.0, f"needed: at most {axis.said(number.pass_flow)}"))
    return "".join(marks)


def _likely(axis, number, middle, spread, added, base, top):
    """The final flow as a hill: within the limit, and beyond it hatched."""
    first = added + middle * exp(-3.2 * spread)
    last = added + middle * exp(3.2 * spread)
    grid = [first + (last - first) * step / _STEPS for step in range(_STEPS + 1)]

    def height(flow):
        ratio = (flow - added) / middle
        z = log(ratio) / spread
        return exp(-0.5 * z * z) / (ratio * spread * sqrt(2.0 * pi))

    peak = max(height(flow) for flow in grid)
    points = [(axis.x(flow), base - (base - top) * height(flow) / peak, flow) for flow in grid]
    limit = number.limit_flow
    inside = [(x, y) for x, y, flow in points if flow <= limit]
    beyond = [(x, y) for x, y, flow in points if flow > limit]
    parts = []
    if inside:
        parts.append(
            path(_hill(inside, base), fill=GOOD.css_fill, stroke=GOOD.css, stroke_width=2.5)
        )
    if beyond:
        parts.append(
            path(_hill(beyond, base), fill=FLOW.css_fill, stroke=FLOW.css, stroke_width=2.5)
        )
        parts += [
            line(x, base, x, y, stroke=FLOW.css, stroke_width=1.2)
            for index, (x, y) in enumerate(beyond) if index % 4 == 0
        ]  # fmt: skip
    cut = axis.x(limit)
    chance = number.probability
    if chance > 0.02:
        x = min(cut - 12.0, axis.x(added + middle) if chance > 0.6 else cut - 12.0)
        anchor = "middle" if chance > 0.6 and x < cut - 60.0 else "end"
        parts.append(text(x, base - 40.0, show_percent(chance), 24, anchor, font_weight="700"))
        parts.append(text(x, base - 18.0, "within the limit", _SMALL, anchor))
    if chance < 0.98:
        x, y = cut + 12.0, base - 18.0
        if chance > 0.5 and beyond:  # the hill falls away here: the words stand on it
            y = min(beyond[0][1] - 4.0, base - 18.0)
        rest = show_percent(1.0 - chance, 1 if chance > 0.9 else 2)
        parts.append(text(x, y - 22.0, rest, 20, font_weight="700", **_HALO))
        parts.append(text(x, y, "beyond it", _SMALL, **_HALO))
    return parts


def _hill(points, base):
    start, end = points[0][0], points[-1][0]
    way = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return f"M{start:.1f} {base:.1f}L{way}L{end:.1f} {base:.1f}Z"


def readings_drawing(day, units="metric", most=5):
    """Return the last readings at 50 Pa against what was expected, as an SVG string.

    Parameters
    ----------
    day : CheckDay
        The day as it stands.
    units : str
        'metric' or 'us'.
    most : int
        How many of the last readings are drawn.
    """
    expected = day.plan.expected if day.plan else None
    shown = day.readings[-most:]
    largest = [one.high for one in shown]
    if expected:
        largest += [expected.high, expected.pass_flow or 0.0]
    axis = _Axis(max([*largest, m3_per_h(1.0)]) * 1.04, units, left=64.0)
    rows = max(len(shown), 1)
    top, step = 84.0, 36.0
    base = top + step * rows + 2.0
    parts = [axis.ticks(base)]
    title = "Readings at 50 Pa."
    if expected:
        low, high = axis.x(expected.low), axis.x(expected.high)
        parts.append(rect(low, 40.0, max(high - low, 3.0), base - 40.0, fill=VOLUME.css_fill))
        parts.append(line(low, 40.0, low, base, stroke=VOLUME.css, stroke_width=2.0))
        parts.append(line(high, 40.0, high, base, stroke=VOLUME.css, stroke_width=2.0))
        words = f"expected today {axis.said(expected.low)} to {axis.said(expected.high)}"
        parts.append(axis.label_at((low + high) / 2.0, 58.0, words, fill="#00456d"))
        title = f"{words} {label(axis.unit)} at 50 Pa."
        if expected.pass_flow:
            parts.append(_limit_line(axis, expected.pass_flow, 34.0, base,
                                     f"needed: at most {axis.said(expected.pass_flow)}"))  # fmt: skip
    for place, one in enumerate(shown):
        y = top + step * place + 10.0
        x, low, high = axis.x(one.corrected.flow_50), axis.x(one.low), axis.x(one.high)
        parts += [
            line(axis.of(0.0), y, axis.of(axis.end), y, stroke=FAINT, stroke_width=1.0),
            text(8.0, y + 5.0, f"no. {one.reading.name}"[:8], _SMALL, font_weight="700"),
            line(low, y, high, y, stroke=PRESSURE.css, stroke_width=4.0),
            line(low, y - 7.0, low, y + 7.0, stroke=PRESSURE.css, stroke_width=3.0),
            line(high, y - 7.0, high, y + 7.0, stroke=PRESSURE.css, stroke_width=3.0),
            rect(x - 7.0, y - 7.0, 14.0, 14.0, fill=PRESSURE.css),
        ]
        near = high + 10.0 < axis.of(axis.end) - 50.0
        parts.append(text(high + 10.0 if near else low - 10.0, y + 5.0,
                          axis.said(one.corrected.flow_50), 15.0, "start" if near else "end",
                          font_weight="700", **_HALO))  # fmt: skip
        title += f" Reading {one.reading.name}: {axis.said(one.corrected.flow_50)}."
    if not shown:
        parts.append(text(axis.of(axis.end / 2.0), top + 16.0, "no reading yet", 16.0, "middle",
                          fill=QUIET))  # fmt: skip
    return drawing(WIDTH, base + 50.0, title, *parts)


def headroom_drawing(register, number, draft=None, units="metric"):
    """Return what today's reading uses of the pass mark, and what holes take, as an SVG string.

    Parameters
    ----------
    register : HoleRegister
        Holes so far.
    number : HouseNumber
        The number for the house.
    draft : RegisteredHole or None
        A hole that is not entered yet.
    units : str
        'metric' or 'us'.
    """
    held, new = (flow * number.mark for flow in (register.open_flow, draft.flow if draft else 0.0))
    whole, read = number.pass_flow + held, number.house.flow_50
    axis = _Axis(max(whole, read + held + new) * 1.12, units)
    y, tall, base = 66.0, 44.0, 124.0
    parts = [axis.ticks(base), rect(axis.of(0.0), y, axis.x(read) - axis.of(0.0), tall, fill=PRESSURE.css_fill,
                                    stroke=INK, stroke_width=1.5)]  # fmt: skip
    at = read
    for flow, dashes in ((held, None), (new, "5 3")):
        if flow > 0.0:
            wide = max(axis.x(at + flow) - axis.x(at), 4.0)
            parts.append(rect(axis.x(at), y, wide, tall, fill=FLOW.css_fill, stroke=FLOW.css,
                              stroke_width=2.5, stroke_dasharray=dashes))  # fmt: skip
            at += flow
    if whole > at:
        parts.append(rect(axis.x(at), y, axis.x(whole) - axis.x(at), tall, fill=GOOD.css_fill,
                          stroke=GOOD.css, stroke_width=2.0))  # fmt: skip
    parts.append(
        _limit_line(axis, whole, 34.0, base, f"pass mark without holes {axis.said(whole)}")
    )
    parts.append(
        text(
            axis.x(read / 2.0),
            y + 28.0,
            f"read today {axis.said(read)}",
            15.0,
            "middle",
            stroke="#e6e6e6",
            stroke_width=5.0,
            paint_order="stroke",
        )
    )
    parts.append(circle(axis.x(read), y + tall / 2.0, 4.0, fill=INK))
    left = whole - at
    words = f"left {axis.said(left)}" if left >= 0.0 else f"over by {axis.said(-left)}"
    title = (
        f"Read today {axis.said(read)} {label(axis.unit)} at 50 Pa, open holes "
        f"take {axis.said(held)} of the pass mark {axis.said(whole)}: {words}."
    )
    if new:
        title += f" A new hole, open, takes {axis.said(new)}."
    parts.append(text(axis.of(0.0), 24.0, words, 17.0, font_weight="700"))
    return drawing(WIDTH, 172, title, *parts)
