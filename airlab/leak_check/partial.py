"""What does a number mean where a zone is closed off or a neighbour stands beside the house?

A fan on the tested zone also draws air through the wall to the other one. How much depends on how the
other zone stands: open to outside, shut, or held at the same pressure by a fan of its own. Two readings
that differ in that alone give the leakage between the two.
"""

from dataclasses import dataclass

from airlab.fan_test.compare import difference
from airlab.physics.airflow import FlowPath, Hold, Network, Outdoors, Zone
from airlab.physics.airflow_state import solve_airflow
from airlab.physics.openings import PowerLawLeak
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    require_between,
    require_choice,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import said, said_range

__all__ = [
    "OTHER_STATES", "SITUATIONS", "PartialReading", "PartyLeakage", "TwoZones", "partial_reading",
    "party_leakage", "two_zones", "two_zones_read",
]  # fmt: skip

OTHER_STATES = ("open to outside", "shut", "held at the same pressure")
SITUATIONS = ("unfinished zone closed off", "apartment beside a neighbour")
_MEANS = {
    SITUATIONS[0]: (
        "What passes between counts at the end only if that wall stays part of the line. Without it the "
        "number holds for the finished part alone, and is not a number for the house."
    ),
    SITUATIONS[1]: (
        "What passes between comes from the neighbour and carries sound, smells and smoke. Whether it "
        "counts in the number of the apartment, your local rules say: write down how the neighbour stood."
    ),
}
_FIRST = {
    SITUATIONS[0]: "Hazards are asked for both zones.",
    SITUATIONS[1]: (
        "Ask the neighbour first. Fires, asbestos and dust in their rooms are hazards of this test too: "
        "not safe or not known there, no fan."
    ),
}
_SPREAD = 0.015  # of one reading, relative [PRIGNON2025]
_TEMPERATURE = 20.0  # C, everywhere: only the fan drives


@dataclass(frozen=True, slots=True)
class PartialReading:
    """What the fan of the tested zone reads, and what of it is leakage to outside.

    Parameters
    ----------
    state : str
        How the other zone stands, of `OTHER_STATES`.
    flow : float
        What the fan reads. [m3/s]
    outside_flow : float
        Of it, straight through the outside envelope of the tested zone. [m3/s]
    between_flow : float
        Of it, through what parts the two zones. [m3/s]
    other_pressure : float
        Pressure of the other zone over outside. [Pa]
    pressure_difference : float
        Pressure of the tested zone over outside. [Pa]
    """

    state: str
    flow: float
    outside_flow: float
    between_flow: float
    other_pressure: float
    pressure_difference: float

    @property
    def share_between(self):
        """Share of the reading that is not leakage of the tested zone to outside. [-]."""
        return self.between_flow / self.flow

    def sentence(self, units="metric"):
        """Return what the reading holds."""
        text = (
            f"Other zone {self.state}: the fan reads {said(self.flow, 'm3/s', units)} at "
            f"{show(abs(self.pressure_difference), 'Pa')}, of which "
            f"{said(self.between_flow, 'm3/s', units)} ({show_percent(self.share_between)}) pass between "
            f"the two zones."
        )
        if self.state == "shut":
            text += (
                f" The other zone goes to {show(abs(self.other_pressure), 'Pa')}: 0 Pa would mean it is "
                f"as outside, {show(abs(self.pressure_difference), 'Pa')} that it is part of the house."
            )
        elif self.state.startswith("held"):
            text += " That is the leakage of the tested zone to outside alone."
        else:
            text += " All that parts the zones counts as if it were outside wall."
        return text


