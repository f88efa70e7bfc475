"""What does it take to hold a house at 50 Pa, and how fast is the pressure gone without the fan?

The drawing shows house, person, door and all holes together to one scale; the chart shows the
pressure before and after the fan stops, with its opening closed at once.
"""

import math
from html import escape

import numpy as np
from matplotlib.ticker import MaxNLocator

from airlab.plots.chart import Chart
from airlab.plots.drain import volume_words
from airlab.plots.style import FLOW, INK, PRESSURE, QUIET, VOLUME, nice_limit
from airlab.plots.svg import arrow, circle, drawing, line, path, rect, text
from airlab.words import display_unit, from_si, label, show, show_duration

__all__ = ["FanStopChart", "house_drawing", "house_tiles"]

WIDTH, HEIGHT = 400, 370
_GROUND = 330.0
_SLENDER = 0.62  # height of the drawn box over its width
_WIDEST = 10.0  # m at the usual scale
_ROOM = 276.0  # px for that width


def house_drawing(record, units="metric", time=None, pace=""):
    """Return the house with the fan in its door, as an SVG string.

    Parameters
    ----------
    record : FanStop
        The house.
    units : str
        'metric' or 'us'.
    time : float, optional
        Time since the fan stopped; the fan runs if left out. [s]
    pace : str
        How fast the clock goes.
    """
    now = None if time is None else record.fan_off.at(time)
    pressure = record.fan_off.vessel.pressure_difference if now is None else now.pressure_difference
    house = record.fan_on.vessel
    across = (house.internal_volume / _SLENDER) ** (1.0 / 3.0)
    scale = _ROOM / max(across, _WIDEST)
    width, height = across * scale, _SLENDER * across * scale
    x, y = 0.5 * (WIDTH - width), _GROUND - _SLENDER * across * scale
    volume = volume_words(house.internal_volume, units)
    area_unit = "in2" if units == "us" else "cm2"
    side_unit = "in" if units == "us" else "cm"
    area = show(from_si(record.fan_on.hole_area, area_unit), area_unit)
    side = math.sqrt(record.fan_on.hole_area)
    flow = _flow(record, units)
    says = show(pressure, "Pa")
    title = (
        f"House of {volume}. A fan in the door blows in {flow} and holds 50 Pa; the same leaves "
        f"through holes of {area} altogether."
    )
    fan = f"fan: {flow}"
    if now is not None:
        fan = "fan off, its opening shut"
        title = f"House of {volume}, {show_duration(now.time)} after the fan stopped: {says}."
    person = 1.75 * scale
    door_w, door_h = 0.95 * scale, 2.05 * scale
    door_x = x + 0.16 * width
    fan_r = 0.4 * door_w
    hole = max(side * scale, 1.5)
    hole_x, hole_y = x + 0.80 * width - 0.5 * hole, y + 0.36 * height - 0.5 * hole
    eaves = 0.05 * width
    parts = (
        line(0, _GROUND, WIDTH, _GROUND, stroke=QUIET, stroke_width=3),
        path(
            f"M{x - eaves:.1f} {y:.1f}L{x + 0.5 * width:.1f} {y - 0.3 * width:.1f}"
            f"L{x + width + eaves:.1f} {y:.1f}Z",
            fill="#fff", stroke=QUIET, stroke_width=2,
        ),
        rect(x, y, width, height, fill=VOLUME.css_fill, stroke=VOLUME.css, stroke_width=4),
        text(x + 0.5 * width, y + 0.3 * height, volume, size=24, anchor="middle", font_weight="bold"),
        text(x + 0.5 * width, y + 0.3 * height + 26, f"at {says}", size=20, anchor="middle",
             font_weight="bold"),
        rect(door_x, _GROUND - door_h, door_w, door_h, fill="#fff", stroke=INK, stroke_width=2),
        circle(door_x + 0.5 * door_w, _GROUND - 0.35 * door_h, fan_r,
               fill=INK if now is None else QUIET),
        circle(door_x + 0.5 * door_w, _GROUND - 0.35 * door_h, 0.3 * fan_r, fill="#fff"),
        _person(x + width + eaves + 0.3 * scale + 6, person),
        rect(hole_x, hole_y, hole, hole, fill=INK),
        _leak(record, now, hole_x + hole + 3, hole_y + 0.5 * hole, x + width + 34),
        arrow(8, _GROUND - 0.35 * door_h, door_x - 4, _GROUND - 0.35 * door_h, FLOW.css, 7)
        if now is None else "",
        text(8, _GROUND + 28, fan, size=18, font_weight="bold",
             fill=FLOW.css if now is None else QUIET),
        "" if now is None else text(8, 26, show_duration(now.time), size=24, font_weight="bold"),
        text(8, 46, f"clock: {pace}", size=14, fill=QUIET) if pace and now is not None else "",
        text(WIDTH - 6, 22, f"all holes together: {area}", size=16, anchor="end"),
        text(WIDTH - 6, 43, f"a square of {show(from_si(side, side_unit), side_unit, 2)} a side",
             size=14, anchor="end", fill=QUIET),
        line(hole_x + 0.5 * hole, hole_y - 2, WIDTH - 40, 50, stroke=QUIET, stroke_width=1.2),
    )  # fmt: skip
    return drawing(WIDTH, HEIGHT, title, *parts)


def _leak(record, now, x, y, end):
    """Arrow of what leaves, as long as the flow is large; nothing when the flow is."""
    share = 1.0 if now is None else now.flow / record.fan_off.flow_at_start
    return arrow(x, y, x + share * (end - x), y, FLOW.css, 5) if share > 0.02 else ""


