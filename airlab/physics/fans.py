"""Which pressure does a fan reach against a leaky house? Where the two curves cross."""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.roots import bracketed_root
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    display_unit,
    from_si,
    require_finite,
    require_positive,
    show,
)

__all__ = [
    "FanCurve",
    "FanReach",
    "FixedFlow",
    "fan_air_power",
    "pressure_reached",
    "side_by_side",
]


@dataclass(frozen=True, slots=True)
class FanCurve:
    """A fan by points of its curve: pressure differences [Pa] and flows [m3/s], straight between.

    Below the first point the flow is held. Beyond the last it goes on falling as between the last
    two points, down to nothing.

    Examples
    --------
    >>> fan = FanCurve((0.0, 50.0, 100.0), (1.0, 0.8, 0.5))
    >>> [round(float(q), 2) for q in fan.flow(np.array([25.0, 150.0, 200.0]))]
    [0.9, 0.2, 0.0]
    """

    points_pressure: tuple[float, ...]
    points_flow: tuple[float, ...]
    name: str = "fan"
    lowest_flow: float = 0.0

    def __post_init__(self):
        pressure = require_positive(
            "fan_pressure", np.atleast_1d(self.points_pressure), "Pa", allow_zero=True
        )
        flow = require_positive("fan_flow", np.atleast_1d(self.points_flow), "m3/s",
                                "If you have m³/h, write m3_per_h(...).", allow_zero=True)  # fmt: skip
        require_positive("lowest_flow", self.lowest_flow, "m3/s", allow_zero=True)
        if pressure.size != flow.size or pressure.size < 2:
            raise InputError("A fan curve needs two points or more, each with pressure and flow.")
        order = np.argsort(pressure, kind="stable")
        pressure, flow = pressure[order], flow[order]
        if np.any(np.diff(pressure) <= 0.0):
            raise InputError("Two points of the fan curve have the same pressure.")
        if np.any(np.diff(flow) >= 0.0):
            raise InputError(
                "A fan moves less air the higher the pressure. Check the points: pressure first, "
                "then flow."
            )
        object.__setattr__(self, "points_pressure", tuple(pressure.tolist()))
        object.__setattr__(self, "points_flow", tuple(flow.tolist()))

    @classmethod
    def from_points(cls, points, **more):
        """Return the fan of (pressure [Pa], flow [m3/s]) pairs."""
        points = tuple(points)
        if any(len(point) != 2 for point in points):
            raise InputError("Each point of a fan curve is a pair: pressure, flow.")
        return cls(tuple(p for p, _ in points), tuple(q for _, q in points), **more)

    @property
    def most_pressure(self):
        """Pressure at which nothing passes any more. [Pa]."""
        (p1, p2), (q1, q2) = self.points_pressure[-2:], self.points_flow[-2:]
        return p2 + q2 * (p2 - p1) / (q1 - q2)

    def flow(self, pressure_difference):
        """Return the flow of the fan at a pressure difference. [m3/s]."""
        pressures, flows = self.points_pressure, self.points_flow
        if flows[-1] > 0.0:
            pressures, flows = (*pressures, self.most_pressure), (*flows, 0.0)
        return np.interp(pressure_difference, pressures, flows)


@dataclass(frozen=True, slots=True)
class FixedFlow:
    """A fan that moves the same flow [m3/s] at every pressure."""

    fixed_flow: float
    name: str = "fan"
    lowest_flow: float = 0.0

    def __post_init__(self):
        require_positive(
            "fixed_flow", self.fixed_flow, "m3/s", "If you have m³/h, write m3_per_h(...)."
        )
        require_positive("lowest_flow", self.lowest_flow, "m3/s", allow_zero=True)

    def flow(self, pressure_difference):
        """Return the flow, whatever the pressure difference. [m3/s]."""
        return self.fixed_flow + np.zeros(np.shape(pressure_difference))[()]


def side_by_side(*fans):
    """Return the curve of fans that stand side by side: at each pressure their flows add.

    Parameters
    ----------
    fans : FanCurve
        The fans.

    Returns
    -------
    FanCurve
        A fan that passes nothing any more is taken as shut off, or air would run back through it.
        The lowest flow is that of the smallest fan alone.

    Examples
    --------
    >>> fan = FanCurve((0.0, 50.0), (1.0, 0.5), lowest_flow=0.1)
    >>> pair = side_by_side(fan, fan)
    >>> float(pair.flow(50.0)), pair.lowest_flow
    (1.0, 0.1)
    """
    if not fans:
        raise InputError("No fan is given.")
    points = {p for fan in fans for p in (*fan.points_pressure, fan.most_pressure)}
    pressure = np.array(sorted(points))
    flow = sum(fan.flow(pressure) for fan in fans)
    keep = np.concatenate([[True], np.diff(flow) < 0.0])
    name = fans[0].name if len(fans) == 1 else f"{len(fans)} fans together"
    return FanCurve(tuple(pressure[keep]), tuple(flow[keep]), name=name,
                    lowest_flow=min(fan.lowest_flow for fan in fans))  # fmt: skip


