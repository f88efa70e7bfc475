"""What if somebody else saved the same table meanwhile? Nothing typed is lost: two ways out."""

from airlab.files import FileChanged
from airlab.panels.desk import Desk

__all__ = ["DayDesk"]


class DayDesk(Desk):
    """A desk that keeps a change that could not be saved, to be made again or kept as a copy.

    Attributes
    ----------
    waiting : callable or None
        Makes the change again on the job as it then stands.
    keepable : bool
        Whether it can be kept as a copy beside the table.
    """

    waiting, _rows = None, None

    @property
    def keepable(self):
        """Whether what waits is rows of a table."""
        return self._rows is not None

    def change_table(self, name, change):
        """Save a table changed by `change(records) -> records`."""

        def save():
            self._rows = name, change(getattr(self.job, name))
            self.save_table(*self._rows)

        self._try(save)

    def change_settings(self, **changes):
        """Save settings of the job."""
        self._rows = None
        self._try(lambda: self.save_settings(**changes))

    def add_to(self, setting, entry):
        """Add an entry to a list among the settings, beside what others added meanwhile."""
        try:
            self.save_settings(**{setting: [*getattr(self.job, setting), entry]})
        except FileChanged:
            self.reload()
            self.save_settings(**{setting: [*getattr(self.job, setting), entry]})

    def make_again(self):
        """Read the job again and make the change that waits; return what was done."""
        self.reload()
        self._try(self.waiting)
        return "Read again. What others saved stands, and yours beside it."

    def keep_mine(self):
        """Keep the rows that wait beside the table; return where."""
        path = self.keep_copy(*self._rows)
        self.waiting = self._rows = None
        self.reload()
        return f"Your rows are kept in {path.name}, beside the table; the table was read again."

    def _try(self, save):
        self.waiting = save
        try:
            save()
        except FileChanged:
            raise
        except Exception:
            self.waiting = self._rows = None
            raise
        self.waiting = self._rows = None
