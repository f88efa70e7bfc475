"""What was read on the day? One test: its series of points, zero-flow pressures and conditions.

People type sizes or signed values. Inside, a pressure difference is inside minus outside: below
zero when depressurising. Zero-flow pressures always keep their sign.
"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import STANDARD_PRESSURE, moist_air_density
from airlab.words import (
    InputError,
    from_si,
    require_between,
    require_choice,
    require_finite,
    require_positive,
    show,
)

__all__ = ["DIRECTIONS", "FLOW_BASES", "Conditions", "FanTest", "Series", "pressure_at_altitude"]

DIRECTIONS = ("depressurise", "pressurise")
FLOW_BASES = ("reading", "through the fan", "through the envelope")
_MOST_PRESSURE = 500.0  # Pa
_ASSUMED_TEMPERATURE, _ASSUMED_HUMIDITY = 20.0, 0.5


def pressure_at_altitude(altitude):
    """Return the air pressure of the standard atmosphere: ``101325 (1 - 2.25577e-5 z)**5.25588``.

    Parameters
    ----------
    altitude : float or array
        Height above sea level. [m]

    Returns
    -------
    float or array
        Absolute pressure. [Pa]

    Raises
    ------
    InputError
        Outside -500 to 6000 m.

    Examples
    --------
    >>> round(pressure_at_altitude(500.0))
    95461
    """
    z = require_between("altitude", altitude, -500.0, 6000.0, "m")
    return STANDARD_PRESSURE * (1.0 - 2.25577e-5 * z) ** 5.25588


@dataclass(frozen=True, slots=True)
class Conditions:
    """What the air was like, and what the fan's flow reading stands for.

    What was not read stays None: it is then assumed, and the result says so.
    """

    inside_temperature: float | None = None
    outside_temperature: float | None = None
    pressure: float | None = None
    altitude: float | None = None
    inside_humidity: float | None = None
    outside_humidity: float | None = None
    flow_basis: str = "reading"
    calibration_density: float = 1.2
    wind_speed: float | None = None  # near the ground [m/s]
    station_wind_speed: float | None = None  # at a weather station [m/s]
    beaufort: int | None = None
    building_height: float | None = None
    flow_accuracy: float | None = None  # of the flow meter, share of the reading
    pressure_accuracy: float | None = None  # of the gauge [Pa]
    temperature_accuracy: float | None = None  # of the thermometer [K]

    def __post_init__(self):
        require_choice("flow_basis", self.flow_basis, FLOW_BASES)
        require_between("calibration_density", self.calibration_density, 0.5, 2.0, "kg/m3")
        for name, low, high, unit, slip in (
            ("inside_temperature", -30.0, 60.0, "C", "Type °C."),
            ("outside_temperature", -50.0, 60.0, "C", "Type °C."),
            ("pressure", 5e4, 1.1e5, "Pa", "If you read 1013 hPa, type 101300 Pa."),
            ("altitude", -500.0, 6000.0, "m", ""),
            ("inside_humidity", 0.0, 1.0, "-", "If you meant 50 %, type 0.5."),
            ("outside_humidity", 0.0, 1.0, "-", "If you meant 50 %, type 0.5."),
            ("wind_speed", 0.0, 60.0, "m/s", ""),
            ("station_wind_speed", 0.0, 60.0, "m/s", ""),
            ("beaufort", 0, 12, "-", ""),
            ("building_height", 1.0, 200.0, "m", ""),
            ("flow_accuracy", 0.0, 1.0, "-", "If you meant 5 %, type 0.05."),
            ("pressure_accuracy", 0.0, 50.0, "Pa", ""),
            ("temperature_accuracy", 0.0, 20.0, "K", ""),
        ):
            if getattr(self, name) is not None:
                require_between(name, getattr(self, name), low, high, unit, slip)

    @property
    def barometer(self):
        """Absolute pressure: as read, else from the altitude, else standard. [Pa]."""
        if self.pressure is not None:
            return self.pressure
        return STANDARD_PRESSURE if self.altitude is None else pressure_at_altitude(self.altitude)

    def density(self, where):
        """Return the density of the air 'inside' or 'outside'. [kg/m3]."""
        temperature = getattr(self, f"{where}_temperature")
        humidity = getattr(self, f"{where}_humidity")
        return moist_air_density(
            _ASSUMED_TEMPERATURE if temperature is None else temperature,
            self.barometer,
            _ASSUMED_HUMIDITY if humidity is None else humidity,
        )

    @property
    def assumed(self):
        """What was not read, in words."""
        said = []
        for where in ("inside", "outside"):
            if getattr(self, f"{where}_temperature") is None:
                said.append(f"Temperature {where} was not read: {show(_ASSUMED_TEMPERATURE, 'C')} is taken.")  # fmt: skip
        if self.inside_humidity is None or self.outside_humidity is None:
            said.append("Humidity was not read: 50 % is taken; it matters little.")
        if self.pressure is None:
            said.append(
                "Air pressure was not read: that of the standard atmosphere is taken."
                if self.altitude is None
                else f"Air pressure is reckoned from {show(self.altitude, 'm')} above the sea."
            )
        return tuple(said)


@dataclass(frozen=True, slots=True)
class Series:
    """Points of one direction: pressure differences [Pa] and flows [m3/s] as read, zero-flow samples [Pa].

    Examples
    --------
    >>> Series("depressurise", (20, 35, 50), (0.1, 0.14, 0.18), (-1.0,), (-0.8,)).signed_pressure[0]
    np.float64(-20.0)
    """

    direction: str
    pressure: tuple[float, ...]
    flow: tuple[float, ...]
    zero_before: tuple[float, ...] = ()
    zero_after: tuple[float, ...] = ()

    def __post_init__(self):
        require_choice("direction", self.direction, DIRECTIONS)
        for name, unit in (("pressure", "Pa"), ("flow", "m3/s"), ("zero_before", "Pa"),
                           ("zero_after", "Pa")):  # fmt: skip
            given = np.atleast_1d(require_finite(name, getattr(self, name), unit,
                                                 "Numbers take a decimal point: 12.5."))  # fmt: skip
            object.__setattr__(self, name, tuple(given.tolist()))
        self._check()

    def _check(self):
        what = f"Series {self.direction}"
        pressure, flow = np.array(self.pressure), np.array(self.flow)
        if pressure.size != flow.size:
            raise InputError(f"{what}: {pressure.size} pressures and {flow.size} flows. Each pressure needs its flow.")  # fmt: skip
        if pressure.size < 3:
            raise InputError(
                f"{what}: there are {pressure.size} points. A line with an interval needs three at "
                "least, the standards ask for five. Use a one-point or two-point test instead."
            )
        if np.any(pressure > 0.0) and np.any(pressure < 0.0):
            odd = np.flatnonzero(np.sign(pressure) != np.sign(np.median(pressure)))[0]
            raise InputError(
                f"{what}: pressures have both signs. Look at point {odd + 1}, "
                f"{show(pressure[odd], 'Pa')}. One series is one direction."
            )
        if np.any(pressure == 0.0):
            raise InputError(f"{what}: point {np.flatnonzero(pressure == 0)[0] + 1} is 0 Pa. Zero-flow readings go under zero before or zero after.")  # fmt: skip
        if np.all(pressure == pressure[0]):
            raise InputError(f"{what}: all pressures are {show(pressure[0], 'Pa')}. A line needs points at several pressures.")  # fmt: skip
        if self.direction == "pressurise" and pressure[0] < 0.0:
            raise InputError(
                f"{what}: pressures are below zero. Inside minus outside is above zero when "
                "pressurising. Either the direction or the hoses are the wrong way round."
            )
        require_positive(f"{self.direction} flow", flow, "m3/s", "Each point needs a flow.")
        if np.abs(pressure).max() > _MOST_PRESSURE:
            swapped = from_si(flow, "m3/h").max() < 200.0
            slip = " Pressure and flow look swapped." if swapped else " Type pascals."
            raise InputError(
                f"{what}: the highest pressure is {show(np.abs(pressure).max(), 'Pa')}. This model "
                f"takes up to {show(_MOST_PRESSURE, 'Pa')}.{slip}"
            )
        require_between(f"{self.direction} flow", flow, 0.0, 300.0, "m3/s",
                        "If you have m³/h, write m3_per_h(...).")  # fmt: skip
        for name in ("zero_before", "zero_after"):
            require_between(name, np.array(getattr(self, name) or (0.0,)), -100.0, 100.0, "Pa")

    @property
    def sign(self):
        """-1 when depressurising, +1 when pressurising."""
        return -1.0 if self.direction == "depressurise" else 1.0

    @property
    def signed_pressure(self):
        """Pressure differences as read, inside minus outside. [Pa]."""
        return self.sign * np.abs(np.array(self.pressure))


@dataclass(frozen=True, slots=True)
class FanTest:
    """A fan test: one or two series, the conditions, and the sizes of the house."""

    series: tuple[Series, ...]
    conditions: Conditions = Conditions()
    name: str = "fan test"
    geometry: object = None  # anything with internal_volume, envelope_area and floor_area

    def __post_init__(self):
        series = (self.series,) if isinstance(self.series, Series) else tuple(self.series)
        object.__setattr__(self, "series", series)
        if not series:
            raise InputError("The test has no series of points.")
        directions = [one.direction for one in series]
        if len(set(directions)) < len(directions):
            raise InputError(
                f"The test has two series to {directions[0]}. Keep repeats as tests of their own: "
                "their zero-flow pressures differ, so the points must not be pooled."
            )

    def of(self, direction):
        """Return the series of that direction, or None."""
        return next((one for one in self.series if one.direction == direction), None)
