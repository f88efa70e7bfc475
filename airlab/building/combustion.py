"""Does a fire in the house get its air, and how much may be drawn away from it?

Figures are those of documents that were read; local codes and licensed practice decide. Nothing
here says that an appliance is safe.
"""

from dataclasses import dataclass

from airlab.words import (
    InputError,
    display_unit,
    from_si,
    litre_per_s,
    require_between,
    require_choice,
    require_positive,
    show,
    to_si,
)

__all__ = [
    "APPLIANCES",
    "Appliance",
    "CombustionAir",
    "appliance",
    "background_vents",
    "combustion_air",
]

_FREE_KW = 5.0  # rated output that needs no opening where the envelope is leaky
_LEAKY = 5.0  # m3/(h.m2) at 50 Pa, as designed
_PER_KW = {"permanent": 550.0, "first": 1100.0, "second": 1650.0}  # mm2 for each kW


@dataclass(frozen=True, slots=True)
class Appliance:
    """A kind of fuel appliance and the most an extract fan may draw beside it [m3/s]."""

    key: str
    name: str
    most_extract: float | None
    fuel: str = ""
    source: str = "EN_ADJ"
    status: str = "read"

    def sentence(self, extract_flow, units="metric"):
        """Return what the rule that was read says of an extract flow beside it [m3/s]."""
        if self.most_extract is None:
            return "No appliance that takes its air from the rooms is named."
        unit = "cfm" if units == "us" else "L/s"
        flow, most = (show(from_si(one, unit), unit) for one in (extract_flow, self.most_extract))
        if self.most_extract == 0.0:
            said = "no extract at all in its room"
        else:
            said = f"at most {most} of kitchen extract"
        over = "Over: not without a specialist" if extract_flow > self.most_extract else "Not over"
        return (
            f"{self.name[:1].upper()}{self.name[1:]}: {said} (England, Approved Document J, "
            f"{self.status}); here {flow}. {over}. A licensed person tests for spillage with all "
            "fans running."
        )


APPLIANCES = (
    Appliance("none", "none, or room-sealed", None),
    Appliance("gas", "open-flued gas", litre_per_s(20.0), "gas"),
    Appliance("oil jet", "open-flued oil, pressure jet", litre_per_s(40.0), "oil"),
    Appliance("oil vaporising", "open-flued oil, vaporising", litre_per_s(20.0), "oil"),
    Appliance("solid", "stove or open fire", 0.0, "solid"),
)


def appliance(key):
    """Return the appliance of that key.

    Raises
    ------
    InputError
        If there is none.
    """
    require_choice("appliance", key, [one.key for one in APPLIANCES])
    return next(one for one in APPLIANCES if one.key == key)


@dataclass(frozen=True, slots=True)
class CombustionAir:
    """Openings an open-flued appliance asks for [m2]: to outside, and two into a compartment."""

    fuel: str
    rated_output: float
    permanent: float
    compartment: tuple[float, ...]
    leaky: bool

    def sentence(self, units="metric"):
        """Return the openings in words."""
        unit = "in2" if units == "us" else "mm2"
        output, digits = display_unit("kW", units), 3 if units == "us" else 5
        said = [
            show(from_si(area, unit), unit, digits) for area in (self.permanent, *self.compartment)
        ]
        text = (
            f"{self.fuel.capitalize()} appliance of {show(from_si(self.rated_output, output), output)}: "
            f"a permanent opening of {said[0]}"
        )
        if self.compartment:
            text += f", and where it stands in a compartment {said[1]} and {said[2]} into that"
        first = "The first 5 kW need none, for" if self.leaky else "Every kW counts, for"
        return (
            f"{text}. {first} the house is {'above' if self.leaky else 'at or below'} 5 m³/(h·m²) of "
            "envelope at 50 Pa as designed (England, Approved Document J, read). Never seal it for "
            "a number. Local codes and licensed practice decide."
        )


def combustion_air(fuel, rated_output, designed_leakage, compartment=False):
    """Return the permanent openings one document asks for.

    ``A = 550 mm²/kW · (P − 5 kW)`` where the design leaks more than 5 m³/(h·m²) at 50 Pa, else
    ``A = 550 mm²/kW · P``; a compartment has two more, 1100 and 1650 mm²/kW.

    Parameters
    ----------
    fuel : str
        "oil" or "solid".
    rated_output : float
        Rated output. [W]
    designed_leakage : float
        Leakage per envelope area at 50 Pa as designed, qE50. [m3/(h.m2)]
    compartment : bool
        Whether it stands in a compartment of its own; oil only.

    Returns
    -------
    CombustionAir
        Areas of the openings.

    Raises
    ------
    InputError
        If the fuel is another, or the output is not that of a dwelling's appliance.

    Notes
    -----
    Solid fuel: without a draught stabiliser. Gas: the same document frees the first 7 kW where the
    design is above 5; its area per kW was not read, so none is given.

    References
    ----------
    [EN_ADJ] table 1 and appendix D.

    Examples
    --------
    >>> print(round(combustion_air("oil", 11e3, 6.0).permanent * 1e6))
    3300
    """
    if fuel == "gas":
        raise InputError(
            "Fuel is 'gas'. The area for each kW was not read, so none is given. Ask a licensed gas "
            "engineer."
        )
    require_choice("fuel", fuel, ("oil", "solid"))
    power = from_si(require_between("rated_output", rated_output, 100.0, 45e3, "W"), "kW")
    leaky = require_positive("designed_leakage", designed_leakage, "m3/(h.m2)") > _LEAKY
    counted = max(power - (_FREE_KW if leaky else 0.0), 0.0)
    rooms = ()
    if compartment:
        if fuel != "oil":
            raise InputError("Openings of a compartment were read for oil appliances only.")
        rooms = tuple(to_si(_PER_KW[key] * power, "mm2") for key in ("first", "second"))
    air = to_si(_PER_KW["permanent"] * counted, "mm2")
    return CombustionAir(fuel, float(rated_output), air, rooms, leaky)


def background_vents(floor_area, single_storey=False, edition="2019"):
    """Return the background vents the Irish guidance asks for with natural ventilation.

    ``A = 42 000 mm² + 7 000 mm²`` for each 10 m² of floor above 70 m², 7 000 mm² more for a single
    storey; 30 000 and 5 000 in the edition before.

    Parameters
    ----------
    floor_area : float
        Floor area. [m2]
    single_storey : bool
        Whether the dwelling has one storey.
    edition : str
        "2019", which holds from 3 to 5 m³/(h·m²) of envelope at 50 Pa, or "2009".

    Returns
    -------
    float
        Equivalent area of all background vents. [m2]

    Raises
    ------
    InputError
        If the floor area is not that of a dwelling or the edition is unknown.

    Notes
    -----
    A part of 10 m² counts as a whole; that is assumed.

    References
    ----------
    [IE_TGDF] second-hand.

    Examples
    --------
    >>> print(round(background_vents(123.0) * 1e6))
    84000
    """
    area = require_between("floor_area", floor_area, 1.0, 2000.0, "m2")
    base, step = {"2019": (42e3, 7e3), "2009": (30e3, 5e3)}[
        require_choice("edition", edition, ("2019", "2009"))
    ]
    steps = -(-max(area - 70.0, 0.0) // 10.0) + bool(single_storey)
    return to_si(base + step * steps, "mm2")
