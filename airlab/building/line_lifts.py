"""Where does the pen that draws the line leave the paper, and what puts it down again?"""

from dataclasses import dataclass

from airlab.building.line import Junction
from airlab.building.line_lengths import junction_lengths
from airlab.words import display_unit, from_si, show
from airlab.words.saying import alike

__all__ = ["LIFTS", "PenLift", "pen_lifts"]

OPEN, MISSING, NO_LAYER, NO_ELEMENT, HOLE = LIFTS = (
    "open", "missing", "no layer", "no element", "hole",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class PenLift:
    """A place where the pen that draws the line leaves the paper.

    Parameters
    ----------
    number : int
        Number on drawing and sheet: the row's place; after the rows what is missing.
    why : str
        One of `LIFTS`.
    name, element_a, element_b : str
        What it is called and what it lies between.
    owner : str
        Who answers for it; empty if nobody does yet.
    length : float or None
        Length of the joint. [m]
    rooms : tuple of str
        Rooms it is seen from.
    cure : str
        What closes it.
    junction : Junction or None
        Its row, where there is one.
    """

    number: int
    why: str
    name: str
    element_a: str = ""
    element_b: str = ""
    owner: str = ""
    length: float | None = None
    rooms: tuple[str, ...] = ()
    cure: str = ""
    junction: Junction | None = None

    def sentence(self, units="metric"):
        """Return the lift in one line."""
        unit = display_unit("m", units)
        between = f" ({self.element_a} to {self.element_b})" if self.element_b else ""
        parts = [f"{self.number}. {self.name}{between}: {self.why}"]
        if self.length:
            parts.append(show(from_si(self.length, unit), unit))
        if self.owner or self.why in (OPEN, NO_LAYER, MISSING):
            parts.append(self.owner or "nobody owns it yet")
        return ", ".join(parts) + "."


def pen_lifts(rooms, envelope, junctions, own, elements, missing, holes=()):
    """Return every pen lift of a house, with its number.

    Parameters
    ----------
    rooms, envelope, junctions, holes : iterable
        As for `check_line`.
    own : iterable of Junction
        Junctions that belong to the line.
    elements : iterable of LineElement
        Elements of the line.
    missing : iterable of Meeting
        Meetings without a junction.

    Returns
    -------
    tuple of PenLift
        Rows first, then what is missing, then holes.
    """
    by_name = {alike(one.name): one for one in elements}
    lifts = [*_row_lifts(junctions, own, by_name), *_bare_lifts(own, elements)]
    lifts += _absent(rooms, elements)
    lifts += _missing_lifts(missing, rooms, envelope, own)
    lifts += _hole_lifts(holes, envelope, by_name)
    return tuple(_numbered(lifts, len(junctions)))


def _rooms_of(ends, by_name):
    """Return the rooms two elements share; those of the first where they share none."""
    found = [by_name[end].rooms for end in ends if end in by_name]
    if not found:
        return ()
    shared = tuple(room for room in found[0] if all(room in rooms for rooms in found))
    return shared or found[0]


def _row_lifts(junctions, own, by_name):
    """Yield the lifts of the rows: open, or with nothing to join on one side."""
    places = {joint.junction: place for place, joint in enumerate(junctions, start=1)}
    for joint in own:
        if not joint.meets:
            continue
        names = dict(zip(joint.ends, (joint.element_a, joint.element_b)))
        strange = [text for end, text in names.items() if end not in by_name]
        bare = [by_name[end].name for end in names if end in by_name and not by_name[end].layers]
        if strange:
            why, cure = NO_LAYER, f"{strange[0]} is no element of this house: enter its areas."
        elif bare:
            why, cure = NO_LAYER, f"Name the material that is the airtight layer in {bare[0]}."
        elif not joint.closed:
            why, cure = OPEN, _cure(joint)
        else:
            continue
        yield PenLift(
            places[joint.junction], why, joint.junction, joint.element_a, joint.element_b,
            joint.owner, joint.length, _rooms_of(joint.ends, by_name), cure, joint,
        )  # fmt: skip


def _cure(joint):
    if not joint.joined:
        return "Say how the two layers are joined, join them, look at it before it is hidden."
    return f"Join as drawn: {joint.joined}. Look at it before it is hidden."


def _bare_lifts(own, elements):
    """Yield elements with areas that have no layer, where no junction says so already."""
    named = {end for joint in own if joint.meets for end in joint.ends}
    for one in elements:
        if one.bare and (one.layers or alike(one.name) not in named):
            cure = f"Name the material that is the airtight layer in {', '.join(one.bare)}."
            yield PenLift(0, NO_LAYER, one.name, one.name, "", "", None, one.rooms, cure)


def _absent(rooms, elements):
    """Yield what no loop can do without: something below, above and at the side of the rooms."""
    inside = [room for room in rooms if room.included]
    storeys = tuple(dict.fromkeys(room.storey for room in inside))
    for what, kinds, order in (
        ("floor", ("floor", "party floor", "other"), storeys),
        ("ceiling or roof", ("ceiling", "roof", "party floor", "other"), storeys[::-1]),
    ):
        seen = {alike(room) for one in elements if one.kind in kinds for room in one.rooms}
        end = next(
            (s for s in order if any(alike(r.name) in seen for r in inside if r.storey == s)),
            order[0],
        )
        open_to = tuple(r.name for r in inside if r.storey == end and alike(r.name) not in seen)
        if open_to:
            cure = f"Enter the {what} of {', '.join(open_to)} as areas of the envelope."
            yield PenLift(0, NO_ELEMENT, f"no {what} on storey {end}", what, "", "", None, open_to, cure)  # fmt: skip
    if not any(one.kind in ("wall", "party wall", "other") for one in elements) and not any(
        one.kind == "roof" for one in elements
    ):
        cure = "Enter the walls as areas of the envelope."
        yield PenLift(0, NO_ELEMENT, "no wall", "wall", "", "", None,
                      tuple(room.name for room in inside), cure)  # fmt: skip


def _missing_lifts(missing, rooms, envelope, own):
    rows = [Junction(m.name, m.element_a, m.element_b) for m in missing if m.element_b]
    lengths = {
        one.junction.junction: one.computed
        for one in (junction_lengths(rooms, envelope, (*own, *rows)) if rows else ())
    }
    for one in missing:
        cure = (
            f"Enter the junction ({one.why}): how they join, who owns it. If they do not meet, "
            'enter a row whose "joined" says: do not meet.'
        )
        if not one.element_b:
            cure = f"Enter what it joins: {one.why}."
        yield PenLift(
            0, MISSING, one.name, one.element_a, one.element_b, "", lengths.get(one.name), one.rooms,
            cure,
        )  # fmt: skip


def _hole_lifts(holes, envelope, by_name):
    areas = {alike(area.area): area for area in envelope}
    for hole in holes:
        area = areas.get(alike(hole.area))
        if hole.sealed_with or (area and alike(area.element) not in by_name):
            continue
        cure = "Seal it to the layer, look at it, tick it in the hole register."
        where = area.element if area else ""
        room = (area.room,) if area else ()
        yield PenLift(0, HOLE, f"hole {hole.name}", where, "", hole.trade, None, room, cure)


def _numbered(lifts, rows):
    """Yield the lifts with the numbers of the rows, then counted on."""
    for lift in lifts:
        if not lift.number:
            rows += 1
            lift = PenLift(rows, *(getattr(lift, name) for name in PenLift.__slots__[1:]))
        yield lift
