"""The workbook's own notebooks in a real lab: from the balloon to a decision on one's own house."""

from pathlib import Path

import pytest

from airlab.files import read_table
from airlab.files.job import JOB_TABLES

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
STOPPING = ("Fires, boilers, stoves", "Asbestos", "Lead dust", "Film and boards")


def bring(lab, name):
    """Copy a notebook of the workbook into the folder of the lab."""
    (lab.folder / name).write_bytes((NOTEBOOKS / name).read_bytes())
    return name


def ready(page):
    """Run all, go to the first panel and wait until it has said something."""
    page.run_all()
    page.panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.trim()"
    )
    return page


def sound(page):
    """What must hold after anything a person did."""
    assert page.errors() == []
    assert page.faults == [], "page or console errors"
    assert page.strangers == [], "requests to other hosts"


def said(page, words):
    """Wait until the panel says something."""
    page.page.wait_for_function(
        "(words) => document.querySelector('.airlab-panel [role=status]').innerText"
        ".replaceAll('\\u00a0', ' ').includes(words)",
        arg=words,
    )
    page.wait_idle()
    return page.status()


def test_the_balloon_in_its_notebook(lab, notebook):
    page = ready(notebook(bring(lab, "01_balloon.ipynb")))
    assert "How long until it is flat?" in page.status()
    page.press(page.control("button", "Skip (teacher)"), "Enter")
    before = said(page, "flat in")
    hole = page.control("slider", "Hole, across")
    after = page.status_after(lambda: page.press(hole, "ArrowRight", "ArrowRight"))
    assert after != before
    assert "refills an hour" in after
    sound(page)


def test_from_rooms_to_pack_to_decision_on_a_copy_of_the_demo(lab, notebook):
    folder = lab.jobs / "Line-house"
    page = ready(notebook(bring(lab, "00_start.ipynb")))
    page.control("textbox", "Name of my house").fill("Line house")
    page.press(page.control("button", "Start my own house"), "Enter")
    page.page.get_by_text("Open: Line house.").wait_for()
    sound(page)
    page.close()

    page = ready(notebook(bring(lab, "04_measure_your_house.ipynb")))
    before = page.status()
    page.press(page.control("button", "Change rooms"), "Enter")
    picker = page.control("combobox", "Choose room")
    picker.focus()
    picker.select_option("Living room")
    page.page.wait_for_function(
        "() => [...document.querySelectorAll('input')].some(i => i.value === '5.4')"
    )
    length = page.control("textbox", "Length [m]")
    length.fill("6")
    length.press("Tab")
    after = page.status_after(lambda: page.press(page.control("button", "Save row"), "Enter"))
    assert after != before
    rows = read_table(folder / "rooms.csv", JOB_TABLES["rooms"][0]).rows
    assert {row["room"]: row["length_m"] for row in rows}["Living room"] == 6.0
    sound(page)
    page.close()

    page = ready(notebook(bring(lab, "07_plan_the_check.ipynb")))
    assert page.status().startswith("No fan, no flow, no go.")
    for hazard in STOPPING:
        group = page.page.get_by_role("radiogroup", name=hazard)
        group.get_by_role("radio", name="don't know").focus()
        page.page.keyboard.press("ArrowUp")
        page.page.keyboard.press("ArrowUp")
        page.wait_idle()
    said(page, "Nothing known forbids")
    page.press(page.control("button", "Print the pack"), "Enter")
    page.page.get_by_text("Line-house/pages/pack.html").wait_for()
    pack = (folder / "pages" / "pack.html").read_text(encoding="utf-8")
    assert "Line house" in pack
    assert "Search route" in pack
    sound(page)
    page.close()

    page = ready(notebook(bring(lab, "08_check_day.ipynb")))
    said(page, "No reading yet")
    page.page.get_by_label("Pressure [Pa]").fill("50")
    page.page.get_by_label("Flow [m³/h]").fill("480")
    page.page.get_by_label("Flow [m³/h]").press("Enter")
    said(page, "480 m³/h")
    page.page.get_by_role("radio", name="Cover or wait").check()
    decision = said(page, "GO WITH CONDITIONS: evidence supports covering 33 of 39 areas")
    assert "903 m³/h at 50 Pa" in decision
    assert "5 of 39 areas wait. A person signs." in decision
    readings = read_table(folder / "readings.csv", JOB_TABLES["readings"][0]).rows
    assert [row["flow_m3_per_h"] for row in readings] == [pytest.approx(480.0)]
    sound(page)
    (lab.jobs / "open_job.txt").unlink()
