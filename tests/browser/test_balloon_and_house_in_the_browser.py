"""Notebooks 01 and 02 by keyboard alone: from one hole to why a fan must hold it; nothing for axe."""

import shutil
from pathlib import Path

import pytest

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
NAME = """() => {
  const e = document.activeElement;
  if (!e) return '';
  const label = e.id && document.querySelector(`label[for="${e.id}"]`);
  const own = e.closest('label');
  return (e.getAttribute('aria-label') || (label && label.textContent) || (own && own.textContent)
    || e.textContent || '').trim();
}"""


def tab_to(page, name, most=60):
    """Press Tab until the control of that name has the focus, as a person without a mouse does."""
    for _ in range(most):
        page.page.keyboard.press("Tab")
        if page.page.evaluate(NAME).startswith(name):
            return
    raise AssertionError(f"{name!r} was not reached in {most} presses of Tab")


def status_says(page, nth, words):
    """Wait until the result of the nth panel holds the words; return it."""
    page.page.wait_for_function(
        "([n, words]) => document.querySelectorAll('.airlab-panel [role=status]')[n]"
        "?.innerText.replaceAll('\\u00a0', ' ').includes(words)",
        arg=[nth, words],
    )
    return page.status(nth)


def clean(page):
    """What must hold after anything a person did."""
    assert page.axe() == []
    assert page.errors() == []
    assert page.faults == [], "page or console errors"
    assert page.strangers == [], "requests to other hosts"


def enter(page, nth):
    """Put the focus on the first field of the nth panel, as Tab out of the text above does."""
    first = (
        page.page.locator(".airlab-panel")
        .nth(nth)
        .locator(":is(input, select, button):visible")
        .first
    )
    first.scroll_into_view_if_needed()
    first.focus()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_01_by_keyboard_alone(lab, notebook, theme):
    shutil.copy(NOTEBOOKS / "01_balloon.ipynb", lab.folder)
    page = notebook("01_balloon.ipynb", theme=theme)
    page.run_all()
    keys = page.page.keyboard
    enter(page, 0)
    tab_to(page, "6 min")
    keys.press("Enter")
    status_says(page, 0, "You said 6 min. Locked.")
    tab_to(page, "Run")
    keys.press("Enter")
    status_says(page, 0, "What did you see?")
    page.screenshot(f"01_seen_{theme}")
    clean(page)
    enter(page, 0)
    tab_to(page, "Flat after, in s")
    keys.type("60")
    tab_to(page, "That is what I saw")
    keys.press("Enter")
    told = status_says(page, 0, "refills an hour")
    assert "You said 6 min. You saw: flat after 60 s, the leak flow stayed nearly even." in told
    clean(page)

    enter(page, 0)  # the vessel: arrow keys move among radio buttons
    keys.press("ArrowDown")
    status_says(page, 0, "Flat is not empty.")
    keys.press("ArrowDown")
    status_says(page, 0, "air changes per hour at 2500 Pa")
    keys.press("ArrowUp")
    status_says(page, 0, "Flat is not empty.")
    keys.press("ArrowUp")
    status_says(page, 0, "refills an hour")
    tab_to(page, "All holes")
    keys.press("Space")
    page.control("combobox", "Kind").wait_for()
    tab_to(page, "Add a hole")
    keys.press("Enter")
    page.page.get_by_text("2 holes together").first.wait_for()
    tab_to(page, "Kind")
    keys.type("deep")
    page.control("spinbutton", "Width of the gap").wait_for()
    tab_to(page, "Width of the gap")
    keys.type("0.1")
    assert "refills an hour" in page.status_after(lambda: keys.press("Enter"))
    page.screenshot(f"01_kit_{theme}")
    clean(page)

    enter(page, 1)
    tab_to(page, "The other takes")
    keys.press("Control+a")
    keys.type("2")
    tab_to(page, "the right one")
    keys.press("Enter")
    status_says(page, 1, "You said the right one, the other 2 times as long.")
    tab_to(page, "Open both holes")
    keys.press("Enter")
    status_says(page, 1, "Both are flat.")
    enter(page, 1)
    tab_to(page, "The other took")
    keys.press("Control+a")
    keys.type("4")
    tab_to(page, "That is what I saw")
    keys.press("Enter")
    assert "The left takes 4 times as long" in status_says(page, 1, "Holes as 1 to 4")
    page.screenshot(f"01_race_{theme}")
    clean(page)

    enter(page, 2)
    tab_to(page, "Your answer")
    keys.type("30")
    tab_to(page, "Check answer")
    keys.press("Enter")
    status_says(page, 2, "Area goes with the diameter squared.")
    clean(page)


