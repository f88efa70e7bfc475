"""What does a cell of a table say? Text to value and back, one cell at a time.

A spreadsheet may have written the cell: decimal commas, `TRUE` for yes, dates the local way. What
can be read in one way only is read; what can be read in two ways is refused unless the rest of the
file decides. Text that a spreadsheet would run as a formula is written with an apostrophe before it.
"""

import re
import unicodedata
from dataclasses import dataclass
from datetime import date, datetime

from airlab.words import label, show

__all__ = ["Habits", "Refused", "bare_text", "clean_text", "parse_cell", "render_cell", "survey"]

YES = frozenset({"yes", "y", "true", "1", "x"})
NO = frozenset({"no", "n", "false", "0"})
FORMULA_STARTS = tuple("=+-@＝＋－＠")
_PLAIN = re.compile(r"[+-]?\d+([.,]\d+)?")
_NUMBER = re.compile(r"([+-]?)(\d[\d.,]*|[.,]\d+)([eE][+-]?\d+)?", re.ASCII)
_SPACED = re.compile(r"(?<=\d)[ \u00a0\u2009\u202f](?=\d{3}(?:\D|$))")
_LOCAL_DATE = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Habits:
    """How one file writes numbers and dates.

    Parameters
    ----------
    decimal : str
        '.' or ',', or empty where the file does not decide.
    sure : bool
        True where cells decided, False where only the separator did.
    day_first : bool or None
        Whether 24.3.2026 is the way dates are written; None where the file does not decide.
    """

    decimal: str = "."
    sure: bool = False
    day_first: bool | None = None


class Refused(Exception):  # noqa: N818 - reads as it is raised
    """A cell that cannot be read; the message says what was expected, without a full stop."""


def clean_text(value):
    """Return text as it is kept: one Unicode form, no outer blanks, nothing a file cannot hold."""
    text = unicodedata.normalize("NFC", str(value)).replace("\x00", "")
    return text.encode("utf-8", "replace").decode("utf-8").strip()


def _number_text(text):
    text = text.replace("−", "-").strip()
    return _SPACED.sub("", text)


def _shape(text):
    """Return '.' or ',' for the decimal sign a number can only have, '?' if two readings stand."""
    found = _NUMBER.fullmatch(_number_text(text))
    if not found:
        return ""
    digits = found[2]
    points, commas = digits.count("."), digits.count(",")
    if points and commas:
        return "." if digits.rfind(".") > digits.rfind(",") else ","
    if points > 1 or commas > 1:
        return "," if points else "."
    if points or commas:
        return "?" if re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", digits) and not found[3] else (
            "." if points else ","
        )  # fmt: skip
    return ""


def survey(columns_and_texts, separator):
    """Return the habits of a file from its number and date cells and its separator.

    Parameters
    ----------
    columns_and_texts : iterable of (Column, str)
        Every known cell of the file.
    separator : str
        Comma, semicolon or tab. Undecided cells follow it: a file parted by commas has decimal
        points; one parted by semicolons has decimal commas.

    Returns
    -------
    Habits
        Decimal sign and date order, empty where the file does not decide.
    """
    signs, orders = set(), set()
    for column, text in columns_and_texts:
        if column.kind in ("number", "integer") and ("." in text or "," in text):
            signs.add(_shape(text))
        elif column.kind == "date" and (found := _LOCAL_DATE.fullmatch(text)):
            first, second = int(found[1]), int(found[3])
            if (first > 12) != (second > 12):
                orders.add(first > 12)
    signs -= {"", "?"}
    decimal = {",": ".", ";": ","}.get(separator, "")
    if signs:
        decimal = signs.pop() if len(signs) == 1 else ""
        sure = decimal != ""
    else:
        sure = False
    return Habits(decimal, sure, orders.pop() if len(orders) == 1 else None)


def _parse_number(text, habits):
    plain = _number_text(text)
    found = _NUMBER.fullmatch(plain)
    if not found:
        raise Refused("a number alone, such as 2.5")
    sign = _shape(plain)
    if sign == "?":
        mark = "." if "." in plain else ","
        # A separator alone never turns 1.234 into 1234: only other cells of the file can.
        if not habits.decimal or (not habits.sure and mark != habits.decimal):
            raise Refused(
                f"one decimal sign through the whole file; {plain} can be read as "
                f"{plain.replace(',', '.')} or as {re.sub('[.,]', '', plain)}"
            )
        sign = habits.decimal
    if sign:
        thousands = "," if sign == "." else "."
        whole, _, rest = found[2].rpartition(sign) if sign in found[2] else (found[2], "", "")
        if thousands in rest or (thousands in whole and not _grouped(whole, thousands)):
            raise Refused("a number alone, such as 2.5")
        plain = f"{found[1]}{whole.replace(thousands, '')}.{rest}{found[3] or ''}"
    return float(plain)


