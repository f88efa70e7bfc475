"""How is each junction usually closed in this construction, and what usually goes wrong there?

Ready details for four ways of building stand in `line_details.csv` beside this module. They were
made for this project from general practice; where a study is named, its status is that of the
warning. They are a start for one's own drawing, not a specification.
"""

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from airlab.building.line import Junction
from airlab.building.line_elements import SIDES, TOPS, line_elements, missing_meetings
from airlab.building.line_lengths import with_lengths
from airlab.words import require_choice
from airlab.words.saying import alike

__all__ = [
    "CONSTRUCTIONS", "FAMILIES", "LineDetail", "detail_for", "family_of", "line_details",
    "line_template",
]  # fmt: skip

CONSTRUCTIONS = (
    "timber frame with membrane", "masonry with wet plaster", "externally wrapped",
    "old terrace in refurbishment",
)  # fmt: skip
FAMILIES = (
    "floor to wall", "floor edge", "wall to roof or ceiling", "corner", "window or door", "hatch",
    "roof to ceiling", "party wall", "stair", "services",
)  # fmt: skip
# The rows a drawing without elements begins with: family and the two elements.
_BLANK = (
    ("floor to wall", "ground floor", "walls"), ("floor edge", "floor edge", "walls"),
    ("wall to roof or ceiling", "roof", "walls"), ("window or door", "windows", "walls"),
    ("window or door", "doors", "walls"), ("hatch", "loft hatch", "roof"),
)  # fmt: skip
_BLANK_PARTY = (
    ("party wall", "party wall", "walls"), ("floor to wall", "ground floor", "party wall"),
    ("wall to roof or ceiling", "roof", "party wall"), ("floor edge", "floor edge", "party wall"),
    ("stair", "stair", "party wall"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class LineDetail:
    """One junction of one construction.

    Parameters
    ----------
    construction, family : str
        One of `CONSTRUCTIONS`; one of `FAMILIES`.
    layer_a, layer_b, joined : str
        Layers on both sides and how they are joined.
    owner, inspection : str
        Who usually makes it; when it is looked at.
    goes_wrong, do_not : str
        What usually goes wrong; what to leave.
    status, source : str
        How the warning was obtained, and from where.
    """

    construction: str
    family: str
    layer_a: str
    layer_b: str
    joined: str
    owner: str
    inspection: str
    goes_wrong: str
    do_not: str
    status: str
    source: str

    def sentence(self, units="metric"):
        """Return the detail in words, its status last."""
        parts = (self.joined, f"goes wrong: {self.goes_wrong}", f"do not {self.do_not}")
        text = ". ".join(part[:1].upper() + part[1:] for part in parts)
        return f"{text} ({self.status}). {self.inspection[:1].upper()}{self.inspection[1:]}: look at it."


@lru_cache(maxsize=1)
def _rows():
    text = (files("airlab.building") / "line_details.csv").read_text(encoding="utf-8")
    return tuple(LineDetail(**row) for row in csv.DictReader(text.splitlines()))


def line_details(construction):
    """Return the ready details of a construction, one for each family.

    Parameters
    ----------
    construction : str
        One of `CONSTRUCTIONS`.

    Raises
    ------
    InputError
        If there is no such construction.

    References
    ----------
    [TRADE] ways of joining; [SITE_NOTES], [HALLIK_2019], [GULLBREKKEN_2012],
    [VANDENBOSSCHE_2012], [JUCIENE_2024] warnings.
    """
    require_choice("construction", construction, CONSTRUCTIONS)
    return tuple(row for row in _rows() if row.construction == construction)


def family_of(kind_a, kind_b):
    """Return the family of the junction between two kinds of element; empty for none.

    Parameters
    ----------
    kind_a, kind_b : str
        Kinds of the two elements.

    Examples
    --------
    >>> family_of("floor", "wall"), family_of("wall", "window"), family_of("party wall", "roof")
    ('floor to wall', 'window or door', 'party wall')
    """
    kinds = {kind_a, kind_b}
    for family, wanted in (
        ("hatch", {"hatch"}), ("window or door", {"window", "door"}), ("floor edge", {"floor edge"}),
        ("party wall", {"party wall", "party floor"}),
    ):  # fmt: skip
        if kinds & wanted:
            return family
    if kinds <= set(SIDES):
        return "corner"
    if kinds <= set(TOPS):
        return "roof to ceiling"
    if "wall" in kinds:
        if "floor" in kinds:
            return "floor to wall"
        return "wall to roof or ceiling" if kinds & set(TOPS) else ""
    return ""


def detail_for(construction, kind_a, kind_b):
    """Return the ready detail for two kinds of element, None where there is none.

    Parameters
    ----------
    construction : str
        One of `CONSTRUCTIONS`.
    kind_a, kind_b : str
        Kinds of the two elements.

    Raises
    ------
    InputError
        If there is no such construction.
    """
    family = family_of(kind_a, kind_b)
    return next((one for one in line_details(construction) if one.family == family), None)


def line_template(construction, rooms=(), envelope=(), junctions=()):
    """Return rows of junctions to start from, every one still open.

    Parameters
    ----------
    construction : str
        One of `CONSTRUCTIONS`.
    rooms, envelope : iterable
        The house; without them the rows name a floor, walls and a roof to be renamed.
    junctions : iterable of Junction
        Rows entered already: only what is missing is returned.

    Returns
    -------
    tuple of Junction
        One for each pair of elements that must meet, with the usual way of joining, owner and
        inspection, and its length where the sizes give it.

    Raises
    ------
    InputError
        If there is no such construction, or as for `check_line`.
    """
    details = {one.family: one for one in line_details(construction)}
    if not envelope:
        rows = _BLANK + (_BLANK_PARTY if construction.startswith("old terrace") else ())
        return tuple(_row(details[family], f"{a} to {b}", a, b) for family, a, b in rows)
    rooms, envelope, junctions = tuple(rooms), tuple(envelope), tuple(junctions)
    elements = line_elements(rooms, envelope)
    by_name = {alike(one.name): one for one in elements}
    taken, found = {alike(joint.junction) for joint in junctions}, []
    for meeting in missing_meetings(elements, rooms, junctions):
        name_b = meeting.element_b.split(" or ")[0]
        if not name_b:
            continue
        a, b = by_name[alike(meeting.element_a)], by_name[alike(name_b)]
        name, more = f"{a.name} to {b.name}", 1
        while alike(name) in taken:
            name, more = f"{a.name} to {b.name} {more + 1}", more + 1
        taken.add(alike(name))
        detail = details.get(family_of(a.kind, b.kind))
        found.append(_row(detail, name, a.name, b.name, a.layers, b.layers))
    filled = with_lengths(rooms, envelope, (*junctions, *found))
    return filled[len(junctions) :]


def _row(detail, name, a, b, layers_a=(), layers_b=()):
    layer_a = ", ".join(layers_a) or (detail.layer_a if detail else "")
    layer_b = ", ".join(layers_b) or (detail.layer_b if detail else "")
    if detail is None:
        return Junction(name, a, b, layer_a, layer_b)
    return Junction(name, a, b, layer_a, layer_b, detail.joined, None, None, detail.owner, detail.inspection)  # fmt: skip
