"""One balloon, one hole, one clock: how long until it is flat, and what is that an hour?

The guess comes first and is locked before the clock runs; what was seen is written down before
it is explained. Then the same holes move to a sealed jar and to a jar whose fan holds the pressure.
"""

from bisect import bisect_right

import ipywidgets as widgets

from airlab.panels.controls import Dial, choice
from airlab.panels.hole_kit import HoleKit, describe, holes_of
from airlab.panels.predict import LAST_FRAME, TICK, PredictPanel
from airlab.physics import Balloon, FanHeldVolume, HoleSet, SealedVessel, drain
from airlab.plots.drain import drain_drawing, pace_words
from airlab.plots.drain_chart import DrainChart, drain_chain, drain_tiles
from airlab.teaching import FLOW_COURSES, Attempt, look_again, nearest_option, why_so
from airlab.words import mm, require_choice, show, show_duration

__all__ = ["GUESSES", "BalloonPanel"]

GUESSES = {10.0: "10 s", 60.0: "1 min", 360.0: "6 min"}  # what learners choose from
# unit, start, slider ends and step of the balloon
_SIZES = {"metric": ("cm", 28.0, 14.0, 36.0, 1.0), "us": ("in", 11.0, 6.0, 14.0, 0.5)}
_SLACK = {"metric": (32.0, 20.0, 60.0, 1.0), "us": (1.26, 0.8, 2.4, 0.02)}
_VESSELS = (("balloon", "balloon"), ("sealed jar", "jar"), ("jar, fan holds the pressure", "fan"))
_AIR = (("keeps its temperature", 1.0), ("cools as it thins", 1.4))
_OF_THE_HOLE = {"hole_diameter": "diameter", "hole_mode": "hole_mode", "edge": "edge",
                "count": "count", "flow_model": "flow_model", "depth": "depth"}  # fmt: skip


