"""Where do things stand: the demo and what people copy, the jobs, which job is open?"""

import os
import re
from pathlib import Path

from airlab.files.cells import clean_text
from airlab.files.saving import read_bytes, save_bytes
from airlab.words import InputError

__all__ = [
    "data_folder", "is_ours", "job_folder", "jobs_folder", "open_name", "remember_open", "safe_name",
]  # fmt: skip

_HOME = Path(__file__).resolve().parents[2]
_OPEN = "open_job.txt"
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)


def data_folder():
    """Return the folder `data/` beside the package: what people read or copy, never written to."""
    folder = _HOME / "data"
    if not folder.is_dir():
        raise InputError(
            "The folder data is not beside the package. Install as the README says, with its "
            "first command, from the folder of the workbook."
        )
    return folder


def is_ours(folder):
    """Whether a folder belongs to `data/` and so stays as it is."""
    return Path(folder).resolve().is_relative_to(_HOME / "data")


def jobs_folder():
    """Return the folder that holds people's jobs: AIRLAB_JOBS, or `notebooks/jobs`."""
    chosen = os.environ.get("AIRLAB_JOBS", "").strip()
    return Path(chosen).expanduser().resolve() if chosen else _HOME / "notebooks" / "jobs"


def job_folder(name):
    """Return the folder of a job among people's jobs.

    Parameters
    ----------
    name : str
        Name of its folder, nothing more.

    Raises
    ------
    InputError
        If the name leads to any other place.
    """
    name = str(name)
    if name in ("", ".", "..") or any(mark in name for mark in "/\\:\0"):
        raise InputError(
            f"The job is called {name[:60]!r}. That is no folder among your jobs. Give the folder's "
            "name alone, without /, \\ or a colon."
        )
    return jobs_folder() / name


def open_name():
    """Return the folder name of the open job; empty if none was opened yet."""
    content = read_bytes(jobs_folder() / _OPEN)
    return clean_text((content or b"").decode("utf-8", "replace"))


def remember_open(name):
    """Make the job of that folder name the open one."""
    jobs_folder().mkdir(parents=True, exist_ok=True)
    save_bytes(jobs_folder() / _OPEN, lambda old: f"{name}\n".encode())


def safe_name(name):
    """Return a folder name for what a person typed, in any script.

    Parameters
    ----------
    name : str
        Name of the job.

    Raises
    ------
    InputError
        If no letter or digit is left.

    Examples
    --------
    >>> safe_name("../Haus Nr. 7: Küche?")
    'Haus-Nr-7-Küche'
    """
    kept = re.sub(r"[^\w]+", "-", clean_text(name)).strip("-_")
    while len(kept.encode()) > 120:  # what every file system takes
        kept = kept[:-1]
    if not re.search(r"[^\W_]", kept):
        raise InputError(f"The name of the job is {str(name)[:60]!r}. Use at least one letter.")
    return f"{kept}-job" if _RESERVED.fullmatch(kept) else kept
