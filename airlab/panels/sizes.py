"""One house, one leak, every number: sizes from rooms, all indicators, limits carried over.

The panel works on the open job. Rooms and envelope are changed in it and kept in the job's files;
a result in any common form, or the job's target, is turned into all the others for this house.
"""

from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import (
    COUNTING_RULES,
    METRICS,
    NATIONAL_COUNTING,
    ROOMS,
    Aim,
    Geometry,
    Indicators,
    Limit,
    Slip,
    aim_for,
    counting_rule,
    geometry,
    history,
    indicators,
    leakage_flow_from,
    limit_countries,
    limits,
    metric,
    metric_value,
    own_limit,
    rough_start,
    slip_sensitivity,
)
from airlab.building.answers import Answers, four_answers
from airlab.building.footprint import Footprint, footprints
from airlab.building.standing import Standing, standings
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.desk import Desk
from airlab.panels.printed import printed_link
from airlab.plots.limits_axis import limits_axis, limits_legend
from airlab.plots.rooms_plan import rooms_plan
from airlab.plots.sizes import (
    aim_ladder,
    answers_list,
    indicator_table,
    indicator_tiles,
    notes_list,
    size_tiles,
    slip_table,
)
from airlab.sheets import print_geometry
from airlab.words import PRESSURE_REFERENCE, InputError, convert, from_si, label

__all__ = ["Sizes", "SizesPanel"]

VIEWS = (
    ("rooms to scale", "rooms"),
    ("every indicator", "indicators"),
    ("limits for this house", "limits"),
    ("aim, not limit", "aim"),
    ("a slip, and how countries count", "slips"),
)
_STEPS = (0.5, 0.7, 0.8, 0.9, 0.95)
_TARGET = "target"
_MEMORY = "Also figures from memory, which nobody has checked"
_EMPTY = (
    "No rooms yet. Press Change rooms and enter the first one, or begin with floor area and "
    "height in notebook 00."
)


class Sizes(NamedTuple):
    """What the panel shows of one house and one leak."""

    house: Geometry
    rough: bool
    what: str
    indicators: Indicators
    limit: Limit | None
    aim: Aim | None
    answers: Answers
    footprints: tuple[Footprint, ...]
    standings: tuple[Standing, ...]
    slips: tuple[Slip, ...]

    @property
    def notes(self):
        """What looks odd or was assumed."""
        odd = [one.sentence() for one in self.footprints if not one.fits]
        return (*self.house.warnings, *odd, *self.house.assumptions)


