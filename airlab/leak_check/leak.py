"""What state do its acts leave a leak in, and which act contradicts another?"""

from dataclasses import dataclass

from airlab.leak_check.sealing import ask_first
from airlab.leak_check.tables import LeakEvent

__all__ = ["MARKS", "MOVES", "SETTLED", "STATES", "Leak", "fold", "refusal"]

OPEN, SEALED, CLOSED = "open", "sealed, awaiting re-check", "closed"
ACCEPTED, NOT_A_LEAK, INTENTIONAL = "accepted", "not a leak", "intentional"
UNREACHABLE = "unreachable now"
STATES = (OPEN, UNREACHABLE, SEALED, CLOSED, ACCEPTED, NOT_A_LEAK, INTENTIONAL)
# The sign of each state beside its word; the signs differ in outline, not in shade.
MARKS = dict(zip(STATES, "△◇□○✓✕∞"))
SETTLED = (CLOSED, ACCEPTED, NOT_A_LEAK, INTENTIONAL)

# What was done -> (states it may follow, state it leads to; None keeps the state).
_LOOSE = (OPEN, UNREACHABLE, ACCEPTED, NOT_A_LEAK, INTENTIONAL)
MOVES = {
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
_LATEST = ("area", "room", "place", "height", "strength", "flow", "material")
_WITH_REASON = ("not a leak", "intentional", "unreachable", "accepted", "reopened")
_NEXT = {
    OPEN: "seal it", UNREACHABLE: "reach it, or accept it with a reason",
    SEALED: "re-check under pressure", INTENTIONAL: "never seal it",
}  # fmt: skip
_ASKED = dict.fromkeys((OPEN, UNREACHABLE), "is it yours to seal? If not: intentional, never seal")
_ASKED[SEALED] = "was it yours to seal? If not: the seal off, then intentional"
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
    flow : float or None
        What it passes at 50 Pa at least, judged from its gap or air speed. [m3/s]
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
    flow: float | None = None
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
    def hidden(self):
        """Whether it was covered before it was sealed and looked at again."""
        return self.covered and self.state not in SETTLED

    @property
    def allowed(self):
        """What may be done now."""
        return _allowed(self.state)

    @property
    def ask(self):
        """What to ask of a place or material that speaks of fire or ventilation; else nothing."""
        if self.state in (INTENTIONAL, NOT_A_LEAK, ACCEPTED):
            return ""
        return ask_first(self.area, self.place, self.material)

    @property
    def todo(self):
        """What comes next, in a few words; nothing where it is settled."""
        if self.hidden:
            return "open it up, or accept it with a reason"
        return (self.ask and _ASKED.get(self.state)) or _NEXT.get(self.state, "")

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
        if self.hidden:
            text += ". Covered before it was looked at: open it up, or accept it with a reason"
        return ". ".join((text, *(problem.rstrip(".") for problem in self.problems))) + "."


def _allowed(state):
    return tuple(did for did, (before, _) in MOVES.items() if state in before and did != "found")


def fold(number, events):
    """Return the leak that its acts, in time, leave; contradictions are noted and not obeyed."""
    state, problems, places = None, [], []
    latest = {}
    marked = covered = late = False
    for event in events:
        late = late or event.entered_later
        before, after = MOVES[event.did]
        if state not in before:
            problems.append(refusal(number, event.did, state))
            continue
        if event.did == "accepted" and not event.note.strip():
            problems.append(f"Leak {number} is accepted without a reason. Say why.")
            continue
        if event.did == "found":
            place = (event.area, event.room, event.place)
            if any(map(any, places)) and any(place) and place not in places:
                problems.append(
                    f"Leak {number} was found at two places. Give the second a number of its own "
                    "and open this one again."
                )
            places.append(place)
        if event.did == "reopened":
            problems.clear()
        if not (event.did == "accepted" and state == CLOSED):
            state = after or state or OPEN
        marked = marked or event.did == "marked"
        covered = event.did == "covered" or (covered and event.did != "reopened")
        for field in _LATEST:
            if value := getattr(event, field):
                latest[field] = value
        if event.note and event.did in _WITH_REASON:
            latest["reason"] = event.note
    return Leak(
        number,
        state or OPEN,
        **latest,
        marked=marked,
        covered=covered,
        late=late,
        problems=tuple(problems),
        events=tuple(events),
    )


def refusal(number, did, state):
    """Return why an act is refused in a state, and what is allowed now."""
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
