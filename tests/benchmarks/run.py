"""Print the table of speeds: each subject against its yardstick, alternating in one run.

    python tests/benchmarks/run.py            everything
    python tests/benchmarks/run.py drain      only rows whose name contains 'drain'

Figures are ratios of medians over the rounds, with their spread, so that the machine drops out.
Nothing here is asserted: speed is measured, not tested.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
os.environ.setdefault("MPLBACKEND", "agg")
ROUNDS = 5


def clock(work, repeat=1):
    """Return seconds for one run of the work."""
    start = time.perf_counter()
    for _ in range(repeat):
        work()
    return (time.perf_counter() - start) / repeat


def alternate(subject, yardstick, repeat=1, yard_repeat=1, rounds=ROUNDS):
    """Return the two lists of seconds, subject and yardstick taking turns; one warm-up each."""
    subject(), yardstick()
    ours, theirs = [], []
    for _ in range(rounds):
        ours.append(clock(subject, repeat))
        theirs.append(clock(yardstick, yard_repeat))
    return ours, theirs


def row(name, ours, theirs, aim, scale=1.0):
    """Print one row; `scale` brings a sampled yardstick to the subject's size."""
    theirs = [value * scale for value in theirs]
    mine, yard = statistics.median(ours), statistics.median(theirs)
    spread = (max(ours) - min(ours)) / mine
    print(f"| {name} | {mine * 1e3:.3g} ms (±{spread / 2:.0%}) | {yard * 1e3:.3g} ms | "
          f"{yard / mine:.3g}× faster | {aim} |")  # fmt: skip


def alone(name, seconds, aim):
    """Print a row that has no yardstick."""
    middle = statistics.median(seconds)
    print(f"| {name} | {middle * 1e3:.4g} ms | | | {aim} |")


def bench_import():
    """Import of the package against import of numpy, in fresh interpreters."""

    def fresh(code):
        return lambda: subprocess.run([sys.executable, "-c", code], check=True)

    nothing = statistics.median([clock(fresh("pass")) for _ in range(ROUNDS)])
    ours, theirs = alternate(fresh("import airlab"), fresh("import numpy"))
    net = statistics.median(ours) - nothing
    numpy = statistics.median(theirs) - nothing
    print(f"| import airlab | {net * 1e3:.3g} ms | {numpy * 1e3:.3g} ms (numpy) | "
          f"{net / numpy:.2g} of it | ≤ 2× |")  # fmt: skip
    ours, theirs = alternate(fresh("import airlab.panels"), fresh("import numpy"))
    net = statistics.median(ours) - nothing
    print(f"| import airlab.panels | {net * 1e3:.4g} ms | {numpy * 1e3:.3g} ms (numpy) | "
          f"{net / numpy:.2g} of it | - |")  # fmt: skip


def bench_drain():
    """Fifteen mixed holes, 200 frames, against two ODE solvers at rtol 1e-9."""
    from yardsticks import drain_by_ode, mixed_holes

    from airlab.physics import Balloon, drain

    holes, modes, balloon = *mixed_holes(), Balloon()
    for method in ("DOP853", "LSODA"):
        ours, theirs = alternate(
            lambda: drain(balloon, holes, hole_modes=modes),
            lambda method=method: drain_by_ode(balloon, holes, modes, method),
            repeat=20,
        )
        row(f"drain, 15 mixed holes, 200 frames ({method})", ours, theirs, "≥ 15×")


def bench_balance():
    """One zone, 30 leaks, 100 000 cases, against a sampled loop over brentq."""
    from yardsticks import balance_cases, balance_loop

    solve, sample, scale = balance_cases()
    ours, theirs = alternate(solve, lambda: balance_loop(sample))
    row("one-zone balance, 30 leaks, 100 000 cases", ours, theirs, "≥ 40×", scale)


def bench_air_flow():
    """From records to flows: a year of hours, and 12 zones with 60 openings."""
    from yardsticks import house_in_weathers, many_zones

    from airlab.physics.airflow_state import solve_airflow

    year, zones = house_in_weathers(8760, 10), many_zones()
    alone("air flow, a year of hours, 10 leak groups", [clock(lambda: solve_airflow(*year))
          for _ in range(ROUNDS)], "-")  # fmt: skip
    alone("air flow, 12 zones, 60 openings", [clock(lambda: solve_airflow(*zones), 20)
          for _ in range(ROUNDS)], "≤ 5 ms")  # fmt: skip


