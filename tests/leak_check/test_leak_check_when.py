"""Dates of the check: after what makes the layer, before what hides it; how many checks."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import EnvelopeElement, Junction
from airlab.leak_check import Assumptions
from airlab.leak_check.tables import PROGRAMME, Task
from airlab.leak_check.when import CHECK_PATTERNS, check_dates, check_pattern
from airlab.words import InputError

DONE = "complete and visible"
AREAS = (
    EnvelopeElement("wall hall", "wall", "wall", "Hall", 50.0, "membrane", DONE),
    EnvelopeElement("ceiling hall", "ceiling", "ceiling", "Hall", 30.0, "membrane", "not started"),
)
TAPE = Task("ceiling film", "layer", "ceiling", "carpenter", date(2027, 4, 5), date(2027, 4, 8))
WINDOWS = Task("windows", "windows", "", "fitter", date(2027, 3, 29), date(2027, 4, 2))
BOARDS = Task("boards", "covering", "", "liner", date(2027, 4, 19), date(2027, 4, 30))


def dates(*tasks, **more):
    return check_dates(tasks, AREAS, **more)


# Known answers, counted on a calendar: 8 April 2027 is a Thursday, 19 April a Monday.


def test_from_the_day_after_the_layer_to_two_working_days_before_the_boards():
    found = dates(TAPE, WINDOWS, BOARDS)
    assert (found.earliest, found.latest) == (date(2027, 4, 9), date(2027, 4, 15))
    assert (found.after, found.before, found.float_days) == ("ceiling film", "boards", 4)
    assert not found.meaningless and not found.missing
    assert found.sentence().startswith(
        "Check from Fri 09 Apr 2027 (ceiling film) to Thu 15 Apr 2027 (boards)."
    )


def test_curing_moves_the_day_and_a_weekend_is_no_working_day():
    slow = replace(TAPE, cure_days=1.0)
    assert dates(slow, WINDOWS, BOARDS).earliest == date(2027, 4, 12)  # the 10th is a Saturday
    plaster = Task("plaster", "layer", "wall", ends_on=date(2027, 4, 1), cure_days=28)
    found = dates(TAPE, WINDOWS, BOARDS, plaster)
    assert found.earliest == date(2027, 4, 30) and found.float_days < 0
    assert "No sensible day" in found.sentence()
    assert found.in_the_way == ("boards (11 working days too early)",)
    own = Assumptions().changed(fix_days=5)
    assert dates(TAPE, WINDOWS, BOARDS, assumptions=own).latest == date(2027, 4, 12)


def test_what_would_make_a_number_mean_nothing():
    early = dates(TAPE, WINDOWS, BOARDS, on=date(2027, 4, 7))
    assert early.fits is False
    assert "ceiling film is not finished on Wed 07 Apr 2027" in early.meaningless
    curing = dates(replace(TAPE, cure_days=6), WINDOWS, BOARDS, on=date(2027, 4, 12))
    assert "ceiling film is not cured (6 days) on Mon 12 Apr 2027" in curing.meaningless
    assert "Search only, no number" in curing.sentence()
    good = dates(TAPE, WINDOWS, BOARDS, on=date(2027, 4, 12))
    assert good.fits is True and "Mon 12 Apr 2027 fits." in good.sentence()
    assert dates(TAPE, WINDOWS, BOARDS, on=date(2027, 4, 10)).fits is False  # Saturday
    late = dates(TAPE, WINDOWS, BOARDS, on=date(2027, 4, 21))
    assert late.fits is False and late.in_the_way and not late.meaningless


def test_what_the_programme_does_not_say():
    found = dates(BOARDS, replace(TAPE, element="roof", ends_on=None))
    assert found.missing == (
        "when ceiling film ends", "who finishes ceiling hall (not started)",
        "when windows and doors are in",
    )  # fmt: skip
    assert found.earliest is None and found.latest == date(2027, 4, 15)
    assert "ceiling hall is not started" in found.sentence()
    assert check_dates(()).sentence().startswith("The programme has no dates yet.")


def test_a_joint_that_will_be_hidden_counts_as_a_covering():
    sill = Junction("sill", "floor", "wall", hidden_on=date(2027, 4, 14))
    found = dates(TAPE, WINDOWS, BOARDS, junctions=[sill])
    assert (found.latest, found.before) == (date(2027, 4, 12), "hiding sill")
    assert found.hold_point.waits == ("boards", "what hides 1 joint")


def test_finished_work_no_longer_counts():
    found = dates(replace(TAPE, done=True), replace(WINDOWS, done=True), replace(BOARDS, done=True))
    assert (found.earliest, found.latest, found.hold_point.waits) == (None, None, ())


def test_the_hold_point_names_who_may_release():
    assert "Released by the airtightness lead" in dates(BOARDS).hold_point.sentence()
    assert "Released by A. Lead" in dates(BOARDS, released_by=" A. Lead ").sentence()


def test_how_many_checks():
    assert check_pattern(areas=AREAS).construction == "timber frame, film inside"
    block = EnvelopeElement("w", "w", "wall", "Hall", 90.0, "wet plaster on block", DONE)
    masonry = check_pattern(areas=[block])
    assert [counts for _, counts in masonry.checks] == [False, True]
    assert "search only, no number" in masonry.sentence()
    board = EnvelopeElement("w", "w", "wall", "Hall", 90.0, "plasterboard, taped", DONE)
    assert check_pattern(areas=[board]).construction == "timber frame, boards inside"
    assert len(check_pattern("masonry, wet plaster, a first house").checks) == 3
    assert all(one.status in ("second-hand", "assumption") for one in CHECK_PATTERNS)


DAYS = st.integers(0, 60).map(lambda n: date(2027, 3, 1) + timedelta(days=n))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["layer", "windows", "holes", "sealing", "covering"]), DAYS,
                          st.integers(0, 20), st.integers(0, 30)), max_size=8), DAYS)  # fmt: skip
def test_on_any_fitting_day_the_layer_is_ready_and_in_sight(works, day):
    tasks = [
        Task(f"t{i}", kind, "", "", start, start + timedelta(days=long), cure)
        for i, (kind, start, long, cure) in enumerate(works)
    ]
    found = check_dates(tasks, (), on=day)
    if found.fits:
        for task in tasks:
            if task.does == "covering":
                assert day < task.starts_on
            else:
                assert day > task.ends_on + timedelta(days=int(task.cure_days))
    if found.earliest and found.latest:
        assert (found.float_days < 0) == (found.latest < found.earliest)
    for one in (found.earliest, found.latest):
        assert one is None or one.weekday() < 5


def test_rows_and_back_and_refused():
    row = {"task": "plaster", "does": "layer", "element": "wall", "trade": "plasterer",
           "starts_on": date(2027, 4, 1), "ends_on": date(2027, 4, 3), "cure_days": 28.0,
           "done": False}  # fmt: skip
    assert Task.from_row(row).to_row() == row
    assert {c.name for c in PROGRAMME.columns} == set(row)
    with pytest.raises(InputError, match="Swap the dates"):
        Task.from_row(row | {"ends_on": date(2027, 3, 1)})
    with pytest.raises(InputError, match="Choose one of"):
        Task.from_row(row | {"does": "sleep"})
    with pytest.raises(InputError, match="twice"):
        check_dates([TAPE, replace(TAPE, name="Ceiling  FILM")])
    with pytest.raises(InputError, match="Choose one of"):
        check_dates([TAPE], construction="igloo")
