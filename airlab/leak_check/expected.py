"""What flow is to be expected at 50 Pa on the day, and what may today's reading be at most?"""

from dataclasses import dataclass

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.drift import pass_mark
from airlab.leak_check.prepare import has_film, preparation
from airlab.leak_check.stage import layer_state, touched_by
from airlab.physics.openings import RoundHole
from airlab.words import PRESSURE_REFERENCE, from_si, require_positive, show, show_percent
from airlab.words.saying import alike, said, said_range

__all__ = ["ExpectedFlow", "ExpectedLine", "HolesToCome", "expected_flow", "holes_to_come"]

_LEAST_SHARE = 0.1  # of the target flow; what is left when seals hide more than is expected


@dataclass(frozen=True, slots=True)
class HolesToCome:
    """Holes one trade will still make, and those of them that stay open.

    Parameters
    ----------
    trade : Trade
        The trade.
    count : int
        Holes still to come: expected less those already in the register.
    share_left_open : float
        Share left open. [-]
    diameter : float
        Diameter of one. [m]
    flow : float
        Flow at 50 Pa through those left open. [m3/s]
    keys : tuple of str
        Assumptions used where the table is silent.
    """

    trade: object
    count: int
    share_left_open: float
    diameter: float
    flow: float
    keys: tuple[str, ...]

    def sentence(self, units="metric"):
        """Return the trade's holes in words."""
        unit = "in" if units == "us" else "mm"
        return (
            f"{self.trade.name}: {self.count} holes of {show(from_si(self.diameter, unit), unit)} "
            f"still to come, {show_percent(self.share_left_open)} left open: {said(self.flow, 'm3/s', units)} "
            "at 50 Pa."
        )


def holes_to_come(trades, holes=(), assumptions=None):
    """Return what each trade's holes will add to the flow at 50 Pa.

    ``Q = (expected - made) share Q_hole(50 Pa)``, each a sharp round hole.

    Parameters
    ----------
    trades : iterable of Trade
        Trades still to come.
    holes : iterable of Hole
        Holes already in the register; they are taken off their trade's count.
    assumptions : Assumptions or None
        Diameter and share left open where the table has none.

    Returns
    -------
    tuple of HolesToCome
        Trades with no hole left to make are not in it.
    """
    given, found = assumptions or Assumptions(), []
    made = [alike(hole.trade) for hole in holes]
    for trade in trades:
        count = max(trade.holes_expected - made.count(alike(trade.name)), 0)
        if not count:
            continue
        keys = []
        share, diameter = trade.share_left_open, trade.hole_diameter
        if share is None:
            keys.append("left_open_briefed" if trade.briefed else "left_open_unbriefed")
            share = given[keys[-1]]
        if not diameter:
            keys.append("hole_diameter")
            diameter = given["hole_diameter"]
        one = float(RoundHole.from_diameter(diameter).flow(PRESSURE_REFERENCE))
        found.append(HolesToCome(trade, count, share, diameter, count * share * one, tuple(keys)))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class ExpectedLine:
    """One part of the expected flow: what, of which kind, lowest and highest [m3/s], why."""

    what: str
    kind: str
    low: float
    high: float
    why: str


@dataclass(frozen=True, slots=True)
class ExpectedFlow:
    """The flow to expect at 50 Pa on the day, part by part.

    Parameters
    ----------
    low, high : float
        Range at 50 Pa on the day. [m3/s]
    lines : tuple of ExpectedLine
        Areas, seals and openings that make up the range.
    state : LayerState
        State of the layer.
    holes : tuple of HolesToCome
        Trades' holes still to come.
    hidden_flow : float
        Leaks behind seals for the day, counted at the end. [m3/s]
    final_low, final_high : float or None
        The range carried to the end: drift, holes, hidden leaks; None without a number. [m3/s]
    pass_flow : float or None
        Today's reading must not be above this to be as sure as wanted of the limit; 0 if holes and
        hidden leaks alone use the limit up; None without a number. [m3/s]
    confidence : float
        How sure. [-]
    warnings : tuple of str
        What to look at.
    """

    low: float
    high: float
    lines: tuple[ExpectedLine, ...]
    state: object
    holes: tuple[HolesToCome, ...]
    hidden_flow: float
    final_low: float | None
    final_high: float | None
    pass_flow: float | None
    confidence: float
    warnings: tuple[str, ...] = ()

    @property
    def holes_flow(self):
        """Flow at 50 Pa through all holes to come that stay open. [m3/s]."""
        return sum(one.flow for one in self.holes)

    def compare(self, flow_50):
        """Return where a reading at 50 Pa [m3/s] lies: below, inside or above the range."""
        return "below" if flow_50 < self.low else "above" if flow_50 > self.high else "inside"

    def sentence(self, units="metric"):
        """Return range, later range and today's aim in words."""
        text = f"Expect {said_range(self.low, self.high, 'm3/s', units)} at 50 Pa on the day."
        if self.final_low is None:
            return f"{text} {self.state.sentence(units)}"
        text += f" At the end that would be {said_range(self.final_low, self.final_high, 'm3/s', units)}"
        text += (
            f", with {said(self.holes_flow, 'm3/s', units)} through holes still to come."
            if self.holes
            else "."
        )
        if self.pass_flow > 0.0:
            text += (
                f" To be {show_percent(self.confidence)} sure of the limit, read at most "
                f"{said(self.pass_flow, 'm3/s', units)} at 50 Pa today."
            )
        else:
            text += " Holes to come and leaks behind seals alone use up the limit."
        return " ".join((text, *self.warnings))


