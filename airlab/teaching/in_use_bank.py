"""Exercises of 10: heat of a year, a rule that is no constant, draught, moisture, fresh air, suction."""

from airlab.building import fan_suction
from airlab.in_use import AIR_HEAT
from airlab.physics import jet_speed
from airlab.teaching.exercise import Choice, Numeric, Ordering, Slip
from airlab.teaching.variants import template
from airlab.words import ach, from_si, litre_per_s, m3_per_h, show, to_si

__all__ = ["LIVING"]


@template(
    "10-1",
    volume=(250, 300, 350, 420, 500),
    rate=(0.2, 0.25, 0.3, 0.4),
    days=(2000, 2500, 3000, 3500),
)
def _heat(key, volume=350.0, rate=0.25, days=2500.0):
    power = AIR_HEAT * m3_per_h(rate * volume)  # W/K
    right = from_si(power * days * to_si(24.0, "h"), "kWh")
    return Numeric(
        key, f"Leaks change {show(rate)} of the {show(volume)} m³ of a house an hour. The winter has "
        f"{show(days, digits=4)} kelvin-days. A cubic metre of air takes 0.333 Wh for each kelvin. "
        "How many kWh do the leaks carry away?",
        lambda: right, "kWh",
        f"{show(power)} W for each kelvin, 24 hours a day. An estimate: {show(rate)} is itself a guess "
        "until somebody has asked more than one model.",
        (
            Slip(right / 24.0, "A kelvin-day has 24 kelvin-hours."),
            Slip(right * 3.0, "The heat of the air is missing: 0.333 Wh for each m³ and kelvin."),
            Slip(right * 1000.0, "That is in Wh. A kWh has 1000."),
        ),
        source="FI_ENERGY", outcome="K5",
    )  # fmt: skip


@template("10-3", pressure=(1, 1.5, 2, 3, 4, 5))
def _everyday(key, pressure=2.0):
    at_50, right = (float(jet_speed(one)) for one in (50.0, pressure))
    return Numeric(
        key, f"In the fan test, at 50 Pa, a leak blows at {show(at_50)} m/s. On a breezy day there are "
        f"{show(pressure)} Pa across it. How fast does it blow then, in m/s?",
        lambda: right, "m/s",
        "Slower, but it blows all day. This is the speed at the gap: a metre away little of it is left.",
        (
            Slip(at_50 * pressure / 50.0, "Speed goes with the root of the pressure, not with the pressure."),
            Slip(at_50 * (pressure / 50.0) ** 0.65, "0.65 is for the flow of a whole house. The speed of "
                 "a jet goes with the root."),
        ),
        source="DERIVED", outcome="K5",
    )  # fmt: skip


