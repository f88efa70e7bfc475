"""What has every panel that writes to a job: changes saved at once, taken back, never lost?"""

from html import escape

import ipywidgets as widgets

from airlab.files import FileChanged
from airlab.panels.controls import tick
from airlab.panels.workbench import Workbench
from airlab.words import InputError

__all__ = ["KeepsJob", "note"]


class KeepsJob:
    """Adds to a panel a job laid open, its tables to edit, and what to do when a file changed.

    A panel calls `_lay_open` before and `_set_out` after its own constructor, changes the job
    through `_save`, and shows `_keeper` where its message stands.
    """

    trial = "A trial: nothing is saved. Start a house of your own to keep what you change."

    def _lay_open(self, job, tables=()):
        """Open the job; make the buttons for a changed file and the ticks that unfold tables."""
        self._pending, self._busy = None, False
        self._desk = Workbench(job, told=self._told)
        again = self.button("Read the job again", self.reload)
        self._keep = self.button("Keep mine as a copy", self.keep_mine)
        self._keeper = widgets.HBox([again, self._keep]).add_class("airlab-buttons")
        self._keeper.layout.display = "none"
        self._notes = widgets.HTML()
        self._tables = widgets.VBox(self._make_bench(tables)).add_class("airlab-benches")
        return self._desk.job

    def _make_bench(self, tables):
        """Return ticks that each unfold the editor of a table, made when it is first wanted."""
        rows = []
        for name, words in tables:
            unfold, place = tick(f"Edit the {words} as a table"), widgets.VBox()

            def opened(change, name=name, place=place):
                place.children = (self._desk.editor(name),) if change.new else ()

            unfold.observe(opened, "value")
            rows += [unfold, place]
        return tuple(rows)

    def _set_out(self, style, *above):
        """Put style, notes, what a panel has above its body, and tables around head and body."""
        head, body = self.children
        look = widgets.HTML(f"<style>{style.read_text(encoding='utf-8')}</style>")
        self.children = (look, head, self._notes, *above, body, self._tables)

    def reset(self):
        """Take back the last change."""
        self._do(self._desk.undo)
        return self

    undo = reset

    def reload(self):
        """Read the job from its folder again."""
        return self._do(self._desk.reload)

    def keep_mine(self):
        """Keep rows that could not be saved as a copy beside their table; return its path."""
        if self._pending is None:
            raise InputError("There is nothing that waits to be kept.")
        path = self._desk.keep_copy(*self._pending)
        self._pending, self._keep.layout.display = None, "none"
        self._notes.value += note(f"Your rows are kept in {path.name}. Now read the job again.")
        return path

    def _say_notes(self, notes):
        """Show what must be known above the panel; that it is a trial goes first."""
        trial = (self.trial,) if self._desk.trial else ()
        self._notes.value = "".join(map(note, (*trial, *notes)))

    def _save(self, table, rows):
        """Save one table and show the job."""
        return self._do(lambda: self._desk.save_table(table, rows), (table, rows))

    def _do(self, do, pending=None):
        """Change the job and show it; where the file changed meanwhile, offer what can be done."""

        def act():
            self._alter(do, pending)
            self.refresh()

        self._act(act, loud=True)
        return self

    def _alter(self, do, pending=None):
        """Change the job without showing it."""
        self._busy = True
        try:
            do()
        except FileChanged:
            self._pending = pending
            self._keep.layout.display = None if pending else "none"
            self._keeper.layout.display = None
            raise
        finally:
            self._busy = False
        self._keeper.layout.display = "none"

    def _told(self):
        """The editor of a table saved: show it here too."""
        if not self._busy:
            self._act(self.refresh)


def note(words):
    """Return a note in its frame, as HTML."""
    return f'<p class="airlab-tries">{escape(words)}</p>'
