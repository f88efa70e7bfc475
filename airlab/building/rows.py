"""How does a row of a table become a record, and a record a row again?"""

from dataclasses import MISSING, fields
from typing import ClassVar

__all__ = ["RowRecord"]


class RowRecord:
    """A record that stands for one row: fields carry the column's name unless `_renamed` says so."""

    __slots__ = ()
    _renamed: ClassVar[dict[str, str]] = {}

    @classmethod
    def from_row(cls, row):
        """Return the record of a row whose values are already typed.

        Parameters
        ----------
        row : dict
            Column name to value. Blank cells (None or empty text) take the field's default;
            columns the record does not know are left alone.
        """
        columns = {name: name for name in cls.__dataclass_fields__} | {
            field: column for column, field in cls._renamed.items()
        }
        given = {}
        for field in fields(cls):
            value = row.get(columns[field.name])
            if value is not None and value != "":
                given[field.name] = value
            elif field.default is MISSING:
                given[field.name] = "" if field.type in (str, "str") else None
        return cls(**given)

    def to_row(self):
        """Return the record as {column name: value}, in column order."""
        columns = {field: column for column, field in self._renamed.items()}
        return {
            columns.get(field.name, field.name): getattr(self, field.name) for field in fields(self)
        }
