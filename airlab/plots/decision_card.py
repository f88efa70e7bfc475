"""What does the decision look like on a page: per area, the number for the house, what it rests on?"""

from html import escape

from airlab.building import terms as building_terms
from airlab.leak_check import ASSUMPTIONS, VERDICTS, hindcast
from airlab.leak_check import terms as check_terms
from airlab.plots.day_html import flags, flow_words, table
from airlab.plots.decision import decision_drawing
from airlab.plots.sizes import tile_row
from airlab.words import caution, convert, display_unit, from_si, show, show_percent, show_range
from airlab.words import terms as words_terms

__all__ = ["decision_card"]

_MOST_ROWS = 15
_SHAPES = dict(zip(VERDICTS, ("●", "◐", "■", "○")))
_LOOKS = dict(zip(VERDICTS, ("go", "part", "wait", "none")))
_SOURCES = {
    one.key: one for floor in (words_terms, building_terms, check_terms) for one in floor.SOURCES
}


def decision_card(release, units="metric", rows=None, costs=None, miss=None):
    """Return the decision: per area, number for the house, what it rests on, what moves it.

    Parameters
    ----------
    release : Release
        The decision.
    units : str
        'metric' or 'us'.
    rows : OpenRows or None
        Each open row settled by itself and asked again.
    costs : Choices or None
        What covering now and one more round cost.
    miss : Miss or None
        A final reading above the limit.
    """
    number = release.number
    reasons = "".join(f"<li>{escape(one)}</li>" for one in release.reasons)
    banner = (
        f'<div class="airlab-verdict airlab-{_LOOKS[release.verdict]}">'
        f'<p class="airlab-word"><span aria-hidden="true">{_SHAPES[release.verdict]}</span> '
        f"{release.verdict}</p><ul>{reasons}</ul></div>"
    )
    parts = [banner]
    if miss is not None:
        missed = f"<b>After a miss.</b> {escape(miss.sentence(units))}"
        parts = [f'<p class="airlab-missing">{missed}</p>', banner]
    if number:
        parts.append(_by_budget(release.by_budget, units))
        parts.append(f'<div class="airlab-draw">{decision_drawing(number, units)}</div>')
        parts.append(_basis(number, units))
    parts.append(_areas(release))
    if release.conditions and release.supported:
        parts.append("<p><b>Conditions</b></p>" + flags(release.conditions))
    if release.moved:
        moved = "".join(f"<li>{escape(one.sentence(units))}</li>" for one in release.moved)
        parts.append(f"<p><b>What moves the chance most</b></p><ol>{moved}</ol>")
    if rows is not None and rows.rows:
        parts.append(_open_rows(rows, release.by_budget is not None))
    if costs is not None:
        parts.append(f"<p><b>What each choice costs.</b> {escape(costs.sentence(units))}</p>")
    parts.append(_assumed(release, units))
    parts.append(_hindcast(release))
    parts.append(
        f"<p><b>A person signs</b>, on the release sheet. {escape(caution('estimate').text)} "
        f"{escape(caution('ventilation').text)}</p>"
    )
    return "".join(parts)


def _basis(number, units):
    volume, area = display_unit("m3", units), display_unit("m2", units)
    left = ("left for later holes", number.headroom) if number.headroom >= 0.0 else (
        "too much today", -number.headroom
    )  # fmt: skip
    pairs = [
        (flow_words(number.limit_flow, units), "the limit at 50 Pa, with the final sizes"),
        (show(from_si(number.final_volume, volume), volume), "final internal volume"),
    ]
    if number.final_area:
        pairs.append((show(from_si(number.final_area, area), area), "final envelope area"))
    pairs.append((flow_words(left[1], units), f"{left[0]}, at 50 Pa"))
    words = [number.house.sentence(units), number.state.sentence(units)]
    if number.added_flow:
        words.append(
            f"On top of the drift: {flow_words(number.added_flow, units)} at 50 Pa for holes to come and "
            "leaks behind seals."
        )
    return tile_row(pairs) + f'<p class="airlab-basis">{escape(" ".join(words))}</p>'


def _by_budget(found, units):
    """Return the number by the budget beside the number by the drift; empty without a budget."""
    if found is None:
        return ""
    chance = "none" if found.probability is None else show_percent(found.probability)
    budget_decides = found.lower != found.by_drift
    both = tile_row((
        (chance, "by the budget" + (", the lower: it decides" if budget_decides else "")),
        (
            show_percent(found.by_drift),
            "by the drift, drawn below" + ("" if budget_decides else ": it decides"),
        ),
    ))  # fmt: skip
    look = "airlab-missing" if found.apart or found.probability is None else "airlab-basis"
    return f'{both}<p class="{look}">{escape(found.sentence(units))}</p>'


