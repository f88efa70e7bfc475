"""Sizes and every number of the open job: values, sentences, edits kept and read again."""

import re

import pytest
from ipywidgets.widgets.widget import _instances

from airlab.building import limits
from airlab.building.footprint import footprints
from airlab.files import demo_job, open_job, save_settings, save_table, start_job
from airlab.panels import SizesPanel
from airlab.panels.sizes import VIEWS
from airlab.plots.rooms_plan import rooms_plan
from airlab.words import InputError, from_si, m3_per_h

PLACES = [view for _, view in VIEWS]


@pytest.fixture(autouse=True)
def jobs(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))


@pytest.fixture
def job():
    return start_job("My house")


def worked(job):
    """Put the worked house of 353.5 m³, 311.7 m² and 131.6 m² in the place of the copy's rooms."""
    job = save_table(job, "rooms", [
        {"room": name, "storey": name, "length_m": 10, "width_m": 7, "height_m": 2.525,
         "volume_m3": 176.75, "floor_area_m2": 65.8, "included": True, "why": ""}
        for name in ("ground", "first")
    ])  # fmt: skip
    return save_table(job, "envelope", [
        {"area": name, "element": name, "kind": kind, "room": "ground", "area_m2": size,
         "status": "complete and visible"}
        for name, kind, size in (("walls", "wall", 171.7), ("roof", "roof", 70.0),
                                 ("floor", "floor", 70.0))
    ])  # fmt: skip


# values -----------------------------------------------------------------------------------


def test_starts_on_the_target_of_the_open_job():
    panel = SizesPanel()
    assert panel.value.what == "target"
    assert panel.value.indicators.qE50 == pytest.approx(demo_job().target["value"])
    assert panel.sentence.startswith("The target: at 50 Pa")
    assert panel.controls["amount"].disabled


# The worked house at 1558.5 m³/h and 50 Pa: quotients by hand.
@pytest.mark.parametrize(
    ("form", "amount"),
    [("q50_flow", 1558.5), ("q50_flow L/s", 432.917), ("q50_flow cfm", 917.30),
     ("n50", 1558.5 / 353.5), ("qE50", 5.0), ("qE50 L/(s.m2)", 5.0 / 3.6),
     ("qF50", 1558.5 / 131.6)],
)  # fmt: skip
def test_any_form_of_one_leak_gives_the_same_house(job, form, amount):
    panel = SizesPanel(worked(job)).set(metric=form, amount=amount)
    found = panel.value.indicators
    assert from_si(found.leakage_flow, "m3/h") == pytest.approx(1558.5, rel=1e-4)
    assert (round(found.n50, 2), round(found.qE50, 2), round(found.qF50, 2)) == (4.41, 5.0, 11.84)
    assert "4.41 air changes per hour at 50 Pa" in panel.sentence


def test_choosing_another_form_shows_the_same_leak_in_it(job):
    panel = SizesPanel(worked(job)).set(metric="qE50", amount=5.0)
    panel.controls["metric"].value = "n50"
    assert panel.controls["amount"].value == 4.409
    assert from_si(panel.value.indicators.leakage_flow, "m3/h") == pytest.approx(1558.5, rel=1e-3)
    panel.controls["metric"].value = "target"
    assert panel.value.what == "target" and panel.controls["amount"].disabled


def test_the_counting_switch_changes_what_goes_by_envelope_only(job):
    panel = SizesPanel(worked(job)).set(metric="n50", amount=4.0)
    before = panel.value.indicators
    panel.set(rule="without lowest floor")
    after = panel.value.indicators
    assert after.geometry.envelope_area == pytest.approx(241.7)
    assert (after.n50, after.qF50) == (before.n50, before.qF50)
    assert after.qE50 == pytest.approx(before.qE50 * 311.7 / 241.7)
    assert "without lowest floor" in panel._picture.value


def test_four_questions_are_answered_in_every_view():
    panel = SizesPanel()
    for view in PLACES:
        html = panel.set(show=view)._picture.value
        assert html.count("<dt>") == 4
        assert "May I cover it?" in html and "open laps" in html


def test_rooms_are_drawn_to_one_scale_and_what_is_out_is_marked():
    job = demo_job()
    plans = rooms_plan(job.rooms, footprints(job.rooms, job.envelope))
    assert len(plans) == 2
    sides = {}
    for plan in plans:
        assert 'role="img"' in plan
        for width, height in re.findall(
            r'<rect [^>]*width="([\d.]+)" height="([\d.]+)"[^>]*stroke-width', plan
        ):
            sides[round(float(width) / float(height), 2)] = float(width)
    living, bathroom = job.rooms[0], job.rooms[7]
    scale = sides[round(living.length / living.width, 2)] / living.length
    long, short = max(bathroom.length, bathroom.width), min(bathroom.length, bathroom.width)
    assert sides[round(long / short, 2)] / long == pytest.approx(scale, rel=0.01)
    assert "OUT" in plans[0] and "OUT" not in plans[1]
    assert "lowest floor +1.95 m²" in plans[0]


