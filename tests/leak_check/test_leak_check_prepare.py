"""Hazards before the fan: which answers stop it."""

import pytest

from airlab.leak_check import hazard_verdict
from airlab.words import hazards

ALL_SAFE = {one.key: "safe" for one in hazards()}


@pytest.mark.parametrize("key", [one.key for one in hazards()])
def test_not_safe_stops_the_fan_whatever_the_hazard(key):
    verdict = hazard_verdict({**ALL_SAFE, key: "not safe"})
    assert not verdict.fan_may_run
    assert verdict.sentence().startswith("No fan, no flow, no go.")


@pytest.mark.parametrize("one", hazards(), ids=lambda one: one.key)
def test_dont_know_stops_the_fan_where_it_can_kill_or_tear_at_once(one):
    verdict = hazard_verdict({**ALL_SAFE, one.key: "don't know"})
    assert verdict.fan_may_run is not one.stops_fan
