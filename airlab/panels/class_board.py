"""The class on one screen: its files collected, guesses against results, slips, hunt, open tasks."""

import ipywidgets as widgets

from airlab.files.marks import (
    Marks,
    class_folder,
    demo_class,
    export_class,
    last_class,
    read_class,
    remember_class,
)
from airlab.panels.card import CardPanel
from airlab.panels.controls import choice
from airlab.panels.printed import printed_link
from airlab.plots.board import (
    hunts_page,
    learners_table,
    predictions_drawing,
    rubric_table,
    skipped_list,
    slips_table,
)
from airlab.teaching.marks import RUBRICS, grade
from airlab.teaching.outcomes import OUTCOMES
from airlab.words import InputError

__all__ = ["VIEWS", "ClassBoardPanel"]

VIEWS = (
    ("Guess and result", "guesses"), ("Slips alive", "slips"), ("Leak hunt", "hunt"),
    ("Who is where", "learners"), ("Open task", "task"),
)  # fmt: skip
_PICTURES = {
    "guesses": predictions_drawing,
    "slips": slips_table,
    "hunt": hunts_page,
    "learners": learners_table,
}
_LOOK = (  # five views in one row, tables that leave the sentence in sight
    ".airlab-class .airlab-doors .widget-radio-box label { flex: 1 1 150px; min-height: var(--airlab-touch); font-size: 1em; }"
    " .airlab-class .airlab-card table { font-size: 0.87em; }"
    " .airlab-class .airlab-controls > .widget-text { flex-flow: row wrap; }"
    " .airlab-class:not(.airlab-projector) .airlab-card .airlab-scroll { max-height: 365px; }"
    " .airlab-class:not(.airlab-projector) .airlab-half .airlab-scroll { max-height: 190px; }"
)
_AUTO = {"description_width": "initial"}


