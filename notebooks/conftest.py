"""Notebooks are checked with a jobs folder of their own, empty at the start and thrown away."""

import os
import tempfile

_folder = tempfile.TemporaryDirectory(prefix="airlab-jobs-")


def pytest_collectstart(collector):
    """Point the kernels of the notebooks at an empty folder before the first one starts."""
    if collector.__class__.__name__ == "IPyNbFile":
        os.environ["AIRLAB_JOBS"] = tempfile.mkdtemp(dir=_folder.name)
