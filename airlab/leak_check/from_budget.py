"""What does the budget, taught by the reading, say beside the drift the decision rests on?"""

from dataclasses import dataclass
from math import hypot

from airlab.design import Lesson, learn, make_budget, with_houses
from airlab.leak_check.release import Release
from airlab.words import InputError, show_percent

__all__ = ["SecondOpinion", "second_opinion"]

_APART = 0.15  # chances further apart than this are worth a question [AIRLAB]
_HOUSES = 50_000


@dataclass(frozen=True, slots=True)
class SecondOpinion:
    """Two ways to the same chance: the drift of the check, and the budget taught by the reading.

    Parameters
    ----------
    by_drift, by_budget : float
        Chance that the final test keeps the limit. [-]
    lesson : Lesson
        What the reading taught the budget.
    """

    by_drift: float
    by_budget: float
    lesson: Lesson

    def sentence(self, units="metric"):
        """Return both chances in words, and what to do where they are apart."""
        if not self.lesson.enough:
            return (
                f"By the drift of the check {show_percent(self.by_drift)}; the budget has no say: "
                "it did not foresee this reading."
            )
        text = (
            f"Chance to keep the limit by the drift of the check {show_percent(self.by_drift)}, by "
            f"the budget taught by the reading {show_percent(self.by_budget)}."
        )
        if abs(self.by_drift - self.by_budget) > _APART:
            text += " They are apart: ask which line of the budget, or which drift, is wrong."
        return text


def second_opinion(job, release, count=_HOUSES):
    """Return both chances for a job; None without a budget or without a number to decide on.

    Parameters
    ----------
    job : object
        A job with a budget.
    release : Release
        Its decision, made by the drift.
    count : int
        Number of houses drawn.

    Returns
    -------
    SecondOpinion or None
        Shown beside the decision; it does not change it.

    Raises
    ------
    InputError
        If the release is none, or the budget cannot be used.

    References
    ----------
    [AIRLAB] both rest on assumptions of the user.
    """
    if not isinstance(release, Release):
        raise InputError("A second opinion stands beside a decision: make that first.")
    if not job.budget or release.number is None:
        return None
    house = release.number.house
    spread = hypot(release.assumptions["test_uncertainty"], house.exponent_part)
    answer = make_budget(job, count)
    lesson = learn(answer.houses, house.flow_50, max(spread, 0.005))
    chance = with_houses(answer, lesson.houses).chance_limit
    return SecondOpinion(release.probability, chance, lesson)
