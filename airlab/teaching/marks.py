"""What is kept of a learner's work? One row for each attempt, under a number or a code, never a name.

An attempt is an answer with its state, the hint it reached, a reason and the time it took. An open
task is marked by criteria, 0 to 2 points each; some of them decide alone.
"""

from dataclasses import asdict, dataclass, field
from datetime import datetime
from uuid import uuid4

from airlab.teaching.bank import exercise
from airlab.teaching.exercise import STATES
from airlab.words import Column, InputError, Table, require_choice, show, show_duration

__all__ = ["GUESSES", "MARKS", "RUBRICS", "Criterion", "Grade", "Guess", "Try", "grade", "hint_reached",
           "in_order", "learner_code", "try_of"]  # fmt: skip

GRADED = "graded"
_LONGEST = 12  # letters of a code
_TEXT = 2000  # letters of an answer or a reason that are kept

MARKS = Table("marks", "attempts of learners at exercises, and points for open tasks", (
    Column("attempt", "text", "random name of the attempt, so that copies of a file count once"),
    Column("learner", "text", "number or code, no name", required=True),
    Column("exercise", "text", "exercise, with the seed of its numbers after a stroke", required=True),
    Column("answer", "text", "answer as given"),
    Column("state", "choice", "what was said to it", required=True, choices=(*STATES, GRADED)),
    Column("hint", "text", "hint that the answer reached; blank where no known slip fits"),
    Column("reason", "text", "reason in the learner's words"),
    Column("time_s", "number", "from the question on show to the answer", "s", low=0.0, high=1e6),
    Column("when", "time", "date and time with offset"),
    Column("points", "integer", "points of an open task", low=0, high=100),
    Column("out_of", "integer", "points there were to have", low=0, high=100),
), key="attempt", named_by="m", optional=True)  # fmt: skip

GUESSES = Table("guesses", "what learners said before, and what came out", (
    Column("learner", "text", "number or code; a row without one is the class as a whole"),
    Column("question", "text", "what was asked", required=True),
    Column("guess", "number", "what was said, in the unit of the result", required=True, low=0.0, high=1e9),
    Column("result", "number", "what came out", required=True, low=0.0, high=1e9),
    Column("unit", "text", "unit of both"),
), optional=True)  # fmt: skip


def learner_code(code):
    """Return a learner's number or code as it is kept.

    Examples
    --------
    >>> learner_code(" 07 "), learner_code("b12")
    ('7', 'B12')
    """
    text = str(code).strip()
    plain = text.replace("-", "")
    if not plain.isascii() or not plain.isalnum() or len(text) > _LONGEST:
        raise InputError(
            f"Your number is {text[:40]!r}. Use a number or a short code, up to {_LONGEST} letters "
            "and digits. A name is not needed."
        )
    return str(int(text)) if text.isdigit() else text.upper()


def in_order(code):
    """Return what codes are sorted by: numbers by size, then the other codes."""
    return (not code.isdigit(), code.zfill(_LONGEST))


@dataclass(frozen=True, slots=True)
class Try:
    """One attempt of one learner.

    Parameters
    ----------
    learner, exercise, state, answer, hint, reason : str
        As the columns of `MARKS` say.
    time_s : float or None
        Time taken. [s]
    when : datetime or None
        With its offset.
    points, out_of : int or None
        For an open task.
    attempt : str
        Random name.
    """

    learner: str
    exercise: str
    state: str
    answer: str = ""
    hint: str = ""
    reason: str = ""
    time_s: float | None = None
    when: datetime | None = None
    points: int | None = None
    out_of: int | None = None
    attempt: str = field(default_factory=lambda: f"m{uuid4().hex[:12]}")

    @property
    def base(self):
        """The exercise without the seed of its numbers."""
        return self.exercise.partition("/")[0]

    @property
    def right(self):
        """Whether it was right; an open task has no right answer."""
        return self.state == "right"

    def to_row(self):
        """Return {column name: value}."""
        return asdict(self)

    @classmethod
    def from_row(cls, row):
        """Return the attempt in a row; columns that are not ours are left out."""
        return cls(**{column.name: row.get(column.name) for column in MARKS.columns})

    def sentence(self, units="metric"):
        """Return the attempt in words."""
        after = f" after {show_duration(self.time_s)}" if self.time_s else ""
        said = f"{self.points} of {self.out_of} points" if self.state == GRADED else self.state
        return f"Learner {self.learner}, {self.exercise}: {said}{after}."


@dataclass(frozen=True, slots=True)
class Guess:
    """What somebody said before, and what came out, in one unit."""

    question: str
    guess: float
    result: float
    unit: str = ""
    learner: str = ""

    def to_row(self):
        """Return {column name: value}."""
        return asdict(self)

    @classmethod
    def from_row(cls, row):
        """Return the guess in a row."""
        return cls(**{column.name: row.get(column.name) for column in GUESSES.columns})


def hint_reached(said):
    """Return the hint of a known slip that an answer reached; empty where none fits.

    "Too large" is no slip: it says nothing about what somebody thinks.

    Examples
    --------
    >>> from airlab.teaching import check
    >>> hint_reached(check("01-1", 30))
    'That halves the time. Area goes with the diameter squared.'
    >>> hint_reached(check("01-1", 500))
    ''
    """
    if said.state == "right number, wrong unit":
        return said.sentence
    entry = exercise(said.key) if said.state in ("not yet", "close") else None
    known = (hint for _, hint in entry.wrong()) if entry else ()
    return next((hint for hint in known if hint and said.sentence.endswith(hint)), "")


