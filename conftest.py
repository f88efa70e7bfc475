"""Settings for the stored notebooks: each is run again with an empty jobs folder of its own."""

import os
from tempfile import TemporaryDirectory

import pytest

_FOLDERS = {}


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    """Name the folder before the kernel of the notebook starts."""
    if item.path.suffix == ".ipynb":
        if item.path not in _FOLDERS:
            _FOLDERS[item.path] = TemporaryDirectory(prefix="airlab-jobs-")
        os.environ["AIRLAB_JOBS"] = _FOLDERS[item.path].name
