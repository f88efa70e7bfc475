"""Own numbers for the sums of 05: the published sentence, another house."""

from airlab.building import Geometry, leakage_flow_from, metric_value
from airlab.teaching.exercise import Numeric, Slip
from airlab.teaching.house_bank import own_house
from airlab.teaching.variants import template
from airlab.words import from_si, show

__all__ = ["ERROR_VARIANTS"]


@template("05-2", n50=(0.6, 0.8, 1.0, 1.5, 2.5), volume=range(220, 620, 20))
def _per_area_lost(key, n50=0.6, volume=300.0):
    flow = from_si(leakage_flow_from("n50", n50, Geometry(float(volume))), "m3/h")
    return Numeric(
        key, f"A diary: '{show(n50)} air changes an hour is a leak of 1 m³/h'. At 50 Pa, in a house of "
        f"{show(volume)} m³, what is the leak in m³/h?",
        lambda: flow, "m3/h", f"{show(n50)} × {show(volume)}. A flow needs the size of the house.",
        (
            Slip(1.0, "That is what the diary says. Air changes times volume is a flow."),
            Slip(volume / n50, "You divided. Air changes times volume is a flow."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("05-3", per_area=(2, 3, 4, 5, 6, 8, 10), ground=range(60, 145, 5))
def _same_number(key, per_area=10.0, ground=60):
    house = own_house(ground)
    volume, envelope = house.internal_volume, house.envelope_area
    return Numeric(
        key, f"A tester: '{show(per_area)} m³/(h·m²) is about equal to {show(per_area)} air changes'. A "
        f"house has {show(volume)} m³ and {show(envelope)} m² of envelope. What is n50 at "
        f"{show(per_area)} m³/(h·m²) of envelope at 50 Pa?",
        lambda: metric_value("n50", leakage_flow_from("qE50", per_area, house), house), "1/h",
        f"{show(per_area)} × {show(envelope)} / {show(volume)}. Equal only where volume over envelope "
        "is 1 m.",
        (
            Slip(per_area, "Only if volume over envelope were 1 m. Here it is "
                 f"{show(volume / envelope)} m."),
            Slip(per_area * volume / envelope, "The wrong way round: flow is per m² times envelope, n50 "
                 "is flow over volume."),
        ),
        source="DERIVED",
    )  # fmt: skip


@template("05-7", hole=(0.2, 0.25, 0.3, 0.35, 0.4, 0.5), limit=(3, 4, 5, 6, 7, 8, 10))
def _hole(key, hole=0.44, limit=10.0):
    sharp, whole = (
        from_si(leakage_flow_from(kind, from_si(hole, "cm2")), "m3/h")
        for kind in ("hole50", "ELA50")
    )
    return Numeric(
        key, f"An article: '{show(limit)} m³/(h·m²) at 50 Pa is a hole of {show(hole)} m²'. How many m² of "
        f"envelope, at {show(limit)} m³/(h·m²), leak as much as one sharp-edged hole of {show(hole)} m²?",
        lambda: sharp / limit, "m2",
        f"{show(sharp)} m³/h over {show(limit)}. With a discharge coefficient of 1 it would be "
        f"{show(whole / limit)} m². Compare that with the house in the article.",
        (
            Slip(whole / limit, "That is with a discharge coefficient of 1. A sharp edge has 0.61."),
            Slip(sharp, f"That is the flow. Divide it by {show(limit)} m³/(h·m²)."),
        ),
        source="DERIVED",
    )  # fmt: skip


ERROR_VARIANTS = (_per_area_lost, _same_number, _hole)
