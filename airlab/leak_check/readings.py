"""What flow at 50 Pa does a reading of the gauge stand for, and how sure is it?

People type sizes and choose a direction; the sign is kept here. The zero-flow pressure is taken
off, the flow is brought to 50 Pa, and what the unknown flow exponent does to it is said.
"""

from dataclasses import dataclass

import numpy as np

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.tables import DIRECTIONS, Reading
from airlab.physics.air import moist_air_density
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    require_between,
    require_choice,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import listed, said, said_range

__all__ = [
    "STAGES",
    "CorrectedReading",
    "HouseFlow",
    "correct_reading",
    "final_flow",
    "house_flow",
    "stages_of",
    "to_reference",
]

# Offered for the column `stage`; the second marks a change that is preparation, not gain, the last a
# reading of the house as it stood at the reading before.
STAGES = ("first reading", "preparation put right", "after sealing", "final", "repeat")
_ZERO_LIMIT = 5.0  # Pa, either way
_MOST_PRESSURE = 100.0  # Pa; where series of ISO 9972 end (from memory)
_EXPONENT_RANGE = (0.55, 0.75)  # taken where a house's flow exponent is not known


def to_reference(flow, pressure, flow_exponent=0.65):
    """Return the flow brought to 50 Pa: ``Q (50 / p)^n``.

    Parameters
    ----------
    flow : float or array
        Flow at the pressure read. [m3/s]
    pressure : float or array
        Size of the pressure difference. [Pa]
    flow_exponent : float or array
        Exponent of the house. [-]

    Returns
    -------
    float or array
        Flow at 50 Pa. [m3/s]

    Examples
    --------
    >>> round(float(to_reference(1.0, 40.0, 0.55) / to_reference(1.0, 40.0, 0.65)), 4)
    0.9779
    """
    require_positive("flow", flow, "m3/s")
    require_positive("pressure", pressure, "Pa")
    return flow * np.power(PRESSURE_REFERENCE / np.asarray(pressure), flow_exponent)


@dataclass(frozen=True, slots=True)
class CorrectedReading:
    """A reading with its zero taken off and its flow brought to 50 Pa.

    Parameters
    ----------
    reading : Reading
        As typed.
    direction : str
        Way the fan blew.
    pressure_difference : float
        Induced by the fan, inside minus outside. [Pa]
    zero : float or None
        Mean zero-flow pressure; None if not read. [Pa]
    flow : float
        Flow through the envelope at that pressure. [m3/s]
    flow_50, flow_50_low, flow_50_high : float
        At 50 Pa with the assumed exponent; with exponents 0.55 to 0.75. [m3/s]
    exponent_part : float
        Relative spread that the unknown exponent adds. [-]
    warnings : tuple of str
        What to look at.
    """

    reading: Reading
    direction: str
    pressure_difference: float
    zero: float | None
    flow: float
    flow_50: float
    flow_50_low: float
    flow_50_high: float
    exponent_part: float
    warnings: tuple[str, ...] = ()

    @property
    def reached_50(self):
        """Whether the fan reached 50 Pa, to the half pascal."""
        return abs(self.pressure_difference) >= PRESSURE_REFERENCE - 0.5

    def sentence(self, units="metric"):
        """Return the reading in words."""
        way = "suction" if self.direction == "depressurise" else "blowing in"
        text = (
            f"Reading {self.reading.name}, {way}: reached "
            f"{show(abs(self.pressure_difference), 'Pa')} at {said(self.flow, 'm3/s', units)}."
        )
        if not self.reached_50:
            text += (
                f" Brought to 50 Pa that is {said(self.flow_50, 'm3/s', units)}; the flow exponent is "
                f"not known, so it can be "
                f"{said_range(self.flow_50_low, self.flow_50_high, 'm3/s', units)}."
            )
        elif abs(self.flow_50 / self.flow - 1.0) > 0.005:
            text += f" At 50 Pa that is {said(self.flow_50, 'm3/s', units)}."
        return " ".join((text, *self.warnings))


