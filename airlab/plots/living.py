"""A year in a house: models side by side, the year day by day, fresh air hour by hour, four ways to live."""

from html import escape

import numpy as np

from airlab.in_use import COMBUSTION_LIMITS
from airlab.in_use.heat import show_energy
from airlab.plots.chart import Chart
from airlab.plots.sizes import notes_list, tile_row
from airlab.plots.style import FLOW, GOOD, INK, PRESSURE, QUIET, nice_limit
from airlab.plots.svg import arrow, circle, drawing, path, rect, text
from airlab.words import (
    display_unit,
    from_si,
    label,
    show,
    show_percent,
    show_range,
    to_si,
)

__all__ = [
    "HoursChart", "YearChart", "daily_rate", "folded", "gap_drawing", "heat_tiles", "hours_legend", "models_table",
    "near_tiles", "need_tiles", "suction_table", "ways_table", "year_legend",
]  # fmt: skip

_DAY = 24
_NARROW = 9  # days of a month that still bear its letter
_MONTHS = tuple("JFMAMJJASOND")
_CAPTION = "Air changes per hour through the leaks while the heating runs, and the heat they take"


class YearChart(Chart):
    """Air changes through the leaks, day by day, against the need and the rule of twenty."""

    size = (810, 200)

    def build(self, figure):
        """Make one axes with the year, the need and the rule."""
        self.axes = figure.add_axes((0.07, 0.15, 0.915, 0.68))
        (self.year,) = self.axes.plot([], [], **FLOW.line(linewidth=2.0, linestyle="-"))
        self.need = self.axes.axhline(0.0, **GOOD.line(linewidth=3.0))
        self.rule = self.axes.axhline(0.0, **PRESSURE.line(linewidth=2.5))
        return self.year, self.need, self.rule

    def scale(self, record, need=None):
        """Return the end of the axis, the first day and how many days there are."""
        days = daily_rate(record)
        top = max(float(days.max()), need or 0.0, record.house.n50 / 20.0)
        return nice_limit(1.05 * top, few=True), str(record.weather.at[0])[:10], len(days)

    def rescale(self, top, first, days):
        """Set the months along the axis."""
        start = np.datetime64(first, "D")
        months = np.arange(
            start.astype("datetime64[M]"), (start + days - 1).astype("datetime64[M]") + 1
        )
        edges = np.append((months.astype("datetime64[D]") - start).astype(int).clip(0), days)
        self.axes.set_title("Air changes per hour through the leaks, day by day, no fan")
        self.axes.set(xlim=(0, days), ylim=(0.0, top), xticks=edges[1:-1], xticklabels=[])
        for old in list(self.axes.texts):
            old.remove()
        for month, left, right in zip(months.astype(int), edges, edges[1:]):
            if right - left > _NARROW:
                self.axes.text(0.5 * (left + right), -0.03 * top, _MONTHS[month % 12], ha="center",
                               va="top", fontsize=15)  # fmt: skip

    def place(self, record, need=None):
        """Move the year and the two lines."""
        days = daily_rate(record)
        self.year.set_data(np.arange(len(days)) + 0.5, days)
        self.need.set_visible(need is not None)
        for line, rate in ((self.need, need), (self.rule, record.house.n50 / 20.0)):
            line.set_ydata([rate or 0.0] * 2)


