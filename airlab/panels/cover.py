"""Cover a leak: what does the board take away, and who carries the pressure?"""

from airlab.panels.base import Panel
from airlab.panels.controls import Dial, choice
from airlab.physics import RoundHole, covered
from airlab.plots.cover import cover_drawing
from airlab.words import cm2, require_choice

__all__ = ["CoverPanel"]

# what is put in front, and its gaps as one sharp hole
_COVERINGS = {"boards with gaps": cm2(100), "wet plaster": cm2(0.5), "sealed boards": cm2(2)}
_SIZES = {
    "metric": ("cm2", 50.0, 1.0, 500.0, 0.1, 1000.0),
    "us": ("in2", 8.0, 0.2, 80.0, 0.02, 150.0),
}


class CoverPanel(Panel):
    """A leak in the airtight layer, and what is put in front of it.

    Examples
    --------
    >>> from airlab.panels import CoverPanel
    >>> panel = CoverPanel()
    >>> round(panel.value.cut, 3), panel.set(covering="wet plaster").value.cut > 0.98
    (0.106, True)
    """

    title = "Cover a leak"
    lead = "Does the board cure it, or hide it?"

    def __init__(self, units="metric"):
        unit, leak, low, high, least, most = _SIZES[require_choice("units", units, _SIZES)]
        covering = choice("In front comes", [*_COVERINGS])
        gaps = Dial("Its gaps, together", leak, least, most, unit=unit, log=True)
        gaps.value = _COVERINGS[covering.value]
        covering.observe(self._covering_chosen, "value")  # before the panel itself looks
        super().__init__(
            openings={
                "leak": Dial("Leak in the airtight layer", leak, low, high, unit=unit, log=True),
                "covering": covering,
                "gaps": gaps,
            },
            units=units,
        )

    def compute(self, leak, covering, gaps):
        """Return the leak before and after."""
        return covered(RoundHole.from_area(leak), RoundHole.from_area(gaps))

    def picture(self, record, covering, **settings):
        """Return the cut through both layers."""
        return f'<div class="airlab-row">{cover_drawing(record, self.units, covering)}</div>'

    def _covering_chosen(self, change):
        with self._held_back():
            self.controls["gaps"].value = _COVERINGS[change.new]
