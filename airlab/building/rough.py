"""What can be said in the first three minutes, before any room has been measured?

Floor area, mean height and a target give an allowance, the size of all holes together, and the
flow to expect on the day. Everything here is ROUGH until rooms are entered.
"""

import math
from dataclasses import dataclass, replace

from airlab.building.exponent import FLOW_EXPONENT
from airlab.building.geometry import Geometry
from airlab.building.metrics import leakage_flow_from, metric, metric_value
from airlab.words import (
    InputError,
    display_unit,
    from_si,
    require_between,
    require_choice,
    require_positive,
    show,
    show_range,
)

__all__ = ["ROUGH_TARGETS", "STAGE_CHANGES", "RoughStart", "rough_start"]

ROUGH_TARGETS = ("n50", "qE50")
_PLAN_RATIO = 1.5  # length over width of the assumed plan [AIRLAB]
# Final result over mid-build result, lowest and highest of the published stage pairs:
# 0.13 / 0.20 in a self-build diary of 2016, 3.9 / 3.2 in a trade blog of 2022 [STAGE_PAIRS].
STAGE_CHANGES = (0.13 / 0.20, 3.9 / 3.2)

_DAY = (
    "The range on the day comes from two published houses, one tighter and one leakier at the end "
    "than at mid-build; it needs a complete airtight layer."
)


def _shape(house, storeys, units="metric"):
    words = "1 storey" if storeys == 1 else f"{storeys} storeys"
    unit = display_unit("m2", units)
    area = show(from_si(house.envelope_area, unit), unit)
    return f"Assumed: a box of {words}, plan 3 : 2, no party walls, envelope {area}."


@dataclass(frozen=True, slots=True)
class RoughStart:
    """A rough start: assumed box, allowance, holes, flow to expect on the day.

    `allowance` and `expected_low`, `expected_high` are flows at 50 Pa [m3/s]; `hole_area` [m2] is
    one sharp-edged hole that passes the allowance.
    """

    geometry: Geometry
    metric: str
    value: float
    storeys: int
    flow_exponent: float
    allowance: float
    hole_area: float
    expected_low: float
    expected_high: float
    assumptions: tuple[str, ...]
    heading: str = "ROUGH: no rooms entered yet"

    def sentence(self, units="metric"):
        """Return allowance, holes and expected flow in words, marked ROUGH."""
        flow, hole = display_unit("m3/s", units), "in2" if units == "us" else "cm2"
        one = metric(self.metric)
        low, high = (from_si(q, flow) for q in (self.expected_low, self.expected_high))
        per = "" if one.basis == "volume" else f" of {one.basis}"
        return (
            f"ROUGH. {show(self.value, one.unit)}{per} {one.at_pressure} allows "
            f"{show(from_si(self.allowance, flow), flow)} at 50 Pa. All holes together may be "
            f"one sharp-edged hole of {show(from_si(self.hole_area, hole), hole)}. On the day of the check a house that ends "
            f"exactly there may show {show_range(low, high, flow)} at 50 Pa. "
            f"{_shape(self.geometry, self.storeys, units)} {_DAY}"
        )


def rough_start(floor_area, mean_height, metric_key, value, storeys=2, flow_exponent=FLOW_EXPONENT):
    """Return a rough start from floor area, mean height and a target whose unit was picked.

    ``V = A_F·h``; plan of 3 : 2, so that ``A_E = 2·A_F/k + 2·(L + W)·k·h`` for k storeys.

    Parameters
    ----------
    floor_area : float
        Floor area of all storeys together. [m2]
    mean_height : float
        Mean height, floor to ceiling. [m]
    metric_key : str
        "n50" for a target per hour, "qE50" for a target per m² of envelope.
    value : float
        The target, in 1/h or in m³/(h·m²).
    storeys : int
        Number of storeys of the assumed box.
    flow_exponent : float
        Exponent of the power law. [-]

    Returns
    -------
    RoughStart
        Allowance, holes, flow to expect; assumptions in words.

    Raises
    ------
    InputError
        If the unit of the target was not picked, or a size is not that of a house.

    Notes
    -----
    The flow on the day divides the allowance by the change from mid-build to final test in the
    published stage pairs, which go both ways. It holds only where the airtight layer is complete.

    References
    ----------
    [AIRLAB] the shape is an assumption.
    [STAGE_PAIRS] two single houses, no distribution.

    Examples
    --------
    >>> rough_start(140.0, 2.5, "n50", 1.0).sentence()[:76]
    'ROUGH. 1 /h at 50 Pa allows 350 m³/h at 50 Pa. All holes together may be one'
    """
    if metric_key not in ROUGH_TARGETS:
        raise InputError(
            f"The unit of the target is {metric_key!r}. Pick one: 'n50' is per hour, 'qE50' is "
            "m³ per hour and per m² of envelope. The same number means two different houses."
        )
    require_positive("floor_area", floor_area, "m2")
    slip = "Type metres: 240 cm is 2.4." if mean_height and mean_height > 10 else ""
    require_between("mean_height", mean_height, 1.5, 10.0, "m", slip)
    require_between("target", value, 0.05, 30.0, metric(metric_key).unit)
    require_choice("storeys", storeys, (1, 2, 3, 4))
    plan = floor_area / storeys
    width = math.sqrt(plan / _PLAN_RATIO)
    walls = 2.0 * width * (1.0 + _PLAN_RATIO) * storeys * mean_height
    house = Geometry(
        internal_volume=floor_area * mean_height,
        envelope_area=2.0 * plan + walls,
        floor_area=floor_area,
        lowest_floor_area=plan,
        party_area=0.0,
        building_height=storeys * mean_height,
    )
    shape = _shape(house, storeys)
    house = replace(house, assumptions=("ROUGH.", shape))
    flow = leakage_flow_from(metric_key, value, house, flow_exponent)
    ends = sorted(flow / change for change in STAGE_CHANGES)
    return RoughStart(
        house, metric_key, float(value), storeys, flow_exponent, flow,
        metric_value("hole50", flow, unit="m2"), *ends, (shape, _DAY),
    )  # fmt: skip
