"""How much do warmth and wind drive if the leaks keep their power law, a flue stands, a void lies below?

``Q_s = c C_s Δθ^n``, ``Q_w = c C_w (s G U)^2n``, joined as ``√(Q_s² + Q_w²)``. The tables are the
handbook's; `stack_and_wind_by_algebra` is what they were made from, and a test compares the two.
"""

import numpy as np

from airlab.in_use.air import YearAir
from airlab.in_use.house import FLOORS, FLUE_ABOVE, SHELTERS
from airlab.physics.air import CLASSROOM_AIR, ZERO_CELSIUS
from airlab.physics.airflow import GRAVITY
from airlab.words import InputError, require_between, require_choice, require_positive

__all__ = [
    "TABLE_EXPONENT",
    "enhanced_coefficients",
    "enhanced_flow",
    "enhanced_model",
    "joined",
    "stack_and_wind_by_algebra",
]

TABLE_EXPONENT = 0.67
# By storeys 1 to 3: no flue, flue.
_STACK = ((0.054, 0.078, 0.098), (0.069, 0.089, 0.107))
_WIND = {
    "slab": ((0.156, 0.170, 0.170), (0.142, 0.156, 0.167)),
    "crawlspace": ((0.128, 0.142, 0.151), (0.128, 0.142, 0.154)),
}
_SPEED = (0.48, 0.59, 0.67)  # wind at the house over wind at the station
# By the five classes of shelter; with a flue by storeys 1 to 3 as well.
_SHELTER = (1.00, 0.90, 0.70, 0.50, 0.30)
_SHELTER_FLUE = (
    (1.10, 1.02, 0.86, 0.70, 0.54),
    (1.07, 0.98, 0.81, 0.64, 0.47),
    (1.06, 0.97, 0.79, 0.61, 0.43),
)


def _by_storeys(storeys, row):
    return float(np.interp(storeys, (1, 2, 3), row))


def enhanced_coefficients(storeys, shielding, flue=False, floor="slab"):
    """Return C_s [(Pa/K)^n], C_w [(Pa.s2/m2)^n], wind multiplier G and shelter factor s.

    References
    ----------
    [WALKER_WILSON] tables of the handbook
    """
    require_between("storeys", storeys, 1.0, 3.0)
    shelter = SHELTERS.index(require_choice("shielding", shielding, SHELTERS))
    require_choice("floor", floor, FLOORS)
    factors = [row[shelter] for row in _SHELTER_FLUE] if flue else [_SHELTER[shelter]] * 3
    return tuple(
        _by_storeys(storeys, row)
        for row in (_STACK[bool(flue)], _WIND[floor][bool(flue)], _SPEED, factors)
    )


def joined(stack, wind, flow_exponent=None):
    """Return stack and wind together: quadrature, or with an exponent the older form.

    ``[Q_s^(1/n) + Q_w^(1/n) - (Q_s Q_w)^(1/2n) / 3]^n``

    References
    ----------
    [WALKER_WILSON] combination
    """
    if flow_exponent is None:
        return np.hypot(stack, wind)
    root = 1.0 / flow_exponent
    return (stack**root + wind**root - (stack * wind) ** (0.5 * root) / 3.0) ** flow_exponent


def enhanced_flow(flow_coefficient, storeys, shielding, warmer, wind_at_station, flue=False,
                  floor="slab", flow_exponent=TABLE_EXPONENT):  # fmt: skip
    """Return the flow of the handbook's enhanced model.

    Parameters
    ----------
    flow_coefficient : float
        Flow of all leaks at 1 Pa. [m3/(s.Pa^n)]
    storeys : float
        1 to 3. [-]
    shielding : str
        One of `SHELTERS`.
    warmer : float or array
        Inside less outside; its size counts. [K]
    wind_at_station : float or array
        At the weather station. [m/s]
    flue : bool
        Whether an open flue stands in the house.
    floor : str
        One of `FLOORS`.
    flow_exponent : float
        Exponent of the leaks; the tables are for 0.67. [-]

    Returns
    -------
    float or array
        Outside air through the leaks. [m3/s]

    References
    ----------
    [WALKER_WILSON] tables of the handbook

    Examples
    --------
    >>> float(enhanced_flow(0.051, 2, "houses across the street", 39.0, 6.7).round(4))
    0.0574
    """
    require_positive("flow_coefficient", flow_coefficient, "m3/(s.Pa^n)")
    stack, wind, speed, shelter = enhanced_coefficients(storeys, shielding, flue, floor)
    n, wind_speed = flow_exponent, require_positive(
        "wind_at_station", wind_at_station, "m/s", allow_zero=True
    )  # fmt: skip
    by_stack = flow_coefficient * stack * np.abs(warmer) ** n
    return joined(by_stack, flow_coefficient * wind * (shelter * speed * wind_speed) ** (2.0 * n))


