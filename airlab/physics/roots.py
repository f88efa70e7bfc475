"""Where does a rising or falling curve cross zero? One bracketed search for whole arrays."""

import numpy as np

from airlab.words import InputError

__all__ = ["bracketed_root"]


def bracketed_root(function, low, high, absolute=0.0):
    """Return where `function` crosses zero between `low` and `high`, entry by entry.

    Inverse quadratic steps kept inside the bracket, with halving where they would not help.

    Parameters
    ----------
    function : callable
        Continuous function of one array; returns an array of the same shape.
    low, high : float or array
        Ends of the bracket; the function differs in sign at them, or is zero. [-]
    absolute : float
        Width of the final bracket that is always fine enough. [-]

    Returns
    -------
    array
        The crossing. [-]

    Raises
    ------
    InputError
        If some entry's bracket holds no change of sign.

    Notes
    -----
    Method of Chandrupatla (1997), from memory.

    Examples
    --------
    >>> bracketed_root(lambda x: x**2 - 2.0, 0.0, 2.0).round(12)
    np.float64(1.414213562373)
    """
    b, a = np.broadcast_arrays(np.asarray(low, float), np.asarray(high, float))
    a, b = a.copy(), b.copy()
    fa, fb = np.asarray(function(a), float), np.asarray(function(b), float)
    if np.any(fa * fb > 0.0) or not (np.all(np.isfinite(fa)) and np.all(np.isfinite(fb))):
        raise InputError("No crossing lies between the two ends that were given.")
    c, fc, step = a, fa, np.full(a.shape, 0.5)
    best = np.where(np.abs(fa) < np.abs(fb), a, b)
    for _ in range(120):
        x = a + step * (b - a)
        fx = np.asarray(function(x), float)
        same = np.sign(fx) == np.sign(fa)
        c, fc = np.where(same, a, b), np.where(same, fa, fb)
        b, fb = np.where(same, b, a), np.where(same, fb, fa)
        a, fa = x, fx
        best = np.where(np.abs(fa) < np.abs(fb), a, b)
        limit = 2.0 * np.maximum(1e-15 * np.abs(best), absolute) + 1e-300
        width = np.abs(b - a)
        done = (width <= limit) | (fa == 0.0) | (fb == 0.0)
        if np.all(done):
            break
        with np.errstate(divide="ignore", invalid="ignore"):
            xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
            quadratic = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * (
                fb / (fc - fb)
            )
        good = (phi**2 < xi) & ((1.0 - phi) ** 2 < 1.0 - xi) & np.isfinite(quadratic)
        edge = np.minimum(0.5, limit / np.maximum(width, 1e-300))
        step = np.clip(np.where(good, quadratic, 0.5), edge, 1.0 - edge)
        step = np.where(done, 0.0, step)
    return best[()]
