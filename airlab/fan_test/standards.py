"""What does each standard ask of a fan test? Options of the sums, and conditions with their source.

Most of these figures are from memory: the printed standard decides. The status stands beside each.
"""

from dataclasses import dataclass

from airlab.words import InputError, to_si

__all__ = ["STANDARDS", "Asked", "Standard", "standard"]


@dataclass(frozen=True, slots=True)
class Asked:
    """One condition: what it is about, its limit (see the key), where it comes from, its status."""

    key: str
    limit: float | tuple
    source: str
    status: str = "from memory"


@dataclass(frozen=True, slots=True)
class Standard:
    """A standard: how its sums differ, which area it reports, which directions it wants."""

    key: str
    name: str
    viscosity_term: bool
    directions: str  # "each", "both" or "depressurise"
    asked: tuple[Asked, ...]
    note: str = ""


_PHI, _MEMORY = "PASSIPEDIA", "from memory"
STANDARDS = (
    Standard("ISO 9972:2015", "ISO 9972:2015", False, "each", (
        Asked("zero flow", 5.0, _PHI, "read"),
        Asked("points", 5, _PHI, "read"),
        Asked("step", 10.0, "ISO9972"),
        Asked("lowest", (10.0, 5.0, 3.0), "ISO9972", "second-hand"),
        Asked("highest", 50.0, _PHI, "read"),
        Asked("exponent", (0.5, 1.0), _PHI, "read"),
        Asked("r squared", 0.98, "ISO9972"),
        Asked("stack", 250.0, "ISO9972"),
        Asked("wind", (3.0, 6.0, 3), "ISO9972"),
        Asked("flow accuracy", 0.07, "ISO9972"),
        Asked("pressure accuracy", 1.0, "ISO9972"),
        Asked("temperature accuracy", 0.5, "ISO9972"),
    ), "Each direction is fitted on its own; the mean of the two flows is reported."),
    Standard("EN 13829:2000", "EN 13829:2000", False, "each", (
        Asked("zero flow", 5.0, "EN13829"),
        Asked("points", 5, "EN13829"),
        Asked("step", 10.0, "EN13829"),
        Asked("lowest", (10.0, 5.0, 0.0), "EN13829", "second-hand"),
        Asked("highest", 50.0, "EN13829"),
        Asked("stack", 500.0, "EN13829"),
        Asked("wind", (3.0, 6.0, 3), "EN13829"),
        Asked("flow accuracy", 0.07, "EN13829"),
        Asked("pressure accuracy", 2.0, "EN13829"),
        Asked("temperature accuracy", 1.0, "EN13829"),
    ), "Its q50 is a flow per envelope area, its w50 a flow per floor area."),
    Standard("ASTM E779", "ASTM E779", True, "both", (
        Asked("points", 5, "E779_TEXT"),
        Asked("lowest", (10.0, 0.0, 0.0), "E779_TEXT", "second-hand"),
        Asked("highest", 60.0, "E779_TEXT", "second-hand"),
        Asked("exponent", (0.5, 1.0), "E779_TEXT"),
        Asked("stack", 200.0, "E779_TEXT"),
        Asked("wind", (2.0, None, None), "E779_TEXT"),
        Asked("outside temperature", (5.0, 35.0), "E779_TEXT"),
        Asked("flow accuracy", 0.05, "E779_TEXT"),
        Asked("pressure accuracy", 2.5, "E779_TEXT"),
        Asked("temperature accuracy", 1.0, "E779_TEXT"),
    ), "Coefficient with a viscosity term; the mean leakage area of both directions."),
    Standard("CAN/CGSB-149.10", "CAN/CGSB-149.10", False, "depressurise", (
        Asked("points", 8, "CGSB149"),
        Asked("lowest", (15.0, 0.0, 0.0), "CGSB149"),
        Asked("highest", 50.0, "CGSB149"),
        Asked("exponent", (0.5, 1.0), "CGSB149"),
        Asked("correlation", 0.990, "CGSB149"),
        Asked("relative error", 0.07, "CGSB149"),
        Asked("wind", (to_si(20.0, "km/h"), None, None), "CGSB149"),
        Asked("flow accuracy", 0.05, "CGSB149"),
        Asked("pressure accuracy", 1.0, "CGSB149"),
    ), "Depressurising only. Newer editions allow fewer points."),
)  # fmt: skip


def standard(key):
    """Return the standard of that key; the key may be given without its year.

    Raises
    ------
    InputError
        If there is none.

    Examples
    --------
    >>> standard("ISO 9972").name
    'ISO 9972:2015'
    """
    if isinstance(key, Standard):
        return key
    for one in STANDARDS:
        if one.key == key or one.key.partition(":")[0] == key:
            return one
    raise InputError(f"Standard is {key!r}. Choose one of: {', '.join(s.key for s in STANDARDS)}.")