def expected_flow(
    target_flow,
    areas,
    openings=(),
    trades=(),
    holes=(),
    assumptions=None,
    limit_flow=None,
    confidence=0.9,
    junctions=(),
):
    """Return the flow to expect at 50 Pa on the day, by area, status and open joint.

    ``low = target b_low + sum(A a_low) + sum(L j_low) - hidden + open``, and likewise high;
    ``pass = (limit - holes - hidden) pass_mark``

    Parameters
    ----------
    target_flow : float
        Leakage flow at 50 Pa that is aimed for at the end. [m3/s]
    areas : iterable of EnvelopeElement
        Areas that are counted, each with its status.
    openings : iterable of Opening
        Openings; those sealed for the day that hide a leak take it off today's flow.
    trades : iterable of Trade
        Trades still to come.
    holes : iterable of Hole
        Holes already in the register.
    assumptions : Assumptions or None
        Bad-day factors, what open laps and missing layers add, drift.
    limit_flow : float or None
        Limit at the end as a flow at 50 Pa; None takes the target. [m3/s]
    confidence : float
        How sure one wants to be of the limit. [-]
    junctions : iterable of Junction
        Joints between elements; those that are open add their length times what a metre adds.

    Returns
    -------
    ExpectedFlow
        Range, parts, later range, today's aim.

    Raises
    ------
    InputError
        If the target is not above zero or there is no area.

    Notes
    -----
    Bad-day factors and what an unfinished area adds are assumptions, yours to change. An area
    whose layer is covered or complete adds its share of the target alone. Today's aim is for a
    reading in one direction; film can act as a flap and adds a spread that both directions remove. What open laps of an
    area add is counted once: it is taken off what open joints along that area add.

    References
    ----------
    [AIRLAB] factors, what a metre of open joint adds, as in the catalogue of components;
    [VANDENBOSSCHE_2012] joints of windows, 0 to 31 m3/(h.m) at 50 Pa; [DERIVED] sharp holes.
    """
    given, areas, trades = assumptions or Assumptions(), tuple(areas), tuple(trades)
    base = require_positive("target_flow", target_flow, "m3/s")
    limit = base if limit_flow is None else require_positive("limit_flow", limit_flow, "m3/s")
    state, ready = layer_state(areas, trades, given), preparation(openings)
    whole = sum(area.area_m2 for area in areas) or 1.0
    lines, warnings, counted = [], [], {}
    for area in areas:
        share = base * area.area_m2 / whole
        low, high = share * given["bad_day_low"], share * given["bad_day_high"]
        why = f"{area.status}: its share of the target times the bad-day factors"
        key = {"open laps": "open_laps", "not started": "not_started"}.get(area.status)
        if key:
            adds = [area.area_m2 * given[f"{key}_{end}"] for end in ("low", "high")]
            low, high, counted[area.area] = low + adds[0], high + adds[1], adds
            why += ", plus what such an area adds"
        lines.append(ExpectedLine(area.area, "area", low, high, why))
    lines += _open_joints(junctions, areas, counted, given, warnings)
    for line in ready.lines:
        name, flow = line.opening.name, line.flow
        if not flow:
            continue
        if line.hides:
            hidden = flow * given["hidden_share"]
            lines.append(ExpectedLine(name, "seal", -hidden, -hidden, "hidden behind a seal today"))
        elif line.opening.required == "open" and not line.sealed:
            lines.append(ExpectedLine(name, "opening", flow, flow, "left open on purpose"))
        elif line.opening.required == "as found" and not line.sealed:
            lines.append(ExpectedLine(name, "opening", 0.0, flow, "left as found, perhaps open"))
    low, high = sum(one.low for one in lines), sum(one.high for one in lines)
    if low < _LEAST_SHARE * base:
        low = _LEAST_SHARE * base
        high = max(high, low)
        warnings.append(
            "Seals for the day hide more than the house is expected to leak. Check the free areas: "
            "for a window or door enter the gap that stays when it is shut."
        )
    come = holes_to_come(trades, holes, given)
    hidden = ready.hidden_flow * given["hidden_share"]
    final = (None, None, None)
    if state.number_counts:
        added = sum(one.flow for one in come) + hidden
        one_way = given["one_direction_spread"] if any(map(has_film, areas)) else 0.0
        mark = float(
            pass_mark(
                state.drift_median,
                state.drift_spread,
                confidence,
                given["test_uncertainty"],
                one_way,
            )
        )
        final = (
            low * state.drift_median + added,
            high * state.drift_median + added,
            max(limit - added, 0.0) * mark,
        )
    return ExpectedFlow(
        low, high, tuple(lines), state, come, hidden, *final, confidence,
        (*warnings, *(w for w in ready.warnings if "unknown size" in w)),
    )  # fmt: skip


def _open_joints(junctions, areas, counted, given, warnings):
    """Yield what each open joint adds beyond what its unfinished areas add already."""
    for joint in junctions:
        touched = () if joint.closed else touched_by(joint, areas)
        if not touched:
            continue
        if joint.length is None:
            warnings.append(
                f"Junction {joint.junction} is open and has no length, so it adds nothing to the "
                "expected flow. Enter its length."
            )
            continue
        adds = [joint.length * given[f"open_joint_{end}"] for end in ("low", "high")]
        for area in touched:
            left = counted.get(area.area, [0.0, 0.0])
            for end in (0, 1):
                taken = min(left[end], adds[end])
                left[end], adds[end] = left[end] - taken, adds[end] - taken
        why = "joint not closed yet: its length times what an open joint adds"
        yield ExpectedLine(joint.junction, "joint", *adds, why)
