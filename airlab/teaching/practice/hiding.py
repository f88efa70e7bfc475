"""What is hidden in a practice house today? Drawn by a seed: leaks, sizes, weather, a stop or none."""

import math
from dataclasses import dataclass
from random import Random

from airlab.words import require_between, require_choice

__all__ = ["FAULTS", "Hidden", "hide"]

FAULTS = ("window ajar", "dry trap", "zero drift", "wrong volume", "hose in the wind",
          "temporary seal left on", "fan off its range")  # fmt: skip
STOP_SHARE = 0.2  # one seed in five has a real stop
_SPREAD = 0.35  # of the logarithm of a gap's size around its table's size
_NEXT_DOOR = 3


@dataclass(frozen=True, slots=True)
class Hidden:
    """What a seed has put into a house.

    Parameters
    ----------
    seed : int
        The seed.
    gaps : tuple of (str, float)
        Sites that let air through today and their size over the table's.
    lookalikes : tuple of str
        Cold bridges.
    stop : str
        Key of the hazard that must stop the day; empty on a safe day.
    wind, wind_direction : float
        Wind [m/s] and where it comes from [deg].
    carpet : bool
        New carpets close the gaps under the doors.
    fault : str
        One of `FAULTS`, hidden by an instructor; empty otherwise.
    """

    seed: int
    gaps: tuple[tuple[str, float], ...]
    lookalikes: tuple[str, ...]
    stop: str
    wind: float
    wind_direction: float
    carpet: bool
    fault: str = ""

    @property
    def names(self):
        """Sites that let air through."""
        return tuple(name for name, _ in self.gaps)


def hide(house, seed, leaks=14, fault=""):
    """Return what a seed hides in a house.

    Parameters
    ----------
    house : House
        The house.
    seed : int
        Same seed, same leaks.
    leaks : int
        How many leaks; fewer if the house has fewer sites.
    fault : str
        One of `FAULTS` or nothing.

    Returns
    -------
    Hidden
        Leaks of as many families and rooms as there are, all flues, some paths to neighbours.
    """
    require_between("leaks", leaks, 1, 100)
    if fault:
        require_choice("fault", fault, FAULTS)
    draw = Random(f"{house.name}|{seed}")
    by_kind = {kind: [s for s in house.sites if s.kind == kind] for kind in
               ("leak", "next door", "not yours to seal", "cold bridge")}  # fmt: skip
    for sites in by_kind.values():
        draw.shuffle(sites)
    chosen = _spread_out(by_kind["leak"], leaks)
    voids = {room.name for room in house.rooms if room.kind == "void"}
    far = next((site for site in by_kind["leak"] if site.to in voids), None)
    if far and not any(site.to in voids for site in chosen):
        chosen[-1] = far  # one leak that is felt far from where the air comes in
    present = chosen + by_kind["next door"][:_NEXT_DOOR] + by_kind["not yours to seal"]
    gaps = tuple(
        (site.name, 1.0 if site.kind == "not yours to seal" else _factor(draw)) for site in present
    )
    stops = [one.key for one in house.hazards]
    stop = draw.choice(stops) if draw.random() < STOP_SHARE and stops else ""
    return Hidden(
        seed, gaps, tuple(site.name for site in by_kind["cold bridge"]), stop,
        house.facts.wind * draw.uniform(0.5, 1.5), draw.uniform(0.0, 360.0),
        draw.random() < 0.5, fault,
    )  # fmt: skip


def _factor(draw):
    return min(max(math.exp(draw.gauss(0.0, _SPREAD)), 0.5), 1.9)


def _spread_out(sites, wanted):
    """Take sites in turn from every family, so that no hunt is all sockets."""
    left, taken = list(sites), []
    while left and len(taken) < wanted:
        for family in dict.fromkeys(site.family for site in left):
            one = next(site for site in left if site.family == family)
            left.remove(one)
            taken.append(one)
            if len(taken) == wanted:
                break
    return taken
