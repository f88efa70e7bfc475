"""How long until it is flat? One drain for balloon, sealed vessel and fan-held house.

Time is an integral, not a march: ``t = ∫ (dV/dx) / Q dx`` over the state x of the vessel. With
``w = x**(1/4)`` the integrand is smooth both where the flow goes with the root of the pressure and
where it goes with the pressure itself, so a few Gauss-Legendre panels give it to round-off.
"""

import functools
import math

import numpy as np

from airlab.physics.air import CLASSROOM_AIR, Air
from airlab.physics.combined import Parallel
from airlab.physics.drain_record import Drain
from airlab.physics.growing import GrowingLaws
from airlab.physics.hole_set import HoleSet
from airlab.physics.laws import LOWEST_PRESSURE
from airlab.physics.openings import SHARP_EDGE, Opening
from airlab.physics.vessels import HOLE_MODES, Balloon, FanHeldVolume, SealedVessel
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    ach,
    from_si,
    require_between,
    require_choice,
    show,
)

__all__ = ["drain"]

FLAT_SHARE = 0.01
_LOW_PRESSURE = 5.0  # Pa
_PANELS, _NODES = 16, 6


def drain(vessel, openings, air=CLASSROOM_AIR, *, frames=200, flat=FLAT_SHARE, hole_modes=None):
    """Drain a vessel through its openings.

    ``dV/dt = -sum Q_i(p(V))`` for the balloon, ``(storage) dp/dt = -sum Q_i(p)`` for the sealed
    vessel, a constant flow for the fan-held house.

    Parameters
    ----------
    vessel : Balloon, SealedVessel or FanHeldVolume
        What holds the air.
    openings : HoleSet, opening or sequence of openings
        Side by side; none at all is allowed and never drains.
    air : Air or AirState
        The air that passes.
    frames : int
        Moments in the record, evenly spaced in time.
    flat : float
        What counts as flat: this share of the starting pressure (sealed vessel) or this share
        above the slack volume (balloon). [-]
    hole_modes : sequence of str, optional
        For a balloon, one of 'rigid', 'moves with rubber', 'free' per opening; a `HoleSet` brings
        its own; otherwise the balloon's `hole_mode` stands for all.

    Returns
    -------
    Drain
        Frames, times and rates.

    Raises
    ------
    InputError
        If the openings pass more than a hole as large as the vessel, or an argument is out of
        range.

    Notes
    -----
    Incompressible through the holes: right to 2 % for a balloon, 0.05 % at 50 Pa. Refills per
    hour read off the clock are the mean flow over the starting volume, for any flow law.

    References
    ----------
    [DERIVED] Gauss-Legendre quadrature of the mass balance

    Examples
    --------
    >>> from airlab.physics import Balloon, RoundHole
    >>> from airlab.words import mm
    >>> record = drain(Balloon(), RoundHole(mm(2.51)))
    >>> round(record.time_to_flat), round(record.refills_per_hour), round(record.phi, 2)
    (60, 60, 1.0)
    >>> round(record.air_change_rate_at_50, 1)
    8.5
    """
    if isinstance(openings, HoleSet):
        openings, hole_modes = openings.openings, hole_modes or openings.hole_modes
    openings = Parallel(openings if isinstance(openings, Opening | tuple | list) else (openings,))
    openings = openings.openings
    modes = _modes(vessel, openings, hole_modes)
    frames = int(require_between("frames", frames, 2, 100_000))
    flat = require_between("flat", flat, 1e-6, 0.5)
    same = air if isinstance(air, Air) else Air(air.density, air.viscosity)  # worked out once
    laws = [one.law(same) for one in openings]
    total = _total_flow(vessel, openings, laws, modes, same)
    p0 = vessel.pressure_difference
    q0, q50 = np.broadcast_to(total(np.array([p0, PRESSURE_REFERENCE])), 2).tolist()
    hole_area = q0 / (SHARP_EDGE * math.sqrt(2.0 * p0 / same.density))
    _refuse_larger_than_vessel(vessel, hole_area)
    if isinstance(vessel, FanHeldVolume):
        found = _held(vessel, q0, frames)
    elif q0 <= 0.0:
        found = _never(vessel, frames)
    else:
        found = _integrated(vessel, total, frames, flat)
    time, pressure, volume, flow, to_flat, half, to_5 = found
    jet = np.sqrt(2.0 * pressure / air.density) * (flow > 0.0)
    for array in (time, pressure, volume, flow, jet):
        array.setflags(write=False)
    expelled = float(volume[0] - volume[-1])
    capacity = vessel.volume if not isinstance(vessel, SealedVessel) else vessel.spare
    phi = q0 * to_flat / capacity if math.isfinite(to_flat) else math.inf
    rates = _rates(vessel, q0, q50, to_flat)
    return Drain(
        vessel, openings, air, time, pressure, volume, flow, jet,
        _flat_definition(vessel, flat), to_flat, half, to_5, expelled, q0, phi,
        *rates, hole_area, _warnings(vessel, openings, modes, to_flat),
    )  # fmt: skip


