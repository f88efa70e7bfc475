"""A day of the check by keyboard in a real lab: hazards, a reading, twelve paper rows, the decision."""

PANEL = (
    "from airlab.files import start_job\nfrom airlab.panels import CheckDayPanel\n"
    "day = CheckDayPanel(start_job('A house'))\nday"
)
SAVED = (
    "log = day.value.day.log\n"
    "print([(leak.number, leak.where, leak.strength, leak.material, leak.state) for leak in log.leaks])"
)
# where, then the first letters of height, strength and re-check, as on a sheet filled by pen
ROWS = (
    ("Bathroom, soil pipe", "l", "3", "collar for a pipe", "t"),
    ("Hall, stair trimmer", "m", "2", "tape for membranes", "n"),
    ("Kitchen, sill corner", "m", "1", "sealant", "t"),
    ("Landing, loft hatch", "h", "3", "gasket", "t"),
    ("Utility room, cable entry", "l", "2", "collar", "t"),
    ("South-west bedroom, eaves", "h", "2", "tape", "t"),
    ("South-east bedroom, eaves", "h", "2", "tape", "s"),
    ("Living room, threshold", "l", "3", "", "n"),
    ("North-east bedroom, window corner", "m", "1", "tape", "t"),
    ("ceiling bathroom, lap", "h", "2", "tape", "t"),
    ("Hall, letter plate", "m", "1", "", "n"),
    ("Living room, stove sleeve", "h", "2", "", "n"),
)
HEIGHTS = {"l": "low", "m": "mid", "h": "high"}


FIRST = {
    "Read the fan": "Pressure [Pa]",
    "Find and seal": "Leak no.",
    "Cover or wait": "Assumption",
    "New holes": "Which hole",
}


def go_to(page, view):
    page.page.get_by_role("radio", name=view).check()
    page.page.get_by_label(FIRST[view], exact=True).wait_for()  # until it is in sight
    page.wait_idle()


def test_a_day_by_keyboard(lab, notebook):
    lab.write("day.ipynb", "# The day", PANEL, SAVED)
    page = notebook("day.ipynb")
    page.run_cell(1)
    keys = page.page.keyboard
    page.says("No fan, no flow, no go")
    page.look("check_day_hazards")
    for hazard in ("Fires, boilers, stoves", "Asbestos", "Lead dust", "Film and boards"):
        group = page.page.get_by_role("radiogroup", name=hazard)
        group.get_by_role("radio", name="don't know").focus()
        keys.press("ArrowDown")  # round to the first: safe
        group.get_by_role("radio", name="safe", exact=True, checked=True).wait_for()
        page.wait_idle()
    page.says("No reading yet")
    page.clean()

    page.page.get_by_label("Pressure [Pa]").focus()
    keys.type("-38")
    keys.press("Tab")
    keys.type("820")
    keys.press("Enter")
    page.page.get_by_text("the sign is kept for you").wait_for()
    page.clean()
    page.page.get_by_label("Pressure [Pa]").fill("38")
    page.page.get_by_label("Zero before [Pa]").fill("-1")
    page.page.get_by_label("Zero after [Pa]").fill("-1.4")
    keys.press("Enter")
    page.says("reached 36.8 Pa at 820 m³/h")
    page.look("check_day_readings")

    go_to(page, "Find and seal")
    page.page.get_by_label("Leak no.").focus()
    for count, (where, height, strength, material, recheck) in enumerate(ROWS, 1):
        for words in (where, height, strength, material, recheck):
            keys.press("Tab")
            keys.type(words)
        keys.press("Enter")
        page.says(f"{count} leak")
        page.page.wait_for_function(
            "() => document.activeElement.closest('.widget-text')?.innerText.includes('Leak no')"
        )
    page.begins("12 leaks: 4 open, 1 sealed, awaiting re-check and 7 closed.")
    page.look("check_day_log")

    go_to(page, "Cover or wait")
    page.says("NOT YET")
    page.look("check_day_decision")
    for summary in page.page.locator(".airlab-panel summary").all():
        summary.press("Enter")
    page.clean()
    page.click("Print the filled pack")
    page.page.get_by_text("in the folder of the jobs").wait_for()
    page.clean()

    go_to(page, "New holes")
    page.page.get_by_label("Across [mm]").fill("50")
    keys.press("Tab")
    page.page.get_by_text("Not entered yet.").wait_for()
    page.look("check_day_holes")

    page.click("Projector view")
    page.projector()
    go_to(page, "Read the fan")
    page.look("check_day_projector")
    keys.press("Escape")
    page.projector(False)
    page.says("reached 36.8")  # leaving the projector view touches no reading

    page.run_cell(2)
    printed = page.page.locator(".jp-Cell").nth(2).locator(".jp-OutputArea-output").inner_text()
    for where, height, *_ in ROWS:
        place = where.split(", ")[1]
        assert f"{place}, {HEIGHTS[height]}" in printed
    assert printed.count("'closed'") == 7
