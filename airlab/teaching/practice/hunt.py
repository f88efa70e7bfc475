"""What has a learner done so far, and how does the house stand now? A tuple of acts.

Doing something returns a new session; the same seed and the same acts give the same day again.
"""

from dataclasses import dataclass, replace
from random import Random

from airlab.teaching.practice.air import Setting, blow
from airlab.teaching.practice.fixes import fixes
from airlab.teaching.practice.gauge import AVERAGES, HOSES, read_gauge
from airlab.teaching.practice.hiding import Hidden, hide
from airlab.teaching.practice.house import HEIGHTS, House
from airlab.teaching.practice.sensing import METHODS, notice
from airlab.teaching.practice.telling import noticed_words
from airlab.words import InputError, require_between, require_choice

__all__ = ["Act", "Session", "Stand", "start"]

_PREPARED = {"close": "closed", "seal": "sealed", "fill": "filled", "leave": "left"}
_STEPS = 1.0  # minutes more to look up high
_SETTLE = 10.0  # minutes until surfaces show the air to a camera


@dataclass(frozen=True, slots=True)
class Act:
    """One thing done: what, with which choices, what came of it, how long it took [min]."""

    did: str
    what: tuple = ()
    result: tuple = ()
    minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Stand:
    """How things stand after all acts."""

    answer: str = ""
    chosen: tuple[tuple[str, str], ...] = ()
    hose: str = "sheltered"
    pressure: float = 0.0
    doors: str = "open"
    marks: tuple[str, ...] = ()
    fixed: tuple[tuple[int, object], ...] = ()
    noticed: tuple[tuple[str, str], ...] = ()
    searched: tuple[tuple[str, str, str], ...] = ()
    again: tuple[int, ...] = ()
    readings: tuple = ()
    minutes: float = 0.0

    @property
    def prepared(self):
        """Openings that no longer leak."""
        return tuple(name for name, did in self.chosen if did in ("close", "seal", "fill"))

    @property
    def sealed(self):
        """Sites and what is left of their flow today, by the last fix of each."""
        last = dict(self.fixed)
        return tuple(
            (self.marks[n - 1], fix.residual) for n, fix in last.items() if fix.residual < 1.0
        )

    @property
    def setting(self):
        """What the engine needs."""
        return Setting(self.pressure, self.doors, self.prepared, self.sealed)


