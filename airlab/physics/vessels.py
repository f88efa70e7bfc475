"""What holds the air, and what pushes it out? A rubber balloon, a sealed vessel, a fan-held house.

Each vessel describes its draining by one number x that falls towards zero: stretch minus 1 for
the balloon, pressure for the sealed vessel. `draining` asks for pressure, volume and storage at x.
"""

import math
from dataclasses import dataclass

import numpy as np

from airlab.physics.air import STANDARD_PRESSURE
from airlab.physics.roots import bracketed_root
from airlab.physics.rubber import STIFFENING_WITHOUT_HUMP, free_hole_stretch, rubber_hump
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    require_between,
    require_choice,
    require_positive,
    show,
)

__all__ = ["HOLE_MODES", "Balloon", "FanHeldVolume", "SealedVessel"]

HOLE_MODES = ("rigid", "moves with rubber", "free")


@dataclass(frozen=True, slots=True)
class Balloon:
    """Rubber balloon blown up to a stretch; the rubber supplies the pressure.

    Holes are as measured on the blown-up balloon. A "rigid" hole (a cap on the neck, a taped
    patch) keeps its size; one that "moves with rubber" shrinks as the rubber does; a "free" hole
    in bare rubber shrinks faster still, ``2 x - 1/x**3`` in diameter. This choice changes the time
    by a factor of up to 3, more than anything else.

    Notes
    -----
    `softening` multiplies the pressure: rubber that was blown up before pushes less (0.6 to 1). It
    drops out of every ratio and stretches the time by one over its root.

    References
    ----------
    [MERRITT1978]; [MULLER2004]; [BALLOON_DATA] range of pressures; [HOLE2024] free hole

    Examples
    --------
    >>> balloon = Balloon()
    >>> round(balloon.diameter, 3), round(balloon.volume, 5), round(balloon.pressure_difference)
    (0.282, 0.01169, 2502)
    """

    stretch: float = 4.4
    unstretched_radius: float = 0.032
    stiffness: float = 3750.0
    stiffening: float = 0.10
    softening: float = 1.0
    hole_mode: str = "rigid"
    name: str = "balloon"

    def __post_init__(self):
        stretch = require_between(
            "stretch", self.stretch, 1.0, 12.0, "-", "Stretch is radius over unstretched radius."
        )
        if stretch < 1.01:
            raise InputError(
                f"Stretch is {show(stretch, digits=6)}. It must be 1.01 or more: at 1 the rubber "
                "is slack and pushes nothing out."
            )
        require_between(
            "unstretched_radius", self.unstretched_radius, 1e-3, 5.0, "m",
            "If you meant 32 mm, write mm(32).",
        )  # fmt: skip
        require_between("stiffness", self.stiffness, 1.0, 1e5, "Pa")
        require_between("stiffening", self.stiffening, 0.0, 0.3)
        require_between("softening", self.softening, 0.1, 1.0)
        require_choice("hole_mode", self.hole_mode, HOLE_MODES)

    @classmethod
    def from_diameter(cls, diameter, unstretched_radius=0.032, **more):
        """Return the balloon blown up to a diameter [m]."""
        require_positive("diameter", diameter, "m", "If you meant 28 cm, write 0.28.")
        return cls(diameter / (2.0 * unstretched_radius), unstretched_radius, **more)

    @classmethod
    def from_slack_diameter(cls, slack_diameter, **more):
        """Return the balloon that is so wide [m] when slack."""
        require_positive("slack_diameter", slack_diameter, "m", "If you meant 64 mm, write mm(64).")
        return cls(unstretched_radius=0.5 * slack_diameter, **more)

    @property
    def unstretched_volume(self):
        """Volume of the slack balloon. [m3]."""
        return 4.0 / 3.0 * math.pi * self.unstretched_radius**3

    @property
    def volume(self):
        """Volume at the start. [m3]."""
        return self.unstretched_volume * self.stretch**3

    @property
    def diameter(self):
        """Diameter at the start. [m]."""
        return 2.0 * self.unstretched_radius * self.stretch

    @property
    def pressure_difference(self):
        """Pressure at the start. [Pa]."""
        return float(self.pressure_at(self.stretch - 1.0))

    @property
    def spare(self):
        """Air that can leave before the rubber is slack. [m3]."""
        return self.volume - self.unstretched_volume

    @property
    def start(self):
        """Stretch minus 1 at the start."""
        return self.stretch - 1.0

    def flat(self, share):
        """Return stretch minus 1 at which the volume is that share above the slack volume."""
        return math.expm1(math.log1p(share) / 3.0)

    def half(self):
        """Return stretch minus 1 when half of the spare air has left."""
        return ((1.0 + self.stretch**3) / 2.0) ** (1.0 / 3.0) - 1.0

    def pressure_at(self, x):
        """Return the pressure difference at stretch minus 1. [Pa]."""
        # 1/s - 1/s**7 written so that nothing is subtracted near the slack state
        maths, s = (math if isinstance(x, float) else np), 1.0 + x
        rise = -maths.expm1(-6.0 * maths.log1p(x)) / s
        return self.softening * self.stiffness * rise * (1.0 + self.stiffening * s * s)

    def volume_at(self, x):
        """Return the volume at stretch minus 1. [m3]."""
        return self.unstretched_volume * (1.0 + x) ** 3

    def storage_at(self, x):
        """Return the volume that leaves per unit of stretch. [m3]."""
        return 3.0 * self.unstretched_volume * (1.0 + x) ** 2

    def last_at_pressure(self, pressure_difference):
        """Return stretch minus 1 when the pressure falls through a value for the last time."""
        peak = rubber_hump(self.stiffening)[0]
        top = self.start if peak is None else min(peak - 1.0, self.start)
        if self.pressure_at(top) <= pressure_difference:
            return None
        x = 0.0  # Newton from the slack side, where the curve bends one way only
        for _ in range(40):
            over = self.pressure_at(x) - pressure_difference
            step = over / self._slope_at(x)
            x = min(max(x - step, 0.0), top)
            if abs(step) <= 1e-15 * x:
                return float(x)
        return float(bracketed_root(lambda z: self.pressure_at(z) - pressure_difference, 0.0, top))

    def _slope_at(self, x):
        s, c = 1.0 + x, self.stiffening
        slope = -(s**-2) + 7.0 * s**-8 + c * (1.0 + 5.0 * s**-6)
        return self.softening * self.stiffness * slope

    def hole_factor(self, x, mode):
        """Return the area of a hole over its area at the start."""
        if mode == "rigid":
            return 1.0
        if mode == "moves with rubber":
            return ((1.0 + x) / self.stretch) ** 2
        return (free_hole_stretch(1.0 + x) / free_hole_stretch(self.stretch)) ** 2

    @property
    def most_hole_area(self):
        """Largest hole area that makes sense: the cross-section. [m2]."""
        return math.pi / 4.0 * self.diameter**2

    @property
    def warnings(self):
        """What lies outside the range of the model."""
        found = []
        if self.stretch > 6.0:
            found.append("Stretch above 6: rubber locks or bursts before that.")
        if self.stiffening > STIFFENING_WITHOUT_HUMP:
            found.append(
                f"Stiffening above {show(STIFFENING_WITHOUT_HUMP)}: the pressure only rises with "
                "size; a real balloon has a hump."
            )
        if self.pressure_difference > 5000.0:
            found.append("Above 5000 Pa: measured balloons range from 2000 to 5000 Pa.")
        if self.hole_mode == "free":
            found.append("A hole in bare rubber can tear: tape the spot first.")
        return tuple(found)


