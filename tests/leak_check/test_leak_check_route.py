"""The search route: from this job's own rooms, areas, openings and junctions."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building import EnvelopeElement, Junction, Room
from airlab.design import budget_entries
from airlab.files import demo_job
from airlab.leak_check import HEIGHTS, PHASES, Log, Opening, Trade, make_plan, search_route
from airlab.leak_check.where_leaks import budget_places
from airlab.words import InputError

DONE = "complete and visible"


def lap(route):
    return route.phase("room by room")


def test_order_of_the_walk(house):
    # Common practice: before the fan, big and obvious, then storey by storey, room by room, low
    # to high, and the seals at the end
    route = make_plan(house).route
    phases = [PHASES.index(stop.phase) for stop in route.stops]
    assert phases == sorted(phases)
    assert [stop.number for stop in route.stops] == list(range(1, len(route.stops) + 1))
    rooms = list(dict.fromkeys(stop.room for stop in lap(route)))
    assert rooms == ["Parlour", "Attic room"]
    for room in rooms:
        heights = [HEIGHTS.index(stop.height) for stop in lap(route) if stop.room == room]
        assert heights == sorted(heights)
    assert "count must match" in route.stops[-2].why


def test_joints_then_windows_then_penetrations(house):
    # Review of leakage paths by SINTEF (abstract, read): most common are the joints of wall to
    # floor and ceiling, then wall to window and door, then penetrations of the barrier
    room = house.rooms[:1]
    areas = (
        EnvelopeElement("w", "wall", "wall", "Parlour", 40.0, "board", DONE),
        EnvelopeElement("win", "window", "window", "Parlour", 4.0, "frame", DONE),
        EnvelopeElement("corner wall", "gable", "wall", "Parlour", 40.0, "board", DONE),
    )
    joints = (Junction("corner", "wall", "gable", closed=True),)
    (stop,) = lap(search_route(room, areas, (), joints))
    assert (
        stop.place.index("joints: corner") < stop.place.index("win") < stop.place.index("sockets")
    )


def test_junction_stands_in_the_rooms_of_both_its_elements(house):
    route = make_plan(house).route
    sole = [stop for stop in lap(route) if "sole plate" in stop.place]
    assert [(stop.room, stop.height) for stop in sole] == [("Parlour", "low")]
    eaves = [stop for stop in lap(route) if "eaves" in stop.place]
    assert [(stop.room, stop.height) for stop in eaves] == [("Attic room", "high")]


def test_an_open_lap_and_an_open_junction_stand_alone(house):
    row = replace(house.envelope[4], status="open laps")
    joint = replace(house.junctions[0], closed=False)
    plan = make_plan(house, envelope=(*house.envelope[:4], row), junctions=(joint,))
    assert any(stop.place.startswith("attic roof: lap by lap") for stop in lap(plan.route))
    assert any("joint not closed yet" in stop.place for stop in lap(plan.route))
    assert any("billows" in warning for warning in plan.route.warnings)


def test_covered_and_not_started_areas(house):
    rows = (
        replace(house.envelope[0], status="covered"),
        replace(house.envelope[1], status="not started"),
    )
    route = make_plan(house, envelope=(*rows, *house.envelope[2:])).route
    assert any("covered, so skirting" in stop.place for stop in lap(route))
    assert any(
        "parlour wall: no layer yet" in stop.place for stop in route.phase("big and obvious")
    )
    assert not any("parlour wall" in stop.areas for stop in lap(route))


def test_faults_first_then_hatches_and_ducts(house):
    openings = (
        Opening("duct", "duct", "Parlour", "sealed", free_area=100e-4),
        Opening("hatch", "hatch", "Attic room", "closed"),
        Opening("window", "window", "Attic room", "closed", found="ajar"),
        Opening("second window", "window", "Attic room", "closed"),
    )
    big = make_plan(house, openings=openings).route.phase("big and obvious")
    assert [stop.place.split(":")[0] for stop in big] == ["window", "hatch", "duct"]
    assert "found ajar, wanted closed" in big[0].why
    assert "201 m³/h at 50 Pa" in big[2].why
    house.settings["units"] = "us"
    big = make_plan(house, openings=openings).route.phase("big and obvious")
    assert "118 cfm at 50 Pa" in big[2].why


def test_direction_changes_the_methods(house):
    pull = search_route(house.rooms, house.envelope[:5])
    push = search_route(house.rooms, house.envelope[:5], direction="pressurise")
    assert any("damp hand" in stop.method for stop in lap(pull))
    assert not any("damp hand" in stop.method for stop in lap(push))
    assert any("watches eaves" in stop.method for stop in lap(push))
    assert [stop.place for stop in pull.stops] == [stop.place for stop in push.stops]


def test_camera_only_with_contrast(house):
    cold = {"inside": 20.0, "outside": 5.0}
    with_camera = search_route(house.rooms, house.envelope[:5], temperatures=cold)
    assert any("thermal camera, then" in stop.method for stop in lap(with_camera))
    # A US diary (read): too warm for the camera, smoke pencil instead
    mild = search_route(
        house.rooms, house.envelope[:5], temperatures={"inside": 20.0, "outside": 17.0}
    )
    assert not any("thermal camera, then" in stop.method for stop in lap(mild))
    assert "no camera" in mild.warnings[0]


def test_pressures(house):
    full = search_route(house.rooms, house.envelope[:5], reached=80.0)
    assert {stop.pressure for stop in lap(full)} == {50.0, 25.0}
    weak = search_route(house.rooms, house.envelope[:5], reached=18.0)
    assert {stop.pressure for stop in lap(weak)} == {18.0}
    off = search_route(house.rooms, house.envelope[:5], fan_runs=False)
    assert {stop.pressure for stop in off.stops} == {None}
    assert "fan off" in off.sentence()


def test_doors(house):
    route = make_plan(house).route
    assert "hand's width" in lap(route)[0].doors
    assert "doors to Shed shut" in route.stops[0].doors


def test_sealed_leaks_are_looked_at_first(house):
    log = Log().found(1, room="Parlour", place="pipe", height="low").sealed(1, "collar")
    (stop,) = make_plan(house, leaks=log).route.phase("look again")
    assert "leak 1: pipe" in stop.place
    assert "collar" in stop.why


def test_trades_are_walked_with_before_leaving(house):
    trades = (Trade("electrician", holes_expected=12), Trade("tiler", briefed=True))
    leave = make_plan(house, trades=trades).route.phase("before you leave")
    assert "agree where its 12 holes go" in leave[0].place
    assert "not briefed" in leave[0].why
    assert "show the line" in leave[1].place


def test_next_stop(house):
    route = make_plan(house).route
    assert route.next_stop().number == 1
    assert route.next_stop({1, 2}).number == 3
    assert route.next_stop(range(1, 100)) is None


def test_two_jobs_two_routes(house):
    other = (Room("Barn", "only", 8.0, 5.0, 4.0),)
    barn = (EnvelopeElement("barn roof", "roof", "roof", "Barn", 60.0, "film", DONE),)
    routes = (make_plan(house).route, search_route(other, barn))
    texts = [{stop.place for stop in route.stops} for route in routes]
    assert texts[0] != texts[1]
    assert [stop.room for stop in lap(routes[1])] == ["Barn"]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(
    st.sampled_from(["floor", "wall", "window", "door", "ceiling", "roof", "party wall", "hatch"]),
    st.integers(0, 3), st.sampled_from(["open laps", DONE, "covered", "not started"])), max_size=20))  # fmt: skip
def test_every_area_is_on_the_route_once(entries):
    rooms = tuple(Room(f"room {i}", f"storey {i // 2}", 4.0, 3.0, 2.4) for i in range(4))
    areas = tuple(
        EnvelopeElement(f"area {i}", f"{kind} {i}", kind, f"room {room}", 5.0, "board", status)
        for i, (kind, room, status) in enumerate(entries)
    )
    route = search_route(rooms, areas)
    looked_at = [name for stop in route.stops for name in stop.areas]
    assert sorted(looked_at) == sorted(area.area for area in areas)
    assert all(stop.storey for stop in lap(route))


def test_refused(house):
    with pytest.raises(InputError, match="Choose one of"):
        search_route(house.rooms, house.envelope, direction="both")


# ordered by a budget ----------------------------------------------------------------------


def test_places_add_up_to_the_budget_less_what_has_no_place_and_what_is_not_there():
    """Sum of the middles that are in place, added here from the lines of the demo."""
    job = demo_job()
    places = budget_places(job.budget, job.rooms, job.envelope, job.junctions, job.openings)
    entries, _ = budget_entries(job.budget, job.rooms, job.envelope, job.junctions)
    there = sum(one.middle * one.now for one in entries)
    assert places.placed + places.unplaced == pytest.approx(there)
    assert sum(places.room(room.name) for room in job.rooms) == pytest.approx(places.placed)
    assert places.room("Store") == 0.0
    assert budget_places(()).placed == 0.0


def test_an_open_joint_takes_the_flow_of_an_open_joint():
    job = demo_job()
    places = budget_places(job.budget, job.rooms, job.envelope, job.junctions, job.openings)
    lift = next(
        one for one in budget_entries(job.budget, job.rooms, job.envelope, job.junctions)[0]
        if one.is_lift
    )  # fmt: skip
    assert places.at("hall", "floor edge north") == pytest.approx(lift.middle)
    closed = [
        replace(one, closed=True) if one.junction == "floor edge north" else one
        for one in job.junctions
    ]
    mended = budget_places(job.budget, job.rooms, job.envelope, closed, job.openings)
    assert mended.at("Hall", "floor edge north") < 0.2 * lift.middle


def test_the_budget_puts_the_leakiest_room_height_and_joint_first():
    job = demo_job()
    with_budget, without = make_plan(job).route, make_plan(job, budget=()).route
    assert len(with_budget.stops) == len(without.stops)
    assert {s.place.split(":")[0] for s in lap(with_budget) if "joints" not in s.place} == {
        s.place.split(":")[0] for s in lap(without) if "joints" not in s.place
    }
    rooms = list(dict.fromkeys(stop.room for stop in lap(with_budget)))
    places = budget_places(job.budget, job.rooms, job.envelope, job.junctions, job.openings)
    for storey in ("ground", "first"):
        here = [
            places.room(r) for r in rooms if r in {x.name for x in job.rooms if x.storey == storey}
        ]
        assert here == sorted(here, reverse=True)
    assert lap(with_budget)[0].room == "Hall" and lap(without)[0].room == "Living room"
    assert lap(with_budget)[0].place.startswith("floor edge north: joint not closed yet")
    assert "the budget has about 230 m³/h at 50 Pa here" in lap(with_budget)[0].why
    assert "on each storey first where the budget leaks most: Hall" in with_budget.sentence()
    us = make_plan(job, settings={**job.settings, "units": "us"}).route
    assert "about 140 cfm" in lap(us)[0].why


def test_the_rim_is_over_the_rooms_below_and_under_those_above():
    job = demo_job()
    heights = {"ground": {"high"}, "first": {"low"}}
    seen = [(r.storey, s) for r in job.rooms for s in lap(make_plan(job).route)
            if s.room == r.name and "floor edge east" in s.place]  # fmt: skip
    assert len({storey for storey, _ in seen}) == 2
    for storey, stop in seen:
        assert {stop.height} == heights[storey]


def test_no_flow_of_the_budget_while_the_fan_may_not_run():
    job = demo_job()
    hazards = {**job.hazards, "asbestos": "don't know"}
    route = make_plan(job, settings={**job.settings, "hazards": hazards}).route
    assert lap(route)[0].room == "Hall"
    assert not any("budget" in stop.why for stop in route.stops)


def test_a_budget_that_cannot_be_used_leaves_the_order_and_says_so():
    job = demo_job()
    plan = make_plan(job, junctions=())
    assert lap(plan.route)[0].room == "Living room" and not plan.route.by_budget
    assert any("does not order the route: " in warning for warning in plan.warnings)
