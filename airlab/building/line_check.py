"""Is the airtight line unbroken? Every way from inside to outside that crosses no layer.

The house is a graph: rooms, voids and the outside are its spaces; elements, junctions and holes
stand between them. What has a layer cannot be passed. Each place that can be passed is a pen lift:
the pen that draws the line has to leave the paper there. The graph decides, not the drawing.
"""

from dataclasses import dataclass

from airlab.building.line import Junction
from airlab.building.line_elements import (
    LineElement,
    Meeting,
    _refuse_twins,
    line_elements,
    missing_meetings,
)
from airlab.building.line_graph import LinePath, ways_out
from airlab.building.line_lifts import PenLift, pen_lifts
from airlab.words import InputError
from airlab.words.saying import alike

__all__ = ["LineCheck", "TradeHoles", "check_line"]

_NAMED = 6  # lifts named in the sentence; the page lists every one


@dataclass(frozen=True, slots=True)
class TradeHoles:
    """Holes of one trade through the line: expected, made, made and not sealed."""

    trade: str
    expected: int
    made: int
    unsealed: int

    def sentence(self, units="metric"):
        """Return the holes in words."""
        return (
            f"{self.trade}: {self.expected} holes expected, {self.made} made, "
            f"{self.unsealed} of them open."
        )


@dataclass(frozen=True, slots=True)
class LineCheck:
    """What the graph says of the line.

    Parameters
    ----------
    elements : tuple of LineElement
        What the line runs through.
    junctions : tuple of Junction
        Rows of junctions that belong to it.
    lifts : tuple of PenLift
        Every pen lift.
    paths : tuple of LinePath
        One way out for each place that can be passed.
    missing : tuple of Meeting
        Meetings without a junction.
    holes : tuple of TradeHoles
        Holes by trade.
    warnings : tuple of str
        What to look at.
    """

    elements: tuple[LineElement, ...]
    junctions: tuple[Junction, ...]
    lifts: tuple[PenLift, ...]
    paths: tuple[LinePath, ...]
    missing: tuple[Meeting, ...] = ()
    holes: tuple[TradeHoles, ...] = ()
    warnings: tuple[str, ...] = ()

    @property
    def closed(self):
        """Whether no way leads out."""
        return not self.paths

    @property
    def open_length(self):
        """Length of the lifts whose length is known. [m]"""
        return sum(lift.length or 0.0 for lift in self.lifts)

    def lift_at(self, name):
        """Return the lift of that name, None where the line is unbroken."""
        return next((lift for lift in self.lifts if alike(lift.name) == alike(name)), None)

    def sentence(self, units="metric"):
        """Return whether the line is closed, and every lift in words."""
        size = f"{_some(self.elements, 'element')}, {_some(self.junctions, 'junction')}"
        if self.closed:
            text = f"The line is closed: {size}, no way out that crosses no layer."
            return " ".join((text, "Closed on paper; the fan and the search say how it was built."))
        text = f"The line is open: {_some(self.lifts, 'pen lift')} in {size}."
        named = [lift.sentence(units) for lift in self.lifts[:_NAMED]]
        rest = len(self.lifts) - len(named)
        return " ".join((text, *named, *([f"And {rest} more."] if rest else [])))


def _some(things, word):
    return f"{len(things)} {word}{'' if len(things) == 1 else 's'}"


