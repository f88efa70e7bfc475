"""Groups of fixes, the running total against the aim, and when to stop."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.leak_check import Log, Reading, smallest_provable
from airlab.leak_check.batches import STOP_ANSWERS, fix_groups, running_total
from airlab.words import InputError, from_si, m3_per_h

ZEROS = {"zero_before": 0.0, "zero_after": 0.0}


def reading(name, flow, stage="after sealing", direction="depressurise", **more):
    return Reading(name, 50.0, m3_per_h(flow), direction, stage=stage, **more)


# Known answer: with 1.5 % for one reading two readings prove 4.2 % (Prignon and others, read as one
# standard deviation): in a house of 180 m³/h that is 7.5 m³/h.


def test_small_fixes_are_joined_until_they_can_be_proved():
    least = smallest_provable(0.015) * m3_per_h(180)
    assert from_si(least, "m3/h") == pytest.approx(7.5, abs=0.05)
    sizes = [(4, m3_per_h(2)), (7, m3_per_h(20)), (9, m3_per_h(3)), (11, m3_per_h(4))]
    found = fix_groups(sizes, least)
    assert [g.numbers for g in found.groups] == [(7,), (11, 9, 4)]
    assert all(g.provable for g in found.groups)
    assert "Leaks 11, 9 and 4: 9 m³/h, then read." in found.sentence()
    lone = fix_groups([(1, m3_per_h(2))], least)
    assert not lone.groups[0].provable and "too little" in lone.sentence()
    assert fix_groups([], least).sentence() == "No leak of known size is open."


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.0, 0.02), max_size=15), st.floats(1e-4, 0.02))
def test_every_leak_stands_in_one_group(flows, least):
    found = fix_groups(enumerate(flows, 1), least)
    numbers = [n for group in found.groups for n in group.numbers]
    assert sorted(numbers) == list(range(1, len(flows) + 1))
    short = [group for group in found.groups if not group.provable]
    assert len(short) <= 1
    if short:  # only where the small ones together are too little
        assert sum(q for q in flows if q < least) < least


def test_the_running_total_against_the_aim():
    log = Log().found(1, strength=1).found(2, strength=3)
    day = [reading("1", 600, "first reading"), reading("2", 540), reading("3", 480)]
    now = running_total(day, log, m3_per_h(450))
    assert from_si(now.total.change, "m3/h") == pytest.approx(120)
    assert from_si(now.gap, "m3/h") == pytest.approx(30)
    assert len(now.steps) == 2 and now.answer == "go on"
    assert "first: 2 and 1" in now.why
    assert "as much as one sharp hole of 14.9 cm²" in now.sentence()  # 1 cm² passes 2.01 m³/h


def test_preparation_put_right_starts_anew():
    day = [
        reading("1", 900, "first reading"),
        reading("2", 600, "preparation put right"),
        reading("3", 540),
    ]
    now = running_total(day, aim_flow=m3_per_h(500))
    assert from_si(now.total.change, "m3/h") == pytest.approx(60)
    assert running_total(day[:2]).total is None
    assert running_total([reading("9", 300, "final")]) is None


def test_the_other_direction_is_not_subtracted():
    day = [reading("1", 600), reading("2", 500, direction="pressurise"), reading("3", 560)]
    assert from_si(running_total(day).total.change, "m3/h") == pytest.approx(40)


def test_a_good_number_closes_no_row():
    day = [reading("1", 600), reading("2", 400, **ZEROS)]
    log = Log().found(1, area="wall")
    held = running_total(day, log, m3_per_h(450))
    assert held.answer == "go on" and "rows 1 still hold back" in held.why
    done = running_total(day, log.sealed(1, "tape").rechecked(1), m3_per_h(450))
    assert done.answer == "stop"
    assert "50 m³/h to spare" in done.sentence()


def test_two_readings_that_prove_nothing_change_the_search():
    day = [reading("1", 600), reading("2", 598), reading("3", 596)]
    now = running_total(day, Log().found(1), m3_per_h(450))
    assert now.answer == "search differently" and "shut the rooms" in now.why
    assert "not proved" in now.sentence()


def test_nothing_known_is_left_and_the_aim_is_missed():
    closed = Log().found(1).sealed(1, "tape").rechecked(1)
    now = running_total([reading("1", 600)], closed, m3_per_h(450))
    assert now.answer == "search differently" and "no known leak is left" in now.why
    waiting = running_total([reading("1", 600)], Log().found(3).sealed(3, "tape"), m3_per_h(450))
    assert waiting.answer == "go on" and "look again at 3" in waiting.why
    close = running_total([reading("1", 600)], Log().found(3), m3_per_h(595))
    assert "less than a reading can prove" in close.why
    free = running_total([reading("1", 600)], closed)
    assert free.answer == "go on" and "Without a number walk the route to its end" in free.why


def test_before_the_first_leak_the_route_is_walked():
    now = running_total([reading("1", 600)], Log(), m3_per_h(450))
    assert now.answer == "go on" and "Walk the route" in now.why


def test_nothing_stops_before_the_search_or_on_a_reading_in_doubt():
    good, closed = reading("1", 400, **ZEROS), Log().found(1).sealed(1, "tape").rechecked(1)
    aim = m3_per_h(450)
    early = running_total([good], Log(), aim)
    assert early.answer == "go on" and "nobody has searched yet" in early.why
    assert running_total([good], Log(), aim, begun=True).answer == "stop"
    assert running_total([good], closed, aim).answer == "stop"
    for bad in (reading("1", 400), reading("1", 400, zero_before=30.0, zero_after=30.0),
                replace(good, pressure=5.0, flow=m3_per_h(80))):  # fmt: skip
        held = running_total([bad], closed, aim)
        assert held.answer == "go on" and "do not build on it" in held.why
    assert running_total([good], closed, None).answer == "go on"
    assert running_total([good], closed, aim, doubt="Below the fan.").answer == "go on"


@settings(max_examples=50, deadline=None)
@given(st.lists(st.floats(50, 2000), min_size=1, max_size=6), st.floats(50, 2000))
def test_it_never_stops_while_a_row_is_open_or_the_aim_is_missed(flows, aim):
    day = [reading(str(i), flow, **ZEROS) for i, flow in enumerate(flows)]
    held = running_total(day, Log().found(1), m3_per_h(aim))
    assert held.answer in STOP_ANSWERS and held.answer != "stop"
    free = running_total(day, Log(), m3_per_h(aim), begun=True)
    assert (free.answer == "stop") == (flows[-1] <= aim or free.gap <= 0)
    assert running_total(day, Log(), m3_per_h(aim)).answer != "stop"


def test_refused():
    with pytest.raises(InputError, match="Smallest is 0"):
        fix_groups([(1, 0.1)], 0.0)
    with pytest.raises(InputError, match="Flow of leak 1"):
        fix_groups([(1, -0.1)], 0.1)
    with pytest.raises(InputError, match="no direction"):
        running_total([Reading("1", 50.0, 0.1)])
