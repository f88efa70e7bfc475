"""The house panel: hold 50 Pa, stop the fan; the leak as a hole area or as n50."""

import pytest

from airlab.panels import BalloonPanel, HousePanel
from airlab.physics import HoleSet, RoundHole
from airlab.words import cm2, from_si


def play(panel):
    """Let the clock tick to the end, as the page does."""
    while panel._play.playing:
        panel._play.value = panel.frame + panel._play.step


def told():
    return HousePanel().skip()


def test_nothing_is_given_away_before_the_guess():
    panel = HousePanel()
    shown = panel._picture.value + panel.sentence + panel._repr_mimebundle_()["text/plain"]
    for tell_tale in ("0.36", "148 L", "19 min", "<img"):
        assert tell_tale not in shown
    panel.guess(60.0)
    assert panel.sentence == (
        "You said about a minute. Locked. Stop the fan and watch the pressure."
    )
    assert "0.36 s" not in panel._picture.value


def test_guess_stop_see_told():
    panel = HousePanel().guess(600.0).run_or_pause()
    assert panel._play.step == 7, "about a second and a half in true time"
    play(panel)
    assert panel.sentence.startswith("What did you see?")
    panel.saw(half=60.0)
    assert panel.sentence.startswith(
        "You said about ten minutes. You saw: half of it gone after about a minute. Look again, in "
        "slow motion."
    )
    assert panel.sentence.endswith("so a fan must hold it.")
    panel.set(slow=True).run_or_pause()
    assert panel._play.step == 1
    panel.set(volume=500.0)
    assert "You said" not in panel.sentence


def test_hands_up():
    panel = HousePanel().raise_hands(2, 9, 9).run_or_pause()
    play(panel)
    assert "2 of 20 were right." in panel.saw(half=1.0).sentence


def test_the_holes_of_the_balloon_come_into_the_house():
    holes = BalloonPanel().holes
    panel = told().set(holes=holes)
    assert panel.holes == holes
    assert panel.kit in panel._side.children and panel.kit.layout.display is None
    assert told().kit.layout.display == "none"
    assert from_si(panel.value.fan_on.flow_at_start, "m3/h") == pytest.approx(0.0986, rel=1e-3)
    assert "so a fan must hold it" not in panel.sentence, "a single pin hole holds for an hour"


def test_no_holes_is_said():
    panel = told().set(holes=HoleSet())
    assert panel.sentence == "No holes: the pressure stays, and no fan is needed."
    panel.kit.add(RoundHole.from_area(cm2(100)))
    assert "m³/h" in panel.sentence


def test_loose_film_lengthens_it():
    """200 m2 bulging 5 mm store 1.0 m3 beside 0.148 m3 of squeezed air in 300 m3 (derived)."""
    panel = told()
    stiff = panel.value.fan_off
    loose = panel.set(film=200.0).value
    expected = (1.0 + 0.148038) / 0.148038
    assert loose.fan_off.half_time / stiff.half_time == pytest.approx(expected, rel=1e-4)
    assert loose.stiff.half_time == stiff.half_time
    assert "Without the loose film half would be gone in 0.36 s." in panel.sentence


def test_the_spread_of_the_half_time_is_shown():
    """Adiabatic is 1.4 times quicker (derived)."""
    record = told().set(given="n50", volume=500.0).value
    assert record.fan_off.half_time / record.cooling.half_time == pytest.approx(1.4, rel=1e-6)
    assert record.half_words() == "0.26 to 0.36 s"


def test_the_two_ways_to_give_the_leak_agree():
    """1 cm² sharp hole, 1.2 kg/m³, 50 Pa: 2.008 m³/h, from Cd = π/(π+2) (derived)."""
    panel = told().set(hole_area=cm2(1000))
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
    panel = told().set(given="n50", volume=500.0)
    words = panel._picture.value
    for part in ("1500 m³/h", "3 /h", "air changes at 50 Pa", "20 min", "0.26 to 0.36 s", "247 L"):
        assert part in words, part
    assert "3 air changes per hour at 50 Pa" in panel.sentence
    assert "gone in 0.26 to 0.36 s" in panel.sentence
    assert "3300 times as long as losing half" in panel.sentence


def test_half_time_and_spare_air():
    """Half-time 0.36446 s at n50 = 3, n = 0.65, constant temperature: closed form (derived).

    Spare air 246.731 L in 500 m³: V p / P0 (derived).
    """
    off = told().set(given="n50", volume=500.0).value.fan_off
    assert off.half_time == pytest.approx(0.36446, rel=1e-4)
    assert off.vessel.spare == pytest.approx(0.246731, rel=1e-5)


def test_half_time_knows_the_air_changes_not_the_volume():
    small, large = (told().set(given="n50", volume=v).value for v in (100.0, 1000.0))
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
    panel = HousePanel(units="us").skip()
    assert "cfm" in panel.sentence
    assert "in²" in panel._picture.value
    assert panel.value.fan_on.hole_area == pytest.approx(70 * 0.0254**2)
