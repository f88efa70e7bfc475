"""Which practice houses are there, and what did a class find? Houses as tables; results as one."""

from pathlib import Path

from airlab.files.places import data_folder
from airlab.files.saving import FileChanged
from airlab.files.tables import read_table, write_table
from airlab.teaching.practice import TABLES, make_house
from airlab.teaching.practice.score import RESULTS
from airlab.words import InputError

__all__ = ["practice_houses", "read_house", "save_result"]

_TRIES = 20


def practice_houses():
    """Return {folder name: path} of the practice houses that come with the workbook."""
    folder = data_folder() / "practice_houses"
    return {path.parent.name: path.parent for path in sorted(folder.glob("*/house.csv"))}


def read_house(which):
    """Return a practice house from its folder, or by the name of one that comes with the workbook.

    A house of your own is a folder with the same six tables; any spreadsheet may have saved them.
    """
    known = practice_houses()
    folder = Path(known.get(str(which), which))
    if not (folder / "house.csv").is_file():
        raise InputError(
            f"There is no practice house {str(which)!r}. There are: {', '.join(known)}."
        )
    needed = {"house", "rooms", "links", "sites"}
    tables = {}
    for table in TABLES:
        path = folder / f"{table.name}.csv"
        if path.is_file():
            tables[table.name] = read_table(path, table).rows
        elif table.name in needed:
            raise InputError(f"{folder.name}: the table {table.name}.csv is missing.")
    return make_house(tables)


def save_result(path, row):
    """Add a learner's row to the one table of a class; twenty may save at once.

    Parameters
    ----------
    path : path
        The CSV of the class.
    row : dict
        From `result_row`.

    Returns
    -------
    TableFile
        The table as it stands.
    """
    for _ in range(_TRIES):
        loaded = read_table(path, RESULTS)
        try:
            return write_table(path, RESULTS, (*loaded.rows, row), loaded)
        except FileChanged:
            continue
    raise InputError(f"{Path(path).name} is being changed all the time. Try again in a moment.")
