"""A tablet: the lab view by finger alone, upright; tap a choice, drag a slider, type a number."""

import pytest
from harness import Notebook

TABLET = {"width": 820, "height": 1180}
SMALLEST = 24.0  # px, the least a target may measure: WCAG 2.2, 2.5.8, read


class Tablet:
    """A browser whose windows are touched."""

    def __init__(self, browser):
        self.browser = browser

    def new_context(self, **how):
        return self.browser.new_context(has_touch=True, **how)


@pytest.fixture
def tablet(lab, browser):
    one = Notebook(lab, Tablet(browser), window=TABLET)
    yield one.open_notebook(lab.bring("01_balloon.ipynb"), view="lab")
    one.close()
    lab.tidy()


def drag(page, handle, across):
    """Drag with one finger, as the browser itself hears it."""
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger = page.page.context.new_cdp_session(page.page)
    for kind, where in (("touchStart", 0.0), *(("touchMove", n / 8) for n in range(1, 9))):
        points = [{"x": x + across * where, "y": y}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_by_finger_alone(tablet):
    page = tablet
    page.begin()
    panel = page.to_panel()
    page.says("hole of 2.5 mm")

    # a drag on the handle moves the hole, not the page
    handle = page.control("slider", "Hole, across")
    handle.scroll_into_view_if_needed()
    page.status_after(lambda: drag(page, handle, 60.0))
    assert "hole of 2.5 mm" not in page.status()

    # a tap into the box, a number, and the keyboard's own Enter
    box = page.control("spinbutton", "Hole, across")
    box.tap()
    page.type_number("Hole, across", 4)
    page.says("hole of 4 mm")

    # taps: skip the guess, fold out more; the word beside a tick is part of it
    page.control("button", "Skip").tap()
    page.says("is flat in")
    panel.get_by_text("More settings").tap()
    page.control("textbox", "Your number").wait_for()

    for one in panel.locator("button:visible, select:visible, .widget-text input:visible").all():
        assert one.bounding_box()["height"] >= SMALLEST
    wide = panel.bounding_box()
    assert wide["x"] >= 0.0 and wide["x"] + wide["width"] <= TABLET["width"]
    page.look("touch_lab")