def test_02_by_keyboard_alone(lab, notebook):
    shutil.copy(NOTEBOOKS / "02_house_at_50_pa.ipynb", lab.folder)
    page = notebook("02_house_at_50_pa.ipynb")
    page.run_all()
    keys = page.page.keyboard
    enter(page, 0)
    tab_to(page, "about ten minutes")
    keys.press("Enter")
    status_says(page, 0, "You said about ten minutes. Locked.")
    tab_to(page, "Stop the fan")
    keys.press("Enter")
    status_says(page, 0, "What did you see?")
    page.screenshot("02_seen")
    enter(page, 0)
    tab_to(page, "That is what I saw")
    keys.press("Enter")
    told = status_says(page, 0, "so a fan must hold it.")
    assert "You said about ten minutes. You saw: half of it gone after about a second." in told
    page.screenshot("02_told")
    clean(page)

    enter(page, 1)
    tab_to(page, "the same holes")
    keys.press("ArrowDown")
    status_says(page, 1, "0.6 air changes per hour at 50 Pa allow the jar")
    enter(page, 2)
    before = page.status(2)
    tab_to(page, "Look after")
    keys.press("Control+a")
    keys.type("8")
    keys.press("Tab")
    status_says(page, 2, "0.4 house volumes")
    assert page.status(2) != before
    enter(page, 3)
    tab_to(page, "boards with gaps")
    keys.press("ArrowDown")
    status_says(page, 3, "it has become the airtight layer")
    clean(page)


def test_hands_up_by_keyboard(lab, notebook):
    lab.write("hands.ipynb", "from airlab.panels import HousePanel\nHousePanel()")
    page = notebook("hands.ipynb")
    page.run_all()
    keys = page.page.keyboard
    enter(page, 0)
    tab_to(page, "Hands up (class)")
    keys.press("Enter")
    page.control("spinbutton", "about a minute").wait_for()
    enter(page, 0)
    for name, count in (("about a second", 3), ("about a minute", 12), ("about ten minutes", 5)):
        tab_to(page, name)
        keys.press("Control+a")
        keys.type(str(count))
    tab_to(page, "Lock the hands")
    page.screenshot("hands_up")
    keys.press("Enter")
    status_says(page, 0, "Hands up: about a second 3, about a minute 12, about ten minutes 5.")
    clean(page)
    tab_to(page, "Stop the fan")
    keys.press("Enter")
    status_says(page, 0, "What did you see?")
    enter(page, 0)
    tab_to(page, "Skip (teacher)")
    keys.press("Enter")
    status_says(page, 0, "3 of 20 were right.")
    clean(page)


def test_the_bench_by_keyboard(lab, notebook):
    lab.write("bench.ipynb", "from airlab.panels import OwnBenchPanel\nOwnBenchPanel()")
    page = notebook("bench.ipynb", theme="dark")
    page.run_all()
    clean(page)
    keys = page.page.keyboard
    enter(page, 0)
    tab_to(page, "Readings")
    keys.press("Control+a")
    for line in ("time_s,circumference_cm", "0,88", "30,78", "60,66", "80,55", "95,40"):
        keys.type(line)
        keys.press("Enter")
    keys.press("Tab")
    status_says(page, 0, "times as long as computed")
    page.screenshot("bench_fitted")
    clean(page)
    tab_to(page, "Save as bench.csv")
    keys.press("Enter")
    for _ in range(50):
        if (lab.jobs / "bench.csv").exists():
            break
        page.page.wait_for_timeout(100)
    assert "95,40" in (lab.jobs / "bench.csv").read_text()
