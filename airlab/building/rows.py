"""How does a row of a table become a record, and a record a row again?

One base for every floor that keeps tables. The table is declared once; sizes are SI in the record
and in the header's unit in the row.
"""

from dataclasses import MISSING
from datetime import date, datetime
from functools import cache
from typing import ClassVar

from airlab.words import InputError, Table, from_si, require_between, require_choice, show, to_si
from airlab.words.units import UNITS

__all__ = ["RowRecord"]

_ISO = {"date": date, "time": datetime}
_SUFFIXES = {"cm2": "_cm2", "mm": "_mm", "Pa": "_pa", "m3/h": "_m3_per_h", "m": "_m", "m2": "_m2",
             "m3": "_m3", "C": "_c", "m/s": "_m_per_s", "h": "_h"}  # fmt: skip


@cache
def _pairs(record):
    """Return (column, field, factor to SI or None, dataclass field) for a kind of record."""
    return tuple(
        (column, name, column.unit if column.unit and UNITS[column.unit].size != 1.0 else None,
         record.__dataclass_fields__[name].default)
        for column, name in record._fields()
    )  # fmt: skip


class RowRecord:
    """A record that stands for one row of `_table`.

    A field bears its column's name without the unit, unless `_renamed` (column to field) says so.
    """

    __slots__ = ()
    _table: ClassVar[Table]
    _renamed: ClassVar[dict[str, str]] = {}

    @classmethod
    def _fields(cls):
        """Return each column with the name of its field."""
        return tuple(
            (c, cls._renamed.get(c.name, c.name.removesuffix(_SUFFIXES.get(c.unit, " "))))
            for c in cls._table.columns
        )

    @classmethod
    def from_row(cls, row):
        """Return the record of a row whose values are typed.

        Parameters
        ----------
        row : dict
            Column name to value. Blank cells (None or empty text) take the field's default, else
            the column's; columns the record does not know are left alone.
        """
        given = {}
        for column, name, unit, default in _pairs(cls):
            value = row.get(column.name)
            if value is None or value == "":
                if default is MISSING:
                    given[name] = "" if column.kind == "text" else column.default
                continue
            if unit:
                value = to_si(value, unit)
            elif column.kind in _ISO and isinstance(value, str):
                value = _ISO[column.kind].fromisoformat(value)
            given[name] = value
        return cls(**given)

    def to_row(self):
        """Return the record as {column name: value}, in column order and in the headers' units."""
        row = {}
        for column, name, unit, _ in _pairs(type(self)):
            value = getattr(self, name)
            if unit and value is not None:
                value = float(f"{from_si(value, unit):.12g}")
            row[column.name] = value
        return row

    def __post_init__(self):
        """Refuse what the table does not allow, in the table's own words and units."""
        for column, name, unit, _ in _pairs(type(self)):
            value = getattr(self, name)
            if value is None or value == "":
                if column.required:
                    raise InputError(
                        f"Table {self._table.name}: a row has no {column.name}. {column.meaning}."
                    )
            elif column.choices:
                require_choice(column.name, value, column.choices)
            elif column.low is not None:
                shown = from_si(value, unit) if unit else value
                require_between(
                    name, shown, column.low, column.high, column.unit or "-", column.slip
                )
                if column.kind == "integer" and value != int(value):
                    raise InputError(
                        f"{name.capitalize()} is {show(value)}. A whole number is needed."
                    )
            elif column.kind == "time" and value.tzinfo is None:
                object.__setattr__(self, name, value.astimezone())
