"""Notebook 06 in a real lab: run all, change a line by keyboard, the sentence changes; axe."""


def test_a_line_of_the_budget_is_changed_by_keyboard(lab, notebook):
    page = notebook(lab.bring("06_leakage_budget.ipynb")).begin()
    page.begins("Chance to be within the limit: 59 %")
    page.look("budget_start")
    page.choose("Try a change of", "sill joint")
    page.type_number("Leakage left in it", 15)
    page.begins("sill joint at 15 % of its leakage: the chance goes from 59 % to 66 %")
    page.screenshot("budget_changed")
    page.press(page.control("button", "Reset"), "Enter")
    page.choose("What was measured", "sill joint")
    page.type_number("Measured at 50 Pa", 150)
    page.begins("Measured 150 m³/h at 50 Pa, give or take 9.5 %, for sill joint")
    page.look("budget_learnt")
    page.press(page.control("button", "Reset"), "Enter")
    page.press(page.control("checkbox", "More settings"), "Space")
    page.press(page.control("checkbox", "The cheapest way under the limit"), "Space")
    page.says("Cheapest way to 90 %: 3 changes")
    page.press(page.control("checkbox", "Whose uncertainty matters most"), "Space")
    page.look("budget_cheapest")
    page.press(page.control("button", "Reset"), "Enter")
    page.press(page.control("checkbox", "Edit the budget as a table"), "Space")
    page.choose("Choose item", "sill joint")
    part = page.control("combobox", "Component")
    offered = "input => [...input.list.options].map(one => one.value)"
    assert "joint sealed" in part.evaluate(offered)
    part.fill("joint sealed")
    part.press("Tab")
    page.press(page.control("button", "Save row"), "Enter")
    page.begins("Chance to be within the limit: 67 %")
    page.page.locator(".airlab-editor").first.scroll_into_view_if_needed()
    page.look("budget_table")


def test_rows_are_typed_one_after_the_other_by_keyboard(lab, notebook):
    page = notebook(lab.bring("06_leakage_budget.ipynb")).begin()
    keys, first = page.page.keyboard, "() => document.activeElement.matches('.airlab-fields input')"
    page.press(page.control("checkbox", "Edit the budget as a table"), "Space")
    page.control("button", "Add row").focus()
    for item in ("roof light", "cat flap"):
        keys.press("Enter")
        page.page.wait_for_function(f"{first} && document.activeElement.value === ''")
        keys.type(item)
        keys.press("Tab")
        keys.type("2")
        for name, flow in (("Low", "1"), ("Mid", "2"), ("High", "4")):
            page.tab_to(name)
            keys.type(flow)
        page.tab_to("Save row")
        keys.press("Enter")
        page.page.get_by_text(f"Saved {item}.").first.wait_for()
        page.tab_to("Add row", 1)
