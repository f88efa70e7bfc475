"""What was found, what was truly fixed, what was missed and why? The house opened up at the end."""

from dataclasses import dataclass

from airlab.leak_check.gain import gain
from airlab.teaching.practice.air import Setting, blow, house_flow, leak_flows
from airlab.teaching.practice.sensing import METHODS, notice
from airlab.words import Column, Table, display_unit, from_si, show

__all__ = ["CAP", "RESULTS", "Debrief", "Opened", "debrief", "result_row"]

NONE_MISSED = "none"
CAP = 40  # points at most after an unsafe step
_SHOWS = 0.5  # a method with at least this chance would have shown it

RESULTS = Table("practice_results", "what a class found: one row for each day in a house", (
    Column("learner", "text", "who", required=True),
    Column("house", "text", "practice house", required=True),
    Column("seed", "integer", "what was hidden", required=True),
    Column("points", "integer", "share of the hidden leakage that is truly fixed, in hundredths", required=True, low=0, high=100),
    Column("fixed_m3_per_h", "number", "flow taken away at 50 Pa", "m3/h", low=-1e5, high=1e5),
    Column("hidden_m3_per_h", "number", "flow of the hidden leaks at 50 Pa", "m3/h", low=0, high=1e5),
    Column("found", "integer", "leaks tagged", low=0, high=1000),
    Column("leaks", "integer", "leaks hidden", low=0, high=1000),
    Column("wrong_choices", "integer", "fixes that cannot be defended", low=0, high=1000),
    Column("unsafe_steps", "integer", "steps that could hurt someone", low=0, high=1000),
    Column("minutes", "number", "time on the day, not scored", low=0, high=10000),
    Column("methods", "text", "methods used"),
    Column("missed", "text", "leaks not tagged, parted by semicolons; blank where it was not written down"),
))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Opened:
    """One hidden site with the house opened up.

    Parameters
    ----------
    site : Site
        Where.
    flow, left, later : float
        At 50 Pa: before, after the fix, in years to come. [m3/s]
    number : int
        Its tag; 0 if it has none.
    by : tuple of str
        Methods that noticed it.
    tried : tuple of str
        Methods led past it.
    fix : Fix or None
        The last fix.
    rechecked : bool
        Whether it was looked at again.
    would_show : tuple of str
        Methods that show it in most looks, with suction at 50 Pa and doors open.
    why : str
        Why it was missed; empty if tagged.
    """

    site: object
    flow: float
    left: float
    later: float
    number: int
    by: tuple[str, ...]
    tried: tuple[str, ...]
    fix: object
    rechecked: bool
    would_show: tuple[str, ...]
    why: str

    @property
    def verdict(self):
        """What became of it, in a few words."""
        if not self.number:
            return f"missed: {self.why}"
        if self.fix is None:
            return f"tag {self.number}, nothing done"
        again = "looked at again" if self.rechecked else "not looked at again"
        grade = "right" if self.fix.right else "cannot be defended"
        return f"tag {self.number}, {self.fix.key}: {grade}; {again}"


@dataclass(frozen=True, slots=True)
class Debrief:
    """The house opened up: every site, the score, what was unsafe.

    Parameters
    ----------
    session : Session
        What was done.
    rows : tuple of Opened
        Every hidden site; air that passes two of them shows in both.
    hidden_flow, fixed_flow : float
        What the fan moves at 50 Pa because of the hidden leaks; what of it is gone, today and later.
        [m3/s]
    unsafe : tuple of str
        Steps that could have hurt someone.
    gained : Gain or None
        Between the first and the last reading.
    """

    session: object
    rows: tuple[Opened, ...]
    hidden_flow: float
    fixed_flow: float
    unsafe: tuple[str, ...]
    gained: object = None

    @property
    def leaks(self):
        """The rows of leaks from outside."""
        return tuple(row for row in self.rows if row.site.kind == "leak")

    @property
    def points(self):
        """Share of the hidden leakage that is truly fixed, in hundredths; capped if unsafe."""
        share = self.fixed_flow / self.hidden_flow if self.hidden_flow else 0.0
        points = round(100.0 * min(max(share, 0.0), 1.0))
        return min(points, CAP) if self.unsafe else points

    @property
    def wrong(self):
        """Rows whose fix cannot be defended."""
        return tuple(row for row in self.rows if row.fix is not None and not row.fix.right)

    @property
    def untouched(self):
        """Rows noticed and not tagged."""
        return tuple(row for row in self.rows if row.by and not row.number)

    @property
    def not_again(self):
        """Rows sealed and not looked at again."""
        return tuple(
            r for r in self.rows if r.fix is not None and r.fix.residual < 1.0 and not r.rechecked
        )

    def sentence(self, units="metric"):
        """Return the result in words."""
        unit = display_unit("m3/s", units)
        tagged = sum(1 for row in self.leaks if row.number)
        fixed, hidden = (show(from_si(q, unit), unit) for q in (self.fixed_flow, self.hidden_flow))
        text = [f"{self.points} of 100: {fixed} of {hidden} at 50 Pa truly fixed.",
                f"{tagged} of {len(self.leaks)} leaks tagged in {show(self.session.stand.minutes)} minutes of the day."]  # fmt: skip
        if self.wrong:
            text.append(f"{_count(len(self.wrong), 'choice')} cannot be defended.")
        if self.untouched:
            text.append(f"{len(self.untouched)} noticed and not tagged.")
        if self.not_again:
            text.append(f"{len(self.not_again)} sealed and not looked at again.")
        if self.unsafe:
            text.append(f"Unsafe, so at most {CAP}: {' '.join(self.unsafe)}")
        return " ".join(text)


