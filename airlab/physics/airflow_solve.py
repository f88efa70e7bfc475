"""At which inside pressures does the air that comes in equal the air that goes out?

Numbers only: one zone with power-law paths by bracketed Newton iteration on whole arrays of cases,
several zones by damped Newton with a bracketing sweep to fall back on. Each path's flow grows with
its own pressure difference, so the balance is the lowest point of a bowl: there is one answer.

Below `LAMINAR_BELOW` a power law is made straight, so that its slope stays finite.
"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.laws import LOWEST_PRESSURE
from airlab.words import InputError

__all__ = ["LAMINAR_BELOW", "Balance", "balance_one_zone", "balance_zones", "power_flow"]

LAMINAR_BELOW = LOWEST_PRESSURE  # Pa; below this a path's flow is taken proportional to pressure
CONVERGED_WITHIN = 1e-9  # imbalance as a fraction of the air that passes through a zone
_AIM = 1e-11
_ROUNDS = 80  # of Newton before the sweep is called
_CELLS = 131072  # cases times paths handled at once: they stay in the processor's cache


@dataclass(frozen=True, slots=True)
class Balance:
    """Solved pressures [Pa], cases by zones; imbalance and rounds per case.

    With several zones the paths' own differences (cases by paths) are carried along: an open door
    needs more digits than the difference of two zone pressures can hold.
    """

    pressure: np.ndarray
    imbalance: np.ndarray
    iterations: np.ndarray
    pressure_difference: np.ndarray | None = None

    @property
    def converged(self):
        """Whether each case balances to 1e-9 of the air that passes."""
        return self.imbalance <= CONVERGED_WITHIN


def power_flow(pressure_difference, outward, inward, flow_exponent):
    """Return flow and slope of power-law paths, straight below `LAMINAR_BELOW`.

    m = c |Δp|^(n-1) Δp, with c = outward where Δp > 0 and inward where Δp < 0.

    Parameters
    ----------
    pressure_difference : array
        Pressure at the start of the path minus pressure at its end. [Pa]
    outward, inward : array
        Coefficient for flow along the path and against it.
    flow_exponent : array
        Exponent of each path. [-]

    Returns
    -------
    tuple of arrays
        Flow, and its slope against pressure.
    """
    size = np.abs(pressure_difference)
    slope = np.power(np.maximum(size, LAMINAR_BELOW), flow_exponent - 1.0)
    slope = slope * np.where(pressure_difference > 0.0, outward, inward)
    return slope * pressure_difference, slope * np.where(size < LAMINAR_BELOW, 1.0, flow_exponent)


def balance_one_zone(offset, outward, inward, flow_exponent, supply=0.0):
    """Return the pressure at which one zone's power-law paths carry away what the fans supply.

    Finds P with  Σ m_k(P + offset_k) = supply, for each row of `offset`.

    Parameters
    ----------
    offset : array (cases, paths)
        What a path adds to the zone's pressure: minus wind, minus stack. [Pa]
    outward, inward : array (paths,) or (cases, paths)
        Flow coefficients, out of the zone and into it; above zero.
    flow_exponent : array (paths,)
        Exponents. [-]
    supply : number or array (cases,)
        What fans blow into the zone, in the unit of the coefficients times Pa^n.

    Returns
    -------
    Balance
        Pressure with one column.

    Examples
    --------
    >>> import numpy as np
    >>> two = balance_one_zone(np.array([[2.0, -2.0]]), np.ones(2), np.ones(2), np.full(2, 0.5))
    >>> abs(round(float(two.pressure[0, 0]), 9)), bool(two.converged[0])
    (0.0, True)
    """
    offset = np.atleast_2d(np.asarray(offset, dtype=float))
    cases, paths = offset.shape
    supply = np.broadcast_to(np.asarray(supply, dtype=float), (cases,))
    exponent = np.broadcast_to(np.asarray(flow_exponent, dtype=float), (paths,))
    out, back = np.asarray(outward, dtype=float), np.asarray(inward, dtype=float)
    pressure, imbalance = np.empty(cases), np.empty(cases)
    iterations = np.empty(cases, dtype=int)
    step = max(1, _CELLS // max(paths, 1))
    for start in range(0, cases, step):
        part = slice(start, min(start + step, cases))
        pressure[part], imbalance[part], iterations[part] = _one_zone(
            offset[part],
            out[part] if out.ndim == 2 and len(out) == cases else out,
            back[part] if back.ndim == 2 and len(back) == cases else back,
            exponent,
            supply[part],
        )
    return Balance(pressure[:, None], imbalance, iterations)


def _one_zone(offset, out, back, exponent, supply):
    """Start with two quick rounds in single precision, then finish in double precision."""
    rough = offset.astype(np.float32)
    low, high = -rough.max(axis=1).astype(float), -rough.min(axis=1).astype(float)
    weight = 0.5 * (out + back)
    mean = (rough * weight).sum(axis=1) if weight.ndim == 2 else rough @ weight.astype(np.float32)
    start = -mean / weight.sum(axis=-1)
    margin = LAMINAR_BELOW + 1e-6 * np.maximum(np.abs(low), np.abs(high))  # single precision
    low, high = low - margin, high + margin
    if supply.any():
        need = np.abs(supply) / np.minimum(out, back).sum(axis=-1)
        reach = np.maximum(need ** (1.0 / exponent.min()), need ** (1.0 / exponent.max()))
        reach = np.copysign(reach + margin, supply)
        low, high = low + np.minimum(reach, 0.0), high + np.maximum(reach, 0.0)
        start = start + np.sign(supply) * need ** (1.0 / exponent.mean())
    state = np.clip(start, low, high), low, high
    guess, _, _ = _newton(rough, out, back, exponent, supply, *state, np.float32, 2)
    state = np.clip(guess, low, high), low, high
    return _newton(offset, out, back, exponent, supply, *state, np.float64, 80)


def _newton(offset, out, back, exponent, supply, start, low, high, kind, rounds):
    """Run Newton's rule kept inside a closing bracket; cases that balance drop out."""
    offset, out, back, exponent, supply, guess, low, high = (
        np.asarray(a, dtype=kind) for a in (offset, out, back, exponent, supply, start, low, high)
    )
    fine = kind is np.float64
    limit, less = kind(LAMINAR_BELOW), exponent - kind(1)
    by_case = out.ndim == 2 or back.ndim == 2
    if by_case:
        out, back = (np.broadcast_to(a, offset.shape) for a in (out, back))
    found, worst = guess.copy(), np.full(guess.shape, np.inf, dtype=kind)
    count = np.zeros(guess.shape, dtype=int)
    live = np.arange(guess.size)
    space = [np.empty_like(offset) for _ in range(3)]
    for _ in range(rounds):
        x, size, slope = (a[: guess.size] for a in space)
        np.add(offset, guess[:, None], out=x)
        np.abs(x, out=size)
        np.maximum(size, limit, out=slope)
        np.power(slope, less, out=slope)
        slope *= np.where(x > 0, out, back)
        rest = np.einsum("ij,ij->i", slope, x) - supply
        steep = slope @ exponent
        straight = size < limit
        if straight.any():
            steep += np.einsum("ij,ij,j->i", slope, straight, -less)
        above = rest > 0
        high, low = np.where(above, guess, high), np.where(above, low, guess)
        move = -rest / steep
        if fine:
            passed = np.einsum("ij,ij->i", slope, size) + np.abs(supply)
            share = np.abs(rest) / np.maximum(passed, np.finfo(float).tiny)
            found[live], worst[live] = guess, share
            count[live] += 1
            stuck = np.abs(move) <= 4e-16 * np.maximum(np.abs(guess), size.max(axis=1))
            go = (share > _AIM) & ~stuck
            if not go.any():
                break
            if go.mean() < 0.7:
                live, guess, move, low, high = (a[go] for a in (live, guess, move, low, high))
                offset, supply = offset[go], supply[go]
                if by_case:
                    out, back = out[go], back[go]
        new = guess + move
        outside = (new <= low) | (new >= high)
        guess = np.where(outside, kind(0.5) * (low + high), new)
    return (found, worst, count) if fine else (guess, worst, count)


