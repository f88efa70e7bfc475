"""How much air passes a deep crack or a porous patch?"""

from dataclasses import dataclass, replace

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.laws import PowerLaw
from airlab.physics.opening_base import MM_SLIP, Opening, anywhere, set_checked, two_term_law
from airlab.words import require_between, require_positive

__all__ = ["Crack", "PorousPatch"]


@dataclass(frozen=True, slots=True)
class Crack(Opening):
    """Deep narrow crack: ``p = 12 mu z / (w h**3) Q + rho (1.5 + bends) / (2 w**2 h**2) Q**2``.

    Notes
    -----
    w length, h width (the gap), z depth in the direction of flow. Creeping at hairlines (n near
    1), like a hole when wide (n near 0.5). The constant 1.5 is from memory. Shallower than about
    10 gaps the model passes up to a third more than a sharp slot; a warning says so.

    References
    ----------
    [BAKER1987] quadratic form

    Examples
    --------
    >>> from airlab.words import from_si, mm
    >>> round(from_si(Crack(1.0, mm(1), mm(20)).flow(50.0), "m3/h"), 1)
    19.5
    """

    length: float
    width: float
    depth: float
    bends: int = 0
    count: int = 1
    name: str = "crack"

    def __post_init__(self):
        require_positive("length", self.length, "m")
        require_positive("width", self.width, "m", MM_SLIP)
        require_positive("depth", self.depth, "m", MM_SLIP)
        set_checked(
            self,
            length=require_between("length", self.length, 0.0, 500.0, "m", MM_SLIP),
            width=require_between("width", self.width, 0.0, 0.1, "m", MM_SLIP),
            depth=require_between("depth", self.depth, 0.0, 5.0, "m", MM_SLIP),
        )
        require_between("bends", self.bends, 0, 20)
        require_between("count", self.count, 1, 1e6)

    @property
    def area(self):
        """Area of all the cracks together. [m2]."""
        return self.count * np.multiply(self.length, self.width)

    @property
    def warnings(self):
        """What lies outside the range of the formulas."""
        if anywhere(self.depth < 10.0 * self.width):
            return (
                f"{self.name}: shallower than 10 gaps; the crack model may pass up to a third "
                "more than a sharp slot.",
            )
        return ()

    def law(self, air=CLASSROOM_AIR):
        """Return the two-term law of the cracks in that air."""
        creeping = 12.0 * air.viscosity * self.depth / (self.length * np.power(self.width, 3))
        coefficient = 1.0 / np.sqrt(1.5 + self.bends)
        return two_term_law(creeping / self.count, coefficient * self.area, air, walls=1.0)

    def scaled(self, area_factor):
        """Return the cracks with length and width grown alike, area multiplied."""
        factor = np.sqrt(area_factor)
        return replace(self, length=self.length * factor, width=self.width * factor)


@dataclass(frozen=True, slots=True)
class PorousPatch(Opening):
    """Porous sheet or bare block: ``Q = K A p``, flow exponent 1."""

    permeance: float
    area: float
    name: str = "porous patch"

    def __post_init__(self):
        set_checked(
            self,
            permeance=require_positive("permeance", self.permeance, "m3/(s.Pa.m2)"),
            area=require_positive("area", self.area, "m2"),
        )

    def law(self, air=CLASSROOM_AIR):
        """Return the straight law of the patch; the permeance stands for the air it is in."""
        return PowerLaw(self.permeance * self.area, 1.0)

    def scaled(self, area_factor):
        """Return the patch with its area multiplied."""
        return replace(self, area=self.area * area_factor)
