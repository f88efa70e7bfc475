"""How much fresh air do published rules ask for, and how far do extract fans pull a tight house down?

Leaks are not a ventilation plan: they follow the weather. Settle the ventilation before a low
number is praised. Local codes and licensed practice decide.
"""

from dataclasses import dataclass

from airlab.building.exponent import FLOW_EXPONENT, flow_at, require_flow_exponent
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    cfm,
    display_unit,
    from_si,
    litre_per_s,
    m3_per_h,
    require_between,
    require_positive,
    show,
)

__all__ = [
    "SUCTION_CAUTIONS",
    "FanSuction",
    "SuctionCaution",
    "VentilationNeed",
    "fan_suction",
    "ventilation_needs",
]

_ENGLAND_BY_BEDROOMS = (13.0, 19.0, 25.0, 31.0, 37.0, 43.0)  # L/s; then 6 for each more


@dataclass(frozen=True, slots=True)
class VentilationNeed:
    """What one published rule asks of the whole dwelling: flow [m3/s], rule, status."""

    jurisdiction: str
    document: str
    flow: float
    rule: str
    status: str
    source: str

    def sentence(self, units="metric"):
        """Return the need in words."""
        unit = "cfm" if units == "us" else "L/s"
        return (
            f"{self.jurisdiction}, {self.document}: {show(from_si(self.flow, unit), unit)} for the "
            f"whole dwelling ({self.rule}). {self.status.capitalize()}. Check your local rules."
        )


def ventilation_needs(floor_area, bedrooms, people=None):
    """Return what published rules ask of the whole dwelling, continuously.

    Parameters
    ----------
    floor_area : float
        Net floor area. [m2]
    bedrooms : int
        Number of bedrooms; 0 is a single room.
    people : int or None
        Number of people; None counts two in the main bedroom and one in each other.

    Returns
    -------
    tuple of VentilationNeed
        One for each rule.

    Raises
    ------
    InputError
        If a number is not that of a dwelling.

    References
    ----------
    [EN_ADF_2021] table 1.3; [FI_VENT]; [NO_TEK17] 13-2; [AU_H6V3]; [IE_TGDF]; [US_62_2].

    Examples
    --------
    >>> print(ventilation_needs(90.0, 3)[0].sentence())
    England, Approved Document F 2021: 31 L/s for the whole dwelling (by bedrooms, at least 0.3 L/(s·m²)). Read. Check your local rules.
    """
    require_positive("floor_area", floor_area, "m2")
    require_between("bedrooms", bedrooms, 0, 30)
    people = bedrooms + 1 if people is None else require_between("people", people, 1, 60)
    if bedrooms != int(bedrooms):
        raise InputError(f"Bedrooms is {show(bedrooms)}. A whole number is needed.")
    listed = len(_ENGLAND_BY_BEDROOMS) - 1
    england = _ENGLAND_BY_BEDROOMS[min(int(bedrooms), listed)] + 6.0 * max(bedrooms - listed, 0)
    rows = (
        ("England", "Approved Document F 2021", litre_per_s(max(england, 0.3 * floor_area)),
         "by bedrooms, at least 0.3 L/(s·m²)", "read", "EN_ADF_2021"),
        ("Ireland", "TGD F", litre_per_s(max(5.0 + 4.0 * people, 0.3 * floor_area)),
         "5 L/s and 4 L/s for each person; at least 0.3 L/(s·m²), which is from memory",
         "second-hand", "IE_TGDF"),
        ("Norway", "TEK17 13-2", m3_per_h(1.2 * floor_area),
         "1.2 m³/(h·m²) while in use; bedrooms 26 m³/h for each bed", "read", "NO_TEK17"),
        ("Finland", "ventilation rules", litre_per_s(max(6.0 * people, 0.35 * floor_area, 18.0)),
         "6 L/s for each person, at least 0.35 L/(s·m²) and 18 L/s", "read", "FI_VENT"),
        ("Australia", "NCC 2022 volume 2 H6V3",
         litre_per_s(0.05 * floor_area + 3.5 * (bedrooms + 1)),
         "running all the time; asked for at 5 m³/(h·m²) of envelope at 50 Pa or below", "read",
         "AU_H6V3"),
        ("USA", "ASHRAE 62.2 of 2013 and later",
         cfm(0.03 * from_si(floor_area, "ft2") + 7.5 * (bedrooms + 1)),
         "0.03 cfm/ft² and 7.5 cfm for each bedroom and one more", "second-hand", "US_62_2"),
    )  # fmt: skip
    return tuple(VentilationNeed(*row) for row in rows)


