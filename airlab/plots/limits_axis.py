"""What does each published limit allow this house? One line a limit, all on one axis.

Equal numbers in different metrics are not equal targets, so each limit is drawn at the flow at
50 Pa that it allows this house. Numbers stand beside the marks; nothing hangs on colour.
"""

from html import escape

from airlab.plots.style import FLOW, INK, PRESSURE, QUIET, VOLUME, nice_limit
from airlab.plots.svg import circle, line, path, rect, text
from airlab.words import display_unit, from_si, label, show

__all__ = ["limits_axis", "limits_legend"]

_WIDE, _TALL, _EDGE = 215.0, 26.0, 14.0
_WHOSE = {"own": "Your limit", "voluntary": "Voluntary"}
# Mark of each kind: word at the foot, colour, shape.
_MARKS = {
    "limit": (INK, "disc"),
    "backstop": (PRESSURE.colour, "ring"),
    "default": (QUIET, "square"),
    "notional": (QUIET, "ring"),
    "guidance": (VOLUME.colour, "square"),
    "target": (VOLUME.colour, "diamond"),
    "ventilation trigger": (FLOW.colour, "triangle"),
}


def limits_axis(standings, leakage_flow, what="result", units="metric"):
    """Return the table of limits with their place on the axis of this house, as HTML.

    Parameters
    ----------
    standings : iterable of Standing
        The limits, in the order they are listed.
    leakage_flow : float
        Leakage flow at 50 Pa that is held against them. [m3/s]
    what : str
        What that flow is: "result" or "target".
    units : str
        'metric' or 'us'.
    """
    standings = tuple(standings)
    flow_unit = display_unit("m3/s", units)
    flows = [one.allowed_flow for one in standings if one.allowed_flow is not None]
    end = nice_limit(from_si(max([*flows, leakage_flow]), flow_unit))
    here = from_si(leakage_flow, flow_unit)
    rows = "".join(_row(one, here, end, flow_unit) for one in standings)
    if not rows:
        rows = '<tr><td colspan="5">No limit of that choice.</td></tr>'
    head = "".join(
        f'<th scope="col">{words}</th>'
        for words in ("Where and what for", "Figure", f"here [{label(flow_unit)}]",
                      f"the {escape(what)} is", _axis_head(here, end, flow_unit, what))
    )  # fmt: skip
    return (
        '<div class="airlab-scroll" tabindex="0" role="region" aria-label="Limits carried over">'
        "<p>What each figure allows this house at 50 Pa. Check your local rules.</p>"
        f'<table class="airlab-limits"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>'
        "</div>"
    )


def _place(value, end):
    return _EDGE + (_WIDE - 2.0 * _EDGE) * value / end


def _strip(height, *parts):
    return (
        f'<svg aria-hidden="true" viewBox="0 0 {_WIDE:.0f} {height:.0f}" width="{_WIDE:.0f}" '
        f'height="{height:.0f}">{"".join(parts)}</svg>'
    )


def _axis_head(here, end, unit, what):
    ticks = "".join(
        line(_place(end * i / 2.0, end), 36, _place(end * i / 2.0, end), 42, stroke=QUIET)
        + text(_place(end * i / 2.0, end), 32, show(end * i / 2.0, digits=4), size=12,
               anchor=("start", "middle", "end")[i], fill=QUIET)
        for i in range(3)
    )  # fmt: skip
    anchor = "end" if here > 0.7 * end else "start"
    name = text(_place(here, end), 14, f"{what} {show(here, unit)}", size=13, anchor=anchor,
                font_weight="bold", fill=FLOW.colour)  # fmt: skip
    axis = line(_EDGE, 40, _WIDE - _EDGE, 40, stroke=QUIET, stroke_width=1.5)
    mark = line(_place(here, end), 18, _place(here, end), 44, stroke=FLOW.colour, stroke_width=2.5)
    spoken = f'<span class="airlab-unseen">place on the axis, to {show(end, unit)}</span>'
    return spoken + _strip(44, ticks, name, axis, mark)


def _row(one, here, end, unit):
    limit, verdict = one.limit, one.verdict
    name = (
        f"<b>{escape(_WHOSE.get(limit.jurisdiction, limit.jurisdiction))}</b>, "
        f"{escape(limit.applies_to)}<br>"
        f"<small>{escape(limit.document)}{', ' + escape(limit.edition) if limit.edition else ''} · "
        f"{escape(limit.kind)} · {_status(limit)}</small>"
    )
    if one.allowed_flow is None:
        cells = f"<td>{escape(limit.shown())}</td><td>–</td><td>{escape(one.missing)}</td><td></td>"
        return f'<tr><th scope="row">{name}</th>{cells}</tr>'
    allowed = from_si(one.allowed_flow, unit)
    mine = " aria-current=true" if limit.key == "own" else ""
    x, colour_shape = _place(allowed, end), _MARKS.get(limit.kind, (QUIET, "disc"))
    strip = _strip(
        _TALL,
        line(_EDGE, 13, _WIDE - _EDGE, 13, stroke="#e2e2e2", stroke_width=1),
        rect(_EDGE, 11, max(x - _EDGE, 0.0), 4, fill="#dcdcdc"),
        line(_place(here, end), 0, _place(here, end), _TALL, stroke=FLOW.colour,
             stroke_width=2.5, stroke_dasharray="5 3"),
        _mark(x, 13.0, *colour_shape),
    )  # fmt: skip
    return (
        f'<tr{mine}><th scope="row">{name}</th><td>{escape(limit.shown())}</td>'
        f'<td class="number">{show(allowed)}</td><td>{_verdict_words(verdict)}</td>'
        f"<td>{strip}</td></tr>"
    )


def _status(limit):
    words = {"read": "read", "second-hand": "second-hand", "from memory": "FROM MEMORY"}
    old = ", no longer in force" if limit.superseded else ""
    return escape(words.get(limit.status, limit.status) + old)


def _verdict_words(verdict):
    kind = verdict.limit.kind
    if kind == "ventilation trigger":
        words = "▼ trigger crossed" if verdict.meets else "not crossed"
    elif kind == "default":
        words = "✓ better" if verdict.meets else "no better"
    else:
        words = "✓ inside" if verdict.meets else "✗ over"
    return words + (", close" if verdict.close else "")


def _mark(x, y, colour, shape):
    if shape == "disc":
        return circle(x, y, 6, fill=colour)
    if shape == "ring":
        return circle(x, y, 5, fill="#fff", stroke=colour, stroke_width=3)
    if shape == "square":
        return rect(x - 5, y - 5, 10, 10, fill=colour)
    points = {"diamond": "M0 -7L7 0L0 7L-7 0Z", "triangle": "M-7 -6h14L0 7Z"}[shape]
    return path(points, fill=colour, transform=f"translate({x:.1f} {y:.1f})")


def limits_legend():
    """Return what the marks mean, as HTML."""
    marks = "".join(
        f'<span><svg aria-hidden="true" width="18" height="18">{_mark(9.0, 9.0, *look)}</svg>'
        f"{escape(kind)}</span>"
        for kind, look in _MARKS.items()
    )
    return f'<p class="airlab-legend">{marks}</p>'
