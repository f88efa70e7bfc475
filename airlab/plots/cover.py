"""What does a covering do to a leak? A cut through both layers, with flow and pressure to scale."""

from airlab.plots.style import FLOW, INK, PRESSURE, QUIET, VOLUME
from airlab.plots.svg import drawing, line, path, rect, text
from airlab.words import display_unit, from_si, show

__all__ = ["cover_drawing"]

WIDTH, HEIGHT = 820, 400
_LEAK, _COVER = 290.0, 500.0  # px, where the layers stand
_TOP, _FOOT = 44.0, 208.0
_MIDDLE = 0.5 * (_TOP + _FOOT)
_MOST, _LEAST = 30.0, 1.5  # px of the thickest and thinnest arrow
_ZERO, _FULL = 372.0, 262.0  # px of no and of full pressure
_BAR = 150.0


def cover_drawing(record, units="metric", covering="boards"):
    """Return the cut through a leak and its covering, as an SVG string.

    Parameters
    ----------
    record : Covered
        Flow before and after, pressure on the leak.
    units : str
        'metric' or 'us'.
    covering : str
        What is put in front, in one word or two.
    """
    unit = display_unit("m3/s", units)
    before, after = (show(from_si(q, unit), unit) for q in (record.flow_before, record.flow_after))
    total, on_leak = record.pressure_difference, record.pressure_on_leak
    on_cover = total - on_leak
    full, leak, cover = (show(p, "Pa") for p in (total, on_leak, on_cover))
    thick = max(_MOST * record.flow_after / record.flow_before, _LEAST)
    level = _FULL + (_ZERO - _FULL) * on_leak / total
    title = (
        f"Leak in the airtight layer behind {covering}: {after} instead of {before}. {leak} of {full} "
        f"press on the leak, {cover} on the covering."
    )
    parts = (
        rect(0, _TOP, _LEAK, _FOOT - _TOP, fill=VOLUME.css_fill),
        text(14, _TOP + 24, "inside", size=18, font_weight="bold"),
        text(WIDTH - 14, _TOP + 24, "outside", size=18, anchor="end", font_weight="bold"),
        *_layer(_LEAK, VOLUME.css, "airtight layer", "its leak"),
        *_layer(_COVER, QUIET, covering, "its gaps"),
        _stream(_LEAK - 84, _LEAK + 84, thick),
        _stream(_COVER - 84, _COVER + 100, thick),
        *_bar(after, record.flow_after / record.flow_before, "now", 96.0),
        *_bar(before, 1.0, "leak alone", 152.0),
        line(0, _ZERO, WIDTH, _ZERO, stroke=QUIET, stroke_width=1.5),
        path(
            f"M0 {_FULL}H{_LEAK}V{level:.1f}H{_COVER}V{_ZERO}H{WIDTH}", fill="none",
            stroke=PRESSURE.css, stroke_width=4, stroke_linejoin="round",
        ),
        text(14, _FULL - 10, f"pressure {full}", size=17, font_weight="bold"),
        text(0.5 * (_LEAK + _COVER), level - 8 if level > _FULL + 20 else level + 22,
             f"between: {cover}", size=17, anchor="middle", font_weight="bold"),
        text(WIDTH - 14, _ZERO - 10, "0 Pa", size=17, anchor="end", font_weight="bold"),
        text(_LEAK - 10, max(0.5 * (_FULL + level) + 6, _FULL + 24), f"{leak} on the leak", size=17,
             anchor="end"),
        text(_COVER + 12, min(0.5 * (level + _ZERO) + 6, _ZERO - 8), f"{cover} on the covering", size=17),
    )  # fmt: skip
    return drawing(WIDTH, HEIGHT, title, *parts)


def _stream(x, end, thick):
    """What flows through a gap, as thick as the flow is large, with a head that still fits."""
    head = 0.5 * thick + 9.0
    half = 0.5 * thick
    return path(
        f"M{x} {_MIDDLE - half:.1f}H{end - head:.1f}V{_MIDDLE - head:.1f}L{end} {_MIDDLE}"
        f"L{end - head:.1f} {_MIDDLE + head:.1f}V{_MIDDLE + half:.1f}H{x}Z",
        fill=FLOW.css,
    )


def _layer(x, colour, name, gap):
    """A layer in two pieces with a gap between, its name over it."""
    half = 0.5 * _MOST + 6.0
    return (
        rect(x - 7, _TOP, 14, _MIDDLE - half - _TOP, fill=colour),
        rect(x - 7, _MIDDLE + half, 14, _FOOT - _MIDDLE - half, fill=colour),
        text(x, _TOP - 12, name, size=17, anchor="middle", font_weight="bold"),
        text(x, _FOOT + 20, gap, size=15, anchor="middle", fill=QUIET),
    )


def _bar(words, share, name, y):
    x = WIDTH - _BAR - 14
    return (
        rect(x, y, _BAR, 18, fill="#fff", stroke=QUIET, stroke_width=1.2),
        rect(x, y, max(_BAR * share, 1.0), 18, fill=FLOW.css),
        text(x, y + 36, f"{name}: {words}", size=16, font_weight="bold", fill=INK),
    )