@dataclass(frozen=True, slots=True)
class SuctionCaution:
    """A published figure about suction and combustion: pressure [Pa], what it is about, status."""

    pressure: float
    text: str
    source: str
    status: str


SUCTION_CAUTIONS = (
    SuctionCaution(5.0, "an idle chimney may already draw backwards", "CMHC", "second-hand"),
    SuctionCaution(30.0, "even a hot chimney may draw backwards", "CMHC", "second-hand"),
)


@dataclass(frozen=True, slots=True)
class FanSuction:
    """How far extract fans pull a closed house below outside: suction [Pa], cautions reached."""

    extract_flow: float
    leakage_flow: float
    flow_exponent: float
    suction: float

    @property
    def cautions(self):
        """The published figures that are reached."""
        return tuple(one for one in SUCTION_CAUTIONS if self.suction >= one.pressure)

    @property
    def warnings(self):
        """What lies outside the range in which the power law is known."""
        if 4.0 <= self.suction <= 100.0:
            return ()
        side = (
            "below 4 Pa wind and stack decide" if self.suction < 4.0 else "the fan would give less"
        )
        return (f"The power law is known from 4 to 100 Pa; {side}.",)

    def flow_below(self, pressure):
        """Return the extract flow that stays under a suction. [m3/s]"""
        return flow_at(pressure, self.leakage_flow, self.flow_exponent)

    def sentence(self, units="metric"):
        """Return the suction in words, with the cautions it reaches."""
        unit = display_unit("m3/s", units)
        text = (
            f"With every window and vent closed, {show(from_si(self.extract_flow, unit), unit)} of "
            f"extract pulls the house {show(self.suction, 'Pa')} below outside."
        )
        text += "".join(f" {warning}" for warning in self.warnings)
        for one in self.cautions:
            text += f" At {show(one.pressure, 'Pa')} {one.text} ({one.status})."
        return text + (
            " With any fuel appliance that takes its air from the room, have a licensed person test "
            "for spillage with all fans running."
        )


def fan_suction(extract_flow, leakage_flow, flow_exponent=FLOW_EXPONENT):
    """Return how far extract fans pull a closed house down, ``Δp = 50·(Q/q50)^(1/n)``.

    Parameters
    ----------
    extract_flow : float
        Flow of all extract fans together. [m3/s]
    leakage_flow : float
        Leakage flow at 50 Pa. [m3/s]
    flow_exponent : float
        Exponent of the power law. [-]

    Returns
    -------
    FanSuction
        Suction and the published cautions it reaches.

    Raises
    ------
    InputError
        If a flow is not above zero or the exponent lies outside 0.5 to 1.

    Notes
    -----
    No wind, no stack, no vents: the leaks alone let the air in. The fan is taken to hold its flow;
    a real fan gives less as the suction grows.

    References
    ----------
    [DERIVED] the power law turned round. [CMHC] figures for chimneys.

    Examples
    --------
    >>> from airlab.words import litre_per_s, m3_per_h
    >>> round(fan_suction(litre_per_s(20.0), m3_per_h(212.1)).suction, 1)
    9.5
    """
    n = require_flow_exponent(flow_exponent)
    extract = require_positive("extract_flow", extract_flow, "m3/s")
    leak = require_positive("leakage_flow", leakage_flow, "m3/s")
    return FanSuction(extract, leak, n, PRESSURE_REFERENCE * (extract / leak) ** (1.0 / n))
