"""With what is the leak in hand sealed, and how much does it pass? Folded under the row of the log."""

from airlab.leak_check import (
    MOVEMENTS,
    REACHES,
    SHAPES,
    choose_fix,
    fix_groups,
    size_from_gap,
    size_from_jet,
    substrates,
)
from airlab.panels.controls import tick
from airlab.panels.day_form import box, choices, number
from airlab.plots.fix_card import fix_card
from airlab.words import Column, InputError

__all__ = ["HowToSeal"]

_FACES, _MORE = "With what to seal it, how big", "Movement, reach, cold, air speed"
_READY = (
    ("dry and clean", ()), ("damp", ("damp",)), ("dusty", ("dusty",)),
    ("damp and dusty", ("damp", "dusty")),
)  # fmt: skip
_GAP = Column("gap", "number", "width of the gap", "mm", low=0.01, high=500.0)
_LENGTH = Column("length", "number", "length of the gap", "m", low=0.001, high=100.0)
_COLD = Column("temperature", "number", "temperature of the faces", "C", low=-30.0, high=60.0)
_SPEED = Column("speed", "number", "highest air speed across the jet", "m/s", low=0.01, high=40.0)
_DISTANCE = Column("distance", "number", "from the gap to the probe", "mm", low=1.0, high=5000.0)


class HowToSeal:
    """Fields about the leak in hand, and what they say.

    Parameters
    ----------
    panel : CheckDayPanel
        The panel it belongs to.
    """

    def __init__(self, panel):
        self._panel = panel
        self._small, self._long, self._speed, self._warmth = (
            ("in", "ft", "mph", "F") if panel.units == "us" else ("mm", "m", "m/s", "C")
        )
        faces, warm = substrates(), "60 °F" if panel.units == "us" else "15 °C"
        self.fields = {
            "first": choices("First face", [("not chosen", ""), *((one, one) for one in faces)]),
            "second": choices("Second face", [("none", ""), *((one, one) for one in faces)]),
            "gap": box("Gap or diameter", self._small, kind="number"),
            "length": box("Length, empty for a hole", self._long, kind="number"),
            "ready": choices("The faces are", _READY),
        }
        self._more = {
            "movement": choices("It moves", sorted(MOVEMENTS, key=lambda one: one != "some")),
            "reach": choices("It is reached", REACHES),
            "shape": choices("It is a", SHAPES),
            "cold": box(f"Faces, empty for {warm} or warmer", self._warmth, kind="number"),
            "loose": tick("The faces give way, nothing behind them"),
            "wanted": tick("The opening is meant to be there"),
            "speed": box("Air speed in the jet", self._speed, kind="number"),
            "distance": box("Probe to gap", self._small, kind="number"),
        }
        self._all = {**self.fields, **self._more}
        for field in self._all.values():
            field.observe(lambda _: panel.redraw(), "value")

    @property
    def folds(self):
        """The folds of the form."""
        return {_FACES: self.fields, _MORE: self._more}

    @property
    def names(self):
        """Names of all fields, to be emptied with the row."""
        return tuple(self._all)

    def fix(self):
        """Return how the leak in hand is dealt with; None where no face is chosen."""
        fields = self._all
        if not fields["first"].value:
            return None
        states, cold = fields["ready"].value, self._number("cold", _COLD, self._warmth)
        more = {} if cold is None else {"temperature": cold}
        return choose_fix(
            fields["first"].value, fields["second"].value, self._number("gap", _GAP, self._small),
            fields["movement"].value, "damp" in states, "dusty" in states,
            reach=fields["reach"].value, shape=fields["shape"].value,
            supported=not fields["loose"].value, intentional=fields["wanted"].value, **more,
        )  # fmt: skip

    def length(self):
        """Return the length typed. [m]."""
        return self._number("length", _LENGTH, self._long)

    def size(self, pressure=50.0):
        """Return the size of the leak in hand: from the jet where it is typed, else from the gap."""
        speed = self._number("speed", _SPEED, self._speed)
        distance = self._number("distance", _DISTANCE, self._small)
        if speed is not None and distance is not None:
            return size_from_jet(speed, distance, pressure, self.length())
        gap = self._number("gap", _GAP, self._small)
        return None if gap is None else size_from_gap(gap, self.length())

    def remark(self):
        """Return what was measured as a remark for the log, so that the file has it."""
        names = ("gap", "length", "speed", "distance")
        typed = ((self._all[n].description, self._all[n].value.strip()) for n in names)
        return ", ".join(f"{words.split(',')[0].split(' [')[0]} {value} {_unit(words)}"
                         for words, value in typed if value)  # fmt: skip

    def groups(self, day):
        """Return the open leaks of known size in groups that a reading can prove; None without."""
        known = [(leak.number, leak.flow) for leak in day.log.blocking
                 if leak.state == "open" and leak.flow is not None]  # fmt: skip
        return fix_groups(known, day.smallest) if known and day.smallest else None

    def card(self, day):
        """Return what the fields say, as HTML; what cannot be used is said in its place."""
        try:
            fix, size = self.fix(), self.size(self.pressure(day))
            return fix_card(fix, size, self.length(), self.groups(day), self._panel.units)
        except InputError as error:
            return fix_card(None, None, None, None, self._panel.units, str(error))

    def pressure(self, day):
        """Return the pressure that the last reading stood at, 50 Pa without one. [Pa]."""
        return day.readings[-1].corrected.pressure_difference if day.readings else 50.0

    def _number(self, name, column, unit):
        return number(self._all[name], column, unit)


def _unit(words):
    return words[words.rindex("[") + 1 : -1]
