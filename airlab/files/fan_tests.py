"""Where do the readings of a fan test come from? Two plain tables in a folder."""

from pathlib import Path

from airlab.fan_test import FAN_TEST_POINTS, FAN_TESTS, fan_test_from_rows
from airlab.files.places import data_folder
from airlab.files.tables import read_table
from airlab.words import InputError

__all__ = ["example_fan_test", "read_fan_tests"]


def read_fan_tests(folder=None):
    """Return the tables `fan_tests.csv` and `fan_test_points.csv` of a folder.

    Parameters
    ----------
    folder : path or None
        A job's folder or any other; None is the two invented tests of the demo house.

    Returns
    -------
    tuple of TableFile
        Tests, readings. Both are empty where there are no files.

    Raises
    ------
    InputError
        If a table cannot be read; the message names every bad cell.
    """
    folder = data_folder() / "fan_tests" if folder is None else Path(folder)
    return tuple(
        read_table(folder / f"{table.name}.csv", table) for table in (FAN_TESTS, FAN_TEST_POINTS)
    )


def example_fan_test(name="final", geometry=None):
    """Return one of the invented tests of the demo house.

    Parameters
    ----------
    name : str
        "before the boards" or "final".
    geometry : Geometry, optional
        Sizes of the house.
    """
    tests, points = read_fan_tests()
    for row in tests.rows:
        if row["test"] == name:
            return fan_test_from_rows(row, points.rows, geometry)
    known = ", ".join(row["test"] for row in tests.rows)
    raise InputError(f"There is no invented test {name!r}. There are: {known}.")