def test_rooms_without_a_shape_and_hostile_names_are_drawn_safely():
    from airlab.building import Room

    (plan,) = rooms_plan((
        Room("<b>Attic", "top", floor_area=9.0, height=2.0), Room("Nook", "top", height=2.0),
        Room("Very-long-single-word-name-that-never-ends", "top", 1.0, 1.0, 2.0),
    ))  # fmt: skip
    assert "<b>" not in plan and "&lt;b&gt;" in plan
    assert "Nook: no length and width" in plan
    assert rooms_plan((Room("Nook", "top"),)) == ()


def test_limits_show_status_and_memory_only_when_asked():
    panel = SizesPanel().set(show="limits")
    html = panel._picture.value
    assert "FROM MEMORY" not in html and "second-hand" in html and "Check your local rules" in html
    assert html.count("<tr") == len(limits()) + 2, "head, all published ones, the job's own"
    assert "Your limit" in html
    more = panel.set(memory=True, superseded=True)._picture.value
    assert "FROM MEMORY" in more and "no longer in force" in more
    irish = panel.set(country="Ireland", memory=False, superseded=False)._picture.value
    assert irish.count("<tr") == len(limits("Ireland")) + 2
    assert "nobody has checked" in panel.controls["memory"].description


def test_a_limit_at_another_pressure_moves_with_the_exponent():
    panel = SizesPanel().set(show="limits", country="France")
    flow = {one.limit.key: one.allowed_flow for one in panel.value.standings}
    panel.set(flow_exponent=0.6)
    now = {one.limit.key: one.allowed_flow for one in panel.value.standings}
    # 0.6 m³/(h·m²) at 4 Pa: factor (50/4)^n, so the ratio is 12.5^(0.6 − 0.65) [derived].
    ratio = now["fr_rt2012_house"] / flow["fr_rt2012_house"]
    assert ratio == pytest.approx(12.5 ** (0.6 - 0.65))


def test_aim_and_slips():
    panel = SizesPanel().set(show="aim", confidence=0.95)
    assert panel.value.aim.aim == pytest.approx(3.0 * 0.6105, rel=1e-3)  # 3 · exp(−0.3 · 1.6449)
    assert '<tr aria-current=true><th scope="row">95 %' in panel._picture.value
    html = panel.set(show="slips")._picture.value
    assert "5 % too small" in html
    slip = {one.metric.key: one for one in panel.value.slips}["n50"]
    assert slip.if_too_small == pytest.approx(slip.value / 0.95)


def test_us_units_from_the_job(job):
    panel = SizesPanel(save_settings(job, units="us"))
    html = panel._picture.value
    assert "ft³" in html and "cfm" in panel.sentence and "m³/h" not in panel.sentence
    assert "1 in²" in html
    assert "× " in html and " ft" in html
    assert "m³" in panel.set(units="metric")._picture.value


def test_the_geometry_sheet_is_printed_to_be_signed(job):
    panel = SizesPanel(job)
    editor = panel.editor("rooms")
    editor.add_row(room="Dormer", storey="first", length_m=2, width_m=1, height_m=1, shape="dormer")
    assert "Dormer: dormer, 1 m³" in panel._picture.value
    panel._edit[2].click()
    assert panel.message == "" and "Open the geometry sheet" in panel._printed.value
    sheet = (job.folder / "pages" / "geometry.html").read_text(encoding="utf-8")
    assert "measured by, date" in sheet and "dormer" in sheet
    assert "Effective leakage area at 4 Pa, ELA4" in sheet and "C value" in sheet
    with pytest.raises(InputError, match="nothing to sign"):
        SizesPanel(start_job("Bare", like="empty")).print_sheet()


def test_slips_are_shown_in_the_units_of_the_job_and_with_how_countries_count(job):
    panel = SizesPanel(worked(job)).set(metric="qE50", amount=5.0, show="slips", units="us")
    table = panel._picture.value.split("<caption>What a slip in a size does")[1].split("</table>")[
        0
    ]
    assert "0.273 cfm/ft²" in table and "m³/(h" not in table  # 5 / 18.288
    assert "France: envelope as heat-loss area without lowest floor" in panel._picture.value


# edits ------------------------------------------------------------------------------------


def test_a_changed_room_changes_the_numbers_and_is_kept(job):
    panel = SizesPanel(job).set(metric="n50", amount=3.0)
    before = panel.value
    panel._edit[0].click()
    editor = panel._editor_box.children[0]
    editor.choose("Kitchen").set(length_m="6").save_row()
    after = panel.value
    assert after.house.floor_area - before.house.floor_area == pytest.approx((6 - 4.08) * 3.9)
    assert after.indicators.leakage_flow > before.indicators.leakage_flow
    assert "6 × 3.9" in panel._picture.value
    assert "larger than what they stand on" in panel._picture.value
    again = SizesPanel(open_job(job.folder)).set(metric="n50", amount=3.0)
    assert again.value == after
    editor.undo()
    assert panel.value.house == before.house


