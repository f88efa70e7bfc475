"""What was found, sealed and looked at again, and what is still open?

The log is a tuple of acts. Doing something returns a new log, so undo, saving and joining the
sheets of two people come free. Acts may be entered in any order; only contradictions are refused.
"""

from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime

from airlab.leak_check.saying import listed
from airlab.leak_check.tables import LeakEvent
from airlab.words import InputError

__all__ = ["SETTLED", "STATES", "Leak", "Log"]

OPEN, SEALED, CLOSED = "open", "sealed, awaiting re-check", "closed"
ACCEPTED, NOT_A_LEAK, INTENTIONAL = "accepted", "not a leak", "intentional"
UNREACHABLE = "unreachable now"
STATES = (OPEN, UNREACHABLE, SEALED, CLOSED, ACCEPTED, NOT_A_LEAK, INTENTIONAL)
SETTLED = (CLOSED, ACCEPTED, NOT_A_LEAK, INTENTIONAL)

# What was done -> (states it may follow, state it leads to; None keeps the state).
_LOOSE = (OPEN, UNREACHABLE, ACCEPTED, NOT_A_LEAK, INTENTIONAL)
_MOVES = {
    "found": ((None, *STATES), None),
    "marked": ((None, *STATES), None),
    "sealed": ((None, OPEN, UNREACHABLE, SEALED, ACCEPTED), SEALED),
    "rechecked": ((SEALED, CLOSED), CLOSED),
    "not a leak": (_LOOSE, NOT_A_LEAK),
    "intentional": (_LOOSE, INTENTIONAL),
    "unreachable": (_LOOSE, UNREACHABLE),
    "accepted": ((*_LOOSE, SEALED), ACCEPTED),
    "reopened": (STATES, OPEN),
    "covered": (STATES, None),
}
_WITH_REASON = ("not a leak", "intentional", "unreachable", "accepted", "reopened")
_WHY_NOT = {
    ("sealed", INTENTIONAL): "An intentional opening is never sealed.",
    ("sealed", CLOSED): "It is sealed and re-checked; open it again before sealing it anew.",
    ("sealed", NOT_A_LEAK): "It was judged not a leak; open it again before sealing it.",
    ("rechecked", None): "A re-check comes after the seal.",
    ("not a leak", SEALED): "A sealed leak is not closed without a re-check.",
    ("intentional", SEALED): "Take the seal off and open it again first: an intentional opening is "
    "never sealed.",
    ("intentional", CLOSED): "Take the seal off and open it again first: an intentional opening is "
    "never sealed.",
}


@dataclass(frozen=True, slots=True)
class Leak:
    """One leak as its acts leave it.

    Parameters
    ----------
    number : int
        Number on the tag.
    state : str
        One of `STATES`.
    area, room, place, height, material, reason : str
        Where it is, what it was sealed with, the last reason given.
    strength : int or None
        1 faint, 2 clear, 3 strong.
    marked, covered, late : bool
        Tagged on site; hidden behind a later layer; any act typed in afterwards.
    problems : tuple of str
        Contradictions found in the acts, as from a table edited by hand.
    events : tuple of LeakEvent
        Its acts in the order of time.
    """

    number: int
    state: str
    area: str = ""
    room: str = ""
    place: str = ""
    height: str = ""
    material: str = ""
    reason: str = ""
    strength: int | None = None
    marked: bool = False
    covered: bool = False
    late: bool = False
    problems: tuple[str, ...] = ()
    events: tuple[LeakEvent, ...] = ()

    @property
    def blocks(self):
        """Whether it holds back the release of its area."""
        return self.state not in SETTLED or bool(self.problems)

    @property
    def allowed(self):
        """What may be done now."""
        return _allowed(self.state)

    @property
    def where(self):
        """Room, place and height in words."""
        return ", ".join(part for part in (self.room, self.place, self.height) if part) or self.area

    def sentence(self, units="metric"):
        """Return the leak in one line."""
        parts = [f"Leak {self.number}"]
        if self.where:
            parts.append(f"({self.where})")
        text = " ".join(parts) + f": {self.state}"
        if self.state in (SEALED, CLOSED) and self.material:
            text += f", sealed with {self.material}"
        if self.state == ACCEPTED and self.reason:
            text += f", because {self.reason}"
        if self.covered:
            text += ", covered"
        return ". ".join((text, *(problem.rstrip(".") for problem in self.problems))) + "."


def _allowed(state):
    return tuple(did for did, (before, _) in _MOVES.items() if state in before and did != "found")


