"""May the layer be covered: area by area, and with which number for the house?

Release is per area: an open leak, an uninspected lap or a seal that hides its leak holds an area
back whatever the probability. The number is for the house: by the drift, and where there is a
budget by that too; the lower decides. A person decides and signs.
"""

from dataclasses import dataclass, replace
from functools import cache

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.budget_number import BudgetNumber
from airlab.leak_check.house_number import (
    HouseNumber,
    Moved,
    goal_flow,
    house_number,
    most_moving,
)
from airlab.leak_check.leak import ACCEPTED
from airlab.leak_check.log import Log
from airlab.leak_check.prepare import preparation
from airlab.leak_check.readings import STAGES, correct_reading, final_flow
from airlab.leak_check.stage import areas_at, layer_state, touched_by
from airlab.words import InputError, require_between, show_percent
from airlab.words.saying import listed

__all__ = [
    "VERDICTS",
    "AreaRelease",
    "Release",
    "release",
]

GO, CONDITIONS, NOT_YET, NO_NUMBER = VERDICTS = (
    "GO", "GO WITH CONDITIONS", "NOT YET", "NO NUMBER",
)  # fmt: skip
ALREADY = "ALREADY COVERED"
_MOST_NAMES = 8  # areas named in the sentence; the page lists every one
# Kinds of area an opening passes through, by its kind or else by its height.
_THROUGH = {
    "window": ("window", "wall"), "door": ("door", "wall"), "hatch": ("hatch", "ceiling", "roof"),
    "drain": ("floor", "party floor"),
}  # fmt: skip
_SIDE = ("wall", "party wall", "floor edge", "other")
_AT_HEIGHT = {
    "low": ("floor", "party floor", *_SIDE), "mid": _SIDE,
    "high": ("ceiling", "roof", "party floor", *_SIDE),
}  # fmt: skip


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
    by_budget : BudgetNumber or None
        The number by the budget beside it; None without a budget or a number.
    """

    verdict: str
    areas: tuple[AreaRelease, ...]
    number: HouseNumber | None
    confidence: float
    reasons: tuple[str, ...]
    conditions: tuple[str, ...]
    moved: tuple[Moved, ...]
    assumptions: Assumptions
    by_budget: BudgetNumber | None = None

    @property
    def probability(self):
        """Probability that the final flow is within the limit, the lower of both. [-]."""
        if self.by_budget is not None:
            return self.by_budget.lower
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
            parts += [self.by_budget.sentence(units)] if self.by_budget else []
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
    weigh=True,
    ask=None,
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
    weigh : bool
        Whether to work out which assumptions move the probability most.
    ask : callable or None
        Asks the budget, see `budget_asker`; None without one.

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
    which errs towards NOT YET. The lower of drift and budget decides. Too few houses of the budget
    near the reading are no number: the drift decides, on a condition that says so. A final test that
    missed the limit is NOT YET until a final test keeps it.

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
    number = house_number(*parts, given)
    state = layer_state(areas, trades, given)
    stops = hazards.reasons if hazards else ()
    reasons = list(stops)
    if not state.number_counts:
        reasons.append(state.sentence())
    elif not readings:
        reasons.append("No reading yet: search and read first.")
    elif number is None:
        reasons.append("The last reading is under 10 Pa or final: no number to build on.")
    final = final_flow(
        correct_reading(one, given, direction=direction)
        for one in readings
        if one.stage == STAGES[3]
    )
    missed = final is not None and final > goal_flow(limit, geometry, given)
    if missed:  # no reading before it counts any more
        number, reasons = None, [*stops, "The final test missed the limit: mend, then test again."]
    by_budget = ask(number, given) if ask and number else None
    chance = by_budget.lower if by_budget else number and number.probability
    sure = number is not None and chance >= confidence
    blockers = _blockers(areas, log, openings, junctions, holes)
    decided = tuple(
        _area(area, tuple(blockers[area.area]), bool(stops), number, sure, missed) for area in areas
    )
    conditions = _conditions(log, openings, trades, junctions, areas)
    if by_budget and by_budget.probability is None:
        conditions.append(f"The drift decides alone: {by_budget.why}.")
    held = [one.area for one in decided if one.verdict == NOT_YET]
    free = [one for one in decided if one.verdict == GO]
    if number is not None and not sure:
        which = "drift" if chance == number.probability else "budget"
        by = f" by the {which}" if by_budget else ""
        said = f"{show_percent(chance)}{by} is less than the {show_percent(confidence)} wanted."
        reasons.append(said[:1].upper() + said[1:])
    if stops or missed:
        verdict = NOT_YET
    elif number is None:
        verdict = NO_NUMBER
    elif not sure or not free:
        verdict = NOT_YET
    else:
        verdict = CONDITIONS if conditions or held else GO
    if not held and not free and sure:
        reasons.append("Every area is covered already: nothing is left to release.")
    if held and (sure or number is None) and not missed:
        reasons.append(f"Not yet: {listed(held, most=_MOST_NAMES)}.")
    if verdict == CONDITIONS:
        decided = tuple(replace(o, verdict=CONDITIONS) if o.verdict == GO else o for o in decided)
    moved = most_moving(parts, given, number, ask) if number and weigh else ()
    return Release(
        verdict,
        decided,
        number,
        confidence,
        tuple(reasons),
        tuple(conditions),
        moved,
        given,
        by_budget,
    )


def _area(area, blockers, stopped, number, sure, missed):
    if area.status == "covered" and not blockers:
        return AreaRelease(area.area, area.room, ALREADY)
    if stopped:
        blockers = ("A hazard stops the fan: no go.", *blockers)
    if blockers:
        if area.status == "covered":
            blockers = ("It is covered already.", *blockers)
        return AreaRelease(area.area, area.room, NOT_YET, blockers)
    if missed:
        why = "Nothing open is known here; the final test missed the limit."
        return AreaRelease(area.area, area.room, NOT_YET, (why,))
    if number is None:
        why = "Nothing open is known here, and no number stands behind it."
        return AreaRelease(area.area, area.room, NO_NUMBER, (why,))
    if not sure:
        why = "Nothing open is known here; the number for the house is not good enough."
        return AreaRelease(area.area, area.room, NOT_YET, (why,))
    return AreaRelease(area.area, area.room, GO)


def _blockers(areas, log, openings, junctions, holes):
    """Return {area: [why it may not be covered]}."""
    found = {area.area: [] for area in areas}

    def block(touched, why):
        for area in touched or areas:
            found[area.area].append(why)

    @cache
    def at(name, room=""):
        return areas_at(areas, name, room)

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
    if not ready.counts_match:
        left = ready.seals - ready.removed
        found.append(f"Take off {left} seal{'s' if left > 1 else ''} for the day and count them.")
    for junction in junctions:
        if not junction.closed and not touched_by(junction, areas):
            found.append(f"Junction {junction.junction} is open and names no area of this house.")
    return found
