"""Does the ventilation fit, whichever end of the likely range the house lands on?

A house that is aimed at one value comes out tighter or leakier. Which triggers of ventilation rules
are crossed, what leaks supply of the fresh air and how far fans pull is asked at both ends. A low
number is not praised before a ventilation plan exists.
"""

from dataclasses import dataclass

from airlab.building.combustion import APPLIANCES, Appliance, background_vents, combustion_air
from airlab.building.exponent import FLOW_EXPONENT
from airlab.building.geometry import Geometry
from airlab.building.limits import Verdict, judge, limits
from airlab.building.metrics import leakage_flow_from, metric_value
from airlab.building.ventilation import FanSuction, VentilationNeed, fan_suction, ventilation_needs
from airlab.words import (
    InputError,
    from_si,
    require_between,
    require_choice,
    require_positive,
    show,
    show_percent,
    show_range,
    to_si,
)

__all__ = ["FIT_ENDS", "FitEnd", "Supply", "VentilationFit", "leaks_supply", "ventilation_fit"]

FIT_ENDS = (0.05, 0.95)
_FINNISH = (35.0, 24.0, 20.0, 20.0, 15.0)  # divisor by storeys: 1, 2, 3, 4, 5 and more
_CREDIT, _WEATHER, _PER_STOREY = 0.052, 0.6, 0.4
_HIGHLY = 3.0  # m3/(h.m2) at 50 Pa as built: at or below, England calls it highly airtight
_ENGLISH_RATE = 0.15  # 1/h
_DESIGNED = "as designed"  # such a trigger goes by the value aimed for, at both ends
_VENTS = (3.0, 5.0)  # m3/(h.m2) at 50 Pa between which the Irish vents hold


@dataclass(frozen=True, slots=True)
class Supply:
    """What leaks supply by one rule: flow [m3/s], rule in words, status."""

    name: str
    flow: float
    rule: str
    status: str
    source: str

    def sentence(self, units="metric"):
        """Return the supply in words."""
        unit = "cfm" if units == "us" else "L/s"
        return f"{self.name}: {show(from_si(self.flow, unit), unit)} ({self.rule}; {self.status})."


def leaks_supply(leakage_flow, geometry, storeys=None):
    """Return what leaks supply over the year by published rules, as a mean flow.

    ``q50 / x`` with x = 35, 24, 20, 15 for 1, 2, 3 to 4, 5 storeys and more (Finland);
    ``0.052 · w · s^0.4 · q50`` with mid weather w = 0.6 (USA); 0.15 or 0 per hour (England).

    Parameters
    ----------
    leakage_flow : float
        Leakage flow at 50 Pa. [m3/s]
    geometry : Geometry
        The house.
    storeys : int or None
        Storeys; None counts those of the geometry.

    Returns
    -------
    tuple of Supply
        One for each rule that can be asked with the sizes entered.

    Raises
    ------
    InputError
        If the flow is negative or the number of storeys is no house's.

    Notes
    -----
    Means for energy sums. On a still day leaks supply next to nothing; they are no ventilation plan.

    References
    ----------
    [FI_ENERGY] section 17. [NREL_62_2] the credit. [EN_ADF_2021] appendix B.

    Examples
    --------
    >>> from airlab.words import m3_per_h
    >>> print(leaks_supply(m3_per_h(1246.8), Geometry(353.5), 2)[0].sentence())
    Finland, energy decree: 14.4 L/s (leakage flow at 50 Pa over 24; read).
    """
    flow = require_positive("leakage_flow", leakage_flow, "m3/s", allow_zero=True)
    count = storeys or max(len(geometry.storeys), 1)
    require_between("storeys", count, 1, 60)
    divisor = _FINNISH[min(int(count), 5) - 1]
    found = [
        Supply("Finland, energy decree", flow / divisor,
               f"leakage flow at 50 Pa over {show(divisor)}", "read", "FI_ENERGY"),
        Supply("USA, infiltration credit", _CREDIT * _WEATHER * count**_PER_STOREY * flow,
               "mid weather factor 0.6; at most two thirds of the rate for new homes", "second-hand",
               "NREL_62_2"),
    ]  # fmt: skip
    if geometry.envelope_area is not None:
        tight = metric_value("qE50", flow, geometry) <= _HIGHLY
        rate = 0.0 if tight else _ENGLISH_RATE
        word = "highly airtight: counted as none" if tight else "less airtight: 0.15 an hour"
        english = to_si(rate, "1/h") * geometry.internal_volume
        found.append(Supply("England, ventilation document", english, word, "read", "EN_ADF_2021"))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class FitEnd:
    """One end of the likely range: share of houses tighter than it, result, and what follows."""

    share: float
    value: float
    leakage_flow: float
    triggers: tuple[Verdict, ...]
    supplies: tuple[Supply, ...]
    suction: FanSuction | None

    @property
    def crossed(self):
        """The triggers that are crossed."""
        return tuple(one for one in self.triggers if one.meets)


