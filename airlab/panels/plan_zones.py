"""What does a number mean where a zone is closed off or a neighbour stands beside? Three states, one fan."""

from html import escape

from airlab.files import current_job
from airlab.leak_check import SITUATIONS, two_zones, two_zones_read
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice
from airlab.plots.plan_zones import two_zones_drawing
from airlab.words import caution, display_unit

__all__ = ["TwoZonesPanel"]

_KNOWN = (("the leaks, as a guess", "leaks"), ("two readings of the fan", "readings"))
_STARTS = {"metric": (600.0, 150.0, 400.0, 750.0, 600.0), "us": (350.0, 90.0, 240.0, 440.0, 350.0)}
_LOW = 'style="min-width:0;max-width:100%;height:auto;'  # as high as its width asks for
_LEAKS, _READ = ("outside", "between", "other"), ("alone", "guarded", "other_pressure")


class TwoZonesPanel(CardPanel):
    """What the fan reads beside an unfinished zone or a neighbour, and what the difference means.

    Parameters
    ----------
    job : Job or None
        Whose units and exponent are used; the open one if left out.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> panel = TwoZonesPanel(demo_job())
    >>> panel.sentence[:57]
    'The fan reads, with the other zone open to outside 750 m³'
    """

    title = "A part of the house"
    lead = "The zone on the left is tested. How the other one stands changes what the fan reads."

    def __init__(self, job=None):
        job = current_job() if job is None else job
        self._exponent, unit = job.flow_exponent, display_unit("m3/s", job.units)
        names = (
            "Tested zone to outside, at 50 Pa", "Between the two zones, at 50 Pa",
            "Other zone to outside, at 50 Pa", "Read at 50 Pa, other zone free",
            "Read at 50 Pa, other zone held alike",
        )  # fmt: skip
        dials = {
            key: Dial(name, start, 10.0, 3000.0, 10.0, unit=unit, digits=4)
            for key, name, start in zip((*_LEAKS, *_READ[:2]), names, _STARTS[job.units])
        }
        pressure = Dial("Other zone over outside, when free", 0.0, 0.0, 50.0, 1.0, unit="Pa")
        known = choice("What is known", _KNOWN)
        known.observe(lambda _: self.arrange(), "value")
        super().__init__(
            building={"situation": choice("It is an", SITUATIONS)},
            openings={key: dials[key] for key in _LEAKS}, driver={"known": known},
            more={**{key: dials[key] for key in _READ[:2]}, _READ[2]: pressure},
            job=job.name or job.folder.name, units=job.units,
        )  # fmt: skip

    def arrange(self, *extra):
        """Show the dials of what is known: the leaks, or two readings."""
        now = _LEAKS if self.controls["known"].value == "leaks" else _READ
        shown = ("situation", "known", *now)
        self._side.children = (*(self.controls[key] for key in shown), self._buttons)

    def compute(self, situation, known, outside, between, other, alone, guarded, other_pressure):
        """Return the readings state by state."""
        if known == "leaks":
            return two_zones(situation, outside, between, other, self._exponent)
        return two_zones_read(situation, alone, guarded, other_pressure, self._exponent)

    def picture(self, record, **settings):
        """Return the states side by side, what holds for fires in both, what is never sealed between."""
        drawn = two_zones_drawing(record, self.units).replace('style="', _LOW, 1)
        said = "".join(
            f"<p>{escape(caution(key).text)}</p>" for key in ("combustion", "fire_stopping")
        )
        return f'<div class="airlab-row">{drawn}</div>{said}'
