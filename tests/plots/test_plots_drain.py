"""Drawings and charts of draining: alt text, to scale, nothing clashing, nothing beyond the card."""

import io
import re
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from airlab.physics import Balloon, FanHeldVolume, PowerLawLeak, RoundHole, SealedVessel, drain
from airlab.plots.drain import HEIGHT, WIDTH, drain_drawing, volume_words
from airlab.plots.drain_chart import DrainChart, drain_chain, drain_tiles
from airlab.plots.house import FanStopChart, HouseAt50, house_drawing, house_tiles
from airlab.words import m3_per_h, mm

BALLOON = Balloon.from_diameter(0.28)
VESSELS = {
    "balloon": BALLOON,
    "bare": Balloon.from_diameter(0.28, hole_mode="free"),
    "giant": Balloon.from_diameter(2.8, unstretched_radius=0.32),
    "jar": SealedVessel(BALLOON.volume, 2500.0),
    "house": SealedVessel(500.0),
    "fan": FanHeldVolume(BALLOON.volume, 2500.0),
}
RECORDS = {name: drain(vessel, RoundHole(mm(2.5)), frames=51) for name, vessel in VESSELS.items()}
RECORDS["no hole"] = drain(BALLOON, ())


def numbers(root, names):
    """Every coordinate of the shapes of a drawing, by attribute."""
    return [float(e.get(n)) for e in root.iter() for n in names if e.get(n) and "%" not in e.get(n)]


@pytest.mark.parametrize("name", RECORDS)
@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_drawing_is_named_whole_and_inside_its_card(name, share):
    record = RECORDS[name]
    made = drain_drawing(record, share * float(record.time[-1]))
    root = ElementTree.fromstring(made)
    assert root.get("role") == "img"
    assert re.search(r"\d Pa, (air leaves at|no air leaves)", root.get("aria-label"))
    assert " id=" not in made
    assert "nan" not in made
    assert all(-1 <= x <= WIDTH + 1 for x in numbers(root, ("x", "x1", "x2", "cx")))
    assert all(-1 <= y <= HEIGHT + 1 for y in numbers(root, ("y", "y1", "y2", "cy")))


def test_balloon_is_drawn_to_scale():
    """Half the volume is 0.794 of the width: the cube root (derived)."""
    record = RECORDS["balloon"]

    def across(time):
        skin = re.search(r'd="M153[^"]*A([\d.]+) ', drain_drawing(record, time))
        return float(skin[1])

    half = float(np.interp(0.5, 1 - record.volume / record.volume[0], record.time))
    assert across(half) / across(0.0) == pytest.approx(0.5 ** (1 / 3), rel=0.01)


def test_the_ten_centimetre_rule_and_the_balloon_share_one_scale():
    root = ElementTree.fromstring(drain_drawing(RECORDS["balloon"]))
    rule = max(float(e.get("x2")) - float(e.get("x1")) for e in root.iter() if e.get("y1") == "390")
    ghost = next(float(e.get("r")) for e in root.iter() if e.get("stroke-dasharray") == "3 5")
    assert 2 * ghost / rule == pytest.approx(2.8, rel=0.01)


def picture(chart):
    return np.asarray(Image.open(io.BytesIO(chart.png())))


def test_chart_hides_what_has_not_happened():
    """Neither line nor axis tells the end before it has come."""
    chart = DrainChart()
    quick, slow = (drain(BALLOON, RoundHole(mm(d)), frames=51) for d in (2.5, 1.3))
    hidden = {"time": 0.0, "hide": True, "least": 360.0}
    first = picture(chart.draw(quick, guess=60.0, **hidden)).copy()
    second = picture(chart.draw(slow, guess=60.0, **hidden))
    rows = slice(0, int(0.4 * first.shape[0]))  # flow differs from the start, volume does not
    assert (first[rows] == second[rows]).all()
    assert (picture(chart.draw(quick, time=0.0)) != first).any()


@pytest.mark.parametrize("name", RECORDS)
@pytest.mark.parametrize("units", ["metric", "us"])
def test_chart_draws_every_vessel(name, units):
    chart = DrainChart()
    record = RECORDS[name]
    blank = picture(chart.draw(record, time=0.0, hide=True, units=units)).copy()
    drawn = picture(chart.draw(record, units=units))
    assert drawn.shape == (600, 780, 3)
    assert (drawn != blank).any()


def test_tiles_and_chain_only_where_they_mean_something():
    jar = drain_tiles(RECORDS["jar"])
    assert "/h" not in jar
    assert "half the pressure gone" in jar
    assert drain_chain(RECORDS["jar"]) == ""
    assert drain_chain(RECORDS["no hole"]) == ""
    chain = drain_chain(RECORDS["balloon"])
    assert chain.count('class="airlab-chip"') == 4
    assert "air changes at 50 Pa" in chain
    assert re.search(
        r"\d /h</b> <span>pace at the start, at 2500 Pa", drain_tiles(RECORDS["balloon"])
    )


def test_volume_words():
    assert volume_words(0.0) == "0 L"
    assert volume_words(0.00027, beside=0.0115) == "0.27 L"
    assert volume_words(0.0115, "us").endswith("ft³")


def house(volume, flow):
    leak = PowerLawLeak.from_flow(m3_per_h(flow))
    return HouseAt50(drain(FanHeldVolume(volume), leak), drain(SealedVessel(volume), leak))


@pytest.mark.parametrize(("volume", "flow"), [(50, 5), (300, 900), (1500, 20000)])
def test_house_is_named_and_inside_its_card(volume, flow):
    record = house(volume, flow)
    root = ElementTree.fromstring(house_drawing(record))
    assert f"House of {volume} m³" in root.get("aria-label")
    assert "holds 50 Pa" in root.get("aria-label")
    assert all(-1 <= x <= 401 for x in numbers(root, ("x", "x1", "x2", "cx")))
    assert all(-1 <= y <= 371 for y in numbers(root, ("y", "y1", "y2", "cy")))
    assert "at 50 Pa" in house_tiles(record)
    assert picture(FanStopChart().draw(record)).shape == (555, 660, 3)


def test_holes_are_drawn_to_the_scale_of_the_person():
    record = house(300, 900)
    root = ElementTree.fromstring(house_drawing(record))
    squares = [e for e in root.findall(".//{*}rect") if e.get("fill") == "#1a1a1a"]
    door = next(e for e in root.findall(".//{*}rect") if e.get("stroke-width") == "2")
    scale = float(door.get("height")) / 2.05
    assert float(squares[0].get("width")) / scale == pytest.approx(
        record.fan_on.hole_area**0.5, abs=0.05 / scale
    )