def stack_and_wind_by_algebra(flow_exponent, R, X=0.0, Y=0.0, floor="slab", flue_height=None):
    """Return f_s and f_w of ``Q = c f P^n`` from how the leaks are spread.

    Parameters
    ----------
    flow_exponent : float
        Exponent of the leaks. [-]
    R, X, Y : float
        Shares of the leakage: ceiling and floor together, ceiling less floor, flue. [-]
    floor : str
        One of `FLOORS`.
    flue_height : float or None
        Top of the flue over the height of the eaves; needed where Y is above zero. [-]

    Returns
    -------
    tuple of float
        Stack factor, wind factor.

    References
    ----------
    [WALKER_WILSON] algebra

    Examples
    --------
    >>> [round(f, 3) for f in stack_and_wind_by_algebra(0.67, 0.5)]
    [0.251, 0.221]
    """
    n = flow_exponent
    require_choice("floor", floor, FLOORS)
    require_between("Y", Y, 0.0, 1.0)
    M = min((X + (2.0 * n + 1.0) * Y) ** 2 / (2.0 - R), 1.0)
    stack = (1.0 + n * R) / (n + 1.0) * (0.5 - 0.5 * M**1.25) ** (n + 1.0)
    if Y:
        if flue_height is None or flue_height <= 1.0:
            raise InputError("A flue needs its height over that of the eaves, above 1.")
        over = flue_height - 1.0
        middle = R + 2.0 * (1.0 - R - Y) / (n + 1.0) - 2.0 * Y * over**n
        stack += n * Y * over ** ((3.0 * n - 1.0) / 3.0) * (
            1.0 - 3.0 * (middle - X) ** 2 * R ** (1.0 - n) / (2.0 * (flue_height + 1.0))
        )  # fmt: skip
    if floor == "slab":
        J = (X + R + 2.0 * Y) / 2.0
        wind = 0.19 * (2.0 - n) * (1.0 - ((X + R) / 2.0) ** 1.5) - Y / 4.0 * (J - 2.0 * Y * J**4)
    else:
        at = (1.0 - R) / 5.0 - 1.5 * Y
        wind = (
            0.19 * (2.0 - n)
            * (1.0 - (((X - at) / (2.0 - R)) ** 2) ** 0.75)
            * (1.0 - R * (n / 2.0 + 0.2))
            * (1.0 - Y / 4.0)
        )  # fmt: skip
    return stack, wind


def enhanced_model(house, weather):
    """Return the year of the enhanced model, by its algebra with the exponent of the house.

    References
    ----------
    [WALKER_WILSON] the model
    """
    warmer = np.abs(house.indoor_temperature - weather.temperature)
    notes = [] if weather.has_wind else ["No wind was given: this is warm air alone."]
    n, Y = house.flow_exponent, house.flue_share
    f_s, f_w = stack_and_wind_by_algebra(
        n, (1.0 - Y) * house.horizontal_share, (1.0 - Y) * house.ceiling_minus_floor, Y, house.floor,
        1.0 + FLUE_ABOVE / house.height,
    )  # fmt: skip
    _, _, speed, shelter = enhanced_coefficients(house.storeys, house.shielding, Y > 0.0)
    rho = CLASSROOM_AIR.density
    push = rho * GRAVITY * house.height * warmer / (house.indoor_temperature + ZERO_CELSIUS)
    wind = 0.5 * rho * (shelter * speed * weather.wind_speed) ** 2
    flow = joined(house.coefficient * f_s * push**n, house.coefficient * f_w * wind**n)
    return YearAir("enhanced model", house, weather, flow, "WALKER_WILSON", "from memory",
                   warnings=tuple(notes))  # fmt: skip
