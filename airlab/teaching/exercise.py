"""What is an exercise, and what does it say to an answer?

`check` never raises. It compares a number with the value the package computes at that moment,
knows the slips that belong to the exercise and the usual slips of units, and names the one that
fits. A choice is compared with the right option; every wrong option is a real slip with its hint.

Every kind answers the same four questions, so that pages and panels need not know the kinds:
`parts` (what is printed to choose from, by letter), `answer` (what `check` takes as right),
`told` (the same in words) and `wrong` (recognised wrong answers with their hints).
"""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from airlab.words import InputError, label, show

__all__ = [
    "LEVELS", "Choice", "Exercise", "Feedback", "Numeric", "Ordering", "Slip", "judge", "lettered",
    "mixed", "picked",
]  # fmt: skip

STATES = ("not answered", "right", "right number, wrong unit", "close", "not yet")
LEVELS = ("start", "core", "stretch")

# Factors between units that get mixed up, what to look at, and the units asked for where that can
# be. Applied after the exercise's own slips, so that a slip with a better explanation speaks first.
_HOURLY = ("m3/h", "1/h", "m3/(h.m2)")
_FLOWS = ("m3/h", "m3/(h.m2)")
_UNIT_SLIPS = (
    (60.0 * 60.0, "per second and per hour", _HOURLY),
    (60.0, "per minute and per hour", _HOURLY),
    (60.0, "minutes and seconds", ("s",)),
    (60.0 * 60.0 / 1000.0, "litres per second and cubic metres per hour", _FLOWS),
    (60.0 * 60.0 / 1000.0, "metres per second and kilometres per hour", ("m/s",)),
    (1000.0, "litres and cubic metres", ("L", *_FLOWS)),
    (1000.0, "watt hours and kilowatt hours", ("kWh",)),
    (100.0 * 100.0, "square centimetres and square metres", ("cm2", "m2")),
    (100.0, "square millimetres and square centimetres", ("cm2",)),
    (100.0, "a percentage and a fraction", ("%", "-")),
)
_GAP = re.compile(r"(?<=\d)[\s'’](?=\d{3}(?!\d))")  # parts thousands
_COMMAS, _POINTS = (re.compile(rf"[+-]?\d{{1,3}}(\{a}\d{{3}})+(\{b}\d*)?") for a, b in (",.", ".,"))


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercise:
    """What every exercise carries: the source of its fact, the outcome it serves, its level."""

    source: str = ""
    outcome: str = ""  # key of `outcomes.OUTCOMES`
    level: str = "core"  # one of `LEVELS`

    def parts(self):
        """Return {letter: text} of what is printed to choose from; empty for a number."""
        return {}

    def shuffled(self, dice):
        """Return the exercise with what it prints in another order; the same where it prints none."""
        return self


