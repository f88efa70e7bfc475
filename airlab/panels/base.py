"""What is the same in every panel: controls, picture, the result in words, the message line.

A panel turns controls into arguments and shows a record; it computes nothing. A new panel
subclasses `Panel`, hands its controls to the constructor and writes `compute` and `picture`.
"""

import re
from contextlib import contextmanager
from html import escape, unescape
from pathlib import Path
from weakref import WeakSet

import ipywidgets as widgets
from IPython import get_ipython

from airlab.plots.svg import as_image
from airlab.words import InputError
from airlab.words.units import UNITS

__all__ = ["GROUPS", "Panel"]

GROUPS = ("building", "openings", "driver", "view")  # the order of controls, in every panel
MOST_IN_SIGHT = 5
LEAD = 60  # characters of a result that stand in bold, to the end of the sentence

_LABELS = "|".join(sorted({re.escape(unit.label) for unit in UNITS.values() if unit.label}))
_UNIT_AFTER_NUMBER = re.compile(rf"(\d) (?=(?:{_LABELS})(?!\w))")
_SENTENCE_END = re.compile(r"[.!?]( )(?=\S)")
_FOLDER = Path(__file__).parent
_OPEN = WeakSet()  # panels on the page, so that re-running a cell closes its old one


class Panel(widgets.VBox):
    """Base of every panel.

    A subclass sets `title`, calls ``super().__init__(building={...}, openings={...}, driver={...},
    view={...}, more={...})`` with its named controls, and writes:

    - ``compute(**settings)`` returns the record for the settings (name: value, in SI);
    - ``picture(record, **settings)`` returns HTML: drawings and `<img>` charts;
    - ``words(record, **settings)`` returns the result in words; by default `record.sentence()`.

    At most five controls are in sight; the rest go to `more` and are unfolded by a tick.

    Attributes
    ----------
    value : object
        The record on show.
    sentence : str
        The result in words, as it stands under the picture.
    """

    title = ""
    lead = ""  # one short line under the title
    hint = "Run all cells to move the controls."

    def __init__(
        self,
        building=None,
        openings=None,
        driver=None,
        view=None,
        more=None,
        job="",
        units="metric",
    ):
        groups = dict(zip(GROUPS, (building or {}, openings or {}, driver or {}, view or {})))
        in_sight = {name: control for group in groups.values() for name, control in group.items()}
        if len(in_sight) > MOST_IN_SIGHT:
            raise InputError(
                f"{type(self).__name__} shows {len(in_sight)} controls. At most {MOST_IN_SIGHT} "
                "may be in sight; put the rest under more."
            )
        more = dict(more or {})
        self.controls = {**in_sight, **more}
        self.job, self.units = job, units
        self._starts = {name: control.value for name, control in self.controls.items()}
        self._value, self._sentence, self._held = None, "", False

        self._head = widgets.HTML(self._head_html())
        self._picture = widgets.HTML().add_class("airlab-picture")
        self._result = widgets.HTML().add_class("airlab-result")
        self._message = widgets.HTML().add_class("airlab-message")
        big = self.button("Projector view", self.projector).add_class("airlab-back")
        self._buttons = widgets.HBox([self.button("Reset", self.reset), big])
        self._buttons.add_class("airlab-buttons")
        self._more = widgets.Checkbox(description="More settings", indent=False)
        self._more_box = widgets.VBox(list(more.values())).add_class("airlab-more")
        self._side = widgets.VBox().add_class("airlab-controls")
        self._view = widgets.VBox([self._message, self._picture, self._result])
        self._view.add_class("airlab-view")
        self._in_sight = tuple(in_sight.values())
        self.arrange()
        body = widgets.HBox([self._side, self._view]).add_class("airlab-body")
        super().__init__([self._head, body])
        self.add_class("airlab-panel")

        self._more.observe(self._unfold, "value")
        self._unfold()
        for control in self.controls.values():
            control.observe(self._changed, "value")
        self._close_older()
        self._act(self.refresh)

    # what a subclass writes ---------------------------------------------------------------

    def compute(self, **settings):
        """Return the record for the settings."""
        raise NotImplementedError

    def picture(self, record, **settings):
        """Return the HTML of the picture."""
        raise NotImplementedError

    def words(self, record, **settings):
        """Return the result in words."""
        return record.sentence(units=self.units)

    def arrange(self, *extra):
        """Put the controls in order: those in sight, what a subclass adds, more, buttons."""
        more = (self._more, self._more_box) if self._more_box.children else ()
        self._side.children = (*self._in_sight, *extra, *more, self._buttons)

    # what a person does -------------------------------------------------------------------

    @property
    def value(self):
        """The record on show; None before the first good one."""
        return self._value

    @property
    def sentence(self):
        """The result in words."""
        return self._sentence

    @property
    def message(self):
        """What was wrong with the last setting; empty if nothing."""
        return _bare(self._message.value)

    @property
    def settings(self):
        """The settings by name, numbers in SI."""
        return {name: control.value for name, control in self.controls.items()}

    def set(self, **settings):
        """Set controls by name (numbers in SI) and return the panel.

        Raises
        ------
        InputError
            If there is no such control, or the model refuses the values.
        """
        for name in settings:
            if name not in self.controls:
                raise InputError(
                    f"This panel has no control {name!r}. It has: {', '.join(self.controls)}."
                )
        with self._held_back():
            for name, value in settings.items():
                self.controls[name].value = value
        self._act(self.refresh, loud=True)
        return self

    def reset(self):
        """Put every control back to its start."""
        return self.set(**self._starts)

    def projector(self):
        """Show this panel alone, filling the window, in large type; again to go back."""
        big = "airlab-projector" not in self._dom_classes
        (self.add_class if big else self.remove_class)("airlab-projector")
        self._buttons.children[1].description = "Back to the page" if big else "Projector view"

    def refresh(self):
        """Compute and show again."""
        settings = self.settings
        record = self.compute(**settings)
        self.show(record, **settings)

    def show(self, record, **settings):
        """Put a record on show: picture and sentence."""
        picture = self.picture(record, **settings)
        self._value, self._sentence = record, self.words(record, **settings)
        self._picture.value = f'<div class="airlab-card">{picture}</div>'
        first, rest = (escape(_glued(part)) for part in _led(self._sentence))
        self._result.value = f'<p role="status"><strong>{first}</strong>{rest}</p>'

    def close(self):
        """Take the panel off the page, with everything it holds."""
        _OPEN.discard(self)
        kept = [vars(self).values()] if self.comm is not None else []
        while kept:
            for one in kept.pop():
                if isinstance(one, widgets.Widget) and one is not self and one.comm is not None:
                    kept.append([*getattr(one, "children", ()), *_looks(one)])
                    one.close()
                elif isinstance(one, tuple | list | dict):
                    kept.append(list(one.values()) if isinstance(one, dict) else one)
        for look in _looks(self):
            look.close()
        super().close()

    # workings -----------------------------------------------------------------------------

    def button(self, words, do, main=False):
        """Return a button that does something; a refused input goes to the message line."""
        made = widgets.Button(description=words)
        made.on_click(lambda _: self._act(do))
        return made.add_class("airlab-main" if main else "airlab-plain")

    def _act(self, do, *given, loud=False):
        """Do it: `InputError` becomes the message, everything else is said and raised."""
        try:
            done = do(*given)
        except InputError as error:
            kept = " The picture shows the last good values." if self._value is not None else ""
            self._say(f"{error}{kept}")
            if loud:
                raise
            return None
        except Exception as error:
            self._say(f"The workbook stumbled, this is not your doing: {error!r}")
            raise
        self._say("")
        return done

    def _say(self, words):
        self._message.value = f'<p role="alert">{escape(words)}</p>' if words else ""

    def _changed(self, _change):
        if not self._held:
            self._act(self.refresh)

    @contextmanager
    def _held_back(self):
        """Change several controls and redraw once."""
        held, self._held = self._held, True
        try:
            yield
        finally:
            self._held = held

    def _unfold(self, _change=None):
        self._more_box.layout.display = None if self._more.value else "none"

    def _head_html(self):
        style = (_FOLDER / "panel.css").read_text(encoding="utf-8")
        script = (_FOLDER / "panel.js").read_text(encoding="utf-8")
        job = f' <span class="airlab-job">{escape(self.job)}</span>' if self.job else ""
        lead = f'<p class="airlab-lead">{escape(self.lead)}</p>' if self.lead else ""
        return (
            f'<style onload="{escape(script)}">{style}</style>'
            f'<p class="airlab-title">{escape(self.title)}{job}</p>{lead}'
        )

    def _close_older(self):
        """Close the panels that an earlier run of this cell left behind."""
        self._born = _running_cell()
        cell, run = self._born
        for panel in list(_OPEN):
            if cell and panel._born[0] == cell and panel._born[1] != run:
                panel.close()
        _OPEN.add(self)

    def still(self):
        """Return the panel as it stands, as HTML that needs no running notebook."""
        picture = re.sub(
            r"<svg.*?</svg>", lambda m: as_image(m[0]), self._picture.value, flags=re.S
        )
        return f"{picture}<p>{escape(self._sentence)}</p>"

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        bundle["text/plain"] = f"{self._sentence} ({self.hint})"
        bundle["text/html"] = self.still()
        return bundle


def _glued(words):
    """Return the words with no line break between a number and its unit."""
    return _UNIT_AFTER_NUMBER.sub("\\1\N{NO-BREAK SPACE}", words)


def _led(words):
    """Return the words in two parts: the sentences that lead, about a line of them, and the rest."""
    ends = (end.start(1) for end in _SENTENCE_END.finditer(words))
    cut = next((end for end in ends if end >= LEAD), len(words))
    return words[:cut], words[cut:]


def _bare(html):
    return unescape(re.sub(r"<[^>]+>", "", html))


def _looks(widget):
    """Return the layout and style models that came with a widget."""
    looks = (getattr(widget, "layout", None), getattr(widget, "style", None))
    return [look for look in looks if look is not None]


def _running_cell():
    """Return (cell identifier, number of its run); empty outside a notebook."""
    shell = get_ipython()
    if shell is None or not hasattr(shell, "get_parent"):
        return "", 0
    metadata = shell.get_parent().get("metadata", {})
    return metadata.get("cellId", ""), shell.execution_count
