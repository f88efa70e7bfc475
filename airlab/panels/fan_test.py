"""One page of a fan test: readings, line, doubts, and what moves when a point is moved.

The panel works on the fan tests of the open job; while it has none, on the two invented tests of
the demo house. A made-up test with a fault to find can be drawn by its seed.
"""

from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import geometry
from airlab.fan_test import (
    STANDARDS,
    Comparison,
    FitRow,
    PointChange,
    RecordCheck,
    TestPage,
    analyse,
    check_record,
    compare,
    fan_test_from_rows,
    faulty_test,
    fits_beside,
    read_test,
    readable_tests,
)
from airlab.files import read_fan_tests
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.desk import Desk
from airlab.panels.printed import printed_link
from airlab.plots.fan_test import VIEWS, FanTestChart
from airlab.plots.fan_test_tables import (
    checks_table,
    comparison_table,
    doubts_list,
    doubts_table,
    fits_table,
    readings_table,
    result_tiles,
    steps_table,
)
from airlab.plots.sizes import notes_list
from airlab.sheets import print_fan_test
from airlab.words import InputError

__all__ = ["FanTestPanel", "ShownTest"]

_MADE_UP = "made up, with a fault to find"
_OWN_SPREAD = 0.02  # of each test compared: preparation, weather; an assumption said on the page
_SHOW = (
    ("line in logarithms", VIEWS[0]),
    ("line on straight scales", VIEWS[1]),
    ("doubts one by one", "doubts"),
    ("conditions and record", "conditions"),
    ("every step of the sum", "steps"),
    ("two tests compared", "compare"),
)
_TABLES = (("fan_test_points", "Change readings"), ("fan_tests", "Change day and instruments"))


class ShownTest(NamedTuple):
    """What the panel shows: the page, and what stands beside it where asked for."""

    page: TestPage
    made_up: object
    comparison: Comparison | None
    other: str
    fits: tuple[FitRow, ...]
    check: RecordCheck | None


