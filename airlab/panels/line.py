"""Draw the unbroken line of the open job: junction by junction, pen down or pen lift, who owns it.

What is set goes into the job's table of junctions at once and can be taken back; the demo is tried
and not saved. Whether the line is closed is asked of the graph, never of the picture.
"""

from html import escape
from pathlib import Path
from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import (
    CONSTRUCTIONS,
    NOT_MEETING,
    Junction,
    LineViews,
    detail_for,
    line_template,
    line_views,
)
from airlab.files import Job
from airlab.leak_check import CheckPlan, make_plan
from airlab.panels.base import Panel
from airlab.panels.controls import choice
from airlab.panels.keeping import KeepsJob
from airlab.plots.line_drawing import line_drawing
from airlab.plots.line_parts import lift_list, line_tiles, mark_list
from airlab.words import InputError, require_choice
from airlab.words.saying import alike

__all__ = ["DrawnLine", "LinePanel"]

PENS = (
    ("down: the two layers are joined", "down"),
    ("lift: they are not joined", "lift"),
    ("the two do not meet here", NOT_MEETING),
)
_REST, _LIFTS = "rest", "lifts"
LOOKS = ("plan", "section A", "section B", _REST, _LIFTS)
_STYLE = Path(__file__).with_name("line.css")
_BENCHES = (("junctions", "junctions"), ("envelope", "areas and their layers"))
# Brings the row of the junction into sight inside its own list; the page does not move.
_SCROLL = (
    "const box = this.parentElement.querySelector('.airlab-marks'), row = box && "
    "box.querySelector('[aria-current]'); if (row) box.scrollTop = row.offsetTop - 90;"
)
_AUTO = {"description_width": "initial"}


class DrawnLine(NamedTuple):
    """A job, its line in plan and sections, and the plan of its check; None where it has none."""

    job: Job
    views: LineViews
    plan: CheckPlan | None

    @property
    def check(self):
        """What the graph says."""
        return self.views.check


