"""What does one page of a fan test say: readings, line, doubts, and what moves with one point?"""

from dataclasses import dataclass, replace
from functools import partial

from airlab.fan_test.budget import Trust, trust
from airlab.fan_test.curves import (
    FitCurve,
    Influence,
    fit_curves,
    influence,
    with_point,
    without_points,
)
from airlab.fan_test.estimators import FITS, fit_curve, fit_with_spreads, with_prior
from airlab.fan_test.faults import Finding, diagnose
from airlab.fan_test.fit import coverage_factor
from airlab.fan_test.result import TestResult, analyse
from airlab.fan_test.validity import ValidityCheck, validity
from airlab.words import (
    PRESSURE_REFERENCE,
    display_unit,
    from_si,
    require_between,
    show,
    show_percent,
)

__all__ = ["FitRow", "PointChange", "TestPage", "fits_beside", "read_test"]

_LOW = 4.0  # Pa; where people want a figure and the points hardly give one


@dataclass(frozen=True, slots=True)
class PointChange:
    """One point, counted from 1, left out or its flow moved by a share of it."""

    direction: str
    point: int
    moved: float = 0.0
    left_out: bool = False

    @property
    def still(self):
        """Whether nothing is changed."""
        return self.moved == 0.0 and not self.left_out

    def of(self, test):
        """Return the test with the change made."""
        if self.left_out:
            return without_points(test, self.direction, self.point)
        series = test.of(self.direction)
        if self.still:
            return test
        moved = require_between(
            "moved", self.moved, -0.8, 4.0, "-", "If you meant 5 %, write 0.05."
        )
        inside = series is not None and 1 <= self.point <= len(series.flow)
        flow = series.flow[self.point - 1] * (1.0 + moved) if inside else None
        return with_point(test, self.direction, self.point, flow=flow)


@dataclass(frozen=True, slots=True)
class TestPage:
    """A test as read and as changed, with everything there is to say about it."""

    __test__ = False  # not a test case

    before: TestResult
    result: TestResult
    change: PointChange | None
    curves_before: tuple[FitCurve, ...]
    curves: tuple[FitCurve, ...]
    influence: tuple[Influence, ...]
    findings: tuple[Finding, ...]
    checks: tuple[ValidityCheck, ...]
    trust: Trust

    @property
    def changed(self):
        """Whether a point is moved or left out."""
        return self.change is not None and not self.change.still

    @property
    def unmet(self):
        """Conditions that failed or cannot be judged, failed ones first."""
        verdicts = ("failed", "not known")
        return tuple(c for verdict in verdicts for c in self.checks if c.verdict == verdict)

    def moved(self, pressure_difference):
        """Return by which share the change moves the flow at a pressure. [-]."""
        return self.result.flow(pressure_difference) / self.before.flow(pressure_difference) - 1.0

    def sentence(self, units="metric", faults=True):
        """Return the result, what the change moved, and the first doubt.

        Parameters
        ----------
        units : str
            'metric' or 'us'.
        faults : bool
            Whether to name the first symptom; not where a learner is to find it.
        """
        unit, result = display_unit("m3/s", units), self.result
        at_50, at_4 = (
            show(from_si(result.flow(p), unit), unit) for p in (PRESSURE_REFERENCE, _LOW)
        )
        house = "" if result.n50 is None else f", {show(result.n50)} air changes per hour at 50 Pa"
        text = [f"At 50 Pa {at_50} leaks{house}."]
        if self.changed:
            text.append(self._moved_words())
        else:
            text.append(f"Known to {show_percent(self.trust.half(PRESSURE_REFERENCE))}, all doubts "
                        f"counted; the {at_4} at 4 Pa to {show_percent(self.trust.half(_LOW))}.")  # fmt: skip
        if faults:
            text.append(self.findings[0].sentence(units) if self.findings
                        else "No fault shows in the points.")  # fmt: skip
        return " ".join(text)

    def _moved_words(self):
        one = self.change
        what = "left out" if one.left_out else f"with {_signed(one.moved)} flow"
        return (f"Point {one.point} ({one.direction}) {what}: the flow at 50 Pa moves by "
                f"{_signed(self.moved(PRESSURE_REFERENCE))}, at 4 Pa by {_signed(self.moved(_LOW))}, n from "
                f"{show(self.before.flow_exponent)} to {show(self.result.flow_exponent)}.")  # fmt: skip


