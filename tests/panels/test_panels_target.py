"""Choosing a target: aim, limits, ventilation, contract and past by panel; what is kept."""

import re

import pytest
from ipywidgets.widgets.widget import _instances

from airlab.building import CONTRACT_CHOICES, aim_for
from airlab.files import demo_job, open_job, save_settings, save_table, start_job
from airlab.panels import TargetPanel
from airlab.panels.target import VIEWS
from airlab.plots.aim import twenty_houses
from airlab.words import InputError

PAGES = [page for _, page in VIEWS]


@pytest.fixture(autouse=True)
def jobs(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))


@pytest.fixture
def job():
    return start_job("My house")


# values -----------------------------------------------------------------------------------


def test_starts_with_what_to_aim_for_under_the_limit_of_the_job():
    panel = TargetPanel()
    # 3 · exp(−0.3 · 1.2816), normal tables.
    assert panel.value.aim.aim == pytest.approx(2.043, abs=0.001)
    assert panel.sentence.startswith("To be 90 % sure of 3 m³/(h·m²) at 50 Pa, aim for 2.04")
    assert "18 inside, 2 over" in panel._picture.value
    assert "ventilation before a low number is praised" in panel.sentence


def test_another_aim_and_the_limit_itself():
    panel = TargetPanel().set(try_aim=2.7)
    assert "Whoever aims for 2.7 m³/(h·m²) at 50 Pa passes in 64 % of cases" in panel.sentence
    assert "10 inside, 10 over" in panel.set(try_aim=3.0)._picture.value
    assert "Whoever aims at the limit itself" not in panel.sentence
    assert panel.set(confidence=0.5, try_aim=0.0).value.aim.aim == pytest.approx(3.0)


def test_an_aim_above_the_limit_is_warned_of_first():
    panel = TargetPanel(demo_job())
    limit = panel.value.aim.limit
    panel.set(try_aim=3.0 * limit)
    assert panel.sentence.startswith("The target lies above the limit")
    panel.set(show="limits")
    assert panel.sentence.startswith("The target lies above the limit")
    panel.set(try_aim=limit)
    assert "above the limit:" not in panel.sentence


def test_a_published_limit_says_its_edition_and_status():
    panel = TargetPanel().set(limit="fr_rt2012_house")
    assert "0.6 m³/(h·m²) at 4 Pa, aim for 0.408" in panel.sentence
    assert "2010" in panel.sentence and "Figure read in the document" in panel.sentence
    keys = [key for _, key in panel.controls["limit"].options]
    assert keys[0] == "own" and "ie_tgdl_2019" in keys
    assert not any("memory" in key for key in keys) and "ie_tgdl_2022" not in keys


def test_limits_are_carried_onto_this_house_and_filtered():
    panel = TargetPanel().set(show="limits", country="Ireland")
    html = panel._picture.value
    assert "Ireland" in html and "Norway" not in html and "Your limit" in html
    assert "just meets it: at 50 Pa 903 m³/h leaks" in panel.sentence
    assert "FROM MEMORY" not in html
    assert "FROM MEMORY" in panel.set(memory=True)._picture.value


def test_ventilation_at_both_ends_and_no_praise_before_a_plan():
    panel = TargetPanel().set(show="fit", appliance="gas")
    assert "no low number is praised" in panel.sentence
    assert "Over: not without a specialist" in panel.sentence
    html = panel._picture.value
    assert html.count("▼ crossed") == 8 and html.count("not crossed") == 2
    assert "Tight end" in html and "Extract that stays under 5 Pa" in html
    assert "background vents of 84000 mm²" in html
    # floor 123 m²: 70 and six steps of 10 m², 42 000 + 6 × 7 000.
    assert "550" not in panel._picture.value and "licensed gas" in panel._picture.value
    solid = panel.set(appliance="solid", output=8000.0)._picture.value
    assert "a permanent opening of 4400 mm²" in solid and "Every kW counts" in solid  # 8 × 550
    assert "praised" not in panel.set(planned=True).sentence
    assert "extract" not in panel.set(extract=0.0).sentence


def test_contract_line_follows_every_choice():
    panel = TargetPanel().set(show="contract")
    assert "shall not exceed 3 m³/(h·m²)" in panel.sentence and "Have it checked" in panel.sentence
    said = {panel.sentence}
    for part, options in CONTRACT_CHOICES.items():
        said.add(panel.set(**{part: options[-1][0]}).sentence)
    assert len(said) == 1 + len(CONTRACT_CHOICES)
    panel.set(limit="us_901_2022")
    assert "0.35 cfm/ft²" in panel.sentence and "at 75 Pa" in panel.sentence