def _fold(number, events):
    """Return the leak that a tuple of acts leaves, contradictions noted and not obeyed."""
    state, problems, found = None, [], 0
    latest = {}
    marked = covered = False
    for event in events:
        before, after = _MOVES[event.did]
        found += event.did == "found"
        if state not in before:
            problems.append(_refusal(number, event.did, state))
            continue
        if event.did == "accepted" and not event.note.strip():
            problems.append(f"Leak {number} is accepted without a reason. Say why.")
            continue
        if event.did == "found" and found > 1:
            problems.append(
                f"Leak {number} was found twice. Give the second place a number of its own."
            )
        if not (event.did == "accepted" and state == CLOSED):
            state = after or state or OPEN
        marked = marked or event.did == "marked"
        covered = event.did == "covered" or (covered and event.did != "reopened")
        for field in ("area", "room", "place", "height", "strength", "material"):
            value = getattr(event, field)
            if value:
                latest[field] = value
        if event.note and event.did in _WITH_REASON:
            latest["reason"] = event.note
    return Leak(
        number,
        state or OPEN,
        **latest,
        marked=marked,
        covered=covered,
        late=any(event.entered_later for event in events),
        problems=tuple(problems),
        events=tuple(events),
    )


def _refusal(number, did, state):
    why = _WHY_NOT.get((did, state)) or _WHY_NOT.get((did, None), "")
    if state is None:
        return (
            f"Leak {number} is not in the log. {why} Allowed now: found, marked, sealed.".replace(
                "  ", " "
            )
        )
    return f"Leak {number} is {state}. {why} Allowed now: {', '.join(_allowed(state))}.".replace(
        "  ", " "
    )


def _in_time(events):
    """Sort by time; an act without a time keeps its place behind the act entered before it."""
    keyed, last = [], float("-inf")
    for event in events:
        last = event.at.timestamp() if event.at else last
        keyed.append((last, event))
    return [event for _, event in sorted(keyed, key=lambda pair: pair[0])]