def _person(x, tall):
    head = 0.075 * tall
    return circle(x, _GROUND - tall + head, head, fill=QUIET) + path(
        f"M{x - 0.12 * tall:.1f} {_GROUND - 0.8 * tall:.1f}h{0.24 * tall:.1f}"
        f"l{-0.03 * tall:.1f} {0.4 * tall:.1f}l{-0.02 * tall:.1f} {0.4 * tall:.1f}"
        f"h{-0.14 * tall:.1f}l{-0.02 * tall:.1f} {-0.4 * tall:.1f}Z",
        fill=QUIET,
    )


def _flow(record, units):
    unit = display_unit("m3/s", units)
    return show(from_si(record.fan_on.flow_at_start, unit), unit)


def house_tiles(record, units="metric"):
    """Return what holding takes and what stopping does, as HTML: a number over its name."""
    on, off = record.fan_on, record.fan_off
    rows = (
        (_flow(record, units), "to hold 50 Pa"),
        (f"{show(on.rate_at_start)} /h", "air changes at 50 Pa"),
        (show_duration(on.time_to_flat), "to move one house volume"),
        (record.half_words(), "half the pressure gone, fan off"),
        (volume_words(off.vessel.spare, units), "spare air, gone with the pressure"),
    )
    cells = "".join(
        f"<div><b>{escape(big)}</b> <span>{escape(name)}</span></div>" for big, name in rows
    )
    return f'<div class="airlab-tiles">{cells}</div>'


_HIDDEN_END = 60.0  # s; while the answer is open the axis does not tell it


class FanStopChart(Chart):
    """Pressure before and after the fan stops: air that keeps its temperature, air that cools."""

    size = (440, 370)

    def build(self, figure):
        """Make the axes, the curves, two marks and their words."""
        self.axes = figure.add_axes((0.135, 0.155, 0.83, 0.73))
        self.axes.set_title("Pressure [Pa]", fontweight="bold")
        self.axes.set(ylim=(0.0, 56.0))
        self.axes.set_yticks((0, 5, 25, 50))
        self.axes.xaxis.set_major_locator(MaxNLocator(5))
        self._time_label = figure.text(0.965, 0.012, "", ha="right", va="bottom")
        self.axes.axvline(0.0, color=FLOW.colour, linewidth=2.0, linestyle=(0, (7, 2)))
        self.axes.text(0.0, 54.5, " fan stops", color=FLOW.colour, fontweight="bold", va="center")
        thin = {"color": QUIET, "linewidth": 2.0}
        (self.cooling,) = self.axes.plot([], [], linestyle=(0, (4, 2)), **thin)
        (self.stiff,) = self.axes.plot([], [], linestyle=(0, (1, 1.5)), **thin)
        (self.curve,) = self.axes.plot([], [], **PRESSURE.line(linewidth=4.0, linestyle="-"))
        (self.marks,) = self.axes.plot(
            [], [], PRESSURE.marker, color=PRESSURE.colour, markersize=11, markeredgecolor="white",
            zorder=5, clip_on=False,
        )  # fmt: skip
        self.words = [self.axes.text(0, 0, "", fontweight="bold", va="bottom") for _ in range(2)]
        self.names = self.axes.text(0, 0, "", color=QUIET, va="top", ha="right", fontsize=14)
        return (self.cooling, self.stiff, self.curve, self.marks, *self.words, self.names)

    def scale(self, record, time=None, hide=False):
        """Return the end of the time axis."""
        if hide:
            return (_HIDDEN_END,)
        return (nice_limit(1.75 * record.fan_off.time_to_5_pa),)

    def rescale(self, end):
        """Set the time axis; a fifth of it lies before the fan stops."""
        self.axes.set_xlim(-0.2 * end, end)
        self._time_label.set_text(f"Time since the fan stopped [{label('s')}]")
        self._end = end

    def place(self, record, time=None, hide=False):
        """Move the curves; `hide` shows nothing beyond the clock, and no help."""
        off = record.fan_off
        seen = (
            len(off.time) if time is None or not hide else np.searchsorted(off.time, time, "right")
        )
        at, pressure = off.time[:seen], off.pressure_difference[:seen]
        self.curve.set_data(
            np.concatenate([[-0.2 * self._end], at]),
            np.concatenate([[off.pressure_difference[0]], pressure]),
        )
        now = None if time is None else off.at(time)
        for curve, one in ((self.cooling, record.cooling), (self.stiff, record.stiff)):
            curve.set_visible(one is not None and not hide)
            if one is not None:
                curve.set_data(one.time, one.pressure_difference)
        named = (("- - air cools", record.cooling), ("··· stiff walls", record.stiff))
        self.names.set(
            position=(0.99 * self._end, 49.0),
            text="" if hide else "\n".join(words for words, one in named if one is not None),
        )
        times, levels = (
            (off.half_time, off.time_to_5_pa),
            (0.5 * off.vessel.pressure_difference, 5.0),
        )
        if hide:
            self.marks.set_data([now.time], [now.pressure_difference])
        else:
            self.marks.set_data(times, levels)
        self.marks.set_visible(off.drains or hide)
        for words, when, level in zip(self.words, times, levels):
            words.set_visible(not hide and off.drains)
            words.set(
                position=(when + 0.03 * self._end, level + 1.2),
                text=f"{show(level, 'Pa', 2)} after {show_duration(when, 2)}",
            )