def bench_year():
    """A hundred houses through a year of hours, against a sampled loop over brentq."""
    from yardsticks import balance_cases, balance_loop, houses_of_a_street

    from airlab.files import open_weather
    from airlab.in_use import side_by_side, years_by_engine

    weather, houses = open_weather("greensboro_typical"), houses_of_a_street(100)
    _, sample, _ = balance_cases(cases=500, leaks=10)
    ours, theirs = alternate(lambda: years_by_engine(houses, weather), lambda: balance_loop(sample))
    row("100 houses, 8760 h, 10 leak groups", ours, theirs, "< 1 s", weather.hours * 100 / 500)
    alone("one house, 8760 h, all models side by side",
          [clock(lambda: side_by_side(houses[0], weather), 5) for _ in range(ROUNDS)], "-")  # fmt: skip


def bench_fan_tests():
    """Ten thousand fan tests fitted with intervals, against a sampled loop over statsmodels."""
    from yardsticks import fan_test_cases, fan_test_loop

    fit, sample, scale = fan_test_cases()
    ours, theirs = alternate(fit, lambda: fan_test_loop(sample), repeat=10)
    row("10 000 fan tests with intervals", ours, theirs, "≥ 1000×", scale)


def bench_fan_tests_both():
    """Ten thousand fan tests with errors in both readings, against a loop over odrpack."""
    from yardsticks import both_errors_cases, both_errors_loop

    fit, sample, scale = both_errors_cases()
    ours, theirs = alternate(fit, lambda: both_errors_loop(sample), repeat=5)
    row("10 000 fan tests, errors in both", ours, theirs, "≥ 100×", scale)


def bench_budget():
    """A whole answer of a budget with holes, 100 000 houses, against the bare random draws it needs."""
    from dataclasses import replace

    import numpy as np

    from airlab.design import make_budget
    from airlab.files import demo_job

    demo = demo_job()
    again = [replace(one, item=f"{one.item} again") for one in demo.budget if not one.sizes_from]
    for job in (demo, replace(demo, budget=(*demo.budget, *again))):
        lines = len(make_budget(job, 1000).houses.entries)
        ours, theirs = alternate(
            lambda job=job: make_budget(job),
            lambda lines=lines: np.random.default_rng(1).standard_normal((lines + 1, 100_000)),
            repeat=5, yard_repeat=5,
        )  # fmt: skip
        row(f"budget, {lines} lines, 100 000 houses (bare draws)", ours, theirs, "≥ 0.5×")


def bench_panels():
    """A slider moved in a real kernel: our panels against `interact` with the inline backend."""
    from kernel import move_sliders

    for name, ours, theirs in move_sliders(ROUNDS):
        row(f"slider to picture in the kernel, {name}", ours, theirs, "≥ 6×, ≤ 15 ms")


def bench_job():
    """Opening and saving a job with 5 000 log rows; writing the pack."""
    from yardsticks import big_job

    from airlab.files import open_job
    from airlab.sheets import print_pack

    with tempfile.TemporaryDirectory() as folder:
        os.environ["AIRLAB_JOBS"] = folder
        job, add_one = big_job()
        alone("open a job with 5 000 log rows", [clock(lambda: open_job(job.folder))
              for _ in range(ROUNDS)], "-")  # fmt: skip
        alone("add one act to 5 000 and save", [clock(add_one) for _ in range(ROUNDS)], "-")
    with tempfile.TemporaryDirectory() as folder:
        from airlab.files import start_job

        os.environ["AIRLAB_JOBS"] = folder
        job = start_job("bench")
        alone("write the printed pack", [clock(lambda: print_pack(job)) for _ in range(ROUNDS)],
              "-")  # fmt: skip


def bench_log():
    """Redraws of the check day with 5 000 acts in the log, against the bare fold of its leaks."""
    from yardsticks import log_of_a_day

    from airlab.leak_check import Log
    from airlab.words import m3_per_h

    with tempfile.TemporaryDirectory() as folder:
        os.environ["AIRLAB_JOBS"] = folder
        for open_ones in (834, 50):
            panel = log_of_a_day(1667, open_ones)
            acts = panel.read(50.0, m3_per_h(480)).desk.job.leaks
            for view in ("log", "decision"):
                panel.look(view)
                ours, theirs = alternate(panel.refresh, lambda acts=acts: Log(acts).leaks)
                row(f"redraw {view}, 1 667 leaks, {open_ones} open (bare fold)", ours, theirs,
                    "≥ 0.3×" if view == "log" else "≥ 0.03×")  # fmt: skip
            panel.close()


ALL = (
    bench_import,
    bench_drain,
    bench_balance,
    bench_air_flow,
    bench_year,
    bench_fan_tests,
    bench_fan_tests_both,
    bench_budget,
    bench_panels,
    bench_job,
    bench_log,
)


def main(wanted):
    print(f"| work | ours | yardstick | ratio | aim |\n|---|---|---|---|---|  ({ROUNDS} rounds)")
    for bench in ALL:
        if wanted and not any(word in bench.__name__ for word in wanted):
            continue
        try:
            bench()
        except ImportError as error:
            print(f"| {bench.__name__} | not there: {error.msg} | | | |")
        sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])
