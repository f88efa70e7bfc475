"""One air change: is the old air gone? Pushed out in one piece, or mixed with the new."""

from dataclasses import dataclass, field

import numpy as np

from airlab.physics.bridge import mixing_time, remaining_old_air
from airlab.words import require_positive, show, show_duration, to_si

__all__ = ["OldAir", "old_air"]


@dataclass(frozen=True, slots=True)
class OldAir:
    """The old air that is left under a steady flow, against time, in two limits.

    `pushed` is the share left if new air pushes the old out in one piece, `mixed` the share if
    both mix at once; real rooms lie between. `at` is the time asked for, `*_now` the shares then.
    """

    air_change_rate: float
    pressure_difference: float
    at: float
    pushed_now: float
    mixed_now: float
    time: np.ndarray = field(repr=False)
    pushed: np.ndarray = field(repr=False)
    mixed: np.ndarray = field(repr=False)

    @property
    def changes(self):
        """Volumes that have passed by then. [-]."""
        return self.at / self.one_change

    @property
    def one_change(self):
        """Time in which one volume passes. [s]."""
        return 1.0 / to_si(self.air_change_rate, "1/h")

    def sentence(self, units="metric"):
        """Return what is left of the old air, in plain words."""
        count = show(self.changes)
        passed = "1 house volume has" if count == "1" else f"{count} house volumes have"
        return (
            f"At {show(self.air_change_rate)} air changes per hour, at "
            f"{show(self.pressure_difference, 'Pa')}, {passed} passed after {show_duration(self.at)}. "
            f"Pushed out in one piece, {show(100.0 * self.pushed_now)} % of the old air would be "
            f"left. Mixed, {show(100.0 * self.mixed_now)} % is still there; 99 % of it is gone after "
            f"{show_duration(float(mixing_time(self.air_change_rate, 0.01)))}."
        )


def old_air(air_change_rate, at, pressure_difference=50.0, frames=121):
    """Follow the old air of a volume that a fan holds at a pressure: flow in, flow out, steady.

    Pushed ``1 - ACH t``, mixed ``exp(-ACH t)``.

    Parameters
    ----------
    air_change_rate : float
        Air changes per hour of the steady flow. [1/h]
    at : float
        Time asked for. [s]
    pressure_difference : float
        Pressure at which that flow passes; it is only said. [Pa]
    frames : int
        Moments in the record, over three air changes.

    Returns
    -------
    OldAir
        Shares left against time, and at the time asked for.

    References
    ----------
    [CDC2003] table B.1, perfect mixing; [DERIVED] displacement

    Examples
    --------
    >>> record = old_air(3.0, 20.0 * 60.0)
    >>> round(record.pushed_now, 3), round(record.mixed_now, 3)
    (0.0, 0.368)
    """
    rate = require_positive("air_change_rate", air_change_rate, "1/h")
    at = require_positive("at", at, "s", allow_zero=True)
    pressure = require_positive("pressure_difference", pressure_difference, "Pa")
    time = np.linspace(0.0, 3.0 / to_si(rate, "1/h"), frames)

    def pushed(t):
        left = 1.0 - to_si(rate, "1/h") * t
        return np.where(left > 1e-12, left, 0.0)

    return OldAir(
        rate, pressure, at, float(pushed(at)), float(remaining_old_air(rate, at)), time, pushed(time),
        remaining_old_air(rate, time),
    )  # fmt: skip
