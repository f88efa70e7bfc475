"""Which colour stands for what, in every drawing and chart of the book?

One colour per meaning, always with a second cue: a dash pattern, a marker, and a word beside it.
The four line colours are those of Okabe and Ito that keep 3:1 contrast on white; pictures stand on
a white card in the light and the dark theme, and survive a black-and-white printer.
"""

from dataclasses import dataclass

__all__ = [
    "CARD", "FAINT", "FLOW", "GOOD", "INK", "PRESSURE", "QUIET", "RC", "TEXT_SIZE", "VOLUME",
    "Look", "nice_limit", "time_unit",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Look:
    """How a meaning looks: word, colour, pale fill, dash pattern, marker."""

    word: str
    colour: str
    fill: str
    dashes: tuple[float, ...] = ()
    marker: str = "o"

    @property
    def css(self):
        """The colour as a style-sheet variable that falls back to itself, for print."""
        return f"var(--airlab-{self.word}, {self.colour})"

    @property
    def css_fill(self):
        """The pale fill as a style-sheet variable that falls back to itself."""
        return f"var(--airlab-{self.word}-fill, {self.fill})"

    def line(self, **more):
        """Return the keywords of a chart line of this meaning."""
        style = (0, self.dashes) if self.dashes else "-"
        return {"color": self.colour, "linestyle": style, "linewidth": 3.0, **more}


VOLUME = Look("volume", "#0072B2", "#d6e8f5", (), "o")  # what is stored
FLOW = Look("flow", "#D55E00", "#fbe3d2", (7.0, 2.0), "^")  # what moves
PRESSURE = Look("pressure", "#000000", "#e6e6e6", (2.0, 1.4), "s")  # what drives
GOOD = Look("good", "#009E73", "#d3efe5", (6.0, 2.0, 1.5, 2.0), "D")  # sealed, within the aim

INK = "#1a1a1a"
QUIET = "#5c5c5c"  # 6.7:1 on white
FAINT = "#d9d9d9"
CARD = "#ffffff"

TEXT_SIZE = 16.0  # CSS pixels at the drawn width; read from the back row at 1366 x 768

# Chart settings; one point is one CSS pixel (see `Chart`).
RC = {
    "font.family": "DejaVu Sans",
    "font.size": TEXT_SIZE,
    "axes.titlesize": TEXT_SIZE,
    "axes.titlelocation": "left",
    "axes.titlepad": 8.0,
    "axes.titley": 1.0,  # where it would stand anyway; looking for the place takes a quarter of a draw
    "axes.labelsize": TEXT_SIZE,
    "axes.linewidth": 1.4,
    "axes.edgecolor": QUIET,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": True,
    "axes.grid.axis": "y",
    "axes.axisbelow": True,
    "grid.color": FAINT,
    "grid.linewidth": 1.0,
    "text.color": INK,
    "axes.labelcolor": INK,
    "xtick.color": QUIET,
    "ytick.color": QUIET,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.labelsize": TEXT_SIZE - 1.0,
    "ytick.labelsize": TEXT_SIZE - 1.0,
    "figure.facecolor": CARD,
    "savefig.facecolor": CARD,
    "path.simplify": True,
}


_FINE = (1.0, 1.2, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
_FEW = (1.0, 1.6, 2.5, 4.0, 6.0, 10.0)


def nice_limit(value, few=False):
    """Return the first round number at or above the value: the end of an axis.

    Round ends change seldom while a slider moves, so the axis stays still and the curve moves; with
    `few` there are half as many, for charts that are dear to paint.

    Examples
    --------
    >>> nice_limit(61.2), nice_limit(11.7), nice_limit(0.0)
    (80.0, 12.0, 1.0)
    >>> nice_limit(61.2, few=True)
    100.0
    """
    if not 0.0 < value < float("inf"):
        return 1.0
    power = 10.0 ** int(f"{value:e}".split("e")[1])
    for step in _FEW if few else _FINE:
        if value <= step * power * (1.0 + 1e-9):
            return float(f"{step * power:.12g}")
    return 10.0 * power


def time_unit(seconds):
    """Return the unit a time axis of that length is read in: 's', 'min' or 'h'.

    Examples
    --------
    >>> time_unit(60.0), time_unit(379.0), time_unit(9000.0)
    ('s', 'min', 'h')
    """
    return "s" if seconds <= 120.0 else "min" if seconds <= 7200.0 else "h"
