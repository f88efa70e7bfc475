"""The panel of the year: pages, whose number it is, own weather, bad input, US units."""

import re
from dataclasses import replace

import numpy as np
import pytest

from airlab.files import demo_job, open_job, start_job
from airlab.leak_check.known_leakage import known_leakage
from airlab.panels import LivingPanel
from airlab.panels.living import _LIMITS, _SEEN, VIEWS
from airlab.plots.living import YearChart, daily_rate, year_legend
from airlab.words import InputError, m3_per_h, show


@pytest.fixture(scope="module")
def panel():
    return LivingPanel(demo_job())


@pytest.fixture(autouse=True)
def start(panel):
    panel.reset()


@pytest.mark.parametrize("view", [key for _, key in VIEWS])
def test_each_page_has_a_picture_and_a_sentence_of_its_own(panel, view):
    first = panel.sentence
    panel.set(show=view)
    assert panel.message == "" and panel.sentence.endswith(".")
    assert (panel.sentence == first) == (view == "air")
    in_sight = [one for one in panel._side.children if one in panel.controls.values()]
    assert len(in_sight) <= 5


def test_it_says_whose_number_it_is_until_the_number_is_moved(panel):
    assert panel.sentence.startswith(
        "602 m³/h at 50 Pa, the target. Nothing has been measured yet."
    )
    assert "the target" not in panel.set(leak=5.0).sentence


def test_twice_the_leakage_takes_twice_the_heat(panel):
    one = panel.set(show="heat", leak=2.0).value.found.energy
    two = panel.set(leak=4.0).value.found.energy
    assert two == pytest.approx([2.0 * energy for energy in one], rel=1e-6)


def test_shelter_lowers_the_air_and_a_page_turned_costs_nothing(panel):
    open_land = panel.set(shelter="nothing near").value.years
    hidden = panel.set(shelter="wall to wall").value.years
    assert hidden.engine.mean_while_heating < open_land.engine.mean_while_heating
    assert panel.set(shelter="nothing near", show="heat").value.years is open_land


def test_the_four_ways_are_read_with_their_hours_short(panel):
    said = panel.set(show="ways").sentence
    assert "never short of fresh air" in said and said.endswith(
        "less heat with less air is no gain."
    )
    with pytest.raises(
        InputError,
        match=r"leaks more at 50 Pa than the leaky one.*Set 'The leaky house, at 50 Pa' above 12",
    ):
        panel.set(leak=12.0)


def test_a_dial_out_of_its_limits_is_refused_in_its_own_unit(panel):
    for view, name, shown, said in (
        ("ways", "recovery", 120.0, "'Heat recovery keeps' is 120 %. It can be 0 to 95 %."),
        ("ways", "fan_power", 500.0, "It can be 0 to 9 W."),
        ("ways", "vents", 20000.0, "It can be 0 to 10000 cm²."),
        ("near", "inside_humidity", 120.0, "'Humidity inside' is 120 %. It can be 0 to 100 %."),
        ("near", "gap", 200.0, "'Width of the gap' is 200 mm. It can be 0.01 to 100 mm."),
        ("air", "leak", 0.0, "'Air changes at 50 Pa' is 0 /h. It can be 0.05 to 100 /h."),
    ):
        panel.reset()
        panel.set(show=view)
        panel.controls[name].box.value = shown
        assert said in panel.message.replace("\N{NO-BREAK SPACE}", " "), panel.message
    panel.reset()


def test_the_models_take_what_the_limits_of_the_dials_allow(panel):
    pages = {name: view for view, parts in _SEEN.items() for name in (*parts[0], *parts[1])}
    for name, ends in _LIMITS.items():
        if name in (
            "leaky",
            "below",
        ):  # the other house; nothing heated: refused for what they mean
            ends = ends[1:]
        page = "air" if name == "leak" else pages[name]
        for end in ends:
            assert panel.set(show=page, **{name: end}).message == "", (name, end)
        panel.reset()


def test_extract_is_called_an_assumption_until_it_is_set_and_no_fan_pulls_a_house_down(panel):
    assert "60 L/s of extract is our assumption" in panel.set(show="need").still()
    assert "is our assumption" not in panel.set(extract=0.05).still()
    for flow, said in (
        (5.0, "5000 L/s of extract would pull 9"),
        (0.99, "or a house taken too tight"),
    ):
        with pytest.raises(InputError, match=said):
            panel.set(extract=flow)


def test_the_leaky_house_starts_leakier_than_the_house_on_show(monkeypatch):
    from airlab.panels import living

    known = known_leakage(demo_job())
    monkeypatch.setattr(living, "known_leakage", lambda job: replace(known, flow=10.0 * known.flow))
    panel = LivingPanel(demo_job())
    assert panel.settings["leaky"] == pytest.approx(1.5 * panel.settings["leak"], rel=0.05)
    assert panel.set(show="ways").message == ""


