"""Exercises: keys against published or independent values, every slip reaches its own hint."""

import math
import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from airlab.sheets.glossary import all_sources
from airlab.teaching import (
    LEVELS,
    OUTCOMES,
    Choice,
    Justify,
    Mark,
    Numeric,
    Ordering,
    ask,
    check,
    exercise,
    exercises_for,
    right_answer,
    worked_house,
)
from airlab.teaching.bank import _ALL
from airlab.words import STATUSES

KEYS = [entry.key for entry in _ALL]
NUMERIC = [entry for entry in _ALL if isinstance(entry, Numeric)]
CHOICES = [entry for entry in _ALL if isinstance(entry, Choice)]
MARKED = [entry for entry in _ALL if isinstance(entry, Mark)]
DECIDED = [entry for entry in _ALL if isinstance(entry, Justify)]
ORDERED = [entry for entry in _ALL if isinstance(entry, Ordering)]


# Worked out here by hand from textbook formulas, not by the package.
BY_HAND = {
    "01-1": 15.0,
    "01-2": math.pi / (math.pi + 2) * 1e-4 * math.sqrt(2 * 50 / 1.2) * 3600,
    "01-3": 60 * math.sqrt(50 / 2400),
    "01-4": 1 / math.sqrt(1 / 50**2 + 1 / 100**2),
    "01-6": 0.33,  # draining table: two-term crack law, per metre, 0.2 mm by 20 mm
    "01-7": math.pi / (math.pi + 2) * 1e-4 * math.sqrt(2 * 25 / 1.2) * 3600,
    "02-1": 500 * 50 / 101325 * 1000,
    "02-2": math.pi / (math.pi + 2) * 0.03 * math.sqrt(2 * 50 / 1.2) * 3600 / 500,
    "02-3": 0.6 * 450 / 3600 / (math.pi / (math.pi + 2) * math.sqrt(2 * 50 / 1.2)) * 1e4,
    "02-4": 0.36446,  # closed form, draining of a stiff vessel, n = 0.65
    "02-5": 100 * math.exp(-1),
    "02-6": math.pi / (math.pi + 2) * 0.03 * math.sqrt(2 * 50 / 1.2) * 3600 / 1000,
    "02-7": 50 / (1 + (50 / 100) ** 2),
    "02-8": math.log(1500 / 960) / math.log(50 / 25),
    "03-7": 3.0,  # counted on the drawing: front door, ceiling at the back wall, hatch
    "03-8": 4.0,  # and the floor edge at the left wall
    "03-11": 31 * 4.8,  # 31 m3/(h.m) at 50 Pa [VANDENBOSSCHE_2012] along 4.8 m
    "03-1": math.sqrt(2 * 50 / 1.2),
    "03-2": math.sqrt(2 * 50 / 1.2) * 6.2 * 0.010 / 0.30,
    "03-4": 100 * math.sqrt(20 / 50),
    "04-1": 4.409,  # worked reference house
    "04-2": 5.0,
    "04-5": 2 * 9 * 7 + 2 * (9 + 7) * (2.5 + 0.3 + 2.5),
    "05-2": 0.6 * 300,
    "05-3": 10 * 250 / 300,
    "05-7": math.pi / (math.pi + 2) * 0.44 * math.sqrt(2 * 50 / 1.2) * 3600 / 10,
    "05-8": 10 / (math.pi / 4 * 0.0214**2 * math.sqrt(2 * 50 / 1.2) * 3600),
    "06-1": 32.8 * 2.2 / 301.1,
    "06-2": 1.44 * 9 * 0.5 ** (2 / 3),  # EN 12207 class 3 at 100 Pa, second-hand
    "06-3": 2 * 200.0,
    "07-1": 1800.0,
    "07-2": 600.0,
    "07-5": 20
    / 5
    * math.pi
    / (math.pi + 2)
    * math.pi
    / 4
    * 0.025**2
    * math.sqrt(2 * 50 / 1.2)
    * 3600,
    "08-1": 620 - 540 * (50 / 45) ** 0.65,
    "08-2": 600 * 1.959964 * math.sqrt(2) * 0.015,
    "09-1": math.log(600 / 240) / math.log(4),
    "09-2": 51 - (1.4 + 0.6) / 2,
    "09-3": 600 * (273.15 + 6) / (273.15 + 21),  # equal pressure: densities as temperatures
    "09-4": 100 * ((50 / 4) ** 0.1 - 1),
    "11-1": 12 - 8 + 2,
    "10-1": 0.25 * 350 / 3 * 24 * 2500 / 1000,  # 1.2 kg/m3 · 1000 J/(kg·K) = 1/3 Wh/(m3·K)
    "10-3": math.sqrt(2 * 2 / 1.2),
    "10-5": 100 * 0.05 * 90 * 2.4 / 3.6 / 31,
    "10-6": 50 * (20 / 60) ** (1 / 0.65),
    "08-5": 900 * 0.77,  # pass mark table at drift 1.10, spread 0.20, 80 %
}


