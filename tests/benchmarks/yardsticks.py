"""What the subjects of the speed table are measured against, and the cases both work on."""

import numpy as np

__all__ = [
    "balance_cases", "balance_loop", "both_errors_cases", "both_errors_loop", "drain_by_ode", "fan_test_cases",
    "fan_test_loop", "house_in_weathers", "houses_of_a_street", "many_zones", "mixed_holes",
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


def houses_of_a_street(count):
    """Return so many houses that differ in everything the year asks for."""
    from airlab.in_use import SHELTERS, LivedHouse
    from airlab.physics.wind import TERRAINS

    rng = np.random.default_rng(4)
    return tuple(
        LivedHouse(rng.uniform(150, 600), 0.2 * rng.lognormal(0, 0.5), rng.uniform(0.5, 0.8),
                   storeys=int(rng.integers(1, 4)), terrain=str(rng.choice(list(TERRAINS))),
                   shielding=str(rng.choice(SHELTERS)), horizontal_share=rng.uniform(0.2, 0.8))
        for _ in range(count)
    )  # fmt: skip


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


# A balloon through fifteen holes ---------------------------------------------------------


def mixed_holes():
    """Return fifteen openings of every kind, and how each sits in the rubber."""
    from airlab.physics import HOLE_MODES, Crack, PorousPatch, PowerLawLeak, RoundHole, Slot

    holes = (
        RoundHole(8e-4), RoundHole(1e-3), RoundHole(1.2e-3, edge="tube"), RoundHole(9e-4, count=3),
        RoundHole(3e-4, flow_model="two-term"), RoundHole(2e-4, 4, flow_model="two-term"),
        RoundHole(4e-4, flow_model="two-term"), RoundHole(7e-4, flow_model="fitted"),
        Slot(0.01, 1e-4), Slot(0.02, 5e-5), Crack(0.02, 1e-4, 2e-3), Crack(0.03, 8e-5, 1e-3, bends=1),
        PorousPatch(4e-9, 1e-2), PowerLawLeak(4e-8, 0.65), PowerLawLeak(3e-9, 0.9),
    )  # fmt: skip
    return holes, tuple(HOLE_MODES[place % 3] for place in range(len(holes)))


def _in_plain_floats(holes, modes, air):
    """Return the flow of all holes at one pressure and area factors, written out in plain floats.

    Power laws of one exponent are added up, and what a growing hole does to a two-term law is a
    power of its area factor: the quickest that can be written by hand.
    """
    import math

    from airlab.physics.laws import PowerLaw, TwoTermLaw

    powers, pairs, fitted = {}, [], []
    for hole, mode in zip(holes, modes):
        law = hole.law(air)
        if isinstance(law, PowerLaw):
            key = (float(law.exponent), mode)
            powers[key] = powers.get(key, 0.0) + float(law.coefficient)
        elif isinstance(law, TwoTermLaw):
            pairs.append((float(law.creeping), float(law.inertia), float(law.walls), mode))
        else:
            fitted.append((law, mode))
    powers = [(n, c, mode) for (n, mode), c in powers.items()]

    def flow(p, factors):
        root, total = math.sqrt(p), 0.0
        for n, c, mode in powers:
            total += c * factors.get(mode, 1.0) * (root if n == 0.5 else p if n == 1.0 else p**n)
        for a, b, walls, mode in pairs:
            f = factors.get(mode, 1.0)
            a, b = a * (walls + (1.0 - walls) * math.sqrt(f)) / (f * f), b / (f * f)
            total += 2.0 * p / (a + math.sqrt(a * a + 4.0 * b * p))
        for law, mode in fitted:
            f = factors.get(mode, 1.0)
            speed = math.sqrt(2.0 * p / law.density)
            re = law.density * law.diameter * math.sqrt(f) * speed / law.viscosity
            creeping = re / (12.0 * math.pi)
            turbulent = law.coefficient * (1.0 + 0.14 / (1.0 + re / 5200.0))
            shape = creeping * (1.0 + (creeping / turbulent) ** 2.6) ** (-1.0 / 2.6)
            total += shape * law.area * f * speed
        return total

    return flow


def drain_by_ode(balloon, holes, modes, method, frames=200, flat=0.01, rtol=1e-9, by_hand=False):
    """Return time, volume, pressure and flow of a drain, stepped by a general solver.

    Used safely: the state is stretch minus 1, the end is a physical level that is crossed once,
    downwards, and everything must be finite. The right-hand side is the package's own laws, added
    up once; `by_hand` writes them out in plain floats instead.
    """
    from scipy.integrate import solve_ivp

    from airlab.physics import CLASSROOM_AIR
    from airlab.physics.growing import GrowingLaws

    mixed = GrowingLaws([hole.law(CLASSROOM_AIR) for hole in holes], modes)
    start, end = balloon.stretch, balloon.flat(flat)
    at_start = 2.0 * start - start**-3.0

    def grown(x):
        s = 1.0 + x
        bare = (2.0 * s - s**-3.0) / at_start
        return {"moves with rubber": (s / start) ** 2, "free": bare * bare}

    written = _in_plain_floats(holes, modes, CLASSROOM_AIR) if by_hand else None

    def total(x):
        if by_hand:
            return written(balloon.pressure_at(x), grown(x))
        return float(mixed.flow(np.asarray(balloon.pressure_at(x)), grown(x)))

    def slope(_, state):
        x = max(float(state[0]), 0.5 * end)
        return (-total(x) / balloon.storage_at(x),)

    def level(_, state):
        return state[0] - end

    level.terminal, level.direction = True, -1
    longest = 100.0 * balloon.volume / total(balloon.start)
    solved = solve_ivp(slope, (0.0, longest), (balloon.start,), method, rtol=rtol, atol=1e-12,
                       events=level, dense_output=True)  # fmt: skip
    assert solved.status == 1, solved.message
    time = np.linspace(0.0, solved.t_events[0][0], frames)
    x = solved.sol(time)[0]
    pressure = balloon.pressure_at(x)
    flow = mixed.flow(pressure, grown(x))
    assert np.isfinite(flow).all()
    return time, balloon.volume_at(x), pressure, flow


def big_job(events=5000):
    """Return a job of its own with that many acts in its log, and a function that adds one more."""
    from airlab.files import append_events, start_job
    from airlab.leak_check import LeakEvent

    log = [
        LeakEvent(number, "found", room="Hall", place="lap of the film", strength=2)
        for number in range(1, events + 1)
    ]
    kept = [append_events(start_job("Bench"), log)]

    def add_one():
        act = LeakEvent(events + len(kept) + 1, "found", room="Hall")
        kept.append(append_events(kept[-1], [act]))

    return kept[0], add_one


def log_of_a_day(leaks, left_open):
    """Return the panel of the check day on a house with three acts for each of so many leaks."""
    from datetime import datetime, timedelta

    from airlab.files import append_events, save_settings, start_job
    from airlab.leak_check import LeakEvent
    from airlab.panels.check_day import CheckDayPanel
    from airlab.words import hazards

    job = start_job(f"Bench, {left_open} open")
    job = save_settings(job, hazards={one.key: "safe" for one in hazards()})
    begun, acts = datetime.now().astimezone() - timedelta(days=2), []
    for number in range(1, leaks + 1):
        room = job.rooms[number % len(job.rooms)].name
        last = "marked" if number <= left_open else "rechecked"
        for place, did in enumerate(("found", "sealed", last)):
            acts.append(LeakEvent(number, did, at=begun + timedelta(seconds=60 * number + place),
                                  room=room, height="low", material="tape"))  # fmt: skip
    return CheckDayPanel(append_events(job, acts))
