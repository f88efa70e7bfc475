"""Every exercise of a notebook, one at a time: the question, an answer, what is said to it."""

from html import escape
from time import monotonic

import ipywidgets as widgets

from airlab.files.marks import Marks
from airlab.panels.controls import choice, tick
from airlab.panels.predict import StepPanel
from airlab.plots.line_drawing import line_drawing
from airlab.teaching import (
    Choice,
    Justify,
    Mark,
    Numeric,
    Ordering,
    exercises_for,
    judge,
    variants_for,
)
from airlab.words import InputError, label, us_worth

__all__ = ["ExercisesPanel"]

_SHORT, _FEW, _KEYS = 46, 12, 12
_STATES = {
    "right": "✓ right",
    "close": "close",
    "not yet": "not yet",
    "right number, wrong unit": "wrong unit",
}
_BOX = {
    Ordering: "Your order, first letter first",
    Mark: "Your numbers",
}


class ExercisesPanel(StepPanel):
    """The exercises of a notebook, with a hint for each usual slip.

    Parameters
    ----------
    notebook : str
        Its two digits.
    units : str
        'metric' or 'us'.
    seed : int
        The learner's number, for numbers of their own; 0 for those of the book.
    marks : Marks or None
        Keeps each try; None keeps them under the learner's number once that is ticked.

    Examples
    --------
    >>> from airlab.panels import ExercisesPanel
    >>> ExercisesPanel("01").answer("01-1", 30).sentence
    'Not yet. That halves the time. Area goes with the diameter squared.'
    """

    title = "Exercises"

    def __init__(self, notebook, units="metric", seed=0, marks=None):
        self._notebook, self._all = (
            notebook,
            {entry.key: entry for entry in exercises_for(notebook)},
        )
        if not self._all:
            raise InputError(f"Notebook {notebook!r} has no exercises.")
        self._said, self._done, self._marks, self._since = None, {}, marks, monotonic()
        self._kept = ""
        auto = {"description_width": "initial"}
        self.box = widgets.Text(description="Your answer", style=auto, continuous_update=False)
        self.options = choice("Your answer", ["-"]).add_class("airlab-long")
        self.grounds = choice("Because", ["-"]).add_class("airlab-long")
        self._keys = [self.button(str(i), lambda i=i: self._press(i)) for i in range(_KEYS)]
        self._pad = widgets.HBox([*self._keys, self.button("Clear", self._clear)]).add_class(
            "airlab-buttons"
        )
        self._check = self.button("Check answer", self._check_it, main=True)
        self._next = self.button("Next question", self._go_on)
        self._row = widgets.HBox([self._check, self._next]).add_class("airlab-buttons")
        self.seed = widgets.BoundedIntText(
            value=seed,
            min=0,
            max=999_999,
            description="Your number (0: as in the book)",
            style=auto,
        )
        self.keep = tick("Keep my tries under my number", marks is not None)
        self.reason = widgets.Text(description="Why (kept with it)", style=auto)
        self.keep.observe(lambda _: _show(self.reason, self.keep.value), "value")
        _show(self.reason, self.keep.value)
        listed = [(f"{key} {_short(entry.question)}", key) for key, entry in self._all.items()]
        self.which = choice("Question", listed, as_list=True)
        self.which.observe(self._asked, "value")  # before the panel itself looks
        self.seed.observe(self._drawn, "value")
        self._drawn()
        super().__init__(view={"which": self.which, "seed": self.seed}, units=units)

    @property
    def exercise(self):
        """The exercise on show."""
        return self._all[self.which.value]

    def arrange(self, *extra):
        """Offer what the exercise needs: a box, options, reasons, letters or numbers to press."""
        entry, parts = self.exercise, self.exercise.parts()
        if isinstance(entry, Choice | Justify):
            self.options.options, self.options.value = entry.options, None
        if isinstance(entry, Justify):
            self.grounds.options, self.grounds.value = entry.grounds, None
        unit = label(entry.unit) if isinstance(entry, Numeric) else ""
        self.options.description = "Your decision" if isinstance(entry, Justify) else "Your answer"
        self.box.description = _BOX.get(
            type(entry), f"Your answer [{unit}]" if unit else "Your answer"
        )
        pressed = (
            parts
            if isinstance(entry, Ordering)
            else entry.places()
            if isinstance(entry, Mark)
            else ()
        )
        for button, text in zip(self._keys, [*map(str, sorted(pressed)), *[""] * _KEYS]):
            button.description = text
            _show(button, text)
        _show(self.options, isinstance(entry, Choice | Justify))
        _show(self.grounds, isinstance(entry, Justify))
        _show(self.box, not isinstance(entry, Choice | Justify))
        _show(self._pad, pressed)
        keep = (self.reason, self._row, self.keep)
        super().arrange(self.options, self.grounds, self.box, self._pad, *keep, *extra)

    def answer(self, key, answer):
        """Answer an exercise and return the panel."""
        if key not in self._all:
            raise InputError(
                f"There is no exercise {key!r} here. There are: {', '.join(self._all)}."
            )
        self.which.value = key
        self._said = judge(self.exercise, answer)
        self._done[key] = self._said.state
        self.refresh()
        if self.keep.value:
            self._keep_try(answer)
            self._recall()
        return self

    def compute(self, which, seed):
        """Return what was said to the last answer, or None."""
        return self._said

    def picture(self, record, which, seed):
        """Return the question, what belongs to it, and how far the others are."""
        entry = self._all[which]
        shown = f'<p class="airlab-asked">{escape(entry.question)}</p>'
        if self.units == "us":
            unit = label(getattr(entry, "unit", ""))
            shown += f'<p class="airlab-small">{escape(us_worth(f"{entry.question} 1 {unit}"))}</p>'
        if isinstance(entry, Mark):
            shown += f'<div class="airlab-row">{line_drawing(entry.view(), marked=entry.told_names)}</div>'
        if isinstance(entry, Ordering):
            steps = "".join(f"<li>{escape(text)}</li>" for text in entry.parts().values())
            shown += f'<ol class="airlab-steps">{steps}</ol>'
        return shown + self._far()

    def words(self, record, which, seed):
        """Return what is said to the answer."""
        if record is None:
            return f"Give your answer, then press Check answer.{self._kept}"
        state = record.state[:1].upper() + record.state[1:]
        return f"{state}. {record.sentence}"

    def _far(self):
        """Return how far the exercises are: each of a few, the count and those tried of many."""
        if len(self._all) <= _FEW:
            tiles = "".join(
                f"<div><b>{escape(key)}</b> <span>{_STATES.get(self._done.get(key), 'open')}</span></div>"
                for key in self._all
            )
            return f'<div class="airlab-tiles">{tiles}</div>'
        tried = ", ".join(f"{key} {_STATES.get(state, state)}" for key, state in self._done.items())
        right = sum(state == "right" for state in self._done.values())
        return f"<p>{right} of {len(self._all)} right{f': {tried}' if tried else ''}.</p>"

    def _asked(self, _change):
        self._said, self.box.value, self._since = None, "", monotonic()
        self.arrange()

    def _drawn(self, change=None):
        """Take the exercises of the learner's number."""
        seed = self.seed.value
        if seed:
            self._all = dict(zip(self._all, variants_for(self._notebook, seed, whole=True)))
        elif change:
            self._all = {entry.key: entry for entry in exercises_for(self._notebook)}
        self._done, self._kept = {}, ""
        self._recall()
        if change:
            self._asked(change)

    def _recall(self):
        """Fill the tiles from what is kept under the number, and go on keeping."""
        marks = self._marks or (Marks(self.seed.value) if self.seed.value else None)
        if marks is None or not marks.path.exists():
            return
        self.keep.value = True
        try:
            tried = {entry.key: key for key, entry in self._all.items()}
            kept = [one for one in marks.marks() if one.exercise in tried]
        except InputError as error:
            self._kept = f" {error}"
            return
        self._done |= {tried[one.exercise]: one.state for one in kept}
        tries = "try" if len(kept) == 1 else "tries"
        self._kept = f" {len(kept)} {tries} of this notebook kept under {marks.learner}."

    def _keep_try(self, answer):
        """Keep the try with its reason and the time since the question or the last try."""
        if self._marks is None and not self.seed.value:
            raise InputError("Not kept: type your number first. A name is not needed.")
        marks = self._marks or Marks(self.seed.value)
        given = " ".join(answer) if isinstance(answer, tuple) else answer
        marks.keep(self._said, given, self.reason.value, monotonic() - self._since)
        self.reason.value, self._since = "", monotonic()

    def _press(self, place):
        gap = " " if self.box.value and isinstance(self.exercise, Mark) else ""
        self.box.value += gap + self._keys[place].description

    def _clear(self):
        self.box.value = ""

    def _check_it(self):
        entry = self.exercise
        given = self.box.value.strip()
        if isinstance(entry, Choice):
            given = self.options.value
        elif isinstance(entry, Justify):
            given = (
                self.options.value
                and self.grounds.value
                and (self.options.value, self.grounds.value)
            )
        if not given:
            both = "a decision and a reason" if isinstance(entry, Justify) else "an answer"
            raise InputError(f"Give {both} first.")
        self.answer(self.which.value, given)

    def _go_on(self):
        keys = [*self._all]
        self.which.value = keys[(keys.index(self.which.value) + 1) % len(keys)]


def _show(widget, wanted):
    widget.layout.display = None if wanted else "none"


def _short(question):
    return question if len(question) <= _SHORT else f"{question[:_SHORT].rsplit(' ', 1)[0]} …"
