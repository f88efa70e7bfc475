"""The line: every pen lift found, on the demo, on a drawing, on boxes; the graph decides."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from line_houses import box, drawn_house

from airlab.building import (
    EnvelopeElement,
    Junction,
    Room,
    check_line,
    junction_lengths,
    line_template,
    line_views,
    with_lengths,
)
from airlab.building.line_graph import OUTSIDE, line_graph
from airlab.files import demo_job
from airlab.leak_check import Hole, Trade
from airlab.words import InputError
from airlab.words.saying import alike

DEMO = demo_job()
DRAWN = drawn_house()


def lifts(house, **changed):
    house = house._replace(**changed)
    return check_line(house.rooms, house.envelope, house.junctions, house.holes)


def closed(junctions):
    return tuple(replace(joint, closed=True) for joint in junctions)


# Known answers: the demo house and the drawing, counted by hand on paper.


def test_the_demo_has_one_lift():
    found = check_line(DEMO.rooms, DEMO.envelope, DEMO.junctions, DEMO.holes, DEMO.trades)
    assert [lift.name for lift in found.lifts] == ["floor edge north"]
    assert found.sentence() == (
        "The line is open: 1 pen lift in 14 elements, 23 junctions. 6. floor edge north (floor "
        "edge to north wall): open, 19.2 m, carpenter."
    )
    (way,) = found.paths
    assert way.sentence() == "From Hall through floor edge north (open) to the outside."
    assert found.warnings == ()
    assert found.holes[0].sentence() == "electrician: 12 holes expected, 0 made, 0 of them open."
    assert "63 ft" in found.sentence(units="us")
    shut = check_line(DEMO.rooms, DEMO.envelope, closed(DEMO.junctions))
    assert shut.closed
    assert "no way out that crosses no layer" in shut.sentence()


@pytest.mark.parametrize("row", range(23), ids=[j.junction for j in DEMO.junctions])
def test_each_junction_of_the_demo_left_out_is_missed(row):
    rows = closed(DEMO.junctions)
    found = check_line(DEMO.rooms, DEMO.envelope, rows[:row] + rows[row + 1 :])
    (lift,) = found.lifts
    assert lift.why == "missing"
    assert not found.closed
    assert alike(lift.element_a) in rows[row].ends
    assert set(map(alike, lift.element_b.split(" or "))) & set(rows[row].ends)
    if lift.length is not None:
        assert lift.length == pytest.approx(rows[row].length, rel=0.01)


def test_every_mistake_of_the_drawing_is_found():
    found = lifts(DRAWN)
    assert [(lift.name, lift.why) for lift in found.lifts] == [
        ("boards to gable", "no layer"),
        ("slab to gable", "no layer"),
        ("front corner", "no layer"),
        ("back corner", "no layer"),
        ("edge to gable", "no layer"),
        ("ceiling to gable", "no layer"),
        ("ceiling to party", "open"),
        ("back door frame", "open"),
        ("timber floor to kitchen slab", "missing"),
        ("loft hatch to ceiling", "missing"),
        ("hole waste", "hole"),
    ]
    assert len(found.paths) == len(found.lifts)
    assert [lift.number for lift in found.lifts] == [2, 5, 7, 8, 13, 17, 18, 22, 24, 25, 26]
    assert "Nobody owns ceiling to party." in found.warnings
    ways = {path.lift.name: path.sentence() for path in found.paths}
    assert ways["ceiling to party"] == (
        "From Front bedroom through ceiling to party (open) into the loft, and so to the outside."
    )
    assert found.lift_at("Loft Hatch to ceiling").cure.startswith("Enter the junction")
    assert [lift.owner for lift in found.lifts].count("plasterer") == 4
    assert "shed wall" not in [one.name for one in found.elements]


def test_the_drawing_put_right_is_closed():
    plastered = tuple(
        replace(area, layer="lime plaster") if area.element == "gable wall" else area
        for area in DRAWN.envelope
    )
    rows = (
        *closed(DRAWN.junctions),
        Junction("floors", "timber floor", "kitchen slab", closed=True),
        Junction("hatch", "loft hatch", "ceiling", closed=True),
    )
    sealed = tuple(replace(hole, sealed_with="collar", checked=True) for hole in DRAWN.holes)
    found = lifts(DRAWN, envelope=plastered, junctions=rows, holes=sealed)
    assert found.closed
    assert not found.lifts
    assert not lifts(DRAWN, envelope=plastered, junctions=rows).closed, "one hole is open"


def test_two_that_do_not_meet_are_settled_by_a_row():
    house = box(4, 1)
    rows = tuple(
        replace(row, joined="Do not  meet") if row.junction == "floor to wall 0" else row
        for row in house.junctions
    )
    assert lifts(house, junctions=rows).closed


# Limits.


@pytest.mark.parametrize("missing", ["floor", "ceiling or roof"])
def test_a_box_without_floor_or_roof_is_open(missing):
    house = box(4, 1)
    kind = "floor" if missing == "floor" else "ceiling"
    envelope = tuple(area for area in house.envelope if area.kind != kind)
    rows = tuple(row for row in house.junctions if kind not in row.ends)
    (lift,) = lifts(house, envelope=envelope, junctions=rows).lifts
    assert lift.why == "no element"
    assert lift.name == f"no {missing} on storey storey 0"
    assert len(lift.rooms) == 4


def test_one_room_without_its_floor_is_open():
    house = box(4, 1)
    envelope = tuple(area for area in house.envelope if area.area != "floor room 0.2")
    (lift,) = lifts(house, envelope=envelope).lifts
    assert (lift.why, lift.rooms) == ("no element", ("room 0.2",))


def test_walls_that_are_one_element_have_no_corner():
    hut = Room("Hut", "ground", 3.0, 2.0, 2.2)
    shell = [
        EnvelopeElement(n, n, k, "Hut", 6.0, "board")
        for n, k in (("floor", "floor"), ("walls", "wall"), ("roof", "roof"))
    ]
    rows = [Junction("sill", "floor", "walls", closed=True),
            Junction("eaves", "roof", "walls", closed=True)]  # fmt: skip
    assert check_line([hut], shell, rows).closed
    bare = [*shell, EnvelopeElement("patch", "walls", "wall", "Hut", 1.0, "")]
    (lift,) = check_line([hut], bare, rows).lifts
    assert (lift.name, lift.why) == ("walls", "no layer")
    assert "patch" in lift.cure


def test_gables_under_a_roof_meet_the_roof():
    loft = Room("Loft room", "top", 5.0, 4.0, 2.2)
    shell = [
        EnvelopeElement(n, n, k, "Loft room", 8.0, "film")
        for n, k in (("floor", "floor"), ("east gable", "wall"), ("west gable", "wall"), ("roof", "roof"))
    ]  # fmt: skip
    rows = [
        Junction(f"{a} {b}", a, b, closed=True)
        for a in ("floor", "roof") for b in ("east gable", "west gable")
    ]  # fmt: skip
    assert check_line([loft], shell, rows).closed


def shell(rooms, walls):
    """Return floor, ceiling and these walls, each seen from every room."""
    kinds = {"floor": "floor", "ceiling": "ceiling"} | dict.fromkeys(walls, "wall")
    return [
        EnvelopeElement(f"{name} {room.name}", name, kind, room.name, 10.0, "board")
        for name, kind in kinds.items() for room in rooms
    ]  # fmt: skip


@pytest.mark.parametrize(
    "walls", [("north", "south", "east", "west"), ("front", "back", "left side", "right side")]
)
def test_walls_that_face_each_other_are_not_asked_to_meet(walls):
    rooms = [Room("One room", "ground", 5.0, 4.0, 2.5)]
    rows = line_template("masonry with wet plaster", rooms, shell(rooms, walls))
    corners = [set(row.ends) for row in rows if not {"floor", "ceiling"} & set(row.ends)]
    assert len(corners) == 4
    assert {walls[0], walls[1]} not in corners and {walls[2], walls[3]} not in corners


def test_a_house_one_room_deep():
    # Rooms side by side, each from front to back: its end walls leave only one choice.
    rooms = [Room(name, "ground", 3.0, 5.0, 2.5) for name in ("A", "B", "C")]
    areas = [a for a in shell(rooms, ("w1", "w2", "w3", "w4"))
             if not (a.element == "w3" and a.room != "A") and not (a.element == "w4" and a.room != "C")]  # fmt: skip
    rows = line_template("masonry with wet plaster", rooms, areas)
    corners = [set(row.ends) for row in rows if not {"floor", "ceiling"} & set(row.ends)]
    assert {"w1", "w2"} not in corners and {"w3", "w4"} not in corners
    assert len(corners) == 4
    assert check_line(rooms, areas, closed(rows)).closed


def test_two_walls_need_both_corners():
    room = Room("Room", "ground", 5.0, 4.0, 2.5)
    shell = [
        EnvelopeElement(n, n, k, "Room", 20.0, "board")
        for n, k in (("floor", "floor"), ("outer walls", "wall"), ("party wall", "party wall"), ("ceiling", "ceiling"))
    ]  # fmt: skip
    rows = [
        Junction(f"{a} {b}", a, b, closed=True)
        for a in ("floor", "ceiling") for b in ("outer walls", "party wall")
    ]  # fmt: skip
    corner = Junction("corner", "outer walls", "party wall", closed=True)
    (lift,) = check_line([room], shell, [*rows, corner]).lifts
    assert lift.why == "missing"
    assert "count 2" in lift.cure
    for both in (replace(corner, count=2), replace(corner, length=5.0)):
        assert check_line([room], shell, [*rows, both]).closed
    assert not check_line([room], shell, [*rows, replace(corner, length=2.5)]).closed


def test_floor_edges_not_spoken_of_are_warned_about():
    house = box(4, 2)
    envelope = tuple(area for area in house.envelope if area.kind != "floor edge")
    rows = tuple(row for row in house.junctions if "edge 0" not in row.ends)
    found = lifts(house, envelope=envelope, junctions=rows)
    assert found.closed
    assert "edges of the floors" in found.warnings[0]


# Invariants. The oracle for closed or open is another library's search: scipy.sparse.csgraph.

BOXES = st.builds(
    box, st.integers(3, 7), st.integers(1, 3), st.sets(st.integers(0, 2)),
    st.sampled_from(["ceiling", "roof"]),
)  # fmt: skip


def connected(found):
    """Whether some room and the outside are in one part of the graph, by csgraph."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    links = line_graph(found.lifts, {alike(one.name): one for one in found.elements})
    places = {node: place for place, node in enumerate(links)}
    pairs = np.array([(places[a], places[b]) for a in links for b in links[a]]).T
    graph = coo_array((np.ones(pairs.shape[1]), pairs), shape=(len(places), len(places)))
    parts = connected_components(graph, directed=False)[1]
    rooms = [places[node] for node in links if isinstance(node, tuple)]
    return any(parts[place] == parts[places[OUTSIDE]] for place in rooms)


