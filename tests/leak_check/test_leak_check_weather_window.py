"""Hours that suit a reading, hours that suit a camera: two-leak model, stack, the table people bring."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.building.site import Site, WeatherHour, site_from_settings
from airlab.fan_test.steady_wind import offset_error, steady_wind_error
from airlab.leak_check.weather_window import weather_window
from airlab.physics import PowerLawLeak
from airlab.physics.airflow import FlowPath, Hold, Network, Outdoors, Zone
from airlab.physics.airflow_state import solve_airflow
from airlab.words import InputError

START = datetime(2027, 4, 12, 6, 0, tzinfo=UTC)


def hours(*rows):
    return [WeatherHour(START + timedelta(hours=i), t, u) for i, (t, u) in enumerate(rows)]


# Two leaks in a steady wind, worked out independently with a scalar root finder: n 0.6667, 6 m/s at
# the eaves, coefficients 0.25 and -0.5, air of 1.2 kg/m³, share of the leakage in the wind z.
TWO = [
    (0.5, -2.7, -0.293595, -0.293595),
    (0.3, -7.250481, -2.027038, 1.514498),
    (0.7, 1.850481, 1.514498, -2.027038),
]


@pytest.mark.parametrize(("z", "zero", "at_plus", "at_minus"), TWO)
def test_two_leaks(z, zero, at_plus, at_minus):
    pressures = 0.25 * 0.6 * 36.0, -0.5 * 0.6 * 36.0
    for sign, expected in ((1, at_plus), (-1, at_minus)):
        error, found = offset_error(sign * 50.0, pressures, (z, 1 - z), 0.6667)
        assert float(found) == pytest.approx(zero, abs=2e-6)
        assert 100 * float(error) == pytest.approx(expected, abs=2e-5)
        assert float(error) == pytest.approx(float(steady_wind_error(sign * 50.0, 6.0, z, flow_exponent=0.6667)[0]))  # fmt: skip


def test_the_expansion_of_the_error():
    """e = n (P0 - m) / d + n (n - 1) / 2 (z (1 - z)(pw - pl)² + (P0 - m)²) / d²; the first part
    turns with the direction, so the mean of both keeps the second alone."""
    n, z, front, back = 0.6667, 0.3, 5.4, -10.8
    error = [float(offset_error(d, (front, back), (z, 1 - z), n)[0]) for d in (-50.0, 50.0)]
    zero = float(offset_error(50.0, (front, back), (z, 1 - z), n)[1])
    mean = z * front + (1 - z) * back
    second = n * (n - 1) / 2 * (z * (1 - z) * (front - back) ** 2 + (zero - mean) ** 2) / 50.0**2
    # what is left out: n (n-1)(n-2)(n-3)/24 of the mean fourth power over d^4, about 4e-5
    assert np.mean(error) == pytest.approx(second, abs=5e-5)
    assert np.mean(error) == pytest.approx(-0.00256270, abs=1e-7)
    assert (error[1] - error[0]) / 2 == pytest.approx(n * (zero - mean) / 50.0, abs=5e-4)


def test_warm_air_alone():
    """Two equal leaks 5 m apart, 20 and 0 °C: 2.16 Pa at each end, neutral half way up."""
    found = weather_window(hours((0.0, 0.0)), building_height=5.0, inside_temperature=20.0)
    hour = found.hours[0]
    assert hour.stack == pytest.approx(4.3246, abs=0.02)
    assert hour.zero == pytest.approx(-2.1623, abs=0.01)
    assert hour.error < 0.001


@pytest.mark.parametrize("outside", [20.0, 4.0])
def test_against_the_airflow_engine(outside):
    """Four leaks in one zone, the mass balance solved by the engine.

    Without a difference of temperature both must agree; with one the engine also weighs the air
    that comes in by its density, which a fan test corrects for elsewhere.
    """
    site = Site("open land", "open land", "exposed", 6.0)
    found = weather_window(hours((outside, 5.0)), site, 6.0, 20.0).hours[0]
    front, back = site.coefficients
    share = {"wl": (front, 0.0, 0.125), "wh": (front, 6.0, 0.125), "ll": (back, 0.0, 0.375),
             "lh": (back, 6.0, 0.375)}  # fmt: skip
    leaks = [
        FlowPath(k, PowerLawLeak.from_flow(0.3 * s), "house", height=h, pressure_coefficient=c)
        for k, (c, h, s) in share.items()
    ]
    weather = Outdoors(outside, found.wind)
    zero = float(
        solve_airflow(Network([Zone("house", 20.0)], leaks), weather).pressure_difference("house")
    )
    assert found.zero == pytest.approx(zero, abs=0.15 if outside < 20.0 else 1e-6)
    if outside == 20.0:
        held = Network([Zone("house", 20.0)], leaks, holds=[Hold("house", zero - 50.0)])
        flow = float(solve_airflow(held, weather).fan_flow("house"))
        gust = (front, back), (0.25, 0.75)
        error = offset_error(-50.0, [0.5 * 1.204 * found.wind**2 * c for c in gust[0]], gust[1])[0]
        assert -flow / 0.3 - 1.0 == pytest.approx(float(error), abs=2e-4)


# Windows.


def test_calm_hours_are_found_and_the_working_day_is_kept():
    rows = [(8.0, 12.0)] * 3 + [(10.0, 2.0)] * 5 + [(10.0, 12.0)] * 2 + [(10.0, 1.0)] * 8
    found = weather_window(hours(*rows))
    spans = [(w[0].at.hour, w[-1].at.hour) for w in found.windows]
    assert spans == [(16, 18), (9, 13)]  # calmest first; after 19 h nobody works
    assert found.sentence().startswith("Read Mon 12 Apr, 16:00 to 19:00: zero within")
    none = weather_window(hours(*[(10.0, 14.0)] * 6))
    assert none.windows == () and none.sentence().startswith("No 3 h in a row suit a reading.")
    assert "beyond 5 Pa" in none.sentence() or "Wind above 6 m/s" in none.sentence()


def test_camera_and_number_want_opposite_weather():
    cold = weather_window(hours(*[(2.0, 1.0)] * 4), inside_temperature=20.0)
    assert cold.camera_windows and "help the camera and hurt the number" in cold.sentence()
    mild = weather_window(hours(*[(18.0, 1.0)] * 4), inside_temperature=20.0)
    assert not mild.camera_windows and "smoke and hand" in mild.sentence()
    assert abs(mild.hours[0].zero) < abs(cold.hours[0].zero)
    summer = weather_window(hours(*[(34.0, 1.0)] * 4), inside_temperature=20.0)
    assert summer.camera_windows and summer.hours[0].zero > 0.0


def test_a_gap_in_the_table_ends_a_stretch():
    rows = hours(*[(15.0, 1.0)] * 12)
    found = weather_window(rows[:6] + rows[8:])
    assert [len(w) for w in found.windows] == [5, 4]  # 07 to 12, 14 to 18
    assert "Hours are missing" in found.sentence()


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(-20, 40), st.floats(0, 20)), min_size=1, max_size=30),
       st.sampled_from(["exposed", "half height", "full height"]), st.floats(2, 15))  # fmt: skip
def test_more_wind_or_height_never_helps(rows, shielding, height):
    site = Site("open land", "open land", shielding, 5.0)
    found = weather_window(hours(*rows), site, height)
    more = weather_window(hours(*[(t, u + 1.0) for t, u in rows]), site, height)
    for a, b in zip(found.hours, more.hours):
        assert b.wind > a.wind
        assert a.error_both <= a.error + 1e-12
        assert a.number == (a.why == "")
    for stretch in found.windows:
        assert all(hour.number and 7 <= hour.at.hour < 19 for hour in stretch)


def test_shelter_and_terrain():
    rows = hours((10.0, 8.0))
    open_land = weather_window(rows, Site("open land", shielding="exposed"), 5.0, 10.0).hours[0]
    town = weather_window(rows, Site("city", shielding="full height"), 5.0, 10.0).hours[0]
    assert town.wind < open_land.wind and town.zero_reach < open_land.zero_reach
    assert site_from_settings(None) == Site()
    assert site_from_settings({"terrain": "city", "eaves_height_m": 8}).eaves_height == 8


def test_a_year_in_one_go():
    rng = np.random.default_rng(5)
    rows = zip(rng.normal(9, 6, 8760), np.abs(rng.normal(4, 2, 8760)))
    found = weather_window(hours(*[(float(t), float(u)) for t, u in rows]))
    assert len(found.hours) == 8760 and found.windows


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: weather_window([]), "weather table is empty"),
        (lambda: WeatherHour.from_row({"at": START, "temperature_c": 68.0, "wind_m_per_s": 3}),
         "take off 32"),
        (lambda: WeatherHour.from_row({"at": START, "temperature_c": 8.0, "wind_m_per_s": 468.0}),
         "km/h"),
        (lambda: WeatherHour.from_row({"at": START, "temperature_c": 8.0}), "no wind_m_per_s"),
        (lambda: weather_window(hours((5, 5)), building_height=0.0), "Building height"),
        (lambda: site_from_settings({"terrain": "moon"}), "Choose one of"),
        (lambda: site_from_settings({"eaves_height_m": 800}), "Eaves height"),
    ],
)  # fmt: skip
def test_refused(call, says):
    with pytest.raises(InputError, match=says):
        call()
