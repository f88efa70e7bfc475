"""What else is on the page of a fan test: its readings, its doubts, every step, two tests."""

from airlab.plots.sizes import answers_list, html_table, notes_list, tile_row
from airlab.words import PRESSURE_REFERENCE, display_unit, from_si, label, show, show_percent

__all__ = [
    "checks_table", "comparison_table", "doubts_list", "doubts_table", "fits_table", "readings_table",
    "result_tiles", "steps_table",
]  # fmt: skip

_SHORT = {"depressurise": "D", "pressurise": "P"}


def _fixed(value, decimals=1):
    """Return a number of a column whose places stand under each other."""
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if not float(text) else text.replace("-", "−")


def _share(value, decimals=1):
    return _fixed(from_si(value, "%"), decimals)


def result_tiles(page, units="metric"):
    """Return the chief figures as tiles, each with its pressure, as HTML."""
    unit, result = display_unit("m3/s", units), page.result
    tiles = [(show(from_si(result.flow(p), unit), unit), f"leaks at {show(p, 'Pa')}")
             for p in (PRESSURE_REFERENCE, 4.0)]  # fmt: skip
    if result.n50 is not None:
        tiles.insert(1, (show(result.n50, "1/h"), "air changes at 50 Pa, n50"))
    return tile_row([*tiles, (show(result.flow_exponent), "exponent n")])


def readings_table(page, units="metric", chosen=None):
    """Return the points as read, how far each lies off the line, what leaving it out would do.

    Parameters
    ----------
    page : TestPage
        The test.
    units : str
        'metric' or 'us'.
    chosen : tuple or None
        Direction and point to mark.
    """
    unit = display_unit("m3/s", units)
    known = {(one.direction, one.point): one for one in page.influence}
    rows = []
    for one in page.before.results:
        for k, step in enumerate(one.trace(), 1):
            effect = known.get((one.direction, k))
            mark = "▸ " if chosen == (one.direction, k) else ""
            rows.append((
                f"{mark}{_SHORT[one.direction]}{k}", _fixed(step["pressure_read"]),
                show(from_si(step["flow_read"], unit), digits=4), _share(step["residual"]),
                "" if effect is None else _share(effect.flow_50, 2),
            ))  # fmt: skip
    zeros = "; ".join(
        f"{_SHORT[one.direction]} {_zero(one.zero.before)}, {_zero(one.zero.after)}"
        for one in page.before.results
    )
    heads = ("Point", "Pa", label(unit), "off line %", "moves 50 Pa flow, %")
    return html_table(f"As read. Zero flow before, after, Pa: {zeros}", heads, rows, (1, 2, 3, 4))


def _zero(value):
    return "not read" if value is None else _fixed(value)


def steps_table(page, units="metric"):
    """Return every step of the sum for every point of the test on show, as HTML."""
    unit, rows, tail = display_unit("m3/s", units), [], []
    for one in page.result.results:
        for k, step in enumerate(one.trace(), 1):
            flows = [show(from_si(step[name], unit), digits=5) for name in (
                "flow_read", "flow_through_fan", "flow_through_envelope")]  # fmt: skip
            rows.append((
                f"{_SHORT[one.direction]}{k}", show(step["pressure_read"]), show(step["zero_flow"]),
                show(step["induced"], digits=4), *flows, show(step["ln_pressure"], digits=5),
                show(step["ln_flow"], digits=5), show(from_si(step["flow_on_line"], unit), digits=5),
            ))  # fmt: skip
        fit, standard = one.fit, one.standard_fit
        low, high = (show(end, digits=4) for end in fit.exponent_limits())
        shown = (
            label(unit).replace("/", "/(") + "·Paⁿ)" if "/" in label(unit) else f"{label(unit)}/Paⁿ"
        )
        ends = [
            show(from_si(end, unit), digits=4) for end in standard.flow_limits(PRESSURE_REFERENCE)
        ]
        tail.append(
            f"{one.direction.capitalize()}: n {show(fit.flow_exponent, digits=5)} ({low} to {high}), "
            f"C_env {show(from_si(fit.flow_coefficient, unit), digits=5)} and at standard state C_L "
            f"{show(from_si(standard.flow_coefficient, unit), digits=5)} {shown}, r² "
            f"{'not known' if fit.r_squared is None else show(fit.r_squared, digits=6)}. At 50 Pa "
            f"{show(from_si(standard.flow(PRESSURE_REFERENCE), unit), unit, 5)}, 95 % limits by "
            f"scatter {ends[0]} to {ends[1]}."
        )
    heads = ("Point", "read, Pa", "zero, Pa", "made by the fan, Pa", f"read, {label(unit)}",
             "through the fan", "through the leaks", "ln Δp", "ln q (m³/s)", "on the line")  # fmt: skip
    return html_table("Every step of the sum", heads, rows, range(1, 10)) + notes_list(
        (*tail, *page.result.notes)
    )


def checks_table(page):
    """Return every condition of the standard with what was found, verdict and status, as HTML."""
    rows = [
        (f"{c.asked}{f' ({c.direction})' if c.direction else ''}", c.found or "not read", c.verdict,
         f"{c.source}, {c.status}")
        for c in sorted(page.checks, key=lambda c: ("failed", "not known", "passed").index(c.verdict))
    ]  # fmt: skip
    name = page.result.standard.name
    heads = ("Condition", "Found", "Verdict", "Condition from")
    return html_table(f"{name}, condition by condition", heads, rows) + notes_list(
        ["Conditions from memory or second-hand: the printed standard decides.",
         "A condition that is not known is not passed. Nothing here certifies."]
    )  # fmt: skip


