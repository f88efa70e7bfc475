"""What pressure does stretched rubber make? The two-constant law of a thin rubber sphere.

Stretch is radius over unstretched radius. The stiffness pressure scales the curve, the stiffening
gives the second rise: ``p = p* (1/x - 1/x**7) (1 + stiffening x**2)``.
"""

import functools

import numpy as np

from airlab.words import InputError, require_between

__all__ = [
    "STIFFENING_WITHOUT_HUMP",
    "free_hole_stretch",
    "rubber_hump",
]

STIFFENING_WITHOUT_HUMP = 0.214458  # derived: where peak and trough meet


def rubber_hump(stiffening=0.10):
    """Return where the pressure curve peaks and where it dips again.

    Parameters
    ----------
    stiffening : float
        Second constant of the rubber over the first. [-]

    Returns
    -------
    tuple
        Stretch at the peak and at the trough; None where there is none. [-]

    Raises
    ------
    InputError
        Outside 0 to 0.3.

    Examples
    --------
    >>> [round(float(x), 3) for x in rubber_hump(0.10)]
    [1.476, 3.143]
    >>> rubber_hump(0.25)
    (None, None)
    """
    return _turns(require_between("stiffening", stiffening, 0.0, 0.3))


@functools.lru_cache(maxsize=64)
def _turns(stiffening):
    """Return peak and trough: where ``7 z**4 + 5 a z**3 - z + a = 0`` with z = 1/stretch**2."""
    roots = np.roots([7.0, 5.0 * stiffening, 0.0, -1.0, stiffening])
    inside = [float(z.real) for z in roots if abs(z.imag) < 1e-9 and 1e-12 < z.real < 1.0]
    turns = sorted(z**-0.5 for z in inside)
    if not turns or (len(turns) == 1 and stiffening > STIFFENING_WITHOUT_HUMP / 2.0):
        return None, None
    return turns[0], turns[1] if len(turns) > 1 else None


def free_hole_stretch(stretch):
    """Return how much the diameter of a hole in bare rubber has grown: ``H = 2 x - 1/x**3``.

    Parameters
    ----------
    stretch : float or array
        Radius of the balloon over its unstretched radius. [-]

    Returns
    -------
    float or array
        Diameter of the hole over its diameter in slack rubber. [-]

    Raises
    ------
    InputError
        If a stretch is below 1.

    Notes
    -----
    A fit to the large-strain solution of a small hole in a one-constant rubber, within 3.3 %;
    the limit 2 x is published. Stiffening rubber tears before it opens that far.

    References
    ----------
    [HOLE2024] limit; [DERIVED] fit

    Examples
    --------
    >>> free_hole_stretch(4.0)
    np.float64(7.984375)
    """
    x = np.asarray(stretch, dtype=float)
    if np.any(x < 1.0):
        raise InputError(f"Stretch is {float(np.min(x)):g}. It must be 1 or more.")
    return (2.0 * x - x**-3.0)[()]
