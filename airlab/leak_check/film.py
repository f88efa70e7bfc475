"""With what force does the fan pull on film, and which way, against the side it is fixed from?"""

from dataclasses import dataclass

from airlab.leak_check.prepare import has_film
from airlab.leak_check.tables import DIRECTIONS
from airlab.words import (
    PRESSURE_REFERENCE,
    display_unit,
    label,
    require_between,
    require_choice,
    show,
    to_si,
)
from airlab.words.saying import listed, said

__all__ = ["FilmLoad", "FilmLoads", "film_loads"]

_GRAVITY = 9.81  # m/s2
_UP = ("open laps", "complete and visible")


@dataclass(frozen=True, slots=True)
class FilmLoad:
    """One area of film: its name, force on it [N], the same as a weight [kg], whether it is battened."""

    area: str
    force: float
    weight: float
    supported: bool


@dataclass(frozen=True, slots=True)
class FilmLoads:
    """What the fan does to the film of the house.

    Parameters
    ----------
    loads : tuple of FilmLoad
        Areas in sight, the largest first.
    direction : str
        Way the fan blows.
    pressure : float
        Size of the pressure difference. [Pa]
    """

    loads: tuple[FilmLoad, ...]
    direction: str
    pressure: float

    @property
    def loose(self):
        """Areas that are not battened."""
        return tuple(one.area for one in self.loads if not one.supported)

    def sentence(self, units="metric"):
        """Return force on a square metre and on the largest area, and the safe way."""
        if not self.loads:
            return "No film is in sight."
        area = display_unit("m2", units)
        per = said(to_si(self.pressure / _GRAVITY, area), "kg", units, 2)
        first = self.loads[0]
        way = (
            "Suction pulls film into the room: off its frame where it is fixed from inside"
            if self.direction == DIRECTIONS[0]
            else "Blowing in presses film outwards: onto its frame where it is fixed from inside, off it "
            "where it is fixed from outside"
        )
        text = (
            f"{way}. {show(self.pressure, 'Pa')} is as if {per} hung on every {label(area)}; on {first.area} it is "
            f"{show(first.force, 'N', 2)}, as much as {said(first.weight, 'kg', units, 2)}."
        )
        if self.loose:
            return f"{text} Not battened: {listed(self.loose, most=4)}. No fan until they are."
        return (
            f"{text} Raise the pressure in steps of 10 Pa, watch the edges, stop when it billows."
        )


def film_loads(areas, direction=DIRECTIONS[0], pressure=PRESSURE_REFERENCE):
    """Return the force of the fan on each area of film that is in sight.

    ``F = p A``

    Parameters
    ----------
    areas : iterable of EnvelopeElement
        Areas with layer, status and whether the film is battened.
    direction : str
        depressurise or pressurise.
    pressure : float
        Size of the pressure difference. [Pa]

    Returns
    -------
    FilmLoads
        Largest first; covered film is held by what covers it.

    References
    ----------
    [DERIVED] force; [FI_CLIENT] supports are fixed before suction.

    Examples
    --------
    >>> film_loads(()).sentence()
    'No film is in sight.'
    """
    require_choice("direction", direction, DIRECTIONS)
    require_between("pressure", pressure, 0.0, 500.0, "Pa")
    found = [
        FilmLoad(one.area, pressure * one.area_m2, pressure * one.area_m2 / _GRAVITY, one.supported)
        for one in areas
        if has_film(one) and one.status in _UP and one.kind not in ("window", "door", "hatch")
    ]
    return FilmLoads(tuple(sorted(found, key=lambda one: -one.force)), direction, float(pressure))
