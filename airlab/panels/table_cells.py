"""How does a column look: as a field to type in, as a printed cell, as a table of rows?"""

from datetime import datetime
from html import escape
from pathlib import Path

import ipywidgets as widgets

from airlab.files.cells import Habits, Refused, parse_cell, render_cell
from airlab.words import InputError, label, show

__all__ = [
    "carries", "column_words", "field_for", "field_text", "read_fields", "table_html",
]  # fmt: skip

_AUTO = {"description_width": "initial"}
_STYLE = Path(__file__).with_name("table_editor.css")
_SUFFIXES = {"m3/h": "_m3_per_h", "Pa": "_pa"}
_HINTS = {"date": "2027-03-24", "time": "2027-03-24 09:05"}


def column_words(column):
    """Return a column's name as people read it, with its unit.

    Examples
    --------
    >>> from airlab.building import ROOMS
    >>> column_words(ROOMS.column("length_m")), column_words(ROOMS.column("why"))
    ('Length [m]', 'Why')
    """
    name = column.name
    if column.unit:
        name = name.removesuffix(_SUFFIXES.get(column.unit, f"_{column.unit}"))
    words = name.replace("_", " ")
    words = words[:1].upper() + words[1:]
    return f"{words} [{label(column.unit)}]" if column.unit else words


def field_for(column):
    """Return the control of a column's kind."""
    words = column_words(column)
    if column.kind == "yes/no":
        return widgets.Checkbox(description=words, indent=False, style=_AUTO)
    if column.kind == "choice":
        options = column.choices if column.required else ("", *column.choices)
        return widgets.Dropdown(options=options, description=words, style=_AUTO)
    hint = _HINTS.get(column.kind, "")
    kind = widgets.Combobox if column.offers else widgets.Text
    return kind(description=words, placeholder=hint, style=_AUTO)


def carries(table, name):
    """Whether a new row starts with the entry of the row before: words it must have, no numbers."""
    column = table.column(name)
    return column.required and name != table.key and column.kind in ("text", "choice")


def field_text(column, value):
    """Return a value as the column's field holds it."""
    if column.kind == "yes/no":
        return bool(column.default if value is None or value == "" else value)
    if column.kind == "choice":
        return value or (column.choices[0] if column.required else "")
    if column.kind == "text":
        return "" if value is None else str(value)
    return render_cell(column, value)


def _printed(column, value):
    """Return a value as the table prints it."""
    if value is None or value == "":
        return ""
    if column.kind == "number":
        return show(value, digits=6)
    return render_cell(None, value) if column.kind != "text" else str(value)


def read_fields(table, cells):
    """Return the cells of fields as values by column name.

    Raises
    ------
    InputError
        If any cannot be used; one message names them all.
    """
    row, trouble = {}, []
    for name, cell in cells.items():
        column = table.column(name)
        if column.kind == "yes/no":
            row[name] = cell
            continue
        text = cell.strip()
        try:
            value = parse_cell(column, text, Habits())
        except (Refused, OverflowError) as refused:
            shown = f"'{text[:60]}'" if text else "empty"
            trouble.append(f"{column_words(column)} is {shown}; expected {refused}.")
            continue
        if type(value) is datetime and value.tzinfo is None:
            value = value.astimezone()
        row[name] = value
    if trouble:
        raise InputError("\n".join(["Not saved.", *trouble]))
    return row


def table_html(table, rows, chosen=None, unsaved=()):
    """Return rows as a readable table that scrolls, with its style.

    Parameters
    ----------
    table : Table
        What the rows are.
    rows : iterable of dict
        Column name to value.
    chosen : int or None
        Place of the row to mark.
    unsaved : collection of int
        Places of rows with entries that wait to be saved.
    """
    columns = table.columns
    head = "".join(
        f'<th scope="col"{_side(c)} title="{escape(c.meaning)}">{escape(column_words(c))}</th>'
        for c in columns
    )
    body = "".join(
        _row_html(table, row, place == chosen, place in unsaved) for place, row in enumerate(rows)
    )
    if not body:
        body = f'<tr><td colspan="{len(columns)}">No rows yet.</td></tr>'
    meaning = escape(table.meaning[:1].upper() + table.meaning[1:].rstrip("."))
    return (
        f"<style>{_STYLE.read_text(encoding='utf-8')}</style>"
        f'<div class="airlab-scroll" tabindex="0" role="region" aria-label="{meaning}">'
        f"<table><caption>{meaning}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{body}</tbody></table></div>"
    )


def _row_html(table, row, chosen, unsaved):
    cells = []
    for column in table.columns:
        text = escape(_printed(column, row.get(column.name)))
        if column.name == table.key:
            mark = '<span aria-hidden="true">▸ </span>' if chosen else ""
            note = ' <span class="airlab-note">not saved</span>' if unsaved else ""
            cells.append(f'<th scope="row">{mark}{text}{note}</th>')
        else:
            cells.append(f"<td{_side(column)}>{text}</td>")
    return f"<tr{' aria-current=true' if chosen else ''}>{''.join(cells)}</tr>"


def _side(column):
    """Return the class that sets figures, and the head over them, to the right."""
    return ' class="number"' if column.kind in ("number", "integer") else ""
