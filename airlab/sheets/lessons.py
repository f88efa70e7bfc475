"""Pages for a class from a command line: ``python -m airlab.sheets.lessons 01 --students 24 --seed 7``.

Writes the lesson plan, and for each notebook of the lesson with exercises every student's hand-out and one key.
``--match`` says whose sheet bears a check mark, ``--file`` which sheets of a file were changed.
"""

import argparse
import sys
from dataclasses import replace
from pathlib import Path

from airlab.files import demo_job
from airlab.files.marks import class_folder, remember_class
from airlab.sheets.keeping import write_pages
from airlab.sheets.lessons_class import altered_sheets, match_sheet, print_class
from airlab.sheets.pack import lesson_pages, print_lesson, print_workshop
from airlab.teaching import exercises_for
from airlab.teaching.lessons import DAY, LENGTHS, lesson_keys, lesson_plan
from airlab.words import InputError

__all__ = ["main"]


def _parser():
    parser = argparse.ArgumentParser(
        prog="python -m airlab.sheets.lessons", allow_abbrev=False,
        description="Print a lesson: plan, a hand-out for each student, one key. Nothing leaves this machine.",
    )  # fmt: skip
    add = parser.add_argument
    add(
        "lesson",
        help=f"one of {', '.join(lesson_keys())}; or workshop: rigs, skill cards, symbols, glossary",
    )
    add("--students", type=int, default=24, help="how many, 1 to 99 (24)")
    add("--seed", type=int, default=1, help="number of the class, 1 to 9999 (1)")
    add("--minutes", default="45", help=f"{', '.join(map(str, LENGTHS[:-1]))} or day (45)")
    add("--units", choices=("metric", "us"), default="metric", help="units of the pages (metric)")
    add("--folder", help="where to; by default class/pages among your jobs")
    add(
        "--match",
        nargs=2,
        metavar=("NUMBER", "MARK"),
        help="say whose sheet bears this check mark",
    )
    add(
        "--file",
        help="a file of hand-outs: say which sheets were changed, are missing or stand twice",
    )
    return parser


def _whole(name, text):
    """Return text as a whole number, or say what is wrong with it."""
    if not text.isdigit():
        raise InputError(f"{name} is {text[:20]!r}. A whole number is needed.")
    return int(text)


def _wanted(args):
    """Yield what the command says, one sentence after another."""
    lesson = f"{args.lesson:0>2}" if args.lesson.isdigit() else args.lesson
    if args.file:
        changed = altered_sheets(args.file)
        listed = ", ".join(map(str, changed))
        yield (
            f"Sheets changed, missing or standing twice: {listed}."
            if changed
            else "All sheets are there once and fit their check marks."
        )
        return
    if args.match:
        student, mark = _whole("Number", args.match[0]), args.match[1]
        yield match_sheet(args.seed, student, mark, lesson).sentence()
        return
    job = replace(demo_job(), units=args.units)
    folder = Path(args.folder or class_folder() / "pages")
    yield from _printed(args, lesson, job, folder)
    yield f"All of it lies in {folder.resolve()}"


def _printed(args, lesson, job, folder):
    """Print what the command names; yield what was printed."""
    if lesson == "workshop":
        yield print_workshop(job, folder).sentence()
        return
    length = DAY if args.minutes == "day" else _whole("Minutes", args.minutes)
    notebooks = [one for one in lesson_plan(lesson, length).notebooks if exercises_for(one)]
    if not notebooks:
        yield print_lesson(job, folder, lesson=lesson, length=length).sentence()
        return
    for notebook in notebooks:
        yield print_class(notebook, args.students, args.seed, folder, job).sentence()
    remember_class(lesson=lesson, minutes=length, students=args.students, seed=args.seed)
    plan = lesson_pages(job, None, lesson, length)[:1]
    yield write_pages(plan, folder / "teacher", name="").sentence()


def main(words=None):
    """Run the command; return 0, or 2 after a sentence that says what to change.

    Parameters
    ----------
    words : list of str or None
        Words of the command; None takes those of the command line.
    """
    args = _parser().parse_args(words)
    try:
        for sentence in _wanted(args):
            print(sentence)
    except InputError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
