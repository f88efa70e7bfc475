"""What is likely to come out of one aim? Twenty houses as dots, and what both ends ask for.

Each dot is one house in twenty. Those over the limit are rings with a cross, never colour alone.
"""

from airlab.plots.sizes import html_table, notes_list
from airlab.plots.style import FLOW, GOOD, INK, QUIET, VOLUME, nice_limit
from airlab.plots.svg import circle, drawing, line, path, rect, text
from airlab.words import display_unit, from_si, label, show, show_percent

__all__ = ["context_list", "contract_card", "fit_tables", "twenty_houses"]

_WIDE, _EDGE, _BASE, _DOT = 760.0, 24.0, 158.0, 13.0
_COUNT = 20


def twenty_houses(aim, aimed_at=None):
    """Return twenty equally likely results of one aim against its limit, as an SVG string.

    Parameters
    ----------
    aim : Aim
        Limit, spread or own past results.
    aimed_at : float or None
        Value aimed for; None takes the aim.
    """
    at = aim.aim if aimed_at is None else aimed_at
    results = [float(aim.result_at((i + 0.5) / _COUNT, at)) for i in range(_COUNT)]
    low, high = (float(aim.result_at(share, at)) for share in (0.05, 0.95))
    end = nice_limit(1.05 * max(results[-2], aim.limit, high))

    def place(value):
        return _EDGE + (_WIDE - 2.0 * _EDGE) * min(value, end) / end

    over = sum(result > aim.limit * (1.0 + 1e-9) for result in results)
    parts, stacks = [], {}
    for result in results:
        column = round(place(result) / (2.0 * _DOT + 2.0))
        height = stacks[column] = stacks.get(column, -1) + 1
        x, y = column * (2.0 * _DOT + 2.0), _BASE - _DOT - 4.0 - height * (2.0 * _DOT + 2.0)
        if result > aim.limit * (1.0 + 1e-9):
            parts.append(
                circle(x, y, _DOT - 2.0, fill=FLOW.css_fill, stroke=FLOW.css, stroke_width=3)
            )
            parts.append(
                path(f"M{x - 6:.1f} {y - 6:.1f}l12 12m0 -12l-12 12", stroke=INK, stroke_width=2)
            )
        else:
            parts.append(circle(x, y, _DOT, fill=GOOD.css))
    axis = [line(_EDGE, _BASE, _WIDE - _EDGE, _BASE, stroke=QUIET, stroke_width=1.5)]
    for i in range(5):
        x = place(end * i / 4.0)
        axis.append(line(x, _BASE, x, _BASE + 6, stroke=QUIET))
        axis.append(text(x, _BASE + 24, show(end * i / 4.0), size=15, anchor="middle"))
    band = rect(place(low), _BASE + 32, place(high) - place(low), 6, fill=VOLUME.css)
    names = _named(place(at), f"aim {show(at)}", place(aim.limit), f"limit {show(aim.limit)}")
    unit = f"{label(aim.unit)} {aim.at}".strip()
    foot = text(_EDGE, _BASE + 58, f"9 in 10 between {show(low)} and {show(high)} {unit}", size=15)
    title = (
        f"Twenty houses that aim for {aim.shown(at)}: {_COUNT - over} within the limit of "
        f"{aim.shown(aim.limit)}, {over} over it."
    )
    said = text(_WIDE - _EDGE, _BASE + 58, f"{_COUNT - over} inside, {over} over", size=15,
                anchor="end", font_weight="bold")  # fmt: skip
    return drawing(_WIDE, _BASE + 68, title, *axis, band, *parts, names, foot, said)