def partial_reading(
    outside_flow,
    between_flow,
    other_flow,
    state,
    pressure_difference=-PRESSURE_REFERENCE,
    flow_exponent=0.65,
):
    """Return what the fan of a tested zone reads beside another zone.

    Parameters
    ----------
    outside_flow : float
        Leakage of the tested zone to outside, at 50 Pa. [m3/s]
    between_flow : float
        Leakage between the two zones, at 50 Pa across it. [m3/s]
    other_flow : float
        Leakage of the other zone to outside, at 50 Pa. [m3/s]
    state : str
        One of `OTHER_STATES`.
    pressure_difference : float
        Tested zone over outside; below zero when it is depressurised. [Pa]
    flow_exponent : float
        Of all leaks. [-]

    Returns
    -------
    PartialReading
        Solved by mass balance in both zones.

    Raises
    ------
    InputError
        If a flow is not above zero or the state is unknown.

    Notes
    -----
    No wind and one temperature. Open to outside means windows wide open in the other zone.

    References
    ----------
    [DERIVED] mass balance

    Examples
    --------
    >>> found = partial_reading(0.1, 0.05, 0.1, "held at the same pressure")
    >>> round(found.flow, 3), round(found.between_flow, 3)
    (0.1, 0.0)
    """
    require_choice("state", state, OTHER_STATES)
    require_between("pressure_difference", abs(pressure_difference), 1.0, 200.0, "Pa")
    flows = {"outside": outside_flow, "between": between_flow, "other": other_flow}
    leaks = {
        name: PowerLawLeak.from_flow(
            require_positive(f"{name}_flow", q, "m3/s"), flow_exponent=flow_exponent
        )
        for name, q in flows.items()
    }
    paths = [
        FlowPath("outside", leaks["outside"], "tested"),
        FlowPath("between", leaks["between"], "tested", "other"),
        FlowPath("other", leaks["other"], "other"),
    ]
    holds = [Hold("tested", pressure_difference)]
    if state != "shut":
        still = 0.0 if state.startswith("open") else pressure_difference
        holds.append(Hold("other", still))
    zones = [Zone("tested", _TEMPERATURE), Zone("other", _TEMPERATURE)]
    air = solve_airflow(Network(zones, paths, holds=holds), Outdoors(_TEMPERATURE))
    parts = [abs(float(air.through(name))) for name in ("outside", "between")]
    return PartialReading(
        state, abs(float(air.fan_flow("tested"))), *parts,
        float(air.pressure_difference("other")), float(pressure_difference),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PartyLeakage:
    """Leakage between two zones from two readings.

    Parameters
    ----------
    alone, guarded : float
        Flow at 50 Pa with the other zone at `other_pressure`; with it held alike. [m3/s]
    between : float
        Leakage between the zones at 50 Pa across it. [m3/s]
    low, high : float
        95 % interval of it. [m3/s]
    other_pressure : float
        Size of the pressure of the other zone over outside in the first reading. [Pa]
    """

    alone: float
    guarded: float
    between: float
    low: float
    high: float
    other_pressure: float

    @property
    def proved(self):
        """Whether the two readings differ by more than chance."""
        return self.low > 0.0

    def sentence(self, units="metric"):
        """Return the leakage between the zones, and what counts for the house."""
        text = (
            f"To outside alone: {said(self.guarded, 'm3/s', units)} at 50 Pa. Without the second fan the "
            f"reading was {said(self.alone, 'm3/s', units)}."
        )
        if not self.proved:
            return (
                f"{text} The two do not differ by more than chance: no leakage between is proved."
            )
        return (
            f"{text} Between the zones: {said(self.between, 'm3/s', units)} at 50 Pa across it "
            f"({said_range(max(self.low, 0.0), self.high, 'm3/s', units)}, 95 %)."
        )


def party_leakage(alone, guarded, other_pressure=0.0, flow_exponent=0.65):
    """Return the leakage between two zones from a reading alone and a guarded one.

    ``Q_between,50 = (Q_alone - Q_guarded) (50 / (50 - p_other))**n``

    Parameters
    ----------
    alone : float
        Flow at 50 Pa with the other zone free. [m3/s]
    guarded : float
        Flow at 50 Pa with the other zone held at the same pressure. [m3/s]
    other_pressure : float
        Size of the pressure of the other zone over outside in the first reading; 0 with its windows
        open. [Pa]
    flow_exponent : float
        Of the leakage between. [-]

    Returns
    -------
    PartyLeakage
        With the interval of the difference of two readings.

    Raises
    ------
    InputError
        If a flow is not above zero, or the other zone goes nearly all the way with the tested one.

    References
    ----------
    [DERIVED] power law; the interval as for any two readings
    """
    slip = "Read it across a shut door: 0 Pa is outside, 50 Pa is part of the house."
    require_between("other_pressure", other_pressure, 0.0, 50.0, "Pa", slip)
    left = PRESSURE_REFERENCE - other_pressure
    if left < 5.0:
        raise InputError(
            f"Other pressure is {show(other_pressure, 'Pa')}. The other zone goes with the house: open "
            "its windows, then read again."
        )
    found = difference(alone, guarded, _SPREAD, _SPREAD)
    scale = (PRESSURE_REFERENCE / left) ** flow_exponent
    ends = (-found.change * scale, -found.high * scale, -found.low * scale)
    return PartyLeakage(float(alone), float(guarded), *ends, float(other_pressure))


@dataclass(frozen=True, slots=True)
class TwoZones:
    """One tested zone beside another: what the fan reads in each state, what the difference means.

    Parameters
    ----------
    situation : str
        One of `SITUATIONS`.
    readings : tuple of PartialReading
        State by state; the last with the other zone held alike.
    party : PartyLeakage
        The leakage between, from the first reading and the last.
    """

    situation: str
    readings: tuple[PartialReading, ...]
    party: PartyLeakage

    def sentence(self, units="metric"):
        """Return the readings, what passes between, and what that means for the number."""
        reads = "; ".join(f"{one.state} {said(one.flow, 'm3/s', units)}" for one in self.readings)
        text = f"The fan reads, with the other zone {reads}."
        if not self.party.proved:
            return (
                f"{text} The two do not differ by more than chance: no leakage between is proved. "
                f"{_FIRST[self.situation]}"
            )
        low, high = max(self.party.low, 0.0), self.party.high
        return (
            f"{text} The first and the last put {said(self.party.between, 'm3/s', units)} at 50 Pa between "
            f"the zones ({said_range(low, high, 'm3/s', units)}, 95 %). {_MEANS[self.situation]} "
            f"{_FIRST[self.situation]}"
        )


def two_zones(situation, outside_flow, between_flow, other_flow, flow_exponent=0.65):
    """Return what the fan reads in each state of the other zone, where the leaks are known.

    Parameters
    ----------
    situation : str
        One of `SITUATIONS`.
    outside_flow, between_flow, other_flow : float
        Leakage at 50 Pa: tested zone to outside, between the zones, other zone to outside. [m3/s]
    flow_exponent : float
        Of all leaks. [-]

    Returns
    -------
    TwoZones
        Three readings, by mass balance.

    Raises
    ------
    InputError
        As for `partial_reading`.

    References
    ----------
    [DERIVED] mass balance

    Examples
    --------
    >>> zones = two_zones(SITUATIONS[0], 0.1, 0.05, 0.1)
    >>> [round(one.flow, 3) for one in zones.readings]
    [0.15, 0.141, 0.1]
    """
    require_choice("situation", situation, SITUATIONS)
    flows = outside_flow, between_flow, other_flow
    read = tuple(partial_reading(*flows, one, flow_exponent=flow_exponent) for one in OTHER_STATES)
    party = party_leakage(read[0].flow, read[-1].flow, 0.0, flow_exponent)
    return TwoZones(situation, read, party)


def two_zones_read(situation, alone, guarded, other_pressure=0.0, flow_exponent=0.65):
    """Return the same from two readings: the other zone free, then held at the same pressure.

    Parameters
    ----------
    situation : str
        One of `SITUATIONS`.
    alone, guarded : float
        Flow at 50 Pa with the other zone free; with it held alike. [m3/s]
    other_pressure : float
        Size of the pressure of the other zone over outside in the first reading. [Pa]
    flow_exponent : float
        Of the leakage between. [-]

    Returns
    -------
    TwoZones
        Two readings.

    Raises
    ------
    InputError
        As for `party_leakage`.

    References
    ----------
    [DERIVED] power law
    """
    require_choice("situation", situation, SITUATIONS)
    party = party_leakage(alone, guarded, other_pressure, flow_exponent)
    state = OTHER_STATES[1] if other_pressure else OTHER_STATES[0]
    between = max(party.alone - party.guarded, 0.0)
    first = PartialReading(
        state,
        party.alone,
        party.alone - between,
        between,
        -party.other_pressure,
        -PRESSURE_REFERENCE,
    )
    last = PartialReading(
        OTHER_STATES[2], party.guarded, party.guarded, 0.0, -PRESSURE_REFERENCE, -PRESSURE_REFERENCE
    )
    return TwoZones(situation, (first, last), party)
