"""A class for tomorrow: choose a lesson, its length, how many; print plan, hand-outs and key."""

import ipywidgets as widgets

from airlab.files import demo_job
from airlab.files.marks import class_folder, last_class, remember_class
from airlab.panels.card import CardPanel
from airlab.panels.controls import choice
from airlab.panels.printed import printed_link
from airlab.plots.board import lesson_card
from airlab.sheets import match_sheet, print_class, write_pages
from airlab.sheets.facts import facts_of
from airlab.sheets.lesson import lesson_page
from airlab.sheets.lessons_class import student_seed
from airlab.teaching import exercises_for
from airlab.teaching.lessons import DAY, LENGTHS, lesson_keys, lesson_plan
from airlab.words import InputError

__all__ = ["TeachPanel"]

_AUTO = {"description_width": "initial"}


class TeachPanel(CardPanel):
    """Plan a lesson and print what a class needs.

    Parameters
    ----------
    job : Job or None
        The house that is spoken of; None is the demo house.

    Examples
    --------
    >>> from airlab.panels.teach import TeachPanel
    >>> TeachPanel().set(lesson="01", length=60).sentence[:38]
    'The balloon: 60 minutes in 8 steps. Th'
    """

    title = "Teach it"
    lead = "Students are numbers. Their own exercises come from class seed and number, the same on every machine."

    def __init__(self, job=None, units="metric"):
        self._job = job or demo_job()
        self._last, self._said, self._links = last_class(), "", ""
        lessons = [
            (
                f"{key} {lesson_plan(key, _lengths(key)[0]).title}"
                if key.isdigit()
                else f"Path: {key}",
                key,
            )
            for key in lesson_keys()
        ]
        known = self._last.lesson if self._last.lesson in lesson_keys() else "01"
        self.lesson = choice("Lesson", lessons, known, as_list=True)
        self.length = choice("Length", _named(known), as_list=True)
        if self._last.minutes in _lengths(known):
            self.length.value = self._last.minutes
        self.students = _count("Students", self._last.students, 99)
        self.seed = _count("Class seed", self._last.seed, 9999)
        self.student = _count("Number on a sheet", student_seed(self.seed.value, 1), 999_999)
        self.mark = widgets.Text(description="Its check mark", continuous_update=False, style=_AUTO)
        self._print = self.button("Print plan, hand-outs, key", self.print_all, main=True)
        self._ask = self.button("Whose sheet is it?", self.whose)
        self.seed.observe(self._another_class, "value")
        self.lesson.observe(self._lengthen, "value")  # before the panel itself looks
        super().__init__(
            building={"lesson": self.lesson, "length": self.length},
            driver={"students": self.students, "seed": self.seed}, units=units,
        )  # fmt: skip
        self._view.children = (self._message, self._result, self._picture)
        if self._last.when:
            self._said = f"{self._last.sentence()} Carry on, or choose another lesson."
            self._act(self.refresh)

    # what a person does -------------------------------------------------------------------

    def print_all(self):
        """Write lesson plan, hand-outs and key, and show where they are.

        Returns
        -------
        tuple of Path
            The plan, then hand-outs and key of each notebook of the lesson that has exercises.
        """
        self._result.value = '<p role="status">Printing the pages …</p>'
        plan, seed, folder = self.value, self.seed.value, class_folder() / "pages"
        page = lesson_page(facts_of(self._job), plan.key, plan.length)
        made = [("Open the plan", write_pages([page], folder / "teacher", f"plan-{plan.key}-{plan.length}",
                                              singles=False, title="Lesson plan").pack)]  # fmt: skip
        for notebook in (one for one in plan.notebooks if exercises_for(one)):
            sheets = print_class(notebook, self.students.value, seed, folder, self._job)
            made += [
                (f"Hand-outs {notebook}", sheets.handouts.pack),
                (f"Key {notebook}", sheets.key.pack),
            ]
        self._last = remember_class(
            lesson=plan.key, minutes=plan.length, students=self.students.value, seed=seed
        )
        self._links = "".join(f"<div>{printed_link(path, words)}</div>" for words, path in made)
        self._said = (
            f"Printed for {self.students.value} students, class seed {seed}: folder students to give away, "
            f"folder teacher for you. Every sheet says its number, {student_seed(seed, 1)}, {student_seed(seed, 2)} "
            "and so on: learners type it wherever a panel asks for one."
        )
        self.refresh()
        return tuple(path for _, path in made)

    def whose(self, student=None, mark=None):
        """Say whose sheet bears a check mark."""
        if student is not None:
            self.student.value = student
        if mark is not None:
            self.mark.value = mark
        if not self.mark.value.strip():
            raise InputError("Type the check mark that is printed on the sheet.")
        found = match_sheet(self.seed.value, self.student.value, self.mark.value)
        self._said = found.sentence()
        self.refresh()
        return found

    # what is shown ------------------------------------------------------------------------

    def arrange(self, *extra):
        """Put the sheet that came back below what is printed."""
        self._more_box.children = (self.student, self.mark, self._ask)
        self._more.description = "A sheet came back"
        super().arrange(self._print, *extra)

    def compute(self, lesson, length, students, seed):
        """Return the plan of the lesson."""
        return lesson_plan(lesson, length)

    def picture(self, record, **settings):
        """Return where the pages are, and the minutes of the lesson."""
        links = (
            f'<div class="airlab-tiles" style="margin-bottom:8px">{self._links}</div>'
            if self._links
            else ""
        )
        return f"{links}{lesson_card(record)}"

    def words(self, record, **settings):
        """Return what was done last, or the lesson in words."""
        return self._said or record.sentence(self.units)

    # workings -----------------------------------------------------------------------------

    def _lengthen(self, change):
        with self._held_back():
            kept = self.length.value
            self.length.options = _named(change.new)
            if kept in _lengths(change.new):
                self.length.value = kept

    def _another_class(self, change):
        self.student.value = student_seed(change.new, 1)

    def _changed(self, change):
        """Forget what was printed: it is no longer of what is shown."""
        self._said = self._links = ""
        super()._changed(change)


def _count(name, value, most):
    return widgets.BoundedIntText(value=value, min=1, max=most, description=name, style=_AUTO)


def _lengths(key):
    """Return the lengths a lesson is written for."""
    found = []
    for length in LENGTHS:
        try:
            lesson_plan(key, length)
        except InputError:
            continue
        found.append(length)
    return found


def _named(key):
    return [("practical day" if one == DAY else f"{one} minutes", one) for one in _lengths(key)]
