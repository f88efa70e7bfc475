"""What does a person take hold of: a slider with a number box, a choice, a tick, a button.

Every control has a visible name that is also its name for a screen reader. A `Dial` is read and
set in SI (indicators in their own unit per hour); the person sees the unit of its label.
"""

from math import floor, isfinite, log10

import ipywidgets as widgets
import traitlets

from airlab.words import convert, from_si, label, show, to_si
from airlab.words.units import UNIT_SYSTEMS

__all__ = ["Dial", "choice", "short", "tick"]

_AUTO = {"description_width": "initial"}
# Indicators are defined per hour and stay so inside.
_PER_HOUR = {"1/h": "1/h", "m3/(h.m2)": "m3/(h.m2)", "cfm/ft2": "m3/(h.m2)"}
_TURNED = {
    there for si, there in UNIT_SYSTEMS["us"].items() if there != si
}  # long numbers come back


class Dial(widgets.VBox):
    """A number to set: box for typing, slider for feeling; `value` is in SI.

    Parameters
    ----------
    name : str
        What is set, without the unit.
    value, low, high : float
        Start and slider ends, in the unit shown. The box takes any number; what a model cannot
        use is refused by the model, in words.
    unit : str
        Unit key of `words.units` that people see.
    step : float
        Slider step in the unit shown; with `log`, the share of a decade.
    log : bool
        Whether equal slider moves are equal factors.
    digits : int
        Significant digits the box shows when the value is set for it; 4 in US units, whole numbers
        whole. The value keeps all of its digits until somebody types.
    """

    value = traitlets.Float()

    def __init__(self, name, value, low, high, step=None, unit="-", log=False, digits=None):
        shown = label(unit)
        self.name, self.unit, self._log = name, unit, log
        self._digits = digits or (4 if unit in _TURNED else 6)
        self._moving = False
        words = f"{name} [{shown}]" if shown else name
        self.box = widgets.FloatText(value=value, description=words, step=step, style=_AUTO)
        if log:
            self.box.step = None
            self.slider = widgets.FloatLogSlider(
                value=value,
                min=log10(low),
                max=log10(high),
                step=step or 0.02,
                readout_format=".3g",
            )
        else:
            self.slider = widgets.FloatSlider(
                value=value, min=low, max=high, step=step or (high - low) / 100.0,
                readout_format=".3g",
            )  # fmt: skip
        super().__init__([self.box, self.slider], value=_inside(value, unit))
        self.add_class("airlab-dial")
        self.box.observe(self._typed, "value")
        self.slider.observe(self._slid, "value")
        self.observe(self._set, "value")

    @property
    def shown(self):
        """The value as people read it, with its unit."""
        return show(_outside(self.value, self.unit), self.unit)

    @property
    def disabled(self):
        """Whether the dial can be moved."""
        return self.box.disabled

    @disabled.setter
    def disabled(self, value):
        self.box.disabled = self.slider.disabled = value

    def stretch(self, high, step):
        """Move the far end of the slider (unit shown), keeping the value if it still fits."""
        self._moving = True
        with self.slider.hold_trait_notifications():
            self.slider.max, self.slider.step = high, step
        self._moving = False

    def _typed(self, change):
        if not self._moving:
            self._spread(change.new, self.box)

    def _slid(self, change):
        # on the page a slider snaps to its steps; that is not a person moving it
        if not self._moving and abs(self._place(change.new) - self._place(self.box.value)) > 0.501:
            self._spread(float(f"{change.new:.{3 if self._log else 6}g}"), self.slider)

    def _set(self, change):
        if not self._moving:
            self._spread(short(_outside(change.new, self.unit), self._digits), self)

    def _place(self, shown):
        """Return where a number stands on the slider, in steps from its near end."""
        slider = self.slider
        low, high = self._ends()
        inside = min(max(shown, low), high)
        at = log10(inside) - slider.min if self._log else inside - slider.min
        return at / slider.step

    def _spread(self, shown, source):
        self._moving = True
        try:
            if source is not self.box:
                self.box.value = shown
            if source is not self.slider:
                low, high = self._ends()
                self.slider.value = min(max(shown, low), high)
            if source is not self:
                self.value = _inside(shown, self.unit)
        finally:
            self._moving = False

    def _ends(self):
        if self._log:
            return 10.0**self.slider.min, 10.0**self.slider.max
        return self.slider.min, self.slider.max


def choice(name, options, value=None, as_list=False):
    """Return a choice among a few: all in sight, or `as_list` a drop-down.

    Parameters
    ----------
    name : str
        The question or the name of what is chosen.
    options : sequence
        Keys, or pairs (words, key).
    value : object, optional
        The key chosen at the start; the first if left out.
    as_list : bool
        Whether to fold the options into a drop-down list.
    """
    options = list(options)
    kind = widgets.Dropdown if as_list else widgets.RadioButtons
    control = kind(options=options, description=name, style=_AUTO)
    if value is not None:
        control.value = value
    return control.add_class("airlab-choice")


def tick(name, value=False):
    """Return a box to tick."""
    return widgets.Checkbox(value=value, description=name, indent=False, style=_AUTO)


def short(value, digits=4):
    """Return a number with so many significant digits, whole numbers whole.

    Examples
    --------
    >>> short(0.0984252), short(12345.6)
    (0.09843, 12346.0)
    """
    if not value or not isfinite(value):
        return value
    return round(value, max(digits - 1 - floor(log10(abs(value))), 0))


def _inside(shown, unit):
    own = _PER_HOUR.get(unit)
    return convert(shown, unit, own) if own else to_si(shown, unit)


def _outside(value, unit):
    own = _PER_HOUR.get(unit)
    return convert(value, own, unit) if own else from_si(value, unit)
