"""The first page: three doors, the house that is open, the health of the environment."""

import pytest

from airlab.building import RoughStart
from airlab.files import current_job, demo_job, list_jobs, open_job, start_job
from airlab.files.health import Finding, Health, health
from airlab.panels import HealthPanel, JobPanel, StartPanel, safety_first
from airlab.panels import health as health_panel
from airlab.words import CAUTIONS, InputError, m3_per_h


@pytest.fixture(autouse=True)
def jobs(tmp_path, monkeypatch):
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path / "jobs"))
    return tmp_path / "jobs"


def shown(panel):
    """Return the names of the controls in sight."""
    return {n for n, control in panel.controls.items() if control.layout.display != "none"}


# doors ------------------------------------------------------------------------------------


def test_opens_on_a_question_that_gives_nothing_away():
    panel = StartPanel()
    assert "Pick one" in panel.sentence
    assert shown(panel) == {"door", "guess"}
    flat = panel.value.drain.time_to_flat
    assert f"{flat:.3g}" not in panel.sentence + panel._picture.value


def test_the_guess_is_held_against_the_clock():
    panel = StartPanel().guess(60.0)
    # Twice and more the 2.5 mm hole that takes a minute: (6 / 2.5)² times faster [derived].
    assert panel.value.drain.time_to_flat == pytest.approx(60.0 / (6.0 / 2.5) ** 2, rel=0.02)
    assert panel.sentence.startswith("You said 1 min. It is flat after 10.")
    assert "notebook 01" in panel.sentence


@pytest.mark.parametrize("door", ["self-builder", "designer"])
def test_the_unit_of_a_target_must_be_picked(door):
    panel = StartPanel().set(door=door, target=3.0)
    assert panel.sentence.startswith("ROUGH. 3 /h at 50 Pa allows 1050 m³/h at 50 Pa.")
    assert "3 m³/(h·m²) of envelope at 50 Pa allows" in panel.sentence
    assert "Pick the unit" in panel.sentence
    with pytest.raises(InputError, match="Pick the unit"):
        panel.keep()
    assert not list_jobs()


def test_a_self_builder_gets_allowance_holes_and_the_flow_on_the_day():
    panel = StartPanel().set(
        door="self-builder", floor_area=140.0, mean_height=2.5, target=1.0, per="n50"
    )
    record = panel.value
    assert isinstance(record, RoughStart)
    assert record.allowance == pytest.approx(m3_per_h(350.0))  # 140 m² × 2.5 m × 1 /h, by hand
    # 1 cm² of sharp hole passes 2.008 m³/h at 50 Pa (Cd 0.6110, density 1.2) [derived].
    assert record.hole_area == pytest.approx(350.0 / 2.008 * 1e-4, rel=1e-3)
    assert "ROUGH" in panel.sentence and "350 m³/h at 50 Pa" in panel.sentence
    assert "No fan before every hazard is answered" in panel.sentence
    assert "Assumed: a box of 2 storeys" in panel._picture.value
    assert len(shown(panel) - {"door", "storeys"}) <= 5


def test_a_designer_gets_every_indicator_and_an_aim_below_the_limit():
    panel = StartPanel().set(door="designer", target=5.0, per="qE50")
    record = panel.value
    assert record.indicators.qE50 == pytest.approx(5.0)
    assert record.aim.aim == pytest.approx(3.40, abs=0.01)  # 5 · exp(−0.3 · 1.2816), by hand
    assert "aim for 3.4 m³/(h·m²) at 50 Pa" in panel.sentence
    assert "Check your local rules" in panel.sentence
    assert "spread" in shown(panel)
    assert "Effective leakage area at 4 Pa" in panel._picture.value


def test_us_units_go_through_and_a_number_of_another_unit_is_no_house():
    panel = StartPanel(units="us").set(door="designer", target=3.0)
    assert "3 cfm/ft² of envelope at 50 Pa is no usual house" in panel.sentence
    panel.set(target=0.25, per="qE50")
    assert panel.value.rough.value == pytest.approx(4.572, abs=0.001)  # 0.25 cfm/ft² in m³/(h·m²)
    assert "ft²" in panel.controls["floor_area"].box.description
    assert "cfm" in panel.sentence


def test_refused_input_goes_to_the_message_and_the_last_good_picture_stays():
    panel = StartPanel().set(door="self-builder", per="n50")
    before = panel.sentence
    panel.controls["mean_height"].box.value = 240.0
    assert "240 cm is 2.4" in panel.message
    assert panel.sentence == before
    panel.reset()
    assert panel.message == "" and panel.settings["door"] == "apprentice"


