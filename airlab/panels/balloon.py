"""One balloon, one hole, one clock: how long until it is flat, and what is that an hour?

The guess comes first and is locked before the clock runs. Then the same hole moves to a sealed
jar and to a jar whose fan holds the pressure.
"""

from bisect import bisect_right

import ipywidgets as widgets

from airlab.panels.base import Panel
from airlab.panels.controls import Dial, choice
from airlab.physics import EDGES, HOLE_MODES, Balloon, FanHeldVolume, RoundHole, SealedVessel, drain
from airlab.plots.drain import drain_drawing
from airlab.plots.drain_chart import DrainChart, drain_chain, drain_tiles
from airlab.words import require_choice, show

__all__ = ["GUESSES", "BalloonPanel"]

GUESSES = {10.0: "10 s", 60.0: "1 min", 360.0: "6 min"}  # what learners choose from
_LAST = 200  # frames after the first
_STEP = 50  # ms between frames: a run takes ten seconds, the clock shows true time
# unit, start, slider ends and step of the balloon and of the hole
_SIZES = {
    "metric": (("cm", 28.0, 14.0, 36.0, 1.0), ("mm", 2.5, 0.5, 8.0, 0.1)),
    "us": (("in", 11.0, 6.0, 14.0, 0.5), ("in", 0.1, 0.02, 0.32, 0.005)),
}
_VESSELS = (("balloon", "balloon"), ("sealed jar", "jar"), ("jar, fan holds the pressure", "fan"))


