"""What does a class look like? Guesses against results, slips that are alive, hunts, who is where."""

from html import escape
from itertools import zip_longest
from math import log10

from airlab.plots.style import FAINT, FLOW, GOOD, INK, QUIET, VOLUME
from airlab.plots.svg import circle, drawing, line, path, rect, text
from airlab.words import show_duration

__all__ = ["hunts_page", "learners_table", "lesson_card", "predictions_drawing", "rubric_table", "skipped_list", "slips_table"]  # fmt: skip

_WIDE, _LEFT, _AXIS, _DOT = 800.0, 315.0, 370.0, 5.5
_TICKS = (
    (0.1, "÷10"),
    (0.2, "÷5"),
    (0.5, "÷2"),
    (1.0, "right"),
    (2.0, "×2"),
    (5.0, "×5"),
    (10.0, "×10"),
)
_ROWS, _TALL = 7, 55.0
_FIRST, _GUESS = "first answers", "guesses"


def predictions_drawing(board):
    """Return guesses and first answers against what came out, one row a question, as an SVG string.

    Parameters
    ----------
    board : ClassBoard
        The class.
    """
    shown, y, parts = board.predictions[:_ROWS], 34.0, []
    for one in shown:
        stacks = {}
        for ratio in one.ratios:
            column = round(_place(ratio) / (2.0 * _DOT))
            stacks[column] = stacks.get(column, 0) + 1
        most = max(stacks.values())
        rise = min(2.0 * _DOT, _TALL / most)  # many dots overlap
        y += max(46.0, 12.0 + 2.0 * _DOT + rise * (most - 1))
        base, about = y - 6.0, f"{one.kind}: {one.near} of {len(one.ratios)} within a tenth"
        name = one.name if one.kind == _GUESS else f"{one.name} {one.question}"
        parts += [text(4, base - 21, _short(name, 36), 15, font_weight="700")]
        parts += [text(4, base - 3, about, 14, fill=QUIET)]
        parts += [line(_LEFT, base, _LEFT + _AXIS, base, stroke=FAINT, stroke_width=1.5)]
        for column, count in stacks.items():
            x = _LEFT + column * 2.0 * _DOT
            parts += [_dot(one.kind, x, base - _DOT - 1.0 - n * rise) for n in range(count)]
        middle = one.ratios[len(one.ratios) // 2]
        parts += [text(_WIDE - 4, base - 4, _times(middle), 15, "end", font_weight="700")]
    axis = [rect(_LEFT + _place(0.9), 30, _place(1.1) - _place(0.9), y - 28, fill=GOOD.css_fill)]
    for ratio, words in _TICKS:
        x = _LEFT + _place(ratio)
        axis.append(line(x, 30, x, y, stroke=FAINT, stroke_width=1.0))
        axis.append(text(x, 20, words, 14, "middle", font_weight="700" if ratio == 1.0 else "400"))
    axis.append(text(_WIDE - 4, 20, "middle one", 14, "end", fill=QUIET))
    key = [_dot(_FIRST, 12, y + 20), text(24, y + 25, "first answer at an exercise", 14),
           _dot(_GUESS, 222, y + 20), text(234, y + 25, "guess before the run", 14),
           rect(390, y + 13, 14, 14, fill=GOOD.css_fill, stroke=QUIET), text(410, y + 25, "within a tenth", 14)]  # fmt: skip
    more = len(board.predictions) - len(shown)
    key += [text(_WIDE - 4, y + 25, f"and {more} more", 14, "end")] if more else []
    said = " ".join(one.sentence() for one in shown) or "No guess and no number yet."
    return drawing(
        _WIDE, y + 38, f"What the class said, over what came out. {said}", *axis, *parts, *key
    )


def _place(ratio):
    """Return where a ratio stands on the axis, from its left end; what lies beyond stands at the end."""
    return _AXIS * (log10(min(max(ratio, 0.1), 10.0)) + 1.0) / 2.0


def _times(ratio):
    if 0.9 <= ratio <= 1.1:
        return "near"
    return f"×{ratio:.2g}" if ratio > 1.0 else f"÷{1.0 / ratio:.2g}" if ratio > 0.0 else "none"


def _short(words, most):
    return words if len(words) <= most else f"{words[: most - 1].rsplit(' ', 1)[0]} …"


def _dot(kind, x, y):
    if kind == _GUESS:
        return path(f"M{x:.1f} {y - _DOT:.1f}L{x + _DOT:.1f} {y + _DOT - 1:.1f}H{x - _DOT:.1f}Z",
                    fill=FLOW.css, stroke="#fff", stroke_width=1.0)  # fmt: skip
    return circle(x, y, _DOT, fill=VOLUME.css, stroke="#fff", stroke_width=1.0)


def _scroll(name, head, rows, caption, look=""):
    heads = "".join(f'<th scope="col">{words}</th>' for words in head)
    return (
        f'<div class="airlab-scroll" tabindex="0" role="region" aria-label="{escape(name)}">'
        f'<table class="{look}"><caption>{escape(caption)}</caption><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>"
    )


def _bar(count, whole):
    """Return a bar for `count` of `whole`; the number stands beside it."""
    wide = 100.0 * count / whole if whole else 0.0
    return f'<span class="airlab-bar" style="width:{wide:.0f}%"></span>'


def slips_table(board):
    """Return the slips with how many learners reached each hint and in how many it is alive, as HTML."""
    if not board.slips:
        return "<p>No hint of a known slip was reached yet.</p>"
    whole = len(board.learners)
    rows = "".join(
        f'<tr><th scope="row">{escape(one.base)}</th><td>{escape(one.hint)}</td>'
        f'<td class="number">{len(one.learners)}</td><td class="number"><b>{len(one.alive)}</b></td>'
        f'<td style="min-width:120px">{_bar(len(one.alive), whole)}</td>'
        f"<td>{escape(', '.join(one.alive)) or 'none'}</td></tr>"
        for one in board.slips
    )
    head = (
        "exercise",
        "hint that was reached",
        "reached by",
        "alive in",
        f"of {whole} learners",
        "who",
    )
    return _scroll("Slips of the class", head, rows, "Alive: reached, and not right since")


def hunts_page(board):
    """Return every hunt of the class: points of each learner, and what was missed most, as HTML."""
    if not board.hunts:
        return "<p>No day in a practice house yet.</p>"
    return "".join(_hunt(one) for one in board.hunts)


def _hunt(one):
    left, axis, radius, stacks, parts = 20.0, 740.0, 12.0, {}, []
    for row in one.rows:
        column = round(row["points"] * axis / 100.0 / (2.0 * radius + 1.0))
        height = stacks[column] = stacks.get(column, -1) + 1
        parts.append((row, left + column * (2.0 * radius + 1.0), height))
    base = 20.0 + (2.0 * radius + 1.0) * (1 + max(stacks.values()))
    drawn = [line(left, base, left + axis, base, stroke=QUIET, stroke_width=1.5)]
    for points in range(0, 101, 20):
        x = left + axis * points / 100.0
        drawn.append(line(x, base, x, base + 5, stroke=QUIET))
        drawn.append(text(x, base + 21, f"{points}", 14, "middle"))
    for row, x, height in parts:
        y = base - radius - 2.0 - height * (2.0 * radius + 1.0)
        unsafe = bool(row.get("unsafe_steps"))
        ring = (
            {"stroke": FLOW.css, "stroke_width": 3}
            if unsafe
            else {"stroke": VOLUME.css, "stroke_width": 1.5}
        )
        drawn.append(circle(x, y, radius - 1.0, fill="#fff" if unsafe else VOLUME.css_fill, **ring))
        who = f"{row['learner'][:2]}!" if unsafe else row["learner"][:3]
        drawn.append(text(x, y + 4.5, who, 12, "middle", fill=INK, font_weight="700"))
    drawn.append(
        text(
            left,
            base + 42,
            "points of 100, one ring a learner; ! an unsafe step, so at most 40",
            14,
            fill=QUIET,
        )
    )
    strip = drawing(780.0, base + 52.0, one.sentence(), *drawn)
    rows = "".join(
        f'<tr><th scope="row">{escape(site)}</th><td class="number">{count} of {one.told}</td>'
        f'<td style="min-width:160px">{_bar(count, one.told)}</td></tr>'
        for site, count in one.missed
    )
    table = _scroll(f"Missed in {one.house}", ("leak", "missed by", "share"), rows,
                    "What the class missed, most first") if rows else ""  # fmt: skip
    name = f"<p><b>{escape(one.house)}, seed {one.seed}</b></p>"
    return f'<div class="airlab-dots">{name}{strip}</div><div class="airlab-half">{table}</div>'


def learners_table(board):
    """Return who has tried what: right after how many tries, or not yet, and points, as HTML."""
    graded = {(who, task): f"{points}/{whole}" for who, task, points, whole in board.grades}
    tasks = sorted({task for _, task in graded}, key=lambda task: (len(task), task))
    rows = "".join(
        f'<tr><th scope="row">{escape(who)}</th>'
        + "".join(f"<td>{_tried(item.tries.get(who))}</td>" for item in board.items)
        + "".join(f"<td>{graded.get((who, task), '')}</td>" for task in tasks)
        + "</tr>"
        for who in board.learners
    )
    if not rows:
        return "<p>No attempt yet.</p>"
    foot = "".join(
        f"<td>{item.right} of {len(item.tries)}"
        f"{f'<br><small>{show_duration(item.time, 2)}</small>' if item.time else ''}</td>"
        for item in board.items
    )
    rows += (
        f'<tr><th scope="row"><b>right, middle time</b></th>{foot}{"<td></td>" * len(tasks)}</tr>'
    )
    head = (
        "learner",
        *(escape(item.base) for item in board.items),
        *(f"{task} points" for task in tasks),
    )
    return _scroll("Learners and exercises", head, rows,
                   "✓ right at which try; … not yet, after how many tries")  # fmt: skip


def _tried(one):
    if one is None:
        return ""
    count, right = one
    return f"✓ {count}" if right else f"… {count}"


def skipped_list(found):
    """Return the files that were left out, each with its reason, as HTML; empty where there is none."""
    if not found.skipped:
        return ""
    rows = "".join(f"<li><b>{escape(name)}</b>: {escape(why)}</li>" for name, why in found.skipped)
    return f'<p class="airlab-small"><b>Left out:</b></p><ul class="airlab-notes airlab-small">{rows}</ul>'


def rubric_table(criteria, points):
    """Return a rubric with the level that was given marked in each row, as HTML.

    Parameters
    ----------
    criteria : iterable of Criterion
        What is looked at.
    points : tuple of int
        Points given so far, from the first criterion on.
    """
    rows = "".join(
        f'<tr><th scope="row">{escape(one.name)}{" *" if one.must else ""}</th>'
        + "".join(
            f"<td>{f'<b>● {escape(words)}</b>' if level == given else escape(words)}</td>"
            for level, words in enumerate(one.levels)
        )
        + "</tr>"
        for one, given in zip_longest(criteria, points[: len(criteria)])
    )
    return _scroll(
        "Rubric",
        ("criterion", "0", "1", "2"),
        rows,
        "* at 0 the task is not passed, whatever the points",
    )


def lesson_card(plan):
    """Return the minutes of a lesson: a strip of its steps, and what each of them holds, as HTML.

    Parameters
    ----------
    plan : LessonPlan
        The lesson.
    """
    wide, x, clock, strip, rows = 780.0, 0.0, 0, [], []
    for place, step in enumerate(plan.steps):
        long = wide * step.minutes / plan.length
        looks = {"fill": (VOLUME.css_fill, "#fff")[place % 2], "stroke": QUIET, "stroke_width": 1.0}
        strip.append(rect(x, 1, long, 44, **looks))
        strip.append(text(x + long / 2.0, 19, f"{place + 1}", 15, "middle", font_weight="700"))
        strip.append(text(x + long / 2.0, 38, f"{step.minutes}" if long > 20 else "", 14, "middle"))
        x, clock = x + long, clock + step.minutes
        rows.append(
            f'<tr><th scope="row">{place + 1}{" *" if step.optional else ""}</th>'
            f'<td class="number">{clock - step.minutes}–{clock}</td><td>{escape(step.you)}</td>'
            f"<td>{escape(step.they)}</td><td>{escape(step.board)}</td></tr>"
        )
    title = f"{plan.lasts}, {len(plan.steps)} steps: {', '.join(f'{s.minutes} min {s.name}' for s in plan.steps)}."
    table = _scroll("Steps of the lesson", ("step", "minutes", "you", "they", "on the board"), "".join(rows),
                    "* left out first when time runs short")  # fmt: skip
    care = "".join(f"<li>{escape(words)}</li>" for words in plan.care)
    return (
        f'<div class="airlab-dots">{drawing(wide, 48.0, title, *strip)}</div>'
        f'<ul class="airlab-notes airlab-small" aria-label="Care">{care}</ul>'
        f'<div class="airlab-half">{table}</div>'
    )