@pytest.mark.parametrize("entry", NUMERIC, ids=lambda e: e.key)
def test_key_agrees_with_a_hand_calculation(entry):
    tolerance = 0.06 if entry.key == "01-6" else 0.01 if entry.key == "08-5" else 5e-4
    assert entry.expected() == pytest.approx(BY_HAND[entry.key], rel=tolerance)


@pytest.mark.parametrize("key", KEYS)
def test_untouched_right_and_nonsense(key):
    assert check(key, ...).state == "not answered"
    assert check(key, right_answer(key)).state == "right"
    assert check(key, "bananas").state == "not yet"
    assert check(key, float("nan")).state == "not yet"
    assert ask(key)


@pytest.mark.parametrize(
    ("entry", "slip"),
    [pytest.param(e, s, id=f"{e.key}-{i}") for e in NUMERIC for i, s in enumerate(e.slips)],
)
def test_each_slip_gets_its_own_hint(entry, slip):
    said = check(entry.key, slip.number())
    assert said.sentence == slip.hint
    assert said.state == "not yet"


@pytest.mark.parametrize("entry", CHOICES, ids=lambda e: e.key)
def test_every_wrong_option_has_its_hint_and_letters_work(entry):
    for letter, option in zip("abcdef", entry.options):
        said = check(entry.key, letter)
        assert said == check(entry.key, option.upper())
        if option == entry.right():
            assert said.sentence == entry.explain
        else:
            assert said.sentence == entry.hints[option]


def test_unit_slips_are_named():
    assert "per second and per hour" in check("01-2", right_answer("01-2") / 3600).sentence
    assert "litres and cubic metres" in check("02-1", 0.2467).sentence
    assert "square centimetres" in check("02-3", right_answer("02-3") * 1e-4).sentence
    assert check("04-1", 4.2).state == "close"
    assert "watt hours" not in check("10-1", 1.75e6).sentence  # its own slip speaks first
    for key, factor in (("04-2", 100), ("10-6", 60), ("10-6", 100), ("07-2", 1000), ("01-2", 100)):
        assert check(key, right_answer(key) * factor).state == "not yet", key
    assert "metres per second and kilometres" in check("03-1", "32.9 m/s").sentence


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("10-1", "1,750"), ("10-1", "1 750"), ("10-1", "1\u202f750"), ("10-1", "1750 kWh"),
        ("10-1", "1,750.0kwh"), ("10-1", "1.750,0"), ("10-1", "+1750"), ("10-6", "9,2"),
        ("10-6", " 9.22 Pa "), ("01-2", "2,008"), ("01-2", "2.01 m³/h"), ("01-2", "2.01 m3/h"),
        ("04-2", "5 m³/(h·m²)"), ("01-3", "8.66 /h"), ("01-3", "8,66 1/h"), ("03-4", "63 %"),
        ("02-8", "0,644"),
    ],
)  # fmt: skip
def test_numbers_are_read_as_people_write_them(key, typed):
    assert check(key, typed).state == "right"


@pytest.mark.parametrize("typed", ["9 22", "9.22 kPa", "9,2,2", "Pa", "9.22 bar", "9.2.2"])
def test_what_is_no_number_in_the_unit_is_refused(typed):
    assert check("10-6", typed).sentence == "A number in Pa is needed."


def test_a_decimal_comma_in_code_is_told():
    assert "write 9.2." in check("10-6", 9, 2).sentence


def test_a_wrong_order_names_the_first_step_out_of_place():
    found = exercise("07-4")
    letters = right_answer(found.key)
    swapped = letters[1] + letters[0] + letters[2:]
    assert "Step 1 is out of place" in check(found.key, swapped).sentence
    assert "Hazards come before" in check(found.key, swapped).sentence
    assert "once" in check(found.key, letters[:-1]).sentence
    reason = check(found.key, letters[:-2] + letters[-1] + letters[-2]).sentence
    assert "the gain is lost" in reason


