"""Which elements does the airtight line run through, and which of them must meet?

Elements come from the rows of the envelope. Two of them must meet where the same room sees both:
a wall stands on the floor and carries the ceiling of its rooms, a window stands in a wall, the
walls of a storey close to a ring. Each pair that must meet needs a junction.
"""

from dataclasses import dataclass
from itertools import combinations

from airlab.words import InputError
from airlab.words.saying import alike

__all__ = [
    "LEVELS", "OPENING_KINDS_OF_THE_LINE", "SIDES", "TOPS", "LineElement", "Meeting", "alike",
    "line_elements", "missing_meetings",
]  # fmt: skip

SIDES = ("wall", "party wall")
TOPS = ("roof", "ceiling")
LEVELS = ("floor", *TOPS, "party floor")
OPENING_KINDS_OF_THE_LINE = ("window", "door", "hatch")
_HOSTS = {
    "window": ("wall", "roof", "party wall", "other"), "door": ("wall", "party wall", "other"),
    "hatch": ("ceiling", "roof", "floor", "party floor", "wall", "other"),
}  # fmt: skip
_OPPOSITES = (("north", "south"), ("east", "west"), ("front", "back"), ("front", "rear"),
              ("left", "right"))  # fmt: skip
_FEW = 3  # walls of a storey up to which one row may stand for several corners


@dataclass(frozen=True, slots=True)
class LineElement:
    """An element of the envelope with the material that is the airtight layer in it.

    Parameters
    ----------
    name, kind : str
        Its name and kind; a wall that holds its own windows is a wall.
    layers : tuple of str
        Materials named for it.
    rooms, storeys : tuple of str
        Rooms it is seen from and the storeys they stand on.
    bare : tuple of str
        Areas of it for which no material is named.
    size : float
        Size by inside dimensions. [m2]
    """

    name: str
    kind: str
    layers: tuple[str, ...]
    rooms: tuple[str, ...]
    storeys: tuple[str, ...]
    bare: tuple[str, ...] = ()
    size: float = 0.0

    @property
    def layer(self):
        """The layer in words."""
        if not self.layers:
            return "no layer named"
        return " / ".join(self.layers) + (", not everywhere" if self.bare else "")


def line_elements(rooms, envelope):
    """Return the elements of the line, in the order of the table.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms; elements seen only from rooms outside the tested volume are left out.
    envelope : iterable of EnvelopeElement
        Areas of the envelope.

    Returns
    -------
    tuple of LineElement
        One for each element.

    Raises
    ------
    InputError
        If there is no element, two areas bear one name, or no room is inside the line.
    """
    rooms, envelope = tuple(rooms), tuple(envelope)
    storey_of = {alike(room.name): room.storey for room in rooms}
    outside = {alike(room.name) for room in rooms if not room.included}
    _refuse_twins("area", [area.area for area in envelope])
    groups = {}
    for area in envelope:
        if alike(area.room) not in outside:
            groups.setdefault(alike(area.element), []).append(area)
    if not groups:
        raise InputError(
            "The line has no elements. Enter the areas of the envelope, each with its layer."
        )
    seen = {alike(area.room) for group in groups.values() for area in group}
    if not seen & {alike(room.name) for room in rooms if room.included}:
        raise InputError(
            "The line encloses nothing: no room inside the tested volume sees any of its elements. "
            "Enter the rooms, and for each area the room it is seen from."
        )
    return tuple(_element(group, storey_of) for group in groups.values())


def _element(group, storey_of):
    kinds = [area.kind for area in group]
    kind = next((k for k in kinds if k not in OPENING_KINDS_OF_THE_LINE), kinds[0])
    rooms = dict.fromkeys(area.room for area in group)
    return LineElement(
        group[0].element,
        kind,
        tuple(dict.fromkeys(area.layer.strip() for area in group if area.layer.strip())),
        tuple(rooms),
        tuple(dict.fromkeys(s for room in rooms if (s := storey_of.get(alike(room))))),
        tuple(area.area for area in group if not area.layer.strip()),
        sum(area.area_m2 for area in group),
    )


