"""In which order do the walls of a storey follow one another, and what does a section cut?"""

from dataclasses import dataclass

from airlab.building.line_elements import OPENING_KINDS_OF_THE_LINE, SIDES, TOPS, LineElement
from airlab.building.line_lifts import PenLift
from airlab.words import InputError, display_unit, from_si, show
from airlab.words.saying import alike

__all__ = ["LineMark", "LineOrder", "PlanView", "PlanWall", "SectionLevel", "SectionView"]

CLOSED = "closed"
_STAIR_WORDS = ("stair", "landing", "hall")
_FIRST_WALL, _SECOND_WALL = ("south", "front"), ("west", "left")
_USUAL_HEIGHT = 2.4  # m; drawn where a storey has no height
_LEAST_DEPTH = 2.0  # m


@dataclass(frozen=True, slots=True)
class LineMark:
    """One junction as it stands in a drawing: number, name, state, the lift if it is one."""

    number: int
    name: str
    state: str
    element_a: str = ""
    element_b: str = ""
    owner: str = ""
    length: float | None = None
    lift: PenLift | None = None

    @property
    def closed(self):
        """Whether the pen stays down."""
        return self.lift is None

    def sentence(self, units="metric"):
        """Return the junction in one line."""
        if self.lift:
            return self.lift.sentence(units)
        unit = display_unit("m", units)
        long = f", {show(from_si(self.length, unit), unit)}" if self.length else ""
        owner = self.owner or "nobody owns it yet"
        return f"{self.number}. {self.name} ({self.element_a} to {self.element_b}): closed{long}, {owner}."