@given(st.one_of(st.none(), st.text(), st.floats(), st.lists(st.integers()), st.binary()))
def test_check_never_raises(answer):
    for key in ("01-1", "01-5", "07-4", "08-9", "03-14", "01-2/7", "nope"):
        assert check(key, answer).sentence


def test_keys_are_unique_and_sources_known():
    assert len(set(KEYS)) == len(KEYS)
    assert exercise("99-1") is None
    assert len(exercises_for("01")) == 7
    assert all(entry.source for entry in _ALL)


def test_worked_house_is_the_reference_house():
    house = worked_house()
    assert house.internal_volume == pytest.approx(353.5)
    assert house.envelope_area == pytest.approx(311.7)
    assert house.floor_area == pytest.approx(131.6)


@pytest.mark.parametrize(
    ("key", "fault", "shown"),
    [("09-5", "window opened", "step"), ("09-6", "zero changed", "curvature")],
)
def test_faulty_tests_show_the_fault_that_is_their_key(key, fault, shown):
    """The seed's key, and the symptom the points themselves show strongest."""
    from airlab.fan_test import analyse, diagnose, faulty_test

    seed = int(re.search(r"made-up test (\d+)", exercise(key).question)[1])
    made_up = faulty_test(seed=seed)
    assert made_up.fault == fault
    assert right_answer(key) == made_up.what
    assert diagnose(analyse(made_up.test))[0].symptom == shown


# ---- the bank as a whole ------------------------------------------------------------------------


def test_every_outcome_is_served_and_half_at_most_is_numbers():
    by_outcome = Counter(entry.outcome for entry in _ALL)
    assert (
        set(by_outcome)
        == set(OUTCOMES)
        == {*(f"K{i}" for i in range(1, 9)), *(f"D{i}" for i in range(1, 11)), "T1"}
    )
    assert min(by_outcome.values()) >= 4
    assert len(_ALL) >= 80
    assert 2 * len(NUMERIC) <= len(_ALL)
    assert len(MARKED) >= 10 and len(DECIDED) >= 10 and len(ORDERED) >= 8
    assert sum("Spot the error" in entry.question for entry in _ALL) >= 3
    assert sum("made-up test" in entry.question for entry in _ALL) >= 6
    assert {entry.level for entry in _ALL} == set(LEVELS)
    for notebook in range(1, 12):
        assert len(exercises_for(f"{notebook:02d}")) >= 4


@pytest.mark.parametrize("key", [*KEYS, "05-s7", "01-2/7"])
def test_each_says_outcome_level_source_and_why(key):
    entry = exercise(key)
    assert entry.outcome in OUTCOMES and entry.level in LEVELS
    assert all_sources()[entry.source].status in STATUSES
    assert len(entry.explain) > 10 and len(entry.question) > 10


@pytest.mark.parametrize("entry", _ALL, ids=lambda e: e.key)
def test_every_wrong_answer_has_its_own_hint_and_reaches_it(entry):
    wrong = entry.wrong()
    assert wrong
    for answer, hint in wrong:
        said = check(entry.key, answer)
        assert said.state in ("not yet", "close") and hint in said.sentence, (answer, said)
    said = [check(entry.key, answer).sentence for answer, _ in wrong]
    own = (
        [f"{text} {answer}" for text, (answer, _) in zip(said, wrong)]
        if isinstance(entry, Mark)
        else said
    )
    assert len(set(own)) == len(own)
    if isinstance(entry, Choice):
        assert {option for option, _ in wrong} == set(entry.options) - {entry.answer()}
    elif isinstance(entry, Justify):
        assert len(wrong) == len(entry.options) + len(entry.grounds) - 2
    elif isinstance(entry, Ordering):
        assert set(entry.reasons) == set(entry.steps[:-1])
    elif isinstance(entry, Mark):
        assert len(wrong) >= len(entry.places()) - 1


@pytest.mark.parametrize("entry", MARKED, ids=lambda e: e.key)
def test_places_are_those_of_the_drawing(entry):
    from airlab.plots.line_drawing import line_drawing

    places, right = entry.places(), entry.right()
    assert 0 < len(right) < len(places)
    drawn = line_drawing(entry.view(), marked=entry.told_names)
    assert all(f">{number}<" in drawn for number in places)
    for answer in (" ".join(map(str, right[::-1])), right, [*map(float, right)], f"{list(right)}"):
        assert check(entry.key, answer).state == "right", answer
    assert "There is no place 999" in check(entry.key, "999").sentence
    assert "Give one or more of the numbers" in check(entry.key, "").sentence
    assert f"{right[0]} " in entry.told()


