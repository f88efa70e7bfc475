"""What the number at 50 Pa means through the year: air, heat, draught, moisture, fresh air.

Works on the open job: its sizes and the best that is known of its leakage. Five pages of one
panel; each gives a range, because no model knows a house.
"""

from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import APPLIANCES, leakage_flow_from, ventilation_needs
from airlab.building.combustion import appliance as burner
from airlab.building.site import site_from_settings
from airlab.files.weather_year import open_weather, read_weather, weather_years
from airlab.in_use import (
    LIVING_CAUTIONS,
    SHELTERS,
    HeatFactors,
    Models,
    combustion_check,
    draught_at,
    four_ways,
    fresh_air,
    gap_moisture,
    lived_house,
    side_by_side,
    year_heat,
)
from airlab.leak_check.known_leakage import KnownLeakage, known_leakage
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice
from airlab.panels.desk import Desk
from airlab.plots.living import (
    YearChart,
    gap_drawing,
    heat_tiles,
    models_table,
    near_tiles,
    need_tiles,
    ways_table,
    year_legend,
)
from airlab.plots.sizes import notes_list
from airlab.words import ach, from_si

__all__ = ["Living", "LivingPanel"]

VIEWS = (
    ("air through the leaks", "air"),
    ("the heat it takes", "heat"),
    ("beside a leak", "near"),
    ("fresh air and fires", "need"),
    ("four ways to live", "ways"),
)
# Under each page: the controls in sight, and those under More settings.
_ALWAYS = ("leak", "weather", "shelter")
_SEEN = {
    "air": (_ALWAYS, ("bedrooms", "rule", "exponent")),
    "heat": ((*_ALWAYS, "price"), ("carbon", "efficiency", "exponent")),
    "near": (("pressure", "gap", "away", "inside_humidity"), ("cold", "depth")),
    "need": (
        ("leak", "weather", "bedrooms", "extract"),
        ("rule", "appliance", "shelter", "exponent"),
    ),
    "ways": (("leak", "leaky", "weather", "bedrooms"), ("rule", "recovery", "shelter", "exponent")),
}
_CAUTIONS = tuple(one.text for one in LIVING_CAUTIONS)
_FIRES = "What the extract fans pull, and what that means beside a fire, stands above."
_OWN = "weather_year.csv"  # in the job's folder, columns by name
_OWN_FIGURES = {"bedrooms", "rule", "price", "carbon"}
_AUTO = {"description_width": "initial"}


class Living(NamedTuple):
    """What the panel shows: the models side by side, and what its page asks for."""

    known: KnownLeakage
    years: Models
    need: object = None
    found: object = None
    more: object = None


