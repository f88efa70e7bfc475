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
from airlab.teaching.variants import template
from airlab.words import from_si, m3_per_h, show

__all__ = ["READ_TEST", "faulty_exercise"]


def _signed(value):
    return f"{'−' if value < 0 else '+'}{abs(value):.1f}"


@template(
    "09-1", high=range(400, 1650, 50), pressure=(10, 12.5, 20), rough=(0.58, 0.6, 0.63, 0.68, 0.72)
)
def _exponent(key, high=600.0, pressure=12.5, rough=0.661):
    low = round(high * (pressure / 50.0) ** rough, -1)
    right = float(two_point_test((50.0, pressure), (m3_per_h(high), m3_per_h(low))).flow_exponent)
    flows, pressures = f"{show(high, digits=4)}/{show(low)}", f"50/{show(pressure)}"
    return Numeric(
        key, f"A fan reads {show(high, digits=4)} m³/h at 50 Pa and {show(low)} m³/h at {show(pressure)} Pa, "
        "zero flow 0 Pa. Exponent n?", lambda: right, "-",
        f"ln({flows}) / ln({pressures}): the slope in logarithms.",
        (
            Slip(1.0 / right, "That is pressure against flow. Turn it over; n lies between 0.5 and 1."),
            Slip((high / low) / (50.0 / pressure), "That is a ratio of ratios. The slope in "
                 "logarithms is ln over ln."),
        ), source="DERIVED",
    )  # fmt: skip


@template(
    "09-2",
    read=range(42, 62),
    before=(-2.4, -1.8, -1.2, 0.9, 1.6, 2.2),
    after=(-1.6, -0.8, 0.6, 1.4),
)
def _induced(key, read=51, before=-1.4, after=-0.6):
    zeros = ((before,), (after,))
    series = Series("depressurise", (-read, 10 - read, 20 - read), (0.18, 0.16, 0.13), *zeros)
    zero = zero_flow(*zeros).mean
    right = abs(float(induced_pressure(series, zero)[0]))
    return Numeric(
        key, f"Depressurising, the gauge reads −{read} Pa. Fan sealed it read {_signed(before)} Pa before "
        f"and {_signed(after)} Pa after. How many pascals did the fan make, without the sign?",
        lambda: right, "Pa",
        f"−{read} − ({_signed(zero)}) = −{show(right)}. The zero-flow pressure is subtracted with its "
        "sign.",
        (
            Slip(2.0 * read - right, f"You added the zero. Subtract it with its sign: −{read} − "
                 f"({_signed(zero)})."),
            Slip(float(read), f"The house had {_signed(zero)} Pa before the fan ran. That is not the "
                 "fan's work."),
        ), tolerance=0.004, source="ISO9972",
    )  # fmt: skip


@template(
    "09-3", fan=range(400, 1650, 50), inside=(18, 19, 20, 21, 22), outside=(-8, -5, 0, 3, 6, 30, 33)
)
def _through(key, fan=600.0, inside=21.0, outside=6.0):
    def leaks(one, other):
        dry = [moist_air_density(float(t), STANDARD_PRESSURE, 0.0) for t in (one, other)]
        return from_si(envelope_flow(m3_per_h(fan), "depressurise", *dry), "m3/h")

    cold = outside < inside
    kind, size = ("colder and denser", "smaller") if cold else ("warmer and lighter", "larger")
    return Numeric(
        key, f"Depressurising, {show(fan, digits=4)} m³/h of inside air at {show(inside)} °C leave through "
        f"the fan. Outside it is {show(outside)} °C. How many m³/h come in through the leaks?",
        lambda: leaks(inside, outside), "m3/h",
        f"Mass in is mass out. The air outside is {kind}, so its volume is {size}: {show(fan, digits=4)} "
        f"× {273 + outside:.0f}/{273 + inside:.0f}.",
        (
            Slip(leaks(outside, inside), f"Upside down: the air that comes in is {kind}, so its volume "
                 f"is {size}."),
            Slip(fan, f"That is the flow through the fan. The leaks pass {kind.split()[0]} air."),
        ), tolerance=0.004, source="ATTMA2010",
    )  # fmt: skip


@template(
    "09-4",
    flow=range(400, 1650, 50),
    fine=(0.52, 0.55, 0.58, 0.62),
    apart=(0.06, 0.08, 0.1, 0.12, 0.15),
)
def _low_flow(key, flow=600.0, fine=0.60, apart=0.10):
    wide = round(fine + apart, 3)
    one, other = (
        float(PowerLawLeak.from_flow(1.0, flow_exponent=n).flow(4.0)) for n in (fine, wide)
    )
    right = from_si(one / other - 1.0, "%")
    return Numeric(
        key, f"Two houses pass {show(flow, digits=4)} m³/h at 50 Pa, one with n {fine:.2f}, one with "
        f"{wide:.2f}. By how many percent does the first pass more at 4 Pa?", lambda: right, "%",
        f"(50/4)^{show(apart)} = {show(one / other)}. The same flow at 50 Pa says little about an ordinary day.",
        (
            Slip(from_si(wide / fine - 1.0, "%"), "That is the ratio of the exponents. They stand above "
                 f"the pressure ratio: (50/4)^({wide:.2f} − {fine:.2f})."),
            Slip(100.0 * apart, "That is the difference of the exponents. Raise 50/4 to it."),
        ), source="DERIVED",
    )  # fmt: skip


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
    _exponent,
    _induced,
    _through,
    _low_flow,
    faulty_exercise("09-5", 38, "window opened", ("gust", "zero drifts", "flap")),
    faulty_exercise("09-6", 14, "zero changed", ("gust", "hose in the wind", "window opened")),
)  # fmt: skip
