"""What does a class guess before it looks, and what will it see? One row for each guess, computed.

The hand-out prints what is asked, lesson plan and key print what comes out.
"""

from airlab.building import ASSUMED_SPREAD, aim_for, pass_probability
from airlab.design import make_budget
from airlab.in_use import lived_house
from airlab.in_use.stack_wind import basic_model_flow
from airlab.leak_check.readings import to_reference
from airlab.physics import Balloon, RoundHole, drain, pressure_half_time
from airlab.physics.jets import jet_speed
from airlab.sheets.fan_test import chosen_test
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    ach,
    m3_per_h,
    mm,
    show,
    show_duration,
    show_percent,
)

__all__ = ["guesses"]

_HOUSES = 20_000
_DAYS = (("cold calm", -5.0, 0.0), ("mild windy", 10.0, 8.0))  # °C, m/s: chosen by us
_FIRST, _SECOND = (820.0, 38.0), (620.0, 44.0)  # m3/h, Pa: readings of the day in notebook 08


def guesses(notebook, facts):
    """Return (what is guessed, what is seen) for the lesson on a notebook.

    Parameters
    ----------
    notebook : str
        Its two digits.
    facts : Facts
        The house that is spoken of.

    Returns
    -------
    tuple of (str, str)
        Empty where the lesson's guess is a vote or a sentence.
    """
    asked = _ASKED.get(notebook)
    try:
        return tuple(asked(facts, facts.shown)) if asked else ()
    except InputError:  # the job has no such table yet
        return ()


def _start(facts, shown):
    yield (
        f"all leaks of {facts.heading.name} at 50 Pa, at its target",
        shown.flow(facts.plan.target_flow),
    )


def _balloon(facts, shown):
    for diameter in (1.0, 2.5, 6.0):
        seen = drain(Balloon(), (RoundHole.from_diameter(mm(diameter)),))
        yield (
            f"{shown.value(mm(diameter), 'mm')} hole: flat after",
            f"{show_duration(seen.time_to_flat)}; {show(seen.refills_per_hour)} refills per hour, mean from "
            f"{show(Balloon().pressure_difference, 'Pa')} down",
        )  # fmt: skip
    volume, flow = facts.plan.geometry.internal_volume, facts.plan.target_flow
    yield (
        f"a house of {shown.value(volume, 'm3')} that leaks {shown.flow(flow)} at 50 Pa: air changes an hour at 50 Pa",
        show(float(ach(flow, volume))),
    )  # fmt: skip


def _house(facts, shown):
    volume, rate = 300.0, 3.0
    yield (
        f"a house of {shown.value(volume, 'm3')}, {show(rate)} air changes an hour at 50 Pa; the fan stops: "
        "half the pressure gone after",
        show_duration(float(pressure_half_time(rate))),
    )  # fmt: skip


def _hunt(facts, shown):
    for diameter in (10.0, 40.0):
        yield (
            f"speed of the air at a hole of {shown.value(mm(diameter), 'mm')}, 50 Pa",
            shown.value(float(jet_speed(PRESSURE_REFERENCE)), "m/s"),
        )


def _measure(facts, shown):
    for key in ("n50", "qE50", "qF50"):
        one = facts.indicators[key]
        yield (f"{facts.heading.name} at its target: {one.metric.name}",
               shown.indicator(one.value, one.metric.unit))  # fmt: skip


def _target(facts, shown):
    limit, said = 3.0, shown.indicator(3.0, "m3/(h.m2)")
    yield (f"share of houses inside a limit of {said} at 50 Pa that aim at the limit itself",
           show_percent(float(pass_probability(limit, limit))))  # fmt: skip
    yield (f"aim at 50 Pa so that nine in ten come out inside it, spread of {show(ASSUMED_SPREAD)} assumed",
           shown.indicator(float(aim_for(limit).aim), "m3/(h.m2)"))  # fmt: skip


def _budget(facts, shown):
    found = make_budget(facts.job, _HOUSES)
    layer = {  # areas made on site: no joint, no window
        entry.name
        for entry in found.houses.entries
        if entry.unit == "m2" and entry.line and entry.line.grade != "tested product"
    }
    yield (
        f"share of the leakage of {facts.heading.name} in its layer of membrane, ceiling and floor, by its budget",
        show_percent(sum(one.share for one in found.shares if one.name in layer)),
    )


def _plan(facts, shown):
    expected = facts.plan.expected
    if facts.fan_may_run and expected is not None:
        yield (f"{facts.heading.name} on the day, layer as it stands: lowest and highest at 50 Pa",
               shown.flows(expected.low, expected.high))  # fmt: skip


def _day(facts, shown):
    exponent = facts.plan.assumptions["flow_exponent"]
    read = [m3_per_h(flow) for flow, _ in (_FIRST, _SECOND)]
    at_50 = [float(to_reference(flow, pressure, exponent))
             for flow, (_, pressure) in zip(read, (_FIRST, _SECOND))]  # fmt: skip
    yield (f"zeros nil, {shown.flow(read[0])} at {show(_FIRST[1], 'Pa')}, after sealing {shown.flow(read[1])} at "
           f"{show(_SECOND[1], 'Pa')}: gained at 50 Pa", shown.flow(at_50[0] - at_50[1]))  # fmt: skip


def _read(facts, shown):
    *_, page = chosen_test(facts.job)
    most = max(abs(one.flow_50) for one in page.influence)
    yield (
        f"last fan test of {facts.heading.name}, one point left out: the flow at 50 Pa moves at most by",
        show_percent(most),
    )
    yield (
        f"last fan test of {facts.heading.name}, the flow at 50 Pa is known to, all doubts counted",
        show_percent(page.trust.half(PRESSURE_REFERENCE)),
    )


def _year(facts, shown):
    house = lived_house(facts.plan.geometry, facts.plan.target_flow)
    for day, outside, wind in _DAYS:
        flow = basic_model_flow(house.leakage_area, house.storeys, house.shielding,
                                house.indoor_temperature - outside, wind)  # fmt: skip
        yield (f"{facts.heading.name} at its target, a {day} day ({shown.value(outside, 'C')}, wind "
               f"{shown.value(wind, 'm/s')} at the weather station): air changes an hour",
               f"about {show(float(ach(flow, house.volume)), digits=2)}, by one model")  # fmt: skip


_ASKED = {"00": _start, "01": _balloon, "02": _house, "03": _hunt, "04": _measure, "05": _target, "06": _budget,
          "07": _plan, "08": _day, "09": _read, "10": _year}  # fmt: skip
