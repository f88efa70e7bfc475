"""What choices cost in the long run, by the user's prices."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.leak_check.prices import Choice, check_or_not, compare_choices, cover_or_wait
from airlab.words import InputError

PRICES = {"check": 350, "round": 500, "open_up": 4000, "retest": 150, "currency": "€"}


# Known answers: the mean of two outcomes, by hand. A house that aims at 0.77 of its limit with a
# spread of 0.2 misses in one of ten (log-normal table: 90 % sure at 0.77).


def test_a_check_against_opening_up():
    found = check_or_not(PRICES, 0.85, 1.0, confidence=0.95, spread=0.2)
    cost = {one.name: one.expected for one in found.choices}
    without = next(one for one in found.choices if one.name == "no check").chance
    assert without == pytest.approx(0.208, abs=0.001)  # 1 - Phi(ln(1/0.85)/0.2)
    assert cost["no check"] == pytest.approx(without * 4150)
    assert cost["check before it is covered"] == pytest.approx(350 + 0.05 * 4150)
    assert found.cheapest.name == "check before it is covered"
    assert found.break_even == pytest.approx(350 / (without - 0.05))
    assert "cost the same if a miss costs" in found.sentence() and "€" in found.sentence()


def test_aiming_well_below_needs_no_check_for_the_money():
    found = check_or_not(PRICES, 0.5, 1.0, confidence=0.9, spread=0.2)
    assert found.cheapest.name == "no check"


def test_cover_now_or_one_more_round():
    found = cover_or_wait(PRICES, 0.60, 0.90)
    assert [one.name for one in found.choices] == ["one more round first", "cover now"]
    assert [one.expected for one in found.choices] == pytest.approx([500 + 415, 0.4 * 4150])
    assert found.break_even == pytest.approx(500 / 0.30)
    assert cover_or_wait(PRICES, 0.88, 0.90).cheapest.name == "cover now"
    same = cover_or_wait(PRICES | {"round": 0}, 0.9, 0.9)
    assert same.break_even in (0.0, float("inf"))


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 1e4), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1e5))
def test_at_the_break_even_both_cost_the_same(extra, first, second, miss):
    pair = [Choice("a", 0.0, first, miss), Choice("b", extra, second, miss)]
    found = compare_choices(pair)
    assert found.cheapest.expected <= found.choices[1].expected
    if 1e-6 < found.break_even < 1e9 and abs(first - second) > 1e-6:
        even = [Choice(o.name, o.certain, o.chance, found.break_even).expected for o in pair]
        assert even[0] == pytest.approx(even[1], rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: cover_or_wait({}, 0.5, 0.9), "Enter your own: round"),
        (lambda: cover_or_wait({"round": 5}, 0.5, 0.9), "open_up: opening up"),
        (lambda: check_or_not(PRICES | {"check": -1}, 1.0, 2.0), "Price of check is −1"),
        (lambda: cover_or_wait(PRICES, 0.9, 0.5), "does not make a house leakier"),
        (lambda: cover_or_wait(PRICES, 50, 90), "write 0.9"),
        (lambda: compare_choices([Choice("a", 0, 0.5, 1)]), "two choices"),
        (
            lambda: compare_choices([Choice("a", 0, 0.5, 1), Choice("b", 0, 0.5, 2)]),
            "give one cost",
        ),
    ],
)
def test_refused(call, says):
    with pytest.raises(InputError, match=says.replace(".", r"\.")):
        call()
