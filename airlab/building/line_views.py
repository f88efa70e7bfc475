"""Where does each junction stand in a plan and in two sections of this house?

The tables give no positions. Walls follow one another as their junctions say; a section cuts two
walls that lie opposite in that ring, with the floor below and the roof above. So the order is
right and the shape is schematic.
"""

from dataclasses import dataclass

from airlab.building.line_check import LineCheck, check_line
from airlab.building.line_lengths import _House
from airlab.building.line_order import CLOSED, LineMark, LineOrder, PlanView, SectionView
from airlab.words.saying import alike

__all__ = [
    "LineViews", "line_views",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class LineViews:
    """A plan, two sections, and the junctions that none of them cuts."""

    check: LineCheck
    plan: PlanView | None
    sections: tuple[SectionView, ...]
    rest: tuple[LineMark, ...]
    marks: tuple[LineMark, ...]

    @property
    def drawings(self):
        """Plan and sections."""
        return ((self.plan,) if self.plan else ()) + self.sections

    def marks_in(self, key):
        """Return the junctions of a drawing by its key, those in no drawing ("rest"), the lifts."""
        for view in self.drawings:
            if view.key == key:
                return view.marks
        return self.rest if key == "rest" else tuple(mark for mark in self.marks if mark.lift)

    def where(self, name):
        """Return the first drawing a junction stands in, None for none."""
        return next(
            (v for v in self.drawings if any(alike(m.name) == alike(name) for m in v.marks)), None
        )

    def sentence(self, units="metric"):
        """Return what is drawn and what is not."""
        text = f"{self.check.sentence(units)} Drawn: {', '.join(v.name for v in self.drawings)}."
        if self.rest:
            text += f" Not cut by them: {', '.join(mark.name for mark in self.rest[:6])}"
            text += f" and {len(self.rest) - 6} more." if len(self.rest) > 6 else "."
        return text


def line_views(rooms, envelope, junctions, check=None, storey=None, holes=(), trades=()):
    """Return a plan and two sections of the line, for drawing and for walking along it.

    Parameters
    ----------
    rooms, envelope, junctions, holes, trades : iterable
        As for `check_line`.
    check : LineCheck or None
        The check, if it was made already.
    storey : str or None
        Storey of the plan; None takes the lowest with two walls or more.

    Returns
    -------
    LineViews
        Without a plan where there is no wall.

    Raises
    ------
    InputError
        As for `check_line`, or if the plan has no such storey.
    """
    rooms, envelope, junctions = tuple(rooms), tuple(envelope), tuple(junctions)
    check = check or check_line(rooms, envelope, junctions, holes, trades)
    marks = _marks(check, junctions)
    by_pair = {}
    for mark in marks:
        for other in mark.element_b.split(" or ") if mark.state == "missing" else (mark.element_b,):
            pair = frozenset((alike(mark.element_a), alike(other)))
            by_pair.setdefault(pair, []).append(mark)
    drawer = LineOrder(rooms, check, _House(rooms, envelope, junctions), by_pair)
    plan = drawer.plan(storey)
    sections = drawer.sections() if plan else ()
    drawn = {mark.number for v in (*((plan,) if plan else ()), *sections) for mark in v.marks}
    rest = tuple(mark for mark in marks if mark.number not in drawn)
    return LineViews(check, plan, sections, rest, marks)


def _marks(check, junctions):
    """Return every junction and every further lift as a mark, in the order of their numbers."""
    lifts = {lift.number: lift for lift in check.lifts}
    places = {joint.junction: place for place, joint in enumerate(junctions, start=1)}
    found = []
    for joint in check.junctions:
        if joint.meets:
            number = places[joint.junction]
            lift = lifts.pop(number, None)
            found.append(LineMark(
                number, joint.junction, lift.why if lift else CLOSED, joint.element_a,
                joint.element_b, joint.owner, joint.length, lift,
            ))  # fmt: skip
    for lift in lifts.values():
        found.append(LineMark(lift.number, lift.name, lift.why, lift.element_a, lift.element_b,
                              lift.owner, lift.length, lift))  # fmt: skip
    return tuple(found)
