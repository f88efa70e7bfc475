"""Two balloons race: which is flat first, and how much longer does the other take?"""

import ipywidgets as widgets

from airlab.panels.controls import Dial, choice
from airlab.panels.hole_kit import MODE_WORDS
from airlab.panels.predict import LAST_FRAME, TICK, PredictPanel
from airlab.physics import HOLE_MODES, Balloon, Hole, HoleSet, RoundHole, drain, race
from airlab.plots.drain import drain_drawing, pace_words
from airlab.plots.race import RaceChart
from airlab.teaching import Attempt
from airlab.words import InputError, from_si, mm, require_choice, show

__all__ = ["SET_UPS", "RacePanel"]

_NAMES = ("left", "right")
# what differs; left and right: metres across, hole in metres, how many, how it sits in rubber
SET_UPS = {
    "a hole twice as wide": ((0.28, mm(2), 1, "rigid"), (0.28, mm(4), 1, "rigid")),
    "four small holes or one wide": ((0.28, mm(2), 4, "rigid"), (0.28, mm(4), 1, "rigid")),
    "a balloon half as wide again": ((0.20, mm(2.5), 1, "rigid"), (0.30, mm(2.5), 1, "rigid")),
    "in a cap or in bare rubber": ((0.28, mm(2.5), 1, "rigid"), (0.28, mm(2.5), 1, "free")),
}
_FIELDS = ("diameter", "hole", "count", "hole_mode")
_SIZES = {
    "metric": (("cm", 14.0, 36.0, 1.0), ("mm", 0.5, 8.0, 0.1)),
    "us": (("in", 6.0, 14.0, 0.5), ("in", 0.02, 0.32, 0.005)),
}


