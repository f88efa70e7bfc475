"""Settings for the whole suite: jobs in an empty folder of their own, callbacks of widgets loud."""

import os
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings

os.environ.setdefault("MPLBACKEND", "agg")

# A run of CI draws the same cases every time; elsewhere new ones are drawn at each run.
settings.register_profile("same cases", derandomize=True, deadline=None)
settings.register_profile("new cases", deadline=None)
settings.load_profile("same cases" if os.environ.get("CI") else "new cases")


class _OwnJobs:
    """Each stored notebook is run again with an empty jobs folder of its own."""

    def __init__(self):
        self.folders = {}

    @pytest.hookimpl(tryfirst=True)  # before the kernel of the notebook starts
    def pytest_runtest_setup(self, item):
        if item.path.suffix == ".ipynb":
            if item.path not in self.folders:
                self.folders[item.path] = TemporaryDirectory(prefix="airlab-jobs-")
            os.environ["AIRLAB_JOBS"] = self.folders[item.path].name


def pytest_configure(config):
    """Register it for all: hooks of this file end at this folder, and the notebooks lie beside it."""
    config.pluginmanager.register(_OwnJobs(), "own jobs")


@pytest.fixture(autouse=True)
def _own_jobs_folder(tmp_path_factory, monkeypatch):
    """Point the jobs folder away from the user's own."""
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path_factory.mktemp("jobs")))


@pytest.fixture(autouse=True)
def _loud_callbacks(monkeypatch):
    """Make an exception in a widget callback fail the test instead of a line in a log."""
    widget = pytest.importorskip("ipywidgets.widgets.widget")

    def call(self, *args, **kwargs):
        value = None
        for callback in self.callbacks:
            result = callback(*args, **kwargs)
            value = result if result is not None else value
        return value

    monkeypatch.setattr(widget.CallbackDispatcher, "__call__", call)
