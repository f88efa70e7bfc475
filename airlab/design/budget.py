"""What stands in one line of a leakage budget, and in its table?"""

from dataclasses import dataclass
from typing import ClassVar

from airlab.building.components import QUANTITY_UNITS, component
from airlab.building.rows import RowRecord
from airlab.words import Column, InputError, Table, from_si, require_choice, show

__all__ = ["AT_CHECK", "BUDGET", "GRADES", "BudgetLine"]

AT_CHECK = ("in place", "sealed for the day", "not built yet", "covered by a later layer")
# Factor on the figures, and whether the line shares the workmanship of the house [AIRLAB].
GRADES = {"careful": (0.7, True), "usual": (1.0, True), "rough": (1.6, True),
          "tested product": (1.0, False)}  # fmt: skip
_UNITS = (*QUANTITY_UNITS, "hole")
_FLOW = {"unit": "m3/h", "low": 0, "high": 1e5, "slip": "Flow at 50 Pa of one m, m² or piece."}

BUDGET = Table("budget", "the leakage budget: where the leakage of the finished house will be", (
    Column("item", "text", "what leaks, each named once", required=True),
    Column("quantity", "number", "how much of it; blank where sizes_from gives it", low=0, high=1e6),
    Column("unit", "choice", "what is counted; holes are made at random by trades", required=True,
           choices=_UNITS),
    Column("sizes_from", "text", "junctions of the line (m) or elements (m2) it stands for; the "
           "beginning of their names is enough, several with + between",
           offers=("junctions.junction", "envelope.element")),
    Column("component", "text", "row of the catalogue; blank where you give figures of your own",
           offers=("components",)),
    Column("low_m3_per_h", "number", "flow at 50 Pa of one, low: one in ten is below", **_FLOW),
    Column("mid_m3_per_h", "number", "flow at 50 Pa of one, middle case", **_FLOW),
    Column("high_m3_per_h", "number", "flow at 50 Pa of one, high: one in ten is above", **_FLOW),
    Column("grade", "choice", "workmanship", choices=tuple(GRADES), default="usual"),
    Column("left_open", "number", "holes: share that stays open, 0 to 1", low=0, high=1,
           slip="Type 0.1 for 10 %."),
    Column("owner", "text", "who answers for it"),
    Column("inspection", "text", "how and when it is looked at"),
    Column("at_check", "choice", "state at the mid-build check", choices=AT_CHECK,
           default="in place"),
    Column("better", "text", "a better detail, product or inspection"),
    Column("better_share", "number", "what that leaves of the leakage, 0 to 1", low=0, high=1,
           slip="Type 0.3 for 30 %."),
    Column("better_cost", "number", "what it costs, in your money", low=0, high=1e9),
    Column("note", "text", "anything else"),
), key="item", optional=True)  # fmt: skip


@dataclass(frozen=True, slots=True)
class BudgetLine(RowRecord):
    """One line of a budget, as typed.

    Parameters
    ----------
    item : str
        What leaks.
    quantity : float or None
        How much of it; None takes it from the sizes of the house.
    unit : str
        m, m2, item or hole.
    sizes_from, component : str
        Junctions or elements it stands for; row of the catalogue.
    low, mid, high : float or None
        Own figures: flow at 50 Pa of one. [m3/s]
    grade : str
        Workmanship.
    left_open : float or None
        Share of holes that stays open. [-]
    owner, inspection, at_check : str
        Who answers, how it is looked at, state at the check.
    better : str
        A better detail.
    better_share, better_cost : float or None
        What that leaves of the leakage [-]; what it costs.
    note : str
        Anything else.
    """

    _table: ClassVar[Table] = BUDGET

    item: str
    quantity: float | None
    unit: str
    sizes_from: str = ""
    component: str = ""
    low: float | None = None
    mid: float | None = None
    high: float | None = None
    grade: str = "usual"
    left_open: float | None = None
    owner: str = ""
    inspection: str = ""
    at_check: str = "in place"
    better: str = ""
    better_share: float | None = None
    better_cost: float | None = None
    note: str = ""

    def __post_init__(self):
        RowRecord.__post_init__(self)
        own = (self.low, self.mid, self.high)
        if any(one is not None for one in own):
            if None in own:
                raise InputError("Give low, middle and high figures, or none and a component.")
            if not self.low <= self.mid <= self.high:
                shown = ", ".join(show(from_si(one, "m3/h"), "m3/h") for one in own)
                raise InputError(f"Low, middle and high are {shown}. They must not fall.")
            if self.high > 0.0 and self.low == 0.0:
                raise InputError(
                    "Low is 0 m³/h and high is not. No joint is perfect: type a tenth of the middle."
                )
        elif not self.component:
            raise InputError("No figures. Name a component of the catalogue, or type your own.")
        elif component(self.component).unit != {"hole": "item"}.get(self.unit, self.unit):
            one = component(self.component)
            raise InputError(f"Component {one.key!r} is by {one.unit}, the line by {self.unit}.")
        if self.quantity is None and not self.sizes_from:
            raise InputError("No quantity, and no junctions or elements to take it from.")
        if (self.better_share is None) != (self.better_cost is None):
            raise InputError("A better detail needs both its share and its cost.")
        require_choice("grade", self.grade, tuple(GRADES))

    @property
    def figures(self):
        """Low, middle and high flow at 50 Pa of one, workmanship counted. [m3/s]."""
        factor = GRADES[self.grade][0]
        one = self if self.mid is not None else component(self.component)
        return tuple(factor * value for value in (one.low, one.mid, one.high))

    @property
    def shares_workmanship(self):
        """Whether its spread has a part in common with the other hand-made lines."""
        return GRADES[self.grade][1]
