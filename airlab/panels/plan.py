"""Plan the check of the open job: hazards, layer, fan, openings, the way round, the pack.

Every change is saved to the job at once and can be taken back; the demo is tried and not saved.
Figures stand above every view, so that one row changed is seen to move all of them.
"""

from html import escape
from pathlib import Path
from typing import NamedTuple

import ipywidgets as widgets

from airlab import sheets
from airlab.building import FLOW_EXPONENT
from airlab.files import Job
from airlab.leak_check import (
    CheckPlan,
    HazardVerdict,
    film_loads,
    hazard_verdict,
    make_plan,
    standing_areas,
)
from airlab.leak_check.outlook import Outlook, assumed_in, outlook
from airlab.panels.card import CardPanel
from airlab.panels.controls import choice
from airlab.panels.fan_points import changed_fan
from airlab.panels.hazards import HazardRows
from airlab.panels.keeping import KeepsJob
from airlab.panels.plan_controls import ALL, PlanControls
from airlab.panels.printed import printed_link
from airlab.plots.fan_chart import FanChart
from airlab.plots.layer_map import layer_map
from airlab.plots.plan_parts import (
    advice_list,
    assumption_list,
    plan_tiles,
    route_list,
    schedule_table,
)
from airlab.plots.plan_when import fan_facts, when_view
from airlab.plots.svg import as_image
from airlab.words import InputError, require_choice

__all__ = ["VIEWS", "PlanPanel", "PlannedCheck"]

VIEWS = (
    ("1  What could hurt someone", "hazards"),
    ("2  How far the layer is", "layer"),
    ("3  Flow and fan", "fan"),
    ("4  What is shut and sealed", "openings"),
    ("5  Where to walk", "route"),
    ("6  When and in what weather", "when"),
)
_TABLES = {
    "layer": (("envelope", "areas"), ("junctions", "joints"), ("trades", "trades to come")),
    "openings": (("openings", "openings"),),
    "when": (
        ("programme", "programme"),
        ("weather", "weather by the hour"),
        ("remedies", "fixes within reach and their cost"),
    ),
}
_STYLE = Path(__file__).with_name("plan.css")


class PlannedCheck(NamedTuple):
    """A job, what hazards say, its plan and the decision looked at ahead; None without rooms."""

    job: Job
    hazards: HazardVerdict
    plan: CheckPlan | None
    outlook: Outlook | None


