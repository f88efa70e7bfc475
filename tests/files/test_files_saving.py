"""Saving: killed at every step, two writers, a full disk, a read-only folder, a held file."""

import errno
import os
import subprocess
import sys
import threading
import time

import pytest

from airlab.files import FileChanged, read_table, saving, write_table
from airlab.files.saving import save_bytes
from airlab.words import Column, InputError, Table

TAGS = Table("tags", "invented", (Column("tag", "text", "tag", required=True),), key="tag")
OLD, NEW = b"tag\nold\n", b"tag\nnew, and longer than before\n"


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "tags.csv"
    path.write_bytes(OLD)
    return path


def others(path):
    return sorted(p.name for p in path.parent.iterdir() if p != path)


# ---- what a save leaves -------------------------------------------------------------------------


def test_the_copy_before_is_kept_and_nothing_else_is_left(path):
    saved = save_bytes(path, lambda old: NEW)
    assert (saved.written, saved.notes) == (True, ())
    assert path.read_bytes() == NEW
    assert others(path) == ["tags.previous.csv"]
    assert path.with_name("tags.previous.csv").read_bytes() == OLD


def test_saving_the_same_again_keeps_the_copy_before(path):
    save_bytes(path, lambda old: NEW)
    save_bytes(path, lambda old: NEW)
    assert path.with_name("tags.previous.csv").read_bytes() == OLD


# ---- killed at every step -----------------------------------------------------------------------

# One process for each step of the save; the step's own call never returns.
KILLED = """
import os, sys
from airlab.files import saving

def deadly(name, real, step, how, count=[0]):
    def call(*args, **kwargs):
        count[0] += 1
        if count[0] == step:
            if name == "write" and how == "half":
                real(args[0], bytes(args[1])[: len(args[1]) // 2])
            os._exit(9)
        return real(*args, **kwargs)
    return call

new = bytes.fromhex(sys.argv[1])
for case in sys.argv[2:]:
    if os.fork() == 0:
        path, step, how = case.split("|")
        for name in ("open", "write", "fsync", "close", "replace", "unlink"):
            setattr(os, name, deadly(name, getattr(os, name), int(step), how))
        saving.save_bytes(path, lambda old: new)
        os._exit(0)
    print(os.waitstatus_to_exitcode(os.wait()[1]))
"""


