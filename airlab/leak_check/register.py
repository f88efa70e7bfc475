"""What does a hole made after the check cost, and whose release does it end?"""

from dataclasses import dataclass

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.tables import Hole
from airlab.physics.openings import RoundHole
from airlab.words import PRESSURE_REFERENCE, display_unit, from_si, show
from airlab.words.saying import said

__all__ = ["HoleRegister", "RegisteredHole", "hole_register", "weigh_hole"]

OPEN, UNSEEN, DONE = "open", "sealed, not looked at", "sealed and looked at"


@dataclass(frozen=True, slots=True)
class RegisteredHole:
    """One hole through the layer, made after the check.

    Parameters
    ----------
    hole : Hole
        As entered.
    diameter : float
        Its diameter, or the assumed one where none is entered. [m]
    flow : float
        What it passes at 50 Pa while it is open. [m3/s]
    left : float or None
        Left for later holes once this one is counted open; None without a number. [m3/s]
    """

    hole: Hole
    diameter: float
    flow: float
    left: float | None

    @property
    def state(self):
        """Open, sealed and not looked at, or sealed and looked at."""
        if not self.hole.sealed_with:
            return OPEN
        return DONE if self.hole.checked else UNSEEN

    @property
    def planned(self):
        """Whether somebody allowed it."""
        return bool(self.hole.approved_by.strip())

    @property
    def ends_release(self):
        """Whether it ends the release of its area as it stands."""
        return self.state != DONE

    def sentence(self, units="metric"):
        """Return the hole, its flow against what is left, and what it ends."""
        one, unit = self.hole, "in" if units == "us" else "mm"
        where = one.area or "area not entered"
        whose = f", {one.trade}" if one.trade else ""
        text = (
            f"Hole {one.name} ({where}{whose}), {show(from_si(self.diameter, unit), unit)}, "
            f"{'planned' if self.planned else 'not planned'}: {self.state}."
        )
        if self.state == OPEN:
            text += f" Open it passes {said(self.flow, 'm3/s', units)} at 50 Pa."
            if self.left is not None:
                text += (
                    f" {said(self.left, 'm3/s', units)} are left with it."
                    if self.left >= 0.0
                    else f" With it the house is over by {said(-self.left, 'm3/s', units)}."
                )
        if self.ends_release:
            whole = one.area or "every area, as none is entered"
            text += f" It ends the release of {whole} until it is sealed and looked at again."
        return text


def weigh_hole(hole, number=None, assumptions=None, counted=False):
    """Return a hole's flow at 50 Pa against what the house has left.

    ``left = headroom - Q_hole(50 Pa) × pass mark / (limit - what is to come)``, the hole taken as sharp
    and round: it is there at the end as it is, today's reading still drifts.

    Parameters
    ----------
    hole : Hole
        The hole.
    number : HouseNumber or None
        Number for the house.
    assumptions : Assumptions or None
        Diameter where none is entered.
    counted : bool
        Whether the number counts this hole as open already.

    Returns
    -------
    RegisteredHole
        Flow, what is left, whose release it ends.
    """
    given = assumptions or Assumptions()
    diameter = hole.diameter or given["hole_diameter"]
    flow = float(RoundHole.from_diameter(diameter).flow(PRESSURE_REFERENCE))
    left = None
    if number is not None:
        left = number.headroom - (0.0 if counted else flow * number.mark)
    return RegisteredHole(hole, diameter, flow, left)


@dataclass(frozen=True, slots=True)
class HoleRegister:
    """All holes made after the check.

    Parameters
    ----------
    holes : tuple of RegisteredHole
        In the order of the table.
    headroom : float or None
        Left for later holes, negative if already too much; None without a number. [m3/s]
    """

    holes: tuple[RegisteredHole, ...]
    headroom: float | None

    @property
    def ending(self):
        """Holes that end the release of their area as they stand."""
        return tuple(one for one in self.holes if one.ends_release)

    @property
    def open_flow(self):
        """Flow at 50 Pa through the holes that are open. [m3/s]."""
        return sum(one.flow for one in self.holes if one.state == OPEN)

    def sentence(self, units="metric"):
        """Return how many holes there are, which end a release, and what is left."""
        count = len(self.holes)
        text = f"{count} hole{'' if count == 1 else 's'} in the register"
        some = len(self.ending)
        of = "" if some == count == 1 else f"{some} of them "
        text += f", {of}not sealed and looked at." if some else "."
        if not count:
            text = "No hole is entered. Every new hole is entered, sealed and looked at."
        if self.headroom is None:
            return f"{text} No number yet, so nothing can be set against it."
        if self.headroom < 0.0:
            return (
                f"{text} Nothing is left for later holes: the house is over by "
                f"{said(-self.headroom, 'm3/s', units)} at 50 Pa."
            )
        shown = display_unit("m3/s", units)
        return (
            f"{text} Left for later holes: {show(from_si(self.headroom, shown), shown)} at 50 Pa."
        )


def hole_register(holes, number=None, assumptions=None):
    """Return the register of holes against what the house has left.

    Parameters
    ----------
    holes : iterable of Hole
        Holes entered so far.
    number : HouseNumber or None
        Number for the house, with these holes in it.
    assumptions : Assumptions or None
        Diameter where none is entered.

    Returns
    -------
    HoleRegister
        Each hole, and what is left.
    """
    weighed = tuple(weigh_hole(one, number, assumptions, not one.sealed_with) for one in holes)
    return HoleRegister(weighed, number.headroom if number is not None else None)
