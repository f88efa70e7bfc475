"""What does a house do in this weather with these fans? The solved state of a network.

``Σ flow out of a zone = what fans blow into it``, by mass, in every zone and every case.
"""

from dataclasses import dataclass, field

import numpy as np

from airlab.physics.airflow import GRAVITY, OUTSIDE, Network, Outdoors
from airlab.physics.airflow_parts import network_parts
from airlab.physics.airflow_solve import (
    CONVERGED_WITHIN,
    balance_one_zone,
    balance_zones,
    power_flow,
)
from airlab.words import InputError, display_unit, from_si, show, show_range

__all__ = ["Airflow", "solve_airflow"]


@dataclass(frozen=True, slots=True)
class Airflow:
    """The solved state of a network: pressures, flows, and how well the air balances.

    Arrays have the axis of the cases first (none for a single case), then zones, paths or fans. A
    path's flow is positive from its zone to the other side, at the density of the air that passes.
    A fan's flow is positive from its source to its target; a held zone's fan is positive into it.
    """

    network: Network
    outdoors: Outdoors
    zone_pressure: np.ndarray = field(repr=False)  # over outside at height 0, no wind [Pa]
    density: np.ndarray = field(repr=False)  # zones, then outside [kg/m3]
    path_pressure: np.ndarray = field(repr=False)  # [Pa]
    path_flow: np.ndarray = field(repr=False)  # [m3/s]
    path_mass_flow: np.ndarray = field(repr=False)  # [kg/s]
    fans_flow: np.ndarray = field(repr=False)  # fans in order, then held zones [m3/s]
    gust: np.ndarray = field(repr=False)  # wind pressure per unit of coefficient [Pa]
    imbalance: np.ndarray  # worst zone, share of the air that passes
    iterations: np.ndarray
    warnings: tuple[str, ...] = ()

    @property
    def converged(self):
        """Whether the air balances to 1e-9 of what passes, case by case."""
        return self.imbalance <= CONVERGED_WITHIN

    def _zone(self, zone):
        names = [one.name for one in self.network.zones]
        if zone not in names:
            raise InputError(f"There is no zone {zone!r}. Zones: {', '.join(names)}.")
        return names.index(zone)

    def pressure_difference(self, zone, height=0.0, tap_coefficient=0.0):
        """Return a zone's pressure over outside at a height [m]; the tap may feel the wind. [Pa]."""
        index = self._zone(zone)
        lighter = self.density[..., index] - self.density[..., -1]
        return (
            self.zone_pressure[..., index]
            - lighter * GRAVITY * height
            - tap_coefficient * self.gust
        )

    def through(self, path):
        """Return the flow through the path of that name. [m3/s]."""
        names = [one.name for one in self.network.paths]
        if path not in names:
            raise InputError(f"There is no path {path!r}. Paths: {', '.join(names[:30])}.")
        return self.path_flow[..., names.index(path)]

    def fan_flow(self, fan):
        """Return the flow of the fan of that name, or of the fan that holds that zone. [m3/s]."""
        names = [one.name for one in self.network.fans]
        names += [one.zone for one in self.network.holds]
        if fan not in names:
            raise InputError(f"There is no fan {fan!r}. Fans: {', '.join(names)}.")
        return self.fans_flow[..., names.index(fan)]

    def outside_air(self, zone=None):
        """Return the outside air that comes into the house, or into one zone, by leaks and fans. [m3/s]."""
        chosen = zone
        if zone is not None:
            self._zone(zone)
        total = np.zeros(self.zone_pressure.shape[:-1])
        for index, path in enumerate(self.network.paths):
            if path.to == OUTSIDE and chosen in (None, path.zone):
                total = total + np.maximum(-self.path_flow[..., index], 0.0)
        for index, fan in enumerate(self.network.fans):
            flow = self.fans_flow[..., index]
            for source, target, amount in (
                (fan.source, fan.target, flow),
                (fan.target, fan.source, -flow),
            ):
                if source == OUTSIDE and chosen in (None, target):
                    total = total + np.maximum(amount, 0.0)
        for index, hold in enumerate(self.network.holds, start=len(self.network.fans)):
            if chosen in (None, hold.zone):
                total = total + np.maximum(self.fans_flow[..., index], 0.0)
        return total

    def sentence(self, units="metric"):
        """Return the state in plain words."""
        unit = display_unit("m3/s", units)
        fresh = from_si(self.outside_air(), unit)
        text = []
        if np.ndim(fresh):
            text.append(f"{fresh.size} cases. Outside air comes in at "
                        f"{show_range(fresh.min(), fresh.max(), unit)}.")  # fmt: skip
        else:
            text.append(f"Outside air comes in at {show(fresh, unit)}.")
            for index, zone in enumerate(self.network.zones[:6]):
                pressure = float(self.zone_pressure[index])
                side = "over" if pressure > 0 else "under"
                text.append(f"{zone.name}: {show(abs(pressure), 'Pa')} {side} outside at the floor."
                            if abs(pressure) >= 0.005 else f"{zone.name}: as outside at the floor.")  # fmt: skip
        return " ".join((*text, *self.warnings))


