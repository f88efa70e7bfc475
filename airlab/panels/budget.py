"""Spend the leakage budget of the open job: what leaks most, will it pass, what is a change worth.

The table of the budget is edited below the picture; what is changed there, and the three
assumptions, go into the job at once and can be taken back. The demo is tried and not saved.
"""

from math import isclose
from pathlib import Path
from typing import NamedTuple

import ipywidgets as widgets

from airlab.design import (
    BudgetAnswer,
    CheapestWay,
    Lesson,
    VarianceShare,
    cheapest,
    learn,
    make_budget,
    price_list,
    taught_lines,
    variance_shares,
    what_if,
    with_houses,
)
from airlab.leak_check import assumptions_from, decide
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.keeping import KeepsJob, note
from airlab.plots.budget import budget_bars, budget_houses, cheapest_table, variance_table
from airlab.words import InputError, display_unit, from_si, show_percent

__all__ = ["BudgetPanel", "BudgetShown"]

_STYLE = Path(__file__).with_name("line.css")
_BENCHES = (("budget", "budget"), ("junctions", "junctions of the line"), ("training", "training"))
_NONE, _HOUSE = "(none)", "the house at the check"
_SLIDER = {"m3/h": (2000.0, 10.0), "cfm": (1200.0, 5.0)}  # end and step
_HOUSES = 20_000  # a picture in a blink; the page takes more
_KEPT = {
    "shared": "shared_workmanship", "later": "later_layer_leaves", "test": "test_uncertainty",
}  # fmt: skip
_SIDE = '<div style="display:flex;flex-flow:row wrap;gap:4px 12px;align-items:flex-start">'
_LOW = 'style="min-width:0;height:auto;'  # as high as its width asks for


class BudgetShown(NamedTuple):
    """What the panel shows: the answer, the one before a change, and what was asked for."""

    answer: BudgetAnswer
    before: BudgetAnswer | None
    lesson: Lesson | None
    variance: tuple[VarianceShare, ...]
    way: CheapestWay | None
    prices: tuple[CheapestWay, ...] = ()


