"""Count the pen lifts of an invented studio and say who owns them: ten minutes for apprentices."""

from pathlib import Path
from typing import NamedTuple

import ipywidgets as widgets

from airlab.panels.base import Panel
from airlab.panels.controls import choice
from airlab.plots.line_drawing import line_drawing
from airlab.plots.line_parts import mark_list
from airlab.teaching import Choice, Feedback, ask, check, exercise
from airlab.teaching.line_bank import line_case_views
from airlab.words import InputError

__all__ = ["Counted", "LiftCountPanel"]

_QUESTIONS = ("03-7", "03-8", "03-9", "03-10")
_STYLE = Path(__file__).with_name("line.css")
_AUTO = {"description_width": "initial"}


class Counted(NamedTuple):
    """How far the exercise is: questions answered right, tries, what was said last, lifts shown."""

    right: int = 0
    tries: int = 0
    said: Feedback | None = None
    shown: bool = False

    @property
    def question(self):
        """Key of the question; None when all are answered."""
        return _QUESTIONS[self.right] if self.right < len(_QUESTIONS) else None


class LiftCountPanel(Panel):
    """Count the lifts of a drawn line.

    Examples
    --------
    >>> from airlab.panels.line_count import LiftCountPanel
    >>> panel = LiftCountPanel()
    >>> panel.answer(4).sentence[:48]
    'Not yet. That is the whole house. One of them is'
    >>> panel.answer(3).sentence[:54]
    'Right. 3. At the front door, where the ceiling meets t'
    """

    title = "Count the pen lifts"
    lead = "Follow the bold line with a finger. Every gap is a lift: air gets out there."

    def __init__(self):
        self._past = [Counted()]
        views = line_case_views()
        drawing = choice("Drawing", [(v.name, v.key) for v in views.drawings], "section A")
        self._count = widgets.BoundedIntText(
            value=0, min=0, max=99, description="Lifts I count", style=_AUTO
        )
        self._owner = choice("Its owner", exercise("03-9").options)
        self._buttons_of_exercise = widgets.HBox(
            [self.button("Check", self.answer, main=True),
             self.button("Show the lifts", self.show_lifts)]
        ).add_class("airlab-steps-bar")  # fmt: skip
        super().__init__(openings={"drawing": drawing}, driver={"count": self._count, "owner": self._owner})  # fmt: skip
        style = widgets.HTML(f"<style>{_STYLE.read_text(encoding='utf-8')}</style>")
        self.children = (style, *self.children)

    def arrange(self, *extra):
        """Show what the question is answered with."""
        drawing, count, owner = self._in_sight
        state = self._past[-1]
        asked = state.question and exercise(state.question)
        answer = () if asked is None else (owner,) if isinstance(asked, Choice) else (count,)
        self._side.children = (drawing, *answer, self._buttons_of_exercise, self._buttons)
        check_it, show = self._buttons_of_exercise.children
        check_it.disabled, show.disabled = asked is None, state.shown

    # what a person does -------------------------------------------------------------------

    def answer(self, value=None):
        """Answer the question: a number, or an owner; without a value, what the controls say."""
        state = self._past[-1]
        if state.question is None:
            raise InputError("All questions are answered. Reset begins anew.")
        if value is None:
            control = self._owner if isinstance(exercise(state.question), Choice) else self._count
            value = control.value
        said = check(state.question, value)
        right = state.right + (said.state == "right")
        self._past.append(
            Counted(right, state.tries + 1, said, state.shown or right == len(_QUESTIONS))
        )
        self.refresh()
        return self

    def show_lifts(self):
        """Show every lift with number, shape and word."""
        self._past.append(self._past[-1]._replace(shown=True))
        self.refresh()
        return self

    def reset(self):
        """Begin anew."""
        self._past = [Counted()]
        return super().reset()

    # what is shown ------------------------------------------------------------------------

    def compute(self, **settings):
        """Return how far the exercise is."""
        return self._past[-1]

    def show(self, record, **settings):
        """Show the record and what the question is answered with."""
        self.arrange()
        super().show(record, **settings)

    def picture(self, record, drawing, **settings):
        """Return the drawing, gaps alone until they are shown; owners once they are asked for."""
        views = line_case_views()
        view = next(one for one in views.drawings if one.key == drawing)
        beside = mark_list(view.marks) if record.right >= 2 or record.shown else ""
        return f'<div class="airlab-line">{line_drawing(view, marked=record.shown)}{beside}</div>'

    def words(self, record, **settings):
        """Return what was said and what is asked."""
        said = ""
        if record.said:
            said = f"{record.said.state.capitalize()}. {record.said.sentence} "
        if record.question is None:
            return f"{said}Done in {record.tries} tries. Now draw the line of your own house."
        return f"{said}{ask(record.question)}"
