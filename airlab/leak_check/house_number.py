"""How sure is it that the final test keeps the limit, and what would change that most?"""

from dataclasses import dataclass, replace
from math import hypot

from airlab.building import leakage_flow_from
from airlab.leak_check.assumptions import Assumption, Assumptions
from airlab.leak_check.drift import combined_spread, pass_mark, probability_final
from airlab.leak_check.expected import HolesToCome, holes_to_come
from airlab.leak_check.prepare import has_film, preparation
from airlab.leak_check.readings import HouseFlow, correct_reading, house_flow
from airlab.leak_check.stage import LayerState, layer_state
from airlab.physics.openings import RoundHole
from airlab.words import PRESSURE_REFERENCE, InputError, show_percent
from airlab.words.saying import said

__all__ = ["HouseNumber", "Moved", "final_geometry", "goal_flow", "house_number", "most_moving"]

# Assumptions of the plan and the gain, which the number does not read.
_NOT_READ = (
    "bad_day",
    "open_laps",
    "open_joint",
    "not_started",
    "repeat",
    "other_people",
    "zero",
    "camera",
    "fix_days",
)
_LEAST_PRESSURE = 10.0  # Pa; below it wind and zero weigh too heavily


def final_geometry(geometry, assumptions=None):
    """Return the geometry at the end of the build: volume and envelope by their ratios."""
    given = assumptions or Assumptions()
    area = geometry.envelope_area
    return replace(
        geometry,
        internal_volume=geometry.internal_volume * given["final_volume_ratio"],
        envelope_area=area and area * given["final_area_ratio"],
    )


def goal_flow(goal, geometry, assumptions=None):
    """Return the flow at 50 Pa a target or limit allows at the end, with the final sizes.

    Parameters
    ----------
    goal : dict
        `metric` and `value` in the metric's unit.
    geometry : Geometry
        Today's sizes.
    assumptions : Assumptions or None
        Flow exponent, final over today's sizes.

    Returns
    -------
    float
        Leakage flow at 50 Pa. [m3/s]

    Raises
    ------
    InputError
        If there is no goal, or a size it needs is missing.
    """
    if not goal or goal.get("value") is None:
        raise InputError("No target is set. Choose a metric with its unit, and a value.")
    given = assumptions or Assumptions()
    return float(
        leakage_flow_from(
            goal["metric"], goal["value"], final_geometry(geometry, given), given["flow_exponent"]
        )
    )


@dataclass(frozen=True, slots=True)
class HouseNumber:
    """The number for the house: how sure it is that the final test keeps the limit.

    Parameters
    ----------
    probability : float
        That the final flow is within the limit. [-]
    house : HouseFlow
        Today's leakage flow.
    limit_flow : float
        The limit as a flow at 50 Pa, with the final sizes. [m3/s]
    final_volume, final_area : float or None
        Final internal volume [m3] and envelope area [m2].
    state : LayerState
        State of the layer, with the drift.
    holes : tuple of HolesToCome
        Trades' holes still to come.
    hidden_flow, register_flow : float
        Leaks behind seals; holes of the register left open. At 50 Pa. [m3/s]
    spread : float
        Spread of final over today's flow, as a logarithm. [-]
    pass_flow, headroom : float
        Most that today's reading may be; what is left of it. At 50 Pa. [m3/s]
    limit_name : str
        What the limit is called.
    direction_spread : float
        Spread that one direction alone adds, where film can act as a flap. [-]
    """

    probability: float
    house: HouseFlow
    limit_flow: float
    final_volume: float
    final_area: float | None
    state: LayerState
    holes: tuple[HolesToCome, ...]
    hidden_flow: float
    register_flow: float
    spread: float
    pass_flow: float
    headroom: float
    limit_name: str = ""
    direction_spread: float = 0.0

    @property
    def added_flow(self):
        """Everything still to be added at 50 Pa. [m3/s]."""
        return sum(one.flow for one in self.holes) + self.hidden_flow + self.register_flow

    @property
    def mark(self):
        """What a flow still to come takes of today's mark, as a share of that flow. [-]."""
        room = self.limit_flow - self.added_flow
        return self.pass_flow / room if room > 0.0 else 1.0

    def sentence(self, units="metric"):
        """Return probability, limit, sizes and headroom in words."""
        name = f" ({self.limit_name})" if self.limit_name else ""
        area = f" and {said(self.final_area, 'm2', units)} of envelope" if self.final_area else ""
        text = (
            f"By the drift the chance to keep the limit at the final test is "
            f"{show_percent(self.probability)}. "
            f"The limit{name} is {said(self.limit_flow, 'm3/s', units)} at 50 Pa, with the final "
            f"{said(self.final_volume, 'm3', units)} of air{area}. {self.house.sentence(units)} "
            f"{self.state.sentence(units)}"
        )
        if self.direction_spread:
            text += (
                f" One direction alone adds {show_percent(self.direction_spread)} of spread; reading "
                "the other takes it away."
            )
        if self.added_flow:
            text += (
                f" To be added: {said(self.added_flow, 'm3/s', units)} at 50 Pa for holes and leaks "
                "behind seals, on top of the drift."
            )
        if self.headroom >= 0.0:
            return f"{text} Left for later holes: {said(self.headroom, 'm3/s', units)} at 50 Pa."
        return f"{text} Too much by {said(-self.headroom, 'm3/s', units)} at 50 Pa today."


