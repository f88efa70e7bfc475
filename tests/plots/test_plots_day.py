"""Pictures of the day: what is drawn where, said in words, drawn with a second cue."""

import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import pytest

from airlab.files import demo_job
from airlab.leak_check import MARKS, STATES, Hole, Log, Reading, decide
from airlab.leak_check.day import make_day
from airlab.leak_check.register import hole_register, weigh_hole
from airlab.plots.day_cards import hole_card, log_card, next_acts, reading_card
from airlab.plots.decision import decision_drawing, headroom_drawing, readings_drawing
from airlab.plots.decision_card import decision_card
from airlab.plots.leak_map import leak_map, state_mark
from airlab.words import from_si, m3_per_h, mm, show_percent

SVG = "{http://www.w3.org/2000/svg}"


def read(flow, pressure=50.0, name="1"):
    return Reading(name, pressure, m3_per_h(flow), "depressurise", stage="first reading")


def number_for(flow, **parts):
    return decide(demo_job(), readings=(read(flow),), **parts).number


def words(svg):
    return [one.text for one in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def near(svg, begin):
    """Return the place across of the text that begins so."""
    root = ElementTree.fromstring(svg)
    return float(next(t for t in root.iter(f"{SVG}text") if t.text.startswith(begin)).get("x"))


@pytest.mark.parametrize("flow", [60, 400, 700, 900, 1500, 6000])
def test_decision_says_the_chance_of_the_record(flow):
    number = number_for(flow)
    svg = decision_drawing(number)
    said = words(svg)
    chance = show_percent(number.probability)
    assert ("within the limit" in said) == (number.probability > 0.02)
    assert ("beyond it" in said) == (number.probability < 0.98)
    assert f"chance to keep the limit {chance}" in ElementTree.fromstring(svg).get("aria-label")
    if number.probability > 0.02:
        assert chance in said


def test_decision_stands_in_order_along_the_axis():
    svg = decision_drawing(number_for(480))
    assert (
        near(svg, "read today 480")
        < near(svg, "needed: at most")
        < near(svg, "limit at the end 903")
    )
    beyond = decision_drawing(number_for(1200))
    assert near(beyond, "read today 1200") > near(beyond, "limit at the end 903")


def test_decision_units_and_a_certain_end():
    number = number_for(400)
    assert "leakage flow at 50 Pa [cfm]" in words(decision_drawing(number, "us"))
    sure = replace(number, spread=0.0)
    ElementTree.fromstring(decision_drawing(sure))


def test_nothing_left_draws_no_mark_to_reach():
    number = replace(number_for(400), pass_flow=0.0)
    assert not [one for one in words(decision_drawing(number)) if one.startswith("needed")]


def test_readings_are_drawn_in_order_with_what_is_expected():
    readings = tuple(read(900 - 60 * i, name=str(i + 1)) for i in range(7))
    day = make_day(demo_job(), readings=readings)
    said = words(readings_drawing(day))
    assert [one for one in said if one.startswith("no. ")] == [f"no. {i}" for i in range(3, 8)]
    assert any(one.startswith("expected today ") for one in said)
    assert "no reading yet" in words(readings_drawing(make_day(demo_job())))


def test_headroom_of_a_hole():
    hole = Hole("1", area="north wall hall", diameter=mm(50))
    number = number_for(400, holes=(hole,))
    register = hole_register((hole,), number)
    draft = weigh_hole(Hole("2", diameter=mm(100)), number)
    svg = headroom_drawing(register, number, draft)
    left = draft.left
    title = ElementTree.fromstring(svg).get("aria-label")
    assert ("left " if left >= 0 else "over by ") in words(svg)[-1] and "A new hole" in title
    without = number_for(400).pass_flow  # a hole takes from the mark that stood before it
    whole = number.pass_flow + register.open_flow * number.mark
    assert whole == pytest.approx(without)
    assert any(f"{from_si(whole, 'm3/h'):.0f}" in one for one in words(svg))


def test_every_state_has_a_sign_and_an_outline_of_its_own():
    assert set(MARKS) == set(STATES)
    assert len(set(MARKS.values())) == len(STATES)
    assert len({state_mark(state, 0.0, 0.0) for state in STATES}) == len(STATES)


def test_map_puts_tags_into_rooms_and_counts_what_does_not_fit():
    log = Log()
    for number in range(1, 11):
        log = log.found(number, room="bathroom", height="low")
    log = log.found(11, room="Cellar of the neighbour").found(12, place="no room")
    svg = leak_map(demo_job().rooms, log)
    said = words(svg)
    assert "12 leaks" in ElementTree.fromstring(svg).get("aria-label")
    assert "1" in said and "+8" in said and "10" not in said
    assert "no room of the list" in said and {"11", "12"} <= set(said)
    assert "Store" not in said, "a room that is not tested has no box"
    assert said.index("first") < said.index("ground"), "the upper storey stands above"


def test_cards_escape_and_say_next_acts():
    log = Log().found(1, room="Hall", place="<b>door</b>").sealed(1, "<i>tape</i>")
    card = log_card(log, demo_job().rooms, chosen=1)
    assert "<b>door" not in card and "<i>tape" not in card
    assert "may be: " in card and "re-check" in card
    assert ("re-check", "rechecked") in next_acts(log.leak(1))


def test_reading_card_flags_and_gain():
    day = make_day(
        demo_job(), readings=(read(900, name="1"), replace(read(700, name="2"), aperture="B"))
    )
    card = reading_card(day)
    assert "aperture was changed" in card and "No zero-flow pressure was read" in card


def test_decision_card_with_and_without_a_number():
    none = decision_card(decide(demo_job()))
    assert "NO NUMBER" in none and "<svg" not in none
    card = decision_card(decide(demo_job(), readings=(read(400),)))
    for part in ("final internal volume", "310 m³", "301 m²", "What moves the chance most",
                 "assumptions", "A person signs", "not a certificate"):  # fmt: skip
        assert part in card, part
    assert "<details>" in card and "Illustrations" in card


def test_hole_card_without_a_number():
    assert "No hole is entered yet." in hole_card(hole_register(()))
