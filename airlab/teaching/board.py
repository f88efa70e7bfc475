"""What does the class think? Guesses against results, slips still alive, the leak hunt of everyone.

A slip is alive in a learner who reached its hint and has not got that exercise right since.
"""

from collections import Counter
from dataclasses import dataclass
from statistics import median

from airlab.teaching.bank import exercise
from airlab.teaching.exercise import Numeric
from airlab.teaching.marks import GRADED, in_order
from airlab.teaching.practice.score import NONE_MISSED
from airlab.words import show, show_percent

__all__ = ["ClassBoard", "HuntBoard", "ItemBoard", "Prediction", "SlipBoard", "class_board"]

_NEAR = 0.10  # a first answer within a tenth counts as near


@dataclass(frozen=True, slots=True)
class Prediction:
    """First answers and guesses of a class at one question, as ratios to what came out.

    Parameters
    ----------
    name, question : str
        Exercise or question.
    kind : str
        "first answers" or "guesses".
    ratios : tuple of float
        Said over right, in order of size. [-]
    """

    name: str
    question: str
    kind: str
    ratios: tuple[float, ...]

    @property
    def near(self):
        """How many lie within a tenth."""
        return sum(abs(ratio - 1.0) <= _NEAR for ratio in self.ratios)

    def sentence(self, units="metric"):
        """Return how far off the class was."""
        middle = f"the middle one {show(median(self.ratios), digits=2)} times what came out"
        return f"{self.name}: {self.near} of {len(self.ratios)} within a tenth, {middle}."


@dataclass(frozen=True, slots=True)
class SlipBoard:
    """How often one hint was reached, by whom, and in whom the slip is alive."""

    base: str
    hint: str
    hits: int
    learners: tuple[str, ...]
    alive: tuple[str, ...]

    def sentence(self, units="metric"):
        """Return the slip in words."""
        return f"{self.base}: {len(self.learners)} reached it, {len(self.alive)} still there. {self.hint}"


@dataclass(frozen=True, slots=True)
class ItemBoard:
    """One exercise over the class: {learner: (tries until right, or so far, right)}, first right, time [s]."""

    base: str
    tries: dict[str, tuple[int, bool]]
    first_right: int
    time: float | None

    @property
    def right(self):
        """How many had it right at last."""
        return sum(done for _, done in self.tries.values())


@dataclass(frozen=True, slots=True)
class HuntBoard:
    """One practice house searched by several learners.

    `rows` are the days, one a learner, the best points last; `missed` are pairs (site, how many
    missed it), the most missed first; `told` says how many of the rows list what they missed.
    """

    house: str
    seed: int
    rows: tuple[dict, ...]
    missed: tuple[tuple[str, int], ...]
    told: int

    @property
    def points(self):
        """Points in order of size."""
        return tuple(row["points"] for row in self.rows)

    def sentence(self, units="metric"):
        """Return the debrief for the class."""
        unsafe = sum(1 for row in self.rows if row.get("unsafe_steps"))
        wrong = sum(row.get("wrong_choices") or 0 for row in self.rows)
        days = f"{len(self.rows)} day{'s' * (len(self.rows) != 1)}"
        spread = f"{self.points[0]} to {self.points[-1]} points, {show(median(self.points))} in the middle"
        if self.points[0] == self.points[-1]:
            spread = f"{self.points[0]} points{' each' * (len(self.rows) > 1)}"
        said = [f"{self.house}, seed {self.seed}: {days}, {spread}."]
        if self.missed:
            site, count = self.missed[0]
            said.append(f"Missed most: {site}, by {count} of {self.told}.")
        if unsafe:
            said.append(
                f"An unsafe step in {unsafe} of {len(self.rows)} days: talk about it first."
            )
        if wrong:
            said.append(
                f"{'1 place was' if wrong == 1 else f'{wrong} places were'} sealed with something that does not hold there."
            )
        return " ".join(said)


@dataclass(frozen=True, slots=True)
class ClassBoard:
    """A class as one record."""

    learners: tuple[str, ...]
    items: tuple[ItemBoard, ...]
    slips: tuple[SlipBoard, ...]
    predictions: tuple[Prediction, ...]
    hunts: tuple[HuntBoard, ...]
    grades: tuple[tuple[str, str, int, int], ...]  # learner, task, points, out of

    def count(self):
        """Return how many learners there are, in words."""
        return f"{len(self.learners)} learner{'s' * (len(self.learners) != 1)}."

    def sentence(self, units="metric"):
        """Return the class in words: who, how far, which slip to take up."""
        tries = [right for item in self.items for _, right in item.tries.values()]
        said = [self.count()]
        if tries:
            said.append(
                f"{show_percent(sum(tries) / len(tries))} of the exercises begun are right by now."
            )
        alive = next((slip for slip in self.slips if slip.alive), None)
        if alive:
            said.append(f"Take up first: {alive.sentence()}")
        elif self.slips:
            said.append("No slip is alive.")
        return " ".join(said)