@dataclass(frozen=True, slots=True)
class FanReach:
    """What a fan reaches against a leak: pressure, flow there, and what 50 Pa would need.

    Arrays stand for many houses at once.
    """

    pressure_difference: float
    flow: float
    flow_needed: float
    flow_at_50: float
    reaches_50: bool
    warnings: tuple[str, ...]

    def sentence(self, units="metric"):
        """Return the result in plain words; for many houses the share that reaches 50 Pa."""
        unit = display_unit("m3/s", units)
        if np.ndim(self.pressure_difference):
            return (
                f"In {show(100.0 * np.mean(self.reaches_50))} % of the cases the fan reaches 50 Pa."
            )
        need = show(from_si(self.flow_needed, unit), unit)
        can = show(from_si(self.flow_at_50, unit), unit)
        if self.reaches_50:
            return f"The fan reaches 50 Pa: the leak passes {need} there, the fan can move {can}."
        return (
            f"The fan reaches {show(self.pressure_difference, 'Pa')}, not 50 Pa. At 50 Pa the leak "
            f"would pass {need}; the fan can move {can}."
        )


def pressure_reached(fan, leak, air=CLASSROOM_AIR):
    """Return the pressure at which the fan's flow equals the leak's.

    For a fixed flow and a power-law leak ``p = 50 (Q / Q50)**(1/n)``.

    Parameters
    ----------
    fan : FanCurve or FixedFlow
        What moves the air.
    leak : Opening
        The whole leakage of the house; arrays in it stand for many houses.
    air : Air or AirState
        The air that passes.

    Returns
    -------
    FanReach
        Pressure, flows, and whether 50 Pa is reached.

    Raises
    ------
    InputError
        If the leak passes nothing at all.

    References
    ----------
    [DERIVED] mass balance of fan and leak

    Examples
    --------
    >>> from airlab.physics import PowerLawLeak
    >>> from airlab.words import litre_per_s
    >>> house = PowerLawLeak.from_flow(0.6 * 353.5 / 3600)
    >>> round(float(pressure_reached(FixedFlow(litre_per_s(60)), house).pressure_difference), 1)
    51.4
    """
    need = leak.flow(PRESSURE_REFERENCE, air)
    if np.any(np.less_equal(need, 0.0)):
        raise InputError("The house has no leak. No fan can be matched to it.")
    require_finite("leakage_flow", need, "m3/s")
    if isinstance(fan, FixedFlow):
        reached = leak.pressure(np.broadcast_to(fan.fixed_flow, np.shape(need)), air)
    else:
        low = np.zeros(np.shape(need))
        reached = bracketed_root(
            lambda p: fan.flow(p) - leak.flow(p, air), low, low + fan.most_pressure
        )
    reached = reached if np.ndim(reached) else float(reached)
    flow = leak.flow(reached, air)
    can = fan.flow(PRESSURE_REFERENCE)
    reaches = np.greater_equal(can, need)
    reaches = reaches if np.ndim(reaches) else bool(reaches)
    return FanReach(reached, flow, need, can, reaches, _warnings(fan, reached, need))


def fan_air_power(flow, pressure_difference, efficiency=1.0):
    """Return the power a fan puts into the air, or draws: ``Q p / efficiency``.

    Parameters
    ----------
    flow : float or array
        Flow of the fan. [m3/s]
    pressure_difference : float or array
        Pressure it works against. [Pa]
    efficiency : float
        Air power over electric power; 1 gives the air power. [-]

    Returns
    -------
    float or array
        Power. [W]

    Examples
    --------
    >>> from airlab.words import m3_per_h
    >>> round(fan_air_power(m3_per_h(3000), 50.0)), round(fan_air_power(m3_per_h(3000), 50.0, 0.3))
    (42, 139)
    """
    power = require_positive("flow", flow, "m3/s", allow_zero=True) * require_positive(
        "pressure_difference", pressure_difference, "Pa", allow_zero=True
    )
    return power / require_positive("efficiency", efficiency)


def _warnings(fan, reached, need):
    found = []
    if isinstance(fan, FanCurve) and np.any(np.greater(reached, fan.points_pressure[-1])):
        found.append(
            f"{fan.name}: the crossing lies beyond the last point of the curve, "
            f"{show(fan.points_pressure[-1], 'Pa')}."
        )
    if isinstance(fan, FanCurve) and np.any(np.less(reached, fan.points_pressure[0])):
        found.append(
            f"{fan.name}: the crossing lies below the first point of the curve, "
            f"{show(fan.points_pressure[0], 'Pa')}."
        )
    if np.any(np.less(need, fan.lowest_flow)):
        found.append(
            f"{fan.name}: the leak at 50 Pa is below the lowest flow it can measure. "
            "Take a smaller aperture or a smaller fan."
        )
    return tuple(found)
