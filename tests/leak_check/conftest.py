"""The small invented house as a fixture."""

import pytest
from small_house import make_house

from airlab.leak_check import LeakEvent, Trade


@pytest.fixture
def house():
    """Return the house, to be changed row by row."""
    return make_house()


@pytest.fixture
def event():
    """Return a maker of acts."""
    return lambda leak, did, **more: LeakEvent(leak, did, **more)


@pytest.fixture
def trade():
    """Return a trade that will drill 20 holes of 50 mm, a tenth left open."""
    return Trade("electrician", "", None, 20, 0.05, 0.1, True)
