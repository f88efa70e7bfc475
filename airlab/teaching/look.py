"""Was it seen right? About one look in five is not; what was written down is held beside the run."""

import math

from airlab.physics import FanHeldVolume, SealedVessel
from airlab.words import show_duration

__all__ = ["FLOW_COURSES", "flow_course", "look_again", "nearest_option", "why_so"]

FLOW_COURSES = ("stayed nearly even", "fell all the way", "grew")
_EVEN = 0.8  # flow when half the air has left, over flow at the start
_CLOSE = 1.1


def flow_course(record):
    """Return how the leak flow of a drain went until half of the air had left.

    Parameters
    ----------
    record : Drain
        What drained.

    Examples
    --------
    >>> from airlab.physics import Balloon, RoundHole, drain
    >>> [flow_course(drain(Balloon(hole_mode=m), RoundHole(0.002))) for m in ("rigid", "free")]
    ['stayed nearly even', 'fell all the way']
    """
    if not record.drains:
        return FLOW_COURSES[0]
    share = record.at(record.half_time).flow / record.flow_at_start
    even, fell, grew = FLOW_COURSES
    return even if _EVEN <= share <= 1.0 / _EVEN else fell if share < 1.0 else grew


def look_again(record, seconds, course):
    """Return what was seen wrong, in words; empty if it was seen right.

    Parameters
    ----------
    record : Drain
        What drained.
    seconds : float
        When it was flat, as seen. [s]
    course : str
        One of `FLOW_COURSES`, as seen.
    """
    if not record.drains:
        return "Look again: nothing left it."
    told = []
    if not 1.0 / _CLOSE <= seconds / record.time_to_flat <= _CLOSE:
        told.append(f"the clock stopped at {show_duration(record.time_to_flat)}")
    if course != flow_course(record):
        told.append(f"the leak flow {flow_course(record)}")
    return f"Look again: {' and '.join(told)}." if told else ""


def why_so(record):
    """Return why the leak flow went as it did, in words.

    Parameters
    ----------
    record : Drain
        What drained.
    """
    if not record.drains:
        return "Without a hole nothing drains."
    if isinstance(record.vessel, FanHeldVolume):
        return "The fan keeps the pressure, so the flow stays."
    if isinstance(record.vessel, SealedVessel):
        return "Only squeezed air pushes. Each bit that leaves takes some of the push with it."
    if flow_course(record) == FLOW_COURSES[0]:
        return "Rubber pushes almost evenly all the way, and the hole keeps its size."
    return "The rubber pushes almost evenly, but the hole shrinks with it."


def nearest_option(options, value):
    """Return the value of the option that is nearest by its factor.

    Parameters
    ----------
    options : sequence of tuple
        Pairs (value above zero, words).
    value : float
        What came out.

    Examples
    --------
    >>> nearest_option(((10.0, "10 s"), (60.0, "1 min")), 15.0)
    10.0
    """
    if not 0.0 < value < math.inf:
        return None
    return min((one for one, _ in options), key=lambda one: abs(math.log(one / value)))
