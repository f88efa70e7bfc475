"""A job laid open with a way back; one that may only be read is changed here and nowhere else."""

from dataclasses import replace
from types import MappingProxyType

from airlab.files.job import records, settled
from airlab.files.settings import BY_ENTRY, changed
from airlab.panels.desk import Desk

__all__ = ["Workbench"]


class Workbench(Desk):
    """A desk that remembers each change, and on which the demo may be tried out.

    Attributes
    ----------
    trial : bool
        Whether changes are tried and not saved: the job may only be read.
    past : list
        What can be taken back, oldest first.
    """

    def __init__(self, job=None, told=None):
        self.past = []
        super().__init__(job, told)

    @property
    def trial(self):
        """Whether changes are tried here and not saved."""
        return bool(self.job.read_only)

    def save_settings(self, **changes):
        """Save settings of the job, or try them."""
        before = self._before(changes)
        self._settings(changes)
        if (
            not self.past
            or self.past[-1][0] != "settings"
            or _entries(self.past[-1][1]) != _entries(before)
        ):
            self.past.append(("settings", before))

    def save_table(self, name, rows):
        """Save one table, or try it; return its rows as they now stand."""
        before = self.rows(name)
        now = self._table(name, rows)
        self.past.append((name, before))
        return now

    def changed(self, changes):
        """Return the settings of the job with changes put in, saving nothing."""
        return changed(self.job.settings, changes)

    def undo(self):
        """Take back the last change; return what it was about, nothing if there is none."""
        if not self.past:
            return ""
        what, before = self.past[-1]
        self._settings(before) if what == "settings" else self._table(what, before)
        self.past.pop()
        return what

    def reload(self):
        """Read the job from its folder again."""
        self.past.clear()
        super().reload()

    def _settings(self, changes):
        if not self.trial:
            return super().save_settings(**changes)
        return self._stand(replace(self.job, **settled(self.changed(changes))))

    def _table(self, name, rows):
        if not self.trial:
            return super().save_table(name, rows)
        found = self.job.files[name]
        now = replace(found, rows=tuple(dict(row) for row in rows))
        files = MappingProxyType({**self.job.files, name: now})
        self._stand(replace(self.job, **{name: records(now)}, files=files))
        return now.rows

    def _before(self, changes):
        """Return what puts these settings back."""
        settings = self.job.settings
        return {
            key: {entry: settings[key].get(entry) for entry in value}
            if key in BY_ENTRY and isinstance(value, dict)
            else settings[key]
            for key, value in changes.items()
        }


def _entries(changes):
    """Return which settings, and which entries of them, a change is about."""
    return {
        (key, entry)
        for key, value in changes.items()
        for entry in (value if key in BY_ENTRY and isinstance(value, dict) else (None,))
    }
