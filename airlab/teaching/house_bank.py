"""Exercises of 04: one leak, three numbers, and the slips that swap them.

The house is the worked one of the tests: inside 10 by 7 by 5.05 m, two storeys.
"""

from airlab.building import EnvelopeElement, Room, geometry, metric_value
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.words import m3_per_h

__all__ = ["MEASURE", "worked_house"]

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


def _value(key):
    return metric_value(key, m3_per_h(_FLOW), worked_house())


_HOUSE = ("A house of 353.5 m³ has 311.7 m² of envelope and 131.6 m² of floor. The fan moves "
          "1558.5 m³/h at 50 Pa. ")  # fmt: skip

MEASURE = (
    Numeric(
        "04-1", _HOUSE + "Air changes an hour at 50 Pa, n50?", lambda: _value("n50"), "1/h",
        "Flow over volume.",
        (
            Slip(lambda: _value("qE50"), "You divided by the envelope. n50 goes by volume."),
            Slip(lambda: _value("qF50"), "You divided by the floor. n50 goes by volume."),
        ),
        source="TIGHTVENT",
    ),
    Numeric(
        "04-2", _HOUSE + "Leakage per envelope area, qE50, in m³/(h·m²)?", lambda: _value("qE50"),
        "m3/(h.m2)", "Flow over every surface that borders the tested air, floor and party walls "
        "included.",
        (
            Slip(lambda: _value("n50"), "You divided by the volume. qE50 goes by envelope area."),
            Slip(lambda: _value("qF50"), "You divided by the floor. qE50 goes by envelope area."),
            Slip(lambda: _FLOW / (311.7 - 70.0), "The lowest floor is missing from the area. Some "
                 "countries leave it out; ISO 9972 does not."),
        ),
        source="TIGHTVENT",
    ),
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
)  # fmt: skip