class BalloonPanel(PredictPanel):
    """Drain a balloon, a jar or a fan-held jar through a set of holes.

    Starts with a question. `guess` locks an answer, `run_or_pause` starts the clock, `saw` writes
    down what was seen; `skip` is the teacher's way past them. Setting a vessel other than the
    balloon skips too. Sizes of the hole on show can be set by name: hole_diameter, hole_mode,
    edge, count; `holes` takes a `HoleSet`.

    Examples
    --------
    >>> from airlab.panels import BalloonPanel
    >>> from airlab.words import mm
    >>> panel = BalloonPanel()
    >>> panel.sentence
    'A balloon 28 cm across, at 2500 Pa, with a round hole of 2.5 mm. How long until it is flat?'
    >>> panel.guess(60.0).skip().set(hole_diameter=mm(5)).value.half_time < 10.0
    True
    """

    title = "One balloon, one hole, one clock"
    options = tuple(GUESSES.items())
    asks = "Time until the balloon is flat"

    def __init__(self, units="metric"):
        self._chart, self._guessed_for = DrainChart(), None
        self._wanted, self._pointing = None, False  # a time a person asked for; the dial follows
        size = _SIZES[require_choice("units", units, _SIZES)]
        self.vessel = choice("What holds the air", _VESSELS)
        self.kit = HoleKit(units=units)
        slack = Dial("Slack balloon, radius", *_SLACK[units], unit="in" if units == "us" else "mm")
        slack.value = mm(32)
        clock = Dial("Clock", 0.0, 0.0, 60.0, step=0.5, unit="s", digits=4)
        clock.observe(self._scrubbed, "value")  # before the panel itself looks
        super().__init__(
            building={
                "vessel": self.vessel,
                "diameter": Dial("Balloon, across", *size[1:], unit=size[0]),
            },
            openings={"holes": self.kit},
            view={"clock": clock},
            more={
                "stiffness": Dial("Stiffness of the rubber", 3750.0, 2000.0, 6700.0, 50.0, "Pa"),
                "stiffening": Dial("Stiffening", 0.10, 0.0, 0.3, 0.01),
                "softening": Dial("Softened by blowing up before", 1.0, 0.6, 1.0, 0.05),
                "slack_radius": slack,
                "kappa": choice("In the jar, as pressure falls, air", _AIR, as_list=True),
            },
            units=units,
        )
        self._more_box.children = (self.kit.finer, *self._more_box.children)

    def arrange(self, *extra):
        """Show what belongs to the step: one hole first, vessels and the whole kit at the end."""
        told, asked = self.stage == "told", self.stage == "asked"
        self.vessel.layout.display = None if told else "none"
        self.controls["clock"].layout.display = "none" if asked else None
        self.kit.offer(told, self.vessel.value == "balloon")
        super().arrange(*extra)

    # what a person does -------------------------------------------------------------------

    def look(self):
        """Return the controls for what was seen: the clock, and how the flow went."""
        seconds = widgets.FloatText(
            value=0.0, description="Flat after, in s", style={"description_width": "initial"}
        )
        return {"seconds": seconds, "course": choice("The leak flow", FLOW_COURSES)}

    def seen(self):
        """Return what people say they saw, in words; nothing without a time."""
        seconds, course = (self._look[name].value for name in ("seconds", "course"))
        if seconds <= 0.0:
            return ""
        return f"flat after {show_duration(seconds)}, the leak flow {course}"

    def outcome(self):
        """Return the time to flat [s]."""
        return self.value.time_to_flat, "s"

    def guess(self, value):
        """Lock a guess of the time to flat [s]; the clock can then run."""
        self._guessed_for = self._set_up()
        return super().guess(value)

    def raise_hands(self, *counts):
        """Lock a class's hands, one count for each answer."""
        self._guessed_for = self._set_up()
        return super().raise_hands(*counts)

    def ask(self):
        """Put the question again, for the holes that are set now."""
        with self._held_back():
            self.vessel.value = "balloon"
        return super().ask()

    @property
    def holes(self):
        """The holes as they are set, to be taken to another panel."""
        return holes_of(self.kit.value)

    def set(self, **settings):
        """Set controls by name (numbers in SI); another vessel than the balloon skips the guess."""
        if settings.get("vessel", "balloon") != "balloon" and self.stage != "told":
            self.skip()
        with self._held_back():
            if isinstance(settings.get("holes"), HoleSet):
                self.kit.take(settings.pop("holes"))
            own = {n: settings.pop(n) for n in list(settings) if n in _OF_THE_HOLE}
            if own:
                self.kit.change(**{_OF_THE_HOLE[name]: value for name, value in own.items()})
        return super().set(**settings)

    # what is shown ------------------------------------------------------------------------

    def compute(self, vessel, diameter, holes, clock, slack_radius, kappa, **rubber):
        """Return the drain of the vessel through the holes."""
        balloon = Balloon.from_diameter(diameter, slack_radius, **rubber)
        volume, pressure = balloon.volume, balloon.pressure_difference
        held = {
            "balloon": lambda: balloon,
            "jar": lambda: SealedVessel(volume, pressure, kappa, name="jar"),
            "fan": lambda: FanHeldVolume(volume, pressure, name="jar"),
        }[vessel]()
        made = holes_of(holes)
        record = drain(held, made, frames=LAST_FRAME + 1)
        self.kit.say(made.sentence(self.units))
        self.kit.offer(self.stage == "told", vessel == "balloon")
        self._point_clock(record)
        return record

    def picture(self, record, **settings):
        """Return the vessel, and once the guess is locked the curves and figures."""
        time = float(record.time[self.frame])
        told, asked = self.stage == "told", self.stage == "asked"
        pace = "" if asked else pace_words(float(record.time[1]), TICK, self.ticks())
        vessel = drain_drawing(record, time, self.units, self.holes, pace)
        if asked:
            return f'<div class="airlab-row">{vessel}{_question(record)}</div>'
        chart = self._chart.draw(
            record,
            time=time,
            guess=self.attempt.said,
            units=self.units,
            hide=not told,
            least=0.0 if told else max(GUESSES),
        ).img(self._chart_words(record, told))
        figures = drain_tiles(record, self.units) + drain_chain(record) if told else ""
        return f'<div class="airlab-row">{vessel}{chart}</div>{figures}'

    def words(self, record, **settings):
        """Return the question, the locked guess, the way on, or the result."""
        if self.stage == "asked":
            holes = [describe(form, self.units) for form in self.kit.value]
            return (
                f"A balloon {self.controls['diameter'].shown} across, at "
                f"{show(record.vessel.pressure_difference, 'Pa')}, with "
                f"{' and '.join(holes) or 'no hole'}. How long until it is flat?"
            )
        if self.stage == "locked":
            return f"{self.attempt.sentence()} Locked. Run the clock and watch."
        if self.stage == "run":
            return "The clock has stopped. What did you see? Write it down, then it is explained."
        told = (record.sentence(units=self.units), _in_a_cap(record, self.holes), *record.warnings)
        return self._said(record) + " ".join(words for words in told if words)

    # workings -----------------------------------------------------------------------------

    def _set_up(self):
        return {name: value for name, value in self.settings.items() if name != "clock"}

    def _said(self, record):
        """What was said and seen and why it came so, as long as it is about what is set."""
        if self._guessed_for != self._set_up():
            self.attempt = Attempt(self.options).skip()
        told = [self.attempt.sentence()]
        if self.attempt.saw:
            look = self._look
            told.append(look_again(record, look["seconds"].value, look["course"].value))
            told.append(why_so(record))
        told.append(self.attempt.right_hands(nearest_option(self.options, record.time_to_flat)))
        return "".join(f"{words} " for words in told if words)

    def _point_clock(self, record):
        """Go to the time a person asked for, or stay at the frame; span the run with the dial."""
        if self._wanted is not None:
            self.frame = max(bisect_right(record.time, self._wanted) - 1, 0)
            self._wanted = None
        dial, self._pointing = self.controls["clock"], True
        with self._held_back():
            dial.stretch(float(record.time[-1]), float(record.time[1]))
            dial.value = float(record.time[self.frame])
        self._pointing = False

    def _scrubbed(self, change):
        """A person moved the clock."""
        if not self._pointing:
            self._wanted = change.new

    def _chart_words(self, record, told):
        if not told:
            return "Volume left, leak flow, pressure and speed of the jet up to the clock."
        return (
            "Volume left, leak flow, pressure and speed of the jet against time. "
            f"{record.sentence(units=self.units)}"
        )


def _in_a_cap(record, holes):
    """Say what the same holes would do in a cap, where they are not."""
    if (
        not isinstance(record.vessel, Balloon)
        or not record.drains
        or {*holes.hole_modes} == {"rigid"}
    ):
        return ""
    rigid = drain(record.vessel, record.openings, frames=2)
    return f"In a cap the same holes would take {show_duration(rigid.time_to_flat)}."


def _question(record):
    return (
        '<p class="airlab-question">How long until it is flat?<br>'
        f"<small>{record.flat_definition}</small></p>"
    )
