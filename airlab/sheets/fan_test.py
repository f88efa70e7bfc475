"""Which page carries a fan test? The record: readings, sums, result, doubts, and what is missing."""

from datetime import datetime

from airlab.building import geometry, metric
from airlab.fan_test import (
    FAN_TESTS,
    check_record,
    fan_test_from_rows,
    read_test,
    readable_tests,
)
from airlab.files import read_fan_tests
from airlab.sheets.glossary import named_sources
from airlab.sheets.page import Heading, Shown, make_page, tick
from airlab.words import InputError, convert, from_si, show, show_percent

__all__ = ["chosen_test", "fan_test_page"]

_LEFT_OUT = ("test", "stated_q50_m3_per_h", "stated_n50_1_per_h")
_METRICS = ("n50", "qE50", "qF50", "q4_flow", "ELA4", "EqLA10")
_LAST_FIRST = ("failed", "not known", "passed")


def fan_test_page(job, name=None, moment=None):
    """Return the record of a fan test of the job; of an invented one while the job has none.

    Parameters
    ----------
    job : Job
        The job.
    name : str or None
        Name of the test; None is the last one.
    moment : datetime or None
        Time of printing; None is now.

    Raises
    ------
    InputError
        If there is no such test, or its readings cannot be used.
    """
    return _page(job, *chosen_test(job, name), moment)


def chosen_test(job, name=None):
    """Return row, points, house of a fan test of the job, whether it is invented, and the test as read.

    Parameters
    ----------
    job : Job
        The job.
    name : str or None
        Name of the test; None is the last one.
    """
    tests, points = (job.files[table].rows for table in ("fan_tests", "fan_test_points"))
    tests = readable_tests(tests, points)
    invented = job.invented or not tests
    if not tests:
        tests, points = (table.rows for table in read_fan_tests())
    named = {row["test"]: row for row in tests}
    if name is not None and name not in named:
        raise InputError(f"There is no fan test {name!r}. There are: {', '.join(named)}.")
    row = tests[-1] if name is None else named[name]
    house = geometry(job.rooms, job.envelope) if job.rooms else None
    page = read_test(fan_test_from_rows(row, points, house), row.get("standard") or "ISO 9972:2015")
    return row, points, house, invented, page


def _page(job, row, points, house, invented, page, moment):
    shown = Shown(job.units)
    result, check = page.result, check_record(row, points, house)
    heading = Heading(job.name or job.folder.name, job.place, False, invented, job.units,
                      moment or datetime.now().astimezone())  # fmt: skip
    computed = [("flow at 50 Pa", shown.flow(result.flow())),
                ("known to, all doubts", show_percent(page.trust.half(50.0)))]  # fmt: skip
    if result.n50 is not None:
        computed.insert(1, ("n50", shown.indicator(result.n50, "1/h")))
    computed.append(("exponent n", show(result.flow_exponent)))
    keys = {c.source for c in page.checks} | {"ISO9972", "ATTMA2010", "DERIVED"}
    return make_page(
        "fan_test", f"Fan test record: {row['test']}",
        "Readings, sums and doubts of one fan test, and what its record lacks.",
        heading, computed, named_sources(*sorted(keys)), filled=True,
        figures=[(name, text, "") for name, text in computed],
        check=check, standard=result.standard,
        day=[(column.meaning, _cell(row.get(column.name), column, shown)) for column in FAN_TESTS.columns
             if column.name not in _LEFT_OUT],
        stated=[(of, found.sentence(job.units)) for of, found in check.stated],
        results=[_direction(one, shown) for one in result.results],
        indicators=_indicators(result, shown),
        trust=page.trust.sentence(job.units),
        budget_heads=[("doubt", ""), *((f"at {show(b.pressure_difference, 'Pa')}", "n")
                                       for b in page.trust.budgets), ("known from", "")],
        budgets=_budgets(page.trust),
        findings=[found.sentence(job.units) for found in page.findings],
        conditions=[(f"{c.asked} ({c.direction})" if c.direction else c.asked, c.found or "–", c.verdict, f"{c.source}, {c.status}")
                    for c in sorted(page.checks, key=lambda c: _LAST_FIRST.index(c.verdict))],
        notes=result.notes, unit=shown.name("m3/s"), box=tick(False),
    )  # fmt: skip


def _cell(value, column, shown):
    if value is None or value == "":
        return "–"
    if column.kind in ("number", "integer"):
        unit = shown.unit(column.unit) if column.unit else ""
        if unit == column.unit:
            return show(value, unit, 6)
        return show(convert(value, column.unit, unit), unit, 4)
    return value


def _direction(one, shown):
    """Return one direction: its words, its rows."""
    fit, standard = one.fit, one.standard_fit
    low, high = (show(end, digits=4) for end in fit.exponent_limits())
    ends = shown.flows(*standard.flow_limits(50.0))
    r = "not known" if fit.r_squared is None else show(fit.r_squared, digits=6)
    zeros = ", ".join(
        f"{when} {'not read' if value is None else shown.value(value, 'Pa')}"
        for when, value in (("before", one.zero.before), ("after", one.zero.after))
    )
    words = (
        f"Zero flow {zeros}. n {show(fit.flow_exponent, digits=5)} ({low} to {high}), C_env "
        f"{shown.bare(fit.flow_coefficient, 'm3/s', 5)} and at standard state C_L "
        f"{shown.bare(standard.flow_coefficient, 'm3/s', 5)} {shown.name('m3/s')} per Paⁿ, r² {r}. At "
        f"50 Pa {shown.flow(standard.flow(50.0), 5)}, by scatter alone {ends} (95 %)."
    )
    rows = [
        (str(k), show(s["pressure_read"], digits=4), show(s["zero_flow"]), show(s["induced"], digits=4),
         *(shown.bare(s[name], "m3/s", 5) for name in
           ("flow_read", "flow_through_fan", "flow_through_envelope", "flow_on_line")),
         _percent(s["residual"]))
        for k, s in enumerate(one.trace(), 1)
    ]  # fmt: skip
    return {"name": one.direction, "words": words, "rows": rows}


def _indicators(result, shown):
    """Return the indicators that the sizes of the house allow."""
    rows = []
    for key in _METRICS:
        one = metric(key)
        try:
            value = shown.indicator(result.value(key), one.unit)
        except InputError:
            value = "size of the house missing"
        rows.append((one.name, one.symbol, value, one.convention))
    return rows


def _percent(share):
    return show(from_si(share, "%"), "%", 2)


def _budgets(trust):
    """Return a row for each doubt: its standard uncertainty at each pressure, where known from."""
    rows = [
        (name, *("–" if spread is None else _percent(spread) for spread in spreads), status)
        for name, spreads, status, _ in trust.rows()
    ]
    total = [_percent(one.spread) for one in trust.budgets]
    return [*rows, ("all together, one standard uncertainty", *total, "")]
