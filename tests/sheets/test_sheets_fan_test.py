"""The record of a fan test: what it lacks, every digit, safe with what people typed."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from airlab.fan_test import FAN_TEST_POINTS, FAN_TESTS
from airlab.files import TableFile, demo_job, read_fan_tests
from airlab.sheets import print_fan_test
from airlab.sheets.fan_test import fan_test_page
from airlab.words import InputError

NOON = datetime(2027, 6, 22, 12, 0, tzinfo=UTC)
SCRIPT = "<script>alert(1)</script>\"'&"


def with_tests(job, tests, points):
    tables = {
        table.name: TableFile(job.folder, table, tuple(rows))
        for table, rows in ((FAN_TESTS, tests), (FAN_TEST_POINTS, points))
    }
    return replace(job, files={**job.files, **tables})


def test_invented_record_says_so_and_never_certifies():
    page = fan_test_page(demo_job(), moment=NOON)
    assert page.heading.invented
    html = page.html()
    assert "invented example" in html
    assert "a check of the record, not a certificate" in html
    assert dict(page.computed)["flow at 50 Pa"] == "593 m³/h"


def test_what_is_missing_and_what_does_not_follow_is_listed():
    body = fan_test_page(demo_job(), "before the boards", NOON).body
    assert "Missing: flow meter" in body
    assert "Cannot be judged" in body and "Wind at most" in body
    assert "not brought to the density of the air in the fan" in body
    assert "Nothing that is asked for is missing." in fan_test_page(demo_job(), "final", NOON).body


def test_every_point_can_be_followed_by_hand():
    """Read, zero, induced of the first point: -62.3 Pa and zeros of mean -1.03 and -1.37 Pa."""
    body = fan_test_page(demo_job(), "final", NOON).body
    assert "−62.3" in body and "−61.1" in body
    assert body.count("<tr>") > 40


def test_typed_text_is_escaped():
    tests, points = read_fan_tests()
    rows = [{**row, "by": SCRIPT, "note": SCRIPT, "instruments": SCRIPT, "test": SCRIPT}
            for row in tests.rows[:1]]  # fmt: skip
    readings = [
        {**row, "test": SCRIPT} for row in points.rows if row["test"] == "before the boards"
    ]
    html = fan_test_page(with_tests(demo_job(), rows, readings), moment=NOON).html()
    assert "<script" not in html.lower()
    assert "&lt;script&gt;" in html


def test_unknown_test_and_file(tmp_path):
    with pytest.raises(InputError, match="There are: before the boards, final"):
        fan_test_page(demo_job(), "third")
    written = print_fan_test(demo_job(), folder=tmp_path, moment=NOON)
    assert written.files[0].exists()
