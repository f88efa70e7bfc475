"""Exercises of 06: what a joint adds, what a window class allows, careless hands, what to better."""

from math import exp

from airlab.building.components import component, window_class_limit
from airlab.design.spread import fit_lognormal
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.words import PRESSURE_REFERENCE, from_si

__all__ = ["SPEND"]

_JOINT, _ENVELOPE = 32.8, 301.1  # m and m2, the demo house
_WINDOW = 1.2 * 1.2  # m2
_TENTH = 1.2815515655446004  # normal quantile of 0.9
_HALVED = {
    "143 m² of wall membrane at 0.08 m³/h a square metre": 143.0 * 0.08,
    "33 m of sill joint at 2.2 m³/h a metre": 33.0 * 2.2,
    "one front door at 10 m³/h": 10.0,
}


def _sill():
    return from_si(component("joint poor").mid, "m3/h") * _JOINT / _ENVELOPE


def _window(pressure=PRESSURE_REFERENCE):
    return _WINDOW * from_si(window_class_limit(3, pressure)[0], "m3/h")


def _both():
    median, spread = fit_lognormal(50.0, 100.0, 200.0)
    return 2.0 * median * exp(_TENTH * spread)


SPEND = (
    Numeric(
        "06-1", "A sill joint of 32.8 m leaks 2.2 m³/h at 50 Pa a metre. The envelope is 301.1 m². "
        "What does it add to qE50, in m³/(h·m²)?",
        _sill, "m3/(h.m2)",
        "One joint out of many, and an eighth of a target of 2.",
        (
            Slip(_JOINT * 2.2, "That is the flow of the joint. Divide it by the envelope."),
            Slip(2.2 / _ENVELOPE, "That is one metre of it. How long is the joint?"),
            Slip(_JOINT * 2.2 / 310.4, "Divided by the volume that is n50. qE50 is over the envelope."),
        ),
        source="AIRLAB",
    ),
    Numeric(
        "06-2", "A window of 1.2 m by 1.2 m has class 3: at most 9 m³/h for each square metre at "
        "100 Pa. What may it leak at 50 Pa, in m³/h, by the 2/3 law of its standard?",
        _window, "m3/h",
        "The window alone. The joint round it comes on top, and may leak many times as much.",
        (
            Slip(lambda: _window(100.0), "That is at 100 Pa. At 50 Pa it is less."),
            Slip(lambda: _window(100.0) / 2.0, "Half the pressure is not half the flow."),
            Slip(lambda: _window() / _WINDOW, "That is one square metre. How large is the window?"),
        ),
        source="WINDOW_CLASSES",
    ),
    Numeric(
        "06-3", "Two joints leak 100 m³/h each in the middle case; one in ten of each leaks 200 or "
        "more. The same hands made both, well or badly alike. What flow, in m³/h, do both together "
        "pass in one house out of ten?",
        _both, "m3/h",
        "Where the hands are shared, bad luck comes twice. Adding lines does not make it vanish.",
        (
            Slip(200.0, "That is one joint at its worst tenth, or both in the middle case."),
            Slip(300.0, "That takes one joint bad and one in the middle. The same hands made both."),
        ),
        source="DERIVED",
    ),
    Choice(
        "06-4", "Each of these changes halves one line and costs the same. Which comes first?",
        tuple(_HALVED),
        lambda: max(_HALVED, key=_HALVED.get),
        "36 m³/h at 50 Pa are saved, against about 6 and 5. Metres of joint decide, not the area.",
        {
            "143 m² of wall membrane at 0.08 m³/h a square metre": "A large area that hardly leaks: "
            "under 6 m³/h are saved. Budget the joints.",
            "one front door at 10 m³/h": "You see the door every day. It saves 5 m³/h.",
        },
        source="AIRLAB",
    ),
)  # fmt: skip
