"""Which house is open? Start one of your own, or open another."""

from html import escape

import ipywidgets as widgets

from airlab.files import current_job, jobs_folder, list_jobs, save_settings, start_job, switch_job
from airlab.files.places import remember_open
from airlab.panels.card import CardPanel
from airlab.panels.controls import choice

__all__ = ["JobPanel"]

_LIKE = (("a copy of the demo, to change room by room", "demo"), ("empty tables", "empty"))
_AUTO = {"description_width": "initial"}
_DEMO = ("the demo house", "")


class JobPanel(CardPanel):
    """Choose the job that every notebook works on.

    Examples
    --------
    >>> from airlab.panels.job_chooser import JobPanel
    >>> JobPanel().sentence.startswith("Open: ")
    True
    """

    title = "Which house is open?"

    def __init__(self):
        self._pick = widgets.Dropdown(options=_houses(), description="Houses here", style=_AUTO)
        name = widgets.Text(
            "", description="Name of my house", placeholder="12 Hill Road", style=_AUTO
        )
        self._open = self.button("Open this house", self.open_house)
        self._start = self.button("Start my own house", self.start, main=True)
        self._mine = self.button("The numbers are mine now", self.own)
        super().__init__(
            building={"name": name, "like": choice("Begin with", _LIKE)}, view={"house": self._pick}
        )

    def arrange(self, *extra):
        """Put each button under what it acts on."""
        name, like, house = self._in_sight
        self._side.children = (name, like, self._start, house, self._open, self._mine)

    # what a person does -------------------------------------------------------------------

    def start(self, name=None, like=None):
        """Start a house of one's own and open it; returns the job."""
        name = self.controls["name"].value if name is None else name
        job = start_job(name, like or self.controls["like"].value)
        self._list()
        return job

    def open_house(self, folder=None):
        """Open the house of that folder name; the demo for an empty name."""
        folder = self._pick.value if folder is None else folder
        if folder:
            switch_job(folder)
        else:
            remember_open("")
        self._list()

    def own(self):
        """Say that the open house is no longer invented: its numbers are one's own."""
        save_settings(current_job(), invented=False)
        self._list()

    # what is shown ------------------------------------------------------------------------

    def compute(self, **settings):
        """Return the open job."""
        return current_job()

    def picture(self, record, **settings):
        """Return what the open house holds."""
        tables = "".join(
            f"<div><b>{len(file.rows)}</b> <span>{escape(name.replace('_', ' '))}</span></div>"
            for name, file in record.files.items()
            if file.rows
        )
        about = "".join(
            f"<p>{escape(words)}</p>" for words in (record.place, record.about) if words
        )
        return (
            f'<p class="airlab-title">{escape(record.name)}{_marks(record)}</p>{about}'
            f'<div class="airlab-tiles">{tables}</div>{_troubles()}'
        )

    def words(self, record, **settings):
        """Return which house is open and what to do next."""
        start = f"Open: {record.name or record.folder.name}. "
        if record.read_only:
            return start + record.read_only
        where = f"It is kept in {record.folder.name}, in the folder {jobs_folder().name}. "
        if record.invented:
            where += "Its numbers are still those of the invented demo. "
        return f"{start}{where}Every notebook works on it; run their cells again."

    def _list(self):
        with self._held_back():
            self._pick.options = _houses()
            self._pick.value = next((one.folder for one in list_jobs() if one.is_open), "")
        self.refresh()


def _houses():
    return (_DEMO, *((f"{one.name} ({one.folder})", one.folder) for one in list_jobs()))


def _marks(job):
    marks = ["invented"] if job.invented else []
    marks += [] if job.rooms else ["ROUGH: no rooms yet"]
    return "".join(f' <span class="airlab-mark">{mark}</span>' for mark in marks)


def _troubles():
    """Return what is wrong with jobs that cannot be opened."""
    lines = [
        f"<li>{escape(one.folder)}: {escape(one.trouble)}</li>"
        for one in list_jobs()
        if one.trouble
    ]
    return f"<ul>{''.join(lines)}</ul>" if lines else ""
