"""How is a table read and written, whatever program had it in between?

One reader and one writer for every declared table. Column order is free; commas, semicolons and
tabs part cells; decimal commas, a byte-order mark, blank lines and outer blanks are read; columns
we do not know are carried through. Every bad cell is named by row, column, value and what was
expected, all in one message.
"""

import codecs
import csv
import io
import re
import unicodedata
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from airlab.files.cells import Refused, bare_text, parse_cell, render_cell, survey
from airlab.files.row_names import name_rows
from airlab.files.saving import FileChanged, digest, read_bytes, save_beside, save_bytes
from airlab.words import InputError, Table

__all__ = [
    "TableFile",
    "parse_table",
    "read_table",
    "render_table",
    "save_copy",
    "write_table",
]

SHOWN = 10  # bad cells listed; the rest are counted
_QUOTED = re.compile(r'[,;\t"\r\n]')


@dataclass(frozen=True, slots=True)
class TableFile:
    """A table as it was read: rows by column name, what was noticed, the file's fingerprint.

    Parameters
    ----------
    path : Path
        File it came from.
    table : Table
        What it was read as.
    rows : tuple of dict
        Column name to value; cells of columns we do not know stay text.
    columns : tuple of str
        Columns in the order of the file, unknown ones too.
    separator : str
        What parts its cells when it is written again.
    digest : str
        Fingerprint of the content; empty for no file.
    notes : tuple of str
        What was noticed on reading or must be said aloud after saving.
    """

    path: Path
    table: Table
    rows: tuple[dict, ...] = ()
    columns: tuple[str, ...] = ()
    separator: str = ","
    digest: str = ""
    notes: tuple[str, ...] = ()

    @property
    def extra_columns(self):
        """Columns that the table does not declare."""
        known = {column.name for column in self.table.columns}
        return tuple(name for name in self.columns if name not in known)


class _Trouble:
    """Collects what is wrong with a file, to be said once."""

    def __init__(self, name):
        self.name, self.lines = name, []

    def cell(self, row, column, text, expected):
        shown = f"'{text[:60]}'" if text else "empty"
        self.lines.append(f"row {row}, column {column}: {shown}; expected {expected.rstrip('.')}.")

    def stop(self):
        if not self.lines:
            return
        rest = len(self.lines) - SHOWN
        more = [f"... and {rest} more."] if rest > 0 else []
        count = "1 entry" if len(self.lines) == 1 else f"{len(self.lines)} entries"
        raise InputError(
            "\n".join([f"{self.name}: {count} cannot be used.", *self.lines[:SHOWN], *more])
        )


def _half_written(name, why):
    stem, _, ending = name.rpartition(".")
    return InputError(
        f"{name} looks half-written: {why}. The copy before the last change is "
        f"{stem}.previous.{ending}, if there was one. Nothing was changed."
    )


def _decode(content, name, notes):
    """Return the text of a file; say which character set was guessed."""
    if not content.strip():
        raise _half_written(name, "it is empty, without even a line of column names")
    if content.startswith(b"PK\x03\x04") or content.startswith(b"\xd0\xcf\x11\xe0"):
        raise InputError(
            f"{name} is a spreadsheet workbook with the ending of a table. Open it in the "
            "spreadsheet and save it as CSV."
        )
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16", "replace")
    if b"\x00" in content:
        raise _half_written(name, "it holds empty bytes")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if error.reason == "unexpected end of data":
            raise _half_written(name, "it ends within a letter") from None
    notes.append(
        f"{name} is not in UTF-8; it was read as Windows western text (cp1252). "
        "Look at letters with accents."
    )
    try:
        return content.decode("cp1252")
    except UnicodeDecodeError:
        raise InputError(
            f"{name} is in no character set we can read. Save it as CSV in UTF-8."
        ) from None


def _cells(text, separator, name):
    try:
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        if "unexpected end" in str(error):
            raise _half_written(name, "it ends within a quoted cell") from None
        raise InputError(f"{name} cannot be taken apart into cells: {error}.") from None


def _header(cell):
    return bare_text(_tidy(cell.strip("\ufeff")))


def _tidy(cell):
    return (cell if cell.isascii() else unicodedata.normalize("NFC", cell)).strip()


