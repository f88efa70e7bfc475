"""May the layer be covered? The decision, what it assumes, and the page that a person signs."""

from html import escape

from airlab import sheets
from airlab.leak_check import in_short
from airlab.panels.day_form import DayForm, box, choices, number
from airlab.panels.printed import printed_link
from airlab.plots.decision_card import decision_card
from airlab.words import Column, convert, from_si, label, show

__all__ = ["DecisionPart"]

_SURE = Column("sure", "number", "how sure one wants to be", "%", True, low=50.0, high=99.9,
               slip="Write 90 for 90 %.")  # fmt: skip
_TABLES = (
    ("none", ""), ("areas and their layer", "envelope"), ("joints", "junctions"),
    ("openings and seals", "openings"), ("trades to come", "trades"), ("readings", "readings"),
    ("what could still be sealed", "remedies"),
)  # fmt: skip


_PRICES = {
    "round": "One more round of mending", "open_up": "Opening up once covered",
    "retest": "Another final test", "miss": "Anything else a miss costs", "currency": "Currency",
}  # fmt: skip
_PRICE = Column("price", "number", "a price", low=0.0, high=1e9)


class DecisionPart:
    """Part of the day: cover or wait.

    Parameters
    ----------
    panel : CheckDayPanel
        The panel it belongs to.
    """

    def __init__(self, panel):
        self._panel = panel
        fields = {
            "assumption": choices("Assumption", [("", "")]),
            "value": box("Its value", kind="number"),
            "sure": box("How sure of the limit", "%", kind="number"),
            "table": choices("Change a table", _TABLES),
        }
        self.form = DayForm(
            fields,
            [
                panel.doer("Save the values", self.save, main=True),
                panel.doer("Put ours back", self.forget),
                panel.doer("Print the filled pack", self.print_pack),
            ],
            {"Your prices": {
                **{key: box(words, kind="" if key == "currency" else "number")
                   for key, words in _PRICES.items()},
                "buttons": [panel.doer("Save the prices", self.save_prices)],
            }},
        )  # fmt: skip
        fields["assumption"].observe(self._picked, "value")
        fields["table"].observe(lambda change: panel.edit(change.new), "value")

    def fit(self, shown):
        """List the assumptions, those that move the chance most first."""
        fields, release = self.form.fields, shown.release
        fields["sure"].value = show(from_si(self._panel.desk.job.confidence, "%"))
        for key in _PRICES:
            held = self._panel.desk.job.prices.get(key)
            fields[key].value = (
                held if key == "currency" and held else "" if held is None else show(held, digits=9)
            )
        if release is None:
            return
        first = [one.assumption.key for one in release.moved]
        entries = sorted(
            release.assumptions.entries,
            key=lambda entry: first.index(entry.key) if entry.key in first else len(first),
        )
        units = self._panel.units
        options = tuple((_words(entry, units), entry.key) for entry in entries)
        picker = fields["assumption"]
        if picker.options != options:
            kept = picker.value
            picker.options = options
            picker.value = kept or options[0][1]
        self._picked()

    def _picked(self, _change=None):
        """Put the assumption that is chosen into its box."""
        release = self._panel.value.release if self._panel.value else None
        key = self.form.fields["assumption"].value
        if release is not None and key:
            entry = release.assumptions.entry(key)
            self.form.fields["value"].value = self._shown(entry)
            unit = label(entry.shown_unit(self._panel.units))
            self.form.fields["value"].description = f"Its value [{unit}]" if unit else "Its value"

    def _shown(self, entry):
        """Return the value of an assumption as it stands in its box."""
        unit = entry.shown_unit(self._panel.units)
        return show(convert(entry.value, entry.unit, unit), digits=6)

    def card(self, shown):
        """Return the card of the decision; a hazard leaves no number to read."""
        if shown.release is None:
            return f'<p class="airlab-missing">{escape(shown.missing)}</p>'
        left_out = f'<p class="airlab-missing">{escape(shown.missing)}</p>' if shown.missing else ""
        return left_out + decision_card(
            shown.release, self._panel.units, shown.rows, shown.costs, shown.miss
        )

    def said(self, shown):
        """Return the decision in a few sentences."""
        if shown.release is None:
            return f"NO NUMBER. {shown.missing}"
        return in_short(shown.release, self._panel.units, shown.miss)

    # acts ---------------------------------------------------------------------------------

    def save(self):
        """Save how sure one wants to be, and the assumption that is chosen."""
        sure = number(self.form.fields["sure"], _SURE)
        key, changes = self.form.fields["assumption"].value, {}
        if key:
            entry = self._panel.value.release.assumptions.entry(key)
            column = Column(
                key, "number", entry.meaning, entry.unit, True, low=entry.least, high=entry.most
            )
            if self.form.text("value") != self._shown(entry):
                unit = entry.shown_unit(self._panel.units)
                typed = number(self.form.fields["value"], column, unit)
                changes[key] = from_si(typed, entry.unit)
        return self.assume(sure, **changes)

    def assume(self, confidence=None, **values):
        """Save assumptions in their own units, None for ours; return what was saved."""
        panel, settings = self._panel, {}
        if confidence is not None and confidence != panel.desk.job.confidence:
            settings["confidence"] = confidence
        exponent = values.pop("flow_exponent", panel.desk.job.flow_exponent)
        if exponent != panel.desk.job.flow_exponent:
            settings["flow_exponent"] = 0.65 if exponent is None else exponent
        if values:
            settings["assumptions"] = values
        if not settings:
            return "Nothing was changed."
        panel.desk.change_settings(**settings)
        return "Saved. The decision stands on the new values."

    def save_prices(self):
        """Save the prices that stand in the fold; a blank takes one out."""
        fields = self.form.fields
        given = {key: number(fields[key], _PRICE) for key in _PRICES if key != "currency"}
        return self.price(**given, currency=self.form.text("currency") or None)

    def price(self, **prices):
        """Save own prices."""
        self._panel.desk.change_settings(prices=prices)
        return "Saved. The costs are set against each other where round, opening up and retest are known."

    def forget(self):
        """Put our value of the assumption that is chosen back."""
        return self.assume(**{self.form.fields["assumption"].value: None})

    def print_pack(self, filled=True):
        """Print the pack of the job and say where it is."""
        printed = sheets.print_pack(self._panel.desk.job, filled=filled)
        self._panel.show_printed(printed_link(printed.pack, "Open the printed pack"))
        self.printed = printed
        return printed.sentence(self._panel.units)


def _words(entry, units):
    name = entry.key.replace("_", " ")
    return f"{name}: {entry.said(units)}{' (yours)' if entry.changed else ''}"
