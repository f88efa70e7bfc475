"""How much water does air carry through a gap, against what seeps through the sheet beside it?

Only bounds can be given: a sharp gap passes the most, a deep one far less, and part of the water
leaves with the air. A carried amount is no forecast of damage.
"""

from dataclasses import dataclass

from airlab.physics import SHARP_EDGE, Crack, hole_flow, saturation_pressure
from airlab.physics.air import ZERO_CELSIUS
from airlab.words import (
    STATUSES,
    display_unit,
    from_si,
    require_between,
    require_choice,
    require_positive,
    show,
    show_range,
    to_si,
)

__all__ = [
    "PUBLISHED_MOISTURE",
    "GapMoisture",
    "PublishedMoisture",
    "gap_moisture",
    "vapour_density",
]

_VAPOUR_CONSTANT = 461.5  # J/(kg.K)
_STILL_AIR = 2.0e-10  # kg/(m.s.Pa), vapour through still air; from memory


def vapour_density(temperature, relative_humidity):
    """Return the water in a cubic metre of air: ``φ p_sat / (461.5 T)``. [kg/m3]

    Parameters
    ----------
    temperature : float or array
        Air temperature. [C]
    relative_humidity : float or array
        Between 0 and 1. [-]

    Examples
    --------
    >>> round(1000 * vapour_density(20.0, 0.5), 2)
    8.65
    """
    share = require_between("relative_humidity", relative_humidity, 0.0, 1.0, "-",
                            "If you meant 50 %, write 0.5.")  # fmt: skip
    return (
        share * saturation_pressure(temperature) / (_VAPOUR_CONSTANT * (temperature + ZERO_CELSIUS))
    )


@dataclass(frozen=True, slots=True)
class GapMoisture:
    """Water carried through a gap above what the cold side can hold, and what seeps beside it.

    Carried by the gap as deep as said and with a sharp edge, seeping through the sheet [kg/s]; air
    through the two gaps [m3/s]; water above what the cold side holds [kg/m3]; cold side [C], depth
    [m], area of the sheet [m2] and its s_d [m], length of the gap [m].
    """

    lower: float
    upper: float
    diffusion: float
    flow: tuple[float, float]
    excess: float
    cold: float
    depth: float
    area: float
    resistance: float
    length: float = 1.0

    @property
    def ratio(self):
        """Carried over seeped, (lower, upper); None where nothing seeps outwards."""
        if self.diffusion <= 0.0:
            return None
        return self.lower / self.diffusion, self.upper / self.diffusion

    def sentence(self, units="metric"):
        """Return both bounds in words."""
        degrees, size, thick, long, mass = (
            display_unit(one, units) for one in ("C", "m2", "mm", "m", "g")
        )
        cold = show(from_si(self.cold, degrees), degrees)
        if self.excess == 0.0:
            return f"The air is too dry to leave water on a surface of {cold}."
        low, high, seeps = (from_si(one * to_si(24.0, "h"), mass)
                            for one in (self.lower, self.upper, self.diffusion))  # fmt: skip
        sheet = f"with an sd value of {show(self.resistance, 'm')}"
        if units == "us":
            sheet = f"of {show(from_si(_STILL_AIR / self.resistance, 'perm'), 'perm', 2)}"
        return (
            f"While the pressure lasts, {show(from_si(self.length, long), long)} of gap carries "
            f"{show_range(low, high, mass)} of water a day above what a surface "
            f"of {cold} can hold: the low end for a gap {show(from_si(self.depth, thick), thick)} deep, "
            f"the high end for a sharp edge. Through {show(from_si(self.area, size), size)} of sheet "
            f"{sheet} seep {show(max(seeps, 0.0), mass, 2)} a day. Bounds, not a "
            "forecast: part of the water leaves with the air, and pressure comes and goes."
        )


