"""Air flow through zones: exact cases, limits, balance on random houses, refused input."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, root

from airlab.physics import airflow_solve
from airlab.physics.airflow import (
    OUTSIDE,
    Fan,
    FlowPath,
    Hold,
    Network,
    Outdoors,
    Zone,
    door,
    stack_pressure,
)
from airlab.physics.airflow_solve import balance_one_zone, balance_zones, power_flow
from airlab.physics.airflow_state import solve_airflow
from airlab.physics.combined import Parallel, Series
from airlab.physics.cracks import Crack
from airlab.physics.fans import FanCurve, FixedFlow
from airlab.physics.openings import PowerLawLeak, RoundHole
from airlab.physics.wind import (
    Face,
    averaged_pressure_coefficient,
    wall_pressure_coefficient,
    wind_pressure,
    wind_speed_at,
)
from airlab.words import InputError, litre_per_s, m3_per_h

# Air of exactly 353/T kg/m3, the rounded gas law of the hand sums below.
ROUNDED = {"pressure": 353.0 * 287.055}


def _mass_leak(name, coefficient, height, side, flow_exponent=0.65):
    """A leak whose mass flow is coefficient times pressure to the n, as in the hand sums.

    The sums use one coefficient both ways; the leak here knows the density of what it passes.
    """
    density = 353.0 / (273.15 if side == "in" else 293.15)
    leak = PowerLawLeak(coefficient / density, flow_exponent)
    return FlowPath(name, leak, "house", OUTSIDE, height)


def _house(*paths, **more):
    return Network([Zone("house", 20.0)], paths, **more)


# Known answers ---------------------------------------------------------------------------------


def test_two_equal_holes_at_0_and_5_m_split_the_stack():
    # Hand sum: Δp = 353 g 2.5 (1/273.15 - 1/293.15) = 2.1623 Pa; flow 10 Δp^0.65 = 16.508.
    house = _house(_mass_leak("low", 10.0, 0.0, "in"), _mass_leak("high", 10.0, 5.0, "out"))
    state = solve_airflow(house, Outdoors(0.0, **ROUNDED))
    assert state.path_pressure == pytest.approx([-2.1623, 2.1623], abs=5e-5)
    assert state.path_mass_flow == pytest.approx([-16.508, 16.508], abs=5e-4)
    assert state.pressure_difference("house", 2.5) == pytest.approx(0.0, abs=1e-9)


def test_a_larger_hole_on_top_lifts_the_neutral_level():
    # Hand sum: Δp low / high = 2^(1/0.65) = 2.9048.
    house = _house(_mass_leak("low", 10.0, 0.0, "in"), _mass_leak("high", 20.0, 5.0, "out"))
    state = solve_airflow(house, Outdoors(0.0, **ROUNDED))
    assert state.path_pressure == pytest.approx([-3.2172, 1.1075], abs=5e-5)
    assert -state.path_pressure[0] / state.path_pressure[1] == pytest.approx(2 ** (1 / 0.65))
    assert state.path_mass_flow == pytest.approx([-21.373, 21.373], abs=5e-4)


def test_wind_on_two_equal_holes_gives_the_mean_coefficient_inside():
    # Hand sum: internal Cp (0.7 - 0.2)/2 = 0.25; 0.25 rho 4^2/2 = 2.4083 Pa; Δp = ±4.335 Pa.
    hole = RoundHole(0.1)
    house = _house(
        FlowPath("windward", hole, "house", pressure_coefficient=0.7),
        FlowPath("leeward", hole, "house", pressure_coefficient=-0.2),
    )
    state = solve_airflow(house, Outdoors(20.0, wind_speed=4.0, **ROUNDED))
    assert state.zone_pressure[0] == pytest.approx(2.4083, abs=5e-5)
    assert state.path_pressure == pytest.approx([-4.335, 4.335], abs=5e-4)


@pytest.mark.parametrize(("litres", "pressure"), [(20, 9.5), (40, 27.6), (60, 51.4), (100, 113.0)])
def test_an_extract_fan_alone(litres, pressure):
    # Hand sum: Δp = 50 (Q/Q50)^(1/n); n50 0.6 /h, 353.5 m3, n 0.65. Printed to three digits.
    need = m3_per_h(0.6 * 353.5)
    house = _house(
        FlowPath("leak", PowerLawLeak.from_flow(need), "house"),
        fans=[Fan("hood", litre_per_s(litres), source="house")],
    )
    state = solve_airflow(house, Outdoors(20.0))
    assert -state.zone_pressure[0] == pytest.approx(pressure, rel=5e-3)
    exact = 50.0 * (litre_per_s(litres) / need) ** (1 / 0.65)
    assert -state.zone_pressure[0] == pytest.approx(exact, rel=1e-10)


def test_a_chain_of_rooms_is_the_series_rule():
    # Equal exponents: C = (Σ C_i^(-1/n))^-n, here three openings in a row under the wind.
    coefficients, n = (0.02, 0.05, 0.03), 0.6
    leaks = [PowerLawLeak(c, n) for c in coefficients]
    house = Network(
        [Zone("a"), Zone("b")],
        [
            FlowPath("in", leaks[0], "a", pressure_coefficient=1.0),
            FlowPath("between", leaks[1], "a", "b"),
            FlowPath("out", leaks[2], "b"),
        ],
    )
    state = solve_airflow(house, Outdoors(20.0, wind_speed=4.0))
    drive = float(wind_pressure(4.0, 1.0, state.density[-1]))
    chain = sum(c ** (-1 / n) for c in coefficients) ** -n * drive**n
    assert state.through("out") == pytest.approx(chain, rel=1e-9)
    assert state.through("out") == pytest.approx(Series(tuple(leaks)).flow(drive), rel=1e-9)


def test_internal_coefficient_of_unequal_windows():
    # Square-root openings: Cpi = (A1² Cp1 + A2² Cp2)/(A1² + A2²), closed form of cross ventilation.
    areas, cps = (0.01, 0.03), (0.6, -0.4)
    house = _house(
        *(
            FlowPath(f"w{k}", RoundHole.from_area(a), "house", pressure_coefficient=cp)
            for k, (a, cp) in enumerate(zip(areas, cps))
        )
    )
    state = solve_airflow(house, Outdoors(20.0, wind_speed=8.0))
    expected = (areas[0] ** 2 * cps[0] + areas[1] ** 2 * cps[1]) / sum(a**2 for a in areas)
    assert state.zone_pressure[0] / state.gust == pytest.approx(expected, rel=1e-9)


def test_stack_gradient_of_the_handbook_example():
    # ASHRAE HVAC Applications 2011 ch. 53 eq. 17, second-hand: 10 and 23 °C give 0.54 Pa per metre.
    assert stack_pressure(1.0, 23.0, 10.0) == pytest.approx(0.54, abs=0.005)


@pytest.mark.parametrize(
    ("angle", "cp"),
    [(0, 0.603), (30, 0.469), (60, 0.119), (90, -0.443), (120, -0.681), (150, -0.390), (180, -0.364)],
)  # fmt: skip
def test_wall_coefficients_of_swami_and_chandra(angle, cp):
    # M. V. Swami and S. Chandra, low-rise correlation, formula from memory; Cp(0) 0.6, square plan.
    assert wall_pressure_coefficient(angle) == pytest.approx(cp, abs=1e-3)
    assert wall_pressure_coefficient(-angle) == wall_pressure_coefficient(360 - angle)


@pytest.mark.parametrize(("speed", "pressure"), [(2.1, 2.65), (4, 9.6), (5, 15), (10, 60)])
def test_wind_pressure_for_round_speeds(speed, pressure):
    # Hand sum, rho 1.2: rho U² / 2.
    assert wind_pressure(speed, 1.0) == pytest.approx(pressure, abs=0.005)


def test_fifty_pascal_hold_is_tight():
    leak = Parallel((PowerLawLeak.from_flow(0.2), Crack(2.0, 0.001, 0.02), RoundHole(0.02)))
    house = _house(FlowPath("leak", leak, "house", height=3.0), holds=[Hold("house", 50.0, 1.5)])
    state = solve_airflow(house, Outdoors(-5.0))
    assert state.pressure_difference("house", 1.5) == pytest.approx(50.0, rel=1e-14)
    assert state.path_pressure[0] == pytest.approx(50.0 - stack_pressure(1.5, 20.0, -5.0) * -1)
    # Mass in by the fan equals mass out by the leak: the fan takes in colder, denser air.
    assert state.fan_flow("house") * state.density[-1] == pytest.approx(state.path_mass_flow[0])
    still = solve_airflow(
        _house(FlowPath("leak", leak, "house"), holds=[Hold("house", -50.0)]), Outdoors(20.0)
    )
    assert still.fan_flow("house") == pytest.approx(-leak.flow(50.0), rel=2e-3)  # 20 °C, not 1.2


def test_a_guarded_neighbour_takes_no_air_through_the_party_wall():
    leak, party = PowerLawLeak.from_flow(0.1), PowerLawLeak.from_flow(0.05)
    zones = [Zone("flat"), Zone("neighbour")]
    paths = [
        FlowPath("front", leak, "flat"),
        FlowPath("party", party, "flat", "neighbour"),
        FlowPath("next door", leak, "neighbour"),
    ]
    alone = solve_airflow(Network(zones, paths, holds=[Hold("flat", 50.0)]), Outdoors(20.0))
    both = [Hold("flat", 50.0), Hold("neighbour", 50.0)]
    guarded = solve_airflow(Network(zones, paths, holds=both), Outdoors(20.0))
    assert guarded.through("party") == pytest.approx(0.0, abs=1e-15)
    assert guarded.fan_flow("flat") == pytest.approx(leak.flow(50.0), rel=1e-12)
    # Closed form: the way through the neighbour is two openings in series.
    assert alone.fan_flow("flat") == pytest.approx(
        leak.flow(50.0) + Series((party, leak)).flow(50.0), rel=1e-9
    )


def test_a_fan_curve_meets_the_leak_where_brentq_says():
    leak, curve = PowerLawLeak.from_flow(0.4), FanCurve((0.0, 50.0, 100.0), (0.8, 0.5, 0.1))
    house = _house(FlowPath("leak", leak, "house"), fans=[Fan("fan", curve, target="house")])
    state = solve_airflow(house, Outdoors(20.0))
    crossing = brentq(lambda p: curve.flow(p) - leak.flow(p), 0.0, 100.0, xtol=1e-13)
    assert state.zone_pressure[0] == pytest.approx(crossing, rel=1e-9)
    assert state.fan_flow("fan") == pytest.approx(leak.flow(crossing), rel=1e-9)
    fixed = [Fan("fan", FixedFlow(0.2), target="house")]
    state = solve_airflow(_house(FlowPath("leak", leak, "house"), fans=fixed), Outdoors(20.0))
    assert state.fan_flow("fan") == pytest.approx(0.2)
    assert state.zone_pressure[0] == pytest.approx(50.0 * 0.5 ** (1 / 0.65))


# Limits ------------------------------------------------------------------------------------------


def test_nothing_moves_without_a_driver():
    hole = RoundHole(0.1)
    house = _house(FlowPath("low", hole, "house"), FlowPath("high", hole, "house", height=5.0))
    state = solve_airflow(house, Outdoors(20.0))
    assert state.converged
    assert np.abs(state.path_flow).max() < 1e-15


def test_open_door_joins_two_rooms_and_a_closed_one_parts_them():
    leak = PowerLawLeak.from_flow(0.05)
    lag = {}
    for state in ("open", "ajar", "closed"):
        house = Network(
            [Zone("hall"), Zone("room")],
            [
                FlowPath("hall leak", leak, "hall"),
                FlowPath("room leak", leak, "room"),
                door("d", "hall", "room", state),
            ],
            holds=[Hold("hall", -50.0)],
        )
        lag[state] = 50.0 + solve_airflow(house, Outdoors(20.0)).pressure_difference("room")
    assert 0.0 < lag["open"] < 0.05 < lag["ajar"] < 1.0 < lag["closed"] < 50.0


def test_undercut_door_passes_more_than_a_tight_one():
    tight, cut = (door("d", "a", "b", "closed", undercut=gap).opening for gap in (0.0, 0.01))
    assert tight.flow(50.0) == pytest.approx(m3_per_h(4.31 * 5.6))
    assert cut.flow(10.0) > tight.flow(10.0) + 0.01


def test_faces_turn_with_the_wind():
    north, south = Face("north", 0.0), Face("south", 180.0)
    assert north.pressure_coefficient(180.0) == pytest.approx(south.pressure_coefficient(0.0))
    assert Face("n", side_ratio=1.0).pressure_coefficient(0.0) == pytest.approx(0.6035, abs=1e-4)
    assert averaged_pressure_coefficient(0.0) == 0.7  # Liddament's averaged table, from memory
    assert averaged_pressure_coefficient(180.0, "pitched roof", "full height") == -0.3
    assert wind_speed_at(10.0, 5.0, "open land") == pytest.approx(5.0)
    assert wind_speed_at(5.0, 5.0, "city") < wind_speed_at(5.0, 5.0, "open sea")
    house = _house(
        FlowPath("n", RoundHole(0.05), "house", face=north),
        FlowPath("s", RoundHole(0.05), "house", face=south),
    )
    turned = solve_airflow(house, Outdoors(20.0, 4.0, np.array([0.0, 180.0])))
    assert turned.through("n") == pytest.approx(turned.through("s")[::-1])
    assert turned.through("n")[0] < 0 < turned.through("n")[1]


def test_ten_thousand_leaks():
    rng = np.random.default_rng(4)
    paths = [
        FlowPath(
            f"leak {k}",
            PowerLawLeak(10.0 ** rng.uniform(-7, -4), rng.uniform(0.5, 1)),
            "house",
            height=rng.uniform(0, 6),
            pressure_coefficient=rng.choice([0.6, -0.3]),
        )
        for k in range(10_000)
    ]
    state = solve_airflow(_house(*paths), Outdoors(0.0, wind_speed=3.0))
    assert state.converged
    inward = -state.path_mass_flow[state.path_mass_flow < 0].sum()
    assert abs(state.path_mass_flow.sum()) < 1e-9 * inward


# Invariants --------------------------------------------------------------------------------------


def _random_network(seed, zones=None, cases=None):
    rng = np.random.default_rng(seed)
    count = zones or int(rng.integers(1, 8))
    names = [f"z{k}" for k in range(count)]
    vary = (lambda low, high: rng.uniform(low, high, cases)) if cases else rng.uniform
    openings = [
        lambda: PowerLawLeak(10.0 ** rng.uniform(-5, -1.5), rng.uniform(0.5, 1.0)),
        lambda: RoundHole(rng.uniform(0.005, 0.3)),
        lambda: Crack(rng.uniform(0.5, 5), rng.uniform(0.0005, 0.003), 0.03),
        lambda: Series((PowerLawLeak(0.001, 0.6), Crack(1.0, 0.001, 0.02))),
        lambda: Parallel((RoundHole(0.02), Crack(1.0, 0.001, 0.02), PowerLawLeak(0.001, 0.7))),
    ]
    paths = []
    for k in range(count * 4):
        zone, to = names[k % count], OUTSIDE
        if k >= count and count > 1 and rng.random() < 0.6:
            to = str(rng.choice([name for name in names if name != zone]))
        opening = openings[rng.integers(len(openings))]()
        paths.append(
            FlowPath(
                f"p{k}", opening, zone, to, rng.uniform(0, 8),
                pressure_coefficient=rng.uniform(-0.7, 0.7),
            )
        )  # fmt: skip
    fans = [
        Fan("supply", vary(0, 0.1), target=names[0]),
        Fan("hood", vary(0, 0.1), source=names[-1]),
    ]
    zones = [Zone(name, vary(15, 25)) for name in names]
    return Network(zones, paths, fans), Outdoors(vary(-10, 30), vary(0, 10))


def _imbalance(network, state):
    """Mass balance from the reported flows alone, as a share of what passes each zone."""
    places = [*(zone.name for zone in network.zones), OUTSIDE]
    worst = 0.0
    for name in places[:-1]:
        terms = []
        for k, path in enumerate(network.paths):
            if name in (path.zone, path.to):
                terms.append(state.path_mass_flow[..., k] * (1 if path.zone == name else -1))
        for k, fan in enumerate(network.fans):
            if name in (fan.source, fan.target):
                mass = state.fans_flow[..., k] * state.density[..., places.index(fan.source)]
                terms.append(mass * (1 if fan.source == name else -1))
        terms = np.array(terms)
        worst = max(worst, np.max(np.abs(terms.sum(axis=0)) / np.abs(terms).sum(axis=0)))
    return worst


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 10**6))
def test_mass_balances_in_every_zone_of_any_house(seed):
    network, weather = _random_network(seed)
    state = solve_airflow(network, weather)
    assert state.converged
    assert _imbalance(network, state) < 1e-9


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10**6))
def test_cases_together_equal_cases_one_by_one(seed):
    network, weather = _random_network(seed, cases=4)
    together = solve_airflow(network, weather)
    assert together.zone_pressure.shape == (4, len(network.zones))
    assert together.converged.all()
    assert _imbalance(network, together) < 1e-9
    k = seed % 4
    zones = [Zone(zone.name, zone.temperature[k]) for zone in network.zones]
    fans = [Fan(fan.name, fan.flow[k], fan.source, fan.target) for fan in network.fans]
    alone = solve_airflow(
        Network(zones, network.paths, fans), Outdoors(weather.temperature[k], weather.wind_speed[k])
    )
    assert together.zone_pressure[k] == pytest.approx(alone.zone_pressure, rel=1e-7, abs=1e-8)


@pytest.mark.parametrize("seed", range(12))
def test_random_networks_agree_with_a_general_root_finder(seed):
    rng = np.random.default_rng(seed)
    zones, paths = 5, 16
    incidence = np.zeros((paths, zones))
    for k in range(paths):
        incidence[k, k % zones] = 1.0
        if k >= zones and rng.random() < 0.7:
            incidence[k, (k + rng.integers(1, zones)) % zones] = -1.0
    n, c = rng.uniform(0.5, 1, paths), 10 ** rng.uniform(-3, -1, paths)
    offset, supply = rng.normal(0, 5, (1, paths)), rng.normal(0, 0.01, (1, zones))
    balance = balance_zones(incidence, offset, lambda x: power_flow(x, c, 1.05 * c, n), supply)

    def rest(pressure):
        flow, _ = power_flow(offset[0] + incidence @ pressure, c, 1.05 * c, n)
        return flow @ incidence - supply[0]

    oracle = root(rest, balance.pressure[0] + rng.normal(0, 0.5, zones), tol=1e-13)
    assert np.abs(oracle.fun).max() < 1e-10, oracle.message
    assert balance.pressure[0] == pytest.approx(oracle.x, rel=1e-6, abs=1e-7)


def test_one_zone_agrees_with_brentq_case_by_case():
    rng = np.random.default_rng(11)
    cases, paths = 200, 12
    offset, n = rng.normal(0, 8, (cases, paths)), rng.uniform(0.5, 1, paths)
    out = rng.lognormal(-5, 1, paths)
    back = 1.08 * out
    supply = rng.normal(0, 0.05, cases)
    found = balance_one_zone(offset, out, back, n, supply)
    assert found.converged.all()
    for k in range(cases):
        answer = brentq(
            lambda p, k=k: power_flow(offset[k] + p, out, back, n)[0].sum() - supply[k],
            -1e5, 1e5, xtol=1e-12,
        )  # fmt: skip
        assert found.pressure[k, 0] == pytest.approx(answer, rel=1e-7, abs=1e-8)


def test_the_fallback_sweep_finds_the_same_balance(monkeypatch):
    network, weather = _random_network(5, zones=4)
    usual = solve_airflow(network, weather)
    far = lambda incidence, *_: np.full((1, incidence.shape[1]), 900.0)  # noqa: E731
    monkeypatch.setattr(airflow_solve, "_linear_start", far)
    damped, calls = airflow_solve._damped, []

    def useless_at_first(*given):
        calls.append(given)
        return damped(*given[:5], given[5] if len(calls) > 1 else 0)

    monkeypatch.setattr(airflow_solve, "_damped", useless_at_first)
    swept = solve_airflow(network, weather)
    assert len(calls) > 1
    assert swept.zone_pressure == pytest.approx(usual.zone_pressure, rel=1e-9, abs=1e-9)


def test_a_result_that_does_not_balance_says_so(monkeypatch):
    network, weather = _random_network(5, zones=4)
    damped = airflow_solve._damped
    monkeypatch.setattr(airflow_solve, "_damped", lambda *a: damped(*a[:5], 0))
    monkeypatch.setattr(airflow_solve, "_sweep", lambda a, b, c, d, pressure: pressure + 1.0)
    state = solve_airflow(network, weather)
    assert not state.converged
    assert "Do not use" in state.sentence()


def test_more_wind_more_air_and_warmer_house_more_air():
    hole = RoundHole(0.05)
    house = _house(
        FlowPath("w", hole, "house", pressure_coefficient=0.6),
        FlowPath("l", hole, "house", height=5.0, pressure_coefficient=-0.3),
    )
    winds = solve_airflow(house, Outdoors(20.0, np.linspace(1.0, 10.0, 20)))
    assert np.all(np.diff(winds.outside_air()) > 0)
    colds = solve_airflow(house, Outdoors(np.linspace(19.0, -10.0, 20)))
    assert np.all(np.diff(colds.outside_air()) > 0)
    assert winds.outside_air("house") == pytest.approx(winds.outside_air())


def test_sentences():
    hood = [Fan("hood", 0.02, source="house")]
    house = _house(FlowPath("leak", RoundHole(0.1), "house"), fans=hood)
    state = solve_airflow(house, Outdoors(20.0))
    assert state.sentence() == (
        "Outside air comes in at 72 m³/h. house: 10.5 Pa under outside at the floor."
    )
    assert "cfm" in state.sentence("us")
    many = solve_airflow(house, Outdoors(20.0, np.arange(3.0)))
    assert many.sentence().startswith("3 cases.")


# Refused input -----------------------------------------------------------------------------------

LEAK = PowerLawLeak.from_flow(0.1)
FRONT = FlowPath("front", LEAK, "a")
ABC = [Zone("a"), Zone("b"), Zone("c")]


@pytest.mark.parametrize(
    ("build", "said"),
    [
        (lambda: Network(ABC[:2], [FRONT]), "'b' is joined to nothing"),
        (lambda: Network(ABC, [FRONT, FlowPath("x", LEAK, "b", "c")]), "have no way out"),
        (lambda: Network(ABC[:2], [FRONT], [Fan("hood", 0.02, "b")]), "no opening to blow"),
        (lambda: Network(ABC[:1], [], [Fan("hood", 0.02, source="a")]), "no opening"),
        (lambda: Network(ABC[:1], []), "no opening"),
        (lambda: Network([], []), "no zone"),
        (lambda: Network(ABC[:1], [FlowPath("x", LEAK, "attic")]), "there is no zone 'attic'"),
        (lambda: Network(ABC[:1], [FlowPath("x", LEAK, "a", "a")]), "joins 'a' to itself"),
        (lambda: Network(ABC[:1] * 2, [FRONT]), "used more than once"),
        (lambda: Network(ABC[:1], [FRONT, FRONT]), "used more than once"),
        (lambda: Network([Zone("outside")], [FRONT]), "name of the outdoors"),
        (lambda: Network(ABC[:1], [FRONT], holds=[Hold("b")]), "there is no zone 'b'"),
        (lambda: Network(ABC[:1], [FRONT], [Fan("f", math.nan, source="a")]), "not a number"),
        (lambda: Network(ABC[:1], [FRONT], [Fan("f", 0.1)]), "takes air from where"),
        (lambda: Network(ABC[:1], [FlowPath("x", 3.0, "a")]), "not an opening"),
        (lambda: door("d", "a", "b", "half"), "Choose one of"),
        (lambda: Hold("a", 5000.0), "−500 to 500 Pa"),
        (lambda: wind_pressure(-1.0, 0.5), "0 to 60 m/s"),
        (lambda: wall_pressure_coefficient(0.0, side_ratio=9.0), "0.25 to 4"),
        (lambda: Face("f", shielding="full height", side_ratio=1.0), "exposed walls"),
        (lambda: wind_speed_at(10.0, 3.0, "moon"), "Choose one of"),
    ],
)
def test_refused_with_a_reason(build, said):
    with pytest.raises(InputError) as caught:
        build()
    assert said in str(caught.value)


def test_a_path_without_an_opening_in_it():
    with pytest.raises(InputError, match="passes nothing at all"):
        solve_airflow(Network(ABC[:1], [FRONT, FlowPath("none", Parallel(()), "a")]))


def test_arrays_of_cases_must_agree_and_names_must_exist():
    house = Network([Zone("a", np.array([20.0, 21.0, 22.0]))], [FRONT])
    with pytest.raises(InputError, match="differ in length: 2, 3"):
        solve_airflow(house, Outdoors(np.array([0.0, 5.0])))
    state = solve_airflow(Network(ABC[:1], [FRONT]))
    for ask in (state.pressure_difference, state.through, state.fan_flow, state.outside_air):
        with pytest.raises(InputError, match="There is no"):
            ask("b")