def _named(aim_x, aim_words, limit_x, limit_words):
    """Return the two upright lines with their names, apart from each other."""
    left = aim_x <= limit_x
    return (
        line(limit_x, 26, limit_x, _BASE, stroke=INK, stroke_width=3)
        + line(aim_x, 26, aim_x, _BASE, stroke=VOLUME.css, stroke_width=3, stroke_dasharray="7 4")
        + text(limit_x + (5 if left else -5), 20, limit_words, anchor="start" if left else "end",
               font_weight="bold")
        + text(aim_x - (5 if left else -5), 20, aim_words, anchor="end" if left else "start",
               font_weight="bold", fill=VOLUME.css)
    )  # fmt: skip


def fit_tables(fit, units="metric"):
    """Return what both ends of the likely range ask of the ventilation, as HTML.

    Parameters
    ----------
    fit : VentilationFit
        Both ends.
    units : str
        'metric' or 'us'.
    """
    flow = "cfm" if units == "us" else "L/s"
    house_flow = display_unit("m3/s", units)
    rows = [
        ("Result", *(fit.aim.shown(end.value) for end in fit.ends)),
        (
            "Leaks at 50 Pa",
            *(show(from_si(e.leakage_flow, house_flow), house_flow) for e in fit.ends),
        ),
    ]
    if fit.ends[0].suction is not None:
        rows.append((
            f"{show(from_si(fit.extract_flow, flow), flow)} of extract pulls, all vents closed",
            *(_pull(end.suction) for end in fit.ends),
        ))  # fmt: skip
        rows.append(("Extract that stays under 5 Pa (idle chimney, second-hand)",
                     *(show(from_si(end.suction.flow_below(5.0), flow), flow) for end in fit.ends)))  # fmt: skip
    for supplies in zip(*(end.supplies for end in fit.ends)):
        rows.append((f"Leaks supply, {supplies[0].name} ({supplies[0].status})",
                     *(show(from_si(one.flow, flow), flow) for one in supplies)))  # fmt: skip
    for verdicts in zip(*(end.triggers for end in fit.ends)):
        limit = verdicts[0].limit
        sign = "below" if limit.sign == "<" else "at or below"
        rows.append((f"{limit.name}, {limit.applies_to}: trigger {sign} {limit.shown()} ({limit.status})",
                     *(_crossed(one) for one in verdicts)))  # fmt: skip
    heads = ("What", "Tight end: 1 in 20 is tighter", "Leaky end: 1 in 20 is leakier")
    ends = html_table("The likely range, both ends", heads, rows)
    needs = [
        (f"{need.jurisdiction}, {need.document}", show(from_si(need.flow, flow), flow),
         f"{need.rule} ({need.status})") for need in fit.needs
    ]  # fmt: skip
    asked = html_table("Fresh air asked for, whole dwelling", ("Rule", "Flow", "How"), needs, (1,))
    brief = f'<div class="airlab-brief">{asked}</div>' if needs else ""
    return f'<div class="airlab-half">{ends}</div>{brief}{notes_list(fit.notes)}'


def _crossed(verdict):
    if verdict.meets is None:
        return verdict.missing
    return "▼ crossed" if verdict.meets else "not crossed"


def _pull(suction):
    cautions = "".join(f"; ⚠ {one.text}" for one in suction.cautions)
    outside = "; below what a power law knows" if suction.suction < 4.0 else ""
    return f"{show(suction.suction, 'Pa', 2)}{cautions}{outside}"


def context_list(context):
    """Return published findings about results against targets, as HTML."""
    return notes_list([
        f"{one.place}{f', {one.houses}' if one.houses else ''}: {one.finding} ({one.status})"
        for one in context
    ])  # fmt: skip


def contract_card(requirement, chance):
    """Return the parts of a requirement as a table, and its note, as HTML.

    Parameters
    ----------
    requirement : ContractLine
        The requirement.
    chance : float
        Chance to meet it for whoever aims at the value itself. [-]
    """
    aside = (
        "The value in the contract is the limit. Whoever aims at it meets it in "
        f"{show_percent(chance)} of cases; the aim stands on the drawings."
    )
    table = html_table("The parts of the sentence", ("Part", "Words"), requirement.parts)
    return f"{table}{notes_list([requirement.note, aside])}"
