"""Which leaks does a class start with? A short list of openings people know, sizes by their shape."""

import re
from dataclasses import dataclass

from airlab.physics.cracks import Crack
from airlab.physics.opening_base import Opening
from airlab.physics.openings import PowerLawLeak, RoundHole, Slot
from airlab.words import cm2, convert, display_unit, m3_per_h, mm, show

__all__ = ["ReadyOpening", "ready_openings"]

_LABELS = {"mm": "mm", "m": "m", "cm²": "cm2"}
_NUMBER = re.compile(r"([\d.]+) (mm|m|cm²)(?!\w)")


@dataclass(frozen=True, slots=True)
class ReadyOpening:
    """An opening with its everyday name, its size in words and where that comes from."""

    key: str
    opening: Opening
    size: str
    source: str

    @property
    def name(self):
        """The everyday name."""
        return self.opening.name

    def said(self, units="metric"):
        """Return its size in the units people see."""

        def turned(found):
            own = _LABELS[found[2]]
            return show(
                convert(float(found[1]), own, display_unit(own, units)), display_unit(own, units), 2
            )

        return _NUMBER.sub(turned, self.size) if units == "us" else self.size


def ready_openings():
    """Return the ready openings, smallest leak first.

    Returns
    -------
    tuple of ReadyOpening
        Openings with name, size and source.

    Notes
    -----
    Sizes come from the shape; crack flows rest on the quadratic law with a constant from memory.

    References
    ----------
    [BAKER1987] cracks; [WINDOW_CLASSES] sash joints

    Examples
    --------
    >>> [entry.name for entry in ready_openings()][:3]
    ['pin prick', 'nail or staple tear', 'missed screw']
    """
    hole, crack = RoundHole.from_diameter, Crack
    table = (
        ("pin", hole(mm(0.5), flow_model="two-term", name="pin prick"), "0.5 mm", "DERIVED"),
        ("nail", hole(mm(3), name="nail or staple tear"), "3 mm", "DERIVED"),
        ("screw", hole(mm(6), name="missed screw"), "6 mm", "DERIVED"),
        ("cable", hole(mm(10), name="cable hole"), "10 mm", "DERIVED"),
        ("sash", crack(1.0, mm(0.5), mm(50), name="sash hairline"), "0.5 mm × 1 m, 50 mm deep",
         "BAKER1987"),
        ("fold", Slot(0.1, mm(2), name="film fold missed by tape"), "2 mm × 0.1 m", "DERIVED"),
        ("sash joint", PowerLawLeak.from_flow(m3_per_h(4.3), 50.0, 0.67, name="sash joint, class 2"),
         "1 m at the limit of its class", "WINDOW_CLASSES"),
        ("sole plate", crack(1.0, mm(1), mm(100), name="untaped sole plate"),
         "1 mm × 1 m, 100 mm deep", "BAKER1987"),
        ("waste", hole(mm(40), name="open waste pipe"), "40 mm", "DERIVED"),
        ("rough sole plate", crack(1.0, mm(2), mm(100), name="sole plate on a rough slab"),
         "2 mm × 1 m, 100 mm deep", "BAKER1987"),
        ("door", crack(0.9, mm(3), mm(50), name="slot under a door"), "3 mm × 0.9 m, 50 mm deep",
         "BAKER1987"),
        ("socket", hole(mm(68), name="socket box cut-out"), "68 mm", "DERIVED"),
        ("letter plate", RoundHole.from_area(cm2(50), name="letter plate"), "50 cm²", "DERIVED"),
        ("fan", hole(mm(100), name="open fan duct"), "100 mm", "DERIVED"),
        ("soil", hole(mm(110), name="open soil stub"), "110 mm", "DERIVED"),
        ("duct", hole(mm(125), name="open ventilation duct"), "125 mm", "DERIVED"),
    )  # fmt: skip
    entries = (ReadyOpening(key, opening, size, source) for key, opening, size, source in table)
    return tuple(sorted(entries, key=lambda entry: float(entry.opening.flow(50.0))))
