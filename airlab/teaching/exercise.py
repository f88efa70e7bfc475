"""What is an exercise, and what does it say to an answer?

`check` never raises. It compares a number with the value the package computes at that moment,
knows the slips that belong to the exercise and the usual slips of units, and names the one that
fits. A choice is compared with the right option; every wrong option is a real slip with its hint.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from airlab.words import InputError, label, show

__all__ = ["Choice", "Feedback", "Numeric", "Ordering", "Slip", "judge"]

STATES = ("not answered", "right", "right number, wrong unit", "close", "not yet")

# Factors between units that get mixed up, with what to look at. Applied after the exercise's own
# slips, so that a slip with a better explanation speaks first.
_UNIT_SLIPS = (
    (60.0 * 60.0, "per second and per hour"),
    (60.0, "minutes and seconds, or per minute and per hour"),
    (60.0 * 60.0 / 1000.0, "litres per second and cubic metres per hour"),
    (1000.0, "litres and cubic metres"),
    (100.0 * 100.0, "square centimetres and square metres"),
    (100.0, "a percentage and a fraction, or centimetres and metres"),
)


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong answer people really give, and the hint that helps."""

    value: object
    hint: str

    def number(self):
        """Return the wrong value; computed when it is a function."""
        return self.value() if callable(self.value) else self.value


@dataclass(frozen=True, slots=True, repr=False)
class Feedback:
    """What the exercise says back: a state and a sentence."""

    key: str
    state: str
    sentence: str

    def __repr__(self):
        return f"{self.key}: {self.state}. {self.sentence}"


@dataclass(frozen=True, slots=True)
class Numeric:
    """A question with a number for an answer.

    `expected` is a function, so that the key is computed by the package when it is asked for.
    """

    key: str
    question: str
    expected: Callable[[], float]
    unit: str
    explain: str
    slips: tuple[Slip, ...] = ()
    tolerance: float = 0.02
    source: str = ""

    def judge(self, answer):
        """Return the Feedback to an answer."""
        number = _as_number(answer)
        if number is None:
            return Feedback(
                self.key, "not yet", f"A number in {label(self.unit) or '1'} is needed."
            )
        right = self.expected()
        if math.isclose(number, right, rel_tol=self.tolerance):
            return Feedback(self.key, "right", f"{show(right, self.unit)}. {self.explain}")
        for slip in self.slips:
            if math.isclose(number, slip.number(), rel_tol=self.tolerance):
                return Feedback(self.key, "not yet", slip.hint)
        for factor, mixed in _UNIT_SLIPS:
            if any(
                math.isclose(number, right * times, rel_tol=self.tolerance)
                for times in (factor, 1.0 / factor)
            ):
                hint = f"The digits are right. Look at the unit: {mixed}."
                return Feedback(self.key, "right number, wrong unit", hint)
        if math.isclose(number, right, rel_tol=0.10):
            return Feedback(self.key, "close", "Within a tenth. Keep three digits on the way.")
        size = "too large" if number > right else "too small"
        return Feedback(self.key, "not yet", f"{show(number, self.unit)} is {size}.")


@dataclass(frozen=True, slots=True)
class Choice:
    """A question with options; each wrong option is a slip with its hint."""

    key: str
    question: str
    options: tuple[str, ...]
    right: Callable[[], str]
    explain: str
    hints: dict = field(default_factory=dict)
    source: str = ""

    def judge(self, answer):
        """Return the Feedback to a chosen option, given as its text or its letter."""
        text = str(answer).strip().lower()
        letters = {chr(ord("a") + index): option for index, option in enumerate(self.options)}
        chosen = letters.get(text) or next(
            (option for option in self.options if option.lower() == text), None
        )
        if chosen is None:
            listed = ", ".join(f"{letter} {option}" for letter, option in letters.items())
            return Feedback(self.key, "not yet", f"Choose one of: {listed}.")
        if chosen == self.right():
            return Feedback(self.key, "right", self.explain)
        return Feedback(self.key, "not yet", self.hints.get(chosen, "Look again."))


@dataclass(frozen=True, slots=True)
class Ordering:
    """Steps to be put in order; the first pair out of order gets its reason."""

    key: str
    question: str
    steps: tuple[str, ...]
    explain: str
    reasons: dict = field(default_factory=dict)
    source: str = ""

    def judge(self, answer):
        """Return the Feedback to an order, given as letters of the steps as printed."""
        letters = [c for c in str(answer).lower() if c.isalpha()]
        printed = self.printed()
        if sorted(letters) != sorted(printed):
            wanted = "".join(sorted(printed))
            return Feedback(self.key, "not yet", f"Use each of the letters {wanted} once.")
        order = [printed[c] for c in letters]
        if order == list(self.steps):
            return Feedback(self.key, "right", self.explain)
        place = next(i for i, step in enumerate(order) if step != self.steps[i])
        missing = self.steps[place]
        reason = self.reasons.get(missing, "Something has to come before it.")
        return Feedback(self.key, "not yet", f"Step {place + 1} is out of place. {reason}")

    def printed(self):
        """Return {letter: step} in the order shown to the learner: sorted by the step's text."""
        shuffled = sorted(self.steps)
        return {chr(ord("a") + index): step for index, step in enumerate(shuffled)}


def _as_number(answer):
    try:
        number = float(answer)
    except (TypeError, ValueError):
        return None
    return number if math.isfinite(number) else None


def judge(exercise, answer):
    """Return the Feedback of an exercise to any answer; never raises.

    Parameters
    ----------
    exercise : Numeric, Choice or Ordering
        The exercise.
    answer : object
        What the learner typed; `...` or None means not answered yet.

    Returns
    -------
    feedback : Feedback
        State and sentence.
    """
    if answer is ... or answer is None:
        return Feedback(exercise.key, "not answered", exercise.question)
    try:
        return exercise.judge(answer)
    except InputError as error:
        return Feedback(exercise.key, "not yet", str(error))
