"""The line in a real lab: walked and drawn by keyboard alone, light and dark, nothing for axe."""

DRAW = "from airlab.panels.line import LinePanel\nLinePanel()"
COUNT = "from airlab.panels.line_count import LiftCountPanel\nLiftCountPanel()"


def test_the_line_is_drawn_by_keyboard(lab, notebook):
    lab.write("line.ipynb", "# The line", DRAW)
    page = notebook("line.ipynb").begin()
    page.begins("Pen at 1. sill south (ground floor to south wall): closed")
    page.look("line_start")
    page.press(page.control("button", "Next junction"), "Enter")
    page.begins("Pen at 17. south frames")
    page.choose("Pen at", "6  floor edge north")
    page.begins(
        "Pen at 6. floor edge north (floor edge to north wall): open, 19.2 m, carpenter. From Hall"
    )
    page.look("line_lift")
    page.press(page.control("radio", "down: the two layers are joined"), "Space")
    page.says("The line is closed")
    page.look("line_closed")
    page.press(page.control("button", "Undo"), "Enter")
    page.says("open: 1 pen lift")
    view = page.control("combobox", "Drawing")
    view.select_option("Plan, ground storey")
    page.page.get_by_text("Plan, ground storey").last.wait_for()
    page.wait_idle()
    page.look("line_plan")
    page.click("Projector view")
    page.projector()
    page.look("line_projector")
    page.page.keyboard.press("Escape")
    page.projector(False)
    view.select_option("All pen lifts")
    page.page.wait_for_selector(".airlab-lifts")
    page.page.get_by_label("More settings").check()
    page.page.get_by_label("Edit the junctions as a table").check()
    page.page.get_by_text("Choose junction").first.wait_for()
    page.look("line_lifts")
    page.page.locator(".airlab-editor").first.scroll_into_view_if_needed()
    page.screenshot("line_table")


def test_lifts_are_counted_by_keyboard(lab, notebook):
    lab.write("count.ipynb", "# Count", COUNT)
    page = notebook("count.ipynb").begin()
    page.says("How often must the pen lift?")
    page.look("count_asked")
    check_it = page.control("button", "Check", exact=True)
    for typed, begins in (
        ("2", "Not yet. You counted the gaps that bear a number"),
        ("3", "Right. 3."),
        ("4", "Right. 4."),
    ):
        page.type_number("Lifts I count", typed)
        page.press(check_it, "Enter")
        page.begins(begins)
    page.press(check_it, "Enter")
    page.begins("Right. The carpenter")
    page.look("count_owner")
    page.control("radio", "nobody yet").check()
    page.press(check_it, "Enter")
    page.says("Done in 5 tries")
    page.look("count_done")
