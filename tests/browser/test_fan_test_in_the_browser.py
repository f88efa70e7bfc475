"""Reading a fan test in a real lab, by keyboard alone."""

from pathlib import Path

import pytest

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
NAME = "09_read_a_fan_test.ipynb"


def clean(page):
    assert page.axe() == []
    assert page.errors() == []
    assert page.faults == [], "page or console errors"
    assert page.strangers == [], "requests to other hosts"


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_point_is_chosen_moved_and_left_out_by_keyboard(lab, notebook, theme):
    (lab.folder / NAME).write_bytes((NOTEBOOKS / NAME).read_bytes())
    page = notebook(NAME, theme=theme)
    page.run_all()
    # The lab may take cells out of a long page while they are out of sight.
    top = "() => document.querySelector('.jp-WindowedPanel-outer').scrollTo(0, 0)"
    page.page.evaluate(top)
    page.panel.wait_for()
    page.panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.trim()"
    )
    assert "Point 3 lies 5.2 % below the line of the others" in page.status()
    clean(page)
    page.screenshot(f"fan_test_{theme}")

    picker = page.control("combobox", "One point")
    page.press(picker, *"depressurise 3")
    moved = page.status_after(
        lambda: page.press(page.control("slider", "Its flow moved by"), *["ArrowRight"] * 5)
    )
    assert "Point 3 (depressurise) with +5 % flow: the flow at 50 Pa moves by +0.42 %" in moved
    out = page.status_after(lambda: page.press(page.control("checkbox", "Leave it out"), "Space"))
    assert "Point 3 (depressurise) left out: the flow at 50 Pa moves by +0.46 %" in out
    assert out.endswith("No fault shows in the points.")
    clean(page)
    page.screenshot(f"fan_test_left_out_{theme}")

    shown = page.control("combobox", "Show")
    page.press(shown, "ArrowDown")  # straight scales
    for caption in (
        "What the flow is uncertain by",
        "condition by condition",
        "Every step of the sum",
        "before the boards, then final",
    ):
        page.press(shown, "ArrowDown")
        page.panel.locator("caption", has_text=caption).wait_for()
        page.wait_idle()
        clean(page)
        page.screenshot(f"fan_test_{caption[:9].strip()}_{theme}")
    assert "The two lines cross" in page.status()
    page.press(page.control("button", "Change readings"), "Enter")
    page.page.locator(".airlab-editor").wait_for()
    clean(page)
    page.screenshot(f"fan_test_editor_{theme}")
    page.press(page.control("button", "Print the record"), "Enter")
    page.page.get_by_text("Open the record").wait_for()
