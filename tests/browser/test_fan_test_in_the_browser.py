"""Reading a fan test in a real lab, by keyboard alone."""


def test_a_point_is_chosen_moved_and_left_out_by_keyboard(lab, notebook):
    page = notebook(lab.bring("09_read_a_fan_test.ipynb")).begin()
    page.says("Point 3 lies 5.2 % below the line of the others")
    page.look("fan_test")

    page.press(page.control("combobox", "One point"), *"depressurise 3")
    page.press(page.control("slider", "Its flow moved by"), *["ArrowRight"] * 5)
    page.says("Point 3 (depressurise) with +5 % flow: the flow at 50 Pa moves by +0.42 %")
    page.press(page.control("checkbox", "Leave it out"), "Space")
    out = page.says("Point 3 (depressurise) left out: the flow at 50 Pa moves by +0.46 %")
    assert out.endswith("No fault shows in the points.")
    page.look("fan_test_left_out")

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
        page.look(f"fan_test_{caption[:9].strip()}")
    page.says("The two lines cross")
    page.press(page.control("button", "Change readings"), "Enter")
    page.page.locator(".airlab-editor").wait_for()
    page.look("fan_test_editor")
    page.press(page.control("button", "Print the record"), "Enter")
    page.page.get_by_text("Open the record").wait_for()
