"""What the subjects of the speed table are measured against, and the cases both work on."""

import numpy as np

__all__ = [
    "balance_cases", "balance_loop", "both_errors_cases", "both_errors_loop", "fan_test_cases",
    "fan_test_loop", "house_in_weathers", "many_zones",
]  # fmt: skip

# Air flow through a house ----------------------------------------------------------------


def balance_cases(cases=100_000, leaks=30, sampled=500):
    """Return (solve, sample, scale): the whole as one call, a part of it for the loop."""
    from airlab.physics.airflow_solve import balance_one_zone

    rng = np.random.default_rng(1)
    height, face = rng.uniform(0, 6, leaks), rng.integers(0, 4, leaks)
    n, c = rng.uniform(0.5, 1, leaks), rng.lognormal(0, 1, leaks) * 1e-3
    inside, outside = 353 / 293.15, 353 / (273.15 + rng.normal(8, 6, cases))
    coefficient = np.array([0.6, -0.3, -0.5, -0.4])[(face + rng.integers(0, 4, cases)[:, None]) % 4]
    wind = 0.5 * outside * (5 * rng.weibull(2, cases)) ** 2
    offset = -wind[:, None] * coefficient + ((outside - inside) * 9.81)[:, None] * height
    out, back = c * inside, c * 1.25
    sample = (offset[:sampled], out, back, n)
    return lambda: balance_one_zone(offset, out, back, n), sample, cases / sampled


def balance_loop(sample):
    """Find the balance of each case by bracketing."""
    from scipy.optimize import brentq

    from airlab.physics.airflow_solve import LAMINAR_BELOW

    offset, out, back, n = sample

    def flow(p, x):
        x = x + p
        size = np.abs(x)
        return (np.where(x > 0, out, back) * np.maximum(size, LAMINAR_BELOW) ** (n - 1) * x).sum()

    return [brentq(flow, -x.max() - 1, -x.min() + 1, args=(x,), xtol=1e-12) for x in offset]


def house_in_weathers(hours, leaks):
    """Return a house of so many leaks and weather for so many hours, as records."""
    from airlab.physics import PowerLawLeak
    from airlab.physics.airflow import FlowPath, Network, Outdoors, Zone
    from airlab.physics.wind import Face

    rng = np.random.default_rng(2)
    faces = [Face(f"face {k}", 90.0 * k) for k in range(4)]
    paths = [
        FlowPath(f"leak {k}", PowerLawLeak(1e-3 * rng.lognormal(), rng.uniform(0.5, 1)), "house",
                 height=rng.uniform(0, 6), face=faces[k % 4])
        for k in range(leaks)
    ]  # fmt: skip
    weather = rng.normal(8, 6, hours), 5 * rng.weibull(2, hours), rng.uniform(0, 360, hours)
    return Network([Zone("house")], paths), Outdoors(*weather)


def many_zones():
    """Return 12 zones with 60 openings of three kinds and a fan, as a record, and its weather."""
    from airlab.physics import Crack, PowerLawLeak, RoundHole
    from airlab.physics.airflow import OUTSIDE, Fan, FlowPath, Network, Outdoors, Zone

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
    zones, fan = [Zone(name) for name in names], Fan("hood", 0.05, source=names[0])
    return Network(zones, paths, [fan]), Outdoors(0.0, 4.0)


# Fan tests -------------------------------------------------------------------------------


def _many_tests(tests, pressure_noise=0.0):
    rng = np.random.default_rng(0)
    p = np.linspace(10, 60, 10)
    q = 0.02 * p**0.65 * np.exp(rng.normal(0, 0.01, (tests, 10)))
    return p + pressure_noise * rng.standard_normal((tests, 10)), q


def fan_test_cases(tests=10_000, sampled=60):
    """Return (fit, sample, scale): all tests with their intervals at once, some for the loop."""
    from airlab.fan_test import fit_power_law

    p, q = _many_tests(tests)

    def fit():
        found = fit_power_law(p[0], q)
        return (
            found.exponent_limits(),
            found.coefficient_limits(),
            found.flow_limits(50.0),
            found.r_squared,
        )

    return fit, (p[0], q[:sampled]), tests / sampled


def fan_test_loop(sample):
    """Fit each test with its intervals by a statistics library."""
    import statsmodels.api as sm

    p, q = sample
    found = []
    for one in q:
        fit = sm.OLS(np.log(one), sm.add_constant(np.log(p))).fit()
        ends = fit.get_prediction([[1.0, np.log(50.0)]]).conf_int()
        found.append((fit.conf_int(), ends, fit.rsquared))
    return found


def both_errors_cases(tests=10_000, sampled=60):
    """Return (fit, sample, scale) with errors in pressure and flow."""
    from airlab.fan_test import fit_with_spreads

    p, q = _many_tests(tests, 0.5)

    def fit():
        return fit_with_spreads(p, q, 0.5, 0.01 * q, "both errors").flow_limits(50.0)

    return fit, (p[:sampled], q[:sampled]), tests / sampled


def both_errors_loop(sample):
    """Fit each test by orthogonal distance."""
    from odrpack import odr_fit

    def line(x, beta):
        return beta[0] + beta[1] * x

    return [
        odr_fit(line, np.log(p), np.log(q), beta0=np.array([-4.0, 0.65]),
                weight_x=(0.5 / p) ** -2.0, weight_y=np.full(p.size, 0.01**-2.0))
        for p, q in zip(*sample)
    ]  # fmt: skip
