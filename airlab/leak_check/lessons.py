"""What did the check teach for the next job: line by line, leakage foreseen against leaks found?"""

from dataclasses import dataclass

from airlab.design import budget_entries
from airlab.leak_check.leak import INTENTIONAL, NOT_A_LEAK
from airlab.leak_check.log import Log
from airlab.words import show_percent
from airlab.words.saying import alike

__all__ = ["JobLessons", "LineLesson", "job_lessons"]

_COMMON = {
    "joint",
    "joints",
    "hole",
    "holes",
    "outer",
    "walls",
    "wall",
    "the",
    "and",
    "pipe",
    "pipes",
}
# Ours: twice its share; a tenth of the budget; leaks that make a pattern.
_MORE, _MUCH, _FEW = 2.0, 0.10, 2


@dataclass(frozen=True, slots=True)
class LineLesson:
    """One line of the budget: share foreseen at the check, leaks found there.

    Parameters
    ----------
    name : str
        Line of the budget.
    foreseen : float
        Its share of the leakage in place at the check, middle case. [-]
    leaks : tuple of int
        Numbers on the tags.
    strong : int
        How many of them were strong.
    found : float
        Share of what was found; 0 where nothing was. [-]
    """

    name: str
    foreseen: float
    leaks: tuple[int, ...]
    strong: int
    found: float

    @property
    def hint(self):
        """What to ask before the next job; empty where found and foreseen agree."""
        if len(self.leaks) >= _FEW and self.found > _MORE * self.foreseen:
            return "more than foreseen: change the detail, or brief whoever makes it"
        if self.foreseen >= _MUCH and not self.leaks:
            return "much foreseen, none found: was it looked at, or is its figure too high?"
        return ""

    def sentence(self, units="metric"):
        """Return foreseen and found in words."""
        count = f"{len(self.leaks)} leak{'' if len(self.leaks) == 1 else 's'}"
        name = self.name[:1].upper() + self.name[1:]
        text = f"{name}: {show_percent(self.foreseen)} foreseen, {count}, {show_percent(self.found)} of what was found"
        return f"{text}; {self.hint}." if self.hint else f"{text}."


@dataclass(frozen=True, slots=True)
class JobLessons:
    """Foreseen and found, line by line.

    Parameters
    ----------
    lines : tuple of LineLesson
        Most foreseen first.
    nowhere : tuple of int
        Leaks that no line of the budget stands for.
    by_flow : bool
        Whether shares found are of flows; else of the number of leaks.
    foreseen_flow : float
        Middle case of what is in place at the check, at 50 Pa. [m3/s]
    """

    lines: tuple[LineLesson, ...]
    nowhere: tuple[int, ...]
    by_flow: bool
    foreseen_flow: float

    def sentence(self, units="metric"):
        """Return how many leaks have a line, and the lines that differ most."""
        total = len(self.nowhere) + sum(len(one.leaks) for one in self.lines)
        if not total:
            return "No leak is in the log, so found cannot be held against foreseen."
        how = "their flows" if self.by_flow else "their number, for not every leak has a size"
        text = [
            f"{total - len(self.nowhere)} of {total} leaks belong to a line of the budget. Shares found go by {how}."
        ]
        odd = [one for one in self.lines if one.hint and one.leaks]
        text += [one.sentence(units) for one in odd[:3]]
        return " ".join((*text, "One house teaches little about the next."))


def job_lessons(budget, rooms=(), envelope=(), junctions=(), log=None):
    """Return leakage foreseen by the budget against leaks in the log, line by line.

    Parameters
    ----------
    budget : iterable of BudgetLine
        The budget.
    rooms, envelope, junctions : iterable
        The house.
    log : Log or None
        The leaks; what was no leak, or is meant to be there, does not count.

    Returns
    -------
    JobLessons
        Leaks are given to lines by the words of their place, the first that a line knows.

    Raises
    ------
    InputError
        If a line of the budget cannot be used.

    References
    ----------
    [AIRLAB] which difference is worth a question.
    """
    foreseen, words = {}, {}
    for entry in budget_entries(budget, rooms, envelope, junctions)[0]:
        name = entry.line.item if entry.line else entry.name
        foreseen[name] = foreseen.get(name, 0.0) + entry.middle * entry.now
        words[name] = _words(name, entry.line.sizes_from if entry.line else "")
    leaks = [one for one in (log or Log()).leaks if one.state not in (NOT_A_LEAK, INTENTIONAL)]
    by_flow = bool(leaks) and all(one.flow for one in leaks)
    weight = {one.number: one.flow if by_flow else 1.0 for one in leaks}
    held = {name: [] for name in foreseen}
    nowhere = []
    for leak in leaks:
        line = _line_of(leak, words)
        (held[line] if line else nowhere).append(leak)
    whole, total = sum(weight.values()) or 1.0, sum(foreseen.values())
    lines = [
        LineLesson(
            name, flow / total, tuple(one.number for one in held[name]),
            sum(one.strength == 3 for one in held[name]),
            sum(weight[one.number] for one in held[name]) / whole,
        )
        for name, flow in foreseen.items() if flow or held[name]
    ]  # fmt: skip
    lines.sort(key=lambda one: -one.foreseen)
    return JobLessons(tuple(lines), tuple(one.number for one in nowhere), by_flow, total)


def _words(name, sizes_from):
    """Return what in the place of a leak points to a line: whole names first, then single words."""
    whole = [alike(name), *(alike(part) for part in sizes_from.split("+") if part.strip())]
    single = [
        word.rstrip("s") for word in alike(name).split() if len(word) > 3 and word not in _COMMON
    ]
    return tuple(dict.fromkeys((*whole, *single)))


def _line_of(leak, words):
    """Return the line whose word comes first in the place, the longest of those; None without."""
    place = f" {alike(leak.place)} {alike(leak.area)} "
    hits = [
        (place.index(f" {key}"), -len(key), order, name)
        for order, (name, keys) in enumerate(words.items()) for key in keys if f" {key}" in place
    ]  # fmt: skip
    return min(hits)[-1] if hits else None
