"""The practice house panel: a day by its methods, messages, few controls, class table, faults."""

import re

import ipywidgets as widgets
import pytest

from airlab.files import read_table
from airlab.files.marks import read_class
from airlab.panels.practice import STEPS, PracticePanel
from airlab.teaching.practice import RESULTS
from airlab.words import InputError


def test_a_day_from_hazards_to_the_opened_house():
    panel = PracticePanel(seed=7)
    assert "may the fan run?" in panel.sentence
    with pytest.raises(InputError, match="No answer, no fan"):
        panel.blow(-50.0)
    panel.answer("run").lay_hose("sheltered")
    for one in panel.value.house.openings:
        panel.prepare(one.name, one.wanted)
        assert "That is what it needs" in panel.sentence
    panel.set(step="fan").blow(-50.0).read(60)
    assert "on the gauge over 60 s" in panel.sentence
    panel.search("Living room", "low", "smoke")
    assert panel.step.value == "search"
    assert panel.spot.value
    panel.mark()
    assert panel.sentence.startswith("Tag 1: Living room")
    panel.set(step="fix")
    assert len(panel.what.options) >= 5
    panel.fix().look_again().read(60).open_up()
    assert "of 14 leaks tagged" in panel.sentence
    assert "All hidden sites" in panel._picture.value
    assert len(panel.value.stand.again) == 1
    assert panel.undo().sentence == "Taken back."
    panel.reset()
    assert panel.value.acts == ()
    assert panel.step.value == "safe"


def test_next_place_walks_every_height_of_every_room():
    panel = PracticePanel(seed=7)
    seen = {(panel.room.value, panel.height.value)}
    for _ in range(3 * len(panel.value.house.walk) - 1):
        panel.next_place()
        seen.add((panel.room.value, panel.height.value))
    assert len(seen) == 3 * len(panel.value.house.walk)


@pytest.mark.parametrize("step", [key for _, key in STEPS])
def test_at_most_five_controls_and_a_named_picture_at_each_step(step):
    panel = PracticePanel(house="coopers_row", seed=2).answer("stop").blow(-50.0)
    panel.set(step=step)
    controls = [one for one in panel._side.children if not isinstance(one, widgets.HBox)]
    assert len(controls) + 1 <= 5
    assert 'role="status"' in panel._result.value
    assert re.search(r'role="img"|<table>|<dl', panel._picture.value)


def test_refused_input_is_said_in_the_message_line():
    panel = PracticePanel(seed=7)
    panel._run.click()
    assert "No answer, no fan" in panel.message
    assert PracticePanel(seed=7).answer("run").message == ""


def test_blowing_in_and_doors_shut_show_in_the_picture():
    panel = PracticePanel(seed=7).answer("run").blow(30.0, doors="shut").set(step="fan")
    assert "Fan blows" in panel._picture.value
    assert "draw air away from you" in panel.sentence
    assert panel.value.stand.doors == "shut"


def test_the_class_shares_one_table(tmp_path):
    path = tmp_path / "class.csv"
    for number in ("7", "b2"):
        PracticePanel(seed=12, learner=number, results=path).answer("stop").save()
    rows = read_table(path, RESULTS).rows
    assert [row["learner"] for row in rows] == ["7", "B2"]


def test_a_day_is_kept_once_under_a_number_for_the_board():
    panel = PracticePanel(seed=12).answer("stop")
    with pytest.raises(InputError, match="A name is not needed"):
        panel.save()
    panel.learner.value = "703"
    panel.save()
    assert panel.sentence.startswith("Kept for learner 703.")
    with pytest.raises(InputError, match="kept already"):
        panel.save()
    (hunt,) = read_class().board().hunts
    assert (hunt.rows[0]["learner"], hunt.seed) == ("703", 12)


def test_a_hidden_fault_is_to_be_named():
    panel = PracticePanel(seed=7, fault="wrong volume").answer("stop").blow(-50.0).read(30)
    panel.set(step="fan")
    assert "yesterday, sound" in panel._picture.value
    assert panel.diagnose("dry trap").sentence.startswith("Not dry trap")
    assert panel.diagnose("wrong volume").sentence.startswith("Right")


def test_what_an_instructor_typed_is_escaped(tmp_path):
    import shutil

    from airlab.files.places import data_folder

    shutil.copytree(data_folder() / "practice_houses" / "larch_yard", tmp_path / "own")
    for path in (tmp_path / "own").glob("*.csv"):
        path.write_text(
            path.read_text(encoding="utf-8").replace("Living room", "<b>Den & so</b>"),
            encoding="utf-8",
        )
    panel = PracticePanel(house=tmp_path / "own", seed=7).answer("run").blow(-50.0)
    panel.search("<b>Den & so</b>", "low", "hand").open_up()
    assert "<b>Den" not in panel._picture.value + panel._result.value
    assert "&lt;b&gt;Den" in panel._picture.value
