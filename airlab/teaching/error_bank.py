"""Exercises of 05: what was published and cannot be right, and made-up statements like it.

The eight were found on public pages and are told without names. The made-up ones come from a seed:
a house, a statement, the slip in it if there is one, and the sum that proves it.
"""

import re
from math import pi
from random import Random

from airlab.building import Geometry, flow_at, leakage_flow_from, leaks_supply, metric_value
from airlab.teaching.exercise import Choice, Numeric, Slip
from airlab.words import ach, convert, from_si, m3_per_h, mm, show, to_si

__all__ = ["ERRORS", "SLIPS", "made_up_statement"]

_ARTICLE = 0.44  # m2 of hole
_COIN = mm(21.4)  # across


def _coin(per_area, coefficient):
    """Return m3/(h.m2) at 50 Pa through one coin-sized hole on each of so many m2."""
    key = "hole50" if coefficient is None else "ELA50"
    area = from_si(pi / 4.0 * _COIN**2, "cm2")
    flow = leakage_flow_from(key, area) * (coefficient or 1.0)
    return from_si(flow / per_area, "m3/(h.m2)")


ERRORS = (
    Choice(
        "05-1", "An assessor's page: 'building regulations: 5 air changes per hour'. The Irish limit "
        "of 2019 is 5 m³/(h·m²) of envelope at 50 Pa. What is wrong with the page?",
        ("nothing", "it is per m² of envelope, not per volume", "it is meant at 4 Pa"),
        lambda: "it is per m² of envelope, not per volume",
        "In a house of 353.5 m³ and 311.7 m² the limit is 4.41 air changes per hour at 50 Pa. Built to "
        "5 per hour it has 5.67 m³/(h·m²) at 50 Pa: over by 13 %.",
        {
            "nothing": "Work out n50 of a house that just meets 5 m³/(h·m²): times envelope, over "
            "volume.",
            "it is meant at 4 Pa": "Both are at 50 Pa. What is the flow divided by?",
        },
        source="IE_TGDF",
    ),
    Numeric(
        "05-2", "A diary: '0.6 air changes an hour is a leak of 1 m³/h'. At 50 Pa, in a house of "
        "300 m³, what is the leak in m³/h?",
        lambda: from_si(leakage_flow_from("n50", 0.6, Geometry(300.0)), "m3/h"), "m3/h",
        "0.6 × 300. The 'per m²' was lost: 180 m³/h over some 180 m² would be 1 m³/(h·m²). The page's "
        "hole of 6 by 10 cm passes 120 m³/h, which is 0.6 per hour only in a house of 200 m³.",
        (
            Slip(1.0, "That is what the diary says. Air changes times volume is a flow."),
            Slip(500.0, "You divided. Air changes times volume is a flow."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "05-3", "A tester: '10 m³/(h·m²) is about equal to 10 air changes'. A house has 300 m³ and "
        "250 m² of envelope. What is n50 at 10 m³/(h·m²) of envelope at 50 Pa?",
        lambda: metric_value("n50", leakage_flow_from("qE50", 10.0, _house()), _house()), "1/h",
        "10 × 250 / 300. Equal only where volume over envelope is 1 m; small houses are nearer 1.1 to "
        "1.6 m, and then the number per hour is the smaller one.",
        (
            Slip(10.0, "Only if volume over envelope were 1 m. Here it is 1.2 m."),
            Slip(12.0, "The wrong way round: flow is per m² times envelope, n50 is flow over volume."),
        ),
        source="DERIVED",
    ),
    Choice(
        "05-4", "A question page: 'an energy-efficient home leaks under 0.5 air changes, the code "
        "suggests 0.35, so do not go below'. What was mixed up?",
        ("per hour and per m²", "50 Pa and everyday air change", "litres and cubic metres"),
        lambda: "50 Pa and everyday air change",
        "0.35 an hour is fresh air in use; 0.5 at 50 Pa is a leak while a fan runs. By the Finnish "
        "divisor 24 for two storeys, 0.5 at 50 Pa is about 0.02 an hour in use. The fresh air is the "
        "ventilation's work, at any leak.",
        {
            "per hour and per m²": "Both are per hour. At which pressure is each?",
            "litres and cubic metres": "Neither is in litres. At which pressure is each?",
        },
        source="FI_ENERGY",
    ),
    Choice(
        "05-5", "A project: '6 air changes at 50 Pa, well within the passive standard of 10'. What is "
        "wrong?",
        ("10 was a regulation figure per m², the passive limit is 0.6 per hour",
         "6 should have been measured at 10 Pa", "nothing, 6 is under 10"),
        lambda: "10 was a regulation figure per m², the passive limit is 0.6 per hour",
        "Ten times over, and measured against another size. 10 m³/(h·m²) was the English backstop of "
        "2010 (second-hand); 0.6 per hour at 50 Pa is the passive-house criterion (second-hand).",
        {
            "6 should have been measured at 10 Pa": "The 10 is no pressure.",
            "nothing, 6 is under 10": "Under ten of what? Look at the unit of each.",
        },
        source="DERIVED",
    ),
    Choice(
        "05-6", "One glossary: 'Q50: flow at 50 Pa in m³/s'. Another: 'Q50: air permeability'. A "
        "contract says 'Q50 of 3'. What do you do?",
        ("take it as m³/(h·m²), that is usual", "take it as m³/s", "ask: metric, unit and pressure in "
         "the contract"),
        lambda: "ask: metric, unit and pressure in the contract",
        "The same symbol names a flow in one standard and a flow per m² in another. 3 m³/s would be "
        "10 800 m³/h. Write qE50 or the flow, with its unit.",
        {
            "take it as m³/(h·m²), that is usual": "Usual where? The other side may read the other "
            "glossary.",
            "take it as m³/s": "That is 10 800 m³/h: no house. But do not guess in a contract.",
        },
        source="TIGHTVENT",
    ),
    Numeric(
        "05-7", "An article: '10 m³/(h·m²) at 50 Pa is a hole of 0.44 m²'. How many m² of envelope, at "
        "10 m³/(h·m²), leak as much as one sharp-edged hole of 0.44 m²?",
        lambda: from_si(leakage_flow_from("hole50", from_si(_ARTICLE, "cm2")), "m3/h") / 10.0, "m2",
        "About 880 m²: no usual house. With a discharge coefficient of 1 it would be 1450 m².",
        (
            Slip(lambda: from_si(leakage_flow_from("ELA50", from_si(_ARTICLE, "cm2")), "m3/h") / 10.0,
                 "That is with a discharge coefficient of 1. A sharp edge has 0.61."),
            Slip(lambda: from_si(leakage_flow_from("hole50", from_si(_ARTICLE, "cm2")), "m3/h"),
                 "That is the flow. Divide it by 10 m³/(h·m²)."),
        ),
        source="DERIVED",
    ),
    Numeric(
        "05-8", "A primer: 'a coin of 21.4 mm on every m² is 10 m³/(h·m²) at 50 Pa'. Which discharge "
        "coefficient does that assume (density 1.2 kg/m³)?",
        lambda: 10.0 / _coin(1.0, 1.0), "-",
        "About 0.85. With 1 the coin is 11.8 m³/(h·m²), with a sharp edge 7.2: an analogy needs its "
        "coefficient.",
        (
            Slip(1.0, "With 1 one coin passes 11.8 m³/h, which is more than 10."),
            Slip(lambda: _coin(1.0, 1.0) / 10.0, "Upside down: the coefficient makes 11.8 into 10."),
            Slip(0.61, "With a sharp edge the coin passes 7.2 m³/h only."),
        ),
        source="DERIVED",
    ),
)  # fmt: skip


def _house():
    return Geometry(300.0, 250.0)


SLIPS = (
    "per hour read as per m²",
    "lowest floor left out",
    "two pressures mixed",
    "50 Pa read as everyday",
    "litres a second read as m³ an hour",
    "nothing is wrong",
)
_LOOK = {
    SLIPS[0]: "Is the number compared in the unit of the limit?",
    SLIPS[1]: "Which area was the flow divided by?",
    SLIPS[2]: "At which pressure is the number, at which the limit?",
    SLIPS[3]: "Does the fan run every day?",
    SLIPS[4]: "In which unit did the fan tell its flow?",
    SLIPS[5]: "Work it out with the sizes given: something does not fit.",
}
_KEY = re.compile(r"05-s(\d{1,6})")


def made_up_statement(key):
    """Return a made-up statement to judge, as an exercise; None if the key is of another kind.

    Parameters
    ----------
    key : str
        "05-s" and a seed, such as "05-s7"; the same seed gives the same statement.

    Returns
    -------
    Choice or None
        The statement, the slips to choose from, and the proof.

    Examples
    --------
    >>> made_up_statement("05-s7").options == SLIPS, made_up_statement("05-1")
    (True, None)
    """
    found = _KEY.fullmatch(str(key))
    if not found:
        return None
    dice = Random(int(found[1]))
    floor = float(dice.randrange(60, 121, 5))  # one storey's
    volume = 5.0 * floor
    envelope = float(round(2.0 * floor + 20.5 * floor**0.5))  # a box of 5 m, 3 : 2 in plan
    house = Geometry(volume, envelope, 2.0 * floor, lowest_floor_area=floor)
    limit = dice.choice((2.0, 3.0, 4.0, 5.0))
    kind = dice.choice(SLIPS)
    statement, proof = _STATEMENTS[kind](house, limit, dice)
    return Choice(
        str(key), f"A house of {show(volume, 'm3')}, {show(envelope, 'm2')} of envelope, "
        f"{show(floor, 'm2')} of it the lowest floor. Limit {show(limit, 'm3/(h.m2)')} of envelope at "
        f"50 Pa. '{statement}' What is wrong?",
        SLIPS, lambda: kind, proof, {slip: _LOOK[kind] for slip in SLIPS if slip != kind},
        source="DERIVED",
    )  # fmt: skip


def _per(flow, house):
    return show(metric_value("qE50", flow, house), "m3/(h.m2)")


def _swapped(house, limit, dice):
    n50 = limit * 0.97
    flow = leakage_flow_from("n50", n50, house)
    return (
        f"n50 is {show(n50, 'm3/(h.m2)').split()[0]}, that is inside the limit.",
        f"n50 {show(n50)} per hour at 50 Pa is {show(n50)} × {show(house.internal_volume)} / "
        f"{show(house.envelope_area)} = {_per(flow, house)} at 50 Pa: over.",
    )


def _floorless(house, limit, dice):
    flow = m3_per_h(round(limit * dice.uniform(0.72, 0.78) * house.envelope_area))
    whole = from_si(flow, "m3/h")
    without = whole / (house.envelope_area - house.lowest_floor_area)
    return (
        f"The fan moved {show(whole, 'm3/h', 4)} at 50 Pa. That is {show(without, 'm3/(h.m2)')} at "
        "50 Pa of envelope.",
        f"{show(whole, digits=4)} / {show(house.envelope_area)} = {_per(flow, house)} at 50 Pa. The "
        "statement divides by the envelope without its lowest floor; ISO 9972 counts it.",
    )


def _pressures(house, limit, dice):
    flow = leakage_flow_from("qE50", limit * dice.uniform(1.5, 2.5), house)
    at4 = from_si(flow_at(4.0, flow), "m3/h")
    return (
        f"At 4 Pa {show(at4, 'm3/h')} leaks. That is {show(at4 / house.envelope_area, 'm3/(h.m2)')}, "
        "far inside the limit.",
        f"The limit is at 50 Pa. With exponent 0.65 the flow there is {show(from_si(flow, 'm3/h'))} "
        f"m³/h, {_per(flow, house)}: over.",
    )


def _everyday(house, limit, dice):
    flow = leakage_flow_from("qE50", limit * dice.uniform(0.6, 0.9), house)
    n50 = metric_value("n50", flow, house)
    mean = ach(leaks_supply(flow, house, 2)[0].flow, house.internal_volume)
    return (
        f"It leaks {_per(flow, house)} at 50 Pa, so its air is changed {show(n50)} times an hour all "
        "year; no ventilation is needed.",
        f"{show(n50)} an hour is at 50 Pa, with a fan. By the Finnish divisor 24 the yearly mean is "
        f"about {show(mean, digits=2)} an hour, and next to nothing on a still day.",
    )


def _litres(house, limit, dice):
    flow = leakage_flow_from("qE50", limit * dice.uniform(1.2, 2.0), house)
    litres = round(from_si(flow, "L/s"))
    right = to_si(litres, "L/s")
    return (
        f"The fan showed {litres} L/s at 50 Pa. {litres} / {show(house.envelope_area)} is "
        f"{show(litres / house.envelope_area)}: inside.",
        f"{litres} L/s is {show(convert(litres, 'L/s', 'm3/h'), 'm3/h')}, {_per(right, house)} at 50 Pa: over.",
    )  # fmt: skip


def _right(house, limit, dice):
    flow = m3_per_h(round(limit * dice.uniform(0.6, 0.9) * house.envelope_area))
    return (
        f"The fan moved {show(from_si(flow, 'm3/h'), 'm3/h', 4)} at 50 Pa. That is {_per(flow, house)} of "
        "envelope at 50 Pa, inside the limit.",
        f"{show(from_si(flow, 'm3/h'), digits=4)} / {show(house.envelope_area)} = {_per(flow, house)} at "
        "50 Pa. Inside the limit, and still nothing is said of the ventilation.",
    )


_STATEMENTS = dict(zip(SLIPS, (_swapped, _floorless, _pressures, _everyday, _litres, _right)))
