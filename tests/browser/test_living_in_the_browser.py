"""Notebook 10 in a real lab: run all, turn the pages and move the leakage by keyboard; axe."""

import re

from airlab.panels.living import VIEWS, LivingPanel

SAYS = ("carries away", "leaves the gap", "is asked for", "Read heat and fresh air together")


def test_the_pages_of_the_year_are_turned_by_keyboard(lab, notebook):
    page = notebook(lab.bring("10_living_in_it.ipynb")).begin()
    page.to_panel(LivingPanel.title)
    start = page.begins("602 m³/h at 50 Pa, the target.")
    page.says("times the everyday")
    assert "for 1.94 at 50 Pa" in start
    page.press(page.control("slider", "Air changes at 50 Pa"), "ArrowRight")
    page.page.wait_for_function(
        "() => !document.querySelector('.airlab-panel [role=status]').innerText.includes('target')"
    )
    said = page.says("at 50 Pa")
    assert 1.94 < float(re.search(r"for ([\d.]+) at 50 Pa", said)[1]) < 2.5
    page.look("living_air")
    for (before, _), (_, key), words in zip(VIEWS, VIEWS[1:], SAYS):
        page.control("radio", before).focus()
        page.page.keyboard.press("ArrowDown")
        page.says(words)
        page.look(f"living_{key}")
    page.press(page.control("button", "Reset"), "Enter")
    assert page.begins("602 m³/h") == start
