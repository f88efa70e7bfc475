"""Which fixes go together, what have they gained so far, what is missing, and is it time to stop?"""

from dataclasses import dataclass

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.gain import Gain, gain, repeat_spread, smallest_provable
from airlab.leak_check.leak import SEALED
from airlab.leak_check.log import Log
from airlab.leak_check.readings import STAGES, correct_reading
from airlab.physics.openings import equivalent_hole_area
from airlab.words import require_positive
from airlab.words.saying import listed, said

__all__ = ["STOP_ANSWERS", "FixGroup", "FixGroups", "RunningTotal", "fix_groups", "running_total"]

GO_ON, DIFFERENTLY, STOP = STOP_ANSWERS = ("go on", "search differently", "stop")
_IDLE = 2  # batches in a row that proved nothing before the way of searching changes


@dataclass(frozen=True, slots=True)
class FixGroup:
    """Leaks to seal before the next reading: their numbers, what they are worth at least [m3/s]."""

    numbers: tuple[int, ...]
    flow: float
    provable: bool


@dataclass(frozen=True, slots=True)
class FixGroups:
    """Leaks in groups, each large enough to be proved where that can be done.

    Parameters
    ----------
    groups : tuple of FixGroup
        Largest first.
    smallest : float
        Smallest gain that two readings can prove. [m3/s]
    """

    groups: tuple[FixGroup, ...]
    smallest: float

    def sentence(self, units="metric"):
        """Return which leaks are sealed before each reading."""
        if not self.groups:
            return "No leak of known size is open."
        least = said(self.smallest, "m3/s", units)
        text = [f"Two readings prove {least} at 50 Pa or more."]
        for group in self.groups:
            many = "s" if len(group.numbers) > 1 else ""
            worth = said(group.flow, "m3/s", units)
            text.append(
                f"Leak{many} {listed(group.numbers)}: {worth}, "
                + ("then read." if group.provable else "too little to be proved; seal, no reading.")
            )
        return " ".join(text)


def fix_groups(sizes, smallest):
    """Return leaks grouped so that each group can be proved by one reading after it.

    Parameters
    ----------
    sizes : iterable of (int, float)
        Number of the leak; what it passes at 50 Pa, at least. [m3/s]
    smallest : float
        Smallest gain that two readings can prove. [m3/s]

    Returns
    -------
    FixGroups
        A leak that can be proved alone stands alone; the rest are joined, largest first. What is
        left over joins the last group of several, or stands as a group that cannot be proved.

    Examples
    --------
    >>> found = fix_groups([(1, 0.02), (2, 0.003), (3, 0.004), (4, 0.001)], 0.006)
    >>> [group.numbers for group in found.groups]
    [(1,), (3, 2, 4)]
    """
    require_positive("smallest", smallest, "m3/s")
    order = sorted(((int(n), float(q)) for n, q in sizes), key=lambda pair: (-pair[1], pair[0]))
    for number, flow in order:
        require_positive(f"flow of leak {number}", flow, "m3/s", allow_zero=True)
    groups, rest = [[pair] for pair in order if pair[1] >= smallest], []
    alone = len(groups)
    for pair in order[alone:]:
        rest.append(pair)
        if sum(q for _, q in rest) >= smallest:
            groups.append(rest)
            rest = []
    if rest and len(groups) > alone:
        groups[-1] += rest
    elif rest:
        groups.append(rest)

    def made(group):
        flow = sum(q for _, q in group)
        return FixGroup(tuple(n for n, _ in group), flow, flow >= smallest)

    return FixGroups(tuple(map(made, groups)), float(smallest))


@dataclass(frozen=True, slots=True)
class RunningTotal:
    """What the visit has gained, what is still missing, and what that means.

    Parameters
    ----------
    total : Gain or None
        First against last reading of one direction; None with one reading.
    steps : tuple of Gain
        Reading by reading.
    flow_50 : float
        Last reading at 50 Pa. [m3/s]
    aim_flow : float or None
        Most that today's reading may be; None without a number. [m3/s]
    gap : float or None
        Last reading less the aim; below zero where it is met. [m3/s]
    smallest : float
        Smallest gain that the next reading can prove. [m3/s]
    open_leaks : tuple of int
        Rows of the log that hold back an area.
    answer, why : str
        One of `STOP_ANSWERS`, and the reason.
    """

    total: Gain | None
    steps: tuple[Gain, ...]
    flow_50: float
    aim_flow: float | None
    gap: float | None
    smallest: float
    open_leaks: tuple[int, ...]
    answer: str
    why: str

    def sentence(self, units="metric"):
        """Return gain, gap as a flow and as a hole, and what to do now."""
        text = []
        if self.total is not None:
            change = said(abs(self.total.change), "m3/s", units)
            word = "less" if self.total.change >= 0.0 else "more"
            text.append(f"So far {change} {word} at 50 Pa.")
            if not self.total.proved:
                why = ": nothing was sealed by the log" if self.total.unsealed else ""
                text.append(f"That is not proved{why}.")
        if self.gap is not None and self.gap > 0.0:
            hole = said(equivalent_hole_area(self.gap), "hole", units)
            text.append(
                f"Still {said(self.gap, 'm3/s', units)} above today's aim at 50 Pa: as much as one "
                f"sharp hole of {hole}."
            )
        elif self.gap is not None:
            text.append(f"Today's aim is met with {said(-self.gap, 'm3/s', units)} to spare.")
        return " ".join((*text, f"{self.answer.capitalize()}: {self.why}"))


