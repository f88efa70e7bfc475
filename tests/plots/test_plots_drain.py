"""Drawings and charts of draining: alt text, to scale, nothing clashing, nothing beyond the card."""

import io
import re
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from airlab.physics import (
    HOLE_MODES,
    Balloon,
    Crack,
    FanHeldVolume,
    Hole,
    HoleSet,
    PowerLawLeak,
    RoundHole,
    SealedVessel,
    Slot,
    covered,
    drain,
    fan_stop,
    old_air,
    race,
    side_by_side,
)
from airlab.plots.cover import cover_drawing
from airlab.plots.drain import (
    HEIGHT,
    WIDTH,
    drain_drawing,
    flow_words,
    pace_words,
    ticks_in_real_time,
    volume_words,
)
from airlab.plots.drain_chart import DrainChart, drain_chain, drain_tiles
from airlab.plots.house import FanStopChart, house_drawing, house_tiles
from airlab.plots.old_air import OldAirChart, old_air_drawing
from airlab.plots.race import RaceChart
from airlab.plots.side_by_side import side_by_side_table
from airlab.words import cm2, m3_per_h, mm

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
    rows = slice(0, int(0.24 * first.shape[0]))  # flow differs from the start, volume does not
    assert (first[rows] == second[rows]).all()
    assert (picture(chart.draw(quick, time=0.0)) != first).any()


@pytest.mark.parametrize("name", RECORDS)
@pytest.mark.parametrize("units", ["metric", "us"])
def test_chart_draws_every_vessel(name, units):
    chart = DrainChart()
    record = RECORDS[name]
    blank = picture(chart.draw(record, time=0.0, hide=True, units=units)).copy()
    drawn = picture(chart.draw(record, units=units))
    assert drawn.shape == (645, 780, 3)
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


def house(volume, flow, film=0.0):
    return fan_stop(volume, PowerLawLeak.from_flow(m3_per_h(flow)), film)


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


# ---- holes on the vessel, the clock, the other pictures of the bench -------------------------------


def test_each_hole_has_its_jet_where_it_sits():
    holes = HoleSet(tuple(Hole(RoundHole(mm(2)), mode) for mode in HOLE_MODES))
    record = drain(BALLOON, holes)
    made = drain_drawing(record, 0.0, holes=holes)
    root = ElementTree.fromstring(made)
    heads = [e for e in root.findall(".//{*}path") if "#D55E00" in e.get("fill", "")]
    assert len(heads) == 3, "one arrow each"
    assert "cap with the hole" in made
    bare = drain_drawing(record, 0.0, holes=holes.remove(0))
    assert "cap with" not in bare
    capped = HoleSet((RoundHole(mm(1)), Slot(0.01, mm(0.2))))
    assert "cap with 2 holes" in drain_drawing(drain(BALLOON, capped), 0.0, holes=capped)


@pytest.mark.parametrize("count", [0, 1, 5, 9])
def test_any_number_of_holes_stays_inside_the_card(count):
    holes = HoleSet(tuple(Hole(Crack(0.01, mm(0.2), mm(3)), "free") for _ in range(count)))
    for vessel in (BALLOON, VESSELS["jar"], VESSELS["fan"]):
        record = drain(vessel, holes)
        root = ElementTree.fromstring(drain_drawing(record, 0.3, holes=holes, caption="left"))
        assert all(-1 <= x <= WIDTH + 1 for x in numbers(root, ("x", "x1", "x2", "cx")))
        assert "left" in "".join(root.itertext())


def test_the_clock_says_how_fast_it_goes():
    """200 frames in 10 s: 60 s are 6 times as fast, 1 s is 10 times slower (derived)."""
    assert pace_words(60 / 200, 0.05) == "6 times as fast"
    assert pace_words(1 / 200, 0.05) == "10 times slower"
    assert pace_words(0.005, 0.05, ticks_in_real_time(0.005, 0.05, 200)) == ""
    assert ticks_in_real_time(9.0, 0.05, 200) == 1
    assert "clock: 6 times as fast" in drain_drawing(RECORDS["balloon"], pace="6 times as fast")


