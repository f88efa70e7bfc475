"""How much air passes at a pressure difference? The flow laws every opening comes down to.

A law is an opening in a given air: it turns pressure difference into flow and back. All laws are
odd (pressure reversed, flow reversed), rise without end, and have a finite slope at zero.
"""

from dataclasses import dataclass, replace

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
    "smooth_law",
]

# Pa. Below it a power law is continued as a straight line to zero: no geometry is known there,
# and a power below one would have an endless slope at zero.
LOWEST_PRESSURE = 0.1


@dataclass(frozen=True, slots=True)
class PowerLaw:
    """``Q = C p**n``, straight below 0.1 Pa."""

    coefficient: float
    exponent: float
    straight_below: float = LOWEST_PRESSURE

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        known = _single(self.exponent)
        if known and self.exponent == 1.0:
            return self.coefficient * p
        size = np.abs(p)
        shelf = np.maximum(size, self.straight_below)
        power = np.sqrt(shelf) if known and self.exponent == 0.5 else shelf**self.exponent
        return self.coefficient * power * _straight(p, size, self.straight_below)

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        q = np.asarray(flow, dtype=float) / self.coefficient
        size, low = np.abs(q), self.straight_below**self.exponent
        return np.maximum(size, low) ** (1.0 / self.exponent) * _straight(q, size, low)


def _single(value):
    """Return whether a value is one number, not an array of cases."""
    return isinstance(value, float) or np.ndim(value) == 0


def _straight(value, size, low):
    """Return the sign of a value, shrunk in proportion where its size is below `low`."""
    if _single(low) and low == 0.0:
        return np.sign(value)
    return np.minimum(size, low) / low * np.sign(value)


@dataclass(frozen=True, slots=True)
class TwoTermLaw:
    """``p = a Q + b Q**2``: creeping part and inertia part.

    `walls` is the share of the creeping part that comes from the walls of a deep opening: as the
    area grows, that share goes with 1/area**2 and the rest with 1/area**1.5.
    """

    creeping: float
    inertia: float
    walls: float = 0.0

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

    ``Cd = [(Re/12pi)**-2.6 + (Cd_inf (1 + 0.14/(1 + Re/5200)))**-2.6]**(-1/2.6)`` with
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
        q = np.abs(np.asarray(flow, dtype=float))
        size = np.maximum(q, 1e-30)
        guess = TwoTermLaw(
            6.0 * np.pi * self.viscosity / (self.diameter * self.area),
            self.density / (2.0 * (self.coefficient * self.area) ** 2),
        ).pressure(size)
        return _pressure_of(self.flow, size, guess) * (q / size) * np.sign(flow)


def fitted_discharge_coefficient(reynolds_number, discharge_coefficient):
    """Return the discharge coefficient at an ideal Reynolds number. [-]."""
    re = np.asarray(reynolds_number, dtype=float)
    creeping = re / (12.0 * np.pi)
    turbulent = discharge_coefficient * (1.0 + 0.14 / (1.0 + re / 5200.0))
    return creeping * (1.0 + (creeping / turbulent) ** 2.6) ** (-1.0 / 2.6)


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

    def parts(self):
        """Return the laws one by one."""
        if self._creeping is None:
            return self.laws
        pairs = zip(self._creeping.tolist(), self._inertia.tolist())
        return (*self.laws, *(TwoTermLaw(a, b) for a, b in pairs))

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        parts, q = self.parts(), np.abs(np.asarray(flow, dtype=float))
        size = np.maximum(q, 1e-30)
        guess = np.minimum.reduce([law.pressure(size / len(parts)) for law in parts])
        return _pressure_of(self.flow, size, guess) * (q / size) * np.sign(flow)