@dataclass(frozen=True, slots=True)
class VentilationFit:
    """Ventilation and combustion air at both ends of the likely range of one aim."""

    aim: object
    aimed_at: float
    geometry: Geometry
    ends: tuple[FitEnd, ...]
    needs: tuple[VentilationNeed, ...]
    extract_flow: float
    appliance: Appliance
    planned: bool
    notes: tuple[str, ...]

    @property
    def changes_side(self):
        """The triggers crossed at one end and not at the other."""
        tight, leaky = ({v.limit.key for v in end.crossed} for end in self.ends)
        return tuple(v.limit for v in self.ends[0].triggers if v.limit.key in tight ^ leaky)

    def sentence(self, units="metric"):
        """Return the fit in words; no praise before a plan is ticked."""
        tight, leaky = self.ends
        flow = "cfm" if units == "us" else "L/s"
        shown = self.aim.shown
        text = (
            f"Aiming for {shown(self.aimed_at)}, 9 houses in 10 come out between {show(tight.value)} "
            f"and {shown(leaky.value)}. "
        )
        if not self.planned:
            text += "No ventilation plan is ticked, so no low number is praised. "
        judged = [one for one in tight.triggers if one.meets is not None]
        text += (
            f"Ventilation triggers crossed: {len(tight.crossed)} of {len(judged)} at the tight end, "
            f"{len(leaky.crossed)} at the leaky end. "
        )
        if len(judged) < len(tight.triggers):
            text += "Others need a size that was not entered. "
        if self.changes_side:
            names = ", ".join(one.jurisdiction for one in self.changes_side)
            text += f"The range lies across a trigger ({names}): the plan must fit both sides. "
        if self.needs:
            low, high = (from_si(pick(n.flow for n in self.needs), flow) for pick in (min, max))
            supplied = tight.supplies[0]
            share = supplied.flow / max(n.flow for n in self.needs)
            text += (
                f"Rules ask for {show_range(low, high, flow)} for the whole dwelling; at the tight end leaks "
                f"supply about {show(from_si(supplied.flow, flow), flow)}, {show_percent(share)} of "
                "the most. "
            )
        if tight.suction is not None:
            pulls = " and ".join(show(end.suction.suction, "Pa", 2) for end in self.ends)
            reached = "".join(f" At {show(c.pressure, 'Pa')} {c.text} ({c.status})."
                              for c in tight.suction.cautions[:1])  # fmt: skip
            text += (
                f"With all vents closed {show(from_si(self.extract_flow, flow), flow)} of extract "
                f"pulls {pulls}.{reached} {self.appliance.sentence(self.extract_flow)} "
            )
        return text + (
            "A plan is ticked: have it checked at both ends. Check your local rules."
            if self.planned
            else "Plan the ventilation first. Check your local rules."
        )