@dataclass(frozen=True, slots=True)
class Numeric(Exercise):
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

    def answer(self):
        """Return the right number, computed now."""
        return float(self.expected())

    def told(self):
        """Return the right number with its unit."""
        return show(self.expected(), self.unit)

    def wrong(self):
        """Return (wrong number, hint) of every recognised slip."""
        return tuple((float(slip.number()), slip.hint) for slip in self.slips)

    def judge(self, answer):
        """Return the Feedback to an answer."""
        right = self.expected()
        number = _as_number(answer, self.unit, right)
        if number is None:
            return Feedback(
                self.key, "not yet", f"A number in {label(self.unit) or '1'} is needed."
            )
        if math.isclose(number, right, rel_tol=self.tolerance):
            return Feedback(self.key, "right", f"{show(right, self.unit)}. {self.explain}")
        for slip in self.slips:
            if math.isclose(number, slip.number(), rel_tol=self.tolerance):
                return Feedback(self.key, "not yet", slip.hint)
        for factor, mixed, units in _UNIT_SLIPS:
            if self.unit in units and any(
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
class Choice(Exercise):
    """A question with options; each wrong option is a slip with its hint."""

    key: str
    question: str
    options: tuple[str, ...]
    right: Callable[[], str]
    explain: str
    hints: dict = field(default_factory=dict)

    def parts(self):
        """Return the options by letter."""
        return lettered(self.options)

    def answer(self):
        """Return the right option, computed now."""
        return self.right()

    def told(self):
        """Return the right option with its letter."""
        right = self.right()
        return next(f"{a} {text}" for a, text in self.parts().items() if text == right)

    def wrong(self):
        """Return (wrong option, hint) of every other option."""
        return tuple(self.hints.items())

    def shuffled(self, dice):
        """Return the exercise with its options in another order."""
        return replace(self, options=mixed(self.options, dice))

    def judge(self, answer):
        """Return the Feedback to a chosen option, given as its text or its letter."""
        letters = self.parts()
        chosen = picked(answer, letters)
        if chosen is None:
            listed = ", ".join(f"{letter} {option}" for letter, option in letters.items())
            return Feedback(self.key, "not yet", f"Choose one of: {listed}.")
        if chosen == self.right():
            return Feedback(self.key, "right", self.explain)
        return Feedback(self.key, "not yet", self.hints.get(chosen, "Look again."))


@dataclass(frozen=True, slots=True)
class Ordering(Exercise):
    """Steps to be put in order; the first pair out of order gets its reason."""

    key: str
    question: str
    steps: tuple[str, ...]
    explain: str
    reasons: dict = field(default_factory=dict)
    shown: tuple[str, ...] = ()  # order of printing; sorted by the step's text where empty

    def parts(self):
        """Return the steps by letter, as printed."""
        return self.printed()

    def answer(self):
        """Return the letters in the right order."""
        letters = {step: letter for letter, step in self.printed().items()}
        return "".join(letters[step] for step in self.steps)

    def told(self):
        """Return the letters in the right order, apart."""
        return ", ".join(self.answer())

    def wrong(self):
        """Return (letters, reason) with each step but the last put off by one."""
        right = self.answer()
        return tuple(
            (right[:i] + right[i + 1] + right[i] + right[i + 2 :], self._reason(self.steps[i]))
            for i in range(len(right) - 1)
        )

    def shuffled(self, dice):
        """Return the exercise with its steps printed in another order, never the right one."""
        shown = mixed(self.steps, dice)
        return replace(self, shown=shown if shown != self.steps else shown[::-1])

    def _reason(self, step):
        return self.reasons.get(step, "Something has to come before it.")

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
        reason = self._reason(self.steps[place])
        return Feedback(self.key, "not yet", f"Step {place + 1} is out of place. {reason}")

    def printed(self):
        """Return {letter: step} in the order shown to the learner: sorted by the step's text."""
        return lettered(self.shown or sorted(self.steps))


def lettered(texts):
    """Return {letter: text}."""
    return {chr(ord("a") + index): text for index, text in enumerate(texts)}


def picked(answer, letters):
    """Return the text that a letter or the text itself stands for; None for neither."""
    text = str(answer).strip().lower()
    return letters.get(text) or next((one for one in letters.values() if one.lower() == text), None)


def mixed(texts, dice):
    """Return the texts in an order drawn by the dice."""
    keyed = [(dice.random(), text) for text in texts]
    return tuple(text for _, text in sorted(keyed))


def _as_number(answer, unit, right):
    """Return the number of an answer, as people write it; None where it is none.

    A decimal comma, parted thousands and the unit asked for are read. "1,750" has two readings:
    the one nearer the right number counts.
    """
    texts = [answer]
    if isinstance(answer, str):
        mark = re.escape(_plain(label(unit)))
        mark = rf"(\s1)?{mark}" if mark.startswith("/") else mark
        text = _GAP.sub("", re.sub(rf"\s*{mark}$", "", _plain(answer)))
        texts = [text.replace(",", ".")]
        if _COMMAS.fullmatch(text):
            texts.append(text.replace(",", ""))
        elif _POINTS.fullmatch(text) and ("," in text or text.count(".") > 1):
            texts.append(text.replace(".", "").replace(",", "."))
    numbers = [number for number in map(_float, texts) if math.isfinite(number)]
    return min(numbers, key=lambda number: abs(number - right), default=None)


def _plain(text):
    """Return text in small letters, with the signs a keyboard has."""
    return (
        text.strip()
        .casefold()
        .translate({ord("²"): "2", ord("³"): "3", ord("·"): ".", ord("−"): "-"})
    )


def _float(text):
    try:
        return float(text)
    except (TypeError, ValueError, OverflowError):
        return math.nan


def judge(exercise, answer):
    """Return the Feedback of an exercise to any answer; never raises.

    Parameters
    ----------
    exercise : Exercise
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
