"""Which pages go together? The pack of a job, blank or filled, and the pages of a lesson."""

from dataclasses import replace

from airlab.files import demo_job, jobs_folder
from airlab.sheets.afterwards import miss_of, miss_page, open_rows_page
from airlab.sheets.budget import budget_page
from airlab.sheets.check import day_page, log_page, preparation_page, route_page
from airlab.sheets.facts import facts_of
from airlab.sheets.fan_test import fan_test_page
from airlab.sheets.first_last import kit_page, owner_page, rough_page
from airlab.sheets.glossary import glossary_page, symbols_page
from airlab.sheets.house import geometry_page, line_page
from airlab.sheets.keeping import write_pages
from airlab.sheets.lesson import handout_page, key_page, lesson_page
from airlab.sheets.lessons_learnt import lessons_of, lessons_page
from airlab.sheets.planning import materials_page, when_page
from airlab.sheets.release import release_page
from airlab.sheets.rigs import rigs_page
from airlab.sheets.second_fix import holes_page, trades_page
from airlab.sheets.skills import skills_page
from airlab.words import InputError

__all__ = [
    "job_pages",
    "lesson_pages",
    "pages_folder",
    "print_fan_test",
    "print_geometry",
    "print_lesson",
    "print_pack",
    "print_workshop",
]

_DEMO_PAGES = "demo_pages"


def job_pages(job, filled=False, moment=None):
    """Return the pages of a job in the order they are used.

    Parameters
    ----------
    job : Job
        The job.
    filled : bool
        Print what has been recorded; otherwise sheets to write on.
    moment : datetime or None
        Time of printing; None is now.

    Returns
    -------
    tuple of Page
        While no rooms are entered: the rough draft, and what can be filled in by hand.

    Raises
    ------
    InputError
        If no rooms and no rough sizes are entered, or no target is set.
    """
    facts = facts_of(job, filled, moment)
    if facts.plan.rough:
        return (rough_page(facts), geometry_page(facts), line_page(facts), preparation_page(facts),
                log_page(facts, blank=True), glossary_page(facts))  # fmt: skip
    log, recorded = facts.plan.log.events, facts.plan.log.events or facts.plan.readings
    pages = [geometry_page(facts), line_page(facts)]
    pages += [budget_page(facts)] if job.budget else []
    pages += [materials_page(facts)] if job.junctions else []
    pages += [when_page(facts)] if facts.plan.dates or facts.plan.weather else []
    pages += [kit_page(facts), preparation_page(facts), route_page(facts)]
    pages += [log_page(facts)] if filled and log else []
    pages += [log_page(facts, blank=True), day_page(facts, blank=not filled),
              release_page(facts, blank=not (filled and recorded)), holes_page(facts)]  # fmt: skip
    pages += [trades_page(facts)] if job.trades else []
    pages += [skills_page(facts)]
    if filled and facts.plan.readings and facts.release and facts.fan_may_run:
        pages += [open_rows_page(facts)]
        pages += [miss_page(facts)] if miss_of(facts) else []
    pages += [lessons_page(facts)] if filled and lessons_of(facts) else []
    return (*pages, owner_page(facts), glossary_page(facts))


def pages_folder(job):
    """Return where the pages of a job go; nothing is written beside the demo itself."""
    if job.folder.resolve() == demo_job().folder.resolve():
        return jobs_folder() / _DEMO_PAGES
    return job.folder / "pages"


def print_pack(job, folder=None, filled=False, moment=None):
    """Write the pack of a job: one file with all pages, and each page on its own.

    Parameters
    ----------
    job : Job
        The job.
    folder : path or None
        Where to; None is the folder `pages` of the job (for the demo, one among your jobs).
    filled : bool
        Print what has been recorded; otherwise sheets to write on.
    moment : datetime or None
        Time of printing; None is now.

    Returns
    -------
    PackPages
        The pages and the files; notes where a page that was there has been kept.

    Raises
    ------
    InputError
        If the job cannot be planned yet, or the folder may not be written.
    """
    return write_pages(job_pages(job, filled, moment), folder or pages_folder(job))


def print_geometry(job, folder=None, moment=None):
    """Write the geometry sheet to sign as a file of its own.

    Parameters
    ----------
    job : Job
        The job.
    folder : path or None
        Where to; None is as for the pack.
    moment : datetime or None
        Time of printing; None is now.

    Returns
    -------
    PackPages
        The page and its file.

    Raises
    ------
    InputError
        If no room is entered, the job cannot be planned yet, or the folder may not be written.
    """
    if not job.rooms:
        raise InputError("No rooms yet: there is nothing to sign.")
    page = geometry_page(facts_of(job, False, moment))
    return write_pages((page,), folder or pages_folder(job), name="")


def lesson_pages(job=None, moment=None, lesson="01", length=45):
    """Return lesson plan, hand-out and key; the house is that of the job. A path has its plan alone."""
    facts = facts_of(job or demo_job(), False, moment)
    pages = [lesson_page(facts, lesson, length)]
    if lesson.isdigit():
        pages += [handout_page(facts, lesson), key_page(facts, lesson)]
    also = f"{f'-{lesson}' * (lesson != '01')}{f'-{length}' * (length != 45)}"
    return tuple(replace(page, key=f"{page.key}{also}") for page in pages)


def print_lesson(job=None, folder=None, moment=None, lesson="01", length=45):
    """Write lesson plan, hand-out and answer key, each as a file of its own.

    Parameters
    ----------
    job : Job or None
        The house that is spoken of; None is the demo house.
    folder : path or None
        Where to; None is as for the pack.
    moment : datetime or None
        Time of printing; None is now.
    lesson : str
        A notebook, "00" to "11", or a path: "apprentice", "self-builder", "designer".
    length : int
        Minutes: 45, 60, 90, or 360 for a practical day.

    Returns
    -------
    PackPages
        The pages and the files.

    Raises
    ------
    InputError
        If there is no such lesson, it has no such length, or the folder may not be written.
    """
    job = job or demo_job()
    pages = lesson_pages(job, moment, lesson, length)
    return write_pages(pages, folder or pages_folder(job), name="")


def print_workshop(job=None, folder=None, moment=None):
    """Write rigs and paper activities, hand-skill cards, glossary and symbols for a class.

    Parameters
    ----------
    job : Job or None
        House and units; None is the demo house.
    folder : path or None
        Where to; None is as for the pack.
    moment : datetime or None
        Time of printing; None is now.

    Returns
    -------
    PackPages
        The pages and one file that holds them.
    """
    job = job or demo_job()
    facts = facts_of(job, False, moment)
    pages = [make(facts) for make in (rigs_page, skills_page, symbols_page, glossary_page)]
    return write_pages(
        pages, folder or pages_folder(job), name="workshop", singles=False, title="Workshop"
    )


def print_fan_test(job, name=None, folder=None, moment=None):
    """Write the record of a fan test as a file of its own.

    Parameters
    ----------
    job : Job
        The job.
    name : str or None
        Name of the test; None is the last one.
    folder : path or None
        Where to; None is as for the pack.
    moment : datetime or None
        Time of printing; None is now.

    Returns
    -------
    PackPages
        The page and its file.
    """
    return write_pages((fan_test_page(job, name, moment),), folder or pages_folder(job), name="")