def correct_reading(reading, assumptions=None, temperatures=None, direction=None):
    """Return a reading with its zero taken off, signed, and brought to 50 Pa.

    ``dp = dp_read - (zero_before + zero_after) / 2``; ``Q_50 = Q (50 / |dp|)^n``

    Parameters
    ----------
    reading : Reading
        Sizes as typed.
    assumptions : Assumptions or None
        Flow exponent and its spread.
    temperatures : dict or None
        Inside and outside temperature; given, the fan flow becomes the flow through the envelope.
        [C]
    direction : str or None
        Used where the reading has none.

    Returns
    -------
    CorrectedReading
        Signed pressure difference, flows, warnings.

    Raises
    ------
    InputError
        If no direction is known or the zero is as large as the reading.

    Notes
    -----
    Mass in equals mass out: with suction the fan moves indoor air and the leaks pass outdoor air,
    so Q = Q_fan rho_in / rho_out; blowing in, the inverse. The fan's own calibration to the
    density in it is taken as done.

    References
    ----------
    [PASSIPEDIA] mean zero within 5 Pa; [ATTMA2010] flow of the envelope from the fan flow.
    """
    given = assumptions or Assumptions()
    way = reading.direction or direction
    if way is None:
        raise InputError(
            f"Reading {reading.name} has no direction. Choose depressurise or pressurise."
        )
    require_choice("direction", way, DIRECTIONS)
    warnings = []
    zeros = [z for z in (reading.zero_before, reading.zero_after) if z is not None]
    zero = sum(zeros) / len(zeros) if zeros else None
    sign = -1.0 if way == "depressurise" else 1.0
    induced = sign * reading.pressure - (zero or 0.0)
    if sign * induced <= 0.0:
        raise InputError(
            f"Reading {reading.name}: pressure {show(reading.pressure, 'Pa')} with a zero of "
            f"{show(zero, 'Pa')}. The fan makes no pressure of its own. Check the direction and the "
            "sign of the zero: inside minus outside."
        )
    if zero is not None and abs(zero) > _ZERO_LIMIT:
        warnings.append(f"The mean zero is {show(zero, 'Pa')}, beyond 5 Pa: too windy or too cold.")
    if len(zeros) == 2 and abs(zeros[1] - zeros[0]) > given["zero_change"]:
        warnings.append("The zero moved during the reading. Read again.")
    size = abs(induced)
    if size > _MOST_PRESSURE:
        warnings.insert(0, "Over 100 Pa: film may tear, and fan tests end there. Lower the fan; look "
                        "at the gauge again.")  # fmt: skip
    if size < 10.0:
        warnings.insert(0, "Under 10 Pa wind and zero weigh heavily: no number to build on.")
    if zero is None:
        warnings.append(
            "No zero-flow pressure was read; it is taken as 0 Pa, and 1 Pa of it is about 1.3 % of "
            "the flow at 50 Pa."
        )
    flow = reading.flow
    if temperatures and None not in (temperatures.get("inside"), temperatures.get("outside")):
        inside, outside = (
            moist_air_density(require_between(f"{where}_temperature", temperatures[where], -40, 50, "C"))
            for where in ("inside", "outside")
        )  # fmt: skip
        flow *= (inside / outside) ** -sign
    n = given["flow_exponent"]
    ends = [float(to_reference(flow, size, e)) for e in (*_EXPONENT_RANGE, n)]
    return CorrectedReading(
        reading,
        way,
        induced,
        zero,
        flow,
        float(to_reference(flow, size, n)),
        min(ends),
        max(ends),
        float(abs(np.log(PRESSURE_REFERENCE / size)) * given["exponent_spread"]),
        tuple(warnings),
    )


@dataclass(frozen=True, slots=True)
class HouseFlow:
    """The leakage flow a decision rests on.

    Parameters
    ----------
    flow_50 : float
        Leakage flow at 50 Pa. [m3/s]
    exponent_part : float
        Relative spread that the unknown exponent adds. [-]
    used : tuple of CorrectedReading
        The readings it comes from.
    """

    flow_50: float
    exponent_part: float
    used: tuple[CorrectedReading, ...]

    @property
    def both_directions(self):
        """Whether it is the mean of suction and blowing in."""
        return len(self.used) > 1

    def sentence(self, units="metric"):
        """Return the flow and where it comes from."""
        names = listed([one.reading.name for one in self.used])
        text = f"Today's leakage flow is {said(self.flow_50, 'm3/s', units)} at 50 Pa (reading {names})."
        if self.both_directions:
            text += " It is the mean of both directions."
        else:
            text += " Only one direction was read; film can act as a flap, so read the other too."
        if self.exponent_part > 0.0005:
            reached = show(min(abs(one.pressure_difference) for one in self.used), "Pa")
            text += (
                f" The fan reached {reached}; bringing it to 50 Pa adds "
                f"{show_percent(self.exponent_part)} of spread."
            )
        return text


def final_flow(corrected):
    """Return the flow at 50 Pa of the final readings, the mean over both directions. [m3/s].

    Parameters
    ----------
    corrected : iterable of CorrectedReading
        In the order they were taken; the last final of each direction counts.

    Returns
    -------
    float or None
        None without a final reading.
    """
    last = {one.direction: one.flow_50 for one in corrected if one.reading.stage == STAGES[3]}
    return sum(last.values()) / len(last) if last else None


def stages_of(readings):
    """Return the stage of the house at each reading: a repeat has that of the reading before it.

    Parameters
    ----------
    readings : iterable of Reading
        In the order they were taken.

    Examples
    --------
    >>> from airlab.leak_check import Reading
    >>> stages_of(Reading(n, 50.0, 0.2, stage=s) for n, s in (("1", "after sealing"), ("2", "repeat")))
    ('after sealing', 'after sealing')
    """
    found, last = [], STAGES[0]
    for one in readings:
        last = last if one.stage == STAGES[4] else one.stage
        found.append(last)
    return tuple(found)


def house_flow(corrected):
    """Return the flow of the last reading, averaged with the other direction of the same stage.

    Parameters
    ----------
    corrected : iterable of CorrectedReading
        In the order they were taken or typed; times, where given, go first.

    Returns
    -------
    HouseFlow or None
        None without a reading. A reading of stage 'final' is left out.
    """
    usable = [one for one in corrected if one.reading.stage != "final"]
    if not usable:
        return None
    order, clock = [], float("-inf")
    for index, one in enumerate(usable):
        clock = one.reading.at.timestamp() if one.reading.at else clock
        order.append((clock, index, one))
    order.sort(key=lambda entry: entry[:2])
    last = order[-1][2]
    stages = stages_of(one.reading for _, _, one in order)
    other = [
        one
        for (_, _, one), stage in zip(order, stages)
        if one.direction != last.direction and stage and stage == stages[-1]
    ]
    used = (other[-1], last) if other else (last,)
    flow = sum(one.flow_50 for one in used) / len(used)
    return HouseFlow(flow, max(one.exponent_part for one in used), used)
