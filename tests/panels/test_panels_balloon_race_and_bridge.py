"""Race, bridge, covering, old air: what is asked first, what is shown, what is refused."""

import re

import pytest
from ipywidgets.widgets.widget import _instances

from airlab.panels import BalloonPanel, BridgePanel, CoverPanel, HousePanel, OldAirPanel, RacePanel
from airlab.panels.race import SET_UPS
from airlab.physics import Balloon, Hole, HoleSet, RoundHole, covered, drain, race
from airlab.words import InputError, cm2, from_si, mm

PANELS = (RacePanel, BridgePanel, CoverPanel, OldAirPanel, BalloonPanel, HousePanel)


def play(panel):
    """Let the clock tick to the end, as the page does."""
    while panel._play.playing:
        panel._play.value = panel.frame + panel._play.step


@pytest.mark.parametrize("kind", PANELS)
def test_close_leaves_nothing_behind(kind):
    held = set(_instances)
    panel = kind()
    if hasattr(panel, "kit"):
        panel.kit.all_holes.value = True
        panel.kit.change(kind="deep crack")
    panel.close()
    assert set(_instances) == held


@pytest.mark.parametrize("kind", PANELS)
def test_us_units_show_no_metric(kind):
    panel = kind(units="us")
    if hasattr(panel, "skip"):
        panel.skip()
    shown = panel.sentence + re.sub(r"<[^>]*>", " ", panel._picture.value)
    assert not re.search(r"\d (m³|cm²|L|mL|mm|cm|m/s)(?!\w)", shown), shown
    with pytest.raises(InputError, match="Units is 'imperial'"):
        kind(units="imperial")


# ---- race ----------------------------------------------------------------------------------------


def test_race_gives_nothing_away_before_the_guess():
    panel = RacePanel()
    shown = panel.sentence + panel._picture.value
    for tell_tale in ("23.3", "93.1", "4 times", "<img"):
        assert tell_tale not in shown
    assert panel.sentence.endswith("Which is flat first, and by what factor?")


def test_race_guess_run_see_told():
    panel = RacePanel()
    with pytest.raises(InputError, match="by what factor too"):
        panel.guess("second")
    panel.guess("second", 2.0)
    assert panel.sentence.startswith("You said the right one, the other 2 times as long. Locked.")
    panel.run_or_pause()
    play(panel)
    assert panel.sentence.startswith("Both are flat.")
    panel.saw(first="second", factor=4.0)
    assert panel.sentence == (
        "You said the right one, the other 2 times as long. You saw: the right one, the other 4 "
        "times as long. The right is flat before the other: left 93.1 s, right 23.3 s. The left "
        "takes 4 times as long. Holes as 1 to 4, air as 1 to 1."
    )
    panel.set(left_hole=mm(3))
    assert "You said" not in panel.sentence


def test_race_seen_wrong():
    panel = RacePanel().guess("neither").run_or_pause()
    play(panel)
    assert "You said both at once. You saw: the left one" in panel.saw(factor=2.0).sentence
    assert "Look again." in panel.sentence


@pytest.mark.parametrize("name", SET_UPS)
def test_each_set_up_is_the_race_the_package_computes(name):
    panel = RacePanel().skip().set(set_up=name)
    runs = []
    for across, hole, count, mode in SET_UPS[name]:
        balloon = Balloon.from_diameter(across, hole_mode=mode)
        runs.append(drain(balloon, HoleSet(Hole(RoundHole(hole, count=count), mode))))
    assert panel.value.factor == pytest.approx(race(*runs).factor, rel=1e-9)


def test_the_set_ups_teach_what_they_should():
    """Twice the diameter: 4 times; four small as one wide: even; bare rubber: 2.94 times if the clock
    runs to the slack size (derived), a little less to 1 % above it."""
    factors = [RacePanel().skip().set(set_up=name).value.factor for name in SET_UPS]
    assert factors[0] == pytest.approx(0.25, rel=1e-6)
    assert factors[1] == pytest.approx(1.0, rel=1e-6)
    assert factors[2] > 3.0, "3.4 times the air"
    assert 2.75 < factors[3] < 2.94
    assert RacePanel().skip().set(set_up="four small holes or one wide").value.winner == "neither"


