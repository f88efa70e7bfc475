"""Which jobs are there, which is open, and how is one's own house started?"""

import os
import shutil
from dataclasses import dataclass, replace
from uuid import uuid4

from airlab.files.job import JOB_TABLES, open_job
from airlab.files.keeping import render_settings
from airlab.files.places import (
    data_folder,
    job_folder,
    jobs_folder,
    open_name,
    remember_open,
    safe_name,
)
from airlab.files.saving import read_bytes, save_bytes
from airlab.files.settings import DEFAULTS, checked, parse_settings
from airlab.files.tables import write_table
from airlab.words import InputError

__all__ = ["JobListing", "current_job", "demo_job", "list_jobs", "start_job", "switch_job"]


@dataclass(frozen=True, slots=True)
class JobListing:
    """One line of the list of jobs: folder, name, whether it is the open one, what is wrong."""

    folder: str
    name: str
    is_open: bool = False
    trouble: str = ""


def start_job(name, like="demo"):
    """Start a house of one's own and make it the open job.

    Parameters
    ----------
    name : str
        Name of the house, in any script; the folder takes what a folder name can hold.
    like : str
        "demo" copies the invented house, to be changed room by room; "empty" starts from nothing.

    Returns
    -------
    Job
        The new job. No hazard is answered: that is for whoever stands in the house.

    Raises
    ------
    InputError
        If the name cannot be used or is taken, or the disk refuses. Nothing half-made stays.
    """
    if like not in ("demo", "empty"):
        raise InputError(f"Start like {like!r}. Choose 'demo' or 'empty'.")
    folder, jobs = safe_name(name), jobs_folder()
    if any(entry.name.casefold() == folder.casefold() for entry in _entries(jobs)):
        raise InputError(f"There is a job {folder!r} already. Open it, or choose another name.")
    settings, tables = dict(DEFAULTS), {}
    if like == "demo":
        demo = demo_job()
        settings = demo.settings | {"hazards": DEFAULTS["hazards"], "about": (
            "Begun as a copy of the invented demo house. Put your own numbers in the place of its "
            "numbers, then say that it is no longer invented."
        )}  # fmt: skip
        tables = demo.files
    settings = checked(settings | {"name": str(name)})
    part = jobs / f".new-{uuid4().hex[:8]}"
    try:
        part.mkdir(parents=True)
        for table, _ in JOB_TABLES.values():
            rows = tables[table.name].rows if table.name in tables else ()
            write_table(part / f"{table.name}.csv", table, rows)
        save_bytes(part / "job.json", lambda old: render_settings(settings))
        os.rename(part, jobs / folder)
    except OSError as error:
        raise InputError(
            f"The job could not be started in {jobs.name}: {error.strerror}. Choose a folder that "
            "may be written to, with AIRLAB_JOBS."
        ) from None
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return switch_job(folder)


def _entries(jobs):
    try:
        return sorted(entry for entry in jobs.iterdir() if not entry.name.startswith("."))
    except FileNotFoundError:
        return []
    except OSError as error:
        raise InputError(f"The folder {jobs.name} cannot be read: {error.strerror}.") from None


def list_jobs():
    """Return the jobs in the jobs folder, one `JobListing` each; a broken one says what is wrong."""
    found = []
    for folder in _entries(jobs_folder()):
        try:
            content = read_bytes(folder / "job.json") if folder.is_dir() else None
            if content is None:
                continue
            name, trouble = parse_settings(content)[0]["name"], ""
        except InputError as error:
            name, trouble = "", str(error)
        is_open = folder.name == open_name()
        found.append(JobListing(folder.name, name or folder.name, is_open, trouble))
    return tuple(found)


def switch_job(name):
    """Make the job of that folder name the open one and return it; a path is refused."""
    job = open_job(job_folder(name))
    remember_open(job.folder.name)
    return job


def current_job():
    """Return the open job; the demo house if none was opened yet or it is gone."""
    name, note, folder = open_name(), "", None
    try:
        folder = job_folder(name) if name else None
    except InputError as error:
        note = f"{error} "
    if folder and (folder / "job.json").exists():
        return open_job(folder)
    note = f"The job {name} is gone. " if folder else note
    demo = demo_job()
    return replace(demo, notes=(*demo.notes, f"{note}This is the demo house, which is invented."))


def demo_job():
    """Return the invented demo house, read-only."""
    return open_job(data_folder() / "demo_job")
