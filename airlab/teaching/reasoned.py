"""Exercises answered with more than one thing: a decision with its reason, places on a picture."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from airlab.teaching.exercise import Exercise, Feedback, lettered, mixed, picked

__all__ = ["Justify", "Mark"]


@dataclass(frozen=True, slots=True)
class Justify(Exercise):
    """A decision and its reason; both must fit.

    `right` returns the decision and the reason as texts. The answer is a letter and a number,
    such as "b2". A wrong decision gets its hint first; a right one with a wrong reason is close.
    """

    key: str
    question: str
    options: tuple[str, ...]
    grounds: tuple[str, ...]
    right: Callable[[], tuple[str, str]]
    explain: str
    hints: dict = field(default_factory=dict)

    def parts(self):
        """Return the decisions by letter and the reasons by number."""
        return lettered(self.options) | self._numbered()

    def _numbered(self):
        return {str(i): ground for i, ground in enumerate(self.grounds, start=1)}

    def _code(self, option, ground):
        return "abcdefgh"[self.options.index(option)] + str(self.grounds.index(ground) + 1)

    def answer(self):
        """Return letter and number of the right decision and its reason, computed now."""
        return self._code(*self.right())

    def told(self):
        """Return the right decision and its reason in words."""
        option, ground = self.right()
        return f"{self.answer()} {option}, because {ground}"

    def wrong(self):
        """Return (code, hint) for each wrong decision, and for each wrong reason of the right one."""
        option, ground = self.right()
        return tuple(
            (self._code(one, ground), self.hints[one]) for one in self.options if one != option
        ) + tuple(
            (self._code(option, one), self.hints[one]) for one in self.grounds if one != ground
        )

    def shuffled(self, dice):
        """Return the exercise with decisions as they are and reasons in another order."""
        return replace(self, grounds=mixed(self.grounds, dice))

    def judge(self, answer):
        """Return the Feedback to a decision and a reason: "b2", ("b", 2), or their texts."""
        given = answer if isinstance(answer, (tuple, list)) else re.split(
            r"(?<=^[a-z])\W*(?=\d+$)", str(answer).strip().lower())  # fmt: skip
        option = picked(given[0] if given else "", lettered(self.options))
        ground = picked(given[1] if len(given) == 2 else "", self._numbered())
        if option is None or ground is None:
            need = "a letter for the decision and a number for the reason, such as a1"
            return Feedback(self.key, "not yet", f"Give {need}.")
        right, why = self.right()
        if option != right:
            return Feedback(self.key, "not yet", self.hints.get(option, "Look again."))
        if ground != why:
            hint = f"The decision is right. {self.hints.get(ground, 'Look for its reason.')}"
            return Feedback(self.key, "close", hint)
        return Feedback(self.key, "right", self.explain)


@dataclass(frozen=True, slots=True)
class Mark(Exercise):
    """Numbered places of a picture to be marked.

    `view` returns the record that is drawn; its `marks` bear `number` and `name`. `wanted` says of
    a mark whether it belongs to the answer, so that the key comes from the record. `hint` says why
    a mark does not belong, `missed` how to find one that was left out. `told_names` is whether the
    drawing may say the state of its places.
    """

    key: str
    question: str
    view: Callable[[], object]
    wanted: Callable[[object], bool]
    explain: str
    hint: Callable[[object], str]
    missed: Callable[[object], str]
    told_names: bool = False

    def places(self):
        """Return {number: mark} of the picture."""
        return {mark.number: mark for mark in self.view().marks}

    def right(self):
        """Return the numbers that belong to the answer, computed now."""
        return tuple(sorted(n for n, mark in self.places().items() if self.wanted(mark)))

    def answer(self):
        """Return the right numbers as text, such as "3 7"."""
        return " ".join(map(str, self.right()))

    def told(self):
        """Return the right numbers with the names of their places."""
        places = self.places()
        return ", ".join(f"{number} {places[number].name}" for number in self.right())

    def wrong(self):
        """Return (numbers, hint) with each place that does not belong, and each one left out."""
        places, right = self.places(), self.right()
        more = [(f"{self.answer()} {n}", self.hint(m)) for n, m in places.items() if n not in right]
        less = [
            (" ".join(str(one) for one in right if one != n), self.missed(places[n]))
            for n in right if len(right) > 1
        ]  # fmt: skip
        return (*more, *less)

    def judge(self, answer):
        """Return the Feedback to numbers, as text, a number or several."""
        several = isinstance(answer, Iterable) and not isinstance(answer, (str, bytes))
        text = " ".join(map(str, answer)) if several else str(answer)
        found = re.findall(r"(?<![\d.])\d{1,4}(?:\.0)?(?![\d.])", text)
        given = dict.fromkeys(int(float(one)) for one in found)
        places, right = self.places(), self.right()
        strange = [n for n in given if n not in places]
        if strange or not given:
            said = f"There is no place {strange[0]}. " if strange else ""
            listed = ", ".join(map(str, sorted(places)))
            return Feedback(self.key, "not yet", f"{said}Give one or more of the numbers {listed}.")
        for number in given:
            if number not in right:
                hint = self.hint(places[number])
                return Feedback(self.key, "not yet", f"Not {number}, {places[number].name}. {hint}")
        left = [n for n in right if n not in given]
        if left:
            said = f"Right so far, {len(left)} still to find. {self.missed(places[left[0]])}"
            return Feedback(self.key, "close", said)
        return Feedback(self.key, "right", self.explain)
