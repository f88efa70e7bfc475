"""How is one table of a job changed by hand: pick a row, change its cells, save.

One editor serves every declared table. It shows the table, one row's cells as fields by kind of
column, and a few buttons. What a person typed stays in the fields until it is saved or taken back.
"""

from html import escape

import ipywidgets as widgets

from airlab.files import FileChanged
from airlab.panels.table_cells import (
    carries,
    column_words,
    field_for,
    field_text,
    read_fields,
    table_html,
)
from airlab.words import InputError, require_choice

__all__ = ["TableEditor"]

_AUTO = {"description_width": "initial"}
_NEW = -1  # place of the row that is not in the table yet


class TableEditor(widgets.VBox):
    """Editor of one table.

    Parameters
    ----------
    table : Table
        What the table holds.
    rows : iterable of dict
        Column name to value, in the units of the column names.
    save : callable
        Called with all rows; writes them and returns them as they now stand.
    reload : callable or None
        Returns the rows as they stand in the file.
    keep : callable or None
        Called with rows that could not be saved because the file changed meanwhile; keeps them
        beside the file and returns the path.
    changed : callable or None
        Called with the rows after every change.
    columns : iterable of str or None
        Columns to edit; the others are shown and kept. None edits all.
    offers : callable or None
        Called with a column; returns the words to choose from in it. Others may be typed.

    Attributes
    ----------
    rows : tuple of dict
        The table as it stands.
    message : str
        What was done, or what was wrong.
    fields : dict
        The controls of the chosen row by column name.
    """

    def __init__(
        self, table, rows, save, reload=None, keep=None, changed=None, columns=None, offers=None
    ):
        self.table, self.fields, self.message = table, {}, ""
        self._save, self._reload, self._keep, self._told = save, reload, keep, changed
        self._offers = offers or (lambda column: ())
        self._past, self._drafts, self._base, self._refused = [], {}, {}, None
        self._moving = self._saving = self._marked = False
        self._rows, self._place = tuple(dict(row) for row in rows), _NEW
        wanted = [c.name for c in table.columns] if columns is None else list(columns)
        for column in table.columns:
            if column.required or column.name in wanted:
                self.fields[column.name] = field_for(column)
        self._key = column_words(table.column(table.key))
        self._picker = widgets.Dropdown(description=f"Choose {self._key.lower()}", style=_AUTO)
        self._table = widgets.HTML()
        self._line = widgets.HTML().add_class("airlab-message")
        file = f"{table.name}.csv"
        self._keeper = _button(
            "Keep mine as a copy", f"Keep what you typed beside {file}", self._act, self._keep_mine
        )
        self._keeper.layout.display = "none"
        again = _button("Reload from file", f"Read {file} again", self._act, self._read_again)
        again.disabled = reload is None
        buttons = [
            _button("Save row", f"Save the row to {file}", self._act, self._save_row, main=True),
            _button("Add row", f"Begin a new row of {file}", self._act, self._type_row),
            _button("Remove row", f"Take the row out of {file}", self._act, self._remove_row),
            _button("Undo", f"Take back the last change to {file}", self._act, self._undo),
            again,
            self._keeper,
        ]
        grid = widgets.Box(list(self.fields.values())).add_class("airlab-fields")
        bar = widgets.HBox(buttons).add_class("airlab-buttons")
        super().__init__([self._table, self._picker, grid, bar, self._line])
        self.add_class("airlab-editor")
        self._picker.observe(self._picked, "value")
        for field in self.fields.values():
            field.observe(self._typed, "value")
        self._place = 0 if self._rows else _NEW
        self._fill()

    # what a person does -------------------------------------------------------------------

    @property
    def rows(self):
        """The table as it stands, one dict a row."""
        return self._rows

    def choose(self, key):
        """Choose the row of that name; nothing typed is lost."""
        return self._act(self._choose, key, loud=True)

    def set(self, **values):
        """Fill fields of the chosen row: values, or text as a person types it."""
        return self._act(self._set, values, loud=True)

    def save_row(self):
        """Save the chosen row."""
        return self._act(self._save_row, loud=True)

    def add_row(self, **values):
        """Begin a new row; with values, fill and save it."""
        self._act(self._begin_row, loud=True)
        return self.set(**values).save_row() if values else self

    def remove_row(self, key=None):
        """Take out the row of that name, or the chosen one."""
        if key is not None:
            self.choose(key)
        return self._act(self._remove_row, loud=True)

    def undo(self):
        """Take back what was typed and not saved; else the last change that was saved."""
        return self._act(self._undo, loud=True)

    def reload(self):
        """Read the table from its file again; what was typed and not saved stays."""
        return self._act(self._read_again, loud=True)

    def keep_mine(self):
        """Keep the rows that could not be saved as a copy beside the file."""
        return self._act(self._keep_mine, loud=True)

    def show(self, rows):
        """Show rows that were changed elsewhere; what was typed and not saved stays."""
        rows = tuple(dict(row) for row in rows)
        if rows != self._rows and not self._saving:
            self._stand(rows, self._name())
        self._offer()
        return self

    def close(self):
        """Take the editor off the page, with everything it holds."""
        for widget in _held(self):
            widget.close()
        super().close()

    # workings -----------------------------------------------------------------------------

    def _act(self, do, *given, loud=False):
        """Do it: `InputError` becomes the message, everything else is said and raised."""
        try:
            said = do(*given)
        except InputError as error:
            self._say(str(error), alert=True)
            if loud:
                raise
            return self
        except Exception as error:
            self._say(f"The workbook stumbled, this is not your doing: {error!r}", alert=True)
            raise
        self._say(said or "")
        return self

    def _say(self, words, alert=False):
        self.message = words
        role = "alert" if alert else "status"
        lines = "<br>".join(escape(line) for line in words.splitlines())
        self._line.value = f'<p role="{role}" class="airlab-{role}">{lines}</p>' if words else ""

    def _name(self, place=None):
        """Return the name of a row; empty for a new one."""
        place = self._place if place is None else place
        return "" if place == _NEW else str(self._rows[place].get(self.table.key) or "")

    def _find(self, name):
        for place in range(len(self._rows)):
            if self._name(place) == name:
                return place
        return None

    def _choose(self, key):
        place = self._find(str(key))
        if place is None:
            known = ", ".join(self._name(place) for place in range(len(self._rows)))
            raise InputError(f"There is no {self._key.lower()} {key!r}. There are: {known}.")
        self._go(place)

    def _picked(self, change):
        if not self._moving and change.new is not None:
            self._act(self._go, change.new)

    def _typed(self, _change):
        if not self._moving and self._dirty() != self._marked:
            self._show_table()

    def _go(self, place):
        """Put a row into the fields; what was typed for the row before is kept for it."""
        left = self._stash()
        self._place = place
        self._fill()
        return left

    def _stash(self):
        """Keep what was typed for the chosen row; say so."""
        if not self._dirty():
            return ""
        name = self._name()
        self._drafts[name] = self._now()
        return f"{name or 'The new row'} is not saved yet; choose it again to find what you typed."

    def _shown(self):
        """Return the chosen row as the fields show it when nothing was typed."""
        row = {} if self._place == _NEW else self._rows[self._place]
        return {name: field_text(self.table.column(name), row.get(name)) for name in self.fields}

    def _now(self):
        return {name: field.value for name, field in self.fields.items()}

    def _dirty(self):
        return self._now() != self._base

    def _fill(self, typed=None, base=None):
        """Fill the fields with what was typed for the chosen row, or with the row as it stands."""
        self._base = base or self._shown()
        typed = typed or self._drafts.pop(self._name(), None) or self._base
        self._moving = True
        for name, field in self.fields.items():
            field.value = typed[name]
        self._moving = False
        self._offer()
        self._list_rows()

    def _offer(self):
        for name, field in self.fields.items():
            if isinstance(field, widgets.Combobox):
                field.options = self._offers(self.table.column(name))

    def _list_rows(self):
        self._moving = True
        names = [(self._name(place), place) for place in range(len(self._rows))]
        self._picker.options = [*names, ("(new row)", _NEW)]
        self._picker.value = self._place
        self._moving = False
        self._show_table()

    def _stand(self, rows, name):
        """Let rows be the table and go to the row of that name; keep what was typed elsewhere."""
        typed = self._now() if self._dirty() else None
        before = self._name()
        self._rows = rows
        place = self._find(name)
        self._place = place if place is not None else (0 if rows else _NEW)
        if typed and self._name() != before:
            self._drafts[before] = typed
            typed = None
        self._fill(typed)

    def _set(self, values):
        for name, value in values.items():
            if name not in self.fields:
                raise InputError(
                    f"The {self.table.name} editor has no field {name!r}. "
                    f"It has: {', '.join(self.fields)}."
                )
            column, field = self.table.column(name), self.fields[name]
            cell = value if isinstance(value, str) else field_text(column, value)
            if column.kind == "choice":
                require_choice(column_words(column), cell, field.options)
            field.value = cell

    def _write(self, rows, name, remember=True):
        """Save all rows; on refusal nothing changes and the fields stay as they are."""
        before, self._saving = (self._rows, self._name()), True
        try:
            now = tuple(dict(row) for row in self._save(rows))
        except FileChanged:
            self._refused = rows
            self._keeper.layout.display = "" if self._keep else "none"
            raise
        finally:
            self._saving = False
        if remember:
            self._past.append(before)
        self._refused, self._keeper.layout.display = None, "none"
        self._rows = now
        place = self._find(name)
        self._place = place if place is not None else (0 if now else _NEW)
        self._drafts.pop(self._name(), None)
        self._fill()
        if self._told:
            self._told(now)

    def _save_row(self):
        row = read_fields(self.table, self._now())
        name, place = str(row[self.table.key]), self._place
        twin = self._find(name)
        if twin is not None and twin != place:
            raise InputError(
                f"Not saved. There is a row {name!r} already; each needs its own name."
            )
        rows = list(self._rows)
        if place == _NEW:
            rows.append(row)
        else:
            rows[place] = {**rows[place], **row}
        self._write(tuple(rows), name)
        return f"Saved {name}. {self._count()}"

    def _begin_row(self):
        left, before = self._stash(), self._place
        carried = {} if before == _NEW else dict(self._shown())
        self._place = _NEW
        blank = {
            name: carried[name]
            if name in carried and carries(self.table, name)
            else field_text(self.table.column(name), self.table.column(name).default)
            for name in self.fields
        }
        self._fill(self._drafts.pop("", None), blank)
        return f"{left} Fill in the new row, then Save row.".strip()

    def _type_row(self):
        """Begin a new row with the keyboard in its first field."""
        next(iter(self.fields.values())).focus()
        return self._begin_row()

    def _remove_row(self):
        if self._place == _NEW:
            self._fill(self._shown())
            return "The new row was emptied."
        name, place = self._name(), self._place
        rows = self._rows[:place] + self._rows[place + 1 :]
        stays = self._name(place + 1) if place + 1 < len(self._rows) else ""
        self._write(rows, stays or (self._name(place - 1) if place else ""))
        return f"Removed {name}. {self._count()} Undo brings it back."

    def _undo(self):
        if self._dirty():
            self._fill(self._base, self._base)
            return f"{self._name() or 'The new row'} is as it was saved."
        if not self._past:
            return "There is nothing to take back."
        rows, name = self._past[-1]
        self._write(rows, name, remember=False)
        self._past.pop()
        return f"Took back the last change. {self._count()}"

    def _read_again(self):
        rows = tuple(dict(row) for row in self._reload())
        self._past.clear()
        self._refused, self._keeper.layout.display = None, "none"
        self._stand(rows, self._name())
        if self._told:
            self._told(rows)
        rest = " What you typed and did not save is still in the fields." if self._dirty() else ""
        return f"Read {self.table.name}.csv again. {self._count()}{rest}"

    def _keep_mine(self):
        if self._refused is None or self._keep is None:
            return "There is nothing that waits to be kept."
        path = self._keep(self._refused)
        self._keeper.layout.display = "none"
        return f"Your rows are kept in {path.name}, beside the table. Now reload from file."

    def _count(self):
        number = len(self._rows)
        return f"{number} row{'' if number == 1 else 's'}."

    def _show_table(self):
        self._marked = self._dirty()
        unsaved = {place for place in range(len(self._rows)) if self._name(place) in self._drafts}
        if self._marked:
            unsaved.add(self._place)
        self._table.value = table_html(self.table, self._rows, self._place, unsaved)


def _button(words, tip, act, do, main=False):
    made = widgets.Button(description=words, tooltip=tip)
    made.on_click(lambda _: act(do))
    return made.add_class("airlab-main" if main else "airlab-plain")


def _held(widget):
    """Return the layout and style of a widget, and everything it holds with theirs."""
    held = [look for look in (widget.layout, getattr(widget, "style", None)) if look is not None]
    for child in getattr(widget, "children", ()):
        held += [child, *_held(child)]
    return held
