"""The base of every chart: background kept, artists moved, picture bytes and its words."""

import base64
import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from airlab.plots import Chart, encode_png
from airlab.plots.style import FLOW, GOOD, PRESSURE, QUIET, VOLUME, nice_limit, time_unit


class Ramp(Chart):
    """A chart of one line to a height."""

    size = (200, 120)

    def __init__(self):
        self.backgrounds = 0
        super().__init__()

    def build(self, figure):
        self.axes = figure.add_axes((0.2, 0.2, 0.7, 0.7))
        (self.line,) = self.axes.plot([], [], **FLOW.line())
        return (self.line,)

    def scale(self, record):
        return (nice_limit(record),)

    def rescale(self, top):
        self.backgrounds += 1
        self.axes.set(xlim=(0, 1), ylim=(0, top))

    def place(self, record):
        self.line.set_data([0, 1], [0, record])


def pixels(chart):
    return np.asarray(Image.open(io.BytesIO(chart.png())))


def test_background_is_painted_again_only_for_another_scale():
    chart = Ramp()
    first = pixels(chart.draw(4.1))
    moved = pixels(chart.draw(4.9))
    assert chart.backgrounds == 1
    assert (first != moved).any()
    chart.draw(9.0)
    assert chart.backgrounds == 2
    assert (pixels(chart.draw(4.1)) == first).all(), "nothing is left of the pictures before"


def test_picture_is_sharp_and_says_its_words():
    chart = Ramp().draw(4.0)
    assert pixels(chart).shape == (180, 300, 3)
    tag = chart.img('a "ramp" & <more>', width=100)
    assert 'alt="a &quot;ramp&quot; &amp; &lt;more&gt;"' in tag
    assert 'width="100" height="60"' in tag
    assert 'decoding="sync"' in tag
    assert base64.b64decode(tag.split("base64,")[1][:-2]) == chart.png()


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 30), st.integers(1, 30), st.integers(0, 2**32 - 1))
def test_own_png_is_read_back_by_an_image_library(height, width, seed):
    """Oracle: Pillow, a general-purpose image library."""
    raw = np.random.default_rng(seed).integers(0, 256, (height, width, 4), dtype=np.uint8)
    image = Image.open(io.BytesIO(encode_png(raw)))
    image.verify()
    assert (np.asarray(Image.open(io.BytesIO(encode_png(raw)))) == raw[:, :, :3]).all()


def luminance(colour):
    """Relative luminance, WCAG 2.x formula (from memory)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("look", [VOLUME, FLOW, PRESSURE, GOOD])
def test_line_colours_stand_out_on_the_white_card(look):
    """3:1 for graphics: WCAG 2.2, success criterion 1.4.11 (from memory)."""
    assert 1.05 / (luminance(look.colour) + 0.05) >= 3.0


def test_no_two_meanings_share_a_colour_a_dash_or_a_marker():
    looks = (VOLUME, FLOW, PRESSURE, GOOD)
    for cue in ("word", "colour", "dashes", "marker"):
        assert len({getattr(look, cue) for look in looks}) == len(looks)
    assert 1.05 / (luminance(QUIET) + 0.05) >= 4.5, "small text"


@settings(max_examples=50, deadline=None)
@given(st.floats(1e-9, 1e9))
def test_nice_limit_is_just_above(value):
    assert value * (1 - 1e-9) <= nice_limit(value) <= 1.34 * value


def test_nice_limit_and_unit_of_time_of_odd_values():
    assert [nice_limit(v) for v in (0.0, float("inf"), float("nan"))] == [1.0, 1.0, 1.0]
    assert time_unit(float("inf")) == "h"
