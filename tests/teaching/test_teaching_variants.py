"""Own numbers by seed: the key follows from what the question says, each slip reaches its own hint.

Keys are worked out here from the numbers read in the question, with textbook formulas written by
hand, not with the package. What the package means by a number and what the learner reads is thereby
compared.
"""

import math
import re
from functools import cache
from random import Random

import pytest

from airlab.teaching import Choice, Justify, Numeric, Ordering, Slip, check, exercise, variants_for
from airlab.teaching.bank import _ALL, _TEMPLATES
from airlab.teaching.exercise import judge
from airlab.teaching.variants import Template, apart

SEEDS = range(1, 201)
JET = math.pi / (math.pi + 2)  # narrowing of a jet from a slit, Kirchhoff, from memory


def hole(area, pressure):
    """Flow in m3/h through a sharp hole of so many cm2."""
    return JET * area * 1e-4 * math.sqrt(2 * pressure / 1.2) * 3600


def disc(across):
    """Area in cm2 of a hole of so many mm."""
    return math.pi / 4 * (across / 10) ** 2


WORDS = {"twice": 2, "three times": 3, "four times": 4}

# Numbers in the order in which the question has them, and the question where a word counts.
BY_HAND = {
    "01-1": lambda v, q: v[1] * (v[0] / v[2]) ** 2,
    "01-2": lambda v, q: hole(v[0], v[1]),
    "01-3": lambda v, q: v[0] * math.sqrt(v[2] / v[1]),
    "01-4": lambda v, q: 1 / math.sqrt(1 / v[0] ** 2 + 1 / v[1] ** 2),
    "01-7": lambda v, q: hole(v[0], v[1]),
    "02-1": lambda v, q: v[0] * v[1] / 101325 * 1000,
    "02-2": lambda v, q: hole(v[0], v[2]) / v[1],
    "02-3": lambda v, q: v[0] * v[2] / hole(1, v[1]),
    "02-5": lambda v, q: 100 * math.exp(-v[1] * v[2] / 60),
    "02-7": lambda v, q: v[2] / (1 + (v[0] / v[1]) ** 2),
    "02-8": lambda v, q: math.log(v[2] / v[0]) / math.log(v[3] / v[1]),
    "03-1": lambda v, q: math.sqrt(2 * v[2] / v[0]),
    "03-2": lambda v, q: v[1] * v[2] * v[0] / (10 * v[3]),
    "03-4": lambda v, q: 100 * math.sqrt(v[1] / v[0]),
    "03-11": lambda v, q: v[3] * 2 * (v[0] + v[1]),
    "04-1": lambda v, q: v[3] / v[0],
    "04-2": lambda v, q: v[3] / v[1],
    "04-5": lambda v, q: 2 * v[0] * v[1] + 2 * (v[0] + v[1]) * (2 * v[2] + v[3]),
    "05-2": lambda v, q: v[0] * v[3],
    "05-3": lambda v, q: v[0] * v[3] / v[2],
    "05-7": lambda v, q: hole(v[2] * 1e4, 50) / v[0],
    "06-1": lambda v, q: v[0] * v[1] / v[3],
    "06-2": lambda v, q: v[0] * v[1] * v[3] * (v[5] / v[4]) ** (2 / 3),
    "06-3": lambda v, q: 2 * v[1],
    "07-1": lambda v, q: v[0] * v[2] * next(n for word, n in WORDS.items() if word in q),
    "07-2": lambda v, q: v[0] * v[1],
    "07-5": lambda v, q: v[0] / v[2] * hole(disc(v[1]), 50),
    "08-1": lambda v, q: v[0] - v[2] * (v[1] / v[3]) ** v[4],
    "08-2": lambda v, q: v[0] * v[2] / 100 * 1.959964 * math.sqrt(2),
    "08-5": lambda v, q: v[0] * math.exp(-0.841621 * math.sqrt(v[3] ** 2 + 2 * 0.03**2)) / v[2],
    "09-1": lambda v, q: math.log(v[0] / v[2]) / math.log(v[1] / v[3]),
    "09-2": lambda v, q: abs(v[0] - (v[1] + v[2]) / 2),
    "09-3": lambda v, q: v[0] * (273.15 + v[2]) / (273.15 + v[1]),
    "09-4": lambda v, q: 100 * ((v[1] / v[4]) ** (v[3] - v[2]) - 1),
    "10-1": lambda v, q: v[0] * v[1] * v[3] * v[2] * 24 / 1000,
    "10-3": lambda v, q: math.sqrt(2 * v[2] / 1.2),
    "10-5": lambda v, q: 100 * v[3] * v[0] * v[1] / 3.6 / v[2],
    "10-6": lambda v, q: v[1] * (v[3] / v[0]) ** (1 / v[2]),
    "11-1": lambda v, q: v[0] - v[2] + v[3],
}


@cache
def drawn(key):
    return [exercise(f"{key}/{seed}") for seed in SEEDS]


def numbers(question):
    text = re.sub(r"m³|m²|n50|qE50|ISO 9972|01-1\b", " ", question)
    return [float(one.replace("−", "-")) for one in re.findall(r"[−+]?\d+(?:\.\d+)?", text)]


