"""One air change: is all the old air out? Pushed out in one piece, or mixed."""

from airlab.panels.base import Panel
from airlab.panels.controls import Dial
from airlab.physics import old_air
from airlab.plots.old_air import OldAirChart, old_air_drawing
from airlab.words import require_choice

__all__ = ["OldAirPanel"]


class OldAirPanel(Panel):
    """Follow the old air of a house that a fan holds at 50 Pa.

    Examples
    --------
    >>> from airlab.panels import OldAirPanel
    >>> round(OldAirPanel().value.mixed_now, 3)
    0.368
    """

    title = "Is the old air gone?"
    lead = "The fan keeps 50 Pa. New air comes in, as much leaves."

    def __init__(self, units="metric"):
        require_choice("units", units, ("metric", "us"))
        self._chart = OldAirChart()
        super().__init__(
            driver={
                "air_changes": Dial("Air changes at 50 Pa", 3.0, 0.1, 20.0, unit="1/h", log=True),
                "after": Dial("Look after", 20.0, 0.0, 120.0, 1.0, "min"),
            },
            units=units,
        )

    def compute(self, air_changes, after):
        """Return the old air left, in two limits."""
        return old_air(air_changes, after)

    def picture(self, record, **settings):
        """Return both rooms and both curves."""
        chart = self._chart.draw(record).img(
            f"Old air left against time, pushed out and mixed. {record.sentence(self.units)}"
        )
        return f'<div class="airlab-row">{old_air_drawing(record)}{chart}</div>'