def _separator(text, known):
    """Return the separator under which the first line names most of our columns."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    if found := re.fullmatch(r"sep=(.)", first.strip()):
        return found[1], True
    return max(
        ",;\t", key=lambda mark: sum(_header(c.strip('"')) in known for c in first.split(mark))
    ), False


def _columns(cells, table, name):
    """Return the names of the columns; refuse a missing required or a doubled one."""
    known = {column.name.casefold(): column.name for column in table.columns}
    names = []
    for cell in cells:
        header = _header(cell)
        names.append(known.get(header.casefold(), header))
    missing = [c.name for c in table.columns if c.required and c.name not in names]
    if missing:
        raise InputError(
            f"{name} has no column {', '.join(missing)}. It has: "
            f"{', '.join(header for header in names if header)}. Column names stand in the "
            "first line, spelt as here."
        )
    for header in names:
        if header and names.count(header) > 1:
            raise InputError(f"{name} has the column {header} twice. Keep one of them.")
    return names


def _rows(records, name, whole_end, notes):
    """Yield row number and cells, as many as there are columns; blank rows are left out."""
    start = next(i for i, record in enumerate(records) if any(c.strip() for c in record))
    width = len(records[start])
    yield start + 1, records[start]
    last = len(records)
    for number, record in enumerate(records[start + 1 :], start + 2):
        if not any(cell.strip() for cell in record):
            continue
        if len(record) < width:
            if number == last and not whole_end:
                raise _half_written(
                    name, f"its last row, {number}, stops after {len(record)} of {width} cells"
                )
            notes.append(
                f"{name}, row {number} has {len(record)} of {width} cells; the rest was read as empty."
            )
            record = record + [""] * (width - len(record))
        if len(record) > width:  # even if the rest is empty: 12,5 may have become 12 and 5
            raise InputError(
                f"{name}, row {number} has {len(record)} cells and there are {width} columns. "
                "A cell with a comma in it needs quotes round it; a decimal comma needs "
                "semicolons between cells."
            )
        yield number, record


def parse_table(content, table, name):
    """Return the table held in the bytes of a file.

    Parameters
    ----------
    content : bytes
        The whole file.
    table : Table
        What it should hold.
    name : str
        File name, for messages.

    Returns
    -------
    TableFile
        Rows, columns, notes.

    Raises
    ------
    InputError
        If the file is half-written, lacks a required column or holds cells that cannot be used;
        one message names them all.
    """
    notes = []
    text = _decode(content, name, notes)
    separator, told = _separator(text, {column.name for column in table.columns})
    records = _cells(text, separator, name)
    if told:
        records[next(i for i, r in enumerate(records) if r)] = []
    if not any(any(c.strip() for c in record) for record in records):
        raise _half_written(name, "it has no line of column names")
    body = list(_rows(records, name, text.endswith(("\n", "\r")), notes))
    names = _columns(body[0][1], table, name)
    declared = {column.name: column for column in table.columns}
    body = [(number, [_tidy(cell) for cell in record]) for number, record in body[1:]]
    used = [i for i, header in enumerate(names) if header or any(r[i] for _, r in body)]
    names = [header or f"column {i + 1}" for i, header in enumerate(names)]
    plan = [(i, names[i], declared.get(names[i])) for i in used]
    absent = [c for c in table.columns if c.name not in names]
    habits = survey(
        ((c, r[i]) for i, _, c in plan if c and c.kind in ("number", "integer", "date")
         for _, r in body if r[i]),
        separator,
    )  # fmt: skip
    trouble, rows, seen, local = _Trouble(name), [], {}, 0
    for number, record in body:
        row = {}
        for i, header, column in plan:
            cell = record[i]
            if column is None:
                row[header] = bare_text(cell)
                continue
            try:
                value = parse_cell(column, cell, habits)
                if type(value) is datetime and value.tzinfo is None:
                    value, local = value.astimezone(), local + 1
                row[header] = value
            except (Refused, OverflowError, OSError) as refused:
                trouble.cell(number, header, cell, str(refused))
        for column in absent:
            row[column.name] = parse_cell(column, "", habits)
        key = " ".join(str(row.get(table.key, "")).split()).casefold() if table.key else ""
        if key and key in seen:
            trouble.lines.append(
                f"rows {seen[key]} and {number}, column {table.key}: '{row[table.key]}' stands "
                "in both; each row needs its own."
            )
        seen.setdefault(key, number)
        rows.append(row)
    trouble.stop()
    if local:
        notes.append(f"{name}: {local} times without an offset were read as this computer's time.")
    if not text.endswith(("\n", "\r")):
        notes.append(f"{name} does not end with a line break; look whether its last row is whole.")
    semicolons = separator == ";" and habits.decimal == ","
    return TableFile(
        Path(name), table, name_rows(table, rows), tuple(names[i] for i in used), ";" if semicolons else ",",
        digest(content), tuple(notes),
    )  # fmt: skip


def render_table(table, rows, columns=(), separator=","):
    """Return the bytes of a table: declared columns, then those that only the rows know.

    Parameters
    ----------
    table : Table
        What is written.
    rows : iterable of dict
        Column name to value.
    columns : tuple of str
        Order of the columns, as the file had them.
    separator : str
        Comma, or semicolon with decimal commas.
    """
    declared = {column.name: column for column in table.columns}
    names = list(dict.fromkeys([*columns, *declared, *(name for row in rows for name in row)]))
    decimal = "," if separator == ";" else "."
    lines = [separator.join(_quoted(render_cell(None, name)) for name in names)]
    for row in rows:
        cells = (render_cell(declared.get(name), row.get(name), decimal) for name in names)
        lines.append(separator.join([_quoted(cell) for cell in cells]))
    text = "\n".join(lines) + "\n"
    # Without the mark a spreadsheet takes letters beyond ASCII for another character set.
    return text.encode("utf-8" if text.isascii() else "utf-8-sig")


def _quoted(cell):
    return '"' + cell.replace('"', '""') + '"' if _QUOTED.search(cell) else cell


def read_table(path, table):
    """Return the table in a file; no file gives no rows.

    Parameters
    ----------
    path : path
        File to read.
    table : Table
        What it should hold.

    Returns
    -------
    TableFile
        Rows, columns, notes, fingerprint.

    Raises
    ------
    InputError
        If it cannot be read; the message names every bad cell.
    """
    path = Path(path)
    content = read_bytes(path)
    if content is None:
        columns = tuple(column.name for column in table.columns)
        note = f"{path.name} is not there; it was read as empty."
        return TableFile(path, table, columns=columns, notes=(note,))
    return replace(parse_table(content, table, path.name), path=path)


def write_table(path, table, rows, loaded=None, check=None):
    """Write a table in one step and return it as it now stands.

    Parameters
    ----------
    path : path
        File to write.
    table : Table
        What is written.
    rows : iterable of dict
        Column name to value; they must read back, or nothing is written.
    loaded : TableFile or None
        The table as it was opened; None where there should be no file yet.
    check : callable or None
        Called with the table as it will read back; what it raises stops the save.

    Returns
    -------
    TableFile
        With notes where something must be said aloud; its fingerprint stays that of the file on
        disk if that file could not be changed.

    Raises
    ------
    FileChanged
        If the file on disk is no longer the one that was opened.
    InputError
        If a row cannot be used or the disk refuses.
    """
    path, rows = Path(path), name_rows(table, rows)
    columns, separator = (loaded.columns, loaded.separator) if loaded else ((), ",")
    content = render_table(table, rows, columns, separator)
    now = parse_table(content, table, path.name)
    if check is not None:
        check(now)
    known = loaded.digest if loaded else ""

    def make(old):
        if old is not None and digest(old) not in (known, now.digest):
            raise FileChanged(
                f"{path.name} was changed on disk after it was opened here. Nothing was written: "
                "reload, or keep mine as a copy."
            )
        return content

    saved = save_bytes(path, make)
    kept = now.digest if saved.written else known
    return replace(now, path=path, notes=saved.notes, digest=kept)


def save_copy(path, table, rows, loaded=None):
    """Keep rows as a new file beside `path` ("keep mine as a copy"); return its path."""
    columns, separator = (loaded.columns, loaded.separator) if loaded else ((), ",")
    return save_beside(path, render_table(table, tuple(rows), columns, separator))