def _modes(vessel, openings, hole_modes):
    if hole_modes is None:
        return (vessel.hole_mode,) * len(openings)
    hole_modes = tuple(hole_modes)
    if len(hole_modes) != len(openings):
        raise InputError(
            f"{len(hole_modes)} hole modes stand for {len(openings)} openings. One each is needed."
        )
    for mode in hole_modes:
        require_choice("hole_mode", mode, HOLE_MODES)
    return hole_modes if isinstance(vessel, Balloon) else ("rigid",) * len(openings)


def _total_flow(vessel, openings, laws, modes, air):
    """Return the flow of all openings as one function of pressure and state of the vessel.

    Without a state every opening is as it was at the start.
    """
    mixed = GrowingLaws(laws, modes)
    growing = [mode for mode in HOLE_MODES[1:] if mode in modes]
    layered = [(openings[place], laws[place], modes[place]) for place in mixed.left_out]

    def flow(pressure, x=None):
        moving = () if x is None else growing
        factors = {mode: vessel.hole_factor(x, mode) for mode in moving}
        total = mixed.flow(pressure, factors)
        for one, law, mode in layered:
            law = one.scaled(factors[mode]).law(air) if mode in factors else law
            total = total + law.flow(pressure)
        return total

    return flow


@functools.lru_cache(maxsize=8)
def _rule(nodes):
    """Gauss-Legendre nodes, weights, and the matrix from node values to an integral polynomial."""
    at, weights = np.polynomial.legendre.leggauss(nodes)
    coefficients = np.linalg.inv(np.vander(at, nodes, increasing=True))
    rise = coefficients / np.arange(1, nodes + 1)[:, None]
    start = -(rise * ((-1.0) ** np.arange(1, nodes + 1))[:, None]).sum(axis=0)
    return at, weights, np.vstack([start, rise]), coefficients


def _edges(points, panels):
    """Split the way from the first point to the last into panels that end on every point."""
    lengths = points[:-1] - points[1:]
    shares = np.maximum(2, np.ceil(panels * lengths / lengths.sum()))
    ends = np.concatenate([[0.0], np.cumsum(shares)])
    return np.interp(np.arange(ends[-1] + 1.0), ends, points)


