"""What is there to draw, and what moves when a point is dragged or dropped? Records for the plots."""

from dataclasses import dataclass, field, replace

import numpy as np

from airlab.words import InputError, require_choice, show, show_percent

__all__ = ["FitCurve", "Influence", "fit_curves", "influence", "with_point", "without_points"]


@dataclass(frozen=True, slots=True)
class FitCurve:
    """One direction ready to draw, flows through the envelope: points, line, limits, residuals."""

    direction: str
    point_pressure: np.ndarray = field(repr=False)  # sizes [Pa]
    point_flow: np.ndarray = field(repr=False)  # [m3/s]
    residuals: np.ndarray = field(repr=False)  # share of the line [-]
    pressure: np.ndarray = field(repr=False)  # [Pa]
    flow: np.ndarray = field(repr=False)  # power law [m3/s]
    low: np.ndarray = field(repr=False)
    high: np.ndarray = field(repr=False)
    pivot_pressure: float
    flow_exponent: float

    def sentence(self, units="metric"):
        """Return what the picture shows in words."""
        worst = int(np.abs(self.residuals).argmax())
        share = show_percent(abs(float(self.residuals[worst])))
        return (f"{self.direction.capitalize()}: {self.point_flow.size} points from "
                f"{show(self.point_pressure.min())} to {show(self.point_pressure.max(), 'Pa')}. n is "
                f"{show(self.flow_exponent)}. The line is surest at {show(self.pivot_pressure, 'Pa')}. "
                f"The point farthest off is number {worst + 1}, by {share}.")  # fmt: skip


_ENDS = (2.0, 100.0)  # Pa, of the curves


def fit_curves(result):
    """Return what a log-log or straight plot of a result needs, by direction, with limits of 95 %.

    Parameters
    ----------
    result : TestResult
        Worked out by `analyse`.

    Returns
    -------
    tuple of FitCurve
        One for each direction.

    Examples
    --------
    >>> from airlab.fan_test.readings import FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> one = Series("depressurise", (20, 35, 50), (0.10, 0.145, 0.183), (0.0,), (0.0,))
    >>> fit_curves(analyse(FanTest(one)))[0].direction
    'depressurise'
    """
    pressure = np.geomspace(*_ENDS, 80)
    return tuple(
        FitCurve(
            one.direction,
            np.abs(one.induced),
            one.through_envelope,
            one.residuals,
            pressure,
            one.fit.flow(pressure),
            *one.fit.flow_limits(pressure),
            float(one.fit.pivot_pressure),
            float(one.fit.flow_exponent),
        )
        for one in result.results
    )


def _changed(test, direction, change):
    require_choice("direction", direction, [one.direction for one in test.series])
    return replace(test, series=tuple(
        change(one) if one.direction == direction else one for one in test.series
    ))  # fmt: skip


def _index(series, point):
    if not 1 <= point <= len(series.flow):
        raise InputError(f"Point is {point}. The series has points 1 to {len(series.flow)}.")
    return point - 1


def without_points(test, direction, *points):
    """Return the test with points left out, counted from 1.

    Parameters
    ----------
    test : FanTest
        Any test.
    direction : str
        Series to change.
    points : int
        Points to leave out.

    Returns
    -------
    FanTest
        The rest.

    Examples
    --------
    >>> from airlab.fan_test.readings import FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> one = FanTest(Series("depressurise", (20, 30, 40, 50), (0.1, 0.2, 0.16, 0.18)))
    >>> len(without_points(one, "depressurise", 2).series[0].flow)
    3
    """

    def change(series):
        gone = {_index(series, point) for point in points}
        keep = [k for k in range(len(series.flow)) if k not in gone]
        return replace(series, pressure=tuple(series.pressure[k] for k in keep),
                       flow=tuple(series.flow[k] for k in keep))  # fmt: skip

    return _changed(test, direction, change)


def with_point(test, direction, point, pressure=None, flow=None):
    """Return the test with one point moved, as read.

    Parameters
    ----------
    test : FanTest
        Any test.
    direction : str
        Series to change.
    point : int
        Counted from 1.
    pressure : float, optional
        New pressure difference as read. [Pa]
    flow : float, optional
        New flow as read. [m3/s]

    Returns
    -------
    FanTest
        With that point moved.

    Examples
    --------
    >>> from airlab.fan_test.readings import FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> one = FanTest(Series("depressurise", (20, 30, 40, 50), (0.1, 0.2, 0.16, 0.18)))
    >>> with_point(one, "depressurise", 2, flow=0.13).series[0].flow[1]
    0.13
    """

    def change(series):
        k = _index(series, point)
        values = {"pressure": list(series.pressure), "flow": list(series.flow)}
        for name, new in (("pressure", pressure), ("flow", flow)):
            if new is not None:
                values[name][k] = new
        return replace(series, pressure=tuple(values["pressure"]), flow=tuple(values["flow"]))

    return _changed(test, direction, change)


@dataclass(frozen=True, slots=True)
class Influence:
    """What leaving out one point does to exponent and flows through the envelope."""

    direction: str
    point: int
    exponent: float  # change of n
    flow_50: float  # relative change of the flow at 50 Pa
    flow_4: float  # relative change of the flow at 4 Pa

    def sentence(self, units="metric"):
        """Return the influence in words."""
        return (f"Without point {self.point} ({self.direction}) n moves by {show(self.exponent)}, the flow "
                f"at 50 Pa by {show_percent(abs(self.flow_50))}, at 4 Pa by "
                f"{show_percent(abs(self.flow_4))}.")  # fmt: skip


def influence(result):
    """Return what leaving out each point in turn would do.

    Parameters
    ----------
    result : TestResult
        Worked out by `analyse`, with four points or more in a direction.

    Returns
    -------
    tuple of Influence
        In the order of the points.

    References
    ----------
    [DERIVED] leave-one-out of a least-squares line

    Examples
    --------
    >>> from airlab.fan_test.readings import FanTest, Series
    >>> from airlab.fan_test.result import analyse
    >>> one = FanTest(Series("depressurise", (20, 30, 40, 50), (0.10, 0.13, 0.16, 0.18)))
    >>> len(influence(analyse(one)))
    4
    """
    found = []
    for one in result.results:
        x, residual = np.log(np.abs(one.induced)), one.residuals
        if x.size < 4:
            continue
        dx = x - x.mean()
        sxx = dx @ dx
        moved = -residual / (1.0 - 1.0 / x.size - dx**2 / sxx)  # textbook leave-one-out
        exponent = moved * dx / sxx
        flows = [
            np.expm1(moved * (1.0 / x.size + dx * (np.log(p) - x.mean()) / sxx))
            for p in (50.0, 4.0)
        ]
        found += [
            Influence(one.direction, k + 1, float(exponent[k]), *(float(flow[k]) for flow in flows))
            for k in range(x.size)
        ]
    return tuple(found)
