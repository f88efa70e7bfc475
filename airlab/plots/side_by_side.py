"""What do the same holes mean in a balloon, a jar, a small and a large house? A column for each."""

import math
from html import escape

from airlab.plots.drain import volume_words
from airlab.plots.style import INK, QUIET, VOLUME
from airlab.plots.svg import circle, drawing, path, rect, text
from airlab.words import from_si, show, show_duration, show_range

__all__ = ["side_by_side_table"]

_WIDE, _TALL, _GROUND = 160, 120, 104.0
_LEAST = 1.2  # px of a drawn hole
_SMALL = 1.0  # m3; below it a thing stands on a table and has no person beside it


def side_by_side_table(record, units="metric"):
    """Return volumes side by side as an HTML table: a drawing and the numbers of each.

    Parameters
    ----------
    record : SideBySide
        What is compared.
    units : str
        'metric' or 'us'.
    """
    area = "in2" if units == "us" else "cm2"
    rows = (
        ("Volume", [volume_words(one.volume, units) for one in record.vessels], ""),
        ("All holes, as one sharp hole",
         [show(from_si(one.hole_area, area), area) for one in record.vessels], "hole"),
        ("Air changes per hour at 50 Pa", _bars(record.vessels), "main"),
        ("One air change at 50 Pa takes",
         [show_duration(one.time_per_change) for one in record.vessels], ""),
        ("Must leave for 50 Pa to vanish",
         [volume_words(one.spare, units) for one in record.vessels], ""),
        ("Half the pressure gone, fan off", [_half(one) for one in record.vessels], ""),
    )  # fmt: skip
    head = "".join(
        f'<th scope="col">{_icon(one, record.vessels, units)}{escape(one.name)}</th>'
        for one in record.vessels
    )
    body = "".join(
        f'<tr class="airlab-{kind}"><th scope="row">{name}</th>'
        + "".join(f"<td>{cell}</td>" for cell in cells)
        + "</tr>"
        for name, cells, kind in rows
    )
    return (
        '<table class="airlab-compare"><caption>Each held at 50 Pa by a fan of its own</caption>'
        f'<thead><tr><th scope="col">{_said(record)}</th>{head}</tr></thead><tbody>{body}</tbody>'
        "</table>"
    )


def _said(record):
    return "the same holes in all" if record.same_hole else "the same air changes in all"


def _half(one):
    low, high = one.half_time_cooling, one.half_time
    if high < 99.0:
        return show_range(low, high, "s")
    return f"{show_duration(round(low))} to {show_duration(round(high))}"


def _bars(vessels):
    """Numbers over bars on one logarithmic scale, so that a jar and a house fit on it."""
    logs = [math.log10(one.air_change_rate) for one in vessels]
    low, high = min(logs) - 0.5, max(logs)
    return [
        f'<b>{show(one.air_change_rate)} /h</b><span class="airlab-bar" '
        f'style="width:{100.0 * (at - low) / (high - low):.0f}%"></span>'
        for one, at in zip(vessels, logs)
    ]


def _icon(one, vessels, units):
    """Drawing of one vessel; those of a kind share a scale, the hole is to it where it can be."""
    mates = [v for v in vessels if (v.volume < _SMALL) == (one.volume < _SMALL)]
    size = one.volume ** (1.0 / 3.0)
    scale = 62.0 / max(v.volume ** (1.0 / 3.0) for v in mates)
    middle, hole = 0.5 * _WIDE, max(0.5 * one.hole_side * scale, _LEAST)
    if one.volume >= _SMALL:
        width, tall = 1.25 * size * scale, 0.65 * size * scale
        shape = (
            path(
                f"M{middle - 0.55 * width:.1f} {_GROUND - tall:.1f}L{middle:.1f} "
                f"{_GROUND - tall - 0.3 * width:.1f}L{middle + 0.55 * width:.1f} "
                f"{_GROUND - tall:.1f}Z",
                fill="#fff", stroke=QUIET, stroke_width=1.5,
            )
            + rect(middle - 0.5 * width, _GROUND - tall, width, tall, fill=VOLUME.css_fill,
                   stroke=VOLUME.css, stroke_width=2.5)
            + rect(middle + 0.62 * width, _GROUND - 1.75 * scale, 0.45 * scale, 1.75 * scale,
                   fill=QUIET)
        )  # fmt: skip
        at = (middle + 0.3 * width, _GROUND - 0.55 * tall)
    elif one.name == "balloon":
        radius = (3.0 * one.volume / (4.0 * math.pi)) ** (1.0 / 3.0) * scale
        shape = circle(middle, _GROUND - radius, radius, fill=VOLUME.css_fill, stroke=VOLUME.css,
                       stroke_width=2.5)  # fmt: skip
        at = (middle, _GROUND - radius)
    else:
        width, tall = 0.9 * size * scale, 1.235 * size * scale
        shape = rect(middle - 0.5 * width, _GROUND - tall, width, tall, rx=5, fill=VOLUME.css_fill,
                     stroke=VOLUME.css, stroke_width=2.5) + rect(
            middle - 0.55 * width, _GROUND - tall - 7, 1.1 * width, 8, rx=2, fill=INK)  # fmt: skip
        at = (middle, _GROUND - 0.5 * tall)
    words = "" if 0.5 * one.hole_side * scale >= _LEAST else text(
        _WIDE - 2, 14, "hole drawn too large", size=12, anchor="end", fill=QUIET, font_weight="normal")  # fmt: skip
    title = f"{one.name} of {volume_words(one.volume, units)} with its hole"
    return drawing(
        _WIDE, _TALL, title, rect(0, _GROUND, _WIDE, 1.5, fill=QUIET), shape,
        circle(*at, hole, fill=INK), words,
    )  # fmt: skip
