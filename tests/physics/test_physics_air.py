"""Air: density, viscosity and vapour pressure against tables and two outside libraries."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.physics import (
    CLASSROOM_AIR,
    Air,
    AirState,
    air_viscosity,
    moist_air_density,
    saturation_pressure,
)
from airlab.words import InputError

# ---- known answers -------------------------------------------------------------------------------

# Vapour pressure over water by the formula, and by the ASHRAE formula as PsychroLib 2.5 carries it.
VAPOUR = [
    (0.0, 612.06, 611.15), (5.0, 873.49, 872.49), (10.0, 1229.08, 1228.00), (15.0, 1706.40, 1705.45),
    (20.0, 2339.25, 2338.80), (25.0, 3168.49, 3169.22), (30.0, 4243.05, 4246.03),
    (40.0, 7369.90, 7383.46),
]  # fmt: skip


@pytest.mark.parametrize(("temperature", "ours", "library"), VAPOUR)
def test_vapour_pressure(temperature, ours, library):
    assert saturation_pressure(temperature) == pytest.approx(ours, rel=1e-5)
    assert saturation_pressure(temperature) == pytest.approx(library, rel=2e-3)


# Density by the formula of the fan-test standards (form from memory), worked out elsewhere.
DENSITY = [
    (20.0, 101325.0, 0.0, 1.204097), (20.0, 101325.0, 0.5, 1.198843), (20.0, 101325.0, 1.0, 1.193589),
    (0.0, 101325.0, 0.5, 1.290786), (-10.0, 101325.0, 0.5, 1.340650), (10.0, 101325.0, 0.5, 1.243764),
    (30.0, 101325.0, 0.5, 1.155162), (20.0, 95000.0, 0.5, 1.123680),
]  # fmt: skip


@pytest.mark.parametrize(("temperature", "pressure", "humidity", "expected"), DENSITY)
def test_density_formula(temperature, pressure, humidity, expected):
    assert moist_air_density(temperature, pressure, humidity) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("humidity", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("temperature", [-10.0, 0.0, 15.0, 20.0, 34.0])
@pytest.mark.parametrize("pressure", [101325.0, 95000.0])
def test_density_against_two_libraries(temperature, pressure, humidity):
    """CoolProp (real gas) and PsychroLib (ideal gas) differ by 0.04 %: 0.1 % is asked of us."""
    coolprop = pytest.importorskip("CoolProp.HumidAirProp")
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    ours = moist_air_density(temperature, pressure, humidity)
    kelvin = temperature + 273.15
    per_dry = coolprop.HAPropsSI("V", "T", kelvin, "P", pressure, "R", humidity)
    ratio = coolprop.HAPropsSI("W", "T", kelvin, "P", pressure, "R", humidity)
    assert ours == pytest.approx((1.0 + ratio) / per_dry, rel=1e-3)
    ratio = psychrolib.GetHumRatioFromRelHum(temperature, humidity, pressure)
    assert ours == pytest.approx(
        psychrolib.GetMoistAirDensity(temperature, ratio, pressure), rel=1e-3
    )


def test_standard_atmosphere():
    """U.S. standard atmosphere 1976 at sea level: 1.2250 kg/m3 and 1.7894e-5 Pa.s at 15 °C."""
    assert moist_air_density(15.0) == pytest.approx(1.22500, rel=1e-4)
    assert air_viscosity(15.0) == pytest.approx(1.7894e-5, rel=1e-3)
    atmosphere = pytest.importorskip("fluids").ATMOSPHERE_1976(0.0)
    assert moist_air_density(15.0) == pytest.approx(atmosphere.rho, rel=1e-4)
    assert air_viscosity(15.0) == pytest.approx(atmosphere.mu, rel=1e-3)


def test_viscosity():
    """Formula of E779 as repeated by Roulet, worked out elsewhere; CoolProp lies 0.3 to 0.5 % up."""
    table = {-10: 1.66615, 0: 1.71608, 10: 1.76515, 20: 1.81341, 30: 1.86087, 40: 1.90757}
    theta = np.array(list(table), dtype=float)
    assert air_viscosity(theta) * 1e5 == pytest.approx(np.array(list(table.values())), rel=1e-5)
    linear = (17.1 + 0.047 * theta) * 1e-6  # same source, good from -10 to 40 °C
    assert air_viscosity(theta) == pytest.approx(linear, rel=6e-3)
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    library = [coolprop.PropsSI("V", "T", t + 273.15, "P", 101325.0, "Air") for t in theta]
    assert air_viscosity(theta) == pytest.approx(np.array(library), rel=7e-3)


def test_twenty_degrees_dry():
    """1.2041 kg/m3, the usual reference of fan tests."""
    assert AirState().density == pytest.approx(1.2041, abs=5e-5)
    assert AirState().viscosity == air_viscosity(20.0)
    assert AirState.classroom() is CLASSROOM_AIR
    assert CLASSROOM_AIR.density == 1.2


# ---- invariants ----------------------------------------------------------------------------------

temperatures = st.floats(-30.0, 50.0)
humidities = st.floats(0.0, 1.0)


@settings(max_examples=50, deadline=None)
@given(temperatures, humidities, humidities)
def test_damp_air_is_lighter(temperature, first, second):
    low, high = sorted((first, second))
    assert moist_air_density(temperature, 101325.0, high) <= moist_air_density(
        temperature, 101325.0, low
    )


@settings(max_examples=50, deadline=None)
@given(temperatures, st.floats(0.1, 10.0))
def test_warm_air_is_lighter_and_stickier(temperature, rise):
    assert moist_air_density(temperature + rise) < moist_air_density(temperature)
    assert air_viscosity(temperature + rise) > air_viscosity(temperature)
    assert saturation_pressure(temperature + rise) > saturation_pressure(temperature)


def test_arrays_and_numbers_agree():
    theta = np.linspace(-20.0, 40.0, 7)
    whole = moist_air_density(theta, 1e5, 0.4)
    assert whole.tolist() == [moist_air_density(t, 1e5, 0.4) for t in theta]
    assert isinstance(moist_air_density(20.0), float)


# ---- refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((293.0,), "293 K is 20 °C"),
        ((float("nan"),), "not a number"),
        ((20.0, 1013.0), "1013 hPa"),
        ((20.0, 101325.0, 50.0), "write 0.5"),
        ((20.0, 101325.0, -0.1), "Relative humidity"),
        (("warm",), "A number is needed"),
    ],
)
def test_refused(arguments, said):
    with pytest.raises(InputError, match=said):
        moist_air_density(*arguments)
    with pytest.raises(InputError):
        AirState(*arguments)


@pytest.mark.parametrize("density", [0.0, -1.2, float("inf"), float("nan"), 1e9])
def test_air_refused(density):
    with pytest.raises(InputError, match="Density"):
        Air(density)