def _count(number, word):
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def debrief(session):
    """Return the house opened up after a day.

    Parameters
    ----------
    session : Session
        What was done.

    Returns
    -------
    Debrief
        Every hidden site with its flow, what would have shown it, why it was missed.
    """
    house, hidden, now = session.house, session.hidden, session.stand
    before = leak_flows(house, hidden)
    after = leak_flows(house, hidden, now.sealed)
    ready = tuple(one.name for one in house.openings)
    at_50 = blow(house, hidden, Setting(-50.0, "open", ready))
    rows = []
    for name in (*hidden.names, *hidden.lookalikes):
        site = house.site(name)
        number = now.marks.index(name) + 1 if name in now.marks else 0
        fix = next((f for n, f in reversed(now.fixed) if n == number), None)
        looks = {m.key: notice(house, hidden, at_50, name, site.room, m.key) for m in METHODS}
        shows = tuple(
            m.name for m in METHODS if m.key != "listening" and looks[m.key].felt >= _SHOWS
        )
        tried = tuple(dict.fromkeys(
            method for room, height, method in now.searched
            if room == site.room and (height == site.height or method == "listening")
        ))  # fmt: skip
        left = after.get(name, 0.0)
        rows.append(Opened(
            site, before.get(name, 0.0), left, min(left * (fix.later if fix else 1.0), before.get(name, 0.0)),
            number, tuple(m for s, m in now.noticed if s == name), tried, fix, number in now.again, shows,
            "" if number else _why(site, session, tried, looks),
        ))  # fmt: skip
    rows.sort(key=lambda row: (row.site.kind != "leak", -row.flow))
    leaks = [row.site.name for row in rows if row.site.kind == "leak"]
    lasting = [
        (row.site.name, min(row.fix.residual * max(row.fix.later, 1.0), 1.0))
        for row in rows if row.fix is not None and row.site.kind == "leak"
    ]  # fmt: skip
    whole, tight, now_on = (
        house_flow(house, hidden, sealed)
        for sealed in ((), [(name, 0.0) for name in leaks], lasting)
    )
    return Debrief(
        session, tuple(rows), whole - tight, whole - now_on, tuple(_unsafe(session)), _gained(now)
    )


def _why(site, session, tried, looks):
    if not tried:
        return f"nobody searched {site.room} {site.height}"
    if site.name in [name for name, _ in session.stand.noticed]:
        return "noticed and not tagged"
    if site.kind == "cold bridge":
        return "nothing to feel: it is no leak"
    led = [looks[m] for m in tried if m != "listening"]
    if not led:
        return "an ear gives no place"
    best = max(led, key=lambda one: one.signal)
    way = next(m for m in METHODS if m.key == best.method)
    if best.method == "camera":
        return (
            "too little cold air for the camera" if best.felt < _SHOWS else "passed over, by chance"
        )
    if best.felt >= _SHOWS:
        return "not led right over it, or the fan stood otherwise; look twice"
    return (f"{show(best.speed, 'm/s', 2)} at the {way.name} with suction of 50 Pa, which notices about "
            f"{show(way.threshold, 'm/s', 2)}")  # fmt: skip


def _unsafe(session):
    if any(act.did == "hazards" and act.result == ("wrong",) and act.what == ("run",)
           for act in session.acts):  # fmt: skip
        yield f"The fan was cleared although: {session.seen_today(session.hidden.stop)}"
    for number, fix in session.stand.fixed:
        if fix.unsafe:
            yield f"Tag {number} was sealed; it is {session.house.site(session.stand.marks[number - 1]).element}."
    for name, did in session.stand.chosen:
        one = next(o for o in session.house.openings if o.name == name)
        if one.wanted == "leave" and did == "seal":
            yield f"{one.name} was sealed. {one.why}"


def _gained(now):
    """The change between the first and the last reading of one direction, with what it can prove."""
    last = now.readings[-1].direction if now.readings else ""
    same = [r for r in now.readings if r.direction == last]
    if len(same) < 2:
        return None
    pair = [one.as_reading(f"reading {n}") for n, one in ((1, same[0]), (len(same), same[-1]))]
    return gain(*pair)


def result_row(opened):
    """Return the row of a class's results for a debrief.

    Parameters
    ----------
    opened : Debrief
        The debrief.

    Returns
    -------
    dict
        Column name to value, as `RESULTS` declares them.
    """
    session = opened.session
    return {
        "learner": session.learner or "somebody",
        "house": session.house.name,
        "seed": session.hidden.seed,
        "points": opened.points,
        "fixed_m3_per_h": round(float(from_si(opened.fixed_flow, "m3/h")), 1),
        "hidden_m3_per_h": round(float(from_si(opened.hidden_flow, "m3/h")), 1),
        "found": sum(1 for row in opened.leaks if row.number),
        "leaks": len(opened.leaks),
        "wrong_choices": len(opened.wrong),
        "unsafe_steps": len(opened.unsafe),
        "minutes": round(session.stand.minutes, 1),
        "methods": ", ".join(dict.fromkeys(method for _, _, method in session.stand.searched)),
        "missed": "; ".join(row.site.where for row in opened.leaks if not row.number)
        or NONE_MISSED,
    }
