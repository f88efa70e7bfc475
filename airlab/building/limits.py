"""Which published limits and targets are there, and what does each allow this house?

The rows stand in `limits.csv` beside this module, each with its edition and how it was obtained.
Equal numbers in different metrics are not equal targets: a limit is carried onto one house.
"""

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from airlab.building.exponent import FLOW_EXPONENT
from airlab.building.indicators import Indicators, indicators
from airlab.building.metrics import leakage_flow_from, metric, metric_value
from airlab.words import (
    InputError,
    convert,
    display_unit,
    require_choice,
    require_positive,
    show,
    show_percent,
)

__all__ = [
    "LIMIT_KINDS",
    "CarriedLimit",
    "Limit",
    "Verdict",
    "carried_onto",
    "judge",
    "limit_countries",
    "limits",
    "own_limit",
]

LIMIT_KINDS = ("limit", "backstop", "default", "notional", "guidance", "ventilation trigger",
               "target", "no number")  # fmt: skip
_UK = ("England", "Wales", "Scotland", "Northern Ireland")
_CLOSE = 0.05  # two careful tests of one house can differ by 4 to 7 % [REPEAT_2011]
_KIND_WORDS = {
    "limit": "must not be exceeded",
    "backstop": "worst allowed; the energy calculation normally asks for better",
    "default": "assumed where nobody tests",
    "notional": "value inside the comparison building",
    "guidance": "good practice in its day",
    "ventilation trigger": "decides which ventilation is allowed",
    "target": "chosen, not compulsory",
    "no number": "no number",
}
_STATUS_WORDS = {
    "read": "Figure read in the document.",
    "second-hand": "Figure second-hand.",
    "from memory": "Figure from memory, nobody has checked it.",
    "assumption": "Figure entered by you.",
}


@dataclass(frozen=True, slots=True)
class Limit:
    """A published figure: where, in which document and edition, for what, and how obtained."""

    key: str
    jurisdiction: str
    document: str
    edition: str
    metric: str
    value: float | None
    unit: str
    pressure: float | None
    sign: str
    applies_to: str
    kind: str
    test_basis: str
    superseded: bool
    status: str
    source: str
    note: str

    @property
    def name(self):
        """Jurisdiction, document and edition in one line."""
        where = "Your own" if self.key == "own" else self.jurisdiction
        return f"{where}: {self.document}" + (f" ({self.edition})" if self.edition else "")

    @property
    def _tail(self):
        return f" {_STATUS_WORDS[self.status]} Check your local rules."

    @property
    def kind_meaning(self):
        """What the kind means, in words."""
        return _KIND_WORDS[self.kind]

    def shown(self):
        """Return the value with unit, area and pressure."""
        if self.value is None:
            return "no number"
        one = metric(self.metric)
        per = f" of {one.basis}" if one.basis and one.basis != "volume" else ""
        return f"{show(self.value, self.unit)}{per} {one.at_pressure}"

    def sentence(self):
        """Return the limit in words with edition and status."""
        text = f"{self.name}, {self.applies_to}: {self.shown()}, {self.kind}"
        text += "." if self.value is None else f" ({self.kind_meaning})."
        if self.note:
            text += f" {self.note[:1].upper()}{self.note[1:]}."
        return text + self._tail


@lru_cache(maxsize=1)
def _all_limits():
    text = files("airlab.building").joinpath("limits.csv").read_text(encoding="utf-8")
    return tuple(_limit(row) for row in csv.DictReader(text.splitlines()))


def _limit(row):
    row = dict(row)
    for name in ("value", "pressure"):
        row[name] = float(row[name]) if row[name] else None
    row["superseded"] = row["superseded"] == "yes"
    return Limit(**row)


def limits(country=None, kinds=None, with_memory=False, with_superseded=False):
    """Return published limits and targets, in the order of the table.

    Parameters
    ----------
    country : str or None
        Jurisdiction, such as "Ireland"; "UK" gives the four nations too; None gives all.
    kinds : iterable of str or None
        Kinds wanted, of `LIMIT_KINDS`; None gives all that hold a number.
    with_memory : bool
        Also give rows nobody has checked against the document.
    with_superseded : bool
        Also give editions that are no longer in force.

    Returns
    -------
    tuple of Limit
        The rows; empty if the country has none of that kind.

    Raises
    ------
    InputError
        If the country or a kind is unknown.

    Examples
    --------
    >>> [limit.value for limit in limits("Ireland", kinds=["limit"])]
    [5.0]
    """
    if kinds is not None:
        kinds = (kinds,) if isinstance(kinds, str) else tuple(kinds)
        for kind in kinds:
            require_choice("kind", kind, LIMIT_KINDS)
    if country is not None and country not in limit_countries():
        known = ", ".join(limit_countries())
        raise InputError(f"Country is {country!r}. Choose one of: {known}.")
    return tuple(
        limit
        for limit in _all_limits()
        if (country is None or limit.jurisdiction == country
            or (country == "UK" and limit.jurisdiction in _UK))
        and (limit.kind in kinds if kinds is not None else limit.value is not None)
        and (with_memory or limit.status != "from memory")
        and (with_superseded or not limit.superseded)
    )  # fmt: skip


def limit_countries():
    """Return every jurisdiction of the table, in its order."""
    return tuple(dict.fromkeys(limit.jurisdiction for limit in _all_limits()))


