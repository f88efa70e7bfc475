"""How is a job changed? Each act writes one file and returns a new job record.

What an act must say aloud, as when a spreadsheet holds the file, stands in the new job's `notes`.
"""

import json
from dataclasses import replace
from types import MappingProxyType

from airlab.files.job import JOB_TABLES, records, settled
from airlab.files.saving import FileChanged, digest, save_bytes
from airlab.files.settings import SCHEMA, changed, thaw
from airlab.files.tables import parse_table, render_table, save_copy, write_table
from airlab.leak_check.log import Log
from airlab.leak_check.tables import LEAKS
from airlab.words import InputError

__all__ = ["append_events", "keep_copy", "render_settings", "save_settings", "save_table"]


def _may_write(job):
    if job.read_only:
        raise InputError(job.read_only)


def _table(name):
    if name not in JOB_TABLES:
        raise InputError(f"Table is {name!r}. A job has: {', '.join(JOB_TABLES)}.")
    return JOB_TABLES[name]


def _rows(rows, loaded):
    """Return records or rows as rows, with the cells of unknown columns put back by key.

    A row whose key is new takes them from its place, if the row there has lost its own.
    """
    rows = [row if isinstance(row, dict) else row.to_row() for row in rows]
    if not loaded.extra_columns:
        return rows
    key, extra = loaded.table.key, loaded.extra_columns
    before = {row[key]: row for row in loaded.rows}
    now = {row.get(key) for row in rows}
    full = []
    for place, row in enumerate(rows):
        old = before.get(row.get(key))
        if old is None and len(rows) == len(loaded.rows) and loaded.rows[place][key] not in now:
            old = loaded.rows[place]
        full.append({**{name: old[name] for name in extra if old}, **row})
    return full


def save_table(job, table_name, rows):
    """Write one table and return the job as it now stands.

    Parameters
    ----------
    job : Job
        The job as it was opened.
    table_name : str
        "rooms", "envelope" and so on.
    rows : iterable of records or dicts
        All rows of the table; dicts go by column name.

    Returns
    -------
    Job
        With `notes` where something must be said aloud, as when a spreadsheet holds the file.

    Raises
    ------
    FileChanged
        If the file changed on disk since it was opened: reload, or `keep_copy`.
    InputError
        If a row cannot be used, the job is read-only, or the disk refuses. Nothing is written.
    """
    table, _ = _table(table_name)
    _may_write(job)
    loaded = job.files[table_name]
    rows = _rows(rows, loaded)
    made = []
    now = write_table(
        loaded.path,
        table,
        rows,
        loaded,
        check=lambda found: made.append(records(found)),
    )
    return _with_table(job, now, made[0])


def _with_table(job, now, made):
    files = MappingProxyType({**job.files, now.table.name: now})
    return replace(job, **{now.table.name: made}, files=files, notes=now.notes)


def keep_copy(job, table_name, rows):
    """Keep the rows as a new file beside the table ("keep mine as a copy"); return its path."""
    table, _ = _table(table_name)
    _may_write(job)
    loaded = job.files[table_name]
    return save_copy(loaded.path, table, _rows(rows, loaded), loaded)


def append_events(job, events):
    """Add acts to the log of leaks and return the job as it now stands.

    Acts that others wrote meanwhile stay: the log on disk and the new acts are joined by the
    acts' random names, whatever the order in which people save.

    Parameters
    ----------
    job : Job
        The job as it was opened.
    events : iterable of LeakEvent
        New acts; one that is there already counts once.

    Returns
    -------
    Job
        With every act of the log.

    Raises
    ------
    InputError
        If the job is read-only, the log on disk cannot be read, or the disk refuses.
    """
    _may_write(job)
    loaded, mine = job.files["leaks"], (*job.leaks, *events)
    joined = []

    def make(old):
        disk, log = loaded, Log(mine)
        if old is not None and digest(old) != loaded.digest:
            disk = replace(parse_table(old, LEAKS, loaded.path.name), path=loaded.path)
            log = Log(records(disk)).merge(log)
        known = {row["event"]: row for row in (*loaded.rows, *disk.rows)}
        rows = [known.get(event.event) or event.to_row() for event in log.events]
        joined[:] = disk, rows, log.events
        return render_table(LEAKS, rows, disk.columns, disk.separator)

    saved = save_bytes(loaded.path, make)
    disk, rows, acts = joined
    kept = digest(saved.content) if saved.written else disk.digest
    now = replace(disk, rows=tuple(rows), digest=kept, notes=saved.notes)
    return _with_table(job, now, acts)


def render_settings(settings):
    """Return the bytes of a job.json."""
    try:
        text = json.dumps(
            {"schema": SCHEMA, **thaw(settings)}, indent=2, ensure_ascii=False, allow_nan=False
        )
    except (TypeError, ValueError) as error:
        raise InputError(f"job.json cannot hold these settings: {error}.") from None
    return (text + "\n").encode("utf-8", "replace")


def save_settings(job, **changes):
    """Write settings and return the job as it now stands.

    Parameters
    ----------
    job : Job
        The job as it was opened.
    **changes
        Setting to new value. Entries of `assumptions`, `counting`, `hazards`, `prices`, `site` and
        `temperatures` are changed one by one, and None removes one; the others are replaced.

    Returns
    -------
    Job
        With the new settings.

    Raises
    ------
    FileChanged
        If job.json changed on disk since it was opened.
    InputError
        If a setting is unknown or cannot be used, the job is read-only, or the disk refuses.
    """
    _may_write(job)
    settings = changed(job.settings, changes)
    content = render_settings(settings)

    def make(old):
        if old is not None and digest(old) not in (job.digest, digest(content)):
            raise FileChanged(
                "job.json was changed on disk after it was opened here. Nothing was written: "
                "reload, and enter the change again."
            )
        return content

    saved = save_bytes(job.folder / "job.json", make)
    kept = digest(content) if saved.written else job.digest
    return replace(job, **settled(settings), digest=kept, notes=saved.notes)
