"""The page of a fan test: what a person does with it, and what it then says."""

import re

import pytest

from airlab.fan_test import faulty_test
from airlab.files import demo_job, open_job, start_job
from airlab.panels import FanTestPanel
from airlab.words import InputError

MADE_UP = "made up, with a fault to find"


@pytest.fixture
def panel():
    made = FanTestPanel(demo_job())
    yield made
    made.close()


def test_invented_test_until_there_is_one(panel):
    assert panel.sentence.startswith("Invented test. At 50 Pa 593 m³/h leaks, 1.91 air changes")
    assert "Point 3 lies 5.2 % below" in panel.sentence
    assert panel._picture.value.count("<tr>") >= 21  # twenty points and the heads


def test_leaving_the_odd_point_out_takes_the_fault_away(panel):
    before = panel.value.page.before.flow()
    said = panel.set(point=("depressurise", 3), left_out=True).sentence
    assert "left out: the flow at 50 Pa moves by +0.46 %" in said
    assert said.endswith("No fault shows in the points.")
    assert panel.value.page.result.flow() > before == panel.value.page.before.flow()


def test_a_moved_point_moves_the_low_end_most(panel):
    panel.set(point=("pressurise", 10), moved=0.10)
    page = panel.value.page
    assert abs(page.moved(4.0)) > 3.0 * abs(page.moved(50.0))
    assert "Point 10 (pressurise) with +10 % flow" in panel.sentence


def test_another_point_begins_where_it_was_read(panel):
    panel.set(moved=0.10)
    panel.controls["point"].value = ("pressurise", 2)
    assert panel.settings["moved"] == 0.0
    assert not panel.value.page.changed


@pytest.mark.parametrize(
    ("show", "said"),
    [
        ("conditions", "printed standard decides"),
        ("steps", "C_env"),
        ("compare", "change proved"),
        ("doubts", "never shrink with"),
        ("straight scales", "data:image/png"),
    ],
)
def test_every_view(panel, show, said):
    panel.set(show=show)
    assert said in panel._picture.value


def test_other_fits_stand_under_more(panel):
    assert "both errors" not in panel._picture.value
    assert "both errors" in panel.set(beside=True)._picture.value
    assert len(panel.value.fits) == 8


def test_comparison_is_the_sentence(panel):
    said = panel.set(show="compare").sentence
    assert said.startswith("before the boards, then final. At 50 Pa the second test passes")
    assert "opposite ways" in said


@pytest.mark.parametrize("seed", range(1, 9))
def test_made_up_test_keeps_its_key_until_asked(panel, seed):
    key = faulty_test(seed=seed)
    said = panel.set(test=MADE_UP, seed=seed).sentence
    assert "Key" not in said and "Look at" not in panel._picture.value
    assert key.what not in panel._picture.value + said
    assert f"Key: {key.sentence()}" in panel.set(name_faults=True).sentence


def test_standard_that_leaves_a_direction_aside(panel):
    panel.set(standard="CAN/CGSB-149.10")
    assert [one.direction for one in panel.value.page.result.results] == ["depressurise"]
    assert panel.value.page.result.notes[-1].endswith("the other series is left aside.")


def test_us_units(panel):
    assert re.search(r"At 50 Pa 349 cfm leaks", panel.set(units="us").sentence)


def test_own_readings_are_changed_and_kept():
    panel = FanTestPanel(start_job("mine")).take_example()
    assert panel.sentence.startswith("At 50 Pa")
    editor = panel.edit("fan_test_points").editor("fan_test_points")
    editor.choose("FD3").set(flow_m3_per_h="610").save_row()
    assert panel.sentence.endswith("No fault shows in the points.")
    kept = open_job(panel.open_job.folder).fan_test_points
    assert next(row.row for row in kept if row.row["reading"] == "FD3")["flow_m3_per_h"] == 610.0
    with pytest.raises(InputError, match="fan tests of its own"):
        panel.take_example()
    panel.close()


def test_what_was_not_read_is_said():
    """A test typed with pressures and flows alone: computed, and every assumption named."""
    panel = FanTestPanel(start_job("bare"))
    points = [{"reading": str(k), "test": "mine", "direction": "depressurise", "pressure_pa": p,
               "flow_m3_per_h": 60.0 * p**0.65} for k, p in enumerate((60, 50, 40, 30, 20, 12))]  # fmt: skip
    panel._desk.save_table("fan_tests", [{"test": "without readings"}])
    assert panel.settings["test"] == "final"
    panel._desk.save_table("fan_test_points", points)
    again = FanTestPanel(panel.open_job)
    assert again.settings["test"] == "mine"
    again.close()
    assert panel.settings["test"] == "mine"
    for words in ("No zero-flow pressure was read", "Temperature inside was not read", "not known"):
        assert words in panel._picture.value
    panel.close()


def test_refused_input_is_said_and_the_page_stays(panel):
    with pytest.raises(InputError, match=r"takes −0\.8 to 4"):
        panel.set(moved=-0.9)
    assert "The picture shows the last good values." in panel.message
    assert panel.reset().message == ""


def test_record_is_checked_and_printed(panel):
    panel.set(test="before the boards", show="conditions")
    assert "The fan reading was not brought to the density" in panel._picture.value
    page = panel.print_record()
    assert page.files[0].read_text(encoding="utf-8").count("not a certificate") >= 1
    panel.set(test=MADE_UP)
    with pytest.raises(InputError, match="no record"):
        panel.print_record()
