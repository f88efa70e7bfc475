"""What is a printed page, and how does it become a file that needs nothing else?

A page is a record: name, title, what it is for, its body, the figures computed for this job, the
sources. Bodies come from templates that escape whatever people typed. A file holds one page or
many, with its style inside; nothing is fetched from anywhere.
"""

import hashlib
import re
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from airlab.words import (
    Source,
    caution,
    convert,
    display_unit,
    from_si,
    label,
    show,
    show_clock,
    show_range,
)

__all__ = ["Heading", "Page", "Shown", "document", "make_page", "soft", "tick", "two_lines"]

_TEMPLATES = Path(__file__).parent / "templates"
_NO_MOMENT = "@moment@"


@dataclass(frozen=True, slots=True)
class Shown:
    """Prints SI values in the units of a job: 'metric' or 'us'."""

    system: str = "metric"

    def unit(self, si_unit):
        """Return the unit key people see for an SI unit; 'hole' for a hole's area."""
        return display_unit(si_unit, self.system)

    def name(self, si_unit):
        """Return how that unit is printed."""
        return label(self.unit(si_unit))

    def value(self, value, si_unit, digits=3):
        """Return a value with its unit; a dash where there is none."""
        if value is None:
            return "–"
        unit = self.unit(si_unit)
        return show(from_si(value, unit), unit, digits)

    def bare(self, value, si_unit, digits=3):
        """Return a value without its unit; a dash where there is none."""
        return "–" if value is None else show(from_si(value, self.unit(si_unit)), digits=digits)

    def flow(self, value, digits=3):
        """Return a flow given in m3/s."""
        return self.value(value, "m3/s", digits)

    def flows(self, low, high):
        """Return a range of flows given in m3/s."""
        unit = self.unit("m3/s")
        return show_range(from_si(low, unit), from_si(high, unit), unit, digits=3)

    def hole(self, value, digits=3):
        """Return the area of a hole given in m2."""
        return self.value(value, "hole", digits)

    def indicator(self, value, unit):
        """Return an indicator given in its own unit, in the unit people see."""
        there = self.unit(unit)
        return show(convert(value, unit, there), there)


@dataclass(frozen=True, slots=True)
class Heading:
    """What every page of a job says at its head: job, place, marks, units, moment."""

    name: str
    place: str = ""
    rough: bool = False
    invented: bool = False
    units: str = "metric"
    moment: datetime | None = None

    @property
    def marks(self):
        """The warnings that stand in the head of every page."""
        found = []
        if self.rough:
            found.append("ROUGH until rooms are entered")
        if self.invented:
            found.append("invented example")
        return tuple(found)

    @property
    def units_in_words(self):
        """The unit system in a few words."""
        return {"metric": "metric: m, m³/h, Pa", "us": "US: ft, cfm, Pa"}[self.units]


@dataclass(frozen=True, slots=True)
class Page:
    """One page: file name, title, purpose, body, figures computed for this job, sources."""

    key: str
    title: str
    purpose: str
    heading: Heading
    body: str
    computed: tuple[tuple[str, str], ...]
    sources: tuple[Source, ...] = ()
    filled: bool = False

    @property
    def digest(self):
        """A short mark of the content, printing time left out."""
        content = _render(self, _NO_MOMENT)
        return hashlib.sha256(content.encode("utf-8")).hexdigest()[:16]

    def section(self):
        """Return the page as one section of a document."""
        moment = self.heading.moment or datetime.now().astimezone()
        return _render(self, show_clock(moment))

    def html(self):
        """Return the page as a document of its own."""
        return document((self,), self.title)

    def sentence(self):
        """Return the page's title with the figures computed for this job."""
        figures = "; ".join(f"{name} {text}" for name, text in self.computed)
        return f"{self.title} for {self.heading.name}: {figures}."


def _render(page, moment):
    template = _environment().get_template("page.html")
    return Markup(template.render(page=page, moment=moment, estimate=caution("estimate").text))


def make_page(key, title, purpose, heading, computed, sources=(), filled=False, **facts):
    """Return a Page whose body comes from the template of the same name.

    Parameters
    ----------
    key : str
        Name of the page, of its file and of its template.
    title, purpose : str
        Title and one sentence that says what the page is for.
    heading : Heading
        Job, marks, units, moment.
    computed : iterable of (str, str)
        Figures computed for this job, as printed at the foot.
    sources : iterable of Source
        Sources named at the foot with their status.
    filled : bool
        Whether the page holds what was recorded on site.
    **facts
        What the template prints.
    """
    template = _environment().get_template(f"{key.removesuffix('-blank')}.html")
    body = template.render(
        shown=Shown(heading.units), heading=heading, filled=filled, key=key, **facts
    )
    unique = tuple({source.key: source for source in sources}.values())
    return Page(key, title, purpose, heading, Markup(body), tuple(computed), unique, filled)


def document(pages, title):
    """Return one self-contained HTML document of the pages, each on its own sheet of paper."""
    pages = tuple(pages)
    head = pages[0].heading
    running = f"{head.name}{' · ' + ' · '.join(head.marks) if head.marks else ''}"
    return _environment().get_template("document.html").render(
        title=f"{title}: {head.name}", pages=pages, running=_css_text(running),
        style=Markup((_TEMPLATES / "print.css").read_text(encoding="utf-8")),
        digest=content_digest(pages), state="filled" if any(p.filled for p in pages) else "blank",
    )  # fmt: skip


def content_digest(pages):
    """Return a short mark of the content of several pages, printing time left out."""
    joined = " ".join(page.digest for page in pages)
    return hashlib.sha256(joined.encode("utf-8")).hexdigest()[:16]


def tick(done):
    """Return a box to tick: empty for None or False, crossed for True."""
    word, mark = ("done", "×") if done else ("to tick", "")
    return Markup('<span class="tick" role="img" aria-label="{}">{}</span>').format(word, mark)


def soft(value):
    """Return text that may break inside very long words, so that no table outgrows the paper."""
    if isinstance(value, Markup):
        return value
    parts = re.split(r"(\S{24})(?=\S)", str(value))
    return Markup("<wbr>").join(part for part in parts if part)


def two_lines(first, second):
    """Return a cell of two lines, the second small; one line where there is no second."""
    if not second:
        return first
    return Markup("{}<br><small>{}</small>").format(soft(first), soft(second))


def _css_text(text):
    """Return text as the inside of a CSS string: everything but letters and digits as a code."""
    return Markup("".join(c if c.isascii() and c.isalnum() else f"\\{ord(c):x} " for c in text))


@cache
def _environment():
    environment = Environment(
        loader=FileSystemLoader(_TEMPLATES), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    environment.filters["soft"] = soft
    environment.globals.update(tick=tick)
    return environment
