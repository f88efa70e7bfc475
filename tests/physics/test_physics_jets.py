"""Jets: speed at the gap, and how it fades."""

import numpy as np
import pytest

from airlab.physics import faded_speed, jet_speed
from airlab.words import InputError


def test_speed_at_the_gap():
    # sqrt(2 Δp / 1.2), printed to the digit (derived outside): 1.29, 1.83, 2.58, 4.08, 9.13 m/s.
    speeds = jet_speed(np.array([1.0, 2.0, 4.0, 10.0, 50.0]))
    assert speeds.round(2).tolist() == [1.29, 1.83, 2.58, 4.08, 9.13]


def test_how_a_jet_fades():
    # Textbooks on free jets (from memory): 6.2 d/x round, 2.47 sqrt(h/x) plane.
    assert faded_speed(10.0, 0.01, 0.62, plane=False) == pytest.approx(1.0)
    assert faded_speed(10.0, 0.01, 2.47**2, plane=True) == pytest.approx(1.0)
    # Near the gap nothing has faded; far off a round jet is slower than a plane one.
    assert faded_speed(3.0, 0.01, 0.001) == 3.0
    far = np.array([1.0, 2.0, 5.0])
    assert (faded_speed(3.0, 0.01, far, plane=False) < faded_speed(3.0, 0.01, far)).all()
    for bad in ((3.0, 0.0, 1.0), (3.0, 0.01, 0.0), (3.0, 10.0, 1.0), (-1.0, 0.01, 1.0)):
        with pytest.raises(InputError):
            faded_speed(*bad)
