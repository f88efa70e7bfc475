"""Which way leads from inside to outside and crosses no layer? Spaces, and what can be passed."""

from collections import deque
from dataclasses import dataclass

from airlab.building.line_lifts import PenLift
from airlab.words.saying import alike

__all__ = ["OUTSIDE", "LinePath", "line_graph", "ways_out"]

OUTSIDE = "outside"
_LOFT, _BELOW, _CAVITY, _VOID = (
    "the loft", "the space below the floor", "the cavity to the neighbour", "the floor void to the neighbour",
)  # fmt: skip
# What lies behind an element, by its kind, and where the air goes on from there [TRADE].
_BEHIND = {"ceiling": _LOFT, "hatch": _LOFT, "floor": _BELOW, "party wall": _CAVITY,
           "party floor": _VOID}  # fmt: skip
_GOES_ON = {_LOFT: OUTSIDE, _BELOW: OUTSIDE, _CAVITY: _LOFT, _VOID: _CAVITY}


@dataclass(frozen=True, slots=True)
class LinePath:
    """A way from a room to the outside that crosses no layer."""

    room: str
    lift: PenLift
    spaces: tuple[str, ...]

    def sentence(self, units="metric"):
        """Return the way in words."""
        on = ", then ".join(self.spaces[:-1])
        by = f" into {on}, and so" if on else ""
        return f"From {self.room or 'inside'} through {self.lift.name} ({self.lift.why}){by} to the outside."


def line_graph(lifts, by_name):
    """Return which spaces and lifts are next to each other, as {node: neighbours}."""
    links = {OUTSIDE: []}

    def link(a, b):
        links.setdefault(a, []).append(b)
        links.setdefault(b, []).append(a)

    for void, on in _GOES_ON.items():
        link(void, on)
    for place, lift in enumerate(lifts):
        rooms = lift.rooms or ("",)
        for room in rooms:
            link(place, ("room", room))
        ends = [by_name[alike(e)].kind for e in (lift.element_a, lift.element_b) if alike(e) in by_name]  # fmt: skip
        kinds = ends or [lift.element_a]
        for behind in {_BEHIND.get(kind, OUTSIDE) for kind in kinds}:
            link(place, behind)
    return links


def ways_out(lifts, by_name):
    """Return one way out for each lift, by a search from the outside through what is open."""
    links = line_graph(lifts, by_name)
    came, waiting = {OUTSIDE: None}, deque([OUTSIDE])
    while waiting:
        here = waiting.popleft()
        for there in links[here]:
            if there not in came:
                came[there] = here
                waiting.append(there)
    paths = []
    for place, lift in enumerate(lifts):
        if place in came:
            spaces, node = [], came[place]
            while node is not None:
                spaces += [node] if isinstance(node, str) else []
                node = came[node]
            paths.append(LinePath(lift.rooms[0] if lift.rooms else "", lift, tuple(spaces)))
    return tuple(paths)
