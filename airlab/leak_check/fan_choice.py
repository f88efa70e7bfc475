"""Can this fan bring this house to 50 Pa, and if not, what is done, in which order?"""

from dataclasses import dataclass

from airlab.leak_check.readings import to_reference
from airlab.physics.fans import FanCurve, FanReach, pressure_reached
from airlab.physics.openings import PowerLawLeak
from airlab.words import PRESSURE_REFERENCE, InputError, m3_per_h, show, show_percent
from airlab.words.saying import listed, said

__all__ = ["FanChoice", "above_fan", "below_range", "fan_choice", "fan_ranges"]

_EXPONENTS = (0.55, 0.75)
_BESIDE = 1.05  # a fan may give so much more than its table says, ours


def fan_ranges(fan):
    """Return the curves of a fan of a job's settings, one for each ring, plate or speed.

    Parameters
    ----------
    fan : dict or None
        `name`, `points` of pressure [Pa] and flow [m3/h], `lowest_m3_per_h` that it holds steady; and
        `ranges`, each with the same three, for further rings or speeds.

    Returns
    -------
    tuple of FanCurve
        Empty without a fan.

    Raises
    ------
    InputError
        If points are no pairs of numbers, or flow does not fall with pressure.

    Examples
    --------
    >>> ring = {"name": "small ring", "points": [[0, 400], [60, 200]], "lowest_m3_per_h": 50}
    >>> [one.name for one in fan_ranges({"name": "F", "points": [[0, 3000], [60, 900]], "ranges": [ring]})]
    ['F', 'F, small ring']
    """
    if not fan:
        return ()
    whole = fan.get("name") or "fan"
    entries = [{**fan, "name": whole}] if fan.get("points") else []
    for number, one in enumerate(fan.get("ranges") or (), 1):
        entries.append({**one, "name": f"{whole}, {one.get('name') or f'range {number}'}"})
    found = []
    for one in entries:
        try:
            points = [(float(p), m3_per_h(float(q))) for p, q in one.get("points") or ()]
            lowest = m3_per_h(float(one.get("lowest_m3_per_h") or 0.0))
        except (TypeError, ValueError):
            raise InputError(
                f"{one['name']}: points are not pairs of numbers. Enter pressure in Pa and flow in m³/h."
            ) from None
        found.append(FanCurve.from_points(points, name=one["name"], lowest_flow=lowest))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class FanChoice:
    """What a fan reaches against the expected flow.

    Parameters
    ----------
    fan : FanCurve or FixedFlow
        The fan.
    at_low, at_high : FanReach
        What it reaches at the lowest and at the highest expected flow.
    answer : str
        yes, perhaps or no.
    faults : tuple of str
        Openings found in another state than wanted.
    short : float
        Flow missing at 50 Pa if the house is at the high end; 0 if none. [m3/s]
    extrapolation_error : tuple of float
        Lowest and highest relative error of bringing the reading to 50 Pa at the high end. [-]
    """

    fan: object
    at_low: FanReach
    at_high: FanReach
    answer: str
    faults: tuple[str, ...]
    short: float
    extrapolation_error: tuple[float, float]

    @property
    def steady(self):
        """Whether it holds steady even the lowest flow expected at 50 Pa."""
        return float(self.at_low.flow_needed) >= self.fan.lowest_flow

    def sentence(self, units="metric"):
        """Return whether 50 Pa is reached, and the first advice."""
        worst, best = self.at_high.pressure_difference, self.at_low.pressure_difference
        if self.answer == "yes":
            text = (
                f"{self.fan.name} reaches 50 Pa even at {said(self.at_high.flow_needed, 'm3/s', units)}: "
                f"it can move {said(self.at_high.flow_at_50, 'm3/s', units)} there."
            )
            if not self.steady:
                text += (
                    f" Below {said(self.fan.lowest_flow, 'm3/s', units)} it does not run steady; the "
                    "house may be tighter than that. Bring a smaller ring."
                )
            return text
        if self.answer == "perhaps":
            text = (
                f"{self.fan.name} reaches 50 Pa if the house is at the low end; at the high end it "
                f"reaches {show(worst, 'Pa')}."
            )
        else:
            text = f"{self.fan.name} reaches {show(worst, 'Pa')} to {show(best, 'Pa')}, not 50 Pa."
        low, high = self.extrapolation_error
        return (
            f"{text} A reading there is brought to 50 Pa with an error of {_signed(low)} to "
            f"{_signed(high)}, because the flow exponent is not known. {self.advice(units)[0]}"
        )

    def advice(self, units="metric"):
        """Return what to do, in this order."""
        if self.answer == "yes":
            return ("Raise the pressure in steps of 10 Pa and watch the edges.",)
        reached = show(min(float(self.at_high.pressure_difference), PRESSURE_REFERENCE), "Pa")
        found = f" Found already: {listed(self.faults)}." if self.faults else ""
        return (
            f"1. Go over the preparation: windows, doors, hatches, traps, seals.{found}",
            f"2. Search at whatever is reached, here about {reached}; strong leaks are felt from "
            f"about 10 Pa. Write: reached {reached}.",
            "3. Look for the big hole: close the rooms off one by one and see where the flow drops.",
            f"4. Only then more fan: {said(self.short, 'm3/s', units)} more at 50 Pa for the high end.",
        )


