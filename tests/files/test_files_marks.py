"""A class's files: kept through a kill, safe in a spreadsheet, forty of them with some broken."""

import csv
import io
import multiprocessing
import os
import shutil
import subprocess
import sys

import pytest

from airlab.files import read_table, saving
from airlab.files.marks import (
    ClassState,
    Marks,
    class_folder,
    demo_class,
    export_class,
    last_class,
    read_class,
    remember_class,
)
from airlab.files.practice_houses import save_result
from airlab.teaching import check
from airlab.teaching.marks import MARKS, grade, hint_reached
from airlab.words import InputError


def keep(learner, *answers, folder=None, key="01-1", **more):
    marks = Marks(learner, folder)
    for answer in answers:
        marks.keep(check(key, answer), answer, **more)
    return marks


# ---- one learner --------------------------------------------------------------------------------


def test_attempts_are_kept_in_a_plain_table_of_the_jobs_folder():
    marks = keep("07", 30, 15, reason="it is twice as wide", time_s=12.0)
    assert marks.path == class_folder() / "marks-7.csv"
    text = marks.path.read_text("utf-8-sig")
    assert text.splitlines()[0] == (
        "attempt,learner,exercise,answer,state,hint,reason,time_s,when,points,out_of"
    )
    first, last = marks.marks()
    assert (first.state, last.state) == ("not yet", "right")
    assert (first.reason, first.time_s) == ("it is twice as wide", 12.0)
    assert first.when.utcoffset() is not None
    marks.keep_grade(grade("D9", 2, 2, 1, 1, 1))
    assert marks.marks()[-1].points == 7


def test_columns_and_rows_of_others_stay():
    marks = keep(7, 30)
    text = marks.path.read_text().splitlines()
    marks.path.write_text("\n".join([f"{text[0]},teacher", f"{text[1]},well tried"]) + "\n")
    keep(7, 15)
    rows = read_table(marks.path, MARKS).rows
    assert [row["teacher"] for row in rows] == ["well tried", ""]


KILLED = """
import os, sys
from airlab.files.marks import Marks
from airlab.teaching import check

def deadly(name, real, step, count=[0]):
    def call(*args, **kwargs):
        count[0] += 1
        if count[0] == step:
            if name == "write":
                real(args[0], bytes(args[1])[: len(args[1]) // 2])
            os._exit(9)
        return real(*args, **kwargs)
    return call

said = check("01-1", 15)
for case in sys.argv[1:]:
    folder, step = case.split("|")
    if os.fork() == 0:
        for name in ("open", "write", "fsync", "close", "replace", "unlink"):
            setattr(os, name, deadly(name, getattr(os, name), int(step)))
        Marks(7, folder).keep(said, 15)
        os._exit(0)
    print(os.waitstatus_to_exitcode(os.wait()[1]))
"""


