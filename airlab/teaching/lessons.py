"""How does a teacher fill 45, 60 or 90 minutes, or a practical day, with a notebook or a path?

The words of a lesson stand once, in `lessons.toml`. Its length decides which steps are taken and
how long each one is, so a lesson of 90 minutes is that of 45 with longer steps and the bench.
"""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from airlab.words import InputError, convert, show

__all__ = ["DAY", "LENGTHS", "LessonPlan", "Step", "lesson_keys", "lesson_plan", "workshop"]

DAY = 360
LENGTHS = (45, 60, 90, DAY)
_MINUTES = (
    ("hook", (5, 5, 5, 10)),
    ("predict", (5, 5, 5, 10)),
    ("try", (12, 15, 20, 30)),
    ("explain", (8, 8, 10, 15)),
    ("pause", (0, 0, 0, 15)),
    ("exercises", (7, 10, 15, 30)),
    ("bench", (0, 8, 25, 60)),
    ("lunch", (0, 0, 0, 45)),
    ("site", (0, 0, 0, 90)),
    ("pause", (0, 0, 0, 15)),
    ("show", (0, 0, 0, 25)),
    ("bridge", (4, 5, 5, 5)),
    ("ticket", (4, 4, 5, 10)),
)  # name, minutes in a lesson of each length
_OPTIONAL = "bridge"
_LENGTH = re.compile(r"\{([\d.]+) (mm|cm)\}")
_CODE = re.compile(r"([KDBT]\d+) (.*)")


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a lesson: what the teacher does, what learners do, what the board shows."""

    name: str
    minutes: int
    you: str
    they: str
    board: str

    @property
    def optional(self):
        """Whether it is left out first when time runs short."""
        return self.name == _OPTIONAL


@dataclass(frozen=True, slots=True)
class LessonPlan:
    """A lesson of one length on a notebook or a path; outcomes are pairs (code, words)."""

    key: str
    title: str
    idea: str
    audience: str
    length: int
    notebooks: tuple[str, ...]
    outcomes: tuple[tuple[str, str], ...]
    kit: tuple[str, ...]
    room: tuple[str, ...]
    care: tuple[str, ...]
    steps: tuple[Step, ...]
    extension: tuple[str, ...]
    ticket: str

    @property
    def lasts(self):
        """The length in words."""
        return (
            f"practical day, {DAY // 60} hours" if self.length == DAY else f"{self.length} minutes"
        )

    def sentence(self, units="metric"):
        """Return what the plan is, in words."""
        return f"{self.title}: {self.lasts} in {len(self.steps)} steps. The idea: {self.idea}."


@cache
def _read(name):
    return tomllib.loads(Path(__file__).with_name(name).read_text(encoding="utf-8"))


def _book():
    return _read("lessons.toml")


def workshop(units="metric"):
    """Return what hands do: `cards` of skills, table-top `rigs`, `activities` without a computer.

    Parameters
    ----------
    units : str
        'metric' or 'us', for the lengths in the text.
    """

    def said(entry):
        if isinstance(entry, dict):
            return {name: said(value) for name, value in entry.items()}
        if isinstance(entry, list):
            return [said(value) for value in entry]
        return _LENGTH.sub(length, entry) if isinstance(entry, str) else entry

    def length(found):
        number, unit = float(found[1]), found[2]
        return show(convert(number, unit, "in"), "in", 2) if units == "us" else show(number, unit)

    return said(_read("workshop.toml"))


def lesson_keys():
    """Return the keys of all lessons: notebooks, then paths."""
    return (*(key for key in _book() if key.isdigit()), *_book()["paths"])


def lesson_plan(key, length=45):
    """Return the plan of a lesson.

    Parameters
    ----------
    key : str
        A notebook, "00" to "11", or a path: "apprentice", "self-builder", "designer".
    length : int
        Minutes: 45, 60, 90, or 360 for a practical day.

    Returns
    -------
    LessonPlan
        Its steps add up to the length.

    Raises
    ------
    InputError
        If there is no such lesson, or it has no such length.

    Examples
    --------
    >>> lesson_plan("01", 60).sentence()
    'The balloon: 60 minutes in 8 steps. The idea: a hole drains a volume, and refills per hour is a mean flow over a volume.'
    >>> sum(step.minutes for step in lesson_plan("designer", DAY).steps)
    360
    """
    key, book = str(key), _book()
    if key not in lesson_keys():
        raise InputError(f"Lesson is {key[:40]!r}. Choose one of: {', '.join(lesson_keys())}.")
    path = book["paths"].get(key)
    lengths = (path or book[key]).get("lengths", LENGTHS)
    if length not in lengths:
        raise InputError(
            f"Lesson {key} is to last {length!r} minutes. It is written for "
            f"{', '.join(str(one) for one in lengths)} minutes"
            f"{f'; {DAY} is a practical day' if DAY in lengths else ''}."
        )
    steps = _path_steps(path[str(length)]) if path else _steps(key, LENGTHS.index(length))
    used = tuple(sorted({notebook for notebook, _ in steps if notebook.isdigit()}))
    lessons = [book[nb] for nb in used]
    most, few = (2, 1) if path else (4, 2)  # taken from each notebook
    outcomes = [_outcome(text) for one in lessons for text in one["outcomes"][:most]]
    return LessonPlan(
        key, f"{key} path" if path else lessons[0]["title"], (path or lessons[0])["idea"],
        (path or lessons[0])["for"], length, used, tuple(dict.fromkeys(outcomes)),
        *(_together(one[name] for one in lessons) for name in ("kit", "room", "care")),
        tuple(step for _, step in steps), _together(one["extension"][:few] for one in lessons),
        book[steps[-1][0]]["ticket"],
    )  # fmt: skip


def _outcome(text):
    coded = _CODE.fullmatch(text)
    return coded.groups() if coded else ("", text)


def _together(lists):
    """Return texts of several lists, each once; a text of its own counts as a list of one."""
    return tuple(dict.fromkeys(
        text for one in lists for text in ([one] if isinstance(one, str) else one)
    ))  # fmt: skip


def _step(notebook, name, minutes, mark=""):
    book = _book()
    words = book.get(notebook, {}).get(name) if name != "ticket" else None
    you, they, board = words or book["every"][name]
    return notebook, Step(name, minutes, f"{mark}{you}", they, board)


def _steps(notebook, place):
    return [_step(notebook, name, minutes[place]) for name, minutes in _MINUTES if minutes[place]]


def _path_steps(entries):
    """Return the steps of a path; "01 18" is predict, try and explain of 01 in 18 minutes."""
    steps = []
    for entry in entries:
        notebook, *name, minutes = entry.split()
        minutes, mark = int(minutes), f"{notebook}. " if notebook.isdigit() else ""
        if name:
            steps.append(_step(notebook, name[0], minutes, mark))
            continue
        guess, look = minutes // 5, minutes // 2
        parts = {"predict": guess, "try": look, "explain": minutes - guess - look}
        steps += [_step(notebook, part, length, mark) for part, length in parts.items()]
    return steps