def class_board(marks=(), hunts=(), guesses=()):
    """Return a class as one record.

    Parameters
    ----------
    marks : iterable of Try
        Attempts of all learners.
    hunts : iterable of dict
        Rows of days in practice houses.
    guesses : iterable of Guess
        Guesses and what came out.
    """
    marks = sorted(marks, key=lambda mark: mark.when.timestamp() if mark.when else 0.0)
    tried = {}
    for mark in marks:
        if mark.state != GRADED:
            tried.setdefault(mark.base, {}).setdefault(mark.learner, []).append(mark)
    learners = {mark.learner for mark in marks} | {
        guess.learner for guess in guesses if guess.learner
    }
    return ClassBoard(
        tuple(sorted(learners, key=in_order)),
        tuple(_item(base, tried[base]) for base in sorted(tried)),
        _slips(tried),
        (*_guessed(guesses), *filter(None, (_firsts(base, tried[base]) for base in sorted(tried)))),
        _hunts(hunts),
        tuple((m.learner, m.exercise, m.points or 0, m.out_of or 0) for m in marks if m.state == GRADED),
    )  # fmt: skip


def _item(base, by_learner):
    times = [mark.time_s for tries in by_learner.values() for mark in tries if mark.time_s]
    firsts = {
        who: next((n for n, mark in enumerate(tries, 1) if mark.right), 0)
        for who, tries in by_learner.items()
    }
    return ItemBoard(
        base, {who: (n or len(by_learner[who]), n > 0) for who, n in firsts.items()},
        sum(n == 1 for n in firsts.values()), median(times) if times else None,
    )  # fmt: skip


def _slips(tried):
    """Return the slips, those alive in most learners first."""
    found = {}
    for base, by_learner in tried.items():
        for who, tries in by_learner.items():
            for place, mark in enumerate(tries):
                if mark.hint:
                    hits = found.setdefault((base, _of_the_book(mark)), [])
                    hits.append((who, not any(later.right for later in tries[place + 1 :])))
    made = [
        SlipBoard(
            base, hint, len(hits), tuple(sorted({who for who, _ in hits}, key=in_order)),
            tuple(sorted({who for who, alive in hits if alive}, key=in_order)),
        )
        for (base, hint), hits in found.items()
    ]  # fmt: skip
    return tuple(sorted(made, key=lambda slip: (-len(slip.alive), -len(slip.learners), slip.base)))


def _of_the_book(mark):
    """Return the hint as the book words it, so that learners with own numbers share one slip."""
    own, book = exercise(mark.exercise), exercise(mark.base)
    if mark.exercise == mark.base or not (isinstance(own, Numeric) and isinstance(book, Numeric)):
        return mark.hint
    hints = [hint for _, hint in own.wrong()]
    return book.wrong()[hints.index(mark.hint)][1] if mark.hint in hints else mark.hint


def _ratio(answer, right):
    try:
        return float(str(answer).replace(",", ".").replace("−", "-")) / right
    except (ValueError, ZeroDivisionError):
        return None


def _firsts(base, by_learner):
    """Return the first answers at a numeric exercise over the right ones; None for other kinds."""
    pairs = [(tries[0].answer, _expected(tries[0].exercise)) for tries in by_learner.values()]
    ratios = [_ratio(answer, value) for answer, value in pairs if value is not None]
    ratios = sorted(ratio for ratio in ratios if ratio is not None and abs(ratio) < float("inf"))
    entry = exercise(base)
    question = entry.question if entry else base
    return Prediction(base, question, "first answers", tuple(ratios)) if ratios else None


def _expected(key):
    entry = exercise(key)
    return float(entry.expected()) if isinstance(entry, Numeric) else None


def _guessed(guesses):
    by_question = {}
    for one in guesses:
        if one.result:
            by_question.setdefault(one.question, []).append(one.guess / one.result)
    for question, ratios in by_question.items():
        yield Prediction(question, question, "guesses", tuple(sorted(ratios)))


def _hunts(rows):
    by_day = {}
    for row in rows:
        by_day.setdefault((row["house"], row["seed"]), []).append(row)
    made = []
    for (house, seed), days in sorted(by_day.items()):
        lists = [text.split("; ") for row in days if (text := row.get("missed"))]
        counts = Counter(site for one in lists for site in one if site != NONE_MISSED)
        missed = tuple(sorted(counts.items(), key=lambda pair: (-pair[1], pair[0])))
        ordered = tuple(sorted(days, key=lambda row: row["points"]))
        made.append(HuntBoard(house, seed, ordered, missed, len(lists)))
    return tuple(made)