@dataclass(frozen=True, slots=True)
class Session:
    """A day in a practice house.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        What its seed hides.
    acts : tuple of Act
        What was done.
    learner : str
        Who.
    """

    house: House
    hidden: Hidden
    acts: tuple[Act, ...] = ()
    learner: str = ""

    # how things stand -----------------------------------------------------------------------

    @property
    def stand(self):
        """How things stand after all acts."""
        now = Stand()
        for act in self.acts:
            now = replace(_after(now, act), minutes=now.minutes + act.minutes)
        return now

    def solved(self):
        """Return how the air goes now."""
        return blow(self.house, self.hidden, self.stand.setting)

    def seen_today(self, key):
        """Return what is seen of a hazard today."""
        one = next(h for h in self.house.hazards if h.key == key)
        return one.stop if self.hidden.stop == key else one.safe

    def spots(self, room):
        """Return (site, words) of what was noticed from a room at a place and has no tag yet."""
        marks, found = self.stand.marks, {}
        for act in self.acts:
            if act.did == "look" and act.what[0] == room and act.what[2] != "listening":
                for one in act.result:
                    found[one.site] = f"{act.what[1]}: {noticed_words(self.house, one, room)}"
        return tuple((site, words) for site, words in found.items() if site not in marks)

    # what a person does ---------------------------------------------------------------------

    def answer(self, answer):
        """Settle the hazards, once: 'run' if all is safe, 'stop' if not or if unknown."""
        require_choice("answer", answer, ("run", "stop"))
        if self.stand.answer:
            raise InputError("The hazards of this day are settled. They are asked once.")
        right = "right" if (answer == "stop") == bool(self.hidden.stop) else "wrong"
        return self._do(Act("hazards", (answer,), (right,), 5.0))

    def prepare(self, opening, did):
        """Close, seal, fill or leave an opening."""
        require_choice("preparation", did, tuple(_PREPARED))
        if opening not in [one.name for one in self.house.openings]:
            raise InputError(f"There is no opening {opening!r} in {self.house.name}.")
        return self._do(Act("prepare", (opening, did), (), 2.0))

    def lay_hose(self, where):
        """Lay the hose that feels the pressure outside."""
        return self._do(Act("hose", (require_choice("hose", where, tuple(HOSES)),), (), 1.0))

    def fan(self, pressure):
        """Run the fan so that the house is held at a pressure over outside; 0 stops it. [Pa]."""
        require_between("pressure", pressure, -75.0, 75.0, "Pa", "Suction has a minus sign.")
        if not self.stand.answer:
            raise InputError("The hazards are not settled. No answer, no fan.")
        return self._do(Act("fan", (float(pressure),), (), 2.0))

    def set_doors(self, state):
        """Open or shut all doors inside."""
        return self._do(Act("doors", (require_choice("doors", state, ("open", "shut")),), (), 1.0))

    def read(self, seconds=30):
        """Read gauge and fan."""
        require_choice("seconds", seconds, AVERAGES)
        now = self.stand
        self._running(now)
        one = read_gauge(self.house, self.hidden, now.setting, seconds, now.hose, len(now.readings))
        return self._do(Act("read", (seconds,), (one,), 1.0 + seconds / 60.0))

    def look(self, room, height, method):
        """Search one room at one height by one method."""
        require_choice("height", height, HEIGHTS)
        require_choice("method", method, tuple(m.key for m in METHODS))
        if room not in self.house.walk:
            raise InputError(f"{room!r} is not on the walk of {self.house.name}.")
        now = self.stand
        before = sum(a.did == "look" and a.what == (room, height, method) for a in self.acts)
        solved, found = self.solved(), []
        for name in self._around(room, height, method):
            one = notice(self.house, self.hidden, solved, name, room, method)
            dice = Random(
                f"{self.hidden.seed}|{name}|{method}|{now.doors}|{now.pressure:.0f}|{before}"
            )
            if dice.random() < one.chance:
                found.append(one)
        way = next(m for m in METHODS if m.key == method)
        minutes = way.minutes + (_STEPS if height == "high" and method != "camera" else 0.0)
        before = [a.what[2] for a in self.acts if a.did == "look"]
        minutes += _SETTLE if method == "camera" and "camera" not in before else 0.0
        return self._do(Act("look", (room, height, method), tuple(found), minutes))

    def mark(self, site):
        """Put a numbered tag on something that was noticed."""
        now = self.stand
        if site not in [name for name, method in now.noticed if method != "listening"]:
            raise InputError("Mark what you have noticed at a place; an ear gives no place.")
        if site in now.marks:
            raise InputError(f"That place has tag {now.marks.index(site) + 1}.")
        return self._do(Act("mark", (site,), (), 0.5))

    def fix(self, number, key):
        """Do something about a tag: the key of one of `fixes`."""
        site = self._tagged(number)
        chosen = next((one for one in fixes(site) if one.key == key), None)
        if chosen is None:
            raise InputError(f"For tag {number} there is no {key!r}. Choose one of: "
                             f"{', '.join(one.key for one in fixes(site))}.")  # fmt: skip
        return self._do(Act("fix", (number, key), (chosen,), chosen.minutes))

    def look_again(self, number, method="smoke"):
        """Look at a fixed tag again, with the fan running."""
        now, site = self.stand, self._tagged(number)
        self._running(now)
        one = notice(self.house, self.hidden, self.solved(), site.name, site.room, method)
        return self._do(Act("again", (number, method), (one,), 1.0))

    def undo(self):
        """Take back the last act; hazards stay settled."""
        if not self.acts or self.acts[-1].did == "hazards":
            raise InputError("There is nothing to take back. Hazards stay as they were settled.")
        return replace(self, acts=self.acts[:-1])

    # workings -------------------------------------------------------------------------------

    def _do(self, act):
        return replace(self, acts=(*self.acts, act))

    def _running(self, now):
        if not now.pressure:
            raise InputError("The fan is off. Run it first.")

    def _tagged(self, number):
        marks = self.stand.marks
        if not 1 <= number <= len(marks):
            raise InputError(f"There is no tag {number}. Tags: 1 to {len(marks)}." if marks
                             else "There is no tag yet. Search and mark first.")  # fmt: skip
        return self.house.site(marks[number - 1])

    def _around(self, room, height, method):
        """Sites that can be noticed from a room at a height; an ear hears the whole room."""
        present = (*self.hidden.names, *self.hidden.lookalikes)
        for name in sorted(present):
            site = self.house.site(name)
            far = {"floor": "high", "ceiling": "low"}.get(site.wall, site.height)
            there = (site.room, site.height) if site.room == room else (site.to, far)
            if there[0] == room and (method == "listening" or there[1] == height):
                yield name


def _after(now, act):
    what, result = act.what, act.result
    if act.did == "hazards":
        return replace(now, answer=what[0])
    if act.did == "prepare":
        rest = tuple(pair for pair in now.chosen if pair[0] != what[0])
        return replace(now, chosen=(*rest, what))
    if act.did in ("hose", "doors"):
        return replace(now, **{act.did: what[0]})
    if act.did == "fan":
        return replace(now, pressure=what[0])
    if act.did == "read":
        return replace(now, readings=(*now.readings, *result))
    if act.did == "look":
        new = [(one.site, one.method) for one in result]
        return replace(now, noticed=tuple(dict.fromkeys((*now.noticed, *new))),
                       searched=tuple(dict.fromkeys((*now.searched, what))))  # fmt: skip
    if act.did == "mark":
        return replace(now, marks=(*now.marks, what[0]))
    if act.did == "fix":
        again = tuple(n for n in now.again if n != what[0])
        return replace(now, fixed=(*now.fixed, (what[0], result[0])), again=again)
    return replace(now, again=tuple(dict.fromkeys((*now.again, what[0]))))


def start(house, seed, learner="", leaks=14, fault=""):
    """Return a new day in a house.

    Parameters
    ----------
    house : House
        The house.
    seed : int
        What is hidden; the same for everyone in a class.
    learner : str
        Name, for the class's results.
    leaks : int
        How many leaks are hidden.
    fault : str
        A fault of the measurement that is hidden too.

    Returns
    -------
    Session
        The day, nothing done yet.
    """
    return Session(house, hide(house, seed, leaks, fault), (), learner)
