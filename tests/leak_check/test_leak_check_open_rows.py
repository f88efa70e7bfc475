"""Each open row settled by itself; what covering now and one more round cost."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import Junction
from airlab.leak_check import Hole, Log, Opening, Trade, decide
from airlab.leak_check.leak import SETTLED
from airlab.leak_check.open_rows import decision_costs, open_rows
from airlab.words import InputError

PRICES = {"round": 400, "open_up": 3000, "retest": 200}


def test_each_kind_of_row(house):
    house.leaks = Log().found(4, area="attic wall")
    house.junctions = (*house.junctions, Junction("sill", "wall", "floor"))
    house.envelope = tuple(
        replace(a, status="open laps") if a.area == "attic roof" else a for a in house.envelope
    )
    house.openings = (*house.openings, Opening("fan duct", "duct", "Parlour", "sealed", height="mid",
                                               hides_leak=True, free_area=0.01))  # fmt: skip
    house.holes = (Hole("h1", area="parlour window", diameter=0.02),)
    house.trades = (Trade("electrician", "", None, 20, 0.05, 0.1, True),)
    found = open_rows(house)
    rows = {row.kind: row for row in found.rows}
    assert set(rows) == {"leak", "joint", "area", "seal", "hole", "trade"}
    assert rows["leak"].frees == ("attic wall",)
    assert rows["area"].frees == ("attic roof",)
    assert rows["hole"].frees == ("parlour window",) and rows["hole"].moves > 0
    assert rows["joint"].frees == ("parlour floor",)  # the wall is also held by the seal
    assert rows["seal"].frees == () and rows["seal"].moves > 0
    assert rows["trade"].moves > 0 and rows["trade"].frees == ()
    assert found.verdict == "NOT YET"
    assert found.together == "GO WITH CONDITIONS"  # the seals for the day still come off
    assert found.probability_together > found.probability
    assert "All settled: GO WITH CONDITIONS" in found.sentence()


def test_settling_is_the_decision_itself(house):
    """What the row says must be what the decision says once the row is really settled."""
    house.leaks = Log().found(1, area="attic wall", room="Attic room")
    row = open_rows(house).rows[0]
    done = decide(house, leaks=house.leaks.sealed(1, "tape").rechecked(1))
    assert (row.after, row.verdict) == (done.probability, done.verdict)


def test_nothing_open(house):
    assert open_rows(house).rows == ()
    assert open_rows(house).sentence().startswith("No row is open.")


def test_without_a_reading_rows_still_free_areas(house):
    house.leaks = Log().found(1, area="attic wall")
    found = open_rows(house, readings=())
    assert found.probability is None and found.rows[0].frees == ("attic wall",)
    assert "frees attic wall" in found.sentence()


ACTS = st.lists(
    st.tuples(st.integers(1, 3), st.sampled_from(["found", "sealed", "rechecked", "accepted",
                                                  "reopened", "intentional", "unreachable"]),
              st.sampled_from(["attic wall", "parlour wall", ""])), max_size=12)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(ACTS, st.lists(st.tuples(st.booleans(), st.booleans()), max_size=2))
def test_the_hold_point_lets_nothing_past_that_is_open(acts, drilled):
    """Whatever was done, in whatever order: an area with an open row or an unseen hole waits."""
    from small_house import make_house

    house, log = make_house(), Log()
    for number, did, area in acts:
        try:
            log = log.act(number, did, note="why", material="tape", area=area)
        except InputError:
            continue
    house.leaks = log
    house.holes = tuple(
        Hole(f"h{i}", area="attic roof", diameter=0.02, sealed_with="tape" if sealed else "",
             checked=seen)
        for i, (sealed, seen) in enumerate(drilled)
    )  # fmt: skip
    found = decide(house, weigh=False)
    held = {one.area for one in found.areas if one.verdict == "NOT YET"}
    for leak in log.leaks:
        if leak.state not in SETTLED:
            named = {a.area for a in house.envelope if a.area == leak.area}
            assert held & named or (not named and held)
    if any(not (sealed and seen) for sealed, seen in drilled):
        assert "attic roof" in held
    blocked = bool(log.blocking) or any(not (s and c) for s, c in drilled)
    assert (found.verdict == "GO") <= (not blocked)
    for row in open_rows(house).rows:
        assert set(row.frees) <= held


def test_costs_of_the_decision(house):
    house.settings["limit"]["value"] = 1.1
    made = decide(house, weigh=False)
    costs = decision_costs(made, PRICES)
    assert {one.name for one in costs.choices} == {"cover now", "one more round first"}
    now = next(one for one in costs.choices if one.name == "cover now")
    assert now.expected == pytest.approx((1 - made.probability) * 3200)
    assert decision_costs(made, {"round": 1}) is None and decision_costs(made, None) is None
    assert decision_costs(decide(house, readings=()), PRICES) is None