class HoursChart(Chart):
    """Fresh air of all hours counted, from the stillest to the windiest, against the need.

    The record is a pair: flows, a row for each model, and the need, both in the unit shown.
    """

    size = (450, 230)

    def build(self, figure):
        """Make one axes with the span of the models and the need."""
        self.axes = figure.add_axes((0.125, 0.215, 0.845, 0.645))
        self.axes.set_xlabel("share of these hours with less [%]")
        self.ends = [self.axes.plot([], [], **FLOW.line(linewidth=2.0, linestyle=one))[0]
                     for one in ("-", (0, (4, 2)))]  # fmt: skip
        self.need = self.axes.axhline(0.0, **GOOD.line(linewidth=3.0))
        return *self.ends, self.need

    def scale(self, record, unit):
        """Return the end of the axis and the unit."""
        flows, need = record
        return nice_limit(1.05 * max(float(flows.max()), need), few=True), unit

    def rescale(self, top, unit):
        """Set the ends of the axes."""
        self.axes.set_title(f"Fresh air through the leaks, heating hours [{label(unit)}]")
        self.axes.set(xlim=(0, 100), ylim=(0.0, top))

    def place(self, record, unit):
        """Move the two ends of the span and the need."""
        flows, need = record
        ordered = np.sort(flows, axis=1)
        share = np.linspace(0.0, 100.0, ordered.shape[1])
        for line, end in zip(self.ends, (ordered.max(axis=0), ordered.min(axis=0))):
            line.set_data(share, end)
        self.need.set_ydata([need] * 2)


def hours_legend():
    """Return what the lines of an `HoursChart` mean, as HTML."""
    return _legend((
        (FLOW, 3, "", "line", "most by any model"), (FLOW, 3, "6 3", "dashes", "least by any model"),
        (GOOD, 5, "10 3 2 3", "long and short dashes", "asked for: where the lines are below it, air is short"),
    ))  # fmt: skip


def suction_table(found):
    """Return the published figures of suction beside fires and which are reached, as HTML."""
    low, high = found.suctions
    rows = [
        f'<tr><td class="number">{show(one.pressure, "Pa")}</td><td>{escape(one.text)} <small>({one.status})'
        f"</small></td><th>{'not reached' if high < one.pressure else 'reached' if low >= one.pressure else 'perhaps'}</th></tr>"
        for one in COMBUSTION_LIMITS
    ]
    return _table(
        f"On a still day: {show_range(low, high, 'Pa')} of suction",
        ("at", "what is said of it", "here"),
        rows,
        "",
    )


def year_legend(record, need):
    """Return what the lines of a `YearChart` mean, with their values, as HTML."""
    rule = record.house.n50 / 20.0
    said = (
        (
            FLOW,
            3,
            "",
            "line",
            f"leaks, mean while heating {show(record.mean_while_heating, digits=2)}",
        ),
        (
            GOOD,
            5,
            "10 3 2 3",
            "long and short dashes",
            f"fresh air asked for {show(need, digits=2)}",
        ),
        (PRESSURE, 5, "4 3", "short dashes", f"n50 divided by 20: {show(rule, digits=2)}"),
    )
    return _legend(said)


def _legend(said):
    marks = "".join(
        f'<span><svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{drawn}" viewBox="0 0 42 14" '
        f'width="42" height="14"><path d="M0 7H42" stroke="{look.colour}" stroke-width="{wide}" '
        f'stroke-dasharray="{dashes}"/></svg>{escape(words)}</span>'
        for look, wide, dashes, drawn, words in said
    )
    return f'<p class="airlab-legend">{marks}</p>'


def daily_rate(record):
    """Return the mean air change rate of each whole day of a `YearAir`. [1/h]."""
    rate = record.air_change_rate
    whole = len(rate) // _DAY * _DAY
    return rate[:whole].reshape(-1, _DAY).mean(axis=1) if whole else rate


def folded(summary, notes):
    """Return notes that are unfolded by a click on their summary, as HTML."""
    return f"<details><summary>{escape(summary)}</summary>{notes_list(notes)}</details>"


def heat_tiles(found, units="metric"):
    """Return the heat of a `YearHeat` as tiles, as HTML."""
    tiles = [
        (show_energy(found.energy, units), f"carried off in {found.hours} hours"),
        (_flows(found.peak, display_unit("W", units)), "in the worst hour"),
    ]
    if found.per_ach50:
        tiles.append((show_energy(found.per_ach50, units), "for each air change at 50 Pa"))
    return tile_row(tiles)


