"""The own bench: cautions first, a table typed or read, the fit; and the exercises as a panel."""

import io
import math
from html import escape

import numpy as np
import pytest
from ipywidgets.widgets.widget import _instances
from PIL import Image

from airlab.files import jobs_folder, read_table
from airlab.files.marks import Marks
from airlab.panels import ExercisesPanel, OwnBenchPanel
from airlab.physics import BENCH, Balloon, Hole, HoleSet, RoundHole, SealedVessel, drain, fit_bench
from airlab.plots.bench import BenchChart, bench_tiles
from airlab.teaching import (
    BENCH_CAUTIONS,
    Choice,
    exercise,
    exercises_for,
    right_answer,
    variants_for,
)
from airlab.words import InputError, mm


def typed(mode="rigid", factor=1.0, rows=10, separator=",", decimal="."):
    """Return invented readings round the waist as a person types them."""
    record = drain(Balloon(hole_mode=mode), RoundHole(mm(2)), frames=rows)
    lines = [separator.join(("time_s", "circumference_cm"))]
    for time, across in zip(factor * record.time, record.diameter):
        cells = (f"{time:.2f}", f"{100 * math.pi * across:.3f}")
        lines.append(separator.join(cell.replace(".", decimal) for cell in cells))
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    "kind", [OwnBenchPanel, lambda: ExercisesPanel("01"), lambda: ExercisesPanel("08", seed=3)]
)
def test_close_leaves_nothing_behind(kind):
    held = set(_instances)
    kind().close()
    assert set(_instances) == held


# ---- own bench -----------------------------------------------------------------------------------


def test_cautions_stand_before_the_help_and_stay():
    panel = OwnBenchPanel()
    for words in (panel._picture.value, panel.set(readings=typed())._picture.value):
        at = [words.index(one.name) for one in BENCH_CAUTIONS]
        assert max(at) < min(words.find("<ol"), words.find("<img"), key=lambda n: (n < 0, n))
    assert panel.value is not None


def test_the_constant_comes_out_and_the_curve_is_drawn():
    panel = OwnBenchPanel().set(readings=typed(factor=1.12))
    assert panel.value.time_factor == pytest.approx(1.12, rel=1e-3)
    assert "1.12 times as long as computed" in panel.sentence
    assert "The shape is the computed one." in panel.sentence
    assert "<img" in panel._picture.value


def test_the_shape_tells_how_the_hole_sat():
    panel = OwnBenchPanel().set(readings=typed("moves with rubber"))
    assert "looks more like a hole of the kind 'moves with rubber'" in panel.sentence
    holes = HoleSet(Hole(RoundHole(mm(2)), "moves with rubber"))
    panel.kit.take(holes)
    assert panel.value.time_factor == pytest.approx(1.0, rel=1e-3)
    assert "The shape is the computed one." in panel.sentence


def test_semicolons_and_decimal_commas_are_read():
    plain = OwnBenchPanel().set(readings=typed())
    local = OwnBenchPanel().set(readings=typed(separator=";", decimal=","))
    assert local.value.time_factor == plain.value.time_factor


def test_a_jar_by_its_gauge():
    vessel = SealedVessel(0.010, 400.0)
    record = drain(vessel, RoundHole(mm(0.5)), frames=8)
    rows = "".join(f"{t:.4f},{p:.4f}\n" for t, p in zip(record.time, record.pressure_difference))
    panel = OwnBenchPanel()
    panel.kit.change(diameter=mm(0.5))
    panel.set(vessel="jar", readings="time_s,pressure_pa\n" + rows)
    assert panel.value.time_factor == pytest.approx(1.0, rel=1e-2)
    assert panel.controls["slack"].layout.display == "none"
    assert panel.kit.mode not in panel.kit.children