def typed(number):
    """A number as a learner writes it: three digits."""
    return float(f"{number:.3g}")


def test_every_template_has_its_formula_here():
    assert set(BY_HAND) == set(_TEMPLATES)


@pytest.mark.parametrize("key", BY_HAND)
def test_key_follows_from_the_question_and_each_slip_reaches_its_own_hint(key):
    base = exercise(key)
    for seed, made in zip(SEEDS, drawn(key)):
        assert made.key == f"{key}/{seed}"
        assert (made.outcome, made.level, made.source) == (base.outcome, base.level, base.source)
        by_hand = BY_HAND[key](
            [abs(n) if key == "03-4" else n for n in numbers(made.question)], made.question
        )
        assert made.answer() == pytest.approx(by_hand, rel=made.tolerance / 2), made.question
        assert judge(made, typed(made.answer())).state == "right"
        for wrong, hint in made.wrong():
            said = judge(made, typed(wrong) if made.tolerance > 0.01 else round(wrong, 2))
            assert (said.state, said.sentence) == ("not yet", hint), (made.question, wrong)


@pytest.mark.parametrize("key", BY_HAND)
def test_no_slip_is_lost_on_the_way(key):
    counts = {len(made.slips) for made in drawn(key)}
    assert len(counts) == 1 and counts.pop() > 0
    assert len({made.question for made in drawn(key)}) >= 6


@pytest.mark.parametrize("notebook", [f"{n:02d}" for n in range(1, 11)])
def test_three_sums_with_own_numbers_and_neighbours_differ(notebook):
    keys = [entry.key for entry in variants_for(notebook, 1)]
    assert len(keys) >= 3
    for seed in range(1, 40):
        one, other = (variants_for(notebook, s) for s in (seed, seed + 1))
        assert sum(a.question != b.question for a, b in zip(one, other)) >= 2


def test_numbers_are_the_same_on_every_machine():
    assert exercise("01-1/7").question == (
        "A capped hole of 1.5 mm drains the balloon in 60 s. How long with a 4.5 mm hole?"
    )
    assert exercise("08-5/7").question.startswith(
        "Final limit 800 m³/h at 50 Pa. Middle drift 1.08,"
    )
    assert [exercise("04-1/999999").answer() for _ in range(2)] == [
        exercise("04-1/999999").answer()
    ] * 2


def test_checked_by_key_like_any_other():
    assert check("01-2/7", ...).state == "not answered"
    right = exercise("01-2/7").answer()
    assert check("01-2/7", right).state == "right" and check("01-2", right).state != "right"
    for key in ("01-2/0", "01-2/1000000", "01-2/x", "01-2/07", "99-1/3", "01-2/", "/3", "01-2/3/4"):
        assert exercise(key) is None, key
        assert "no such exercise" in check(key, 1).sentence


OTHERS = [one for one in _ALL if isinstance(one, Choice | Justify | Ordering)]


@pytest.mark.parametrize("entry", OTHERS, ids=lambda e: e.key)
def test_what_is_printed_to_choose_from_stands_in_the_seeds_order(entry):
    made = [exercise(f"{entry.key}/{seed}") for seed in range(1, 13)]
    assert {one.question for one in made} == {entry.question}
    assert len({tuple(one.parts().values()) for one in made}) > 1
    for one in made:
        assert sorted(one.parts().values()) == sorted(entry.parts().values())
        assert check(one.key, one.answer()).state == "right"
    if isinstance(entry, Ordering):
        assert all(one.answer() != "".join(sorted(one.answer())) for one in made)


def test_the_whole_notebook_of_a_learner():
    own, whole = variants_for("07", 12), variants_for("07", 12, whole=True)
    assert {one.key for one in own} < {one.key for one in whole}
    assert all(isinstance(one, Numeric) for one in own)
    assert all(one.key.endswith("/12") for one in whole)


def _made(right, *slips):
    return Numeric("x", "?", lambda: right, "-", "", tuple(Slip(s, str(s)) for s in slips))


@pytest.mark.parametrize(
    ("right", "slips", "told"),
    [(10.0, (5.0, 20.0), True), (10.0, (10.3,), False), (10.0, (5.0, 5.15), False),
     (10.0, (0.0, 5.0), True), (10.0, (-10.0,), True), (10.0, (10.5,), True)],
)  # fmt: skip
def test_close_slips_are_not_told_apart(right, slips, told):
    assert apart(_made(right, *slips)) is told


def test_numbers_that_collide_are_drawn_again():
    collides = Template("x", lambda key, slip=5.0: _made(10.0, slip), {"slip": (10.0, 10.1, 20.0)})
    assert {collides.drawn(seed).wrong()[0][0] for seed in range(50)} == {20.0}
    never = Template("x", lambda key, slip=5.0: _made(10.0, slip), {"slip": (10.0,)})
    assert never.drawn(1).wrong() == ()


def test_an_order_is_never_printed_solved():
    entry = next(one for one in OTHERS if isinstance(one, Ordering))
    for seed in range(300):
        mixed = entry.shuffled(Random(seed))
        assert tuple(mixed.parts().values()) != entry.steps
