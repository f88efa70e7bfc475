"""Vocabulary and sources of teaching."""

from airlab.words import Source, Term

__all__ = ["SOURCES", "TERMS"]

TERMS = (
    Term("slip", "", "-", "a wrong answer that many people give, with a reason of its own"),
    Term("felt far from its source", "", "-", "of air that comes in at one place, runs through a void and is "
         "noticed at another"),
)  # fmt: skip

SOURCES = (
    Source("CROUCH2004", "Crouch, Fagen, Callan and Mazur", "Classroom demonstrations: learning "
           "tools or entertainment? Am. J. Phys. 72, 835-838", "2004",
           "predicting first helps; watching alone does not", "read"),
    Source("DEBOCK2002", "De Bock, Van Dooren, Janssens and Verschaffel", "Improper use of linear "
           "reasoning, Educ. Stud. Math. 50, 311-334", "2002",
           "twice the length is not twice the area", "read"),
)  # fmt: skip
