"""The balloon panel: guess locked before the run, the clock, the three vessels, refused input."""

import re

import pytest

from airlab.panels import BalloonPanel
from airlab.panels.balloon import GUESSES
from airlab.physics import Balloon, RoundHole, drain
from airlab.words import InputError, mm, to_si


def play(panel):
    """Let the clock tick to the end, as the page does."""
    while panel._frame < 200:
        panel._play.value = panel._frame + 1


def button(panel, words):
    """Return the button of those words that is on the panel now."""
    stack, found = [panel], []
    while stack:
        one = stack.pop()
        stack.extend(getattr(one, "children", ()))
        if getattr(one, "description", None) == words and hasattr(one, "click"):
            found.append(one)
    assert len(found) == 1, (words, found)
    return found[0]


def test_nothing_is_given_away_before_the_guess():
    panel = BalloonPanel()
    shown = panel._picture.value + panel.sentence + panel._repr_mimebundle_()["text/plain"]
    assert "How long until it is flat?" in panel.sentence
    for tell_tale in ("59.6", "60.4", "8.58", "refills", "<img"):
        assert tell_tale not in shown
    assert panel.vessel.layout.display == "none"


def test_the_guess_is_locked_then_run_then_told():
    panel = BalloonPanel()
    button(panel, "6 min").click()
    assert panel.sentence == "You said 6 min. Locked. Run the clock and watch."
    assert all(control.disabled for control in panel.controls.values())
    assert "59.6" not in panel._picture.value
    button(panel, "Run").click()
    assert panel._play.playing
    button(panel, "Pause").click()
    assert not panel._play.playing
    button(panel, "Go on").click()
    play(panel)
    assert panel.sentence.startswith("You said 6 min. The balloon starts with 11.5 L")
    assert not panel._play.playing
    assert not any(control.disabled for control in panel.controls.values())
    assert panel.settings["clock"] == pytest.approx(panel.value.time_to_flat)
    button(panel, "Run").click()
    panel._play.value = 1
    assert panel.settings["clock"] == pytest.approx(panel.value.time[1], rel=1e-3)


def test_a_guess_about_another_hole_is_dropped():
    panel = BalloonPanel().guess(60.0).skip()
    assert panel.sentence.startswith("You said 1 min.")
    panel.set(hole_diameter=mm(5))
    assert "You said" not in panel.sentence
    panel.set(hole_diameter=mm(2.5))
    assert "You said" not in panel.sentence


def test_a_tick_that_comes_late_moves_nothing():
    panel = BalloonPanel().guess(10.0)
    panel.run_or_pause()
    panel.ask()
    panel._play.value = 7
    assert panel._frame == 0
    assert "How long" in panel.sentence


def test_unknown_guess_is_refused():
    with pytest.raises(InputError, match="Guess is 17"):
        BalloonPanel().guess(17.0)


def test_one_of_the_choices_is_right():
    seconds = BalloonPanel().value.time_to_flat
    assert min(abs(seconds - guess) for guess in GUESSES) < 1.0


def test_shows_what_the_package_computes():
    record = drain(Balloon.from_diameter(0.28), RoundHole(mm(4)), frames=201)
    panel = BalloonPanel().skip().set(hole_diameter=mm(4))
    assert panel.value.time_to_flat == record.time_to_flat
    assert panel.sentence == record.sentence()
    refills, phi, factor = record.chips
    numbers = re.findall(r"<b>(?:Φ )?([\d.]+)(?: /h)?</b>", panel._picture.value)[-4:]
    assert [float(n) for n in numbers] == pytest.approx(
        [refills, phi, factor, record.air_change_rate_at_50], rel=5e-3
    )


def test_jar_shows_pressure_times_and_no_air_changes():
    panel = BalloonPanel().set(vessel="jar")
    words = panel.sentence + re.sub('(src|xmlns)="[^"]*"', "", panel._picture.value)
    assert "half the pressure gone" in words
    for wrong in ("/h", "refill", "Φ", "air change"):
        assert wrong not in words
    assert panel.vessel.layout.display is None


def test_fan_says_the_pressure_of_its_air_changes():
    panel = BalloonPanel().set(vessel="fan", clock=30.0)
    assert "air changes per hour at 2500 Pa" in panel.sentence
    assert "air changes at 50 Pa" in panel._picture.value
    assert panel.value.phi == pytest.approx(1.0)


@pytest.mark.parametrize("vessel", ["balloon", "jar", "fan"])
def test_the_clock_goes_where_it_is_set_and_stays_inside_the_run(vessel):
    panel = BalloonPanel().skip().set(vessel=vessel)
    end = panel.value.time[-1]
    panel.controls["clock"].slider.value = end / 2
    assert panel.settings["clock"] == pytest.approx(end / 2, abs=end / 150)
    before = panel._picture.value
    panel.set(clock=10 * end)
    assert panel.settings["clock"] == pytest.approx(end, rel=1e-3)
    assert panel._picture.value != before
    panel.set(hole_diameter=mm(1), clock=0.0)
    assert panel.settings["clock"] == 0.0


def test_the_hole_in_bare_rubber_takes_longer():
    times = [
        BalloonPanel().skip().set(hole_mode=mode).value.time_to_flat
        for mode in ("rigid", "moves with rubber", "free")
    ]
    assert times == sorted(times)


@pytest.mark.parametrize(
    ("name", "shown", "says"),
    [
        ("hole_diameter", 900.0, "cannot be larger"),
        ("hole_diameter", -1.0, "must be above zero"),
        ("diameter", 0.0, "must be above zero"),
        ("diameter", 6.0, "Stretch is"),
        ("holes", 0.0, "1 to"),
    ],
)
def test_refused_input_goes_to_the_message_line_and_keeps_the_picture(name, shown, says):
    panel = BalloonPanel().skip()
    picture, sentence = panel._picture.value, panel.sentence
    panel.controls[name].box.value = shown
    assert says in panel.message
    assert (panel._picture.value, panel.sentence) == (picture, sentence)
    panel.reset()
    assert panel.message == ""
    assert "How long" in panel.sentence


def test_us_units():
    panel = BalloonPanel(units="us")
    assert "11 in across" in panel.sentence
    panel.skip()
    assert "cfm" in panel._picture.value
    assert "ft³" in panel.sentence
    assert panel.settings["diameter"] == pytest.approx(to_si(11, "in"))
    with pytest.raises(InputError, match="Units is 'imperial'"):
        BalloonPanel(units="imperial")
