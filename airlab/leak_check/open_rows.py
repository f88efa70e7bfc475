"""What would the decision be if one open row were settled, and what does each choice cost?

Every row that holds an area back, and every hole still to come, is taken as settled by itself and the
decision asked again: which areas that frees, and what it does to the number for the house. The budget,
where there is one, is asked with its lines as they stand.
"""

from dataclasses import dataclass, replace

from airlab.leak_check.budget_number import budget_asker
from airlab.leak_check.plan import _gather, decide
from airlab.leak_check.prepare import preparation
from airlab.leak_check.prices import Choices, cover_or_wait
from airlab.leak_check.release import CONDITIONS, GO, NO_NUMBER, NOT_YET
from airlab.leak_check.stage import standing_areas
from airlab.words import show_percent
from airlab.words.saying import listed

__all__ = ["OpenRow", "OpenRows", "decision_costs", "open_rows"]


@dataclass(frozen=True, slots=True)
class OpenRow:
    """One open row taken as settled.

    Parameters
    ----------
    kind, name : str
        leak, joint, area, seal, hole or trade; its number or name.
    settled : str
        What settling it would mean.
    frees : tuple of str
        Areas that nothing known would hold back any more.
    before, after : float or None
        Probability that the final test keeps the limit. [-]
    verdict : str
        Of the house, once it is settled.
    """

    kind: str
    name: str
    settled: str
    frees: tuple[str, ...]
    before: float | None
    after: float | None
    verdict: str

    @property
    def moves(self):
        """What settling it does to the probability; 0 without a number. [-]."""
        return 0.0 if None in (self.before, self.after) else self.after - self.before

    def sentence(self, units="metric"):
        """Return the row, what it frees and what it moves."""
        text = f"{self.kind.capitalize()} {self.name} {self.settled}: "
        parts = [f"frees {listed(self.frees, most=3)}"] if self.frees else []
        if abs(self.moves) >= 0.005:
            parts.append(f"{show_percent(self.before)} becomes {show_percent(self.after)}")
        elif self.before is None and self.after is not None:
            parts.append(f"there is a number, {show_percent(self.after)}")
        return (
            text + (", ".join(parts) if parts else "frees nothing by itself") + f"; {self.verdict}."
        )


@dataclass(frozen=True, slots=True)
class OpenRows:
    """All open rows, those that free or move most first.

    Parameters
    ----------
    rows : tuple of OpenRow
        Sorted.
    verdict : str
        Of the house as it stands.
    together : str
        Of the house if every row were settled.
    probability : float or None
        As it stands. [-]
    probability_together : float or None
        If every row were settled. [-]
    """

    rows: tuple[OpenRow, ...]
    verdict: str
    together: str
    probability: float | None
    probability_together: float | None

    def sentence(self, units="metric"):
        """Return how many rows are open, the first three, and all of them together."""
        if not self.rows:
            return f"No row is open. {self.verdict}."
        many = len(self.rows)
        text = [f"{many} row{'s' if many > 1 else ''} open; as it stands {self.verdict}."]
        text += [row.sentence(units) for row in self.rows[:3]]
        chance = (
            f" ({show_percent(self.probability_together)})"
            if self.probability_together is not None else ""
        )  # fmt: skip
        return " ".join((*text, f"All settled: {self.together}{chance}."))


def _changes(found):
    """Yield kind, name, what settling means, and the parts as they would then be."""
    log, inside = found["leaks"], standing_areas(found["rooms"], found["envelope"])
    for leak in log.blocking:
        rest = log.without(leak.number)
        yield "leak", str(leak.number), "sealed and re-checked, or accepted", "leaks", rest
    tables = (
        ("joint", "junctions", "junction", lambda one: not one.closed, {"closed": True},
         "closed and looked at"),
        ("area", "envelope", "area",
         lambda one: one.status in ("not started", "open laps") and one in inside,
         {"status": "complete and visible"}, "finished"),
        ("hole", "holes", "name", lambda one: not (one.sealed_with and one.checked),
         {"sealed_with": "sealed", "checked": True}, "sealed and looked at"),
        ("trade", "trades", "name", lambda one: one.holes_expected > 0, {"holes_expected": 0},
         "without holes left open"),
    )  # fmt: skip
    for kind, table, name, is_open, settled, words in tables:
        rows = found[table]
        for place, row in enumerate(rows):
            if is_open(row):
                other = (*rows[:place], replace(row, **settled), *rows[place + 1 :])
                yield kind, getattr(row, name), words, table, other
    for line in preparation(found["openings"]).hiding:
        if not line.opening.removed:
            rows = tuple(
                replace(one, hides_leak=False) if one is line.opening else one
                for one in found["openings"]
            )
            yield "seal", line.opening.name, "off, its leak sealed", "openings", rows


def open_rows(job=None, **parts):
    """Return what settling each open row, by itself and all together, would do to the decision.

    Parameters
    ----------
    job : object or None
        As for `make_plan`.
    parts : dict
        As for `make_plan`.

    Returns
    -------
    OpenRows
        Rows that free areas first, then those that move the probability most.

    Raises
    ------
    InputError
        As for `decide`.
    """
    found, settings = _gather(job, parts)
    found["settings"] = settings
    ask = budget_asker(*(found[name] for name in ("budget", "rooms", "envelope", "junctions")))
    now = decide(None, False, ask, **found)
    held = _held(now)
    rows, whole = [], dict(found)
    for kind, name, words, table, other in _changes(found):
        then = decide(None, False, ask, **{**found, table: other})
        still = _held(then)
        freed = tuple(area for area in held if area not in still)
        rows.append(
            OpenRow(kind, name, words, freed, now.probability, then.probability, then.verdict)
        )
        if table == "leaks":
            whole["leaks"] = whole["leaks"].without(int(name))
        else:
            whole[table] = tuple(
                new if new is not old else kept
                for kept, old, new in zip(whole[table], found[table], other)
            )
    rows.sort(key=lambda row: (-len(row.frees), -row.moves))
    all_settled = decide(None, False, ask, **whole)
    return OpenRows(
        tuple(rows), now.verdict, all_settled.verdict, now.probability, all_settled.probability
    )


def _held(release):
    """Return the areas that something known holds back, whatever the number."""
    known = "Nothing open is known here"
    return tuple(
        one.area for one in release.areas
        if one.verdict in (NOT_YET, NO_NUMBER) and not any(r.startswith(known) for r in one.reasons)
    )  # fmt: skip


def decision_costs(release, prices):
    """Return what covering now and one more round cost in the long run, None where that is not asked.

    Parameters
    ----------
    release : Release
        The decision.
    prices : dict or None
        Own prices: round, open_up, retest; miss and currency where there are any.

    Returns
    -------
    Choices or None
        None without a number, where nothing may be covered, or where a price is missing. One more
        round is taken to bring the house to the confidence wanted.
    """
    prices = prices or {}
    if release.number is None or any(prices.get(k) is None for k in ("round", "open_up", "retest")):
        return None
    if release.verdict not in (GO, CONDITIONS, NOT_YET) or not release.areas:
        return None
    chance = release.probability
    found: Choices = cover_or_wait(prices, chance, max(chance, release.confidence))
    return found
