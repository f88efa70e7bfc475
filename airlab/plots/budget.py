"""Where will the leakage be, and will the house pass? Ranked bars with ranges, houses by result."""

from airlab.building import metric
from airlab.plots.sizes import html_table
from airlab.plots.style import CARD, FAINT, FLOW, GOOD, INK, QUIET, VOLUME, nice_limit
from airlab.plots.svg import drawing, line, path, rect, text
from airlab.words import display_unit, from_si, label, show, show_percent

__all__ = ["budget_bars", "budget_houses", "cheapest_table", "variance_table"]

_WIDE, _NAMES, _ROW, _TOP, _SHARE = 540.0, 226.0, 30.0, 44.0, 52.0
_CHART, _TALL, _EDGE, _BASE = 440.0, 350.0, 20.0, 262.0
_LETTERS = 28
_BOLD = 10.5  # width of a bold letter


def budget_bars(answer, units="metric", most=9):
    """Return the lines with the greatest shares, each with its range, as an SVG string.

    Parameters
    ----------
    answer : BudgetAnswer
        What the budget says.
    units : str
        'metric' or 'us'.
    most : int
        Number of lines shown; the rest is named as one.
    """
    unit = display_unit("m3/s", units)
    whole = answer.houses.mean(answer.houses.final)
    seen, rest = answer.shares[:most], answer.shares[most:]
    end = nice_limit(max([from_si(one.high, unit) for one in seen] + [1e-6]))
    scale = (_WIDE - _NAMES - _SHARE - 8.0) / end
    bottom = _TOP + _ROW * len(seen)
    parts = [
        text(0, 18, f"Flow at 50 Pa [{label(unit)}], house finished", font_weight="bold"),
        text(_WIDE, _TOP - 6, "share", size=14, anchor="end", fill=QUIET),
    ]
    for i in range(3):
        x = _NAMES + scale * end * i / 2.0
        parts += [
            line(x, _TOP - 2, x, bottom, stroke=FAINT),
            text(x, bottom + 18, show(end * i / 2.0), size=14, anchor="middle", fill=QUIET),
        ]
    for place, one in enumerate(seen):
        y = _TOP + _ROW * place + 0.5 * _ROW
        look = FLOW if one.is_lift else VOLUME
        low, high, mean = (
            _NAMES + scale * from_si(flow, unit) for flow in (one.low, one.high, one.share * whole)
        )
        parts += [
            text(_NAMES - 8, y + 5, _short(one.name), size=15, anchor="end"),
            rect(_NAMES, y - 9, max(mean - _NAMES, 1.0), 18, fill=look.css_fill, stroke=look.css,
                 stroke_width=2, stroke_dasharray="6 3" if one.is_lift else None),
            line(low, y, high, y, stroke=INK, stroke_width=2),
            line(low, y - 5, low, y + 5, stroke=INK, stroke_width=2),
            line(high, y - 5, high, y + 5, stroke=INK, stroke_width=2),
            text(_WIDE, y + 5, show_percent(one.share), size=15, anchor="end", font_weight="bold"),
        ]  # fmt: skip
    foot = "Box: mean. Line: eight houses in ten."
    if not answer.houses.enough:
        foot = "Too few houses fit what was measured: not to be relied on."
        rest = ()
    if rest:
        foot += f" {len(rest)} more lines: {show_percent(sum(one.share for one in rest))}."
    said = ", ".join(f"{one.name} {show_percent(one.share)}" for one in seen)
    return drawing(
        _WIDE, bottom + 46, f"Shares of the leakage at 50 Pa: {said}.", *parts,
        text(0, bottom + 40, foot, size=14, fill=QUIET),
    )  # fmt: skip


def _short(name):
    return name if len(name) <= _LETTERS else f"{name[: _LETTERS - 1]}…"


