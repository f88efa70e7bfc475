"""Exercises on drawings of the line: which numbered places belong to the answer?

Three invented houses beside the studio of `line_bank`. What belongs to an answer is asked from the
graph of the line and from the rows of its junctions, never typed in.
"""

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from airlab.building import EnvelopeElement, Room, line_template, line_views
from airlab.teaching.line_bank import line_case, line_case_views
from airlab.teaching.reasoned import Mark

__all__ = ["MARKS"]

_LONG, _WIDE, _TALL = 9.0, 6.0, 2.5  # m
_WALLS = {"front wall": _LONG, "back wall": _LONG, "left wall": _WIDE, "right wall": _WIDE}
# Construction, layer, wall towards a neighbour, elements without a layer, junctions not closed.
_CASES = {
    "cottage": ("masonry with wet plaster", "wet plaster", "", (), (
        "floor edge to front wall", "floor edge to back wall", "back door to back wall",
        "ceiling to left wall")),
    "cabin": ("timber frame with membrane", "membrane", "", ("floor edge",), (
        "ceiling to back wall", "loft hatch to ceiling")),
    "terrace": ("old terrace in refurbishment", "lime plaster", "right wall", (), (
        "floor edge to right wall", "ceiling to right wall", "front windows to front wall",
        "front wall to right wall")),
}  # fmt: skip


@lru_cache
def _case(name):
    """Return (rows of junctions, kinds of elements, views) of a house."""
    if name == "studio":
        house = line_case()
        return house.junctions, {a.element: a.kind for a in house.envelope}, line_case_views()
    construction, layer, party, bare, lifted = _CASES[name]
    rooms = (
        Room("Kitchen", "ground", _LONG, _WIDE, _TALL),
        Room("Bedroom", "first", _LONG, _WIDE, _TALL),
    )
    areas = []

    def area(element, kind, room, size, made_of=layer):
        made_of = "" if element in bare else made_of
        areas.append(EnvelopeElement(f"{element} {room}", element, kind, room, size, made_of))

    for room in rooms:
        for wall, long in _WALLS.items():
            area(wall, "party wall" if wall == party else "wall", room.name, long * _TALL)
    area("ground floor", "floor", "Kitchen", _LONG * _WIDE, "concrete")
    area("ceiling", "ceiling", "Bedroom", _LONG * _WIDE, "membrane")
    area("floor edge", "floor edge", "Kitchen", 9.0)
    area("front windows", "window", "Bedroom", 2.9, "frame")
    area("back door", "door", "Kitchen", 2.0, "frame")
    area("loft hatch", "hatch", "Bedroom", 0.5, "lining")
    rows = tuple(
        replace(row, closed=row.junction not in lifted)
        for row in line_template(construction, rooms, areas)
    )
    return rows, {a.element: a.kind for a in areas}, line_views(rooms, areas, rows)


class _Place(NamedTuple):
    """A numbered place with the row of its junction and the kinds of its two elements."""

    number: int
    mark: object
    row: object
    kinds: frozenset

    @property
    def kind(self):
        """The kind that says what the place is: the first of `_KINDS` among the two."""
        return next((kind for kind in _KINDS if kind in self.kinds), "corner")

    @property
    def inspection(self):
        return self.row.inspection if self.row else ""


_KINDS = ("hatch", "window", "door", "floor edge", "ceiling", "floor", "party wall")
_WHOLE = {
    "hatch": "The thin lines are the hatch. The bold line goes on across them.",
    "window": "The thin lines are the window in its wall. The bold line goes on across them: joined.",
    "door": "The thin lines are the door in its wall. The bold line goes on across them: joined.",
    "floor edge": "The grey bar is the floor between the storeys. The bold line passes it unbroken.",
    "ceiling": "The bold line turns from wall to ceiling without a break.",
    "floor": "The bold line turns from floor to wall without a break.",
    "party wall": "It is the neighbour's wall, and the bold line turns into it without a break.",
    "corner": "The bold line turns this corner without a break.",
}
_GO_ROUND = {
    "hatch": "Follow the ceiling: something opens in it.",
    "window": "Go round once more and stop at every opening.",
    "door": "Go round once more and stop at every opening.",
    "floor edge": "Go round once more and stop where the floor between the storeys meets a wall.",
    "ceiling": "Go round once more and stop at the upper corners.",
    "floor": "Go round once more and stop at the lower corners.",
    "party wall": "Go round once more and stop at the neighbour's wall.",
    "corner": "Go round once more and stop at every corner.",
}


def _on(key, case, view, question, wanted, explain, hint, missed, **more):
    """Return a `Mark` whose tests and hints get a `_Place`; the view is found by its key."""

    def place(mark):
        rows, kinds, _ = _case(case)
        row = next((one for one in rows if one.junction == mark.name), None)
        ends = (mark.element_a, mark.element_b)
        return _Place(mark.number, mark, row, frozenset(kinds[end] for end in ends if end in kinds))

    return Mark(
        key, question,
        lambda: next(one for one in _case(case)[2].drawings if one.key == view),
        lambda mark: wanted(place(mark)), explain,
        lambda mark: hint(place(mark)), lambda mark: missed(place(mark)),
        **{"source": "TRADE"} | more,
    )  # fmt: skip


def _gaps(key, case, view, what, explain, level="core"):
    """Return the exercise to mark every gap of a drawing that tells nothing."""
    return _on(
        key, case, view, f"{what} Follow the bold line once round. Mark every gap.",
        lambda place: not place.mark.closed, explain,
        lambda place: _WHOLE[place.kind], lambda place: _GO_ROUND[place.kind],
        outcome="D1", level=level,
    )  # fmt: skip


