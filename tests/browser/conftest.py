"""Fixtures of the browser tests: skipped with a reason without a browser, unless required."""

import os
from importlib.util import find_spec

import pytest
from harness import FLAGS, Lab, Notebook, browser_path


def _missing():
    if find_spec("playwright") is None or find_spec("axe_playwright_python") is None:
        return "the browser driver is not installed (pip install -e .[test])"
    if browser_path() is None:
        return "no Chromium found (install one, or name it in AIRLAB_CHROMIUM)"
    return ""


@pytest.fixture(scope="session")
def browser():
    """A headless Chromium."""
    reason = _missing()
    if reason and os.environ.get("AIRLAB_BROWSER") == "required":
        pytest.fail(f"Browser tests are required, but {reason}.")
    if reason:
        pytest.skip(f"Browser test: {reason}.")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=browser_path(), args=list(FLAGS))
        yield chromium
        chromium.close()


@pytest.fixture(scope="session")
def lab(browser, tmp_path_factory):
    """One JupyterLab server for all browser tests, on an empty folder."""
    folder = tmp_path_factory.mktemp("notebooks")
    with Lab(folder, tmp_path_factory.mktemp("home")) as server:
        yield server


@pytest.fixture
def notebook(lab, browser):
    """Return a function that opens a notebook: notebook("name.ipynb", theme="dark")."""
    opened = []

    def open_it(name, theme="light", view="doc", **window):
        opened.append(Notebook(lab, browser, theme, **window))
        return opened[-1].open_notebook(name, view)

    yield open_it
    for one in opened:
        one.close()
    lab.tidy()
