"""What does the wind press on each face of a house? Speed with height, pressure coefficients.

Coefficients here are averages over a whole face of a simple box. Corners, eaves, neighbours and
trees change them; that is why a calm day is asked for. All tables are from memory.
"""

from dataclasses import dataclass

import numpy as np

from airlab.words import (
    InputError,
    require_between,
    require_choice,
    require_finite,
    require_positive,
)

__all__ = [
    "SHIELDINGS",
    "SURFACES",
    "TERRAINS",
    "Face",
    "averaged_pressure_coefficient",
    "wall_pressure_coefficient",
    "wind_pressure",
    "wind_speed_at",
]

# Terrain: speed factor and exponent of  U = factor (height / 10 m)^exponent U_met.
TERRAINS = {
    "open sea": (1.30, 0.10),
    "open land": (1.00, 0.15),
    "scattered": (0.85, 0.20),
    "suburb": (0.67, 0.25),
    "city": (0.47, 0.35),
}
SHIELDINGS = ("exposed", "half height", "full height")  # of the obstructions around the house
_STRAIGHT_ON = 0.6  # coefficient with the wind straight on
_ANGLES = (0.0, 45.0, 90.0, 135.0, 180.0)
_AVERAGED = {
    ("wall", "exposed"): (0.70, 0.35, -0.50, -0.40, -0.20),
    ("wall", "half height"): (0.40, 0.10, -0.30, -0.35, -0.20),
    ("wall", "full height"): (0.20, 0.05, -0.25, -0.30, -0.25),
    ("flat roof", "exposed"): (-0.60, -0.60, -0.60, -0.60, -0.60),
    ("flat roof", "half height"): (-0.60, -0.50, -0.40, -0.50, -0.60),
    ("flat roof", "full height"): (-0.50, -0.50, -0.40, -0.50, -0.50),
    ("pitched roof", "exposed"): (-0.40, -0.50, -0.60, -0.50, -0.40),
    ("pitched roof", "half height"): (-0.35, -0.45, -0.55, -0.45, -0.35),
    ("pitched roof", "full height"): (-0.30, -0.40, -0.50, -0.40, -0.30),
}
SURFACES = ("wall", "flat roof", "pitched roof")


def _from_normal(angle):
    """Return the angle to the wind folded into 0 to 180."""
    turned = np.mod(np.asarray(angle, dtype=float), 360.0)
    return np.minimum(turned, 360.0 - turned)


def wind_pressure(wind_speed, pressure_coefficient, density=1.2):
    """Return the pressure of the wind on a face: ``p = Cp rho U**2 / 2``.

    Parameters
    ----------
    wind_speed : float or array
        Undisturbed speed at the height of the eaves. [m/s]
    pressure_coefficient : float or array
        Share of the speed's pressure that the face feels. [-]
    density : float or array
        Density of the outside air. [kg/m3]

    Returns
    -------
    float or array
        Pressure over that of still air outside at the same height. [Pa]

    Raises
    ------
    InputError
        If the speed is negative or above 60 m/s.

    Examples
    --------
    >>> wind_pressure(4.0, 0.7)
    np.float64(6.72)
    """
    slip = "If you have km/h, write to_si(value, 'km/h')."
    speed = require_between("wind_speed", wind_speed, 0.0, 60.0, "m/s", slip)
    coefficient = require_finite("pressure_coefficient", pressure_coefficient)
    return 0.5 * coefficient * require_positive("density", density, "kg/m3") * np.square(speed)


def wind_speed_at(height, wind_speed, terrain="suburb", station_terrain="open land"):
    """Return the wind at a height of the site from the wind at a weather station.

    ``U = U_met a (z/10)**g / a_met``, with a and g by terrain; the station's mast is 10 m high.

    Parameters
    ----------
    height : float or array
        Height above the ground, of the eaves or the ridge. [m]
    wind_speed : float or array
        Speed at the weather station. [m/s]
    terrain, station_terrain : str
        One of `TERRAINS`.

    Returns
    -------
    float or array
        Wind speed. [m/s]

    Raises
    ------
    InputError
        If the height is outside 0.5 to 200 m or the terrain is unknown.

    References
    ----------
    [SHERMAN1980] terrain table

    Examples
    --------
    >>> wind_speed_at(5.0, 4.0, "suburb").round(2)
    np.float64(2.25)
    """
    require_between("height", height, 0.5, 200.0, "m")
    require_positive("wind_speed", wind_speed, "m/s", allow_zero=True)
    factor, exponent = TERRAINS[require_choice("terrain", terrain, TERRAINS)]
    station, _ = TERRAINS[require_choice("station_terrain", station_terrain, TERRAINS)]
    return wind_speed * factor * np.power(np.asarray(height) / 10.0, exponent) / station


