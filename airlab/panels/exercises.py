"""Every exercise of a notebook, one at a time: the question, an answer, what is said to it."""

from html import escape

import ipywidgets as widgets

from airlab.panels.controls import choice
from airlab.panels.predict import StepPanel
from airlab.teaching import Choice, Numeric, ask, check, exercises_for
from airlab.words import InputError, label

__all__ = ["ExercisesPanel"]

_SHORT = 46
_MARKS = {"right": "✓ right", "close": "close", "not yet": "not yet"}


class ExercisesPanel(StepPanel):
    """The exercises of a notebook, with a hint for each usual slip.

    Examples
    --------
    >>> from airlab.panels import ExercisesPanel
    >>> ExercisesPanel("01").answer("01-1", 30).sentence
    'Not yet. That halves the time. Area goes with the diameter squared.'
    """

    title = "Exercises"

    def __init__(self, notebook, units="metric"):
        self._all = {entry.key: entry for entry in exercises_for(notebook)}
        if not self._all:
            raise InputError(f"Notebook {notebook!r} has no exercises.")
        self._said, self._done = None, {}
        self.box = widgets.Text(
            description="Your answer", style={"description_width": "initial"},
            continuous_update=False,
        )  # fmt: skip
        self.options = choice("Your answer", ["-"])
        self._check = self.button("Check answer", self._check_it, main=True)
        self._next = self.button("Next question", self._go_on)
        self._row = widgets.HBox([self._check, self._next]).add_class("airlab-buttons")
        listed = [(f"{key} {_short(entry.question)}", key) for key, entry in self._all.items()]
        self.which = choice("Question", listed, as_list=True)
        self.which.observe(self._asked, "value")  # before the panel itself looks
        super().__init__(view={"which": self.which}, units=units)

    def arrange(self, *extra):
        """Offer a box for a number, or the options of a choice."""
        entry = self._all[self.which.value]
        if isinstance(entry, Choice):
            self.options.options = entry.options
            self.options.value = None
        unit = label(entry.unit) if isinstance(entry, Numeric) else ""
        self.box.description = f"Your answer [{unit}]" if unit else "Your answer"
        self.options.layout.display = None if isinstance(entry, Choice) else "none"
        self.box.layout.display = "none" if isinstance(entry, Choice) else None
        super().arrange(self.options, self.box, self._row, *extra)

    def answer(self, key, answer):
        """Answer an exercise and return the panel."""
        if key not in self._all:
            raise InputError(
                f"There is no exercise {key!r} here. There are: {', '.join(self._all)}."
            )
        self.which.value = key
        self._said = check(key, answer)
        self._done[key] = self._said.state
        self.refresh()
        return self

    def compute(self, which):
        """Return what was said to the last answer, or None."""
        return self._said

    def picture(self, record, which):
        """Return the question, and how far the others are."""
        states = "".join(
            f"<div><b>{escape(key)}</b> <span>{_MARKS.get(self._done.get(key), 'open')}</span></div>"
            for key in self._all
        )
        entry = self._all[which]
        asked = entry.question if isinstance(entry, Choice) else ask(which)
        return (
            f'<p class="airlab-asked">{escape(asked)}</p><div class="airlab-tiles">{states}</div>'
        )

    def words(self, record, which):
        """Return what is said to the answer."""
        if record is None:
            return "Give your answer, then press Check answer."
        state = record.state[:1].upper() + record.state[1:]
        return f"{state}. {record.sentence}"

    def _asked(self, _change):
        self._said, self.box.value = None, ""
        self.arrange()

    def _check_it(self):
        entry = self._all[self.which.value]
        given = self.options.value if isinstance(entry, Choice) else self.box.value.strip()
        if not given:
            raise InputError("Give an answer first.")
        self.answer(entry.key, given.replace(",", ".") if isinstance(entry, Numeric) else given)

    def _go_on(self):
        keys = [*self._all]
        self.which.value = keys[(keys.index(self.which.value) + 1) % len(keys)]


def _short(question):
    return question if len(question) <= _SHORT else f"{question[:_SHORT].rsplit(' ', 1)[0]} …"
