"""What was found, sealed and looked at again, and what is still open?

The log is a tuple of acts. Doing something returns a new log, so undo, saving and joining the
sheets of two people come free. Acts may be entered in any order; only contradictions are refused.
"""

from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

from airlab.leak_check.leak import CLOSED, MOVES, SEALED, STATES, fold, refusal
from airlab.leak_check.tables import LeakEvent
from airlab.words import InputError
from airlab.words.saying import listed

__all__ = ["Log"]


def _in_time(events):
    """Sort by time; an act without a time keeps its place behind the act entered before it."""
    times, last = [], float("-inf")
    for event in events:
        last = event.at.timestamp() if event.at else last
        times.append(last)
    return [events[place] for place in sorted(range(len(times)), key=times.__getitem__)]


@dataclass(frozen=True)  # no slots: the leaks are folded once and kept
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

    @cached_property
    def leaks(self):
        """Every leak by number, as its acts leave it."""
        groups = {}
        for event in self._live():
            groups.setdefault(event.leak, []).append(event)
        return tuple(fold(number, _in_time(groups[number])) for number in sorted(groups))

    @property
    def next_number(self):
        """First number above all those used."""
        return max((event.leak for event in self.events), default=0) + 1

    @cached_property
    def blocking(self):
        """Leaks that hold back a release."""
        return tuple(leak for leak in self.leaks if leak.blocks)

    def leak(self, number):
        """Return the leak of that number, None if the log has none."""
        events = self._live(number)
        return fold(number, _in_time(events)) if events else None

    def without(self, number):
        """Return the log as if the leak of that number had never been; the others stand as they do."""
        rest = Log(tuple(event for event in self.events if event.leak != number))
        vars(rest)["leaks"] = tuple(leak for leak in self.leaks if leak.number != number)
        return rest

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
        if did not in MOVES:
            raise InputError(f"Act is {did!r}. Choose one of: {', '.join(MOVES)}.")
        moment = at if at is not None else datetime.now().astimezone()
        moment = moment if moment.tzinfo else moment.astimezone()
        if later is None:
            times = [event.at for event in self.events if event.at is not None]
            later = at is not None and bool(times) and moment < max(times)
        event = LeakEvent(number, did, at=moment, entered_later=bool(later), **details)
        own = self._live(number)
        if did == "found" and any(one.did == "found" for one in own):
            raise InputError(
                f"Leak {number} is already in the log. Use number {self.next_number} for a new "
                f"one, or open leak {number} again."
            )
        before = fold(number, _in_time(own)).problems
        new = [p for p in fold(number, _in_time([*own, event])).problems if p not in before]
        if new:
            raise InputError(new[-1])
        return Log((*self.events, event))

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
            raise InputError(refusal(number, "rechecked", leak.state if leak else None))
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