def gap_drawing(draught, width, units="metric"):
    """Return a wall with a gap, its jet, and a person some way off, as an SVG string.

    Parameters
    ----------
    draught : Draught
        Speeds at the gap and at the person.
    width : float
        Width of the gap. [m]
    units : str
        'metric' or 'us'.
    """
    speed, far, thin = (
        display_unit("m/s", units),
        display_unit("m", units),
        display_unit("mm", units),
    )
    fade = draught.at_person / draught.at_gap
    floor, level, start, person = 176.0, 122.0, 96.0, 470.0
    spread = 8.0 + 34.0 * (1.0 - fade)
    jet = (
        f"M{start} {level - 3}C{start + 120} {level - 6} {person - 160} {level - spread} {person} {level - spread}"
        f"V{level + spread}C{person - 160} {level + spread} {start + 120} {level + 6} {start} {level + 3}Z"
    )
    parts = [
        rect(0, floor, 620, 3, fill=QUIET),
        rect(70, 12, 26, level - 15, fill="#d9d9d9", stroke=INK, stroke_width=2),
        rect(70, level + 3, 26, floor - level - 3, fill="#d9d9d9", stroke=INK, stroke_width=2),
        path(jet, fill=FLOW.css_fill, stroke=FLOW.css, stroke_width=2, stroke_dasharray="7 3"),
        arrow(12, level, 150, level, FLOW.css, 5.0),
        circle(person + 34, 92, 15, fill=INK),
        path(f"M{person + 34} 110V152H{person + 4}V{floor}", fill="none", stroke=INK, stroke_width=12,
             stroke_linejoin="round"),
        path(f"M{person + 50} 104V154H{person + 20}M{person + 50} 154V{floor}", fill="none", stroke=QUIET,
             stroke_width=4),
        text(104, 34, f"gap of {show(from_si(width, thin), thin)}, "
             f"{show(draught.pressure_difference, 'Pa')}: {show(from_si(draught.at_gap, speed), speed)}",
             font_weight="bold"),
        text(person + 18, 34, f"{show(from_si(draught.distance, far), far)} away: "
             f"{show(from_si(draught.at_person, speed), speed)}", anchor="middle", font_weight="bold"),
        text(person + 18, 58, f"bothers {_shares(*draught.ratings)}", anchor="middle"),
        text(104, 166, "not to scale", size=13, fill=QUIET),
    ]  # fmt: skip
    return drawing(620, 180, draught.sentence(units), *parts)


def near_tiles(draught, moisture, units="metric"):
    """Return a `Draught` and a `GapMoisture` as tiles, as HTML."""
    speed, mass, far, size = (display_unit(one, units) for one in ("m/s", "g", "m", "m2"))
    low, high, seeps = (from_si(one * to_si(24.0, "h"), mass)
                        for one in (moisture.lower, moisture.upper, moisture.diffusion))  # fmt: skip
    gap = show(from_si(moisture.length, far), far)
    sheet = show(from_si(moisture.area, size), size)
    return tile_row([
        (show(from_si(draught.at_gap, speed), speed), "jet at the gap"),
        (show(from_si(draught.at_person, speed), speed), "where you sit"),
        (_shares(*draught.ratings), "would be bothered"),
        (f"{show_range(low, high, mass)} a day", f"water through {gap} of gap, bounds"),
        (f"{show(max(seeps, 0.0), mass, 2)} a day", f"through {sheet} of sheet beside it"),
    ])  # fmt: skip


def need_tiles(found, need, units="metric"):
    """Return a `FreshAir` against its need as tiles, as HTML."""
    flow = _small_flow(units)
    low, high = (one / found.hours for one in found.hours_short)
    return tile_row([
        (show(from_si(need.flow, flow), flow), f"asked for, {need.jurisdiction}"),
        (_flows(found.mean, flow), "leaks bring on average, heating on"),
        (_flows(found.least, flow), "in the worst hour"),
        ("every hour" if low == 1.0 else _shares(low, high) if high else "never",
         "too little, of the heating hours"),
    ])  # fmt: skip


