"""What the number at 50 Pa means through the year: air, heat, draught, moisture, fresh air.

Works on the open job: its sizes and the best that is known of its leakage. Five pages of one
panel; each gives a range, because no model knows a house.
"""

from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import APPLIANCES, leakage_flow_from, ventilation_needs
from airlab.building.combustion import appliance as burner
from airlab.building.site import site_from_settings
from airlab.files.weather_year import OWN_WEATHER, weather_choices, weather_of
from airlab.in_use import (
    COMPASS,
    FLUE_SHARE,
    LIVING_CAUTIONS,
    PUBLISHED_MOISTURE,
    SHELTERS,
    HeatFactors,
    Models,
    combustion_check,
    draught_at,
    four_ways,
    fresh_air,
    gap_moisture,
    keep_lived,
    lived_house,
    lived_settings,
    side_by_side,
    year_heat,
)
from airlab.leak_check.known_leakage import KnownLeakage, known_leakage
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice, short
from airlab.panels.desk import Desk
from airlab.plots.living import (
    HoursChart,
    YearChart,
    folded,
    gap_drawing,
    heat_tiles,
    hours_legend,
    models_table,
    near_tiles,
    need_tiles,
    suction_table,
    ways_table,
    year_legend,
)
from airlab.plots.sizes import notes_list
from airlab.words import InputError, ach, display_unit, from_si, show_range, to_si

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
_STANDS = ("front", "long", "appliance", "flue", "exponent")
_SEEN = {
    "air": (_ALWAYS, (*_STANDS, "bedrooms", "rule")),
    "heat": ((*_ALWAYS, "price"), ("carbon", "efficiency", "inside", "below", *_STANDS)),
    "near": (("pressure", "gap", "away", "inside_humidity"), ("cold", "depth")),
    "need": (
        ("leak", "weather", "bedrooms", "extract"),
        ("appliance", "output", "flue", "rule", "shelter", "front", "long", "exponent"),
    ),
    "ways": (
        ("leak", "leaky", "weather", "bedrooms"),
        ("rule", "vents", "recovery", "fan_power", "inside", "below", "shelter", *_STANDS),
    ),
}
# What the models take, as the dials hold it; said in the unit of the dial.
_LIMITS = {
    "leak": (0.05, 100.0), "leaky": (0.05, 100.0), "exponent": (0.5, 1.0), "long": (0.0, 1.0), "flue": (0.0, 0.9),
    "inside": (5.0, 35.0), "below": (-30.0, 35.0), "efficiency": (0.1, 10.0), "pressure": (0.1, 100.0),
    "gap": (1e-5, 0.1), "depth": (1e-3, 5.0), "away": (0.05, 20.0), "inside_humidity": (0.0, 1.0),
    "cold": (-40.0, 30.0), "output": (0.0, 45e3), "vents": (0.0, 1.0), "recovery": (0.0, 0.95), "fan_power": (0.0, 9.0),
}  # fmt: skip
_CAUTIONS = tuple(one.text for one in LIVING_CAUTIONS)
_RESTS = "What this rests on"
_KEEP = "Keep with the job"
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
        self._chart, self._hours, self._page, self._kept, self._own = (
            YearChart(),
            HoursChart(),
            None,
            {},
            None,
        )
        self._known = known_leakage(job)
        years = [(name, key) for key, name in weather_choices(job).items()]
        kept = job.site.get("weather")
        length, far, air, degrees, area, power, energy = (
            display_unit(one, job.units) for one in ("mm", "m", "L/s", "C", "cm2", "kW", "J")
        )
        mass = display_unit("kg", job.units)
        burners = [(one.name, one.key) for one in APPLIANCES]
        rules = [one.jurisdiction for one in self._needs(3)]
        held, prices = job.assumptions, job.prices
        beds = held.get("bedrooms")
        n50 = float(f"{ach(self._known.flow, self._known.house.internal_volume):.3g}")
        leaky = max(10.0, short(1.5 * n50, 2))
        house = lived_house(self._known.house, self._known.flow, site=site_from_settings(job.site),
                            **lived_settings(job))  # fmt: skip
        more = {
            "leak": Dial("Air changes at 50 Pa", n50, 0.2, 20.0, unit="1/h", log=True, digits=3),
            "weather": choice("Weather", years, kept if kept in dict(years).values() else None, as_list=True),
            "shelter": choice("Around it", SHELTERS, house.shielding, as_list=True),
            "front": choice("The front looks", [(name, 45.0 * at) for at, name in enumerate(COMPASS)],
                            45.0 * (round(house.front_faces / 45.0) % 8), as_list=True),
            "long": Dial("Wall leaks in front and back (a terrace: 100)", from_si(house.front_and_back, "%"),
                         0.0, 100.0, 1.0, unit="%"),
            "flue": Dial("Open flue, if any: share of all leaks", from_si(house.flue_share or FLUE_SHARE, "%"),
                         0.0, 60.0, 1.0, unit="%"),
            "exponent": Dial("Flow exponent n", self._known.flow_exponent, 0.5, 1.0, step=0.01),
            "price": widgets.FloatText(prices.get(f"heat_{energy.lower()}", 0.0), description=f"Price of a {energy} (0: none)", style=_AUTO),
            "carbon": widgets.FloatText(prices.get(f"heat_{energy.lower()}_co2_{mass}", 0.0), description=f"{mass} of CO₂ a {energy} (0: none)", style=_AUTO),
            "efficiency": Dial(f"Heat out of a {energy} bought", 1.0, 0.5, 5.0, step=0.05),
            "pressure": Dial("Pressure difference", 4.0, 0.5, 50.0, 0.5, unit="Pa"),
            "gap": _dial("Width of the gap", 0.001, 0.0001, 0.01, length),
            "away": _dial("You sit away from it", 2.0, 0.2, 5.0, far),
            "inside_humidity": Dial("Humidity inside", 50.0, 20.0, 80.0, 1.0, unit="%"),
            "cold": Dial("Cold surface", *((32.0, 0.0, 60.0) if job.units == "us" else (0.0, -20.0, 15.0)),
                         step=1.0, unit=degrees),
            "inside": _dial("Inside while heated", house.indoor_temperature, 15.0, 26.0, degrees, 0.5),
            "below": _dial("Heated while outside is below", house.heating_below, 5.0, 20.0, degrees, 0.5),
            "depth": _dial("Depth of the gap", 0.1, 0.01, 0.4, length),
            "bedrooms": widgets.BoundedIntText(beds if isinstance(beds, int) else 3, 0, 20,
                                               description="Bedrooms", style=_AUTO),
            "rule": choice("Fresh air as asked for in", rules, as_list=True),
            "extract": _dial("All extract fans together", 0.06, 0.0, 0.2, air),
            "appliance": choice("Burns air from the rooms", burners, as_list=True),
            "output": _dial("Its rated output", 0.0, 0.0, 30e3, power),
            "vents": _dial("Open vents in the natural ways", 0.0, 0.0, 0.1, area),
            "fan_power": Dial(f"Fans of heat recovery, for each {air}", 0.5 if air == "cfm" else 1.0, 0.0, 4.0, 0.1, unit="W"),
            "leaky": Dial("The leaky house, at 50 Pa", leaky, 1.0, max(30.0, leaky), unit="1/h", log=True),
            "recovery": Dial("Heat recovery keeps", 75.0, 0.0, 95.0, 1.0, unit="%"),
        }  # fmt: skip
        if held.get("fresh_air_rule") in rules:
            more["rule"].value = held["fresh_air_rule"]
        if held.get("appliance") in dict(burners).values():
            more["appliance"].value = held["appliance"]
        self._keep = self.button(_KEEP, self.keep)
        self._keeps = (widgets.HBox([self._keep]).add_class("airlab-buttons"),)
        super().__init__(view={"show": choice("Show", VIEWS)}, more=more, job=job.name,
                         units=job.units)  # fmt: skip

    def arrange(self, *extra):
        """Put the choice of the page first, then the controls of the page on show."""
        seen, folded = _SEEN[self.controls["show"].value]
        self._more_box.children = tuple(self.controls[name] for name in folded)
        self._side.children = (
            *self._in_sight, *(self.controls[name] for name in seen), *extra,
            self._more, self._more_box, *(self._keeps if "weather" in seen else ()), self._buttons,
        )  # fmt: skip

    def close(self):
        """Take the panel off the page."""
        self._desk.close()
        super().close()

    def keep(self):
        """Keep with the job: weather, how the house stands, bedrooms, rule, fire, price and CO₂."""
        now = self.settings
        energy, mass = (display_unit(one, self.units) for one in ("J", "kg"))
        heat = f"heat_{energy.lower()}"
        self._desk.save_settings(
            assumptions={"bedrooms": now["bedrooms"], "fresh_air_rule": now["rule"],
                         "appliance": now["appliance"]},
            site={"weather": now["weather"], **keep_lived(_stands(now))},
            prices={heat: now["price"] or None, f"{heat}_co2_{mass}": now["carbon"] or None},
        )  # fmt: skip
        self._keep.description = "Kept with the job"

    # what is shown ------------------------------------------------------------------------

    def compute(self, show, leak, weather, leaky, **asked):
        """Return the models side by side, and what the page on show asks for."""
        if show != self._page:
            self._page = show
            self.arrange()
        self._keep.description = _KEEP
        self._check(show)
        stands = weather, asked["exponent"], _stands(asked)
        years = self._side_by_side(leak, *stands)
        house, year = years.house, years.weather
        found = Living(self._known, years, self._asked_for(asked["bedrooms"], asked["rule"]))
        if show == "heat":
            factors = HeatFactors(asked["price"] or None, asked["carbon"] or None, asked["efficiency"],
                                  self.units)  # fmt: skip
            return found._replace(found=year_heat(years.flows, year.temperature, house.n50, factors,
                                                  house.indoor_temperature, house.heating_below))  # fmt: skip
        if show == "near":
            pressure, gap = asked["pressure"], asked["gap"]
            length, area = ("ft", "ft2") if self.units == "us" else ("m", "m2")
            return found._replace(
                found=draught_at(pressure, gap, asked["away"]),
                more=gap_moisture(to_si(1.0, length), gap, pressure, asked["depth"], house.indoor_temperature,
                                  asked["inside_humidity"], asked["cold"], area=to_si(1.0, area)),
            )  # fmt: skip
        if show == "need":
            return found._replace(
                found=fresh_air(years.flows, found.need.flow, years.engine.heating),
                more=combustion_check(asked["extract"], house, burner(asked["appliance"]), asked["output"], self.units),
            )  # fmt: skip
        if show == "ways":
            if leaky < leak:
                low, high = self.controls["leak"], self.controls["leaky"]
                raise InputError(f"The tight house leaks more at 50 Pa than the leaky one, {low.shown} beside {high.shown}. "
                                 f"Set '{high.name}' above {low.shown}.")  # fmt: skip
            other = self._side_by_side(leaky, *stands)
            return found._replace(
                found=four_ways(other.hourly, years.hourly, found.need.flow, recovery=asked["recovery"],
                                fan_power=from_si(asked["fan_power"], display_unit("L/s", self.units)), vent_area=asked["vents"])
            )  # fmt: skip
        return found

    def picture(self, record, show, **settings):
        """Return the page that is on show."""
        years, said = record.years, notes_list(record.years.weather.notes)
        rests = (
            f"Weather: {years.weather.whose}.",
            *years.house.assumed(self.units),
            *years.warnings,
        )
        if show == "air":
            need = ach(record.need.flow, years.house.volume)
            chart = self._chart.draw(years.engine, need=need).img(
                f"Air changes per hour through the leaks, day by day. {years.engine.sentence(self.units)}"
            )
            table = models_table(years.entries, years.heats, self.units)
            turned = years.turned.sentence(self.units)
            page = chart + year_legend(years.engine, need) + table + said
            return page + folded(_RESTS, (turned, *rests))
        if show == "heat":
            table = models_table(years.entries, years.heats, self.units, whole=True)
            page = heat_tiles(record.found, self.units) + table + said
            return page + folded(_RESTS, (*rests, *_CAUTIONS))
        if show == "near":
            drawn = gap_drawing(record.found, settings["gap"], self.units)
            told = (one.sentence(self.units) for one in PUBLISHED_MOISTURE)
            return (
                drawn
                + near_tiles(record.found, record.more, self.units)
                + folded("What has been published", told)
            )
        if show == "need":
            flow = display_unit("L/s", self.units)
            pair = (
                from_si(years.flows[:, years.engine.heating], flow),
                from_si(record.need.flow, flow),
            )
            chart = self._hours.draw(pair, unit=flow).img(
                f"Hours by their fresh air. {record.found.sentence(self.units)}"
            )
            both = f'<div class="airlab-need">{chart}<div>{suction_table(record.more)}</div></div>'
            told = (*record.more.said, *_CAUTIONS[:2])  # fresh air and soil gas
            extract = self.controls["extract"]
            if extract.value == self._starts["extract"]:
                told = (
                    f"{extract.shown} of extract is our assumption: set what your fans move.",
                    *told,
                )
            return (
                need_tiles(record.found, record.need, self.units) + both + hours_legend() + said + notes_list(told)
                + folded(_RESTS, (record.need.sentence(self.units), *rests, *_CAUTIONS[2:]))
            )  # fmt: skip
        rests = (*record.found.notes, *rests)
        table = ways_table(record.found, self.units, years.weather.span)
        return table + said + notes_list(_CAUTIONS) + folded(_RESTS, rests)

    def words(self, record, show, **settings):
        """Return the page in words."""
        if show == "air":
            return f"{self._whose(record)} {record.years.sentence(self.units)}"
        if show == "heat":
            return record.found.sentence(self.units)
        if show == "near":
            return f"{record.found.sentence(self.units)} {record.more.sentence(self.units)}"
        if show == "need":
            return f"{record.found.sentence(self.units)} {record.more.brief(self.units)}"
        return record.found.brief(self.units)

    # workings -----------------------------------------------------------------------------

    def _check(self, page):
        """Refuse what no model of the page takes, in the unit of the dial."""
        seen = {"leak", "inside", "below", *_STANDS, *_SEEN[page][0], *_SEEN[page][1]}
        for name in (one for one in _LIMITS if one in seen):
            dial, ends = self.controls[name], _LIMITS[name]
            if not ends[0] <= dial.value <= ends[1]:
                low, high = (
                    ends if dial.unit == "1/h" else (from_si(one, dial.unit) for one in ends)
                )
                raise InputError(
                    f"'{dial.name}' is {dial.shown}. It can be {show_range(low, high, dial.unit, digits=3)}."
                )

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

    def _side_by_side(self, leak, weather, exponent, stands):
        """Return the models side by side; the last few stay, so that turning a page costs nothing."""
        key = leak, weather, exponent, *stands.values()
        if key not in self._kept:
            house = self._known.house
            lived = lived_house(house, leakage_flow_from("n50", leak, house), exponent,
                                site_from_settings(self._desk.job.site), **stands)  # fmt: skip
            while len(self._kept) > 3:
                del self._kept[next(iter(self._kept))]
            self._kept[key] = side_by_side(lived, self._weather(weather))
        return self._kept[key]

    def _weather(self, key):
        """Return an open year, or the job's own table; that is read once."""
        if key != OWN_WEATHER:
            return weather_of(self._desk.job, key)
        if self._own is None:
            self._own = weather_of(self._desk.job, key)
        return self._own


def _stands(settings):
    """Return how the house stands and is lived in; no flue where nothing burns air from the rooms."""
    return {"shielding": settings["shelter"], "front_faces": settings["front"],
            "front_and_back": settings["long"],
            "flue_share": 0.0 if settings["appliance"] == "none" else settings["flue"],
            "indoor_temperature": settings["inside"], "heating_below": settings["below"]}  # fmt: skip


def _dial(name, value, low, high, unit, step=None):
    """Return a dial in a unit people see, from SI."""
    return Dial(
        name,
        *(float(f"{from_si(one, unit):.2g}") for one in (value, low, high)),
        unit=unit,
        step=step,
    )