def test_an_edit_the_house_cannot_bear_is_said_and_can_be_taken_back(job):
    panel = SizesPanel(job)
    good = panel.sentence
    editor = panel.editor("rooms")
    editor.choose("Kitchen").set(height_m="").save_row()
    assert "Room 'Kitchen' has no height" in panel.message
    assert panel.sentence == good
    editor.undo()
    assert panel.message == ""


def test_envelope_edits_move_the_answer_about_covering(job):
    panel = SizesPanel(job)
    editor = panel.edit("envelope").editor("envelope")
    for row in list(editor.rows):
        if row["status"] == "open laps":
            editor.choose(row["area"]).set(status="complete and visible").save_row()
    assert "Every area is complete" in panel.value.answers.cover
    assert panel.edit("envelope")._editor_box.children == (), "the same button folds it away"


def test_the_demo_is_never_written():
    before = {p.name: p.read_bytes() for p in demo_job().folder.iterdir()}
    panel = SizesPanel().set(metric="n50", amount=1.0)
    for button in panel._keepers:
        button.click()
        assert "The demo house stays as it is" in panel.message
    editor = panel.edit("rooms").editor("rooms")
    with pytest.raises(InputError, match="stays as it is"):
        editor.set(length_m=9).save_row()
    assert {p.name: p.read_bytes() for p in demo_job().folder.iterdir()} == before


def test_target_limit_and_settings_are_kept_in_the_job(job):
    panel = SizesPanel(job).set(metric="qE50 L/(s.m2)", amount=1.0, rule="heat-loss area",
                                flow_exponent=0.7, confidence=0.8)  # fmt: skip
    for button in panel._keepers:
        button.click()
        assert panel.message == ""
    kept = open_job(job.folder)
    assert dict(kept.target) == {"metric": "qE50", "value": 3.6}
    assert kept.limit["value"] == 3.6
    assert (kept.counting["rule"], kept.flow_exponent, kept.confidence) == (
        "heat-loss area",
        0.7,
        0.8,
    )
    again = SizesPanel(kept)
    assert again.value.what == "target"
    assert again.value.indicators.geometry.rule.name == "heat-loss area"
    with pytest.raises(InputError, match="the target already"):
        again.keep_target()


def test_rough_until_rooms_are_entered_and_empty_before():
    job = start_job("Bare", like="empty")
    panel = SizesPanel(job)
    assert panel.value is None and "No rooms yet" in panel.sentence
    panel = SizesPanel(save_settings(job, rough={"floor_area_m2": 140.0, "mean_height_m": 2.5}))
    panel.set(metric="n50", amount=1.0)
    assert panel.sentence.startswith("ROUGH until rooms are entered. The result: at 50 Pa 350 m³/h")
    assert "ROUGH until rooms are entered" in panel._picture.value
    panel.editor("rooms").add_row(room="Hall", storey="ground", length_m=5, width_m=4, height_m=2.5)
    assert "ROUGH" not in panel.sentence
    assert panel.value.indicators.leakage_flow == pytest.approx(m3_per_h(50.0))
    assert panel.value.indicators.qE50 is None and "not entered" in panel._picture.value


def test_a_first_target_can_be_shown_at_once(job):
    panel = SizesPanel(save_settings(job, target=None))
    panel.set(metric="qE50", amount=1.5).keep_target()
    assert panel.settings["metric"] == "qE50"
    panel.controls["metric"].value = "target"
    assert panel.value.what == "target"
    assert panel.value.indicators.qE50 == pytest.approx(1.5)


def test_own_past_results_replace_the_assumed_spread(job):
    past = [{"house": str(i), "aimed_for": 2.0, "result": r} for i, r in enumerate((1.8, 2.2, 2.6))]
    panel = SizesPanel(save_table(job, "past_results", past)).set(show="aim")
    assert panel.value.aim.history.count == 3
    assert "From 3 houses of your own" in panel._picture.value


@pytest.mark.parametrize("amount", [-1.0, float("nan")])
def test_numbers_that_cannot_be_used_go_to_the_message(amount):
    panel = SizesPanel().set(metric="n50", amount=2.0)
    panel.controls["amount"].value = amount
    assert panel.message
    assert panel.value.indicators.n50 == pytest.approx(2.0)


def test_in_sight_at_most_five_controls_and_close_leaves_nothing():
    held = set(_instances)
    panel = SizesPanel().set(show="limits").edit("rooms").edit("envelope")
    assert len(panel._in_sight) <= 5
    panel.close()
    assert set(_instances) == held