def _why_not_hidden(place):
    if place.mark.closed:
        return f"It is closed. {_WHOLE[place.kind]}"
    return f"It is open, but these boards do not hide it: look at it {place.inspection}."


def _why_not_warm(place):
    if place.mark.closed:
        return "It is closed: no air passes."
    return "It lies at half height, where inside and outside press about alike on a still night."


_SAME = "The two layers there are of the same material: {}."
MARKS = (
    _gaps("03-13", "cottage", "plan", "The plan of a cottage.",
          "The back door alone. A plan cuts walls and openings; floor edges and ceiling wait for the "
          "sections.", "start"),
    _gaps("03-14", "cottage", "section A", "A section of the same cottage.",
          "The floor edge at the front and at the back, and the back door. The plan showed the door "
          "alone."),
    _gaps("03-15", "terrace", "section B", "A section of an old terrace; its right wall is the neighbour's.",
          "Floor edge and ceiling, both at the neighbour's wall: bare brick in the floor void and in "
          "the loft."),
    _gaps("03-16", "cabin", "section A", "A section of a timber cabin.",
          "Ceiling at the back wall, hatch, and the floor edge on both sides, where nobody has named "
          "a layer.", "stretch"),
    _on("03-17", "studio", "section A", "A section with its pen lifts told. Mark the one that stands "
        "in no list, so that nobody will close it.",
        lambda place: place.mark.state == "missing",
        "The hatch. What is in no list has no owner and no date. Enter it first.",
        lambda place: "It is in the list and closed." if place.mark.closed else
        f"It is open, but it is in the list, and the {place.mark.owner} answers for it.",
        lambda place: "Its shape is dashed.", outcome="K6", told_names=True),
    _on("03-18", "cottage", "section A", "Masonry with wet plaster. Mark the junctions that must be "
        "looked at before the screed is laid.",
        lambda place: place.inspection == "before the screed",
        "Where the slab meets the walls: the screed hides them for good. Plaster goes down to the slab, "
        "then the damp course is lapped and taped to it.",
        lambda place: f"The screed does not reach it. Its time is {place.inspection}.",
        lambda place: "Look at both feet of the walls.", outcome="K6", source="SITE_NOTES"),
    _on("03-19", "cottage", "section A", "The joists of this cottage are built into its front and back "
        "walls. Mark where their ends pass the layer.",
        lambda place: place.kind == "floor edge",
        "At the edge of the floor between the storeys. The ends shrink, the pockets open, and the void "
        "is hardly ever plastered.",
        lambda place: "No joist passes there. Joists carry the floor between the storeys.",
        lambda place: "A joist has two ends.", outcome="K2", level="start", source="SITE_NOTES"),
    _on("03-20", "cabin", "section A", "Timber frame with a membrane. Mark the junctions for which the "
        "window fitter answers.",
        lambda place: place.mark.owner == "window fitter",
        "Window and door: tape from frame to membrane, corners folded with slack, brackets taped over.",
        lambda place: f"That is made by the {place.mark.owner}: the membrane, not a frame.",
        lambda place: "A door is a frame, too." if place.kind == "door" else "Look for the window.",
        outcome="K6", level="start"),
    _on("03-21", "cottage", "section B", "Walls of wet plaster, a slab of concrete, a membrane under "
        "the ceiling, a hatch with a lining. Mark every junction that joins two different materials.",
        lambda place: place.row is not None and place.row.layer_a != place.row.layer_b,
        "Slab to plaster, membrane to plaster, lining to membrane. Each pair needs something that holds "
        "on both: choose it before the day.",
        lambda place: _SAME.format(place.row.layer_a),
        lambda place: f"What meets at {place.mark.name}?", outcome="D4"),
    _on("03-22", "cabin", "section A", "A cold, still night; the cabin is heated, no fan runs. Mark the "
        "pen lifts through which its warm air leaves.",
        lambda place: not place.mark.closed and bool(place.kinds & {"ceiling", "hatch"}),
        "Warm air rises and presses outwards at the top: hatch and upper corner. Cold air comes in low "
        "down. That is heat lost, and damp air in the loft.",
        _why_not_warm, lambda place: "Look at the top of the house.",
        outcome="K5", source="DERIVED", told_names=True),
    _on("03-23", "cabin", "section B", "A section with its pen lifts told. Mark those that no tape can "
        "close before someone names a layer.",
        lambda place: place.mark.state == "no layer",
        "The floor edge has no airtight layer at all: there is nothing to tape to. First a strip of "
        "membrane round it, then the joints.",
        lambda place: "It is closed." if place.mark.closed else
        "Both sides have a layer there. It needs joining, not naming.",
        lambda place: "The floor edge has two sides.", outcome="K1", told_names=True),
    _on("03-24", "terrace", "plan", "An old terrace; the right wall is the neighbour's. Mark the "
        "junctions through which the neighbour's air can come round the edge of that wall.",
        lambda place: place.kind == "party wall",
        "Both corners of the party wall. Fire stopping in it stays as it is: airtight and fire rated "
        "are two things, and both are needed.",
        lambda place: "It lies between this house and the outside, not the neighbour.",
        lambda place: "A wall has two ends.", outcome="K2"),
    _on("03-25", "cottage", "section A", "Tomorrow the ceiling boards of the kitchen go up. Mark the "
        "gaps that they would hide.",
        lambda place: not place.mark.closed and place.inspection == "before the ceiling boards",
        "Both floor edges. Not yet: parge between the joists, look at it under pressure, then the "
        "boards.",
        _why_not_hidden, lambda place: "The ceiling runs from the front wall to the back wall.",
        outcome="D9"),
)  # fmt: skip
