"""The line panel: walk, pen down, pen lift, owners, kept in the job; the demo is only tried."""

from dataclasses import replace

import pytest

from airlab.building import ENVELOPE, JUNCTIONS
from airlab.files import FileChanged, demo_job, open_job, read_table, save_table, start_job
from airlab.panels.line import LinePanel
from airlab.panels.line_count import LiftCountPanel
from airlab.teaching import right_answer
from airlab.words import InputError


@pytest.fixture
def job(tmp_path, monkeypatch):
    """A house of one's own, begun as a copy of the demo."""
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path / "jobs"))
    return start_job("12 Hill Road")


def kept(job, junction):
    rows = read_table(job.folder / "junctions.csv", JUNCTIONS).rows
    return next((row for row in rows if row["junction"] == junction), None)


def without(job, *names):
    rows = [row for row in job.files["junctions"].rows if row["junction"] not in names]
    return save_table(job, "junctions", rows)


def test_closing_the_lift_is_kept_and_moves_flow_and_route(job):
    settings = dict.fromkeys(demo_job().hazards, "safe")
    panel = LinePanel(job)
    panel._desk.save_settings(hazards=settings)
    panel.refresh()
    before = panel.value
    panel.go("floor edge north").pen("down")
    assert kept(job, "floor edge north")["closed"] is True
    assert panel.value.check.closed
    assert "The line is closed" in panel.sentence
    assert panel.value.plan.expected.high < before.plan.expected.high
    open_stops = [s for s in before.plan.route.stops if "joint not closed" in s.place]
    assert open_stops
    assert not [s for s in panel.value.plan.route.stops if "joint not closed" in s.place]
    panel.undo()
    assert kept(job, "floor edge north")["closed"] is False
    panel.go("floor edge north").own("site lead").join("strip lapped and taped")
    row = kept(job, "floor edge north")
    assert (row["owner"], row["joined"]) == ("site lead", "strip lapped and taped")
    assert "site lead" in panel.sentence


def test_a_person_moves_the_controls(job):
    panel = LinePanel(job)
    assert panel.sentence.startswith("Pen at 1. sill south")
    controls = panel.controls
    controls["junction"].value = "eaves north"
    assert panel.sentence.startswith("Pen at 10. eaves north")
    assert controls["owner"].value == "carpenter"
    controls["pen"].value = "lift"
    assert kept(job, "eaves north")["closed"] is False
    assert "2 pen lifts" in panel.sentence
    assert "From North-east bedroom through eaves north (open) to the outside." in panel.sentence
    controls["owner"].value = "roofer"
    assert kept(job, "eaves north")["owner"] == "roofer"
    controls["drawing"].value = "plan"
    assert panel.sentence.startswith("Pen at 17. south frames")
    controls["drawing"].value = "lifts"
    assert panel.sentence.startswith("The line is open: 2 pen lifts")
    assert 'class="airlab-lifts"' in panel._picture.value
    controls["construction"].value = "masonry with wet plaster"
    assert "masonry with wet plaster, floor edge" in panel.go("floor edge north")._tip.value


def test_walking_goes_all_round_and_on_to_the_next_drawing():
    panel = LinePanel(demo_job(), look="section A")
    seen = [panel.sentence.split(".")[0]]
    for _ in range(9):
        panel.forth()
        seen.append(panel.sentence.split(".")[0])
    assert seen == [f"Pen at {n}" for n in (1, 17, 5, 9, 23, 10, 18, 6, 21, 2)]
    assert panel.forth().controls["drawing"].value == "section B"
    assert panel.back().controls["drawing"].value == "section A"
    assert panel.sentence.startswith("Pen at 2. sill north")
    panel.set(drawing="section B", junction="eaves west")
    assert panel.sentence.startswith("Pen at 12. eaves west")
    assert panel.go(14).sentence.startswith("Pen at 14. corner south-east")
    assert panel.controls["drawing"].value == "plan"


def test_what_is_missing_becomes_a_row_with_its_length(job):
    job = without(job, "sill south", "hatch frame")
    panel = LinePanel(job)
    assert "3 pen lifts" in panel.sentence
    panel.go("ground floor to south wall")
    assert "missing, 9.6 m, nobody owns it yet" in panel.sentence
    panel.own("carpenter")
    row = kept(job, "ground floor to south wall")
    assert (row["owner"], row["length_m"], row["closed"]) == ("carpenter", 9.6, False)
    assert panel.sentence.startswith("Pen at 22. ground floor to south wall")
    assert panel.pen("down").value.check.lift_at("ground floor to south wall") is None
    panel.go("loft hatch to loft ceiling").pen("do not meet")
    assert kept(job, "loft hatch to loft ceiling")["joined"] == "do not meet"
    assert "1 pen lift in" in panel.sentence
    panel.undo()
    assert "2 pen lifts" in panel.sentence
    panel.fill("old terrace in refurbishment")
    assert "insulated hatch" in kept(job, "loft hatch to loft ceiling")["joined"]
    assert not panel.value.check.missing
    with pytest.raises(InputError, match="No junction is missing"):
        panel.fill()


