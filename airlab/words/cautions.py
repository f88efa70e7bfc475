"""Cautions that are shown before the tool helps: what can hurt someone, and what to do.

Usual cautions in our own words; local codes and licensed practice decide. Those marked as a
hazard are asked on every plan with three answers: safe, not safe, don't know.
"""

from dataclasses import dataclass

__all__ = ["CAUTIONS", "HAZARD_ANSWERS", "Caution", "caution", "hazards"]

HAZARD_ANSWERS = ("safe", "not safe", "don't know")


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution: key, short name, what to do, whether it stops the fan, source key."""

    key: str
    name: str
    text: str
    stops_fan: bool = False
    hazard: bool = False
    source: str = "TRADE"


CAUTIONS = (
    Caution("combustion", "Fires, boilers, stoves",
            "Suction can pull flue gas and flame into the rooms. Every fuel appliance is off, "
            "isolated and cold, with no pilot flame. A competent person restarts and checks it "
            "afterwards. Ash is removed or covered. A carbon monoxide alarm is in the house.",
            stops_fan=True, hazard=True),
    Caution("asbestos", "Asbestos",
            "Do not run the fan in either direction in a house where asbestos may be and has not "
            "been assessed. Follow local law.", stops_fan=True, hazard=True),
    Caution("lead", "Lead dust, mould, droppings, loose fibre",
            "Unassessed lead dust: no fan in either direction. Clean or contain mould, droppings "
            "and loose fibre first.", stops_fan=True, hazard=True),
    Caution("film", "Film and boards not yet fixed",
            "50 Pa is about 5 kg on every square metre (1 lb on every square foot). Batten film before "
            "the fan runs, raise the pressure in steps, watch the edges, stop when it billows.",
            stops_fan=True, hazard=True),
    Caution("radon", "Radon and soil gas",
            "Suction draws soil gas. Do not leave the fan running. Seal the ground side too and "
            "have radon measured after tightening.", hazard=True),
    Caution("falls", "Ladders, lofts, open stair edges",
            "No stretching off a ladder. Guard open edges. Boards and a lamp in the loft. Doors "
            "slam when the fan runs: wedge them.", hazard=True),
    Caution("electric", "Electricity and the fan",
            "Protected supply, no chained extension leads, first-fix ends dead and capped, guard "
            "on the fan, hair and scarves clear.", hazard=True),
    Caution("smoke", "Smoke and alarms",
            "Tell the neighbours. Whoever answers for the alarms isolates them, keeps watch, and puts "
            "them back. No smoke near anyone with breathing trouble. No hot wick, flame or hot probe near solvent primer or curing foam.",
            hazard=True),
    Caution("people", "People, pets, the way out",
            "Everybody inside knows. Nobody asleep, no medical oxygen. The fan does not block the "
            "only way out.", hazard=True),
    Caution("make_up_air", "Where the air comes from",
            "Never draw air from a garage with an engine running, from a generator, a direct-fired "
            "heater or an open drain. Direct-fired heaters are off, generators stand far from the "
            "air that is drawn in, and nobody cuts, grinds or sweeps while the fan runs.",
            hazard=True),
    Caution("fire_stopping", "Fire stopping and permanent vents",
            "Fire stopping, cavity barriers, combustion air and permanent vents are never sealed "
            "for a better number."),
    Caution("ventilation", "Fresh air",
            "Tightening without fresh air can harm people. Settle the ventilation before praising "
            "a low number."),
    Caution("seals_off", "Seals for the day",
            "Every seal put on for the day comes off again, is counted and signed for."),
    Caution("estimate", "What a result is",
            "An estimate for learning and planning, not a certificate. Local codes and licensed "
            "practice decide."),
    Caution("cables", "Cables and recessed lights",
            "Sealing round cables and lights can make them hotter. Ask an electrician."),
)  # fmt: skip


def caution(key):
    """Return the caution of that key."""
    return next(entry for entry in CAUTIONS if entry.key == key)


def hazards():
    """Return the cautions that are asked as safe, not safe or don't know."""
    return tuple(entry for entry in CAUTIONS if entry.hazard)
