"""What to aim for under a limit, and whether ventilation and contract fit it.

Works on the open job: its limit, house and own past results. Five pages of one panel, each with at
most five controls: aim, limits for this house, ventilation at both ends, contract, the past.
"""

from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import (
    APPLIANCES,
    ASSUMED_SPREAD,
    CONTRACT_CHOICES,
    PUBLISHED_CONTEXT,
    Aim,
    CarriedLimit,
    ContractLine,
    Limit,
    VentilationFit,
    carried_onto,
    contract_line,
    counting_rule,
    leakage_flow_from,
    limit_countries,
    limits,
    metric,
    own_limit,
    ventilation_fit,
)
from airlab.building.aim import above_limit
from airlab.building.combustion import appliance as burner
from airlab.building.standing import Standing, standings
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.desk import Desk
from airlab.panels.sizes import aim_under, house_of, past_of
from airlab.plots.aim import context_list, contract_card, fit_tables, twenty_houses
from airlab.plots.limits_axis import limits_axis, limits_legend
from airlab.plots.sizes import aim_ladder, notes_list
from airlab.words import InputError, convert, from_si, show_percent

__all__ = ["Target", "TargetPanel"]

VIEWS = (
    ("what to aim for", "aim"),
    ("limits for this house", "limits"),
    ("does the ventilation fit", "fit"),
    ("the contract line", "contract"),
    ("what came out elsewhere", "past"),
)
# Under each page: the controls in sight, and those under More settings.
_SEEN = {
    "aim": (("limit", "confidence", "spread", "try_aim"), ()),
    "limits": (("limit", "country", "memory"), ("try_aim",)),
    "fit": (
        ("extract", "bedrooms", "appliance", "planned"),
        ("output", "limit", "try_aim", "country"),
    ),
    "contract": (("direction", "preparation", "stage", "miss"), ("limit", "evidence")),
    "past": (("limit", "confidence"), ()),
}
_PARTS = (
    ("direction", "Measured by"), ("preparation", "House prepared by"), ("stage", "When"),
    ("evidence", "Evidence"), ("miss", "If missed"),
)  # fmt: skip
_STEPS = (0.5, 0.7, 0.8, 0.9, 0.95)
_KINDS = ("limit", "backstop", "target", "notional", "guidance")
_AUTO = {"description_width": "initial"}
# unit, start, slider ends and step of all extract fans together, and of the rated output
_SIZES = {"metric": (("L/s", 60.0, 0.0, 200.0, 1.0), ("kW", 8.0, 0.0, 30.0, 0.5)),
          "us": (("cfm", 120.0, 0.0, 400.0, 5.0), ("kBtu/h", 27.0, 0.0, 100.0, 1.0))}  # fmt: skip
_NO_HOUSE = "No rooms yet: enter them in notebook 04. The aim alone needs none."
_ELSEWHERE = (
    "Elsewhere results pile up just inside their targets, and nearly half of one set of low-energy "
    "homes came out leakier than aimed for."
)
_NO_PAST = "Fewer than two results of your own: the spread is assumed. Enter two houses or more."


class Target(NamedTuple):
    """What the panel shows: always the aim, and what its page asks for."""

    limit: Limit
    aim: Aim
    aimed_at: float
    rough: bool = False
    carried: CarriedLimit | None = None
    aimed_flow: float | None = None
    standings: tuple[Standing, ...] = ()
    fit: VentilationFit | None = None
    line: ContractLine | None = None