def below_range(reading, fans):
    """Return a warning where a reading's flow is below what the fan holds steady, else empty.

    Parameters
    ----------
    reading : Reading
        Its aperture, where it names one of the rings, says which.
    fans : iterable of FanCurve
        One for each ring or speed.
    """
    used = next(iter((*_named(reading, fans), *fans)), None)
    if used is None or reading.flow >= used.lowest_flow:
        return ""
    return (
        f"Reading {reading.name}: the flow is below the lowest that {used.name} holds steady. Take a "
        "smaller ring and read again."
    )


def above_fan(reading, fans, count=1):
    """Return a warning where a reading's flow is more than the fan gives at that pressure, else empty.

    Parameters
    ----------
    reading : Reading
        Its aperture, where it names one of the rings, says which; else any of them may be on.
    fans : iterable of FanCurve
        One for each ring or speed.
    count : int
        Number of fans that may run together.
    """
    able = [float(fan.flow(reading.pressure)) for fan in _named(reading, fans) or fans]
    if not able or reading.flow <= _BESIDE * count * max(able):
        return ""
    return (
        f"Reading {reading.name}: by its table the fan does not give that flow at that pressure. A digit "
        "too many, another unit, another ring? Read again."
    )


def _named(reading, fans):
    """Return the rings or speeds that a reading's aperture names."""
    ring = reading.aperture.strip().casefold()
    return [fan for fan in fans if ring and fan.name.casefold().endswith(ring)]


def _signed(fraction):
    return ("−" if fraction < 0 else "+") + show_percent(abs(fraction))


def fan_choice(fan, expected, flow_exponent=0.65, faults=()):
    """Return whether a fan can bring the house to 50 Pa, and the advice in its order.

    Parameters
    ----------
    fan : FanCurve or FixedFlow
        The fan.
    expected : ExpectedFlow
        Range on the day.
    flow_exponent : float
        Exponent of the house. [-]
    faults : iterable of PreparedOpening
        Openings found in another state than wanted.

    Returns
    -------
    FanChoice
        Reach at both ends, advice: preparation first, then search at whatever is reached, then the
        big hole, then more fan.

    References
    ----------
    [DERIVED] crossing of fan curve and house.
    """
    at_low, at_high = (
        pressure_reached(fan, PowerLawLeak.from_flow(q, flow_exponent=flow_exponent))
        for q in (expected.low, expected.high)
    )
    answer = "yes" if at_high.reaches_50 else "perhaps" if at_low.reaches_50 else "no"
    short = max(float(at_high.flow_needed - at_high.flow_at_50), 0.0)
    reached = min(float(at_high.pressure_difference), PRESSURE_REFERENCE)
    assumed = to_reference(1.0, reached, flow_exponent)
    errors = sorted(float(assumed / to_reference(1.0, reached, n) - 1.0) for n in _EXPONENTS)
    names = tuple(f"{line.opening.name} ({line.opening.found})" for line in faults)
    return FanChoice(fan, at_low, at_high, answer, names, short, (errors[0], errors[-1]))
