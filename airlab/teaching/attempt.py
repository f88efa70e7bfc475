"""What did the learner say before, and what was seen after? One try at a prediction, step by step.

First an answer is locked, alone or by hands up in class. Then the clock runs. Then what was seen
is written down, and only then comes the explanation. Each step gives a new record; none can be
taken back. A teacher may skip.
"""

from dataclasses import dataclass, replace

from airlab.words import InputError, require_choice

__all__ = ["STAGES", "Attempt"]

STAGES = ("asked", "locked", "run", "told")
_MOST_HANDS = 999


@dataclass(frozen=True, slots=True)
class Attempt:
    """One try at a prediction with a few answers to choose from.

    `options` are pairs (value, words). `said` is the value that was locked, `beside` what was said
    with it, `hands` the count for each answer of a class, `saw` what was seen.

    Examples
    --------
    >>> attempt = Attempt(((10.0, "10 s"), (60.0, "1 min")))
    >>> attempt.lock(10.0).run().see("about a minute").sentence()
    'You said 10 s. You saw: about a minute.'
    >>> attempt.raise_hands((3, 12)).sentence()
    'Hands up: 10 s 3, 1 min 12.'
    """

    options: tuple[tuple[object, str], ...]
    said: object = None
    beside: str = ""
    hands: tuple[int, ...] = ()
    saw: str = ""
    stage: str = "asked"

    def words_of(self, value):
        """Return the words of an answer."""
        return dict(self.options)[value]

    def lock(self, said, beside=""):
        """Return the attempt with one answer locked."""
        require_choice("guess", said, [value for value, _ in self.options])
        return self._next("asked", "locked", said=said, beside=beside)

    def raise_hands(self, counts):
        """Return the attempt with a class's count for each answer locked."""
        counts = tuple(counts)
        if len(counts) != len(self.options):
            raise InputError(f"There are {len(self.options)} answers and {len(counts)} counts.")
        for count, (_, words) in zip(counts, self.options):
            if not isinstance(count, int) or not 0 <= count <= _MOST_HANDS:
                raise InputError(
                    f"Hands for '{words}' are {count}. A whole number from 0 to {_MOST_HANDS} is "
                    "needed."
                )
        if not sum(counts):
            raise InputError("No hand is up. Count the hands for each answer.")
        return self._next("asked", "locked", hands=counts)

    def run(self):
        """Return the attempt after the clock has run to its end."""
        return self._next("locked", "run")

    def see(self, saw):
        """Return the attempt with what was seen; now it may be explained."""
        if not str(saw).strip():
            raise InputError("Say what you saw first. Then comes the explanation.")
        return self._next("run", "told", saw=str(saw).strip())

    def skip(self):
        """Return the attempt at its end, whatever is missing; the teacher's way."""
        return replace(self, stage="told")

    def sentence(self):
        """Return what was said and seen, in plain words; empty if nothing was."""
        parts = []
        if self.hands:
            counted = (f"{words} {n}" for n, (_, words) in zip(self.hands, self.options))
            parts.append(f"Hands up: {', '.join(counted)}.")
        elif self.said is not None:
            beside = f", {self.beside}" if self.beside else ""
            parts.append(f"You said {self.words_of(self.said)}{beside}.")
        if self.saw:
            parts.append(f"You saw: {self.saw}.")
        return " ".join(parts)

    def right_hands(self, right):
        """Return how many of a class were right, as words; empty without hands."""
        if not self.hands:
            return ""
        count = sum(n for n, (value, _) in zip(self.hands, self.options) if value == right)
        return f"{count} of {sum(self.hands)} were right."

    def _next(self, wanted, stage, **fields):
        if self.stage != wanted:
            why = {
                "asked": "The answer is locked. It stays as it was said.",
                "locked": "Lock an answer first, then run the clock.",
                "run": "Run the clock to its end first.",
            }[wanted]
            raise InputError(why)
        return replace(self, stage=stage, **fields)
