"""The owner's page: whose number, everyday air as a range, a draught, what the years do."""

import re

import pytest
from sheet_jobs import complete, day_job, demo

from airlab.building.site import site_from_settings
from airlab.files import open_weather, read_fan_tests, save_table, start_job
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
    assert "20 mph" in text and "354 cfm" in text and "m/s" not in text