def doubts_list(page, units="metric", faults=True):
    """Return the doubts of a test in three parts: faults, conditions, which figure to trust."""
    items = []
    if not faults:
        items.append(("Faults", "Find them yourself; then tick Name the faults."))
    elif page.findings:
        items += [("Look at", _finding(found)) for found in page.findings]
    else:
        items.append(("Faults", "No fault shows in the points. Some faults never show there."))
    unmet = [
        f"{c.asked}{f' ({c.direction})' if c.direction else ''}: {c.verdict}" for c in page.unmet
    ]
    most = 3
    more = f", and {show(len(unmet) - most)} more" if len(unmet) > most else ""
    passed = sum(c.verdict == "passed" for c in page.checks)
    words = f"{show(passed)} of {show(len(page.checks))} met"
    items.append((page.result.standard.name, f"{words}. {'; '.join(unmet[:most])}{more}." if unmet
                  else f"{words}, most of them from memory. No certificate."))  # fmt: skip
    if page.result.notes:
        items.append(("Assumed or missing", " ".join(page.result.notes)))
    items.append(("Which figure to trust", f"{page.trust.sentence(units)} {_largest(page)}"))
    return f'<div class="airlab-doubts">{answers_list(items)}</div>'


def _finding(found):
    where = f" ({found.direction})" if found.direction else ""
    causes = "; ".join(f"{cause} [{status}]" for cause, status in found.causes[:2])
    return f"{found.evidence}{where}. Likely: {causes}."


def _largest(page):
    """Name the largest doubt at 50 Pa and at 4 Pa."""
    parts = []
    for one in (page.trust.budgets[0], page.trust.budgets[-1]):
        row = max(one.rows, key=lambda row: row.spread)
        parts.append(f"at {show(one.pressure_difference, 'Pa')} {row.name} ({row.status})")
    return f"Largest doubt: {', '.join(parts)}."


def doubts_table(page, units="metric"):
    """Return every doubt at each pressure, what it is known from, and what they come to, as HTML."""
    unit, budgets = display_unit("m3/s", units), page.trust.budgets
    rows = [
        (name, *("" if spread is None else _share(spread, 2) for spread in spreads), status, note)
        for name, spreads, status, note in page.trust.rows()
    ]
    total = [_share(one.spread, 2) for one in budgets]
    rows.append(("all together", *total, "", "root of the sum of squares"))
    rows.append((f"limits, 95 %, {label(unit)}", *(
        f"{show(from_si(one.low, unit))} to {show(from_si(one.high, unit))}" for one in budgets), "", ""))  # fmt: skip
    heads = ("Doubt, standard uncertainty in %", *(f"at {show(one.pressure_difference, 'Pa')}" for one in budgets),
             "known from", "note")  # fmt: skip
    return html_table("What the flow is uncertain by", heads, rows, range(1, len(budgets) + 1)) + notes_list(
        ["The fit sees the first line only. The others move all points together and never shrink with "
         "their number. Assumptions are ours: change them for your instruments."]
    )  # fmt: skip


def fits_table(rows, units="metric"):
    """Return the fits beside each other, as HTML."""
    unit, rows = display_unit("m3/s", units), tuple(rows)
    heads = ["Fit", "what it does", "n", "± u"]
    for p, _, _ in rows[0].flows:
        heads += [f"at {show(p, 'Pa')}, {label(unit)}", "± 95 %"]
    body = []
    for one in rows:
        cells = [one.method, one.note, show(one.flow_exponent), show(one.exponent_spread, digits=2)]
        for _, flow, half in one.flows:
            cells += [show(from_si(flow, unit)), show(from_si(half, "%"), "%", 2)]
        body.append(cells)
    return html_table("The same points by other fits", heads, body, range(2, len(heads))) + notes_list(
        ["Spreads assumed: 0.5 Pa for each pressure, 1 % for each flow. Limits are of the fit alone.",
         "At 50 Pa the fits hardly differ. At 4 Pa they do: that is what the points do not know."]
    )  # fmt: skip


def comparison_table(comparison, first, second, units="metric"):
    """Return two tests beside each other and what is proved, as HTML.

    Parameters
    ----------
    comparison : Comparison
        Second minus first.
    first, second : str
        Names of the tests.
    units : str
        'metric' or 'us'.
    """
    unit = display_unit("m3/s", units)
    rows = [
        (show(d.pressure_difference, "Pa"), show(from_si(d.first, unit)), show(from_si(d.second, unit)),
         f"{'+' if d.change > 0 else '−'}{show_percent(abs(d.relative))}",
         f"{show(from_si(d.low, unit))} to {show(from_si(d.high, unit))}", "yes" if d.proved else "no")
        for d in comparison.differences
    ]  # fmt: skip
    heads = ("At", f"{first}, {label(unit)}", f"{second}, {label(unit)}", "change", "95 % limits",
             "change proved")  # fmt: skip
    return html_table(f"{first}, then {second}", heads, rows, (1, 2, 3, 4)) + notes_list(
        ["Limits: scatter of both, 2 % of its own for each test "
         "(preparation, weather; assumption). The fan is taken to be the same."]
    )  # fmt: skip
