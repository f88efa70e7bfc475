"""Ready details: complete, sourced, and good enough to start a line from."""

from dataclasses import replace

import pytest
from line_houses import box, drawn_house

from airlab.building import (
    CONSTRUCTIONS,
    FAMILIES,
    check_line,
    detail_for,
    family_of,
    line_details,
    line_template,
)
from airlab.building.tables import ENVELOPE_KINDS, JUNCTIONS
from airlab.building.terms import SOURCES
from airlab.files import demo_job, read_table, write_table
from airlab.words import STATUSES, InputError
from airlab.words import terms as word_terms

KEYS = {one.key: one for one in (*SOURCES, *word_terms.SOURCES)}


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_every_family_of_every_construction_is_told(construction):
    rows = line_details(construction)
    assert tuple(row.family for row in rows) == FAMILIES
    for row in rows:
        for name in row.__slots__:
            assert getattr(row, name).strip(), (row.family, name)
        assert row.status in STATUSES
        assert KEYS[row.source].status == row.status, "a row's status is that of its source"
        assert row.sentence().count("(") >= 1 and row.status in row.sentence()


def test_warnings_from_studies_carry_their_figures():
    # 0 to 31 m3/(h.m) at 50 Pa: Van Den Bossche and others 2012, abstract; half of sawn-timber foam
    # joints failed: Hallik and others 2019, abstract; 600 against 300 or 150 mm: Gullbrekken and
    # others 2012, abstract.
    frame = detail_for("timber frame with membrane", "window", "wall")
    assert "31 m³/(h·m) at 50 Pa" in frame.do_not and frame.source == "VANDENBOSSCHE_2012"
    edge = detail_for("timber frame with membrane", "floor edge", "wall")
    assert "half of such joints failed" in edge.do_not and edge.status == "read"
    assert "600 mm" in detail_for("timber frame with membrane", "ceiling", "wall").do_not


def test_families_of_pairs():
    assert family_of("wall", "wall") == family_of("wall", "wall") == "corner"
    assert family_of("roof", "ceiling") == "roof to ceiling"
    assert family_of("ceiling", "hatch") == "hatch"
    assert family_of("floor", "party wall") == "party wall"
    assert family_of("floor", "roof") == ""
    for a in ENVELOPE_KINDS:
        for b in ENVELOPE_KINDS:
            assert family_of(a, b) == family_of(b, a)
            assert family_of(a, b) in ("", *FAMILIES)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_a_template_closes_a_house_once_its_rows_are_closed(construction):
    for house in (demo_job(), box(5, 3, {1}), drawn_house()):
        rows = line_template(construction, house.rooms, house.envelope)
        assert not any(row.closed for row in rows)
        told = [row for row in rows if row.joined and row.owner and row.inspection]
        assert [row.junction for row in rows if row not in told] in (
            [], ["timber floor to kitchen slab"],
        ), "two floors side by side have no ready detail"  # fmt: skip
        found = check_line(house.rooms, house.envelope, rows)
        assert len(found.missing) == 0
        layered = [replace(area, layer=area.layer or "plaster") for area in house.envelope]
        shut = [replace(row, closed=True) for row in rows]
        assert check_line(house.rooms, layered, shut).closed
    more = line_template(construction, house.rooms, house.envelope, drawn_house().junctions)
    assert [row.junction for row in more] == [
        "timber floor to kitchen slab",
        "loft hatch to ceiling",
    ]


def test_a_blank_template_can_be_kept_as_a_table(tmp_path):
    rows = line_template("old terrace in refurbishment")
    assert len({row.junction for row in rows}) == len(rows) == 11
    path = tmp_path / "junctions.csv"
    write_table(path, JUNCTIONS, [row.to_row() for row in rows])
    assert [row["junction"] for row in read_table(path, JUNCTIONS).rows] == [
        r.junction for r in rows
    ]


def test_refused():
    for call in (lambda: line_details("straw"), lambda: line_template("straw"),
                 lambda: detail_for("straw", "wall", "wall")):  # fmt: skip
        with pytest.raises(InputError, match="Choose one of: 'timber frame"):
            call()