def _open_rows(found, budget):
    """Return what settling each open row by itself would do, folded."""
    shown = [
        (
            escape(f"{one.kind} {one.name}"), escape(one.settled), escape(", ".join(one.frees)),
            "" if one.after is None else show_percent(one.after), one.verdict,
        )
        for one in found.rows[:_MOST_ROWS]
    ]  # fmt: skip
    many = len(found.rows)
    chance = found.probability_together
    together = (
        f"All settled: {found.together}{'' if chance is None else f', {show_percent(chance)}'}."
    )
    together += " The budget is asked with its lines as they stand." if budget else ""
    name = "Each open row, settled by itself and asked again"
    if many > _MOST_ROWS:
        name += f": the first {_MOST_ROWS} of {many}"
    listed = table(name, ("Row", "Taken as", "Frees", "Chance then", "House then"), shown,
                   look=" airlab-wrap")  # fmt: skip
    return (
        f"<details><summary>{many} open row{'s' if many > 1 else ''}: what settling each would "
        f"do</summary>{listed}<p>{escape(together)}</p></details>"
    )


def _areas(release):
    """Return the areas that wait with their reasons, and the others by room."""
    waiting = [one for one in release.areas if one.verdict == "NOT YET"]
    rows = [
        (
            escape(one.area),
            escape(one.room),
            "■ NOT\N{NO-BREAK SPACE}YET",
            escape(" ".join(one.reasons)),
        )
        for one in waiting
    ]
    parts = []
    if rows:
        parts.append(table(f"{len(rows)} areas wait", ("Area", "Room", "Release", "Why"), rows))
    for verdict, words in (
        ("GO", "● GO: evidence supports covering"),
        ("GO WITH CONDITIONS", "◐ GO WITH CONDITIONS: evidence supports covering"),
        ("NO NUMBER", "○ NO NUMBER: nothing open is known here, and no number stands behind it"),
        ("ALREADY COVERED", "Covered already"),
    ):
        rooms = {}
        for one in release.areas:
            if one.verdict == verdict:
                rooms.setdefault(one.room or "no room", []).append(one.area)
        if rooms:
            items = "".join(
                f"<li><b>{escape(room)}:</b> {escape(', '.join(areas))}</li>"
                for room, areas in rooms.items()
            )
            count = sum(map(len, rooms.values()))
            parts.append(f'<p><b>{words}</b> ({count})</p><ul class="airlab-columns">{items}</ul>')
    return "".join(parts)


def _assumed(release, units):
    ours = {entry.key: entry.value for entry in ASSUMPTIONS}
    rows = [
        (
            escape(entry.meaning), entry.said(units), _plausible(release.assumptions, entry, units),
            "yours" if entry.value != ours[entry.key] else "ours", _known(entry.source),
        )
        for entry in release.assumptions.entries
    ]  # fmt: skip
    listed = table(
        "Assumptions",
        ("What is assumed", "Value", "Plausible", "Whose", "How known"),
        rows,
        look=" airlab-wrap",
    )
    own = sum(row[3] == "yours" for row in rows)
    return (
        f"<details><summary>All {len(rows)} assumptions, {own} of them yours</summary>"
        f"<p>None of them is data: change them beside this page.</p>{listed}</details>"
    )


def _plausible(assumptions, entry, units):
    shown = entry.shown_unit(units)
    ends = (convert(end, entry.unit, shown) for end in assumptions.swing(entry.key))
    return show_range(*ends, shown, digits=3)


def _known(key):
    """Return how a figure was obtained, with its source at hand."""
    source = _SOURCES.get(key)
    if source is None:
        return escape(key)
    return f'<span title="{escape(source.sentence())}">{escape(source.status)}</span>'


def _hindcast(release):
    state = release.number.state if release.number else None
    drift = (state.drift_median, state.drift_spread) if state else (1.10, 0.20)
    items = "".join(f"<li>{escape(one.sentence())}</li>" for one in hindcast(*drift))
    return (
        "<details><summary>What this rule would have said of published cases</summary>"
        f"<p>Illustrations. Four cases prove no rule.</p><ul>{items}</ul></details>"
    )
