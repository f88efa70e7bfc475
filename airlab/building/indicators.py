"""What does one leakage flow mean for this house, in every common form?"""

from dataclasses import dataclass

from airlab.building.exponent import FLOW_EXPONENT
from airlab.building.geometry import Geometry
from airlab.building.metrics import METRICS, Metric, metric, metric_value
from airlab.physics.air import CLASSROOM_AIR, Air, AirState
from airlab.words import (
    InputError,
    convert,
    display_unit,
    from_si,
    require_between,
    require_positive,
    show,
    show_range,
)
from airlab.words.saying import listed

__all__ = ["EXPONENT_BAND", "Indicator", "Indicators", "Slip", "indicators", "slip_sensitivity"]

EXPONENT_BAND = (0.55, 0.75)


@dataclass(frozen=True, slots=True)
class Indicator:
    """One metric of one house: value, band over the exponent, or what is missing.

    `low` and `high` are the ends for exponents 0.55 and 0.75, with the flow at 50 Pa held.
    `others` holds the same value in further units as (value, unit).
    """

    metric: Metric
    value: float | None
    low: float | None
    high: float | None
    flow_exponent: float
    others: tuple[tuple[float, str], ...] = ()
    missing: str = ""

    @property
    def depends_on_exponent(self):
        """Whether the value moves with the exponent."""
        return self.value is not None and abs(self.high - self.low) > 1e-9 * self.value

    def shown(self):
        """Return the value with its unit, or a dash."""
        return "–" if self.value is None else show(self.value, self.metric.unit)

    def seen(self, units="metric"):
        """Return value, low, high and their unit, as people see them."""
        unit = display_unit(self.metric.unit, units)
        ends = (self.value, self.low, self.high)
        if self.value is not None:
            ends = (convert(end, self.metric.unit, unit) for end in ends)
        return (*ends, unit)

    def sentence(self, units="metric"):
        """Return the indicator in words, with its pressure and convention."""
        name = self.metric.name[:1].upper() + self.metric.name[1:]
        if self.value is None:
            return f"{name}: not known. {self.missing}"
        value, low, high, unit = self.seen(units)
        text = f"{name}: {show(value, unit)} ({self.metric.convention})."
        if self.depends_on_exponent:
            text += (
                f" Reckoned with exponent {show(self.flow_exponent)}; with 0.55 to 0.75 it is "
                f"{show_range(low, high, unit)}."
            )
        return text


@dataclass(frozen=True, slots=True)
class Indicators:
    """Every indicator of one leakage flow: `entries`, or one by key as `found["n50"]`."""

    leakage_flow: float
    geometry: Geometry
    flow_exponent: float
    air: Air | AirState
    entries: tuple[Indicator, ...]

    def __getitem__(self, key):
        """Return the indicator of a key; one that is not listed is worked out."""
        wanted = metric(key)
        for entry in self.entries:
            if entry.metric.key == wanted.key:
                return entry
        return _indicator(wanted, self.leakage_flow, self.geometry, self.flow_exponent, self.air)

    @property
    def n50(self):
        """Air changes per hour at 50 Pa. [1/h]"""
        return self["n50"].value

    @property
    def qE50(self):  # noqa: N802 - the standard's name
        """Leakage per envelope area at 50 Pa; None without an envelope. [m3/(h.m2)]"""
        return self["qE50"].value

    @property
    def qF50(self):  # noqa: N802 - the standard's name
        """Leakage per floor area at 50 Pa; None without a floor area. [m3/(h.m2)]"""
        return self["qF50"].value

    def sentence(self, units="metric"):
        """Return flow, n50, qE50, qF50 and the single hole in words."""
        flow = display_unit("m3/s", units)
        per_area = display_unit("m3/(s.m2)", units)
        parts = [f"{show(self.n50, '-')} air changes per hour at 50 Pa"]
        for key, word in (("qE50", "envelope"), ("qF50", "floor")):
            entry = self[key]
            if entry.value is not None:
                value = metric_value(key, self.leakage_flow, self.geometry, unit=per_area)
                parts.append(f"{show(value, per_area)} of {word} at 50 Pa")
        hole = "in2" if units == "us" else "cm2"
        area = metric_value("hole50", self.leakage_flow, None, unit=hole)
        text = (
            f"At 50 Pa {show(from_si(self.leakage_flow, flow), flow)} leaks. That is {listed(parts)}. "
            f"All leaks together pass as much as one sharp-edged hole of {show(area, hole)}."
        )
        lost = [entry for entry in self.entries if entry.value is None]
        if lost:
            names = ", ".join(entry.metric.symbol for entry in lost)
            text += f" Not known for lack of a size: {names}."
        return text


