"""The practice house drawn: plan and section of every room, the house opened up."""

import xml.etree.ElementTree as ET

import pytest

from airlab.files import practice_houses, read_house
from airlab.plots.practice_house import HuntView, hunt_drawing, opened_drawing
from airlab.teaching.practice import debrief, start

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", practice_houses())
def test_every_room_is_drawn_at_every_height(name):
    house = read_house(name)
    tags = tuple((site, n, n % 2 == 0) for n, site in enumerate(house.sites[:9], 1))
    for room in house.walk:
        for height in ("low", "mid", "high"):
            view = HuntView(house, room, height, tags, ((room, "low", "hand"),), -50.0, -48.0, 0.2)
            root = ET.fromstring(hunt_drawing(view))
            assert root.get("role") == "img"
            assert f"You stand in: {room}, {height}." in root.findtext(f"{SVG}title")
            words = " ".join(root.itertext())
            assert f"Section through: {room}" in words
            assert "−48 Pa over outside" in words
            numbers = [
                float(e.get(a)) for e in root.iter(f"{SVG}rect") for a in ("x", "y") if e.get(a)
            ]
            assert min(numbers) > -20.0 and max(numbers) < 920.0


@pytest.mark.parametrize("name", practice_houses())
def test_the_opened_house_shows_every_site_once(name):
    opened = debrief(start(read_house(name), 4).answer("stop"))
    root = ET.fromstring(opened_drawing(opened))
    missed = [e for e in root.iter(f"{SVG}text") if e.text == "?"]
    assert len(missed) == 14 + 1  # and the one of the legend
    assert "14 leaks, 0 tagged" in root.get("aria-label")


def test_shut_doors_are_drawn_shut():
    house = read_house("larch_yard")
    views = [HuntView(house, "Hall", "low", doors=state) for state in ("open", "shut")]
    arcs = [hunt_drawing(view).count("A") for view in views]
    assert arcs[1] < arcs[0]
