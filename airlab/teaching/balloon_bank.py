"""Exercises of 01 and 02: balloon, hole, refills, and the house that needs a fan."""

import math
from functools import lru_cache

from airlab.physics import (
    SHARP_EDGE,
    Balloon,
    Crack,
    RoundHole,
    Series,
    air_change_rate_of_hole,
    carried_to_50,
    drain,
    equivalent_hole_area,
    hole_area_for_ach50,
    hole_flow,
    pressure_half_time,
    remaining_old_air,
    spare_air,
)
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.teaching.variants import template
from airlab.words import PRESSURE_REFERENCE, cm2, from_si, mm, show, show_percent

__all__ = ["BALLOON", "HOUSE"]


@lru_cache(maxsize=64)
def _to_flat(diameter):
    return drain(Balloon(), RoundHole.from_diameter(mm(diameter))).time_to_flat


def _flow_per_hour(area_cm2, pressure):
    return from_si(hole_flow(cm2(area_cm2), pressure), "m3/h")


def _two_layers(leaks, gaps):
    """Return leaks of a membrane in cm2 behind gaps of its lining."""
    return Series((RoundHole.from_area(cm2(leaks)), RoundHole.from_area(cm2(gaps))))


def _behind(leaks, gaps):
    return from_si(equivalent_hole_area(_two_layers(leaks, gaps).flow(PRESSURE_REFERENCE)), "cm2")


def _cm2_for(ach50, volume):
    return from_si(hole_area_for_ach50(ach50, volume), "cm2")


