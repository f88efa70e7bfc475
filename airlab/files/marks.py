"""Where are a class's attempts kept, and how are they collected again?

Each learner has one plain table in `class/` of the jobs folder; nothing leaves the machine. A
teacher copies the files of many machines into one folder; a file that cannot be read is named and
left out. The last class stands in one small file.
"""

import json
from collections import Counter
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from pathlib import Path

from airlab.files.places import data_folder, jobs_folder
from airlab.files.saving import read_bytes, save_bytes
from airlab.files.tables import parse_table, read_table, render_table
from airlab.teaching.board import class_board
from airlab.teaching.marks import GUESSES, MARKS, Guess, Try, in_order, learner_code, try_of
from airlab.teaching.practice import RESULTS
from airlab.words import InputError

__all__ = ["ClassFiles", "ClassState", "Marks", "class_folder", "demo_class", "export_class",
           "last_class", "read_class", "remember_class"]  # fmt: skip

_STATE = "last_class.json"
_EXPORT = "class_export.csv"
_KINDS = (MARKS, RESULTS, GUESSES)
_LARGEST = 5_000_000  # bytes; a class's table is far below
_MOST = 1000  # files
_DEEP = (
    "",
    "*/",
    "*/*/",
    "*/jobs/class/",
)  # the last: folders of tablets on the teacher's computer
_SPARE = ".previous"


def class_folder():
    """Return the folder of the class: `class` in the jobs folder."""
    return jobs_folder() / "class"


def demo_class():
    """Return the folder of the invented class that comes with the workbook."""
    return data_folder() / "demo_class"


