"""The workbook's own notebooks in a real lab: from the rooms to a decision on one's own house."""

import pytest

from airlab.files import read_table
from airlab.files.job import JOB_TABLES

STOPPING = ("Fires, boilers, stoves", "Asbestos", "Lead dust", "Film and boards")


def test_from_rooms_to_pack_to_decision_on_a_copy_of_the_demo(lab, notebook):
    folder = lab.jobs / "Line-house"
    page = notebook(lab.bring("00_start.ipynb")).begin()
    page.control("textbox", "Name of my house").fill("Line house")
    page.press(page.control("button", "Start my own house"), "Enter")
    page.page.get_by_text("Open: Line house.").wait_for()
    page.clean()
    page.close()

    page = notebook(lab.bring("04_measure_your_house.ipynb")).begin()
    before = page.status()
    page.press(page.control("button", "Change rooms"), "Enter")
    page.choose("Choose room", "Living room")
    page.field_holds("5.4")
    length = page.control("textbox", "Length [m]")
    length.fill("6")
    length.press("Tab")
    after = page.status_after(lambda: page.press(page.control("button", "Save row"), "Enter"))
    assert after != before
    rows = read_table(folder / "rooms.csv", JOB_TABLES["rooms"][0]).rows
    assert {row["room"]: row["length_m"] for row in rows}["Living room"] == 6.0
    page.clean()
    page.close()

    page = notebook(lab.bring("07_plan_the_check.ipynb")).begin()
    page.begins("No fan, no flow, no go.")
    for hazard in STOPPING:
        group = page.page.get_by_role("radiogroup", name=hazard)
        group.get_by_role("radio", name="don't know").focus()
        page.page.keyboard.press("ArrowUp")
        page.page.keyboard.press("ArrowUp")
        page.wait_idle()
    page.says("Nothing known forbids")
    page.press(page.control("button", "Print the pack"), "Enter")
    page.page.get_by_text("Line-house/pages/pack.html").wait_for()
    pack = (folder / "pages" / "pack.html").read_text(encoding="utf-8")
    assert "Line house" in pack
    assert "Search route" in pack
    page.clean()
    page.close()

    page = notebook(lab.bring("08_check_day.ipynb")).begin()
    page.says("No reading yet")
    page.page.get_by_label("Pressure [Pa]").fill("50")
    page.page.get_by_label("Flow [m³/h]").fill("480")
    page.page.get_by_label("Flow [m³/h]").press("Enter")
    page.says("480 m³/h")
    page.page.get_by_role("radio", name="Cover or wait").check()
    decision = page.says("GO WITH CONDITIONS: evidence supports covering 33 of 39 areas")
    assert "903 m³/h at 50 Pa" in decision
    assert " by the budget, " in decision and " by the drift; the lower decides" in decision
    assert "5 of 39 areas wait. A person signs." in decision
    readings = read_table(folder / "readings.csv", JOB_TABLES["readings"][0]).rows
    assert [row["flow_m3_per_h"] for row in readings] == [pytest.approx(480.0)]
    page.clean()
