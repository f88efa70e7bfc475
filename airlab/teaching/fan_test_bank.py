"""Exercises of 09: from points to n50, what the sums trip over, and made-up tests to diagnose."""

from airlab.fan_test import (
    FAULTS,
    Series,
    envelope_flow,
    faulty_test,
    induced_pressure,
    two_point_test,
    zero_flow,
)
from airlab.physics import PowerLawLeak, moist_air_density
from airlab.physics.air import STANDARD_PRESSURE
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.words import from_si, m3_per_h

__all__ = ["READ_TEST", "faulty_exercise"]

_HIGH, _LOW = (50.0, 600.0), (12.5, 240.0)  # Pa and m3/h
_READ, _ZEROS = (-51.0, -41.0, -31.0), ((-1.4,), (-0.6,))  # Pa
_INSIDE, _OUTSIDE, _FAN = 21.0, 6.0, 600.0  # C, C, m3/h
_FINE, _WIDE = 0.60, 0.70


def _exponent():
    pressures, flows = zip(_HIGH, _LOW)
    return float(two_point_test(pressures, tuple(m3_per_h(q) for q in flows)).flow_exponent)


def _induced():
    series = Series("depressurise", _READ, (0.18, 0.16, 0.13), *_ZEROS)
    return abs(float(induced_pressure(series, zero_flow(*_ZEROS).mean)[0]))


def _through_leaks(swap=False):
    dry = [moist_air_density(t, STANDARD_PRESSURE, 0.0) for t in (_INSIDE, _OUTSIDE)]
    inside, outside = reversed(dry) if swap else dry
    return from_si(envelope_flow(m3_per_h(_FAN), "depressurise", inside, outside), "m3/h")


def _low_flow_apart():
    fine, wide = (
        float(PowerLawLeak.from_flow(1.0, flow_exponent=n).flow(4.0)) for n in (_FINE, _WIDE)
    )
    return from_si(fine / wide - 1.0, "%")


_HINTS = {
    "none": "Look at the residuals once more: something does not lie on the line.",
    "zero changed": "That bends the whole line at its low end. Look whether it is bent.",
    "window opened": "That lifts all points from some point on. Look for a step.",
    "trap ran dry": "That lifts all points from some point on, a little. Look for a step.",
    "gust": "That moves one point and leaves the others. Count those off the line.",
    "unit slip": "One point would be off by a factor of 3.6. Look at its size.",
    "flap": "Then one whole direction would leak more, with good points. Compare the two lines.",
    "zero drifts": "Then the zeros before and after would differ by pascals. Look at them.",
    "hose in the wind": "That scatters all points of a series. Look whether they are rough.",
    "fan below its range": "That touches the lowest two points only. Look at the low end.",
}


def faulty_exercise(key, seed, fault, others):
    """Return the exercise to find the fault of the made-up test of that seed.

    Parameters
    ----------
    key : str
        Key of the exercise.
    seed : int
        Number of the made-up test.
    fault : str
        Its fault, a key of `FAULTS`; the answer itself is drawn again when asked for.
    others : iterable of str
        Wrong faults to offer.

    Examples
    --------
    >>> found = faulty_exercise("x-1", 12, "flap", ("gust", "hose in the wind", "none"))
    >>> found.right()
    'A flap valve opens when the house is pressurised.'
    """
    offered = sorted({fault, *others})
    return Choice(
        key,
        f"Show the made-up test {seed} in the panel (More settings). What went wrong?",
        tuple(FAULTS[one][0] for one in offered),
        lambda: faulty_test(seed=seed).what,
        f"{FAULTS[fault][0]} Tick Name the faults to see the sum behind it.",
        {FAULTS[one][0]: _HINTS[one] for one in offered if one != fault},
        source="DERIVED",
    )


READ_TEST = (
    Numeric(
        "09-1", "A fan reads 600 m³/h at 50 Pa and 240 m³/h at 12.5 Pa, zero flow 0 Pa. "
        "Exponent n?", _exponent, "-", "ln(600/240) / ln(50/12.5): the slope in logarithms.",
        (
            Slip(lambda: 1.0 / _exponent(), "That is pressure against flow. Turn it over; n lies "
                 "between 0.5 and 1."),
            Slip(lambda: (600.0 / 240.0) / (50.0 / 12.5), "That is a ratio of ratios. The slope in "
                 "logarithms is ln over ln."),
        ), source="DERIVED",
    ),
    Numeric(
        "09-2", "Depressurising, the gauge reads −51 Pa. Fan sealed it read −1.4 Pa before and "
        "−0.6 Pa after. How many pascals did the fan make, without the sign?", _induced, "Pa",
        "−51 − (−1.0) = −50. The zero-flow pressure is subtracted with its sign.",
        (
            Slip(52.0, "You added the zero. Subtract it with its sign: −51 − (−1.0)."),
            Slip(51.0, "The house had −1 Pa before the fan ran. That is not the fan's work."),
        ), tolerance=0.004, source="ISO9972",
    ),
    Numeric(
        "09-3", "Depressurising, 600 m³/h of inside air at 21 °C leave through the fan. Outside "
        "it is 6 °C. How many m³/h come in through the leaks?", _through_leaks, "m3/h",
        "Mass in is mass out. Cold air is denser, so less of it: 600 × 279/294.",
        (
            Slip(lambda: _through_leaks(swap=True), "Upside down: the air that comes in is colder "
                 "and denser, so its volume is smaller."),
            Slip(_FAN, "That is the flow through the fan. The leaks pass colder air."),
        ), tolerance=0.004, source="ATTMA2010",
    ),
    Numeric(
        "09-4", "Two houses pass 600 m³/h at 50 Pa, one with n 0.60, one with 0.70. By how many "
        "percent does the first pass more at 4 Pa?", _low_flow_apart, "%",
        "(50/4)^0.1 = 1.29. The same n50 says little about draught on a calm day.",
        (
            Slip(lambda: from_si(_WIDE / _FINE - 1.0, "%"), "That is the ratio of the exponents. "
                 "They stand above the pressure ratio: (50/4)^(0.70 − 0.60)."),
            Slip(10.0, "That is the difference of the exponents. Raise 50/4 to it."),
        ), source="DERIVED",
    ),
    faulty_exercise("09-5", 38, "window opened", ("gust", "zero drifts", "flap")),
    faulty_exercise("09-6", 14, "zero changed", ("gust", "hose in the wind", "window opened")),
)  # fmt: skip
