"""Drift and budget beside each other: the same reading, two ways to the chance."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from airlab.files import demo_job
from airlab.leak_check import Reading, decide, make_plan
from airlab.leak_check.from_budget import second_opinion
from airlab.words import InputError, m3_per_h

NOON = datetime(2027, 4, 15, 12, tzinfo=UTC)


def read(flow):
    return (Reading("1", 50.0, m3_per_h(flow), "depressurise", NOON),)


def closed(job):
    return replace(job, junctions=tuple(replace(one, closed=True) for one in job.junctions))


def test_closing_a_lift_moves_flow_route_and_budget_of_one_job():
    from airlab.design import make_budget

    job = demo_job()
    before, after = make_plan(job), make_plan(closed(job))
    assert after.expected.high < before.expected.high
    assert before.route.stops != after.route.stops
    chance = make_budget(closed(job), 10_000).chance_limit - make_budget(job, 10_000).chance_limit
    assert chance > 0.15


def test_a_lower_reading_is_better_by_both():
    job = closed(demo_job())
    job = replace(
        job,
        envelope=tuple(replace(one, status="complete and visible") for one in job.envelope),
        openings=tuple(replace(one, hides_leak=False) for one in job.openings),
    )
    found = []
    for flow in (400, 650, 900):
        now = replace(job, readings=read(flow))
        found.append(second_opinion(now, decide(now), 20_000))
    assert [one.by_drift for one in found] == sorted((o.by_drift for o in found), reverse=True)
    assert [one.by_budget for one in found] == sorted((o.by_budget for o in found), reverse=True)
    assert found[0].by_budget > 0.95 and found[2].by_budget < 0.5
    assert "by the budget taught by the reading" in found[0].sentence()


def test_a_reading_far_off_gives_the_budget_no_say():
    job = replace(closed(demo_job()), readings=read(20_000))
    release = decide(job)
    assert release.number is not None
    assert "has no say" in second_opinion(job, release, 20_000).sentence()


def test_nothing_without_budget_or_number():
    job = replace(demo_job(), readings=read(600))
    assert second_opinion(replace(job, budget=()), decide(job)) is None
    assert second_opinion(demo_job(), decide(demo_job())) is None
    with pytest.raises(InputError, match="beside a decision"):
        second_opinion(job, None)
