"""The panel of the year: pages, whose number it is, own weather, bad input, US units."""

import pytest

from airlab.files import demo_job, start_job
from airlab.leak_check.known_leakage import known_leakage
from airlab.panels import LivingPanel
from airlab.panels.living import VIEWS
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
    with pytest.raises(InputError, match="leaks more at 50 Pa than the leaky one"):
        panel.set(leak=12.0)


def test_a_fire_is_named_with_its_rule_and_nothing_is_called_safe(panel):
    panel.set(show="need", appliance="solid")
    assert "no extract at all in its room" in panel.still() and "safe" not in panel.sentence


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
    assert "This is not a year" in panel.value.years.weather.sentence()


def test_us_units_all_through(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    from airlab.files import save_settings

    panel = LivingPanel(save_settings(start_job("Feet"), units="us"))
    for _, view in VIEWS:
        said = panel.set(show=view).sentence
        for metric in (" L/s", " m³/h", " m/s", "°C"):
            assert metric not in said, (view, said)


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