# Counted on the drawings and in the rows, by eye.
COUNTED = {
    "03-13": "18", "03-14": "13 14 18", "03-15": "8 16", "03-16": "6 13 14 19", "03-17": "20",
    "03-18": "1 2", "03-19": "13 14", "03-20": "17 18", "03-21": "3 4 7 8 19", "03-22": "6 19",
    "03-23": "15 16", "03-24": "10 12", "03-25": "13 14",
}  # fmt: skip
# Decided by hand from the case as told, before the release was asked (common practice).
BY_MIND = {
    "08-6": ("cover it", "sure enough"), "08-7": ("not yet", "not looked at again"),
    "08-8": ("condition", "another area waits"), "08-9": ("not yet", "chance"),
    "08-10": ("not yet", "hazard"), "08-11": ("not yet", "too low"), "08-12": ("not yet", "seal for the day"),
    "08-13": ("not yet", "new hole"), "08-14": ("not yet", "junction"), "08-15": ("condition", "accepted"),
    "08-16": ("condition", "briefed"), "08-17": ("not yet", "layer"), "08-18": ("not yet", "laps"),
}  # fmt: skip


def test_drawings_and_cases_agree_with_what_a_person_says():
    assert {entry.key: entry.answer() for entry in MARKED} == COUNTED
    assert {entry.key for entry in DECIDED} == set(BY_MIND)
    for key, (decision, reason) in BY_MIND.items():
        option, ground = exercise(key).right()
        assert option.endswith(decision) and reason in ground, key


@pytest.mark.parametrize("entry", DECIDED, ids=lambda e: e.key)
def test_one_reason_alone_is_said_by_the_release(entry):
    from airlab.teaching.release_bank import _GROUNDS, case_release

    found, area = case_release(entry.key)
    said = " ".join((f"{area.verdict}.", *area.reasons, *found.reasons, *found.conditions))
    assert [ground for ground in entry.grounds if _GROUNDS[ground][0] in said] == [entry.right()[1]]
    code = entry.answer()
    for told in (
        code,
        code.upper(),
        f"{code[0]} {code[1]}",
        f"{code[0]}) {code[1]}",
        tuple(code),
        entry.right(),
    ):
        assert check(entry.key, told).state == "right", told
    assert "letter for the decision" in check(entry.key, code[0]).sentence
    other = next(i for i in "1234" if i != code[1])
    assert check(entry.key, code[0] + other).state == "close"


def test_the_odds_of_the_case_are_those_told():
    from airlab.teaching.release_bank import case_release

    assert case_release("08-9")[0].probability < 0.6
    assert case_release("08-6")[0].probability > 0.9


@pytest.mark.parametrize(
    ("key", "fault", "shown"),
    [("09-8", "flap", "directions apart"), ("09-9", "hose in the wind", "scatter"),
     ("09-10", "zero drifts", "zero drift"), ("09-11", "unit slip", "outlier"), ("09-12", "none", None)],
)  # fmt: skip
def test_further_faulty_tests_show_one_symptom_and_it_is_theirs(key, fault, shown):
    from airlab.fan_test import analyse, diagnose, faulty_test

    made_up = faulty_test(seed=int(re.search(r"made-up test (\d+)", exercise(key).question)[1]))
    assert made_up.fault == fault and right_answer(key) == made_up.what
    assert [one.symptom for one in diagnose(analyse(made_up.test))] == ([shown] if shown else [])


def test_materials_come_from_the_sealing_table():
    from airlab.leak_check import choose_fix

    joints = {"06-7": ("film", "masonry", 0.005), "06-8": ("cable", "film", None),
              "06-9": ("frame", "planed timber", 0.012)}  # fmt: skip
    for key, (first, second, gap) in joints.items():
        entry = exercise(key)
        accepted = {one.material for one in choose_fix(first, second, gap=gap).accepted}
        assert accepted & set(entry.options) == {entry.answer()}


def test_sizes_of_the_two_houses_and_the_gallery():
    assert 2 * 450 / 360 > 2 * 300 / 330 and right_answer("04-6") == "the compact house"
    assert right_answer("04-7") == "by floor"
    assert right_answer("04-8") == "the volume, not the house"