def check_line(rooms, envelope, junctions, holes=(), trades=()):
    """Return every pen lift of a house and the ways out through them.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms; storeys from the ground up in the order they first appear.
    envelope : iterable of EnvelopeElement
        Areas of the envelope with the material that is the layer.
    junctions : iterable of Junction
        Junctions entered. One whose `joined` says "do not meet" settles its pair.
    holes : iterable
        Holes made: `name`, `trade`, `area`, `sealed_with`.
    trades : iterable
        Trades still to come: `name`, `holes_expected`.

    Returns
    -------
    LineCheck
        Lifts, ways out, warnings.

    Raises
    ------
    InputError
        If names are used twice, a junction joins an element with itself, there is no element, or
        the line encloses no room.

    Notes
    -----
    What lies behind a ceiling, a floor or a party wall is taken from the kind of element, as is
    common practice. What must meet is taken from the rooms that see it; a house where two such
    elements do not meet says so in a row of its own. Materials are believed, not tested.

    References
    ----------
    [TRADE] the red line on plan and sections; [AIRLAB] which elements must meet.

    Examples
    --------
    >>> from airlab.building import EnvelopeElement, Room
    >>> hut = Room("Hut", "ground", 3.0, 2.0, 2.2)
    >>> shell = [EnvelopeElement(n, n, k, "Hut", 6.0, "board") for n, k in
    ...          (("floor", "floor"), ("walls", "wall"), ("roof", "roof"))]
    >>> sill = Junction("sill", "floor", "walls", owner="carpenter", closed=True)
    >>> check_line([hut], shell, [sill]).sentence()
    'The line is open: 1 pen lift in 3 elements, 1 junction. 2. roof to walls (roof to walls): missing, nobody owns it yet.'
    """
    rooms, envelope, junctions = tuple(rooms), tuple(envelope), tuple(junctions)
    _refuse(junctions)
    elements = line_elements(rooms, envelope)
    by_name = {alike(one.name): one for one in elements}
    outside = {alike(a.element) for a in envelope} - set(by_name)
    own = tuple(j for j in junctions if not set(j.ends) & outside)
    missing = missing_meetings(elements, rooms, own)
    lifts = pen_lifts(rooms, envelope, junctions, own, elements, missing, holes)
    paths = ways_out(lifts, by_name)
    return LineCheck(
        elements, own, lifts, paths, missing, _by_trade(holes, trades),
        tuple(_warnings(elements, rooms, own, holes)),
    )  # fmt: skip


def _refuse(junctions):
    _refuse_twins("junction", [joint.junction for joint in junctions])
    own = [joint.junction for joint in junctions if len(set(joint.ends)) == 1]
    if own:
        raise InputError(
            f"Junction {', '.join(own)} joins an element with itself. A junction joins two: name "
            "the second. Laps inside one element belong to the status of its areas."
        )


def _by_trade(holes, trades):
    found = {alike(trade.name): [trade.name, trade.holes_expected, 0, 0] for trade in trades}
    for hole in holes:
        entry = found.setdefault(alike(hole.trade), [hole.trade or "unknown trade", 0, 0, 0])
        entry[2] += 1
        entry[3] += not hole.sealed_with
    return tuple(TradeHoles(*entry) for entry in found.values() if any(entry[1:]))


def _warnings(elements, rooms, own, holes):
    storeys = dict.fromkeys(room.storey for room in rooms if room.included)
    walls = [one for one in elements if one.kind in ("wall", "party wall")]
    if (
        len(storeys) > 1
        and any(len(one.storeys) > 1 for one in walls)
        and not any(one.kind == "floor edge" for one in elements)
    ):
        yield (
            "Nothing is said about the edges of the floors between storeys, where joist ends and "
            "laps lie. Enter them as areas of the kind floor edge."
        )
    unowned = [joint.junction for joint in own if joint.meets and not joint.owner]
    if unowned:
        more = f" and {len(unowned) - _NAMED} more" if len(unowned) > _NAMED else ""
        yield f"Nobody owns {', '.join(unowned[:_NAMED])}{more}."
    unsaid = [joint.junction for joint in own if joint.closed and not joint.joined]
    if unsaid:
        more = f" and {len(unsaid) - _NAMED} more" if len(unsaid) > _NAMED else ""
        yield f"Closed, but not said how: {', '.join(unsaid[:_NAMED])}{more}."
    unseen = [hole.name for hole in holes if hole.sealed_with and not hole.checked]
    if unseen:
        yield f"Sealed and not looked at: holes {', '.join(unseen[:_NAMED])}."