class SizesPanel(CardPanel):
    """Rooms, envelope and every number of the open job.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> from airlab.panels import SizesPanel
    >>> panel = SizesPanel(demo_job()).set(metric="n50", amount=3.0)
    >>> round(panel.value.indicators.qE50, 2)
    3.09
    """

    title = "One leak, every number"

    def __init__(self, job=None):
        self._desk = Desk(job, told=lambda: self._act(self.refresh))
        job = self._desk.job
        start = "target" if job.target else "n50"
        amount = job.target["value"] if job.target else 3.0
        country = [("all", None), *((name, name) for name in limit_countries())]
        rule = counting_rule(*(job.counting.get(key) for key in ("rule", "party", "lowest_floor")))
        rules = [(f"{one.name}: {one.meaning}", one.name) for one in COUNTING_RULES]
        openings = {
            "metric": choice("What is known", _forms(job), start, as_list=True),
            "amount": widgets.FloatText(
                amount, description="Its value", style={"description_width": "initial"}
            ),
        }
        view = {
            "show": choice("Show", VIEWS),
            "country": choice("Limits of", country, as_list=True),
        }
        self._keepers = [
            self.button("Keep as target", self.keep_target),
            self.button("Keep as limit", self.keep_limit),
            self.button("Keep these settings", self.keep_settings),
        ]
        more = {
            "memory": tick(_MEMORY),
            "superseded": tick("Also figures no longer in force"),
            "flow_exponent": Dial("Flow exponent n", job.flow_exponent, 0.5, 1.0, step=0.01),
            "confidence": Dial("How sure", from_si(job.confidence, "%"), 50.0, 99.0, 1.0, unit="%"),
            "spread": Dial("Assumed spread of results", 0.30, 0.05, 0.60, step=0.01),
            "units": choice("Units", (("metric", "metric"), ("US", "us")), value=job.units),
        }
        super().__init__(
            building={"rule": choice("Counted as envelope", rules, rule.name, as_list=True)},
            openings=openings,
            view=view,
            more=more,
            job=job.name,
            units=job.units,
        )
        self._editor_box = widgets.VBox()
        self._guide = widgets.HTML(_guide("shape", "low_height_m", "flat_width_m"))
        self._edit = [
            self.button("Change rooms", lambda: self.edit("rooms")),
            self.button("Change envelope", lambda: self.edit("envelope")),
            self.button("Print the geometry sheet", self.print_sheet),
        ]
        bar = widgets.HBox(self._edit).add_class("airlab-buttons")
        self._printed = widgets.HTML().add_class("airlab-printed")
        self.children = (*self.children, bar, self._printed, self._editor_box)
        self.controls["show"].observe(self._offer, "value")
        self._offer()

    def arrange(self, *extra):
        """Put the form of the number first, then what counts, then the view."""
        rule, form, amount, show_, country = self._in_sight
        self._in_sight = (form, amount, rule, show_, country)
        keep = widgets.VBox(self._keepers).add_class("airlab-more")
        super().arrange(*extra)
        self._more_box.children = (*self._more_box.children, keep)

    # what a person does -------------------------------------------------------------------

    @property
    def open_job(self):
        """The job as it stands."""
        return self._desk.job

    def editor(self, name):
        """Return the editor of a table of the job: "rooms" or "envelope"."""
        return self._desk.editor(name)

    def edit(self, name):
        """Show the editor of a table under the picture; again to fold it away."""
        editor = self.editor(name)
        shown = editor in self._editor_box.children
        guide = (self._guide,) if name == "rooms" else ()
        self._editor_box.children = () if shown else (editor, *guide)
        return self

    def keep_target(self):
        """Keep the number that is typed as the job's target."""
        self._desk.save_settings(target=self._goal())
        form = self.controls["metric"]
        with self._held_back():  # a job that had no target can now be shown at it
            form.options, form.value = _forms(self._desk.job), form.value

    def keep_limit(self, name="limit in my contract"):
        """Keep the number that is typed as the job's limit."""
        self._desk.save_settings(limit={**self._goal(), "name": name})

    def keep_settings(self):
        """Keep counting rule, exponent, confidence and units in the job."""
        now = self.settings
        self._desk.save_settings(
            counting={"rule": now["rule"], "party": None, "lowest_floor": None},
            flow_exponent=now["flow_exponent"],
            confidence=now["confidence"],
            units=now["units"],
        )

    def print_sheet(self):
        """Print the geometry sheet to sign; returns the written pages."""
        done = print_geometry(self._desk.job)
        self._printed.value = printed_link(done.pack, "Open the geometry sheet")
        return done

    def close(self):
        """Take the panel off the page, with the editors that are folded away."""
        self._desk.close()
        super().close()

    # what is shown ------------------------------------------------------------------------

    def compute(self, rule, metric, amount, flow_exponent, confidence, spread, units,
                country, memory, superseded, **view):  # fmt: skip
        """Return everything about this house and this leak; None for a house without rooms."""
        self.units, job = units, self._desk.job
        house, rough = house_of(job, counting_rule(rule))
        if house is None:
            return None
        what = "target" if metric == _TARGET else "result"
        if what == "target":
            amount = job.target["value"]
        key, unit = self._form(metric)
        flow = leakage_flow_from(key, amount, house, flow_exponent, unit=unit)
        found = indicators(flow, house, flow_exponent)
        limit = own_limit(job.limit["metric"], job.limit["value"],
                          job.limit.get("name") or "your own limit", units=units) if job.limit else None  # fmt: skip
        aim = limit and aim_under(limit, spread, confidence, past_of(job))
        published = limits(country, with_memory=memory, with_superseded=superseded)
        mine = (limit,) if limit else ()
        return Sizes(
            house, rough, what, found, limit, aim,
            four_answers(found, job.envelope, limit, aim, what, units),
            footprints(job.rooms, job.envelope),
            standings(flow, (*mine, *published), house, flow_exponent),
            slip_sensitivity(found),
        )  # fmt: skip

    def picture(self, record, show, **settings):
        """Return sizes, numbers, what was asked for, and the four answers."""
        if record is None:
            return '<p class="airlab-question">No rooms yet</p>'
        rough = '<p class="airlab-mark">ROUGH until rooms are entered</p>' if record.rough else ""
        return (
            f"{rough}{size_tiles(record.house, self.units)}"
            f"{indicator_tiles(record.indicators, units=self.units)}"
            f"{self._shown(record, show)}{notes_list(record.notes)}{answers_list(record.answers)}"
        )

    def words(self, record, **settings):
        """Return the leak in words, for this house."""
        if record is None:
            return _EMPTY
        rough = "ROUGH until rooms are entered. " if record.rough else ""
        return f"{rough}The {record.what}: {_lower(record.indicators.sentence(self.units))}"

    # workings -----------------------------------------------------------------------------

    def _shown(self, record, view):
        units = self.units
        if view == "indicators":
            return indicator_table(record.indicators, units)
        if view == "slips":
            counted = notes_list([one.sentence() for one in NATIONAL_COUNTING])
            return slip_table(record.slips, units) + counted
        if view == "limits":
            flow = record.indicators.leakage_flow
            return limits_axis(record.standings, flow, record.what, units) + limits_legend()
        if view == "aim":
            return self._ladder(record)
        plans = rooms_plan(self._desk.job.rooms, record.footprints, units)
        if not plans:
            return notes_list(["Rooms are drawn here, to scale, once they are entered."])
        return f'<div class="airlab-plan">{"".join(plans)}</div>'

    def _ladder(self, record):
        """Return what to aim for, step by step of confidence."""
        if record.aim is None:
            return notes_list(["No limit yet. Type it, then More settings, Keep as limit."])
        limit, aim = record.limit, record.aim
        steps = sorted({*_STEPS, aim.confidence})
        aims = [aim_under(limit, aim.spread, sure, aim.history) for sure in steps]
        return aim_ladder(aims, aim.confidence) + notes_list([aim.sentence()])

    def _offer(self, _change=None):
        """Show the country where limits are shown; no value to type while it is the target."""
        limits_shown = self.controls["show"].value == "limits"
        self.controls["country"].layout.display = None if limits_shown else "none"
        self.controls["amount"].disabled = self.controls["metric"].value == _TARGET

    def _form(self, form):
        """Return metric key and unit of a form such as "n50" or "q50_flow cfm"."""
        key, _, unit = form.partition(" ")
        return (self._desk.job.target["metric"] if key == _TARGET else key), unit or None

    def _changed(self, change):
        """Show the same leak in the form that was chosen, then redraw."""
        if change.owner is self.controls["metric"] and self._value is not None and not self._held:
            key, unit = self._form(change.new)
            flow, house = self._value.indicators.leakage_flow, self._value.house
            n = self.controls["flow_exponent"].value
            with self._held_back():
                same = metric_value(key, flow, house, n, unit=unit)
                self.controls["amount"].value = _four_digits(same)
            self._offer()
        super()._changed(change)

    def _goal(self):
        """Return the number that is typed as a target or a limit, in its metric's own unit."""
        if self.controls["metric"].value == _TARGET:
            raise InputError("That is the target already. Choose what is known and type its value.")
        key, unit = self._form(self.controls["metric"].value)
        value, own = self.controls["amount"].value, metric(key).unit
        return {"metric": key, "value": _four_digits(convert(value, unit, own) if unit else value)}