def gap_moisture(
    length,
    width,
    pressure_difference,
    depth=0.1,
    indoor_temperature=20.0,
    relative_humidity=0.5,
    cold=0.0,
    resistance=2.3,
    area=1.0,
    discharge_coefficient=SHARP_EDGE,
):
    """Return the water that air carries out through a gap and could leave on the cold side.

    Carried: flow times water above saturation. Seeping: ``δ Δp_v A / s_d``.

    Parameters
    ----------
    length, width, depth : float
        Of the gap; the depth sets the lower bound. [m]
    pressure_difference : float
        Inside minus outside; only outward air carries room moisture out. [Pa]
    indoor_temperature, relative_humidity : float
        Room air [C], and its share of saturation. [-]
    cold : float
        Surface where water could be left, saturated there. [C]
    resistance, area : float
        Of the sheet beside the gap: its s_d [m], and its area [m2].
    discharge_coefficient : float
        Of the sharp edge. [-]

    Returns
    -------
    GapMoisture
        Lower and upper bound, and diffusion.

    Raises
    ------
    InputError
        If a size is not a gap's, the pressure is not outward, or the air no room's.

    References
    ----------
    [DERIVED] carried; [BAKER1987] deep gap; [ISO13788] still air 2e-10 kg/(m.s.Pa).

    Examples
    --------
    >>> found = gap_moisture(1.0, 0.001, 4.0)
    >>> [round(1000 * 86400 * one) for one in (found.lower, found.upper)]
    [60, 517]
    """
    pressure = require_positive("pressure_difference", pressure_difference, "Pa",
                                "Air that comes in brings no room moisture into the wall.")  # fmt: skip
    require_positive("resistance", resistance, "m")
    require_positive("area", area, "m2")
    gap = Crack(length, width, depth)
    sharp = float(hole_flow(gap.area, pressure, discharge_coefficient=discharge_coefficient))
    deep = min(float(gap.flow(pressure)), sharp)
    room = vapour_density(indoor_temperature, relative_humidity)
    excess = max(room - vapour_density(cold, 1.0), 0.0)
    drop = relative_humidity * saturation_pressure(indoor_temperature) - saturation_pressure(cold)
    seeps = _STILL_AIR * drop * area / resistance
    return GapMoisture(
        deep * excess,
        sharp * excess,
        seeps,
        (deep, sharp),
        excess,
        cold,
        depth,
        area,
        resistance,
        length,
    )


@dataclass(frozen=True, slots=True)
class PublishedMoisture:
    """A published figure on moisture in our words: case, finding, source, status, what to mind."""

    case: str
    finding: str
    source: str
    status: str
    care: str = ""

    def __post_init__(self):
        require_choice("status", self.status, STATUSES)

    def sentence(self, units="metric"):
        """Return the figure with its status and what to mind."""
        return f"{self.case}: {self.finding} ({self.status}). {self.care}".rstrip()


PUBLISHED_MOISTURE = (
    PublishedMoisture("A hole of 1 in² against a board of 4 by 8 ft, a heating season in the cold",
                      "28.4 L by air against 0.3 L by diffusion, about 90 times", "BSC_COLD",
                      "second-hand", "The pressure behind it was not in what was read."),
    PublishedMoisture("A joint of 1 mm by 1 m in a vapour layer, 20 Pa, 20 and −10 °C",
                      "800 g a day against 0.5 g/(m²·day) by diffusion", "IBP_1989", "from memory",
                      "20 Pa held all day is rare. Much repeated to sell things: treat with care."),
    PublishedMoisture("The same joint through 140 mm of insulation", "U from 0.30 to 1.44 W/(m²·K)",
                      "IBP_1989", "from memory", "Treat with the same care."),
    PublishedMoisture("A vapour layer with an s_d of 2.3 m, German winter", "about 5 g/(m²·day)",
                      "DE_VAPOUR", "second-hand"),
    PublishedMoisture("Mould, England", "water activity of a surface, as a moving mean, below 0.75 over a "
                      "month, 0.85 over a week, 0.95 over a day", "EN_ADF_2021", "read",
                      "Tables B2 and B3."),
)  # fmt: skip
