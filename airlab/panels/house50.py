"""A house at 50 Pa: what the fan must move, and how soon the pressure is gone without it.

The guess comes first. Then the fan stops, in true time; what was seen is written down; then it is
explained. The leak is one amount, or the holes of the kit one by one.
"""

from airlab.building import Geometry, leakage_flow_from
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.hole_kit import HoleKit, holes_of
from airlab.panels.predict import LAST_FRAME, TICK, PredictPanel
from airlab.physics import HoleSet, PowerLawLeak, RoundHole, fan_stop
from airlab.plots.drain import pace_words, ticks_in_real_time
from airlab.plots.house import FanStopChart, house_drawing, house_tiles
from airlab.teaching import Attempt, nearest_option
from airlab.words import cm2, mm, require_choice

__all__ = ["HALF_TIMES", "HousePanel"]

HALF_TIMES = {1.0: "about a second", 60.0: "about a minute", 600.0: "about ten minutes"}
_GIVEN = (
    ("all holes together", "hole50"),
    ("air changes at 50 Pa", "n50"),
    ("holes one by one", "kit"),
)
# unit, start, slider ends (and step) of the volume, the hole area, loose film and its bulge
_SIZES = {
    "metric": (("m3", 300.0, 50.0, 1500.0, 10.0), ("cm2", 450.0, 10.0, 3000.0),
               ("m2", 0.0, 0.0, 300.0, 10.0), ("mm", 5.0, 1.0, 30.0, 1.0)),
    "us": (("ft3", 10600.0, 2000.0, 50000.0, 500.0), ("in2", 70.0, 2.0, 450.0),
           ("ft2", 0.0, 0.0, 3000.0, 100.0), ("in", 0.2, 0.05, 1.2, 0.05)),
}  # fmt: skip
_SITE = HoleSet(
    (
        RoundHole.from_diameter(mm(40), name="open waste pipe"),
        RoundHole.from_area(cm2(50), count=5, name="letter plate"),
    )
)


class HousePanel(PredictPanel):
    """Hold a house at 50 Pa, stop the fan; the leak as a hole area, as n50, or hole by hole.

    Examples
    --------
    >>> from airlab.panels import HousePanel
    >>> panel = HousePanel().skip().set(given="n50")
    >>> panel.value.fan_on.air_change_rate_at_50
    3.0
    """

    title = "A house held at 50 Pa"
    options = tuple(HALF_TIMES.items())
    run_words = "Stop the fan"
    asks = "Time until half of the 50 Pa is gone"

    def __init__(self, units="metric"):
        self._chart, self._guessed_for = FanStopChart(), None
        volume, area, film, bulge = _SIZES[require_choice("units", units, _SIZES)]
        self.kit = HoleKit(_SITE, units, site=True)
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
            more={
                "holes": self.kit,
                "film": Dial("Loose film", *film[1:], film[0]),
                "bulge": Dial("It bulges at 50 Pa by", *bulge[1:], bulge[0]),
                "slow": tick("Clock in slow motion"),
            },
            units=units,
        )
        self._more_box.children = self._more_box.children[1:]  # the kit stands with the leak
        self._in_sight = (*self._in_sight[:2], self.kit, *self._in_sight[2:])
        self.kit.offer(True, False)
        self.kit.all_holes.value = True
        self.arrange()

    def arrange(self, *extra):
        """Show the one amount that counts, or the kit."""
        given = self.controls["given"].value
        for key, dial in self._amounts.items():
            dial.layout.display = None if key == given else "none"
        self.controls["flow_exponent"].layout.display = "none" if given == "kit" else None
        self.kit.layout.display = None if given == "kit" else "none"
        super().arrange(*extra)

    # what a person does -------------------------------------------------------------------

    def look(self):
        """Return the control for what was seen."""
        return {"half": choice("Half the pressure was gone after", _swapped(self.options))}

    def seen(self):
        """Return what people say they saw, in words."""
        return f"half of it gone after {self.attempt.words_of(self._look['half'].value)}"

    def outcome(self):
        """Return the time until half of the pressure is gone [s]."""
        return self.value.fan_off.half_time, "s"

    def ticks(self):
        """Return how many frames make one tick of a true clock."""
        if self.controls["slow"].value:
            return 1
        return ticks_in_real_time(float(self.value.fan_off.time[1]), TICK, LAST_FRAME)

    @property
    def holes(self):
        """The holes of the kit, to be taken to another panel."""
        return holes_of(self.kit.value)

    def set(self, **settings):
        """Set controls by name (numbers in SI); `holes` takes a `HoleSet`."""
        if isinstance(settings.get("holes"), HoleSet):
            with self._held_back():
                self.kit.take(settings.pop("holes"))
                self.controls["given"].value = "kit"
        return super().set(**settings)

    # what is shown ------------------------------------------------------------------------

    def compute(self, volume, given, flow_exponent, holes, film, bulge, slow, **amounts):
        """Return the house with the fan on and with the fan stopped."""
        self.arrange()
        if given == "kit":
            leak = holes_of(holes)
            self.kit.say(leak.sentence(self.units))
        else:
            amount = self._amounts[given]
            flow = leakage_flow_from(given, amount.box.value, Geometry(volume), unit=amount.unit)
            leak = PowerLawLeak.from_flow(flow, flow_exponent=flow_exponent)
        return fan_stop(volume, leak, film, bulge, frames=LAST_FRAME + 1)

    def picture(self, record, **settings):
        """Return the house and, once the guess is locked, the curve after the fan stops."""
        told, asked = self.stage == "told", self.stage == "asked"
        time = float(record.fan_off.time[self.frame])
        if asked or (told and not self.frame):
            house = house_drawing(record, self.units)
        else:
            pace = pace_words(float(record.fan_off.time[1]), TICK, self._play.step)
            house = house_drawing(record, self.units, time, pace)
        if asked:
            return f'<div class="airlab-row">{house}{_QUESTION}</div>'
        alt = record.fan_off.sentence(self.units) if told else "Up to the clock."
        chart = self._chart.draw(record, time=time, hide=not told).img(
            f"Pressure against time after the fan stops. {alt}"
        )
        figures = house_tiles(record, self.units) if told else ""
        return f'<div class="airlab-row">{house}{chart}</div>{figures}'

    def words(self, record, **settings):
        """Return the question, the way on, or what holding takes and what stopping does."""
        if self.stage == "asked":
            return (
                f"A fan holds a house of {self.controls['volume'].shown} at 50 Pa. It stops and its "
                "opening is shut at once. When is half of the pressure gone?"
            )
        if self.stage == "locked":
            return f"{self.attempt.sentence()} Locked. Stop the fan and watch the pressure."
        if self.stage == "run":
            return "What did you see? Write it down, then it is explained."
        if self._guessed_for not in (None, self._set_up()):
            self.attempt = Attempt(self.options).skip()
        self._guessed_for = self._set_up()
        right = nearest_option(self.options, record.fan_off.half_time)
        told = [self.attempt.sentence(), self.attempt.right_hands(right)]
        if self.attempt.saw and self._look["half"].value != right:
            told.append("Look again, in slow motion.")
        told += [record.sentence(self.units), *record.fan_off.warnings]
        return " ".join(words for words in told if words)

    # workings -----------------------------------------------------------------------------

    def _set_up(self):
        return {name: value for name, value in self.settings.items() if name != "slow"}


_QUESTION = (
    '<p class="airlab-question">The fan stops.<br>When is half of the pressure gone?<br>'
    "<small>its opening is shut at once</small></p>"
)


def _swapped(options):
    return [(words, value) for value, words in options]