class TargetPanel(CardPanel):
    """Limit, aim, ventilation at both ends, contract line.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> from airlab.panels import TargetPanel
    >>> round(TargetPanel(demo_job()).value.aim.aim, 2)
    2.04
    """

    title = "Limit is not aim"

    def __init__(self, job=None):
        self._desk = Desk(job, told=lambda: self._act(self.refresh))
        self._page = None
        job = self._desk.job
        country = [("all", None), *((name, name) for name in limit_countries())]
        extract, output = _SIZES[job.units]
        burners = [(one.name, one.key) for one in APPLIANCES]
        more = {
            "limit": choice("Limit", _limits(job), as_list=True),
            "confidence": Dial("How sure", from_si(job.confidence, "%"), 50.0, 99.0, 1.0, unit="%"),
            "spread": Dial("Assumed spread of results", ASSUMED_SPREAD, 0.05, 0.60, step=0.01),
            "try_aim": widgets.FloatText(0.0, description="Try another aim (0: none)", style=_AUTO),
            "country": choice("Rules of", country, as_list=True),
            "memory": tick("Also figures from memory, which nobody has checked"),
            "extract": Dial("All extract fans together", *extract[1:], extract[0]),
            "bedrooms": widgets.BoundedIntText(3, 0, 20, description="Bedrooms", style=_AUTO),
            "appliance": choice("Burns air from the rooms", burners, as_list=True),
            "output": Dial("Its rated output", *output[1:], output[0]),
            "planned": tick("There is a ventilation plan, checked at both ends"),
            **{part: choice(name, _options(part), as_list=True) for part, name in _PARTS},
            "units": choice("Units", (("metric", "metric"), ("US", "us")), value=job.units),
        }
        self._own = widgets.HBox([
            self.button("Keep the aim as target", self.keep_target),
            self.button("My past results", self.edit_past),
        ]).add_class("airlab-buttons")  # fmt: skip
        super().__init__(
            view={"show": choice("Show", VIEWS)}, more=more, job=job.name, units=job.units
        )
        self._editor_box = widgets.VBox()
        self.children = (*self.children, self._editor_box)

    def arrange(self, *extra):
        """Put the choice of the page first, then the controls of the page on show."""
        seen, folded = _SEEN[self.controls["show"].value]
        self._more_box.children = tuple(self.controls[name] for name in (*folded, "units"))
        self._side.children = (
            *self._in_sight, *(self.controls[name] for name in seen), *extra,
            self._more, self._more_box, self._own, self._buttons,
        )  # fmt: skip

    # what a person does -------------------------------------------------------------------

    @property
    def open_job(self):
        """The job as it stands."""
        return self._desk.job

    def editor(self):
        """Return the editor of own past results."""
        return self._desk.editor("past_results")

    def edit_past(self):
        """Show the editor of own past results; again to fold it away."""
        self._editor_box.children = () if self._editor_box.children else (self.editor(),)
        return self

    def keep_target(self):
        """Keep what is aimed for as the job's target, in its metric's own unit."""
        shown, one = self.value, metric(self.value.limit.metric)
        value = float(f"{convert(shown.aimed_at, shown.limit.unit, one.unit):.3g}")
        self._desk.save_settings(target={"metric": one.key, "value": value})

    def close(self):
        """Take the panel off the page, with the editor that may be folded away."""
        self._desk.close()
        super().close()

    # what is shown ------------------------------------------------------------------------

    def compute(self, show, limit, confidence, spread, try_aim, units, country, memory, extract,
                bedrooms, appliance, planned, output, **parts):  # fmt: skip
        """Return the aim, and what the page on show asks for."""
        if show != self._page:
            self._page = show
            self.arrange()
        self.units, job = units, self._desk.job
        chosen = _limit(job, limit, units)
        aim = aim_under(chosen, spread, confidence, past_of(job))
        if try_aim < 0.0:
            raise InputError("An aim is above zero; 0 takes the value worth aiming for.")
        found = Target(chosen, aim, try_aim or aim.aim)
        counting = (job.counting.get(key) for key in ("rule", "party", "lowest_floor"))
        rule = counting_rule(*counting)
        if show == "contract":
            line = contract_line(chosen.metric, chosen.value, unit=chosen.unit, rule=rule, **parts)
            return found._replace(line=line)
        if show not in ("limits", "fit"):
            return found
        house, rough = house_of(job, rule)
        if house is None:
            raise InputError(_NO_HOUSE)
        found, n = found._replace(rough=rough), job.flow_exponent
        if show == "fit":
            return found._replace(fit=ventilation_fit(
                aim, chosen.metric, house, n, found.aimed_at, country, bedrooms, extract,
                burner(appliance), planned, output,
            ))  # fmt: skip
        flow = leakage_flow_from(chosen.metric, found.aimed_at, house, n, unit=chosen.unit)
        published = [one for one in limits(country, with_memory=memory) if one.key != chosen.key]
        return found._replace(
            carried=carried_onto(chosen, house, n), aimed_flow=flow,
            standings=standings(flow, (chosen, *published), house, n),
        )  # fmt: skip

    def picture(self, record, show, **settings):
        """Return the page that is on show."""
        aim = record.aim
        if show == "contract":
            return contract_card(record.line, aim.chance_at(aim.limit))
        if show == "past":
            own = aim.history.sentence() if aim.history else _NO_PAST
            return notes_list([own]) + context_list(PUBLISHED_CONTEXT)
        rough = '<p class="airlab-mark">ROUGH until rooms are entered</p>' if record.rough else ""
        if show == "fit":
            return rough + fit_tables(record.fit, self.units)
        if show == "limits":
            axis = limits_axis(record.standings, record.aimed_flow, "aim", self.units)
            return rough + axis + limits_legend()
        steps = sorted({*_STEPS, aim.confidence})
        aims = [aim_under(record.limit, aim.spread, sure, aim.history) for sure in steps]
        drawn = f'<div class="airlab-dots">{twenty_houses(aim, record.aimed_at)}</div>'
        return drawn + aim_ladder(aims, aim.confidence)

    def words(self, record, show, **settings):
        """Return the page in words."""
        if show == "contract":
            return f"{record.line.sentence()} {record.line.note}"
        if show == "fit":
            return record.fit.sentence(self.units)
        aim, at = record.aim, record.aimed_at
        over = above_limit(at, aim.limit)
        if show == "limits":
            return f"{over} {record.carried.sentence(self.units)}".lstrip()
        if show == "past":
            return f"{aim.history.sentence() if aim.history else _NO_PAST} {_ELSEWHERE}"
        other = "" if at == aim.aim else (
            f" Whoever aims for {aim.shown(at)} passes in {show_percent(aim.chance_at(at))} of cases."
        )  # fmt: skip
        limit = "" if at == aim.limit else (
            " Whoever aims at the limit itself passes in "
            f"{show_percent(aim.chance_at(aim.limit))} of cases."
        )  # fmt: skip
        return (
            f"{over} {aim.sentence()}{other}{limit} Settle the ventilation before a low number is praised. "
            f"{_status(record.limit)}"
        ).lstrip()


def _options(part):
    return [(short, key) for key, short, _ in CONTRACT_CHOICES[part]]


def _published():
    return limits(kinds=_KINDS)


def _limits(job):
    """Return the limits to choose from as (words, key): one's own first."""
    listed = [
        (
            f"{one.jurisdiction}, {one.shown()}: {one.document} {one.edition}, {one.applies_to}",
            one.key,
        )
        for one in _published()
    ]
    mine = _limit(job, "own", job.units) if job.limit else None
    return [(f"Own, {mine.shown()}: {mine.document}", "own"), *listed] if mine else listed


def _limit(job, key, units):
    if key == "own":
        mine = job.limit
        if not mine:
            raise InputError("The job has no limit of its own any more. Choose another.")
        return own_limit(
            mine["metric"], mine["value"], mine.get("name") or "your own limit", units=units
        )
    return next(one for one in _published() if one.key == key)


def _status(limit):
    """Say where the limit comes from and how it is known."""
    if limit.key == "own":
        return "Check your local rules."
    return f"The limit: {limit.sentence()}"
