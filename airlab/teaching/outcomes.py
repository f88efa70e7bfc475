"""What should a learner know and be able to do, and which exercise serves which outcome?

The outcomes are this project's wording of what public curricula ask for. New exercises carry their
outcome and level themselves; those of the first notebooks are placed here.
"""

from dataclasses import replace

__all__ = ["OUTCOMES", "placed"]

OUTCOMES = {
    "K1": "say what the airtight layer, the wind barrier and the vapour layer each do",
    "K2": "name ten places where a given construction usually leaks",
    "K3": "say what 50 Pa is, and what it is not",
    "K4": "tell apart leakage by volume, by envelope and by floor",
    "K5": "say what leaks do to heat, comfort, moisture and fresh air",
    "K6": "say who does what, and where work stops until someone has looked",
    "K7": "go through the hazards before a fan runs",
    "K8": "say why both directions are read, and why preparation is written down",
    "D1": "draw the unbroken line on a plan and two sections",
    "D2": "work out volume, envelope, n50 and qE50 by hand",
    "D3": "make a leakage budget",
    "D4": "choose a kind of material for two surfaces, and say why",
    "D5": "close a corner, a pipe and a window reveal",
    "D6": "write the schedule of openings",
    "D7": "read a gauge, take its zero off, judge the points",
    "D8": "find, tag, fix and read again, and keep the log",
    "D9": "decide go or not yet, with the reason",
    "D10": "explain a result to the people who live there, in three sentences",
    "T1": "see and mend what a class gets wrong",
}

_PLACED = {
    "K1": "02-7",
    "K2": "01-5* 02-9",
    "K3": "01-1* 01-2 01-3 01-6+ 01-7 02-1 02-4+ 05-7 05-8+ 09-4+",
    "K4": "04-3 04-4 05-1 05-3 05-5 05-6 05-s",
    "K5": "02-5 05-4",
    "K6": "01-4 03-9* 03-10 07-4",
    "K7": "07-2 07-3*",
    "K8": "09-3+",
    "D1": "03-7* 03-8 03-12",
    "D2": "02-2 02-6* 02-8+ 04-1* 04-2 05-2* 07-1",
    "D3": "02-3 03-11 06-1 06-2 06-3+ 06-4",
    "D7": "09-1 09-2* 09-5 09-6+",
    "D8": "03-1 03-2+ 03-3 03-4 08-1 08-2+",
    "D9": "08-3 08-4 08-5+",
}
_SIGNS = {"*": "start", "+": "stretch"}
_PLACE = {
    word.rstrip("*+"): {"outcome": outcome, "level": _SIGNS.get(word[-1], "core")}
    for outcome, words in _PLACED.items()
    for word in words.split()
}


def placed(exercise, base=None):
    """Return the exercise with its outcome and level; those it carries itself stay.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    base : str or None
        Key it is listed under, where that is another than its own.
    """
    place = None if exercise.outcome else _PLACE.get(base or exercise.key)
    return replace(exercise, **place) if place else exercise
