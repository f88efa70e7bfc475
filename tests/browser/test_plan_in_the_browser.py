"""Planning a check in a real lab, with the keyboard alone: answer, change a row, print, open."""

import pytest

PLAN = (
    "from airlab.files import start_job\n"
    "from airlab.panels import PlanPanel\n"
    "PlanPanel(start_job('{name}'))"
)
RESULT = ".airlab-panel .airlab-result [role=status]"


def clean(notebook):
    """What must hold after anything a person did."""
    assert notebook.axe() == []
    assert notebook.errors() == []
    assert notebook.faults == [], "page or console errors"
    assert notebook.strangers == [], "requests to other hosts"


def after(page, act):
    """Do something and return the result in words once it has changed."""
    before = page.page.locator(RESULT).inner_text()
    act()
    page.page.wait_for_function(
        "([where, old]) => document.querySelector(where).innerText !== old", arg=[RESULT, before]
    )
    page.wait_idle()
    return page.page.locator(RESULT).inner_text()


def arrows(page, radio, *keys):
    """Go from the radio that is chosen to another: the focus goes along."""
    radio.focus()
    for key in keys:
        page.page.keyboard.press(key)


def figure(page, name):
    """Return the number that stands over a name."""
    return page.page.locator(".airlab-strip div", has_text=name).locator("b").inner_text()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_plan_by_keyboard(lab, notebook, theme):
    lab.write(f"plan_{theme}.ipynb", "# Plan", PLAN.format(name=f"House {theme}"))
    page = notebook(f"plan_{theme}.ipynb", theme=theme)
    page.run_all()
    page.page.wait_for_selector(RESULT)
    assert page.page.locator(RESULT).inner_text().startswith("No fan, no flow, no go.")
    assert figure(page, "to expect") == "no flow"
    clean(page)
    page.screenshot(f"plan_asked_{theme}")

    for name in ("Fires, boilers", "Asbestos", "Lead dust", "Film and boards"):
        group = page.page.get_by_role("radiogroup", name=name)
        unknown = group.get_by_role("radio", name="don't know")
        arrows(page, unknown, "ArrowUp", "ArrowUp")
        assert group.get_by_role("radio", name="safe", exact=True).is_checked()
    page.page.wait_for_function(
        "where => document.querySelector(where).innerText.startsWith('Nothing known forbids')",
        arg=RESULT,
    )
    page.wait_idle()
    assert figure(page, "to expect").endswith("m³/h")
    page.screenshot(f"plan_hazards_{theme}")

    look = page.page.get_by_role("radio", name="1 What could hurt someone")
    result = after(page, lambda: page.press(look, "ArrowDown"))
    assert result.startswith("Expect ")
    flow, held, stops = (figure(page, n) for n in ("to expect", "areas held", "stops"))
    area = page.control("combobox", "Area", exact=True)
    area.focus()
    area.press_sequentially("ceiling landing")
    page.wait_idle()
    complete = page.page.get_by_role("radio", name="complete and visible")
    result = after(page, lambda: page.press(complete, "ArrowUp"))
    assert figure(page, "to expect") != flow
    assert figure(page, "areas held") != held
    assert figure(page, "stops") != stops
    clean(page)
    page.screenshot(f"plan_layer_{theme}")
    after(page, lambda: page.press(page.control("button", "Undo"), "Enter"))
    assert figure(page, "areas held") == held

    for down, words, name in (
        (2, "reaches", "fan"), (3, "17 openings to prepare", "openings"), (4, "stops with", "route"),
    ):  # fmt: skip
        radio = page.page.get_by_role("radio", name=f"{down} ")
        result = after(page, lambda r=radio: page.press(r, "ArrowDown"))
        assert words in result
        clean(page)
        page.screenshot(f"plan_{name}_{theme}")

    page.press(page.control("button", "Print the pack"), "Enter")
    page.page.get_by_text(f"House-{theme}/pages/pack.html, in the folder of the jobs").wait_for()
    assert page.page.get_by_role("link", name="Open the printed pack").count() == 0, "not served"
    clean(page)


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
    page = notebook("table.ipynb")
    page.run_all()
    page.page.wait_for_selector(RESULT)
    after(page, lambda: page.page.get_by_role("radio", name="2 How far").check())
    page.press(page.page.get_by_label("Edit the trades to come as a table"), "Space")
    holes = page.control("textbox", "Holes expected")
    holes.fill("many")
    page.press(page.control("button", "Save row"), "Enter")
    page.page.get_by_text("Holes expected is 'many'").wait_for()
    holes.fill("30")
    page.press(page.control("button", "Save row"), "Enter")
    page.page.get_by_text("Saved electrician.").wait_for()
    clean(page)
    page.screenshot("plan_table")
    kept = (lab.jobs / "Table-house" / "trades.csv").read_text(encoding="utf-8")
    assert "2027-04-20,30,20" in kept


def test_projector_view_and_back(lab, notebook):
    lab.write("big.ipynb", PLAN.format(name="Big house"))
    page = notebook("big.ipynb")
    page.run_all()
    page.page.wait_for_selector(RESULT)
    page.click("Projector view")
    page.page.wait_for_function("() => document.querySelector('.airlab-panel:popover-open')")
    clean(page)
    page.screenshot("plan_projector")
    page.page.keyboard.press("Escape")
    page.page.wait_for_function("() => !document.querySelector('.airlab-panel:popover-open')")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_days_and_the_hours_by_keyboard(lab, notebook, theme):
    lab.write(
        f"when_{theme}.ipynb",
        "# When",
        f"{PLAN.format(name=f'When {theme}')}.answer('asbestos', 'safe')",
    )
    page = notebook(f"when_{theme}.ipynb", theme=theme)
    page.run_all()
    page.page.wait_for_selector(RESULT)
    last = page.page.get_by_role("radio", name="6 When")
    result = after(page, lambda: (last.focus(), page.page.keyboard.press("Space")))
    assert "Check from Mon 12 Apr 2027" in result
    own = page.control("textbox", "Your own day")
    own.fill("2027-04-13")
    assert "Tue 13 Apr 2027 fits." in after(page, lambda: page.press(own, "Enter"))
    own.fill("2027-04-17")
    assert "does not fit: no working day" in after(page, lambda: page.press(own, "Enter"))
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
    clean(page)
    page.screenshot(f"plan_when_{theme}")


def test_a_part_of_the_house_by_keyboard(lab, notebook):
    lab.write("zones.ipynb", "# Zones", "from airlab.panels import TwoZonesPanel\nTwoZonesPanel()")
    page = notebook("zones.ipynb")
    page.run_all()
    page.page.wait_for_selector(RESULT)
    drawing = page.page.locator(".airlab-picture svg")
    card = page.page.locator(".airlab-card")
    inner, outer = drawing.bounding_box(), card.bounding_box()
    assert inner["x"] + inner["width"] <= outer["x"] + outer["width"], "nothing is cut off"
    leaks = page.page.get_by_role("radio", name="the leaks, as a guess")
    result = after(page, lambda: page.press(leaks, "ArrowDown"))
    assert "open to outside 750 m³/h; held" in result.replace("\xa0", " ")
    over = page.control("spinbutton", "Other zone over outside, when free [Pa]")
    over.fill("20")
    result = after(page, lambda: page.press(over, "Enter"))
    assert "shut 750 m³/h" in result.replace("\xa0", " ")
    clean(page)
    page.screenshot("plan_zones")
