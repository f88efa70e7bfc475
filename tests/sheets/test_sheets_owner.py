"""The owner's page: whose number, everyday air as a range, a draught, what the years do."""

import re

import pytest
from sheet_jobs import complete, day_job, demo

from airlab.building.site import site_from_settings
from airlab.files import open_weather, read_fan_tests, save_settings, save_table, start_job
from airlab.files.settings import freeze
from airlab.in_use import lived_house, side_by_side
from airlab.leak_check.known_leakage import known_leakage
from airlab.sheets.facts import facts_of
from airlab.sheets.first_last import owner_page
from airlab.words import from_si, m3_per_h, show, show_range


def page_of(job, filled=False):
    return owner_page(facts_of(job, filled))


def everyday(job, flow):
    facts = facts_of(job)
    house = lived_house(facts.plan.final, flow, facts.plan.assumptions["flow_exponent"],
                        site_from_settings(job.site))  # fmt: skip
    return side_by_side(house, open_weather()).rates


def test_it_is_the_target_until_something_is_read():
    page = page_of(demo())
    assert dict(page.computed)["leakage at 50 Pa, the target"] == "602 m³/h"
    assert "Nothing has been measured yet" in page.body and not page.filled


@pytest.mark.parametrize(("job", "filled", "flow"), [(demo(), False, 602.0),
                                                     (complete(day_job(515.0)), True, 515.0)])  # fmt: skip
def test_everyday_air_is_the_range_of_the_models_in_a_named_weather(job, filled, flow):
    page = page_of(job, filled)
    low, high = everyday(job, m3_per_h(flow))
    assert high > 1.5 * low
    said = dict(page.computed)["air changes an hour in everyday weather"]
    assert said == show_range(low, high) and f"say {said} air changes" in page.body
    assert f"once in {show_range(1.0 / high, 1.0 / low)} hours" in page.body
    assert "New York, JFK airport, 2013" in page.body
    assert "Another place, another figure." in page.body


def windy(folder, warm=False):
    """Write a table of weather of one's own, ten days of it."""
    rows = "\n".join(
        f"2024-02-{1 + h // 24:02d}T{h % 24:02d}:00,{25 if warm else 2},8,200" for h in range(240)
    )
    (folder / "weather_year.csv").write_text(
        f"time,temp_c,wind_m_s,wind_from\n{rows}\n", encoding="utf-8"
    )


def test_the_weather_is_the_one_chosen_for_the_job_and_named(tmp_path, monkeypatch):
    body = page_of(demo(site=freeze({"weather": "greensboro_typical"}))).body
    assert "chosen for this house: Greensboro, a typical year: 8760 hours" in body
    assert "New York" not in body and "borrowed: New York" in page_of(demo()).body
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    tests, points = (table.rows for table in read_fan_tests())
    job = save_table(save_table(start_job("Windy"), "fan_tests", tests), "fan_test_points", points)
    calm = dict(page_of(job, True).computed)["air changes an hour in everyday weather"]
    windy(job.folder)
    page = page_of(job, True)
    assert "own table weather_year.csv: 240 hours from 2024-02-01 to 2024-02-10" in page.body
    said = dict(page.computed)["air changes an hour in everyday weather"]
    assert float(said.split(" to ")[1]) > 1.2 * float(calm.split(" to ")[1])
    job = save_settings(job, site={"weather": "weather_year.csv"})
    (job.folder / "weather_year.csv").unlink()
    body = page_of(job, True).body
    assert "was not reckoned. weather_year.csv is not there." in body and "borrowed" not in body


def test_how_the_house_stands_its_flue_price_and_fresh_air_come_from_the_job():
    plain = page_of(demo()).body
    assert "the front to the south, no open flue" in plain and "asks for" not in plain
    site = {
        "front_faces_deg": 90.0,
        "front_and_back": 1.0,
        "shelter": "nothing near",
        "flue_share": 0.2,
    }
    told = demo(site=freeze(site), prices=freeze({"heat_kwh": 0.5}),
                assumptions=freeze({"bedrooms": 4, "fresh_air_rule": "Norway"}))  # fmt: skip
    body = page_of(told).body
    assert "nothing near, the front to the east, an open flue of 20 % of all leaks" in body
    low, high = map(float, re.search(r"carry off (\d+) to (\d+) kWh", body).groups())
    cost = map(float, re.search(r"that is (\d+) to (\d+) in your money", body).groups())
    assert list(cost) == pytest.approx([0.5 * low, 0.5 * high], rel=0.05)
    assert "Norway, TEK17 13-2 (read), asks for" in body and "with 4 bedrooms" in body
    short = re.search(r"too little in (\d+) to (\d+) of (\d+) hours", body).groups()
    assert 0 < int(short[0]) < int(short[1]) <= int(short[2]) == 4932


def test_a_reading_says_that_the_build_goes_on():
    body = page_of(complete(day_job(515.0)), True).body
    assert "This is the last reading, before the end of the build." in body
    assert "the Belgian mean would be 639 m³/h, the span of single houses 309 to 3500 m³/h" in body


def test_a_fan_test_comes_before_a_reading(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    tests, points = (table.rows for table in read_fan_tests())
    job = save_table(save_table(start_job("Tested"), "fan_tests", tests), "fan_test_points", points)
    page = page_of(job, True)
    known = known_leakage(job)
    assert dict(page.computed)["leakage at 50 Pa, the fan test 'final'"] == show(
        from_si(known.flow, "m3/h"), "m3/h"
    )
    assert page.filled and "reading" not in page.computed[0][0]


def test_a_house_no_model_takes_has_no_everyday_air_but_a_page():
    page = page_of(demo(target=freeze({"metric": "n50", "value": 150.0})))
    assert "On an ordinary day" not in page.body
    assert "do not drill" in page.body


def test_us_units():
    body = page_of(demo(units="us")).body
    text = re.sub(r"<table.*?</table>", "", body, flags=re.S)
    assert "20 mph" in text and "354 cfm" in text and "m/s" not in text and "therms of heat" in text
    row = re.search(r"England.*?</tr>", body, flags=re.S)[0]
    assert (
        "8 m³/(h·m²) of envelope at 50 Pa, 0.437 cfm/ft²" in row and "0.109 cfm/ft², inside" in row
    )
