"""The practice house in a real lab: open 03, run all, walk and tag a leak by keyboard, open it up."""

import shutil
from pathlib import Path

import pytest

NOTEBOOK = Path(__file__).resolve().parents[2] / "notebooks" / "03_find_the_leaks.ipynb"


def clean(page):
    assert page.axe() == []
    assert page.errors() == []
    assert page.faults == []
    assert page.strangers == []


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_walk_and_tag_a_leak_by_keyboard(lab, notebook, theme):
    shutil.copy(NOTEBOOK, lab.folder / NOTEBOOK.name)
    page = notebook(NOTEBOOK.name, theme=theme)
    page.run_all()
    page.panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.trim()"
    )
    assert "may the fan run?" in page.status()
    clean(page)
    page.panel.scroll_into_view_if_needed()
    page.screenshot(f"practice_safe_{theme}")

    def enter(name):
        return page.status_after(
            lambda: page.press(page.control("button", name, exact=True), "Enter")
        )

    assert "fan may run" in enter("All safe: fan may run")
    page.screenshot(f"practice_prepare_{theme}")
    step = page.control("radio", "2 Prepare")
    page.press(step, "ArrowRight")
    page.control("button", "Run the fan").wait_for()
    assert "Held at −50 Pa" in enter("Run the fan")
    assert "on the gauge" in enter("Read the gauge")
    clean(page)
    page.screenshot(f"practice_fan_{theme}")
    page.press(page.control("radio", "3 Fan"), "ArrowRight")
    page.control("button", "Next place").wait_for()
    for _ in range(33):
        if "Tag what you want" in enter("Search"):
            break
        enter("Next place")
    page.screenshot(f"practice_search_{theme}")
    assert enter("Tag it").startswith("Tag 1:")
    clean(page)
    page.screenshot(f"practice_tagged_{theme}")
    page.press(page.control("radio", "4 Search"), "ArrowRight")
    page.control("button", "Look again").wait_for()
    assert enter("Do it").startswith("Tag 1:")
    page.screenshot(f"practice_fixed_{theme}")
    page.press(page.control("radio", "5 Fix"), "ArrowRight")
    page.control("button", "Open the house up").wait_for()
    assert "of 14 leaks tagged" in enter("Open the house up")
    clean(page)
    page.screenshot(f"practice_opened_{theme}")
    page.click("Projector view")
    page.page.wait_for_function("() => document.querySelector('.airlab-panel:popover-open')")
    page.screenshot(f"practice_projector_{theme}")
    page.page.keyboard.press("Escape")
