"""How do stock and flow go together: volume left and leak flow on one time axis, and what drives them.

Beside the chart stand the times and rates people ask for, and the chain that carries the pace of
a balloon down to 50 Pa.
"""

from html import escape

import numpy as np
from matplotlib.ticker import MaxNLocator

from airlab.physics import FanHeldVolume, SealedVessel
from airlab.plots.chart import Chart
from airlab.plots.drain import flow_unit, flow_words, volume_words
from airlab.plots.style import FLOW, INK, PRESSURE, VOLUME, nice_limit, time_unit
from airlab.words import from_si, label, show, show_duration

__all__ = ["DrainChart", "drain_chain", "drain_tiles"]

_ROWS = (VOLUME, FLOW, PRESSURE, FLOW)


class DrainChart(Chart):
    """Four rows over one time axis: volume left, leak flow, pressure, speed of the jet."""

    size = (520, 430)

    def build(self, figure):
        """Make the stacked axes with a faint whole curve, the part gone by, and a dot each."""
        self.axes = figure.subplots(
            len(_ROWS), 1, sharex=True,
            gridspec_kw={"left": 0.125, "right": 0.97, "top": 0.94, "bottom": 0.12,
                         "hspace": 0.68, "height_ratios": (1.5, 1.5, 1.0, 1.0)},
        )  # fmt: skip
        self.axes[-1].xaxis.set_major_locator(MaxNLocator(6))
        for axes in self.axes[:-1]:
            axes.xaxis.set_visible(False)
        self._time_label = figure.text(0.97, 0.012, "", ha="right", va="bottom")
        self.whole, self.gone, self.dots, self.guesses = [], [], [], []
        for axes, look in zip(self.axes, _ROWS):
            style = look.line()
            (whole,) = axes.plot([], [], **{**style, "linewidth": 2.0, "alpha": 0.35})
            (gone,) = axes.plot([], [], **style)
            (dot,) = axes.plot(
                [], [], look.marker, color=look.colour, markersize=11, markeredgecolor="white",
                markeredgewidth=1.5, clip_on=False, zorder=5,
            )  # fmt: skip
            guess = axes.axvline(0.0, color=INK, linewidth=2.0, linestyle=(0, (1, 2)))
            self.whole.append(whole)
            self.gone.append(gone)
            self.dots.append(dot)
            self.guesses.append(guess)
        self.note = self.axes[0].text(0, 0, " your guess ", ha="left", va="bottom", fontsize=14)
        return (*self.whole, *self.guesses, *self.gone, *self.dots, self.note)

    def scale(self, record, time=None, guess=None, units="metric", hide=False, least=0.0):
        """Return names, units and ends of the axes; the time axis is at `least` so long."""
        end = max(float(record.time[-1]), least)
        clock = time_unit(end)
        volume, flow = _stock_unit(record, units), flow_unit(record, units)
        kind, jet = type(record.vessel), "mph" if units == "us" else "m/s"
        stock = "Volume left"
        if kind is SealedVessel:
            stock = "Spare air left"
        elif kind is FanHeldVolume:
            stock = "Old air left, if it did not mix"
        return (
            (stock, volume, nice_limit(from_si(float(record.volume.max()), volume), few=True)),
            ("Leak flow", flow, nice_limit(from_si(float(record.flow.max()), flow), few=True)),
            ("Pressure", "Pa", nice_limit(float(record.pressure_difference.max()), few=True)),
            ("Speed of the jet", jet, nice_limit(from_si(float(record.jet_speed.max()), jet))),
            (clock, nice_limit(from_si(end, clock), few=True)),
        )

    def rescale(self, *scale):
        """Set names and ends of the axes."""
        *rows, (self._clock, end) = scale
        self._units = [unit for _, unit, _ in rows]
        for axes, look, (name, unit, top) in zip(self.axes, _ROWS, rows):
            axes.set_title(f"{name} [{label(unit)}]", color=look.colour, fontweight="bold")
            ticks = (0.0, 0.5 * top, top) if axes in self.axes[:2] else (0.0, top)
            axes.set(xlim=(0.0, end), ylim=(0.0, top * 1.04), yticks=ticks)
        self._time_label.set_text(f"Time [{label(self._clock)}]")
        self._end = end

    def place(self, record, time=None, guess=None, units="metric", hide=False, least=0.0):
        """Move curves and dots; `hide` keeps what has not happened yet out of sight."""
        clock = np.asarray(from_si(record.time, self._clock))
        rows = (record.volume, record.flow, record.pressure_difference, record.jet_speed)
        now = None if time is None else record.at(time)
        moment = now and (now.volume, now.flow, now.pressure_difference, now.jet_speed)
        at = None if now is None else from_si(min(now.time, float(record.time[-1])), self._clock)
        upto = len(clock) if at is None else int(np.searchsorted(clock, at, side="right"))
        for k, values in enumerate(rows):
            shown = np.asarray(from_si(values, self._units[k]))
            self.whole[k].set_data(clock, shown)
            self.whole[k].set_visible(not hide)
            self.dots[k].set_visible(at is not None)
            if at is None:
                self.gone[k].set_data(clock, shown)
                continue
            here = from_si(moment[k], self._units[k])
            self.gone[k].set_data(np.append(clock[:upto], at), np.append(shown[:upto], here))
            self.dots[k].set_data([at], [here])
        x = None if guess is None else from_si(guess, self._clock)
        seen = x is not None and x <= self._end
        for line in self.guesses:
            line.set_visible(seen)
            if seen:
                line.set_xdata([x, x])
        self.note.set_visible(seen)
        if seen:
            top = self.axes[0].get_ylim()[1]
            self.note.set(position=(x, 0.64 * top), ha="right" if x > 0.7 * self._end else "left")


