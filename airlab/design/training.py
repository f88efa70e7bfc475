"""What does training the hands do to every line they make, and what does it cost?"""

from dataclasses import dataclass
from typing import ClassVar

from airlab.building.rows import RowRecord
from airlab.design.budget import GRADES
from airlab.words import Column, Table
from airlab.words.saying import alike

__all__ = ["TRAINING", "Training"]

_SHARE = {"required": True, "low": 0, "high": 1, "slip": "Type 0.7 for 70 %."}

TRAINING = Table("training", "what is taught to whom: it acts on every line their hands make", (
    Column("training", "text", "what is taught, each named once", required=True),
    Column("owner", "text", "whose lines; blank: everybody's"),
    Column("grade", "choice", "only lines of this workmanship; blank: any made by hand",
           choices=tuple(GRADES)),
    Column("leaves", "number", "what it leaves of their leakage, 0 to 1; 0.7 is from usual to "
           "careful", **_SHARE),
    Column("spread_leaves", "number", "what it leaves of the spread these lines have in common, "
           "0 to 1", **_SHARE),
    Column("cost", "number", "what it costs, in your money", required=True, low=0, high=1e9),
    Column("note", "text", "anything else"),
), key="training", optional=True)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Training(RowRecord):
    """Something taught to those who build.

    Parameters
    ----------
    training : str
        What is taught.
    leaves : float
        What it leaves of the leakage of each line. [-]
    spread_leaves : float
        What it leaves of the spread these lines have in common. [-]
    cost : float
        What it costs, in the user's money.
    owner, grade : str
        Whose lines, of which workmanship; blank is any.
    note : str
        Anything else.
    """

    _table: ClassVar[Table] = TRAINING

    training: str
    leaves: float
    spread_leaves: float
    cost: float
    owner: str = ""
    grade: str = ""
    note: str = ""

    def reaches(self, entries):
        """Return the names of the flows it acts on: lines made by hand, holes left out."""
        return tuple(
            one.name for one in entries
            if one.line and one.shared and one.holes is None
            and (not self.owner or alike(one.line.owner) == alike(self.owner))
            and (not self.grade or one.line.grade == self.grade)
        )  # fmt: skip
