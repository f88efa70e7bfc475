"""Does a real balloon or jar drain as computed? One constant fitted, the rest told by what is left.

The shape of the curve comes from the model; the one free constant stretches its time axis. It
gathers what the model cannot know: the edge of the hole and the stiffness of the rubber.
"""

import math
from dataclasses import dataclass, field, replace

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.draining import drain
from airlab.physics.hole_set import HoleSet
from airlab.physics.vessels import HOLE_MODES, Balloon, SealedVessel
from airlab.words import InputError, require_choice, require_positive, show, show_duration

__all__ = ["BENCH_QUANTITIES", "BenchFit", "fit_bench"]

BENCH_QUANTITIES = ("circumference", "diameter", "volume", "pressure")
_FRAMES = 4001
_WATER = "1 mm of water is 9.8 Pa."
_GOOD = 0.05


@dataclass(frozen=True, slots=True)
class BenchFit:
    """Readings against the model: the fitted constant, what is left, which kind of hole fits best.

    `time_factor` is measured over computed time. `left_over` is the root mean square of what is
    left after the fit, over the whole time; `residual` holds it reading by reading. [s]
    """

    record: object
    time: np.ndarray = field(repr=False)
    measured: np.ndarray = field(repr=False)
    fitted_time: np.ndarray = field(repr=False)
    time_factor: float
    left_over: float
    left_over_by_mode: tuple[tuple[str, float], ...]
    warnings: tuple[str, ...]

    @property
    def residual(self):
        """Measured minus fitted time, reading by reading. [s]."""
        return self.time - self.fitted_time

    @property
    def flow_factor(self):
        """Flow of the real vessel over the computed one at the same size. [-]."""
        return 1.0 / self.time_factor

    @property
    def best_mode(self):
        """Kind of hole whose curve fits best; None for a vessel with stiff walls."""
        modes = self.left_over_by_mode
        return min(modes, key=lambda entry: entry[1])[0] if modes else None

    def sentence(self, units="metric"):
        """Return what the bench says, in plain words."""
        told = (
            f"The real vessel took {show(self.time_factor)} times as long as computed "
            f"({show_duration(self.time[-1])} to the last reading). With that one constant the "
            f"times agree within {show(100.0 * self.left_over, digits=2)} % of the whole. "
        )
        if self.best_mode and self.best_mode != self.record.vessel.hole_mode:
            return told + f"The curve looks more like a hole of the kind '{self.best_mode}'."
        if self.left_over > _GOOD:
            return (
                told
                + "That is more than a good bench leaves: look for a second leak or a soft spot."
            )
        return told + "The shape is the computed one."


def fit_bench(
    vessel,
    openings,
    time,
    measured,
    quantity="circumference",
    air=CLASSROOM_AIR,
    *,
    pressure_at_start=None,
):
    """Fit the one free constant of a drain to readings from a real vessel.

    ``factor = sum(t t_model) / sum(t_model**2)``, t_model the computed time to each reading.

    Parameters
    ----------
    vessel : Balloon or SealedVessel
        What was drained; its start is taken from the first reading.
    openings : HoleSet, opening or sequence of openings
        Holes as drilled.
    time : sequence of float
        Times of the readings, rising; the first counts as zero. [s]
    measured : sequence of float
        Readings in SI: metres round the waist or across, cubic metres, or pascals.
    quantity : str
        'circumference', 'diameter' or 'volume' for a balloon, 'pressure' for a sealed vessel.
    air : Air or AirState
        The air that passes.
    pressure_at_start : float, optional
        What a water gauge showed at the first reading of a balloon; sets the stiffness of its
        rubber, so that nothing but the edge of the hole is left to fit. [Pa]

    Returns
    -------
    BenchFit
        The constant, what is left, and the kind of hole that fits best.

    Raises
    ------
    InputError
        For gaps, fewer than four readings, a time that runs backwards, columns that look swapped,
        or sizes below the slack balloon.

    References
    ----------
    [DERIVED] least squares through the start

    Examples
    --------
    >>> from airlab.physics import RoundHole, drain
    >>> computed = drain(Balloon(), RoundHole(0.002), frames=9)
    >>> fit = fit_bench(Balloon(), RoundHole(0.002), 1.2 * computed.time, computed.volume, "volume")
    >>> round(fit.time_factor, 4), fit.best_mode
    (1.2, 'rigid')
    """
    require_choice("quantity", quantity, BENCH_QUANTITIES)
    if (quantity == "pressure") != isinstance(vessel, SealedVessel):
        raise InputError(
            "A balloon is read by circumference, diameter or volume, a sealed vessel by pressure."
        )
    if isinstance(openings, HoleSet):
        openings = openings.openings
    time, measured = _readings(time, measured)
    vessel, left = _from_first_reading(vessel, measured, quantity)
    if pressure_at_start is not None and isinstance(vessel, Balloon):
        pressure = require_positive("pressure_at_start", pressure_at_start, "Pa", _WATER)
        vessel = replace(vessel, stiffness=vessel.stiffness * pressure / vessel.pressure_difference)
    time = time - time[0]
    modes = HOLE_MODES if isinstance(vessel, Balloon) else (vessel.hole_mode,)
    fits = {}
    for mode in modes:
        tried = replace(vessel, hole_mode=mode) if isinstance(vessel, Balloon) else vessel
        fits[mode] = _fit(tried, openings, air, time, left)
    record, fitted, factor, left_over = fits[vessel.hole_mode]
    by_mode = tuple((mode, fit[3]) for mode, fit in fits.items()) if len(fits) > 1 else ()
    return BenchFit(
        record, time, measured, fitted, factor, left_over, by_mode, _warnings(factor, left, record)
    )