def _stock_unit(record, units):
    if units == "us":
        return "ft3"
    largest = float(record.volume.max())
    return (
        "m3" if largest >= 1.0 else "L" if largest >= 1e-3 or record.vessel.volume >= 1.0 else "mL"
    )


def drain_tiles(record, units="metric"):
    """Return the times and the leak at the start, as HTML: a number over its name."""
    kind = type(record.vessel)
    rows = []
    if kind is FanHeldVolume:
        rows.append((show_duration(record.time_to_flat), "one refill"))
    else:
        half = "half the pressure gone" if kind is SealedVessel else "half the air gone"
        rows.append((show_duration(record.half_time), half))
        if record.time_to_5_pa is not None:
            rows.append((show_duration(record.time_to_5_pa), "down to 5 Pa"))
        if kind is not SealedVessel:
            rows.insert(0, (show_duration(record.time_to_flat), "until it is flat"))
    rows.append((flow_words(record, record.flow_at_start, units), "leak at the start"))
    if kind is SealedVessel:
        rows.append((volume_words(record.vessel.spare, units), "spare, gone with the pressure"))
    if record.rate_at_start:
        pressure = show(record.vessel.pressure_difference, "Pa")
        rows.append((f"{show(record.rate_at_start)} /h", f"pace at the start, at {pressure}"))
    cells = "".join(
        f"<div><b>{escape(big)}</b> <span>{escape(name)}</span></div>" for big, name in rows
    )
    return f'<div class="airlab-tiles">{cells}</div>'


def drain_chain(record):
    """Return the chain of three chips to 50 Pa, as HTML; empty where it means nothing."""
    if record.chips is None:
        return ""
    refills, phi, factor = record.chips
    start = show(record.vessel.pressure_difference, "Pa")
    whose = "from" if type(record.vessel) is not FanHeldVolume else "at"
    chips = (
        (f"{show(refills)} /h", f"refills off the clock, {whose} {start}"),
        (f"Φ {show(phi)}", "pace at the start over mean pace"),
        (show(factor), f"same holes at 50 Pa over {start}"),
        (f"{show(record.air_change_rate_at_50)} /h", "air changes at 50 Pa"),
    )
    signs = ("", "×", "×", "=")
    body = "".join(
        (f'<span class="airlab-sign">{sign}</span> ' if sign else "")
        + f'<span class="airlab-chip"><b>{escape(big)}</b> <span>{escape(name)}</span></span> '
        for sign, (big, name) in zip(signs, chips)
    )
    return f'<div class="airlab-chain">{body}</div>'
