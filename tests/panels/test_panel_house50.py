"""The house panel: hold 50 Pa, stop the fan; the leak as a hole area or as n50."""

import pytest

from airlab.panels import HousePanel
from airlab.words import cm2, from_si


def test_the_two_ways_to_give_the_leak_agree():
    """1 cm² sharp hole, 1.2 kg/m³, 50 Pa: 2.008 m³/h, from Cd = π/(π+2) (derived)."""
    panel = HousePanel().set(hole_area=cm2(1000))
    flow = panel.value.fan_on.flow_at_start
    assert from_si(flow, "m3/h") == pytest.approx(2008.0, rel=1e-4)
    panel.set(given="n50", n50=from_si(flow, "m3/h") / 300.0)
    assert panel.value.fan_on.flow_at_start == pytest.approx(flow, rel=1e-5)
    assert panel.value.fan_on.hole_area == pytest.approx(cm2(1000), rel=1e-5)


def test_only_the_amount_that_counts_is_in_sight():
    panel = HousePanel()
    area, rate = panel.controls["hole_area"], panel.controls["n50"]
    assert (area.layout.display, rate.layout.display) == (None, "none")
    panel.controls["given"].value = "n50"
    assert (area.layout.display, rate.layout.display) == ("none", None)


def test_says_all_five_things_with_their_pressure():
    panel = HousePanel().set(given="n50", volume=500.0)
    words = panel._picture.value
    for part in ("1500 m³/h", "3 /h", "air changes at 50 Pa", "20 min", "0.364 s", "247 L"):
        assert part in words, part
    assert "3 air changes per hour at 50 Pa" in panel.sentence
    assert "half in 0.364 s" in panel.sentence


def test_half_time_and_spare_air():
    """Half-time 0.36446 s at n50 = 3, n = 0.65, constant temperature: closed form (derived).

    Spare air 246.731 L in 500 m³: V p / P0 (derived).
    """
    off = HousePanel().set(given="n50", volume=500.0).value.fan_off
    assert off.half_time == pytest.approx(0.36446, rel=1e-4)
    assert off.vessel.spare == pytest.approx(0.246731, rel=1e-5)


def test_half_time_knows_the_air_changes_not_the_volume():
    small, large = (HousePanel().set(given="n50", volume=v).value for v in (100.0, 1000.0))
    assert small.fan_off.half_time == pytest.approx(large.fan_off.half_time)
    assert large.fan_on.flow_at_start == pytest.approx(10 * small.fan_on.flow_at_start)


@pytest.mark.parametrize(
    ("name", "shown", "says"),
    [
        ("volume", -5.0, "Internal volume"),
        ("hole_area", 0.0, "must be above zero"),
        ("flow_exponent", 1.4, "0.5 to 1"),
    ],
)
def test_refused_input_goes_to_the_message_line(name, shown, says):
    panel = HousePanel()
    before = panel.value
    panel.controls[name].box.value = shown
    assert says in panel.message
    assert panel.value is before


def test_us_units():
    panel = HousePanel(units="us")
    assert "cfm" in panel.sentence
    assert "in²" in panel._picture.value
    assert panel.value.fan_on.hole_area == pytest.approx(70 * 0.0254**2)
