"""Does the real one drain as computed? Readings over the computed curve, and what is left between."""

from html import escape

import numpy as np

from airlab.plots.chart import Chart
from airlab.plots.style import FLOW, INK, QUIET, VOLUME, nice_limit, time_unit
from airlab.words import from_si, label, show

__all__ = ["BenchChart", "bench_tiles"]

_SHOWN = {
    "circumference": ("Round the waist", "cm"), "diameter": ("Across", "cm"),
    "volume": ("Volume left", "L"), "pressure": ("Pressure", "Pa"),
}  # fmt: skip


class BenchChart(Chart):
    """Readings, the curve with the fitted constant, the curve as computed; below, what is left."""

    size = (620, 400)

    def build(self, figure):
        """Make both axes."""
        self.axes, self.rest = figure.subplots(
            2, 1, sharex=True,
            gridspec_kw={"left": 0.11, "right": 0.97, "top": 0.92, "bottom": 0.135, "hspace": 0.38,
                         "height_ratios": (2.6, 1.0)},
        )  # fmt: skip
        self._time_label = figure.text(0.97, 0.012, "", ha="right", va="bottom")
        (self.computed,) = self.axes.plot([], [], color=QUIET, linewidth=2.5, linestyle=(0, (5, 2)))
        (self.fitted,) = self.axes.plot([], [], color=VOLUME.colour, linewidth=3.5)
        (self.readings,) = self.axes.plot(
            [], [], "o", color=FLOW.colour, markersize=10, markeredgecolor="white", zorder=5,
            clip_on=False,
        )  # fmt: skip
        self.rest.axhline(0.0, color=INK, linewidth=1.4)
        (self.left,) = self.rest.plot([], [], "o-", color=FLOW.colour, linewidth=2.0, clip_on=False)
        told = (("● measured", FLOW.colour), ("— computed, one constant fitted", VOLUME.colour),
                ("- - computed, nothing fitted", QUIET))  # fmt: skip
        self.words = [
            self.axes.text(
                0.99, 1.0 - 0.12 * line, words, transform=self.axes.transAxes, ha="right", va="top",
                color=colour, fontweight="bold", fontsize=15,
            )
            for line, (words, colour) in enumerate(told)
        ]  # fmt: skip
        return (self.computed, self.fitted, self.readings, self.left, *self.words)

    def scale(self, record, quantity="circumference"):
        """Return unit and ends of the axes."""
        name, unit = _SHOWN[quantity]
        end = max(float(record.record.time[-1]) * max(record.time_factor, 1.0),
                  float(record.time[-1]))  # fmt: skip
        clock = time_unit(end)
        most = float(np.max(np.abs(record.residual)))
        return (
            name, unit, nice_limit(from_si(float(np.max(record.measured)), unit)), clock,
            nice_limit(from_si(end, clock)), nice_limit(from_si(max(most, 1e-3 * end), "s")),
        )  # fmt: skip

    def rescale(self, name, unit, top, clock, end, most):
        """Set names and ends of the axes."""
        self._unit, self._clock = unit, clock
        self.axes.set_title(f"{name} [{label(unit)}]", fontweight="bold")
        self.axes.set(xlim=(0.0, end), ylim=(0.0, 1.12 * top), yticks=(0.0, 0.5 * top, top))
        self.rest.set_title("Measured minus fitted time [s]", color=FLOW.colour, fontweight="bold")
        self.rest.set(ylim=(-1.05 * most, 1.05 * most), yticks=(-most, 0.0, most))
        self._time_label.set_text(f"Time [{label(clock)}]")

    def place(self, record, quantity="circumference"):
        """Move readings and curves."""
        model = record.record
        values = {
            "circumference": np.pi * model.diameter, "diameter": model.diameter,
            "volume": model.volume, "pressure": model.pressure_difference,
        }[quantity]  # fmt: skip
        shown, time = from_si(values, self._unit), from_si(model.time, self._clock)
        self.computed.set_data(time, shown)
        self.fitted.set_data(time * record.time_factor, shown)
        at = from_si(record.time, self._clock)
        self.readings.set_data(at, from_si(record.measured, self._unit))
        self.left.set_data(at, record.residual)


def bench_tiles(record):
    """Return the constant and what is left, as HTML: a number over its name."""
    rows = [
        (show(record.time_factor), "times as long as computed"),
        (show(record.flow_factor), "of the computed flow"),
        (f"{show(100.0 * record.left_over, digits=2)} %", "of the time left over by the fit"),
    ]
    rows += [
        (f"{show(100.0 * left, digits=2)} %", f"left over, hole {mode}")
        for mode, left in record.left_over_by_mode
        if mode != record.record.vessel.hole_mode
    ]
    cells = "".join(
        f"<div><b>{escape(big)}</b> <span>{escape(name)}</span></div>" for big, name in rows
    )
    return f'<div class="airlab-tiles">{cells}</div>'