def test_flow_words_suit_the_vessel():
    assert flow_words(RECORDS["jar"], 1e-4) == "0.1 L/s"
    assert flow_words(RECORDS["house"], 0.25) == "900 m³/h"
    assert flow_words(RECORDS["house"], 0.25, "us").endswith("cfm")


def test_the_fan_stop_shows_the_spread_only_when_told():
    chart, record = FanStopChart(), house(300, 900, 200.0)
    hidden = picture(chart.draw(record, time=0.2, hide=True)).copy()
    other = picture(chart.draw(house(300, 700, 200.0), time=0.0, hide=True)).copy()
    told = picture(chart.draw(record, time=0.2))
    assert (hidden != told).any() and (hidden != other).any()
    assert chart.stiff.get_visible() and chart.cooling.get_visible()
    chart.draw(house(300, 900))
    assert not chart.stiff.get_visible()
    assert "4.6 to 4.8 s" in house_tiles(house(300, 527, 200.0))


@pytest.mark.parametrize("time", [0.0, 0.3, 5.0])
def test_the_stopped_house_says_its_pressure(time):
    record = house(300, 900)
    root = ElementTree.fromstring(house_drawing(record, time=time, pace="9 times slower"))
    assert "after the fan stopped" in root.get("aria-label")
    words = "".join(root.itertext())
    assert "fan off" in words and "clock: 9 times slower" in words
    assert all(-1 <= x <= 401 for x in numbers(root, ("x", "x1", "x2", "cx")))


def test_race_chart_shows_nothing_beyond_the_clock():
    chart = RaceChart()
    slow, quick = (drain(BALLOON, RoundHole(mm(d))) for d in (2, 4))
    chart.draw(race(slow, quick, ("left", "right")), time=10.0)
    for line in chart.lines:
        assert max(line.get_xdata()) <= 10.0
    assert [word.get_text() for word in chart.names] == ["left", "right"]
    assert picture(chart).shape == (600, 600, 3)
    chart.draw(race(slow, drain(BALLOON, ())), time=50.0)


VOLUMES = {"jar": 0.01, "balloon": 0.0115, "small house": 250.0, "large house": 1000.0}


def test_side_by_side_is_a_table_with_a_named_drawing_each():
    made = side_by_side_table(side_by_side(VOLUMES, HoleSet(RoundHole.from_area(cm2(1)))))
    table = ElementTree.fromstring(made)
    drawings = table.findall(".//{*}svg")
    assert [d.get("aria-label").split(" of ")[0] for d in drawings] == list(VOLUMES)
    assert len(table.findall(".//th[@scope='row']")) == 6
    words = "".join(table.itertext())
    for part in ("201 /h", "0.00201 /h", "20.8 days", "4.93 mL", "493 L", "6 min"):
        assert part in words, part
    same = side_by_side_table(side_by_side(VOLUMES, ach50=0.6))
    assert "299 cm²" in same and same.count("1.2 to 1.7 s") == 4
    assert "ft³" in side_by_side_table(side_by_side(VOLUMES, ach50=0.6), "us")


@pytest.mark.parametrize("gaps", [0.01, 0.5, 50, 100, 1000])
def test_the_cut_through_both_layers_shows_the_pressure_each_carries(gaps):
    record = covered(RoundHole.from_area(cm2(50)), RoundHole.from_area(cm2(gaps)))
    root = ElementTree.fromstring(cover_drawing(record, covering="boards"))
    assert "on the covering" in root.get("aria-label")
    step = next(p for p in root.findall(".//{*}path") if p.get("fill") == "none").get("d")
    full, level, none = (float(v) for v in re.findall(r"(?:M0 |V)([\d.]+)", step))
    share = (level - full) / (none - full)
    assert share == pytest.approx(record.pressure_on_leak / 50.0, abs=1e-3)


@pytest.mark.parametrize("after", [0.0, 480.0, 1200.0, 7000.0])
def test_old_air_in_both_rooms(after):
    record = old_air(3.0, after)
    made = old_air_drawing(record)
    assert "nan" not in made and 'width="-' not in made
    assert "mixed" in ElementTree.fromstring(made).get("aria-label")
    assert picture(OldAirChart().draw(record)).shape == (555, 750, 3)
