"""Speeds of the airflow engine and of the fan-test fits, against general libraries.

python tests/benchmarks/air_and_fan.py
"""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
from run import alone, alternate, clock, row


def one_zone():
    """Time 100 000 cases of 30 leaks, wind and temperature drawn, against a loop over brentq."""
    from scipy.optimize import brentq

    from airlab.physics.airflow_solve import LAMINAR_BELOW, balance_one_zone

    rng = np.random.default_rng(1)
    cases, leaks, sample = 100_000, 30, 500
    height, face = rng.uniform(0, 6, leaks), rng.integers(0, 4, leaks)
    n, c = rng.uniform(0.5, 1, leaks), rng.lognormal(0, 1, leaks) * 1e-3
    inside, outside = 353 / 293.15, 353 / (273.15 + rng.normal(8, 6, cases))
    coefficient = np.array([0.6, -0.3, -0.5, -0.4])[(face + rng.integers(0, 4, cases)[:, None]) % 4]
    wind = 0.5 * outside * (5 * rng.weibull(2, cases)) ** 2
    offset = -wind[:, None] * coefficient + ((outside - inside) * 9.81)[:, None] * height
    out, back = c * inside, c * 1.25

    def flow(p, x):
        x = x + p
        size = np.abs(x)
        return (np.where(x > 0, out, back) * np.maximum(size, LAMINAR_BELOW) ** (n - 1) * x).sum()

    def loop():
        for x in offset[:sample]:
            brentq(flow, -x.max() - 1, -x.min() + 1, args=(x,), xtol=1e-12)

    ours, theirs = alternate(lambda: balance_one_zone(offset, out, back, n), loop)
    row("one zone, 100 000 cases, 30 leaks / brentq", ours, theirs, "≥ 40×", cases / sample)
    return offset, out, back, n


def whole_network():
    """Time the same through the records: a house of 30 leaks in an array of weathers."""
    from airlab.physics.airflow import FlowPath, Network, Outdoors, Zone
    from airlab.physics.airflow_state import solve_airflow
    from airlab.physics.openings import PowerLawLeak
    from airlab.physics.wind import Face

    rng = np.random.default_rng(2)
    faces = [Face(f"face {k}", 90.0 * k) for k in range(4)]
    paths = [
        FlowPath(f"leak {k}", PowerLawLeak(1e-3 * rng.lognormal(), rng.uniform(0.5, 1)), "house",
                 height=rng.uniform(0, 6), face=faces[k % 4])
        for k in range(30)
    ]  # fmt: skip
    house = Network([Zone("house")], paths)
    weather = Outdoors(rng.normal(8, 6, 100_000), 5 * rng.weibull(2, 100_000),
                       rng.uniform(0, 360, 100_000))  # fmt: skip
    alone("the same by records, with every flow", [clock(lambda: solve_airflow(house, weather)) for _ in range(5)], "")  # fmt: skip
    year = Network([Zone("house")], paths[:10])
    hours = Outdoors(*(value[:8760] for value in (weather.temperature, weather.wind_speed,
                                                   weather.wind_direction)))  # fmt: skip
    alone("a year of hours, 10 leak groups, by records", [clock(lambda: solve_airflow(year, hours)) for _ in range(9)], "")  # fmt: skip


def twelve_zones():
    """Time 12 zones with 60 openings, once, from records to flows."""
    from airlab.physics.airflow import OUTSIDE, Fan, FlowPath, Network, Outdoors, Zone
    from airlab.physics.airflow_state import solve_airflow
    from airlab.physics import Crack, PowerLawLeak, RoundHole

    rng = np.random.default_rng(3)
    names = [f"room {k}" for k in range(12)]
    kinds = (lambda: PowerLawLeak(10.0 ** rng.uniform(-4, -1), 0.65), lambda: RoundHole(0.1),
             lambda: Crack(1.0, 0.002, 0.05))  # fmt: skip
    paths = []
    for k in range(60):
        zone = names[k % 12]
        to = OUTSIDE if k < 24 else str(rng.choice([name for name in names if name != zone]))
        paths.append(FlowPath(f"path {k}", kinds[k % 3](), zone, to, rng.uniform(0, 6),
                              pressure_coefficient=rng.uniform(-0.6, 0.6)))  # fmt: skip
    house = Network([Zone(name) for name in names], paths, [Fan("hood", 0.05, source=names[0])])
    alone("12 zones, 60 openings, records to flows", [clock(lambda: solve_airflow(house, Outdoors(0.0, 4.0)), 20) for _ in range(9)], "< 5 ms")  # fmt: skip


def many_tests():
    """Time 10 000 simulated tests fitted with intervals against a loop over statsmodels."""
    import statsmodels.api as sm
    from odrpack import odr_fit

    from airlab.fan_test import fit_power_law, fit_with_spreads

    rng = np.random.default_rng(0)
    tests, sample = 10_000, 60
    p = np.linspace(10, 60, 10)
    q = 0.02 * p**0.65 * np.exp(rng.normal(0, 0.01, (tests, 10)))

    def ours():
        fit = fit_power_law(p, q)
        return fit.exponent_limits(), fit.coefficient_limits(), fit.flow_limits(50.0), fit.r_squared

    def loop():
        for one in q[:sample]:
            fit = sm.OLS(np.log(one), sm.add_constant(np.log(p))).fit()
            fit.conf_int(), fit.get_prediction([[1.0, np.log(50.0)]]).conf_int(), fit.rsquared

    mine, theirs = alternate(ours, loop, repeat=5)
    row(
        "10 000 fan tests with intervals / statsmodels OLS",
        mine,
        theirs,
        "≥ 1 000×",
        tests / sample,
    )

    read = p + rng.normal(0, 0.5, (tests, 10))
    x, y = np.log(read), np.log(q)

    def both():
        return fit_with_spreads(read, q, 0.5, 0.01 * q, "both errors").flow_limits(50.0)

    def odr():
        for a, b in zip(x[:sample], y[:sample]):
            odr_fit(lambda v, beta: beta[0] + beta[1] * v, a, b, beta0=np.array([-4.0, 0.65]),
                    weight_x=(0.5 / np.exp(a)) ** -2.0, weight_y=np.full(10, 0.01**-2.0))  # fmt: skip

    mine, theirs = alternate(both, odr)
    row("10 000 fan tests, errors in both / odrpack", mine, theirs, "≥ 100×", tests / sample)


if __name__ == "__main__":
    print("| work | ours | yardstick | ratio | aim |\n|---|---|---|---|---|")
    one_zone()
    whole_network()
    twelve_zones()
    many_tests()