def balance_zones(incidence, offset, flows, supply):
    """Return the pressures at which every zone's paths carry away what the fans supply.

    Damped Newton: the step is shortened until the slope along it has fallen to a third. A case that
    does not settle is swept zone by zone with bisection, which cannot overshoot, and tried again.

    Parameters
    ----------
    incidence : array (paths, zones)
        +1 where a path starts in a zone, -1 where it ends in one, 0 elsewhere.
    offset : array (cases, paths)
        What stack, wind and held pressures add to each path's pressure difference. [Pa]
    flows : callable
        Pressure differences (cases, paths) in, flows and slopes out; never falling.
    supply : array (cases, zones)
        What fans blow into each zone, in the unit of the flows.

    Returns
    -------
    Balance
        Pressure, cases by zones.
    """
    incidence, offset = np.asarray(incidence, dtype=float), np.asarray(offset, dtype=float)
    if not incidence.shape[1]:
        raise InputError("There is no zone to solve for: all are held or outside.")
    supply = np.broadcast_to(supply, (len(offset), incidence.shape[1]))
    pressure = _linear_start(incidence, offset, flows, supply)
    state = pressure, offset + pressure @ incidence.T
    pressure, across, imbalance, count = _damped(incidence, flows, supply, *state, _ROUNDS)
    for _ in range(3):
        if (imbalance <= CONVERGED_WITHIN).all():
            break
        swept = _sweep(incidence, offset, flows, supply, pressure)
        state = swept, offset + swept @ incidence.T
        again, across_again, left, more = _damped(incidence, flows, supply, *state, _ROUNDS)
        better = left < imbalance
        pressure = np.where(better[:, None], again, pressure)
        across = np.where(better[:, None], across_again, across)
        imbalance, count = np.where(better, left, imbalance), count + more
    return Balance(pressure, imbalance, count, across)


