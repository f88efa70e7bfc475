"""Exercises of 03: the jet of a leak, how far it reaches, what a camera shows, doors that are shut."""

import math

from airlab.physics.jets import faded_speed, jet_speed
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.teaching.variants import template
from airlab.words import mm, show

__all__ = ["HUNT"]


def _jet(pressure):
    return float(jet_speed(pressure))


def _at(distance, diameter):
    """Return the speed of a round jet at 50 Pa some millimetres from its hole, across in mm too."""
    return float(faded_speed(_jet(50.0), mm(diameter), mm(distance), plane=False))


@template("03-1", across=(5, 8, 10, 15, 20, 30), pressure=(20, 25, 30, 40, 45, 55, 60))
def _speed(key, across=20.0, pressure=50.0):
    right = _jet(pressure)
    return Numeric(
        key, f"How fast, in m/s, does air of 1.2 kg/m³ leave a plain hole of {show(across)} mm at "
        f"{show(pressure)} Pa?",
        lambda: right, "m/s",
        f"The pressure sets the speed, not the size. A hole of {show(2 * across)} mm blows just as fast, "
        "only farther.",
        (
            Slip(right**2, "The root is missing: speed goes with the root of the pressure."),
            Slip(_jet(pressure / 2.0), "You halved the pressure. Speed is the root of 2 Δp over density."),
            Slip(right * 0.61, "0.61 is for the flow: the jet narrows. Its speed stays."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("03-2", across=(5, 6, 8, 10, 12, 15), distance=(20, 25, 30, 40, 50))
def _far(key, across=10.0, distance=30.0):
    right = _at(10.0 * distance, across)
    return Numeric(
        key, f"The jet of a round {show(across)} mm hole starts at 9.13 m/s. Far away its speed is 6.2 × "
        f"diameter ÷ distance of that. How fast is it at {show(distance)} cm, in m/s?",
        lambda: right, "m/s",
        f"{'A damp hand feels it.' if right >= 1.0 else 'Hardly felt: come closer.'} From a 3 mm hole it would "
        f"be {show(_at(10.0 * distance, 3.0), digits=1)} m/s there.",
        (
            Slip(_jet(50.0), "That is at the hole. Far away the jet has spread."),
            Slip(right**2 / _jet(50.0), "A jet dies with the distance, not with its square."),
        ),
        source="AIRLAB",
    )  # fmt: skip


@template("03-4", hall=(40, 45, 50, 55, 60), room=(8, 10, 12, 15, 18, 20, 25, 30))
def _shut(key, hall=50.0, room=20.0):
    share = room / hall
    return Numeric(
        key, f"The hall stands at −{show(hall)} Pa. A bedroom with its door shut stands at "
        f"−{show(room)} Pa. How fast do its leaks blow, in % of what they would with the door open?",
        lambda: 100.0 * math.sqrt(share), "%",
        "Open the doors before you search: behind a shut door every leak blows less, and small ones are missed.",
        (
            Slip(100.0 * share, "That is the share of the pressure. Speed goes with its root."),
            Slip(100.0 - 100.0 * share, "That is what the door takes away of the pressure."),
        ),
        source="DERIVED",
    )  # fmt: skip


HUNT = (
    _speed,
    _far,
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
    _shut,
)  # fmt: skip