def test_own_past_results_replace_the_assumed_spread(job):
    panel = TargetPanel(job)
    assert "Fewer than two results of your own" in panel.set(show="past").sentence
    for i, result in enumerate((1.8, 2.2, 2.6)):
        panel.edit_past().editor().add_row(house=str(i), aimed_for=2, result=result)
        panel.edit_past()
    assert "From 3 houses of your own" in panel.sentence and "So few houses" in panel.sentence
    assert "Results pile up" in panel._picture.value and "(second-hand)" in panel._picture.value
    assert panel.set(show="aim").value.aim.history.count == 3
    assert open_job(job.folder).past_results[1].result == 2.2


def test_one_past_result_keeps_the_assumed_spread(job):
    one = save_table(job, "past_results", [{"house": "a", "aimed_for": 2.0, "result": 2.4}])
    assert TargetPanel(one).value.aim.history is None


def test_us_units():
    panel = TargetPanel().set(show="fit", units="us")
    assert "cfm of extract" in panel.sentence and "L/s" not in panel.sentence
    assert "cfm" in panel.set(show="limits").sentence


# drawing ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("share", "over"), [(1.0, 10), (0.6809, 2), (0.4, 0), (2.0, 20)])
def test_twenty_dots_and_those_over_the_limit_are_crossed(share, over):
    drawn = twenty_houses(aim_for(3.0, 0.3, 0.9, "m3/(h.m2)", at="at 50 Pa"), 3.0 * share)
    assert drawn.count("<circle") == 20 and drawn.count("<path") == over
    assert f"{20 - over} inside, {over} over" in drawn and 'role="img"' in drawn
    assert all(0.0 <= float(x) <= 760.0 for x in re.findall(r'cx="([\d.]+)"', drawn))


# keeping, refusing, closing ---------------------------------------------------------------


def test_the_aim_is_kept_as_target_in_the_metrics_own_unit(job):
    panel = TargetPanel(job).set(limit="dk_br18")
    panel._own.children[0].click()
    assert panel.message == ""
    target = open_job(job.folder).target
    assert target["metric"] == "qF50"
    assert target["value"] == pytest.approx(3.6 * 0.6809, abs=0.01)
    demo = TargetPanel(demo_job())
    demo._own.children[0].click()
    assert "The demo house stays as it is" in demo.message


def test_without_rooms_the_aim_still_stands():
    job = save_settings(start_job("Bare", like="empty"), limit=None)
    panel = TargetPanel(job)
    assert panel.value.limit.key != "own"
    panel.controls["show"].value = "fit"
    assert "No rooms yet" in panel.message
    rough = save_settings(job, rough={"floor_area_m2": 140.0, "mean_height_m": 2.5})
    panel = TargetPanel(rough).set(show="limits")
    assert "ROUGH until rooms are entered" in panel._picture.value


def test_a_limit_whose_size_was_not_entered_says_so(job):
    bare = save_table(save_table(job, "envelope", []), "junctions", [])
    panel = TargetPanel(bare)
    panel.controls["show"].value = "fit"
    assert "qE50: This needs the envelope area, which was not entered" in panel.message


@pytest.mark.parametrize("bad", [{"try_aim": -1.0}, {"try_aim": float("nan")}, {"spread": 3.0},
                                 {"confidence": 0.2}])  # fmt: skip
def test_settings_that_cannot_be_go_to_the_message(bad):
    panel = TargetPanel()
    good = panel.sentence
    with pytest.raises(InputError):
        panel.set(**bad)
    assert panel.message and panel.sentence == good


@pytest.mark.parametrize("page", PAGES)
def test_at_most_five_controls_in_sight_on_every_page(page):
    panel = TargetPanel().set(show=page)
    shown = [c for c in panel.controls.values() if c in panel._side.children]
    assert 3 <= len(shown) <= 5 and panel.controls["show"] is shown[0]
    assert panel._result.value.startswith('<p role="status">')


def test_close_leaves_nothing_and_the_demo_is_never_written():
    before = {p.name: p.read_bytes() for p in demo_job().folder.iterdir()}
    held = set(_instances)
    panel = TargetPanel().edit_past().set(show="contract").set(show="aim")
    panel.close()
    assert set(_instances) == held
    assert {p.name: p.read_bytes() for p in demo_job().folder.iterdir()} == before
