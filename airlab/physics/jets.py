"""How fast does air leave a gap, and what is left of its jet some way off?"""

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.words import require_between, require_positive

__all__ = ["PLANE_JET", "ROUND_JET", "faded_speed", "jet_speed"]

ROUND_JET, PLANE_JET = 6.2, 2.47  # decay of the middle of a jet with distance
_MM = "If you meant millimetres, write mm(...)."


def jet_speed(pressure_difference, air=CLASSROOM_AIR):
    """Return the speed of air at a gap: ``v = sqrt(2 p / rho)``, whatever the size of the gap.

    Parameters
    ----------
    pressure_difference : float or array
        Across the gap. [Pa]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    float or array
        Speed. [m/s]

    Examples
    --------
    >>> [round(float(v), 1) for v in jet_speed(np.array([1.0, 4.0, 10.0, 50.0]))]
    [1.3, 2.6, 4.1, 9.1]
    """
    size = np.abs(pressure_difference)
    require_positive("size_of_pressure", size, "Pa", allow_zero=True)
    return np.sqrt(2.0 * size / air.density)


def faded_speed(jet_speed, width, distance, plane=True):
    """Return the speed in the middle of a jet some way from its gap.

    Long gap: ``v = 2.47 v_0 sqrt(h / x)``; round hole: ``v = 6.2 v_0 d / x``; never above ``v_0``.

    Parameters
    ----------
    jet_speed : float or array
        Speed at the gap. [m/s]
    width : float or array
        Width of the gap, or diameter of the hole. [m]
    distance : float or array
        From the gap. [m]
    plane : bool
        A long gap; otherwise a round hole.

    Returns
    -------
    float or array
        Speed in the middle of the jet. [m/s]

    Raises
    ------
    InputError
        If a size is not above zero or no gap's.

    Notes
    -----
    Still room air as warm as the jet, nothing in its way, no wall it clings to.

    References
    ----------
    [RAJARATNAM1976] decay of round and plane jets.

    Examples
    --------
    >>> round(float(faded_speed(2.58, 0.001, 0.5)), 3)
    0.285
    """
    speed = require_positive("jet_speed", jet_speed, "m/s", allow_zero=True)
    width = require_positive("width", require_between("width", width, 0.0, 1.0, "m", _MM), "m")
    near = width / require_positive("distance", distance, "m")
    return speed * np.minimum(PLANE_JET * np.sqrt(near) if plane else ROUND_JET * near, 1.0)
