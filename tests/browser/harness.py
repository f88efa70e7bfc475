"""A real JupyterLab server and a headless browser on it: open, run, press keys, read, picture.

Nothing of the user's own is touched: home, settings and jobs are folders of the test. Use the
fixtures of `conftest.py`; the methods of `Notebook` are what a person does. Reading waits: a slow
machine may take its time between a key and the words, so a test asks for the words it expects
(`says`, `status_after`) and never for what stands there at once.
"""

import json
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from importlib.resources import files
from pathlib import Path

import nbformat

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage",
)  # fmt: skip
TOKEN = "airlab-test"
PATIENCE = 60_000  # ms; generous, because the machine may be busy: no test measures time
WINDOW = {"width": 1366, "height": 768}
THEMES = {"light": "JupyterLab Light", "dark": "JupyterLab Dark"}
NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
STATUS = ".airlab-panel [role=status]"
# The name of what has the focus, as a screen reader would say it.
FOCUSED = """() => {
  const e = document.activeElement;
  if (!e) return '';
  const label = e.id && document.querySelector(`label[for="${e.id}"]`);
  const own = e.closest('label');
  return (e.getAttribute('aria-label') || (label && label.textContent) || (own && own.textContent)
    || e.textContent || '').trim();
}"""


def browser_path():
    """Return a Chromium on this machine, or None."""
    named = os.environ.get("AIRLAB_CHROMIUM")
    names = (named,) if named else ("chromium", "chromium-browser", "google-chrome", "chrome")
    return next((found for name in names if (found := shutil.which(name))), None)


# What does not fit: lists as tall as a card, and parts of a panel beyond the edge of the page.
MISFITS = """() => [...document.querySelectorAll('.airlab-panel')].flatMap(panel => {
  const page = panel.closest('.jp-WindowedPanel-outer');
  const edge = panel.matches(':popover-open') || !page ? innerWidth
    : page.getBoundingClientRect().right;
  const scrolls = e => { for (; e !== panel; e = e.parentElement)
    if (['auto', 'scroll'].includes(getComputedStyle(e).overflowX)) return true; return false; };
  const name = e => `${e.tagName} ${e.className.baseVal ?? e.className} `
    + (e.innerText || e.value || '').slice(0, 40);
  return [...panel.querySelectorAll('select, input, button, p, table, svg, img')].flatMap(e => {
    const box = e.getBoundingClientRect();
    if (!box.width || getComputedStyle(e).position === 'absolute') return [];
    if (e.tagName === 'SELECT' && box.height > 80) return [`${name(e)}: ${box.height} px high`];
    const over = Math.round(box.right - edge);
    return over > 1 && !e.closest('svg svg, svg *') && !scrolls(e)
      ? [`${name(e)}: ${over} px beyond the page`] : [];
  });
})"""


class Lab:
    """A JupyterLab server on a free port, with a folder of its own.

    Parameters
    ----------
    folder : Path
        Where notebooks are served from.
    home : Path
        Home, settings, runtime files and jobs of the server; made if missing.
    """

    def __init__(self, folder, home):
        self.folder, self.home = Path(folder), Path(home)
        self.jobs = self.home / "jobs"
        self.jobs.mkdir(parents=True, exist_ok=True)
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self.log = self.home / "server.log"

    def __enter__(self):
        own = {
            "HOME": self.home,
            "JUPYTER_CONFIG_DIR": self.home / "config",
            "JUPYTER_DATA_DIR": self.home / "data",
            "JUPYTER_RUNTIME_DIR": self.home / "runtime",
            "JUPYTERLAB_SETTINGS_DIR": self.home / "settings",
            "JUPYTERLAB_WORKSPACES_DIR": self.home / "workspaces",
            "IPYTHONDIR": self.home / "ipython",
            "AIRLAB_JOBS": self.jobs,
        }
        command = [
            sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", "--ip=127.0.0.1",
            f"--port={self.port}", "--ServerApp.port_retries=0",
            f"--IdentityProvider.token={TOKEN}", f"--ServerApp.root_dir={self.folder}",
            "--LabApp.expose_app_in_browser=True",
        ]  # fmt: skip
        with self.log.open("w") as log:
            self._server = subprocess.Popen(
                command,
                env={**os.environ, **{name: str(value) for name, value in own.items()}},
                stdout=log,
                stderr=subprocess.STDOUT,
                cwd=self.folder,
            )
        self._wait()
        return self

    def __exit__(self, *_):
        self._server.terminate()
        try:
            self._server.wait(20)
        except subprocess.TimeoutExpired:
            self._server.kill()
            self._server.wait(20)

    def _ask(self, path, method="GET"):
        wanted = urllib.request.Request(f"{self.url}/{path}", method=method)
        wanted.add_header("Authorization", f"token {TOKEN}")
        with urllib.request.urlopen(wanted, timeout=20) as answer:
            return answer.read()

    def tidy(self):
        """End every kernel and close the open job, so that the next test begins at the demo."""
        for session in json.loads(self._ask("api/sessions")):
            self._ask(f"api/sessions/{session['id']}", "DELETE")
        (self.jobs / "open_job.txt").unlink(missing_ok=True)

    def _wait(self):
        for _ in range(600):
            if self._server.poll() is not None:
                break
            try:
                self._ask("api")
                return
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
        raise RuntimeError(f"JupyterLab did not start:\n{self.log.read_text()[-3000:]}")

    def bring(self, name):
        """Copy a notebook of the workbook into the folder of the lab and return its name."""
        shutil.copy(NOTEBOOKS / name, self.folder)
        return name

    def write(self, name, *cells):
        """Write a notebook: a cell that starts with '#' and a space is Markdown, others code."""
        made = nbformat.v4.new_notebook()
        made.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3"}
        kinds = nbformat.v4.new_markdown_cell, nbformat.v4.new_code_cell
        made.cells = [kinds[not cell.startswith("# ")](cell) for cell in cells]
        nbformat.write(made, self.folder / name)
        return name


