"""How long does a house hold its pressure when the fan stops, and how little air must leave?"""

import numpy as np

from airlab.physics.air import STANDARD_PRESSURE
from airlab.words import PRESSURE_REFERENCE, InputError, require_between, require_positive, to_si

__all__ = ["pressure_decay_time", "pressure_half_time", "skin_compliance", "spare_air"]


def spare_air(
    volume, pressure_difference=PRESSURE_REFERENCE, kappa=1.0, atmosphere=STANDARD_PRESSURE
):
    """Return the air that must leave a stiff vessel for its pressure to vanish: ``V p / (kappa P)``.

    Parameters
    ----------
    volume : float or array
        Volume of the vessel. [m3]
    pressure_difference : float or array
        Pressure at the start. [Pa]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]
    atmosphere : float
        Absolute pressure around the vessel. [Pa]

    Returns
    -------
    float or array
        Volume of air that leaves. [m3]

    References
    ----------
    [DERIVED] gas law at constant volume

    Examples
    --------
    >>> from airlab.words import from_si
    >>> round(from_si(spare_air(500.0), "L"), 1)
    246.7
    """
    volume = require_positive("volume", volume, "m3")
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    kappa = require_between("kappa", kappa, 1.0, 1.4)
    return volume * pressure / (kappa * require_between("atmosphere", atmosphere, 3e4, 2e5, "Pa"))


def pressure_decay_time(
    air_change_rate,
    flow_exponent=0.65,
    start=PRESSURE_REFERENCE,
    end=5.0,
    kappa=1.0,
    *,
    reference=PRESSURE_REFERENCE,
    added_storage=0.0,
):
    """Return how long the pressure of a sealed house takes to fall.

    ``t = tau (1 - (end/start)**(1-n)) / (1-n)``, ``tau ln(start/end)`` for n = 1, with
    ``tau = start / (kappa P) / ACH(start)``.

    Parameters
    ----------
    air_change_rate : float or array
        Air changes per hour at the reference pressure. [1/h]
    flow_exponent : float or array
        Exponent of the leakage. [-]
    start, end : float or array
        Pressure differences; an end of 0 gives the time to nothing, endless for n = 1. [Pa]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]
    reference : float
        Pressure of the air change rate. [Pa]
    added_storage : float
        Volume that a bulging skin gives back over that of the compressed air. [-]

    Returns
    -------
    float or array
        Time; the size of the house does not matter. [s]

    Raises
    ------
    InputError
        If the end is not below the start, or an argument is out of range.

    References
    ----------
    [DERIVED] gas law at constant volume with a power-law leak

    Examples
    --------
    >>> round(float(pressure_decay_time(3.0, 0.5, end=0.0)), 4)
    1.1843
    """
    rate = to_si(require_positive("air_change_rate", air_change_rate, "1/h"), "1/h")
    n = require_between("flow_exponent", flow_exponent, 0.5, 1.0)
    start = require_positive("start", start, "Pa")
    end = require_positive("end", end, "Pa", allow_zero=True)
    kappa = require_between("kappa", kappa, 1.0, 1.4)
    more = 1.0 + require_positive("added_storage", added_storage, "-", allow_zero=True)
    if np.any(np.greater_equal(end, start)):
        raise InputError("The pressure at the end must be below that at the start.")
    tau = more * start / (kappa * STANDARD_PRESSURE) / (rate * np.power(start / reference, n))
    with np.errstate(divide="ignore", invalid="ignore"):
        fall = np.log(np.asarray(end, dtype=float) / start)
        k = np.asarray(1.0 - np.asarray(n, dtype=float))
        share = np.where(k > 1e-12, -np.expm1(k * fall) / np.where(k > 1e-12, k, 1.0), -fall)
    return (tau * share)[()]


def pressure_half_time(ach50, flow_exponent=0.65, kappa=1.0):
    """Return how long a house at 50 Pa takes to lose half its pressure, fan off and covered.

    About 1.1 s over the air changes per hour at 50 Pa.

    Parameters
    ----------
    ach50 : float or array
        Air changes per hour at 50 Pa. [1/h]
    flow_exponent : float or array
        Exponent of the leakage. [-]
    kappa : float
        1 if the air keeps its temperature, 1.4 if it cools as it expands. [-]

    Returns
    -------
    float or array
        Time. [s]

    References
    ----------
    [DERIVED] see `pressure_decay_time`

    Examples
    --------
    >>> round(float(pressure_half_time(3.0)), 5)
    0.36446
    """
    return pressure_decay_time(ach50, flow_exponent, end=0.5 * PRESSURE_REFERENCE, kappa=kappa)


def skin_compliance(area, bulge, pressure_difference=PRESSURE_REFERENCE):
    """Return the volume a flexible skin gives per pascal: ``area * bulge / pressure``.

    Parameters
    ----------
    area : float
        Area of loose film or board. [m2]
    bulge : float
        Mean bulge at the pressure difference. [m]
    pressure_difference : float
        Pressure at which the bulge was seen. [Pa]

    Returns
    -------
    float
        Volume per pascal, for `SealedVessel(skin_compliance=...)`, in m3/Pa.

    Examples
    --------
    >>> skin_compliance(200.0, 0.005)
    0.02
    """
    area = require_positive("area", area, "m2")
    bulge = require_positive("bulge", bulge, "m", "If you meant 5 mm, write mm(5).")
    return area * bulge / require_positive("pressure_difference", pressure_difference, "Pa")
