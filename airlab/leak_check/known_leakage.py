"""What is the best that is known of a house's leakage today: a test, a reading, or only the aim?"""

from contextlib import suppress
from dataclasses import dataclass

from airlab.building import Geometry
from airlab.fan_test import analyse, fan_test_from_rows, readable_tests
from airlab.leak_check.plan import make_plan
from airlab.leak_check.readings import house_flow
from airlab.words import InputError
from airlab.words.saying import said

__all__ = ["KnownLeakage", "known_leakage"]


@dataclass(frozen=True, slots=True)
class KnownLeakage:
    """Leakage at 50 Pa [m3/s], its exponent [-], the sizes it is for, and where it comes from."""

    flow: float
    flow_exponent: float
    house: Geometry
    origin: str
    measured: bool

    def sentence(self, units="metric"):
        """Return the leakage and its origin in words."""
        care = "" if self.measured else " Nothing has been measured yet."
        return f"{said(self.flow, 'm3/s', units)} at 50 Pa, {self.origin}.{care}"


def known_leakage(job):
    """Return what is best known of the leakage of a job: last fan test, last reading, target.

    Parameters
    ----------
    job : object
        Anything that `make_plan` takes, with the `files` of its tables.

    Returns
    -------
    KnownLeakage
        The sizes are those of the finished house.

    Raises
    ------
    InputError
        If no sizes are entered, or no target is set.
    """
    plan = make_plan(job)
    exponent = plan.assumptions["flow_exponent"]
    tests, points = (job.files[table].rows for table in ("fan_tests", "fan_test_points"))
    for row in reversed(readable_tests(tests, points)):
        with suppress(InputError):  # a test that cannot be read is told in notebook 09
            found = analyse(fan_test_from_rows(row, points, plan.final))
            return KnownLeakage(found.flow(), found.flow_exponent, plan.final,
                                f"from the fan test {row['test']!r}", True)  # fmt: skip
    read = house_flow(plan.readings)
    if read is not None and plan.hazards.fan_may_run:
        return KnownLeakage(read.flow_50, exponent, plan.final,
                            "the last reading, before the end of the build", True)  # fmt: skip
    return KnownLeakage(plan.target_flow, exponent, plan.final, "the target", False)