def budget_houses(answer, before=None, units="metric"):
    """Return how many houses come out where, against target and limit, as an SVG string.

    Parameters
    ----------
    answer : BudgetAnswer
        What the budget says.
    before : BudgetAnswer or None
        The same before a change, drawn as a dashed outline.
    units : str
        'metric' or 'us'.
    """
    one = metric(answer.metric)

    def valued(flow):
        return answer.in_metric(flow, units)

    first = before or answer
    far = max(*first.houses.quantiles(first.houses.final, (0.95, 0.98)), 1.2 * answer.limit_flow)
    end, width = nice_limit(valued(far)), _CHART - 2.0 * _EDGE
    most = end / valued(1.0)
    edges, heap = answer.counts(most=most)
    older = before.counts(most=most)[1] if before else ()
    tall = max([*heap, *older, 1e-9])

    def x(flow):
        return _EDGE + width * min(flow, most) / most

    def y(share):
        return _BASE - 190.0 * share / tall

    parts = []
    for left, right, share in zip(edges, edges[1:], heap):
        inside = right <= answer.limit_flow * 1.0001
        look = GOOD if inside else FLOW
        parts.append(
            rect(x(left), y(share), x(right) - x(left) - 1.0, _BASE - y(share),
                 fill=look.css if inside else look.css_fill, stroke=look.css)
        )  # fmt: skip
    if older:
        steps = "".join(
            f"L{x(left):.1f} {y(share):.1f}L{x(right):.1f} {y(share):.1f}"
            for left, right, share in zip(edges, edges[1:], older)
        )
        parts.append(path(f"M{_EDGE:.1f} {_BASE:.1f}{steps}", fill="none", stroke=INK,
                          stroke_width=2, stroke_dasharray="4 3"))  # fmt: skip
    parts.append(line(_EDGE, _BASE, _CHART - _EDGE, _BASE, stroke=QUIET, stroke_width=1.5))
    for i in range(5):
        at = _EDGE + width * i / 4.0
        parts.append(text(at, _BASE + 20, show(end * i / 4.0, digits=3), size=14, anchor="middle"))
    marks = (
        (answer.aim_flow, "target", VOLUME.css, "7 4"),
        (answer.limit_flow, "limit", INK, None),
    )
    for row, (flow, name, ink, dashes) in zip((40, 58), sorted(marks, key=lambda one: one[0])):
        at, words = x(flow), f"{name} {show(valued(flow))}{' →' if flow > most else ''}"
        left = at + 5.0 + _BOLD * len(words) > _CHART  # a label stays inside, on the side with room
        parts += [
            line(at, row - 12, at, _BASE, stroke=ink, stroke_width=3, stroke_dasharray=dashes),
            text(at + (-5 if left else 5), row, words, anchor="end" if left else "start",
                 font_weight="bold", fill=ink, stroke=CARD, stroke_width=4, paint_order="stroke"),
        ]  # fmt: skip
    parts += [
        text(0, 18, f"{one.symbol} at the end [{label(answer.metric_unit(units))}]", font_weight="bold"),
        *(text(0, _BASE + 44 + 19 * row, words, font_weight="bold", size=15)
          for row, words in enumerate(_chances(answer))),
        text(0, _BASE + 83, "Dashed outline: before the change." if before else
             "Filled: within the limit. Pale: over it.", size=14, fill=QUIET),
    ]  # fmt: skip
    title = f"Houses of this budget by result {one.at_pressure}: {', '.join(_chances(answer))}."
    return drawing(_CHART, _TALL, title, *parts)


def _chances(answer):
    """Return the chances in words, or why there are none."""
    if not answer.houses.enough:
        return "no chance given", "too few houses fit what was measured"
    return (f"{show_percent(answer.chance_limit)} within the limit",
            f"{show_percent(answer.chance_aim)} within the target")  # fmt: skip


def variance_table(shares, most=6):
    """Return whose uncertainty matters, as an HTML table.

    Parameters
    ----------
    shares : iterable of VarianceShare
        The greatest total first.
    most : int
        Number of rows.
    """
    rows = [
        (one.name, show_percent(one.first), show_percent(one.total)) for one in tuple(shares)[:most]
    ]
    head = ("Whose uncertainty", "alone", "with all it works through")
    return html_table("What the spread of the house hangs on", head, rows)


def cheapest_table(way, prices=()):
    """Return the cheapest set of changes and what other chances would cost, as HTML tables.

    Parameters
    ----------
    way : CheapestWay
        The set.
    prices : iterable of CheapestWay
        Cheapest sets for other chances.
    """
    rows = [
        (one.item, one.what or "better", show_percent(one.share), show(one.cost))
        for one in way.chosen
    ]
    found = html_table(
        "The cheapest way under the limit", ("Line or training", "Change", "leaves", "cost"),
        rows or [("nothing", "", "", show(0))],
    )  # fmt: skip
    steps = [
        (show_percent(one.wanted), show(len(one.chosen)), show(one.cost),
         show_percent(one.chance) if one.reached else f"{show_percent(one.chance)}, not reached",
         show_percent(one.chance_half))
        for one in prices
    ]  # fmt: skip
    head = ("Chance wanted", "changes", "cost", "chance", "if half as good")
    return found + (html_table("What each chance costs", head, steps) if steps else "")
