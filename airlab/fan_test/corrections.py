"""From readings to the leakage at standard state: zero-flow pressure, densities, coefficient.

Fan off, the pressure difference that remains is taken from every point. The fan's flow is brought
to the air in the fan, then by mass to the air in the leaks, and the fitted coefficient to dry air
at 20 °C. Each step is a function of its own, so that a test can be followed digit by digit.
"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import air_viscosity, moist_air_density
from airlab.words import InputError, require_finite, require_positive, show

__all__ = [
    "REFERENCE_DENSITY",
    "ZeroFlow",
    "envelope_flow",
    "fan_flow",
    "induced_pressure",
    "standard_state_factor",
    "zero_flow",
]

REFERENCE_DENSITY = float(moist_air_density(20.0))  # dry air at 20 °C and 101 325 Pa
_REFERENCE_TEMPERATURE = 20.0


@dataclass(frozen=True, slots=True)
class ZeroFlow:
    """Zero-flow pressure of a series: means before and after, and those of either sign. [Pa]."""

    before: float | None
    after: float | None
    parts: tuple[tuple[str, float], ...]  # (when, mean) of positive and of negative samples
    samples: int
    spread: float  # of the mean that is subtracted, as far as the samples show it

    @property
    def mean(self):
        """What is subtracted: mean of before and after; nothing if neither was read. [Pa]."""
        known = [value for value in (self.before, self.after) if value is not None]
        return sum(known) / len(known) if known else 0.0

    @property
    def worst(self):
        """Largest size of the means of positive and of negative samples; None if not read. [Pa]."""
        return max((abs(value) for _, value in self.parts), default=None)

    @property
    def drift(self):
        """After minus before; None unless both were read. [Pa]."""
        known = self.before is not None and self.after is not None
        return self.after - self.before if known else None


def zero_flow(before=(), after=()):
    """Return the zero-flow pressure from samples, or means, read before and after a series.

    Parameters
    ----------
    before, after : sequence of float
        Readings with the fan sealed, with their sign; one number is a mean. [Pa]

    Returns
    -------
    ZeroFlow
        Mean, means of either sign, and a spread: half the range over root three for two
        means, the pooled scatter over root k for k samples, whichever is larger.

    Notes
    -----
    The error of this pressure is common to all points: it does not average out, and it bends
    the line.

    References
    ----------
    [ISO9972] 5.3, from memory; [DERIVED] spread

    Examples
    --------
    >>> zero = zero_flow((-1.1,), (-0.7,))
    >>> round(zero.mean, 3), round(zero.drift, 3), round(zero.spread, 3)
    (-0.9, 0.4, 0.115)
    """
    sets = {}
    for name, given in (("before", before), ("after", after)):
        sets[name] = np.atleast_1d(require_finite(f"zero_{name}", given, "Pa")) if len(given) else np.array([])  # fmt: skip
    parts = []
    for name, samples in sets.items():
        for chosen in (samples[samples > 0.0], samples[samples < 0.0]):
            if chosen.size:
                parts.append((name, float(chosen.mean())))
        if samples.size and not samples.any():
            parts.append((name, 0.0))
    means = [float(samples.mean()) if samples.size else None for samples in sets.values()]
    known = [mean for mean in means if mean is not None]
    spread = (max(known) - min(known)) / np.sqrt(12.0) if len(known) == 2 else 0.0
    freedom = sum(max(samples.size - 1, 0) for samples in sets.values())
    if freedom:
        scatter = sum(float(((s - s.mean()) ** 2).sum()) for s in sets.values() if s.size)
        count = sum(samples.size for samples in sets.values())
        spread = max(spread, np.sqrt(scatter / freedom / count))
    return ZeroFlow(*means, tuple(parts), sum(s.size for s in sets.values()), float(spread))


def induced_pressure(series, zero):
    """Return the pressure differences made by the fan: ``Δp = Δp_m - (Δp_01 + Δp_02) / 2``.

    Parameters
    ----------
    series : Series
        Points as read.
    zero : float
        Mean zero-flow pressure. [Pa]

    Returns
    -------
    array
        Signed, inside minus outside. [Pa]

    Raises
    ------
    InputError
        If the fan makes no pressure of its own at some point.

    References
    ----------
    [ISO9972] 6, from memory

    Examples
    --------
    >>> from airlab.fan_test.readings import Series
    >>> induced_pressure(Series("depressurise", (61.4, 40, 15.2), (0.3, 0.2, 0.1)), -0.9).tolist()
    [-60.5, -39.1, -14.299999999999999]
    """
    induced = series.signed_pressure - zero
    lost = np.flatnonzero(induced * series.sign <= 0.0)
    if lost.size:
        raise InputError(
            f"Series {series.direction}: at point {lost[0] + 1} the zero-flow pressure, "
            f"{show(zero, 'Pa')}, is as large as the reading, "
            f"{show(series.signed_pressure[lost[0]], 'Pa')}. Check its sign: inside minus outside."
        )
    return induced


def fan_flow(flow, density_in_fan, calibration_density=1.2):
    """Return the flow through the fan from its reading: ``q_m = q_r sqrt(rho_cal / rho_m)``.

    Parameters
    ----------
    flow : float or array
        Reading of a meter that follows the root of the pressure. [m3/s]
    density_in_fan : float
        Inside air when the fan blows out, outside air when it blows in. [kg/m3]
    calibration_density : float
        Density the meter is calibrated for. [kg/m3]

    Returns
    -------
    float or array
        Volume flow at the density in the fan. [m3/s]

    References
    ----------
    [ATTMA2010] eq. 4; the root follows from Bernoulli

    Examples
    --------
    >>> round(float(fan_flow(1.0, 1.181703)), 5)
    1.00771
    """
    return np.asarray(flow) * np.sqrt(
        require_positive("calibration_density", calibration_density, "kg/m3")
        / require_positive("density_in_fan", density_in_fan, "kg/m3")
    )


def envelope_flow(flow, direction, inside_density, outside_density):
    """Return the flow through the leaks from that through the fan: mass in equals mass out.

    Depressurising ``q rho_i / rho_e``, pressurising ``q rho_e / rho_i``.

    Parameters
    ----------
    flow : float or array
        Flow through the fan. [m3/s]
    direction : str
        Depressurise or pressurise.
    inside_density, outside_density : float
        Air densities. [kg/m3]

    Returns
    -------
    float or array
        Volume flow at the density in the leaks. [m3/s]

    References
    ----------
    [ATTMA2010] eq. 5 and 6

    Examples
    --------
    >>> round(envelope_flow(1.0, "depressurise", 1.2, 1.25), 3)
    0.96
    """
    ratio = inside_density / outside_density
    return flow * (ratio if direction == "depressurise" else 1.0 / ratio)


def standard_state_factor(flow_exponent, density, temperature=None):
    """Return what brings the coefficient to standard state: ``(rho / rho_0)**(1 - n)``.

    With a temperature also ``(mu / mu_0)**(2 n - 1)``, as one standard asks.

    Parameters
    ----------
    flow_exponent : float or array
        Exponent of the fit. [-]
    density : float
        Of the air in the leaks: outside air when depressurising. [kg/m3]
    temperature : float, optional
        Of the air in the leaks, for the viscosity. [C]

    Returns
    -------
    float or array
        Coefficient at standard state over coefficient as fitted. [-]

    References
    ----------
    [ISO9972] 6, from memory; [ROULET2008] eq. 4.15, with viscosity

    Examples
    --------
    >>> round(float(standard_state_factor(0.65, 1.341)), 4)
    1.0384
    """
    factor = (density / REFERENCE_DENSITY) ** (1.0 - flow_exponent)
    if temperature is None:
        return factor
    viscosity = air_viscosity(temperature) / air_viscosity(_REFERENCE_TEMPERATURE)
    return factor * viscosity ** (2.0 * flow_exponent - 1.0)