def _signed(share):
    return ("+" if share >= 0.0 else "") + show(from_si(share, "%"), "%", 2)


def read_test(test, rules="ISO 9972:2015", change=None, known=None):
    """Return the page of a test.

    Parameters
    ----------
    test : FanTest
        As read.
    rules : str or Standard
        One of `STANDARDS`.
    change : PointChange, optional
        One point moved or left out.
    known : TestPage, optional
        Page of the same test under the same rules: what does not depend on the change is taken
        from it.

    Returns
    -------
    TestPage
        As read, as changed, and the doubts.

    Examples
    --------
    >>> from airlab.fan_test.faulty import faulty_test
    >>> test = faulty_test("gust", seed=3).test
    >>> page = read_test(test)
    >>> found = page.findings[0]
    >>> change = PointChange(found.direction, found.points[0], left_out=True)
    >>> read_test(test, change=change, known=page).sentence().endswith("No fault shows in the points.")
    True
    """
    if known is None or known.before.test is not test or known.before.standard.key != rules:
        before = analyse(test, rules)
        known = TestPage(before, before, None, *2 * (fit_curves(before),), influence(before),
                         diagnose(before), validity(before), trust(before))  # fmt: skip
    if change is None or change.still:
        return replace(
            known, result=known.before, change=change, curves=known.curves_before,
            findings=diagnose(known.before), checks=validity(known.before),
        )  # fmt: skip
    result = analyse(change.of(test), rules)
    return replace(known, result=result, change=change, curves=fit_curves(result),
                   findings=diagnose(result), checks=validity(result))  # fmt: skip


@dataclass(frozen=True, slots=True)
class FitRow:
    """One fit of the same points: exponent and flows, each with its standard uncertainty."""

    method: str
    note: str
    flow_exponent: float
    exponent_spread: float
    flows: tuple[tuple[float, float, float], ...]  # pressure [Pa], flow [m3/s], relative half-width

    def sentence(self, units="metric"):
        """Return the fit in words."""
        unit = display_unit("m3/s", units)
        parts = ", ".join(
            f"{show(from_si(flow, unit), unit)} at {show(p, 'Pa')} (± {show(from_si(half, '%'), '%', 2)})"
            for p, flow, half in self.flows
        )
        return f"{self.method.capitalize()}: n {show(self.flow_exponent)}, {parts}."


_NOTES = {
    "least squares": "the standard's: all points alike",
    "weighted": "points by their flow error",
    "effective variance": "pressure errors turned into flow errors",
    "both errors": "pressure and flow both uncertain",
    "organic": "neither reading comes first",
    "fixed exponent": "n held at 0.65: for wind",
    "curve": "flows themselves, not logarithms",
    "prior": "n expected near 0.65 ± 0.07",
}


def fits_beside(result):
    """Return the same test worked out with every fit.

    Parameters
    ----------
    result : TestResult
        Worked out by `analyse`.

    Returns
    -------
    tuple of FitRow
        The standard's fit first. Half-widths are at 95 %, of the fit alone; each pressure is taken
        as good to 0.5 Pa, each flow to 1 %.

    References
    ----------
    [DELMOTTE2013] errors in both; [PRIGNON2018] weighted lines at 4 Pa; [WALKER2013] fixed exponent

    Examples
    --------
    >>> from airlab.fan_test.faulty import faulty_test
    >>> rows = fits_beside(analyse(faulty_test("none", seed=1).test))
    >>> len(rows), rows[0].method
    (8, 'least squares')
    """

    def spread_fit(method, pressure, flow):
        return fit_with_spreads(pressure, flow, 0.5, 0.01 * flow, method,
                                exponent_spread=0.07)  # fmt: skip

    def prior(pressure, flow):
        return with_prior(spread_fit("both errors", pressure, flow))

    fitters = {name: partial(spread_fit, name) for name in FITS}
    fitters |= {"curve": fit_curve, "prior": prior}
    rows = []
    for name, fitter in fitters.items():
        found = analyse(result.test, result.standard, fitter)
        spread = found.exponent_spread_and_freedom()[0]
        flows = []
        for p in (50.0, 4.0):
            share, dof = found.spread_and_freedom(p)
            flows.append(
                (float(p), float(found.flow(p)), float(coverage_factor(0.95, dof) * share))
            )
        rows.append(FitRow(name, _NOTES[name], found.flow_exponent, spread, tuple(flows)))
    return tuple(rows)
