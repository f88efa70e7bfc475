"""Which small parts is a drawing of the line made of? Shapes of pen lifts, windows, roof, stair."""

from airlab.plots.style import FLOW, QUIET
from airlab.plots.svg import circle, line, path, rect, text

__all__ = ["BAND", "SHAPES", "ground", "lift_shape", "opening", "roof", "stair"]

BAND = 34.0  # px; body of a wall, outside the line
_SMALL = 13.0
# Why the pen lifts: the shape on drawing and list. Its word is the reason itself.
SHAPES = {"open": "◇", "missing": "□", "no layer": "△", "no element": "▽", "hole": "◎"}


def lift_shape(why, x, y, number="", size=15.0):
    """Return the shape of a pen lift with its number inside, as SVG.

    Parameters
    ----------
    why : str
        One of `LIFTS` of the building floor.
    x, y : float
        Its middle. [px]
    number : int or str
        Number printed in it.
    size : float
        Half its width. [px]
    """
    look = {"fill": FLOW.css_fill, "stroke": FLOW.css, "stroke_width": 3}
    s = size
    if why == "open":
        shape = path(f"M{x:.1f} {y - 1.25 * s:.1f}l{1.25 * s:.1f} {1.25 * s:.1f}l{-1.25 * s:.1f} {1.25 * s:.1f}"
                     f"l{-1.25 * s:.1f} {-1.25 * s:.1f}Z", **look)  # fmt: skip
    elif why in ("no layer", "no element"):
        up = -1.0 if why == "no layer" else 1.0
        shape = path(f"M{x:.1f} {y + 1.4 * up * s:.1f}l{1.45 * s:.1f} {-2.3 * up * s:.1f}h{-2.9 * s:.1f}Z", **look)  # fmt: skip
    elif why == "missing":
        shape = rect(x - s, y - s, 2 * s, 2 * s, stroke_dasharray="5 3", **look)
    else:
        shape = circle(x, y, s, **look) + circle(x, y, s - 4.5, fill="none", stroke=FLOW.css,
                                                 stroke_width=1.5)  # fmt: skip
    if number == "":
        return shape
    return shape + text(x, y + 5, number, size=14, anchor="middle", font_weight="bold")


def opening(x, y, out):
    """A window or door in a body: two thin lines across it."""
    dx, dy = out
    half = 13.0
    return "".join(
        line(x + s * half * dy, y + s * half * dx, x + s * half * dy + BAND * dx,
             y + s * half * dx + BAND * dy, stroke=QUIET, stroke_width=1.5)
        for s in (-1, 1)
    ) + line(
        x - half * dy + 0.7 * BAND * dx, y - half * dx + 0.7 * BAND * dy,
        x + half * dy + 0.7 * BAND * dx, y + half * dx + 0.7 * BAND * dy,
        stroke=QUIET, stroke_width=3,
    )  # fmt: skip


def ground(wide, y):
    """The ground left and right of the house."""
    return line(20, y, wide - 20, y, stroke=QUIET, stroke_width=1.5)


def roof(left, right, top, rise):
    """The roof over a flat ceiling, outside the line."""
    eaves, middle = 30.0, 0.5 * (left + right)
    words = "loft, outside the line" if rise > 60.0 else "loft" if rise > 36.0 else ""
    return path(
        f"M{left - eaves:.1f} {top - BAND + 6:.1f}L{middle:.1f} {top - BAND - 0.62 * rise:.1f}"
        f"L{right + eaves:.1f} {top - BAND + 6:.1f}",
        fill="none", stroke=QUIET, stroke_width=1.5, stroke_dasharray="6 4",
    ) + text(middle, top - BAND - 8, words, size=_SMALL, anchor="middle",
             fill=QUIET)  # fmt: skip


def stair(left, right, low, high):
    """A stair, to see where the cut goes."""
    steps = 7
    x, y = left + 0.72 * (right - left), low - 3
    rise, run = (low - high) / steps, -0.34 * (right - left) / steps
    d = f"M{x:.1f} {y:.1f}" + "".join(f"v{-rise:.1f}h{run:.1f}" for _ in range(steps))
    return path(d, fill="none", stroke="#c4c4c4", stroke_width=2)