def test_killed_at_every_step_of_a_save(tmp_path):
    """Whichever call never returns: what was kept before is there, and the next save works."""
    if not hasattr(os, "fork"):
        pytest.skip("this system cannot fork a process")
    folders = [tmp_path / str(step) for step in range(1, 26)]
    keep(7, 30, folder=folders[0])
    for folder in folders[1:]:
        shutil.copytree(folders[0], folder)
    done = subprocess.run(
        [sys.executable, "-c", KILLED, *(f"{folder}|{folder.name}" for folder in folders)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    codes = [int(line) for line in done.stdout.split()]
    assert set(codes) == {0, 9}, done.stderr
    assert codes[-1] == 0, "the last step lies beyond the end of a save"
    lengths = set()
    for folder, code in zip(folders, codes, strict=True):
        states = [mark.state for mark in Marks(7, folder).marks()]
        assert states[:1] == ["not yet"] and states[1:] in ([], ["right"])
        assert code == 9 or len(states) == 2
        lengths.add((code, len(states)))
        for lock in folder.glob(saving.LOCK):
            os.utime(lock, (1, 1))
        keep(7, 120, folder=folder)
        assert len(Marks(7, folder).marks()) == len(states) + 1
    assert {(9, 1), (9, 2), (0, 2)} <= lengths


def _many(folder, start):
    for number in range(start, start + 5):
        keep(7, number, folder=folder)


def test_two_panels_of_one_learner_lose_nothing(tmp_path):
    made = [multiprocessing.Process(target=_many, args=(tmp_path, 100 * n)) for n in range(1, 4)]
    for one in made:
        one.start()
    for one in made:
        one.join(60)
    assert {mark.answer for mark in Marks(7, tmp_path).marks()} == {
        str(100 * n + k) for n in range(1, 4) for k in range(5)
    }


def test_a_broken_table_is_said_and_left_as_it_is(tmp_path):
    marks = keep(7, 30, folder=tmp_path)
    marks.path.write_bytes(marks.path.read_bytes()[:-30])
    broken = marks.path.read_bytes()
    with pytest.raises(InputError, match=r"marks-7\.csv looks half-written"):
        keep(7, 15, folder=tmp_path)
    assert marks.path.read_bytes() == broken


FORMULAS = (
    '=HYPERLINK("http://x.invalid","y")',
    "@SUM(A1)",
    "+1+1",
    "-2+3",
    "=1;2",
    "＝1",
    "\t=1",
    "'=1",
)


def test_a_spreadsheet_runs_nothing(tmp_path):
    """Starts that spreadsheets take for a formula, as listed in public advice on CSV injection."""
    marks = Marks(7, tmp_path)
    for text in FORMULAS:
        marks.keep(check("01-1", text), text, reason=text)
    path = export_class(read_class(tmp_path), tmp_path / "out.csv")
    for file in (marks.path, path):
        cells = [c for row in csv.reader(io.StringIO(file.read_text("utf-8-sig"))) for c in row]
        assert not [
            c for c in cells if c[:1] in tuple("=+-@＝\t\r") and not c.lstrip("+-").isdigit()
        ]
    back = [mark.reason for mark in marks.marks()]
    assert back == [text.strip() for text in FORMULAS]


# ---- a class ------------------------------------------------------------------------------------


@pytest.fixture
def forty(tmp_path):
    """Forty files as they come in: sub-folders, copies, a spreadsheet's semicolons, eight broken."""
    folder = tmp_path / "collected"
    for n in range(1, 31):
        keep(
            n,
            *((30, 15) if n % 3 else (30,)),
            folder=folder / ("sticks" if n % 2 else "."),
            time_s=20.0 + n,
        )
    source = folder / "marks-2.csv"
    shutil.copy(source, folder / "marks-2 (1).csv")  # the same file twice
    text = (folder / "marks-4.csv").read_text().replace(",", ";")
    (folder / "marks-4.csv").write_text("\ufeff" + text.replace("24.0", "24,0"), encoding="utf-8")
    (folder / "half.csv").write_bytes(source.read_bytes()[:-40])
    (folder / "empty.csv").write_bytes(b"")
    (folder / "noise.csv").write_bytes(bytes(range(256)) * 20)
    (folder / "workbook.csv").write_bytes(b"PK\x03\x04 invented")
    (folder / "shopping.csv").write_text("item,price\ntape,12\n")
    (folder / "state.csv").write_text(source.read_text().replace("not yet", "perhaps"))
    (folder / "named.csv").write_text(source.read_text().replace(",2,01-1", ",Ann Miller,01-1"))
    (folder / "huge.csv").write_bytes(b"x" * 6_000_000)
    row = {"learner": "1", "house": "Yard", "seed": 7, "points": 40, "missed": "none"}
    save_result(folder / "practice.csv", row)
    return folder


BROKEN = {
    "half.csv",
    "empty.csv",
    "noise.csv",
    "workbook.csv",
    "shopping.csv",
    "state.csv",
    "named.csv",
    "huge.csv",
}


def test_forty_files_with_some_broken(forty):
    assert len([p for p in forty.rglob("*.csv") if ".previous" not in p.name]) == 40
    found = read_class(forty)
    assert {name for name, _ in found.skipped} == BROKEN
    assert len(found.read) == 32
    reasons = dict(found.skipped)
    for name, why in (("half.csv", "half-written"), ("empty.csv", "empty"), ("workbook.csv", "workbook"),
                      ("shopping.csv", "no table of a class"), ("state.csv", "state"),
                      ("named.csv", "A name is not needed"), ("huge.csv", "too large")):  # fmt: skip
        assert why in reasons[name], reasons[name]
    assert all(name in found.sentence() for name in BROKEN)
    assert found.sentence().startswith("32 files read, 8 left out: ")
    board = found.board()
    assert len(board.learners) == 30
    assert sum(tries for tries, _ in board.items[0].tries.values()) == 50  # 20 twice, 10 once
    assert board.slips[0].alive == tuple(str(n) for n in range(3, 31, 3))
    assert len(board.hunts[0].rows) == 1
    fourth = next(mark for mark in found.marks if mark.learner == "4")
    assert fourth.time_s == 24.0


def test_the_copy_before_is_not_counted(tmp_path):
    keep(7, 30, 15, 120, folder=tmp_path)
    assert (tmp_path / "marks-7.previous.csv").exists()
    assert len(read_class(tmp_path).marks) == 3


def test_folders_of_tablets_are_read_as_they_stand(tmp_path):
    for seat in (1, 2):
        keep(seat, 30, folder=tmp_path / f"student{seat}" / "jobs" / "class")
    assert read_class(tmp_path).board().learners == ("1", "2")


def test_a_row_a_learner_did_twice_counts_twice(tmp_path):
    row = {"learner": "1", "house": "Yard", "seed": 7, "points": 40, "missed": "none"}
    for _ in range(2):
        save_result(tmp_path / "practice.csv", row)
    shutil.copy(tmp_path / "practice.csv", tmp_path / "copy.csv")
    assert len(read_class(tmp_path).hunts) == 2


def test_export_holds_every_attempt_once_and_is_not_read_again(forty):
    found = read_class(forty)
    path = export_class(found)
    assert path == class_folder() / "class_export.csv"
    rows = read_table(path, MARKS).rows
    assert len(rows) == 50
    assert [row["learner"] for row in rows[:5]] == ["1", "1", "2", "2", "3"]
    assert read_class().marks == ()
    with pytest.raises(InputError, match="no attempt to export"):
        export_class(read_class())


def test_a_folder_that_is_not_there():
    with pytest.raises(InputError, match="There is no folder 'nowhere'"):
        read_class("nowhere")


def test_a_folder_of_everything_is_not_read(tmp_path):
    for number in range(1001):
        (tmp_path / f"{number}.csv").touch()
    with pytest.raises(InputError, match="1001 tables"):
        read_class(tmp_path)


def test_guesses_are_collected(tmp_path):
    Marks(3, tmp_path).keep_guess("flat after", 60.0, 30.0, "s")
    (guess,) = read_class(tmp_path).guesses
    assert (guess.learner, guess.guess, guess.result, guess.unit) == ("3", 60.0, 30.0, "s")


def test_the_invented_class_is_whole_but_for_one_file():
    found = read_class(demo_class())
    assert [name for name, _ in found.skipped] == ["marks-9.csv"]
    board = found.board()
    assert len(board.learners) >= 10 and board.hunts and board.predictions and board.grades
    assert any(slip.alive for slip in board.slips)
    for mark in found.marks:
        if mark.state != "graded":  # what it holds is what the exercises say today
            said = check(mark.exercise, mark.answer)
            assert (mark.state, mark.hint) == (said.state, hint_reached(said)), mark


# ---- the last class -----------------------------------------------------------------------------


def test_the_last_class_comes_back():
    assert last_class() == ClassState()
    remember_class(lesson="03", students=24)
    kept = remember_class(seed=5, view="hunt")
    assert last_class() == kept
    assert (kept.lesson, kept.students, kept.seed, kept.view) == ("03", 24, 5, "hunt")
    assert ": notebook 03, 24 students, class seed 5." in kept.sentence()


@pytest.mark.parametrize(
    "content", [b"", b"{", b"[1]", b"\xff\xfe\x00", b'{"students": "many", "odd": 1}']
)
def test_a_broken_state_starts_afresh(content):
    class_folder().mkdir(parents=True)
    (class_folder() / "last_class.json").write_bytes(content)
    assert last_class() == ClassState()
    assert remember_class(seed=3).seed == 3