class ClassBoardPanel(CardPanel):
    """The board of a class.

    Parameters
    ----------
    folder : path or None
        Where the class's files lie; None takes the class's own folder, or the invented class while
        that is empty.
    view : str
        "guesses", "slips", "hunt", "learners" or "task"; empty takes the one that was on show last.

    Examples
    --------
    >>> from airlab.files.marks import demo_class
    >>> from airlab.panels.class_board import ClassBoardPanel
    >>> ClassBoardPanel(demo_class(), "slips").sentence[:44]
    '13 files read, 1 left out: marks-9.csv. 12 l'
    """

    title = "The class"
    lead = "From the files of the learners. No names; nothing leaves this machine."

    def __init__(self, folder=None, view="", units="metric"):
        last = last_class().view
        known = [key for _, key in VIEWS]
        start = view or (last if last in known else "guesses")
        self.view = choice("Show", VIEWS, start).add_class("airlab-doors")
        self.folder = widgets.Text(
            value="" if folder is None else str(folder), description="Folder with the files",
            placeholder="the class's own", continuous_update=False, style=_AUTO,
        )  # fmt: skip
        tasks = [(f"{task} {OUTCOMES[task]}", task) for task in RUBRICS]
        self.task = choice("Open task", tasks, as_list=True)
        self.learner = widgets.Text(description="Learner's number", style=_AUTO)
        self.points = widgets.Text(description="Points, from the top", placeholder="five digits, 0 to 2",
                                   style=_AUTO)  # fmt: skip
        self._found, self._said, self._invented, self._link = None, "", "", ""
        read = self.button("Read the files", self.read, main=True)
        self._rows = [
            widgets.HBox(buttons).add_class("airlab-buttons")
            for buttons in (
                [read, self.button("Export one table", self.export)],
                [self.button("Keep the points", self.keep_points, main=True)],
            )
        ]
        super().__init__(view={"view": self.view}, units=units)
        self.add_class("airlab-class")
        head, body = self.children
        self.children = (head, self.view, body)
        self._view.children = (self._message, self._result, self._picture)
        self.folder.observe(lambda _: self._act(self.read), "value")
        for control in (self.task, self.points):
            control.observe(self._changed, "value")
        self._act(self.read)

    # what a person does -------------------------------------------------------------------

    def read(self, folder=None):
        """Read the files of a class again and show them."""
        if folder is not None:
            with self._held_back():
                self.folder.value = str(folder)
        named = self.folder.value.strip()
        self._said = self._invented = self._link = ""
        own = class_folder()
        self._found = read_class(named or None) if named or own.is_dir() else None
        if not named and not (self._found and self._found.read):
            self._found = read_class(demo_class())
            self._invented = "Your class has no files here yet; this class is invented. "
        self.refresh()
        return self

    def show_view(self, view):
        """Turn to "guesses", "slips", "hunt", "learners" or "task"."""
        return self.set(view=view)

    def export(self):
        """Write one table with every attempt, and show where it lies."""
        path = export_class(self._found)
        self._link = printed_link(path, "Open the table")
        self._said = f"Written: {path.name}, {len(self._found.marks)} rows. "
        self.refresh()
        return path

    def keep_points(self, learner=None, task=None, points=None):
        """Keep a learner's points for an open task."""
        with self._held_back():
            if task is not None:
                self.task.value = task
            if learner is not None:
                self.learner.value = str(learner)
            if points is not None:
                self.points.value = " ".join(map(str, points))
        kept = Marks(self.learner.value).keep_grade(grade(self.task.value, *self._given()))
        with self._held_back():
            self.learner.value = self.points.value = ""
        self.read()
        self._said = f"Kept. {kept.sentence()} "
        self.refresh()
        return kept

    # what is shown ------------------------------------------------------------------------

    def _head_html(self):
        return f"{super()._head_html()}<style>{_LOOK}</style>"

    def arrange(self, *extra):
        """Lay out the folder, or the criteria of the open task."""
        export, keep = self._rows
        bench = (self.folder, export)
        if self.view.value == "task":
            bench = (self.task, self.learner, self.points, keep)
        self._side.children = (*bench, *extra, self._buttons)

    def compute(self, view):
        """Return what was collected, as one record; None before the first reading."""
        return self._found and self._found.board()

    def refresh(self):
        """Lay the bench, keep which view is on, and show."""
        self.arrange()
        super().refresh()

    def picture(self, record, view):
        """Return the picture of the view, and below it the files that were left out."""
        if record is None:
            return ""
        if view == "task":
            return rubric_table(RUBRICS[self.task.value], self._given())
        return f'<div class="airlab-dots">{_PICTURES[view](record)}</div>{self._link}{skipped_list(self._found)}'

    def words(self, record, view):
        """Return the class in words, for the view."""
        if record is None:
            return "Reading."
        if view == "task":
            return self._said.strip() or self._told()
        about = record.sentence(self.units)
        if view == "hunt" and record.hunts:
            about = " ".join(one.sentence(self.units) for one in record.hunts)
        if view == "guesses" and record.predictions:
            worst = min(record.predictions, key=lambda one: one.near / len(one.ratios))
            about = f"{record.count()} Fewest hits: {worst.sentence(self.units)}"
        return f"{self._said}{self._invented}{self._found.sentence()} {about}"

    # workings -----------------------------------------------------------------------------

    def _given(self):
        """Return the points that are typed so far."""
        typed = self.points.value.replace(",", " ").replace(" ", "")
        if set(typed) - set("012"):
            raise InputError(
                f"The points are {self.points.value[:20]!r}. Type 0, 1 or 2 for each row, from the top."
            )
        return tuple(map(int, typed))

    def _told(self):
        """Return the points in words, or what is still to be typed."""
        given, criteria = self._given(), RUBRICS[self.task.value]
        if len(given) < len(criteria):
            return f"Type {len(criteria)} points, 0 to 2 each, from the top. Next: {criteria[len(given)].name}."
        return grade(self.task.value, *given).sentence()

    def _changed(self, change):
        self._said = "" if not self._held else self._said
        super()._changed(change)
        if change.owner is self.view and class_folder().is_dir():
            self._act(lambda: remember_class(view=self.view.value))
