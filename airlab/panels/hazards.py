"""What could hurt someone: each hazard with its caution, answered safe, not safe, don't know."""

from html import escape
from pathlib import Path

import ipywidgets as widgets

from airlab.panels.controls import choice
from airlab.words import HAZARD_ANSWERS, hazards

__all__ = ["HazardRows"]

_STYLE = Path(__file__).with_name("hazards.css")
_LOOKS = dict(zip(HAZARD_ANSWERS, ("airlab-safe", "airlab-unsafe", "airlab-unknown")))


class HazardRows(widgets.VBox):
    """The hazards as rows: those that stop the fan in sight, the others under a tick.

    Parameters
    ----------
    answered : callable
        Called with key and answer when a person answers.

    Attributes
    ----------
    rows : dict
        The choice of each hazard by key.
    """

    def __init__(self, answered):
        self.rows, self._boxes, self._moving = {}, {}, False
        first, others = [], []
        for one in hazards():
            row = choice(one.name, HAZARD_ANSWERS, "don't know")
            stops = "<b>Unless safe it stops the fan.</b> " if one.stops_fan else ""
            text = widgets.HTML(f"<p>{stops}{escape(one.text)}</p>")
            box = widgets.VBox([row, text]).add_class("airlab-hazard")
            row.observe(
                lambda change, key=one.key: self._moving or answered(key, change.new), "value"
            )
            self.rows[one.key], self._boxes[one.key] = row, box
            (first if one.stops_fan else others).append(box)
        words = f"{len(others)} more to settle before the day"
        self._more = widgets.Checkbox(description=words, indent=False)
        self._others = widgets.VBox(others).add_class("airlab-others")
        self._more.observe(self._unfold, "value")
        style = widgets.HTML(f"<style>{_STYLE.read_text(encoding='utf-8')}</style>")
        super().__init__([style, *first, self._more, self._others])
        self.add_class("airlab-hazards")
        self._unfold()

    def show(self, answers, verdict):
        """Show the answers given, and what counts: a table may know better than the answer."""
        counted = {one.key: answer for one, answer in verdict.answers}
        self._moving = True
        for key, row in self.rows.items():
            row.value = answers[key]
            box, look = self._boxes[key], _LOOKS[counted[key]]
            for other in _LOOKS.values():
                (box.add_class if other == look else box.remove_class)(other)
        self._moving = False

    def _unfold(self, _change=None):
        self._others.layout.display = None if self._more.value else "none"
