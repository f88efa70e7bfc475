"""From balloon to house: the same holes in a jar, a balloon, a small and a large house, all at 50 Pa."""

from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice
from airlab.panels.hole_kit import HoleKit, holes_of
from airlab.panels.predict import step_style
from airlab.physics import HoleSet, RoundHole, side_by_side
from airlab.plots.side_by_side import side_by_side_table
from airlab.words import mm, require_choice, to_si

__all__ = ["BridgePanel"]

_SMALL = {"jar": to_si(10.0, "L"), "balloon": to_si(11.5, "L")}  # 28 cm across
_SIZES = {
    "metric": (("m3", 250.0, 50.0, 600.0, 10.0), ("m3", 1000.0, 200.0, 3000.0, 50.0)),
    "us": (("ft3", 9000.0, 2000.0, 20000.0, 500.0), ("ft3", 35000.0, 7000.0, 100000.0, 1000.0)),
}
_GIVEN = (("the same holes", "holes"), ("the same air changes at 50 Pa", "ach50"))


class BridgePanel(CardPanel):
    """The same holes in four volumes, or the same air changes and the hole each may have.

    Examples
    --------
    >>> from airlab.panels import BridgePanel
    >>> panel = BridgePanel().set(given="ach50", ach50=0.6, large=450.0)
    >>> panel.sentence[:62]
    '0.6 air changes per hour at 50 Pa allow the jar 0.00299 cm² of'
    """

    title = "The same hole, four volumes"

    def __init__(self, units="metric"):
        small, large = _SIZES[require_choice("units", units, _SIZES)]
        self.kit = HoleKit(HoleSet(RoundHole.from_diameter(mm(11.3))), units, site=True)
        self.kit.offer(True, False)
        super().__init__(
            building={
                "small": Dial("Small house", *small[1:], unit=small[0]),
                "large": Dial("Large house", *large[1:], unit=large[0]),
            },
            openings={
                "given": choice("All four have", _GIVEN),
                "holes": self.kit,
                "ach50": Dial("Air changes at 50 Pa", 0.6, 0.1, 20.0, unit="1/h", log=True),
            },
            units=units,
        )
        self.add_class("airlab-asks")

    def _head_html(self):
        return f"{super()._head_html()}{step_style()}"

    def set(self, **settings):
        """Set controls by name (numbers in SI); `holes` takes a `HoleSet`."""
        if isinstance(settings.get("holes"), HoleSet):
            with self._held_back():
                self.kit.take(settings.pop("holes"))
        return super().set(**settings)

    def compute(self, small, large, given, holes, ach50):
        """Return the four volumes side by side."""
        self.kit.layout.display = None if given == "holes" else "none"
        self.controls["ach50"].layout.display = None if given == "ach50" else "none"
        volumes = {**_SMALL, "small house": small, "large house": large}
        if given == "ach50":
            return side_by_side(volumes, ach50=self.controls["ach50"].value)
        made = holes_of(holes)
        self.kit.say(made.sentence(self.units))
        return side_by_side(volumes, made)

    def picture(self, record, **settings):
        """Return the table with a drawing of each volume."""
        return side_by_side_table(record, self.units)