def test_a_pair_that_does_not_meet_is_taken_up_again(job):
    panel = LinePanel(job).go("corner south-west").pen("do not meet")
    assert "corner south-west" not in [m.name for m in panel.value.views.marks]
    assert kept(job, "corner south-west")["closed"] is True


def test_the_pen_cannot_go_down_where_there_is_no_layer(job):
    rows = [{**row, "layer": "" if row["element"] == "east wall" else row["layer"]}
            for row in job.files["envelope"].rows]  # fmt: skip
    job = save_table(job, "envelope", rows)
    panel = LinePanel(job).go("sill east")
    assert "no layer" in panel.sentence
    with pytest.raises(InputError, match=r"cannot go down at sill east\. Name the material"):
        panel.pen("down")
    panel.controls["pen"].value = "down"
    assert "cannot go down" in panel.message
    assert panel.controls["pen"].value == "lift", "the control says what is so"
    bench = panel._desk.editor("envelope")
    for area in [row["area"] for row in rows if row["element"] == "east wall"]:
        bench.choose(area).set(layer="membrane").save_row()
    assert panel.value.check.lift_at("sill east") is None, "the table and the drawing are one"
    file = read_table(job.folder / "envelope.csv", ENVELOPE)
    assert {r["layer"] for r in file.rows if r["element"] == "east wall"} == {"membrane"}


def test_the_demo_is_tried_and_never_written():
    demo = demo_job()
    before = (demo.folder / "junctions.csv").read_bytes()
    panel = LinePanel(demo)
    assert "nothing is saved" in panel._notes.value
    assert panel.go("floor edge north").pen("down").value.check.closed
    assert (demo.folder / "junctions.csv").read_bytes() == before
    assert not panel.undo().value.check.closed


def test_a_file_changed_by_another_loses_nothing(job):
    panel = LinePanel(job).go("eaves north")
    save_table(open_job(job.folder), "junctions", job.files["junctions"].rows[:-1])
    with pytest.raises(FileChanged):
        panel.pen("lift")
    assert panel._keeper.layout.display is None
    path = panel.keep_mine()
    assert path.exists() and "kept in" in panel._notes.value
    panel.reload()
    assert len(panel.value.job.junctions) == 22
    assert panel.pen("lift").value.check.lift_at("eaves north")
    with pytest.raises(InputError, match="nothing that waits"):
        panel.keep_mine()


def test_refused_and_empty(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path / "jobs"))
    panel = LinePanel(demo_job())
    with pytest.raises(InputError, match="There is no junction 'tower'"):
        panel.go("tower")
    with pytest.raises(InputError, match="Choose one of"):
        panel.pen("up")
    with pytest.raises(InputError, match="Choose one of"):
        LinePanel(demo_job(), look="tower")
    with pytest.raises(InputError, match="no control"):
        panel.set(colour="red")
    bare = LinePanel(start_job("Bare", like="empty"))
    assert "no elements" in bare.message
    assert bare.value is None


def test_a_hole_and_a_missing_floor_are_shown_and_not_drawn_over(job):
    rows = [row for row in job.files["envelope"].rows if row["element"] != "ground floor"]
    job = save_table(job, "envelope", rows)
    panel = LinePanel(job, look="rest")
    panel.go("no floor on storey ground")
    assert panel.controls["pen"].disabled
    with pytest.raises(InputError, match=r"is no junction\. Enter the floor"):
        panel.own("carpenter")


def test_us_units_and_text_people_typed(job):
    rows = [{**row, "owner": "<b onload=x>"} for row in job.files["junctions"].rows]
    panel = LinePanel(replace(save_table(job, "junctions", rows), units="us"))
    assert "31.5 ft" in panel.sentence
    assert "<b onload" not in panel._picture.value + panel._result.value


def test_counting_names_the_slip_and_ends_with_the_lifts_shown():
    panel = LiftCountPanel()
    assert panel.sentence.endswith("How often must the pen lift?")
    assert "no gap" not in panel._picture.value
    assert "missing</text>" not in panel._picture.value, "nothing is told before it is counted"
    panel._count.value = 10
    panel.answer()
    assert "Those are all the junctions" in panel.sentence
    panel._count.value = int(right_answer("03-7"))
    panel.answer()
    assert panel.sentence.startswith("Right. 3.") and "The whole studio" in panel.sentence
    panel.answer(4)
    assert "Who owns the lift where the ceiling" in panel.sentence
    assert "window fitter" in panel._picture.value, "owners stand beside the drawing now"
    assert panel._owner in panel._side.children
    panel.answer("window fitter")
    assert "owns the frames" in panel.sentence
    panel.answer("carpenter").answer("nobody yet")
    assert "Done in 6 tries" in panel.sentence
    assert panel.value.shown and "missing" in panel._picture.value
    with pytest.raises(InputError, match="All questions are answered"):
        panel.answer(3)
    panel.reset()
    assert panel.value.question == "03-7" and not panel.value.shown
    assert panel.show_lifts().value.shown
