"""The airtight line: the junctions where one element's layer meets the next."""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from airlab.building.rows import RowRecord
from airlab.building.tables import JUNCTIONS
from airlab.words import InputError, Table, require_positive
from airlab.words.saying import alike

__all__ = ["NOT_MEETING", "Junction"]

NOT_MEETING = "do not meet"  # said under `joined`: two elements that only seem to touch


@dataclass(frozen=True, slots=True)
class Junction(RowRecord):
    """A joint between two elements.

    Parameters
    ----------
    junction, element_a, element_b : str
        Name of the junction and of the two elements it joins.
    layer_a, layer_b, joined : str
        Airtight layer on each side, and how they are joined.
    length : float or None
        Length of the joint. [m]
    count : float or None
        How many, where it is counted. [-]
    owner, inspection : str
        Who answers for it; when it is looked at.
    hidden_on : date or None
        Date it will be hidden.
    closed : bool
        Whether the line is unbroken here.
    """

    _table: ClassVar[Table] = JUNCTIONS

    junction: str
    element_a: str
    element_b: str
    layer_a: str = ""
    layer_b: str = ""
    joined: str = ""
    length: float | None = None
    count: float | None = None
    owner: str = ""
    inspection: str = ""
    hidden_on: date | None = None
    closed: bool = False

    def __post_init__(self):
        if not str(self.junction).strip():
            raise InputError("A junction has no name. Give each junction its own name.")
        if not str(self.element_a).strip() or not str(self.element_b).strip():
            raise InputError(
                f"Junction {self.junction!r} names one element. A junction joins two: fill in "
                "element_a and element_b."
            )
        for what, unit in (("length", "m"), ("count", "-")):
            value = getattr(self, what)
            if value is not None:
                require_positive(f"junction {what}", value, unit, "", allow_zero=True)

    @property
    def meets(self):
        """Whether its elements meet at all."""
        return alike(self.joined) != NOT_MEETING

    @property
    def ends(self):
        """Names of its two elements as they are compared."""
        return tuple(alike(e) for e in (self.element_a, self.element_b))
