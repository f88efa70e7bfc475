"""Foreseen against found, line by line."""

import pytest

from airlab.design import budget_entries
from airlab.files import demo_job
from airlab.leak_check import Log
from airlab.leak_check.lessons import job_lessons
from airlab.words import m3_per_h


def lessons(log):
    job = demo_job()
    return job_lessons(job.budget, job.rooms, job.envelope, job.junctions, log)


def line(found, name):
    return next(one for one in found.lines if one.name == name)


def test_foreseen_shares_are_those_of_the_budget_in_place():
    """Sums made here from the entries; open lifts count with their line."""
    job, found = demo_job(), lessons(Log())
    entries, _ = budget_entries(job.budget, job.rooms, job.envelope, job.junctions)
    total = sum(one.middle * one.now for one in entries)
    assert found.foreseen_flow == pytest.approx(total)
    assert sum(one.foreseen for one in found.lines) == pytest.approx(1.0)
    joint = sum(one.middle for one in entries if one.name.startswith("floor edge joint"))
    assert line(found, "floor edge joint").foreseen == pytest.approx(joint / total)
    assert not any(one.name.startswith("holes of") for one in found.lines), "not built yet"
    assert "No leak is in the log" in found.sentence()


def test_leaks_go_to_the_line_their_place_speaks_of():
    places = ("soil pipe", "sill corner", "loft hatch", "terrace door", "eaves", "letter plate")
    log = Log()
    for place in places:
        log = log.found(place=place, room="Hall", strength=3)
    log = log.found(place="sill", room="Hall").not_a_leak(7, note="a shadow")
    found = lessons(log)
    held = {one.name: one.leaks for one in found.lines if one.leaks}
    assert held == {
        "soil pipe": (1,), "sill joint": (2,), "loft hatch": (3,), "door frames": (4,),
        "eaves joint": (5,),
    }  # fmt: skip
    assert found.nowhere == (6,) and not found.by_flow
    assert line(found, "soil pipe").found == pytest.approx(1 / 6)
    assert line(found, "soil pipe").strong == 1


def test_with_a_size_for_each_leak_shares_are_of_flows_and_a_pattern_is_asked_about():
    log = Log()
    for place, flow in (("eaves south", 30), ("eaves west", 20), ("sill", 50)):
        log = log.found(place=place, flow=m3_per_h(flow))
    found = lessons(log)
    assert found.by_flow
    assert line(found, "eaves joint").found == pytest.approx(0.5)
    assert "change the detail" in line(found, "eaves joint").hint
    assert line(found, "sill joint").hint == "", "one leak is no pattern"
    assert "was it looked at" in line(found, "floor edge joint").hint
    assert "Eaves joint: " in found.sentence()
