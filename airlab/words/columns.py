"""How a floor declares the tables it keeps: columns with their kind, unit and what is allowed.

The generic reader and writer of `files` work from these declarations alone, so a table is
described once, beside the record it turns into.
"""

from dataclasses import dataclass

from airlab.words.errors import InputError
from airlab.words.guards import require_choice

__all__ = ["KINDS", "Column", "Table"]

KINDS = ("text", "number", "integer", "choice", "yes/no", "date", "time")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: header, kind, meaning; unit and limits in the unit of the header.

    `offers` says where words to choose from stand: `table.column`, or the name of a list. Others may
    be typed.
    """

    name: str
    kind: str
    meaning: str
    unit: str = ""
    required: bool = False
    choices: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    default: object = None
    slip: str = ""
    offers: tuple[str, ...] = ()

    def __post_init__(self):
        require_choice("kind", self.kind, KINDS)
        if self.kind == "choice" and not self.choices:
            raise InputError(f"Column {self.name!r} offers a choice but lists none.")


@dataclass(frozen=True, slots=True)
class Table:
    """A table of a job: file name without ending, columns, the column that names a row.

    `named_by` is the letter before a name made from a row's content, where that cell may be blank.
    An optional table need not be there, and nothing is said where it is not.
    """

    name: str
    meaning: str
    columns: tuple[Column, ...]
    key: str = ""
    named_by: str = ""
    optional: bool = False

    def column(self, name):
        """Return the column of that name.

        Raises
        ------
        InputError
            If the table has no such column; the message lists those it has.
        """
        for column in self.columns:
            if column.name == name:
                return column
        known = ", ".join(column.name for column in self.columns)
        raise InputError(f"Table {self.name} has no column {name!r}. It has: {known}.")
