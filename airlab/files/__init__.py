"""Files: the job folder, tables in and out.

A job is a folder with one `job.json` and plain tables that any spreadsheet may open and save.
Saves happen in one step, keep the copy before, and never write over a file that someone else
changed meanwhile.
"""

from airlab.files.saving import FileChanged
from airlab.files.tables import (
    TableFile,
    parse_table,
    read_table,
    render_table,
    save_copy,
    write_table,
)

__all__ = [
    "FileChanged",
    "TableFile",
    "parse_table",
    "read_table",
    "render_table",
    "save_copy",
    "write_table",
]
