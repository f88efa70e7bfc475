"""Exercises of 01 and 02: balloon, hole, refills, and the house that needs a fan."""

import math

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
from airlab.words import PRESSURE_REFERENCE, cm2, from_si, mm, show

__all__ = ["BALLOON", "HOUSE"]


def _seconds_through(diameter):
    """Time to flat through a capped hole, scaled so that 2.5 mm takes exactly one minute."""
    balloon = Balloon()
    reference = drain(balloon, RoundHole.from_diameter(mm(2.5))).time_to_flat
    return 60.0 * drain(balloon, RoundHole.from_diameter(mm(diameter))).time_to_flat / reference


def _flow_per_hour(area_cm2, pressure):
    return from_si(hole_flow(cm2(area_cm2), pressure), "m3/h")


# 50 cm2 of leaks in the membrane, behind 100 cm2 of gaps in the lining
_LINED = Series((RoundHole.from_area(cm2(50.0)), RoundHole.from_area(cm2(100.0))))


def _behind_lining():
    return from_si(equivalent_hole_area(_LINED.flow(PRESSURE_REFERENCE)), "cm2")


def _cm2_for(ach50, volume):
    return from_si(hole_area_for_ach50(ach50, volume), "cm2")


@template("01-2", area=(0.4, 0.5, 0.6, 0.8, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0))
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


