"""A test with a fault to find, by seed, with its key: for learners to diagnose.

All readings are made up. Sound tests are among them, so that finding nothing can be right.
"""

from dataclasses import dataclass

import numpy as np

from airlab.fan_test.corrections import REFERENCE_DENSITY, standard_state_factor
from airlab.fan_test.readings import DIRECTIONS, Conditions, FanTest, Series
from airlab.words import litre_per_s, m3_per_h, require_choice

__all__ = ["FAULTS", "FaultyTest", "faulty_test"]

# Fault: (what happened, symptoms that give it away; none for a sound test).
FAULTS = {
    "none": ("Nothing went wrong.", ()),
    "zero changed": ("The zero-flow pressure changed by several pascals after it had been read.",
                     ("curvature", "exponent")),
    "window opened": ("A window came open during the series and stayed open.", ("step",)),
    "trap ran dry": ("A drain trap ran dry during the series: a lasting, smaller change.", ("step",)),
    "gust": ("One point was read in a gust.", ("outlier",)),
    "unit slip": ("One flow was typed in litres per second.", ("outlier", "scatter")),
    "flap": ("A flap valve opens when the house is pressurised.", ("directions apart",)),
    "zero drifts": ("The zero-flow pressure drifted from start to end.", ("zero drift",)),
    "hose in the wind": ("The outside hose lay in gusty wind.", ("scatter",)),
    "fan below its range": ("At the low end the fan was below the flow it can measure and read high.",
                            ("curvature", "step", "exponent")),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class FaultyTest:
    """A made-up test, the fault in it, the symptoms that show it, and where."""

    test: FanTest
    fault: str
    what: str
    symptoms: tuple[str, ...]
    direction: str
    points: tuple[int, ...]
    seed: int

    def sentence(self, units="metric"):
        """Return the key."""
        where = f" Look at {self.direction}" if self.points else ""
        where += (
            f", point {self.points[0]}{' on' if len(self.points) > 1 else ''}."
            if self.points
            else ""
        )
        return f"{self.what}{where}"


def faulty_test(fault=None, seed=1):
    """Return a made-up fan test with one fault.

    Parameters
    ----------
    fault : str, optional
        One of `FAULTS`; left out, the seed chooses.
    seed : int
        Same seed, same test.

    Returns
    -------
    FaultyTest
        Both directions, ten points each, in calm air but for the fault.

    Raises
    ------
    InputError
        If the fault is unknown.

    Examples
    --------
    >>> one = faulty_test("window opened", seed=3)
    >>> one.symptoms, len(one.test.series)
    (('step',), 2)
    """
    rng = np.random.default_rng(seed)
    drawn = list(FAULTS)[int(rng.integers(len(FAULTS)))]
    fault = drawn if fault is None else require_choice("fault", fault, FAULTS)
    n = float(rng.uniform(0.58, 0.72))
    coefficient = m3_per_h(float(rng.uniform(400.0, 2500.0))) / 50.0**n
    air = Conditions(
        round(float(rng.uniform(17, 23)), 1), round(float(rng.uniform(4, 16)), 1),
        float(round(rng.uniform(98000, 102500), -1)), None, 0.5, 0.6,
    )  # fmt: skip
    where = DIRECTIONS[int(rng.integers(2))] if fault != "flap" else "pressurise"
    points = ()
    made = []
    for direction in DIRECTIONS:
        series, touched = _series(
            rng, direction, n, coefficient, air, fault if direction == where else "none"
        )
        made.append(series)
        points = touched or points
    what, symptoms = FAULTS[fault]
    test = FanTest(tuple(made), air, f"made-up test {seed}")
    return FaultyTest(test, fault, what, symptoms, "" if fault == "none" else where, points, seed)


def _series(rng, direction, n, coefficient, air, fault):
    sign = -1.0 if direction == "depressurise" else 1.0
    count = 10
    p = np.linspace(60.0, 12.0, count) + rng.uniform(-1.5, 1.5, count)  # what the fan makes
    flow = coefficient * p**n / standard_state_factor(n, REFERENCE_DENSITY)
    zero = rng.uniform(-1.5, 1.5)
    zeros = [zero + rng.normal(0.0, 0.1), zero + rng.normal(0.0, 0.1)]
    hidden, gusty, touched = np.zeros(count), 0.1, ()
    if fault == "zero changed":
        hidden = np.full(count, sign * -rng.uniform(3.0, 4.5))
    elif fault == "zero drifts":
        drift = rng.choice([-1.0, 1.0]) * rng.uniform(2.0, 4.0)
        hidden, zeros[1] = np.linspace(0.0, drift, count), zeros[1] + drift
    elif fault in ("window opened", "trap ran dry"):
        cut = int(rng.integers(3, 7))
        size = rng.uniform(0.15, 0.35) if fault == "window opened" else rng.uniform(0.05, 0.08)
        flow[cut:] = flow[cut:] + size * coefficient * 50.0**n * np.sqrt(p[cut:] / 50.0)
        touched = tuple(range(cut + 1, count + 1))
    elif fault == "flap":
        flow = flow * rng.uniform(1.18, 1.4)
    elif fault == "hose in the wind":
        gusty = rng.uniform(3.0, 4.0)
    elif fault == "fan below its range":
        floor = flow[-3] * 0.98
        flow = np.where(flow < floor, flow + 0.8 * (floor - flow), flow)
        touched = (count - 1, count)
    read = sign * p + zero + hidden + gusty * np.clip(rng.standard_normal(count), -2.0, 2.0)
    flow = flow * np.exp(0.004 * rng.standard_normal(count))
    if fault in ("gust", "unit slip"):
        k = int(rng.integers(1, count - 1))
        touched = (k + 1,)
        flow[k] *= rng.choice([0.9, 1.12]) if fault == "gust" else m3_per_h(1.0) / litre_per_s(1.0)
    inside, outside = air.density("inside"), air.density("outside")
    leak, fan = (outside, inside) if sign < 0 else (inside, outside)
    reading = flow * leak / fan * np.sqrt(fan / air.calibration_density)
    return Series(direction, tuple(np.round(read, 1)), tuple(reading), (round(float(zeros[0]), 1),),
                  (round(float(zeros[1]), 1),)), touched  # fmt: skip
