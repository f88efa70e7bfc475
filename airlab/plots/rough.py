"""What does a rough start look like: the assumed house, and all its holes beside a sheet of paper."""

from airlab.plots.sizes import tile_row
from airlab.plots.style import FLOW, INK, QUIET, VOLUME
from airlab.plots.svg import drawing, line, path, rect, text
from airlab.words import display_unit, from_si, show, show_range

__all__ = ["rough_drawing", "rough_tiles"]

_WIDTH, _HEIGHT, _GROUND = 660.0, 290.0, 254.0
_HOUSE_ROOM = (350.0, 215.0)  # px for the longest and the tallest house
_SHEET = {"metric": ("A4 sheet", 0.210, 0.297), "us": ("Letter sheet", 0.2159, 0.2794)}  # ISO 216
_PLAN_RATIO = 1.5  # length over width of the assumed plan


def rough_drawing(record, units="metric"):
    """Return the assumed house beside all its holes as one square, as an SVG string.

    Parameters
    ----------
    record : RoughStart
        The rough start.
    units : str
        'metric' or 'us'.
    """
    house = record.geometry
    long, tall = (_PLAN_RATIO * house.lowest_floor_area) ** 0.5, house.building_height
    scale = min(_HOUSE_ROOM[0] / (long + 2.0), _HOUSE_ROOM[1] / (tall + 0.16 * long), 34.0)
    x, y = 58.0, _GROUND - tall * scale
    right = x + long * scale
    volume, hole = display_unit("m3", units), display_unit("hole", units)
    area = show(from_si(record.hole_area, hole), hole)
    words = show(from_si(house.internal_volume, volume), volume)
    name, short, high = _SHEET[units]
    side = record.hole_area**0.5
    zoom = min(195.0 / max(side, high), 190.0 / (side + short))
    sheet_x = 440.0
    floors = "".join(
        line(x, _GROUND - tall * scale * i / record.storeys, right,
             _GROUND - tall * scale * i / record.storeys, stroke=VOLUME.css, stroke_width=2,
             stroke_dasharray="6 4")
        for i in range(1, record.storeys)
    )  # fmt: skip
    person = 1.75 * scale
    low = _GROUND - 0.5 * tall * scale / record.storeys  # middle of the lowest storey
    return drawing(
        _WIDTH, _HEIGHT,
        f"Rough: a house of {words}. All its holes together may be a square hole of {area}, "
        f"drawn beside a sheet of paper ({name}).",
        line(0, _GROUND, right + 40, _GROUND, stroke=QUIET, stroke_width=3),
        path(f"M{x - 10:.1f} {y:.1f}L{0.5 * (x + right):.1f} {y - 0.16 * long * scale:.1f}"
             f"L{right + 10:.1f} {y:.1f}Z", fill="#fff", stroke=QUIET, stroke_width=2),
        rect(x, y, right - x, tall * scale, fill=VOLUME.css_fill, stroke=VOLUME.css, stroke_width=3),
        floors,
        text(0.5 * (x + right), low - 6, words, size=24, anchor="middle", font_weight="bold"),
        text(0.5 * (x + right), low + 16, "ROUGH, a box", size=16, anchor="middle"),
        _person(30.0, person),
        text(_WIDTH - 8, 24, f"all holes together: {area}", size=18, anchor="end", font_weight="bold"),
        rect(sheet_x, _GROUND - high * zoom, short * zoom, high * zoom, fill="#fff", stroke=QUIET,
             stroke_width=2, stroke_dasharray="6 4"),
        text(sheet_x, _GROUND + 24, name, size=16, fill=QUIET),
        rect(sheet_x + short * zoom + 14, _GROUND - side * zoom, side * zoom, side * zoom,
             fill=FLOW.css_fill, stroke=FLOW.css, stroke_width=4),
        text(sheet_x + short * zoom + 14, _GROUND + 24, "the hole", size=16, fill=INK),
    )  # fmt: skip


def _person(x, tall):
    return path(
        f"M{x - 0.12 * tall:.1f} {_GROUND - 0.8 * tall:.1f}h{0.24 * tall:.1f}"
        f"l{-0.03 * tall:.1f} {0.4 * tall:.1f}l{-0.02 * tall:.1f} {0.4 * tall:.1f}"
        f"h{-0.14 * tall:.1f}l{-0.02 * tall:.1f} {-0.4 * tall:.1f}Z"
        f"M{x - 0.075 * tall:.1f} {_GROUND - 0.91 * tall:.1f}"
        f"a{0.075 * tall:.1f} {0.075 * tall:.1f} 0 1 0 {0.15 * tall:.1f} 0"
        f"a{0.075 * tall:.1f} {0.075 * tall:.1f} 0 1 0 {-0.15 * tall:.1f} 0Z",
        fill=QUIET,
    )


def rough_tiles(record, units="metric"):
    """Return allowance, holes and the flow on the day as tiles, as HTML."""
    flow, hole = display_unit("m3/s", units), display_unit("hole", units)
    low, high = (from_si(q, flow) for q in (record.expected_low, record.expected_high))
    return tile_row((
        (show(from_si(record.allowance, flow), flow), "may leak at 50 Pa in the end"),
        (show(from_si(record.hole_area, hole), hole), "all holes together, as one sharp hole"),
        (show_range(low, high, flow), "the fan may show at 50 Pa on the day"),
    ))  # fmt: skip
