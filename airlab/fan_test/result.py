"""What does a fan test say? The standard's chain from readings to every indicator.

Both directions are worked out on their own and their flows averaged. The limits here come from the
scatter of the points alone; calibration, zero-flow pressure, volume and wind come on top of them.
"""

from dataclasses import dataclass, field

import numpy as np

from airlab.building.metrics import metric, metric_value
from airlab.fan_test.corrections import (
    REFERENCE_DENSITY,
    ZeroFlow,
    envelope_flow,
    fan_flow,
    induced_pressure,
    standard_state_factor,
    zero_flow,
)
from airlab.fan_test.fit import PowerLawFit, coverage_factor, fit_power_law
from airlab.fan_test.readings import FanTest, Series
from airlab.fan_test.standards import Standard, standard
from airlab.physics.air import Air
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    ach,
    display_unit,
    from_si,
    show,
    show_percent,
)

__all__ = ["SeriesResult", "TestResult", "analyse", "analyse_series"]

_REFERENCE_AIR = Air(REFERENCE_DENSITY)


@dataclass(frozen=True, slots=True)
class SeriesResult:
    """One direction, step by step: zero-flow, induced pressures, flows, fit, standard state.

    `fit` is of the flow through the envelope as it was (C_env); `standard_fit` at standard state
    (C_L).
    """

    series: Series
    zero: ZeroFlow
    induced: np.ndarray = field(repr=False)
    through_fan: np.ndarray = field(repr=False)
    through_envelope: np.ndarray = field(repr=False)
    fit: PowerLawFit
    standard_fit: PowerLawFit

    @property
    def direction(self):
        """Depressurise or pressurise."""
        return self.series.direction

    @property
    def residuals(self):
        """How far each flow lies from the line, as a share of it. [-]."""
        return np.log(self.through_envelope / self.fit.flow(self.induced))

    def trace(self):
        """Return every step of every point as rows of plain numbers, in SI."""
        columns = {
            "pressure_read": self.series.signed_pressure,
            "zero_flow": np.full(self.induced.shape, self.zero.mean),
            "induced": self.induced,
            "flow_read": np.array(self.series.flow),
            "flow_through_fan": self.through_fan,
            "flow_through_envelope": self.through_envelope,
            "ln_pressure": np.log(np.abs(self.induced)),
            "ln_flow": np.log(self.through_envelope),
            "flow_on_line": self.fit.flow(self.induced),
            "residual": self.residuals,
        }
        return tuple(
            {name: float(values[row]) for name, values in columns.items()}
            for row in range(self.induced.size)
        )


@dataclass(frozen=True, slots=True)
class TestResult:
    """A whole test: results by direction, their mean, notes on what was assumed."""

    __test__ = False  # not a test case

    test: FanTest
    standard: Standard
    results: tuple[SeriesResult, ...]
    notes: tuple[str, ...] = ()

    def of(self, direction):
        """Return the result of a direction, or None."""
        return next((one for one in self.results if one.direction == direction), None)

    @property
    def flow_exponent(self):
        """Exponent of the mean flow at 50 Pa; of the one direction if there is one. [-]."""
        flows = np.array([one.standard_fit.flow(PRESSURE_REFERENCE) for one in self.results])
        return float(flows @ [one.fit.flow_exponent for one in self.results] / flows.sum())

    def exponent_spread_and_freedom(self):
        """Return the standard uncertainty of the exponent and its degrees of freedom."""
        spreads = np.array([one.fit.exponent_spread for one in self.results]) / len(self.results)
        freedom = [one.fit.line.degrees_of_freedom for one in self.results]
        total, quarters = np.sqrt((spreads**2).sum()), (spreads**4 / freedom).sum()
        return float(total), float(total**4 / quarters) if quarters > 0.0 else freedom[0]

    def flow(self, pressure_difference=PRESSURE_REFERENCE):
        """Return the leakage flow at a pressure: mean of the directions, standard state. [m3/s]."""
        return sum(one.standard_fit.flow(pressure_difference) for one in self.results) / len(
            self.results
        )

    def relative_spread(self, pressure_difference=PRESSURE_REFERENCE):
        """Return the standard uncertainty of that flow by scatter alone, as a share. [-]."""
        return self.spread_and_freedom(pressure_difference)[0]

    def spread_and_freedom(self, pressure):
        """Return that uncertainty and its degrees of freedom, by Welch and Satterthwaite."""
        flows = np.array([one.standard_fit.flow(pressure) for one in self.results])
        parts = flows * [one.standard_fit.relative_spread(pressure) for one in self.results]
        total = np.sqrt((parts**2).sum())
        freedom = [one.standard_fit.line.degrees_of_freedom for one in self.results]
        quarters = (parts**4 / freedom).sum()
        effective = total**4 / quarters if quarters > 0.0 else freedom[0]
        return total / flows.sum(), float(effective)

    def flow_limits(self, pressure_difference=PRESSURE_REFERENCE, confidence=0.95):
        """Return lower and upper limit of the mean flow by scatter alone. [m3/s]."""
        if len(self.results) == 1:
            return self.results[0].standard_fit.flow_limits(pressure_difference, confidence)
        spread, freedom = self.spread_and_freedom(pressure_difference)
        half = coverage_factor(confidence, freedom) * spread
        flow = self.flow(pressure_difference)
        return flow * np.exp(-half), flow * np.exp(half)

    def value(self, key):
        """Return an indicator by key, such as n50, qE50, qF50, q4_flow, ELA4, EqLA10, in its unit."""
        wanted = metric(key)
        if wanted.pressure is None:
            return from_si(self.flow(1.0), wanted.unit) if wanted.key == "C" else metric_value(
                wanted, self.flow(), self._geometry, self.flow_exponent, _REFERENCE_AIR
            )  # fmt: skip
        # With both directions the mean flow is not quite one power law: start from the flow at
        # the metric's own pressure.
        n = 0.65
        at_50 = self.flow(wanted.pressure) * (PRESSURE_REFERENCE / wanted.pressure) ** n
        return metric_value(wanted, at_50, self._geometry, n, _REFERENCE_AIR)

    @property
    def _geometry(self):
        if self.test.geometry is None:
            return None
        if hasattr(self.test.geometry, "size"):
            return self.test.geometry
        raise InputError("The house's sizes are not a Geometry. Make one from volume and areas.")

    @property
    def n50(self):
        """Air changes per hour at 50 Pa; None without a volume. [1/h]."""
        geometry = self.test.geometry
        return None if geometry is None else ach(self.flow(), geometry.internal_volume)

    def sentence(self, units="metric"):
        """Return the result in words, with what it cannot know."""
        unit = display_unit("m3/s", units)
        low, high = (from_si(end, unit) for end in self.flow_limits())
        names = " and ".join(one.direction for one in self.results)
        text = [f"At 50 Pa {show(from_si(self.flow(), unit), unit)} leaks ({names}), between "
                f"{show(low)} and {show(high, unit)} by the scatter of the points (95 %)."]  # fmt: skip
        if self.n50 is not None:
            text.append(f"That is {show(self.n50)} air changes per hour at 50 Pa.")
        spread = coverage_factor() * self.relative_spread(4.0)
        text.append(f"n is {show(self.flow_exponent)}. At 4 Pa the flow is "
                    f"{show(from_si(self.flow(4.0), unit), unit)}, "
                    f"{'far ' if spread > 0.05 else ''}less sure: it lies outside the points.")  # fmt: skip
        if len(self.results) == 2:
            first, second = (one.standard_fit.flow(PRESSURE_REFERENCE) for one in self.results)
            apart = abs(first - second) / self.flow()
            text.append(f"The two directions differ by {show_percent(apart)}.")
        return " ".join((*text, *self.notes))


