"""Run the check of the open job: read the fan, find and seal, cover or wait, watch new holes.

Every act is saved at once; nothing waits for a button at the end of the day. Two panels on one
job may work side by side: acts of the log are joined, a table that somebody else changed is
offered again.
"""

from html import escape
from pathlib import Path
from threading import RLock

import ipywidgets as widgets

from airlab.files import current_job, practice_job, start_practice
from airlab.leak_check import assumptions_from, make_day, stop_key, walked
from airlab.panels.card import CardPanel
from airlab.panels.controls import choice
from airlab.panels.day_desk import DayDesk
from airlab.panels.decision import DecisionPart
from airlab.panels.hazards import HazardRows
from airlab.panels.holes import HolePart
from airlab.panels.leak_log import LogPart
from airlab.panels.on_the_day import on_the_day
from airlab.panels.readings import ReadingPart

__all__ = ["VIEWS", "CheckDayPanel"]

VIEWS = (
    ("Read the fan", "readings"),
    ("Find and seal", "log"),
    ("Cover or wait", "decision"),
    ("New holes", "holes"),
)
_PARTS = {"readings": ReadingPart, "log": LogPart, "decision": DecisionPart, "holes": HolePart}
_FOLDER = Path(__file__).parent
# What changes on the day; the other columns are shown and kept.
_EDITED = {
    "envelope": ("status", "later_layer", "supported"), "junctions": ("closed",),
    "openings": ("found", "sealed_with", "removed"), "trades": ("holes_expected", "briefed"),
}  # fmt: skip
_PRACTICE = (
    "A practice copy of the invented demo house. What you enter is kept in it; the demo and a house "
    "of your own stay as they are."
)
_THROWN = "A practice copy of the invented demo house. It is thrown away with this notebook."


