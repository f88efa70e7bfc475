"""The log of leaks: any order a real day brings, only contradictions refused, nothing lost."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.leak_check import SETTLED, STATES, Log
from airlab.leak_check.tables import DID, LEAKS, LeakEvent
from airlab.words import InputError

START = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)


def at(minute):
    return START + timedelta(minutes=minute)


# Known answers: the order of work on site (common practice): found, marked, sealed, re-checked.


def test_a_plain_day():
    log = Log().found(1, room="Bath", place="pipe", height="low", strength=2, area="bath floor")
    assert log.leak(1).state == "open"
    log = log.marked(1)
    assert log.leak(1).marked
    assert log.leak(1).state == "open"
    log = log.sealed(1, "collar")
    assert log.leak(1).state == "sealed, awaiting re-check"
    assert log.leak(1).blocks
    log = log.rechecked(1)
    leak = log.leak(1)
    assert (leak.state, leak.material, leak.strength, leak.blocks) == ("closed", "collar", 2, False)
    assert leak.sentence() == "Leak 1 (Bath, pipe, low): closed, sealed with collar."
    assert log.sentence() == "1 leak: 1 closed."


def test_a_failed_recheck_leaves_the_leak_open():
    log = Log().found(1).sealed(1, "tape").rechecked(1, tight=False)
    assert log.leak(1).state == "open"
    assert log.leak(1).reason == "still leaks at the re-check"
    assert log.sealed(1, "primer and tape").rechecked(1).leak(1).state == "closed"


def test_other_endings():
    log = Log().found(1).found(2).found(3).found(4)
    log = log.not_a_leak(1, note="cold bridge").intentional(2).unreachable(3)
    log = log.accept(4, "under the screed, 3 mm")
    assert [leak.state for leak in log.leaks] == [
        "not a leak", "intentional", "unreachable now", "accepted"]  # fmt: skip
    assert [leak.number for leak in log.blocking] == [3]
    assert log.leak(4).sentence() == "Leak 4: accepted, because under the screed, 3 mm."
    assert log.covered(3).leak(3).state == "unreachable now"
    assert log.covered(3).leak(3).covered


def test_sealed_may_be_entered_before_found():
    log = Log().sealed(7, "tape", at=at(30)).rechecked(7, at=at(40))
    log = log.found(7, at=at(10), room="Hall")
    assert log.leak(7).state == "closed"
    assert log.leak(7).room == "Hall"
    assert log.leak(7).late
    assert [event.did for event in log.leak(7).events] == ["found", "sealed", "rechecked"]


def test_an_earlier_time_is_stamped_entered_later():
    log = Log().found(1, at=at(60)).found(2, at=at(5))
    assert [event.entered_later for event in log.events] == [False, True]


def test_next_number_and_undo():
    log = Log().found().found()
    assert log.next_number == 3
    log = log.undo()
    assert [leak.number for leak in log.leaks] == [1]
    assert log.undo().leaks == ()
    with pytest.raises(InputError, match="nothing to take back"):
        Log().undo()


def test_undo_survives_joining_with_an_older_sheet():
    older = Log().found(1).sealed(1, "tape")
    newer = older.undo()
    assert older.merge(newer).leak(1).state == "open"
    assert newer.merge(older).leak(1).state == "open"


@pytest.mark.parametrize(
    ("place", "material", "dont"),
    [
        ("stove sleeve", "", "no foam"),
        ("Boilers, back wall", "tape", "no foam"),
        ("pipe", "foam round the flue", "no foam"),
        ("trickle vents", "", "it is meant to be open"),
        ("extractor hood", "", "it is meant to be open"),
        ("air inlet", "tape", "it is meant to be open"),
        ("edge of the fire wall", "", "airtight is not fire rated"),
        ("gas pipe", "", "ask a registered person"),
    ],
)
def test_what_feeds_a_fire_or_ventilates_is_asked_about_first(place, material, dont):
    log = Log().found(1, place=place, material=material)
    assert log.leak(1).ask.startswith("Is this yours to seal? An opening that feeds a fire")
    assert "a fire wall needs a tested seal" in log.leak(1).ask and dont in log.leak(1).ask
    assert log.leak(1).todo == "is it yours to seal? If not: intentional, never seal"
    assert "was it yours" in log.sealed(1, material or "tape").leak(1).todo
    settled = log.intentional(1).leak(1)
    assert (settled.ask, settled.todo) == ("", "never seal it")


@pytest.mark.parametrize("place", ["letter plate", "preventer", "north wall", "socket", "reveal"])
def test_any_other_place_is_sealed(place):
    leak = Log().found(1, place=place, material="tape").leak(1)
    assert (leak.ask, leak.todo) == ("", "seal it")


def test_covered_before_it_was_looked_at_is_said_and_holds_its_area():
    words = "Covered before it was looked at: open it up, or accept it with a reason."
    log = Log().found(1, room="Bath").sealed(1, "tape").covered(1)
    leak = log.leak(1)
    assert leak.blocks and leak.sentence().endswith(f"tape, covered. {words}")
    assert leak.todo == "open it up, or accept it with a reason"
    assert words in Log().found(1).covered(1).leak(1).sentence(), "not even sealed"
    for settled in (log.accept(1, "behind the tiles"), log.reopen(1),
                    Log().found(1).sealed(1, "tape").rechecked(1).covered(1)):  # fmt: skip
        assert words not in settled.leak(1).sentence()


# Contradictions: refused, saying what is allowed now.


@pytest.mark.parametrize(
    ("log", "act", "allowed"),
    [
        (Log().found(1), lambda log: log.rechecked(1), "Allowed now: marked, sealed"),
        (Log().found(1), lambda log: log.rechecked(1, tight=False), "after the seal"),
        (Log().found(1).intentional(1), lambda log: log.sealed(1, "foam"), "never sealed.*reopened"),
        (Log().found(1).sealed(1, "tape"), lambda log: log.not_a_leak(1), "without a re-check"),
        (Log().found(1).sealed(1, "tape"), lambda log: log.intentional(1), "Take the seal off"),
        (Log().found(1).sealed(1, "t").rechecked(1), lambda log: log.sealed(1, "t"), "open it again"),
        (Log(), lambda log: log.rechecked(5), "not in the log.*Allowed now: found, marked, sealed"),
        (Log(), lambda log: log.accept(5, "small"), "not in the log"),
        (Log().found(1), lambda log: log.accept(1, " "), "without a reason"),
        (Log().found(1), lambda log: log.found(1), "already in the log. Use number 2"),
        (Log(), lambda log: log.act(1, "kicked"), "Choose one of"),
        (Log(), lambda log: log.found(0), "Leak is 0"),
        (Log(), lambda log: log.found(1.5), "Leak is 1.5. A whole number is needed"),
        (Log(), lambda log: log.found(1, strength=2.5), "Strength is 2.5. A whole number"),
        (Log(), lambda log: log.found(1, height="top"), "Choose one of"),
        (Log(), lambda log: log.found(1, strength=4), "takes 1 to 3"),
    ],
)  # fmt: skip
def test_refused(log, act, allowed):
    with pytest.raises(InputError, match=allowed):
        act(log)


def test_a_late_entry_that_breaks_the_order_is_refused():
    log = Log().found(1, at=at(0)).sealed(1, "tape", at=at(10)).rechecked(1, at=at(20))
    with pytest.raises(InputError, match="after the seal"):
        log.reopen(1, at=at(15))


def test_a_table_edited_by_hand_is_read_and_its_contradiction_shown():
    rows = [
        {"event": "a", "leak": 1, "did": "found"},
        {"event": "b", "leak": 1, "did": "rechecked"},
        {"event": "c", "leak": 2, "did": "found"},
    ]
    log = Log(tuple(LeakEvent.from_row(row) for row in rows))
    assert log.leak(1).state == "open"
    assert log.leak(1).problems
    assert log.leak(1).blocks
    assert "contradict" in log.sentence()


def test_two_places_under_one_tag_are_shown_until_opened_again():
    log = Log((LeakEvent(1, "found", room="Bath"), LeakEvent(1, "found", room="Loft"),
               LeakEvent(1, "sealed", material="tape"), LeakEvent(1, "rechecked")))  # fmt: skip
    assert log.leak(1).blocks
    assert "two places" in log.leak(1).problems[0]
    log = log.reopen(1)
    assert not log.leak(1).problems
    assert log.leak(1).state == "open"
    assert not Log((LeakEvent(1, "found", room="Bath"),) * 2).leak(1).problems


# Joining the sheets of two people.


def test_the_same_number_for_two_places_keeps_both():
    first = Log().found(1, room="Bath").found(2, room="Hall")
    second = Log().found(1, room="Loft").sealed(1, "tape")
    both = first.merge(second)
    assert len(both.leaks) == 3
    assert both.leak(1).room == "Bath"
    assert both.leak(3).room == "Loft"
    assert both.leak(3).state == "sealed, awaiting re-check"
    assert "number 1 on the other sheet" in both.leak(3).events[0].note
    assert both.merge(second) == both
    assert len(both.merge(second.rechecked(1)).leaks) == 3
    assert both.merge(second.rechecked(1)).leak(3).state == "closed"


def test_the_seal_on_another_sheet_joins_its_leak():
    both = Log().found(7, at=at(0)).merge(Log().sealed(7, "tape", at=at(9)))
    assert [leak.state for leak in both.leaks] == ["sealed, awaiting re-check"]


# No order of acts loses or invents a leak.

ACTS = st.lists(
    st.tuples(
        st.integers(1, 4),
        st.sampled_from([did for did in DID if did != "undone"]),
        st.integers(0, 200),
    ),
    max_size=25,
)


def play(acts, log=None):
    log = log or Log()
    entered = set()
    for number, did, minute in acts:
        before = {leak.number for leak in log.leaks}
        try:
            log = log.act(number, did, at=at(minute), note="why", material="tape")
        except InputError:
            assert {leak.number for leak in log.leaks} == before
            continue
        entered.add(number)
        assert {leak.number for leak in log.leaks} == before | {number}
    return log, entered


@settings(max_examples=60, deadline=None)
@given(ACTS)
def test_no_order_loses_or_invents_a_leak(acts):
    log, entered = play(acts)
    assert {leak.number for leak in log.leaks} == entered
    for leak in log.leaks:
        assert not leak.problems
        assert leak.state in STATES
        assert leak.blocks == (leak.state not in SETTLED)
        dids = [event.did for event in leak.events]
        if leak.state == "closed":
            assert "sealed" in dids[: dids.index("rechecked")]
        if leak.state == "intentional":
            last = len(dids) - 1 - dids[::-1].index("intentional")
            assert "sealed" not in dids[last:]


@settings(max_examples=60, deadline=None)
@given(ACTS, ACTS, ACTS)
def test_joining_is_a_union_of_acts(shared, left, right):
    common, _ = play(shared)
    first, _ = play(left, common)
    second, _ = play(right, common)
    one, other = first.merge(second), second.merge(first)
    ids = {event.event for event in first.events} | {event.event for event in second.events}
    assert {event.event for event in one.events} == ids == {event.event for event in other.events}
    # two finds stay apart, unless both sheets describe a tag that they share
    common_tags = {event.leak for event in common.events}
    found = [
        event for event in one.events if event.did == "found" and event.leak not in common_tags
    ]
    assert len({event.leak for event in found}) == len(found)
    assert {leak.number for leak in first.leaks} <= {leak.number for leak in one.leaks}
    assert len(one.leaks) == len(other.leaks)
    assert one.merge(second) == one
    assert one.merge(one) == one
    acts = [event.event for leak in one.leaks for event in leak.events]
    assert sorted(acts) == sorted(ids)


@settings(max_examples=60, deadline=None)
@given(ACTS)
def test_undo_goes_back_one_act_at_a_time(acts):
    log, _ = play(acts)
    states = {leak.number: leak.state for leak in log.leaks}
    try:
        more = log.found(9).undo()
    except InputError:
        return
    assert {leak.number: leak.state for leak in more.leaks} == states
    count = len(log.events)
    for _ in range(count):
        log = log.undo()
    assert log.leaks == ()


@settings(max_examples=40, deadline=None)
@given(ACTS)
def test_rows_and_back(acts):
    log, _ = play(acts)
    rows = [event.to_row() for event in log.events]
    assert all(set(row) == {column.name for column in LEAKS.columns} for row in rows)
    again = Log(tuple(LeakEvent.from_row(row) for row in rows))
    assert again == log


@settings(max_examples=60, deadline=None)
@given(ACTS)
def test_a_log_without_one_leak_is_the_log_of_the_others(acts):
    log, _ = play(acts)
    for number in [leak.number for leak in log.leaks] or [1]:
        rest = log.without(number)
        assert rest == Log(tuple(event for event in log.events if event.leak != number))
        assert rest.leaks == Log(rest.events).leaks, "what is carried over is what a fold gives"
        assert rest.leak(number) is None


def test_five_thousand_acts():
    events = tuple(
        LeakEvent(1 + i // 4, ("found", "marked", "sealed", "rechecked")[i % 4], at=at(i),
                  event=f"e{i}", material="tape")
        for i in range(5000)
    )  # fmt: skip
    log = Log(events)
    assert len(log.leaks) == 1250
    assert all(leak.state == "closed" for leak in log.leaks)
    log = log.found(3000)
    log.sentence()
    assert log.leak(3000).state == "open"
