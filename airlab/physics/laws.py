"""How much air passes at a pressure difference? The flow laws every opening comes down to.

A law is an opening in a given air: it turns pressure difference into flow and back. All laws are
odd (pressure reversed, flow reversed), rise without end, and have a finite slope at zero.
"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.roots import bracketed_root

__all__ = [
    "LOWEST_PRESSURE",
    "FittedHoleLaw",
    "ParallelLaw",
    "PowerLaw",
    "SeriesLaw",
    "TwoTermLaw",
    "in_parallel",
    "in_series",
]

# Pa. Below it a power law is continued as a straight line to zero: no geometry is known there,
# and a power below one would have an endless slope at zero.
LOWEST_PRESSURE = 0.1


@dataclass(frozen=True, slots=True)
class PowerLaw:
    """``Q = C p**n``, straight below 0.1 Pa."""

    coefficient: float
    exponent: float

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        if np.isscalar(self.exponent) and self.exponent == 1.0:
            return self.coefficient * p
        size = np.abs(p)
        shelf = np.maximum(size, LOWEST_PRESSURE)
        if np.isscalar(self.exponent) and self.exponent == 0.5:
            power = np.sqrt(shelf)
        else:
            power = shelf**self.exponent
        return (
            self.coefficient
            * power
            * (np.minimum(size, LOWEST_PRESSURE) / LOWEST_PRESSURE)
            * (np.sign(p))
        )

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        q = np.asarray(flow, dtype=float) / self.coefficient
        size, shelf = np.abs(q), LOWEST_PRESSURE**self.exponent
        straight = np.minimum(size, shelf) / shelf
        return np.maximum(size, shelf) ** (1.0 / self.exponent) * straight * np.sign(q)


@dataclass(frozen=True, slots=True)
class TwoTermLaw:
    """``p = a Q + b Q**2``: creeping part and inertia part."""

    creeping: float
    inertia: float

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference, in the form that never subtracts. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        root = np.sqrt(self.creeping**2 + 4.0 * self.inertia * np.abs(p))
        return 2.0 * p / np.maximum(self.creeping + root, 1e-300)

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        q = np.asarray(flow, dtype=float)
        return q * (self.creeping + self.inertia * np.abs(q))


@dataclass(frozen=True, slots=True)
class FittedHoleLaw:
    """Sharp round hole with a discharge coefficient that follows the Reynolds number.

    ``Cd = [(Re/12pi)**-1.3 + (Cd_inf (1 + 0.14/(1 + Re/5200)))**-2.6]**(-1/2.6)`` with
    ``Re = density * diameter * speed / viscosity`` and the ideal speed ``sqrt(2 p / density)``.
    """

    diameter: float
    area: float
    coefficient: float
    density: float
    viscosity: float

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        speed = np.sqrt(2.0 * np.abs(p) / self.density)
        return fitted_discharge_coefficient(
            self.density * self.diameter * speed / self.viscosity, self.coefficient
        ) * (self.area * speed * np.sign(p))

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        return _inverse(self, flow)


def fitted_discharge_coefficient(reynolds_number, discharge_coefficient):
    """Return the discharge coefficient at an ideal Reynolds number. [-]."""
    re = np.maximum(np.asarray(reynolds_number, dtype=float), 1e-12)
    creeping = (re / (12.0 * np.pi)) ** -2.6
    turbulent = (discharge_coefficient * (1.0 + 0.14 / (1.0 + re / 5200.0))) ** -2.6
    return (creeping + turbulent) ** (-1.0 / 2.6)


@dataclass(frozen=True, slots=True)
class ParallelLaw:
    """Openings side by side: one pressure difference, flows add."""

    laws: tuple
    _creeping: object = None  # two-term laws stacked, for speed
    _inertia: object = None

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        total = 0.0 * p
        for law in self.laws:
            total = total + law.flow(p)
        if self._creeping is not None:
            shape = (-1,) + (1,) * p.ndim
            stacked = TwoTermLaw(self._creeping.reshape(shape), self._inertia.reshape(shape))
            total = total + stacked.flow(p[None]).sum(axis=0)
        return total

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        return _inverse(self, flow)


@dataclass(frozen=True, slots=True)
class SeriesLaw:
    """Openings one behind another: one flow, pressure differences add."""

    laws: tuple

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference, by a bracketed root. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        size = np.maximum(np.abs(p), 1e-12)
        share = size / len(self.laws)
        high = np.minimum.reduce([np.asarray(law.flow(size)) for law in self.laws])
        low = np.minimum.reduce([np.asarray(law.flow(share)) for law in self.laws])
        root = bracketed_root(
            lambda y: np.log(self.pressure(np.exp(y)) / size),
            np.log(low) - 1e-9,
            np.log(high) + 1e-9,
            tolerance=1e-15,
        )
        return np.exp(root) * (np.abs(p) / size) * np.sign(p)

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        return sum(law.pressure(flow) for law in self.laws)


def _inverse(law, flow):
    """Find the pressure difference of any rising law from its flow."""
    q = np.asarray(flow, dtype=float)
    size = np.maximum(np.abs(q), 1e-30)
    low, high = np.full(q.shape, -30.0), np.full(q.shape, 30.0)
    root = bracketed_root(lambda y: np.log(law.flow(np.exp(y)) / size), low, high, 1e-15)
    return np.where(q == 0.0, 0.0, np.exp(root) * np.sign(q))[()]


def in_parallel(laws):
    """Return one law for openings side by side; equal exponents add exactly."""
    powers, pairs, rest = {}, [], []
    for law in _flat(laws, ParallelLaw):
        if isinstance(law, PowerLaw) and np.isscalar(law.exponent):
            powers[law.exponent] = powers.get(law.exponent, 0.0) + law.coefficient
        elif isinstance(law, TwoTermLaw) and np.isscalar(law.creeping) and np.isscalar(law.inertia):
            pairs.append(law)
        else:
            rest.append(law)
    simple = [PowerLaw(coefficient, n) for n, coefficient in powers.items()] + rest
    if len(pairs) == 1 or not pairs:
        simple += pairs
        return simple[0] if len(simple) == 1 else ParallelLaw(tuple(simple))
    return ParallelLaw(
        tuple(simple),
        np.array([law.creeping for law in pairs]),
        np.array([law.inertia for law in pairs]),
    )


def _flat(laws, kind):
    for law in laws:
        if isinstance(law, kind):
            yield from law.laws
            if kind is ParallelLaw and law._creeping is not None:
                yield from map(TwoTermLaw, law._creeping.tolist(), law._inertia.tolist())
        else:
            yield law


def in_series(laws):
    """Return one law for openings one behind another: closed form wherever there is one.

    Equal exponents: ``C = (sum C_i**(-1/n))**-n``. Two-term laws, square-root laws and
    straight laws: the parts a and b add. Anything else: a root in Q.
    """
    laws = tuple(_flat(laws, SeriesLaw))
    if len(laws) == 1:
        return laws[0]
    if all(isinstance(law, PowerLaw) and np.isscalar(law.exponent) for law in laws):
        n = laws[0].exponent
        if all(law.exponent == n for law in laws):
            return PowerLaw(sum(law.coefficient ** (-1.0 / n) for law in laws) ** -n, n)
    pairs = [_as_two_term(law) for law in laws]
    if all(pair is not None for pair in pairs):
        return TwoTermLaw(sum(pair.creeping for pair in pairs), sum(pair.inertia for pair in pairs))
    return SeriesLaw(laws)


def _as_two_term(law):
    if isinstance(law, TwoTermLaw):
        return law
    if isinstance(law, PowerLaw) and np.isscalar(law.exponent):
        if law.exponent == 0.5:
            return TwoTermLaw(0.0, law.coefficient**-2.0)
        if law.exponent == 1.0:
            return TwoTermLaw(1.0 / law.coefficient, 0.0)
    return None