def _grouped(whole, mark):
    return re.fullmatch(rf"\d{{1,3}}(?:{re.escape(mark)}\d{{3}})+", whole) is not None


def _limits(column):
    unit = f" {label(column.unit)}".rstrip() if column.unit else ""
    if column.low is not None and column.high is not None:
        return f"{show(column.low, digits=6)} to {show(column.high, digits=6)}{unit}"
    if column.low is not None:
        return f"{show(column.low, digits=6)}{unit} or more"
    return f"{show(column.high, digits=6)}{unit} or less"


def _number(column, text, habits):
    value = _parse_number(text, habits)
    low = float("-inf") if column.low is None else column.low
    high = float("inf") if column.high is None else column.high
    if not low <= value <= high or value in (float("inf"), float("-inf")):
        raise Refused(f"{_limits(column)}. {column.slip}".strip(" ."))
    if column.kind == "integer":
        if value != int(value):
            raise Refused("a whole number")
        return int(value)
    return value


def _date(column, text, habits):
    if found := _LOCAL_DATE.fullmatch(text):
        first, second, year = int(found[1]), int(found[3]), int(found[4])
        day_first = habits.day_first
        if first > 12 or first == second:
            day_first = True
        elif second > 12:
            day_first = False
        if day_first is None:
            raise Refused("a date as year-month-day, such as 2026-03-24; this one has two readings")
        day, month = (first, second) if day_first else (second, first)
        text = f"{year:04d}-{month:02d}-{day:02d}"
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Refused("a date as year-month-day, such as 2026-03-24") from None


def _time(column, text, habits):
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise Refused("date and time, such as 2026-03-24 09:05+01:00") from None


def _yes_no(column, text, habits):
    word = text.casefold()
    if word in YES:
        return True
    if word in NO:
        return False
    raise Refused("yes or no")


def _choice(column, text, habits):
    word = " ".join(text.split()).casefold().replace("’", "'")
    for choice in column.choices:
        if choice.casefold() == word:
            return choice
    raise Refused("one of: " + ", ".join(choice for choice in column.choices if choice))


def bare_text(text):
    """Return written text without the apostrophe that kept a spreadsheet from running it."""
    if text.startswith("'") and text.lstrip("'").startswith(FORMULA_STARTS):
        return text[1:]
    return text


_READERS = {
    "text": lambda column, text, habits: bare_text(text),
    "number": _number,
    "integer": _number,
    "choice": _choice,
    "yes/no": _yes_no,
    "date": _date,
    "time": _time,
}


def parse_cell(column, text, habits):
    """Return the value of a cell.

    Parameters
    ----------
    column : Column
        What the cell should hold.
    text : str
        The cell, without outer blanks.
    habits : Habits
        How the file writes numbers and dates.

    Returns
    -------
    object
        str, float, int, bool, date or datetime (without offset if the cell has none); the
        column's default where the cell is empty.

    Raises
    ------
    Refused
        If the cell cannot be read; the message says what was expected.
    """
    if not text:
        if column.required:
            raise Refused("an entry; this column may not be empty")
        if column.default is not None:
            return column.default
        return {"text": "", "yes/no": False}.get(column.kind)
    return _READERS[column.kind](column, text, habits)


def render_cell(column, value, decimal="."):
    """Return the value as the text that is written; `column` is None for a column we do not know.

    Parameters
    ----------
    column : Column or None
        What the cell should hold.
    value : object
        Value, or text as a person typed it.
    decimal : str
        Decimal sign of the file.
    """
    if value is None or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.isoformat(sep=" ")
    if isinstance(value, date):
        return value.isoformat()
    if column is not None and column.kind in ("number", "integer") and not isinstance(value, str):
        number = float(value)
        text = str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)
        return text.replace(".", decimal)
    text = clean_text(value)
    quoted = text.startswith("'") and text.lstrip("'").startswith(FORMULA_STARTS)
    if quoted or (text.startswith(FORMULA_STARTS) and not _PLAIN.fullmatch(text)):
        return "'" + text
    return text