class Marks:
    """Keeps the attempts of one learner in a table of their own.

    Parameters
    ----------
    learner : str or int
        Number or code; no name.
    folder : path or None
        Folder of the class; None takes `class` in the jobs folder.
    """

    def __init__(self, learner, folder=None):
        self.learner = learner_code(learner)
        self.folder = class_folder() if folder is None else Path(folder)
        self.path = self.folder / f"marks-{self.learner}.csv"

    def keep(self, said, answer, reason="", time_s=None):
        """Keep an attempt at an exercise and return its `Try`.

        Raises
        ------
        InputError
            If the table cannot be read or written; the attempt is then not kept, and it says so.
        """
        mark = try_of(self.learner, said, answer, reason, time_s)
        self._add(self.path, MARKS, mark)
        return mark

    def keep_grade(self, grade, reason=""):
        """Keep the points of an open task and return its `Try`."""
        mark = grade.kept(self.learner, reason)
        self._add(self.path, MARKS, mark)
        return mark

    def keep_guess(self, question, guess, result, unit=""):
        """Keep what was guessed and what came out, in one unit."""
        said = Guess(str(question), float(guess), float(result), unit, self.learner)
        self._add(self.folder / f"guesses-{self.learner}.csv", GUESSES, said)
        return said

    def marks(self):
        """Return what is kept of this learner so far."""
        return tuple(map(Try.from_row, read_table(self.path, MARKS).rows))

    def _add(self, path, table, record):
        """Add a row under the folder's lock; whoever else adds one meanwhile keeps it."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise InputError(
                f"Not kept: the folder {self.folder.name}: {error.strerror}."
            ) from None

        def make(old):
            if old is None:
                return render_table(table, [record.to_row()])
            disk = parse_table(old, table, path.name)
            return render_table(table, [*disk.rows, record.to_row()], disk.columns, disk.separator)

        saved = save_bytes(path, make)
        if not saved.written:
            raise InputError(" ".join(saved.notes))


@dataclass(frozen=True, slots=True)
class ClassFiles:
    """What was collected from a folder.

    Parameters
    ----------
    folder : Path
        Where from.
    marks : tuple of Try
        Attempts, each once.
    hunts : tuple of dict
        Rows of days in practice houses, each once.
    guesses : tuple of Guess
        Guesses and what came out.
    read : tuple of str
        Files that were read.
    skipped : tuple of (str, str)
        File that was left out, and why.
    """

    folder: Path
    marks: tuple[Try, ...] = ()
    hunts: tuple[dict, ...] = ()
    guesses: tuple[Guess, ...] = ()
    read: tuple[str, ...] = ()
    skipped: tuple[tuple[str, str], ...] = ()

    def board(self):
        """Return the class as one record."""
        return class_board(self.marks, self.hunts, self.guesses)

    def sentence(self, units="metric"):
        """Return how many files were read and which were left out."""
        count = f"{len(self.read)} {'file' if len(self.read) == 1 else 'files'} read"
        if not self.skipped:
            return f"{count}."
        return (
            f"{count}, {len(self.skipped)} left out: {', '.join(name for name, _ in self.skipped)}."
        )


def read_class(folder=None):
    """Return what a class's tables hold: marks, days in practice houses, guesses.

    Every CSV in the folder, two folders deep, and where each tablet keeps its own, is tried; which
    table it is, its columns tell.

    Parameters
    ----------
    folder : path or None
        Where the files were copied to; None takes the class's own folder.

    Returns
    -------
    ClassFiles
        What could be read, and the names of what could not, with the reason.

    Raises
    ------
    InputError
        If there is no such folder.
    """
    folder = class_folder() if folder is None else Path(folder).expanduser()
    if not folder.is_dir():
        raise InputError(
            f"There is no folder {folder.name!r}. Copy the files of the class into one folder."
        )
    kept, read, skipped = {table.name: {} for table in _KINDS}, [], []
    paths = sorted(path for deep in _DEEP for path in folder.glob(f"{deep}*.[cC][sS][vV]"))
    if len(paths) > _MOST:
        raise InputError(
            f"{folder.name} holds {len(paths)} tables. Copy those of the class into a folder of their own."
        )
    for path in paths:
        if _SPARE in path.name or path.name == _EXPORT or path.name.startswith("."):
            continue
        name = path.relative_to(folder).as_posix()
        try:
            found = _one(path)
        except InputError as error:
            skipped.append((name, str(error).replace("\n", " ")))
            continue
        _take(kept[found.table.name], found)
        read.append(name)
    marks, hunts, guesses = (tuple(kept[table.name].values()) for table in _KINDS)
    return ClassFiles(
        folder, tuple(map(Try.from_row, marks)), hunts, tuple(map(Guess.from_row, guesses)),
        tuple(read), tuple(skipped),
    )  # fmt: skip


def _take(kept, found):
    """Add rows: an attempt by its name, other rows by content, so that a copied file counts once."""
    seen = Counter()
    for row in found.rows:
        cells = tuple(str(row.get(column.name)) for column in found.table.columns)
        seen[cells] += 1  # the same row twice in one file is two acts
        kept.setdefault(row["attempt"] if found.table is MARKS else (cells, seen[cells]), row)


def _one(path):
    """Return the table of a file whose columns name one of ours."""
    try:
        if path.stat().st_size > _LARGEST:
            raise InputError(f"{path.name} is too large for a table of a class.")
    except OSError as error:
        raise InputError(f"{path.name} cannot be read: {error.strerror}.") from None
    content = read_bytes(path) or b""
    refused = None
    for table in _KINDS:
        try:
            found = parse_table(content, table, path.name)
        except InputError as error:
            if refused is None or f"{path.name} has no column" not in str(error):
                refused = error
            continue
        if table is MARKS:
            for row in found.rows:
                row["learner"] = learner_code(row["learner"])
        return found
    if f"{path.name} has no column" in str(refused):
        raise InputError(f"{path.name} is no table of a class.")
    raise refused


def export_class(found, path=None):
    """Write every attempt of a class into one table that a spreadsheet opens, and return its path.

    A cell that a spreadsheet would run as a formula gets an apostrophe before it.

    Parameters
    ----------
    found : ClassFiles
        What was collected.
    path : path or None
        File to write; None takes `class_export.csv` in the class's own folder.
    """
    path = class_folder() / _EXPORT if path is None else Path(path)
    if not found.marks:
        raise InputError("There is no attempt to export yet.")
    path.parent.mkdir(parents=True, exist_ok=True)
    ordered = sorted(
        found.marks, key=lambda mark: (in_order(mark.learner), mark.exercise, str(mark.when))
    )
    saved = save_bytes(path, lambda old: render_table(MARKS, [mark.to_row() for mark in ordered]))
    if not saved.written:
        raise InputError(" ".join(saved.notes))
    return path


@dataclass(frozen=True, slots=True)
class ClassState:
    """The last class: what was taught, for how long, with which numbers, what was on show."""

    lesson: str = "01"
    minutes: int = 45
    students: int = 12
    seed: int = 1
    view: str = ""
    when: str = ""

    def sentence(self, units="metric"):
        """Return the class in words."""
        what = f"notebook {self.lesson}" if self.lesson.isdigit() else f"path of the {self.lesson}"
        return f"Last class, {self.when[:16]}: {what}, {self.students} students, class seed {self.seed}."


def last_class():
    """Return the last class; the default where there was none or its file cannot be read."""
    try:
        found = json.loads((read_bytes(class_folder() / _STATE) or b"{}").decode("utf-8-sig"))
        known = asdict(ClassState())
        kept = {key: value for key, value in found.items() if type(value) is type(known.get(key))}
        return ClassState(**kept)
    except (ValueError, AttributeError, InputError):
        return ClassState()


def remember_class(**changes):
    """Keep the last class with what changed, and return it."""
    state = replace(
        last_class(),
        **changes,
        when=datetime.now().astimezone().isoformat(sep=" ", timespec="minutes"),
    )
    class_folder().mkdir(parents=True, exist_ok=True)
    content = (json.dumps(asdict(state), indent=2) + "\n").encode()
    save_bytes(class_folder() / _STATE, lambda old: content)
    return state
