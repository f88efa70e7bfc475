"""Notebook 11 in a real lab: print a class by keyboard, whose sheet, every view, points, projector."""

import re
import shutil
from pathlib import Path

import pytest

NOTEBOOK = Path(__file__).resolve().parents[2] / "notebooks" / "11_teach_it.ipynb"


def clean(page):
    assert page.axe() == []
    assert page.errors() == []
    assert page.faults == []
    assert page.strangers == []


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_class_by_keyboard(lab, notebook, theme):
    shutil.copy(NOTEBOOK, lab.folder / NOTEBOOK.name)
    shutil.rmtree(lab.jobs / "class", ignore_errors=True)
    page = notebook(NOTEBOOK.name, theme=theme)
    page.run_all()
    page.panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => [...document.querySelectorAll('.airlab-panel [role=status]')].filter(s => s.innerText)"
        ".length === 2"
    )

    # plan and print
    assert page.status().startswith("The balloon: 45 minutes")
    said = page.status_after(lambda: page.press(page.control("combobox", "Length"), "ArrowDown"))
    assert "60 minutes" in said
    page.control("spinbutton", "Students").fill("4")
    page.control("spinbutton", "Students").press("Enter")
    page.press(page.control("button", "Print plan, hand-outs, key"), "Enter")
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]').innerText.startsWith('Printed for')"
    )
    assert page.status().startswith("Printed for 4 students, class seed 1")
    page.panel.scroll_into_view_if_needed()
    clean(page)
    page.screenshot(f"teach_printed_{theme}")
    handouts = next((lab.jobs / "class" / "pages" / "students").glob("*.html")).read_text("utf-8")
    marks = re.findall(r'check mark <b class="mark">(\w+)</b>', handouts)
    page.press(page.control("checkbox", "A sheet came back"), "Space")
    page.control("textbox", "Its check mark").fill(marks[2])
    page.control("textbox", "Its check mark").press("Tab")
    said = page.status_after(
        lambda: page.press(page.control("button", "Whose sheet is it?"), "Enter")
    )
    assert "not the sheet of student 1 but of student 3" in said
    page.screenshot(f"teach_sheet_{theme}")

    # the board, view by view
    board = page.page.locator(".airlab-panel").nth(1)
    wanted = (("Guess and result", "Slips alive", "Take up first"), ("Slips alive", "Leak hunt", "Larch Yard"),
              ("Leak hunt", "Who is where", "right by now"), ("Who is where", "Open task", "D5: 0 of 10"))  # fmt: skip
    board.scroll_into_view_if_needed()
    board.evaluate("one => one.scrollIntoView()")
    page.screenshot(f"board_guesses_{theme}")
    assert "marks-9.csv" in page.status(1)
    for before, now, words in wanted:
        radio = page.control("radio", before)
        assert words in page.status_after(lambda radio=radio: page.press(radio, "ArrowRight"), 1)
        board.evaluate("one => one.scrollIntoView()")
        clean(page)
        page.screenshot(f"board_{now.split()[0].lower()}_{theme}")
    said = page.status_after(
        lambda: page.press(page.control("combobox", "proof"), "ArrowDown", "ArrowDown"), 1
    )
    assert "D5: 2 of 10 points. Next: surface" in said
    page.control("textbox", "Learner's number").fill("3")
    page.control("textbox", "Learner's number").press("Tab")
    said = page.status_after(
        lambda: page.press(page.control("button", "Keep the points"), "Enter"), 1
    )
    assert said == "Kept. Learner 3, D5: 2 of 10 points."
    assert (lab.jobs / "class" / "marks-3.csv").is_file()
    board.get_by_role("button", name="Projector view").press("Enter")
    page.page.wait_for_function("() => document.querySelector('.airlab-panel:popover-open')")
    page.press(page.control("radio", "Open task"), "ArrowRight")  # round to the first view
    page.page.wait_for_timeout(800)
    page.screenshot(f"board_projector_{theme}")
    clean(page)
    page.page.keyboard.press("Escape")

    # the last class is there after everything is run afresh
    page.run_all()
    page.panel.scroll_into_view_if_needed()
    page.page.wait_for_function(
        "() => document.querySelector('.airlab-panel [role=status]')?.innerText.startsWith('Last class')"
    )
    page.screenshot(f"teach_again_{theme}")
    assert "notebook 01, 4 students, class seed 1" in page.status()