class Notebook:
    """A notebook open in the browser, and what a person does with it."""

    def __init__(self, lab, browser, theme="light", window=WINDOW):
        self.lab = lab
        self._context = browser.new_context(viewport=window, reduced_motion="reduce")
        self.page = self._context.new_page()
        self.page.set_default_timeout(PATIENCE)
        self.faults, self.strangers = [], []
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("console", self._heard)
        self.page.on("request", self._asked)
        self._theme = theme

    def _heard(self, message):
        if message.type == "error":
            self.faults.append(message.text)

    def _asked(self, request):
        if request.url.startswith("http") and not request.url.startswith(self.lab.url):
            self.strangers.append(request.url)

    def close(self):
        """Close the window."""
        self._context.close()

    # open, run, save ----------------------------------------------------------------------

    def open_notebook(self, name, view="doc"):
        """Open a notebook in the one-document view ("doc") or in the whole lab ("lab")."""
        self.page.goto(f"{self.lab.url}/{view}/tree/{name}?token={TOKEN}&reset")
        self.page.wait_for_selector(".jp-Notebook .jp-Cell")
        self.wait_idle()
        self.wear(self._theme)
        return self

    def wear(self, theme):
        """Put on the light or the dark theme and wait until it is on."""
        on = f"() => document.body.dataset.jpThemeLight === '{str(theme == 'light').lower()}'"
        for _ in range(12):  # an answer of the server still under way may turn it back
            if self.page.evaluate(on):
                return
            self.command("apputils:change-theme", theme=THEMES[theme])
            self.page.wait_for_timeout(300)
        self.page.wait_for_function(on)

    def command(self, name, **arguments):
        """Carry out a command of the lab."""
        self.page.evaluate(
            "([name, given]) => window.jupyterapp.commands.execute(name, given)", [name, arguments]
        )

    def run_all(self):
        """Run every cell from the top and wait until it is done."""
        self.page.evaluate("() => window.jupyterapp.commands.execute('notebook:run-all-cells')")
        self.wait_idle()
        self.page.wait_for_function(
            "() => ![...document.querySelectorAll('.jp-InputPrompt')]"
            ".some(p => p.textContent.includes('*'))"
        )

    def begin(self, panels=1):
        """Run all, go to the first panel and wait until so many panels have said something."""
        self.run_all()
        self.to_panel()
        self.page.wait_for_function(
            "([where, n]) => [...document.querySelectorAll(where)]"
            ".filter(one => one.innerText.trim()).length >= n",
            arg=[STATUS, panels],
        )
        return self

    def to_panel(self, title=""):
        """Bring the first panel with that title into sight.

        The lab may take cells out of a long page while they are out of sight, so this looks for
        it from the top.
        """
        found = self.page.locator(".airlab-panel").filter(has_text=title).first
        sheet = self.page.locator(".jp-WindowedPanel-outer").first
        sheet.evaluate("e => { e.scrollTop = 0 }")
        for _ in range(40):
            if found.count():
                break
            sheet.evaluate("e => { e.scrollTop += 250 }")
            self.page.wait_for_timeout(200)
        assert found.count() or not self.errors(), self.errors()
        found.scroll_into_view_if_needed()
        return found

    def run_cell(self, nth):
        """Run the nth cell."""
        self.page.evaluate(
            "(n) => { window.jupyterapp.shell.currentWidget.content.activeCellIndex = n }", nth
        )
        self.command("notebook:run-cell")
        self.wait_idle()

    def save(self):
        """Save the notebook and wait for the file."""
        self.command("docmanager:save")

    def wait_idle(self):
        """Wait until the kernel has nothing to do."""
        self.page.wait_for_function(
            "() => window.jupyterapp?.shell.currentWidget?.sessionContext?.session?.kernel"
            "?.status === 'idle'"
        )

    # act ----------------------------------------------------------------------------------

    def control(self, role, name, exact=False):
        """Return a control by its role and its name, as a screen reader finds it."""
        return self.page.get_by_role(role, name=name, exact=exact).first

    def press(self, control, *keys):
        """Put the focus on a control and press keys one after the other."""
        control.scroll_into_view_if_needed()
        control.focus()
        for key in keys:
            control.press(key)

    def enter(self, nth=0):
        """Put the focus on the first field of a panel, as Tab out of the text above does."""
        panel = self.page.locator(".airlab-panel").nth(nth)
        first = panel.locator(":is(input, select, button):visible").first
        first.scroll_into_view_if_needed()
        first.focus()

    def tab_to(self, name, most=60):
        """Press Tab until the control of that name has the focus, as one without a mouse does."""
        for _ in range(most):
            self.page.keyboard.press("Tab")
            if self.page.evaluate(FOCUSED).startswith(name):
                return
        raise AssertionError(f"{name!r} was not reached in {most} presses of Tab")

    def choose(self, name, option):
        """Choose in the list of that name."""
        picker = self.control("combobox", name)
        picker.focus()
        picker.select_option(option)
        self.wait_idle()

    def field_holds(self, value):
        """Wait until some field of the page holds this text."""
        self.page.wait_for_function(
            "(value) => [...document.querySelectorAll('input')].some(i => i.value === value)",
            arg=value,
        )

    def type_number(self, name, value):
        """Type a number into the box of that name and leave it with Enter."""
        box = self.control("spinbutton", name)
        box.fill(str(value))
        box.press("Enter")

    def click(self, name):
        """Press the button of that name."""
        self.control("button", name).click()

    # read ---------------------------------------------------------------------------------

    @property
    def panel(self):
        """The first panel on the page."""
        return self.page.locator(".airlab-panel").first

    def status(self, nth=0):
        """Return the result in words of a panel."""
        words = self.page.locator(".airlab-panel [role=status]").nth(nth).inner_text()
        return words.replace("\N{NO-BREAK SPACE}", " ")

    def says(self, words, nth=0):
        """Wait until the result of a panel holds the words; return it."""
        from playwright.sync_api import TimeoutError as Late  # only where a browser is

        try:
            self.page.wait_for_function(
                "([where, n, words]) => document.querySelectorAll(where)[n]"
                "?.innerText.replaceAll('\\u00a0', ' ').includes(words)",
                arg=[STATUS, nth, words],
            )
        except Late:
            raise AssertionError(f"{words!r} was not said, but {self.status(nth)!r}") from None
        self.wait_idle()
        return self.status(nth)

    def begins(self, words, nth=0):
        """Wait until the result of a panel holds the words, and see that it begins with them."""
        said = self.says(words, nth)
        assert said.startswith(words), said
        return said

    def status_after(self, act, nth=0):
        """Do something and return the result in words once it has changed and stands still."""
        before = self.status(nth)
        act()
        self.page.wait_for_function(
            "([where, old, n]) => document.querySelectorAll(where)[n]"
            "?.innerText.replaceAll('\\u00a0', ' ') !== old",
            arg=[STATUS, before, nth],
        )
        seen, still = self.status(nth), 0
        while still < 3:
            self.page.wait_for_timeout(100)
            self.wait_idle()
            seen, still = (seen, still + 1) if self.status(nth) == seen else (self.status(nth), 0)
        return seen

    def errors(self):
        """Return what the cells printed as errors."""
        return self.page.locator(
            ".jp-OutputArea [data-mime-type='application/vnd.jupyter.error'],"
            ".jp-OutputArea [data-mime-type='application/vnd.jupyter.stderr']"
        ).all_inner_texts()

    def axe(self, within=".airlab-panel", how=None):
        """Return what axe-core finds inside an element: rule, element, advice."""
        if not self.page.evaluate("() => Boolean(window.axe)"):
            self.page.evaluate((files("axe_playwright_python") / "axe.min.js").read_text())
        found = self.page.evaluate("([where, how]) => axe.run(where, how)", [within, how or {}])
        return [
            f"{fault['id']}: {node['html'][:160]} ({node['failureSummary']})"
            for fault in found["violations"]
            for node in fault["nodes"]
        ]

    def clean(self):
        """Assert what must hold after anything a person did."""
        assert self.axe() == []
        assert self.page.evaluate(MISFITS) == []
        assert self.errors() == []
        assert self.faults == [], "page or console errors"
        assert self.strangers == [], "requests to other hosts"

    def look(self, name, within=None):
        """Assert that all is clean and legible, and keep a picture, in both themes."""
        self.clean()
        self.screenshot(f"{name}_light", within)
        self.wear("dark")
        assert self.axe(how={"runOnly": ["color-contrast"]}) == []
        self.screenshot(f"{name}_dark", within)
        self.wear("light")

    def projector(self, on=True):
        """Wait until a panel fills the window (or does so no longer)."""
        self.page.wait_for_function(
            "(on) => on === Boolean(document.querySelector('.airlab-panel:popover-open'))", arg=on
        )

    def screenshot(self, name, within=None):
        """Keep a picture of the window (or one element) where AIRLAB_SCREENSHOTS points."""
        folder = os.environ.get("AIRLAB_SCREENSHOTS")
        target = self.page if within is None else self.page.locator(within).first
        data = target.screenshot()
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            (Path(folder) / f"{name}.png").write_bytes(data)
        return data


def saved(lab, name):
    """Return a saved notebook as a dictionary."""
    return json.loads((lab.folder / name).read_text(encoding="utf-8"))
