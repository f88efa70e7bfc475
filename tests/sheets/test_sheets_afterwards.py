"""Pages after a reading: open rows, and what to do after a miss."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from html import unescape
from math import log, pi, sqrt
from statistics import NormalDist

import pytest
from sheet_jobs import another, answered, complete, day_job, reading

from airlab.files.settings import freeze
from airlab.leak_check import Log, Remedy, open_rows
from airlab.sheets import job_pages
from airlab.sheets.facts import facts_of
from airlab.sheets.lessons_learnt import lessons_of
from airlab.words import m3_per_h, show_percent

NOON = datetime(2027, 4, 12, 12, 0, tzinfo=UTC)
SCRIPT = "<script>alert(1)</script>"


def pages(job, filled=True):
    return {one.key: one for one in job_pages(job, filled, NOON)}


def words(one):
    return re.sub(r"\s+", " ", unescape(re.sub("<[^>]+>", " ", str(one.body))))


def missed(flow=1000.0, **changes):
    """A finished house whose final reading is too high."""
    return complete(
        day_job(), trades=(), **({"readings": (reading(flow, stage="final"),)} | changes)
    )


def test_open_rows_say_what_the_decision_says():
    job = day_job()
    page, found = pages(job)["open_rows"], open_rows(job)
    assert dict(page.computed)["as it stands"] == found.verdict
    assert dict(page.computed)["open rows"] == str(len(found.rows))
    for row in found.rows:
        assert f"{row.kind} {row.name} {row.settled}" in words(page)


def test_a_row_settled_is_no_longer_on_the_page():
    job = day_job()
    settled = replace(
        job, envelope=tuple(replace(a, status="complete and visible") for a in job.envelope)
    )
    assert "area ceiling bathroom" in words(pages(job)["open_rows"])
    assert "area ceiling bathroom" not in words(pages(settled)["open_rows"])


def test_gap_and_hole_of_a_hand_sum():
    """Hole from Q = Cd A sqrt(2 p / rho) with Cd = pi/(pi+2) and 1.2 kg/m³ at 50 Pa."""
    page = pages(missed())["miss"]
    figures = dict(page.computed)
    gap = float(figures["too much at 50 Pa"].split()[0])
    flow = float(figures["leakage flow at 50 Pa"].split()[0])
    assert gap == pytest.approx(flow - float(figures["allowed at 50 Pa"].split()[0]), abs=1.0)
    area = gap / 3600.0 / (pi / (pi + 2.0) * sqrt(100.0 / 1.2)) * 1e4
    assert float(figures["as one sharp hole"].split()[0]) == pytest.approx(area, rel=0.01)
    assert "No gain and no cost is entered" in words(page)


def test_one_remedy_closes_the_gap_with_the_chance_of_a_lognormal_gain():
    """One remedy from 60 to 160 m³/h (10 and 90 %), retest with 3 % of the limit: by a sum of its own.

    Normal distribution of Python's statistics module; 4000 drawn cases leave about 0.6 % of chance.
    """
    fix = Remedy("loft hatch", m3_per_h(60), m3_per_h(160), 80.0, "landing")
    figures = dict((page := pages(missed(960.0, remedies=(fix,)))["miss"]).computed)
    gap, limit = (
        float(figures[key].split()[0]) for key in ("too much at 50 Pa", "allowed at 50 Pa")
    )
    gain = NormalDist(0.5 * log(60 * 160), log(160 / 60) / (2 * NormalDist().inv_cdf(0.9)))
    need = NormalDist(gap, 0.03 * limit)
    chances = [
        1.0 - gain.cdf(log(x)) if (x := need.inv_cdf((k + 0.5) / 2000)) > 0.0 else 1.0
        for k in range(2000)
    ]
    shown = float(figures["everything within reach closes it with"].split()[0])
    assert shown == pytest.approx(100.0 * sum(chances) / len(chances), abs=2.0)
    assert "loft hatch" in words(page) and "landing" in words(page)


def test_cheapest_of_two_sure_remedies_is_in_the_set():
    cheap, dear = (
        Remedy(name, m3_per_h(400), m3_per_h(500), cost)
        for name, cost in (("patch", 50.0), ("new floor", 5000.0))
    )
    job = missed(
        1000.0, remedies=(dear, cheap), prices=freeze({"retest": 300.0, "currency": "crowns"})
    )
    page = pages(job)["miss"]
    assert "Cheapest set within reach: patch, 350 crowns" in words(page)


def test_no_miss_no_fan_or_a_blank_pack_means_no_such_page():
    assert "miss" not in pages(missed(500.0))
    assert "miss" not in pages(missed(), filled=False)
    stopped = pages(answered(missed(), combustion="don't know"))
    assert "miss" not in stopped and "open_rows" not in stopped
    assert "open_rows" not in pages(missed(readings=()))


def test_two_jobs_give_two_pages_and_typed_text_is_escaped():
    fix = Remedy(SCRIPT, m3_per_h(60), m3_per_h(160), 80.0, SCRIPT)
    one = pages(missed(2000.0, remedies=(fix,)))["miss"]
    other = pages(replace(another(), readings=(reading(2000.0, stage="final"),), remedies=(fix,)))[
        "miss"
    ]
    assert one.computed != other.computed and one.body != other.body
    assert "<script" not in str(one.body) and str(one.body).count("&lt;script&gt;") >= 2


# lessons ----------------------------------------------------------------------------------


def test_the_lessons_sheet_holds_foreseen_against_found_and_differs_between_jobs():
    job = day_job()
    found = lessons_of(facts_of(job, True, NOON))
    page = pages(job)["lessons"]
    text = words(page)
    for one in found.lines:
        assert one.name in text
    assert f"{show_percent(found.lines[0].foreseen)} none" in text
    assert dict(page.computed)["leaks no line stands for"] == str(len(found.nowhere))
    more = replace(job, leaks=Log(job.leaks).found(3, place="sill <b>", room="Hall").events)
    other = pages(more)["lessons"]
    assert other.computed != page.computed or words(other) != text
    assert "no. 3" in words(other)


def test_no_lessons_without_leaks_or_budget_or_on_the_blank_pack():
    job = day_job()
    assert "lessons" not in pages(replace(job, leaks=()))
    assert "lessons" not in pages(replace(job, budget=()))
    assert "lessons" not in pages(job, filled=False)
    assert "lessons" not in pages(replace(job, junctions=())), "its budget cannot be used"