def test_a_fire_is_named_with_its_rule_and_nothing_is_called_safe(panel):
    panel.set(show="need", appliance="solid")
    assert "It falls short in every one of 4932 hours." in panel.sentence
    assert "no extract at all in its room" in panel.still() and "safe" not in panel.sentence


def test_a_flue_counts_only_where_something_burns_air_from_the_rooms(panel):
    plain = panel.value.years
    assert panel.set(flue=0.4).value.years is plain and "No open flue is counted" in panel.still()
    flued = panel.set(appliance="gas").value.years
    assert (
        flued.house.flue_share == 0.4
        and "counts as 40\N{NO-BREAK SPACE}% of all leaks (assumption" in panel.still()
    )
    assert flued.engine.mean_while_heating > 1.02 * plain.engine.mean_while_heating
    assert "This model does not know of the flue" in panel.still()


def test_the_front_is_turned_and_what_that_does_is_said(panel):
    south = panel.set(long=1.0).value.years.engine.mean_while_heating
    assert "the front to the south" in panel.still() and "Turned all round" in panel.still()
    east = panel.set(front=90.0).value.years.engine.mean_while_heating
    assert abs(east / south - 1.0) > 0.01 and "the front to the east" in panel.still()


def test_whose_hours_how_warm_and_what_is_from_memory_stand_on_every_page_of_the_year(panel):
    for view in ("air", "heat", "need", "ways"):
        page = panel.set(show=view).still()
        assert "New York, JFK airport, 2013: 8730 hours from 2013-01-01 to 2013-12-30" in page
        assert "20 °C inside; the heating runs while it is below 15 °C outside (assumption" in page
        assert "from memory" in page
    warm = panel.set(show="heat", inside=23.0).value.found.energy
    assert warm[0] > 1.2 * panel.set(inside=20.0).value.found.energy[0]


def test_the_hours_of_the_chart_are_the_hours_short(panel):
    record = panel.set(show="need", leak=9.0).value
    chart, need = panel._hours, record.need.flow * 1000.0
    assert chart.need.get_ydata()[0] == pytest.approx(need)
    for line, short in zip(chart.ends, record.found.hours_short):
        assert int((line.get_ydata() < need).sum()) == pytest.approx(
            short, abs=0.02 * record.found.hours
        )
    assert 0 < record.found.hours_short[0] < record.found.hours_short[1] < record.found.hours


def test_openings_for_a_fire_and_vents_of_the_natural_ways(panel):
    panel.set(show="need", appliance="oil jet", output=11e3)
    assert "a permanent opening of 6050 mm²" in panel.still()
    assert "none is given. Ask a licensed gas engineer" in panel.set(appliance="gas").still()
    assert panel.set(appliance="none", extract=0.0).sentence.endswith("lower or higher.")
    shut = panel.set(show="ways").value.found.ways[1].air.mean[0]
    assert "no open vents" in panel.still()
    assert panel.set(vents=0.03).value.found.ways[1].air.mean[0] > 2.0 * shut


def test_price_and_carbon_only_where_the_user_gives_them(panel):
    assert "your factors" not in panel.set(show="heat").sentence
    assert "in your money" in panel.set(price=0.3).sentence


def test_a_weather_of_ones_own_stands_first(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    job = start_job("Windy")
    rows = "\n".join(
        f"2024-01-{1 + h // 24:02d}T{h % 24:02d}:00,{h % 10},{3 + h % 5}" for h in range(240)
    )
    (job.folder / "weather_year.csv").write_text(
        f"time,temp_c,wind_m_s\n{rows}\n", encoding="utf-8"
    )
    panel = LivingPanel(job)
    assert panel.value.years.weather.hours == 240
    for view in ("air", "heat", "need", "ways"):
        assert "This is not a year: sums are over these hours only." in panel.set(show=view).still()
    assert "Heat and fresh air of 240 hours from 2024-01-01 to 2024-01-10" in panel.still()


@pytest.fixture
def own(tmp_path, monkeypatch):
    """A panel of a job of one's own with a table of weather, given its temperatures and more columns."""
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))

    def made(temperature, head="", more=lambda hour: ""):
        job = start_job("Own")
        rows = [
            f"{np.datetime64('2023-01-01T00') + hour}:00,{temperature(hour):.1f}{more(hour)}"
            for hour in range(0, 8760)
        ]
        table = "\n".join([f"time,temp_c{head}", *rows])
        (job.folder / "weather_year.csv").write_text(table, encoding="utf-8")
        return LivingPanel(job)

    return made