def test_race_hands_up():
    panel = RacePanel().raise_hands(4, 6, 0).run_or_pause()
    play(panel)
    assert "6 of 10 were right." in panel.saw(first="second", factor=4.0).sentence


@pytest.mark.parametrize(
    ("name", "shown", "says"),
    [("left_hole", 900.0, "cannot be larger"), ("right_diameter", 5.0, "Stretch is"),
     ("left_count", 0.0, "1 to")],
)  # fmt: skip
def test_race_refuses_in_words(name, shown, says):
    panel = RacePanel().skip()
    before = panel.value
    panel.controls[name].box.value = shown
    assert says in panel.message
    assert panel.value is before


# ---- bridge --------------------------------------------------------------------------------------


def test_the_same_hole_in_four_volumes():
    """1 cm2 passes 2.008 m3/h at 50 Pa (derived): 201, 175, 0.0080 and 0.0020 air changes."""
    panel = BridgePanel().set(holes=HoleSet(RoundHole.from_area(cm2(1))))
    rates = [one.air_change_rate for one in panel.value.vessels]
    assert rates == pytest.approx([2.008 / v for v in (0.01, 0.0115, 250, 1000)], rel=1e-3)
    assert "the volume decides" in panel.sentence
    assert "the same holes in all" in panel._picture.value


def test_the_same_air_changes_in_four_volumes():
    """134.5 cm2 for 0.6 air changes at 50 Pa in 450 m3 (derived)."""
    panel = BridgePanel().set(given="ach50", ach50=0.6, large=450.0)
    assert from_si(panel.value.vessels[-1].hole_area, "cm2") == pytest.approx(134.46, rel=1e-4)
    assert panel.kit.layout.display == "none"
    assert panel.controls["ach50"].layout.display is None


def test_the_balloon_takes_its_holes_to_the_bridge():
    holes = BalloonPanel().set(hole_diameter=mm(5)).holes
    assert BridgePanel().set(holes=holes).value.vessels[0].hole_area == pytest.approx(
        holes.holes[0].opening.area, rel=1e-9
    )


def test_no_hole_at_the_bridge_is_said():
    panel = BridgePanel()
    before = panel.value
    panel.kit.remove()
    assert panel.message.startswith("There is no hole. Add one")
    assert panel.value is before
    panel.controls["small"].box.value = 0.0
    assert "There is no hole" in panel.message or "must be above zero" in panel.message


# ---- covering ------------------------------------------------------------------------------------


def test_boards_hide_and_plaster_becomes_the_airtight_layer():
    """50 cm2 behind 100 cm2: 10.6 % less, 40 Pa stay on the leak (derived)."""
    panel = CoverPanel()
    assert panel.value == covered(RoundHole.from_area(cm2(50)), RoundHole.from_area(cm2(100)))
    assert "10.6 % less. 40 Pa of the 50 Pa still press" in panel.sentence
    assert "check before you cover" in panel.sentence
    panel.controls["covering"].value = "wet plaster"
    assert "it has become the airtight layer" in panel.sentence
    panel.set(gaps=cm2(1000))
    assert "hides the leak" in panel.sentence


@pytest.mark.parametrize(("name", "shown"), [("leak", 0.0), ("gaps", -1.0), ("leak", 90000.0)])
def test_covering_refuses_in_words(name, shown):
    panel = CoverPanel()
    panel.controls[name].box.value = shown
    assert "area is" in panel.message.lower()


# ---- old air -------------------------------------------------------------------------------------


def test_one_air_change_is_not_a_full_swap():
    """36.8 % after one air change, mixed; 99 % gone after 92 min at 3 an hour (CDC 2003, B.1)."""
    panel = OldAirPanel()
    assert panel.value.mixed_now == pytest.approx(0.3679, rel=1e-3)
    assert panel.value.pushed_now == 0.0
    assert "Mixed, 36.8 % is still there; 99 % of it is gone after 1 h 32 min." in panel.sentence
    assert "at 50 Pa" in panel.sentence
    assert "0.4 house volumes" in panel.set(after=480.0).sentence
    panel.controls["air_changes"].box.value = 0.0
    assert "must be above zero" in panel.message
