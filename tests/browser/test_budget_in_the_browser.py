"""Notebook 06 in a real lab: run all, change a line by keyboard, the sentence changes; axe."""

import shutil
from pathlib import Path

import pytest

NAME = "06_leakage_budget.ipynb"
NOTEBOOK = Path(__file__).resolve().parents[2] / "notebooks" / NAME


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_line_of_the_budget_is_changed_by_keyboard(lab, notebook, theme):
    shutil.copy(NOTEBOOK, lab.folder)
    page = notebook(NAME, theme=theme)
    page.run_all()
    panel = page.page.locator(".airlab-panel").first
    for _ in range(8):
        if panel.count():
            break
        page.page.locator(".jp-WindowedPanel-outer").first.evaluate("e => e.scrollTop += 300")
        page.page.wait_for_timeout(300)
    panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.startsWith('Chance')"
    )
    assert page.status().startswith("Chance to be within the limit: 59 %")
    clean(page)
    page.screenshot(f"budget_start_{theme}")
    picker = page.control("combobox", "Try a change of")
    picker.focus()
    picker.select_option("sill joint")
    said = page.status_after(lambda: page.type_number("Leakage left in it", 15))
    assert said.startswith("sill joint at 15 % of its leakage: the chance goes from 59 % to 66 %")
    page.screenshot(f"budget_changed_{theme}")
    page.press(page.control("button", "Reset"), "Enter")
    picker = page.control("combobox", "What was measured")
    picker.focus()
    picker.select_option("sill joint")
    said = page.status_after(lambda: page.type_number("Measured at 50 Pa", 150))
    assert said.startswith("Measured 150 m³/h at 50 Pa, give or take 9.5 %, for sill joint")
    clean(page)
    page.screenshot(f"budget_learnt_{theme}")
    page.press(page.control("button", "Reset"), "Enter")
    page.press(page.control("checkbox", "More settings"), "Space")
    way = page.control("checkbox", "The cheapest way under the limit")
    assert "Cheapest way to 90 %: 3 changes" in page.status_after(lambda: page.press(way, "Space"))
    page.press(page.control("checkbox", "Whose uncertainty matters most"), "Space")
    clean(page)
    page.screenshot(f"budget_cheapest_{theme}")
    page.press(page.control("button", "Reset"), "Enter")
    page.press(page.control("checkbox", "Edit the budget as a table"), "Space")
    picker = page.control("combobox", "Choose item")
    picker.focus()
    picker.select_option("sill joint")
    part = page.control("textbox", "Component")
    part.fill("joint sealed")
    part.press("Tab")
    save = page.control("button", "Save row")
    said = page.status_after(lambda: page.press(save, "Enter"))
    assert said.startswith("Chance to be within the limit: 66 %"), said
    clean(page)
    page.page.locator(".airlab-editor").first.scroll_into_view_if_needed()
    page.screenshot(f"budget_table_{theme}")


def clean(page):
    assert page.axe() == []
    assert page.errors() == []
    assert page.faults == [], "page or console errors"
    assert page.strangers == [], "requests to other hosts"
