"""Planning a check in a real lab, with the keyboard alone: answer, change a row, print, open."""

PLAN = (
    "from airlab.files import start_job\n"
    "from airlab.panels import PlanPanel\n"
    "PlanPanel(start_job('{name}'))"
)


def arrows(page, radio, *keys):
    """Go from the radio that is chosen to another: the focus goes along."""
    radio.focus()
    for key in keys:
        page.page.keyboard.press(key)


def figure(page, name):
    """Return the number that stands over a name."""
    return page.page.locator(".airlab-strip div", has_text=name).locator("b").inner_text()


def test_plan_by_keyboard(lab, notebook):
    lab.write("plan.ipynb", "# Plan", PLAN.format(name="House"))
    page = notebook("plan.ipynb").begin()
    page.begins("No fan, no flow, no go.")
    assert figure(page, "to expect") == "no flow"
    page.look("plan_asked")

    for name in ("Fires, boilers", "Asbestos", "Lead dust", "Film and boards"):
        group = page.page.get_by_role("radiogroup", name=name)
        unknown = group.get_by_role("radio", name="don't know")
        arrows(page, unknown, "ArrowUp", "ArrowUp")
        group.get_by_role("radio", name="safe", exact=True, checked=True).wait_for()
        page.wait_idle()
    page.begins("Nothing known forbids")
    assert figure(page, "to expect").endswith("m³/h")
    page.screenshot("plan_hazards")

    look = page.page.get_by_role("radio", name="1 What could hurt someone")
    page.press(look, "ArrowDown")
    page.begins("Expect ")
    flow, held, stops = (figure(page, n) for n in ("to expect", "areas held", "stops"))
    area = page.control("combobox", "Area", exact=True)
    area.focus()
    area.press_sequentially("ceiling landing")
    page.wait_idle()
    complete = page.page.get_by_role("radio", name="complete and visible")
    page.status_after(lambda: page.press(complete, "ArrowUp"))
    assert figure(page, "to expect") != flow
    assert figure(page, "areas held") != held
    assert figure(page, "stops") != stops
    page.look("plan_layer")
    page.status_after(lambda: page.press(page.control("button", "Undo"), "Enter"))
    assert figure(page, "areas held") == held

    for down, words, name in (
        (2, "reaches", "fan"), (3, "17 openings to prepare", "openings"), (4, "stops with", "route"),
    ):  # fmt: skip
        radio = page.page.get_by_role("radio", name=f"{down} ")
        page.press(radio, "ArrowDown")
        page.says(words)
        page.look(f"plan_{name}")

    page.press(page.control("button", "Print the pack"), "Enter")
    page.page.get_by_text("House/pages/pack.html, in the folder of the jobs").wait_for()
    assert page.page.get_by_role("link", name="Open the printed pack").count() == 0, "not served"
    page.clean()


def test_the_printed_pack_opens_from_the_notebook(lab, notebook):
    jobs = lab.folder / "jobs"
    code = PLAN.format(name="Printed house")
    lab.write("print.ipynb", f"import os\nos.environ['AIRLAB_JOBS'] = {str(jobs)!r}\n{code}")
    page = notebook("print.ipynb", view="lab")
    page.run_all()
    page.press(page.control("button", "Print the pack"), "Enter")
    link = page.page.get_by_role("link", name="Open the printed pack")
    link.wait_for()
    assert link.get_attribute("href").endswith("/files/jobs/Printed-house/pages/pack.html")
    with page.page.context.expect_page() as opened:
        page.press(link, "Enter")
    sheet = opened.value
    sheet.wait_for_load_state()
    assert sheet.get_by_role("heading", name="Preparation schedule").first.is_visible()
    page.screenshot("plan_printed")


def test_a_table_is_edited_under_its_heading(lab, notebook):
    lab.write("table.ipynb", PLAN.format(name="Table house"))
    page = notebook("table.ipynb").begin()
    page.status_after(lambda: page.page.get_by_role("radio", name="2 How far").check())
    page.press(page.page.get_by_label("Edit the trades to come as a table"), "Space")
    holes = page.control("textbox", "Holes expected")
    holes.fill("many")
    page.press(page.control("button", "Save row"), "Enter")
    page.page.get_by_text("Holes expected is 'many'").wait_for()
    holes.fill("30")
    page.press(page.control("button", "Save row"), "Enter")
    page.page.get_by_text("Saved electrician.").wait_for()
    page.look("plan_table")
    kept = (lab.jobs / "Table-house" / "trades.csv").read_text(encoding="utf-8")
    assert "2027-04-20,30,20" in kept


def test_projector_view_and_back(lab, notebook):
    lab.write("big.ipynb", PLAN.format(name="Big house"))
    page = notebook("big.ipynb").begin()
    page.click("Projector view")
    page.projector()
    page.look("plan_projector")
    page.page.evaluate("() => document.activeElement.blur()")  # as a click on the picture does
    page.page.keyboard.press("Escape")
    page.projector(False)


def test_the_days_and_the_hours_by_keyboard(lab, notebook):
    lab.write("when.ipynb", "# When", f"{PLAN.format(name='When')}.answer('asbestos', 'safe')")
    page = notebook("when.ipynb").begin()
    last = page.page.get_by_role("radio", name="6 When")
    page.press(last, "Space")
    page.says("Check from Mon 12 Apr 2027")
    own = page.control("textbox", "Your own day")
    own.fill("2027-04-13")
    page.press(own, "Enter")
    page.says("Tue 13 Apr 2027 fits.")
    own.fill("2027-04-17")
    page.press(own, "Enter")
    page.says("does not fit: no working day")
    own.fill("tomorrow")
    page.press(own, "Enter")
    page.page.get_by_text("Write it as 2027-04-12").wait_for()
    page.press(page.page.get_by_label("Site and your prices"), "Space")
    for name, price in (
        ("One check", "400"),
        ("Opening up later", "3000"),
        ("Another final test", "300"),
    ):
        box = page.control("textbox", name)
        box.fill(price)
        page.press(box, "Tab")
        page.wait_idle()
    page.page.get_by_text("Enter your prices").wait_for(state="detached")
    page.look("plan_when")


def test_a_part_of_the_house_by_keyboard(lab, notebook):
    lab.write("zones.ipynb", "# Zones", "from airlab.panels import TwoZonesPanel\nTwoZonesPanel()")
    page = notebook("zones.ipynb").begin()
    drawing = page.page.locator(".airlab-picture svg")
    card = page.page.locator(".airlab-card")
    inner, outer = drawing.bounding_box(), card.bounding_box()
    assert inner["x"] + inner["width"] <= outer["x"] + outer["width"], "nothing is cut off"
    leaks = page.page.get_by_role("radio", name="the leaks, as a guess")
    page.press(leaks, "ArrowDown")
    page.says("open to outside 750 m³/h; held")
    over = page.control("spinbutton", "Other zone over outside, when free [Pa]")
    over.fill("20")
    page.press(over, "Enter")
    page.says("shut 750 m³/h")
    page.look("plan_zones")
