"""The practice house in a real lab: open 03, run all, walk and tag a leak by keyboard, open it up."""


def test_walk_and_tag_a_leak_by_keyboard(lab, notebook):
    page = notebook(lab.bring("03_find_the_leaks.ipynb")).begin()
    page.says("may the fan run?")
    page.look("practice_safe")

    def enter(name):
        page.press(page.control("button", name, exact=True), "Enter")

    def onward(step, awaited):
        """Go one step on with the arrow key."""
        page.press(page.control("radio", step), "ArrowRight")
        page.control("button", awaited).wait_for()

    enter("All safe: fan may run")
    page.says("fan may run")
    page.screenshot("practice_prepare")
    onward("2 Prepare", "Run the fan")
    enter("Run the fan")
    page.says("Held at −50 Pa")
    enter("Read the gauge")
    page.says("on the gauge")
    page.look("practice_fan")
    onward("3 Fan", "Next place")
    for _ in range(33):
        if "Tag what you want" in page.status_after(lambda: enter("Search")):
            break
        page.status_after(lambda: enter("Next place"))
    page.screenshot("practice_search")
    enter("Tag it")
    page.begins("Tag 1:")
    page.look("practice_tagged")
    onward("4 Search", "Look again")
    assert page.status_after(lambda: enter("Do it")).startswith("Tag 1:")
    page.screenshot("practice_fixed")
    onward("5 Fix", "Open the house up")
    enter("Open the house up")
    page.says("of 14 leaks tagged")
    page.look("practice_opened")
    page.click("Projector view")
    page.projector()
    page.look("practice_projector")
    page.page.keyboard.press("Escape")
    page.projector(False)
