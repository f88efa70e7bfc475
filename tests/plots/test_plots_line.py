"""The drawn line: well-formed, named, honest, and without colour still told."""

import re
import sys
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "building"))
from line_houses import box, drawn_house

from airlab.building import LIFTS, check_line, line_views
from airlab.files import demo_job
from airlab.leak_check import make_plan
from airlab.plots.line_drawing import line_drawing
from airlab.plots.line_parts import lift_list, line_tiles, mark_list
from airlab.plots.line_shapes import SHAPES, lift_shape

DEMO = demo_job()
NASTY = "<b onload='x()'>&"


def views(house, **more):
    return line_views(house.rooms, house.envelope, house.junctions, **more)


def words(svg):
    return [
        one.text or "" for one in ElementTree.fromstring(svg).iter() if one.tag.endswith("text")
    ]


@pytest.mark.parametrize("house", [DEMO, drawn_house(), box(3, 1), box(7, 3, {0, 4}, "roof")],
                         ids=["demo", "drawn", "three walls", "seven walls"])  # fmt: skip
def test_drawings_say_what_they_are(house):
    for view in views(house).drawings:
        for marked in (True, False):
            made = line_drawing(view, marked=marked)
            root = ElementTree.fromstring(made)
            assert root.get("role") == "img"
            assert root.get("aria-label").startswith(view.name)
            assert "schematic, not to scale" in words(made)
            assert " id=" not in made
            for number in re.findall(r'[xy]\d?="(-?[\d.]+)"', made):
                assert -1.0 <= float(number) <= 600.0, "nothing is drawn outside the card"


def test_a_lift_is_told_by_number_shape_and_word():
    section = views(DEMO).sections[0]
    made = line_drawing(section)
    assert "open" in words(made) and "6" in words(made)
    assert lift_shape("open", 0, 0)[:20].count("path")
    assert "1 pen lifts: 6 floor edge north, open" in made
    shut = tuple(replace(joint, closed=True) for joint in DEMO.junctions)
    closed = line_drawing(line_views(DEMO.rooms, DEMO.envelope, shut).sections[0])
    assert "no pen lift in this drawing" in words(closed)
    assert "open" not in words(closed)
    shapes = {why: re.sub(r"[\d.-]+", "", lift_shape(why, 0, 0)) for why in LIFTS}
    assert set(SHAPES) == set(LIFTS)
    assert len({lift_shape(why, 0, 0) for why in LIFTS}) == len(shapes), "every reason has its own"


def test_the_exercise_tells_nothing_but_gaps():
    section = views(DEMO).sections[0]
    made = line_drawing(section, marked=False)
    assert "open" not in words(made)
    assert "floor edge north" not in made
    assert "6 gap" in made, "who cannot see the picture can count, too"
    assert "5 joined" in made


def test_a_bare_element_is_dotted_and_says_so():
    plan = views(drawn_house()).plan
    made = line_drawing(plan)
    assert 'stroke-dasharray="1 7"' in made
    assert "gable wall: no layer named" in words(made)
    assert "no layer" in words(made)


def test_what_people_typed_is_escaped():
    house = drawn_house()
    rows = (
        replace(house.junctions[0], junction=NASTY, owner=NASTY, closed=False),
        *house.junctions[1:],
    )
    areas = tuple(replace(area, layer=NASTY) for area in house.envelope)
    found = line_views(house.rooms, areas, rows)
    pieces = [line_drawing(view) for view in found.drawings]
    pieces += [mark_list(found.marks), lift_list(found.check), line_tiles(found.check)]
    for piece in pieces:
        assert "<b onload" not in piece
    for piece in pieces[:3]:
        ElementTree.fromstring(piece)


def test_lists_and_tiles():
    found = views(DEMO)
    marks = mark_list(found.sections[0].marks, chosen=6)
    assert marks.count("aria-current=true") == 1
    assert "◇ open" in marks and "● down" in marks and "19.2 m" in marks
    lifts = lift_list(found.check)
    assert '<li value="6">' in lifts and "Join as drawn" in lifts
    assert "63 ft" in lift_list(found.check, units="us")
    tiles = line_tiles(found.check, make_plan(DEMO))
    assert "to expect at 50 Pa" in tiles and "<b>1</b> <span>pen lift</span>" in tiles
    closed = tuple(replace(joint, closed=True) for joint in DEMO.junctions)
    assert "No pen lift" in lift_list(check_line(DEMO.rooms, DEMO.envelope, closed))


def test_a_big_house_draws_dots_and_counts_the_rest():
    house = box(300, 1)
    found = views(house)
    made = line_drawing(found.plan)
    assert len(made) < 400_000
    assert "and 500 more" in mark_list(found.marks), "300 floor, 300 ceiling, 300 corners less 400"


@given(st.integers(1, 4), st.integers(3, 8), st.floats(0.3, 30.0), st.floats(0.3, 30.0))
@settings(max_examples=30, deadline=None)
def test_any_shape_of_house_stays_on_the_card(storeys, walls, long, tall):
    house = box(walls, storeys)
    rooms = tuple(replace(room, height=min(tall, 20.0)) for room in house.rooms)
    areas = tuple(replace(area, area_m2=long) for area in house.envelope)
    for view in line_views(rooms, areas, house.junctions).drawings:
        made = line_drawing(view)
        ElementTree.fromstring(made)
        assert "nan" not in made and "inf" not in made
        for number in re.findall(r'[xy]\d?="(-?[\d.]+)"', made):
            assert -1.0 <= float(number) <= 600.0
