"""Which words does the workbook use, with which symbol and unit, and where do they come from?"""

import importlib
import pkgutil
from functools import cache

import airlab
from airlab.sheets.page import Shown, make_page
from airlab.words import gather_sources, gather_terms, label

__all__ = ["all_sources", "all_terms", "glossary_page", "named_sources"]

_BELOW = ("words", "physics", "building", "fan_test", "design", "in_use", "leak_check", "teaching")


@cache
def _floors():
    """Return the vocabulary of every floor that has one, bottom up."""
    found = []
    for name in (floor for floor in _BELOW if floor in _folders()):
        modules = {entry.name for entry in pkgutil.iter_modules(_folder(name).__path__)}
        if "terms" in modules:
            found.append(importlib.import_module(f"airlab.{name}.terms"))
    return tuple(found)


def _folders():
    return {entry.name for entry in pkgutil.iter_modules(airlab.__path__) if entry.ispkg}


def _folder(name):
    return importlib.import_module(f"airlab.{name}")


def all_terms():
    """Return {name: Term} over all floors."""
    return gather_terms(*_floors())


def all_sources():
    """Return {key: Source} over all floors."""
    return gather_sources(*_floors())


def named_sources(*keys):
    """Return the sources of those keys, each once, in the order given.

    Raises
    ------
    KeyError
        If no floor declares a key.
    """
    known = all_sources()
    return tuple(known[key] for key in dict.fromkeys(keys) if key)


def glossary_page(facts, heading):
    """Return the glossary: every term with symbol, unit, meaning, source, and its value here.

    Parameters
    ----------
    facts : dict
        Values of this job by term name, in the unit of the term.
    heading : Heading
        Head of the page.
    """
    terms, sources = all_terms(), all_sources()
    shown = Shown(heading.units)
    here = {name: _value(terms[name], value, shown) for name, value in facts.items()
            if name in terms and value is not None}  # fmt: skip
    rows = [
        (term.words, term.symbol, label(term.unit), term.meaning, here.get(term.name, ""),
         _credit(sources.get(term.source)))
        for term in sorted(terms.values(), key=lambda term: term.words.casefold())
    ]  # fmt: skip
    used = dict.fromkeys(term.source for term in terms.values() if term.source)
    return make_page(
        "glossary", "Glossary",
        "The words and symbols of these pages, one meaning each.", heading,
        computed=tuple((terms[name].words, text) for name, text in here.items()),
        rows=rows, sources_table=[_source_row(sources[key]) for key in sorted(used)],
    )  # fmt: skip


def _value(term, value, shown):
    unit = term.unit
    if unit in ("m3/(h.m2)", "1/h"):
        return shown.indicator(value, unit)
    return shown.value(value, unit)


def _credit(source):
    return f"{source.key} ({source.status})" if source else ""


def _source_row(source):
    parts = [source.body, source.title, source.year, source.locator]
    return (source.key, ", ".join(part for part in parts if part), source.status)
