"""What went wrong in this test? Symptoms in the points, the sum behind each, and likely causes.

A symptom is a computation with a threshold such that about one sound test in a hundred shows it by
chance. Several can stand together; the strongest comes first. A cause is a hint where to look.
"""

import math
from dataclasses import dataclass

import numpy as np

from airlab.fan_test.fit import coverage_factor, straight_line
from airlab.words import PRESSURE_REFERENCE, convert, show, show_percent

__all__ = ["CAUSES", "SYMPTOMS", "Finding", "diagnose"]

_BY_CHANCE = 0.01
_DRIFT = 1.0  # Pa; after minus before
_ZERO_LIMIT = 5.0  # Pa
_APART = 0.10  # share between directions that is worth explaining
_ROUGH = 0.03  # scatter of ln q of a test in calm air is a third of this
SYMPTOMS = ("outlier", "step", "curvature", "exponent", "directions apart", "zero drift",
            "zero large", "scatter")  # fmt: skip

# Symptom to (cause, status); most likely first.
CAUSES = {
    "outlier": (
        ("a gust, or someone opened a door for a moment", "common practice"),
        ("a number misread or typed in another unit", "common practice"),
    ),
    "step": (
        ("a window, hatch or door came open, or was shut, during the series", "read"),
        ("a drain trap ran dry or a temporary seal let go", "read"),
        ("the fan's ring or plate was changed and not noted", "common practice"),
    ),
    "curvature": (
        (
            "the zero-flow pressure is wrong: not read, with the wrong sign, or changed since",
            "derived",
        ),
        ("the fan is below the flow it can measure at the low end", "common practice"),
        ("a flap or film that opens with pressure", "common practice"),
    ),
    "exponent": (
        ("something moved during the series: a window, a trap, a seal", "read"),
        ("an error in the zero-flow pressure", "derived"),
        ("pressure and flow swapped, or the wrong fan table", "common practice"),
    ),
    "directions apart": (
        ("a flap valve, a film or a loft hatch that opens one way only", "common practice"),
        ("a trap that holds one way and not the other", "common practice"),
        ("a density ratio upside down in one direction, or another ring than noted", "derived"),
    ),
    "zero drift": (
        ("the wind rose or fell", "common practice"),
        ("the gauge drifts with temperature: let it settle and zero it again", "common practice"),
        ("the house warmed or cooled during the test", "derived"),
    ),
    "zero large": (
        ("wind on the outside tap, or a tap in the fan's stream", "common practice"),
        ("a large temperature difference in a tall house", "derived"),
        ("a ventilation fan still running", "common practice"),
    ),
    "scatter": (
        ("a hose or tap in gusty wind", "common practice"),
        ("readings taken before pressure and flow had settled", "common practice"),
    ),
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One symptom: what shows it, how unlikely by chance, where, and likely causes."""

    symptom: str
    evidence: str
    by_chance: float
    direction: str = ""
    points: tuple[int, ...] = ()  # counted from 1, in the order read
    causes: tuple[tuple[str, str], ...] = ()

    def sentence(self, units="metric"):
        """Return the finding and its likeliest causes in words."""
        where = f" ({self.direction})" if self.direction else ""
        causes = "; ".join(cause for cause, _ in self.causes[:2])
        return f"{self.evidence}{where}. Likely: {causes}."


def diagnose(result):
    """Return the symptoms a test shows, strongest first.

    Parameters
    ----------
    result : TestResult
        Worked out by `analyse`.

    Returns
    -------
    tuple of Finding
        Empty for a test without symptoms.

    Notes
    -----
    Points are taken in the order they were read. A step needs six points, a bend five.

    References
    ----------
    [PASSIPEDIA] exponent, directions; [DERIVED] tests of residuals

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions, FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> p = np.array([60.0, 52, 45, 38, 30, 24, 18, 12])
    >>> q = 0.02 * p**0.65 * (1.0 + 0.004 * np.array([1, -1, 1, 0, -1, 1, -1, 0]))
    >>> q[3] *= 1.10
    >>> one = Series("depressurise", p, q, (-1.0,), (-1.0,))
    >>> found = diagnose(analyse(FanTest(one, Conditions(20.0, 12.0))))
    >>> found[0].symptom, found[0].points
    ('outlier', (4,))
    """
    findings = []
    for one in result.results:
        findings += [found for check in _CHECKS for found in check(one)]
    findings += _apart(result)
    order = {symptom: rank for rank, symptom in enumerate(SYMPTOMS)}
    return tuple(sorted(findings, key=lambda f: (f.by_chance, order[f.symptom])))


def _finding(symptom, evidence, chance, one=None, points=(), extra=()):
    direction = one.direction if one is not None else ""
    return Finding(symptom, evidence, float(chance), direction, points, (*extra, *CAUSES[symptom]))


def _beyond(t, freedom):
    """Return the two-sided chance of Student's t."""
    from scipy.special import stdtr

    return 2.0 * float(stdtr(freedom, -abs(t)))


def _added(one, columns):
    """Return the chance, by the F test, that more columns explain as much as they do, and the fit."""
    from scipy.special import fdtrc

    x, y = np.log(np.abs(one.induced)), np.log(one.through_envelope)
    plain = np.stack([np.ones_like(x), x], axis=1)
    full = np.column_stack([plain, *columns])
    more, left = full.shape[1] - 2, len(y) - full.shape[1]
    if left < 1:
        return 1.0, None
    before, after = (y - m @ np.linalg.lstsq(m, y, rcond=None)[0] for m in (plain, full))
    rss, rest = float(before @ before), float(after @ after)
    if rss <= 1e-20:
        return 1.0, None
    if rest <= 1e-9 * rss:
        rest = 1e-9 * rss
    return float(fdtrc(more, left, (rss - rest) / more / (rest / left))), np.linalg.lstsq(
        full, y, rcond=None
    )[0]


def _outlier(one):
    """Find the one point that lies off the line through the others (studentised, with its rank)."""
    count = one.induced.size
    if count < 5:
        return
    x = np.log(np.abs(one.induced))
    lever = 1.0 / count + (x - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum()
    residual = one.residuals
    total = float(residual @ residual)
    if total <= 1e-16:
        return
    rest = (total - residual**2 / (1.0 - lever)) / (count - 3)
    t = residual / np.sqrt(np.maximum(rest, 1e-9 * total) * (1.0 - lever))
    worst = int(np.abs(t).argmax())
    chance = min(1.0, count * _beyond(t[worst], count - 3))
    off = residual[worst] / (1.0 - lever[worst])
    if chance > _BY_CHANCE or abs(off) < 0.01:
        return
    side = "above" if off > 0 else "below"
    evidence = (
        f"Point {worst + 1} lies {show_percent(abs(math.expm1(off)))} {side} the line of the others"
    )
    extra = ()
    for unit in ("L/s", "cfm"):
        ratio = math.log(convert(1.0, unit, "m3/h"))
        for sign, words in ((-1.0, f"typed in {unit.replace('L', 'l')} among m³/h"),
                            (1.0, f"typed in m³/h among {unit.replace('L', 'l')}")):  # fmt: skip
            if abs(off - sign * ratio) < 0.08:
                extra = ((f"the flow was {words}: the factor fits", "derived"),)
    yield _finding("outlier", evidence, chance, one, (worst + 1,), extra)


def _step(one):
    """Find a lasting change of flow from some point on: the best place to cut, with its rank."""
    count = one.induced.size
    if count < 6:
        return
    best = (1.0, None, 0)
    cuts = np.unique(np.linspace(2, count - 2, min(count - 3, 60)).astype(int))
    for cut in cuts:
        late = (np.arange(count) >= cut).astype(float)
        chance, values = _added(one, [late])
        if chance < best[0]:
            best = (chance, values, cut)
    chance, values, cut = best[0], best[1], int(best[2])
    chance = min(1.0, cuts.size * chance)
    if chance > _BY_CHANCE or values is None or abs(values[2]) < 0.01:
        return
    word = "more" if values[2] > 0 else "less"
    yield _finding("step", f"From point {cut + 1} on {show_percent(abs(math.expm1(values[2])))} {word} air "
                   "passes than before", chance, one, tuple(range(cut + 1, count + 1)))  # fmt: skip


def _curvature(one):
    """Find a bend of the line in logarithms, and the zero-flow error that would straighten it."""
    if one.induced.size < 5:
        return
    x = np.log(np.abs(one.induced))
    chance, values = _added(one, [(x - x.mean()) ** 2])
    if chance > _BY_CHANCE or values is None:
        return
    sizes = np.abs(one.induced)
    shifts = np.linspace(-0.8, 0.8, 321) * min(sizes.min(), 8.0)
    lines = straight_line(np.log(sizes + shifts[:, None]), np.log(one.through_envelope) + 0.0 * shifts[:, None])  # fmt: skip
    best = int(np.argmin(lines.residual_spread))
    evidence = "The points bend in the logarithmic plot"
    if 0 < best < shifts.size - 1:
        shift = -shifts[best] * one.series.sign
        evidence += (f"; a zero-flow pressure of {show(one.zero.mean + shift, 'Pa')} instead of "
                     f"{show(one.zero.mean, 'Pa')} would straighten them, with n {show(lines.slope[best])}")  # fmt: skip
    yield _finding("curvature", evidence, chance, one)


def _exponent(one):
    n, spread = one.fit.flow_exponent, one.fit.exponent_spread
    edge = 0.5 if n < 0.5 else 1.0
    if 0.5 <= n <= 1.0:
        return
    freedom = one.fit.line.degrees_of_freedom
    chance = (
        0.5 * _beyond((n - edge) / spread, freedom)
        if spread > 0.0 and math.isfinite(freedom)
        else 0.0
    )
    evidence = f"n is {show(n)}, outside 0.5 to 1"
    extra = ()
    if n > 1.0 and 0.5 <= 1.0 / n <= 1.0:
        extra = ((f"pressure and flow swapped: then n would be {show(1.0 / n)}", "derived"),)
    yield _finding("exponent", evidence, min(chance, _BY_CHANCE), one, (), extra)


def _zero(one):
    zero = one.zero
    if zero.drift is not None and abs(zero.drift) > max(_DRIFT, 0.05 * np.abs(one.induced).min()):
        yield _finding("zero drift", f"The zero-flow pressure went from {show(zero.before, 'Pa')} to "
                       f"{show(zero.after, 'Pa')}", _BY_CHANCE, one)  # fmt: skip
    if zero.worst is not None and zero.worst > _ZERO_LIMIT:
        yield _finding("zero large", f"A mean zero-flow pressure is {show(zero.worst, 'Pa')}, beyond "
                       f"{show(_ZERO_LIMIT, 'Pa')}", _BY_CHANCE, one)  # fmt: skip


def _scatter(one):
    """Find rough points, whichever single point is left out."""
    residual, left = one.residuals, one.induced.size - 3
    if left < 1:
        return
    x = np.log(np.abs(one.induced))
    lever = 1.0 / x.size + (x - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum()
    without = residual @ residual - residual**2 / (1.0 - lever)
    spread = math.sqrt(max(float(without.min()), 0.0) / left)
    if spread > _ROUGH:
        yield _finding("scatter", f"The points scatter by {show_percent(spread)} about the line", _BY_CHANCE, one)  # fmt: skip


_CHECKS = (_outlier, _step, _curvature, _exponent, _zero, _scatter)


def _apart(result):
    if len(result.results) < 2:
        return []
    first, second = (one.standard_fit for one in result.results)
    gap = math.log(second.flow(PRESSURE_REFERENCE) / first.flow(PRESSURE_REFERENCE))
    spread = math.hypot(*(fit.relative_spread(PRESSURE_REFERENCE) for fit in (first, second)))
    if abs(gap) < _APART or abs(gap) < coverage_factor(0.99) * spread:
        return []
    more = result.results[1 if gap > 0 else 0].direction
    evidence = (
        f"At 50 Pa the flow is {show_percent(abs(math.expm1(abs(gap))))} larger when we {more}"
    )
    return [_finding("directions apart", evidence, _BY_CHANCE)]
