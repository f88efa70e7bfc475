"""How much does one leak pass, by its gap or by its draught? An order of size, never a measurement.

The speed of a jet at its gap shows the pressure across it and nothing of its size. Size shows in
how far the jet reaches: its middle keeps its speed for a few widths and then fades.
"""

from dataclasses import dataclass

import numpy as np

from airlab.physics.air import CLASSROOM_AIR
from airlab.physics.cracks import Crack
from airlab.physics.jets import PLANE_JET, ROUND_JET, jet_speed
from airlab.physics.openings import RoundHole, Slot
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    from_si,
    m3_per_h,
    require_between,
    require_positive,
    show,
)
from airlab.words.saying import said, said_range

__all__ = ["JET_WARNING", "LeakSize", "size_from_gap", "size_from_jet"]

JET_WARNING = (
    "The speed at a gap shows the pressure across it, not its size: a hairline and an open pipe "
    "blow alike."
)
_CORE = 0.9  # share of the full speed above which the probe sits in the core of the jet
_GAP_SPREAD = 0.2  # a gap is read to about a fifth, ours
_JET_FACTOR = 2.0  # a size from a jet is good to this factor at best, ours
_DEPTHS = (0.01, 0.1)  # m, where nobody knows how deep a gap goes


@dataclass(frozen=True, slots=True)
class LeakSize:
    """The size of one leak as a flow at 50 Pa: low, middle, high; None where nothing can be said.

    Parameters
    ----------
    low, middle, high : float or None
        Flow at 50 Pa. [m3/s]
    how : tuple
        From what: words, and pairs of an SI value with how it is shown.
    warnings : tuple of str
        What to mind.
    """

    low: float | None
    middle: float | None
    high: float | None
    how: tuple
    warnings: tuple[str, ...] = ()

    @property
    def at_least(self):
        """What it passes at least at 50 Pa, to three digits in m3/h; None where nothing can be said. [m3/s]."""
        return None if self.low is None else m3_per_h(float(show(from_si(self.low, "m3/h"))))

    def sentence(self, units="metric"):
        """Return the size in words, with what it comes from."""
        how = "".join(
            part if isinstance(part, str) else _shown(*part, units == "us") for part in self.how
        )
        if self.middle is None:
            return " ".join((f"No size from {how}.", *self.warnings))
        text = (
            f"About {said(self.middle, 'm3/s', units, digits=2)} at 50 Pa "
            f"({said_range(self.low, self.high, 'm3/s', units)}), from {how}. An order of size."
        )
        return " ".join((text, *self.warnings))


def _shown(value, small, us):
    unit = {"small": ("mm", "in"), "long": ("m", "ft"), "speed": ("m/s", "mph")}[small][us]
    return show(from_si(value, unit), unit)


def size_from_gap(width, length=None, depth=None):
    """Return the size of a leak from its gap.

    A round hole of that width, or with a length the smaller of a crack and a sharp slot.

    Parameters
    ----------
    width : float
        Width of the gap, or diameter where no length is given. [m]
    length : float or None
        Length of the gap. [m]
    depth : float or None
        How deep it goes; None takes 10 to 100 mm. [m]

    Returns
    -------
    LeakSize
        The gap is taken as read to a fifth either way.

    Raises
    ------
    InputError
        If a size is not above zero or too large.

    References
    ----------
    [BAKER1987] crack; [DERIVED] sharp slot and hole; [AIRLAB] how well a gap is read.

    Examples
    --------
    >>> from airlab.words import mm
    >>> size_from_gap(mm(20)).sentence()
    'About 6.3 m³/h at 50 Pa (4.04 to 9.08 m³/h), from a hole 20 mm across. An order of size.'
    """
    require_positive("width", width, "m", "If you meant millimetres, write mm(...).")
    ends = (1.0 - _GAP_SPREAD, 1.0, 1.0 + _GAP_SPREAD)
    if length is None:
        flows = [float(RoundHole(width * e).flow(PRESSURE_REFERENCE)) for e in ends]
        return LeakSize(*flows, ("a hole ", (width, "small"), " across"))
    deep = _DEPTHS if depth is None else (depth, depth)

    def flow(gap, at_depth):
        law = Crack(length, gap, at_depth), Slot(length, gap)
        return min(float(one.flow(PRESSURE_REFERENCE)) for one in law)

    low, high = flow(width * ends[0], deep[1]), flow(width * ends[2], deep[0])
    middle = flow(width, depth) if depth is not None else float(np.sqrt(low * high))
    how = ("a gap ", (width, "small"), " wide and ", (length, "long"), " long")
    warnings = () if depth is not None else ("How deep the gap goes is not known.",)
    return LeakSize(low, middle, high, how, warnings)


def size_from_jet(air_speed, distance, pressure_difference, length=None, air=CLASSROOM_AIR):
    """Return the size of a leak from how fast its jet still is at some distance.

    Round: ``d = x v / (6.2 v_0)``; long gap: ``h = x (v / (2.47 v_0))**2``; v_0 from the pressure.

    Parameters
    ----------
    air_speed : float
        Highest speed found across the jet. [m/s]
    distance : float
        From the gap to the probe. [m]
    pressure_difference : float
        Across the gap; only air that comes in makes a jet. [Pa]
    length : float or None
        Length of a long gap; None is a round hole. [m]
    air : Air or AirState
        The air that passes.

    Returns
    -------
    LeakSize
        Without a size where the probe sits in the core of the jet.

    Raises
    ------
    InputError
        If the speed is more than the pressure can make.

    Notes
    -----
    Still room air, a jet that does not cling to a wall. Numbers of the decay are from memory; good
    to a factor of two at best.

    References
    ----------
    [RAJARATNAM1976] decay of round and plane jets; [AIRLAB] the factor of two.

    Examples
    --------
    >>> size_from_jet(1.0, 0.3, 50.0).middle is not None
    True
    >>> size_from_jet(9.0, 0.01, 50.0).middle is None
    True
    """
    v = require_positive("air_speed", air_speed, "m/s")
    x = require_between("distance", distance, 0.0, 5.0, "m", "If you meant millimetres, write mm(...).")  # fmt: skip
    full = float(jet_speed(pressure_difference, air))
    if v > 1.05 * full:
        raise InputError(
            f"Air speed is {show(v, 'm/s')}. {show(abs(pressure_difference), 'Pa')} makes "
            f"{show(full, 'm/s')} at most. Check the pressure across the gap and the unit of the speed."
        )
    how = ((v, "speed"), " felt ", (x, "small"), " from the gap")
    if v >= _CORE * full:
        return LeakSize(None, None, None, how, (JET_WARNING, "Hold the probe further away."))
    if length is None:
        area = np.pi / 4.0 * (x * v / (ROUND_JET * full)) ** 2
    else:
        area = require_positive("length", length, "m") * x * (v / (PLANE_JET * full)) ** 2
    middle = float(area * jet_speed(PRESSURE_REFERENCE, air))
    ends = middle / _JET_FACTOR, middle, middle * _JET_FACTOR
    return LeakSize(*ends, how, (JET_WARNING,))
