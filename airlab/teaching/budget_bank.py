"""Exercises of 06: what a joint adds, what a window class allows, careless hands, what to better."""

from math import exp

from airlab.building.components import component, window_class_limit
from airlab.design.spread import fit_lognormal
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.teaching.variants import template
from airlab.words import PRESSURE_REFERENCE, from_si, normal_point, show, show_percent

__all__ = ["SPEND"]

_TENTH = normal_point(0.9)
_HALVED = {
    "143 m² of wall membrane at 0.08 m³/h a square metre": 143.0 * 0.08,
    "33 m of sill joint at 2.2 m³/h a metre": 33.0 * 2.2,
    "one front door at 10 m³/h": 10.0,
}


@template("06-1", long=(18, 22, 26.5, 30, 33.5, 38, 42), rate=(0.6, 0.8, 1.2, 1.5, 1.8, 2.5, 3.0),
          envelope=range(220, 420, 20))  # fmt: skip
def _joint(key, long=32.8, rate=None, envelope=301.1):
    demo = rate is None
    rate = from_si(component("joint poor").mid, "m3/h") if demo else rate
    added = rate * long / envelope
    slips = (
        Slip(rate * long, "That is the flow of the joint. Divide it by the envelope."),
        Slip(rate / envelope, "That is one metre of it. How long is the joint?"),
    )
    volume = "Divided by the volume that is n50. qE50 is over the envelope."
    return Numeric(
        key, f"A sill joint of {show(long)} m leaks {show(rate)} m³/h at 50 Pa a metre. The envelope is "
        f"{show(envelope, digits=4)} m². What does it add to qE50, in m³/(h·m²)?",
        lambda: added, "m3/(h.m2)",
        f"One joint out of many, and {show_percent(added / 2.0)} of a target of 2.",
        (*slips, Slip(rate * long / 310.4, volume)) if demo else slips,
        source="AIRLAB",
    )  # fmt: skip


@template(
    "06-2",
    wide=(0.8, 1.0, 1.2, 1.4, 1.5, 1.8),
    tall=(0.6, 1.1, 1.2, 1.3, 1.5, 2.1),
    tight=(2, 3, 4),
)
def _class(key, wide=1.2, tall=1.2, tight=3):
    at_100 = wide * tall * from_si(window_class_limit(tight, 100.0)[0], "m3/h")
    right = wide * tall * from_si(window_class_limit(tight, PRESSURE_REFERENCE)[0], "m3/h")
    return Numeric(
        key, f"A window of {show(wide)} m by {show(tall)} m has class {tight}: at most "
        f"{show(at_100 / wide / tall)} m³/h for each square metre at 100 Pa. What may it leak at 50 Pa, "
        "in m³/h, by the 2/3 law of its standard?",
        lambda: right, "m3/h",
        "The window alone. The joint round it comes on top, and may leak many times as much.",
        (
            Slip(at_100, "That is at 100 Pa. At 50 Pa it is less."),
            Slip(at_100 / 2.0, "Half the pressure is not half the flow."),
            Slip(right / (wide * tall), "That is one square metre. How large is the window?"),
        ),
        source="WINDOW_CLASSES",
    )  # fmt: skip


@template("06-3", flow=range(40, 165, 5), times=(1.5, 1.6, 1.8, 2.5, 3.0))
def _hands(key, flow=100.0, times=2.0):
    bad = flow * times

    def both():
        median, spread = fit_lognormal(flow / times, flow, bad)
        return 2.0 * median * exp(_TENTH * spread)

    same = " or both in the middle case" if times == 2.0 else ""
    middle = () if same else (Slip(2.0 * flow, "That is both in the middle case."),)
    return Numeric(
        key, f"Two joints leak {show(flow)} m³/h each in the middle case; one in ten of each leaks "
        f"{show(bad)} or more. The same hands made both, well or badly alike. What flow, in m³/h, do "
        "both together pass in one house out of ten?",
        both, "m3/h",
        "Where the hands are shared, bad luck comes twice. Adding lines does not make it vanish.",
        (
            Slip(bad, f"That is one joint at its worst tenth,{same}." if same else
                 "That is one joint at its worst tenth."),
            Slip(flow + bad, "That takes one joint bad and one in the middle. The same hands made "
                 "both."),
            *middle,
        ),
        source="DERIVED",
    )  # fmt: skip


SPEND = (
    _joint,
    _class,
    _hands,
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
