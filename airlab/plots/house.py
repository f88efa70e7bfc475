"""What does it take to hold a house at 50 Pa, and how fast is the pressure gone without the fan?

The drawing shows house, person, door and all holes together to one scale; the chart shows the
pressure before and after the fan stops, with its opening closed at once.
"""

import math
from html import escape
from typing import NamedTuple

import numpy as np
from matplotlib.ticker import MaxNLocator

from airlab.physics import Drain
from airlab.plots.chart import Chart
from airlab.plots.drain import volume_words
from airlab.plots.style import FLOW, INK, PRESSURE, QUIET, VOLUME, nice_limit
from airlab.plots.svg import arrow, circle, drawing, line, path, rect, text
from airlab.words import display_unit, from_si, label, show, show_duration

__all__ = ["FanStopChart", "HouseAt50", "house_drawing", "house_tiles"]

WIDTH, HEIGHT = 400, 370
_GROUND = 330.0
_SLENDER = 0.62  # height of the drawn box over its width
_WIDEST = 10.0  # m at the usual scale
_ROOM = 276.0  # px for that width


class HouseAt50(NamedTuple):
    """A house while a fan holds 50 Pa, and after the fan has stopped."""

    fan_on: Drain
    fan_off: Drain


def house_drawing(record, units="metric"):
    """Return the house with the fan in its door, as an SVG string.

    Parameters
    ----------
    record : HouseAt50
        The house.
    units : str
        'metric' or 'us'.
    """
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
    title = (
        f"House of {volume}. A fan in the door blows in {flow} and holds 50 Pa; the same leaves "
        f"through holes of {area} altogether."
    )
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
        text(x + 0.5 * width, y + 0.3 * height + 24, "at 50 Pa", size=18, anchor="middle"),
        rect(door_x, _GROUND - door_h, door_w, door_h, fill="#fff", stroke=INK, stroke_width=2),
        circle(door_x + 0.5 * door_w, _GROUND - 0.35 * door_h, fan_r, fill=INK),
        circle(door_x + 0.5 * door_w, _GROUND - 0.35 * door_h, 0.3 * fan_r, fill="#fff"),
        _person(x + width + eaves + 0.3 * scale + 6, person),
        rect(hole_x, hole_y, hole, hole, fill=INK),
        arrow(hole_x + hole + 3, hole_y + 0.5 * hole, x + width + 34, hole_y + 0.5 * hole,
              FLOW.css, 5),
        arrow(8, _GROUND - 0.35 * door_h, door_x - 4, _GROUND - 0.35 * door_h, FLOW.css, 7),
        text(8, _GROUND + 28, f"fan: {flow}", size=18, font_weight="bold", fill=FLOW.css),
        text(WIDTH - 6, 22, f"all holes together: {area}", size=16, anchor="end"),
        text(WIDTH - 6, 43, f"a square of {show(from_si(side, side_unit), side_unit, 2)} a side",
             size=14, anchor="end", fill=QUIET),
        line(hole_x + 0.5 * hole, hole_y - 2, WIDTH - 40, 50, stroke=QUIET, stroke_width=1.2),
    )  # fmt: skip
    return drawing(WIDTH, HEIGHT, title, *parts)


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
    on, off = record
    rows = (
        (_flow(record, units), "to hold 50 Pa"),
        (f"{show(on.rate_at_start)} /h", "air changes at 50 Pa"),
        (show_duration(on.time_to_flat), "to move one house volume"),
        (show_duration(off.half_time), "half the pressure gone, fan off"),
        (volume_words(off.vessel.spare, units), "spare air, gone with the pressure"),
    )
    cells = "".join(
        f"<div><b>{escape(big)}</b> <span>{escape(name)}</span></div>" for big, name in rows
    )
    return f'<div class="airlab-tiles">{cells}</div>'


class FanStopChart(Chart):
    """Pressure in the house before and after the fan stops, with half-time and time to 5 Pa."""

    size = (440, 370)

    def build(self, figure):
        """Make the axes, the curve, two marks and their words."""
        self.axes = figure.add_axes((0.135, 0.155, 0.83, 0.73))
        self.axes.set_title("Pressure [Pa]", fontweight="bold")
        self.axes.set(ylim=(0.0, 56.0))
        self.axes.set_yticks((0, 5, 25, 50))
        self.axes.xaxis.set_major_locator(MaxNLocator(5))
        self._time_label = figure.text(0.965, 0.012, "", ha="right", va="bottom")
        self.stop = self.axes.axvline(0.0, color=FLOW.colour, linewidth=2.0, linestyle=(0, (7, 2)))
        self.stop_words = self.axes.text(
            0.0, 54.5, " fan stops", color=FLOW.colour, fontweight="bold", va="center"
        )
        (self.curve,) = self.axes.plot([], [], **PRESSURE.line(linewidth=4.0))
        (self.marks,) = self.axes.plot(
            [], [], PRESSURE.marker, color=PRESSURE.colour, markersize=11, markeredgecolor="white"
        )
        self.words = [self.axes.text(0, 0, "", fontweight="bold", va="bottom") for _ in range(2)]
        return (self.curve, self.marks, *self.words)

    def scale(self, record):
        """Return the end of the time axis."""
        return (nice_limit(1.75 * record.fan_off.time_to_5_pa),)

    def rescale(self, end):
        """Set the time axis; a fifth of it lies before the fan stops."""
        self.axes.set_xlim(-0.2 * end, end)
        self._time_label.set_text(f"Time since the fan stopped [{label('s')}]")
        self._end = end

    def place(self, record):
        """Move the curve and its marks."""
        off = record.fan_off
        self.curve.set_data(
            np.concatenate([[-0.2 * self._end], off.time]),
            np.concatenate([[off.pressure_difference[0]], off.pressure_difference]),
        )
        times = (off.half_time, off.time_to_5_pa)
        levels = (0.5 * off.vessel.pressure_difference, 5.0)
        self.marks.set_data(times, levels)
        for words, time, level in zip(self.words, times, levels):
            words.set(
                position=(time + 0.03 * self._end, level + 1.2),
                text=f"{show(level, 'Pa', 2)} after {show_duration(time, 2)}",
            )
