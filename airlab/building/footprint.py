"""Do the rooms of a storey fit the floor they stand on? The sum held against the footprint."""

from dataclasses import dataclass

from airlab.words import display_unit, from_si, show, show_percent

__all__ = ["Footprint", "footprints"]

_PARTITIONS = 0.10  # share of a footprint that partitions and stairs may take [AIRLAB]
_SAME = 0.005


@dataclass(frozen=True, slots=True)
class Footprint:
    """A storey's rooms against the area of the floor under them or the ceiling over them.

    Parameters
    ----------
    storey : str
        Name of the storey.
    rooms_area : float
        Length × width of its rooms, stair voids included. [m2]
    footprint : float
        Area of the lowest floor, or of the ceiling, seen from that storey. [m2]
    against : str
        "lowest floor" or "ceiling".
    """

    storey: str
    rooms_area: float
    footprint: float
    against: str

    @property
    def mismatch(self):
        """Footprint minus rooms; partitions make it a little above zero. [m2]"""
        return self.footprint - self.rooms_area

    @property
    def share(self):
        """Mismatch over footprint. [-]"""
        return self.mismatch / self.footprint

    @property
    def fits(self):
        """Whether partitions alone can explain the mismatch."""
        return -_SAME <= self.share <= _PARTITIONS

    def sentence(self, units="metric"):
        """Return the comparison in words."""
        unit = display_unit("m2", units)

        def said(area):
            return show(from_si(area, unit), unit)

        text = (
            f"Storey {self.storey}: rooms {said(self.rooms_area)}, {self.against} "
            f"{said(self.footprint)}. "
        )
        if self.share < -_SAME:
            return (
                f"{text}The rooms are {said(-self.mismatch)} larger than what they stand on. "
                "A size is wrong, or a room stands there twice."
            )
        text += f"The difference is {said(max(self.mismatch, 0.0))}"
        if self.share > _PARTITIONS:
            return (
                f"{text}, {show_percent(self.share)} of it: more than partitions take. "
                "Is a room missing?"
            )
        return f"{text}: partitions."


def footprints(rooms, envelope):
    """Return the comparison for every storey that has a lowest floor or a flat ceiling.

    Parameters
    ----------
    rooms : iterable of Room
        Rooms in and out; those left out are passed over.
    envelope : iterable of EnvelopeElement
        Areas of the envelope. A storey under a roof slope is compared with no ceiling.

    Returns
    -------
    tuple of Footprint
        In the order of the storeys; empty where nothing can be compared.

    References
    ----------
    [AIRLAB] up to 10 % for partitions is an assumption.
    """
    inside = [room for room in rooms if room.included and room.plan_area]
    found = []
    for storey in dict.fromkeys(room.storey for room in inside):
        here = [room for room in inside if room.storey == storey]
        names = {room.name for room in here}
        seen = [element for element in envelope if element.room in names]
        kinds = {element.kind for element in seen}
        for against, wanted in (("lowest floor", ("floor",)), ("ceiling", ("ceiling", "hatch"))):
            area = sum(element.area_m2 for element in seen if element.kind in wanted)
            if wanted[0] in kinds and area and not (against == "ceiling" and "roof" in kinds):
                found.append(Footprint(storey, sum(room.plan_area for room in here), area, against))
    return tuple(found)