@template(
    "01-1", small=(1.5, 2.0, 2.5, 3.0, 4.0), times=(1.5, 2.0, 2.5, 3.0), seconds=range(40, 130, 10)
)
def _time(key, small=2.5, times=2.0, seconds=60.0):
    large = small * times
    slower = "halves the time" if times == 2.0 else f"divides the time by {show(times)}"
    return Numeric(
        key, f"A capped hole of {show(small)} mm drains the balloon in {show(seconds)} s. How long "
        f"with a {show(large)} mm hole?",
        lambda: seconds * _to_flat(large) / _to_flat(small), "s",
        f"{show(times)} times the diameter is {show(times**2)} times the area, so the time is "
        f"divided by {show(times**2)}.",
        (
            Slip(seconds / times, f"That {slower}. Area goes with the diameter squared."),
            Slip(seconds * times, "A larger hole drains faster, not slower."),
            Slip(seconds * times**2, f"{show(times**2)} times, but in the wrong direction: a larger "
                 "hole is quicker."),
            Slip(seconds, "The hole changed. What happened to its area?"),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("01-2", area=(*range(2, 10), 0.5, 0.8, 1.2, 1.5, 2.5, 3.5, 4.5, 12, 15, 20, 25, 30))
def _hole_at_50(key, area=1.0):
    right = _flow_per_hour(area, PRESSURE_REFERENCE)
    return Numeric(
        key, f"How many m³/h pass a sharp hole of {show(area)} cm² at 50 Pa?",
        lambda: right, "m3/h", "So the hole in cm² is about half the flow in m³/h at 50 Pa.",
        (
            Slip(right / SHARP_EDGE,
                 "That is the jet without its contraction. A sharp hole passes about 0.61 of it."),
            Slip(_flow_per_hour(area, 25.0), "That is the flow at 25 Pa."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("01-3", rate=range(30, 125, 5), pressure=(1600, 1800, 2000, 2200, 2500, 2800, 3000))
def _carried(key, rate=60.0, pressure=2400.0):
    return Numeric(
        key, f"A balloon's holes give {show(rate)} refills an hour at {show(pressure)} Pa. The holes "
        "are sharp, the flow stays even. How many air changes an hour at 50 Pa?",
        lambda: carried_to_50(float(rate), 1.0, float(pressure)), "1/h",
        f"Flow through sharp holes goes with the root of the pressure: {show(rate)} times the root of "
        f"50/{show(pressure)}.",
        (
            Slip(rate, f"That is at the balloon's own {show(pressure)} Pa. At 50 Pa much less is "
                 "pushing."),
            Slip(rate * PRESSURE_REFERENCE / pressure,
                 "You scaled with the pressure. Flow goes with its square root here."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("01-4", leaks=range(20, 125, 5), times=(1.5, 2.0, 2.5, 3.0))
def _lined(key, leaks=50.0, times=2.0):
    gaps = leaks * times
    right = _behind(leaks, gaps)
    return Numeric(
        key, f"A membrane has {show(leaks)} cm² of leaks. It is lined with boards that have "
        f"{show(gaps)} cm² of gaps. As one hole, how many cm² are left?",
        lambda: right, "cm2",
        f"The lining hides the leaks and takes only {show_percent(1.0 - right / leaks)} off. Most of the pressure "
        "still sits on the membrane. That is why the check comes before covering.",
        (
            Slip(leaks + gaps, "That is side by side. One behind the other never leaks more than "
                 "either."),
            Slip(leaks * gaps / (leaks + gaps), "That is the rule for resistors. Holes one behind "
                 "the other add as 1 over area squared."),
            Slip(leaks, "Nearly, the lining takes a little. Add 1 over area squared."),
            Slip(0.5 * (leaks + gaps), "An average is not what happens. Think of the tighter layer."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("01-7", area=(0.5, 0.8, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0), pressure=(15, 20, 25, 30, 35))
def _hole_lower(key, area=1.0, pressure=25.0):
    share = pressure / PRESSURE_REFERENCE
    at_50 = _flow_per_hour(area, PRESSURE_REFERENCE)
    right = _flow_per_hour(area, float(pressure))
    which = "the same" if key == "01-7" else "a"
    return Numeric(
        key, f"How many m³/h pass {which} sharp hole of {show(area)} cm² at {show(pressure)} Pa?",
        lambda: right, "m3/h",
        f"{show_percent(share)} of the pressure, {show_percent(math.sqrt(share))} of the flow: it goes "
        "with the root.",
        (
            Slip(at_50 * share, f"You took {show_percent(share)} of the flow with the pressure. Flow "
                 "goes with its square root here."),
            Slip(at_50, "That is the flow at 50 Pa."),
            Slip(right / SHARP_EDGE,
                 "That is the jet without its contraction. A sharp hole passes about 0.61 of it."),
        ),
        source="DERIVED",
    )  # fmt: skip


BALLOON = (
    _time,
    _hole_at_50,
    _carried,
    _lined,
    Choice(
        "01-5", "Which leaks more at the same pressure: one sharp hole of 100 cm², or a hundred "
        "of 1 cm²?",
        ("the one large hole", "the hundred small holes", "the same"),
        lambda: "the same",
        "Areas add. Many small leaks count as much as one you would notice.",
        {
            "the one large hole": "Add up the areas. A hundred times one is a hundred.",
            "the hundred small holes": "Sharp holes care about area only, not about how many.",
        },
        source="DERIVED",
    ),
    Numeric(
        "01-6", "A crack 1 m long, 0.2 mm wide and 20 mm deep. Its flow at 50 Pa in m³/h?",
        lambda: from_si(Crack(1.0, mm(0.2), mm(20.0)).flow(PRESSURE_REFERENCE), "m3/h"), "m3/h",
        "A sharp hole of the same 2 cm² passes twelve times as much: in a deep hairline the walls "
        "hold the air back.",
        (
            Slip(lambda: _flow_per_hour(2.0, PRESSURE_REFERENCE),
                 "That is a sharp hole of the same area. A deep crack holds the air back."),
        ),
        tolerance=0.06, source="DERIVED",
    ),
    _hole_lower,
)  # fmt: skip


@template("02-1", volume=range(180, 920, 20))
def _spare(key, volume=500.0):
    return Numeric(
        key, f"How many litres must leave a house of {show(volume)} m³ for 50 Pa to vanish? Take the "
        "simple case: the air keeps its temperature.",
        lambda: from_si(spare_air(volume), "L"), "L",
        "Half a litre for every cubic metre. No wonder it is gone at once.",
        (
            Slip(volume * 1000.0, "That empties the house. Only the squeezed-in part has to leave."),
            Slip(from_si(spare_air(volume, kappa=1.4), "L"),
                 "That is the case where the air cools as it expands. Fair, but not asked."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("02-2", area=range(150, 620, 50), volume=range(250, 820, 50))
def _rate(key, area=300.0, volume=500.0):
    right = air_change_rate_of_hole(cm2(area), volume)
    return Numeric(
        key, f"{show(area)} cm² of holes in a house of {show(volume)} m³. Air changes an hour at 50 Pa?",
        lambda: right, "1/h",
        f"In {show(2 * volume)} m³ the same holes would give half of that.",
        (
            Slip(right / 2.0, "That is for twice the volume."),
            Slip(_flow_per_hour(area, PRESSURE_REFERENCE),
                 "That is the flow in m³/h. Divide by the volume."),
            Slip(right / SHARP_EDGE,
                 "The jet contracts behind a sharp hole: about 0.61 of it passes."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("02-3", aim=(0.6, 0.8, 1.0, 1.5, 2.0, 2.5, 3.0), volume=range(250, 820, 50))
def _aim(key, aim=0.6, volume=450.0):
    right = _cm2_for(aim, volume)
    side = show(math.sqrt(right), digits=2)
    return Numeric(
        key, f"The aim is {show(aim)} air changes an hour at 50 Pa in a house of {show(volume)} m³. "
        "All sharp holes together, in cm²?",
        lambda: right, "cm2",
        f"A square of {side} cm by {side} cm, for every leak in the whole house.",
        (
            Slip(right * SHARP_EDGE, "The contraction of the jet is forgotten: divide by 0.61."),
            Slip(right / 100.0,
                 "Look at the unit. A square metre has 10 000 square centimetres, not 100."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("02-5", rate=(1, 1.5, 2, 2.5, 3, 4, 5, 6), minutes=(10, 12, 15, 20, 24, 30))
def _left(key, rate=3.0, minutes=20.0):
    changes = rate * minutes / 60.0
    right = from_si(remaining_old_air(float(rate), minutes * 60.0), "%")
    return Numeric(
        key, f"A fan holds 50 Pa at {show(rate)} air changes an hour for {show(minutes)} minutes and "
        "the air mixes well. What share of the old air is still there, in %?",
        lambda: right, "%",
        f"e to the power of −{show(changes)}. One air change is a flow that would fill the house "
        "once. It does not push all the old air out.",
        (
            Slip(100.0 * max(0.0, 1.0 - changes),
                 "One air change is not a full swap: new air leaves with the old."),
            Slip(100.0 - right, "That is the share that has left."),
        ),
        source="CDC2003",
    )  # fmt: skip


@template("02-7", leaks=range(20, 125, 5), times=(1.5, 2.0, 2.5, 3.0))
def _shared(key, leaks=50.0, times=2.0):
    whole = PRESSURE_REFERENCE
    right = float(_two_layers(leaks, leaks * times).pressures(whole)[0])
    return Numeric(
        key, f"A membrane with {show(leaks)} cm² of leaks, boards with {show(leaks * times)} cm² of "
        "gaps in front, 50 Pa across both. How many Pa press on the membrane?",
        lambda: right, "Pa",
        "The tighter layer takes most of the pressure: flow is the same, and pressure goes with "
        "1 over area squared.",
        (
            Slip(whole / 2.0, "That shares it evenly. The tighter layer takes more."),
            Slip(whole - right, "That is the part on the boards."),
            Slip(whole * times / (1.0 + times),
                 "That shares it like resistors. Here it goes with 1 over area squared."),
            Slip(whole, "Nearly. The boards take a little of it."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("02-8", high=range(800, 2600, 100), rough=(0.58, 0.6, 0.62, 0.66, 0.68, 0.7, 0.72))
def _exponent(key, high=1500.0, rough=0.6439):
    low = round(high / 2.0**rough, -1)
    right = math.log(high / low) / math.log(2.0)
    return Numeric(
        key, f"A house leaks {show(low)} m³/h at 25 Pa and {show(high)} m³/h at 50 Pa. Flow exponent n?",
        lambda: right, "-",
        "Between 0.5 of sharp holes and 1 of hairlines: a house is a mixture.",
        (
            Slip(math.log(high / low),
                 "That is the logarithm of the flows. Divide by that of the pressures."),
            Slip(1.0 / right, "Upside down: the logarithm of the flows stands on top."),
            Slip(0.5, f"That would be sharp holes alone: {show(high)} m³/h would be "
                 f"{show(low * math.sqrt(2.0))}."),
        ),
        source="DERIVED",
    )  # fmt: skip


HOUSE = (
    _spare,
    _rate,
    _aim,
    Numeric(
        "02-4", "The fan stops and its opening shuts at once. 3 air changes an hour at 50 Pa, "
        "exponent 0.65, air keeps its temperature. Seconds to 25 Pa?",
        lambda: pressure_half_time(3.0, 0.65), "s",
        "The pressure is gone within a second, though one air change takes twenty minutes.",
        (
            Slip(600.0, "That is half of the twenty minutes for one air change. The pressure is "
                 "not the air itself."),
            Slip(lambda: pressure_half_time(3.0, 0.65, kappa=1.4),
                 "That is with the air cooling as it expands. Fair, but not asked."),
        ),
        source="DERIVED",
    ),
    _left,
    Numeric(
        "02-6", "300 cm² of holes in a house of 1000 m³. Air changes an hour at 50 Pa?",
        lambda: air_change_rate_of_hole(cm2(300.0), 1000.0), "1/h",
        "Twice the volume, half the air changes, through the very same holes.",
        (
            Slip(lambda: air_change_rate_of_hole(cm2(300.0), 500.0),
                 "That is the house of 500 m³. Divide by this volume."),
            Slip(lambda: 2.0 * air_change_rate_of_hole(cm2(300.0), 500.0),
                 "A larger volume has fewer air changes through the same holes, not more."),
        ),
        source="DERIVED",
    ),
    _shared,
    _exponent,
    Choice(
        "02-9", "A house leaks through one hole of 100 cm² and through a hundred of 1 cm². You seal "
        "the large one. How much of the leak is gone?",
        ("nearly all", "half", "hardly any"),
        lambda: "half",
        "Areas add. The hundred small ones are as much again: keep searching.",
        {
            "nearly all": "Add up the small ones. A hundred times 1 cm² is as much as the large one.",
            "hardly any": "By number it is one of a hundred and one. Flow asks for the area.",
        },
        source="DERIVED",
    ),
)  # fmt: skip
