"""A small invented house for the tests of the leak check."""

from types import SimpleNamespace

from airlab.building import EnvelopeElement, Junction, Room
from airlab.leak_check import Opening, Reading
from airlab.words import hazards

SAFE = {one.key: "safe" for one in hazards()}


def make_house():
    """Two rooms on two storeys, 60 m² each, layer complete, one reading of 300 m³/h at 50 Pa."""
    rooms = (
        Room("Parlour", "ground", 10.0, 6.0, 2.5),
        Room("Attic room", "first", 10.0, 6.0, 2.5),
        Room("Shed", "ground", 3.0, 2.0, 2.0, included=False, why="outside the line"),
    )
    done = "complete and visible"
    envelope = (
        EnvelopeElement("parlour floor", "floor", "floor", "Parlour", 60.0, "slab", done),
        EnvelopeElement("parlour wall", "wall", "wall", "Parlour", 76.0, "board", done),
        EnvelopeElement("parlour window", "window", "window", "Parlour", 4.0, "frame", done),
        EnvelopeElement("attic wall", "wall", "wall", "Attic room", 80.0, "board", done),
        EnvelopeElement("attic roof", "roof", "roof", "Attic room", 60.0, "board", done),
        EnvelopeElement("shed wall", "shed", "wall", "Shed", 20.0, "", "not started"),
    )
    return SimpleNamespace(
        name="Test house",
        rooms=rooms,
        envelope=envelope,
        junctions=(
            Junction("sole plate", "wall", "floor", closed=True),
            Junction("eaves", "wall", "roof", closed=True),
        ),
        trades=(),
        openings=(
            Opening("front door", "door", "Parlour", "closed", height="low"),
            Opening("waste pipe", "drain", "Parlour", "sealed", height="low", free_area=12e-4),
        ),
        holes=(),
        readings=(
            Reading("1", 50.0, 300.0 / 3600.0, "depressurise", zero_before=0.0, zero_after=0.0),
        ),
        leaks=(),
        settings={
            "name": "Test house",
            "target": {"metric": "n50", "value": 1.0},
            "limit": {"metric": "n50", "value": 1.5, "name": "contract"},
            "confidence": 0.9,
            "flow_exponent": 0.65,
            "assumptions": {},
            "hazards": dict(SAFE),
            "fan": {"name": "fan", "points": [[0.0, 2500.0], [50.0, 2000.0], [80.0, 1000.0]]},
            "direction": "depressurise",
            "temperatures": {"inside": 20.0, "outside": 5.0},
        },
    )