def test_a_water_gauge_leaves_no_free_constant():
    """Softer rubber: pressure 0.8 of the usual, so 1/sqrt(0.8) times as long (derived)."""
    record = drain(Balloon(softening=0.8), RoundHole(mm(2)), frames=10)
    time, waist = record.time, math.pi * record.diameter
    start = record.vessel.pressure_difference
    without = fit_bench(Balloon(), RoundHole(mm(2)), time, waist)
    with_it = fit_bench(Balloon(), RoundHole(mm(2)), time, waist, pressure_at_start=start)
    assert without.time_factor == pytest.approx(1 / math.sqrt(0.8), rel=1e-3)
    assert with_it.time_factor == pytest.approx(1.0, rel=1e-3)
    with pytest.raises(InputError, match=r"1 mm of water is 9\.8 Pa"):
        fit_bench(Balloon(), RoundHole(mm(2)), time, waist, pressure_at_start=-1.0)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("time_s,circumference_cm\n0,88\n5,\n10,70\n20,60\n", "missing in reading 2, at 5 s"),
        ("time_s,circumference_cm\n88,0\n80,10\n70,20\n60,30\n", "columns look swapped"),
        (
            "time_s,circumference_cm\n0,88\n20,80\n10,70\n30,60\n",
            "backwards or stands still in row 3",
        ),
        ("time_s,circumference_cm\n0,88\n20,80\n", "four rows or more"),
        ("time_s,circumference_cm\n0,88\n20,8o\n", "column circumference_cm: '8o'"),
        ("time_s,circumference_cm,pressure_pa\n0,88,2500\n20,80,2400\n", "Keep one quantity"),
        ("seconds,circumference_cm\n0,88\n", "has no column time_s"),
        ("time_s,circumference_cm\n0,8\n10,7\n20,6\n30,5\n", "Stretch"),
        ("time_s,circumference_cm\n-5,88\n", "column time_s: '-5'"),
        ("", "empty"),
        ("time_s,pressure_pa\n0,400\n1,300\n2,200\n3,100\n", "sealed vessel by pressure"),
    ],
)
def test_a_table_that_cannot_be_used_is_said_and_nothing_is_lost(text, says):
    panel = OwnBenchPanel().set(readings=typed())
    before = panel.value
    panel.readings.value = text
    assert says in panel.message
    assert panel.value is before
    assert panel.readings.value == text


def test_the_table_goes_to_a_file_and_comes_back():
    panel = OwnBenchPanel()
    with pytest.raises(InputError, match=r"There is no bench\.csv yet"):
        panel.read_file()
    panel.save_file()
    saved = read_table(jobs_folder() / "bench.csv", BENCH)
    assert saved.rows == () and "diameter_cm" in saved.columns
    panel.set(readings=typed()).save_file()
    panel.set(readings="time_s,circumference_cm\n")
    assert panel.value is None
    panel.read_file()
    assert panel.readings.value.splitlines()[0] == "time_s,circumference_cm"
    assert panel.value.time_factor == pytest.approx(1.0, rel=1e-3)


def test_a_file_changed_by_a_spreadsheet_is_read_again():
    panel = OwnBenchPanel().set(readings=typed()).save_file()
    path = jobs_folder() / "bench.csv"
    rows = typed(separator=";", decimal=",").splitlines()
    path.write_text("\ufeff" + "\r\n".join(";".join(reversed(r.split(";"))) for r in rows) + "\r\n")
    button = next(b for b in panel._files.children if b.description.startswith("Save"))
    button.click()
    assert "changed on disk" in panel.message
    panel.read_file()
    assert panel.value.time_factor == pytest.approx(1.0, rel=1e-3)


@pytest.mark.parametrize("quantity", ["circumference", "diameter", "volume", "pressure"])
def test_chart_of_the_bench(quantity):
    vessel = SealedVessel(0.01, 400.0) if quantity == "pressure" else Balloon()
    record = drain(vessel, RoundHole(mm(1)), frames=8)
    measured = {
        "circumference": math.pi * record.diameter, "diameter": record.diameter,
        "volume": record.volume, "pressure": record.pressure_difference,
    }[quantity]  # fmt: skip
    fit = fit_bench(vessel, RoundHole(mm(1)), 1.2 * record.time, measured, quantity)
    chart = BenchChart().draw(fit, quantity=quantity)
    picture = np.asarray(Image.open(io.BytesIO(chart.png())))
    assert picture.shape == (600, 930, 3)
    assert "1.2</b>" in bench_tiles(fit)
    fitted, read = chart.fitted.get_xydata(), chart.readings.get_xydata()
    assert np.interp(read[3, 0], *fitted.T) == pytest.approx(read[3, 1], rel=2e-3)


# ---- exercises -----------------------------------------------------------------------------------


def test_nothing_is_answered_before_it_is_asked():
    panel = ExercisesPanel("01")
    assert panel.sentence == "Give your answer, then press Check answer."
    assert panel._picture.value.count("open") >= 7


@pytest.mark.parametrize("notebook", ["01", "02", "06", "07"])
@pytest.mark.parametrize("seed", [0, 7])
def test_every_exercise_is_reached_answered_and_marked(notebook, seed):
    panel = ExercisesPanel(notebook, seed=seed)
    for entry in variants_for(notebook, seed, whole=True) if seed else exercises_for(notebook):
        panel.which.value = entry.key.partition("/")[0]
        assert panel.exercise.key == entry.key
        assert escape(entry.question[:30]) in panel._picture.value
        if isinstance(entry, Choice):
            panel.options.value = entry.answer()
        else:
            panel.box.value = str(entry.answer())
        panel._check.click()
        assert panel.sentence.startswith("Right."), entry.key
    assert panel._picture.value.count("✓ right") == len(exercises_for(notebook))


def shown(panel, *names):
    """Return which of the named parts are in sight."""
    return [name for name in names if getattr(panel, name).layout.display != "none"]


