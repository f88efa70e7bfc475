"""Sizes and indicators as tiles and tables: a number over its name, one line for each metric."""

from html import escape

from airlab.plots.day_html import table
from airlab.words import convert, display_unit, from_si, label, show, show_percent, show_range

__all__ = [
    "aim_ladder", "answers_list", "html_table", "indicator_table", "indicator_tiles", "notes_list",
    "size_tiles", "slip_table", "tile_row",
]  # fmt: skip

_CHIEF = {
    "q50_flow": "leaks at 50 Pa",
    "n50": "air changes at 50 Pa, n50",
    "qE50": "per envelope at 50 Pa, qE50",
    "qF50": "per floor at 50 Pa, qF50",
    "hole50": "all leaks as one sharp hole",
}


def tile_row(pairs):
    """Return pairs of (number, its name) as tiles, as HTML."""
    cells = "".join(
        f"<div><b>{escape(big)}</b> <span>{escape(name)}</span></div>" for big, name in pairs
    )
    return f'<div class="airlab-tiles">{cells}</div>'


def html_table(caption, heads, rows, numbers=()):
    """Return a table that scrolls; `numbers` are the columns set to the right."""
    return table(caption, heads, [[escape(cell) for cell in row] for row in rows], numbers=numbers)


def size_tiles(geometry, units="metric"):
    """Return volume, envelope, floor and their ratio as tiles, as HTML."""

    def said(value, unit):
        shown = display_unit(unit, units)
        return "not entered" if value is None else show(from_si(value, shown), shown)

    tiles = [
        (said(geometry.internal_volume, "m3"), "of air, V"),
        (said(geometry.envelope_area, "m2"), f"of envelope, A_E{_counted(geometry.rule)}"),
        (said(geometry.floor_area, "m2"), "of floor, A_F"),
    ]
    if geometry.mean_height is not None:
        tiles.append((said(geometry.mean_height, "m"), "mean height, V/A_F"))
    return tile_row(tiles)


def _counted(rule):
    """Name the counting rule where it leaves something out."""
    return "" if rule.party and rule.lowest_floor else f" ({rule.name})"


def indicator_tiles(found, units="metric"):
    """Return the chief indicators as tiles, each with its pressure, as HTML."""
    tiles = []
    for key, name in _CHIEF.items():
        entry = found[key]
        value, _, _, unit = entry.seen(units)
        shown = "not known" if value is None else show(value, unit)
        tiles.append((shown, name))
    return tile_row(tiles)


def indicator_table(found, units="metric"):
    """Return every indicator with band, formula and convention, as HTML.

    Parameters
    ----------
    found : Indicators
        The indicators of the house.
    units : str
        'metric' or 'us'.
    """
    rows = []
    for entry in found.entries:
        one = entry.metric
        value, low, high, unit = entry.seen(units)
        others = ", ".join(
            show(other, own)
            for other, own in entry.others
            if own != unit and own == display_unit(own, units)
        )
        band = show_range(low, high, digits=3) if entry.depends_on_exponent else ""
        shown = "not known" if value is None else show(value, unit)
        rows.append((
            one.name[:1].upper() + one.name[1:], one.symbol, shown, others, band, one.formula,
            entry.missing or one.convention,
        ))  # fmt: skip
    n = show(found.flow_exponent)
    heads = ("Indicator", "Symbol", "Value", "Also", "n 0.55 to 0.75", "Formula", "Convention")
    numbers = (2, 4)
    if not any(row[3] for row in rows):
        heads, numbers = (*heads[:3], *heads[4:]), (2, 3)
        rows = [(*row[:3], *row[4:]) for row in rows]
    return html_table(f"Every indicator, reckoned with exponent n = {n}", heads, rows, numbers)


def slip_table(slips, units="metric"):
    """Return what a slip in a size does to each indicator, as HTML."""
    slips = tuple(slips)
    if not slips:
        return ""
    rows = []
    for slip in slips:
        unit = slip.metric.unit
        seen = display_unit(unit, units)
        ends = (slip.value, slip.if_too_small, slip.if_too_large)
        value, small, large = (convert(end, unit, seen) for end in ends)
        rows.append((
            slip.metric.name[:1].upper() + slip.metric.name[1:], slip.size,
            show(value, seen), show(small), show(large),
        ))  # fmt: skip
    share = show_percent(slips[0].slip)
    heads = ("Indicator", "divided by", "as entered", f"if entered {share} too small",
             f"if entered {share} too large")  # fmt: skip
    return html_table("What a slip in a size does", heads, rows, (2, 3, 4))


def aim_ladder(aims, confidence):
    """Return what to aim for to be more and more sure of a limit, as HTML bars.

    Parameters
    ----------
    aims : iterable of Aim
        One for each step of confidence, all under one limit.
    confidence : float
        The step to mark. [-]
    """
    aims = tuple(aims)
    aim = aims[0]
    rows = "".join(
        f"<tr{' aria-current=true' if abs(one.confidence - confidence) < 1e-9 else ''}>"
        f'<th scope="row">{show_percent(one.confidence)}</th>'
        f'<td class="number">{show(one.aim)}</td>'
        f'<td><span class="airlab-bar" style="width:{100.0 * one.fraction:.0f}%"></span></td></tr>'
        for one in aims
    )
    return (
        f'<table class="airlab-ladder"><caption>Limit {escape(aim.shown(aim.limit))}: what to aim for'
        f'</caption><thead><tr><th scope="col">to be sure</th><th scope="col">aim for '
        f'[{escape(label(aim.unit))}]</th><th scope="col">of the limit</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )


def _glued(words):
    """Return words escaped, with no line break before a unit."""
    text = escape(words)
    for unit in (" %", " m²", " m³", " /h", " cm²", " Pa", " cfm", " ft"):
        text = text.replace(unit, f"\N{NO-BREAK SPACE}{unit[1:]}")
    return text


def answers_list(answers):
    """Return the four questions with their answers, as HTML."""
    items = "".join(
        f"<div><dt>{escape(question)}</dt><dd>{_glued(answer)}</dd></div>"
        for question, answer in answers
    )
    return f'<dl class="airlab-answers">{items}</dl>'


def notes_list(notes):
    """Return warnings as a list, as HTML; nothing for none."""
    if not notes:
        return ""
    return (
        '<ul class="airlab-notes">' + "".join(f"<li>{_glued(one)}</li>" for one in notes) + "</ul>"
    )