class LivingPanel(CardPanel):
    """The year of the open house: air, heat, draught and moisture, fresh air, four ways to live.

    Parameters
    ----------
    job : Job or None
        The job; the open one if left out.

    Examples
    --------
    >>> from airlab.files import demo_job
    >>> from airlab.panels.living import LivingPanel
    >>> panel = LivingPanel(demo_job())
    >>> "air changes an hour" in panel.sentence
    True
    """

    title = "Your house through the year"
    lead = "What comes in through the leaks when no fan runs."

    def __init__(self, job=None):
        self._desk = Desk(job, told=lambda: self._act(self.refresh))
        job = self._desk.job
        self._chart, self._page, self._kept, self._own = YearChart(), None, {}, None
        self._known = known_leakage(job)
        years = [(line["name"], key) for key, line in weather_years().items()]
        if (job.folder / _OWN).exists():
            years.insert(0, (f"own table, {_OWN}", _OWN))
        length = "in" if job.units == "us" else "mm"
        far, air = ("ft", "cfm") if job.units == "us" else ("m", "L/s")
        burners = [(one.name, one.key) for one in APPLIANCES]
        rules = [one.jurisdiction for one in self._needs(3)]
        held, prices = job.assumptions, job.prices
        beds = held.get("bedrooms")
        n50 = float(f"{ach(self._known.flow, self._known.house.internal_volume):.3g}")
        shelter = lived_house(self._known.house, self._known.flow,
                              site=site_from_settings(job.site)).shielding  # fmt: skip
        more = {
            "leak": Dial("Air changes at 50 Pa", n50, 0.2, 20.0, unit="1/h", log=True, digits=3),
            "weather": choice("Weather", years, as_list=True),
            "shelter": choice("Round the house", SHELTERS, shelter, as_list=True),
            "exponent": Dial("Flow exponent n", self._known.flow_exponent, 0.5, 1.0, step=0.01),
            "price": widgets.FloatText(prices.get("heat_kwh", 0.0), description="Price of a kWh (0: none)", style=_AUTO),
            "carbon": widgets.FloatText(prices.get("heat_kwh_co2_kg", 0.0), description="kg of CO₂ a kWh (0: none)", style=_AUTO),
            "efficiency": Dial("Heat out of a kWh bought", 1.0, 0.5, 5.0, step=0.05),
            "pressure": Dial("Pressure difference", 4.0, 0.5, 50.0, 0.5, unit="Pa"),
            "gap": _dial("Width of the gap", 0.001, 0.0001, 0.01, length),
            "away": _dial("You sit away from it", 2.0, 0.2, 5.0, far),
            "inside_humidity": Dial("Humidity inside", 50.0, 20.0, 80.0, 1.0, unit="%"),
            "cold": Dial("Cold surface", *((32.0, 0.0, 60.0) if job.units == "us" else (0.0, -20.0, 15.0)),
                         step=1.0, unit="F" if job.units == "us" else "C"),
            "depth": _dial("Depth of the gap", 0.1, 0.01, 0.4, length),
            "bedrooms": widgets.BoundedIntText(beds if isinstance(beds, int) else 3, 0, 20,
                                               description="Bedrooms", style=_AUTO),
            "rule": choice("Fresh air as asked for in", rules, as_list=True),
            "extract": _dial("All extract fans together", 0.06, 0.0, 0.2, air),
            "appliance": choice("Burns air from the rooms", burners, as_list=True),
            "leaky": Dial("The leaky house, at 50 Pa", 10.0, 1.0, 30.0, unit="1/h", log=True),
            "recovery": Dial("Heat recovery keeps", 75.0, 0.0, 95.0, 1.0, unit="%"),
        }  # fmt: skip
        if held.get("fresh_air_rule") in rules:
            more["rule"].value = held["fresh_air_rule"]
        self._keep = self.button("Keep with the job", self.keep)
        super().__init__(view={"show": choice("Show", VIEWS)}, more=more, job=job.name,
                         units=job.units)  # fmt: skip

    def arrange(self, *extra):
        """Put the choice of the page first, then the controls of the page on show."""
        seen, folded = _SEEN[self.controls["show"].value]
        keep = (self._keep,) if _OWN_FIGURES & {*seen, *folded} else ()
        self._more_box.children = (*(self.controls[name] for name in folded), *keep)
        self._side.children = (
            *self._in_sight, *(self.controls[name] for name in seen), *extra,
            self._more, self._more_box, self._buttons,
        )  # fmt: skip

    def close(self):
        """Take the panel off the page."""
        self._desk.close()
        super().close()

    def keep(self):
        """Keep bedrooms, the rule of fresh air, price and CO₂ with the job."""
        now = self.settings
        self._desk.save_settings(
            assumptions={"bedrooms": now["bedrooms"], "fresh_air_rule": now["rule"]},
            prices={"heat_kwh": now["price"] or None, "heat_kwh_co2_kg": now["carbon"] or None},
        )

    # what is shown ------------------------------------------------------------------------

    def compute(self, show, leak, weather, shelter, exponent, leaky, **asked):
        """Return the models side by side, and what the page on show asks for."""
        if show != self._page:
            self._page = show
            self.arrange()
        years = self._side_by_side(leak, weather, shelter, exponent)
        house, year = years.house, years.weather
        found = Living(self._known, years, self._asked_for(asked["bedrooms"], asked["rule"]))
        if show == "heat":
            factors = HeatFactors(
                asked["price"] or None, asked["carbon"] or None, asked["efficiency"]
            )
            return found._replace(found=year_heat(years.flows, year.temperature, house.n50, factors,
                                                  house.indoor_temperature, house.heating_below))  # fmt: skip
        if show == "near":
            pressure, gap = asked["pressure"], asked["gap"]
            return found._replace(
                found=draught_at(pressure, gap, asked["away"]),
                more=gap_moisture(1.0, gap, pressure, asked["depth"], house.indoor_temperature,
                                  asked["inside_humidity"], asked["cold"]),
            )  # fmt: skip
        if show == "need":
            return found._replace(
                found=fresh_air(years.flows, found.need.flow, years.engine.heating),
                more=combustion_check(asked["extract"], house.flow50, exponent, burner(asked["appliance"]), self.units),
            )  # fmt: skip
        if show == "ways":
            other = self._side_by_side(leaky, weather, shelter, exponent)
            return found._replace(
                found=four_ways(
                    other.hourly, years.hourly, found.need.flow, recovery=asked["recovery"]
                )
            )
        return found

    def picture(self, record, show, **settings):
        """Return the page that is on show."""
        years = record.years
        if show == "air":
            need = ach(record.need.flow, years.house.volume)
            chart = self._chart.draw(years.engine, need=need).img(
                f"Air changes per hour through the leaks, day by day. {years.engine.sentence(self.units)}"
            )
            legend = year_legend(years.engine, need)
            table = models_table(years.entries, years.heats, self.units)
            return chart + legend + table + notes_list(years.weather.notes)
        if show == "heat":
            table = models_table(years.entries, years.heats, self.units, whole=True)
            return heat_tiles(record.found) + table
        if show == "near":
            drawn = gap_drawing(record.found, settings["gap"], self.units)
            return drawn + near_tiles(record.found, record.more, self.units)
        if show == "need":
            said = (record.more, record.need.sentence(self.units), *_CAUTIONS)
            return need_tiles(record.found, record.need, self.units) + notes_list(said)
        return ways_table(record.found, self.units) + notes_list((*record.found.notes, *_CAUTIONS))

    def words(self, record, show, **settings):
        """Return the page in words."""
        if show == "air":
            return f"{self._whose(record)} {record.years.sentence(self.units)}"
        if show == "heat":
            return record.found.sentence(self.units)
        if show == "near":
            return f"{record.found.sentence(self.units)} {record.more.sentence(self.units)}"
        if show == "need":
            return f"{record.found.sentence(self.units)} {_FIRES}"
        return record.found.brief(self.units)

    # workings -----------------------------------------------------------------------------

    def _whose(self, record):
        known = record.known
        return (
            known.sentence(self.units)
            if self.controls["leak"].box.value == self._starts["leak"]
            else ""
        )

    def _needs(self, bedrooms):
        return ventilation_needs(self._known.house.floor_area, bedrooms)

    def _asked_for(self, bedrooms, rule):
        return next(one for one in self._needs(bedrooms) if one.jurisdiction == rule)

    def _side_by_side(self, leak, weather, shelter, exponent):
        """Return the models side by side; the last few stay, so that turning a page costs nothing."""
        key = leak, weather, shelter, exponent
        if key not in self._kept:
            house = self._known.house
            flow = leakage_flow_from("n50", leak, house)
            lived = lived_house(house, flow, exponent, site_from_settings(self._desk.job.site),
                                shielding=shelter)  # fmt: skip
            while len(self._kept) > 3:
                del self._kept[next(iter(self._kept))]
            self._kept[key] = side_by_side(lived, self._weather(weather))
        return self._kept[key]

    def _weather(self, key):
        """Return an open year, or the job's own table; that is read once."""
        if key != _OWN:
            return open_weather(key)
        if self._own is None:
            self._own = read_weather(self._desk.job.folder / _OWN)
        return self._own


def _dial(name, value, low, high, unit):
    """Return a dial in a unit people see, from SI."""
    return Dial(
        name, *(float(f"{from_si(one, unit):.2g}") for one in (value, low, high)), unit=unit
    )
