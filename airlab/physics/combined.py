"""What do several openings pass together, side by side or one behind another?"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.laws import in_parallel, in_series, smooth_law
from airlab.physics.openings import Opening
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    require_positive,
    show,
)

__all__ = ["Covered", "Parallel", "Series", "covered"]


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
        parts = [np.asarray(smooth_law(one.law(air)).pressure(flow)) for one in self.openings]
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


@dataclass(frozen=True, slots=True)
class Covered:
    """A leak before and after something is put in front of it, at one total pressure."""

    pressure_difference: float
    flow_before: float
    flow_after: float
    pressure_on_leak: float

    @property
    def cut(self):
        """Share of the flow that the covering takes away. [-]."""
        return 1.0 - self.flow_after / self.flow_before

    def sentence(self, units="metric"):
        """Return what the covering did, in plain words."""
        unit = display_unit("m3/s", units)
        before, after = (show(from_si(q, unit), unit) for q in (self.flow_before, self.flow_after))
        total = show(self.pressure_difference, "Pa")
        said = (
            f"At {total} the leak passed {before}; behind the covering it passes {after}, "
            f"{show(100.0 * self.cut)} % less. {show(self.pressure_on_leak, 'Pa')} of the {total} "
            "still press on the leak itself. "
        )
        if self.cut < 0.5:
            return (
                said + "The covering hides the leak. It does not cure it: check before you cover."
            )
        return said + "Here the covering is the tighter layer: it has become the airtight layer."


def covered(leak, covering, pressure_difference=PRESSURE_REFERENCE, air=CLASSROOM_AIR):
    """Put a covering in front of a leak and say what it does: the series rule.

    Parameters
    ----------
    leak : Opening
        The leak in the airtight layer.
    covering : Opening
        The gaps of what is put in front.
    pressure_difference : float
        Across both together. [Pa]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    Covered
        Flow before and after, and the pressure left on the leak.

    References
    ----------
    [DERIVED] one flow through both, pressures add

    Examples
    --------
    >>> from airlab.physics import RoundHole
    >>> from airlab.words import cm2
    >>> record = covered(RoundHole.from_area(cm2(50)), RoundHole.from_area(cm2(100)))
    >>> round(record.cut, 3), round(record.pressure_on_leak, 6)
    (0.106, 40.0)
    """
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    both = Series((leak, covering))
    on_leak = float(both.pressures(pressure, air)[0])
    return Covered(
        pressure, float(leak.flow(pressure, air)), float(both.flow(pressure, air)), on_leak
    )