def _refuse_twins(what, names):
    """Refuse names used twice; the message lists them."""
    keys = [alike(name) for name in names]
    twins = dict.fromkeys(name for name, key in zip(names, keys) if keys.count(key) > 1) if len(
        set(keys)
    ) < len(keys) else ()  # fmt: skip
    if twins:
        raise InputError(
            f"Used twice as the name of a {what}: {', '.join(twins)}. Give each its own name."
        )


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two elements that must meet and why; without a second, one end that joins nothing."""

    element_a: str
    element_b: str
    why: str
    rooms: tuple[str, ...] = ()

    @property
    def name(self):
        """What the junction between them may be called."""
        return f"{self.element_a} to {self.element_b or 'nothing'}"


def missing_meetings(elements, rooms, junctions):
    """Return the meetings of elements for which no junction is entered.

    Parameters
    ----------
    elements : iterable of LineElement
        Elements of the line.
    rooms : iterable of Room
        Rooms, storeys from the ground up in the order they first appear.
    junctions : iterable of Junction
        Junctions entered; one that says "do not meet" settles its pair, too.

    Returns
    -------
    tuple of Meeting
        In the order floor and ceiling edges, corners, edges of floors, openings, what joins nothing.
    """
    elements, rooms, junctions = tuple(elements), tuple(rooms), tuple(junctions)
    rows = {}
    for joint in junctions:
        rows.setdefault(frozenset(joint.ends), []).append(joint)
    by_room = {}
    for one in elements:
        for room in one.rooms:
            by_room.setdefault(room, []).append(one)
    wanted = {}

    def want(a, b, why, shared=None):
        pair = frozenset((alike(a.name), alike(b.name)))
        if len(pair) == 2 and pair not in rows:
            known = wanted.get(pair)
            more = (shared,) if shared else tuple(r for r in a.rooms if r in b.rooms)
            before = known.rooms if known else ()
            first, second = (known.element_a, known.element_b) if known else (a.name, b.name)
            wanted[pair] = Meeting(first, second, why, tuple(dict.fromkeys((*before, *more))))

    for room, here in by_room.items():
        sides = [one for one in here if one.kind in SIDES]
        levels = [one for one in here if one.kind in LEVELS]
        for level in levels:
            for side in sides:
                want(level, side, f"{room} sees both", room)
        for group in (TOPS, ("floor",)):
            for a, b in combinations([one for one in levels if one.kind in group], 2):
                want(a, b, f"{room} sees both", room)
    for group in (TOPS, ("floor",)):
        for storey in dict.fromkeys(room.storey for room in rooms if room.included):
            here = [one for one in elements if one.kind in group and storey in one.storeys]
            parts = _parts(here, (*rows, *wanted))
            for a, b in zip(parts, parts[1:]):
                want(a[0], b[0], f"both lie on storey {storey}")
    found = list(wanted.values())
    found += _corners(elements, rooms, rows)
    wanted.clear()
    storeys = tuple(dict.fromkeys(room.storey for room in rooms if room.included))
    for edge in (one for one in elements if one.kind == "floor edge"):
        beside = {s for at in edge.storeys for s in _with_next(at, storeys)}
        for side in elements:
            if side.kind in SIDES and beside & set(side.storeys):
                want(edge, side, "the edge of a floor runs along every wall")
    found += wanted.values()
    found += _openings(elements, by_room, rows)
    named = {key for pair in rows for key in pair}
    named |= {alike(end) for one in found for end in (one.element_a, one.element_b)}
    if len(elements) > 1:
        found += [
            Meeting(one.name, "", "no junction names it", one.rooms)
            for one in elements
            if alike(one.name) not in named
        ]
    return tuple(found)


def _parts(elements, pairs):
    """Return the elements in groups that hang together by some pair."""
    parts = []
    for one in elements:
        key = alike(one.name)
        near = [p for p in parts if any(frozenset((key, alike(o.name))) in pairs for o in p)]
        parts = [p for p in parts if p not in near] + [[*(o for p in near for o in p), one]]
    return parts


def _with_next(storey, storeys):
    """Return a storey and the one above it; under the roof the one below."""
    if storey not in storeys:
        return ()
    place = storeys.index(storey)
    return storeys[place : place + 2] if place + 1 < len(storeys) else storeys[max(place - 1, 0) :]


def _corners(elements, rooms, rows):
    """Yield corners that are missing: on each storey every wall joins a wall at both ends."""
    heights, found = {}, {}
    for room in rooms:
        if room.included and room.height:
            heights[room.storey] = max(heights.get(room.storey, 0.0), room.height)
    for storey in dict.fromkeys(room.storey for room in rooms if room.included):
        sides = [one for one in elements if one.kind in SIDES and storey in one.storeys]
        roofed = any(one.kind == "roof" and storey in one.storeys for one in elements)
        if len(sides) < 2 or (len(sides) == 2 and roofed):  # gables under a roof meet the roof
            continue
        by_name = {alike(one.name): one for one in sides}
        lacking = dict.fromkeys(by_name, 2)
        for pair, joints in rows.items():
            if pair <= lacking.keys() and len(pair) == 2:
                a, b = (by_name[key] for key in pair)
                ends = _ends(joints, a, b, heights, len(sides))
                for key in pair:
                    lacking[key] -= ends
        short = [one for one in sides if lacking[alike(one.name)] > 0]
        few = len(sides) <= _FEW
        pairs = [
            (a, b) for a, b in combinations(short, 2)
            if (few or frozenset((alike(a.name), alike(b.name))) not in rows)
            and (set(a.rooms) & set(b.rooms) or len(short) == 2)
        ]  # fmt: skip
        for a, b in _matched([p for p in pairs if not _opposite(*p)] or pairs, lacking, few):
            met = tuple(room for room in a.rooms if room in b.rooms) or a.rooms
            why = "each end of a wall joins a wall; where a row stands for two, enter count 2"
            pair = frozenset((alike(a.name), alike(b.name)))
            found.setdefault(pair, Meeting(a.name, b.name, why, met))
        for one in short:
            if lacking[alike(one.name)] > 0:
                why = "one end of it joins no wall"
                found.setdefault(alike(one.name), Meeting(one.name, "", why, one.rooms))
    return tuple(found.values())


def _opposite(a, b):
    """Whether two walls face each other by their names."""
    words = set(alike(a.name).split()), set(alike(b.name).split())
    return any(
        (one in words[0] and other in words[1]) or (other in words[0] and one in words[1])
        for one, other in _OPPOSITES
    )


def _matched(pairs, lacking, again):
    """Yield pairs of walls until no end is left open: walls with the least choice go first."""
    choices = dict.fromkeys(lacking, 0)
    left = [(alike(a.name), alike(b.name), a, b) for a, b in pairs]
    for first, second, *_ in left:
        choices[first] += 1
        choices[second] += 1
    used = dict.fromkeys(range(len(left)), 0)
    while used:
        best = min(used, key=lambda i: (
            used[i], min(choices[k] - lacking[k] for k in left[i][:2]), i
        ))  # fmt: skip
        keys = left[best][:2]
        if min(lacking[key] for key in keys) > 0:
            yield left[best][2:]
            for key in keys:
                lacking[key] -= 1
            used[best] += 1
        if not again or min(lacking[key] for key in keys) <= 0:
            del used[best]
            for key in keys:
                choices[key] -= 1


def _ends(rows, a, b, heights, sides):
    """Return how many corners the rows between two walls stand for."""
    if not rows:
        return 0
    counts = [int(joint.count or 1) for joint in rows]
    if sides > _FEW:
        return max(counts)
    if any(not joint.meets for joint in rows):
        return 2
    tall = sum(heights.get(storey, 0.0) for storey in a.storeys if storey in b.storeys)
    lengths = [joint.length or 0.0 for joint in rows]
    if tall and all(lengths):
        return max(1, round(sum(lengths) / tall), *counts)
    return sum(counts)


def _openings(elements, by_room, rows):
    """Yield windows, doors and hatches that join nothing they could stand in."""
    for one in elements:
        if one.kind not in OPENING_KINDS_OF_THE_LINE:
            continue
        hosts = dict.fromkeys(
            other for room in one.rooms for other in by_room[room] if other.kind in _HOSTS[one.kind]
        )
        pairs = [frozenset((alike(one.name), alike(host.name))) for host in hosts]
        if not hosts or any(pair in rows for pair in pairs):
            continue
        words = set(alike(one.name).split())

        def fit(host, one=one, words=words):
            return (
                len(set(host.rooms) & set(one.rooms)),
                len(words & set(alike(host.name).split())),
                -_HOSTS[one.kind].index(host.kind),
            )

        best = max(map(fit, hosts))
        hosts = [host for host in hosts if fit(host) == best]
        shared = tuple(r for r in one.rooms if any(r in host.rooms for host in hosts))
        names = " or ".join(host.name for host in hosts)
        yield Meeting(one.name, names, "it stands in something", shared)
