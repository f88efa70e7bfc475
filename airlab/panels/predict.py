"""What do you think will happen? The part of a panel that asks first, then runs a clock.

The answer is locked, alone or by hands up in class; the clock runs; what was seen is written
down; then it is explained. A teacher may skip. The controls follow the step.
"""

from pathlib import Path

import ipywidgets as widgets

from airlab.files.marks import Marks
from airlab.panels.base import Panel
from airlab.teaching import Attempt
from airlab.words import InputError

__all__ = ["LAST_FRAME", "TICK", "PredictPanel", "StepPanel", "step_style"]

LAST_FRAME = 200
_INTERVAL, TICK = 50, 0.05  # the time between two pictures in ms and in s
_STYLE = Path(__file__).with_name("predict.css")


def step_style():
    """Return the style of steps, kits of holes and comparisons, as HTML."""
    return f"<style>{_STYLE.read_text(encoding='utf-8')}</style>"


class StepPanel(Panel):
    """A panel with the style of steps."""

    def __init__(self, **groups):
        super().__init__(**groups)
        self.add_class("airlab-asks")

    def _head_html(self):
        return f"{super()._head_html()}{step_style()}"


class PredictPanel(StepPanel):
    """Base of panels that ask first.

    A subclass sets `options` (pairs of value and words) and `run_words` (what starts the clock),
    and writes `look` (controls in which people say what they saw) and `seen` (their words). It
    reads `stage`, `frame` and `attempt` when it makes picture and words. With `asks` and `outcome`
    a guess is kept for the class, under the number a learner types.
    """

    options = ()
    run_words = "Run"
    asks = ""  # what is guessed, as the class's board names it

    def __init__(self, **groups):
        self.attempt, self.frame = Attempt(self.options), 0
        self._play = widgets.Play(value=0, min=0, max=LAST_FRAME, interval=_INTERVAL)
        self._play.layout.display = "none"  # it ticks unseen; a button with words drives it
        self._answers = [
            self.button(words, lambda value=value: self.guess(value), main=True)
            for value, words in self.options
        ]
        auto = {"description_width": "initial"}
        self._hands = [
            widgets.BoundedIntText(value=0, min=0, max=999, description=words, style=auto)
            for _, words in self.options
        ]
        self._run = self.button(self.run_words, self.run_or_pause, main=True)
        self._again = self.button("New guess", self.ask)
        self._look = self.look()
        self._blank = {name: control.value for name, control in self._look.items()}
        self._counting = False
        skips = [self.button("Skip (teacher)", self.skip) for _ in range(3)]
        lock = self.button("Lock the hands", self._lock_hands, main=True)
        saw = self.button("That is what I saw", self._write_down, main=True)
        count = self.button("Hands up (class)", self._open_class)
        self._rows = {
            "asked": (_row(*self._answers), _row(count, skips[0])),
            "hands": (*self._hands, _row(lock, skips[1])),
            "locked": (_row(self._run, self._play),),
            "run": (*self._look.values(), _row(saw, skips[2])),
            "told": (_row(self._run, self._again, self._play),),
        }
        self._steps = widgets.VBox().add_class("airlab-step")
        self.number = widgets.Text(description="Your number, to keep the guess", style=auto)
        super().__init__(**groups)
        if self.asks:
            self._more_box.children = (*self._more_box.children, self.number)
        self._play.observe(self._ticked, "value")

    # what a subclass writes ---------------------------------------------------------------

    def look(self):
        """Return the controls in which people say what they saw, by name."""
        raise NotImplementedError

    def seen(self):
        """Return what people say they saw, in words."""
        raise NotImplementedError

    def beside(self):
        """Return what is said together with the answer, in words."""
        return ""

    def outcome(self):
        """Return what came out, in the unit of the answers, and that unit."""
        raise NotImplementedError

    def ticks(self):
        """Return how many frames the clock goes on at each tick."""
        return 1

    # what a person does -------------------------------------------------------------------

    @property
    def stage(self):
        """The step of the attempt: asked, locked, run or told."""
        return self.attempt.stage

    def guess(self, value):
        """Lock an answer; the clock can then run."""
        return self._step(self.attempt.lock(value, self.beside()), 0)

    def raise_hands(self, *counts):
        """Lock a class's hands, one count for each answer."""
        return self._step(self.attempt.raise_hands(counts), 0)

    def saw(self, **seen):
        """Write down what was seen (controls of `look` by name); then it is explained."""
        for name, value in seen.items():
            self._look[name].value = value
        return self._step(self.attempt.see(self.seen()), LAST_FRAME)

    def skip(self):
        """Go past the guess and show the whole run; for teachers."""
        return self._step(self.attempt.skip(), self.frame)

    def ask(self):
        """Put the question again, for what is set now."""
        for name, control in self._look.items():
            control.value = self._blank[name]
        self._counting = False
        return self._step(Attempt(self.options), 0)

    def run_or_pause(self):
        """Run the clock, pause it, or run again from the start."""
        if self._play.playing:
            self._play.playing = False
            self._run.description = "Go on"
            return self
        if self.frame == LAST_FRAME:
            self.frame = 0
        self._run.description = "Pause"
        self._play.step = self.ticks()
        self._play.value = self.frame
        self._play.playing = True
        return self

    def reset(self):
        """Put every control back to its start and ask again."""
        self._play.playing = False
        self.attempt, self.frame = Attempt(self.options), 0
        super().reset()
        return self.ask()

    # workings -----------------------------------------------------------------------------

    def arrange(self, *extra):
        """Put the question, the clock or the look under the controls, as the step wants."""
        step = "hands" if self._counting and self.stage == "asked" else self.stage
        self._steps.children = self._rows[step]
        super().arrange(self._steps, *extra)
        for control in self.controls.values():
            control.disabled = self.stage in ("locked", "run")

    def _step(self, attempt, frame):
        """Go to a step, or stay where we are if the settings are refused."""
        before = self.attempt, self.frame
        self.attempt, self.frame = attempt, frame
        try:
            self.refresh()
        except InputError:
            self.attempt, self.frame = before
            raise
        self._play.playing = False
        self._run.description = self.run_words
        self.arrange()
        said, told = attempt.said, self.stage == "told" != before[0].stage
        if told and said is not None and self.number.value.strip():
            Marks(self.number.value).keep_guess(self.asks, said, *self.outcome())
        return self

    def _open_class(self):
        self._counting = True
        self.arrange()

    def _lock_hands(self):
        self.raise_hands(*(box.value for box in self._hands))

    def _write_down(self):
        self.saw()

    def _ticked(self, change):
        if change.new == self.frame or self.stage not in ("locked", "told"):
            return
        self.frame = change.new
        if change.new + self._play.step <= LAST_FRAME:
            self._act(self.refresh)
        elif self.stage == "locked":
            self._act(self._step, self.attempt.run(), LAST_FRAME)
        else:
            self._act(self._step, self.attempt, LAST_FRAME)


def _row(*controls):
    return widgets.HBox(list(controls)).add_class("airlab-buttons")
