"""Where in the house does the budget put its leakage: in which room, at which joint or area?

A line of the budget takes its size from joints or areas of the house. Its flow is shared out over
them by length or area, and over the rooms that they touch.
"""

from dataclasses import dataclass, field
from types import MappingProxyType

from airlab.design import budget_entries
from airlab.leak_check.stage import touched_by
from airlab.words.saying import alike

__all__ = ["NOWHERE", "BudgetPlaces", "budget_places"]


@dataclass(frozen=True, slots=True)
class BudgetPlaces:
    """The leakage of a budget as it stands at the check, by room and place.

    Parameters
    ----------
    flows : Mapping
        (room, name of joint, area or opening) to flow at 50 Pa; names as `alike` gives them. [m3/s]
    placed, unplaced : float
        Flow that has a place; flow of lines that name none. [m3/s]
    """

    flows: MappingProxyType = field(default_factory=lambda: MappingProxyType({}))
    placed: float = 0.0
    unplaced: float = 0.0

    def at(self, room, name):
        """Return the flow of a joint, area or opening in a room; 0 where the budget has none. [m3/s]."""
        return self.flows.get((alike(room), alike(name)), 0.0)

    def room(self, room):
        """Return the flow of a room. [m3/s]."""
        return sum(flow for (where, _), flow in self.flows.items() if where == alike(room))


NOWHERE = BudgetPlaces()


def budget_places(lines, rooms=(), envelope=(), junctions=(), openings=()):
    """Return where the middle case of a budget leaks at the check.

    Parameters
    ----------
    lines : iterable of BudgetLine
        The budget; none gives no places.
    rooms, envelope, junctions, openings : iterable
        The house. Junctions have their lengths.

    Returns
    -------
    BudgetPlaces
        An open joint has the flow of an open joint. What is not built or sealed for the day is left out.

    Raises
    ------
    InputError
        If a line of the budget cannot be used.

    Notes
    -----
    A joint is shared alike among the rooms it touches. The unknown and lines that stand for no joint,
    area or opening by name have no place.
    """
    lines, envelope, junctions = tuple(lines), tuple(envelope), tuple(junctions)
    if not lines:
        return NOWHERE
    flows, unplaced = {}, 0.0
    for entry in budget_entries(lines, rooms, envelope, junctions)[0]:
        flow = entry.middle * entry.now
        shares = _shares(entry, envelope, junctions, openings)
        whole = sum(share for *_, share in shares)
        if not whole:
            unplaced += flow
            continue
        for where, name, share in shares:
            key = alike(where), alike(name)
            flows[key] = flows.get(key, 0.0) + flow * share / whole
    return BudgetPlaces(MappingProxyType(flows), sum(flows.values()), unplaced)


def _shares(entry, envelope, junctions, openings):
    """Return (room, name, weight) of what an entry stands for."""
    line = entry.line
    begin = () if line is None else _begins(line.sizes_from)
    if begin and line.unit == "m2":
        return [(a.room, a.area, a.area_m2) for a in envelope if alike(a.element).startswith(begin)]
    if begin or line is None:
        begin = begin or (alike(entry.name),)
        found = [j for j in junctions if j.meets and alike(j.junction).startswith(begin)]
        if line is not None and any(j.closed for j in found) and not all(j.closed for j in found):
            found = [j for j in found if j.closed != entry.is_lift]
        return [
            (room, j.junction, (j.length or 1.0) / len(rooms))
            for j in found if (rooms := {area.room for area in touched_by(j, envelope)})
            for room in sorted(rooms)
        ]  # fmt: skip
    named = [
        (a.room, a.area) for a in envelope if alike(entry.name) in (alike(a.area), alike(a.element))
    ]
    named += [(o.room, o.name) for o in openings if alike(o.name) == alike(entry.name)]
    return [(room, name, 1.0) for room, name in dict.fromkeys(named)][:1]


def _begins(sizes_from):
    return tuple(alike(part) for part in sizes_from.split("+") if part.strip())
