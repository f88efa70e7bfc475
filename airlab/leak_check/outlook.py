"""What would the drift say if the house read at one end, or at the other, of what is expected?

A look ahead for whoever plans: the number by the drift as on the day, asked with a reading that nobody
has taken yet; a budget is asked once there is a reading. Areas that are held back whatever the number are named.
"""

from dataclasses import dataclass

from airlab.leak_check.house_number import house_number
from airlab.leak_check.plan import _gather, decide, make_plan
from airlab.leak_check.prepare import has_film
from airlab.leak_check.release import NOT_YET, AreaRelease
from airlab.leak_check.tables import Reading
from airlab.words import PRESSURE_REFERENCE, InputError, show_percent
from airlab.words.saying import listed, said_range

__all__ = ["Outlook", "assumed_in", "outlook"]


@dataclass(frozen=True, slots=True)
class Outlook:
    """The decision looked at before the day.

    Parameters
    ----------
    low, high : float or None
        Expected flow at 50 Pa; None where no number may be read. [m3/s]
    at_low, at_high : float or None
        Probability by the drift that the final flow is within the limit if today's reading is there. [-]
    confidence : float
        How sure one wants to be. [-]
    held : tuple of AreaRelease
        Areas held back whatever the number, each with its reasons.
    areas : int
        Areas in all. [-]
    why_no_number : str
        Why there is no number; empty where there is one.
    """

    low: float | None
    high: float | None
    at_low: float | None
    at_high: float | None
    confidence: float
    held: tuple[AreaRelease, ...]
    areas: int
    why_no_number: str = ""

    def sentence(self, units="metric"):
        """Return both ends and what is held, in words."""
        text = ""
        if self.low is not None:
            text = f"Expect {said_range(self.low, self.high, 'm3/s', units)} at 50 Pa on the day. "
        if self.at_low is None:
            text += self.why_no_number
        else:
            text += (
                f"By the drift the chance to keep the limit is then {show_percent(self.at_low)} at the low end, "
                f"{show_percent(self.at_high)} at the high end; wanted: "
                f"{show_percent(self.confidence)}."
            )
        if not self.areas:
            return f"{text} No area is entered, so none can be released."
        if not self.held:
            return f"{text} No area is held back."
        names = listed([one.area for one in self.held], most=3)
        return (
            f"{text} Held back whatever is read: {len(self.held)} of {self.areas} areas: {names}."
        )


def assumed_in(plan):
    """Return the keys of the assumptions that the figures of a plan stand on.

    Parameters
    ----------
    plan : CheckPlan
        The plan.
    """
    status = {area.status for area in plan.areas}
    keys = ["bad_day_low", "bad_day_high"]
    for state in ("open laps", "not started"):
        if state in status:
            keys += [f"{state.replace(' ', '_')}_{end}" for end in ("low", "high")]
    if plan.expected and any(line.kind == "joint" for line in plan.expected.lines):
        keys += ["open_joint_low", "open_joint_high"]
    keys += plan.state.drift_keys
    keys += [key for one in plan.expected.holes for key in one.keys] if plan.expected else []
    keys += ["hidden_share"] if plan.preparation.hiding else []
    keys += ["later_layer_share"] if plan.state.later_layer_share else []
    keys += ["one_direction_spread"] if any(map(has_film, plan.areas)) else []
    return tuple(dict.fromkeys([*keys, "test_uncertainty", "flow_exponent"]))


def outlook(job=None, plan=None, **parts):
    """Return the decision at both ends of the expected flow, before any reading.

    Parameters
    ----------
    job : object or None
        As for `make_plan`.
    plan : CheckPlan or None
        Its plan, if it was made already.
    **parts : object
        As for `make_plan`.

    Returns
    -------
    Outlook
        Probabilities, areas held back.

    Raises
    ------
    InputError
        As for `make_plan`.
    """
    plan, (found, settings) = plan or make_plan(job, **parts), _gather(job, parts)
    try:
        decided = decide(job, **{**parts, "readings": ()})
    except InputError:  # no room or no area is entered: the plan stands, a release does not
        why = "Nothing can be decided yet: rooms or areas are missing."
        return Outlook(None, None, None, None, plan.confidence, (), 0, why)
    held = tuple(one for one in decided.areas if one.verdict == NOT_YET)
    expected, count = plan.expected, len(decided.areas)
    if expected is None:
        why = "A hazard stops the fan, so there is no number."
        return Outlook(None, None, None, None, plan.confidence, held, count, why)

    def chance(flow):
        number = house_number(
            plan.areas, plan.geometry, plan.limit,
            (Reading("supposed", PRESSURE_REFERENCE, flow),), found["openings"], found["trades"],
            found["holes"], plan.confidence, settings.get("direction"), plan.assumptions,
        )  # fmt: skip
        return number and number.probability

    why = "" if expected.state.number_counts else plan.state.sentence()
    return Outlook(
        expected.low, expected.high, chance(expected.low), chance(expected.high), plan.confidence,
        held, count, why,
    )  # fmt: skip
