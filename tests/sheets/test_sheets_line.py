"""The line sheet: lifts with what closes them, plan and sections, for any job."""

import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "building"))
from line_houses import drawn_house

from airlab.building import Junction
from airlab.files import demo_job
from airlab.sheets import document
from airlab.sheets.facts import facts_of
from airlab.sheets.house import line_page
from airlab.sheets.second_fix import trades_page

NOON = datetime(2027, 4, 12, 12, 0, tzinfo=UTC)


def page(job, make=line_page):
    return make(facts_of(job, moment=NOON))


def drawn_job():
    house = drawn_house()
    return replace(demo_job(), rooms=house.rooms, envelope=house.envelope, holes=house.holes,
                   junctions=house.junctions)  # fmt: skip


def test_the_demo_page_has_its_lift_and_three_drawings():
    made = page(demo_job())
    assert "pen lifts in all 1" in made.sentence()
    assert "Where the pen lifts" in made.body and "◇ open" in made.body
    assert "Join as drawn: lapped 150 mm" in made.body
    assert made.body.count('role="img" aria-label="Plan') == 1
    assert made.body.count('role="img" aria-label="Section') == 2
    assert "xmlns" not in made.body
    assert "The line is closed on paper" not in made.body


def test_every_lift_of_the_drawing_is_on_the_page():
    made = page(drawn_job())
    for words in ("△ no layer", "□ missing", "◎ hole", "ceiling to party", "loft hatch to ceiling",
                  "nobody yet", "front frames: 9.4 m typed, but", "Not cut by these drawings"):  # fmt: skip
        assert words in made.body, words
    assert "pen lifts in all 11" in made.sentence()


def test_a_closed_line_says_so_and_that_it_is_paper():
    closed = tuple(replace(joint, closed=True) for joint in demo_job().junctions)
    made = page(replace(demo_job(), junctions=closed))
    assert "The line is closed on paper" in made.body
    assert "Where the pen lifts" not in made.body


def test_a_line_that_cannot_be_drawn_still_prints_its_tables():
    own = Junction("lap", "south wall", "south wall")
    made = page(replace(demo_job(), junctions=(*demo_job().junctions, own)))
    assert "joins an element with itself" in made.body
    assert "<svg" not in made.body
    assert "The line is open at:" in made.body


def test_us_units():
    made = page(replace(demo_job(), units="us"))
    assert "63 ft" in made.body


def test_owners_of_open_junctions_get_a_card():
    made = page(demo_job(), trades_page)
    assert "carpenter: junctions still open" in made.body
    assert made.body.index("floor edge north: floor edge to north wall, OPEN") < made.body.index(
        "sill south"
    )
    closed = tuple(replace(joint, closed=True) for joint in demo_job().junctions)
    assert "carpenter" not in page(replace(demo_job(), junctions=closed), trades_page).body


@pytest.mark.parametrize("job", [demo_job(), drawn_job()], ids=["demo", "drawn"])
def test_it_prints_from_one_file(job):
    html = document([page(job)], "Line")
    assert html.count("<svg") == html.count("</svg>") == 3
    assert "http" not in html.split("</title>", 1)[1]
