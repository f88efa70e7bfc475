"""A house at 50 Pa: what the fan must move, and how soon the pressure is gone without it."""

from airlab.building import Geometry, leakage_flow_from
from airlab.panels.base import Panel
from airlab.panels.controls import Dial, choice
from airlab.physics import FanHeldVolume, PowerLawLeak, SealedVessel, drain
from airlab.plots.house import FanStopChart, HouseAt50, house_drawing, house_tiles
from airlab.words import require_choice

__all__ = ["HousePanel"]

_GIVEN = (("all holes together", "hole50"), ("air changes at 50 Pa", "n50"))
# unit, start, slider ends (and step) of the volume and of the hole area
_SIZES = {
    "metric": (("m3", 300.0, 50.0, 1500.0, 10.0), ("cm2", 450.0, 10.0, 3000.0)),
    "us": (("ft3", 10000.0, 2000.0, 50000.0, 500.0), ("in2", 70.0, 2.0, 450.0)),
}
_AIR = (("keeps its temperature", 1.0), ("cools as it thins", 1.4))


class HousePanel(Panel):
    """Hold a house at 50 Pa; its leak is given as a hole area or as n50.

    Examples
    --------
    >>> from airlab.panels import HousePanel
    >>> panel = HousePanel().set(given="n50")
    >>> panel.value.fan_on.air_change_rate_at_50
    3.0
    """

    title = "A house held at 50 Pa"

    def __init__(self, units="metric"):
        self._chart = FanStopChart()
        volume, area = _SIZES[require_choice("units", units, _SIZES)]
        self._amounts = {
            "hole50": Dial("All holes together", *area[1:], unit=area[0], log=True),
            "n50": Dial("Air changes at 50 Pa", 3.0, 0.1, 20.0, unit="1/h", log=True),
        }
        super().__init__(
            building={"volume": Dial("House volume", *volume[1:], unit=volume[0])},
            openings={
                "given": choice("The leak is given as", _GIVEN),
                "hole_area": self._amounts["hole50"],
                "n50": self._amounts["n50"],
                "flow_exponent": Dial("Flow exponent n", 0.65, 0.5, 1.0, step=0.01),
            },
            more={"kappa": choice("While pressure falls, air", _AIR)},
            units=units,
        )

    def compute(self, volume, given, flow_exponent, kappa, **amounts):
        """Return the house with the fan on and with the fan stopped."""
        self._offer(given)
        amount = self._amounts[given]
        flow = leakage_flow_from(given, amount.box.value, Geometry(volume), unit=amount.unit)
        leak = PowerLawLeak.from_flow(flow, flow_exponent=flow_exponent)
        return HouseAt50(
            drain(FanHeldVolume(volume), leak), drain(SealedVessel(volume, kappa=kappa), leak)
        )

    def picture(self, record, **settings):
        """Return the house, the curve after the fan stops, and the figures."""
        chart = self._chart.draw(record).img(
            f"Pressure against time after the fan stops. {record.fan_off.sentence(self.units)}"
        )
        row = f'<div class="airlab-row">{house_drawing(record, self.units)}{chart}</div>'
        return row + house_tiles(record, self.units)

    def words(self, record, **settings):
        """Return what holding takes and what happens when the fan stops."""
        on, off = record
        return f"{on.sentence(self.units)} Fan off: {_lower(off.sentence(self.units))}"

    def _offer(self, given):
        """Show the one amount that counts."""
        for key, dial in self._amounts.items():
            dial.layout.display = None if key == given else "none"


def _lower(sentence):
    return sentence[:1].lower() + sentence[1:]