def _small_flow(units):
    return "cfm" if units == "us" else "L/s"


def _flows(pair, unit):
    return show_range(*(from_si(one, unit) for one in pair), unit)


def _shares(low, high):
    low, high = show_percent(low), show_percent(high)
    return high if low == high else f"{low} to {high}"


def models_table(airs, heats, units="metric", whole=False):
    """Return models side by side: rate, divisor, heat, and how each is known; as HTML.

    Parameters
    ----------
    airs : sequence of YearAir
        What each model says.
    heats : sequence of float
        Heat over the year, for each. [J]
    units : str
        'metric' or 'us'.
    whole : bool
        Whether every row is in sight at once.
    """
    rated = sorted(((one.mean_while_heating, heat, one) for one, heat in zip(airs, heats)),
                   key=lambda three: -three[0])  # fmt: skip
    rows, energy = [], display_unit("J", units)
    for rate, heat, one in rated:
        width = 100.0 * rate / (rated[0][0] or 1.0)
        hour = "" if one.hourly else " <small>(a rule)</small>"
        rows.append(
            f'<tr><th scope="row">{escape(one.model)}{hour}</th>'
            f'<td class="number">{show(rate, digits=2)}</td>'
            f'<td class="number">{show(one.divisor, digits=3) if rate else "–"}</td>'
            f'<td class="number">{show(from_si(heat, energy), digits=2)}</td>'
            f"<td>{escape(one.status)}</td>"
            f'<td><span class="airlab-bar" style="width:{width:.0f}%"></span></td></tr>'
        )
    year = "a year" if airs[0].weather.whole_year else "in these hours"
    heads = ("model", "per hour", "n50 over it", f"{label(energy)} {year}", "known", "compared")
    return _table(_CAPTION, heads, rows, "" if whole else "airlab-models")


def ways_table(found, units="metric", span=""):
    """Return four ways to live: heat, supply and hours short side by side, as HTML.

    Parameters
    ----------
    found : FourWays
        The four ways.
    units : str
        'metric' or 'us'.
    span : str
        The hours they stand for, for the heading.
    """
    flow, energy = _small_flow(units), display_unit("J", units)
    top = max(way.made_up[1] for way in found.ways)
    rows = []
    for way in found.ways:
        heat, full = ([from_si(one, energy) for one in pair] for pair in (way.energy, way.made_up))
        low, high = way.share_short
        short = "never" if not high else "every hour" if low == 1.0 else _shares(low, high)
        supply = _flows(way.air.mean, flow)
        pull = (
            ""
            if way.suction is None
            else f"; on a still day the fan pulls {show_range(*way.suction.suctions, 'Pa')}"
        )
        width = 100.0 * way.made_up[1] / top
        rows.append(
            f'<tr><th scope="row">{escape(way.name)}{escape(pull)}</th>'
            f"<td>{supply}</td><td>{short}</td>"
            f'<td class="number">{show_range(*heat)}</td><td class="number">{show_range(*full)}</td>'
            f'<td><span class="airlab-bar" style="width:{width:.0f}%"></span></td></tr>'
        )  # fmt: skip
    heads = ("way", "mean supply", "heating hours short of fresh air", f"heat [{label(energy)}]",
             "with windows opened for what is missing", "compared")  # fmt: skip
    return _table(
        f"Heat and fresh air of {span or 'the hours given'}, read together", heads, rows, ""
    )


def _table(caption, heads, rows, look):
    head = "".join(f'<th scope="col">{escape(words)}</th>' for words in heads)
    return (
        f'<div class="airlab-scroll {look}" tabindex="0" role="region" aria-label="{escape(caption)}">'
        f"<table><caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{''.join(rows)}</tbody></table></div>"
    )
