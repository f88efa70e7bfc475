"""Which holes are there? One kit of holes that moves unchanged from balloon to jar to house.

A hole is an opening, the way it sits in rubber, and what lies behind it. A set of holes is a
record: adding, changing or removing one gives a new set, so that undo and comparison come free.
"""

from dataclasses import dataclass, fields, replace

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.combined import Parallel, Series
from airlab.physics.cracks import Crack, PorousPatch
from airlab.physics.openings import Opening, PowerLawLeak, RoundHole, Slot, equivalent_hole_area
from airlab.physics.vessels import HOLE_MODES
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    require_choice,
    require_positive,
    show,
    to_si,
)

__all__ = ["HOLE_KINDS", "Hole", "HoleSet", "hole_sizes", "make_opening"]


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole: its opening, one of `HOLE_MODES`, and the gaps of a second layer behind it.

    Examples
    --------
    >>> from airlab.words import cm2
    >>> hole = Hole(RoundHole.from_area(cm2(50)), behind=RoundHole.from_area(cm2(100)))
    >>> hole.sentence()
    'Round hole behind a second layer: 89.8 m³/h at 50 Pa, as much as one sharp hole of 44.7 cm².'
    """

    opening: Opening
    hole_mode: str = "rigid"
    behind: Opening | None = None

    def __post_init__(self):
        for one in (self.opening, self.behind):
            if one is not None and not isinstance(one, Opening):
                raise InputError(f"{one!r} is not an opening.")
        require_choice("hole_mode", self.hole_mode, HOLE_MODES)

    @property
    def name(self):
        """The name of the opening."""
        return self.opening.name

    @property
    def path(self):
        """The way of the air: the opening, and what lies behind it one behind the other."""
        return self.opening if self.behind is None else Series((self.opening, self.behind))

    def sentence(self, units="metric"):
        """Return what the hole passes at 50 Pa, in plain words."""
        return _said(
            self.name + (" behind a second layer" if self.behind else ""), self.path, units
        )


@dataclass(frozen=True, slots=True)
class HoleSet:
    """Holes side by side, in the order they were made; any vessel drains through them.

    Examples
    --------
    >>> from airlab.physics import Balloon, SealedVessel, drain
    >>> holes = HoleSet().add(RoundHole(0.002)).add(RoundHole(0.001))
    >>> [round(drain(vessel, holes).half_time, 3) for vessel in (Balloon(), SealedVessel(0.0117))]
    [37.769, 0.154]
    >>> holes.remove(1) == HoleSet().add(RoundHole(0.002))
    True
    """

    holes: tuple[Hole, ...] = ()

    def __post_init__(self):
        given = self.holes if isinstance(self.holes, tuple | list) else (self.holes,)
        made = tuple(Hole(one) if isinstance(one, Opening) else one for one in given)
        for one in made:
            if not isinstance(one, Hole):
                raise InputError(f"{one!r} is not a hole.")
        object.__setattr__(self, "holes", made)

    @property
    def openings(self):
        """The ways of the air, one per hole."""
        return tuple(hole.path for hole in self.holes)

    @property
    def hole_modes(self):
        """How each hole sits in rubber."""
        return tuple(hole.hole_mode for hole in self.holes)

    def add(self, hole):
        """Return the set with one more hole (or opening) at the end."""
        return HoleSet((*self.holes, hole))

    def change(self, place, **fields):
        """Return the set with fields of one hole changed; places count from 0."""
        self._there(place)
        changed = replace(self.holes[place], **fields)
        return HoleSet((*self.holes[:place], changed, *self.holes[place + 1 :]))

    def remove(self, place):
        """Return the set without one hole; places count from 0."""
        self._there(place)
        return HoleSet((*self.holes[:place], *self.holes[place + 1 :]))

    def flow(self, pressure_difference, air=CLASSROOM_AIR):
        """Return the flow of all holes together, as they are at the start. [m3/s]."""
        return Parallel(self.openings).flow(pressure_difference, air)

    def sentence(self, units="metric"):
        """Return what all holes pass at 50 Pa, in plain words."""
        if not self.holes:
            return "No holes: nothing passes."
        count = f"{len(self.holes)} holes together" if len(self.holes) > 1 else self.holes[0].name
        return _said(count, Parallel(self.openings), units)

    def _there(self, place):
        if place not in range(len(self.holes)):
            raise InputError(f"There is no hole {place + 1}. There are {len(self.holes)}.")


def _said(name, opening, units):
    flow = float(opening.flow(PRESSURE_REFERENCE))
    unit, hole = display_unit("m3/s", units), "in2" if units == "us" else "cm2"
    area = show(from_si(equivalent_hole_area(flow), hole), hole)
    return (
        f"{name[:1].upper()}{name[1:]}: {show(from_si(flow, unit), unit)} at 50 Pa, as much as one "
        f"sharp hole of {area}."
    )


def _porous(material_leakage, area, name="porous patch"):
    require_positive("material_leakage", material_leakage, "m3/(h.m2)")
    return PorousPatch(to_si(material_leakage, "m3/(h.m2)") / PRESSURE_REFERENCE, area, name=name)


def _by_numbers(leakage_flow, flow_exponent=0.65, name="leak known by its numbers"):
    return PowerLawLeak.from_flow(leakage_flow, PRESSURE_REFERENCE, flow_exponent, name=name)


# What a learner chooses among, what is asked for it, and what makes the opening.
HOLE_KINDS = {
    "round hole": (RoundHole, ("diameter", "count", "edge", "depth", "flow_model")),
    "slot": (Slot, ("length", "width", "count", "edge")),
    "deep crack": (Crack, ("length", "width", "depth", "bends", "count")),
    "porous patch": (_porous, ("material_leakage", "area")),
    "leak by its numbers": (_by_numbers, ("leakage_flow", "flow_exponent")),
}


def make_opening(kind, **sizes):
    """Return the opening of a kind from the sizes a learner gives.

    Parameters
    ----------
    kind : str
        One of `HOLE_KINDS`.
    sizes : float or str
        As that kind lists them, in SI; leakage of a material in m3/(h.m2) at 50 Pa.

    Returns
    -------
    Opening
        The opening.

    Examples
    --------
    >>> patch = make_opening("porous patch", material_leakage=0.055, area=100.0)
    >>> round(from_si(float(patch.flow(50.0)), "m3/h"), 3)
    5.5
    """
    require_choice("kind", kind, HOLE_KINDS)
    make, known = HOLE_KINDS[kind]
    if strange := set(sizes) - {*known, "name"}:
        raise InputError(f"A {kind} has no {sorted(strange)[0]}. It has: {', '.join(known)}.")
    return make(**sizes)


def hole_sizes(opening):
    """Return the kind of an opening and its sizes: what `make_opening` would need.

    Parameters
    ----------
    opening : Opening
        A single opening, no combination.

    Returns
    -------
    tuple
        Kind, and sizes by name.

    Examples
    --------
    >>> hole_sizes(PowerLawLeak.from_flow(0.25))[0]
    'leak by its numbers'
    """
    if isinstance(opening, PowerLawLeak):
        flow = float(opening.flow(PRESSURE_REFERENCE))
        sizes = {"leakage_flow": flow, "flow_exponent": opening.flow_exponent}
        return "leak by its numbers", {**sizes, "name": opening.name}
    if isinstance(opening, PorousPatch):
        leakage = from_si(opening.permeance * PRESSURE_REFERENCE, "m3/(h.m2)")
        sizes = {"material_leakage": leakage, "area": opening.area}
        return "porous patch", {**sizes, "name": opening.name}
    for kind, (make, names) in HOLE_KINDS.items():
        if type(opening) is make:
            held = {field.name for field in fields(opening)}
            return kind, {n: getattr(opening, n) for n in (*names, "name") if n in held}
    raise InputError(f"{opening.name} is made of several openings; take them one by one.")
