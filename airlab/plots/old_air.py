"""Is the old air gone after one air change? Pushed out in one piece beside mixed, and both curves."""

from matplotlib.ticker import MaxNLocator

from airlab.plots.chart import Chart
from airlab.plots.style import FLOW, INK, QUIET, VOLUME, nice_limit, time_unit
from airlab.plots.svg import arrow, drawing, line, rect, text
from airlab.words import from_si, label, show, show_duration

__all__ = ["OldAirChart", "old_air_drawing"]

_WIDE, _TALL = 330, 370
_LEFT, _BOX, _HIGH = 60.0, 200.0, 120.0


def old_air_drawing(record):
    """Return two rooms one over the other, the old air in blue, as an SVG string."""
    after = show_duration(record.at)
    pushed, mixed = (f"{show(100.0 * share)} %" for share in (record.pushed_now, record.mixed_now))
    title = f"After {after}: pushed out in one piece, {pushed} old air left; mixed, {mixed}."
    parts = [text(_WIDE / 2, 24, f"after {after}", size=20, anchor="middle", font_weight="bold")]
    rooms = (
        (46.0, "pushed out", pushed, record.pushed_now),
        (212.0, "mixed", mixed, record.mixed_now),
    )
    for y, name, words, share in rooms:
        middle = y + 0.5 * _HIGH
        parts.append(rect(_LEFT, y, _BOX, _HIGH, fill="#fff", stroke=QUIET, stroke_width=2))
        if name == "mixed":
            parts.append(rect(_LEFT + 1, y + 1, _BOX - 2, _HIGH - 2, fill=VOLUME.css,
                              fill_opacity=f"{0.55 * share:.3f}"))  # fmt: skip
        elif share > 0.0:
            x = _LEFT + _BOX * (1.0 - share)
            parts.append(rect(x, y + 1, max(_BOX * share - 1.0, 0.0), _HIGH - 2, fill=VOLUME.css,
                              fill_opacity="0.55"))  # fmt: skip
            parts.append(line(x, y, x, y + _HIGH, stroke=VOLUME.css, stroke_width=3))
        parts += [
            arrow(8, middle, _LEFT - 4, middle, FLOW.css, 5),
            arrow(_LEFT + _BOX + 4, middle, _LEFT + _BOX + 56, middle, FLOW.css, 5),
            text(_WIDE / 2, middle - 4, words, size=26, anchor="middle", font_weight="bold"),
            text(_WIDE / 2, middle + 20, "old air left", size=15, anchor="middle", fill=INK),
            text(_WIDE / 2, y + _HIGH + 20, name, size=16, anchor="middle", font_weight="bold"),
        ]
    return drawing(_WIDE, _TALL, title, *parts)


class OldAirChart(Chart):
    """Share of old air left against time: pushed out in one piece, and mixed."""

    size = (500, 370)

    def build(self, figure):
        """Make the axes, two curves with their words, and a mark each."""
        self.axes = figure.add_axes((0.115, 0.15, 0.855, 0.73))
        self.axes.set_title("Old air left [%]", color=VOLUME.colour, fontweight="bold")
        self.axes.set(ylim=(0.0, 104.0), yticks=(0, 36.8, 50, 100))
        self.axes.set_yticklabels(("0", "36.8", "50", "100"))
        self.axes.xaxis.set_major_locator(MaxNLocator(6))
        self._time_label = figure.text(0.97, 0.012, "", ha="right", va="bottom")
        style = {"color": VOLUME.colour, "linewidth": 3.5}
        (self.mixed,) = self.axes.plot([], [], **style)
        (self.pushed,) = self.axes.plot([], [], linestyle=(0, (5, 2)), **style)
        (self.marks,) = self.axes.plot(
            [], [], "o", color=VOLUME.colour, markersize=12, markeredgecolor="white", zorder=5,
            clip_on=False,
        )  # fmt: skip
        self.change = self.axes.axvline(0.0, color=QUIET, linewidth=1.5, linestyle=(0, (1, 2)))
        self.words = [
            self.axes.text(0, 0, words, fontweight="bold", va="center")
            for words in ("mixed", "pushed out", " one air change")
        ]
        return (self.mixed, self.pushed, self.change, self.marks, *self.words)

    def scale(self, record):
        """Return unit and end of the time axis."""
        end = float(record.time[-1])
        unit = time_unit(0.5 * end)
        return unit, nice_limit(from_si(end, unit))

    def rescale(self, unit, end):
        """Set the time axis."""
        self._unit, self._end = unit, end
        self.axes.set_xlim(0.0, end)
        self._time_label.set_text(f"Time [{label(unit)}]")

    def place(self, record):
        """Move curves and marks."""
        time = from_si(record.time, self._unit)
        self.mixed.set_data(time, 100.0 * record.mixed)
        self.pushed.set_data(time, 100.0 * record.pushed)
        at = from_si(record.at, self._unit)
        self.marks.set_data([at, at], [100.0 * record.pushed_now, 100.0 * record.mixed_now])
        self.marks.set_visible(at <= self._end)
        one = from_si(record.one_change, self._unit)
        self.change.set_xdata([one, one])
        places = ((1.7 * one, 26.0), (0.06 * one, 14.0), (one, 97.0))
        for words, place in zip(self.words, places):
            words.set_position(place)