def try_of(learner, said, answer, reason="", time_s=None):
    """Return the attempt to be kept for an answer that was given.

    Parameters
    ----------
    learner : str or int
        Number or code.
    said : Feedback
        What the exercise said.
    answer : object
        The answer as given.
    reason : str
        Why, in the learner's words.
    time_s : float or None
        Time taken. [s]
    """
    return Try(
        learner_code(learner), said.key, said.state, str(answer)[:_TEXT], hint_reached(said),
        str(reason).strip()[:_TEXT], None if time_s is None else round(float(time_s), 1),
        datetime.now().astimezone().replace(microsecond=0),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Criterion:
    """What is looked at, and what 0, 1 and 2 points look like; with `must` a 0 decides alone."""

    name: str
    levels: tuple[str, str, str]
    must: bool = False


@dataclass(frozen=True, slots=True)
class Grade:
    """The points of one open task."""

    outcome: str
    criteria: tuple[Criterion, ...]
    points: tuple[int, ...]

    @property
    def total(self):
        """Points in all."""
        return sum(self.points)

    @property
    def out_of(self):
        """Points there were to have."""
        return 2 * len(self.criteria)

    @property
    def missing(self):
        """What must not be 0 and is."""
        return tuple(c.name for c, n in zip(self.criteria, self.points) if c.must and not n)

    def sentence(self, units="metric"):
        """Return points, what stopped it, and what to work on next."""
        task = f"{self.outcome}: {self.total} of {self.out_of} points."
        if self.missing:
            return f"{task} Not passed, whatever the points: {', '.join(self.missing)} is at 0."
        least = min(self.points)
        if least == 2:
            return f"{task} Nothing is missing."
        weakest = self.criteria[self.points.index(least)]
        return f"{task} Next: {weakest.name}, {weakest.levels[least + 1]}."

    def kept(self, learner, reason=""):
        """Return the attempt to be kept for the task."""
        listed = ", ".join(f"{c.name} {n}" for c, n in zip(self.criteria, self.points))
        return Try(
            learner_code(learner), self.outcome, GRADED, listed, "", str(reason).strip()[:_TEXT], None,
            datetime.now().astimezone().replace(microsecond=0), self.total, self.out_of,
        )  # fmt: skip


# Common practice of the trade and our own wording; no awarding body's criteria.
RUBRICS = {
    "D5": (
        Criterion("surface", ("dusty or wet, not looked at", "wiped, not tried",
                              "dry, clean, and a strip of tape tried on it first")),
        Criterion("cut and lap", ("open joint or a channel under a fold", "closed, lap short in places",
                                  "closed, flat, lap even on both sides")),
        Criterion("corner", ("one piece stretched over it", "cut, a pinhole left",
                             "cut and folded without tension, no pinhole")),
        Criterion("pressing", ("laid on", "rubbed down in places", "rubbed down along its whole length")),
        Criterion("proof", ("not looked at again", "looked at", "looked at again under pressure, by smoke or hand"),
                  must=True),
    ),
    "D9": (
        Criterion("safety", ("a hazard passed over", "asked late", "settled before the decision"), must=True),
        Criterion("decision", ("does not fit the state of the leaks", "fits, said with no area or date",
                               "fits, and says which area and from when")),
        Criterion("reason", ("none, or only the number", "one thing that was seen or measured",
                             "open leaks and the measured flow, each named")),
        Criterion("what would change it", ("not said", "said in general", "the one fix or reading, and by whom")),
        Criterion("doubt", ("a number without doubt", "doubt is named", "doubt is named with its size"), must=True),
    ),
    "D10": (
        Criterion("the number", ("no unit or no pressure", "unit or pressure", "unit and pressure"), must=True),
        Criterion("its meaning", ("jargon", "good or bad", "in heat, draught or money, in plain words")),
        Criterion("fresh air", ("not mentioned", "mentioned", "says how the house is ventilated"), must=True),
        Criterion("doubt", ("sure beyond the test", "doubt is named", "doubt and the next step are named")),
        Criterion("length", ("a lecture", "four or five sentences", "three sentences")),
    ),
}  # fmt: skip


def grade(outcome, *points):
    """Return the grade of an open task.

    Parameters
    ----------
    outcome : str
        "D5", "D9" or "D10".
    *points : int
        0, 1 or 2 for each criterion, in order.

    Examples
    --------
    >>> grade("D10", 1, 2, 2, 1, 2).sentence()
    'D10: 8 of 10 points. Next: the number, unit and pressure.'
    >>> grade("D10", 0, 2, 2, 2, 2).sentence()
    'D10: 8 of 10 points. Not passed, whatever the points: the number is at 0.'
    """
    criteria = RUBRICS[require_choice("outcome", outcome, tuple(RUBRICS))]
    if len(points) != len(criteria) or any(n not in (0, 1, 2) for n in points):
        raise InputError(
            f"Points for {outcome} are {', '.join(map(show, points)) or 'none'}. There are "
            f"{len(criteria)} criteria, each with 0, 1 or 2."
        )
    return Grade(outcome, criteria, tuple(int(n) for n in points))