def _indicator(one, leakage_flow, geometry, flow_exponent, air):
    try:
        value, *band = (
            metric_value(one, leakage_flow, geometry, n, air)
            for n in (flow_exponent, *EXPONENT_BAND)
        )
    except InputError as error:
        return Indicator(one, None, None, None, flow_exponent, (), str(error))
    others = tuple(
        (metric_value(one, leakage_flow, geometry, flow_exponent, air, unit), unit)
        for unit in one.others
    )
    return Indicator(one, value, min(band), max(band), flow_exponent, others)


def indicators(leakage_flow, geometry, flow_exponent=FLOW_EXPONENT, air=CLASSROOM_AIR):
    """Return every indicator of a leakage flow for this house.

    Parameters
    ----------
    leakage_flow : float
        Leakage flow at 50 Pa. [m3/s]
    geometry : Geometry
        The house.
    flow_exponent : float
        Exponent of the power law. [-]
    air : Air or AirState
        Air in the leak, for leakage areas; the classroom's 1.2 kg/m³ unless given.

    Returns
    -------
    Indicators
        One entry for each of `METRICS`; an entry whose size was not entered says so.

    Raises
    ------
    InputError
        If the flow is negative or the exponent lies outside 0.5 to 1.

    References
    ----------
    [ISO9972] names, from memory; [ASHRAE_F16] eq. 41 to 46; [LBNL_NL] eq. 2; [JIS_A2201].

    Examples
    --------
    >>> from airlab.building import Geometry
    >>> from airlab.words import m3_per_h
    >>> found = indicators(m3_per_h(1558.5), Geometry(353.5, 311.7, 131.6))
    >>> found["ELA4"].shown()
    '325 cm²'
    """
    flow = require_positive("leakage_flow", leakage_flow, "m3/s", allow_zero=True)
    metric_value("q4_flow", flow, None, flow_exponent, air)
    return Indicators(flow, geometry, flow_exponent, air, tuple(
        _indicator(one, flow, geometry, flow_exponent, air) for one in METRICS
    ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Slip:
    """How one indicator reads if one size of the house was taken too small or too large."""

    metric: Metric
    size: str
    slip: float
    value: float
    if_too_small: float
    if_too_large: float

    def sentence(self):
        """Return the effect of the slip in words."""
        unit = self.metric.unit
        return (
            f"{self.metric.symbol} is {show(self.value, unit)}. With the {self.size} "
            f"{show(100.0 * self.slip)} % too small it would read {show(self.if_too_small, unit)}, "
            f"{show(100.0 * self.slip)} % too large {show(self.if_too_large, unit)}."
        )


def slip_sensitivity(found, slip=0.05):
    """Return what a slip in a size does to every indicator divided by it.

    Parameters
    ----------
    found : Indicators
        The indicators of the house.
    slip : float
        Relative slip of the volume or area. [-]

    Returns
    -------
    tuple of Slip
        One for each known indicator that is divided by a size.

    Raises
    ------
    InputError
        If the slip is not between 0 and 0.5.
    """
    slip = require_between("slip", slip, 0.0, 0.5)
    return tuple(
        Slip(e.metric, e.metric.basis, slip, e.value, e.value / (1 - slip), e.value / (1 + slip))
        for e in found.entries
        if e.metric.basis and e.value is not None
    )