@dataclass(frozen=True, slots=True)
class SeriesLaw:
    """Openings one behind another: one flow, pressures add; the whole is straight below 0.1 Pa."""

    laws: tuple
    low_flow: float = 0.0  # flow at 0.1 Pa
    straight_below: float = 0.0

    def flow(self, pressure_difference):
        """Return the flow at a pressure difference, by a bracketed root. [m3/s]."""
        p = np.asarray(pressure_difference, dtype=float)
        size = np.abs(p)
        shelf = np.maximum(size, max(self.straight_below, 1e-100))
        flow = self._between_two(shelf) if len(self.laws) == 2 else self._through_all(shelf)
        return flow * _straight(p, size, self.straight_below)

    def _between_two(self, pressure):
        """Share the pressure so that both layers pass the same: needs no law turned round."""
        first, second = self.laws

        def uneven(y):  # y is the log of the first layer's pressure over the second's
            small = 1.0 / (1.0 + np.exp(np.abs(y)))
            share = np.where(y < 0.0, small, 1.0 - small)
            other = np.where(y < 0.0, 1.0 - small, small)
            return np.log(first.flow(pressure * share) / second.flow(pressure * other))

        y = _root_near(uneven, np.zeros(pressure.shape))
        return second.flow(pressure / (1.0 + np.exp(y)))

    def _through_all(self, pressure):
        """Find the flow whose pressures add up to the whole."""
        guess = np.minimum.reduce([law.flow(pressure / len(self.laws)) for law in self.laws])
        return np.exp(
            _root_near(
                lambda y: np.log(self._whole(np.exp(y)) / pressure), np.log(guess), 0.95, 2.4
            )
        )

    def _whole(self, flow):
        return sum(law.pressure(flow) for law in self.laws)

    def pressure(self, flow):
        """Return the pressure difference that drives a flow. [Pa]."""
        q = np.asarray(flow, dtype=float)
        size = np.abs(q)
        return self._whole(np.maximum(size, self.low_flow)) * _straight(q, size, self.low_flow)


def _pressure_of(rising, flow, guess):
    """Find the pressure at which a flow law reaches a flow, all positive."""
    return np.exp(_root_near(lambda y: np.log(rising(np.exp(y)) / flow), np.log(guess)))


def _root_near(function, guess, least=0.43, most=1.05):
    """Find the zero of a function whose slope lies between two bounds, as exponents do."""
    off = np.asarray(function(guess), dtype=float)
    near, far = guess - off / most, guess - off / least
    low, high = np.minimum(near, far) - 1e-9, np.maximum(near, far) + 1e-9
    return bracketed_root(function, low, high, absolute=1e-15)


def in_parallel(laws):
    """Return one law for openings side by side; equal exponents add exactly."""
    powers, fitted, pairs, rest = {}, {}, [], []
    for law in _flat(laws, ParallelLaw):
        if isinstance(law, PowerLaw) and _single(law.exponent):
            powers[law.exponent] = powers.get(law.exponent, 0.0) + law.coefficient
        elif isinstance(law, TwoTermLaw) and _single(law.creeping) and _single(law.inertia):
            pairs.append(law)
        elif isinstance(law, FittedHoleLaw) and _single(law.diameter):
            kind = (law.diameter, law.coefficient, law.density, law.viscosity)
            alike = fitted.get(kind)
            fitted[kind] = law if alike is None else replace(alike, area=alike.area + law.area)
        else:
            rest.append(law)
    simple = [PowerLaw(coefficient, n) for n, coefficient in powers.items()]
    simple += [*fitted.values(), *rest]
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
            yield from law.parts() if kind is ParallelLaw else law.laws
        else:
            yield law


def smooth_law(law):
    """Return a law without the straight part at low pressure."""
    if isinstance(law, PowerLaw):
        return replace(law, straight_below=0.0)
    if isinstance(law, SeriesLaw):
        return replace(law, low_flow=0.0, straight_below=0.0)
    if isinstance(law, ParallelLaw):
        return replace(law, laws=tuple(smooth_law(one) for one in law.laws))
    return law


def in_series(laws):
    """Return one law for openings one behind another: closed form wherever there is one.

    Equal exponents: ``C = (sum C_i**(-1/n))**-n``. Two-term laws, square-root laws and
    straight laws: the parts a and b add. Anything else: a root in Q.
    """
    powers, rest = {}, []
    for law in _flat(laws, SeriesLaw):
        if isinstance(law, PowerLaw) and _single(law.exponent):
            powers.setdefault(law.exponent, []).append(law.coefficient)
        else:
            rest.append(law)
    laws = rest + [
        PowerLaw(sum(c ** (-1.0 / n) for c in group) ** -n, n) for n, group in powers.items()
    ]
    pairs = [pair for pair in map(_as_two_term, laws) if pair is not None]
    if len(pairs) > 1:
        laws = [law for law in laws if _as_two_term(law) is None]
        laws += [
            TwoTermLaw(sum(pair.creeping for pair in pairs), sum(pair.inertia for pair in pairs))
        ]
    if len(laws) == 1:
        return laws[0]
    whole = SeriesLaw(tuple(smooth_law(law) for law in laws))
    return replace(whole, low_flow=whole.flow(LOWEST_PRESSURE), straight_below=LOWEST_PRESSURE)


def _as_two_term(law):
    if isinstance(law, TwoTermLaw):
        return law
    if isinstance(law, PowerLaw) and _single(law.exponent):
        if law.exponent == 0.5:
            return TwoTermLaw(0.0, law.coefficient**-2.0)
        if law.exponent == 1.0:
            return TwoTermLaw(1.0 / law.coefficient, 0.0)
    return None
