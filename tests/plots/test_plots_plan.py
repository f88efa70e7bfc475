"""Pictures of a plan: the layer by room, the fan against the house, lists that escape."""

import re
from dataclasses import replace

import numpy as np
import pytest

from airlab.files import demo_job
from airlab.leak_check import make_plan
from airlab.leak_check.outlook import assumed_in, outlook
from airlab.plots.fan_chart import FanChart
from airlab.plots.layer_map import STATES_IN_WORDS, layer_map
from airlab.plots.plan_parts import (
    advice_list,
    assumption_list,
    plan_tiles,
    route_list,
    schedule_table,
)

PER_HOUR = 3600.0  # seconds in an hour: m3/s to m3/h


@pytest.fixture(scope="module")
def job():
    return demo_job()


@pytest.fixture(scope="module")
def plan(job):
    return make_plan(job)


def _widths(svg):
    """Width of each area's block by its title."""
    found = {}
    for group in re.findall(r"<g><title>(.*?)</title>(.*?)</g>", svg):
        found[group[0].rsplit(": ", 1)[0]] = float(re.search(r'width="([\d.]+)"', group[1])[1])
    return found


def test_blocks_are_as_wide_as_areas_are_large(job, plan):
    widths = _widths(layer_map(plan.areas, job.rooms))
    assert set(widths) == {area.area for area in plan.areas}
    scale = {
        area.area: (widths[area.area] + 2.0) / area.area_m2
        for area in plan.areas
        if area.area_m2 > 5.0
    }
    assert max(scale.values()) / min(scale.values()) < 1.03


def test_the_name_counts_states_and_what_is_held(job, plan):
    svg = layer_map(plan.areas, job.rooms, held=["ceiling bathroom"], units="us")
    name = re.search(r'aria-label="([^"]+)"', svg)[1]
    assert name == (
        "State of the layer: 2 open laps, 36 complete and visible and 1 covered of 39 areas, "
        "1 not to be covered yet."
    )
    assert "ft²" in svg and "m²" not in svg
    assert " id=" not in svg


def test_each_state_looks_different_without_colour(plan):
    looks = set()
    for status in STATES_IN_WORDS:
        svg = layer_map([replace(plan.areas[0], status=status)])
        looks.add(re.sub(r"<title>.*?</title>|(fill|stroke|aria-label)=\"[^\"]*\"", "", svg))
    assert len(looks) == len(STATES_IN_WORDS)


def test_areas_of_unknown_rooms_and_hostile_names_are_drawn_and_escaped(plan):
    odd = replace(plan.areas[0], area="<b>x", element="<i>wall of a very long name", room="Attic <")
    svg = layer_map([odd, *plan.areas[1:3]], ())
    assert "Attic &lt;" in svg and "&lt;b&gt;x: complete" in svg
    assert "<b>" not in svg and "<i>" not in svg


def test_the_chart_draws_fan_house_and_aim_where_they_are(plan):
    chart = FanChart().draw(plan)
    x, y = chart.fan.get_data()
    assert np.interp(50.0, x, y) == pytest.approx(1320.0)
    x, y = chart.high.get_data()
    assert y[-1] == pytest.approx(plan.expected.high * PER_HOUR * (x[-1] / 50.0) ** 0.65, rel=1e-9)
    assert chart.aim.get_xydata()[0] == pytest.approx([50.0, plan.expected.pass_flow * PER_HOUR])
    for at, flow in chart.crossings.get_xydata():
        assert np.interp(at, *chart.fan.get_data()) == pytest.approx(flow, rel=1e-3)


def test_the_chart_shows_a_house_without_a_fan_and_hides_an_aim_that_is_not_there(job):
    chart = FanChart()
    bare = (replace(job.envelope[0], status="not started"), *job.envelope[1:])
    settings = {key: value for key, value in job.settings.items() if key != "fan"}
    chart.draw(make_plan(job, envelope=bare, settings=settings), units="us")
    assert not chart.aim.get_visible() and not chart.fan.get_visible()
    assert chart.axes.get_title(loc="left") == "Flow [cfm]"
    assert chart.draw(make_plan(job)).aim.get_visible()


def test_the_figures_say_what_no_fan_means(job, plan):
    shown = plan_tiles(plan, outlook(job, plan))
    assert "667 to 2410 m³/h" in shown and "6 of 17" in shown
    stopped = make_plan(job, settings=job.settings | {"hazards": {}})
    shown = plan_tiles(stopped, outlook(job, stopped, settings=job.settings | {"hazards": {}}))
    assert shown.count("no flow") == 2 and "no fan" in shown and "m³/h" not in shown


def test_every_stop_is_listed_once_with_its_number(plan):
    html = route_list(plan.route.stops)
    numbers = [int(n) for n in re.findall(r'<li value="(\d+)"', html)]
    assert numbers == [stop.number for stop in plan.route.stops]
    assert html.count("<ol>") == html.count("</ol>") and 'tabindex="0" role="region"' in html
    assert route_list(()).count("<li") == 0


def test_what_people_typed_is_escaped_in_lists(job):
    openings = tuple(replace(one, name=f"<script>{one.name}") for one in job.openings)
    odd = make_plan(job, openings=openings)
    for html in (schedule_table(odd.preparation), route_list(odd.route.stops), advice_list(odd)):
        assert "<script>" not in html
    fan = {"name": "<script>", "points": [[0, 500], [60, 0]]}
    assert "<script>" not in advice_list(make_plan(job, settings=job.settings | {"fan": fan}))


def test_the_flow_of_a_whole_leaf_is_not_shown_as_a_leak(plan):
    html = schedule_table(plan.preparation, chosen="soil pipe")
    assert "42200" not in html and "161 m³/h" in html
    assert html.count("aria-current=true") == 1
    assert "10 closed, 6 sealed and 1 as found." in html


def test_assumptions_are_listed_with_whose_they_are(plan):
    changed = plan.assumptions.changed(bad_day_high=4.0)
    html = assumption_list(changed, assumed_in(plan), chosen="bad_day_high")
    assert html.count("<li") == len(assumed_in(plan))
    assert "4, yours" in html and "1, ours" in html and html.count("aria-current") == 1