@given(BOXES)
@settings(max_examples=40, deadline=None)
def test_all_junctions_closed_close_the_line(house):
    found = lifts(house)
    assert found.closed
    assert not found.lifts
    assert not connected(found)


@given(BOXES, st.data())
@settings(max_examples=60, deadline=None)
def test_removing_or_opening_any_one_opens_exactly_it(house, data):
    row = data.draw(st.integers(0, len(house.junctions) - 1))
    joint = house.junctions[row]
    left = house.junctions[:row] + house.junctions[row + 1 :]
    (gone,) = lifts(house, junctions=left).lifts
    assert gone.why == "missing"
    assert alike(gone.element_a) in joint.ends
    assert set(map(alike, gone.element_b.split(" or "))) & set(joint.ends)
    opened = (*house.junctions[:row], replace(joint, closed=False), *house.junctions[row + 1 :])
    found = lifts(house, junctions=opened)
    assert [(lift.name, lift.why, lift.number) for lift in found.lifts] == [
        (joint.junction, "open", row + 1)
    ]
    assert connected(found) and not found.closed


@given(BOXES, st.data())
@settings(max_examples=40, deadline=None)
def test_any_set_taken_out_is_never_called_closed(house, data):
    out = data.draw(st.sets(st.integers(0, len(house.junctions) - 1), min_size=1))
    rows = tuple(row for i, row in enumerate(house.junctions) if i not in out)
    found = lifts(house, junctions=rows)
    assert not found.closed
    assert connected(found)
    named = {
        alike(end)
        for lift in found.lifts
        for end in (lift.element_a, *lift.element_b.split(" or "))
    }
    for i in out:
        assert set(house.junctions[i].ends) & named