@template(
    "10-5", floor=(70, 80, 90, 110, 130), rate=(0.04, 0.05, 0.06, 0.08), need=(25, 31, 37, 43)
)
def _share(key, floor=90.0, rate=0.05, need=31.0):
    need = max(need, -(-3 * floor // 10))  # the rule: by bedrooms, and 0.3 L/(s.m2) at least
    supplied = m3_per_h(rate * floor * 2.4)
    right = 100.0 * supplied / litre_per_s(need)
    return Numeric(
        key, f"A tight house of {show(floor)} m², 2.4 m high, is to have {show(need)} L/s of fresh air. "
        f"In everyday weather its leaks change {show(rate)} of its air an hour. What share of the fresh "
        "air is that, in %?",
        lambda: right, "%",
        f"{show(need)} L/s is {show(ach(litre_per_s(need), floor * 2.4))} of the air an hour. The house "
        "is not too tight, it is under-ventilated until fans run.",
        (
            Slip(100.0 * from_si(supplied, "m3/h") / need, "That divides m³/h by L/s. 1 L/s is 3.6 m³/h."),
            Slip(100.0 * rate, "That is the share of the house's air. Ask for the share of the need."),
            Slip(100.0 - right, "That is what is missing."),
        ),
        source="EN_ADF_2021", outcome="K5",
    )  # fmt: skip


@template("10-6", extract=(15, 20, 25, 30), leak=(55, 60, 70, 80, 90))
def _suction(key, extract=20.0, leak=60.0):
    right = fan_suction(litre_per_s(extract), litre_per_s(leak)).suction
    return Numeric(
        key, f"A tight house leaks {show(leak)} L/s at 50 Pa, exponent 0.65. A kitchen fan draws "
        f"{show(extract)} L/s with everything shut. How far does it pull the house down, in Pa?",
        lambda: right, "Pa",
        "At 5 Pa an idle chimney may already draw backwards (second-hand). Less is no proof of safety: some "
        "practice draws the line at 2 to 4 Pa (from memory). With any fire that takes its "
        "air from the room, a licensed person tests for spillage.",
        (
            Slip(50.0 * extract / leak, "Flow and pressure are not in proportion: turn the power law round."),
            Slip(50.0 * (extract / leak) ** 0.65, "The exponent must be turned round: 1/0.65."),
        ),
        source="DERIVED", outcome="K5", level="stretch",
    )  # fmt: skip


LIVING = (
    _heat,
    Choice(
        "10-2", "Two houses have the same n50 of 5. One stands by a windy sea, one in a sheltered town "
        "inland. Air changes in everyday weather?",
        ("0.25 an hour in both", "more by the sea, and 5/20 may fit neither", "the same, n50 is the same"),
        lambda: "more by the sea, and 5/20 may fit neither",
        "20 is not a constant. Published rules run from 10 to 30, and wind, height and shelter move it.",
        {
            "0.25 an hour in both": "That is 5/20. The rule knows neither wind nor shelter.",
            "the same, n50 is the same": "n50 is at 50 Pa. The weather decides what pressure there is.",
        },
        source="EU_SPREAD", outcome="K5", level="start",
    ),
    _everyday,
    Choice(
        "10-4", "A published figure: 28.4 L of water through a hole of 1 in², 0.3 L by diffusion through the "
        "board beside it. What follows for your wall?",
        ("close the gaps first", "28.4 L will wet it", "the vapour layer is not needed"),
        lambda: "close the gaps first",
        "Air carries far more than diffusion where a gap is open. How much is left in the wall depends on "
        "depth, pressure and drying, so the litres are no forecast.",
        {
            "28.4 L will wet it": "Another wall, another winter. Part of the water leaves with the air.",
            "the vapour layer is not needed": "Diffusion goes on all over the wall. Each layer has its job.",
        },
        source="BSC_COLD", outcome="K5",
    ),
    _share,
    _suction,
    Choice(
        "10-7", "Of four ways to live, the tight house with nothing but its leaks for fresh air takes the "
        "least heat. Is it the one to choose?",
        ("no: it withholds the air", "yes: least heat", "yes: leaks and windows have always been enough"),
        lambda: "no: it withholds the air",
        "Read heat and hours short of fresh air together. Once windows make up what is missing, it takes "
        "more than heat recovery does.",
        {
            "yes: least heat": "It saves heat by not letting air in. Look at the hours that are short.",
            "yes: leaks and windows have always been enough": "The leaks are gone. Count the hours.",
        },
        source="DERIVED", outcome="K5", level="start",
    ),
    Ordering(
        "10-8", "An old house with a stove is to be made tight. Put the steps in order.",
        (
            "look for fires, asbestos, lead dust, radon and damp as they are now",
            "plan the fresh air and the stove's own air",
            "close the leaks",
            "stove out, cold and shut: read the leakage with the fans sealed",
            "start the fans and measure what they move",
            "a licensed person tests for spillage with all fans running, then radon over weeks",
        ),
        "Know the dangers, plan the air, then tighten. Fans come before the last tests, for they pull. The "
        "stove is lit again only after that test.",
        {
            "look for fires, asbestos, lead dust, radon and damp as they are now": "Nobody can judge a change without the start.",
            "plan the fresh air and the stove's own air": "The plan comes before the tightening: a tight "
            "house without one can harm people.",
            "close the leaks": "There is nothing to measure before the leaks are closed.",
            "stove out, cold and shut: read the leakage with the fans sealed": "The fans are sealed in the fan test. Read it first.",
            "start the fans and measure what they move": "A spillage test without fans shows nothing.",
        },
        source="TRADE", outcome="K7",
    ),
)  # fmt: skip