class FanTestPanel(CardPanel):
    """Readings, line and doubts of a fan test.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> panel = FanTestPanel(demo_job()).set(point=("depressurise", 3), left_out=True)
    >>> panel.value.page.findings
    ()
    """

    title = "One fan test: readings, line, doubts"

    def __init__(self, job=None):
        self._desk = Desk(job, told=self._told)
        self._chart, self._known = FanTestChart(), None
        job = self._desk.job
        self._read()
        first = self._names[-1]
        test = self._test(first, 1)[0]
        openings = {
            "test": choice("Fan test", [*self._names, _MADE_UP], first, as_list=True),
            "show": choice("Show", _SHOW, as_list=True),
        }
        driver = {
            "point": choice("One point", _points(test), as_list=True),
            "moved": Dial("Its flow moved by", 0.0, -30.0, 30.0, step=1.0, unit="%"),
            "left_out": tick("Leave it out"),
        }
        more = {
            "other": choice("Compare with", self._names, self._names[0], as_list=True),
            "standard": choice("Standard", [one.key for one in STANDARDS], as_list=True),
            "beside": tick("Other fits beside the standard's"),
            "seed": widgets.IntText(1, description="Made-up test",
                                    style={"description_width": "initial"}),
            "name_faults": tick("Name the faults of a made-up test"),
            "units": choice("Units", (("metric", "metric"), ("US", "us")), value=job.units),
        }  # fmt: skip
        super().__init__(openings=openings, driver=driver, more=more, job=job.name, units=job.units)
        self._editor_box = widgets.VBox()
        buttons = [self.button(words, lambda name=name: self.edit(name)) for name, words in _TABLES]
        self._example = self.button("Copy the invented tests here", self.take_example)
        self._example.layout.display = None if self._invented else "none"
        bar = widgets.HBox([*buttons, self._example]).add_class("airlab-buttons")
        self.children = (*self.children, bar, self._editor_box)

    def arrange(self, *extra):
        """Put the button that prints under the controls."""
        self._printed = widgets.HTML().add_class("airlab-printed")
        super().arrange(*extra, self.button("Print the record", self.print_record), self._printed)

    # what a person does -------------------------------------------------------------------

    @property
    def open_job(self):
        """The job as it stands."""
        return self._desk.job

    def editor(self, name):
        """Return the editor of "fan_test_points" or "fan_tests" of the job."""
        return self._desk.editor(name)

    def edit(self, name):
        """Show the editor of a table under the page; again to fold it away."""
        editor = self.editor(name)
        shown = self._editor_box.children == (editor,)
        self._editor_box.children = () if shown else (editor,)
        return self

    def take_example(self):
        """Copy the two invented tests into the job, to be changed; refused where it has tests."""
        if not self._invented:
            raise InputError("This job has fan tests of its own already.")
        for (name, _), rows in zip(reversed(_TABLES), (self._tests, self._points)):
            self._desk.save_table(name, rows)
        return self

    def print_record(self):
        """Write the record of the test on show as a page; return what was written."""
        name = self.settings["test"]
        if name == _MADE_UP:
            raise InputError("A made-up test has no record. Choose another test, then print.")
        pages = print_fan_test(self._desk.job, name)
        self._printed.value = printed_link(pages.files[0], "Open the record")
        return pages

    def close(self):
        """Take the panel off the page, with the editors that are folded away."""
        self._desk.close()
        super().close()

    # what is shown ------------------------------------------------------------------------

    def compute(self, test, show, point, moved, left_out, other, standard, beside, seed, units,
                **view):  # fmt: skip
        """Return the page of the test, with comparison and fits where they are asked for."""
        self.units = units
        read, made_up = self._test(test, seed)
        change = PointChange(*point, moved, left_out)
        page = read_test(read, standard, change, self._known)
        self._known = page
        comparison, fits = None, fits_beside(page.result) if beside else ()
        if show == "compare":
            before = analyse(self._test(other, seed)[0], standard)
            comparison = compare(before, page.result, own_spread=_OWN_SPREAD)
        check = None
        if show == "conditions" and made_up is None:
            check = check_record(self._row(test), self._points, self._house)
        return ShownTest(page, made_up, comparison, other, fits, check)

    def picture(self, record, test, show, point, name_faults, units, **settings):
        """Return readings, what was asked for, and the doubts."""
        page = record.page
        faults = record.made_up is None or name_faults
        if show in VIEWS:
            alt = " ".join(curve.sentence(units) for curve in page.curves)
            chart = self._chart.draw(page, view=show, units=units, chosen=point).img(alt)
            readings = readings_table(page, units, point)
            middle = f'<div class="airlab-fan-test"><div>{readings}</div>{chart}</div>'
        elif show == "compare":
            middle = comparison_table(record.comparison, record.other, test, units)
        elif show == "doubts":
            middle = doubts_table(page, units)
        else:
            check = [record.check.sentence(units)] if record.check else []
            middle = (
                notes_list(check) + checks_table(page)
                if show == "conditions"
                else steps_table(page, units)
            )
        fits = fits_table(record.fits, units) if record.fits else ""
        return f"{result_tiles(page, units)}{middle}{doubts_list(page, units, faults)}{fits}"

    def words(self, record, test, show, name_faults, units, **settings):
        """Return the result, what moved and the first doubt; the key of a made-up test if asked."""
        if record.comparison is not None:
            return f"{record.other}, then {test}. {record.comparison.sentence(units)}"
        faults = record.made_up is None or name_faults
        key = f" Key: {record.made_up.sentence(units)}" if record.made_up and name_faults else ""
        kind = "" if record.made_up or not self._invented else "Invented test. "
        return f"{kind}{record.page.sentence(units, faults)}{key}"

    # workings -----------------------------------------------------------------------------

    def _read(self):
        """Take the job's tests, or the invented ones."""
        tests, self._points = (self._desk.rows(name) for name, _ in reversed(_TABLES))
        self._tests = readable_tests(tests, self._points)
        self._invented = not self._tests
        if self._invented:
            self._tests, self._points = (table.rows for table in read_fan_tests())
        self._names = [row["test"] for row in self._tests]
        job = self._desk.job
        self._house = geometry(job.rooms, job.envelope) if job.rooms else None
        self._known, self._made = None, {}

    def _test(self, name, seed):
        """Return the test of that name, and the made-up one with its key or None."""
        if (name, seed) not in self._made:
            if name == _MADE_UP:
                made_up = faulty_test(seed=seed)
                found = made_up.test, made_up
            else:
                found = fan_test_from_rows(self._row(name), self._points, self._house), None
            self._made = {**self._made, (name, seed): found}
        return self._made[name, seed]

    def _row(self, name):
        return next(row for row in self._tests if row["test"] == name)

    def _told(self):
        """Follow a table that was saved."""
        self._read()
        with self._held_back():
            for name, options in (("test", [*self._names, _MADE_UP]), ("other", self._names)):
                control = self.controls[name]
                kept = control.value
                control.options = options
                control.value = kept if kept in options else options[0]
        self._example.layout.display = None if self._invented else "none"
        self._act(self._again)

    def _again(self):
        """Show the test on show, nothing moved."""
        self._offer()
        self.refresh()

    def _offer(self):
        """Offer the points of the test on show, nothing moved."""
        now = self.settings
        points = _points(self._test(now["test"], now["seed"])[0])
        with self._held_back():
            control = self.controls["point"]
            kept = control.value
            control.options = points
            values = [value for _, value in points]
            control.value = kept if kept in values else values[0]
            self.controls["moved"].value, self.controls["left_out"].value = 0.0, False

    def _changed(self, change):
        if change.owner in (self.controls["test"], self.controls["seed"]) and not self._held:
            self._act(self._again)
        elif change.owner is self.controls["point"] and not self._held:
            with self._held_back():
                self.controls["moved"].value, self.controls["left_out"].value = 0.0, False
            super()._changed(change)
        else:
            super()._changed(change)

    def set(self, **settings):
        """Set controls by name and return the panel; a test brings its own points."""
        with self._held_back():
            for name in ("test", "seed"):
                if name in settings and settings[name] != self.settings[name]:
                    self.controls[name].value = settings[name]
                    self._offer()
        return super().set(**settings)


def _points(test):
    """Return every point as (words, (direction, number))."""
    return [
        (f"{one.direction} {k}", (one.direction, k))
        for one in test.series
        for k in range(1, len(one.flow) + 1)
    ]
