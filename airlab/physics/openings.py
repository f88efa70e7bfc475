"""How much air does one opening pass? Holes, slots, cracks, porous patches, power-law leaks.

Every opening has `.flow(pressure_difference, air)`, `.pressure(flow, air)`, `.law(air)`,
`.scaled(area_factor)`, `.name` and `.warnings`. Flow is positive outwards and odd in pressure.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.laws import FittedHoleLaw, PowerLaw, TwoTermLaw
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
    "Crack",
    "Opening",
    "PorousPatch",
    "PowerLawLeak",
    "RoundHole",
    "Slot",
    "equivalent_hole_area",
    "hole_flow",
    "local_flow_exponent",
]

SHARP_EDGE = math.pi / (math.pi + 2.0)  # contraction of a free jet from a slot in a thin wall
EDGES = {"sharp": SHARP_EDGE, "tube": 0.80, "rounded": 0.97}
FLOW_MODELS = ("constant", "two-term", "fitted")
_MOST_AREA = 5.0  # m2
_MM = "If you meant millimetres, write mm(...)."
_CM2 = "If you meant 50 cm², write cm2(50)."


class Opening:
    """What all openings share; an opening itself says its law in a given air."""

    __slots__ = ()
    warnings = ()

    def law(self, air=CLASSROOM_AIR):
        """Return the flow law of this opening in that air."""
        raise NotImplementedError

    def flow(self, pressure_difference, air=CLASSROOM_AIR):
        """Return the flow through the opening.

        Parameters
        ----------
        pressure_difference : float or array
            Inside minus outside. [Pa]
        air : Air or AirState
            The air that passes.

        Returns
        -------
        float or array
            Positive outwards, odd in the pressure difference. [m3/s]
        """
        return self.law(air).flow(pressure_difference)

    def pressure(self, flow, air=CLASSROOM_AIR):
        """Return the pressure difference that drives a flow.

        Parameters
        ----------
        flow : float or array
            Positive outwards. [m3/s]
        air : Air or AirState
            The air that passes.

        Returns
        -------
        float or array
            Inside minus outside. [Pa]
        """
        return self.law(air).pressure(flow)

    def scaled(self, area_factor):
        """Return the same opening with its area multiplied, shape kept."""
        raise NotImplementedError


def _set(opening, **fields):
    """Keep the checked numbers: floats, or arrays where many openings were given at once."""
    for name, value in fields.items():
        object.__setattr__(opening, name, value)


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
        require_positive("diameter", self.diameter, "m", _MM)
        _set(
            self,
            diameter=require_between("diameter", self.diameter, 0.0, 2.5, "m", _MM),
            depth=require_between("depth", self.depth, 0.0, 2.0, "m", _MM),
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
        if np.any(self.depth > 10.0 * self.diameter):
            return (f"{self.name}: deeper than 10 diameters, the range of the tube formula.",)
        return ()

    def law(self, air=CLASSROOM_AIR):
        """Return the flow law of the holes in that air."""
        if self.flow_model == "constant":
            return _sharp_law(self.discharge_coefficient * self.area, air)
        if self.flow_model == "fitted":
            return FittedHoleLaw(
                self.diameter, self.area, self.discharge_coefficient, air.density, air.viscosity
            )
        d = self.diameter
        creeping = air.viscosity * (24.0 + 128.0 / np.pi * self.depth / d) / d**3
        return _two_term(creeping / self.count, self.discharge_coefficient * self.area, air)

    def scaled(self, area_factor):
        """Return the holes with their area multiplied."""
        return replace(self, diameter=self.diameter * np.sqrt(area_factor))


@dataclass(frozen=True, slots=True)
class Slot(Opening):
    """Long thin gap in a thin sheet, as a sharp opening: ``Q = Cd A sqrt(2 p / rho)``.

    The flow model "two-term" adds the creeping part ``32 mu / (pi width**2 length)``.

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
        require_positive("width", self.width, "m", _MM)
        _set(
            self,
            length=require_between("length", self.length, 0.0, 500.0, "m", _MM),
            width=require_between("width", self.width, 0.0, 1.0, "m", _MM),
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
            return _sharp_law(self.discharge_coefficient * self.area, air)
        creeping = 32.0 * air.viscosity / (np.pi * np.square(self.width) * self.length)
        return _two_term(creeping / self.count, self.discharge_coefficient * self.area, air)

    def scaled(self, area_factor):
        """Return the slots with their area multiplied."""
        factor = np.sqrt(area_factor)
        return replace(self, length=self.length * factor, width=self.width * factor)


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
        require_positive("width", self.width, "m", _MM)
        require_positive("depth", self.depth, "m", _MM)
        _set(
            self,
            length=require_between("length", self.length, 0.0, 500.0, "m", _MM),
            width=require_between("width", self.width, 0.0, 0.1, "m", _MM),
            depth=require_between("depth", self.depth, 0.0, 5.0, "m", _MM),
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
        if np.any(self.depth < 10.0 * self.width):
            return (
                f"{self.name}: shallower than 10 gaps; the crack model may pass up to a third "
                "more than a sharp slot.",
            )
        return ()

    def law(self, air=CLASSROOM_AIR):
        """Return the two-term law of the cracks in that air."""
        creeping = 12.0 * air.viscosity * self.depth / (self.length * np.power(self.width, 3))
        coefficient = 1.0 / np.sqrt(1.5 + self.bends)
        return _two_term(creeping / self.count, coefficient * self.area, air)

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
        _set(
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
        _set(
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


def _sharp_law(effective_area, air):
    return PowerLaw(effective_area * np.sqrt(2.0 / air.density), 0.5)


def _two_term(creeping, effective_area, air):
    return TwoTermLaw(creeping, air.density / (2.0 * np.square(effective_area)))


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


def local_flow_exponent(opening, low=4.0, high=PRESSURE_REFERENCE, air=CLASSROOM_AIR):
    """Return the flow exponent between two pressures: ``ln(Q2/Q1) / ln(p2/p1)``.

    Parameters
    ----------
    opening : Opening
        Any opening or combination.
    low, high : float
        The two pressure differences. [Pa]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    float
        Between 0.5 and 1 for real openings. [-]

    Examples
    --------
    >>> round(local_flow_exponent(Crack(1.0, 0.001, 0.1)), 2)
    np.float64(0.97)
    """
    require_positive("low", low, "Pa")
    require_positive("high", high, "Pa")
    return np.log(opening.flow(high, air) / opening.flow(low, air)) / math.log(high / low)