def running_total(
    readings, log=None, aim_flow=None, assumptions=None, direction=None, begun=False, doubt=""
):
    """Return what a visit has gained against its aim, and whether to go on.

    Parameters
    ----------
    readings : iterable of Reading
        In the order taken. Those before preparation was put right do not count, nor does a final.
    log : Log or None
        Leaks so far.
    aim_flow : float or None
        Most that today's reading may be at 50 Pa, holes to come and drift counted. [m3/s]
    assumptions : Assumptions or None
        Exponent, published repeats.
    direction : str or None
        Used where a reading has none.
    begun : bool
        Whether a stop of the route is done; an act in the log says so, too.
    doubt : str
        Why the last reading is not to be built on; empty takes the first warning of its own.

    Returns
    -------
    RunningTotal or None
        None without a reading.

    Notes
    -----
    A good number closes no row: every leak that is known and will be hidden is sealed or accepted
    with a reason. Nothing stops before the search has begun, nor on a reading that is in doubt or no
    number.
    """
    given, log = assumptions or Assumptions(), log or Log()
    usable = [one for one in readings if one.stage != STAGES[3]]
    if not usable:
        return None
    usable = _since_preparation(usable)
    now = correct_reading(usable[-1], given, None, direction)
    alike = [one for one in usable if (one.direction or direction) == now.direction]
    steps = tuple(
        gain(before, after, usable, given, direction=direction)
        for before, after in zip(alike[:-1], alike[1:])
    )
    total = None
    if steps:
        unsealed = all(event.did != "sealed" for event in log.events)
        total = gain(alike[0], alike[-1], usable, given, "", direction, unsealed)
    repeat = repeat_spread([correct_reading(r, given, None, direction) for r in usable], given)
    smallest = float(smallest_provable(repeat.spread, repeat.factor) * now.flow_50)
    gap = None if aim_flow is None else now.flow_50 - aim_flow
    blocking = log.blocking
    open_leaks = tuple(leak.number for leak in blocking)
    doubt = doubt or next(iter(now.warnings), "")
    answer, why = _stop(gap, smallest, steps, log, begun or bool(log.leaks), doubt)
    return RunningTotal(total, steps, now.flow_50, aim_flow, gap, smallest, open_leaks, answer, why)


def _since_preparation(readings):
    """Return the readings from the last one that preparation moved; earlier ones do not compare."""
    moved = [i for i, one in enumerate(readings) if one.stage == STAGES[1]]
    return readings[moved[-1] :] if moved else readings


def _stop(gap, smallest, steps, log, begun, doubt):
    """Return go on, search differently or stop, and why."""
    blocking = log.blocking
    waiting = [leak.number for leak in blocking if leak.state == SEALED]
    rows = listed([leak.number for leak in _first(blocking)], most=5)
    if gap is not None and gap <= 0.0:
        if blocking:
            return GO_ON, (
                f"the number is good enough; rows {rows} still hold back their areas. Seal and look "
                "again, or accept with a reason."
            )
        if not begun:
            return GO_ON, "the number is good enough, and nobody has searched yet. Walk the route."
        if doubt:
            return GO_ON, f"no row is open, but do not build on it. {doubt}"
        return STOP, "the number is good enough and no row is open. Read once more the other way."
    idle = steps[-_IDLE:]
    if len(idle) == _IDLE and not any(step.proved or step.preparation for step in idle):
        return DIFFERENTLY, (
            f"{_IDLE} readings in a row proved nothing. Go over windows, doors, traps and seals, "
            "then shut the rooms off one by one and see where the flow drops."
        )
    if waiting:
        return GO_ON, f"look again at {listed(waiting, most=5)}, sealed and not yet re-checked."
    if blocking:
        small = gap is not None and gap < smallest
        note = " What is missing is less than a reading can prove: go by the rows." if small else ""
        return GO_ON, f"the strongest and the soonest hidden first: {rows}.{note}"
    if gap is None and begun:
        return GO_ON, "no row is open. Without a number walk the route to its end."
    if not log.leaks:
        return GO_ON, "no leak is logged yet. Walk the route, room by room."
    return DIFFERENTLY, (
        "no known leak is left and the aim is not met. Walk the route again with the fan the other "
        "way, and shut the rooms off one by one."
    )


def _first(blocking):
    """Sort rows: strongest first; those known as unreachable last."""
    return sorted(blocking, key=lambda leak: (leak.state.startswith("unreach"), -(leak.strength or 2)))  # fmt: skip