def wall_pressure_coefficient(angle, side_ratio=1.0):
    """Return the mean pressure coefficient of an exposed wall of a low house.

    ``Cp = Cp0 ln[1.248 - 0.703 sin(t/2) - 1.175 sin(t)**2 + 0.131 sin(2 t G)**3 +
    0.769 cos(t/2) + 0.07 G**2 sin(t/2)**2 + 0.717 cos(t/2)**2]``, ``G = ln(side_ratio)``.

    Parameters
    ----------
    angle : float or array
        Between the wind and the wall's normal, 0 when it blows straight at the wall. [deg]
    side_ratio : float
        Width of this wall over width of the next. [-]

    Returns
    -------
    float or array
        Pressure coefficient. [-]

    Raises
    ------
    InputError
        If the side ratio is outside 0.25 to 4, the range of the fit.

    Notes
    -----
    Three storeys at most, no obstructions near. The formula is from memory.

    References
    ----------
    [SWAMI1988] low-rise wall correlation

    Examples
    --------
    >>> wall_pressure_coefficient(np.array([0.0, 90.0, 180.0])).round(3)
    array([ 0.603, -0.443, -0.364])
    """
    require_between("side_ratio", side_ratio, 0.25, 4.0)
    theta = np.deg2rad(_from_normal(require_finite("angle", angle, "deg")))
    G, half = np.log(side_ratio), theta / 2.0
    inside = (
        1.248
        - 0.703 * np.sin(half)
        - 1.175 * np.sin(theta) ** 2
        + 0.131 * np.sin(2.0 * theta * G) ** 3
        + 0.769 * np.cos(half)
        + 0.07 * G**2 * np.sin(half) ** 2
        + 0.717 * np.cos(half) ** 2
    )
    return _STRAIGHT_ON * np.log(inside)


def averaged_pressure_coefficient(angle, surface="wall", shielding="exposed"):
    """Return the face-averaged coefficient of a house of up to three storeys, square in plan.

    Straight lines between the table's values at 0, 45, 90, 135 and 180 degrees.

    Parameters
    ----------
    angle : float or array
        Between the wind and the face's normal; for a roof, the way the slope looks. [deg]
    surface : str
        One of `SURFACES`; flat to 10 degrees, pitched to 30.
    shielding : str
        One of `SHIELDINGS`: obstructions around, against the height of the house.

    Returns
    -------
    float or array
        Pressure coefficient. [-]

    Raises
    ------
    InputError
        If the surface or the shielding is unknown.

    References
    ----------
    [LIDDAMENT] averaged coefficients, values from memory

    Examples
    --------
    >>> round(float(averaged_pressure_coefficient(22.5, "wall", "exposed")), 3)
    0.525
    """
    require_choice("surface", surface, SURFACES)
    require_choice("shielding", shielding, SHIELDINGS)
    folded = _from_normal(require_finite("angle", angle, "deg"))
    return np.interp(folded, _ANGLES, _AVERAGED[surface, shielding])


@dataclass(frozen=True, slots=True)
class Face:
    """A face of the house: where it looks, what it is, what shields it.

    Examples
    --------
    >>> round(float(Face("north", 0.0).pressure_coefficient(wind_direction=0.0)), 2)
    0.7
    """

    name: str
    azimuth: float = 0.0  # degrees clockwise from north, of the outward normal
    surface: str = "wall"
    shielding: str = "exposed"
    side_ratio: float | None = None  # given: the correlation for exposed walls instead of the table

    def __post_init__(self):
        require_finite("azimuth", self.azimuth, "deg")
        require_choice("surface", self.surface, SURFACES)
        require_choice("shielding", self.shielding, SHIELDINGS)
        if self.side_ratio is not None:
            require_between("side_ratio", self.side_ratio, 0.25, 4.0)
            if (self.surface, self.shielding) != ("wall", "exposed"):
                raise InputError(
                    f"Face {self.name!r} has a side ratio. That correlation is for exposed walls; "
                    "leave the side ratio out."
                )

    def pressure_coefficient(self, wind_direction):
        """Return the coefficient for a wind that comes from a compass direction [deg]."""
        angle = np.asarray(wind_direction, dtype=float) - self.azimuth
        if self.side_ratio is not None:
            return wall_pressure_coefficient(angle, self.side_ratio)
        return averaged_pressure_coefficient(angle, self.surface, self.shielding)
