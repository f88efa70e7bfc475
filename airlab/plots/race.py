"""Who is flat first? Two balloons side by side on one scale, and what is left in them on one axis."""

import numpy as np

from airlab.plots.chart import Chart
from airlab.plots.style import VOLUME, nice_limit, time_unit
from airlab.words import from_si, label

__all__ = ["RaceChart"]


class RaceChart(Chart):
    """Volume left of two vessels against time, up to the clock."""

    size = (400, 400)

    def build(self, figure):
        """Make the axes, two lines with a mark and a word each."""
        self.axes = figure.add_axes((0.125, 0.135, 0.835, 0.78))
        self._time_label = figure.text(0.96, 0.012, "", ha="right", va="bottom")
        self.lines, self.marks, self.names = [], [], []
        for dashes, marker, fill in (((), "o", VOLUME.colour), ((5.0, 2.0), "D", "white")):
            style = (0, dashes) if dashes else "-"
            (line,) = self.axes.plot([], [], color=VOLUME.colour, linestyle=style, linewidth=3.0)
            (mark,) = self.axes.plot(
                [], [], marker, color=VOLUME.colour, markerfacecolor=fill, markersize=11,
                markeredgecolor=VOLUME.colour, markeredgewidth=2.5, clip_on=False, zorder=5,
            )  # fmt: skip
            self.lines.append(line)
            self.marks.append(mark)
            self.names.append(self.axes.text(0, 0, "", fontweight="bold", va="bottom"))
        return (*self.lines, *self.marks, *self.names)

    def scale(self, record, time=0.0, units="metric"):
        """Return unit and ends of the axes."""
        unit = "ft3" if units == "us" else "L"
        most = max(float(one.volume[0]) for one in (record.first, record.second))
        end = float(record.times(2)[-1])
        clock = time_unit(end)
        return (
            unit,
            nice_limit(from_si(most, unit), few=True),
            clock,
            nice_limit(from_si(end, clock), few=True),
        )

    def rescale(self, unit, top, clock, end):
        """Set names and ends of the axes."""
        self._unit, self._clock, self._end, self._top = unit, clock, end, top
        self.axes.set_title(f"Volume left [{label(unit)}]", color=VOLUME.colour, fontweight="bold")
        self.axes.set(xlim=(0.0, end), ylim=(0.0, 1.1 * top))
        self._time_label.set_text(f"Time [{label(clock)}]")

    def place(self, record, time=0.0, units="metric"):
        """Draw both up to the clock."""
        pairs = zip((record.first, record.second), self.lines, self.marks, self.names, record.names)
        for one, line, mark, word, name in pairs:
            seen = one.time <= time
            now = one.at(time)
            at = from_si(min(time, float(one.time[-1])) if one.drains else time, self._clock)
            here = from_si(now.volume, self._unit)
            line.set_data(
                np.append(from_si(one.time[seen], self._clock), at),
                np.append(from_si(one.volume[seen], self._unit), here),
            )
            mark.set_data([at], [here])
            right = at > 0.75 * self._end
            word.set(
                position=(at + (-0.03 if right else 0.03) * self._end, here + (0.09 if right else 0.02) * self._top),
                text=name, ha="right" if right else "left",
            )  # fmt: skip