def test_keep_starts_a_rough_house_and_prints_its_draft():
    panel = StartPanel().set(door="self-builder", per="qE50", target=2.0, name="Hill <Road>")
    panel._keep.click()
    assert panel.message == ""
    job = current_job()
    assert (job.name, job.rooms, job.rough["floor_area_m2"]) == ("Hill <Road>", (), 140.0)
    assert dict(job.target) == {"metric": "qE50", "value": 2.0}
    draft = (job.folder / "pages" / "draft.html").read_text(encoding="utf-8")
    assert "ROUGH" in draft and "Hill &lt;Road&gt;" in draft and "<Road>" not in draft
    assert "Open the draft" in panel._picture.value
    panel._keep.click()
    assert "There is a job" in panel.message
    panel.set(name="Another")
    panel.controls["floor_area"].box.value = 150.0
    assert "Open the draft" not in panel._picture.value, "the draft is of other numbers"


# which house ------------------------------------------------------------------------------


def test_starts_on_the_demo_and_copies_it_to_a_house_of_ones_own():
    panel = JobPanel()
    assert panel.value.name == demo_job().name
    assert "Start my own house first" in panel.sentence
    panel.controls["name"].value = "12 Hill Road"
    panel._start.click()
    assert panel.message == ""
    job = open_job(panel._pick.value)
    assert (job.name, len(job.rooms), job.invented) == ("12 Hill Road", len(demo_job().rooms), True)
    assert set(job.hazards.values()) == {"don't know"}
    assert "still those of the invented demo" in panel.sentence
    panel._mine.click()
    assert not open_job(job.folder).invented
    assert "invented" not in panel.sentence


def test_switches_between_houses_and_back_to_the_demo():
    first, _ = start_job("First", like="empty"), start_job("Second", like="empty")
    panel = JobPanel()
    assert panel.value.name == "Second"
    assert "ROUGH: no rooms yet" in panel._picture.value
    panel._pick.value = first.folder.name
    assert panel.value.name == "Second", "choosing alone opens nothing"
    panel._open.click()
    assert current_job().name == panel.value.name == "First"
    panel.open_house("")
    assert current_job().read_only


def test_names_that_cannot_be_used_and_broken_houses_are_said(jobs):
    panel = JobPanel()
    panel._start.click()
    assert "Use at least one letter" in panel.message
    panel._mine.click()
    assert "The demo house stays as it is" in panel.message
    broken = start_job("Broken", like="empty").folder
    (broken / "job.json").write_text("{", encoding="utf-8")
    (jobs / "open_job.txt").write_text("", encoding="utf-8")
    panel = JobPanel()
    assert "job.json cannot be read" in panel._picture.value
    panel._pick.value = "Broken"
    panel._open.click()
    assert "job.json cannot be read" in panel.message


def test_what_people_type_is_escaped():
    panel = JobPanel()
    panel.start("<img src=x>")
    assert "<img" not in panel._picture.value


# health -----------------------------------------------------------------------------------


def test_a_well_environment_says_so_without_versions():
    panel = HealthPanel()
    assert panel.value.well
    assert panel.sentence.startswith("The kernel is well")
    plain = panel._repr_mimebundle_()
    versions = [one.found for one in panel.value.findings if "." in one.found]
    assert versions
    assert not any(v in plain["text/plain"] + plain["text/html"] for v in versions)
    assert all(v in panel._picture.value for v in versions)


def test_what_is_wrong_is_named_with_what_to_do(monkeypatch):
    ill = Health((Finding("Python", "3.11.7", True),
                  Finding("numpy", "1.26, not <3,>=2.0", False, "Run it again.")))  # fmt: skip
    monkeypatch.setattr(health_panel, "health", lambda: ill)
    panel = HealthPanel()
    assert panel.sentence == "numpy: 1.26, not <3,>=2.0. Run it again."
    assert "⚠ numpy: 1.26, not &lt;3,&gt;=2.0" in panel._picture.value


def test_missing_and_old_packages_and_a_folder_that_may_not_be_written(monkeypatch, tmp_path):
    from airlab.files import health as module

    asked = ["numpy<3,>=2.0", "nowhere-to-be-found>=1", "scipy>=99", "pytest; extra == 'test'"]
    monkeypatch.setattr(module, "requires", lambda name: asked)
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path / "file" / "jobs"))
    found = {one.what: one for one in health().findings}
    assert found["numpy"].well
    assert found["nowhere-to-be-found"].found == "missing"
    assert ">=99" in found["scipy"].found and not found["scipy"].well
    assert "pytest" not in found
    assert "AIRLAB_JOBS" in found["Your jobs"].todo
    assert "AIRLAB_JOBS" in health().sentence()


def test_safety_first_holds_every_caution_and_begins_with_what_stops_the_fan():
    html = safety_first().data
    assert html.count("<li>") == len(CAUTIONS)
    assert html.index("stops the fan") < html.index("Ladders")
    assert "carbon monoxide" in html


def test_the_lab_side_is_read_from_the_page_not_guessed():
    html = HealthPanel()._picture.value
    assert "jupyter-config-data" in html
    kernel = {one.what: one.found for one in health().findings}["jupyterlab"]
    assert f'data-kernel="{kernel}"' in html
