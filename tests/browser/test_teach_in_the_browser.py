"""Notebook 11 in a real lab: print a class by keyboard, whose sheet, every view, points, projector."""

import re
import shutil

VIEWS = (
    ("Guess and result", "Slips alive", "Take up first"),
    ("Slips alive", "Leak hunt", "Larch Yard"),
    ("Leak hunt", "Who is where", "right by now"),
    ("Who is where", "Open task", "Next: surface"),
)


def test_a_class_by_keyboard(lab, notebook):
    shutil.rmtree(lab.jobs / "class", ignore_errors=True)
    page = notebook(lab.bring("11_teach_it.ipynb")).begin(panels=2)

    # plan and print
    page.begins("The balloon: 45 minutes")
    page.press(page.control("combobox", "Length"), "ArrowDown")
    page.says("60 minutes")
    page.control("spinbutton", "Students").fill("4")
    page.control("spinbutton", "Students").press("Enter")
    page.press(page.control("button", "Print plan, hand-outs, key"), "Enter")
    page.begins("Printed for 4 students, class seed 1")
    page.panel.scroll_into_view_if_needed()
    page.look("teach_printed")
    handouts = next((lab.jobs / "class" / "pages" / "students").glob("*.html")).read_text("utf-8")
    marks = re.findall(r'check mark <b class="mark">(\w+)</b>', handouts)
    page.press(page.control("checkbox", "A sheet came back"), "Space")
    page.control("textbox", "Its check mark").fill(marks[2])
    page.control("textbox", "Its check mark").press("Tab")
    page.press(page.control("button", "Whose sheet is it?"), "Enter")
    page.says("not the sheet of student 1 but of student 3")
    page.screenshot("teach_sheet")

    # the board, view by view
    board = page.page.locator(".airlab-panel").nth(1)
    board.scroll_into_view_if_needed()
    board.evaluate("one => one.scrollIntoView()")
    page.screenshot("board_guesses")
    page.says("marks-9.csv", 1)
    for before, now, words in VIEWS:
        page.press(page.control("radio", before), "ArrowRight")
        page.says(words, 1)
        board.evaluate("one => one.scrollIntoView()")
        page.look(f"board_{now.split()[0].lower()}")
    page.control("textbox", "Points").fill("00002")
    page.says("D5: 2 of 10 points. Next: surface", 1)
    page.control("textbox", "Learner's number").fill("3")
    page.control("textbox", "Learner's number").press("Tab")
    page.press(page.control("button", "Keep the points"), "Enter")
    assert page.says("Kept.", 1) == "Kept. Learner 3, D5: 2 of 10 points."
    assert (lab.jobs / "class" / "marks-3.csv").is_file()
    board.get_by_role("button", name="Projector view").press("Enter")
    page.projector()
    page.press(page.control("radio", "Open task"), "ArrowRight")  # round to the first view
    page.says("marks-9.csv", 1)
    page.look("board_projector")
    page.page.keyboard.press("Escape")
    page.projector(False)

    # the last class is there after everything is run afresh
    page.begin(panels=2)
    page.begins("Last class")
    page.screenshot("teach_again")
    page.says("notebook 01, 4 students, class seed 1")
