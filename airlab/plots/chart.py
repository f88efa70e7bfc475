"""How does a chart follow a slider: laid out once, background kept, only the curves redrawn.

A chart is one matplotlib figure on its own canvas. Axes, ticks and words are painted once into a
kept background; after that a new record moves a few artists on top of it, and the pixels are
packed as an image. A background is painted when the chart asks for a scale it has not kept.
"""

import base64
import struct
import zlib
from html import escape

import numpy as np
from matplotlib import rc_context
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from airlab.plots.style import RC

__all__ = ["Chart", "encode_png"]

_KEPT = 8  # backgrounds, 2 MB each


class Chart:
    """Base of every chart; a subclass says what is on it, how it is scaled, where things go.

    A subclass sets `size` and writes three methods:

    - ``build(figure)`` makes the axes and returns the artists that will move;
    - ``scale(record, **view)`` returns a tuple: whatever the fixed part depends on (axis ends,
      unit of the time axis). Round it (`style.nice_limit`) so that it changes seldom;
    - ``rescale(*scale)`` sets limits, ticks and words from that tuple;
    - ``place(record, **view)`` moves the artists.

    One point is one CSS pixel at the drawn width, so `style.RC` sizes are sizes on the page.
    """

    size = (560, 420)  # CSS pixels
    sharpness = 1.5  # device pixels per CSS pixel

    def __init__(self):
        width, height = self.size
        with rc_context(RC):
            self.figure = Figure(
                figsize=(width / 72.0, height / 72.0), dpi=72.0 * self.sharpness, layout="none"
            )
            self.canvas = FigureCanvasAgg(self.figure)
            self._moving = tuple(self.build(self.figure))
        for axes in self.figure.axes:  # a name that is not there needs no place looked for
            for axis in (axes.xaxis, axes.yaxis):
                if not axis.label.get_text():
                    axis.set_label_coords(0.0, 0.0)
        for artist in self._moving:
            artist.set_animated(True)
        self._scale = None
        self._backgrounds = {}  # by scale, the last few: a slider that goes back finds its own

    def build(self, figure):
        """Make the axes and return the artists that move."""
        raise NotImplementedError

    def scale(self, record, **view):
        """Return a tuple of everything the fixed part depends on."""
        raise NotImplementedError

    def rescale(self, *scale):
        """Set limits, ticks and words."""
        raise NotImplementedError

    def place(self, record, **view):
        """Move the artists to the record."""
        raise NotImplementedError

    def draw(self, record, **view):
        """Show the record: move the artists, repaint the background only if the scale changed."""
        scale = self.scale(record, **view)
        if scale != self._scale:
            self._scale = None
            with rc_context(RC):
                self.rescale(*scale)
                if scale not in self._backgrounds:
                    self._paint(scale)
            self._scale = scale
        self.place(record, **view)
        self.canvas.restore_region(self._backgrounds[scale])
        for artist in self._moving:
            if artist.get_visible():
                self.figure.draw_artist(artist)
        return self

    def _paint(self, scale):
        self.canvas.draw()
        if len(self._backgrounds) >= _KEPT:
            del self._backgrounds[next(iter(self._backgrounds))]
        self._backgrounds[scale] = self.canvas.copy_from_bbox(self.figure.bbox)

    def png(self):
        """Return the picture last drawn as PNG bytes."""
        return encode_png(np.asarray(self.canvas.buffer_rgba()))

    def img(self, alt, width=None):
        """Return the picture last drawn as an `<img>` element with its text alternative.

        Parameters
        ----------
        alt : str
            What the picture says, in words.
        width : int, optional
            Width on the page in CSS pixels; the drawn width if left out.
        """
        drawn, height = self.size
        shown = drawn if width is None else width
        code = base64.b64encode(self.png()).decode()
        return (
            f'<img alt="{escape(alt)}" width="{shown:.0f}" height="{height * shown / drawn:.0f}" '
            f'style="flex:{shown:.0f} 1 {0.75 * shown:.0f}px" decoding="sync" src="data:image/png;base64,{code}">'
        )


def encode_png(pixels):
    """Return an opaque RGBA array as PNG bytes (8 bit RGB, unfiltered rows, fastest deflate).

    Charts are flat colour; leaving the rows unfiltered packs them in half the time.

    Examples
    --------
    >>> encode_png(np.zeros((1, 1, 4), dtype=np.uint8))[:4]
    b'\\x89PNG'
    """
    height, width, _ = pixels.shape
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)
    rows[:, 1:] = pixels[:, :, :3].reshape(height, -1)
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(rows, 1)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )
