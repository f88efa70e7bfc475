"""How much air does a hole, a slot or a leak known by its numbers pass, and how large a hole passes a given flow?

Every opening has `.flow(pressure_difference, air)`, `.pressure(flow, air)`, `.law(air)`,
`.scaled(area_factor)`, `.name` and `.warnings`. Flow is positive outwards and odd in pressure.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.laws import FittedHoleLaw, PowerLaw
from airlab.physics.opening_base import (
    MM_SLIP,
    Opening,
    anywhere,
    set_checked,
    sharp_law,
    two_term_law,
)
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    require_between,
    require_choice,
    require_positive,
)

__all__ = [
    "EDGES",
    "FLOW_MODELS",
    "SHARP_EDGE",
    "Opening",
    "PowerLawLeak",
    "RoundHole",
    "Slot",
    "equivalent_hole_area",
    "hole_flow",
]

SHARP_EDGE = math.pi / (math.pi + 2.0)  # contraction of a free jet from a slot in a thin wall
EDGES = {"sharp": SHARP_EDGE, "tube": 0.80, "rounded": 0.97}
FLOW_MODELS = ("constant", "two-term", "fitted")
_MOST_AREA = 5.0  # m2
_CM2 = "If you meant 50 cm², write cm2(50)."


def _edge_coefficient(edge, depth_ratio):
    """Return the discharge coefficient of an edge; long tubes lose a little to their walls."""
    if edge == "tube" and np.ndim(depth_ratio) == 0 and depth_ratio > 2.0:
        return 0.827 - 0.0085 * min(depth_ratio, 10.0)
    return EDGES[edge]


@dataclass(frozen=True, slots=True)
class RoundHole(Opening):
    """Round hole: ``Q = Cd A sqrt(2 p / rho)``, or with its creeping flow.

    Flow models: "constant" keeps the discharge coefficient; "two-term" adds the creeping part
    ``24 mu / d**3 + 128 mu L / (pi d**4)``; "fitted" follows a measured curve with a hump near
    Re 200 (sharp edge only).

    Notes
    -----
    A clean sharp edge is known to 0.02 in the coefficient, an unknown edge to 0.15. The hump was
    measured in pipes and may be lower in a wall: take 10 % either way for Re 50 to 3000. Tubes of 2
    to 10 diameters use ``0.827 - 0.0085 L/d``.

    References
    ----------
    [EB1911] coefficients; [SAMPSON1891] creeping flow; [DAGAN1982] depth; [HOLLINGSHEAD2011] hump;
    [LICHTAROWICZ1965] tubes

    Examples
    --------
    >>> from airlab.words import cm2, from_si
    >>> hole = RoundHole.from_area(cm2(1))
    >>> round(float(from_si(hole.flow(50.0), "m3/h")), 3)
    2.008
    """

    diameter: float
    count: int = 1
    edge: str = "sharp"
    depth: float = 0.0
    flow_model: str = "constant"
    name: str = "round hole"

    def __post_init__(self):
        require_positive("diameter", self.diameter, "m", MM_SLIP)
        set_checked(
            self,
            diameter=require_between("diameter", self.diameter, 0.0, 2.5, "m", MM_SLIP),
            depth=require_between("depth", self.depth, 0.0, 2.0, "m", MM_SLIP),
        )
        require_between("count", self.count, 1, 1e6)
        require_choice("edge", self.edge, EDGES)
        require_choice("flow_model", self.flow_model, FLOW_MODELS)
        if self.flow_model == "fitted" and (self.edge != "sharp" or np.any(self.depth)):
            raise InputError(
                "The fitted flow model stands for a sharp edge without depth. "
                "Choose 'two-term' for other edges."
            )

    @classmethod
    def from_diameter(cls, diameter, count=1, edge="sharp", **more):
        """Return holes of one diameter [m]."""
        return cls(diameter, count, edge, **more)

    @classmethod
    def from_area(cls, area, count=1, edge="sharp", **more):
        """Return holes of one area [m2] each."""
        require_positive("area", area, "m2", _CM2)
        require_between("hole_area", area, 0.0, _MOST_AREA, "m2", _CM2)
        return cls(np.sqrt(4.0 * np.asarray(area) / np.pi)[()], count, edge, **more)

    @property
    def area(self):
        """Area of all the holes together. [m2]."""
        return self.count * np.pi / 4.0 * np.square(self.diameter)

    @property
    def discharge_coefficient(self):
        """Flow over the ideal flow through the same area, at high speed. [-]."""
        return _edge_coefficient(self.edge, self.depth / self.diameter)

    @property
    def warnings(self):
        """What lies outside the range of the formulas."""
        if anywhere(self.depth > 10.0 * self.diameter):
            return (f"{self.name}: deeper than 10 diameters, the range of the tube formula.",)
        return ()

    def law(self, air=CLASSROOM_AIR):
        """Return the flow law of the holes in that air."""
        if self.flow_model == "constant":
            return sharp_law(self.discharge_coefficient * self.area, air)
        if self.flow_model == "fitted":
            return FittedHoleLaw(
                self.diameter, self.area, self.discharge_coefficient, air.density, air.viscosity
            )
        d = self.diameter
        entry, walls = 24.0, 128.0 / np.pi * self.depth / d
        creeping = air.viscosity * (entry + walls) / (d**3 * self.count)
        effective = self.discharge_coefficient * self.area
        return two_term_law(creeping, effective, air, walls / (entry + walls))

    def scaled(self, area_factor):
        """Return the holes with their area multiplied."""
        return replace(self, diameter=self.diameter * np.sqrt(area_factor))


@dataclass(frozen=True, slots=True)
class Slot(Opening):
    """Long thin gap in a thin sheet, as a sharp opening: ``Q = Cd A sqrt(2 p / rho)``.

    The flow model "two-term" adds the creeping part ``32 mu / (pi width**2 length)``.

    References
    ----------
    [EB1911] coefficient; [HASIMOTO1958] creeping flow

    Examples
    --------
    >>> from airlab.words import from_si, mm
    >>> round(from_si(Slot(1.0, mm(1)).flow(50.0), "m3/h"), 1)
    20.1
    """

    length: float
    width: float
    count: int = 1
    edge: str = "sharp"
    flow_model: str = "constant"
    name: str = "slot"

    def __post_init__(self):
        require_positive("length", self.length, "m")
        require_positive("width", self.width, "m", MM_SLIP)
        set_checked(
            self,
            length=require_between("length", self.length, 0.0, 500.0, "m", MM_SLIP),
            width=require_between("width", self.width, 0.0, 1.0, "m", MM_SLIP),
        )
        require_between("count", self.count, 1, 1e6)
        require_choice("edge", self.edge, EDGES)
        require_choice("flow_model", self.flow_model, FLOW_MODELS[:2])

    @property
    def area(self):
        """Area of all the slots together. [m2]."""
        return self.count * np.multiply(self.length, self.width)

    @property
    def discharge_coefficient(self):
        """Flow over the ideal flow through the same area. [-]."""
        return EDGES[self.edge]

    def law(self, air=CLASSROOM_AIR):
        """Return the flow law of the slots in that air."""
        if self.flow_model == "constant":
            return sharp_law(self.discharge_coefficient * self.area, air)
        creeping = 32.0 * air.viscosity / (np.pi * np.square(self.width) * self.length)
        return two_term_law(creeping / self.count, self.discharge_coefficient * self.area, air)

    def scaled(self, area_factor):
        """Return the slots with their area multiplied."""
        factor = np.sqrt(area_factor)
        return replace(self, length=self.length * factor, width=self.width * factor)


@dataclass(frozen=True, slots=True)
class PowerLawLeak(Opening):
    """Leak known by its numbers: ``Q = C p**n``, straight below 0.1 Pa.

    Examples
    --------
    >>> leak = PowerLawLeak.from_flow(0.25, flow_exponent=0.65)
    >>> round(float(leak.flow(50.0)), 6)
    0.25
    """

    flow_coefficient: float
    flow_exponent: float = 0.65
    name: str = "power-law leak"

    def __post_init__(self):
        slip = "If you have m³/(h·Paⁿ), write to_si(value, 'm3/(h.Pa^n)')."
        set_checked(
            self,
            flow_coefficient=require_positive(
                "flow_coefficient", self.flow_coefficient, "m3/(s.Pa^n)", slip
            ),
            flow_exponent=require_between("flow_exponent", self.flow_exponent, 0.5, 1.0),
        )

    @classmethod
    def from_flow(cls, flow, pressure_difference=PRESSURE_REFERENCE, flow_exponent=0.65, **more):
        """Return the leak that passes a flow [m3/s] at a pressure difference [Pa]."""
        require_positive("flow", flow, "m3/s")
        require_positive("pressure_difference", pressure_difference, "Pa")
        require_between("flow_exponent", flow_exponent, 0.5, 1.0)
        coefficient = np.asarray(flow) / np.power(float(pressure_difference), flow_exponent)
        return cls(coefficient[()], flow_exponent, **more)

    def law(self, air=CLASSROOM_AIR):
        """Return the power law; its coefficient stands for the air it was found in."""
        return PowerLaw(self.flow_coefficient, self.flow_exponent)

    def scaled(self, area_factor):
        """Return the leak with its coefficient multiplied."""
        return replace(self, flow_coefficient=self.flow_coefficient * area_factor)


def hole_flow(area, pressure_difference, air=CLASSROOM_AIR, discharge_coefficient=SHARP_EDGE):
    """Return the flow through a hole: ``Q = Cd A sqrt(2 p / rho)``.

    Parameters
    ----------
    area : float or array
        Area of the hole. [m2]
    pressure_difference : float or array
        Inside minus outside. [Pa]
    air : Air or AirState
        The air that passes.
    discharge_coefficient : float
        Sharp edge 0.611. [-]

    Returns
    -------
    float or array
        Flow, positive outwards. [m3/s]

    Examples
    --------
    >>> from airlab.words import cm2, from_si
    >>> round(from_si(hole_flow(cm2(1), 25.0), "m3/h"), 2)
    1.42
    """
    require_positive("area", area, "m2", _CM2, allow_zero=True)
    return PowerLaw(
        discharge_coefficient * np.asarray(area) * np.sqrt(2.0 / air.density), 0.5
    ).flow(pressure_difference)


def equivalent_hole_area(
    leakage_flow,
    pressure_difference=PRESSURE_REFERENCE,
    air=CLASSROOM_AIR,
    discharge_coefficient=SHARP_EDGE,
):
    """Return the area of one hole that passes the flow: ``A = Q / (Cd sqrt(2 p / rho))``.

    Parameters
    ----------
    leakage_flow : float or array
        Flow at the pressure difference. [m3/s]
    pressure_difference : float or array
        Pressure difference of the flow. [Pa]
    air : Air or AirState
        The air that passes.
    discharge_coefficient : float
        0.611 for a sharp hole, 1 for an effective leakage area. [-]

    Returns
    -------
    float or array
        Area; say pressure and coefficient with it. [m2]

    Raises
    ------
    InputError
        If the flow is negative or the pressure difference is not above zero.

    Examples
    --------
    >>> from airlab.words import from_si, m3_per_h
    >>> round(from_si(equivalent_hole_area(m3_per_h(900.0)), "cm2"), 1)
    448.2
    """
    flow = require_positive(
        "leakage_flow", leakage_flow, "m3/s", "Type the size of the flow.", allow_zero=True
    )
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    require_positive("discharge_coefficient", discharge_coefficient)
    return flow / (discharge_coefficient * np.sqrt(2.0 * pressure / air.density))