def ventilation_fit(
    aim,
    metric_key,
    geometry,
    flow_exponent=FLOW_EXPONENT,
    aimed_at=None,
    country=None,
    bedrooms=3,
    extract_flow=0.0,
    appliance=APPLIANCES[0],
    planned=False,
    rated_output=0.0,
):
    """Return how ventilation and combustion air fit at 5 % and 95 % of the likely range.

    Parameters
    ----------
    aim : Aim
        Limit, spread or own past results, and the value to aim for.
    metric_key : str
        Metric of the limit, such as "qE50".
    geometry : Geometry
        The house.
    flow_exponent : float
        Exponent of the power law. [-]
    aimed_at : float or None
        Another value aimed for, in the aim's unit; None takes the aim.
    country : str or None
        Jurisdiction of the triggers; None takes all.
    bedrooms : int
        Number of bedrooms.
    extract_flow : float
        Flow of all extract fans together; 0 leaves suction out. [m3/s]
    appliance : Appliance
        Fuel appliance that takes its air from the rooms.
    planned : bool
        Whether a ventilation plan exists.
    rated_output : float
        Rated output of the appliance; 0 leaves its openings out. [W]

    Returns
    -------
    VentilationFit
        Both ends, what rules ask for, notes.

    Raises
    ------
    InputError
        If the limit needs a size that was not entered, or a number is no dwelling's.

    References
    ----------
    [DERIVED] quantiles of the aim. [EN_ADJ] [EN_ADF_2021] [IE_TGDF] [FI_ENERGY].
    """
    require_choice("appliance", appliance, APPLIANCES)
    extract = require_positive("extract_flow", extract_flow, "m3/s", allow_zero=True)
    at = aim.aim if aimed_at is None else require_positive("aimed_at", aimed_at, aim.unit or "-")
    triggers = limits(country, ["ventilation trigger"])
    designed, built = (
        [one for one in triggers if (_DESIGNED in one.applies_to) is wanted]
        for wanted in (True, False)
    )
    said = leakage_flow_from(metric_key, at, geometry, flow_exponent, unit=aim.unit or None)
    at_design = judge(said, designed, geometry, flow_exponent)
    ends = []
    for share in FIT_ENDS:
        value = float(aim.result_at(share, at))
        flow = leakage_flow_from(metric_key, value, geometry, flow_exponent, unit=aim.unit or None)
        ends.append(FitEnd(
            share, value, flow, (*at_design, *judge(flow, built, geometry, flow_exponent)),
            leaks_supply(flow, geometry),
            fan_suction(extract, flow, flow_exponent) if extract else None,
        ))  # fmt: skip
    needs, notes = (), []
    if geometry.floor_area is None:
        notes.append("Enter the floor area: the rules for fresh air ask for it.")
    else:
        needs = ventilation_needs(geometry.floor_area, bedrooms)
        notes += _vents(ends, geometry, country)
    if appliance.fuel and rated_output and geometry.envelope_area is not None:
        try:
            design = metric_value("qE50", said, geometry)
            notes.append(combustion_air(appliance.fuel, rated_output, design).sentence())
        except InputError as error:
            notes.append(str(error))
    return VentilationFit(
        aim,
        float(at),
        geometry,
        tuple(ends),
        needs,
        extract,
        appliance,
        bool(planned),
        tuple(notes),
    )


def _vents(ends, geometry, country):
    """Yield the Irish background vents where the likely range reaches the values they hold for."""
    if geometry.envelope_area is None or country not in (None, "Ireland"):
        return
    low, high = (metric_value("qE50", end.leakage_flow, geometry) for end in ends)
    if low <= _VENTS[1] and high >= _VENTS[0]:
        area = background_vents(geometry.floor_area, len(geometry.storeys) == 1)
        yield (
            "Ireland, TGD F 2019, natural ventilation from 3 to 5 m³/(h·m²) of envelope at 50 Pa: "
            f"background vents of {show(from_si(area, 'mm2'), 'mm2')} together (second-hand). They are "
            "part of the plan, never sealed for good."
        )
