"""The line in a real lab: walked and drawn by keyboard alone, light and dark, nothing for axe."""

import pytest

DRAW = "from airlab.panels.line import LinePanel\nLinePanel()"
COUNT = "from airlab.panels.line_count import LiftCountPanel\nLiftCountPanel()"


def clean(notebook):
    """What must hold after anything a person did."""
    assert notebook.axe() == []
    assert notebook.errors() == []
    assert notebook.faults == [], "page or console errors"
    assert notebook.strangers == [], "requests to other hosts"


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_line_is_drawn_by_keyboard(lab, notebook, theme):
    lab.write("line.ipynb", "# The line", DRAW)
    page = notebook("line.ipynb", theme=theme)
    page.run_all()
    start = page.status()
    assert start.startswith("Pen at 1. sill south (ground floor to south wall): closed")
    clean(page)
    page.screenshot(f"line_start_{theme}")
    on = page.control("button", "Next junction")
    assert page.status_after(lambda: page.press(on, "Enter")).startswith("Pen at 17. south frames")
    picker = page.control("combobox", "Pen at")
    picker.focus()
    assert page.status_after(lambda: picker.select_option("6  floor edge north")).startswith(
        "Pen at 6. floor edge north (floor edge to north wall): open, 19.2 m, carpenter. From Hall"
    )
    page.screenshot(f"line_lift_{theme}")
    down = page.control("radio", "down: the two layers are joined")
    said = page.status_after(lambda: page.press(down, "Space"))
    assert "The line is closed" in said
    clean(page)
    page.screenshot(f"line_closed_{theme}")
    assert "open: 1 pen lift" in page.status_after(
        lambda: page.press(page.control("button", "Undo"), "Enter")
    )
    view = page.control("combobox", "Drawing")
    view.select_option("Plan, ground storey")
    page.page.get_by_text("Plan, ground storey").last.wait_for()
    page.wait_idle()
    page.page.wait_for_timeout(500)
    clean(page)
    page.screenshot(f"line_plan_{theme}")
    page.click("Projector view")
    page.page.wait_for_function("() => document.querySelector('.airlab-panel:popover-open')")
    clean(page)
    page.screenshot(f"line_projector_{theme}")
    page.page.keyboard.press("Escape")
    page.page.wait_for_function("() => !document.querySelector('.airlab-panel:popover-open')")
    view.select_option("All pen lifts")
    page.page.wait_for_selector(".airlab-lifts")
    page.page.get_by_label("More settings").check()
    page.page.get_by_label("Edit the junctions as a table").check()
    page.page.get_by_text("Choose junction").first.wait_for()
    clean(page)
    page.screenshot(f"line_lifts_{theme}")
    page.page.locator(".airlab-editor").first.scroll_into_view_if_needed()
    page.screenshot(f"line_table_{theme}")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_lifts_are_counted_by_keyboard(lab, notebook, theme):
    lab.write("count.ipynb", "# Count", COUNT)
    page = notebook("count.ipynb", theme=theme)
    page.run_all()
    assert "How often must the pen lift?" in page.status()
    clean(page)
    page.screenshot(f"count_asked_{theme}")
    check_it = page.control("button", "Check", exact=True)
    for typed, begins in (
        ("2", "Not yet. You counted the gaps that bear a number"),
        ("3", "Right. 3."),
        ("4", "Right. 4."),
    ):
        page.type_number("Lifts I count", typed)
        assert page.status_after(lambda: page.press(check_it, "Enter")).startswith(begins)
    assert page.status_after(lambda: page.press(check_it, "Enter")).startswith(
        "Right. The carpenter"
    )
    clean(page)
    page.screenshot(f"count_owner_{theme}")
    page.control("radio", "nobody yet").check()
    assert "Done in 5 tries" in page.status_after(lambda: page.press(check_it, "Enter"))
    clean(page)
    page.screenshot(f"count_done_{theme}")