class _Stiff:
    """Walls that keep the volume and every hole as they are."""

    __slots__ = ()

    def __post_init__(self):
        require_between("internal_volume", self.internal_volume, 1e-9, 1e8, "m3",
                        "If you meant 10 litres, write to_si(10, 'L').")  # fmt: skip
        require_positive("pressure_difference", self.pressure_difference, "Pa")
        require_between("pressure_difference", self.pressure_difference, 0.0, 1e5, "Pa")

    @property
    def volume(self):
        """Volume of the vessel. [m3]."""
        return self.internal_volume

    @property
    def hole_mode(self):
        """Holes in a stiff wall keep their size."""
        return "rigid"

    @property
    def most_hole_area(self):
        """Largest hole area that makes sense: one side of a cube of this volume. [m2]."""
        return self.internal_volume ** (2.0 / 3.0)

    @property
    def warnings(self):
        """Nothing lies outside the range of the model."""
        return ()


@dataclass(frozen=True, slots=True)
class SealedVessel(_Stiff):
    """Jar or house with the fan off: only compressed air (and a bulging skin) pushes air out.

    ``(V/(kappa P) + skin_compliance) dp/dt = -Q(p)``. kappa 1 keeps the temperature, 1.4 lets the
    air cool; the truth lies between.

    Examples
    --------
    >>> house = SealedVessel(500.0)
    >>> round(1000 * house.spare)
    247
    """

    internal_volume: float
    pressure_difference: float = PRESSURE_REFERENCE
    kappa: float = 1.0
    skin_compliance: float = 0.0
    atmosphere: float = STANDARD_PRESSURE
    name: str = "sealed vessel"

    def __post_init__(self):
        _Stiff.__post_init__(self)
        require_between("kappa", self.kappa, 1.0, 1.4)
        require_positive("skin_compliance", self.skin_compliance, "-", "", allow_zero=True)
        require_between("atmosphere", self.atmosphere, 3e4, 2e5, "Pa")

    @property
    def storage(self):
        """Air that leaves per pascal. [m3]."""
        return self.internal_volume / (self.kappa * self.atmosphere) + self.skin_compliance

    @property
    def spare(self):
        """Air that must leave for the pressure to vanish. [m3]."""
        return self.storage * self.pressure_difference

    @property
    def start(self):
        """Pressure at the start."""
        return self.pressure_difference

    def flat(self, share):
        """Return the pressure that is that share of the start."""
        return share * self.pressure_difference

    def half(self):
        """Return half the pressure of the start."""
        return 0.5 * self.pressure_difference

    def pressure_at(self, x):
        """Return the pressure difference: x itself. [Pa]."""
        return x

    def volume_at(self, x):
        """Return the spare air that is left. [m3]."""
        return self.storage * x

    def storage_at(self, x):
        """Return the air that leaves per pascal. [m3]."""
        return self.storage

    def last_at_pressure(self, pressure_difference):
        """Return the pressure itself, None if the start is below it."""
        return pressure_difference if self.pressure_difference > pressure_difference else None

    def hole_factor(self, x, mode):
        """Return 1: holes in a stiff wall keep their size."""
        return 1.0

    @property
    def warnings(self):
        """What lies outside the range of the model."""
        if self.pressure_difference > 1000.0:
            return ("Above 1000 Pa: the air's own density change is left out, about 1 % per kPa.",)
        return ()


@dataclass(frozen=True, slots=True)
class FanHeldVolume(_Stiff):
    """House with a fan that keeps the pressure: the flow stays the same.

    Examples
    --------
    >>> FanHeldVolume(300.0).pressure_difference
    50.0
    """

    internal_volume: float
    pressure_difference: float = PRESSURE_REFERENCE
    name: str = "house"
