"""Every page of a US job: no metric unit is left but the few that `us_units` names."""

from dataclasses import replace

import pytest
from sheet_jobs import day_job, demo, rough
from us_units import left_over

from airlab.sheets import job_pages
from airlab.sheets.fan_test import fan_test_page


def pages(name):
    if name == "filled":
        job = replace(day_job(), units="us")
        return job, (*job_pages(job, filled=True), fan_test_page(job))
    job = demo(units="us") if name == "blank" else rough(units="us")
    return job, job_pages(job)


@pytest.mark.parametrize("name", ["blank", "filled", "rough"])
def test_no_metric_unit_is_left_on_a_us_page(name):
    job, found = pages(name)
    left = {page.key: left_over([page.section()], job) for page in found if page.key != "owner"}
    assert not any(left.values()), left