def _forms(job):
    """Return every way to state a leak as (words, form), those at 50 Pa first."""
    forms = [("the job's target", _TARGET)] if job.target else []
    for one in sorted(METRICS, key=lambda one: one.pressure != PRESSURE_REFERENCE):
        name = one.name[:1].upper() + one.name[1:]
        forms.append((f"{name} [{label(one.unit)}]" if label(one.unit) else name, one.key))
        forms += [(f"{name} [{label(unit)}]", f"{one.key} {unit}") for unit in one.others]
    return forms


def house_of(job, rule):
    """Return the geometry and whether it is rough; None where nothing was entered."""
    if job.rooms:
        return geometry(job.rooms, job.envelope, rule), False
    if job.rough:
        rough = rough_start(job.rough["floor_area_m2"], job.rough["mean_height_m"], "n50", 1.0)
        return rough.geometry, True
    return None, False


def aim_under(limit, spread, confidence, past):
    """Return the value to aim for under a limit."""
    at = metric(limit.metric).at_pressure
    return aim_for(limit.value, spread, confidence, limit.unit, past, at)


def past_of(job):
    """Return what own past results say; None for fewer than two houses."""
    return history(job.past_results) if len(job.past_results) > 1 else None


def _guide(*columns):
    """Return what columns of the room table mean, folded, as HTML."""
    said = "".join(f"<p>{ROOMS.column(name).meaning}.</p>" for name in columns)
    return f"<details><summary>Slopes, bays, dormers, stairs</summary>{said}</details>"


def _four_digits(value):
    return float(f"{value:.4g}")


def _lower(sentence):
    return sentence[:1].lower() + sentence[1:]