class RacePanel(PredictPanel):
    """Two balloons with a hole each, side by side on one clock.

    Examples
    --------
    >>> from airlab.panels import RacePanel
    >>> panel = RacePanel().skip()
    >>> round(panel.value.factor, 2)
    0.25
    """

    title = "Two balloons race"
    options = (
        ("first", "the left one"), ("second", "the right one"), ("neither", "both at once"),
    )  # fmt: skip
    run_words = "Open both holes"

    def __init__(self, units="metric"):
        self._chart, self._raced = RaceChart(), None
        across, hole = _SIZES[require_choice("units", units, _SIZES)]
        self._factor = _times("The other takes how many times as long")
        own = {}
        for name in _NAMES:
            own[f"{name}_diameter"] = Dial(f"{name.title()}: balloon", across[1], *across[1:],
                                           unit=across[0])  # fmt: skip
            own[f"{name}_hole"] = Dial(f"{name.title()}: hole", hole[1], *hole[1:], unit=hole[0])
        more = {}
        for name in _NAMES:
            words = [(MODE_WORDS[mode], mode) for mode in HOLE_MODES]
            more[f"{name}_count"] = Dial(f"{name.title()}: how many holes", 1.0, 1.0, 20.0, 1.0)
            more[f"{name}_hole_mode"] = choice(f"{name.title()}: the hole is", words, as_list=True)
        set_up = choice("What differs", [*SET_UPS], as_list=True)
        _fill({**own, **more}, SET_UPS[set_up.value])
        super().__init__(
            building={"set_up": set_up}, openings=own, more=more, units=units,
        )  # fmt: skip
        self._rows["asked"] = (self._factor, *self._rows["asked"])
        set_up.observe(self._set_up_chosen, "value")
        self.arrange()

    # what a person does -------------------------------------------------------------------

    def look(self):
        """Return the controls for what was seen."""
        return {
            "first": choice("Flat first", [(words, key) for key, words in self.options]),
            "factor": _times("The other took how many times as long"),
        }

    def seen(self):
        """Return what people say they saw, in words."""
        first = self._look["first"].value
        return ", ".join(filter(None, (self.attempt.words_of(first),
                                       _as_long(first, self._look["factor"]))))  # fmt: skip

    def guess(self, value, factor=None):
        """Lock which is flat first, and how many times as long the other takes."""
        if factor is not None:
            self._factor.value = factor
        self._beside = _as_long(value, self._factor)
        return super().guess(value)

    def beside(self):
        """Return the factor that is said with the answer."""
        return self._beside

    # what is shown ------------------------------------------------------------------------

    def compute(self, set_up, **sizes):
        """Return the race of the two balloons."""
        runs = []
        for name in _NAMES:
            across, hole, count, mode = (sizes[f"{name}_{field}"] for field in _FIELDS)
            balloon = Balloon.from_diameter(across, hole_mode=mode)
            holes = HoleSet(Hole(RoundHole.from_diameter(hole, count=count), mode))
            runs.append(drain(balloon, holes))
        return race(*runs, _NAMES)

    def picture(self, record, **settings):
        """Return both balloons at the clock and, once the holes are open, what is left."""
        time = float(record.times(LAST_FRAME + 1)[self.frame])
        pace = pace_words(float(record.times(LAST_FRAME + 1)[1]), TICK)
        if self.stage == "asked":
            pace = ""
        both = "".join(
            drain_drawing(one, time, self.units, pace=pace, caption=name)
            for one, name in zip((record.first, record.second), _NAMES)
        )
        if self.stage == "asked":
            return f'<div class="airlab-row airlab-race">{both}</div>'
        words = record.sentence(self.units) if self.stage == "told" else "Up to the clock."
        chart = self._chart.draw(record, time=time, units=self.units).img(
            f"Volume left of both balloons against time. {words}"
        )
        return f'<div class="airlab-row airlab-race">{both}{chart}</div>'

    def words(self, record, **settings):
        """Return the question, the way on, or who won."""
        if self.stage == "asked":
            return f"{_set_up_words(record, self.units)} Which is flat first, and by what factor?"
        if self.stage == "locked":
            return f"{self.attempt.sentence()} Locked. Open both holes and watch."
        if self.stage == "run":
            return "Both are flat. What did you see? Write it down, then it is explained."
        if self._raced is not None and self._raced != self.settings:
            self.attempt = Attempt(self.options).skip()
        told = [self.attempt.sentence(), self.attempt.right_hands(record.winner)]
        if self.attempt.saw and self._look["first"].value != record.winner:
            told.append("Look again.")
        warned = dict.fromkeys((*record.first.warnings, *record.second.warnings))
        told += [record.sentence(self.units), record.why(), *warned]
        self._raced = self.settings
        return " ".join(words for words in told if words)

    # workings -----------------------------------------------------------------------------

    def _set_up_chosen(self, change):
        with self._held_back():
            _fill(self.controls, SET_UPS[change.new])
        self._act(self.refresh)


def _fill(controls, pair):
    """Set the controls of both balloons."""
    for name, values in zip(_NAMES, pair):
        for field, value in zip(_FIELDS, values):
            controls[f"{name}_{field}"].value = value


def _times(words):
    return widgets.BoundedFloatText(
        value=1.0, min=1.0, max=1000.0, step=0.5, description=words,
        style={"description_width": "initial"},
    )  # fmt: skip


def _as_long(first, box):
    """Return the factor that goes with an answer, in words."""
    if first == "neither":
        return ""
    if box.value <= 1.0:
        raise InputError("Say by what factor too: how many times as long does the other take?")
    return f"the other {show(box.value)} times as long"


def _set_up_words(record, units):
    told = []
    for name, one in zip(_NAMES, (record.first, record.second)):
        hole, unit = one.openings[0], ("in", "in") if units == "us" else ("cm", "mm")
        across = show(from_si(one.vessel.diameter, unit[0]), unit[0])
        count = f"{show(hole.count)} holes" if hole.count != 1 else "one hole"
        size = show(from_si(hole.diameter, unit[1]), unit[1])
        told.append(f"{name.title()}: {across} across, {count} of {size}.")
    return " ".join(told)