@dataclass(frozen=True, slots=True)
class Log:
    """All acts in the order they were entered.

    Parameters
    ----------
    events : tuple of LeakEvent
        Acts; the same act given twice counts once.

    Examples
    --------
    >>> log = Log().found(1, room="Bath", place="pipe", height="low").sealed(1, "collar")
    >>> log.leak(1).state
    'sealed, awaiting re-check'
    >>> log.rechecked(1).sentence()
    '1 leak: 1 closed.'
    """

    events: tuple[LeakEvent, ...] = ()

    def __post_init__(self):
        once = {}
        for event in self.events:
            once.setdefault(event.event, event)
        object.__setattr__(self, "events", tuple(once.values()))

    def _live(self, number=None):
        undone = {event.undoes for event in self.events if event.did == "undone"}
        return [
            event
            for event in self.events
            if (number is None or event.leak == number)
            and event.did != "undone"
            and event.event not in undone
        ]

    @property
    def leaks(self):
        """Every leak by number, as its acts leave it."""
        groups = {}
        for event in self._live():
            groups.setdefault(event.leak, []).append(event)
        return tuple(_fold(number, _in_time(groups[number])) for number in sorted(groups))

    @property
    def next_number(self):
        """First number above all those used."""
        return max((event.leak for event in self.events), default=0) + 1

    @property
    def blocking(self):
        """Leaks that hold back a release."""
        return tuple(leak for leak in self.leaks if leak.blocks)

    def leak(self, number):
        """Return the leak of that number, None if the log has none."""
        events = self._live(number)
        return _fold(number, _in_time(events)) if events else None

    def between(self, start, end):
        """Return the numbers of the leaks sealed from one time to another (None is without end)."""
        return tuple(
            sorted(
                {
                    event.leak
                    for event in self._live()
                    if event.did == "sealed"
                    and event.at is not None
                    and (start is None or event.at >= start)
                    and (end is None or event.at <= end)
                }
            )
        )

    def act(self, number, did, at=None, later=None, **details):
        """Return the log with one act more.

        Parameters
        ----------
        number : int
            Number on the tag.
        did : str
            What was done, one of the moves of the log.
        at : datetime or None
            When; None is now.
        later : bool or None
            Typed in afterwards; None finds out from the time.
        **details
            Other fields of `LeakEvent`.

        Raises
        ------
        InputError
            If it contradicts the log: the message says what is allowed now.
        """
        if did not in _MOVES:
            raise InputError(f"Act is {did!r}. Choose one of: {', '.join(_MOVES)}.")
        moment = at if at is not None else datetime.now().astimezone()
        moment = moment if moment.tzinfo else moment.astimezone()
        if later is None:
            times = [event.at for event in self.events if event.at is not None]
            later = at is not None and bool(times) and moment < max(times)
        event = LeakEvent(number, did, at=moment, entered_later=bool(later), **details)
        own = self._live(number)
        before = len(_fold(number, _in_time(own)).problems)
        after = _fold(number, _in_time([*own, event])).problems
        if len(after) > before:
            raise InputError(after[-1] if did != "found" else self._found_twice(number))
        return Log((*self.events, event))

    def _found_twice(self, number):
        return (
            f"Leak {number} is already in the log. Use number {self.next_number} for a new one, "
            f"or open leak {number} again."
        )

    def found(self, number=None, **details):
        """Return the log with a leak found; without a number it gets the next one."""
        return self.act(self.next_number if number is None else number, "found", **details)

    def marked(self, number, **details):
        """Return the log with the leak tagged on site."""
        return self.act(number, "marked", **details)

    def sealed(self, number, material, **details):
        """Return the log with the leak sealed with a material."""
        return self.act(number, "sealed", material=material, **details)

    def rechecked(self, number, tight=True, **details):
        """Return the log with the leak looked at again under pressure: tight, or still leaking."""
        if tight:
            return self.act(number, "rechecked", **details)
        leak = self.leak(number)
        if leak is None or leak.state not in (SEALED, CLOSED):
            raise InputError(_refusal(number, "rechecked", leak.state if leak else None))
        note = details.pop("note", "") or "still leaks at the re-check"
        return self.act(number, "reopened", note=note, **details)

    def not_a_leak(self, number, **details):
        """Return the log with the place judged not to be a leak."""
        return self.act(number, "not a leak", **details)

    def intentional(self, number, **details):
        """Return the log with the place known as an opening that must stay."""
        return self.act(number, "intentional", **details)

    def unreachable(self, number, **details):
        """Return the log with the leak out of reach for now; it stays open."""
        return self.act(number, "unreachable", **details)

    def accept(self, number, reason, **details):
        """Return the log with the leak accepted as it is, for a reason."""
        return self.act(number, "accepted", note=reason, **details)

    def reopen(self, number, **details):
        """Return the log with the leak open again."""
        return self.act(number, "reopened", **details)

    def covered(self, number, **details):
        """Return the log with the leak hidden behind a later layer; its state stays."""
        return self.act(number, "covered", **details)

    def undo(self, by=""):
        """Return the log with the act entered last taken back.

        The act stays in the log as taken back, so joining with an older sheet does not bring it
        to life again.

        Raises
        ------
        InputError
            If there is nothing to take back.
        """
        live = self._live()
        if not live:
            raise InputError("The log is empty. There is nothing to take back.")
        last = live[-1]
        moment = datetime.now().astimezone()
        event = LeakEvent(last.leak, "undone", at=moment, by=by, undoes=last.event)
        return Log((*self.events, event))

    def merge(self, other):
        """Return the union of two logs by act.

        Two people may have given one number to two places. The other log's leak then takes the
        next free number and says so; acts of one leak on both sheets are joined.
        """
        own_found = {event.leak: event.event for event in self._live() if event.did == "found"}
        known = {event.event: event.leak for event in self.events}
        free = max(self.next_number, other.next_number)
        number_of = {
            event.leak: known[event.event] for event in other.events if event.event in known
        }
        clashing = {
            event.leak
            for event in other._live()
            if event.did == "found" and own_found.get(event.leak, event.event) != event.event
        }
        taken = set(number_of.values())
        for number in dict.fromkeys(event.leak for event in other.events):
            if number in number_of:
                continue
            if number in clashing or number in taken:
                number_of[number], free = free, free + 1
            else:
                number_of[number] = number
        new = []
        for event in other.events:
            number = number_of[event.leak]
            if event.event in known:
                continue
            if number != event.leak:
                note = f"number {event.leak} on the other sheet"
                event = replace(
                    event, leak=number, note=f"{event.note} ({note})" if event.note else note
                )
            new.append(event)
        return Log((*self.events, *new))

    def sentence(self, units="metric"):
        """Return how many leaks stand in which state."""
        leaks = self.leaks
        if not leaks:
            return "The log is empty."
        counts = Counter(leak.state for leak in leaks)
        said = listed([f"{counts[state]} {state}" for state in STATES if counts[state]])
        text = f"{len(leaks)} leak{'s' if len(leaks) > 1 else ''}: {said}."
        clash = [str(leak.number) for leak in leaks if leak.problems]
        if clash:
            text += f" Look at {listed(clash)}: the acts contradict each other."
        return text
