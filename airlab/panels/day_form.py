"""What is a form of the check day made of: boxes to type in, a fold, buttons, and how they are read?

A box hands over its text when it is left or Enter is pressed, so the last figure typed is never
missed by the button that follows.
"""

from dataclasses import replace
from datetime import datetime, time

import ipywidgets as widgets

from airlab.files.cells import Habits, Refused, parse_cell
from airlab.words import InputError, convert, label, to_si

__all__ = ["DayForm", "box", "choices", "moment", "number", "picks", "read_where", "tags"]

_AUTO = {"description_width": "initial"}


def box(name, unit="", hint="", kind=""):
    """Return a box for text or a number; the unit stands in its name."""
    words = f"{name} [{label(unit)}]" if unit else name
    made = widgets.Text(description=words, placeholder=hint, continuous_update=False, style=_AUTO)
    made.add_class("airlab-box")
    return made.add_class(f"airlab-{kind}") if kind else made


def picks(name, options, hint=""):
    """Return a box for text that offers some words to pick from."""
    made = widgets.Combobox(
        description=name, options=tuple(dict.fromkeys(options)), placeholder=hint,
        ensure_option=False, continuous_update=False, style=_AUTO,
    )  # fmt: skip
    return made.add_class("airlab-box")


def choices(name, options):
    """Return a list to choose from; options are words or pairs of words and value."""
    return widgets.Dropdown(description=name, options=options, style=_AUTO).add_class("airlab-box")


def number(made, column, unit=""):
    """Return the number in a box in SI; None where it is empty and may be.

    Parameters
    ----------
    made : Text
        The box.
    column : Column
        What is allowed, in the unit of its table.
    unit : str
        Unit people type in; the column's own if empty.

    Raises
    ------
    InputError
        If it cannot be used; the message names the box.
    """
    unit = unit or column.unit
    if unit != column.unit:
        low, high = (
            None if end is None else convert(end, column.unit, unit)
            for end in (column.low, column.high)
        )
        column = replace(column, unit=unit, low=low, high=high)
    text = made.value.strip()
    try:
        value = parse_cell(column, text, Habits())
    except Refused as refused:
        shown = f"'{text[:40]}'" if text else "empty"
        raise InputError(f"{made.description} is {shown}; expected {refused}.") from None
    return None if value is None or value == "" else to_si(value, unit or "-")


def moment(text):
    """Return the time typed, 14:05 or 2027-03-24 14:05; None for an empty box.

    Raises
    ------
    InputError
        If it is no time.
    """
    text = text.strip()
    if not text:
        return None
    try:
        if len(text) <= 5:
            hour = time.fromisoformat(text.zfill(5))
            return datetime.combine(datetime.now().date(), hour).astimezone()
        found = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(
            f"The time is '{text[:40]}'. Write 14:05 for today, or 2027-03-24 14:05."
        ) from None
    return found if found.tzinfo else found.astimezone()


def tags(text):
    """Return the numbers in a text such as '1-4, 7'.

    Raises
    ------
    InputError
        If a part is no number.

    Examples
    --------
    >>> tags("1-4, 7")
    (1, 2, 3, 4, 7)
    """
    found = []
    for part in text.replace("–", "-").replace(";", ",").replace(" ", ",").split(","):
        if not part:
            continue
        first, _, last = part.partition("-")
        if not (first.isdigit() and (last.isdigit() or not last)):
            raise InputError(f"Leak numbers: '{part[:20]}' is none. Write them as 1-4, 7.")
        found += range(int(first), int(last or first) + 1)
    return tuple(dict.fromkeys(found))


def read_where(text, areas=(), rooms=()):
    """Return area, room, place and height from one line such as 'Bathroom, pipe, low'.

    Parameters
    ----------
    text : str
        Parts with commas between: an area or a room first, low, mid or high last. What is neither
        is the place; a beginning that only one room or area has is enough.
    areas : iterable of EnvelopeElement
        Areas of the envelope.
    rooms : iterable of Room
        Rooms of the house.

    Examples
    --------
    >>> read_where("pipe behind the bath, low")
    {'place': 'pipe behind the bath', 'height': 'low'}
    """
    parts = [" ".join(part.split()) for part in text.split(",")]
    parts = [part for part in parts if part]
    found = {}
    if parts and parts[-1].casefold() in ("low", "mid", "high"):
        found["height"] = parts.pop().casefold()
    if parts:
        head = parts[0].casefold()
        by_area = {area.area.casefold(): area for area in areas}
        by_room = {room.name.casefold(): room for room in rooms}
        area, room = by_area.get(head), by_room.get(head)
        if area is None and room is None:
            room = _only(head, by_room)
            area = _only(head, by_area) if room is None else None
        if area is not None:
            found |= {"area": area.area, "room": area.room}
        elif room is not None:
            found["room"] = room.name
        if "room" in found:
            parts.pop(0)
    if parts:
        found["place"] = ", ".join(parts)
    return {key: found[key] for key in ("area", "room", "place", "height") if key in found}


def _only(head, named):
    """Return the only thing whose name begins so."""
    begun = [one for name, one in named.items() if name.startswith(head)]
    return begun[0] if len(begun) == 1 and len(head) > 2 else None


class DayForm(widgets.VBox):
    """A form: fields in sight, a fold for the others, buttons.

    Parameters
    ----------
    fields : dict
        Name to control, in sight; at most five.
    buttons : iterable of Button
        The first is what Enter does.
    folds : dict
        Words of a fold to the controls under it: {name: control}, and buttons in a list.
    pairs : iterable of tuple of str
        Names of fields that stand side by side.
    """

    def __init__(self, fields, buttons, folds=None, pairs=()):
        self.fields, self.ticks = dict(fields), {}
        rows, paired = [], {name: pair for pair in pairs for name in pair}
        for name, control in fields.items():
            pair = paired.get(name)
            if pair is None:
                rows.append(control)
            elif pair[0] == name:
                rows.append(widgets.HBox([fields[n] for n in pair]).add_class("airlab-pair"))
        buttons = list(buttons)
        if buttons:
            buttons[0].add_class("airlab-enter")
            rows.append(widgets.HBox(buttons).add_class("airlab-buttons"))
        for words, inner in (folds or {}).items():
            rows += self._fold(words, inner)
        super().__init__(rows)
        self.add_class("airlab-form")

    def _fold(self, words, inner):
        controls, line = {k: v for k, v in inner.items() if k != "buttons"}, inner.get("buttons")
        self.fields |= controls
        held = list(controls.values())
        if line:
            held.append(widgets.HBox(line).add_class("airlab-buttons"))
        tick = widgets.Checkbox(description=words, indent=False, style=_AUTO)
        folded = widgets.VBox(held).add_class("airlab-more")
        folded.layout.display = "none"

        def unfold(change):
            folded.layout.display = None if change.new else "none"

        tick.observe(unfold, "value")
        self.ticks[words] = tick
        return tick, folded

    def text(self, name):
        """Return what stands in a field, without outer blanks."""
        return str(self.fields[name].value).strip()

    def clear(self, *names):
        """Empty fields."""
        for name in names:
            field = self.fields[name]
            if isinstance(field, widgets.Dropdown):
                field.index = 0
            elif isinstance(field, widgets.Checkbox):
                field.value = False
            elif isinstance(field, widgets.Text):
                field.value = ""
