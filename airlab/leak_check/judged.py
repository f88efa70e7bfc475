"""What does a reading say against what was expected, against the limit, and against the fan itself?"""

from dataclasses import dataclass
from math import exp

from airlab.fan_test import one_point_test
from airlab.leak_check.fan_choice import above_fan, below_range
from airlab.leak_check.readings import STAGES, CorrectedReading
from airlab.words import PRESSURE_REFERENCE, normal_point, show
from airlab.words.saying import said, said_range

__all__ = ["JudgedReading", "judge_reading"]

_NORMAL = normal_point(0.975)
_FAR = 3.0  # times outside the expected range from which a slip is asked for, ours
_PLACES = {
    "below": "below the range expected today",
    "inside": "inside the range expected today",
    "above": "above the range expected today",
    "kept": "the limit is kept",
    "missed": "the limit is missed",
}


@dataclass(frozen=True, slots=True)
class JudgedReading:
    """A reading at 50 Pa with its interval, held against what was expected.

    Parameters
    ----------
    corrected : CorrectedReading
        Zero taken off, brought to 50 Pa.
    spread : float
        Relative spread at 50 Pa: one test, the zero, the unknown exponent. [-]
    low, high : float
        95 % interval at 50 Pa. [m3/s]
    place : str
        "below", "inside" or "above" the expected range, empty where nothing is expected; of a final
        reading "kept" or "missed", the limit.
    below_fan : str
        Warning where the flow is below what the fan holds steady; else empty.
    unlikely : tuple of str
        Warnings where no such fan or house is known; a slip of the pen is likelier.
    """

    corrected: CorrectedReading
    spread: float
    low: float
    high: float
    place: str = ""
    below_fan: str = ""
    unlikely: tuple[str, ...] = ()

    @property
    def warnings(self):
        """What to look at, what weighs most first: of the fan, then of the reading."""
        more = (self.below_fan,) if self.below_fan else ()
        return (*self.unlikely, *more, *self.corrected.warnings)

    @property
    def reading(self):
        """The reading as typed."""
        return self.corrected.reading

    def sentence(self, units="metric"):
        """Return the reading, its interval, its place and the first thing to look at."""
        one = self.corrected
        way = "suction" if one.direction == "depressurise" else "blowing in"
        text = (
            f"Reading {self.reading.name}, {way}: reached "
            f"{show(abs(one.pressure_difference), 'Pa')} at {said(one.flow, 'm3/s', units)}. "
            f"At 50 Pa that is {said(one.flow_50, 'm3/s', units)}, "
            f"{said_range(self.low, self.high, 'm3/s', units)} with the spread of a test (95 %)"
        )
        text += f": {_PLACES[self.place]}." if self.place else "."
        return " ".join((text, *self.warnings[:1]))


def judge_reading(corrected, assumptions, expected=None, fans=(), limit_flow=None, count=1):
    """Return a corrected reading with its interval and its place in the expected range.

    ``low, high = Q_50 exp(-+ 1.96 u)``, u from one test, the change of the zero and the exponent.

    Parameters
    ----------
    corrected : CorrectedReading
        The reading at 50 Pa.
    assumptions : Assumptions
        Spread of one test, exponent and its spread.
    expected : ExpectedFlow or None
        What was expected on the day.
    fans : iterable of FanCurve
        One for each ring or speed, to warn below the lowest flow it holds steady.
    limit_flow : float or None
        The limit, against which a final reading is held. [m3/s]
    count : int
        Number of fans that may run together.

    Returns
    -------
    JudgedReading
        With an empty place where nothing was expected.
    """
    zeros = (corrected.reading.zero_before, corrected.reading.zero_after)
    moved = 0.0 if None in zeros else abs(zeros[1] - zeros[0]) / 2.0
    one = one_point_test(
        corrected.pressure_difference, corrected.flow, assumptions["test_uncertainty"], moved,
        assumptions["flow_exponent"], assumptions["exponent_spread"],
    )  # fmt: skip
    spread = float(one.relative_spread(PRESSURE_REFERENCE))
    flow = corrected.flow_50
    place = expected.compare(flow) if expected else ""
    if corrected.reading.stage == STAGES[3]:
        place = "" if limit_flow is None else "missed" if flow > limit_flow else "kept"
    unlikely = [above_fan(corrected.reading, fans, count)]
    if expected and not expected.low / _FAR <= flow <= _FAR * expected.high:
        unlikely.append(
            f"Reading {corrected.reading.name}: far from what is expected today. A digit too many or too "
            "few, another unit? Read again."
        )
    reach = _NORMAL * spread
    return JudgedReading(corrected, spread, flow * exp(-reach), flow * exp(reach), place,
                         below_range(corrected.reading, fans), tuple(filter(None, unlikely)))  # fmt: skip