class PlanPanel(KeepsJob, CardPanel):
    """Plan the check of a job.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out.
    look : str
        What is looked at first: hazards, layer, fan, openings, route or when.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> from airlab.panels import PlanPanel
    >>> panel = PlanPanel(demo_job(), look="layer")
    >>> panel.sentence[:44]
    'Expect 667 to 2410 m³/h at 50 Pa on the day.'
    >>> panel.set_area("ceiling bathroom", status="complete and visible").sentence[:44]
    'Expect 663 to 2370 m³/h at 50 Pa on the day.'
    """

    title = "Plan the check"

    def __init__(self, job=None, look="hazards"):
        require_choice("look", look, [view for _, view in VIEWS])
        self._chart = FanChart()
        job = self._lay_open(job)
        self.look = choice("Look at", VIEWS, look)
        self.look.observe(lambda _: self.arrange(), "value")
        self._mine = PlanControls(self, job.units)
        self._hazards = HazardRows(lambda key, answer: self._act(self.answer, key, answer))
        pack = self.button("Print the pack", self.print_pack, main=True)
        self._print = widgets.HBox([pack]).add_class("airlab-print")
        self._printed = widgets.HTML().add_class("airlab-printed")
        self._figures = widgets.HTML()
        self._benches = {view: self._make_bench(tables) for view, tables in _TABLES.items()}
        super().__init__(view={"look": self.look}, job=job.name or job.folder.name, units=job.units)
        self._set_out(_STYLE, self._figures)

    def arrange(self, *extra):
        """Put the controls of the view under the choice of view."""
        view = self.look.value
        self._buttons.children[0].description = "Undo"
        super().arrange(self._print, self._printed, *self._mine.views[view])
        rows = (self._hazards,) if view == "hazards" else ()
        self._view.children = (self._message, self._keeper, self._picture, *rows, self._result)
        self._tables.children = self._benches.get(view, ())

    # what a person does -------------------------------------------------------------------

    def answer(self, hazard, answer):
        """Say of a hazard: safe, not safe or don't know."""
        return self.save(hazards={hazard: answer})

    def set_area(self, area, **cells):
        """Change cells of an area of the envelope: status, later_layer, supported."""
        return self._row("envelope", area, cells)

    def set_opening(self, opening, **cells):
        """Change cells of an opening: required, sealed_with, hides_leak, area_cm2."""
        return self._row("openings", opening, cells)

    def set_fan(self, points, name=None, **more):
        """Say what the fan can move: pairs of pressure [Pa] and flow [m3/h]; none for no fan.

        More may be lowest_m3_per_h that it holds steady, ranges (rings or speeds, each with name,
        points and lowest_m3_per_h), count of fans, efficiency, supply_w. What is left out stays;
        None takes it away.
        """
        return self.save(fan=changed_fan(self._desk.job.fan, points, name, more))

    def assume(self, key, value):
        """Change an assumption, in its own unit; None puts ours back."""
        if key == "flow_exponent":
            return self.save(flow_exponent=FLOW_EXPONENT if value is None else value)
        return self.save(assumptions={key: value})

    def aim(self, what, metric, value):
        """Set "target" or "limit": a metric, and a value in its own unit."""
        known = getattr(self._desk.job, what) or {}
        return self.save(**{what: {**known, "metric": metric, "value": value}})

    def save(self, **settings):
        """Save settings of the job: confidence, direction, target, limit and so on.

        What cannot be planned with is refused before it is written.
        """

        def keep():
            if self._value and self._value.plan:
                make_plan(self._desk.job, settings=self._desk.changed(settings))
            self._desk.save_settings(**settings)

        return self._do(keep)

    def set(self, **settings):
        """Set what is looked at, or settings of the job, and return the panel."""
        look = settings.pop("look", None)
        if look:
            super().set(look=look)
        return self.save(**settings) if settings else self

    def print_pack(self):
        """Print the pack of the job and say where it is."""
        printed = sheets.print_pack(self._desk.job)
        self._printed.value = printed_link(printed.pack, "Open the printed pack") + "".join(
            f"<p>{escape(note)}</p>" for note in printed.notes
        )
        return printed

    # what is shown ------------------------------------------------------------------------

    def compute(self, look):
        """Return plan and outlook of the job as it stands."""
        job = self._desk.job
        areas = standing_areas(job.rooms, job.envelope)
        verdict = hazard_verdict(job.hazards, areas, job.openings)
        try:
            plan = make_plan(job)
        except InputError:
            if look != "hazards":
                raise
            return PlannedCheck(job, verdict, None, None)
        return PlannedCheck(job, verdict, plan, outlook(job, plan))

    def show(self, record, look):
        """Show the record; put the job's values into the controls first."""
        self._mine.show(record.job, record.plan)
        self._hazards.show(record.job.hazards, record.hazards)
        self._buttons.children[0].disabled = not self._desk.past
        super().show(record, look=look)
        self._picture.layout.display = "none" if look == "hazards" and record.plan else None
        self._figures.value = (
            plan_tiles(record.plan, record.outlook, self.units) if record.plan else ""
        )
        over = record.plan.above_limit if record.plan else ""
        notes = [note for note in record.job.notes if note != record.job.read_only]
        self._say_notes([over, *notes] if over else notes)

    def picture(self, record, look):
        """Return the figures, and under them what is looked at."""
        plan, units = record.plan, self.units
        if plan is None:
            return "<p>No rooms and no target yet: the plan follows when they are entered.</p>"
        if look == "hazards":
            return ""
        if look == "layer":
            chosen = self._mine.area.value or ""
            pull = escape(film_loads(plan.areas, record.job.direction).sentence(units))
            return f'<div class="airlab-row">{self._layer(record, chosen)}</div><p>{pull}</p>'
        if look == "openings":
            runs = record.hazards.fan_may_run
            return schedule_table(plan.preparation, self._mine.opening.value or "", units, runs)
        if look == "route":
            return route_list(self._stops(plan.route))
        if look == "when":
            return f'<div class="airlab-when">{when_view(plan, units)}</div>'
        return self._fan_picture(plan)

    def still(self):
        """Return the panel as it stands, with its figures, as HTML that needs no notebook."""
        asked, record = "", self._value
        if self.look.value == "hazards" and record:
            rows = (
                f"<li><b>{escape(one.name)}: {answer}.</b> {escape(one.text)}</li>"
                for one, answer in record.hazards.answers
            )
            asked = f"<ul>{''.join(rows)}</ul>"
            if record.plan:
                asked += as_image(self._layer(record))
        return self._figures.value + asked + super().still()

    def _layer(self, record, chosen=""):
        held = [one.area for one in record.outlook.held]
        return layer_map(record.plan.areas, record.job.rooms, held, chosen, self.units)

    def _fan_picture(self, plan):
        chosen = self._mine.assumption.value
        table = assumption_list(plan.assumptions, assumed_in(plan), chosen, self.units)
        if plan.expected is None:
            return f"<p><b>No fan, no flow.</b> Settle the hazards first.</p>{table}"
        chart = self._chart.draw(plan, units=self.units).img(
            f"Flow against pressure. {plan.fan.sentence(self.units)}" if plan.fan else
            "Flow of the house against pressure; no fan is entered."
        )  # fmt: skip
        aside = f'<div class="airlab-aside">{advice_list(plan, self.units)}</div>'
        return f'<div class="airlab-row">{chart}{aside}</div>{fan_facts(plan, self.units)}{table}'

    def words(self, record, look):
        """Return the sentence of the view; what stops the fan goes first."""
        verdict, plan, units = record.hazards, record.plan, self.units
        rough = "ROUGH until rooms are entered. " if plan and plan.rough else ""
        stop = ""
        if verdict.stops:  # the cautions' own words stand beside the questions
            short = [
                reason.removesuffix(one.text).strip()
                for one, reason in zip(verdict.stops, verdict.reasons)
            ]
            rest = verdict.reasons[len(short) :]
            stop = " ".join(("No fan, no flow, no go.", *short, *rest, ""))
        if look == "hazards" or plan is None:
            return rough + (stop or verdict.sentence(units)).strip()
        if look == "when":
            found = [one.sentence(units) for one in (plan.dates, plan.weather) if one]
            if plan.dates:  # hold point and number of checks stand in the card
                found[0] = found[0].partition(" Hold point:")[0]
            return (
                rough + stop + (" ".join(found) or "Neither programme nor weather is entered yet.")
            )
        if look == "fan":
            said = plan.fan or plan.expected or plan.state
        else:
            said = {"layer": record.outlook, "openings": plan.preparation, "route": plan.route}[
                look
            ]
        text = said.sentence(units)
        if stop and look == "openings":  # the count; no flow is said while the fan may not run
            text = f"{text.split('. ')[0].rstrip('.')}."
        return rough + stop + text

    def close(self):
        """Take the panel off the page, with the controls of every view and the editors."""
        made = vars(self)  # a panel that was refused while it was made has not all of them
        self._rest = tuple(vars(made["_mine"]).values()) if "_mine" in made else ()
        super().close()
        if "_desk" in made:
            self._desk.close()

    # workings -----------------------------------------------------------------------------

    def page(self, act, *given):
        """Do what a person did on the page; what is refused goes to the message line."""
        return self._act(act, *given)

    def refuse(self, error):
        """Say why something typed cannot be used."""
        self._say(str(error))

    def _row(self, table, name, cells):
        key = self._desk.job.files[table].table.key
        rows = self._desk.rows(table)
        if name not in [row[key] for row in rows]:
            raise InputError(f"There is no {key} {name!r} in the table of this job.")
        changed = tuple({**row, **cells} if row[key] == name else row for row in rows)
        self._mine.choose(table, name)
        return self._save(table, changed)

    def _stops(self, route):
        part = self._mine.part.value
        return [stop for stop in route.stops if part in (ALL, None, stop.phase, stop.room)]
