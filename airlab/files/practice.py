"""How is something tried out without touching anybody's house? On a copy that is thrown away."""

import atexit
import shutil
import tempfile
from pathlib import Path

from airlab.files.job import open_job
from airlab.files.jobs import list_jobs, start_job
from airlab.files.places import data_folder, safe_name

__all__ = ["practice_job", "start_practice"]

_NAME = "Practice house"


def practice_job():
    """Return a copy of the demo house in a folder that is thrown away with the program.

    It is not among the jobs and does not become the open one. It keeps the demo's invented
    answers, hazards among them.
    """
    folder = Path(tempfile.mkdtemp(prefix="airlab-practice-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    shutil.copytree(data_folder() / "demo_job", folder / "demo")
    return open_job(folder / "demo")


def start_practice():
    """Start a copy of the demo house among the jobs, under the first free name, and open it."""
    taken, number = {one.folder.casefold() for one in list_jobs()}, 1
    while safe_name(name := f"{_NAME} {number}" if number > 1 else _NAME).casefold() in taken:
        number += 1
    return start_job(name)
