"""Bench, race, ready openings, everyday pressure."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airlab.physics import (
    HOLE_MODES,
    Balloon,
    FanHeldVolume,
    RoundHole,
    SealedVessel,
    drain,
    fit_bench,
    race,
    ready_openings,
)
from airlab.words import InputError, from_si, mm

HOLE = RoundHole(mm(2))


def readings(mode="rigid", factor=1.0, noise=0.0, rows=12, seed=1):
    """Return invented readings round the waist of the default balloon, and their times."""
    record = drain(Balloon(hole_mode=mode), HOLE, frames=rows)
    jitter = np.random.default_rng(seed).normal(0.0, noise, rows) * record.time_to_flat
    jitter[0] = 0.0
    return np.sort(factor * record.time + jitter), math.pi * record.diameter


# ---- known answers -------------------------------------------------------------------------------

# Flow at 50 Pa of a starter set, worked out elsewhere with 0.61, 1.204 kg/m3 and 1.825e-5 Pa.s.
STARTERS = {
    "open ventilation duct": 246, "open soil stub": 190, "open fan duct": 157, "socket box cut-out": 73,
    "open waste pipe": 25, "cable hole": 1.6, "slot under a door": 66, "sash hairline": 2.0,
    "untaped sole plate": 7.6, "sole plate on a rough slab": 36, "film fold missed by tape": 4.0,
    "letter plate": 100, "sash joint, class 2": 4.3, "missed screw": 0.57, "nail or staple tear": 0.14,
}  # fmt: skip


def test_ready_openings():
    flows = {
        entry.name: from_si(float(entry.opening.flow(50.0)), "m3/h") for entry in ready_openings()
    }
    for name, expected in STARTERS.items():
        assert flows[name] == pytest.approx(expected, rel=0.025), name
    assert list(flows.values()) == sorted(flows.values())
    assert set(flows) - set(STARTERS) == {"pin prick"}
    assert len({entry.key for entry in ready_openings()}) == len(flows)
    assert not any(entry.opening.warnings for entry in ready_openings())


@pytest.mark.parametrize("mode", HOLE_MODES)
def test_the_constant_and_the_kind_of_hole_come_back(mode):
    time, waist = readings(mode, 1.13)
    fit = fit_bench(Balloon(hole_mode=mode), HOLE, time, waist)
    assert fit.time_factor == pytest.approx(1.13, rel=2e-4)
    assert fit.flow_factor == pytest.approx(1.0 / 1.13, rel=2e-4)
    assert fit.best_mode == mode and fit.left_over < 1e-3
    assert "The shape is the computed one" in fit.sentence()
    assert not [text for text in fit.warnings if "15 %" in text]


def test_a_wrong_kind_of_hole_is_told_by_the_shape():
    time, waist = readings("moves with rubber", 1.0, noise=0.01)
    fit = fit_bench(Balloon(), HOLE, time, waist)
    assert fit.best_mode == "moves with rubber"
    assert "'moves with rubber'" in fit.sentence()
    assert fit.left_over > 0.03


def test_volume_is_nearly_straight_for_a_rigid_hole_and_radius_for_one_that_moves():
    """Bench rule: with a capped hole volume against time is nearly straight, with a hole that follows
    the rubber the radius is."""
    rigid, moves = (drain(Balloon(hole_mode=mode), HOLE) for mode in HOLE_MODES[:2])

    def bend(record, values):
        line = np.polynomial.Polynomial.fit(record.time, values, 1)(record.time)
        return np.max(np.abs(values - line)) / np.ptp(values)

    assert bend(rigid, rigid.volume) < 0.04 < bend(moves, moves.volume)
    assert bend(moves, moves.diameter) < 0.10 < bend(rigid, rigid.diameter)


def test_a_jar_by_its_pressure():
    vessel = SealedVessel(0.0188, 400.0)
    record = drain(vessel, RoundHole(mm(0.5)), frames=9)
    fit = fit_bench(
        vessel, RoundHole(mm(0.5)), 0.72 * record.time, record.pressure_difference, "pressure"
    )
    assert fit.time_factor == pytest.approx(0.72, rel=1e-3)
    assert fit.best_mode is None and any("15 %" in text for text in fit.warnings)


def test_the_first_reading_sets_the_start():
    time, waist = readings()
    late = fit_bench(Balloon(6.0), HOLE, time[3:] + 100.0, waist[3:])
    assert late.time_factor == pytest.approx(1.0, rel=2e-4)
    assert late.residual == pytest.approx(np.zeros(9), abs=0.05)


# ---- race ----------------------------------------------------------------------------------------


def test_race():
    slow, fast = drain(Balloon(), HOLE), drain(Balloon(), RoundHole(mm(4)))
    pair = race(slow, fast)
    assert pair.winner == "second" and pair.factor == pytest.approx(0.25)
    assert "The first takes 4 times as long" in pair.sentence()
    assert race(fast, slow).winner == "first"
    assert race(slow, slow).winner == "neither" and "Neither" in race(slow, slow).sentence()
    sealed = drain(Balloon(), ())
    assert race(slow, sealed).winner == "first" and "for ever" in race(slow, sealed).sentence()
    assert race(sealed, slow).winner == "second"
    assert race(sealed, drain(FanHeldVolume(1.0), ())).winner == "neither"


# ---- invariants ----------------------------------------------------------------------------------


@settings(max_examples=25, deadline=None)
@given(st.floats(0.5, 2.0), st.floats(0.5, 20.0))
def test_stretching_the_clock_stretches_the_constant(factor, stretch):
    time, waist = readings("rigid", factor, noise=0.003)
    one, more = (fit_bench(Balloon(), HOLE, k * time, waist) for k in (1.0, stretch))
    assert more.time_factor == pytest.approx(stretch * one.time_factor, rel=1e-9)
    assert more.left_over == pytest.approx(one.left_over, rel=1e-6)


# ---- refused -------------------------------------------------------------------------------------

TIME, WAIST = readings()


@pytest.mark.parametrize(
    ("time", "measured", "said"),
    [
        (TIME[:3], WAIST[:3], "four rows or more"),
        (TIME, WAIST[:-1], "four rows or more"),
        (np.where(np.arange(12) == 4, np.nan, TIME), WAIST, "Time is missing in row 5"),
        (TIME, np.where(np.arange(12) == 6, np.nan, WAIST), "Reading is missing in row 7"),
        (np.where(np.arange(12) == 5, TIME[3], TIME), WAIST, "backwards or stands still in row 6"),
        (WAIST, TIME, "look swapped"),
        (TIME, WAIST[::-1], "does not fall"),
        (TIME, 0.1 * WAIST, "Stretch"),
        (TIME, np.append(WAIST[:-1], 0.15), "row 12 is below the slack balloon"),
        (["0", "1", "two", "3"], WAIST[:4], "numbers only"),
    ],
)  # fmt: skip
def test_refused(time, measured, said):
    with pytest.raises(InputError, match=said):
        fit_bench(Balloon(), HOLE, time, measured)


def test_refused_pairings():
    with pytest.raises(InputError, match="sealed vessel by pressure"):
        fit_bench(Balloon(), HOLE, TIME, WAIST, "pressure")
    with pytest.raises(InputError, match="Choose one of"):
        fit_bench(Balloon(), HOLE, TIME, WAIST, "weight")
    with pytest.raises(InputError, match="no hole"):
        fit_bench(Balloon(), (), TIME, WAIST)
