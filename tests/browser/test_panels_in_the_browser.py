"""Panels in a real lab: run all, move by keyboard, read the changed sentence, nothing for axe."""

import json

from harness import saved

BALLOON = "from airlab.panels import BalloonPanel\npanel = BalloonPanel()\npanel"
HOUSE = "from airlab.panels import HousePanel\nHousePanel().skip()"


def test_balloon_by_keyboard(lab, notebook):
    lab.write("balloon.ipynb", "# The balloon", BALLOON)
    page = notebook("balloon.ipynb").begin()
    question = page.says("How long until it is flat?")
    page.look("balloon_asked")

    hole = page.control("slider", "Hole, across [mm]")
    moved = page.status_after(lambda: page.press(hole, "ArrowRight"))
    assert "2.6 mm" in moved
    assert page.status_after(lambda: page.press(hole, "ArrowLeft")) == question

    locked = page.status_after(lambda: page.press(page.control("button", "1 min"), "Enter"))
    assert locked.startswith("You said 1 min. Locked.")
    page.look("balloon_locked")

    page.press(page.control("button", "Run", exact=True), "Enter")
    page.page.wait_for_timeout(3000)
    page.screenshot("balloon_running")
    page.page.get_by_text("What did you see?").wait_for()
    page.type_number("Flat after, in s", 60)
    result = page.status_after(lambda: page.click("That is what I saw"))
    assert result.startswith("You said 1 min. You saw: flat after 60 s")
    page.look("balloon_told", within=".airlab-panel")

    wider = page.status_after(lambda: page.press(hole, *["PageUp"] * 5))
    assert "You said" not in wider
    assert wider != result
    page.page.get_by_label("All holes").check()
    page.type_number("How many alike", 50000)
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-message').innerText.includes('larger than')"
    )
    assert page.status() == wider, "the last good result stays"
    page.look("balloon_refused")


def test_house_and_projector(lab, notebook):
    lab.write("house.ipynb", "# The house", HOUSE)
    page = notebook("house.ipynb").begin()
    before = page.status()
    page.screenshot("house_light", within=".airlab-panel")
    volume = page.control("slider", "House volume [m³]")
    after = page.status_after(lambda: page.press(volume, "PageUp"))
    assert before != after
    assert volume.get_attribute("aria-valuetext") == "350"
    page.control("radio", "air changes at 50 Pa").check()
    page.page.get_by_text("3 air changes per hour at 50 Pa, one in 20 min").wait_for()
    page.clean()
    page.click("Projector view")
    page.projector()
    box = page.panel.bounding_box()
    assert (box["x"], box["y"], box["width"], box["height"]) == (0, 0, 1366, 768)
    handle = page.control("slider", "House volume [m³]").bounding_box()
    assert min(handle["width"], handle["height"]) >= 24, "WCAG 2.2 target size (from memory)"
    page.look("house_projector")
    page.page.keyboard.press("Escape")
    page.projector(False)


def test_letters_pressed_on_a_slider_do_nothing_to_the_notebook(lab, notebook):
    lab.write("keys.ipynb", "# Keys", HOUSE, "1 + 1")
    page = notebook("keys.ipynb").begin()
    slider = page.control("slider", "House volume [m³]")
    page.press(slider, *"ddmrabcvxyz1jk", *"AMRBLZ", "0", "0", "i", "i")
    page.page.wait_for_timeout(500)
    assert page.panel.is_visible()
    kinds = page.page.evaluate(
        "() => window.jupyterapp.shell.currentWidget.content.model.sharedModel.cells"
        ".map(cell => cell.cell_type)"
    )
    assert kinds == ["markdown", "code", "code"]
    page.press(slider, "Shift+Enter")
    slider.wait_for()
    page.wait_idle()
    assert page.page.locator(".jp-Dialog").count() == 0, "no kernel restart was offered"
    assert page.page.locator(".jp-toast-button, .Toastify__toast").count() == 0, "no news pop-up"
    page.clean()


def test_running_a_cell_again_leaves_one_panel_in_the_kernel(lab, notebook):
    count = (
        "import ipywidgets, airlab.panels.base as base\n"
        "print(sum(one.comm is not None for one in base._OPEN), 'open')"
    )
    lab.write("again.ipynb", HOUSE, count)
    page = notebook("again.ipynb")
    for _ in range(3):
        page.run_all()
    page.page.get_by_text("1 open").wait_for()
    page.clean()


def test_not_run_it_shows_the_sentence_and_a_still_picture_with_its_words(lab, notebook):
    lab.write("stored.ipynb", HOUSE)
    page = notebook("stored.ipynb").begin()
    result = page.status()
    page.save()
    page.page.wait_for_function("() => !window.jupyterapp.shell.currentWidget.context.model.dirty")
    stored = saved(lab, "stored.ipynb")
    for cell in stored["cells"]:
        for output in cell["outputs"]:
            del output["data"]["application/vnd.jupyter.widget-view+json"]
    (lab.folder / "reopened.ipynb").write_text(json.dumps(stored), encoding="utf-8")
    reopened = notebook("reopened.ipynb")
    pictures = reopened.page.locator(".jp-OutputArea img")
    assert pictures.count() == 2
    assert pictures.nth(0).get_attribute("alt").startswith("House of 300 m³.")
    drawn = "img => img.decode().then(() => img.naturalWidth)"
    assert [pictures.nth(k).evaluate(drawn) for k in (0, 1)] == [400, 660]
    assert result in reopened.page.locator(".jp-OutputArea").first.inner_text()
    assert reopened.faults == []
