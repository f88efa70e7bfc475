"""The balloon panel: guess locked before the run, the clock, the three vessels, refused input."""

import re

import pytest

from airlab.panels import BalloonPanel
from airlab.panels.balloon import GUESSES
from airlab.physics import Balloon, Crack, Hole, HoleSet, PorousPatch, RoundHole, drain
from airlab.words import InputError, mm, to_si


def play(panel):
    """Let the clock tick to the end, as the page does."""
    while panel._play.playing:
        panel._play.value = panel.frame + panel._play.step


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


def test_the_guess_is_locked_then_run_then_seen_then_told():
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
    assert panel.sentence.startswith("The clock has stopped. What did you see?")
    assert all(control.disabled for control in panel.controls.values())
    assert "refills" not in panel._picture.value + panel.sentence
    button(panel, "That is what I saw").click()
    assert panel.message.startswith("Say what you saw first.")
    panel._look["seconds"].value = 60.0
    button(panel, "That is what I saw").click()
    assert panel.message == ""
    assert panel.sentence.startswith(
        "You said 6 min. You saw: flat after 60 s, the leak flow stayed nearly even. Rubber pushes"
    )
    assert "The balloon starts with 11.5 L" in panel.sentence
    assert not any(control.disabled for control in panel.controls.values())
    assert panel.settings["clock"] == pytest.approx(panel.value.time_to_flat)
    button(panel, "Run").click()
    panel._play.value = 1
    assert panel.settings["clock"] == pytest.approx(panel.value.time[1], rel=1e-3)


def test_what_was_seen_wrong_is_said():
    panel = BalloonPanel().guess(60.0).run_or_pause()
    play(panel)
    panel.saw(seconds=30.0, course="fell all the way")
    assert "Look again: the clock stopped at 59.6 s and the leak flow stayed" in panel.sentence


def test_a_class_raises_its_hands():
    panel = BalloonPanel()
    button(panel, "Hands up (class)").click()
    button(panel, "Lock the hands").click()
    assert "No hand is up" in panel.message
    for box, count in zip(panel._hands, (3, 12, 5)):
        box.value = count
    button(panel, "Lock the hands").click()
    assert panel.sentence.startswith("Hands up: 10 s 3, 1 min 12, 6 min 5. Locked.")
    with pytest.raises(InputError, match="It stays as it was said"):
        panel.guess(60.0)
    panel.run_or_pause()
    play(panel)
    panel.saw(seconds=59.0)
    assert "12 of 20 were right." in panel.sentence


def test_a_teacher_skips_from_any_step():
    panels = [BalloonPanel(), BalloonPanel().guess(60.0), BalloonPanel().guess(60.0).run_or_pause()]
    play(panels[2])
    for panel in panels:
        button(panel, "Skip (teacher)").click() if panel.stage != "locked" else panel.skip()
        assert "refills" in panel.sentence


def test_no_guess_is_locked_on_settings_that_are_refused():
    panel = BalloonPanel()
    panel.controls["diameter"].box.value = 600.0
    button(panel, "1 min").click()
    assert panel.stage == "asked" and "Stretch is" in panel.message
    assert not panel.controls["diameter"].disabled


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
    assert panel.frame == 0
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
        ("hole", 900.0, "cannot be larger"),
        ("hole", -1.0, "must be above zero"),
        ("diameter", 0.0, "must be above zero"),
        ("diameter", 6.0, "Stretch is"),
        ("count", 0.0, "1 to"),
        ("stiffening", 0.5, "Stiffening is 0.5"),
    ],
)
def test_refused_input_goes_to_the_message_line_and_keeps_the_picture(name, shown, says):
    panel = BalloonPanel().skip()
    panel.kit.all_holes.value = True
    picture, sentence = panel._picture.value, panel.sentence
    dials = {**panel.controls, "hole": panel.kit._dials["diameter"],
             "count": panel.kit._dials["count"]}  # fmt: skip
    dials[name].box.value = shown
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


# ---- the kit of holes ----------------------------------------------------------------------------


