"""The fan is read: two big boxes, a direction, the zero; then what the reading stands for."""

from dataclasses import replace
from datetime import datetime

from airlab.leak_check import DIRECTIONS, READINGS, STAGES, Reading, correct_reading
from airlab.panels.controls import choice, tick
from airlab.panels.day_form import DayForm, box, choices, moment, number, picks
from airlab.plots.day_cards import reading_card
from airlab.words import InputError, display_unit
from airlab.words.saying import listed

__all__ = ["ReadingPart"]

_WAYS = dict(zip(DIRECTIONS, ("sucking air out", "blowing air in")))
_OFFERED = "as offered"
_FOLD = "Ring, stage, time, who"


class ReadingPart:
    """Part of the day: read pressure and flow.

    Parameters
    ----------
    panel : CheckDayPanel
        The panel it belongs to.
    """

    def __init__(self, panel):
        self._panel = panel
        self._flow_unit = display_unit("m3/s", panel.units)
        job = panel.desk.job
        rings = [one.aperture for one in job.readings if one.aperture]
        self.fields = {
            "pressure": box("Pressure", "Pa", kind="big"),
            "flow": box("Fan flow", self._flow_unit, kind="big"),
            "direction": choice("The fan is", [(words, way) for way, words in _WAYS.items()],
                                job.readings[-1].direction if job.readings and job.readings[-1].direction
                                else job.direction),
            "zero_before": box("Zero before", "Pa", "with its sign"),
            "zero_after": box("Zero after", "Pa", "with its sign"),
        }  # fmt: skip
        self.again = tick("The hazards have changed")
        folded = {
            "aperture": picks("Ring or plate on the fan", rings),
            "stage": choices("Stage", [(_OFFERED, ""), *((name, name) for name in STAGES)]),
            "at": box("Read at, empty for now", hint="14:05"),
            "by": box("Read by"),
            "note": box("Note"),
        }
        if rings:
            folded["aperture"].value = rings[-1]
        self.form = DayForm(
            self.fields,
            [
                panel.doer("Save the reading", self.save, main=True),
                panel.doer("Take back the last", self.take_back),
            ],
            {_FOLD: folded},
            pairs=[("pressure", "flow"), ("zero_before", "zero_after")],
        )
        self.form.children = (*self.form.children, self.again)

    def fit(self, shown):
        """Put what the day offers into the form."""
        stage = self.form.fields["stage"]
        offered = (f"{_OFFERED}: {shown.day.next_stage}", "")
        if stage.options[0] != offered:
            kept = stage.value
            stage.options = (offered, *((name, name) for name in STAGES))
            stage.value = kept
        ring = self.form.text("aperture") or "not entered"
        self.form.ticks[_FOLD].description = f"Ring ({ring}), stage, time, who"

    def card(self, shown):
        """Return the card of the readings."""
        return reading_card(shown.day, shown.stop, self._panel.units)

    def said(self, shown):
        """Return the last reading and what it gained, in words."""
        day, units = shown.day, self._panel.units
        if not day.fan_may_run:
            names = listed([one.name.lower() for one in day.plan.hazards.stops])
            return f"No fan, no flow, no go. Not settled: {names}."
        after = (_short_gain(day), _now(day))
        if day.readings and day.readings[-1].place == "missed":
            after = ("NOT YET: what is within reach stands under Cover or wait.",)
        elif day.readings and day.readings[-1].place == "kept":
            after = ()
        return " ".join(part for part in (day.sentence(units), *after) if part)

    # acts ---------------------------------------------------------------------------------

    def save(self):
        """Save what stands in the boxes as a reading."""
        typed = self.form
        flow = number(typed.fields["flow"], READINGS.column("flow_m3_per_h"), self._flow_unit)
        pressure = number(typed.fields["pressure"], READINGS.column("pressure_pa"))
        zeros = {
            name: number(typed.fields[name], READINGS.column(f"{name}_pa"))
            for name in ("zero_before", "zero_after")
        }
        said = self.read(
            pressure, flow, typed.fields["direction"].value, **zeros,
            aperture=typed.text("aperture"), stage=typed.fields["stage"].value,
            at=moment(typed.text("at")), by=typed.text("by"), note=typed.text("note"),
        )  # fmt: skip
        typed.clear("pressure", "flow", "zero_before", "zero_after", "at", "note", "stage")
        typed.fields["pressure"].focus()
        return said

    def read(self, pressure, flow, direction=None, stage="", at=None, **details):
        """Save a reading; return what was done."""
        panel, job = self._panel, self._panel.desk.job
        day = panel.value.day
        if not day.fan_may_run:
            raise InputError(f"No reading is taken. {self.said(panel.value)}")
        reading = Reading(
            _free_name(job.readings), pressure, flow, direction or job.direction,
            at or datetime.now().astimezone(),
            stage or day.next_stage, **details,
        )  # fmt: skip
        correct_reading(reading, direction=job.direction)
        panel.desk.change_table(
            "readings", lambda rows: (*rows, replace(reading, name=_free_name(rows)))
        )
        return f"Saved reading {panel.desk.job.readings[-1].name}, {reading.stage}."

    def take_back(self):
        """Take the last reading out of the table."""
        readings = self._panel.desk.job.readings
        if not readings:
            raise InputError("There is no reading to take back.")
        last = readings[-1].name
        self._panel.desk.change_table(
            "readings", lambda rows: tuple(one for one in rows if one.name != last)
        )
        return f"Took back reading {last}."


def _free_name(readings):
    taken, count = {one.name for one in readings}, 1
    while str(count) in taken:
        count += 1
    return str(count)


def _now(day):
    """Return go on, search differently or stop in two words."""
    return f"Now: {day.total.answer}." if day.total and day.plan else ""


def _short_gain(day):
    """Return the gain in one sentence."""
    if day.gain is None:
        return ""
    if day.gain.proved:
        return "A gain is proved."
    if day.gain.fell:
        return "Nothing was sealed by the log: what changed? A window, a door, the ring?"
    if day.gain.preparation:
        return "What changed since the reading before is preparation, not gain."
    return "No gain is proved since the reading before."
