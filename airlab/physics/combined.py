"""What do several openings pass together, side by side or one behind another?"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.laws import in_parallel, in_series
from airlab.physics.openings import Opening
from airlab.words import InputError

__all__ = ["Parallel", "Series"]


@dataclass(frozen=True, slots=True)
class Parallel(Opening):
    """Openings side by side: ``Q = sum Q_i(p)``. None at all passes nothing.

    Examples
    --------
    >>> from airlab.physics import RoundHole
    >>> two = Parallel((RoundHole(0.01), RoundHole(0.01)))
    >>> bool(two.flow(50.0) == 2 * RoundHole(0.01).flow(50.0))
    True
    """

    openings: tuple
    name: str = "side by side"

    def __post_init__(self):
        object.__setattr__(self, "openings", _checked(self.openings))

    @property
    def area(self):
        """Areas added, of those openings that have one. [m2]."""
        return sum(getattr(opening, "area", None) or 0.0 for opening in self.openings)

    @property
    def warnings(self):
        """What lies outside the range of the formulas."""
        return tuple(dict.fromkeys(text for one in self.openings for text in one.warnings))

    def law(self, air=CLASSROOM_AIR):
        """Return the law of all openings together."""
        return in_parallel([opening.law(air) for opening in self.openings])

    def scaled(self, area_factor):
        """Return the openings, each with its area multiplied."""
        return Parallel(tuple(one.scaled(area_factor) for one in self.openings), self.name)


@dataclass(frozen=True, slots=True)
class Series(Opening):
    """Layers one behind another, inner first: the same flow through all, pressures add.

    Equal exponents: ``C = (sum C_i**(-1/n))**-n``, so for sharp holes ``1/A**2 = sum 1/A_i**2``.

    Notes
    -----
    The air between the layers holds no pressure of its own. Holes that face each other closely
    let the jet through and pass more than this.

    Examples
    --------
    >>> from airlab.physics import RoundHole, equivalent_hole_area
    >>> from airlab.words import cm2, from_si
    >>> wall = Series((RoundHole.from_area(cm2(50)), RoundHole.from_area(cm2(100))))
    >>> round(from_si(equivalent_hole_area(wall.flow(50.0)), "cm2"), 1)
    44.7
    >>> [round(float(p), 3) for p in wall.pressures(50.0)]
    [40.0, 10.0]
    """

    openings: tuple
    name: str = "one behind another"

    def __post_init__(self):
        object.__setattr__(self, "openings", _checked(self.openings))
        if not self.openings:
            raise InputError("Layers one behind another need at least one layer.")

    @property
    def warnings(self):
        """What lies outside the range of the formulas."""
        return tuple(dict.fromkeys(text for one in self.openings for text in one.warnings))

    def law(self, air=CLASSROOM_AIR):
        """Return the law of all layers together."""
        return in_series([opening.law(air) for opening in self.openings])

    def pressures(self, pressure_difference, air=CLASSROOM_AIR):
        """Return the pressure difference across each layer, inner first.

        Parameters
        ----------
        pressure_difference : float or array
            Across all layers together. [Pa]
        air : Air or AirState
            The air that passes.

        Returns
        -------
        tuple of float or array
            They add up to the whole. [Pa]
        """
        flow = self.flow(pressure_difference, air)
        parts = [np.asarray(one.pressure(flow, air)) for one in self.openings]
        whole = sum(parts)
        share = np.divide(pressure_difference, whole, out=np.ones_like(whole), where=whole != 0.0)
        return tuple((part * share)[()] for part in parts)

    def scaled(self, area_factor):
        """Return the layers, each with its area multiplied."""
        return Series(tuple(one.scaled(area_factor) for one in self.openings), self.name)


def _checked(openings):
    openings = (openings,) if isinstance(openings, Opening) else tuple(openings)
    for one in openings:
        if not isinstance(one, Opening):
            raise InputError(f"{one!r} is not an opening.")
    return openings
