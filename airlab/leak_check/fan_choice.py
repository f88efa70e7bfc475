"""Can this fan bring this house to 50 Pa, and if not, what is done, in which order?"""

from dataclasses import dataclass

from airlab.leak_check.readings import to_reference
from airlab.leak_check.saying import listed, said
from airlab.physics.fans import FanCurve, FanReach, pressure_reached
from airlab.physics.openings import PowerLawLeak
from airlab.words import PRESSURE_REFERENCE, InputError, m3_per_h, show, show_percent

__all__ = ["FanChoice", "fan_choice", "fan_from_settings"]

_EXPONENTS = (0.55, 0.75)


def fan_from_settings(fan):
    """Return the fan curve of a job's settings, None if there is none.

    Parameters
    ----------
    fan : dict or None
        `name` and `points`, pairs of pressure [Pa] and flow [m3/h].

    Raises
    ------
    InputError
        If the points are no pairs of numbers, or flow does not fall with pressure.
    """
    if not fan or not fan.get("points"):
        return None
    try:
        points = [(float(p), m3_per_h(float(q))) for p, q in fan["points"]]
    except (TypeError, ValueError):
        raise InputError(
            "Fan points are not pairs of numbers. Enter pressure in Pa and flow in m³/h."
        ) from None
    return FanCurve.from_points(points, name=fan.get("name") or "fan")


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

    def sentence(self, units="metric"):
        """Return whether 50 Pa is reached, and the first advice."""
        worst, best = self.at_high.pressure_difference, self.at_low.pressure_difference
        if self.answer == "yes":
            return (
                f"{self.fan.name} reaches 50 Pa even at {said(self.at_high.flow_needed, 'm3/s', units)}: "
                f"it can move {said(self.at_high.flow_at_50, 'm3/s', units)} there."
            )
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
