"""Exercises of 04: one leak, three numbers, and the slips that swap them.

The house is the worked one of the tests: inside 10 by 7 by 5.05 m, two storeys.
"""

from airlab.building import EnvelopeElement, Geometry, Room, geometry, metric_value
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.teaching.variants import template
from airlab.words import m3_per_h, show

__all__ = ["MEASURE", "own_house", "worked_house"]

_FLOW = 1558.5  # m3/h at 50 Pa


def worked_house():
    """Return the Geometry of the worked house: 353.5 m3, 311.7 m2 of envelope, 131.6 m2 of floor."""
    rooms = tuple(
        Room(name, name, 10.0, 7.0, 2.525, volume=353.5 / 2.0, floor_area=65.8)
        for name in ("ground", "first")
    )
    shell = tuple(
        EnvelopeElement(name, name, kind, "house", size, status="complete and visible")
        for name, kind, size in (
            ("walls", "wall", 171.7), ("roof", "roof", 70.0), ("lowest floor", "floor", 70.0),
        )
    )  # fmt: skip
    return geometry(rooms, shell)


def own_house(ground):
    """Return a box of two storeys, 3 : 2 in plan and 5 m tall, from its ground floor area in m2."""
    envelope = float(round(2.0 * ground + 20.5 * ground**0.5))
    return Geometry(5.0 * ground, envelope, 2.0 * ground - 8.0, lowest_floor_area=float(ground))


def _case(ground, flow):
    """Return what is told of a house and its fan, the house, and a function to its indicators."""
    house = own_house(ground) if ground else worked_house()
    told = (
        f"A house of {show(house.internal_volume, 'm3', 4)} has {show(house.envelope_area, 'm2', 4)} of "
        f"envelope and {show(house.floor_area, 'm2', 4)} of floor. The fan moves {show(flow, 'm3/h', 5)} "
        "at 50 Pa. "
    )
    return told, house, lambda key: metric_value(key, m3_per_h(flow), house)


_OWN = {"ground": range(50, 105, 5), "flow": range(500, 2450, 50)}


@template("04-1", **_OWN)
def _n50(key, ground=None, flow=_FLOW):
    told, _, value = _case(ground, flow)
    return Numeric(
        key, told + "Air changes an hour at 50 Pa, n50?", lambda: value("n50"), "1/h",
        "Flow over volume.",
        (
            Slip(value("qE50"), "You divided by the envelope. n50 goes by volume."),
            Slip(value("qF50"), "You divided by the floor. n50 goes by volume."),
        ),
        source="TIGHTVENT",
    )  # fmt: skip


@template("04-2", **_OWN)
def _qe50(key, ground=None, flow=_FLOW):
    told, house, value = _case(ground, flow)
    without = house.envelope_area - (house.lowest_floor_area or 70.0)
    return Numeric(
        key, told + "Leakage per envelope area, qE50, in m³/(h·m²)?"
        + (f" The lowest floor has {show(ground, 'm2')} of the envelope." if ground else ""),
        lambda: value("qE50"), "m3/(h.m2)",
        "Flow over every surface that borders the tested air, floor and party walls included.",
        (
            Slip(value("n50"), "You divided by the volume. qE50 goes by envelope area."),
            Slip(value("qF50"), "You divided by the floor. qE50 goes by envelope area."),
            Slip(flow / without, "The lowest floor is missing from the area. Some countries leave it "
                 "out; ISO 9972 does not."),
        ),
        source="TIGHTVENT",
    )  # fmt: skip


@template("04-5", long=(8, 9, 10, 11, 12, 14), wide=(6, 7, 7.5, 8, 9), storey=(2.4, 2.5, 2.6))
def _envelope(key, long=9.0, wide=7.0, storey=2.5):
    tall = 2.0 * storey + 0.3
    plan, round_it = long * wide, 2.0 * (long + wide)
    area = 2.0 * plan + round_it * tall
    return Numeric(
        key, f"A house stands free and is {show(long)} m long and {show(wide)} m wide inside. Two "
        f"storeys are {show(storey)} m high each, the floor between them is 0.3 m thick. How many m² "
        "of envelope has the tested air, in inside sizes, by ISO 9972?",
        lambda: area, "m2",
        f"Walls {show(round_it)} × {show(tall)}, and {show(plan)} m² of floor and of ceiling each. "
        "The floor between the storeys does not count, its edge does.",
        (
            Slip(area - plan, "The lowest floor is missing. ISO 9972 counts every surface that "
                 "borders the tested air."),
            Slip(area + 2.0 * plan, "The floor between the storeys lies inside. Neither of its faces "
                 "borders the outside."),
            Slip(area - 0.3 * round_it, "The wall runs past the edge of the floor between the "
                 "storeys: add its 0.3 m."),
            Slip(plan * tall, "That is the volume."),
        ),
        tolerance=0.005, source="ISO9972", outcome="D2",
    )  # fmt: skip


MEASURE = (
    _n50,
    _qe50,
    Choice(
        "04-3", "A contract says 'airtightness 5'. Is the house above inside it?",
        ("yes", "no", "nobody can say"),
        lambda: "nobody can say",
        "5 of what? Its qE50 is 5.0 m³/(h·m²), its n50 is 4.4 /h, and 5 may mean either, at a "
        "pressure that is not named. Metric, pressure and preparation belong in the sentence.",
        {
            "yes": "Only if it means air changes an hour at 50 Pa. It does not say so.",
            "no": "By envelope area it sits on 5.0, by volume it is under. It does not say which.",
        },
        source="TRADE",
    ),
    Choice(
        "04-4", "'10 m³/(h·m²) is about the same as 10 air changes an hour.' When is that true?",
        ("always at 50 Pa", "when volume over envelope is 1 m", "when the rooms are 2.5 m high"),
        lambda: "when volume over envelope is 1 m",
        "n50 × V = qE50 × A. In this house V/A is 1.13 m, so 10 m³/(h·m²) would be 8.8 /h.",
        {
            "always at 50 Pa": "The pressure is the same on both sides. Volume and area are not.",
            "when the rooms are 2.5 m high": "That is volume over floor area. Here it is the "
            "whole envelope.",
        },
        source="DERIVED",
    ),
    _envelope,
)  # fmt: skip