@dataclass(frozen=True, slots=True)
class PlanWall:
    """A wall of the plan: its length [m], junctions to the next wall, what stands in it."""

    element: LineElement
    length: float | None
    corner: tuple[LineMark, ...]
    openings: tuple[tuple[LineElement, tuple[LineMark, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class PlanView:
    """The walls of one storey in the order they follow one another, and the rooms inside."""

    storey: str
    walls: tuple[PlanWall, ...]
    rooms: tuple[tuple[str, tuple[int, ...]], ...]  # name and the walls it sees

    key = "plan"

    @property
    def name(self):
        """What the drawing is called."""
        storey = self.storey.casefold()
        return f"Plan, {self.storey}" + (
            "" if "storey" in storey or "floor" in storey else " storey"
        )

    @property
    def marks(self):
        """Junctions in the order one walks round."""
        found = []
        for wall in self.walls:
            found += [mark for _, marks in wall.openings for mark in marks]
            found += wall.corner
        return tuple(dict.fromkeys(found))


@dataclass(frozen=True, slots=True)
class SectionLevel:
    """One storey of a section: height [m], what stands in its walls, the edge of its floor above."""

    storey: str
    height: float
    rooms: tuple[str, str]
    left: tuple[tuple[LineElement, tuple[LineMark, ...]], ...] = ()
    right: tuple[tuple[LineElement, tuple[LineMark, ...]], ...] = ()
    edge_left: tuple[LineMark, ...] = ()
    edge_right: tuple[LineMark, ...] = ()
    edge: LineElement | None = None


@dataclass(frozen=True, slots=True)
class SectionView:
    """A cut through two walls, the floors below and the roof above; levels from below.

    Parameters
    ----------
    key, through : str
        "section A" or "section B"; what it is cut through.
    left, right : LineElement
        The two walls.
    depth : float
        From wall to wall, as drawn. [m]
    levels : tuple of SectionLevel
        Storeys.
    floors, tops : tuple of LineElement
        One or two elements below and above.
    corners : dict
        Junctions at "floor left", "floor right", "floor", "top left", "top right", "top".
    on_top : tuple
        Hatches and roof windows with their junctions.
    """

    key: str
    through: str
    left: LineElement
    right: LineElement
    depth: float
    levels: tuple[SectionLevel, ...]
    floors: tuple[LineElement, ...]
    tops: tuple[LineElement, ...]
    corners: dict
    on_top: tuple[tuple[LineElement, tuple[LineMark, ...]], ...] = ()

    @property
    def name(self):
        """What the drawing is called."""
        return f"{self.key.capitalize()[:-1]}{self.key[-1].upper()}, {self.through}"

    @property
    def marks(self):
        """Junctions in the order one walks round, from the floor up on the left."""
        found = list(self.corners["floor left"])
        for level in self.levels:
            found += [mark for _, marks in level.left for mark in marks]
            found += level.edge_left
        found += self.corners["top left"] + self.corners["top"]
        found += [mark for _, marks in self.on_top for mark in marks]
        found += self.corners["top right"]
        for level in reversed(self.levels):
            found += level.edge_right
            found += [mark for _, marks in level.right for mark in marks]
        found += self.corners["floor right"] + self.corners["floor"]
        return tuple(dict.fromkeys(found))


class LineOrder:
    """Puts the elements of a check in order."""

    def __init__(self, rooms, check, house, by_pair):
        self.rooms = [room for room in rooms if room.included]
        self.elements, self.house, self.by_pair = check.elements, house, by_pair
        self.storeys = tuple(dict.fromkeys(room.storey for room in self.rooms))
        self.near = {}
        for pair in by_pair:
            for key in pair:
                self.near.setdefault(key, set()).update(pair)

    def between(self, a, b):
        """Return the junctions between two elements."""
        return tuple(self.by_pair.get(frozenset((alike(a.name), alike(b.name))), ()))

    def plan(self, storey=None):
        """Return the plan of a storey."""
        if storey is not None and storey not in self.storeys:
            raise InputError(f"Storey is {storey!r}. The plan has: {', '.join(self.storeys)}.")
        sides = [one for one in self.elements if one.kind in SIDES]
        counts = {s: sum(s in one.storeys for one in sides) for s in self.storeys}
        storey = storey or next((s for s in self.storeys if counts[s] > 1), None)
        storey = storey or next((s for s in self.storeys if counts[s]), None)
        if storey is None:
            return None
        ring = _ring([one for one in sides if storey in one.storeys], self.between)
        names = {alike(r.name): r.name for r in self.rooms if r.storey == storey}
        walls = tuple(
            PlanWall(
                one, self._long(one, names), self.between(one, on) if len(ring) > 1 else (),
                self._held(one, names),
            )
            for one, on in zip(ring, (*ring[1:], ring[0]))
        )  # fmt: skip
        if len(ring) == 2:  # one row may stand for both corners; it is drawn at each
            walls = tuple(walls)
        seen = tuple(
            (name, tuple(i for i, one in enumerate(ring) if key in map(alike, one.rooms)))
            for key, name in names.items()
        )
        return PlanView(storey, walls, seen)

    def _long(self, wall, rooms):
        parts = [self.house.along.get((alike(wall.name), room)) for room in rooms]
        return sum(part for part in parts if part) or None

    def _held(self, host, rooms):
        """Return what stands in a wall in these rooms, with its junctions."""
        found, near = [], self.near.get(alike(host.name), ())
        for one in self.elements:
            stands = one.kind in OPENING_KINDS_OF_THE_LINE and alike(one.name) in near
            if stands and set(map(alike, one.rooms)) & set(rooms):
                found.append((one, self.between(one, host)))
        return tuple(found)

    def sections(self):
        """Return two sections: one through the stair, one through the eaves."""
        sides = [one for one in self.elements if one.kind in SIDES]
        full = max(self.storeys, key=lambda s: sum(s in one.storeys for one in sides))
        ring = _ring([one for one in sides if full in one.storeys], self.between)
        half, count = len(ring) // 2, len(ring)
        pairs = [(ring[i], ring[(i + half) % count]) for i in range(max(1, (count + 1) // 2))]
        if len(pairs) == 1:
            pairs.append((pairs[0][0], pairs[0][0]) if count > 1 else pairs[0])
        stairs = {alike(r.name) for r in self.rooms if _is_stair(r)}

        def climbs(pair):
            return any(alike(room) in stairs for one in pair for room in one.rooms)

        first = next((pair for pair in pairs if climbs(pair)), pairs[0])
        second = next(pair for pair in pairs if pair is not first)
        around = sum(self._long(one, [alike(r.name) for r in self.rooms if r.storey == full]) or 0.0
                     for one in ring)  # fmt: skip
        through = "through the stair" if climbs(first) and len(self.storeys) > 1 else "first cut"
        return (
            self._section("section A", through, first, around, full, stairs),
            self._section("section B", "through the eaves", second, around, full, set()),
        )

    def _section(self, key, through, pair, around, full, stairs):
        left, right = pair
        rooms = [alike(r.name) for r in self.rooms if r.storey == full]
        depth = max(0.5 * around - (self._long(left, rooms) or 0.0), _LEAST_DEPTH)
        storeys = [s for s in self.storeys if s in left.storeys or s in right.storeys]
        edges = [one for one in self.elements if one.kind == "floor edge"]
        levels = []
        for place, storey in enumerate(storeys):
            names = {alike(r.name): r.name for r in self.rooms if r.storey == storey}
            above = place + 1 < len(storeys)
            edge = next((e for e in edges if storey in e.storeys), edges[0] if edges else None)
            edge = edge if above else None
            levels.append(SectionLevel(
                storey, self.house.heights.get(storey, _USUAL_HEIGHT),
                (_cut(left, names, stairs), _cut(right, names, stairs)),
                self._held(left, names), self._held(right, names),
                self.between(edge, left) if edge else (), self.between(edge, right) if edge else (),
                edge,
            ))  # fmt: skip
        floors = self._levels(("floor", "party floor"), pair, storeys[:1])
        tops = self._levels((*TOPS, "party floor"), pair, storeys[-1:])
        corners = {}
        for word, group in (("floor", floors), ("top", tops)):
            ends = (group[0], group[-1]) if group else ()
            for side, wall, one in zip(("left", "right"), pair, ends):
                corners[f"{word} {side}"] = self.between(wall, one)
            corners[word] = self.between(*ends) if len(group) > 1 else ()
            for side in ("left", "right"):
                corners.setdefault(f"{word} {side}", ())
        seen = [alike(room) for one in tops for room in one.rooms]
        on_top = tuple(held for one in tops for held in self._held(one, seen))
        return SectionView(
            key, through, left, right, depth, tuple(levels), floors, tops, corners, on_top
        )

    def _levels(self, kinds, pair, storeys):
        """Return the element that each wall of a section meets below or above."""
        found = []
        for wall in pair:
            near = [
                one for one in self.elements
                if one.kind in kinds and set(one.storeys) & set(storeys)
                and set(one.rooms) & set(wall.rooms)
            ]  # fmt: skip
            near.sort(key=lambda one, wall=wall: not self.between(one, wall))
            found += near[:1]
        return tuple(dict.fromkeys(found))


def _is_stair(room):
    words = f"{room.name} {room.why}".casefold()
    return any(word in words for word in _STAIR_WORDS)


def _cut(wall, names, stairs):
    """Return the room of a storey that a section passes behind a wall; one with the stair first."""
    seen = [alike(room) for room in wall.rooms if alike(room) in names]
    best = next((room for room in seen if room in stairs), seen[0] if seen else "")
    return names.get(best, "")


def _ring(sides, between):
    """Return walls in the order they follow one another; south or front first, then the east."""
    left = list(sides)
    if not left:
        return []
    first = next(
        (one for word in _FIRST_WALL for one in left if word in one.name.casefold()), left[0]
    )
    ring = [first]
    left.remove(first)
    while left:
        near = [one for one in left if between(ring[-1], one)]
        ring.append((near or left)[0])
        left.remove(ring[-1])
    if len(ring) > 2 and any(word in ring[1].name.casefold() for word in _SECOND_WALL):
        ring[1:] = ring[:0:-1]
    return ring