class LinePanel(KeepsJob, Panel):
    """Draw the line of a job.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out.
    look : str
        Drawing to begin with: plan, section A, section B, rest or lifts.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> from airlab.panels.line import LinePanel
    >>> panel = LinePanel(demo_job()).go("floor edge north")
    >>> panel.sentence[:76]
    'Pen at 6. floor edge north (floor edge to north wall): open, 19.2 m, carpent'
    >>> panel.pen("down").value.check.closed
    True
    """

    title = "Draw the unbroken line"
    lead = "Follow the layer round. Where the pen must lift, air gets out."

    def __init__(self, job=None, look="section A"):
        self._at, self._start = "", look
        require_choice("look", look, LOOKS)
        job = self._lay_open(job, _BENCHES)
        self._seen = choice("Drawing", [("Section A", "section A")], as_list=True)
        self._junction = widgets.Dropdown(description="Pen at", style=_AUTO)
        self._pen = choice("The pen is", PENS)
        self._owner = _line("Who owns it")
        self._how = _line("How it is joined")
        self._tip = widgets.HTML()
        self._house = choice("Usual details for", CONSTRUCTIONS, as_list=True)
        self._fill = self.button("Enter what is missing", self.fill)
        self._walk = widgets.HBox(
            [self.button("Back", self.back), self.button("Next junction", self.forth, main=True)]
        ).add_class("airlab-steps-bar")
        super().__init__(
            building={"drawing": self._seen, "junction": self._junction},
            openings={"pen": self._pen, "owner": self._owner, "joined": self._how},
            more={"construction": self._house}, job=job.name or job.folder.name, units=job.units,
        )  # fmt: skip
        self._set_out(_STYLE)

    def arrange(self, *extra):
        """Put the way along the line under its junction, what fills the table under more."""
        super().arrange()
        self._buttons.children[0].description = "Undo"
        drawing, junction, *pen = self._in_sight
        self._more_box.children = (self._house, self._fill)
        more = (self._more, self._more_box)
        self._side.children = (drawing, junction, self._walk, *pen, *more, self._buttons)
        self._view.children = (self._message, self._keeper, self._picture, self._result, self._tip)

    # what a person does -------------------------------------------------------------------

    def go(self, name):
        """Put the pen at the junction of that name or number."""
        views = self._views()
        mark = next(
            (m for m in views.marks if name in (m.number, m.name) or alike(name) == alike(m.name)),
            None,
        )
        if mark is None:
            known = ", ".join(m.name for m in views.marks[:30])
            raise InputError(f"There is no junction {name!r}. There are: {known}.")
        if mark not in views.marks_in(self._seen.value):
            found = views.where(mark.name)
            self._turn(found.key if found else _REST)
        self._at = mark.name
        self._act(self.refresh, loud=True)
        return self

    def forth(self):
        """Go on to the next junction; after the last of a drawing to the next drawing."""
        return self._step(1)

    def back(self):
        """Go back to the junction before."""
        return self._step(-1)

    def pen(self, state):
        """Say what the pen does here: down, lift, or do not meet."""
        require_choice("pen", state, [key for _, key in PENS])
        mark = self._mark()
        if state == "down" and mark.state in ("no layer", "no element", "hole"):
            raise InputError(f"The pen cannot go down at {mark.name}. {mark.lift.cure}")
        joined = self._row(mark).get("joined") or ""
        if state == NOT_MEETING:
            return self._change(mark, joined=NOT_MEETING, closed=True)
        joined = "" if alike(joined) == NOT_MEETING else joined
        return self._change(mark, joined=joined, closed=state == "down")

    def own(self, owner):
        """Say who owns the junction."""
        return self._change(self._mark(), owner=owner)

    def join(self, how):
        """Say how its two layers are joined."""
        return self._change(self._mark(), joined=how)

    def fill(self, construction=None):
        """Enter every junction that is missing, with the usual detail of a construction."""
        job = self._desk.job
        rows = line_template(
            construction or self._house.value, job.rooms, job.envelope, job.junctions
        )
        if not rows:
            raise InputError("No junction is missing.")
        return self._save(
            "junctions", (*self._desk.rows("junctions"), *(row.to_row() for row in rows))
        )

    def set(self, **settings):
        """Set drawing, junction, pen, owner, joined or construction by name."""
        acts = {"junction": self.go, "pen": self.pen, "owner": self.own, "joined": self.join}
        for name, value in settings.items():
            if name in acts:
                acts[name](value)
            else:
                super().set(**{name: value})
        return self

    # what is shown ------------------------------------------------------------------------

    def compute(self, **settings):
        """Return the line of the job as it stands."""
        try:
            plan = make_plan(self._desk.job)
        except InputError:
            plan = None
        return DrawnLine(self._desk.job, self._views(), plan)

    def show(self, record, **settings):
        """Show the record; put its values into the controls first."""
        self._sync(record.views)
        super().show(record, **settings)
        self._tip.value = self._detail(record.views, self._mark_in(record.views))
        self._say_notes(record.check.warnings)

    def picture(self, record, **settings):
        """Return the figures, the drawing, its junctions one by one, and what helps here."""
        views, units, seen = record.views, self.units, self._seen.value
        tiles = line_tiles(record.check, record.plan, units)
        if seen == _LIFTS:
            return tiles + lift_list(record.check, units)
        marks, mark = views.marks_in(seen), self._mark_in(views)
        number = mark.number if mark else 0
        drawn = next((v for v in views.drawings if v.key == seen), None)
        svg = line_drawing(drawn, number) if drawn else ""
        lists = f'{mark_list(marks, number, units)}<style onload="{_SCROLL}"></style>'
        return f'{tiles}<div class="airlab-line">{svg}{lists}</div>'

    def words(self, record, **settings):
        """Return where the pen stands and whether the line is closed."""
        mark = self._mark_in(record.views)
        said = record.check.sentence(self.units)
        if self._seen.value == _LIFTS or mark is None:
            return said
        out = next((p for p in record.check.paths if p.lift == mark.lift), None)
        way = f"{out.sentence(self.units)} " if out else ""
        return f"Pen at {mark.sentence(self.units)} {way}{said}"

    def _detail(self, views, mark):
        """Return what usually goes wrong at the junction, for the construction chosen."""
        kinds = {alike(one.name): one.kind for one in views.check.elements}
        ends = [kinds.get(alike(end)) for end in (mark.element_a, mark.element_b)] if mark else []
        if len(ends) < 2 or None in ends:
            return ""
        detail = detail_for(self._house.value, *ends)
        if detail is None:
            return ""
        return (
            f'<p class="airlab-detail"><b>{escape(detail.construction)}, {escape(detail.family)}:</b> '
            f"{escape(detail.sentence(self.units))}</p>"
        )

    # workings -----------------------------------------------------------------------------

    def _views(self):
        job = self._desk.job
        return line_views(
            job.rooms, job.envelope, job.junctions, holes=job.holes, trades=job.trades
        )

    def _mark_in(self, views):
        marks = views.marks_in(self._seen.value)
        return next(
            (m for m in marks if alike(m.name) == alike(self._at)), marks[0] if marks else None
        )

    def _mark(self):
        mark = self._mark_in(self._views())
        if mark is None:
            raise InputError("There is no junction in this drawing.")
        return mark

    def _sync(self, views):
        """Put what is there into the controls."""
        drawings = [(view.name, view.key) for view in views.drawings]
        drawings += [("In no drawing", _REST)] if views.rest else []
        drawings += [("All pen lifts", _LIFTS)]
        keys = [key for _, key in drawings]
        with self._held_back():
            wanted = self._seen.value if self._start is None else self._start
            self._start = None
            if self._seen.options != tuple(drawings):
                self._seen.options = drawings
            self._seen.value = wanted if wanted in keys else keys[0]
            marks = views.marks_in(self._seen.value)
            options = [(f"{m.number}  {m.name}", m.name) for m in marks]
            if self._junction.options != tuple(options):
                self._junction.options = options
            mark = self._mark_in(views)
            self._at = mark.name if mark else ""
            self._junction.value = mark.name if mark else None
            self._pen.value = "down" if mark and mark.closed else "lift"
            self._owner.value = mark.owner if mark else ""
            self._how.value = (self._row(mark).get("joined") or "") if mark else ""
            for control in (self._pen, self._owner, self._how):
                control.disabled = not mark or mark.state in ("no element", "hole")

    def _changed(self, change):
        """Let a person's move of a control change drawing, place or job."""
        if self._held:
            return
        moved = change["owner"]
        if moved is self._seen or moved is self._house:
            self._act(self.refresh)
        elif moved is self._junction:
            self._at = change["new"] or ""
            self._act(self.refresh)
        else:
            do = {self._pen: self.pen, self._owner: self.own, self._how: self.join}[moved]
            if self._act(do, change["new"]) is None:
                with self._held_back():
                    self._sync(self._views())

    def _turn(self, key):
        with self._held_back():
            self._seen.value = key

    def _step(self, by):
        views = self._views()
        keys = [key for _, key in self._seen.options if key != _LIFTS]
        key = self._seen.value if self._seen.value in keys else keys[0]
        names = [mark.name for mark in views.marks_in(key)]
        place = names.index(self._at) + by if self._at in names else 0
        if not 0 <= place < len(names):
            key = keys[(keys.index(key) + by) % len(keys)]
            names = [mark.name for mark in views.marks_in(key)]
            place = 0 if by > 0 else len(names) - 1
        self._turn(key)
        self._at = names[place] if names else ""
        self._act(self.refresh, loud=True)
        return self

    def _row(self, mark):
        """Return the row of a junction; empty where it is missing."""
        rows = self._desk.rows("junctions")
        return next((row for row in rows if alike(row["junction"]) == alike(mark.name)), {})

    def _change(self, mark, **cells):
        if mark.state in ("no element", "hole") or not (mark.element_a and mark.element_b):
            raise InputError(f"{mark.name} is no junction. {mark.lift.cure}")
        rows, row = self._desk.rows("junctions"), self._row(mark)
        if row:
            return self._save(
                "junctions", tuple({**one, **cells} if one is row else one for one in rows)
            )
        length = round(mark.length, 2) if mark.length else None
        other = mark.element_b.split(" or ")[0]
        made = Junction(mark.name, mark.element_a, other, length=length).to_row()
        return self._save("junctions", (*rows, {**made, **cells}))


def _line(name):
    return widgets.Text(description=name, continuous_update=False, style=_AUTO)