class BudgetPanel(KeepsJob, CardPanel):
    """Where the leakage will be, the chance to pass, and what a better detail is worth.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> from airlab.panels.budget import BudgetPanel
    >>> panel = BudgetPanel(demo_job())
    >>> panel.sentence[:49]
    'Chance to be within the limit: 59 %; within the t'
    >>> panel.set(line="sill joint", left=0.15).sentence[:46]
    'sill joint at 15 % of its leakage: the chance '
    """

    title = "Spend a leakage budget"
    lead = "Change a line and watch the chance to pass."

    def __init__(self, job=None):
        self._kept, self._under = None, widgets.HTML()
        job = self._lay_open(job, _BENCHES)
        self._line = choice("Try a change of", [_NONE], as_list=True)
        self._about = choice("What was measured", [_HOUSE], as_list=True)
        unit = display_unit("m3/s", job.units)
        shared, later, test = (from_si(one, "%") for one in self._assumed().values())
        high, step = _SLIDER[unit]
        more = {
            "shared": Dial("Workmanship in common", shared, 0.0, 100.0, 5.0, unit="%"),
            "later": Dial("A later layer leaves", later, 10.0, 100.0, 5.0, unit="%"),
            "test": Dial("Spread of the final test", test, 0.0, 10.0, 0.5, unit="%"),
            "wanted": Dial("How sure", from_si(job.confidence, "%"), 50.0, 99.0, 1.0, unit="%"),
            "cheapest": tick("The cheapest way under the limit"),
            "variance": tick("Whose uncertainty matters most"),
        }
        super().__init__(
            building={"line": self._line,
                      "left": Dial("Leakage left in it", 100.0, 0.0, 200.0, 5.0, unit="%")},
            driver={"about": self._about,
                    "measured": Dial("Measured at 50 Pa (0: not yet)", 0.0, 0.0, high, step, unit=unit),
                    "sure": Dial("Give or take (0: by our rule)", 0.0, 0.0, 60.0, 1.0, unit="%")},
            more=more, job=job.name or job.folder.name, units=job.units,
        )  # fmt: skip
        self._set_out(_STYLE)
        self.children = (*self.children, self._under)

    def arrange(self, *extra):
        """Put the way back for tables and assumptions beside the other buttons."""
        keep = self.button("Keep what was learnt", self.keep_learnt)
        back = self.button("Undo last change", self.undo)
        super().arrange(widgets.HBox([keep, back]).add_class("airlab-buttons"))

    def reset(self):
        """Put every control back to its start; table and kept assumptions stay as they are."""
        return self.set(**{**self._starts, **self._assumed()})

    def undo(self):
        """Take back the last change of a table or an assumption."""
        return KeepsJob.reset(self)

    def keep_learnt(self):
        """Put what the measurement taught into the table; the dial goes back, it is learnt once."""
        lesson = self._value.lesson if self._value else None
        if lesson is None:
            raise InputError("Nothing was learnt yet: type what was measured.")
        rows = [one.to_row() for one in taught_lines(lesson, self._desk.job.budget)]
        with self._held_back():
            self.controls["measured"].value = 0.0
        return self._save("budget", rows)

    def edit(self, item, **cells):
        """Change cells of one line of the budget, saving it."""
        editor = self._desk.editor("budget")
        editor.choose(item)
        editor.set(**cells).save_row()
        return self

    # what is shown ------------------------------------------------------------------------

    def refresh(self):
        """Keep the assumptions with the job, then compute and show again."""
        asked = {name: self.controls[name].value for name in _KEPT}
        new = {_KEPT[name]: asked[name] for name, one in self._assumed().items()
               if not isclose(asked[name], one, abs_tol=1e-9)}  # fmt: skip
        if new:
            self._alter(lambda: self._desk.save_settings(assumptions=new))
        super().refresh()

    def compute(
        self, line, left, about, measured, sure, shared, later, test, wanted, cheapest, variance
    ):
        """Return what the budget says with the change tried and the measurement learnt."""
        answer = self._base()
        self._name_lines(answer)
        about = "" if about == _HOUSE else about
        lesson = learn(answer.houses, measured, sure or None, about) if measured else None
        if lesson:
            answer = with_houses(answer, lesson.houses)
        before = None
        if line != _NONE and left != 1.0:
            before, answer = answer, what_if(answer, left, line)
        spread = variance_shares(answer.houses.entries, answer.houses.shared) if variance else ()
        return BudgetShown(
            answer,
            before,
            lesson,
            spread,
            *(_ways(answer, wanted) if cheapest and answer.houses.enough else (None, ())),
        )

    def picture(self, record, **settings):
        """Return bars and houses side by side, and what was asked for under them."""
        drawn = (
            budget_bars(record.answer, self.units),
            budget_houses(record.answer, record.before, self.units),
        )
        html = _SIDE + "".join(one.replace('style="', _LOW, 1) for one in drawn) + "</div>"
        if record.way:
            html += cheapest_table(record.way, record.prices)
        if record.variance:
            html += variance_table(record.variance)
        return html

    def words(self, record, line, left, **settings):
        """Return the change first, then what was learnt, then the whole budget."""
        parts = []
        if record.before and record.answer.houses.enough:
            before, after = record.before.chance_limit, record.answer.chance_limit
            parts.append(
                f"{line} at {show_percent(left)} of its leakage: the chance goes from "
                f"{show_percent(before)} to {show_percent(after)}."
            )
        parts += [one.sentence(self.units) for one in (record.lesson, record.way) if one]
        if record.variance:
            first = record.variance[0]
            parts.append(
                f"Most of the spread hangs on {first.name}: {show_percent(first.total)}"
                + (", before the measurement." if record.lesson else ".")
            )
        return " ".join([*parts, record.answer.sentence(self.units)])

    def show(self, record, **settings):
        """Show the record, above it what must be known, under the table what it holds for sure."""
        super().show(record, **settings)
        answer = record.before or record.answer
        self._say_notes(
            (*(one for one in answer.warnings if one != answer.certain), *self._second())
        )
        self._under.value = note(answer.certain) if answer.certain else ""

    # workings -----------------------------------------------------------------------------

    def _unfold(self, change=None):
        """Fold further settings away or out; what they ask for goes off with them."""
        super()._unfold(change)
        if change and not change.new:
            with self._held_back():
                self.controls["cheapest"].value = self.controls["variance"].value = False
            self._act(self.refresh)

    def _told(self):
        """The job changed, or a change was taken back: let the dials say what it holds."""
        with self._held_back():
            for name, value in self._assumed().items():
                self.controls[name].value = value
        super()._told()

    def _assumed(self):
        """Return the assumptions of the job by the name of their dial."""
        held = assumptions_from(self._desk.job.settings)
        return {name: held[key] for name, key in _KEPT.items()}

    def _base(self):
        """Return the answer of the job, drawn again only when something in it changed."""
        job = self._desk.job
        if self._kept is None or (self._kept[0] is not job and self._kept[0] != job):
            self._kept = (job, make_budget(job, _HOUSES))
        return self._kept[1]

    def _second(self):
        """Return what drift and budget say of the last reading; nothing before there is one."""
        job = self._desk.job
        if not (job.readings and job.budget):
            return ()
        try:
            found = decide(job, weigh=False).by_budget
        except InputError as error:
            return (str(error),)
        return (found.sentence(self.units),) if found else ()

    def _name_lines(self, answer):
        names = tuple(one.name for one in answer.shares)
        for control, first in ((self._line, _NONE), (self._about, _HOUSE)):
            options, chosen = (first, *names), control.value
            if control.options != options:
                with self._held_back():
                    control.options = options
                    control.value = chosen if chosen in options else first


def _ways(answer, wanted):  # the setting hides the function of that name
    return cheapest(answer, wanted), price_list(answer)