@dataclass(frozen=True, slots=True)
class Moved:
    """What the probability would be at the plausible ends of one assumption."""

    assumption: Assumption
    low: float
    high: float
    at_low: float
    at_high: float

    def sentence(self, units="metric"):
        """Return the assumption and what it moves."""
        return (
            f"{self.assumption.sentence(units)} With {self.assumption.said(units, self.low)} the chance to keep the "
            f"limit is {show_percent(self.at_low)}; with {self.assumption.said(units, self.high)} it is "
            f"{show_percent(self.at_high)}."
        )


def house_number(
    areas, geometry, limit, readings, openings, trades, holes, confidence, direction, given
):
    """Return the number for the house, None where there is none."""
    state = layer_state(areas, trades, given)
    house = house_flow([correct_reading(one, given, direction=direction) for one in readings])
    limit_flow, final = goal_flow(limit, geometry, given), final_geometry(geometry, given)
    if not state.number_counts or house is None:
        return None
    if min(abs(one.pressure_difference) for one in house.used) < _LEAST_PRESSURE:
        return None
    come = holes_to_come(trades, holes, given)
    hidden = preparation(openings).hidden_flow * given["hidden_share"]
    last = max((one.reading.at for one in house.used if one.reading.at), default=None)
    register = sum(
        float(RoundHole(hole.diameter or given["hole_diameter"]).flow(PRESSURE_REFERENCE))
        for hole in holes
        if not hole.sealed_with and not (last and hole.made_on and hole.made_on < last.date())
    )
    added = sum(one.flow for one in come) + hidden + register
    drift = (state.drift_median, state.drift_spread)
    flaps = not house.both_directions and any(map(has_film, areas))
    one_way = given["one_direction_spread"] if flaps else 0.0
    extra = (given["test_uncertainty"], hypot(house.exponent_part, one_way))
    chance = probability_final(house.flow_50, limit_flow, *drift, *extra, added)
    passes = max(limit_flow - added, 0.0) * float(pass_mark(*drift, confidence, *extra))
    return HouseNumber(
        chance, house, limit_flow, final.internal_volume, final.envelope_area, state, come, hidden,
        register, float(combined_spread(state.drift_spread, *extra)), passes,
        passes - house.flow_50, str(limit.get("name") or ""), one_way,
    )  # fmt: skip


def most_moving(parts, given, number, ask=None):
    """Return the three assumptions that move the probability most; `ask` asks the budget as well."""

    def chance(number, given):
        return ask(number, given).lower if ask else number.probability

    found, now = [], chance(number, given)
    for entry in given.entries:
        if entry.key.startswith("drift_") and entry.key not in number.state.drift_keys:
            continue
        if entry.key.startswith(_NOT_READ):
            continue
        ends, chances = given.swing(entry.key), []
        for value in ends:
            try:
                then = given.changed(**{entry.key: value})
                other = house_number(*parts, then)
            except InputError:
                other = None
            chances.append(chance(other, then) if other else now)
        swing = max(abs(one - now) for one in chances)
        found.append((swing, Moved(entry, *ends, *chances)))
    found.sort(key=lambda pair: -pair[0])
    return tuple(moved for swing, moved in found[:3] if swing > 1e-6)
