"""What is assumed, and not measured, when a check is planned and judged?

Every assumption has a name, a value a person may change, a range that is still plausible, and a
source. None of them is data: no source gives a distribution of the drift from the check to the
end of the build.
"""

from dataclasses import dataclass, replace

from airlab.building.components import component
from airlab.design import TEST_SPREAD
from airlab.design.entries import LATER_SHARE
from airlab.design.spread import SHARED_WORKMANSHIP
from airlab.words import InputError, convert, display_unit, from_si, require_between, show, to_si

__all__ = ["ASSUMPTIONS", "Assumption", "Assumptions", "assumptions_from"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """One assumption: value and plausible range in its unit, what is allowed, meaning, source."""

    key: str
    value: float
    unit: str
    low: float
    high: float
    least: float
    most: float
    meaning: str
    source: str = "AIRLAB"
    changed: bool = False

    def __post_init__(self):
        require_between(self.key, self.value, self.least, self.most, self.unit)

    @property
    def si(self):
        """The value in SI units."""
        return to_si(self.value, self.unit)

    def shown_unit(self, units="metric"):
        """Return the unit in which people see and type it."""
        return display_unit(self.unit, units)

    def said(self, units="metric", value=None):
        """Return its value, or another one in its unit, as people see it."""
        shown = self.shown_unit(units)
        return show(convert(self.value if value is None else value, self.unit, shown), shown)

    def sentence(self, units="metric"):
        """Return the assumption in one line."""
        whose = "yours" if self.changed else "ours, change it"
        return f"{self.meaning[:1].upper()}{self.meaning[1:]}: {self.said(units)} ({whose})."


_FLOW = "m3/(h.m2)"
_JOINT = component("joint open")  # the same joint as in the leakage budget


def _joint(end, flow, *rest):
    """Return the row of what a metre of open joint adds, with how the catalogue knows it."""
    meaning = f"{end} an open joint adds for its length at 50 Pa ({_JOINT.status})"
    return (from_si(flow, "m3/h"), "m3/(h.m)", *rest, 0.0, 100.0, meaning, _JOINT.source)


# key, value, unit, plausible low and high, allowed least and most, meaning, source
ASSUMPTIONS = tuple(Assumption(*row) for row in (
    ("bad_day_low", 1.0, "-", 0.5, 2.0, 0.1, 20.0, "lower bad-day factor on the target flow"),
    ("bad_day_high", 3.0, "-", 1.5, 5.0, 0.1, 20.0, "upper bad-day factor on the target flow"),
    ("open_laps_low", 0.5, _FLOW, 0.1, 2.0, 0.0, 100.0,
     "least an area with open laps adds at 50 Pa"),
    ("open_laps_high", 5.0, _FLOW, 2.0, 10.0, 0.0, 100.0,
     "most an area with open laps adds at 50 Pa"),
    ("not_started_low", 5.0, _FLOW, 1.0, 20.0, 0.0, 1000.0,
     "least an area without its layer adds at 50 Pa"),
    ("not_started_high", 50.0, _FLOW, 20.0, 200.0, 0.0, 1000.0,
     "most an area without its layer adds at 50 Pa"),
    ("open_joint_low", *_joint("least", _JOINT.low, 1.0, 12.0)),
    ("open_joint_high", *_joint("most", _JOINT.high, 12.0, 50.0)),
    ("drift_later_layers", 0.85, "-", 0.70, 1.00, 0.2, 5.0,
     "final flow over today's, middle case, when later layers add tightness"),
    ("drift_later_layers_spread", 0.10, "-", 0.05, 0.20, 0.0, 2.0,
     "spread of final flow over today's, when later layers add tightness, as a logarithm"),
    ("drift_nothing_to_come", 1.00, "-", 0.90, 1.10, 0.2, 5.0,
     "final flow over today's, middle case, when nothing is to come"),
    ("drift_nothing_to_come_spread", 0.10, "-", 0.05, 0.20, 0.0, 2.0,
     "spread of final flow over today's, when nothing is to come, as a logarithm"),
    ("drift_services", 1.10, "-", 1.00, 1.20, 0.2, 5.0,
     "final flow over today's, middle case, when services are to come"),
    ("drift_services_spread", 0.20, "-", 0.10, 0.30, 0.0, 2.0, "spread of final flow over today's, when services are to come, as a logarithm"),
    ("drift_open_laps", 1.00, "-", 0.85, 1.20, 0.2, 5.0,
     "final flow over today's, middle case, while laps are open"),
    ("drift_open_laps_spread", 0.20, "-", 0.10, 0.30, 0.0, 2.0, "spread of final flow over today's, while laps are open, as a logarithm"),
    ("later_layer_share", 0.5, "-", 0.3, 0.9, 0.0, 1.0,
     "share of the envelope that a later layer must cover before it counts"),
    ("test_uncertainty", TEST_SPREAD, "-", 0.01, 0.10, 0.0, 0.5,
     "spread of one test, counted for today's and for the final", "REPEAT_2011"),
    ("shared_workmanship", SHARED_WORKMANSHIP, "-", 0.2, 0.8, 0.0, 1.0,
     "share of the spread of hand-made lines that they have in common, in the budget"),
    ("later_layer_leaves", LATER_SHARE, "-", 0.3, 0.8, 0.05, 1.0,
     "what a later layer leaves of the leakage it covers, in the budget"),
    ("flow_exponent", 0.65, "-", 0.55, 0.75, 0.5, 1.0, "flow exponent of the house"),
    ("exponent_spread", 0.07, "-", 0.04, 0.10, 0.0, 0.2, "spread of the flow exponent", "HOUSE_N"),
    ("hole_diameter", 20.0, "mm", 10.0, 50.0, 1.0, 500.0,
     "diameter of a trade's hole where none is given"),
    ("left_open_briefed", 0.1, "-", 0.0, 0.3, 0.0, 1.0,
     "share of holes left open by a briefed trade"),
    ("left_open_unbriefed", 0.3, "-", 0.1, 0.6, 0.0, 1.0,
     "share of holes left open by a trade not briefed"),
    ("hidden_share", 0.1, "-", 0.0, 0.5, 0.0, 1.0,
     "leak hidden behind a seal for the day, as a share of the opening's free area"),
    ("final_volume_ratio", 1.0, "-", 0.95, 1.0, 0.5, 1.5, "final volume over today's volume"),
    ("final_area_ratio", 1.0, "-", 0.95, 1.0, 0.5, 1.5, "final envelope area over today's"),
    ("one_direction_spread", 0.05, "-", 0.0, 0.10, 0.0, 0.5,
     "spread added where one direction alone was read and film can act as a flap"),
    ("repeat_spread", 0.015, "-", 0.01, 0.02, 0.001, 0.5,
     "spread of a repeat by the same people", "PRIGNON2025"),
    ("other_people_spread", 0.024, "-", 0.02, 0.04, 0.001, 0.5,
     "spread of a repeat by other people", "REPEAT_2011"),
    ("zero_change", 2.0, "Pa", 1.0, 3.0, 0.0, 20.0,
     "change of the zero-flow pressure between two readings that is flagged"),
    ("fix_days", 2.0, "-", 1.0, 5.0, 0.0, 60.0,
     "working days kept for fixes between the check and what hides the layer"),
    ("camera_contrast", 10.0, "K", 5.0, 15.0, 1.0, 50.0,
     "temperature difference a thermal camera wants", "TRADE"),
))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Assumptions:
    """All assumptions of a job; `assumptions["key"]` is the value in SI units."""

    entries: tuple[Assumption, ...] = ASSUMPTIONS

    def __post_init__(self):
        for low, high in (("bad_day_low", "bad_day_high"), ("open_laps_low", "open_laps_high"),
                          ("not_started_low", "not_started_high"),
                          ("open_joint_low", "open_joint_high")):  # fmt: skip
            if self[low] > self[high]:
                unit = self.entry(low).unit
                raise InputError(
                    f"{low.replace('_', ' ').capitalize()} is "
                    f"{show(self.entry(low).value, unit)}. It must not be above "
                    f"{high.replace('_', ' ')}, {show(self.entry(high).value, unit)}."
                )

    def entry(self, key):
        """Return the assumption of that key.

        Raises
        ------
        InputError
            If there is none.
        """
        for entry in self.entries:
            if entry.key == key:
                return entry
        raise InputError(f"Assumption is {key!r}. Known: {', '.join(e.key for e in self.entries)}.")

    def __getitem__(self, key):
        return self.entry(key).si

    def swing(self, key):
        """Return the plausible low and high about the present value, in the entry's unit."""
        entry, ours = self.entry(key), next(e for e in ASSUMPTIONS if e.key == key)
        moved = (entry.value + end - ours.value for end in (ours.low, ours.high))
        return tuple(min(max(value, entry.least), entry.most) for value in moved)

    def changed(self, **values):
        """Return the assumptions with some values changed, each in its own unit."""
        for key in values:
            self.entry(key)
        return Assumptions(tuple(
            replace(entry, value=float(require_between(
                entry.key, values[entry.key], entry.least, entry.most, entry.unit)), changed=True)
            if entry.key in values else entry
            for entry in self.entries
        ))  # fmt: skip


def assumptions_from(settings):
    """Return the assumptions of a job's settings: ours, with the job's own values put in.

    Parameters
    ----------
    settings : dict
        Settings of a job; `assumptions` holds {key: value in the assumption's unit}, and
        `flow_exponent` stands beside it. Keys of other parts of the book are left alone.

    Raises
    ------
    InputError
        If a value is not a number or not allowed.
    """
    known = {entry.key for entry in ASSUMPTIONS}
    own = {k: v for k, v in (settings.get("assumptions") or {}).items() if k in known}
    if settings.get("flow_exponent") is not None and "flow_exponent" not in own:
        own["flow_exponent"] = settings["flow_exponent"]
    return Assumptions().changed(**own)
