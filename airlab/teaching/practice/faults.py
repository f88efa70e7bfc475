"""What is wrong with today's test? One fault is hidden; yesterday's test of the same house was sound."""

from dataclasses import dataclass, replace

import numpy as np

from airlab.fan_test import fit_power_law
from airlab.teaching.practice.air import Setting, blow, leak_flows
from airlab.teaching.practice.gauge import read_gauge
from airlab.teaching.practice.hiding import FAULTS
from airlab.words import InputError, display_unit, from_si, require_choice, show

__all__ = ["SIGNS", "FanDay", "Symptoms", "diagnose", "symptoms"]

_STEPS = (-20.0, -35.0, -50.0)  # Pa
_WIND = 2.5  # m/s on both days
_DRIFT = 6.0  # Pa
_LOFT_COUNTED = 1.4  # of the volume
_STUCK = 0.95  # of the flow at 50 Pa: below this the fan's reading does not follow

SIGNS = {
    "window ajar": "One room draws far more air than yesterday, the flow is up and the exponent went towards "
                   "0.5: a large plain opening.",
    "dry trap": "A little more flow than yesterday, all of it in one room with a drain. Water closes it.",
    "zero drift": "The zero after the test is not the zero before it, and every flow is too high for its "
                  "pressure. Cover the fan and read the zero again.",
    "wrong volume": "The flows are yesterday's. Only the air changes differ: look at the volume.",
    "hose in the wind": "The pressure wanders and the zero is off, while rooms and flows are as yesterday. "
                        "Lay the hose out of the wind.",
    "temporary seal left on": "Less flow than yesterday though nothing was fixed, and one room draws hardly "
                              "any air. Count the seals of the day.",
    "fan off its range": "The flow hardly changes with the pressure: an exponent under 0.5 is no house. "
                         "Take the next smaller aperture.",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class FanDay:
    """A fan test: pressures and flows as shown, zeros, wander, air changes, air drawn by room."""

    pressure: tuple[float, ...]
    flow: tuple[float, ...]
    zero_before: float
    zero_after: float
    wander: float
    n50: float
    exponent: float
    rooms: tuple[tuple[str, float], ...]

    def lines(self, units="metric"):
        """Return the test as lines of words."""
        unit = display_unit("m3/s", units)
        points = "; ".join(
            f"{show(p, 'Pa')}: {show(from_si(q, unit), unit)}"
            for p, q in zip(self.pressure, self.flow)
        )
        return (
            points,
            f"zero before {show(self.zero_before, 'Pa', 2)}, after {show(self.zero_after, 'Pa', 2)}; "
            f"single readings wander by {show(self.wander, 'Pa', 2)}",
            f"exponent {show(self.exponent)}; {show(self.n50, '1/h')} at 50 Pa as reported",
        )


@dataclass(frozen=True, slots=True)
class Symptoms:
    """Yesterday's sound test and today's, of one house; the fault is not said."""

    yesterday: FanDay
    today: FanDay
    fault: str

    @property
    def changed_rooms(self):
        """The three rooms whose draught changed most: name, yesterday, today. [m3/s]."""
        now = dict(self.today.rooms)
        moved = [(name, before, now[name]) for name, before in self.yesterday.rooms]
        return tuple(sorted(moved, key=lambda row: -abs(row[2] - row[1]))[:3])

    def sentence(self, units="metric"):
        """Return both days in words."""
        unit = display_unit("m3/s", units)
        rooms = ", ".join(
            f"{name} {show(from_si(a, unit), '-', 2)} then {show(from_si(b, unit), unit, 2)}"
            for name, a, b in self.changed_rooms
        )
        return (f"Yesterday: {'. '.join(self.yesterday.lines(units))}. Today: {'. '.join(self.today.lines(units))}. "
                f"Air drawn by room, most changed: {rooms}. What is wrong today?")  # fmt: skip


def symptoms(house, hidden):
    """Return yesterday's test and today's with the hidden fault in it.

    Parameters
    ----------
    house : House
        The house.
    hidden : Hidden
        With a fault.

    Returns
    -------
    Symptoms
        Both worked out by the engine.
    """
    if not hidden.fault:
        raise InputError("No fault is hidden. Start the day with one.")
    weather = replace(hidden, wind=_WIND)
    return Symptoms(_test(house, weather, ""), _test(house, weather, hidden.fault), hidden.fault)


def _test(house, hidden, fault):
    ready, sealed = [one.name for one in house.openings], ()
    left = {"window ajar": "close", "dry trap": "fill"}.get(fault)
    if left:
        open_ = [one for one in house.openings if one.wanted == left and one.area]
        if not open_:
            raise InputError(f"{house.name} has no opening to {left}. Choose another fault.")
        ready.remove(max(open_, key=lambda one: ("window" in one.name.lower(), one.area)).name)
    if fault == "temporary seal left on":
        flows = leak_flows(house, hidden)
        leaks = [name for name in hidden.names if house.site(name).kind == "leak"]
        sealed = ((max(leaks, key=flows.get), 0.0),)
    drift = _DRIFT if fault == "zero drift" else 0.0
    hose = "in the wind" if fault == "hose in the wind" else "sheltered"
    readings = [
        read_gauge(
            house, hidden, Setting(p - drift, "open", tuple(ready), sealed), 60, hose, n, drift
        )
        for n, p in enumerate(_STEPS)
    ]
    flow = np.array([one.flow for one in readings])
    if fault == "fan off its range":
        flow = np.maximum(flow, _STUCK * flow[-1])
    zero = readings[0].zero - drift
    induced = np.abs(np.array([one.pressure for one in readings]) - zero)
    fit = fit_power_law(induced, flow)
    volume = house.volume * (_LOFT_COUNTED if fault == "wrong volume" else 1.0)
    at_50 = blow(house, hidden, Setting(_STEPS[-1], "open", tuple(ready), sealed)).airflow
    rooms = tuple((r.name, _drawn(house, at_50, r.name)) for r in house.rooms if r.kind == "room")
    return FanDay(
        tuple(one.pressure for one in readings), tuple(float(q) for q in flow), zero, readings[-1].zero,
        float(np.mean([one.wander for one in readings])), float(from_si(fit.flow(50.0), "m3/h") / volume),
        float(fit.flow_exponent), rooms,
    )  # fmt: skip


def _drawn(house, solved, room):
    """Air that comes into a room by other ways than its doors. [m3/s]."""
    doors = {link.name for link in house.links if link.kind != "gap"}
    total = 0.0
    for path, flow in zip(solved.network.paths, solved.path_flow):
        if path.name not in doors and room in (path.zone, path.to):
            total += max(-float(flow) if path.zone == room else float(flow), 0.0)
    return total


def diagnose(found, fault):
    """Return what is to be said to a diagnosis.

    Parameters
    ----------
    found : Symptoms
        Both days.
    fault : str
        What a learner thinks it is, one of `FAULTS`.

    Returns
    -------
    tuple of (bool, str)
        Whether it is right, and why.
    """
    require_choice("fault", fault, FAULTS)
    if fault == found.fault:
        return True, f"Right: {fault}. {SIGNS[fault]}"
    return (
        False,
        f"Not {fault}. Then it would be like this: {SIGNS[fault]} Look at the numbers again.",
    )
