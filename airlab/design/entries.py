"""Which flows does a budget add up? Lines with their sizes, junctions of the line, the unknown."""

from dataclasses import dataclass

from airlab.building import with_lengths
from airlab.building.components import component
from airlab.design.budget import BudgetLine
from airlab.design.spread import fit_lognormal
from airlab.words import InputError, require_positive, show
from airlab.words.saying import alike

__all__ = ["LATER_SHARE", "UNKNOWN_SHARES", "Entry", "budget_entries", "certain"]

LATER_SHARE = 0.5  # what a later layer leaves [AIRLAB]
UNKNOWN_SHARES = (0.05, 0.15, 0.40)  # of the middle of everything else [AIRLAB]
_NAMED = 5  # lines named in a note
_OPEN, _SEALED = "joint open", "joint sealed"


@dataclass(frozen=True, slots=True)
class Entry:
    """One flow of the budget, ready to be drawn.

    Parameters
    ----------
    name : str
        What leaks.
    quantity : float
        How much of it.
    unit : str
        What is counted.
    median : float
        Middle flow at 50 Pa of the whole line in the finished house; of one open hole where holes
        are counted. [m3/s]
    spread : float
        Spread of its logarithm. [-]
    shared : bool
        Whether it shares the workmanship of the house.
    now : float
        Flow at the check over flow at the end. [-]
    holes : float or None
        Expected number of open holes; None where it is no process of holes. [-]
    is_lift : bool
        Whether it is a part of the line that stands open.
    line : BudgetLine or None
        The row it comes from.
    """

    name: str
    quantity: float
    unit: str
    median: float
    spread: float
    shared: bool = True
    now: float = 1.0
    holes: float | None = None
    is_lift: bool = False
    line: BudgetLine | None = None

    @property
    def middle(self):
        """Middle flow of the whole line; holes by their expected number. [m3/s]"""
        return self.median * (1.0 if self.holes is None else self.holes)


def budget_entries(lines, rooms=(), envelope=(), junctions=(), later_share=LATER_SHARE):
    """Return the flows of a budget, and what to look at.

    Parameters
    ----------
    lines : iterable of BudgetLine
        The budget as typed.
    rooms, envelope, junctions : iterable
        The house and its line: sizes, and which junctions stand open.
    later_share : float
        What a later layer leaves of the leakage it covers. [-]

    Returns
    -------
    tuple of (tuple of Entry, tuple of str)
        The flows: the lines, open lifts of the line apart, junctions that no line names, and the
        unknown. Then the warnings.

    Raises
    ------
    InputError
        If two lines bear one name, or a line finds nothing to take its size from.

    Notes
    -----
    An open lift counts as an open joint until it is closed in the line. Figures speak of the
    finished house; what a later layer will cover leaks more until then.

    References
    ----------
    [AIRLAB] share of a later layer and size of the unknown are assumptions.
    """
    later = require_positive("later_share", later_share)
    if later > 1.0:
        raise InputError(f"Later share is {show(later)}. A later layer leaves at most all, 1.")
    lines, warnings = tuple(lines), []
    names = [alike(one.item) for one in lines]
    if len(set(names)) < len(names):
        raise InputError(f"Two lines of the budget are called {_twice(names)!r}. Name each once.")
    junctions = _measured(rooms, envelope, junctions)
    taken, entries = set(), []
    for line in lines:
        try:
            entries += _of_line(line, junctions, envelope, later, taken)
        except InputError as error:
            raise InputError(f"{line.item}: {error}") from None
    left = [one for one in junctions if alike(one.junction) not in taken]
    entries += [_of_junction(one) for one in left if one.length]
    sizeless = [one.junction for one in left if not one.length]
    if sizeless:
        warnings.append(f"No length, so not counted: {', '.join(sizeless[:5])}.")
    if left and lines:
        warnings.append(f"{len(left)} junctions of the line stand in no line of the budget.")
    if not entries:
        raise InputError("The budget is empty. Enter lines, or draw the line of the house.")
    if not any(name.startswith("unknown") for name in names):
        whole = sum(one.middle for one in entries)
        entries.append(_entry("unknown", 1.0, "item", [s * whole for s in UNKNOWN_SHARES]))
    return tuple(entries), tuple(warnings)


def certain(entries):
    """Return what is counted without any doubt, as a note; empty where every line spreads.

    Parameters
    ----------
    entries : iterable of Entry
        The flows of a budget.
    """
    none = [one.name for one in entries if one.middle == 0.0]
    sure = [
        one.name for one in entries if one.middle > 0.0 and one.spread == 0.0 and one.holes is None
    ]
    said = [f"{words}: {', '.join(names[:_NAMED])}{f' and {more} more' if more > 0 else ''}"
            for names, words in ((sure, "Low, middle and high are the same"), (none, "No leakage"))
            for more in (len(names) - _NAMED,) if names]  # fmt: skip
    if not said:
        return ""
    sure_of = "The chance counts this as known for sure; if it is not, let low and high lie apart."
    return f"{'. '.join(said)}. {sure_of}"


def _twice(names):
    return next(name for name in names if names.count(name) > 1)


def _measured(rooms, envelope, junctions):
    met = tuple(one for one in junctions if one.meets)
    try:
        return with_lengths(tuple(rooms), tuple(envelope), met)
    except InputError:  # no room or area yet: typed lengths alone
        return met


def _entry(name, quantity, unit, figures, **rest):
    median, spread = fit_lognormal(*(quantity * one for one in figures))
    return Entry(name, quantity, unit, median, spread, **rest)


def _of_junction(one):
    key = _SEALED if one.closed else _OPEN
    return _entry(one.junction, one.length, "m", _figures(key), is_lift=not one.closed)


def _figures(key):
    one = component(key)
    return (one.low, one.mid, one.high)


def _of_line(line, junctions, envelope, later, taken):
    """Yield the entry of a line, and that of its open lifts."""
    now = {"in place": 1.0, "covered by a later layer": 1.0 / later}.get(line.at_check, 0.0)
    rest = {"shared": line.shares_workmanship, "now": now, "line": line}
    quantity, lifts = line.quantity, 0.0
    begin = [alike(part) for part in line.sizes_from.split("+") if part.strip()]
    if begin and line.unit == "m2":
        found = [one.area_m2 for one in envelope if alike(one.element).startswith(tuple(begin))]
        quantity = sum(found) if quantity is None else quantity
    elif begin:
        found = [one for one in junctions if alike(one.junction).startswith(tuple(begin))]
        taken.update(alike(one.junction) for one in found)
        if line.unit == "m":
            if quantity is None and any(one.length is None for one in found):
                raise InputError("a junction it stands for has no length. Type it in the line.")
            whole = sum(one.length or 0.0 for one in found)
            lifts = sum(one.length or 0.0 for one in found if not one.closed)
            if quantity is None:
                quantity = whole
            lifts = lifts * quantity / whole if whole else 0.0
    if begin and not found:
        raise InputError(f"nothing in the house begins with {line.sizes_from!r}.")
    if quantity is None:
        raise InputError("no quantity. Junctions give metres, elements square metres.")
    if line.unit == "hole":
        median, spread = fit_lognormal(*line.figures)
        open_holes = quantity * (1.0 if line.left_open is None else line.left_open)
        yield Entry(line.item, quantity, "hole", median, spread, holes=open_holes, **rest)
        return
    if quantity > lifts or not lifts:
        yield _entry(line.item, quantity - lifts, line.unit, line.figures, **rest)
    if lifts:
        yield _entry(f"{line.item} (open lift)", lifts, "m", _figures(_OPEN), is_lift=True, **rest)