def _integrated(vessel, total, frames, flat):
    """Return frames and times by quadrature over w = x**(1/4)."""
    x_end = min(vessel.flat(flat), 0.999 * vessel.start)
    low = vessel.last_at_pressure(_LOW_PRESSURE)
    last = min(x for x in (x_end, vessel.half(), low) if x is not None)
    marks = {vessel.half(), x_end, low}
    if vessel.pressure_at(last) < LOWEST_PRESSURE:  # the laws have a corner there
        marks.add(vessel.last_at_pressure(LOWEST_PRESSURE))
    inside = [x for x in marks if x is not None and last <= x < vessel.start]
    points = [x**0.25 for x in (vessel.start, *inside)]
    halvings = int(math.log2(points[0] / last**0.25))  # two panels at least for each halving of w
    points += [points[0] * 0.5**k for k in range(1, halvings + 1)]
    edges = _edges(np.array(sorted(set(points), reverse=True)), _PANELS)
    at, weights, rise, slope = _rule(_NODES)
    middle, half = 0.5 * (edges[:-1] + edges[1:]), 0.5 * (edges[:-1] - edges[1:])

    def rate(w):  # dt/dw, positive along the way down
        x = w**4
        return vessel.storage_at(x) * 4.0 * w**3 / total(vessel.pressure_at(x), x)

    g = rate(middle[:, None] - half[:, None] * at) * half[:, None]
    clock = np.concatenate([[0.0], np.cumsum(g @ weights)])

    def when(x):
        return 0.0 if x is None else float(clock[np.argmin(np.abs(edges - x**0.25))])

    to_flat = when(x_end)
    time = np.linspace(0.0, to_flat, frames)
    panel = np.clip(np.searchsorted(clock, time, side="right") - 1, 0, len(half) - 1)
    rises, slopes = (rise @ g.T)[:, panel], (slope @ g.T)[:, panel]
    rest = time - clock[panel]
    xi = 2.0 * rest / (clock[panel + 1] - clock[panel]) - 1.0
    for _ in range(3):
        xi = xi - (_horner(rises, xi) - rest) / _horner(slopes, xi)
    x = (middle[panel] - half[panel] * xi) ** 4
    x[0], x[-1] = vessel.start, x_end
    pressure = np.array(vessel.pressure_at(x), dtype=float)
    volume, flow = np.array(vessel.volume_at(x), dtype=float), total(pressure, x)
    return time, pressure, volume, flow, to_flat, when(vessel.half()), when(low)


def _horner(coefficients, at):
    value = coefficients[-1]
    for row in coefficients[-2::-1]:
        value = value * at + row
    return value


def _never(vessel, frames):
    still = np.ones(frames)
    volume = float(vessel.volume_at(vessel.start))
    return (
        np.linspace(0.0, 60.0, frames), vessel.pressure_difference * still, volume * still,
        0.0 * still, math.inf, math.inf, math.inf,
    )  # fmt: skip


def _held(vessel, flow, frames):
    still = np.ones(frames)
    end = vessel.volume / flow if flow > 0.0 else math.inf
    time = np.linspace(0.0, end if flow > 0.0 else 60.0, frames)
    left = np.maximum(vessel.volume - flow * time, 0.0)
    return (
        time, vessel.pressure_difference * still, left, flow * still, end, 0.5 * end, None,
    )  # fmt: skip


def _rates(vessel, q0, q50, to_flat):
    """Refills per hour, rate at the start, exponent, factor to 50 Pa, air changes at 50 Pa."""
    if isinstance(vessel, SealedVessel):
        return (None,) * 5
    if q0 <= 0.0:
        return (0.0, 0.0, None, None, 0.0)
    p0 = vessel.pressure_difference
    factor = q50 / q0
    apart = math.log(PRESSURE_REFERENCE / p0)
    exponent = math.log(factor) / apart if abs(apart) > 1e-9 else None
    refills = ach(1.0, to_flat)
    return refills, ach(q0, vessel.volume), exponent, factor, ach(q50, vessel.volume)


def _flat_definition(vessel, share):
    if isinstance(vessel, Balloon):
        return f"flat: {show(100.0 * share)} % above its slack volume"
    if isinstance(vessel, SealedVessel):
        return f"flat: {show(100.0 * share)} % of the starting pressure"
    return f"one refill: as much air has passed as the {vessel.name} holds"


def _refuse_larger_than_vessel(vessel, hole_area):
    if hole_area > vessel.most_hole_area:
        raise InputError(
            f"Holes pass as much as one of {show(from_si(hole_area, 'cm2'), 'cm2')}. This "
            f"{vessel.name} takes up to {show(from_si(vessel.most_hole_area, 'cm2'), 'cm2')}: a "
            "hole cannot be larger than what it is in. If you meant cm² or mm, write cm2(...) or "
            "mm(...)."
        )


def _warnings(vessel, openings, modes, to_flat):
    found = [*vessel.warnings, *Parallel(openings).warnings]
    if "free" in modes and getattr(vessel, "hole_mode", "") != "free":
        found.append("A hole in bare rubber can tear: tape the spot first.")
    if isinstance(vessel, SealedVessel):
        if vessel.volume > 1.0 and to_flat < 0.05:
            found.append("Under 0.05 s: sound itself needs that long to cross a house.")
        elif to_flat < 0.01:
            found.append("Under 0.01 s: a jet itself needs that long to start.")
    return tuple(found)