def test_the_same_holes_move_from_vessel_to_vessel():
    holes = HoleSet((Hole(RoundHole(mm(2)), "free"), Crack(0.05, mm(0.2), mm(5))))
    panel = BalloonPanel().set(holes=holes, vessel="jar")
    assert panel.holes == holes
    for vessel in ("balloon", "jar", "fan"):
        panel.set(vessel=vessel)
        assert panel.value.openings == holes.openings
    taken = BalloonPanel().skip().set(holes=panel.holes)
    assert taken.sentence == BalloonPanel().skip().set(holes=holes).sentence


def test_add_change_remove_and_undo():
    panel = BalloonPanel().skip()
    one = panel.value.time_to_flat
    button_in(panel.kit, "Add a hole").click()
    assert panel.value.time_to_flat == pytest.approx(one / 2, rel=1e-9)
    panel.kit.change(kind="deep crack", width=mm(0.1))
    assert isinstance(panel.holes.holes[1].opening, Crack)
    assert panel.value.time_to_flat > one / 2
    button_in(panel.kit, "Remove it").click()
    assert panel.value.time_to_flat == one
    button_in(panel.kit, "Undo").click()
    assert len(panel.holes.holes) == 2
    panel.kit.undo().undo()
    assert panel.value.time_to_flat == one


def button_in(kit, words):
    return next(b for b in kit._buttons.children if b.description == words)


def test_a_ready_leak_keeps_its_name_until_it_is_changed():
    panel = BalloonPanel().skip()
    panel.kit._kind.value = "waste"
    assert panel.holes.holes[0].name == "open waste pipe"
    panel.kit._dials["diameter"].box.value = 30.0
    assert panel.holes.holes[0].name == "round hole"


def test_every_kind_drains_and_its_controls_change_it():
    panel = BalloonPanel().skip()
    panel.kit.all_holes.value = True
    for kind in ("slot", "deep crack", "porous patch", "leak by its numbers"):
        panel.kit._kind.value = kind
        assert panel.message == ""
        before = panel.value.time_to_flat
        first = panel.kit.value[0].sizes[0][0]
        dial = panel.kit._dials[first]
        assert dial in panel.kit.children
        dial.value = 0.5 * dial.value
        assert panel.value.time_to_flat > before
    assert panel.set(holes=HoleSet(PorousPatch(1e-5, 0.01))).value.drains


def test_a_second_layer_behind_slows_and_is_told():
    panel = BalloonPanel().skip()
    panel.kit.all_holes.value = True
    before = panel.value.time_to_flat
    panel.kit._layer.value = True
    assert panel.value.time_to_flat > before
    assert panel.kit._dials["gaps"] in panel.kit.children
    panel.kit._layer.value = False
    assert panel.value.time_to_flat == before


def test_how_the_hole_sits_in_rubber_is_said_to_be_the_largest_choice():
    panel = BalloonPanel().skip()
    assert "largest choice of this model" in panel.kit._note.value
    assert panel.kit._note in panel.kit.children
    panel.kit.mode.value = "free"
    assert panel.sentence.endswith(
        "In a cap the same holes would take 59.6 s. A hole in bare rubber can tear: tape the spot first."
    )
    assert panel.set(vessel="jar").kit._note not in panel.kit.children


def test_finer_laws_stand_under_more():
    panel = BalloonPanel().skip().set(hole_diameter=mm(0.5))
    constant = panel.value.time_to_flat
    assert panel.kit.flow_model in panel.kit.finer.children
    assert panel.kit.finer in panel._more_box.children
    panel.kit.flow_model.value = "two-term"
    assert panel.value.time_to_flat > constant
    panel.kit.edge.value = "tube"
    panel.kit.flow_model.value = "fitted"
    assert "sharp edge without depth" in panel.message


def test_no_hole_never_drains_and_is_said_not_crashed():
    panel = BalloonPanel().skip()
    panel.kit.remove()
    for vessel in ("balloon", "jar", "fan"):
        assert "never drains" in panel.set(vessel=vessel).sentence
    panel.ask().guess(60.0).run_or_pause()
    play(panel)
    assert "Look again: nothing left it." in panel.saw(seconds=5.0).sentence


def test_reset_brings_back_the_one_hole():
    panel = BalloonPanel().skip()
    start = panel.holes
    panel.kit.add()
    panel.set(vessel="jar", stiffness=3000.0)
    panel.reset()
    assert panel.holes == start
    assert panel.stage == "asked" and panel.settings["vessel"] == "balloon"
    assert panel.value.vessel == Balloon.from_diameter(0.28)
