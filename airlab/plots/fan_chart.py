"""Can the fan hold this house at 50 Pa? Its curve against the likely range of the house.

The fan is the black dashed line (what drives), the house the band (what flows): between its
tighter and its leakier end. Where they cross the pressure stands still. Today's aim is marked at
50 Pa. Further rings or speeds are thin, and so is the lowest flow that the fan holds steady.
"""

import numpy as np
from matplotlib.patches import Polygon
from matplotlib.patheffects import withStroke
from matplotlib.ticker import MaxNLocator, MultipleLocator

from airlab.physics import PowerLawLeak
from airlab.plots.chart import Chart
from airlab.plots.style import FLOW, GOOD, INK, PRESSURE, QUIET, nice_limit
from airlab.words import PRESSURE_REFERENCE, display_unit, from_si, label, show

__all__ = ["FanChart"]

_LEAST_PRESSURE = 75.0  # Pa; the axis goes at least to here
_POINTS = 60
_MOST_RINGS = 5  # further rings or speeds that are drawn


class FanChart(Chart):
    """Flow against pressure: what the fan can move, what the house may pass, today's aim."""

    size = (560, 400)

    def build(self, figure):
        """Make the axes, the band, both curves, the marks and their words."""
        self.axes = figure.add_axes((0.125, 0.155, 0.835, 0.765))
        self.axes.yaxis.set_major_locator(MaxNLocator(6))
        figure.text(0.96, 0.012, "Pressure held in the house [Pa]", ha="right", va="bottom")
        self.axes.axvline(PRESSURE_REFERENCE, color=QUIET, linewidth=1.6, linestyle=(0, (2, 3)))
        self.band = self.axes.add_patch(Polygon([(0, 0)], color=FLOW.fill, linewidth=0))
        edge = {"color": FLOW.colour, "linewidth": 2.5}
        (self.low,) = self.axes.plot([], [], **edge)
        (self.high,) = self.axes.plot([], [], **edge)
        (self.fan,) = self.axes.plot([], [], **PRESSURE.line(linewidth=3.5))
        (self.crossings,) = self.axes.plot(
            [], [], PRESSURE.marker, color=PRESSURE.colour, markersize=11, markeredgecolor="white"
        )
        (self.aim,) = self.axes.plot(
            [], [], GOOD.marker, color=GOOD.colour, markersize=13, markeredgecolor="white"
        )
        halo = [withStroke(linewidth=4, foreground="white")]
        bold = {"fontweight": "bold", "path_effects": halo}
        self.aim_words = self.axes.text(0, 0, "", color="#00694d", va="top", **bold)
        self.fan_words = self.axes.text(0, 0, "", color=INK, va="bottom", **bold)
        self.house_words = self.axes.text(0, 0, "", color="#8f3e00", ha="right", **bold)
        self.reached = [self.axes.text(0, 0, "", va="bottom", **bold) for _ in range(2)]
        self.rings = [
            self.axes.plot([], [], color=INK, linewidth=1.4, linestyle=(0, (4, 3)))[0]
            for _ in range(_MOST_RINGS)
        ]
        (self.lowest,) = self.axes.plot([], [], color=QUIET, linewidth=2.0, linestyle=(0, (1, 2)))
        self.lowest_words = self.axes.text(0, 0, "", color=INK, va="bottom", path_effects=halo)
        return (
            self.band, self.low, self.high, *self.rings, self.lowest, self.lowest_words, self.fan,
            self.crossings, self.aim, self.aim_words, self.fan_words, self.house_words, *self.reached,
        )  # fmt: skip

    def scale(self, plan, units="metric"):
        """Return the ends of both axes and the unit of the flow."""
        unit = display_unit("m3/s", units)
        across = max(_LEAST_PRESSURE, *(self._reached(plan)), self._most(plan))
        high = _house(plan, plan.expected.high, np.array([across]))[0]
        top = (
            max(high, *(float(one.fan.flow(0.0)) for one in plan.fans.choices), 0.0)
            if plan.fans
            else high
        )
        return nice_limit(across), nice_limit(1.05 * from_si(top, unit)), unit

    def rescale(self, across, top, unit):
        """Set both axes and say the unit."""
        self.axes.set(xlim=(0.0, across), ylim=(0.0, top))
        self.axes.xaxis.set_major_locator(MultipleLocator(10 if across <= 100.0 else 50))
        self.axes.set_title(f"Flow [{label(unit)}]", fontweight="bold")
        self._across, self._top, self._unit = across, top, unit

    def place(self, plan, units="metric"):
        """Move curves, marks and words."""

        def seen(flow):
            return from_si(flow, self._unit)

        pressure = np.linspace(0.0, self._across, _POINTS)
        low, high = (
            seen(_house(plan, q, pressure)) for q in (plan.expected.low, plan.expected.high)
        )
        self.low.set_data(pressure, low)
        self.high.set_data(pressure, high)
        self.band.set_xy(np.column_stack([[*pressure, *pressure[::-1]], [*low, *high[::-1]]]))
        middle = 0.5 * (low[-1] + min(high[-1], self._top))
        self.house_words.set(
            position=(0.975 * self._across, middle), text="this house, likely", va="center"
        )
        aim = plan.expected.pass_flow
        for artist in (self.aim, self.aim_words):
            artist.set_visible(bool(aim))
        if aim:
            self.aim.set_data([PRESSURE_REFERENCE], [seen(aim)])
            self.aim_words.set(
                position=(1.02 * PRESSURE_REFERENCE, seen(aim) - 0.03 * self._top),
                text=f"aim {show(seen(aim), self._unit)}",
            )
        self._place_fan(plan, seen)

    def _place_fan(self, plan, seen):
        moving = (self.fan, self.crossings, self.fan_words, *self.reached)
        for artist in moving:
            artist.set_visible(plan.fan is not None)
        self._place_rings(plan, seen)
        if plan.fan is None:
            return
        fan, most = plan.fan.fan, self._most(plan)
        pressure = np.union1d(np.linspace(0.0, most, _POINTS), fan.points_pressure)
        self.fan.set_data(pressure, seen(fan.flow(pressure)))
        self.fan_words.set(
            position=(0.02 * self._across, seen(float(fan.flow(0.0))) + 0.06 * self._top),
            text=f"fan: {fan.name[:28]}",
        )
        ends = (plan.fan.at_high, plan.fan.at_low)
        self.crossings.set_data(
            [end.pressure_difference for end in ends], [seen(end.flow) for end in ends]
        )
        for words, end in zip(self.reached, ends):
            late = end.pressure_difference > 0.86 * self._across
            words.set(
                position=(end.pressure_difference, seen(end.flow) + 0.03 * self._top),
                text=show(end.pressure_difference, "Pa"), ha="right" if late else "left",
            )  # fmt: skip

    def _place_rings(self, plan, seen):
        """Draw the other rings or speeds thin, and the lowest flow that the first holds steady."""
        others = [one.fan for one in plan.fans.choices if one is not plan.fan] if plan.fans else []
        for number, ring in enumerate(self.rings):
            ring.set_visible(number < len(others))
            if number < len(others):
                pressure = np.linspace(0.0, float(others[number].most_pressure), _POINTS)
                ring.set_data(pressure, seen(others[number].flow(pressure)))
        steady = plan.fan.fan.lowest_flow if plan.fan else 0.0
        for artist in (self.lowest, self.lowest_words):
            artist.set_visible(steady > 0.0)
        self.lowest.set_data([0.0, self._across], [seen(steady)] * 2)
        self.lowest_words.set(
            position=(0.02 * self._across, seen(steady) + 0.01 * self._top),
            text="steady from here up",
        )

    @staticmethod
    def _most(plan):
        return float(plan.fan.fan.most_pressure) if plan.fan else 0.0

    @staticmethod
    def _reached(plan):
        return [plan.fan.at_low.pressure_difference] if plan.fan else [0.0]


def _house(plan, flow_50, pressure):
    """Flow of the house at each pressure. [m3/s]."""
    leak = PowerLawLeak.from_flow(flow_50, flow_exponent=plan.assumptions["flow_exponent"])
    return np.asarray(leak.flow(pressure))
