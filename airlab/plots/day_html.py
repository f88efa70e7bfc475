"""The few pieces of HTML that the cards of the day are made of; what people typed is escaped."""

from html import escape

from airlab.words import display_unit, from_si, show

__all__ = ["bare_flow", "flags", "flow_words", "table"]


def flow_words(value, units):
    """Return a flow [m3/s] with the unit people see."""
    unit = display_unit("m3/s", units)
    return show(from_si(value, unit), unit)


def bare_flow(value, units):
    """Return a flow [m3/s] without its unit."""
    return show(from_si(value, display_unit("m3/s", units)))


def table(name, heads, rows, empty="", look="", numbers=()):
    """Return a table that scrolls; the first cell of a row is its head, cells are HTML.

    `empty` is said where there are no rows; `numbers` are the columns set to the right.
    """
    head = "".join(f'<th scope="col">{escape(one)}</th>' for one in heads)
    body = "".join(
        f'<tr><th scope="row">{row[0]}</th>'
        + "".join(
            f"<td{' class=number' if i in numbers else ''}>{cell}</td>"
            for i, cell in enumerate(row[1:], 1)
        )
        + "</tr>"
        for row in rows
    )
    if empty and not rows:
        body = f'<tr><td colspan="{len(heads)}">{escape(empty)}</td></tr>'
    return (
        f'<div class="airlab-scroll{look}" tabindex="0" role="region" aria-label="{escape(name)}">'
        f"<table><caption>{escape(name)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{body}</tbody></table></div>"
    )


def flags(lines):
    """Return remarks as a list, each once."""
    items = "".join(f"<li>{escape(one)}</li>" for one in dict.fromkeys(lines) if one)
    return f'<ul class="airlab-flags">{items}</ul>' if items else ""
