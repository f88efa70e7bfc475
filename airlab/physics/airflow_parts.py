"""How does a network become arrays? Densities, offsets, flow laws by column, what fans supply.

Every opening comes down to laws: power laws and two-term laws go into columns that are worked out
together; anything else keeps its own law, with its slope by a small difference.
"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import Air, air_viscosity, moist_air_density
from airlab.physics.airflow import GRAVITY, OUTSIDE
from airlab.physics.airflow_solve import power_flow
from airlab.physics.laws import ParallelLaw, PowerLaw, TwoTermLaw
from airlab.physics.wind import wind_pressure
from airlab.words import InputError

__all__ = ["Parts", "network_parts"]

_TINY = 1e-6  # Pa; below this a two-term law without creeping is made straight


@dataclass(frozen=True, slots=True)
class Parts:
    """A network as arrays. A part is one flow law; a path has one part or several.

    Parts run over power laws, then two-term laws, then other laws, then fan curves. The last place
    is outside.
    """

    shape: tuple  # () for one case given as plain numbers, or (cases,)
    density: np.ndarray  # (cases, places) [kg/m3]
    offset: np.ndarray  # (cases, parts) what stack and wind add to a part's difference [Pa]
    ends: np.ndarray  # (parts, 2) places where a part starts and ends
    owner: np.ndarray  # (parts,) number of the path, or of paths plus the fan
    power: tuple  # outward, inward, exponent
    two_term: tuple  # creeping, inertia, density: outward and inward of each
    others: tuple  # pairs of callables, outward and inward, giving mass flow
    supply: np.ndarray  # (cases, places) what fixed fans blow into each place [kg/s]
    gust: np.ndarray  # (cases,) wind pressure per unit of coefficient [Pa]

    def flows(self, pressure_difference):
        """Return mass flow of every part and its slope."""
        x = pressure_difference
        flow, slope = np.empty_like(x), np.empty_like(x)
        end = len(self.power[2])
        if end:
            flow[:, :end], slope[:, :end] = power_flow(x[:, :end], *self.power)
        if self.two_term:
            start, end = end, end + self.two_term[0].shape[-1]
            part = x[:, start:end]
            size, ahead = np.abs(part), part > 0.0
            creeping, inertia, density = (
                np.where(ahead, out, back)
                for out, back in zip(self.two_term[::2], self.two_term[1::2])
            )
            root = np.sqrt(creeping**2 + 4.0 * inertia * np.maximum(size, _TINY))
            flow[:, start:end] = 2.0 * density * part / (creeping + root)
            slope[:, start:end] = density / np.where(size < _TINY, 0.5 * (creeping + root), root)
        for column, (out, back) in enumerate(self.others, start=end):
            part = x[:, column]
            step = 2e-4 * np.maximum(np.abs(part), 0.01)
            below, flow[:, column], above = _either(
                part > 0.0, out, back, np.stack([part - step, part, part + step])
            )
            slope[:, column] = np.maximum((above - below) / (2.0 * step), 1e-12)
        return flow, slope


def _either(ahead, out, back, pressure_difference):
    """Return the outward flow where it goes ahead, else the inward one; each is asked only if needed."""
    if ahead.all():
        return out(pressure_difference)
    inward = back(pressure_difference)
    return np.where(ahead, out(pressure_difference), inward) if ahead.any() else inward


def _simple_laws(law):
    """Return the laws that stand side by side in one opening."""
    if not isinstance(law, ParallelLaw):
        return [law]
    simple = [one for part in law.laws for one in _simple_laws(part)]
    if law._creeping is not None:
        simple += map(TwoTermLaw, law._creeping.tolist(), law._inertia.tolist())
    return simple


def _kind(law):
    if isinstance(law, PowerLaw) and np.ndim(law.exponent) == 0:
        return 0
    return 1 if isinstance(law, TwoTermLaw) else 2


def _columns(values, cases):
    """Return one row for all cases where nothing varies, else a row for each case."""
    if all(np.ndim(value) == 0 for value in values):
        return np.array(values, dtype=float)
    return np.stack([np.broadcast_to(value, (cases,)) for value in values], axis=1).astype(float)


def _shape(values):
    """Return the common shape of everything that may vary by case."""
    shapes = {np.shape(value) for value in values}
    try:
        shape = np.broadcast_shapes(*shapes)
    except ValueError:
        sizes = sorted({len(np.ravel(value)) for value in values if np.ndim(value)})
        raise InputError(
            f"Arrays of cases differ in length: {', '.join(map(str, sizes))}. Give one length."
        ) from None
    if len(shape) > 1:
        raise InputError(f"Cases have {len(shape)} axes. Give plain numbers or one row of cases.")
    return shape


def _airs(states, pressure):
    """Return the air of each place; places in the same state share one."""
    made, found = {}, []
    for state in states:
        temperature, humidity = state.temperature, state.relative_humidity
        key = (
            (temperature, humidity) if np.ndim(temperature) == np.ndim(humidity) == 0 else id(state)
        )
        if key not in made:
            made[key] = Air(
                moist_air_density(temperature, pressure, humidity), air_viscosity(temperature)
            )
        found.append(made[key])
    return found


def network_parts(network, outdoors):
    """Return the arrays of a network in a given weather.

    Parameters
    ----------
    network : Network
        The house.
    outdoors : Outdoors
        The weather; its entries may be arrays of cases.

    Returns
    -------
    Parts
        Ready to be balanced.

    Raises
    ------
    InputError
        If arrays of cases differ in length, or a temperature is out of range.
    """
    places = {zone.name: index for index, zone in enumerate(network.zones)}
    places[OUTSIDE] = len(places)
    states = [*network.zones, outdoors]
    airs = _airs(states, outdoors.pressure)
    densities = [air.density for air in airs]
    gust = wind_pressure(outdoors.wind_speed, 1.0, densities[-1])

    sorted_parts = ([], [], [])
    coefficients = {}
    for owner, path in enumerate(network.paths):
        first, second = places[path.zone], places[path.to]
        wind = 0.0
        if path.to == OUTSIDE:
            coefficient = path.pressure_coefficient
            if path.face is not None:
                if path.face not in coefficients:
                    coefficients[path.face] = path.face.pressure_coefficient(
                        outdoors.wind_direction
                    )
                coefficient = coefficients[path.face]
            wind = gust * coefficient
        ahead = _simple_laws(path.opening.law(airs[first]))
        same = airs[first] is airs[second]
        behind = ahead if same else _simple_laws(path.opening.law(airs[second]))
        if not ahead:
            raise InputError(f"Path {path.name!r} passes nothing at all. Leave it out.")
        for out, back in zip(ahead, behind):
            sorted_parts[_kind(out)].append((owner, first, second, path.height, wind, out, back))
    curves = [
        (len(network.paths) + number, places[fan.source], places[fan.target], fan.height, 0.0, fan)
        for number, fan in enumerate(network.fans)
        if hasattr(fan.flow, "flow")
    ]
    rows = [part for kind in sorted_parts for part in kind]
    power, two, rest = sorted_parts
    power_columns = (
        [densities[p[1]] * p[5].coefficient for p in power],
        [densities[p[2]] * p[6].coefficient for p in power],
    )
    two_columns = (
        [p[5].creeping for p in two],
        [p[6].creeping for p in two],
        [p[5].inertia for p in two],
        [p[6].inertia for p in two],
        [densities[p[1]] for p in two],
        [densities[p[2]] for p in two],
    )
    fixed = [fan for fan in network.fans if not hasattr(fan.flow, "flow")]
    shape = _shape(
        [
            *densities,
            gust,
            *(p[4] for p in rows),
            *(value for column in (*power_columns, *two_columns) for value in column),
            *(fan.flow for fan in fixed),
            *(hold.pressure_difference for hold in network.holds),
        ]
    )
    cases = shape[0] if shape else 1
    density = np.broadcast_to(np.atleast_2d(_columns(densities, cases)), (cases, len(states)))
    ends = np.array([p[1:3] for p in rows + curves], dtype=int).reshape(-1, 2)
    height = np.array([p[3] for p in rows + curves], dtype=float)
    wind = np.atleast_2d(_columns([p[4] for p in rows + curves], cases))
    lighter = density[:, ends[:, 0]] - density[:, ends[:, 1]]
    supply = np.zeros((cases, len(states)))
    for fan in fixed:
        moved = np.asarray(fan.flow) * np.where(
            np.asarray(fan.flow) >= 0.0,
            density[:, places[fan.source]],
            density[:, places[fan.target]],
        )
        supply[:, places[fan.target]] += moved
        supply[:, places[fan.source]] -= moved
    others = [
        tuple(_mass(law.flow, densities[place]) for law, place in ((p[5], p[1]), (p[6], p[2])))
        for p in rest
    ]
    for _, source, *_, fan in curves:
        others.append((_mass(_assisted(fan.flow), densities[source]),) * 2)
    return Parts(
        shape,
        density,
        -lighter * (GRAVITY * height) - wind,
        ends,
        np.array([p[0] for p in rows + curves], dtype=int),
        (
            _columns(power_columns[0], cases),
            _columns(power_columns[1], cases),
            np.array([p[5].exponent for p in power], dtype=float),
        ),
        tuple(_columns(column, cases) for column in two_columns) if two else (),
        tuple(others),
        supply,
        np.broadcast_to(gust, (cases,)),
    )


def _mass(flow, density):
    return lambda pressure_difference: flow(pressure_difference) * density


def _assisted(curve):
    """Return a fan's flow against the pressure that helps it: the reverse of what it works against."""
    return lambda pressure_difference: curve.flow(-pressure_difference)