def test_killed_at_every_step(tmp_path):
    if not hasattr(os, "fork"):
        pytest.skip("this system cannot fork a process")
    cases = [(step, how) for step in range(1, 22) for how in ("clean", "half")]
    wanted = []
    for step, how in cases:
        folder = tmp_path / f"{step}-{how}"
        folder.mkdir()
        (folder / "tags.csv").write_bytes(OLD)
        wanted.append(f"{folder / 'tags.csv'}|{step}|{how}")
    done = subprocess.run(
        [sys.executable, "-c", KILLED, NEW.hex(), *wanted],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    codes = [int(line) for line in done.stdout.split()]
    assert set(codes) == {0, 9}, done.stderr
    assert codes[-1] == 0, "the last step lies beyond the end of a save"
    seen = set()
    for (step, how), code in zip(cases, codes, strict=True):
        path = tmp_path / f"{step}-{how}" / "tags.csv"
        content = path.read_bytes()
        seen.add((code, content))
        assert content in (OLD, NEW), (step, how)
        if code == 0:
            assert content == NEW
        previous = path.with_name("tags.previous.csv")
        assert not previous.exists() or previous.read_bytes() == OLD, (step, how)
    assert (9, OLD) in seen
    assert (9, NEW) in seen
    # What a killed process left does not stop the next save, and is swept up by it.
    for step, how in cases:
        path = tmp_path / f"{step}-{how}" / "tags.csv"
        for lock in path.parent.glob(saving.LOCK):
            os.utime(lock, (1, 1))  # an unsigned lock is taken over when it is old
        save_bytes(path, lambda old: b"tag\nnext\n")
        assert path.read_bytes() == b"tag\nnext\n"
        assert others(path) == ["tags.previous.csv"]


# ---- two writers --------------------------------------------------------------------------------


def test_second_writer_is_told_and_writes_nothing(path):
    mine, theirs = read_table(path, TAGS), read_table(path, TAGS)
    now = write_table(path, TAGS, [*theirs.rows, {"tag": "theirs"}], theirs)
    with pytest.raises(FileChanged, match="reload, or keep mine as a copy"):
        write_table(path, TAGS, [*mine.rows, {"tag": "mine"}], mine)
    assert read_table(path, TAGS).rows == now.rows
    with pytest.raises(FileChanged):
        write_table(path, TAGS, [{"tag": "never opened"}])
    assert (
        write_table(path, TAGS, now.rows, mine).rows == now.rows
    )  # the same content is no quarrel


def test_a_file_that_went_away_is_written_again(path):
    mine = read_table(path, TAGS)
    path.unlink()
    write_table(path, TAGS, [*mine.rows, {"tag": "mine"}], mine)
    assert [row["tag"] for row in read_table(path, TAGS).rows] == ["old", "mine"]


def test_many_writers_lose_nothing(path):
    path.write_bytes(b"0\n")
    failed = []

    def add():
        try:
            for _ in range(10):
                save_bytes(path, lambda old: b"%d\n" % (int(old) + 1))
        except Exception as error:
            failed.append(error)

    threads = [threading.Thread(target=add) for _ in range(5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert int(path.read_bytes()) == 50


def test_a_lock_that_is_held_is_waited_for_then_said(path, monkeypatch):
    monkeypatch.setattr(saving, "LOCK_PATIENCE", 0.05)
    with saving._locked(path), pytest.raises(InputError, match="another program is saving"):
        save_bytes(path, lambda old: NEW)
    assert path.read_bytes() == OLD
    save_bytes(path, lambda old: NEW)
    assert path.read_bytes() == NEW


def test_locks_of_the_dead_are_taken_over(path):
    lock = path.with_name(saving.LOCK)
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    for text, age in (
        (f"{saving.socket.gethostname()} {gone.pid} x", 0.0 if os.name == "posix" else 60.0),
        ("another-computer 12 x", 60.0),
        ("", 60.0),
    ):
        lock.write_text(text, "utf-8")
        os.utime(lock, (time.time() - age,) * 2)
        save_bytes(path, lambda old: old + b"x\n")
        assert others(path) == ["tags.previous.csv"]
    assert path.read_bytes() == OLD + b"x\n" * 3


def test_a_lock_renewed_meanwhile_is_put_back(path):
    lock = path.with_name(saving.LOCK)
    lock.write_text("renewed", "utf-8")
    saving._take_over(lock, "the text of before")
    assert lock.read_text("utf-8") == "renewed"
    assert others(path) == [saving.LOCK]


# ---- refused by the disk ------------------------------------------------------------------------


@pytest.mark.parametrize("call", ["open", "write", "fsync"])
@pytest.mark.parametrize(
    ("number", "words"),
    [(errno.EROFS, "only be read"), (errno.EACCES, "only be read"), (errno.ENOSPC, "disk is full"),
     (errno.EIO, "was not saved")],
)  # fmt: skip
def test_refused_by_the_disk(path, monkeypatch, call, number, words):
    # Tests may run as a user whom permissions do not stop, so the refusal is acted.
    real = getattr(os, call)

    def refuse(first, *rest):
        if call == "open" and not str(first).endswith((".part", ".lock")):
            return real(first, *rest)
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, call, refuse)
    with pytest.raises(InputError, match=words) as caught:
        save_bytes(path, lambda old: NEW)
    monkeypatch.undo()
    assert "as it was" in str(caught.value)
    assert path.read_bytes() == OLD
    assert others(path) == []


def test_folder_gone(tmp_path):
    with pytest.raises(InputError, match="is gone"):
        save_bytes(tmp_path / "nowhere" / "tags.csv", lambda old: NEW)


def test_unreadable_file_is_said(path, monkeypatch):
    def refuse(self):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr("pathlib.Path.read_bytes", refuse)
    with pytest.raises(InputError, match=r"tags\.csv cannot be read"):
        read_table(path, TAGS)


def test_file_held_by_a_spreadsheet(path, monkeypatch):
    real, tries = os.replace, []

    def held(source, target):
        if os.fspath(target) == str(path):
            tries.append(source)
            raise PermissionError(errno.EACCES, "held")
        return real(source, target)

    monkeypatch.setattr(os, "replace", held)
    monkeypatch.setattr(saving, "REPLACE_PAUSE", 0.0)
    before = read_table(path, TAGS)
    rows = [*before.rows, {"tag": "mine"}]
    after = write_table(path, TAGS, rows, before)
    assert len(tries) == saving.REPLACE_TRIES
    assert "held open by another program" in after.notes[0]
    (beside,) = path.parent.glob("tags.waiting-*.csv")
    assert beside.name in after.notes[0]
    assert read_table(beside, TAGS).rows == after.rows
    assert path.read_bytes() == OLD
    monkeypatch.undo()
    again = write_table(path, TAGS, [*after.rows, {"tag": "more"}], after)
    assert again.notes == ()
    assert [row["tag"] for row in read_table(path, TAGS).rows] == ["old", "mine", "more"]


def test_held_for_a_moment_only(path, monkeypatch):
    real, tries = os.replace, []

    def held(source, target):
        tries.append(target)
        if len(tries) == 2:
            raise PermissionError(errno.EACCES, "held")
        return real(source, target)

    monkeypatch.setattr(os, "replace", held)
    monkeypatch.setattr(saving, "REPLACE_PAUSE", 0.0)
    assert save_bytes(path, lambda old: NEW).written
    assert path.read_bytes() == NEW
