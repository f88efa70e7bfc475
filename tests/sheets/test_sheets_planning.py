"""Pages that plan the layer: days, hours, pull on film, materials; each of its own job."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from sheet_jobs import another, answered, day_job, demo, rough

from airlab.files.settings import freeze
from airlab.leak_check import Task
from airlab.sheets import job_pages

NOON = datetime(2027, 4, 12, 12, 0, tzinfo=UTC)
SCRIPT = "<script>alert(1)</script>"


def page(job, key, filled=False):
    return next(one for one in job_pages(job, filled, NOON) if one.key == key)


def words(one):
    return re.sub(r"\s+", " ", unescape(re.sub("<[^>]+>", " ", str(one.body))))


def test_materials_hold_every_joint_with_a_tenth_for_waste():
    """Length times 1.1 (10 % for waste, an assumption), added up by hand for the open joints."""
    job = another()
    one = page(job, "materials")
    for joint in job.junctions:
        assert joint.junction in words(one)
    sills = [joint for joint in job.junctions if joint.junction.startswith("sill")]
    total = 1.1 * sum(joint.length for joint in sills)
    assert dict(one.computed)["primer and elastic bead, open joints"] == f"{total:.3g} m"
    assert dict(one.computed)["of them open"] == str(len(job.junctions))


def test_materials_in_feet_on_a_us_page():
    """A foot is 0.3048 m (international agreement of 1959)."""
    metric, us = page(another(), "materials"), page(replace(another(), units="us"), "materials")
    key = "primer and elastic bead, open joints"
    metres = float(dict(metric.computed)[key].split()[0])
    feet, unit = dict(us.computed)[key].split()
    assert unit == "ft" and float(feet) == pytest.approx(metres / 0.3048, rel=5e-3)


def test_a_joint_of_unknown_faces_is_asked_about():
    job = demo()
    first = replace(job.junctions[0], layer_a="mystery", layer_b="mystery")
    one = page(replace(job, junctions=(first, *job.junctions[1:])), "materials")
    assert dict(one.computed)["joints to say more about"] == "1"
    assert "Say more about: " + first.junction in words(one)


def test_days_move_with_the_programme():
    """A sealing work that ends a week later, cured at once, moves the first day by seven days."""
    job = demo()
    later = tuple(
        replace(task, ends_on=task.ends_on + timedelta(days=7)) if not task.done and task.does == "sealing"
        else task for task in job.programme
    )  # fmt: skip
    before, after = page(job, "when"), page(replace(job, programme=later), "when")
    assert dict(before.computed)["earliest day"] == "Mon 12 Apr 2027"
    assert dict(after.computed)["earliest day"] == "Mon 19 Apr 2027"
    assert "No sensible day" in words(after) and before.body != after.body


def test_pull_on_film_adds_up():
    """50 N on each square metre of film."""
    job = demo()
    film = [
        a
        for a in job.envelope
        if "membrane" in a.layer and a.kind not in ("window", "door", "hatch")
    ]
    newton = 50.0 * sum(area.area_m2 for area in film)
    shown = dict(page(job, "when").computed)["pull of 50 Pa on film in sight"]
    assert float(shown.split()[0]) == pytest.approx(newton, rel=5e-3)


def test_prices_show_the_cheaper_choice():
    """Free check against a dear miss: the check must be the cheaper one."""
    prices = freeze({"check": 0.0, "open_up": 9000.0, "retest": 500.0, "currency": "crowns"})
    job = demo(prices=prices, confidence=0.99)
    assert (
        dict(page(job, "when").computed)["cheaper in the long run"] == "check before it is covered"
    )
    assert "9500 crowns" in words(page(job, "when"))
    assert "crowns" not in words(page(demo(), "when"))


def test_while_no_fan_may_run_there_are_days_and_no_hours():
    one = page(answered(demo(), combustion="don't know"), "when")
    assert "No fan, no flow, no go" in words(one) and "Mon 12 Apr 2027" in words(one)
    assert "The hours" not in words(one) and "<svg" not in str(one.body)


def test_without_programme_weather_or_joints_the_pages_are_left_out():
    keys = {one.key for one in job_pages(demo(programme=(), weather=(), junctions=()), False, NOON)}
    assert not {"when", "materials"} & keys
    assert not {"when", "materials"} & {one.key for one in job_pages(rough(), False, NOON)}


def test_what_people_typed_is_escaped():
    task = Task(SCRIPT, "covering", starts_on=NOON.date())
    job = replace(day_job(), programme=(*demo().programme, task), released_by=SCRIPT)
    text = str(page(job, "when").body)
    assert "<script" not in text and text.count("&lt;script&gt;") >= 2
