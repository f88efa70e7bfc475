"""May the layer be covered: area by area, and with which number for the house?

Release is per area: an open leak, an uninspected lap or a seal that hides its leak holds an area
back whatever the probability. The number is for the house. A person decides and signs.
"""

from dataclasses import dataclass, replace

from airlab.building import leakage_flow_from
from airlab.leak_check.assumptions import Assumption, Assumptions
from airlab.leak_check.drift import combined_spread, pass_mark, probability_final
from airlab.leak_check.expected import HolesToCome, holes_to_come
from airlab.leak_check.log import ACCEPTED, Log
from airlab.leak_check.prepare import preparation
from airlab.leak_check.readings import HouseFlow, correct_reading, house_flow
from airlab.leak_check.route import touched_by
from airlab.leak_check.saying import listed, said, same
from airlab.leak_check.stage import LayerState, layer_state
from airlab.physics.openings import RoundHole
from airlab.words import PRESSURE_REFERENCE, InputError, require_between, show, show_percent

__all__ = [
    "VERDICTS",
    "AreaRelease",
    "HouseNumber",
    "Moved",
    "Release",
    "final_geometry",
    "goal_flow",
    "release",
]

GO, CONDITIONS, NOT_YET, NO_NUMBER = VERDICTS = (
    "GO", "GO WITH CONDITIONS", "NOT YET", "NO NUMBER",
)  # fmt: skip
ALREADY = "ALREADY COVERED"
_MOST_NAMES = 8  # areas named in the sentence; the page lists every one
_LEAST_PRESSURE = 10.0  # Pa; below it wind and zero weigh too heavily
# Kinds of area an opening passes through, by its kind or else by its height.
_THROUGH = {
    "window": ("window", "wall"), "door": ("door", "wall"), "hatch": ("hatch", "ceiling", "roof"),
    "drain": ("floor", "party floor"),
}  # fmt: skip
_SIDE = ("wall", "party wall", "other")
_AT_HEIGHT = {
    "low": ("floor", "party floor", *_SIDE), "mid": _SIDE,
    "high": ("ceiling", "roof", "party floor", *_SIDE),
}  # fmt: skip


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

    @property
    def added_flow(self):
        """Everything still to be added at 50 Pa. [m3/s]."""
        return sum(one.flow for one in self.holes) + self.hidden_flow + self.register_flow

    def sentence(self, units="metric"):
        """Return probability, limit, sizes and headroom in words."""
        area = f" and {said(self.final_area, 'm2', units)} of envelope" if self.final_area else ""
        text = (
            f"The final test keeps the limit with a probability of {show_percent(self.probability)}. "
            f"The limit is {said(self.limit_flow, 'm3/s', units)} at 50 Pa, with the final "
            f"{said(self.final_volume, 'm3', units)} of air{area}. {self.house.sentence(units)} "
            f"{self.state.sentence(units)}"
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
class AreaRelease:
    """Whether one area may be covered, and why not."""

    area: str
    room: str
    verdict: str
    reasons: tuple[str, ...] = ()

    def sentence(self, units="metric"):
        """Return the verdict of the area in words."""
        return " ".join((f"{self.area} ({self.room}): {self.verdict}.", *self.reasons))


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
        unit = self.assumption.unit
        return (
            f"{self.assumption.sentence(units)} With {show(self.low, unit)} the probability is "
            f"{show_percent(self.at_low)}, with {show(self.high, unit)} {show_percent(self.at_high)}."
        )


@dataclass(frozen=True, slots=True)
class Release:
    """The decision: per area and for the house.

    Parameters
    ----------
    verdict : str
        One of `VERDICTS`.
    areas : tuple of AreaRelease
        Every counted area.
    number : HouseNumber or None
        None where there is no number to decide on.
    confidence : float
        How sure one wants to be. [-]
    reasons, conditions : tuple of str
        Why; what must be kept.
    moved : tuple of Moved
        The three assumptions that move the probability most.
    assumptions : Assumptions
        All of them.
    """

    verdict: str
    areas: tuple[AreaRelease, ...]
    number: HouseNumber | None
    confidence: float
    reasons: tuple[str, ...]
    conditions: tuple[str, ...]
    moved: tuple[Moved, ...]
    assumptions: Assumptions

    @property
    def probability(self):
        """Probability that the final flow is within the limit; None without a number. [-]."""
        return self.number.probability if self.number else None

    @property
    def supported(self):
        """Names of the areas that the evidence supports covering."""
        return tuple(one.area for one in self.areas if one.verdict in (GO, CONDITIONS))

    def sentence(self, units="metric"):
        """Return the decision in words; a person decides and signs."""
        parts = [f"{self.verdict}."]
        if self.supported:
            names = listed(self.supported, most=_MOST_NAMES)
            parts = [f"{self.verdict}: evidence supports covering: areas {names}."]
        parts += self.reasons
        if self.number:
            parts.append(self.number.sentence(units))
            parts.append(f"Wanted: {show_percent(self.confidence)}.")
        if self.conditions and self.supported:
            parts.append("Conditions: " + " ".join(self.conditions))
        parts.append(
            "An estimate, not a certificate. A person decides and signs; a new hole ends a release."
        )
        return " ".join(parts)


def release(
    areas,
    geometry,
    limit,
    readings=(),
    log=None,
    openings=(),
    trades=(),
    holes=(),
    junctions=(),
    hazards=None,
    assumptions=None,
    confidence=0.9,
    direction=None,
):
    """Return which areas may be covered, and the number for the house.

    Parameters
    ----------
    areas : iterable of EnvelopeElement
        Areas that are counted, each with its status.
    geometry : Geometry
        Today's sizes.
    limit : dict
        `metric`, `value`, and a `name`.
    readings : iterable of Reading
        Readings so far; the last counts.
    log : Log or None
        Leaks found and what was done.
    openings, trades, holes, junctions : iterable
        Seals for the day, trades to come, holes made since, joints.
    hazards : HazardVerdict or None
        What stops the fan stops a go; None is not asked.
    assumptions : Assumptions or None
        Drift, uncertainty, holes.
    confidence : float
        How sure one wants to be. [-]
    direction : str or None
        Used for a reading without one.

    Returns
    -------
    Release
        Verdict per area and for the house, with reasons.

    Raises
    ------
    InputError
        If there is no area or no limit, or the confidence is not 0.5 to 0.999.

    Notes
    -----
    Final flow = today's flow x drift + holes to come + leaks behind seals + open holes of the
    register. The drift for services expects some new holes already; the listed ones come on top,
    which errs towards NOT YET.

    References
    ----------
    [AIRLAB] drift; [STAGE_PAIRS], [HOLOS_BEST2] published pairs go both ways.
    """
    given, log = assumptions or Assumptions(), log or Log()
    areas, readings, holes = tuple(areas), tuple(readings), tuple(holes)
    require_between("confidence", confidence, 0.5, 0.999, "-", "If you meant 90 %, write 0.9.")
    if not areas:
        raise InputError("The envelope has no areas. Enter the areas before anything is released.")
    parts = (areas, geometry, limit, readings, openings, trades, holes, confidence, direction)
    number = _number(*parts, given)
    state = layer_state(areas, trades, given)
    stops = hazards.reasons if hazards else ()
    reasons = list(stops)
    if not state.number_counts:
        reasons.append(state.sentence())
    elif not readings:
        reasons.append("No reading yet: search and read first.")
    elif number is None:
        reasons.append("The last reading is under 10 Pa or final: no number to build on.")
    sure = number is not None and number.probability >= confidence
    blockers = _blockers(areas, log, openings, junctions, holes)
    decided = tuple(
        _area(area, tuple(blockers[area.area]), bool(stops), number, sure) for area in areas
    )
    conditions = _conditions(log, openings, trades, junctions, areas)
    held = [one.area for one in decided if one.verdict == NOT_YET]
    free = [one for one in decided if one.verdict == GO]
    if number is not None and not sure:
        reasons.append(
            f"{show_percent(number.probability)} is less than the {show_percent(confidence)} wanted."
        )
    if stops:
        verdict = NOT_YET
    elif number is None:
        verdict = NO_NUMBER
    elif not sure or not free:
        verdict = NOT_YET
    else:
        verdict = CONDITIONS if conditions or held else GO
    if held and (sure or number is None):
        reasons.append(f"Not yet: {listed(held, most=_MOST_NAMES)}.")
    if verdict == CONDITIONS:
        decided = tuple(replace(o, verdict=CONDITIONS) if o.verdict == GO else o for o in decided)
    moved = _moved(parts, given, number) if number else ()
    return Release(
        verdict, decided, number, confidence, tuple(reasons), tuple(conditions), moved, given
    )


def _area(area, blockers, stopped, number, sure):
    if area.status == "covered" and not blockers:
        return AreaRelease(area.area, area.room, ALREADY)
    if stopped:
        blockers = ("A hazard stops the fan: no go.", *blockers)
    if blockers:
        if area.status == "covered":
            blockers = ("It is covered already.", *blockers)
        return AreaRelease(area.area, area.room, NOT_YET, blockers)
    if number is None:
        why = "Nothing open is known here, and no number stands behind it."
        return AreaRelease(area.area, area.room, NO_NUMBER, (why,))
    if not sure:
        why = "Nothing open is known here; the number for the house is not good enough."
        return AreaRelease(area.area, area.room, NOT_YET, (why,))
    return AreaRelease(area.area, area.room, GO)


def _number(
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
    extra = (given["test_uncertainty"], house.exponent_part)
    chance = probability_final(house.flow_50, limit_flow, *drift, *extra, added)
    passes = max(limit_flow - added, 0.0) * float(pass_mark(*drift, confidence, *extra))
    return HouseNumber(
        chance, house, limit_flow, final.internal_volume, final.envelope_area, state, come, hidden,
        register, float(combined_spread(state.drift_spread, *extra)), passes,
        passes - house.flow_50,
    )  # fmt: skip


def _moved(parts, given, number):
    """Return the three assumptions that move the probability most."""
    found = []
    for entry in given.entries:
        ends, chances = given.swing(entry.key), []
        for value in ends:
            try:
                other = _number(*parts, given.changed(**{entry.key: value}))
            except InputError:
                other = number
            chances.append(other.probability if other else number.probability)
        swing = max(abs(chance - number.probability) for chance in chances)
        found.append((swing, Moved(entry, *ends, *chances)))
    found.sort(key=lambda pair: -pair[0])
    return tuple(moved for swing, moved in found[:3] if swing > 1e-6)


def _blockers(areas, log, openings, junctions, holes):
    """Return {area: [why it may not be covered]}."""
    found = {area.area: [] for area in areas}

    def block(touched, why):
        for area in touched or areas:
            found[area.area].append(why)

    def at(name, room=""):
        named = [a for a in areas if name and same(a.area) == same(name)]
        return named or [a for a in areas if room and same(a.room) == same(room)]

    for area in areas:
        if area.status == "not started":
            block([area], "Its layer is not started.")
        elif area.status == "open laps":
            block([area], "Its laps are open.")
    for junction in junctions:
        if not junction.closed:
            touched = touched_by(junction, areas)
            if touched:
                block(touched, f"Junction {junction.junction} is not closed and looked at.")
    for leak in log.blocking:
        lost = "" if at(leak.area, leak.room) else " It names no area of this house."
        block(at(leak.area, leak.room), leak.sentence() + lost)
    for line in preparation(openings).hiding:
        o = line.opening
        if not o.removed:
            in_room = at(o.name, o.room)
            kinds = _THROUGH.get(o.kind) or _AT_HEIGHT.get(o.height)
            through = [a for a in in_room if kinds and a.kind in kinds]
            block(through or in_room, f"The seal at {o.name} hides its leak.")
    for hole in holes:
        if not hole.sealed_with or not hole.checked:
            state = "sealed but not looked at" if hole.sealed_with else "open"
            block(at(hole.area), f"Hole {hole.name} is {state}: it ends the release here.")
    return found


def _conditions(log, openings, trades, junctions, areas):
    found = []
    accepted = [leak for leak in log.leaks if leak.state == ACCEPTED]
    if accepted:
        found.append(" ".join(leak.sentence() for leak in accepted))
    come = [t for t in trades if t.holes_expected]
    if come:
        names = listed([t.name for t in come])
        found.append(f"Every hole by {names} is entered, sealed and looked at before it is hidden.")
    unbriefed = [t.name for t in come if not t.briefed]
    if unbriefed:
        found.append(f"Brief {listed(unbriefed)} first.")
    ready = preparation(openings)
    left = ready.seals - ready.removed
    if left:
        found.append(f"Take off {left} seal{'s' if left > 1 else ''} for the day and count them.")
    for junction in junctions:
        if not junction.closed and not touched_by(junction, areas):
            found.append(f"Junction {junction.junction} is open and names no area of this house.")
    return found
