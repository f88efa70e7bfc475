"""Teaching: exercises that know the usual slips, with keys computed by the package when asked.

`check` compares an answer and names the slip that fits; it never raises, so a notebook nobody has
answered yet runs to its end.
"""

from airlab.teaching.attempt import Attempt
from airlab.teaching.bank import ask, check, exercise, exercises_for, right_answer, variants_for
from airlab.teaching.bench_protocol import BENCH_CAUTIONS, BENCH_STEPS
from airlab.teaching.exercise import LEVELS, Choice, Feedback, Numeric, Ordering, Slip, judge
from airlab.teaching.house_bank import worked_house
from airlab.teaching.look import FLOW_COURSES, look_again, nearest_option, why_so
from airlab.teaching.outcomes import OUTCOMES
from airlab.teaching.reasoned import Justify, Mark

__all__ = [
    "BENCH_CAUTIONS",
    "BENCH_STEPS",
    "FLOW_COURSES",
    "LEVELS",
    "OUTCOMES",
    "Attempt",
    "Choice",
    "Feedback",
    "Justify",
    "Mark",
    "Numeric",
    "Ordering",
    "Slip",
    "ask",
    "check",
    "exercise",
    "exercises_for",
    "judge",
    "look_again",
    "nearest_option",
    "right_answer",
    "variants_for",
    "why_so",
    "worked_house",
]
