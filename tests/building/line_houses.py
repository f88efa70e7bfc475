"""Houses for the tests of the line: one typed from a drawing, and boxes of any number of walls.

The drawn house was invented for these tests: a sketch of an end-of-terrace house on paper, typed
into the four tables beside this file as a builder might, with nine mistakes in it.
"""

from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from airlab.building import (
    ENVELOPE,
    JUNCTIONS,
    ROOMS,
    EnvelopeElement,
    Junction,
    Room,
    line_template,
)
from airlab.files import read_table
from airlab.leak_check import Hole
from airlab.leak_check.tables import HOLES

FOLDER = Path(__file__).with_name("drawn_house")


class Drawn(NamedTuple):
    """What a line is drawn from."""

    rooms: tuple
    envelope: tuple
    junctions: tuple
    holes: tuple = ()


def drawn_house():
    """Return the house typed from a drawing."""
    kinds = ((ROOMS, Room), (ENVELOPE, EnvelopeElement), (JUNCTIONS, Junction), (HOLES, Hole))
    return Drawn(*(
        tuple(record.from_row(row) for row in read_table(FOLDER / f"{table.name}.csv", table).rows)
        for table, record in kinds
    ))  # fmt: skip


def box(walls=4, storeys=2, windows=(), top="ceiling"):
    """Return a house with that many walls, a room in each corner, and every junction closed."""
    names = [f"storey {s}" for s in range(storeys)]
    rooms, areas = [], []

    def area(element, kind, room, size, layer="board"):
        areas.append(EnvelopeElement(f"{element} {room}", element, kind, room, size, layer))

    for storey, name in enumerate(names):
        for corner in range(walls):
            room = f"room {storey}.{corner}"
            rooms.append(Room(room, name, 4.0, 3.0, 2.5))
            for wall in (corner, (corner + 1) % walls):
                area(f"wall {wall}", "wall", room, 10.0)
            if storey == 0:
                area("floor", "floor", room, 12.0)
            if storey + 1 == storeys:
                area(top, top, room, 12.0)
            if corner in windows:
                area(f"window {corner}", "window", room, 1.5, "frame")
        if storey + 1 < storeys:
            area(f"edge {storey}", "floor edge", f"room {storey}.0", 2.0)
    rows = line_template("timber frame with membrane", rooms, areas)
    return Drawn(tuple(rooms), tuple(areas), tuple(replace(row, closed=True) for row in rows))
