"""The budget sheet: the same lines in both unit systems."""

import re
from dataclasses import replace
from html import unescape

import pytest
from sheet_jobs import demo

from airlab.sheets import job_pages

FOOT, CFM = 0.3048, 1.69901  # m; m³/h, 0.3048³ × 60


def lines(units):
    page = next(one for one in job_pages(replace(demo(), units=units)) if one.key == "budget")
    rows = re.findall(r"<tr>(.*?)</tr>", str(page.body), re.DOTALL)
    cells = [[unescape(re.sub("<[^>]+>", "", c)).strip() for c in re.findall("<td.*?</td>", row, re.DOTALL)] for row in rows]  # fmt: skip
    return {one[0]: one[1:] for one in cells if one}, unescape(str(page.body))


def test_metres_become_feet_and_what_one_of_them_leaks_goes_along():
    """A foot is 0.3048 m, a cfm 0.3048³ × 60 m³/h (international foot, 1959)."""
    (metric, _), (us, text) = lines("metric"), lines("us")
    much, one, whole = metric["sill joint"][:3]
    there, each, sum_of_it = us["sill joint"][:3]
    assert much == "32.8 m" and there == f"{32.8 / FOOT:.3g} ft"
    for ours, theirs, factor in ((one, each, FOOT / CFM), (whole, sum_of_it, 1.0 / CFM)):
        found = [float(q) for q in theirs.split(" / ")]
        assert found == pytest.approx([float(q) * factor for q in ours.split(" / ")], rel=0.06)
    assert us["loft hatch"][0] == "1 piece"
    assert "cfm/ft²" in text and "m³" not in text
