"""Drawings as text: well-formed, named, escaped, no clashing identifiers."""

import base64
import re
from xml.etree import ElementTree

from airlab.plots import svg

NASTY = "<b onload='x()'>\"Müller\" & Söhne</b>"


def test_a_drawing_is_well_formed_named_and_escaped():
    made = svg.drawing(
        300, 200, NASTY, svg.text(1, 2, NASTY), svg.arrow(0, 0, 50, 0, "red"), svg.rect(0, 0, 9, 9),
        svg.circle(1, 1, 1), svg.line(0, 0, 1, 1), svg.path("M0 0L1 1"),
    )  # fmt: skip
    root = ElementTree.fromstring(made)
    assert root.get("role") == "img"
    assert root.get("aria-label") == NASTY
    assert root[0].tag.endswith("title")
    assert root[0].text == NASTY
    assert root.find("{*}text").text == NASTY
    assert "<b" not in made
    assert " id=" not in made, "nothing on a page can clash"


def test_an_image_of_a_drawing_keeps_name_and_size():
    made = svg.drawing(300, 200, NASTY, svg.text(1, 2, "word"))
    tag = svg.as_image(made)
    assert 'width="300" height="200"' in tag
    assert ElementTree.fromstring(tag.replace(">", "/>")).get("alt") == NASTY
    assert base64.b64decode(re.search('base64,([^"]+)', tag)[1]).decode() == made


def test_an_arrow_ends_at_its_point_and_a_short_one_is_all_head():
    assert "M40 0" in svg.arrow(0, 0, 40, 0, "red").replace(".0", "")
    assert "<line" not in svg.arrow(0, 0, 3, 0, "red")
    assert "NaN" not in svg.arrow(5, 5, 5, 5, "red")
