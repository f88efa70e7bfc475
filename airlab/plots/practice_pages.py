"""Pages of the practice house in its card: hazards, openings, the opened house, a faulty test."""

from html import escape

from airlab.words import caution, display_unit, from_si, label, show

__all__ = ["fault_page", "hazard_page", "opened_table", "preparation_page"]


def hazard_page(session):
    """Return what is seen today of each hazard, with its caution."""
    rows = "".join(
        f"<div><dt>{escape(caution(one.key).name)}</dt><dd><b>Seen today:</b> "
        f"{escape(session.seen_today(one.key))}<br><small>{escape(caution(one.key).text)}</small></dd></div>"
        for one in session.house.hazards
    )
    return f'<dl class="airlab-answers">{rows}</dl>'


def preparation_page(session, units="metric"):
    """Return the openings as found and what was done with each."""
    done = dict(session.stand.chosen)
    rows = "".join(
        f"<tr><th scope='row'>{escape(one.name)}</th><td>{escape(one.room)}</td><td>{escape(one.found)}</td>"
        f"<td><b>{escape(done.get(one.name, 'not yet'))}</b></td></tr>"
        for one in session.house.openings
    )
    return (f"<table><caption>Openings before the fan runs</caption><thead><tr><th>opening</th><th>room</th>"
            f"<th>found</th><th>done</th></tr></thead><tbody>{rows}</tbody></table>")  # fmt: skip


def opened_table(opened, units="metric"):
    """Return every hidden site in words, in one table that scrolls."""
    unit = display_unit("m3/s", units)
    rows = "".join(
        f"<tr><td class='number'>{row.number or '–'}</td><th scope='row'>{escape(row.site.where)}<br>"
        f"<small>{escape(row.site.junction)}; {escape(row.site.path)}</small></th>"
        f"<td class='number'>{show(from_si(row.flow, unit), '-', 2) if row.flow else '0'}</td>"
        f"<td>{escape(row.site.kind)}</td><td>{escape(row.verdict)}</td>"
        f"<td>{escape(', '.join(row.would_show) or 'none of ours')}</td></tr>"
        for row in opened.rows
    )
    gained = f"<p>{escape(opened.gained.sentence(units))}</p>" if opened.gained else (
        "<p>Two readings in one direction would have shown what was gained.</p>")  # fmt: skip
    return (f"{gained}<div class='airlab-scroll' tabindex='0' role='region' aria-label='All hidden sites'><table>"
            f"<thead><tr><th>tag</th><th>where</th><th>{escape(label(unit))} at 50 Pa</th>"
            f"<th>kind</th><th>what became of it</th><th>would have shown it</th></tr></thead>"
            f"<tbody>{rows}</tbody></table></div>")  # fmt: skip


def fault_page(found, units="metric"):
    """Return yesterday's test and today's side by side."""
    unit = display_unit("m3/s", units)
    both = zip(
        ("pressure and flow", "zero and wind", "result"),
        found.yesterday.lines(units),
        found.today.lines(units),
    )
    rows = "".join(
        f"<tr><th scope='row'>{name}</th><td>{escape(a)}</td><td>{escape(b)}</td></tr>"
        for name, a, b in both
    )
    rows += "".join(
        f"<tr><th scope='row'>air drawn by: {escape(name)}</th><td>{show(from_si(a, unit), unit, 2)}</td>"
        f"<td>{show(from_si(b, unit), unit, 2)}</td></tr>"
        for name, a, b in found.changed_rooms
    )
    return (f"<table><caption>Something is wrong with today's test</caption><thead><tr><td></td>"
            f"<th>yesterday, sound</th><th>today</th></tr></thead><tbody>{rows}</tbody></table>")  # fmt: skip
