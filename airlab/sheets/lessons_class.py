"""How does every student of a class get numbers of their own, and the teacher one key to all?

Nobody's name is needed: students are 1 to N. Class seed and number give the exercises, the same on
every machine. Each sheet bears a short check mark of what is printed on it, and the key repeats
it. Hand-outs and key are two files in two folders, so that one can be given away without the other.
"""

import hashlib
import re
from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache, lru_cache
from html import unescape
from pathlib import Path
from random import Random

from airlab.files import demo_job
from airlab.sheets.facts import facts_of
from airlab.sheets.glossary import named_sources
from airlab.sheets.keeping import PackPages, write_pages
from airlab.sheets.lesson import asked, said, tolerances, worth
from airlab.sheets.lesson_room import height_of, room_on
from airlab.sheets.lessons_guesses import guesses
from airlab.sheets.pack import pages_folder
from airlab.sheets.page import make_page
from airlab.teaching import exercise, exercises_for, variants_for
from airlab.teaching.lessons import lesson_keys, lesson_plan
from airlab.words import InputError, require_choice
from airlab.words.units import UNITS

__all__ = [
    "MOST_STUDENTS", "ClassSheets", "SheetMatch", "altered_sheets", "class_exercises", "match_sheet", "print_class",
    "student_seed",
]  # fmt: skip

MOST_STUDENTS = 99
_MOST_SEED = 9999
_OWN, _MOST = 4, 6  # exercises with numbers of their own, and all on the front
_DRAWN = 2  # exercises on a drawing, on the back
_SIGNS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"  # none that is taken for another
_UNITS = "|".join(
    sorted((re.escape(one.label) for one in UNITS.values() if one.label), key=len, reverse=True)
)
_NUMBER = re.compile(  # a number of a question with its unit; no key such as 01-1, no fraction such as 2/3
    rf"(?<![\w./-])(?<!ISO )[−-]?\d+(?:[.,]\d+)?(?![/-]?\d|[.,]\d)(?:\s?(?:Wh|{_UNITS})(?![\w/]))?"
)