def _readings(time, measured):
    try:
        pair = [np.array(list(column), dtype=float) for column in (time, measured)]
    except (TypeError, ValueError):
        raise InputError(
            "A bench table holds numbers only: a time and a reading per row."
        ) from None
    if pair[0].shape != pair[1].shape or pair[0].size < 4:
        raise InputError("A bench table needs four rows or more, each with a time and a reading.")
    for name, column in zip(("Time", "Reading"), pair):
        gaps = np.nonzero(~np.isfinite(column))[0]
        if gaps.size:
            raise InputError(
                f"{name} is missing in row {gaps[0] + 1}. Fill it in or delete the row."
            )
    steps = np.diff(pair[0])
    if np.any(steps <= 0.0):
        if np.all(steps < 0.0) and np.all(np.diff(pair[1]) > 0.0):
            raise InputError("Time falls and the reading rises: the two columns look swapped.")
        row = int(np.argmax(steps <= 0.0)) + 2
        raise InputError(f"Time runs backwards or stands still in row {row}.")
    if pair[1][-1] >= pair[1][0]:
        raise InputError("The reading does not fall from the first row to the last.")
    return pair


def _from_first_reading(vessel, measured, quantity):
    """Return the vessel as it stood at the first reading, and what was left at each."""
    if quantity == "pressure":
        vessel = replace(vessel, pressure_difference=float(measured[0]))
        return vessel, vessel.volume_at(measured)
    if quantity == "volume":
        volume = measured
    else:
        across = measured / math.pi if quantity == "circumference" else measured
        volume = math.pi / 6.0 * across**3
    stretch = float(np.cbrt(volume[0] / vessel.unstretched_volume))
    vessel = replace(vessel, stretch=stretch)
    if np.any(volume < vessel.unstretched_volume):
        row = int(np.argmax(volume < vessel.unstretched_volume)) + 1
        raise InputError(
            f"The reading in row {row} is below the slack balloon. Measure the slack balloon again, "
            "or check the unit."
        )
    return vessel, volume


def _fit(vessel, openings, air, time, left):
    record = drain(vessel, openings, air, frames=_FRAMES, flat=1e-3)
    if not record.drains:
        raise InputError("There is no hole. Nothing can be fitted.")
    model = np.interp(-left, -record.volume, record.time)
    factor = float(time @ model / (model @ model))
    fitted = factor * model
    left_over = float(np.sqrt(np.mean((time - fitted) ** 2)) / time[-1])
    return record, fitted, factor, left_over


def _warnings(factor, left, record):
    found = list(record.warnings)
    if np.any(np.diff(left) > 0.02 * (left[0] - left[-1])):
        found.append("A reading rises again by more than 2 % of the whole: check that row.")
    if left[-1] < record.volume[-1]:
        found.append("The last reading lies beyond flat; it counts as flat.")
    if not 0.85 <= factor <= 1.15:
        found.append(
            "More than 15 % off. Edge of the hole, stiffness of the rubber and a round shape are "
            "the usual reasons; measure the pressure with a water gauge."
        )
    return tuple(found)
