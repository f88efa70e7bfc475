"""Notebook 10 in a real lab: run all, turn the pages and move the leakage by keyboard; axe."""

import re
import shutil
from pathlib import Path

import pytest

from airlab.panels.living import VIEWS, LivingPanel

NAME = "10_living_in_it.ipynb"
NOTEBOOK = Path(__file__).resolve().parents[2] / "notebooks" / NAME


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_pages_of_the_year_are_turned_by_keyboard(lab, notebook, theme):
    shutil.copy(NOTEBOOK, lab.folder)
    (lab.jobs / "open_job.txt").unlink(missing_ok=True)  # the demo, whatever others left open
    page = notebook(NAME, theme=theme)
    page.run_all()
    panel = page.page.locator(".airlab-panel").filter(has_text=LivingPanel.title).first
    sheet = page.page.locator(".jp-WindowedPanel-outer").first
    sheet.evaluate("e => { e.scrollTop = 0 }")  # only what is near the sight is on the page
    for _ in range(12):
        if panel.count():
            break
        sheet.evaluate("e => { e.scrollTop += 250 }")
        page.page.wait_for_timeout(300)
    panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.includes('times the everyday')"
    )
    start = page.status()
    assert start.startswith("602 m³/h at 50 Pa, the target.") and "for 1.94 at 50 Pa" in start
    slider = page.control("slider", "Air changes at 50 Pa")
    said = page.status_after(lambda: page.press(slider, "ArrowRight"))
    moved = float(re.search(r"for ([\d.]+) at 50 Pa", said)[1])
    assert 1.94 < moved < 2.5 and "the target" not in said
    clean(page)
    page.screenshot(f"living_air_{theme}")
    for (words, key), sign in zip(VIEWS[1:], ("carries away", "leaves the gap", "is asked for",
                                              "Read heat and fresh air together")):  # fmt: skip
        page.control("radio", VIEWS[[one for _, one in VIEWS].index(key) - 1][0]).focus()
        said = page.status_after(lambda: page.page.keyboard.press("ArrowDown"))
        assert sign in said, words
        page.screenshot(f"living_{key}_{theme}")
    clean(page)
    page.press(page.control("button", "Reset"), "Enter")
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]').innerText.startsWith('602')"
    )
    assert page.status() == start


def clean(page):
    assert page.axe() == []
    assert page.errors() == []
    assert page.faults == [], "page or console errors"
    assert page.strangers == [], "requests to other hosts"