PARTS = ("options", "grounds", "box", "_pad")


def test_an_order_is_pressed_letter_by_letter():
    panel = ExercisesPanel("07")
    panel.which.value = "07-4"
    assert shown(panel, *PARTS) == ["box", "_pad"]
    assert panel._picture.value.count("<li>") == 6
    keys = {key.description: key for key in panel._keys if key.layout.display != "none"}
    assert "".join(keys) == "abcdef"
    for letter in right_answer("07-4"):
        keys[letter].click()
    panel._check.click()
    assert panel.sentence.startswith("Right.")
    panel._pad.children[-1].click()
    assert panel.box.value == ""


def test_places_are_marked_on_the_drawing():
    panel = ExercisesPanel("03")
    panel.which.value = "03-14"
    assert shown(panel, *PARTS) == ["box", "_pad"] and "<svg" in panel._picture.value
    keys = {key.description: key for key in panel._keys if key.layout.display != "none"}
    assert set(keys) == {str(n) for n in exercise("03-14").places()}
    keys["13"].click(), keys["14"].click()
    assert panel.box.value == "13 14"
    panel._check.click()
    assert panel.sentence.startswith("Close. Right so far, 1 still to find.")
    assert f"0 of {len(exercises_for('03'))} right: 03-14 close." in panel._picture.value
    keys["18"].click()
    panel._check.click()
    assert panel.sentence.startswith("Right.") and "1 of " in panel._picture.value
    panel.which.value = "03-17"
    assert "missing" in panel._picture.value


def test_a_decision_wants_its_reason():
    panel = ExercisesPanel("08")
    panel.which.value = "08-9"
    assert shown(panel, *PARTS) == ["options", "grounds"]
    panel._check.click()
    assert panel.message.startswith("Give a decision and a reason first.")
    option, ground = exercise("08-9").right()
    panel.options.value = option
    panel._check.click()
    assert panel.message.startswith("Give a decision and a reason first.")
    panel.grounds.value = next(one for one in exercise("08-9").grounds if one != ground)
    panel._check.click()
    assert panel.sentence.startswith("Close. The decision is right.") and not panel.message
    panel.grounds.value = ground
    panel._check.click()
    assert panel.sentence.startswith("Right.")


def test_another_number_gives_other_numbers_and_clears_what_was_done():
    panel = ExercisesPanel("01").answer("01-2", right_answer("01-2"))
    assert "✓ right" in panel._picture.value
    panel.seed.value = 7
    assert exercise("01-2/7").question in panel._picture.value
    assert "✓ right" not in panel._picture.value
    assert panel.answer("01-2", right_answer("01-2/7")).sentence.startswith("Right.")
    panel.seed.value = 0
    assert exercise("01-2").question in panel._picture.value


def test_slips_get_their_hint_and_decimal_commas_are_read():
    panel = ExercisesPanel("01")
    panel.box.value = "30"
    panel._check.click()
    assert panel.sentence.startswith("Not yet. That halves the time.")
    panel.which.value = "01-2"
    assert panel.sentence == "Give your answer, then press Check answer." and panel.box.value == ""
    panel.box.value = "2,01"
    panel._check.click()
    assert panel.sentence.startswith("Right.")
    panel._next.click()
    assert panel.which.value == "01-3"
    panel._check.click()
    assert panel.message.startswith("Give an answer first.")


def test_what_is_kept_under_a_number_comes_back_with_it(monkeypatch, tmp_path):
    monkeypatch.setattr("airlab.files.marks.class_folder", lambda: tmp_path)
    panel = ExercisesPanel("01", seed=703)
    panel.keep.value = True
    panel.answer("01-1", right_answer("01-1/703")).answer("01-2", 1e9)
    panel.which.value = "01-3"
    assert "2 tries of this notebook kept under 703." in panel.sentence
    panel.close()
    panel = ExercisesPanel("01")
    assert not panel.keep.value
    panel.seed.value = 703
    assert panel.keep.value and "2 tries of this notebook kept under 703." in panel.sentence
    assert panel._picture.value.count("✓ right") == panel._picture.value.count("not yet") == 1
    panel.answer("01-2", right_answer("01-2/703"))
    assert [one.state for one in Marks(703).marks()] == ["right", "not yet", "right"]
    panel.seed.value = 704
    assert "✓ right" not in panel._picture.value and "kept under" not in panel.sentence
    (tmp_path / "marks-703.csv").write_text("no table", encoding="utf-8")
    panel.seed.value = 703
    assert "marks-703.csv" in panel.sentence and "✓ right" not in panel._picture.value


def test_unknown_exercises_are_refused():
    with pytest.raises(InputError, match="no exercises"):
        ExercisesPanel("99")
    with pytest.raises(InputError, match="There is no exercise '02-1' here"):
        ExercisesPanel("01").answer("02-1", 3)