class CheckDayPanel(CardPanel):
    """Run the check of a job.

    Numbers given to its methods are in SI; what is typed into its boxes is in the units of the job.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out. The demo stays as it is: a practice copy is started.
    view : str
        What is looked at first: readings, log, decision or holes.

    Examples
    --------
    >>> from airlab.panels.check_day import CheckDayPanel
    >>> from airlab.words import m3_per_h
    >>> day = CheckDayPanel.practice()
    >>> day.read(50.0, m3_per_h(480)).look("decision").sentence[:20]
    'GO WITH CONDITIONS: '
    """

    title = "The day of the check"

    def __init__(self, job=None, view="readings", note=""):
        job = current_job() if job is None else job
        if job.read_only and job.invented:
            job, note = start_practice(), _PRACTICE
        self._welcome, self._busy, self._turn = note, False, RLock()
        self.desk = DayDesk(job, told=self._told)
        self.units = job.units
        self.view = choice("Now", VIEWS, view)
        self._parts = {name: part(self) for name, part in _PARTS.items()}
        self._hazards = HazardRows(lambda key, answer: self._page(self._answer, {key: answer}))
        self._parts["readings"].again.observe(lambda _: self._arrange_view(), "value")
        self._line = widgets.HTML().add_class("airlab-done")
        self._notes = widgets.HTML()
        self._printed = widgets.HTML().add_class("airlab-printed")
        self._take = self.doer("Read again, then save mine", self.desk.make_again, main=True)
        self._keep = self.doer("Keep mine as a copy", self.desk.keep_mine)
        self._both = widgets.HBox([self._take, self._keep]).add_class("airlab-buttons")
        self._both.layout.display = "none"
        self._bench = widgets.VBox().add_class("airlab-benches")
        super().__init__(view={"view": self.view}, job=job.name or job.folder.name, units=job.units)
        head, body = self.children
        self._buttons.children[0].description = "Empty the boxes"
        self.view.add_class("airlab-doors")
        self._view.children = (
            self._message, self._both, self._line, self._result, self._printed, self._bench,
            self._picture, self._hazards,
        )  # fmt: skip
        self.children = (head, self._notes, self.view, body)
        self.add_class("airlab-day")
        self._arrange_view()

    @classmethod
    def practice(cls, view="readings"):
        """Return a panel on a copy of the demo house that is thrown away with the program."""
        return cls(practice_job(), view, _THROWN)

    # what a person does -------------------------------------------------------------------

    def look(self, view):
        """Look at readings, log, decision or holes."""
        return self.set(view=view)

    def answer(self, **answers):
        """Answer hazards: safe, not safe or don't know."""
        return self._do(self._answer, answers)

    def read(self, pressure, flow, direction=None, **details):
        """Save a reading: pressure [Pa], flow [m3/s], direction, zeros, stage, aperture."""
        return self._do(self._parts["readings"].read, pressure, flow, direction, **details)

    def find(self, where="", strength=None, number=None, **details):
        """Enter a leak found; without a number it gets the next one."""
        return self._do(self._parts["log"].enter, number, where, strength, **details)

    def enter(self, number=None, where="", strength=None, material="", recheck="", **details):
        """Enter one row of the log: recheck is empty, "tight" or "leaks"."""
        part = self._parts["log"]
        return self._do(part.enter, number, where, strength, material, recheck, **details)

    def seal(self, number, material, **details):
        """Enter that a leak was sealed."""
        return self._log(lambda log: log.sealed(number, material, **details))

    def recheck(self, number, tight=True, **details):
        """Enter that a sealed leak was looked at again under pressure."""
        return self._log(lambda log: log.rechecked(number, tight, **details))

    def recheck_several(self, numbers=None, tight=True, **details):
        """Enter the re-check of several leaks; of all that wait if no number is given."""
        return self._do(self._parts["log"].recheck_several, numbers, tight, **details)

    def accept(self, number, reason, **details):
        """Accept a leak as it is, for a reason."""
        return self._log(lambda log: log.accept(number, reason, **details))

    def say(self, number, did, note="", **details):
        """Enter another act: not a leak, intentional, unreachable, reopened, covered, marked."""
        return self._log(lambda log: log.act(number, did, note=note, **details))

    def undo(self):
        """Take back the act of the log entered last."""
        return self._do(self._parts["log"].undo)

    def take_back(self):
        """Take the last reading out of the table."""
        return self._do(self._parts["readings"].take_back)

    def assume(self, confidence=None, **values):
        """Change assumptions in their own units; None puts ours back."""
        return self._do(self._parts["decision"].assume, confidence, **values)

    def price(self, **prices):
        """Change own prices: round, open_up, retest, miss, currency; None takes one out."""
        return self._do(self._parts["decision"].price, **prices)

    def make_hole(self, area="", diameter=None, **details):
        """Enter a new hole: area, diameter [m], trade, approved_by, sealed_with, checked."""
        return self._do(self._parts["holes"].add_hole, area, diameter, **details)

    def patch_hole(self, name, sealed_with, checked=False):
        """Enter that a hole was sealed, and whether it was looked at."""
        return self._do(
            self._parts["holes"].change_hole, name, sealed_with=sealed_with, checked=checked
        )

    def go_on(self):
        """Tick the stop of the route, kept with the job, and go to the next; at the end begin anew."""
        if self.value.stop is None:
            self.desk.change_settings(stops_done=[])
            return "The route was walked to its end. It begins anew."
        self.desk.add_to("stops_done", stop_key(self.value.stop))
        return ""

    def next_stop(self):
        """Tick the stop of the route and return the next one, None at the end."""
        self._do(self.go_on)
        return self.value.stop

    def edit(self, table):
        """Show the editor of a table under the panel and return it; an empty name hides it."""
        self._bench.children = (self.desk.editor(table, _EDITED.get(table)),) if table else ()
        return self._bench.children[0] if table else None

    def print_pack(self, filled=True):
        """Print the pack, filled with what was recorded, and return its pages."""
        self._do(self._parts["decision"].print_pack, filled)
        return self._parts["decision"].printed

    def reload(self):
        """Read the job from its folder again; what is typed and not saved stays."""
        return self._do(self.desk.reload)

    def reset(self):
        """Empty the boxes of the view; what is saved stays."""
        form = self._parts[self.view.value].form
        form.clear(*form.fields)
        self._act(self.refresh)
        return self

    # what the parts ask of the panel ------------------------------------------------------

    def doer(self, words, do, main=False):
        """Return a button that does an act and says what became of it."""
        made = widgets.Button(description=words)
        made.on_click(lambda _: self._page(do))
        return made.add_class("airlab-main" if main else "airlab-plain")

    def show_printed(self, link):
        """Show the link to a printed file."""
        self._printed.value = link

    def redraw(self):
        """Draw the view again, as while somebody types."""
        if self._value is not None and not self._busy:
            self._act(self.refresh)

    # what is shown ------------------------------------------------------------------------

    def compute(self, view):
        """Return the day, and for the view on show the decision and the register."""
        job = self.desk.job
        day = make_day(job)
        given, stop = assumptions_from(job.settings), None
        if day.plan is not None:
            route = day.plan.route
            stop = route.next_stop(walked(route, job.stops_done, job.readings))
        return on_the_day(job, day, stop, given, view)

    def show(self, record, view):
        """Show the record, after what the day offers is put into the form."""
        self._value = record
        self._busy = True
        try:
            self._parts[view].fit(record)
        finally:
            self._busy = False
        self._arrange_view()
        super().show(record, view=view)
        notes = [self._welcome] if self._welcome else []
        notes += [note for note in record.job.notes if note != record.job.read_only]
        self._notes.value = "".join(f'<p class="airlab-tries">{escape(one)}</p>' for one in notes)

    def picture(self, record, view):
        """Return the card of the view."""
        if view == "readings" and not record.day.fan_may_run:
            return _before_the_fan(record)
        return self._parts[view].card(record)

    def words(self, record, view):
        """Return the result of the view in words."""
        return self._parts[view].said(record)

    def arrange(self, *extra):
        """Put the forms of all parts to one side; one of them is in sight."""
        self._side.children = (*(part.form for part in self._parts.values()), self._buttons)

    def still(self):
        """Return the panel as it stands; where a hazard stops the fan, what each of them asks."""
        plan = self.value.day.plan if self.value else None
        stops = plan.hazards.stops if plan and self.view.value == "readings" else ()
        asked = "".join(f"<li><b>{escape(one.name)}:</b> {escape(one.text)}</li>" for one in stops)
        return super().still() + (f"<ul>{asked}</ul>" if asked else "")

    def close(self):
        """Take the panel off the page, with everything it holds."""
        self.desk.close()
        super().close()

    # workings -----------------------------------------------------------------------------

    def _act(self, do, *given, loud=False):
        """Do one thing after the other, also where the lab hands messages to two threads."""
        with self._turn:
            return super()._act(do, *given, loud=loud)

    def _changed(self, change):
        """Another view: what was said of the last act belongs to the view before."""
        self.tell("")
        super()._changed(change)

    def _arrange_view(self):
        """Show the form of the view; while a hazard stops the fan, the hazards instead."""
        view, shown = self.view.value, self._value
        stopped = shown is not None and not shown.day.fan_may_run
        asked = view == "readings" and (stopped or self._parts["readings"].again.value)
        for name, part in self._parts.items():
            hidden = name != view or (name == "readings" and stopped)
            part.form.layout.display = "none" if hidden else None
        self._side.layout.display = "none" if asked and stopped else None
        self._hazards.layout.display = None if asked else "none"
        self._bench.layout.display = None if view == "decision" else "none"
        self._printed.layout.display = None if view == "decision" else "none"
        if shown is not None and shown.day.plan is not None:
            self._hazards.show(shown.job.hazards, shown.day.plan.hazards)

    def _answer(self, answers):
        self.desk.change_settings(hazards=answers)
        return "Saved."

    def _log(self, make):
        return self._do(self._parts["log"].act, make)

    def _do(self, act, /, *given, **named):
        """Do an act from code: loud, and the panel is handed back."""
        self._act(self._whole, act, given, named, loud=True)
        return self

    def _page(self, act, *given):
        """Do an act from the page: what is refused becomes the message."""
        self._act(self._whole, act, given, {})

    def _whole(self, act, given, named):
        self._busy = True
        try:
            said = act(*given, **named)
        finally:
            self._busy = False
            self._offer()
        self.refresh()
        self.tell(said if isinstance(said, str) else "")

    def _told(self):
        """The job changed under the desk: by an act of ours, or by the editor of a table."""
        if not self._busy:
            self._act(self.refresh)

    def tell(self, words):
        """Say what was done, or what stands where somebody types; a line more is a warning."""
        lines = "".join(f"<p>{escape(line)}</p>" for line in words.splitlines())
        self._line.value = f'<div aria-live="polite">{lines}</div>' if words else ""

    def _offer(self):
        """Offer the ways out where a file was changed by somebody else."""
        self._both.layout.display = None if self.desk.waiting else "none"
        self._keep.layout.display = None if self.desk.keepable else "none"

    def _head_html(self):
        style = (_FOLDER / "plan.css").read_text(encoding="utf-8")
        style += (_FOLDER / "check_day.css").read_text(encoding="utf-8")
        script = (_FOLDER / "check_day.js").read_text(encoding="utf-8")
        return f'{super()._head_html()}<style onload="{escape(script)}">{style}</style>'


def _before_the_fan(record):
    """Return what stands before the fan; where a table is stricter than an answer it says so."""
    verdict, given = record.day.plan.hazards, record.job.hazards
    counted = {one.name for one, answer in verdict.answers if answer != given[one.key]}
    stricter = "".join(
        f"<p>{escape(reason)}</p>" for reason in verdict.reasons if reason.split(":")[0] in counted
    )
    return (
        '<p class="airlab-stop"><b>Before the fan.</b> Each of these is safe, or the fan stays off: '
        f"no flow, no go. Whoever stands in the house answers.</p>{stricter}"
    )
