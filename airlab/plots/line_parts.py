"""What stands beside the drawing of the line: its junctions one by one, its lifts with their cure.

Each function turns a record into HTML. What people typed is escaped.
"""

from html import escape

from airlab.plots.line_shapes import SHAPES
from airlab.words import display_unit, from_si, show, show_range

__all__ = ["lift_list", "line_tiles", "mark_list"]

_MOST = 400  # rows of one list


def _size(length, units):
    unit = display_unit("m", units)
    return show(from_si(length, unit), unit) if length else ""


def line_tiles(check, plan=None, units="metric"):
    """Return the figures that a pen lift moves: a number over its name.

    Parameters
    ----------
    check : LineCheck
        The check of the line.
    plan : CheckPlan or None
        The plan of the leak check, where there is one.
    units : str
        'metric' or 'us'.
    """
    lifts = len(check.lifts)
    rows = [
        (str(lifts) if lifts else "0, closed", "pen lift" if lifts == 1 else "pen lifts"),
        (f"{len(check.junctions)}", "junctions entered"),
        (_size(check.open_length, units) or "–", "of open joint"),
        (str(sum(not lift.owner for lift in check.lifts)), "lifts without owner"),
    ]
    if plan is not None and plan.expected:
        unit = display_unit("m3/s", units)
        low, high = (from_si(q, unit) for q in (plan.expected.low, plan.expected.high))
        rows.append((show_range(low, high, unit, digits=3), "to expect at 50 Pa"))
    cells = "".join(f"<div><b>{escape(big)}</b> <span>{name}</span></div>" for big, name in rows)
    return f'<div class="airlab-tiles">{cells}</div>'


def mark_list(marks, chosen=0, units="metric"):
    """Return junctions in walking order as a table: number, name, pen, owner.

    Parameters
    ----------
    marks : iterable of LineMark
        Junctions of a drawing.
    chosen : int
        Number of the junction the pen stands at.
    units : str
        'metric' or 'us'.
    """
    marks, rows = tuple(marks), []
    for mark in marks[:_MOST]:
        pen = "● down" if mark.closed else f"{SHAPES[mark.state]} {mark.state}"
        here = " aria-current=true" if mark.number == chosen else ""
        arrow = '<span aria-hidden="true">▸ </span>' if here else ""
        size = _size(mark.length, units)
        name = escape(mark.name) + (f" <small>{escape(size)}</small>" if size else "")
        rows.append(
            f'<tr{here}><td>{arrow}{mark.number}</td><th scope="row">{name}</th>'
            f"<td>{escape(pen)}</td><td>{escape(mark.owner or '–')}</td></tr>"
        )
    more = len(marks) - len(rows)
    if more:
        rows.append(f'<tr><td></td><th scope="row">and {more} more</th><td></td><td></td></tr>')
    head = "".join(f'<th scope="col">{word}</th>' for word in ("No.", "Junction", "Pen", "Owner"))
    return (
        '<div class="airlab-scroll airlab-marks" tabindex="0" role="region" aria-label="Junctions in '
        f'walking order"><table><thead><tr>{head}</tr></thead><tbody>{"".join(rows)}</tbody></table></div>'
    )


def lift_list(check, units="metric"):
    """Return the pen lifts as a list: where, why, who, and what puts the pen down again.

    Parameters
    ----------
    check : LineCheck
        The check of the line.
    units : str
        'metric' or 'us'.
    """
    if not check.lifts:
        return "<p><b>No pen lift.</b> Closed on paper: the fan and the search say how it was built.</p>"
    rows = "".join(
        f'<li value="{lift.number}"><b>{SHAPES[lift.why]} {escape(lift.why)}: {escape(lift.name)}</b> '
        f"{escape(', '.join(p for p in (_size(lift.length, units), lift.owner or 'nobody owns it yet') if p))}."
        f" {escape(lift.cure)}</li>"
        for lift in check.lifts[:_MOST]
    )
    more = len(check.lifts) - _MOST
    tail = f"<p>And {more} more.</p>" if more > 0 else ""
    return f'<ol class="airlab-lifts">{rows}</ol>{tail}'