def _linear_start(incidence, offset, flows, supply):
    """Solve the network once with every path's flow taken in proportion between -4 and 4 Pa."""
    four = np.full(offset.shape, 4.0)
    (ahead, _), (behind, _) = flows(four), flows(-four)
    conductance, middle = (ahead - behind) / 8.0, 0.5 * (ahead + behind)
    right = supply - (middle + conductance * offset) @ incidence
    return _solve(_jacobian(incidence, conductance), right)


def _jacobian(incidence, slope):
    zones = incidence.shape[1]
    outer = (incidence[:, :, None] * incidence[:, None, :]).reshape(len(incidence), -1)
    matrix = (slope @ outer).reshape(len(slope), zones, zones)
    diagonal = np.einsum("ijj->ij", matrix)
    diagonal += 1e-14 * diagonal.max(axis=1, keepdims=True) + 1e-30
    return matrix


def _solve(matrix, right):
    return np.linalg.solve(matrix, right[:, :, None])[:, :, 0]


def _damped(incidence, flows, supply, pressure, across, rounds):
    size = np.abs(incidence)
    count = np.zeros(len(across), dtype=int)
    flow, slope = flows(across)
    for used in range(rounds + 1):
        rest = flow @ incidence - supply
        # A zone where nothing moves is compared with what a nano-pascal would move.
        passed = np.maximum(np.abs(flow) @ size + np.abs(supply), 1e-9 * (slope @ size))
        share = (np.abs(rest) / passed).max(axis=1)
        go = share > _AIM
        if not go.any() or used == rounds:
            break
        step = np.where(go[:, None], _solve(_jacobian(incidence, slope), -rest), 0.0)
        along = step @ incidence.T
        stuck = (np.abs(along) <= 4e-16 * np.abs(across)).all(axis=1)
        if (stuck | ~go).all():
            break
        start = np.einsum("ij,ij->i", rest, step)
        length, flow, slope = _line_search(
            incidence, flows, supply, across, along, step, start, go & ~stuck
        )
        pressure = pressure + length[:, None] * step
        across = across + length[:, None] * along
        count += go
    return pressure, across, share, count


def _line_search(incidence, flows, supply, across, along, step, start, go):
    """Shorten the step where it overshoots, by regula falsi on the slope along it."""
    low, high = np.zeros(len(step)), np.ones(len(step))
    at_low, length = start.copy(), np.where(go, 1.0, 0.0)
    at_high = None
    for _ in range(30):
        flow, slope = flows(across + length[:, None] * along)
        here = np.einsum("ij,ij->i", flow @ incidence - supply, step)
        good = (here <= 0.3 * np.abs(start)) & ((here >= -0.3 * np.abs(start)) | (length >= 1.0))
        if (good | ~go).all():
            break
        at_high = here if at_high is None else at_high
        over = here > 0
        high, at_high = np.where(over, length, high), np.where(over, here, at_high)
        low, at_low = np.where(over, low, length), np.where(over, at_low, here)
        with np.errstate(divide="ignore", invalid="ignore"):
            guess = low - at_low * (high - low) / (at_high - at_low)
        # Keep off the ends, so that a kink cannot hold the search at one of them.
        margin = 0.05 * (high - low)
        guess = np.clip(np.nan_to_num(guess, nan=0.5), low + margin, high - margin)
        length = np.where(good | ~go, length, guess)
    return length, flow, slope


def _sweep(incidence, offset, flows, supply, pressure):
    """Balance one zone after the other by bisection, the others kept still."""
    pressure = pressure.copy()
    for zone in range(incidence.shape[1]):
        touches = incidence[:, zone]

        def rest(value, zone=zone, touches=touches):
            trial = pressure.copy()
            trial[:, zone] = value
            flow, _ = flows(offset + trial @ incidence.T)
            return flow @ touches - supply[:, zone]

        middle, reach = pressure[:, zone].copy(), np.ones(len(pressure))
        for _ in range(40):
            short = (rest(middle - reach) > 0) | (rest(middle + reach) < 0)
            if not short.any():
                break
            reach = np.where(short, 2.0 * reach, reach)
        low, high = middle - reach, middle + reach
        for _ in range(50):
            middle = 0.5 * (low + high)
            above = rest(middle) > 0
            low, high = np.where(above, low, middle), np.where(above, middle, high)
        pressure[:, zone] = 0.5 * (low + high)
    return pressure
