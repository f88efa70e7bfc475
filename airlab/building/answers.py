"""What do people ask of a number? Is it good, where is it, what does a fix gain, may I cover?

A lone number answers none of the four. Each answer here says what the number can tell and what
has to be looked at instead.
"""

from dataclasses import dataclass

from airlab.building.metrics import leakage_flow_from, metric, metric_value
from airlab.words import display_unit, from_si, label, show, show_percent

__all__ = ["QUESTIONS", "Answers", "four_answers"]

QUESTIONS = ("Is it good?", "Where is it?", "What does a fix gain?", "May I cover it?")
_NAMED = 3  # areas named before the rest is counted


@dataclass(frozen=True, slots=True)
class Answers:
    """The four answers, one or more sentences each."""

    good: str
    where: str
    gain: str
    cover: str

    def __iter__(self):
        """Yield (question, answer)."""
        return iter(zip(QUESTIONS, (self.good, self.where, self.gain, self.cover)))

    def sentence(self, units="metric"):
        """Return the four questions with their answers."""
        return " ".join(f"{question} {answer}" for question, answer in self)


def four_answers(found, envelope=(), limit=None, aim=None, what="result", units="metric"):
    """Return the four answers for one leakage of a house.

    Parameters
    ----------
    found : Indicators
        The leakage in every form.
    envelope : iterable of EnvelopeElement
        Areas with the state of their layer.
    limit : Limit or None
        What it is held against.
    aim : Aim or None
        The value to aim for under that limit.
    what : str
        What the number is: "result" or "target".
    units : str
        'metric' or 'us'.

    Returns
    -------
    Answers
        Good, where, gain, cover.
    """
    return Answers(
        _good(found, limit, aim, what),
        "A number does not say where. With 50 Pa on the house every leak can be felt; "
        "notebook 07 plans the search.",
        _gain(found, units),
        _cover(tuple(envelope)),
    )


def _good(found, limit, aim, what):
    if limit is None:
        return "Only against a limit. Enter the one of your contract; check your local rules."
    value = metric_value(
        limit.metric, found.leakage_flow, found.geometry, found.flow_exponent, unit=limit.unit
    )
    spare = 1.0 - value / limit.value
    at = metric(limit.metric).at_pressure
    text = f"The {what} is {show(value, limit.unit)} {at}".rstrip()
    text += f", {limit.document} is {limit.shown()}: "
    if abs(spare) < 5e-4:
        text += "exactly on it."
    elif spare > 0.0:
        text += f"inside, {show_percent(spare)} to spare."
    else:
        text += f"over by {show_percent(-spare)}."
    if aim is None:
        return text
    side = "inside" if value <= aim.aim * (1.0 + 1e-9) else "above"
    if what == "target":
        odds = show_percent(aim.chance_at(value))
        held = "your past results hold" if aim.history else "the assumed spread holds"
        text += f" Houses that aim there pass in {odds} of cases, if {held}."
    return (
        f"{text} To be {show_percent(aim.confidence)} sure, aim for {aim.shown(aim.aim)}; "
        f"this is {side} the aim. Settle the ventilation before praising a low number."
    )


def _gain(found, units):
    hole, size = ("in2", 1.0) if units == "us" else ("cm2", 10.0)
    flow = leakage_flow_from("hole50", size, unit=hole)
    unit = display_unit("m3/s", units)
    parts = [show(from_si(flow, unit), unit)]
    for key in ("n50", "qE50"):
        one, entry = metric(key), found[key]
        if entry.value is not None:
            shown = display_unit(one.unit, units)
            change = metric_value(key, flow, found.geometry, unit=shown)
            parts.append(show(change, shown, 2))
    return (
        f"Sealing {show(size)} {label(hole)} of sharp hole takes {', '.join(parts)} off at 50 Pa. "
        "What a real fix gained, two readings say: notebook 08."
    )


def _cover(envelope):
    start = "No number releases an area. "
    if not envelope:
        return start + "Enter the areas of the envelope and the state of each."
    unready = [one for one in envelope if one.status in ("not started", "open laps")]
    if not unready:
        return start + "Every area is complete or covered; notebook 08 releases them one by one."
    names = ", ".join(f"{one.area} ({one.status})" for one in unready[:_NAMED])
    rest = len(unready) - _NAMED
    more = f" and {rest} more" if rest > 0 else ""
    return f"{start}Not yet: {names}{more}. Notebook 08 releases area by area."
