"""Which words does the workbook use, with which symbol and unit, and where do they come from?"""

import importlib
import pkgutil
from functools import cache

import airlab
from airlab.leak_check import MARKS
from airlab.sheets.page import Shown, make_page
from airlab.words import convert, gather_sources, gather_terms, label, show

__all__ = ["all_sources", "all_terms", "glossary_page", "named_sources", "symbols_page"]

_WORTH = (("cfm", "m3/h"), ("cfm/ft2", "m3/(h.m2)"), ("in2", "cm2"), ("ft2", "m2"), ("ft3", "m3"), ("ft", "m"),
          ("in", "mm"), ("inH2O", "Pa"), ("mph", "m/s"))  # fmt: skip
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


def glossary_page(facts):
    """Return the glossary: every term with symbol, unit, meaning, source, and its value here.

    Parameters
    ----------
    facts : Facts
        The job and what was computed from it.
    """
    terms, sources = all_terms(), all_sources()
    shown = facts.shown
    here = {name: _value(terms[name], value, shown) for name, value in _values(facts).items()
            if name in terms and value is not None}  # fmt: skip
    rows = [
        (term.words, term.symbol, shown.name(term.unit), term.meaning, here.get(term.name, ""),
         _credit(sources.get(term.source)))
        for term in sorted(terms.values(), key=lambda term: term.words.casefold())
    ]  # fmt: skip
    used = dict.fromkeys(term.source for term in terms.values() if term.source)
    return make_page(
        "glossary", "Glossary",
        "The words and symbols of these pages, one meaning each.", facts.heading,
        computed=tuple((terms[name].words, text) for name, text in here.items()),
        rows=rows, sources_table=[_source_row(sources[key]) for key in sorted(used)],
    )  # fmt: skip


def symbols_page(facts):
    """Return the symbols sheet: each letter with its units, each mark, what a US unit is worth.

    Parameters
    ----------
    facts : Facts
        Head of the page.
    """
    metric, us = Shown("metric"), Shown("us")
    rows = [
        (term.symbol, term.words, metric.name(term.unit), us.name(term.unit), term.meaning)
        for term in sorted(all_terms().values(), key=lambda term: (term.symbol.casefold(), term.name))
        if term.symbol
    ]  # fmt: skip
    worth = [(f"1 {label(one)}", show(convert(1.0, one, to), to)) for one, to in _WORTH]
    return make_page(
        "symbols", "Symbols", "The letters and marks of these pages, metric and US.", facts.heading,
        computed=worth[:2], sources=named_sources("ISO9972", "SI"), rows=rows, worth=worth,
        marks=[(mark, state) for state, mark in MARKS.items()],
    )  # fmt: skip


def _values(facts):
    """Return this job's values by the name of their term, in SI units or per hour as defined."""
    plan, house = facts.plan, facts.plan.geometry
    found = {name: getattr(house, name) for name in (
        "internal_volume", "envelope_area", "floor_area", "lowest_floor_area", "mean_height",
        "building_height")}  # fmt: skip
    found |= {"n50": facts.indicators.n50, "qE50": facts.indicators.qE50,
              "qF50": facts.indicators.qF50, "flow_exponent": plan.assumptions["flow_exponent"],
              "confidence": plan.confidence, "target_flow": plan.target_flow}  # fmt: skip
    if facts.fan_may_run and plan.expected is not None:
        found |= {"limit_flow": plan.limit_flow, "pass_flow": plan.expected.pass_flow,
                  "drift_median": plan.state.drift_median}  # fmt: skip
    return found


def _value(term, value, shown):
    unit = term.unit
    if unit in ("m3/(h.m2)", "1/h", "-"):
        return shown.indicator(value, unit)
    return shown.value(value, unit)


def _credit(source):
    return f"{source.key} ({source.status})" if source else ""


def _source_row(source):
    parts = [source.body, source.title, source.year, source.locator]
    return (source.key, ", ".join(part for part in parts if part), source.status)
