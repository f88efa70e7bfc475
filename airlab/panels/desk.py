"""Which job does a panel work on? The open one, changed one file at a time."""

from airlab.building.components import components
from airlab.files import (
    append_events,
    current_job,
    keep_copy,
    open_job,
    save_settings,
    save_table,
)
from airlab.panels.table_editor import TableEditor

__all__ = ["Desk"]


class Desk:
    """A job laid open: what a panel reads from, saves through, and is told about.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out.
    told : callable or None
        Called with no arguments after every change.

    Attributes
    ----------
    job : Job
        The job as it stands.
    """

    def __init__(self, job=None, told=None):
        self.job = current_job() if job is None else job
        self._told, self._editors = told, {}

    def save_settings(self, **changes):
        """Save settings of the job."""
        self._stand(save_settings(self.job, **changes))

    def save_table(self, name, rows):
        """Save one table and return its rows as they now stand."""
        self._stand(save_table(self.job, name, rows))
        return self.rows(name)

    def append_events(self, events):
        """Add acts to the log of leaks."""
        self._stand(append_events(self.job, events))

    def keep_copy(self, name, rows):
        """Keep rows as a file beside the table; return its path."""
        return keep_copy(self.job, name, rows)

    def reload(self):
        """Read the job from its folder again."""
        self._stand(open_job(self.job.folder))

    def open(self, job):
        """Lay another job open."""
        self._stand(job)

    def rows(self, name):
        """Return the rows of a table as {column name: value}."""
        return self.job.files[name].rows

    def offers(self, column):
        """Return the words that may be chosen in a column: names of the job, or of the catalogue."""
        found = []
        for place in column.offers:
            table, _, name = place.partition(".")
            found += (row.get(name) for row in self.rows(table)) if name else (
                one.key for one in components()
            )  # fmt: skip
        return tuple(dict.fromkeys(str(one) for one in found if one))

    def editor(self, name, columns=None):
        """Return the editor of a table of this job; the same one each time.

        Parameters
        ----------
        name : str
            Name of the table, such as "rooms".
        columns : iterable of str or None
            Columns to edit; None edits all.
        """
        if name not in self._editors:

            def read_again():
                self.reload()
                return self.rows(name)

            self._editors[name] = TableEditor(
                self.job.files[name].table,
                self.rows(name),
                save=lambda rows: self.save_table(name, rows),
                reload=read_again,
                keep=lambda rows: self.keep_copy(name, rows),
                columns=columns,
                offers=self.offers,
            )
        return self._editors[name]

    def close(self):
        """Close the editors, also those that are not on the page."""
        for editor in self._editors.values():
            editor.close()

    def _stand(self, job):
        self.job = job
        for name, editor in self._editors.items():
            editor.show(self.rows(name))
        if self._told:
            self._told()