def own_limit(metric_key, value, name="your own limit", unit=None, units="metric"):
    """Return a limit of one's own, such as a figure from a contract, in the unit people see.

    Raises
    ------
    InputError
        If the metric is unknown or ambiguous, or the value is not above zero.
    """
    one = metric(metric_key)
    value, unit = require_positive(one.symbol, value, unit or one.unit), unit or one.unit
    shown = display_unit(unit, units)
    return Limit("own", "own", name, "", one.key, convert(value, unit, shown), shown, one.pressure, "<=",
                 "this house", "limit", "", False, "assumption", "entered by you", "")  # fmt: skip


@dataclass(frozen=True, slots=True)
class CarriedLimit:
    """What a limit allows this house: its leakage flow, and every indicator at that flow."""

    limit: Limit
    leakage_flow: float
    indicators: Indicators

    def sentence(self, units="metric"):
        """Return what the limit allows here, in words."""
        said = self.indicators.sentence(units)
        return (
            f"{self.limit.name}: {self.limit.shown()}. A house of this shape that just meets it: "
            f"{said[:1].lower()}{said[1:]}{self.limit._tail}"
        )


def carried_onto(limit, geometry, flow_exponent=FLOW_EXPONENT):
    """Return what a limit allows this house.

    Parameters
    ----------
    limit : Limit
        The limit.
    geometry : Geometry
        The house.
    flow_exponent : float
        Exponent that brings a limit at another pressure to 50 Pa. [-]

    Returns
    -------
    CarriedLimit
        Leakage flow at 50 Pa and all indicators at it.

    Raises
    ------
    InputError
        If the limit holds no number or needs a size that was not entered.

    Notes
    -----
    Areas that a country counts in its own way are carried as its definition says where the house's
    table allows it (France: heat-loss area without the lowest floor); else the note says so.

    Examples
    --------
    >>> from airlab.building import Geometry
    >>> (danish,) = [one for one in limits("Denmark") if one.key == "dk_br18"]
    >>> round(carried_onto(danish, Geometry(353.5, 311.7, 131.6)).indicators.n50, 2)
    1.34
    """
    if limit.value is None:
        raise InputError(f"{limit.name} holds no number to compare with.")
    flow = leakage_flow_from(limit.metric, limit.value, geometry, flow_exponent, unit=limit.unit)
    return CarriedLimit(limit, flow, indicators(flow, geometry, flow_exponent))


@dataclass(frozen=True, slots=True)
class Verdict:
    """One limit held against one leakage flow.

    `value` is the house in the limit's own unit; `meets` is None where a size is missing or where
    the row is not a bound; `spare` is the room left as a fraction of the limit, negative if over.
    For a ventilation trigger `meets` says whether the trigger is crossed.
    """

    limit: Limit
    value: float | None
    meets: bool | None
    spare: float | None
    missing: str = ""

    @property
    def close(self):
        """Whether the two lie within 5 % of each other."""
        return self.spare is not None and abs(self.spare) <= _CLOSE

    def sentence(self):
        """Return the comparison in words."""
        limit, tail = self.limit, self.limit._tail
        if self.value is None:
            return f"{limit.name}: cannot be compared. {self.missing}{tail}"
        text = (
            f"{limit.name}, {limit.applies_to}: {limit.kind} {limit.shown()}. "
            f"This house has {show(self.value, limit.unit)}. "
        )
        if limit.kind == "ventilation trigger":
            text += "The trigger is crossed." if self.meets else "The trigger is not crossed."
            return f"{text} {limit.note[:1].upper()}{limit.note[1:]}.{tail}"
        if limit.kind == "default":
            text += "Better than the default." if self.meets else "No better than the default."
        elif self.meets:
            text += f"Inside, with {show_percent(max(self.spare, 0.0))} to spare."
        else:
            text += f"Over by {show_percent(-self.spare)}."
        if self.close:
            text += " That is within what two careful tests can differ by."
        return text + tail


def judge(leakage_flow, limits, geometry, flow_exponent=FLOW_EXPONENT):
    """Return how a leakage flow stands against each limit.

    Parameters
    ----------
    leakage_flow : float
        Leakage flow at 50 Pa. [m3/s]
    limits : iterable of Limit
        The limits to compare with; rows without a number are passed over.
    geometry : Geometry
        The house.
    flow_exponent : float
        Exponent that brings the flow to a limit's pressure. [-]

    Returns
    -------
    tuple of Verdict
        In the order given. A limit whose area was not entered says so.

    Notes
    -----
    The comparison is with the flow as given: test uncertainty and preparation are not in it.
    """
    flow = require_positive("leakage_flow", leakage_flow, "m3/s", allow_zero=True)
    return tuple(
        _verdict(flow, one, geometry, flow_exponent) for one in limits if one.value is not None
    )


def _verdict(flow, limit, geometry, flow_exponent):
    try:
        value = metric_value(limit.metric, flow, geometry, flow_exponent, unit=limit.unit)
    except InputError as error:
        return Verdict(limit, None, None, None, str(error))
    edge = limit.value * 1e-9
    meets = value < limit.value - edge if limit.sign == "<" else value <= limit.value + edge
    return Verdict(limit, value, bool(meets), 1.0 - value / limit.value)
