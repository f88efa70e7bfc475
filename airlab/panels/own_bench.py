"""Your own bench: time a real balloon or jar, put its readings in, see what the computation missed."""

from dataclasses import replace
from html import escape

import ipywidgets as widgets

from airlab.files import jobs_folder, read_table, write_table
from airlab.files.tables import parse_table, render_table
from airlab.panels.controls import Dial, choice
from airlab.panels.hole_kit import HoleKit, holes_of
from airlab.panels.predict import StepPanel
from airlab.physics import (
    BENCH,
    HOLE_MODES,
    Balloon,
    HoleSet,
    RoundHole,
    SealedVessel,
    bench_readings,
    fit_bench,
)
from airlab.plots.bench import BenchChart, bench_tiles
from airlab.teaching import BENCH_CAUTIONS, BENCH_STEPS
from airlab.words import InputError, mm, require_choice

__all__ = ["OwnBenchPanel"]

FILE = "bench.csv"
_EMPTY = "time_s,circumference_cm\n"
_VESSELS = (("balloon", "balloon"), ("sealed jar", "jar"))
_SIZES = {"metric": (("mm", 64.0, 30.0, 120.0, 1.0), ("L", 10.0, 1.0, 60.0, 0.5)),
          "us": (("in", 2.5, 1.2, 5.0, 0.05), ("ft3", 0.35, 0.04, 2.0, 0.01))}  # fmt: skip


class OwnBenchPanel(StepPanel):
    """Readings of a real vessel against the computed drain, one constant fitted.

    The readings are a table with a line of column names: `time_s` and one of circumference_cm,
    diameter_cm, volume_l, pressure_pa. They are typed, pasted, or read from `bench.csv` in the
    folder of the jobs.

    Examples
    --------
    >>> from airlab.panels import OwnBenchPanel
    >>> OwnBenchPanel().sentence
    'No readings yet. Read the cautions, time a real balloon, then put its readings in.'
    """

    title = "Your own bench"

    def __init__(self, units="metric"):
        slack, jar = _SIZES[require_choice("units", units, _SIZES)]
        self._chart, self._file = BenchChart(), None
        self.kit = HoleKit(HoleSet(RoundHole(mm(2))), units)
        self.readings = widgets.Textarea(
            value=_EMPTY, description="Readings: first line names the columns",
            continuous_update=False, style={"description_width": "initial"},
        ).add_class("airlab-bench")  # fmt: skip
        read = self.button(f"Read {FILE}", self.read_file)
        save = self.button(f"Save as {FILE}", self.save_file)
        self._files = widgets.HBox([read, save]).add_class("airlab-buttons")
        super().__init__(
            building={
                "vessel": choice("What drained", _VESSELS),
                "slack": Dial("Slack balloon, across", *slack[1:], unit=slack[0]),
                "jar": Dial("Jar holds", *jar[1:], unit=jar[0]),
            },
            openings={"holes": self.kit},
            view={"readings": self.readings},
            more={
                "gauge": Dial("Water gauge at the first reading, 0 for none", 0.0, 0.0, 5000.0, 10.0,
                              "Pa"),
            },
            units=units,
        )  # fmt: skip

    def arrange(self, *extra):
        """Put the file's buttons under the readings."""
        super().arrange(self._files, *extra)

    # what a person does -------------------------------------------------------------------

    @property
    def path(self):
        """The file of the readings."""
        return jobs_folder() / FILE

    def read_file(self):
        """Read the readings from the file; in any column order, commas or semicolons."""
        found = read_table(self.path, BENCH)
        if not found.digest:
            raise InputError(
                f"There is no {FILE} yet. Press 'Save as {FILE}' for an empty one, then fill it. It "
                f"stands in the folder {self.path.parent.name}."
            )
        self._file = found
        used = [c for c in BENCH.columns if any(row.get(c.name) for row in found.rows)]
        table = replace(BENCH, columns=(BENCH.columns[0], *used[1:])) if used else BENCH
        rows = [{c.name: row[c.name] for c in table.columns} for row in found.rows]
        self.readings.value = render_table(table, rows).decode("utf-8-sig")
        return self

    def save_file(self):
        """Save the readings as the file, with every column a spreadsheet may fill."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        known = self._file or read_table(self.path, BENCH)
        self._file = write_table(
            self.path, BENCH, self._table().rows, known if known.digest else None
        )
        return self

    # what is shown ------------------------------------------------------------------------

    def compute(self, vessel, slack, jar, holes, readings, gauge):
        """Return the fit of the readings; None while there are none."""
        balloon = vessel == "balloon"
        self.controls["slack"].layout.display = None if balloon else "none"
        self.controls["jar"].layout.display = "none" if balloon else None
        self.kit.offer(True, balloon)
        made = holes_of(holes)
        self.kit.say(made.sentence(self.units))
        rows = self._table().rows
        if not rows:
            return None
        times, measured, quantity = bench_readings(rows)
        self._quantity = quantity
        modes = {*made.hole_modes}
        mode = modes.pop() if len(modes) == 1 else HOLE_MODES[0]
        held = Balloon.from_slack_diameter(slack, hole_mode=mode) if balloon else SealedVessel(jar)
        return fit_bench(
            held, made.openings, times, measured, quantity, pressure_at_start=gauge or None
        )

    def picture(self, record, **settings):
        """Return cautions, and the steps or the readings over the computed curve."""
        careful = "".join(
            f"<div><b>{escape(one.name)}.</b> {escape(one.text)}</div>" for one in BENCH_CAUTIONS
        )
        careful = f'<div class="airlab-careful">{careful}</div>'
        if record is None:
            steps = "".join(f"<li>{escape(step)}</li>" for step in BENCH_STEPS)
            return f'{careful}<ol class="airlab-protocol">{steps}</ol>'
        chart = self._chart.draw(record, quantity=self._quantity).img(
            f"Readings over the computed curve. {record.sentence(self.units)}"
        )
        return f'{careful}<div class="airlab-row">{chart}</div>{bench_tiles(record)}'

    def words(self, record, **settings):
        """Return what the bench says."""
        if record is None:
            return (
                "No readings yet. Read the cautions, time a real balloon, then put its readings in."
            )
        return " ".join((record.sentence(self.units), *record.warnings))

    def _table(self):
        return parse_table(f"{self.readings.value.strip()}\n".encode(), BENCH, "Readings")
