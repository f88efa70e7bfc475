"""How is a thing drawn as text: the few shapes every drawing of the book is made of.

A drawing is a string: an SVG element with real text, a name for screen readers, no identifiers
that could clash on a page, and colours from style-sheet variables that fall back for print.
"""

import base64
from html import escape

from airlab.plots.style import CARD, INK, TEXT_SIZE

__all__ = ["arrow", "as_image", "circle", "drawing", "line", "path", "rect", "text"]

_FONT = "var(--airlab-font, 'DejaVu Sans', Verdana, 'Segoe UI', sans-serif)"


def _attributes(given):
    return "".join(
        f' {name.rstrip("_").replace("_", "-")}="{escape(_short(value))}"'
        for name, value in given.items()
        if value is not None
    )


def _short(value):
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else str(value)


def drawing(width, height, title, *parts):
    """Return the whole SVG element: a white card of that size with a name and its parts."""
    name = escape(title)
    body = "".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{name}" '
        f'viewBox="0 0 {_short(width)} {_short(height)}" width="{_short(width)}" '
        f'height="{_short(height)}" style="background:{CARD};flex:{_short(width)} 1 {_short(0.75 * width)}px" '
        f'font-family="{_FONT}" font-size="{_short(TEXT_SIZE)}" fill="{INK}">'
        f"<title>{name}</title>"
        f'<rect width="100%" height="100%" fill="{CARD}"/>{body}</svg>'
    )


def as_image(svg, alt=None):
    """Return a drawing as an `<img>`: the form that survives where drawings are filtered out."""
    start = svg.index('aria-label="') + len('aria-label="')
    name = svg[start : svg.index('"', start)] if alt is None else escape(alt)
    box = svg[svg.index('viewBox="0 0 ') + 13 :].split('"', 1)[0].split()
    code = base64.b64encode(svg.encode()).decode()
    return (
        f'<img alt="{name}" width="{box[0]}" height="{box[1]}" decoding="sync" '
        f'src="data:image/svg+xml;base64,{code}">'
    )


def text(x, y, words, size=TEXT_SIZE, anchor="start", **more):
    """Return a line of text; what people typed is escaped."""
    given = {"x": float(x), "y": float(y), "font_size": float(size), "text_anchor": anchor, **more}
    return f"<text{_attributes(given)}>{escape(str(words))}</text>"


def rect(x, y, width, height, **more):
    """Return a rectangle."""
    given = {"x": float(x), "y": float(y), "width": float(width), "height": float(height), **more}
    return f"<rect{_attributes(given)}/>"


def circle(x, y, radius, **more):
    """Return a circle."""
    return f"<circle{_attributes({'cx': float(x), 'cy': float(y), 'r': float(radius), **more})}/>"


def line(x1, y1, x2, y2, **more):
    """Return a straight line."""
    given = {"x1": float(x1), "y1": float(y1), "x2": float(x2), "y2": float(y2), **more}
    return f"<line{_attributes(given)}/>"


def path(d, **more):
    """Return a path."""
    return f"<path{_attributes({'d': d, **more})}/>"


def arrow(x1, y1, x2, y2, colour, thickness=4.0):
    """Return a line that ends in a solid head; the head is a shape, so no identifier is needed."""
    length = max(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5, 1e-9)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    head = min(3.2 * thickness, length)
    bx, by, half = x2 - head * ux, y2 - head * uy, 0.5 * head
    points = (
        f"M{x2:.1f} {y2:.1f}L{bx - half * uy:.1f} {by + half * ux:.1f}"
        f"L{bx + half * uy:.1f} {by - half * ux:.1f}Z"
    )
    shaft = line(x1, y1, bx, by, stroke=colour, stroke_width=float(thickness))
    return (shaft if length > head else "") + path(points, fill=colour)
