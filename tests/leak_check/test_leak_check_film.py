"""Force of the fan on film."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from airlab.building import EnvelopeElement
from airlab.leak_check.film import film_loads
from airlab.words import InputError

AREA = EnvelopeElement(
    "ceiling",
    "ceiling",
    "ceiling",
    "Hall",
    20.0,
    "membrane",
    "complete and visible",
    supported=True,
)


def test_fifty_pascal_is_five_kilograms_on_a_square_metre():
    """50 Pa = 50 N/m², over 9.81 m/s² 5.1 kg: by definition of the pascal."""
    found = film_loads([AREA])
    assert (found.loads[0].force, found.loads[0].weight) == (1000.0, pytest.approx(101.9, abs=0.1))
    assert "5.1 kg hung on every m²" in found.sentence()
    # 1.044 lb/ft²: 50 N/m² over 4.448 N to a pound-force and 10.76 ft² to a m² (NIST SP 811, from memory)
    assert "1 lb hung on every ft²" in found.sentence("us")
    assert "off its frame where it is fixed from inside" in found.sentence()
    assert "onto its frame" in film_loads([AREA], "pressurise").sentence()


def test_only_film_in_sight_and_not_battened_stops():
    loose = replace(AREA, area="wall", area_m2=5.0, supported=False)
    hidden = replace(AREA, area="hidden", status="covered")
    board = replace(AREA, area="board", layer="board")
    found = film_loads([loose, AREA, hidden, board])
    assert [one.area for one in found.loads] == ["ceiling", "wall"]
    assert found.loose == ("wall",) and "No fan until they are." in found.sentence()
    assert film_loads([board]).sentence() == "No film is in sight."


@given(st.floats(0.0, 500.0), st.floats(0.1, 500.0))
def test_force_grows_with_both(pressure, size):
    one = film_loads([replace(AREA, area_m2=size)], pressure=pressure).loads[0]
    assert one.force == pytest.approx(pressure * size)


def test_refused():
    with pytest.raises(InputError, match="Choose one of"):
        film_loads([AREA], "sideways")
    with pytest.raises(InputError, match="takes 0 to 500 Pa"):
        film_loads([AREA], pressure=5000.0)
