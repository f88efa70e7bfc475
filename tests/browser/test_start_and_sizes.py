"""The first page and the sizes in a real lab: by keyboard alone, on a house of one's own."""

from airlab.files import read_table
from airlab.files.job import JOB_TABLES


def test_three_doors_by_keyboard(lab, notebook):
    page = notebook(lab.bring("00_start.ipynb")).begin()
    page.says("When is it flat")
    page.look("start")
    page.press(page.control("radio", "not yet"), "ArrowDown")
    page.begins("You said 10 s. It is flat after 10.")
    page.press(page.control("radio", "I want to understand it"), "ArrowDown")
    page.says("Pick the unit")
    page.press(page.control("radio", "pick one"), "ArrowDown")
    page.begins("ROUGH. 3 /h at 50 Pa allows 1050 m³/h at 50 Pa.")
    page.type_number("Floor area [m²]", 100)
    page.says("allows 750 m³/h at 50 Pa")
    page.look("start_rough")
    page.press(page.control("radio", "I am building a house"), "ArrowDown")
    page.says("aim for 2.04 /h at 50 Pa")
    page.look("start_design")


def test_own_house_then_a_room_changed_by_keyboard_is_kept_in_its_file(lab, notebook):
    page = notebook(lab.bring("00_start.ipynb")).begin()
    name = page.control("textbox", "Name of my house")
    name.fill("12 Hill Road")
    page.press(page.control("button", "Start my own house"), "Enter")
    page.page.get_by_text("Open: 12 Hill Road.").wait_for()
    page.page.locator(".airlab-lab-side").get_by_text("the same as in the kernel").wait_for()
    page.clean()
    page.close()

    page = notebook(lab.bring("04_measure_your_house.ipynb")).begin()
    before = page.status()
    page.press(page.control("button", "Change rooms"), "Enter")
    page.page.locator(".airlab-editor").wait_for()
    page.clean()
    page.choose("Choose room", "Kitchen")
    length = page.control("textbox", "Length [m]")
    page.field_holds("4.08")
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
    page.press(page.control("button", "Undo", exact=True), "Enter")
    assert page.says(before) == before
    page.clean()
    page.press(page.control("radio", "rooms to scale"), "ArrowDown")
    page.press(page.control("radio", "every indicator"), "ArrowDown")
    page.page.locator(".airlab-limits").wait_for()
    page.clean()