@given(BOXES, st.integers(0, 30))
@settings(max_examples=40, deadline=None)
def test_an_element_without_layer_opens_all_its_junctions(house, which):
    names = list(dict.fromkeys(area.element for area in house.envelope))
    bare = names[which % len(names)]
    envelope = tuple(replace(a, layer="" if a.element == bare else a.layer) for a in house.envelope)
    found = lifts(house, envelope=envelope)
    touching = [row.junction for row in house.junctions if alike(bare) in row.ends]
    assert [lift.name for lift in found.lifts] == touching
    assert {lift.why for lift in found.lifts} == {"no layer"}


def test_two_thousand_junctions():
    house = box(380, 3, windows=tuple(range(100)))
    rows = house.junctions
    assert len(rows) == 2000
    assert lifts(house, junctions=rows).closed
    found = lifts(house, junctions=(*rows[:700], replace(rows[700], closed=False), *rows[701:]))
    assert [lift.name for lift in found.lifts] == [rows[700].junction]
    views = line_views(house.rooms, house.envelope, rows)
    assert len(views.marks) == 2000
    assert "more." in views.sentence()


# Lengths.


def test_typed_lengths_of_the_demo_are_those_of_its_walls():
    lengths = junction_lengths(DEMO.rooms, DEMO.envelope, DEMO.junctions)
    assert len(lengths) == 23
    assert all(one.agrees for one in lengths)
    given_by_geometry = [one for one in lengths if one.computed is not None]
    assert len(given_by_geometry) == 16, "all but the frames"
    for one in given_by_geometry:
        assert one.computed == pytest.approx(one.typed, rel=0.005)
    sills = [one.length for one in lengths if one.junction.junction.startswith("sill")]
    assert sum(sills) == pytest.approx(32.8, rel=0.002)