def solve_airflow(network, outdoors=None):
    """Return the pressures and flows at which the air balances in every zone.

    Parameters
    ----------
    network : Network
        Zones, paths, fans and held zones; entries may be arrays of cases.
    outdoors : Outdoors, optional
        The weather; 10 °C without wind if left out.

    Returns
    -------
    Airflow
        State of the house; `converged` and `warnings` say where the air does not balance.

    Raises
    ------
    InputError
        If arrays of cases differ in length, or a weather value is out of range.

    Notes
    -----
    Below 0.1 Pa a power law is straight. Flow through a path has the density of the place it comes
    from. Doorways pass air one way only.

    References
    ----------
    [DERIVED] mass balance

    Examples
    --------
    >>> from airlab.physics.airflow import FlowPath, Hold, Zone
    >>> from airlab.physics.openings import PowerLawLeak
    >>> leak = FlowPath("leak", PowerLawLeak.from_flow(0.25), "house")
    >>> house = Network([Zone("house")], [leak], holds=[Hold("house", 50.0)])
    >>> round(float(solve_airflow(house, Outdoors(20.0)).fan_flow("house")), 4)
    0.25
    """
    outdoors = Outdoors() if outdoors is None else outdoors
    parts = network_parts(network, outdoors)
    names = [zone.name for zone in network.zones]
    held = [names.index(hold.zone) for hold in network.holds]
    free = [index for index in range(len(names)) if index not in held]
    cases, places = parts.density.shape
    pressure = np.zeros((cases, places))
    for hold, index in zip(network.holds, held):
        lighter = parts.density[:, index] - parts.density[:, -1]
        pressure[:, index] = (
            hold.pressure_difference
            + lighter * GRAVITY * hold.height
            + hold.tap_coefficient * parts.gust
        )
    across = parts.offset + pressure[:, parts.ends[:, 0]] - pressure[:, parts.ends[:, 1]]
    iterations = np.zeros(cases, dtype=int)
    if free:
        incidence, supply = _incidence(parts, places)[:, free], parts.supply[:, free]
        if len(free) == 1 and not parts.two_term and not parts.others:
            across, found, iterations = _one_zone(parts, across, incidence[:, 0], supply[:, 0])
        else:
            balance = balance_zones(incidence, across, parts.flows, supply)
            across, found = balance.pressure_difference, balance.pressure
            iterations = balance.iterations
        pressure[:, free] = found
    mass, slope = parts.flows(across)
    return _state(network, outdoors, parts, free, held, pressure, across, mass, slope, iterations)


def _incidence(parts, places):
    """Return +1 where a part starts in a place, -1 where it ends there."""
    signs = np.zeros((len(parts.ends), places))
    rows = np.arange(len(parts.ends))
    signs[rows, parts.ends[:, 0]] = 1.0
    signs[rows, parts.ends[:, 1]] = -1.0
    return signs


def _one_zone(parts, across, sign, supply):
    """Solve one zone by the quick way, then finish on the paths' own differences."""
    touches = np.flatnonzero(sign)
    out, back, exponent = (column[..., touches] for column in parts.power)
    turned = sign[touches] < 0.0
    out, back = np.where(turned, back, out), np.where(turned, out, back)
    x = across[:, touches] * sign[touches]
    balance = balance_one_zone(x, out, back, exponent, supply)
    x = x + balance.pressure
    flow, slope = power_flow(x, out, back, exponent)
    last = ((supply - flow.sum(axis=1)) / slope.sum(axis=1))[:, None]
    across = across.copy()
    across[:, touches] = (x + last) * sign[touches]
    return across, balance.pressure + last, balance.iterations


def _state(network, outdoors, parts, free, held, pressure, across, mass, slope, iterations):
    cases, places = parts.density.shape
    paths, fans = len(network.paths), len(network.fans)
    signs = _incidence(parts, places)
    out, size = mass @ signs, np.abs(signs)  # net mass that leaves each place; what touches it
    passed = np.abs(mass) @ size + np.abs(parts.supply)
    passed = np.maximum(np.maximum(passed, 1e-9 * (slope @ size)), 1e-300)
    rest = np.abs(out - parts.supply) / passed
    imbalance = rest[:, free].max(axis=1) if free else np.zeros(cases)

    ahead = mass > 0.0
    volume = mass / np.where(ahead, parts.density[:, parts.ends[:, 0]],
                             parts.density[:, parts.ends[:, 1]])  # fmt: skip
    fans_flow = np.zeros((cases, fans + len(held)))
    if np.array_equal(parts.owner, np.arange(paths)):
        path_mass, path_flow, path_pressure = mass, volume, across
    else:  # paths of several parts, out of order; fan curves behind them
        order = np.argsort(parts.owner, kind="stable")
        firsts, last = (
            np.searchsorted(parts.owner[order], who) for who in (np.arange(paths), paths)
        )
        whole = order[:last]
        path_mass, path_flow = (
            np.add.reduceat(a[:, whole], firsts, axis=1) for a in (mass, volume)
        )
        path_pressure = across[:, order[firsts]]
        for column in order[last:]:
            fans_flow[:, parts.owner[column] - paths] = volume[:, column]
    for number, fan in enumerate(network.fans):
        if not hasattr(fan.flow, "flow"):
            fans_flow[:, number] = fan.flow
    for number, index in enumerate(held, start=fans):
        need = out[:, index] - parts.supply[:, index]
        fans_flow[:, number] = need / np.where(
            need > 0.0, parts.density[:, -1], parts.density[:, index]
        )
    warnings = [text for path in network.paths for text in path.opening.warnings]
    bad = int((imbalance > CONVERGED_WITHIN).sum())
    if bad:
        warnings.append(f"In {bad} of {cases} cases the air does not balance. Do not use them."
                        if parts.shape else "The air does not balance. Do not use this result.")  # fmt: skip
    arrays = (pressure[:, :-1], parts.density, path_pressure, path_flow, path_mass, fans_flow,
              parts.gust, imbalance, iterations)  # fmt: skip
    if not parts.shape:
        arrays = tuple(array[0] for array in arrays)
    return Airflow(network, outdoors, *arrays, tuple(dict.fromkeys(warnings)))
