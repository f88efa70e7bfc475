"""The kit of holes, volumes side by side, the table of the bench."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.physics import (
    BENCH,
    BENCH_QUANTITIES,
    HOLE_KINDS,
    HOLE_MODES,
    Balloon,
    Crack,
    FanHeldVolume,
    Hole,
    HoleSet,
    Parallel,
    PorousPatch,
    RoundHole,
    SealedVessel,
    Slot,
    bench_readings,
    drain,
    fan_stop,
    hole_sizes,
    make_opening,
    old_air,
    ready_openings,
    side_by_side,
)
from airlab.words import InputError, ach, cm2, from_si, m3_per_h, mm

ROUND = RoundHole.from_diameter(mm(2))
SLOT = Slot(0.01, mm(0.3))
KIT = HoleSet((Hole(ROUND, "free"), Hole(SLOT, "moves with rubber", RoundHole(mm(1))), ROUND))
SIZES = {
    "round hole": {"diameter": mm(3), "count": 2, "edge": "tube", "depth": mm(6)},
    "slot": {"length": 0.2, "width": mm(2)},
    "deep crack": {"length": 1.0, "width": mm(1), "depth": mm(20), "bends": 1},
    "porous patch": {"material_leakage": 0.055, "area": 100.0},
    "leak by its numbers": {"leakage_flow": 0.01, "flow_exponent": 0.6},
}
VOLUMES = {"jar": 0.01, "small house": 250.0, "large house": 1000.0}


# ---- known answers -------------------------------------------------------------------------------


@pytest.mark.parametrize("vessel", [Balloon(), SealedVessel(0.0117, 2502.0), FanHeldVolume(300.0)])
def test_the_same_holes_drain_any_vessel(vessel):
    """A set of holes is the openings with their modes, no more."""
    by_set = drain(vessel, KIT)
    by_hand = drain(vessel, KIT.openings, hole_modes=KIT.hole_modes)
    assert by_set.half_time == by_hand.half_time
    assert (by_set.volume == by_hand.volume).all()


def test_a_set_without_holes_never_drains():
    assert not drain(Balloon(), HoleSet()).drains
    assert HoleSet().sentence() == "No holes: nothing passes."
    assert HoleSet().flow(50.0) == 0.0


def test_second_layer_by_the_series_rule():
    """50 cm2 behind 100 cm2: 1/sqrt(1/50**2 + 1/100**2) = 44.7214 cm2 (derived)."""
    hole = Hole(RoundHole.from_area(cm2(50)), behind=RoundHole.from_area(cm2(100)))
    alone = Hole(RoundHole.from_area(cm2(44.72135955)))
    assert hole.path.flow(50.0) == pytest.approx(alone.path.flow(50.0), rel=1e-9)
    assert "behind a second layer" in hole.sentence()


def test_porous_patch_by_its_material_limit():
    """100 m2 at the limit of a sheet material pass 5.5 m3/h at 50 Pa (read limit, second-hand)."""
    patch = make_opening("porous patch", material_leakage=0.055, area=100.0)
    assert isinstance(patch, PorousPatch)
    assert from_si(float(patch.flow(50.0)), "m3/h") == pytest.approx(5.5, rel=1e-12)


def test_side_by_side_same_hole():
    """300 cm2: 1.20 and 0.60 air changes at 50 Pa in 500 and 1000 m3 (0.611, 1.2 kg/m3; derived)."""
    pair = side_by_side({"b": 1000.0, "a": 500.0}, HoleSet(RoundHole.from_area(cm2(300))))
    assert [one.name for one in pair.vessels] == ["a", "b"]
    rates = [one.air_change_rate for one in pair.vessels]
    assert rates == pytest.approx([1.2048, 0.6024], rel=1e-4)
    assert [one.spare for one in pair.vessels] == pytest.approx([0.246731, 0.493462], rel=1e-5)
    assert pair.vessels[0].time_per_change == pytest.approx(3600 / 1.2048, rel=1e-4)


def test_side_by_side_same_air_changes():
    """Sharp holes, n = 0.5: half-time 2 tau (1 - sqrt(1/2)), tau = 1.7765 s / ACH50 (derived).

    134.5 cm2 for 0.6 air changes at 50 Pa in 450 m3 (derived).
    """
    pair = side_by_side({"flat": 225.0, "house": 450.0}, ach50=0.6)
    assert [from_si(one.hole_area, "cm2") for one in pair.vessels] == pytest.approx(
        [67.23, 134.46], rel=1e-4
    )
    half = 2 * 1.7765 / 0.6 * (1 - math.sqrt(0.5))
    for one in pair.vessels:
        assert one.half_time == pytest.approx(half, rel=1e-4)
        assert one.half_time_cooling == pytest.approx(half / 1.4, rel=1e-4)
    assert "134 cm²." in pair.sentence()


# ---- limits and invariants -----------------------------------------------------------------------


@pytest.mark.parametrize("kind", HOLE_KINDS)
def test_an_opening_is_made_and_read_back(kind):
    made = make_opening(kind, **SIZES[kind], name="mine")
    again, sizes = hole_sizes(made)
    assert again == kind
    assert {name: sizes[name] for name in SIZES[kind]} == pytest.approx(SIZES[kind])
    assert make_opening(again, **sizes).flow(50.0) == pytest.approx(made.flow(50.0), rel=1e-12)
    assert made.name == "mine"


def test_every_ready_opening_can_be_taken_apart():
    for entry in ready_openings():
        kind, sizes = hole_sizes(entry.opening)
        again = make_opening(kind, **sizes)
        assert again.flow(50.0) == pytest.approx(entry.opening.flow(50.0), rel=1e-12)
        assert again.name == entry.name


def test_adding_changing_and_removing_make_new_sets():
    one = HoleSet(ROUND)
    two = one.add(Hole(SLOT))
    assert len(one.holes) == 1 and two.holes[0] is one.holes[0]
    assert two.remove(1) == one
    moved = two.change(0, hole_mode="free")
    assert moved.hole_modes == ("free", "rigid") and two.hole_modes == ("rigid", "rigid")
    assert hash(moved) != hash(two)


MODES = st.sampled_from(HOLE_MODES)
HOLES = st.builds(
    Hole, st.builds(RoundHole, st.floats(2e-4, 6e-3)), MODES,
    st.one_of(st.none(), st.builds(RoundHole, st.floats(2e-4, 6e-3))),
)  # fmt: skip


@settings(max_examples=30, deadline=None)
@given(st.lists(HOLES, min_size=1, max_size=4), HOLES, st.randoms())
def test_order_does_not_matter_and_one_more_hole_never_slows(holes, more, chance):
    base = drain(Balloon(), HoleSet(holes), frames=2)
    shuffled = holes[:]
    chance.shuffle(shuffled)
    assert drain(Balloon(), HoleSet(shuffled), frames=2).half_time == pytest.approx(
        base.half_time, rel=1e-9
    )
    assert drain(Balloon(), HoleSet(holes).add(more), frames=2).half_time <= base.half_time
    whole = Parallel(HoleSet(holes).openings).flow(50.0)
    assert HoleSet(holes).flow(50.0) == pytest.approx(whole, rel=1e-12)


@settings(max_examples=30, deadline=None)
@given(st.floats(1e-3, 1e4), st.floats(1.01, 100.0), st.floats(1e-6, 1e-2))
def test_the_rate_falls_as_the_volume_grows(volume, times, diameter):
    holes = HoleSet((RoundHole(diameter), Crack(0.01, mm(0.2), mm(20))))
    small, large = side_by_side({"a": volume, "b": times * volume}, holes).vessels
    assert small.air_change_rate == pytest.approx(times * large.air_change_rate, rel=1e-9)
    assert large.half_time == pytest.approx(times * small.half_time, rel=1e-9)
    assert small.half_time == pytest.approx(
        drain(SealedVessel(volume), holes, frames=2).half_time, rel=1e-6
    )
    assert small.air_change_rate == pytest.approx(ach(small.flow, volume))


def test_sentences_in_both_unit_systems():
    pair = side_by_side(VOLUMES, HoleSet(RoundHole.from_area(cm2(1))))
    assert "201 air changes per hour at 50 Pa in the jar" in pair.sentence()
    assert "cfm" in pair.sentence("us") and "m³" not in pair.sentence("us")
    assert "in²" in side_by_side(VOLUMES, ach50=0.6).sentence("us")
    assert "in²" in KIT.sentence("us") and KIT.sentence().startswith("3 holes together: ")


# ---- the bench table -----------------------------------------------------------------------------


def rows(**columns):
    names = [column.name for column in BENCH.columns]
    return [
        dict.fromkeys(names) | dict(zip(columns, values))
        for values in zip(*columns.values(), strict=True)
    ]


@pytest.mark.parametrize(
    ("column", "values", "quantity", "si"),
    [
        ("circumference_cm", (88, 80), "circumference", (0.88, 0.80)),
        ("diameter_cm", (28, 25), "diameter", (0.28, 0.25)),
        ("volume_l", (11.7, 9), "volume", (0.0117, 0.009)),
        ("pressure_pa", (400, 250), "pressure", (400, 250)),
    ],
)
def test_bench_table_is_read_into_si(column, values, quantity, si):
    assert quantity in BENCH_QUANTITIES
    times, readings, found = bench_readings(rows(time_s=(0.0, 10.0), **{column: values}))
    assert (times, found) == ((0.0, 10.0), quantity)
    assert readings == pytest.approx(si)


# ---- refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("work", "said"),
    [
        (lambda: HoleSet(("hole",)), "'hole' is not a hole"),
        (lambda: Hole(3.0), "3.0 is not an opening"),
        (lambda: Hole(ROUND, "glued"), "Hole mode is 'glued'"),
        (lambda: HoleSet(ROUND).remove(1), "There is no hole 2. There are 1"),
        (lambda: HoleSet().change(0, hole_mode="free"), "There is no hole 1"),
        (lambda: make_opening("square hole"), "Choose one of"),
        (lambda: make_opening("slot", diameter=1.0), "A slot has no diameter"),
        (lambda: make_opening("round hole", diameter=-1.0), "must be above zero"),
        (lambda: make_opening("porous patch", material_leakage=0.0, area=1.0), "Material leakage"),
        (lambda: hole_sizes(Parallel((ROUND, ROUND))), "several openings"),
        (lambda: side_by_side(VOLUMES), "Give either"),
        (lambda: side_by_side(VOLUMES, HoleSet(ROUND), 0.6), "Give either"),
        (lambda: side_by_side(VOLUMES, HoleSet()), "There is no hole"),
        (lambda: side_by_side({"shed": 0.0}, ach50=1.0), "Volume of the shed is 0 m³"),
        (lambda: side_by_side(VOLUMES, ach50=-1.0), "Air change rate"),
        (lambda: bench_readings(rows(time_s=(0.0, 1.0))), "no readings yet"),
        (lambda: bench_readings(rows(time_s=(0.0,), diameter_cm=(9,), pressure_pa=(9,))),
         "diameter_cm and pressure_pa"),
        (lambda: bench_readings(rows(time_s=(0.0, 30.0), diameter_cm=(28, None))),
         "missing in reading 2, at 30 s"),
    ],
)  # fmt: skip
def test_refused(work, said):
    with pytest.raises(InputError, match=said):
        work()


def test_a_hole_larger_than_the_vessel_is_refused_by_its_name():
    holes = HoleSet(RoundHole.from_area(cm2(700)))
    with pytest.raises(InputError, match="This balloon takes up to"):
        drain(Balloon(), holes)
    with pytest.raises(InputError, match="This jar takes up to"):
        drain(FanHeldVolume(0.01, name="jar"), holes)


def test_sentences_name_the_vessel_they_are_about():
    """Spare air of 300 m3 at 50 Pa: 148.04 L, V p / P0 (derived), as the exercises count it."""
    leak = make_opening("leak by its numbers", leakage_flow=m3_per_h(900))
    house = drain(SealedVessel(300.0, name="house"), leak).sentence()
    assert house.startswith("The pressure in the house falls from 50 Pa to half in")
    assert "Only 148 L of 300 m³ have to leave" in house
    jar = drain(FanHeldVolume(0.01, 2500.0, name="jar"), RoundHole(mm(2.5)))
    assert "fill the jar once" in jar.sentence() and "house" not in jar.sentence()
    assert jar.flat_definition.endswith("as the jar holds")
    assert "fill the house once" in drain(FanHeldVolume(300.0), leak).sentence()


# ---- the fan stops; old air ----------------------------------------------------------------------


def test_fan_stop_known_answers():
    """500 m3, 3 air changes at 50 Pa, n 0.65: half in 0.36446 s, or 0.26033 s if the air cools; one
    air change takes 3293 times as long (closed forms, derived)."""
    stop = fan_stop(500.0, make_opening("leak by its numbers", leakage_flow=m3_per_h(1500)))
    assert stop.fan_off.half_time == pytest.approx(0.36446, rel=1e-4)
    assert stop.cooling.half_time == pytest.approx(0.26033, rel=1e-4)
    assert stop.ratio == pytest.approx(1200 / 0.36446, rel=1e-4)
    assert stop.stiff is None
    assert "247 L of 500 m³" in stop.sentence() and "so a fan must hold it" in stop.sentence()


def test_fan_stop_with_loose_film():
    """200 m2 bulging 5 mm at 50 Pa store 1.0 m3, four times the 0.247 m3 of squeezed air: the fall
    takes 5.05 times as long (derived)."""
    leak = make_opening("leak by its numbers", leakage_flow=m3_per_h(1500))
    loose = fan_stop(500.0, leak, film=200.0)
    assert loose.fan_off.half_time / loose.stiff.half_time == pytest.approx(
        1 + 1 / 0.246731, rel=1e-4
    )
    assert "Without the loose film" in loose.sentence()


def test_fan_stop_says_what_cannot_be_and_what_takes_long():
    assert fan_stop(300.0, HoleSet()).sentence().startswith("No holes")
    assert fan_stop(300.0, HoleSet()).half_words() == "never"
    tiny = fan_stop(300.0, RoundHole(mm(2.5)))
    assert tiny.half_words() == "37 min 42 s to 52 min 47 s"
    assert "must hold" not in tiny.sentence()
    assert "cfm" in tiny.sentence("us") and "ft³" in tiny.sentence("us")


def test_old_air_known_answers():
    """Mixed: 36.8 % after one air change, 13.5 % after two; pushed out: none (CDC 2003, B.1, read)."""
    assert old_air(2.0, 1800.0).mixed_now == pytest.approx(0.3679, rel=1e-3)
    assert old_air(2.0, 3600.0).mixed_now == pytest.approx(0.1353, rel=1e-3)
    assert old_air(2.0, 3600.0).pushed_now == 0.0
    assert old_air(2.0, 900.0).changes == pytest.approx(0.5)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.05, 50.0), st.floats(0.0, 1e5))
def test_mixing_never_clears_faster_than_pushing_out(rate, at):
    record = old_air(rate, at)
    # exp(-x) and 1 - x differ by x²/2: below a few 1e-8 they are one number to round-off
    assert record.mixed_now >= record.pushed_now - 1e-15
    assert record.pushed_now >= 0.0
    assert (record.mixed >= record.pushed).all()
    assert record.mixed[-1] == pytest.approx(math.exp(-3.0))