def test_lengths_are_filled_in_where_none_is_typed_and_slips_are_said():
    blank = tuple(replace(joint, length=None) for joint in DEMO.junctions)
    filled = with_lengths(DEMO.rooms, DEMO.envelope, blank)
    assert [joint.length for joint in filled[:4]] == pytest.approx([9.6, 9.6, 6.8, 6.8], abs=0.01)
    assert filled[16].length is None
    wrong = (replace(DEMO.junctions[0], length=6.9), replace(DEMO.junctions[16], length=10.0))
    first, second = junction_lengths(DEMO.rooms, DEMO.envelope, (*wrong, *DEMO.junctions[17:]))[:2]
    assert not first.agrees
    assert "6.9 m typed" in first.sentence() and "Look again" in first.sentence()
    assert "at least 23.6 m" in second.sentence()
    assert "ft" in second.sentence(units="us")


# Drawings.


def test_plan_and_sections_hold_every_junction_of_the_demo():
    views = line_views(DEMO.rooms, DEMO.envelope, DEMO.junctions)
    assert [view.name for view in views.drawings] == [
        "Plan, ground storey", "Section A, through the stair", "Section B, through the eaves",
    ]  # fmt: skip
    assert views.rest == ()
    drawn = {mark.number for view in views.drawings for mark in view.marks}
    assert drawn == set(range(1, 24))
    assert [wall.element.name for wall in views.plan.walls] == [
        "south wall", "east wall", "north wall", "west wall",
    ]  # fmt: skip
    assert views.where("floor edge north").key == "section A"
    assert views.where("nothing") is None
    first = line_views(DEMO.rooms, DEMO.envelope, DEMO.junctions, storey="first")
    assert first.plan.storey == "first"
    assert {"Bathroom", "Landing"} <= {name for name, _ in first.plan.rooms}


