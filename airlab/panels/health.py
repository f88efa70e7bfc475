"""Is the workbook well, and what comes before any fan? Versions in plain words; safety first."""

from html import escape

from IPython.display import HTML

from airlab.files.health import health
from airlab.panels.card import CardPanel
from airlab.words import CAUTIONS

__all__ = ["HealthPanel", "safety_first"]

# Runs on the page: reads which lab this page came from and holds it against the kernel's side.
_LAB_SIDE = """
const told = this.parentElement.querySelector('.airlab-lab-side');
const facts = document.getElementById('jupyter-config-data');
const lab = facts ? (JSON.parse(facts.textContent).appVersion || '') : '';
const kernel = told.dataset.kernel;
if (!lab) told.textContent = 'This page does not say which lab it is.';
else if (lab === kernel) told.textContent = 'This page: JupyterLab ' + lab + ', the same as in the kernel. ✓';
else told.textContent = '⚠ This page: JupyterLab ' + lab + '. The kernel has ' + (kernel || 'none')
  + '. They are two environments: start the lab with the command in the README.';
"""


class HealthPanel(CardPanel):
    """Which versions run on either side, and what to fix.

    Examples
    --------
    >>> from airlab.panels.health import HealthPanel
    >>> HealthPanel().value.findings[0].what
    'Python'
    """

    title = "Is the workbook well?"

    def compute(self):
        """Return what was found on the kernel's side."""
        return health()

    def picture(self, record):
        """Return versions as a list; the page adds its own side."""
        found = {one.what: one for one in record.findings}
        lab = found.get("jupyterlab")
        items = "".join(
            f"<li>{'✓' if one.well else '⚠'} {escape(one.what)}: {escape(one.found)}"
            f"{'' if one.well else '. ' + escape(one.todo)}</li>"
            for one in record.findings
        )
        return (
            f'<style onload="{escape(_LAB_SIDE)}"></style>'
            f'<p class="airlab-lab-side" data-kernel="{escape(lab.found if lab else "")}">'
            "This page cannot say which lab it is.</p>"
            f'<ul class="airlab-columns">{items}</ul>'
        )

    def still(self):
        """Return the sentence alone: versions differ from place to place."""
        return f"<p>{escape(self.sentence)}</p>"


def safety_first():
    """Return the cautions as a list for the page, what stops the fan at its head."""
    order = sorted(CAUTIONS, key=lambda one: not one.stops_fan)
    items = "".join(
        f"<li><b>{escape(one.name)}</b>{' (stops the fan)' if one.stops_fan else ''}: "
        f"{escape(one.text)}</li>"
        for one in order
    )
    return HTML(f"<ul>{items}</ul>")
