"""Files: the job folder, tables in and out.

A job is a folder with one `job.json` and plain tables that any spreadsheet may open and save.
Saves happen in one step, keep the copy before, and never write over a file that someone else
changed meanwhile.
"""

from airlab.files.fan_tests import example_fan_test, read_fan_tests
from airlab.files.job import JOB_TABLES, Job, open_job
from airlab.files.jobs import (
    JobListing,
    current_job,
    demo_job,
    list_jobs,
    start_job,
    switch_job,
)
from airlab.files.keeping import append_events, keep_copy, save_settings, save_table
from airlab.files.places import data_folder, jobs_folder
from airlab.files.practice import practice_job, start_practice
from airlab.files.practice_houses import practice_houses, read_house, save_result
from airlab.files.saving import FileChanged
from airlab.files.tables import TableFile, read_table, save_copy, write_table
from airlab.files.weather_year import open_weather, read_weather, weather_years

__all__ = [
    "JOB_TABLES",
    "FileChanged",
    "Job",
    "JobListing",
    "TableFile",
    "append_events",
    "current_job",
    "data_folder",
    "demo_job",
    "example_fan_test",
    "jobs_folder",
    "keep_copy",
    "list_jobs",
    "open_job",
    "open_weather",
    "practice_houses",
    "practice_job",
    "read_fan_tests",
    "read_house",
    "read_table",
    "read_weather",
    "save_copy",
    "save_result",
    "save_settings",
    "save_table",
    "start_job",
    "start_practice",
    "switch_job",
    "weather_years",
    "write_table",
]
