"""What does the air weigh and how does it shear? Density and viscosity from what a site can read."""

from dataclasses import dataclass

import numpy as np

from airlab.words import require_between, require_positive

__all__ = [
    "CLASSROOM_AIR",
    "STANDARD_PRESSURE",
    "Air",
    "AirState",
    "air_viscosity",
    "moist_air_density",
    "saturation_pressure",
]

STANDARD_PRESSURE = 101325.0  # Pa, standard atmosphere, by definition
ZERO_CELSIUS = 273.15  # K, by definition
_DRY_AIR_CONSTANT = 287.055  # J/(kg.K)
_VAPOUR_DEFICIT = 0.37802  # 1 minus the ratio of the molar masses of water and dry air

_HECTO = "If you read 1013 hPa, write to_si(1013, 'hPa')."
_KELVIN = "Temperatures are in °C here; 293 K is 20 °C."


@dataclass(frozen=True, slots=True)
class Air:
    """Air as an opening meets it: density [kg/m3] and viscosity [Pa.s]."""

    density: float
    viscosity: float = 1.81e-5

    def __post_init__(self):
        require_between("density", self.density, 1e-9, 2000.0, "kg/m3")
        require_positive("viscosity", self.viscosity, "Pa.s")


CLASSROOM_AIR = Air(1.2, 1.81e-5)


@dataclass(frozen=True, slots=True)
class AirState:
    """Air by its temperature [C], absolute pressure [Pa] and relative humidity [-].

    Examples
    --------
    >>> round(AirState(20.0).density, 4)
    1.2041
    >>> AirState.classroom().density
    1.2
    """

    temperature: float = 20.0
    pressure: float = STANDARD_PRESSURE
    relative_humidity: float = 0.0

    def __post_init__(self):
        moist_air_density(self.temperature, self.pressure, self.relative_humidity)

    @property
    def density(self):
        """Density of this air. [kg/m3]."""
        return moist_air_density(self.temperature, self.pressure, self.relative_humidity)

    @property
    def viscosity(self):
        """Viscosity of this air. [Pa.s]."""
        return air_viscosity(self.temperature)

    @staticmethod
    def classroom():
        """Return the air of round sums: density exactly 1.2 kg/m3."""
        return CLASSROOM_AIR


def saturation_pressure(temperature):
    """Return the vapour pressure of saturated air.

    ``p = exp(59.484085 - 6790.4985 / T - 5.02802 ln T)``, T in kelvin.

    Parameters
    ----------
    temperature : float or array
        Air temperature. [C]

    Returns
    -------
    float or array
        Vapour pressure over water. [Pa]

    Raises
    ------
    InputError
        Outside -60 to 100 °C.

    Notes
    -----
    Below 0 °C it is the value over supercooled water; the effect on density is under 1e-4.

    References
    ----------
    [ISO9972] annex on air density, form from memory

    Examples
    --------
    >>> round(saturation_pressure(20.0), 1)
    2339.3
    """
    theta = require_between("temperature", temperature, -60.0, 100.0, "C", _KELVIN)
    kelvin = theta + ZERO_CELSIUS
    pressure = np.exp(59.484085 - 6790.4985 / kelvin - 5.02802 * np.log(kelvin))
    return pressure if np.ndim(pressure) else float(pressure)


def moist_air_density(temperature, pressure=STANDARD_PRESSURE, relative_humidity=0.0):
    """Return the density of moist air.

    ``rho = (p - 0.37802 p_v) / (287.055 T)`` with ``p_v = relative_humidity * p_saturated``.

    Parameters
    ----------
    temperature : float or array
        Air temperature. [C]
    pressure : float or array
        Absolute pressure. [Pa]
    relative_humidity : float or array
        Between 0 and 1. [-]

    Returns
    -------
    float or array
        Density. [kg/m3]

    Raises
    ------
    InputError
        If a value is outside -60 to 100 °C, 30 to 200 kPa, or 0 to 1.

    Notes
    -----
    Ideal gas; real air near 20 °C is 0.04 % denser.

    References
    ----------
    [ISO9972] annex on air density, form from memory

    Examples
    --------
    >>> round(moist_air_density(20.0, 101325.0, 0.5), 4)
    1.1988
    """
    theta = require_between("temperature", temperature, -60.0, 100.0, "C", _KELVIN)
    total = require_between("pressure", pressure, 3e4, 2e5, "Pa", _HECTO)
    humidity = require_between(
        "relative_humidity", relative_humidity, 0.0, 1.0, "-", "If you meant 50 %, write 0.5."
    )
    vapour = humidity * saturation_pressure(theta)
    return (total - _VAPOUR_DEFICIT * vapour) / (_DRY_AIR_CONSTANT * (theta + ZERO_CELSIUS))


def air_viscosity(temperature):
    """Return the dynamic viscosity of air.

    ``mu = 1.458e-6 sqrt(T) / (1 + 110.4 / T)``, T in kelvin.

    Parameters
    ----------
    temperature : float or array
        Air temperature. [C]

    Returns
    -------
    float or array
        Dynamic viscosity. [Pa.s]

    Raises
    ------
    InputError
        Outside -60 to 100 °C.

    References
    ----------
    [E779] density and viscosity formulas

    Examples
    --------
    >>> round(air_viscosity(20.0) * 1e5, 4)
    1.8134
    """
    kelvin = require_between("temperature", temperature, -60.0, 100.0, "C", _KELVIN) + ZERO_CELSIUS
    viscosity = 1.458e-6 * np.sqrt(kelvin) / (1.0 + 110.4 / kelvin)
    return viscosity if np.ndim(viscosity) else float(viscosity)
