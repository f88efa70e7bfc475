"""Somebody made a hole: what does it cost, and whose release does it end?"""

from dataclasses import replace
from datetime import datetime

from airlab.leak_check import HOLES, Hole, weigh_hole
from airlab.panels.controls import tick
from airlab.panels.day_form import DayForm, box, choices, number, picks
from airlab.panels.leak_log import MATERIALS
from airlab.plots.day_cards import hole_card
from airlab.words import InputError, from_si, show

__all__ = ["HolePart"]

_NEW = ("a new hole", "")


class HolePart:
    """Part of the day: the register of new holes.

    Parameters
    ----------
    panel : CheckDayPanel
        The panel it belongs to.
    """

    def __init__(self, panel):
        self._panel = panel
        self._unit = "in" if panel.units == "us" else "mm"
        job = panel.desk.job
        fields = {
            "hole": choices("Which hole", [_NEW]),
            "area": choices("Area it goes through", [("not sure: counts for all", ""), *(
                (area.area, area.area) for area in job.envelope)]),
            "diameter": box("Across", self._unit, kind="number"),
            "sealed_with": picks("Sealed with", MATERIALS),
            "checked": tick("Looked at after sealing"),
        }  # fmt: skip
        folded = {
            "trade": picks("Trade", [trade.name for trade in job.trades]),
            "approved_by": box("Allowed by, empty if not planned"),
            "why": box("What it is for"),
            "name": box("Its name, empty for the next number"),
        }
        self.form = DayForm(
            fields,
            [panel.doer("Save the hole", self.save, main=True)],
            {"Trade, allowed by, why": folded},
        )
        fields["hole"].observe(self._picked, "value")
        fields["diameter"].observe(lambda _: panel.redraw(), "value")

    def fit(self, shown):
        """List the holes of the register."""
        options = (_NEW, *((f"{hole.name}, {hole.area or 'area not entered'}", hole.name)
                           for hole in self._panel.desk.job.holes))  # fmt: skip
        picker = self.form.fields["hole"]
        if picker.options != options:
            kept = picker.value
            picker.options = options
            picker.value = kept if kept in [key for _, key in options] else ""

    def card(self, shown):
        """Return the card of the register with the hole that is being typed."""
        draft = None
        if not self.form.fields["hole"].value and self.form.text("diameter"):
            hole = Hole(
                "being typed", area=self.form.fields["area"].value, diameter=self._diameter()
            )
            draft = weigh_hole(hole, shown.number, shown.assumptions)
        return hole_card(shown.register, shown.number, draft, self._panel.units)

    def said(self, shown):
        """Return how many holes there are and what is left."""
        return shown.register.sentence(self._panel.units)

    # acts ---------------------------------------------------------------------------------

    def save(self):
        """Save the hole that stands in the form."""
        form, fields = self.form, self.form.fields
        name = fields["hole"].value
        details = {
            "area": fields["area"].value, "diameter": self._diameter(),
            "sealed_with": form.text("sealed_with"), "checked": fields["checked"].value,
            "trade": form.text("trade"), "approved_by": form.text("approved_by"),
            "why": form.text("why"),
        }  # fmt: skip
        if name:
            said = self.change_hole(name, **details)
        else:
            said = self.add_hole(name=form.text("name"), **details)
        form.clear(*self.form.fields)
        return said

    def add_hole(self, area="", diameter=None, name="", **details):
        """Enter a new hole; return what it ends."""
        areas = [one.area for one in self._panel.desk.job.envelope]
        if area and area not in areas:
            raise InputError(f"There is no area {area!r}. There are: {', '.join(areas)}.")
        details.setdefault("made_on", datetime.now().date())
        hole = Hole(name or "new", area=area, diameter=diameter, **_seen(details))

        def put(rows):
            names = [one.name for one in rows]
            if name in names:
                raise InputError(
                    f"There is a hole {name!r} already. Choose it, or give another name."
                )
            return (*rows, replace(hole, name=name or _free_name(names)))

        self._panel.desk.change_table("holes", put)
        return weigh_hole(self._panel.desk.job.holes[-1]).sentence(self._panel.units)

    def change_hole(self, name, **details):
        """Change what is known of a hole: sealed_with, checked and so on."""
        given = {key: value for key, value in details.items() if value is not None}

        def put(rows):
            if name not in [one.name for one in rows]:
                known = ", ".join(one.name for one in rows) or "none"
                raise InputError(f"There is no hole {name!r}. There are: {known}.")
            return tuple(
                replace(one, **_seen({"sealed_with": one.sealed_with, **given}))
                if one.name == name
                else one
                for one in rows
            )

        self._panel.desk.change_table("holes", put)
        found = next(one for one in self._panel.desk.job.holes if one.name == name)
        return weigh_hole(found).sentence(self._panel.units)

    def _diameter(self):
        return number(self.form.fields["diameter"], HOLES.column("diameter_mm"), self._unit)

    def _picked(self, change):
        """Put the hole that is chosen into the form."""
        found = next((hole for hole in self._panel.desk.job.holes if hole.name == change.new), None)
        if found is None:
            return
        fields = self.form.fields
        for name in ("area", "sealed_with", "checked", "trade", "approved_by", "why"):
            fields[name].value = getattr(found, name)
        size = "" if found.diameter is None else show(from_si(found.diameter, self._unit), digits=6)
        fields["diameter"].value = size


def _seen(details):
    """Refuse a hole that was looked at before it was sealed."""
    if details.get("checked") and not details.get("sealed_with", "").strip():
        raise InputError("The hole is ticked as looked at, but nothing is sealed. Say with what.")
    return details


def _free_name(names):
    count = 1
    while str(count) in names:
        count += 1
    return str(count)