@dataclass(frozen=True, slots=True)
class ClassSheets:
    """Hand-outs and key of one class: files, and the check mark of each student in order."""

    notebook: str
    seed: int
    handouts: PackPages
    key: PackPages
    marks: tuple[str, ...]

    def sentence(self, units="metric"):
        """Return what was written where."""
        where = (f"{one.pack.parent.name}/{one.pack.name}" for one in (self.handouts, self.key))
        notes = (*self.handouts.notes, *self.key.notes)
        return " ".join((
            f"Notebook {self.notebook}, class seed {self.seed}: {len(self.marks)} hand-outs in {next(where)}, their key "
            f"in {next(where)}. Open them in a browser and print on A4 or Letter. Give away the first folder only.",
            *notes,
        ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class SheetMatch:
    """Whose sheet bears a check mark; `owner` is 0 and `notebook` empty where nobody's does."""

    seed: int
    student: int
    mark: str
    notebook: str = ""
    owner: int = 0

    @property
    def belongs(self):
        """Whether it is the sheet of the student who hands it in."""
        return self.owner == self.student

    def sentence(self, units="metric"):
        """Return whose sheet it is."""
        head = f"Check mark {self.mark}, class seed {self.seed}"
        if self.belongs:
            return f"{head}: the sheet of student {self.student}, notebook {self.notebook}."
        if self.owner:
            return (f"{head}: not the sheet of student {self.student} but of student {self.owner}, notebook "
                    f"{self.notebook}. Two sheets are mixed up, or one was copied.")  # fmt: skip
        return (f"{head}: no student of this class has such a sheet. Another class, a mark misread, or a sheet that "
                "was changed.")  # fmt: skip


def student_seed(seed, student):
    """Return the number under which the exercises of one student are drawn.

    Parameters
    ----------
    seed : int
        Of the class, 1 to 9999.
    student : int
        1 to 99.

    Examples
    --------
    >>> student_seed(7, 3)
    703
    """
    for name, value, most in (
        ("Class seed", seed, _MOST_SEED),
        ("Student", student, MOST_STUDENTS),
    ):
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
            raise InputError(f"{name} is {value!r}. A whole number from 1 to {most} is needed.")
    return seed * (MOST_STUDENTS + 1) + student


@lru_cache(1024)
def class_exercises(notebook, seed, student):
    """Return the exercises on the sheet of one student: the same for the class, numbers of their own.

    Parameters
    ----------
    notebook : str
        Its two digits.
    seed : int
        Of the class; it also chooses which exercises are given.
    student : int
        1 to 99.
    """
    number, own, dice = (
        student_seed(seed, student),
        _with_own(notebook),
        Random(f"{notebook}/{seed}"),
    )
    bases = {one.key: one for one in exercises_for(notebook)}
    drawn = sorted((base not in own, dice.random(), base) for base in bases)
    own_first = [base for rest, _, base in drawn if not rest][:_OWN]
    others = [base for rest, _, base in drawn if rest]
    pictures = [base for base in others if hasattr(bases[base], "places")]
    chosen, room = [], room_on(notebook)
    for base in (*own_first, *(base for base in others if base not in pictures)):
        if len(chosen) < _MOST and height_of(bases[base]) <= room:
            chosen.append(base)
            room -= height_of(bases[base])
    views = {id(bases[base].view()): base for base in reversed(pictures)}  # one of each drawing
    back = sorted(views.values(), key=pictures.index)[:_DRAWN]
    front = [base for base in bases if base in chosen]
    return tuple(exercise(f"{base}/{number}") for base in (*front, *back))


@cache
def _with_own(notebook):
    return frozenset(one.key.partition("/")[0] for one in variants_for(notebook, 1))


def _mark(notebook, seed, student, texts):
    printed = "\n".join((notebook, str(seed), str(student), *texts))
    digest = hashlib.sha256(printed.encode("utf-8")).digest()
    return "".join(_SIGNS[byte % len(_SIGNS)] for byte in digest[:6])


def _texts(exercises):
    return [
        text
        for one in map(asked, exercises)
        for text in (one["question"], *_written(one["drawing"]), *(t for _, t in one["parts"]))
    ]


def _written(drawing):
    """Return what is written in a drawing, so that the check mark covers its numbers."""
    return [" ".join(re.sub(r"<[^>]+>", " ", drawing).split())] if drawing else []


def _mark_of(notebook, seed, student):
    return _mark(notebook, seed, student, _texts(class_exercises(notebook, seed, student)))


def print_class(notebook, students, seed, folder=None, job=None, moment=None):
    """Write the hand-outs of a class as one file and their key as another.

    Parameters
    ----------
    notebook : str
        Its two digits, such as "01"; one that has exercises.
    students : int
        How many, 1 to 99. No names.
    seed : int
        Number of the class, 1 to 9999; another seed gives other numbers.
    folder : path or None
        Where to; None is the folder `pages` of the job (for the demo, one among your jobs).
    job : Job or None
        House and units of the guesses; None is the demo house.
    moment : datetime or None
        Time of printing; None is now.

    Returns
    -------
    ClassSheets
        Files and check marks; the folder `students` holds no answers, `teacher` holds the key.

    Raises
    ------
    InputError
        If the notebook has no exercises, a number is out of range, or the folder may not be written.
    """
    job = job or demo_job()
    notebook = _notebook(notebook)
    student_seed(seed, students)
    facts = facts_of(job, False, moment or datetime.now().astimezone())
    sheets = {n: class_exercises(notebook, seed, n) for n in range(1, students + 1)}
    marks = {n: _mark(notebook, seed, n, _texts(sheet)) for n, sheet in sheets.items()}
    pages = [_sheet(facts, notebook, seed, n, sheets[n], marks[n], students) for n in sheets]
    to, name = Path(folder or pages_folder(job)), f"{notebook}-seed-{seed}"
    return ClassSheets(
        notebook, seed,
        write_pages(pages, to / "students", f"handouts-{name}", singles=False, title="Hand-outs"),
        write_pages([_key(facts, notebook, seed, sheets, marks)], to / "teacher", f"key-{name}", singles=False,
                    title="Answer key"), tuple(marks.values()),
    )  # fmt: skip


def _notebook(notebook):
    notebook = str(notebook)
    listed = [key for key in lesson_keys() if key.isdigit() and exercises_for(key)]
    require_choice("notebook", notebook, listed)
    return notebook


def _head(facts, seed, **rest):
    return replace(facts.heading, name=f"Class {seed}", place="", **rest)


def _sheet(facts, notebook, seed, student, exercises, mark, students):
    plan = lesson_plan(notebook)
    whose = {
        "number": student_seed(seed, student),
        "student": student,
        "students": students,
        "notebook": notebook,
        "seed": seed,
        "mark": mark,
    }
    page = make_page(
        "handout", f"{plan.title}: hand-out", "Guess first, then look, then reckon.", _head(facts, seed, invented=False),
        computed=(), care=plan.care, whose=whose, ticket=plan.ticket,
        guesses=[(question, "", "") for question, _ in guesses(notebook, facts)],
        exercises=[asked(one) for one in exercises], worth=worth(facts, exercises),
    )  # fmt: skip
    return replace(page, key=f"student-{student}", title=f"{page.title}, student {student}")


def _key(facts, notebook, seed, sheets, marks):
    """Return one page: a row for each student, then each exercise with every student's numbers."""
    columns = list(zip(*sheets.values()))
    bases = [one.key.partition("/")[0] for one, *_ in columns]
    seen = guesses(notebook, facts)
    return make_page(
        "class_key", f"{lesson_plan(notebook).title}: key for the class", "For the teacher; keep it apart from the hand-outs.",
        _head(facts, seed), computed=seen, sources=named_sources("DERIVED"),
        guesses=seen, bases=bases, worth=worth(facts, sheets[1]), tolerance=tolerances(one for sheet in sheets.values() for one in sheet),
        rows=[(student_seed(seed, n), marks[n], *map(_short, sheet)) for n, sheet in sheets.items()],
        exercises=[_of_class(base, column, [student_seed(seed, n) for n in sheets])
                   for base, column in zip(bases, columns)],
    )  # fmt: skip


def _short(one):
    """Return the right answer as a cell: letters or places alone where the words stand below."""
    if hasattr(one, "places"):
        return one.answer().replace(" ", ", ")
    return one.told().split(" ")[0] if hasattr(one, "options") else one.told()


def _of_class(base, exercises, numbers):
    """Return what the key prints of one exercise for all students."""
    first = exercises[0]
    wrong = [said(one) for one in exercises]
    own = len({one.question for one in exercises}) > 1
    rows = []
    if own:
        most = max(map(len, wrong))
        rows = [
            (n, ", ".join(found.group().strip() for found in _NUMBER.finditer(one.question)), one.told(),
             *(text for text, _ in slips), *("" for _ in range(most - len(slips))))
            for n, one, slips in zip(numbers, exercises, wrong)
        ]  # fmt: skip
    hints = [hint for _, hint in wrong[0]] if own else wrong[0]
    return {"base": base, "asked": asked(first), "own": own, "rows": rows, "hints": hints, "explain": first.explain,
            "answer": first.told(), "same": not first.parts()}  # fmt: skip


def match_sheet(seed, student, mark, notebook=None):
    """Return whose sheet bears that check mark: the student's own, another's, or nobody's.

    Parameters
    ----------
    seed : int
        Of the class.
    student : int
        Number on the sheet: 3, or 703 with its class.
    mark : str
        Check mark on the sheet; small letters and blanks do not matter.
    notebook : str or None
        Its two digits; None looks at all.

    Returns
    -------
    SheetMatch
        It prints as a sentence.
    """
    if isinstance(student, int) and student > MOST_STUDENTS:
        seed, student = divmod(student, MOST_STUDENTS + 1)
    student_seed(seed, student)
    mark = re.sub(r"\W", "", str(mark)).upper()[:12]
    every = [key for key in lesson_keys() if key.isdigit() and exercises_for(key)]
    looked = [_notebook(notebook)] if notebook else every
    for owner in (student, *(n for n in range(1, MOST_STUDENTS + 1) if n != student)):
        for one in looked:
            if _mark_of(one, seed, owner) == mark:
                return SheetMatch(seed, student, mark, one, owner)
    return SheetMatch(seed, student, mark)


_HEAD = re.compile(
    r'Your number: (\d+)</span>&emsp;student (\d+) of (\d+) .*?notebook (\d\d) · class seed (\d+) · check mark '
    r'<b class="mark">(\w+)</b>',
    re.S,
)  # fmt: skip


def altered_sheets(path):
    """Return whose sheets in a file of hand-outs do not fit their mark, are missing or stand twice.

    Parameters
    ----------
    path : path
        File of hand-outs, as written or as it came back.

    Raises
    ------
    InputError
        If it holds no hand-outs.
    """
    try:
        sections = Path(path).read_text(encoding="utf-8").split("<section")[1:]
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"{Path(path).name} cannot be read: {error}.") from None
    heads = [(_HEAD.search(section), section) for section in sections]
    if not any(head for head, _ in heads):
        raise InputError(f"{Path(path).name} holds no hand-outs of a class.")
    students = Counter(int(head[2]) for head, _ in heads if head)
    most = max(int(head[3]) for head, _ in heads if head)
    altered = {n for n in {*students, *range(1, most + 1)} if students[n] != 1}
    for head, section in heads:
        number, student, _, notebook, seed, mark = (
            head.groups() if head else ("0", "0", "", "", "0", "")
        )
        texts = [
            unescape(text) if text else _written(drawing)[0]
            for text, drawing in re.findall(
                r'<span class="q">(.*?)</span>|(<svg.*?</svg>)', section, re.S
            )
        ]
        if not (
            head
            and int(number) == student_seed(int(seed), int(student))
            and mark == _mark(notebook, seed, student, texts)
            and mark == _mark_of(notebook, int(seed), int(student))
        ):
            altered.add(int(student))
    return tuple(sorted(altered))