def test_marks_say_state_owner_and_length():
    views = line_views(DEMO.rooms, DEMO.envelope, DEMO.junctions)
    states = {mark.name: mark.sentence() for mark in views.marks}
    assert states["sill south"] == (
        "1. sill south (ground floor to south wall): closed, 9.6 m, carpenter."
    )
    assert "open, 19.2 m" in states["floor edge north"]


@given(BOXES)
@settings(max_examples=30, deadline=None)
def test_views_are_drawn_of_any_box(house):
    views = line_views(house.rooms, house.envelope, house.junctions)
    walls = {alike(wall.element.name) for wall in views.plan.walls}
    assert len(walls) == len(views.plan.walls)
    assert all(wall.corner for wall in views.plan.walls), "neighbours in the ring are joined"
    for section in views.sections:
        assert all(section.corners[f"floor {side}"] for side in ("left", "right"))
        assert len({mark.number for mark in section.marks}) == len(section.marks)


# Refused input.


def test_refused():
    rooms, envelope, rows = DEMO.rooms, DEMO.envelope, DEMO.junctions
    shed = [EnvelopeElement("wall", "wall", "wall", "Store", 5.0, "board")]
    for call, why in (
        (lambda: Junction("sill", "floor", ""), "names one element"),
        (lambda: check_line(rooms, envelope, [Junction("lap", "Floor", "floor ")]), "with itself"),
        (lambda: check_line(rooms, envelope, [*rows, rows[0]]), "Used twice .* junction: sill south"),
        (lambda: check_line(rooms, [*envelope, envelope[0]], rows), "name of a area|name of an area"),
        (lambda: check_line(rooms, (), rows), "no elements"),
        (lambda: check_line(rooms, shed, ()), "no elements"),
        (lambda: check_line((), envelope, rows), "encloses nothing"),
        (lambda: line_views(rooms, envelope, rows, storey="attic"), "Storey is 'attic'"),
    ):  # fmt: skip
        with pytest.raises(InputError, match=why):
            call()


def test_a_junction_to_an_unknown_element_is_a_lift():
    rows = (*closed(DEMO.junctions), Junction("porch", "porch", "north wall", closed=True))
    (lift,) = check_line(DEMO.rooms, DEMO.envelope, rows).lifts
    assert (lift.name, lift.why) == ("porch", "no layer")
    assert "porch is no element of this house" in lift.cure


def test_holes_count_until_sealed():
    rows = closed(DEMO.junctions)
    hole = Hole("h1", "plumber", "ceiling bathroom")
    found = check_line(
        DEMO.rooms, DEMO.envelope, rows, [hole], [Trade("Plumber", holes_expected=5)]
    )
    assert found.paths[0].sentence() == (
        "From Bathroom through hole h1 (hole) into the loft, and so to the outside."
    )
    assert found.holes[0].sentence() == "Plumber: 5 holes expected, 1 made, 1 of them open."
    sealed = [replace(hole, sealed_with="collar")]
    found = check_line(DEMO.rooms, DEMO.envelope, rows, sealed)
    assert found.closed
    assert "not looked at: holes h1" in found.warnings[0]
