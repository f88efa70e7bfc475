"""One sign for each state of a leak, told apart without colour."""

from airlab.leak_check import MARKS, STATES


def test_every_state_has_a_sign_of_its_own():
    assert tuple(MARKS) == STATES
    assert len(set(MARKS.values())) == len(STATES)
    assert MARKS["closed"] == "○" and MARKS["sealed, awaiting re-check"] == "□"
