"""The first page and the sizes in a real lab: by keyboard alone, on a house of one's own."""

from pathlib import Path

import pytest

from airlab.files import read_table
from airlab.files.job import JOB_TABLES

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"


def clean(notebook):
    """What must hold after anything a person did."""
    assert notebook.axe() == []
    assert notebook.errors() == []
    assert notebook.faults == [], "page or console errors"
    assert notebook.strangers == [], "requests to other hosts"


def bring(lab, name):
    """Copy a notebook of the workbook into the folder of the lab."""
    (lab.folder / name).write_bytes((NOTEBOOKS / name).read_bytes())
    return name


def run(page):
    """Run all, go to the first panel and wait until it has said something."""
    page.run_all()
    page.panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.trim()"
    )


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_three_doors_by_keyboard(lab, notebook, theme):
    page = notebook(bring(lab, "00_start.ipynb"), theme=theme)
    run(page)
    assert "When is it flat" in page.status()
    clean(page)
    page.screenshot(f"start_{theme}")
    guess = page.control("radio", "not yet")
    said = page.status_after(lambda: page.press(guess, "ArrowDown"))
    assert said.startswith("You said 10 s. It is flat after 10.")
    door = page.control("radio", "I want to understand it")
    both = page.status_after(lambda: page.press(door, "ArrowDown"))
    assert "Pick the unit" in both
    rough = page.status_after(lambda: page.press(page.control("radio", "pick one"), "ArrowDown"))
    assert rough.startswith("ROUGH. 3 /h at 50 Pa allows 1050 m³/h at 50 Pa.")
    page.type_number("Floor area [m²]", 100)
    page.page.get_by_text("allows 750 m³/h at 50 Pa").first.wait_for()
    clean(page)
    page.screenshot(f"start_rough_{theme}")
    door = page.control("radio", "I am building a house")
    design = page.status_after(lambda: page.press(door, "ArrowDown"))
    assert "aim for 2.04 /h at 50 Pa" in design
    clean(page)
    page.screenshot(f"start_design_{theme}")


def test_own_house_then_a_room_changed_by_keyboard_is_kept_in_its_file(lab, notebook):
    page = notebook(bring(lab, "00_start.ipynb"))
    run(page)
    name = page.control("textbox", "Name of my house")
    name.fill("12 Hill Road")
    page.press(page.control("button", "Start my own house"), "Enter")
    page.page.get_by_text("Open: 12 Hill Road.").wait_for()
    lab_side = page.page.locator(".airlab-lab-side").inner_text()
    assert "the same as in the kernel" in lab_side
    clean(page)
    page.close()

    page = notebook(bring(lab, "04_measure_your_house.ipynb"))
    run(page)
    before = page.status()
    page.press(page.control("button", "Change rooms"), "Enter")
    page.page.locator(".airlab-editor").wait_for()
    clean(page)
    picker = page.control("combobox", "Choose room")
    picker.focus()
    picker.select_option("Kitchen")
    length = page.control("textbox", "Length [m]")
    page.page.wait_for_function(
        "() => [...document.querySelectorAll('input')].some(i => i.value === '4.08')"
    )
    length.fill("4,2")
    length.press("Tab")
    after = page.status_after(lambda: page.press(page.control("button", "Save row"), "Enter"))
    assert after != before
    page.page.get_by_text("Saved Kitchen.").wait_for()
    page.screenshot("sizes_saved", within=".airlab-panel")
    rows = read_table(lab.jobs / "12-Hill-Road" / "rooms.csv", JOB_TABLES["rooms"][0]).rows
    assert {row["room"]: row["length_m"] for row in rows}["Kitchen"] == 4.2
    length.fill("wide")
    page.press(page.control("button", "Save row"), "Enter")
    page.page.get_by_text("Length [m] is 'wide'").wait_for()
    assert page.status() == after
    page.press(page.control("button", "Undo", exact=True), "Enter")
    page.page.get_by_text("is as it was saved").wait_for()
    back = page.status_after(
        lambda: page.press(page.control("button", "Undo", exact=True), "Enter")
    )
    assert back == before
    clean(page)
    page.press(page.control("radio", "rooms to scale"), "ArrowDown")
    page.press(page.control("radio", "every indicator"), "ArrowDown")
    page.page.locator(".airlab-limits").wait_for()
    clean(page)
    (lab.jobs / "open_job.txt").unlink()
