"""How is a file changed so that nothing is ever lost?

The new content goes to a temporary file beside the old one and then takes its name in one step;
whenever the process is killed, the old file or the new file is there, whole. A short lock keeps
two writers apart. The copy before the last change stays beside it as `name.previous.ending`.
"""

import errno
import hashlib
import os
import socket
import time
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from airlab.words import InputError

__all__ = ["FileChanged", "Saved", "digest", "read_bytes", "save_beside", "save_bytes"]

LOCK = ".saving.lock"
PART = ".part"
LOCK_PATIENCE = 5.0  # seconds a save waits for another one
LOCK_STALE = 30.0  # seconds after which a lock whose owner cannot be asked is taken over
LOCK_UNSIGNED = 2.0  # the same for a lock its owner never signed
REPLACE_TRIES = 6
REPLACE_PAUSE = 0.1  # seconds, growing with each try


class FileChanged(InputError):  # noqa: N818 - reads as it is raised
    """The file is no longer the one that was opened; nothing was written."""


@dataclass(frozen=True, slots=True)
class Saved:
    """What a save did: the content now held, and what must be said aloud."""

    content: bytes
    written: bool
    notes: tuple[str, ...] = ()


def digest(content):
    """Return the fingerprint of a file's content; empty text for no file."""
    return "" if content is None else hashlib.sha256(content).hexdigest()


def read_bytes(path):
    """Return the content of a file, or None if there is none.

    Raises
    ------
    InputError
        If it is there and cannot be read.
    """
    try:
        return Path(path).read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise InputError(
            f"{Path(path).name} cannot be read: {error.strerror}. Close other programs that hold "
            "it, or look at who may read it."
        ) from None


def _refusal(path, error):
    """Return the sentence for a save that the disk refused."""
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        why = f"the folder {path.parent.name} may only be read"
        do = "Allow writing there, or start the job in another folder."
    elif error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", None)):
        why, do = "the disk is full", "Make room and save again."
    elif error.errno == errno.ENOENT:
        why = f"the folder {path.parent.name} is gone"
        do = "Put it back, or start the job again."
    else:
        why, do = error.strerror or str(error), "Save again, or choose another folder."
    return InputError(
        f"{path.name} was not saved: {why}. {do} The file on disk is as it was, and what you "
        "entered is still open here."
    )


def _write_whole(path, content):
    """Write a new file and wait until the disk has it."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        view = memoryview(content)
        while view:
            view = view[os.write(handle, view) :]
        os.fsync(handle)
    finally:
        os.close(handle)


def _settle(folder):
    """Wait until the disk has the new names too, where the system can."""
    if os.name == "posix":
        with suppress(OSError):
            handle = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def _stale(lock):
    """Whether the owner of a lock is gone; the text of the lock goes with the answer."""
    try:
        text, age = lock.read_text("utf-8"), time.time() - lock.stat().st_mtime
    except OSError:
        return False, ""
    host, _, rest = text.partition(" ")
    number = rest.partition(" ")[0]
    if not number.isdigit():
        return age > LOCK_UNSIGNED, text
    if host == socket.gethostname() and os.name == "posix":
        try:
            os.kill(int(number), 0)
        except ProcessLookupError:
            return True, text
        except (PermissionError, OverflowError):
            pass
    return age > LOCK_STALE, text


def _take_over(lock, text):
    """Remove a stale lock; put it back if another writer renewed it in the meantime."""
    aside = lock.with_name(f"{LOCK}.{uuid4().hex[:8]}{PART}")
    with suppress(OSError):
        os.rename(lock, aside)
        if aside.read_text("utf-8") != text:
            os.link(aside, lock)
        os.unlink(aside)


@contextmanager
def _locked(path):
    """Hold the folder's lock for one save."""
    lock = path.with_name(LOCK)
    signed = f"{socket.gethostname()} {os.getpid()} {uuid4().hex}"
    give_up = time.monotonic() + LOCK_PATIENCE
    while True:
        try:
            handle = os.open(lock, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
            break
        except FileExistsError:
            pass
        except PermissionError:
            if not lock.exists():
                raise
        stale, text = _stale(lock)
        if stale:
            _take_over(lock, text)
        if time.monotonic() > give_up:
            raise InputError(
                f"{path.name} was not saved: another program is saving in {path.parent.name}. "
                "Try again in half a minute; what you entered is still open here."
            )
        if not stale:
            time.sleep(0.01)
    try:
        try:
            os.write(handle, signed.encode())
        finally:
            os.close(handle)
        yield
    finally:
        with suppress(OSError):
            if lock.read_text("utf-8") in (signed, ""):
                os.unlink(lock)


def _free_name(path, word):
    """Return a name beside the file that nothing has yet."""
    stamp = datetime.now().strftime("%Y%m%d-%H%M%S")
    free = path.with_name(f"{path.stem}.{word}-{stamp}{path.suffix}")
    while free.exists():
        free = path.with_name(f"{path.stem}.{word}-{stamp}-{uuid4().hex[:4]}{path.suffix}")
    return free


def _replace(part, path):
    """Give the new file its name; where another program holds the old one, leave it beside."""
    for attempt in range(REPLACE_TRIES):
        try:
            os.replace(part, path)
            return ()
        except PermissionError:
            time.sleep(REPLACE_PAUSE * (attempt + 1))
    beside = _free_name(path, "waiting")
    os.replace(part, beside)
    return (
        f"{path.name} is held open by another program, perhaps a spreadsheet, and was not changed. "
        f"What you entered is safe in {beside.name}. Close the other program and save again.",
    )


def save_bytes(path, make):
    """Change a file in one step, under the folder's lock, keeping the copy before.

    Parameters
    ----------
    path : path
        File to write.
    make : callable
        Takes the content on disk (bytes, or None) and returns the new content; what it raises
        stops the save with nothing written.

    Returns
    -------
    Saved
        The content held now; notes to be said aloud.

    Raises
    ------
    InputError
        If the disk refuses or another save does not end; the old file is as it was.
    """
    path = Path(path).resolve()
    parts = []
    try:
        with _locked(path):
            for left in path.parent.glob(f".*{PART}"):
                with suppress(OSError):
                    os.unlink(left)
            old = read_bytes(path)
            new = make(old)
            if new == old:
                return Saved(new, True)
            try:
                parts = [path.with_name(f".{path.name}.{uuid4().hex[:8]}{PART}") for _ in range(2)]
                _write_whole(parts[0], new)
                if old is not None:
                    _write_whole(parts[1], old)
                    os.replace(parts[1], path.with_name(f"{path.stem}.previous{path.suffix}"))
                notes = _replace(parts[0], path)
                _settle(path.parent)
            finally:
                for part in parts:
                    with suppress(OSError):
                        os.unlink(part)
            return Saved(new, not notes, notes)
    except OSError as error:
        raise _refusal(path, error) from None


def save_beside(path, content):
    """Keep the content as a new file beside `path`, touching nothing else; return its path."""
    path = Path(path).resolve()
    beside = _free_name(path, "mine")
    try:
        _write_whole(beside, content)
    except OSError as error:
        with suppress(OSError):
            os.unlink(beside)
        raise _refusal(beside, error) from None
    return beside