class BalloonPanel(Panel):
    """Drain a balloon, a jar or a fan-held jar through one kind of hole.

    Starts with a question. `guess` locks an answer, `run` starts the clock, `skip` is the
    teacher's way past both. Setting a vessel other than the balloon skips too.

    Examples
    --------
    >>> from airlab.panels import BalloonPanel
    >>> from airlab.words import mm
    >>> panel = BalloonPanel()
    >>> panel.sentence
    'A balloon 28 cm across, at 2500 Pa, with a 2.5 mm hole. How long until it is flat? Choose.'
    >>> panel.guess(60.0).skip().set(hole_diameter=mm(5)).value.half_time < 10.0
    True
    """

    title = "One balloon, one hole, one clock"

    def __init__(self, units="metric"):
        self._chart = DrainChart()
        self._guess, self._guessed_for, self._stage, self._frame = None, None, "asked", 0
        self._wanted, self._pointing = None, False  # a time a person asked for; the dial follows
        self.vessel = choice("What holds the air", _VESSELS)
        clock = Dial("Clock", 0.0, 0.0, 60.0, step=0.5, unit="s", digits=4)
        clock.observe(self._scrubbed, "value")  # before the panel itself looks
        across, hole = _SIZES[require_choice("units", units, _SIZES)]
        self._play = widgets.Play(value=0, min=0, max=_LAST, interval=_STEP)
        self._guess_buttons = tuple(
            self.button(words, lambda s=seconds: self.guess(s), main=True)
            for seconds, words in GUESSES.items()
        )
        self._skip = self.button("Skip the guess", self.skip)
        self._run = self.button("Run", self.run_or_pause, main=True)
        self._again = self.button("New guess", self.ask)
        self._ask_row = widgets.HBox([*self._guess_buttons, self._skip]).add_class("airlab-buttons")
        self._play.layout.display = "none"  # it ticks unseen; a button with words drives it
        run_row = [self._run, self._again, self._play]
        self._run_row = widgets.HBox(run_row).add_class("airlab-buttons")
        super().__init__(
            building={
                "vessel": self.vessel,
                "diameter": Dial("Balloon, across", *across[1:], unit=across[0]),
            },
            openings={"hole_diameter": Dial("Hole, across", *hole[1:], unit=hole[0])},
            view={"clock": clock},
            more={
                "holes": Dial("How many holes", 1.0, 1.0, 20.0, step=1.0),
                "edge": choice("Edge of the hole", [*EDGES], as_list=True),
                "hole_mode": choice("The hole in the rubber", _hole_words(), as_list=True),
            },
            units=units,
        )
        self._play.observe(self._ticked, "value")

    def arrange(self, *extra):
        """Put the guess or the run buttons under the controls that belong to the stage."""
        asked = self._stage == "asked"
        super().arrange(self._ask_row if asked else self._run_row, *extra)
        self.vessel.layout.display = None if self._stage == "known" else "none"
        self.controls["clock"].layout.display = "none" if asked else None
        for control in self.controls.values():
            control.disabled = self._stage in ("ready", "running")

    # what a person does -------------------------------------------------------------------

    def guess(self, seconds):
        """Lock a guess of the time to flat [s]; the clock can then run."""
        require_choice("guess", seconds, GUESSES)
        self._guess, self._guessed_for = seconds, self._set_up()
        return self._go("ready", 0)

    def skip(self):
        """Go past the guess and show the whole run; for teachers."""
        return self._go("known", self._frame)

    def ask(self):
        """Put the question again, for the hole that is set now."""
        self._guess = None
        with self._held_back():
            self.vessel.value = "balloon"
        return self._go("asked", 0)

    def run_or_pause(self):
        """Run the clock, pause it, or run again from the start."""
        if self._play.playing:
            self._play.playing = False
            self._run.description = "Go on"
            return self
        if self._frame == _LAST:
            self._frame = 0
        self._run.description = "Pause"
        if self._stage == "ready":
            self._stage = "running"
            self._act(self.refresh)
        self._play.value = self._frame
        self._play.playing = True
        return self

    def reset(self):
        """Put every control back to its start and ask again."""
        self._guess, self._stage, self._frame = None, "asked", 0
        self._play.playing = False
        return super().reset()._go("asked", 0)

    def set(self, **settings):
        """Set controls by name (numbers in SI); another vessel than the balloon skips the guess."""
        if settings.get("vessel", "balloon") != "balloon" and self._stage != "known":
            self.skip()
        return super().set(**settings)

    # what is shown ------------------------------------------------------------------------

    def compute(self, vessel, diameter, hole_diameter, clock, holes, edge, hole_mode):
        """Return the drain of the vessel through the holes."""
        balloon = Balloon.from_diameter(diameter, hole_mode=hole_mode)
        held = {
            "balloon": lambda: balloon,
            "jar": lambda: SealedVessel(balloon.volume, balloon.pressure_difference, name="jar"),
            "fan": lambda: FanHeldVolume(balloon.volume, balloon.pressure_difference),
        }[vessel]()
        hole = RoundHole.from_diameter(hole_diameter, count=holes, edge=edge)
        record = drain(held, hole, frames=_LAST + 1)
        self._point_clock(record)
        return record

    def picture(self, record, **settings):
        """Return the vessel, and once the guess is locked the curves and figures."""
        time = float(record.time[self._frame])
        vessel = drain_drawing(record, time, self.units)
        if self._stage == "asked":
            return f'<div class="airlab-row">{vessel}{_question(record)}</div>'
        seen = self._stage == "known"
        chart = self._chart.draw(
            record,
            time=time,
            guess=self._guess,
            units=self.units,
            hide=not seen,
            least=0.0 if seen else max(GUESSES),
        ).img(self._chart_words(record, seen))
        figures = drain_tiles(record, self.units) + drain_chain(record) if seen else ""
        return f'<div class="airlab-row">{vessel}{chart}</div>{figures}'

    def words(self, record, hole_diameter, diameter, **settings):
        """Return the question, the locked guess, or the result."""
        if self._stage == "asked":
            dials = self.controls
            return (
                f"A balloon {dials['diameter'].shown} across, at "
                f"{show(record.vessel.pressure_difference, 'Pa')}, with a "
                f"{dials['hole_diameter'].shown} hole. How long until it is flat? Choose."
            )
        if self._stage in ("ready", "running"):
            return f"You said {GUESSES[self._guess]}. Locked. Run the clock and watch."
        return self._said() + record.sentence(units=self.units)

    # workings -----------------------------------------------------------------------------

    def _go(self, stage, frame):
        self._play.playing = False
        self._stage = stage
        self._run.description = "Run"
        self.arrange()
        self._frame = frame
        self._act(self.refresh)
        return self

    def _set_up(self):
        return {name: value for name, value in self.settings.items() if name != "clock"}

    def _said(self):
        """The guess, as long as it is still about what is set."""
        if self._guess and self._set_up() == self._guessed_for:
            return f"You said {GUESSES[self._guess]}. "
        self._guess = None
        return ""

    def _point_clock(self, record):
        """Go to the time a person asked for, or stay at the frame; span the run with the dial."""
        if self._wanted is not None:
            self._frame = max(bisect_right(record.time, self._wanted) - 1, 0)
            self._wanted = None
        dial, self._pointing = self.controls["clock"], True
        with self._held_back():
            dial.stretch(float(record.time[-1]), float(record.time[1]))
            dial.value = float(record.time[self._frame])
        self._pointing = False

    def _scrubbed(self, change):
        """A person moved the clock."""
        if not self._pointing:
            self._wanted = change.new

    def _ticked(self, change):
        if change.new == self._frame or self._stage not in ("running", "known"):
            return
        self._frame = change.new
        if change.new == _LAST:
            self._go("known", _LAST)
        else:
            self._act(self.refresh)

    def _chart_words(self, record, seen):
        if not seen:
            return "Volume left, leak flow and pressure up to the clock."
        return (
            f"Volume left, leak flow and pressure against time. {record.sentence(units=self.units)}"
        )


def _hole_words():
    words = ("in a cap or patch, keeps its size", "follows the rubber", "free in bare rubber")
    return list(zip(words, HOLE_MODES))


def _question(record):
    return (
        '<p class="airlab-question">How long until it is flat?<br>'
        f"<small>{record.flat_definition}</small></p>"
    )