def analyse_series(series, conditions, rules, fitter=fit_power_law):
    """Return one direction by the standard's chain.

    Parameters
    ----------
    series : Series
        Points as read.
    conditions : Conditions
        Air inside and outside, and what the flow reading stands for.
    rules : Standard
        Whether the coefficient has a viscosity term.
    fitter : callable
        Takes induced pressures [Pa] and flows [m3/s]; returns a PowerLawFit.

    Returns
    -------
    SeriesResult
        All steps.

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions
    >>> one = Series("depressurise", (20, 35, 50), (0.10, 0.145, 0.183), (0.0,), (0.0,))
    >>> found = analyse_series(one, Conditions(20.0, 20.0), standard("ISO 9972"))
    >>> round(found.fit.flow_exponent, 2)
    0.66
    """
    inside, outside = conditions.density("inside"), conditions.density("outside")
    out = series.direction == "depressurise"
    zero = zero_flow(series.zero_before, series.zero_after)
    induced = induced_pressure(series, zero.mean)
    through_fan = through = np.array(series.flow)
    if conditions.flow_basis == "reading":
        through_fan = fan_flow(through, inside if out else outside, conditions.calibration_density)
    if conditions.flow_basis != "through the envelope":
        through = envelope_flow(through_fan, series.direction, inside, outside)
    fit = fitter(induced, through)
    temperature = None
    if rules.viscosity_term:
        temperature = conditions.outside_temperature if out else conditions.inside_temperature
        temperature = 20.0 if temperature is None else temperature
    factor = standard_state_factor(fit.flow_exponent, outside if out else inside, temperature)
    return SeriesResult(series, zero, induced, through_fan, through, fit, fit.times(factor))


def analyse(test, rules="ISO 9972:2015", fitter=fit_power_law):
    """Return the result of a fan test by a standard's chain.

    Parameters
    ----------
    test : FanTest
        Series, conditions, sizes of the house.
    rules : str or Standard
        One of `STANDARDS`.
    fitter : callable
        The fit; the standard's least squares unless another is given.

    Returns
    -------
    TestResult
        Both directions where both were read.

    References
    ----------
    [ISO9972] chain, from memory; [ATTMA2010] density corrections

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions
    >>> one = Series("depressurise", (20, 35, 50), (0.10, 0.145, 0.183), (0.0,), (0.0,))
    >>> result = analyse(FanTest(one, Conditions(20.0, 20.0, 101325.0)))
    >>> round(from_si(result.flow(), "m3/h"))
    659
    """
    rules = standard(rules)
    results = tuple(
        analyse_series(series, test.conditions, rules, fitter)
        for series in test.series
        if not (rules.directions == "depressurise" and series.direction == "pressurise")
    )
    if not results:
        raise InputError(
            f"{rules.name} wants the house depressurised; the test has pressurising only."
        )
    notes = (
        list(test.conditions.assumed)
        if test.conditions.flow_basis != "through the envelope"
        else []
    )
    for one in results:
        if one.zero.samples == 0:
            notes.append(f"No zero-flow pressure was read ({one.direction}): nothing is subtracted, and "
                         "the standard asks for it.")  # fmt: skip
        elif one.zero.drift is None:
            notes.append(f"Zero-flow pressure was read on one side only ({one.direction}).")
        n = one.fit.flow_exponent
        if n > 1.0 and 0.5 <= 1.0 / n <= 1.0:
            notes.append(f"n is {show(n)} ({one.direction}): pressure and flow look swapped.")
    if rules.directions == "depressurise" and test.of("pressurise"):
        notes.append(f"{rules.name} uses depressurising only; the other series is left aside.")
    return TestResult(test, rules, results, tuple(notes))
