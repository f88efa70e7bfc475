"""How does one house stand against many limits at once, all on one axis?

Limits in different metrics become comparable once each is the flow it allows this house.
"""

from dataclasses import dataclass

from airlab.building.exponent import FLOW_EXPONENT
from airlab.building.limits import Limit, Verdict, judge
from airlab.building.metrics import leakage_flow_from
from airlab.words import InputError

__all__ = ["Standing", "standings"]


@dataclass(frozen=True, slots=True)
class Standing:
    """One limit on the axis of this house: the flow at 50 Pa it allows, and the verdict."""

    limit: Limit
    allowed_flow: float | None
    verdict: Verdict

    @property
    def missing(self):
        """What must be entered before the limit can be carried over; empty if nothing."""
        return self.verdict.missing


def standings(leakage_flow, limits, geometry, flow_exponent=FLOW_EXPONENT):
    """Return each limit as the flow it allows this house, the strictest first.

    Parameters
    ----------
    leakage_flow : float
        Leakage flow at 50 Pa that is held against them. [m3/s]
    limits : iterable of Limit
        The limits; rows without a number are passed over.
    geometry : Geometry
        The house.
    flow_exponent : float
        Exponent that brings a limit at another pressure to 50 Pa. [-]

    Returns
    -------
    tuple of Standing
        Limits whose area was not entered come last and say what is missing.

    Examples
    --------
    >>> from airlab.building import Geometry, limits
    >>> from airlab.words import from_si, m3_per_h
    >>> irish = standings(m3_per_h(1000.0), limits("Ireland", ["limit"]), Geometry(353.5, 311.7))
    >>> round(from_si(irish[0].allowed_flow, "m3/h"), 1), irish[0].verdict.meets
    (1558.5, True)
    """
    limits = tuple(limit for limit in limits if limit.value is not None)
    found = [
        Standing(verdict.limit, _allowed(verdict.limit, geometry, flow_exponent), verdict)
        for verdict in judge(leakage_flow, limits, geometry, flow_exponent)
    ]
    return tuple(sorted(found, key=lambda one: (one.allowed_flow is None, one.allowed_flow or 0.0)))


def _allowed(limit, geometry, flow_exponent):
    try:
        return leakage_flow_from(
            limit.metric, limit.value, geometry, flow_exponent, unit=limit.unit
        )
    except InputError:
        return None
