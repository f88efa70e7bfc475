"""Exercises of 03: the jet of a leak, how far it reaches, what a camera shows, doors that are shut."""

import math

from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.teaching.practice.sensing import JET_REACH

__all__ = ["HUNT"]

_DENSITY = 1.2  # kg/m3


def _jet(pressure):
    return math.sqrt(2.0 * pressure / _DENSITY)


def _at(distance, diameter):
    return _jet(50.0) * JET_REACH * diameter / distance


HUNT = (
    Numeric(
        "03-1", "How fast, in m/s, does air of 1.2 kg/m³ leave a plain hole of 20 mm at 50 Pa?",
        lambda: _jet(50.0), "m/s",
        "The pressure sets the speed, not the size. A hole of 40 mm blows just as fast, only farther.",
        (
            Slip(lambda: _jet(50.0) ** 2, "The root is missing: speed goes with the root of the pressure."),
            Slip(lambda: _jet(25.0), "You halved the pressure. Speed is the root of 2 Δp over density."),
            Slip(lambda: _jet(50.0) * 0.61, "0.61 is for the flow: the jet narrows. Its speed stays."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "03-2", "The jet of a round 10 mm hole starts at 9.13 m/s. Far away its speed is 6.2 × diameter ÷ "
        "distance of that. How fast is it at 30 cm, in m/s?",
        lambda: _at(0.30, 0.010), "m/s",
        "A hand feels it. From a 3 mm hole it would be 0.6 m/s there: you must come closer.",
        (
            Slip(lambda: _jet(50.0), "That is at the hole. Far away the jet has spread."),
            Slip(lambda: _at(0.30, 0.010) * 0.2067, "A jet dies with the distance, not with its square."),
        ),
        source="AIRLAB",
    ),
    Choice(
        "03-3", "A camera shows a cold patch before the fan runs and the same patch after ten minutes of "
        "suction. What is it?",
        ("a cold bridge", "an air leak", "a warm draught"),
        lambda: "a cold bridge",
        "What the fan does not change is heat through the wall. What appears or grows with the fan is air.",
        {
            "an air leak": "Air would make it grow or feather out once the fan sucks.",
            "a warm draught": "It is cold, and the fan changed nothing.",
        },
        source="TRADE",
    ),
    Numeric(
        "03-4", "The hall stands at −50 Pa. A bedroom with its door shut stands at −20 Pa. How fast do its "
        "leaks blow, in % of what they would with the door open?",
        lambda: 100.0 * math.sqrt(20.0 / 50.0), "%",
        "Open the doors before you search, or you look for leaks that hardly blow.",
        (
            Slip(40.0, "That is the share of the pressure. Speed goes with its root."),
            Slip(60.0, "That is what the door takes away of the pressure."),
        ),
        source="DERIVED",
    ),
)  # fmt: skip
