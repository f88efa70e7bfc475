"""How does each learner get numbers of their own, and the same ones on every machine?

An exercise with own numbers is a function of these numbers. Its book version is the function with
its defaults; a seed draws others from a list of plausible, well rounded values. Question, key,
slips and proof then come from the same function.
"""

from dataclasses import dataclass, replace
from random import Random

from airlab.teaching.exercise import Numeric

__all__ = ["Template", "apart", "template"]

_TRIES = 200


@dataclass(frozen=True, slots=True)
class Template:
    """An exercise as a function of its numbers, and the values these may take."""

    key: str
    make: object
    draws: dict

    @property
    def base(self):
        """The exercise of the book."""
        return self.make(self.key)

    def drawn(self, seed):
        """Return the exercise with the numbers of that seed, its key "<base>/<seed>".

        Numbers at which two slips, or a slip and the right answer, lie close are drawn again.
        """
        dice = Random(f"{self.key}/{seed}")
        for _ in range(_TRIES):
            numbers = {
                name: values[int(dice.random() * len(values))]
                for name, values in self.draws.items()
            }
            made = self.make(f"{self.key}/{seed}", **numbers)
            if apart(made):
                return made
        return replace(made, slips=())  # never seen; the key itself stays right


def template(key, **draws):
    """Turn a function of a key and numbers into a `Template`; `draws` are the values by name."""
    return lambda make: Template(key, make, draws)


def apart(exercise):
    """Return whether the right number and every slip can be told from one another.

    Parameters
    ----------
    exercise : Numeric
        The exercise.

    Returns
    -------
    bool
        True if any two differ by more than twice the tolerance, so that a rounded answer fits one.
    """
    if not isinstance(exercise, Numeric):
        return True
    values = [exercise.answer(), *(number for number, _ in exercise.wrong())]
    return all(
        abs(one - other) > 2.0 * exercise.tolerance * max(abs(one), abs(other))
        for place, one in enumerate(values)
        for other in values[:place]
    )
