"""What do the same holes mean in a balloon, a jar, a small and a large house, all at 50 Pa?

One fan for each: the same flow through the same holes, over very different volumes. And what if
each is to have the same air changes: how large may its hole be?
"""

from dataclasses import dataclass

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.bridge import hole_area_for_ach50
from airlab.physics.decay import spare_air
from airlab.physics.draining import drain
from airlab.physics.openings import RoundHole, equivalent_hole_area
from airlab.physics.vessels import SealedVessel
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    ach,
    display_unit,
    from_si,
    require_positive,
    show,
    show_duration,
    to_si,
)

__all__ = ["SideBySide", "VesselAt50", "side_by_side"]

_COOLING = 1.4  # air that cools as it thins pushes out so much less


@dataclass(frozen=True, slots=True)
class VesselAt50:
    """A volume held at 50 Pa by a fan of its own, with its holes; and after the fan has stopped.

    `spare` is what must leave for the pressure to vanish. Half-times are with air that keeps its
    temperature, and with air that cools.
    """

    name: str
    volume: float
    flow: float
    hole_area: float
    air_change_rate: float
    spare: float
    half_time: float
    half_time_cooling: float

    @property
    def time_per_change(self):
        """Time until the flow would have filled the volume once. [s]."""
        return self.volume / self.flow

    @property
    def hole_side(self):
        """Side of a square as large as the hole. [m]."""
        return self.hole_area**0.5


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Volumes side by side at 50 Pa, the smallest first."""

    vessels: tuple[VesselAt50, ...]
    same_hole: bool

    def sentence(self, units="metric"):
        """Return what the comparison shows, in plain words."""
        small, large = self.vessels[0], self.vessels[-1]
        if not self.same_hole:
            unit = "in2" if units == "us" else "cm2"
            areas = [show(from_si(one.hole_area, unit), unit) for one in (small, large)]
            return (
                f"{show(small.air_change_rate)} air changes per hour at 50 Pa allow the {small.name} "
                f"{areas[0]} of sharp holes and the {large.name} {areas[1]}. Half of the pressure is "
                f"gone after {_half(large)} in all of them."
            )
        flow = display_unit("m3/s", units)
        return (
            f"The same holes pass {show(from_si(small.flow, flow), flow)} at 50 Pa everywhere. That "
            f"is {show(small.air_change_rate)} air changes per hour at 50 Pa in the {small.name} and "
            f"{show(large.air_change_rate)} in the {large.name}: the volume decides."
        )


def _half(vessel):
    low, high = (show_duration(t, 2) for t in (vessel.half_time_cooling, vessel.half_time))
    return f"{low} to {high}"


def side_by_side(volumes, holes=None, ach50=None, air=CLASSROOM_AIR):
    """Hold several volumes at 50 Pa: with the same holes, or with the same air changes.

    ``ACH50 = Q(50 Pa) / V``; the half-time goes with V over flow.

    Parameters
    ----------
    volumes : dict
        Name and volume [m3] of each.
    holes : HoleSet, optional
        The same holes for all.
    ach50 : float, optional
        The same air changes for all, through one sharp hole each. [1/h]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    SideBySide
        The volumes in rising order.

    Raises
    ------
    InputError
        Unless exactly one of `holes` and `ach50` is given; if a volume is not above zero, or
        nothing leaks.

    References
    ----------
    [DERIVED] flow over volume; gas law at constant volume

    Examples
    --------
    >>> from airlab.words import cm2
    >>> from airlab.physics import HoleSet
    >>> holes = HoleSet(RoundHole.from_area(cm2(300)))
    >>> pair = side_by_side({"house": 500.0, "hall": 1000.0}, holes)
    >>> [round(one.air_change_rate, 2) for one in pair.vessels]
    [1.2, 0.6]
    """
    if (holes is None) == (ach50 is None):
        raise InputError("Give either the same holes or the same air changes for all.")
    for name, volume in volumes.items():
        require_positive(f"volume_of_the_{name}", volume, "m3")
    order = sorted(volumes.items(), key=lambda entry: entry[1])
    if holes is None:
        first = order[0][1]
        area = hole_area_for_ach50(ach50, first, air)
        flows = [to_si(ach50, "1/h") * volume for _, volume in order]
        hole = RoundHole.from_area(area)
        times = [drain(SealedVessel(first), hole, air, frames=2).half_time] * len(order)
    else:
        flow = float(holes.flow(PRESSURE_REFERENCE, air))
        if flow <= 0.0:
            raise InputError("There is no hole. Add one, and the volumes can be compared.")
        flows = [flow] * len(order)
        last = order[-1][1]
        half = drain(SealedVessel(last), holes, air, frames=2).half_time
        times = [half * volume / last for _, volume in order]
    return SideBySide(
        tuple(
            VesselAt50(
                name, volume, flow, float(equivalent_hole_area(flow, PRESSURE_REFERENCE, air)),
                float(ach(flow, volume)), float(spare_air(volume)), half, half / _COOLING,
            )
            for (name, volume), flow, half in zip(order, flows, times)
        ),
        holes is not None,
    )  # fmt: skip
