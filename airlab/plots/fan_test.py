"""Does the line go through the points, and how far does it reach? The chart of a fan test.

Flow against pressure, in logarithms or on straight scales, with the residuals below on the same
pressures. Depressurising is blue with circles and a full line, pressurising vermillion with
triangles and dashes. The test as read stays behind, pale, while a point is moved.
"""

import numpy as np
from matplotlib.patches import Polygon
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator, NullLocator

from airlab.plots.chart import Chart
from airlab.plots.style import FLOW, INK, QUIET, VOLUME, nice_limit
from airlab.words import display_unit, from_si, label

__all__ = ["VIEWS", "FanTestChart"]

VIEWS = ("logarithms", "straight scales")
_LOOKS = {"depressurise": VOLUME, "pressurise": FLOW}
_LEAST = 3.0  # Pa; logarithms begin here, so that 4 Pa is on the page
_STEPS = (1.0, 2.0, 3.0, 5.0, 7.0)
_OFF = (5.0, 15.0, 50.0)  # %, ends of the residual axis: few, so that it seldom jumps


class FanTestChart(Chart):
    """Points, line and interval of each direction, residuals, and the reported flows with doubts."""

    size = (500, 405)

    def build(self, figure):
        """Make both axes and everything on them."""
        self.axes = figure.add_axes((0.12, 0.335, 0.845, 0.595))
        self.below = figure.add_axes((0.12, 0.125, 0.845, 0.15))
        figure.text(0.965, 0.008, "Pressure made by the fan [Pa]", ha="right", va="bottom")
        self.below.axhline(0.0, color=INK, linewidth=1.6)
        self.below.set_title("Off the line [%]", fontsize=14)
        bold = {"fontweight": "bold", "fontsize": 14}
        self.parts = {}
        for way, look in _LOOKS.items():
            band = self.axes.add_patch(Polygon([(1, 1)], color=look.fill, alpha=0.7, linewidth=0))
            (ghost,) = self.axes.plot([], [], color=look.colour, linewidth=2.0, alpha=0.3)
            (line,) = self.axes.plot([], [], **look.line(linewidth=2.4))
            dots = {"color": look.colour, "markersize": 9, "markeredgecolor": "white"}
            (points,) = self.axes.plot([], [], look.marker, **dots)
            (off,) = self.below.plot([], [], look.marker, **{**dots, "markersize": 8})
            (pivot,) = self.axes.plot(
                [], [], color=look.colour, linewidth=2.0, linestyle=(0, (1, 2))
            )
            self.parts[way] = (band, ghost, line, points, off, pivot)
        ring = {
            "markersize": 17,
            "markerfacecolor": "none",
            "markeredgecolor": INK,
            "markeredgewidth": 2.2,
        }
        (self.ring,) = self.axes.plot([], [], "o", **ring)
        (self.ring_below,) = self.below.plot([], [], "o", **{**ring, "markersize": 15})
        (self.cross,) = self.axes.plot([], [], "x", color=INK, markersize=11, markeredgewidth=2.2)
        self.bars = [self.axes.plot([], [], color=INK, linewidth=2.2)[0] for _ in range(3)]
        (self.ends,) = self.axes.plot([], [], "_", color=INK, markersize=13, markeredgewidth=2.2)
        place = {"transform": self.axes.transAxes, **bold}
        self.names = {
            way: self.axes.text(0.03, up, f"{mark} {way}", color=look.colour, **place)
            for (way, look), up, mark in zip(_LOOKS.items(), (0.93, 0.85), "●▲")
        }
        self.axes.text(0.97, 0.20, "I  all doubts as read, 95 %", ha="right", **place)
        self.axes.text(0.97, 0.12, "┊  where the line is surest", ha="right", color=QUIET, **place)
        order = (0, 1, 5, 2, 3, 4)
        drawn = [self.parts[way][k] for k in order for way in _LOOKS]
        return (*drawn, self.ring, self.ring_below, self.cross)

    def scale(self, page, view=VIEWS[0], units="metric", chosen=None):
        """Return view, unit and the ends of the axes; from the test as read, so that they stay."""
        unit = display_unit("m3/s", units)
        curves = page.curves_before
        ways = tuple(c.direction for c in curves)
        across = nice_limit(1.04 * max(c.point_pressure.max() for c in curves))
        top = from_si(max(float(c.point_flow.max()) for c in curves), unit)
        worst = from_si(max(float(np.abs(c.residuals).max()) for c in page.curves), "%")
        edge = next((step for step in _OFF if worst <= step), 100.0)
        bars = tuple(
            (one.pressure_difference, from_si(one.low, unit), from_si(one.high, unit))
            for one in page.trust.budgets
        )
        if view == VIEWS[1]:
            return view, unit, 0.0, across, 0.0, nice_limit(1.12 * top), edge, bars, ways
        low = min(float(np.interp(_LEAST, c.pressure, c.low)) for c in curves)
        ends = _round_ends(min(from_si(low, unit), bars[-1][1]), 1.25 * top)
        return view, unit, _LEAST, max(1.3 * across, 60.0), *ends, edge, bars, ways

    def rescale(self, view, unit, left, right, low, top, edge, bars, ways):
        """Set both axes, their ticks and the unit; draw the reported flows with all doubts."""
        kind = "log" if view == VIEWS[0] else "linear"
        for axes in (self.axes, self.below):
            axes.set_xscale(kind)
            axes.set_xlim(left, right)
            if kind == "log":
                axes.xaxis.set_major_locator(FixedLocator([4, 10, 20, 30, 50, 100, 200]))
                axes.xaxis.set_minor_locator(NullLocator())
                axes.xaxis.set_major_formatter(FuncFormatter(lambda x, _: f"{x:g}"))
            else:
                axes.xaxis.set_major_locator(MaxNLocator(8))
        self.axes.tick_params(labelbottom=False)
        self.axes.set_yscale(kind)
        self.axes.set_ylim(low, top)
        if kind == "log":
            powers = 10.0 ** np.arange(-3, 7)
            self.axes.yaxis.set_major_locator(FixedLocator([s * p for p in powers for s in _STEPS]))
            self.axes.yaxis.set_minor_locator(NullLocator())
            self.axes.yaxis.set_major_formatter(FuncFormatter(lambda y, _: f"{y:g}"))
        else:
            self.axes.yaxis.set_major_locator(MaxNLocator(6))
        self.axes.set_title(f"Flow through the leaks [{label(unit)}]", fontweight="bold")
        self.below.set_ylim(-1.15 * edge, 1.15 * edge)
        self.below.yaxis.set_major_locator(FixedLocator([-edge, 0.0, edge]))
        self.below.yaxis.set_major_formatter(FuncFormatter(lambda y, _: f"{y:g}".replace("-", "−")))
        for way, name in self.names.items():
            name.set_visible(way in ways)
        for artist, (pressure, *ends) in zip(self.bars, bars):
            artist.set_data([pressure] * 2, ends)
        self.ends.set_data(
            [p for p, *_ in bars for _ in (0, 1)], [q for _, *ends in bars for q in ends]
        )
        self._ends, self._unit, self._log = (left, right, low, top), unit, kind == "log"

    def place(self, page, view=VIEWS[0], units="metric", chosen=None):
        """Move points, lines, bars and words; `chosen` is (direction, point) to ring."""
        before = {c.direction: c for c in page.curves_before}
        curves = {c.direction: c for c in page.curves}
        for way, parts in self.parts.items():
            for part in parts:
                part.set_visible(way in curves)
            if way in curves:
                self._place_series(curves[way], before[way], *parts)
        self._place_chosen(page, before, curves, chosen)

    def _seen(self, flow):
        return from_si(np.asarray(flow), self._unit)

    def _at(self, across, up):
        """Return the place that lies such shares across and up the axes."""
        left, right, low, top = self._ends
        if self._log:
            return left * (right / left) ** across, low * (top / low) ** up
        return left + (right - left) * across, low + (top - low) * up

    def _place_series(self, curve, before, band, ghost, line, points, off, pivot):
        low, high = self._seen(curve.low), self._seen(curve.high)
        band.set_xy(
            np.column_stack([[*curve.pressure, *curve.pressure[::-1]], [*low, *high[::-1]]])
        )
        ghost.set_data(before.pressure, self._seen(before.flow))
        ghost.set_visible(curve is not before)
        line.set_data(curve.pressure, self._seen(curve.flow))
        points.set_data(curve.point_pressure, self._seen(curve.point_flow))
        off.set_data(curve.point_pressure, from_si(curve.residuals, "%"))
        pivot.set_data([curve.pivot_pressure] * 2, [self._at(0.0, 0.0)[1], self._at(0.0, 0.09)[1]])

    def _place_chosen(self, page, before, curves, chosen):
        """Ring the chosen point; a cross stands where a left-out point was."""
        for artist in (self.ring, self.ring_below, self.cross):
            artist.set_visible(False)
        if chosen is None or chosen[0] not in before:
            return
        way, k = chosen[0], chosen[1] - 1
        out = page.change is not None and page.change.left_out
        curve = before[way] if out else curves[way]
        spot = [curve.point_pressure[k]], [float(self._seen(curve.point_flow[k]))]
        for artist in (self.ring, self.cross):
            artist.set_data(*spot)
        self.ring.set_visible(True)
        self.cross.set_visible(out)
        self.ring_below.set_visible(not out)
        self.ring_below.set_data(spot[0], [from_si(float(curve.residuals[k]), "%")])


def _round_ends(low, high):
    """Return ends of a logarithmic axis at round numbers."""
    powers = 10.0 ** np.arange(-4, 8)
    marks = np.array([step * power for power in powers for step in _STEPS])
    return float(marks[marks <= low].max()), float(marks[marks >= high].min())
