"""What do all openings share? Flow and pressure from their law, and how they keep their numbers."""

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.laws import PowerLaw, TwoTermLaw

__all__ = ["MM_SLIP", "Opening", "anywhere", "set_checked", "sharp_law", "two_term_law"]

MM_SLIP = "If you meant millimetres, write mm(...)."


class Opening:
    """What all openings share; an opening itself says its law in a given air."""

    __slots__ = ()
    warnings = ()

    def law(self, air=CLASSROOM_AIR):
        """Return the flow law of this opening in that air."""
        raise NotImplementedError

    def flow(self, pressure_difference, air=CLASSROOM_AIR):
        """Return the flow through the opening.

        Parameters
        ----------
        pressure_difference : float or array
            Inside minus outside. [Pa]
        air : Air or AirState
            The air that passes.

        Returns
        -------
        float or array
            Positive outwards, odd in the pressure difference. [m3/s]
        """
        return self.law(air).flow(pressure_difference)

    def pressure(self, flow, air=CLASSROOM_AIR):
        """Return the pressure difference that drives a flow.

        Parameters
        ----------
        flow : float or array
            Positive outwards. [m3/s]
        air : Air or AirState
            The air that passes.

        Returns
        -------
        float or array
            Inside minus outside. [Pa]
        """
        return self.law(air).pressure(flow)

    def scaled(self, area_factor):
        """Return the same opening with its area multiplied, shape kept."""
        raise NotImplementedError


def set_checked(opening, **fields):
    """Keep the checked numbers: floats, or arrays where many openings were given at once."""
    for name, value in fields.items():
        object.__setattr__(opening, name, value)


def anywhere(outside):
    """Return whether a comparison holds for any of the openings; quick for a single one."""
    return outside if isinstance(outside, bool) else bool(np.any(outside))


def sharp_law(effective_area, air):
    """Return ``Q = area sqrt(2 p / rho)`` as a law, the area already times its coefficient."""
    return PowerLaw(effective_area * np.sqrt(2.0 / air.density), 0.5)


def two_term_law(creeping, effective_area, air, walls=0.0):
    """Return ``p = creeping Q + rho / (2 area**2) Q**2`` as a law; `walls` as `TwoTermLaw` says."""
    return TwoTermLaw(creeping, air.density / (2.0 * np.square(effective_area)), walls)
