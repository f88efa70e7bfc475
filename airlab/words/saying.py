"""How are sizes, ranges and lists said in sentences, and when are two names the same?"""

from functools import lru_cache

from airlab.words.numbers import show, show_range
from airlab.words.units import display_unit, from_si

__all__ = ["alike", "listed", "said", "said_range"]


def said(value, unit, units="metric", digits=3):
    """Return an SI value in the unit people see; unit "hole" is the area of a hole [m2]."""
    shown = display_unit(unit, units)
    return show(from_si(value, shown), shown, digits)


def said_range(low, high, unit, units="metric"):
    """Return a range of SI values in the unit people see."""
    shown = display_unit(unit, units)
    return show_range(from_si(low, shown), from_si(high, shown), shown, digits=3)


def listed(names, most=None):
    """Return names as 'a, b and c'; beyond `most` the rest are counted."""
    names = [str(name) for name in names]
    if most is not None and len(names) > most + 1:
        names = [*names[:most], f"{len(names) - most} more"]
    return (
        ", ".join(names[:-1]) + (" and " if len(names) > 1 else "") + (names[-1] if names else "")
    )


@lru_cache(maxsize=10_000)
def alike(name):
    """Return a name as it is compared: case and spaces do not matter."""
    return " ".join(str(name).split()).casefold()