def test_a_year_from_the_south_is_heated_in_its_own_winter(own):
    panel = own(lambda hour: 12.0 + 9.0 * np.cos(2.0 * np.pi * hour / 8760),
                ",wind_m_s", lambda hour: f",{3 + hour % 4}")  # fmt: skip
    year = panel.value.years
    assert year.weather.hemisphere == "south" and panel.message == ""
    months = year.weather.at[year.engine.heating].astype("datetime64[M]").astype(int) % 12 + 1
    assert {6, 7, 8} <= set(months.tolist()) and not {1, 2, 12} & set(months.tolist())


def test_a_table_without_wind_says_what_is_missing_on_the_page(own):
    panel = own(lambda hour: 8.0 - 10.0 * np.cos(2.0 * np.pi * hour / 8760))
    for view in ("ways", "need", "heat", "air"):
        page = panel.set(show=view).still()
        assert "There is no wind in it: only warm air drives the leaks" in page, view
    windy = panel.value.years.engine.mean_while_heating
    assert panel.set(weather="new_york_jfk_2013").value.years.engine.mean_while_heating > windy


def test_a_table_without_temperatures_is_refused_in_words(own):
    panel = own(lambda hour: np.nan)
    assert panel.message == "There is no temperature in it." and panel.value is None


def test_own_figures_are_kept_with_the_job(own):
    panel = own(lambda hour: 5.0, ",wind_m_s", lambda hour: ",4")
    stands = {"weather": "greensboro_typical", "shelter": "nothing near", "front": 90.0, "long": 1.0,
              "appliance": "solid", "flue": 0.3, "inside": 22.0, "below": 12.0}  # fmt: skip
    panel.set(bedrooms=5, rule="Norway", price=0.3, **stands)
    panel.keep()
    assert panel._keep.description == "Kept with the job"
    again = LivingPanel(open_job(panel._desk.job.folder))
    assert {key: again.settings[key] for key in stands} == stands
    assert again.value.years.house == panel.value.years.house
    again.set(appliance="none")
    assert again._keep.description == "Keep with the job"
    again.keep()
    assert LivingPanel(open_job(panel._desk.job.folder)).value.years.house.flue_share == 0.0
    assert (again.settings["bedrooms"], again.settings["rule"], again.settings["price"]) == (
        5, "Norway", 0.3,
    )  # fmt: skip
    assert again.settings["carbon"] == 0.0 and again.value.need.jurisdiction == "Norway"


def test_the_demo_keeps_nothing(panel):
    with pytest.raises(InputError):
        panel.keep()


def test_every_published_need_can_be_chosen(panel):
    asked = {rule: panel.set(show="need", rule=rule).value.need.flow
             for rule in panel.controls["rule"].options}  # fmt: skip
    assert len(asked) >= 6 and len(set(asked.values())) >= 5
    assert asked["Norway"] > asked["USA"]


def test_us_units_all_through(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    from airlab.files import save_settings

    panel = LivingPanel(save_settings(start_job("Feet"), units="us"))
    for _, view in VIEWS:
        panel.set(show=view, price=1.0, carbon=11.7)
        said = re.sub(r"<details.*?</details>|<img[^>]*>", "", panel.still(), flags=re.S)
        metric = re.search(r"\d\s(L/s|m³|m²|m/s|°C|kWh|W|g|mm|m|kg|kW)(?!\w)", said)
        assert metric is None and "[kWh]" not in said, (view, metric)
    panel.set(show="heat").keep()
    prices = panel._desk.job.prices
    assert (prices["heat_therm"], prices["heat_therm_co2_lb"]) == (1.0, 11.7)


def test_the_chart_shows_whole_days_and_its_lines():
    year = LivingPanel(demo_job()).value.years.engine
    days = daily_rate(year)
    assert len(days) == year.weather.hours // 24
    assert days[3] == pytest.approx(year.air_change_rate[72:96].mean())
    chart = YearChart().draw(year, need=0.4)
    assert chart.need.get_ydata()[0] == 0.4
    assert chart.rule.get_ydata()[0] == pytest.approx(year.house.n50 / 20.0)
    legend = year_legend(year, 0.4)
    for rate in (year.mean_while_heating, 0.4, year.house.n50 / 20.0):
        assert show(rate, digits=2) in legend


def test_known_leakage_prefers_a_test_to_a_target(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    from airlab.files import read_fan_tests, save_table

    job = start_job("Tested")
    assert not known_leakage(job).measured
    tests, points = (table.rows for table in read_fan_tests())
    job = save_table(save_table(job, "fan_tests", tests), "fan_test_points", points)
    known = known_leakage(job)
    assert known.measured and "fan test 'final'" in known.sentence()
    assert known.flow > m3_per_h(100)