BALLOON = (
    Numeric(
        "01-1", "A capped hole of 2.5 mm drains the balloon in 60 s. How long with a 5 mm hole?",
        lambda: _seconds_through(5.0), "s",
        "Twice the diameter is four times the area, so a quarter of the time.",
        (
            Slip(30.0, "That halves the time. Area goes with the diameter squared."),
            Slip(120.0, "A larger hole drains faster, not slower."),
            Slip(240.0, "Four times, but in the wrong direction: a larger hole is quicker."),
            Slip(60.0, "The hole changed. What happened to its area?"),
        ),
        source="DERIVED",
    ),
    _hole_at_50,
    Numeric(
        "01-3", "A balloon's holes give 60 refills an hour at 2400 Pa. The holes are sharp, the "
        "flow stays even. How many air changes an hour at 50 Pa?",
        lambda: carried_to_50(60.0, 1.0, 2400.0), "1/h",
        "Flow through sharp holes goes with the root of the pressure.",
        (
            Slip(60.0, "That is at the balloon's own 2400 Pa. At 50 Pa much less is pushing."),
            Slip(lambda: 60.0 * PRESSURE_REFERENCE / 2400.0,
                 "You scaled with the pressure. Flow goes with its square root here."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "01-4", "A membrane has 50 cm² of leaks. It is lined with boards that have 100 cm² of "
        "gaps. As one hole, how many cm² are left?",
        _behind_lining, "cm2",
        "The lining hides the leaks and takes hardly a tenth off. Most of the pressure still "
        "sits on the membrane. That is why the check comes before covering.",
        (
            Slip(150.0, "That is side by side. One behind the other never leaks more than either."),
            Slip(100.0 / 3.0, "That is the rule for resistors. Holes one behind the other add as "
                 "1 over area squared."),
            Slip(50.0, "Nearly, the lining takes a little. Add 1 over area squared."),
            Slip(75.0, "An average is not what happens. Think of the tighter layer."),
        ),
        source="DERIVED",
    ),
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
    Numeric(
        "01-7", "How many m³/h pass the same sharp hole of 1 cm² at 25 Pa?",
        lambda: _flow_per_hour(1.0, 25.0), "m3/h",
        "Half the pressure, seven tenths of the flow: it goes with the root.",
        (
            Slip(lambda: _flow_per_hour(1.0, PRESSURE_REFERENCE) / 2.0,
                 "You halved the flow with the pressure. Flow goes with its square root here."),
            Slip(lambda: _flow_per_hour(1.0, PRESSURE_REFERENCE), "That is the flow at 50 Pa."),
            Slip(lambda: _flow_per_hour(1.0, 25.0) / SHARP_EDGE,
                 "That is the jet without its contraction. A sharp hole passes about 0.61 of it."),
        ),
        source="DERIVED",
    ),
)  # fmt: skip

HOUSE = (
    Numeric(
        "02-1", "How many litres must leave a house of 500 m³ for 50 Pa to vanish? Take the "
        "simple case: the air keeps its temperature.",
        lambda: from_si(spare_air(500.0), "L"), "L",
        "Half a litre for every cubic metre. No wonder it is gone at once.",
        (
            Slip(500_000.0, "That empties the house. Only the squeezed-in part has to leave."),
            Slip(lambda: from_si(spare_air(500.0, kappa=1.4), "L"),
                 "That is the case where the air cools as it expands. Fair, but not asked."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "02-2", "300 cm² of holes in a house of 500 m³. Air changes an hour at 50 Pa?",
        lambda: air_change_rate_of_hole(cm2(300.0), 500.0), "1/h",
        "In 1000 m³ the same holes would give half of that.",
        (
            Slip(lambda: air_change_rate_of_hole(cm2(300.0), 1000.0),
                 "That is for twice the volume."),
            Slip(lambda: _flow_per_hour(300.0, PRESSURE_REFERENCE),
                 "That is the flow in m³/h. Divide by the volume."),
            Slip(lambda: air_change_rate_of_hole(cm2(300.0), 500.0) / SHARP_EDGE,
                 "The jet contracts behind a sharp hole: about 0.61 of it passes."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "02-3", "The aim is 0.6 air changes an hour at 50 Pa in a house of 450 m³. All sharp holes "
        "together, in cm²?",
        lambda: _cm2_for(0.6, 450.0), "cm2",
        "A square of 12 cm by 12 cm, for every leak in the whole house.",
        (
            Slip(lambda: _cm2_for(0.6, 450.0) * SHARP_EDGE,
                 "The contraction of the jet is forgotten: divide by 0.61."),
            Slip(lambda: _cm2_for(0.6, 450.0) / 100.0,
                 "Look at the unit. A square metre has 10 000 square centimetres, not 100."),
        ),
        source="DERIVED",
    ),
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
    Numeric(
        "02-5", "A fan holds 50 Pa at 3 air changes an hour for 20 minutes and the air mixes well. What "
        "share of the old air is still there, in %?",
        lambda: from_si(remaining_old_air(3.0, 20.0 * 60.0), "%"), "%",
        "One air change is a flow that would fill the house once. It does not push all the old "
        "air out.",
        (
            Slip(0.0, "One air change is not a full swap: new air leaves with the old."),
            Slip(63.2, "That is the share that has left."),
        ),
        source="CDC2003",
    ),
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
    Numeric(
        "02-7", "A membrane with 50 cm² of leaks, boards with 100 cm² of gaps in front, 50 Pa "
        "across both. How many Pa press on the membrane?",
        lambda: float(_LINED.pressures(PRESSURE_REFERENCE)[0]), "Pa",
        "The tighter layer takes most of the pressure: flow is the same, and pressure goes with "
        "1 over area squared.",
        (
            Slip(25.0, "That shares it evenly. The tighter layer takes more."),
            Slip(10.0, "That is the part on the boards."),
            Slip(100.0 / 3.0, "That shares it like resistors. Here it goes with 1 over area squared."),
            Slip(50.0, "Nearly. The boards take a little of it."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "02-8", "A house leaks 960 m³/h at 25 Pa and 1500 m³/h at 50 Pa. Flow exponent n?",
        lambda: math.log(1500.0 / 960.0) / math.log(2.0), "-",
        "Between 0.5 of sharp holes and 1 of hairlines: a house is a mixture.",
        (
            Slip(lambda: math.log(1500.0 / 960.0),
                 "That is the logarithm of the flows. Divide by that of the pressures."),
            Slip(lambda: math.log(2.0) / math.log(1500.0 / 960.0),
                 "Upside down: the logarithm of the flows stands on top."),
            Slip(0.5, "That would be sharp holes alone: 1500 m³/h would be 1360."),
        ),
        source="DERIVED",
    ),
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
