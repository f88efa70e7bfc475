"""Vessels and their drain: closed forms, an independent high-precision integral, and an ODE solver."""

import math

import mpmath
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import simpson, solve_ivp
from scipy.special import wrightomega

from airlab.physics import (
    HOLE_MODES,
    SHARP_EDGE,
    STIFFENING_WITHOUT_HUMP,
    Air,
    Balloon,
    Crack,
    FanHeldVolume,
    PorousPatch,
    PowerLawLeak,
    RoundHole,
    SealedVessel,
    Series,
    Slot,
    air_change_rate_of_hole,
    carried_to_50,
    drain,
    free_hole_stretch,
    hole_area_for_ach50,
    mixing_time,
    pressure_decay_time,
    pressure_half_time,
    refills_per_hour,
    remaining_old_air,
    rubber_hump,
    spare_air,
)
from airlab.words import InputError, cm2, from_si, m3_per_h, mm, to_si

ATMOSPHERE = 101325.0
AIR = Air(1.2, 1.81e-5)


def rubber_pressure(stretch, stiffness, stiffening=0.10):
    """The two-constant law as Müller and Strehlow (2004) print it: oracle of the rewritten form."""
    return stiffness * (1.0 / stretch - stretch**-7.0) * (1.0 + stiffening * stretch**2)


# ---- rubber: known answers -----------------------------------------------------------------------


def test_peak_of_one_constant_rubber():
    """Merritt and Weinhaus (1978): peak at the sixth root of 7, 38 % (read); 0.619731 closed form."""
    peak, trough = rubber_hump(0.0)
    assert peak == pytest.approx(7.0 ** (1.0 / 6.0), rel=1e-12)
    assert peak == pytest.approx(1.383088, abs=5e-7) and trough is None
    assert rubber_pressure(peak, 1.0, 0.0) == pytest.approx(0.619731, abs=5e-7)


# Peak and trough of the two-constant law, worked out elsewhere: stiffening, stretch, pressure ratio.
HUMPS = [
    (0.05, 1.4245, 0.68069, 4.469, 0.44716), (0.10, 1.4761, 0.74531, 3.143, 0.63181),
    (0.15, 1.5473, 0.81437, 2.522, 0.77180),
]  # fmt: skip


@pytest.mark.parametrize(("stiffening", "peak", "top", "trough", "dip"), HUMPS)
def test_hump(stiffening, peak, top, trough, dip):
    found = rubber_hump(stiffening)
    assert found == pytest.approx((peak, trough), abs=6e-4)
    assert rubber_pressure(np.array(found), 1.0, stiffening) == pytest.approx(
        np.array([top, dip]), abs=6e-6
    )


def test_hump_vanishes():
    """Root of the two conditions, worked out elsewhere: 0.214458."""
    assert STIFFENING_WITHOUT_HUMP == 0.214458
    assert rubber_hump(0.21445)[0] is not None
    assert rubber_hump(0.21447) == (None, None)


def test_default_balloon():
    """3 bar, 0.2 mm, 32 mm (constants from memory): 3750 Pa; 28 cm, 11.7 L, 2.50 kPa worked out elsewhere."""
    balloon = Balloon()
    assert balloon.stiffness == pytest.approx(2.0 * 3e5 * 2e-4 / 0.032)
    assert balloon.diameter == pytest.approx(0.28, abs=0.005)
    assert balloon.volume * 1000 == pytest.approx(11.7, abs=0.05)
    assert balloon.pressure_difference == pytest.approx(2502, abs=0.5)
    assert [rubber_pressure(x, 3750.0) for x in rubber_hump()] == pytest.approx([2790, 2370], abs=6)
    assert balloon.pressure_difference == pytest.approx(rubber_pressure(4.4, 3750.0), rel=1e-13)


def test_balloon_by_size():
    assert Balloon.from_diameter(0.2816).stretch == pytest.approx(4.4)


# Stretch of a free hole in one-constant rubber, from the large-strain solution, worked out elsewhere.
HOLE_STRETCH = {1.01: 1.0401, 1.05: 1.2022, 1.1: 1.4037, 1.2: 1.7845, 1.38: 2.3719, 1.5: 2.7074,
                2: 3.8847, 2.5: 4.9397, 3: 5.9629, 4: 7.9815, 5: 9.9889}  # fmt: skip


def _far_stretch(rim):
    """Solve the sheet from the rim outwards: dλθ/ds = λr - λθ, d(R S_r)/ds = R S_θ, with s = ln R."""

    def radial(s_r, around):  # invert S_r = x - 1/(x**3 around**2)
        low, high = 1e-3, 50.0
        for _ in range(80):
            middle = 0.5 * (low + high)
            low, high = (
                (middle, high) if middle - 1.0 / (middle**3 * around**2) < s_r else (low, middle)
            )
        return 0.5 * (low + high)

    def slope(_, state):
        around, s_r = state
        x = radial(s_r, around)
        return [x - around, (around - 1.0 / (around**3 * x**2)) - s_r]

    end = solve_ivp(slope, (0.0, math.log(200.0)), [rim, 0.0], rtol=1e-8, atol=1e-10)
    assert end.success and np.all(np.isfinite(end.y))
    return end.y[0, -1]


@pytest.mark.parametrize("stretch", [1.1, 2, 4])
def test_hole_stretch_table_is_the_large_strain_solution(stretch):
    """Plane-stress equilibrium of a neo-Hookean sheet with a stress-free rim, solved here."""
    assert _far_stretch(HOLE_STRETCH[stretch]) == pytest.approx(stretch, rel=5e-4)


@pytest.mark.parametrize("stretch", list(HOLE_STRETCH))
def test_fit_of_the_hole_stretch(stretch):
    """Within 3.3 % everywhere, 1 % from 1.3 on, 0.4 % from 1.4 on."""
    limit = 0.004 if stretch >= 1.4 else 0.01 if stretch >= 1.3 else 0.033
    assert free_hole_stretch(stretch) == pytest.approx(HOLE_STRETCH[stretch], rel=limit)


def test_limits_of_the_hole_stretch():
    """Twice the far stretch: Math. Mech. Solids 2024, abstract (read). Slack: 1, with slope 5 for
    the fit where small-strain elasticity gives 4."""
    assert free_hole_stretch(1.0) == 1.0
    assert free_hole_stretch(4.0) / 4.0 == pytest.approx(2.0, rel=3e-3)
    assert HOLE_STRETCH[4] / 4 == pytest.approx(1.9954, abs=5e-5)
    with pytest.raises(InputError, match="1 or more"):
        free_hole_stretch(0.9)


# ---- balloon: known answers ----------------------------------------------------------------------

# Default balloon with a rigid sharp hole, worked out elsewhere: mm, time to flat s, refills per hour.
DRAIN_TIMES = [
    (0.3, 70 * 60, 0.85), (0.5, 25 * 60, 2.4), (1.0, 379, 9.5), (2.0, 95, 38), (2.51, 60, 60),
    (5.0, 15.2, 237), (8.0, 5.9, 610), (10.0, 3.8, 950),
]  # fmt: skip


@pytest.mark.parametrize(("diameter", "time", "refills"), DRAIN_TIMES)
def test_drain_times(diameter, time, refills):
    """Slack is 0.13 % of the way on from 1 % above slack; the rest is the rounding of the table."""
    record = drain(Balloon(), RoundHole(mm(diameter)))
    assert record.time_to_flat == pytest.approx(time, rel=0.017)
    assert record.refills_per_hour == pytest.approx(refills, rel=0.017)


# Start over mean flow, counted to the slack size: stretch, share expelled, rigid hole, hole that
# moves with the rubber, free hole, rigid hole without stiffening. Worked out elsewhere.
PHI = [
    (2, 0.875, 0.912, 1.672, 2.681, 0.863), (3, 0.963, 0.954, 2.053, 2.804, 0.861),
    (4, 0.984, 0.991, 2.318, 2.910, 0.859), (4.4, 0.988, 1.005, 2.410, 2.958, 0.858),
    (5, 0.992, 1.024, 2.537, 3.034, 0.858),
]  # fmt: skip


@pytest.mark.parametrize(("stretch", "expelled", "rigid", "moves", "free", "soft"), PHI)
def test_start_over_mean(stretch, expelled, rigid, moves, free, soft):
    """A stiff rubber keeps the hole's law off its straight part; the ratio does not depend on it.

    The last 1e-4 above slack is added as its closed form 2 x/Q, flow going with the root of x.
    """

    def to_slack(stiffening, mode):
        balloon = Balloon(stretch, stiffness=1e5, stiffening=stiffening, hole_mode=mode)
        record = drain(balloon, RoundHole(1e-3), flat=1e-4)
        rest = 2.0 * 1e-4 * balloon.unstretched_volume / record.flow[-1]
        return record.phi * (1.0 + rest / record.time_to_flat)

    for mode, phi in zip(HOLE_MODES, (rigid, moves, free)):
        assert to_slack(0.1, mode) == pytest.approx(phi, abs=5.1e-4)
    assert to_slack(0.0, "rigid") == pytest.approx(soft, abs=5.1e-4)
    assert Balloon(stretch).spare / Balloon(stretch).volume == pytest.approx(expelled, abs=6e-4)


def test_chain_to_fifty_pascal():
    """60 x 1.005 x (50/2502)**0.5 = 8.53; with n = 0.65 the factor is 0.0786 and the end 4.7."""
    assert carried_to_50(60.0, 1.005, 2502.0) == pytest.approx(8.53, abs=0.01)
    assert carried_to_50(60.0, 1.005, 2502.0, 0.65) == pytest.approx(4.7, abs=0.05)
    area = 1e-5 * drain(Balloon(), RoundHole.from_area(1e-5)).time_to_flat / 60.0
    record = drain(Balloon(), RoundHole.from_area(area))
    assert record.refills_per_hour == pytest.approx(60.0, rel=1e-12)
    assert math.prod(record.chips) == pytest.approx(record.air_change_rate_at_50, rel=1e-12)
    assert record.air_change_rate_at_50 == pytest.approx(8.53, abs=0.02)
    assert record.flow_exponent == pytest.approx(0.5)


def test_drains_in_a_minute_is_sixty_an_hour():
    """Common practice in class, no source; exact for the mean flow, whatever the flow law."""
    assert refills_per_hour(60.0) == pytest.approx(60.0)
    mix = (RoundHole(1e-3), Crack(0.01, mm(0.2), mm(2)), PorousPatch(1e-9, 0.01))
    record = drain(Balloon(), mix, frames=4001)
    mean = simpson(record.flow, x=record.time) / record.time_to_flat
    share = record.expelled / record.volume[0]
    assert from_si(mean / record.volume[0], "1/h") == pytest.approx(
        record.refills_per_hour * share, rel=1e-9
    )
    assert record.phi == pytest.approx(record.flow_at_start / mean * share, rel=1e-9)


# ---- sealed vessel: known answers ----------------------------------------------------------------

# 300 m3, 3 air changes per hour at 50 Pa; isothermal and adiabatic seconds. Worked out elsewhere and
# confirmed there by an ODE solver to 1e-9.
DECAY = [
    (0.5, 0.34687576, 0.24776840, 0.84933506, 0.60666790, 1.184308, 0.845934),
    (0.65, 0.36445537, 0.26032526, 0.99291527, 0.70922519, 1.691868, 1.208477),
    (0.8, 0.38326998, 0.27376427, 1.17418909, 0.83870650, 2.960770, 2.114836),
    (1.0, 0.41044985, 0.29317846, 1.49562022, 1.06830016, math.inf, math.inf),
]  # fmt: skip


@pytest.mark.parametrize("row", DECAY, ids=lambda row: f"n={row[0]}")
def test_decay_table(row):
    n, times = row[0], row[1:]
    leak = PowerLawLeak.from_flow(m3_per_h(900.0), 50.0, n)
    for kappa, half, to_4, end in ((1.0, *times[0::2]), (1.4, *times[1::2])):
        record = drain(SealedVessel(300.0, kappa=kappa), leak, flat=4.0 / 50.0)
        assert record.half_time == pytest.approx(half, abs=6e-9)
        assert record.time_to_flat == pytest.approx(to_4, abs=6e-9)
        assert pressure_decay_time(3.0, n, end=4.0, kappa=kappa) == pytest.approx(to_4, abs=6e-9)
        assert pressure_half_time(3.0, n, kappa) == pytest.approx(half, abs=6e-9)
        assert pressure_decay_time(3.0, n, end=0.0, kappa=kappa) == pytest.approx(end, abs=6e-7)


def test_tight_house_to_four_pascal():
    """0.6 air changes per hour, n = 0.65: 4.96457635 and 3.54612597 s, worked out elsewhere."""
    assert pressure_decay_time(0.6, end=4.0) == pytest.approx(4.96457635, abs=6e-9)
    assert pressure_decay_time(0.6, end=4.0, kappa=1.4) == pytest.approx(3.54612597, abs=6e-9)


# Half, a tenth and extinction from 50 Pa for n = 0.65, isothermal and adiabatic, worked out elsewhere.
HOUSE_TIMES = [
    (0.6, 1.82, 1.30, 4.68, 3.34, 8.46, 6.04), (1.0, 1.09, 0.78, 2.81, 2.01, 5.08, 3.63),
    (1.5, 0.73, 0.52, 1.87, 1.34, 3.38, 2.42), (3.0, 0.364, 0.260, 0.936, 0.669, 1.69, 1.21),
    (5.0, 0.219, 0.156, 0.562, 0.401, 1.02, 0.73), (10.0, 0.109, 0.078, 0.281, 0.201, 0.51, 0.36),
]  # fmt: skip


@pytest.mark.parametrize("row", HOUSE_TIMES, ids=lambda row: f"ACH50={row[0]}")
def test_house_times(row):
    ach, times = row[0], row[1:]
    ends = ((25.0, 0), (5.0, 2), (0.0, 4))
    for end, at in ends:
        for k, kappa in enumerate((1.0, 1.4)):
            found = pressure_decay_time(ach, 0.65, end=end, kappa=kappa)
            assert found == pytest.approx(times[at + k], rel=0.005, abs=0.0051)


def test_half_time_rule():
    """About 1.1 s over ACH50 isothermal, 0.8 s adiabatic, n = 0.65."""
    assert pressure_half_time(1.0) == pytest.approx(1.1, abs=0.01)
    assert pressure_half_time(1.0, kappa=1.4) == pytest.approx(0.8, abs=0.02)


def test_torricelli():
    """Classic result: a tank with a hole drains in twice the time of its first flow."""
    tau = pressure_decay_time(3.0, 1.0, end=50.0 / math.e)  # the time constant at the start
    assert pressure_decay_time(3.0, 0.5, end=0.0) / tau == pytest.approx(2.0, rel=1e-12)
    assert pressure_decay_time(3.0, 0.65, end=0.0) / tau == pytest.approx(1.0 / 0.35, rel=1e-12)


@pytest.mark.parametrize("n", [0.5, 0.65, 0.9])
def test_start_over_mean_in_a_jar(n):
    """Φ = 1/(1-n), less what is left when it counts as flat: (1 - f**(1-n))/(1-n)."""
    record = drain(SealedVessel(0.01, 5e4), PowerLawLeak(1e-6, n), flat=1e-5)
    assert record.phi == pytest.approx((1.0 - 1e-5 ** (1.0 - n)) / (1.0 - n), rel=1e-9)


def test_two_term_decay():
    """Closed form with the Wright omega function, and its inverse, for a hole with creeping flow."""
    vessel, crack = SealedVessel(0.01), Crack(0.02, mm(0.2), mm(3))
    law = crack.law(AIR)
    storage = 0.01 / ATMOSPHERE
    q0, q1 = law.flow(50.0), law.flow(0.5)
    expected = storage * (law.creeping * math.log(q0 / q1) + 2.0 * law.inertia * (q0 - q1))
    record = drain(vessel, crack)
    assert record.time_to_flat == pytest.approx(expected, rel=1e-11)
    z = 2.0 * law.inertia * q0 / law.creeping
    omega = wrightomega(math.log(z) + z - record.time / (law.creeping * storage))
    assert record.flow == pytest.approx(law.creeping / (2.0 * law.inertia) * omega.real, rel=1e-9)


def test_spare_air():
    """Closed form V p/P: 246.731 L of 500 m3, 4.9346 mL of 10 L; 176 L adiabatic; 0.493 L per m3."""
    assert from_si(spare_air(500.0), "L") == pytest.approx(246.731, abs=5e-4)
    assert from_si(spare_air(to_si(10.0, "L")), "mL") == pytest.approx(4.9346, abs=5e-5)
    assert from_si(spare_air(500.0, kappa=1.4), "L") == pytest.approx(176.2, abs=0.05)
    assert from_si(spare_air(1.0), "L") == pytest.approx(0.493, abs=5e-4)
    assert SealedVessel(500.0).spare == pytest.approx(spare_air(500.0), rel=1e-14)


def test_bulging_film_stores_more_than_the_air():
    """200 m2 bulging 5 mm at 50 Pa: 1.0 m3, four times the air of 500 m3; decay about 5x slower."""
    loose = 200.0 * mm(5) / 50.0
    leak = PowerLawLeak.from_flow(m3_per_h(1500.0))
    stiff = drain(SealedVessel(500.0), leak)
    film = drain(SealedVessel(500.0, skin_compliance=loose), leak)
    assert film.half_time / stiff.half_time == pytest.approx(5.05, abs=0.02)
    assert pressure_decay_time(3.0 / (1.0 + 1.0 / 0.246731), end=25.0) == pytest.approx(
        film.half_time, rel=1e-6
    )


# ---- fan and bridge: known answers ---------------------------------------------------------------


def test_fan_held_house():
    """3 air changes per hour: a house-volume every 20 minutes; pressure alone would halve in 0.36 s."""
    leak = PowerLawLeak.from_flow(m3_per_h(900.0))
    record = drain(FanHeldVolume(300.0), leak)
    assert record.time_to_flat == pytest.approx(1200.0)
    assert record.refills_per_hour == pytest.approx(3.0)
    assert record.air_change_rate_at_50 == pytest.approx(3.0) and record.phi == pytest.approx(1.0)
    assert record.time_to_5_pa is None
    assert 1200.0 / pressure_half_time(3.0) == pytest.approx(3300, rel=0.005)
    assert record.volume[-1] == pytest.approx(0.0, abs=1e-12)


def test_rules_of_thumb():
    """Closed forms: 0.498 cm2 per m3 and ACH50; lookup 0.30 ... 4.98; 134, 336, 672 cm2 in 450 m3."""
    assert from_si(hole_area_for_ach50(1.0, 1.0), "cm2") == pytest.approx(0.498, abs=5e-4)
    table = {0.6: 0.30, 1.0: 0.50, 1.5: 0.75, 3.0: 1.49, 10.0: 4.98}
    for rate, area in table.items():
        assert from_si(hole_area_for_ach50(rate, 1.0), "cm2") == pytest.approx(area, abs=0.0051)
    found = from_si(hole_area_for_ach50(np.array([0.6, 1.5, 3.0]), 450.0), "cm2")
    assert found == pytest.approx(np.array([134.0, 336.0, 672.0]), abs=0.6)
    assert air_change_rate_of_hole(cm2(300), np.array([500.0, 1000.0])) == pytest.approx(
        np.array([1.20, 0.60]), abs=0.005
    )


def test_equal_rate_needs_area_in_step_with_volume():
    """1 mm2 in an 11.7 L balloon is 427 cm2 in a 500 m3 house, closed form."""
    rate = air_change_rate_of_hole(mm(1.0) * mm(1.0), to_si(11.7, "L"))
    assert from_si(hole_area_for_ach50(rate, 500.0), "cm2") == pytest.approx(427.0, abs=0.5)


def test_old_air():
    """Perfect mixing: 99 % gone at 2 per hour in 138 min, 90 % at 1 in 138, 99.9 % at 12 in 35 (CDC
    2003 table B.1 and MMWR 1994 table S3-1, read); 36.8 % left after one air change."""
    found = from_si(mixing_time(np.array([2.0, 1.0, 12.0]), np.array([0.01, 0.1, 0.001])), "min")
    assert found == pytest.approx(np.array([138.0, 138.0, 35.0]), abs=0.5)
    assert remaining_old_air(3.0, 1200.0) == pytest.approx(0.368, abs=5e-4)
    left = remaining_old_air(np.array([1.0, 2.0]), 3600.0)
    assert mixing_time(np.array([1.0, 2.0]), left) == pytest.approx(np.array([3600.0, 3600.0]))


# Exercises of the workbook, answers by arithmetic (1.2 kg/m3, 0.611, 101 325 Pa), within 2 %.
def test_exercise_answers():
    small, large = (drain(Balloon(), RoundHole(mm(d))).time_to_flat for d in (2.5, 5.0))
    assert small / large == pytest.approx(4.0, rel=1e-9)
    assert from_si(spare_air(500.0), "L") == pytest.approx(247.0, rel=0.02)
    assert from_si(hole_area_for_ach50(0.6, 450.0), "cm2") == pytest.approx(134.0, rel=0.02)
    assert carried_to_50(60.0, 1.0, 2400.0) == pytest.approx(8.66, rel=0.02)
    assert pressure_half_time(3.0) == pytest.approx(0.364, rel=0.02)


# ---- an independent integral ---------------------------------------------------------------------


def _mp_flow(kind, p, scale):
    """Flow of four simple holes, written out again in 30 digits; `scale` multiplies the area."""
    mp = mpmath.mpf
    rho, mu, cd = mp("1.2"), mp("1.81e-5"), mpmath.pi / (mpmath.pi + 2)
    if kind == "hole":  # 1 mm, constant coefficient
        return cd * mpmath.pi / 4 * mp("1e-6") * scale * mpmath.sqrt(2 * p / rho)
    if kind == "two-term":  # 0.6 mm, creeping part
        d = mp("6e-4") * mpmath.sqrt(scale)
        a = 24 * mu / d**3
        b = rho / (2 * (cd * mpmath.pi / 4 * d * d) ** 2)
        return 2 * p / (a + mpmath.sqrt(a * a + 4 * b * p))
    if kind == "crack":  # 20 mm x 0.2 mm, 3 mm deep
        w, h = mp("0.02") * mpmath.sqrt(scale), mp("2e-4") * mpmath.sqrt(scale)
        a, b = 12 * mu * mp("3e-3") / (w * h**3), rho * mp("1.5") / (2 * (w * h) ** 2)
        return 2 * p / (a + mpmath.sqrt(a * a + 4 * b * p))
    return mp("1e-7") * scale * p ** mp("0.65")  # power law


OURS = {"hole": RoundHole(1e-3), "two-term": RoundHole(6e-4, flow_model="two-term"),
        "crack": Crack(0.02, 2e-4, 3e-3), "power": PowerLawLeak(1e-7, 0.65)}  # fmt: skip


def _mp_balloon(kinds, mode, stop):
    """Integrate 3 x**2 Vu / Q over the stretch from `stop` to 4.4."""
    mp = mpmath.mpf
    radius, start = mp("0.032"), mp("4.4")
    slack = 4 * mpmath.pi / 3 * radius**3

    def factor(x):
        if mode == "rigid":
            return mp(1)
        if mode == "free":
            return ((2 * x - x**-3) / (2 * start - start**-3)) ** 2
        return (x / start) ** 2

    def integrand(x):
        p = 3750 * (1 / x - x**-7) * (1 + x * x / 10)
        return 3 * x * x * slack / sum(_mp_flow(kind, p, factor(x)) for kind in kinds)

    return mpmath.quad(integrand, [stop, mp("1.01"), mp("1.1"), mp("1.5"), 3, start])


@pytest.mark.parametrize("mode", HOLE_MODES)
@pytest.mark.parametrize("kinds", [("hole",), ("crack",), ("hole", "two-term", "crack", "power")])
def test_balloon_against_high_precision(kinds, mode):
    with mpmath.workdps(25):
        flat, half = (
            mpmath.mpf("1.01") ** (mpmath.mpf(1) / 3),
            ((1 + mpmath.mpf("4.4") ** 3) / 2) ** (mpmath.mpf(1) / 3),
        )
        to_flat, to_half = (float(_mp_balloon(kinds, mode, x)) for x in (flat, half))
    record = drain(Balloon(hole_mode=mode), tuple(OURS[kind] for kind in kinds))
    assert record.time_to_flat == pytest.approx(to_flat, rel=1e-10)
    assert record.half_time == pytest.approx(to_half, rel=1e-10)


def test_modes_per_opening():
    with mpmath.workdps(20):
        mp = mpmath.mpf
        slack, start = 4 * mpmath.pi / 3 * mp("0.032") ** 3, mp("4.4")

        def integrand(x):
            p = 3750 * (1 / x - x**-7) * (1 + x * x / 10)
            free = ((2 * x - x**-3) / (2 * start - start**-3)) ** 2
            flow = (
                _mp_flow("hole", p, 1)
                + _mp_flow("crack", p, free)
                + _mp_flow("power", p, (x / start) ** 2)
            )
            return 3 * x * x * slack / flow

        stop = mp("1.01") ** (mp(1) / 3)
        expected = float(mpmath.quad(integrand, [stop, mp("1.01"), mp("1.1"), mp("1.5"), 3, start]))
    record = drain(
        Balloon(), (OURS["hole"], OURS["crack"], OURS["power"]),
        hole_modes=("rigid", "free", "moves with rubber"),
    )  # fmt: skip
    assert record.time_to_flat == pytest.approx(expected, rel=1e-10)
    assert any("tear" in text for text in record.warnings)


@pytest.mark.parametrize("kinds", [("hole", "crack"), ("hole", "two-term", "crack", "power")])
def test_jar_against_high_precision(kinds):
    with mpmath.workdps(25):
        storage = mpmath.mpf("0.01") / ATMOSPHERE

        def time_to(end):
            return float(
                mpmath.quad(
                    lambda p: storage / sum(_mp_flow(kind, p, 1) for kind in kinds),
                    [end, 1, 5, 20, 50],
                )
            )

        expected = [time_to(mpmath.mpf(end)) for end in (0.5, 25, 5)]
    record = drain(SealedVessel(0.01), tuple(OURS[kind] for kind in kinds))
    assert [record.time_to_flat, record.half_time, record.time_to_5_pa] == pytest.approx(
        expected, rel=1e-10
    )


def test_scaling_integral_of_one_hole():
    """t = Vu/Q* [G(start) - G(stop)]: everything but the stiffening is a factor."""
    record = drain(Balloon(stiffness=2000.0, unstretched_radius=0.02), RoundHole(5e-4))
    with mpmath.workdps(20):
        g = mpmath.quad(
            lambda x: 3 * x * x / mpmath.sqrt((1 / x - x**-7) * (1 + x * x / 10)),
            [mpmath.mpf("1.01") ** (mpmath.mpf(1) / 3), 1.1, 2, mpmath.mpf("4.4")],
        )
    scale = SHARP_EDGE * math.pi / 4 * 25e-8 * math.sqrt(2.0 * 2000.0 / 1.2)
    assert record.time_to_flat == pytest.approx(
        4 / 3 * math.pi * 8e-6 / scale * float(g), rel=1e-10
    )


# ---- an ODE solver, used safely ------------------------------------------------------------------

FIFTEEN = (
    RoundHole(mm(0.5)), RoundHole(mm(1), flow_model="two-term"), RoundHole(mm(0.8), flow_model="fitted"),
    Slot(0.005, mm(0.2)), Crack(0.02, mm(0.2), mm(3)), PorousPatch(1e-9, 0.01), PowerLawLeak(1e-7),
    RoundHole(mm(0.7), edge="rounded"), RoundHole(mm(0.4), edge="tube", depth=mm(1), flow_model="two-term"),
    Slot(0.01, mm(0.1), flow_model="two-term"), Crack(0.01, mm(0.3), mm(2), 2), PowerLawLeak(5e-8, 0.8),
    Series((RoundHole(mm(1)), Crack(0.05, mm(0.2), mm(2)))), RoundHole(mm(0.3), 4), PowerLawLeak(2e-7, 0.55),
)  # fmt: skip


def test_balloon_frames_against_an_ode_solver():
    """DOP853 at 1e-10, stopped at a physical level, clamped, checked finite."""
    balloon = Balloon()
    record = drain(balloon, FIFTEEN)
    slack = balloon.unstretched_volume

    def slope(_, volume):
        x = max(float(np.cbrt(volume[0] / slack)) - 1.0, 0.0)
        p = float(rubber_pressure(1.0 + x, balloon.stiffness, balloon.stiffening))
        return [-sum(float(one.flow(p)) for one in FIFTEEN)]

    solved = solve_ivp(slope, (0.0, record.time_to_flat), [balloon.volume], method="DOP853",
                       rtol=1e-10, atol=1e-16, t_eval=record.time[::10])  # fmt: skip
    assert solved.success and np.all(np.isfinite(solved.y))
    assert record.volume[::10] == pytest.approx(solved.y[0], rel=1e-8)
    assert record.volume[-1] == pytest.approx(1.01 * slack, rel=1e-12)


def test_jar_frames_against_an_ode_solver():
    """The equation in w = p**(1-n), whose slope stays finite at the end."""
    n, vessel = 0.65, SealedVessel(0.01, 200.0, kappa=1.4)
    leak = PowerLawLeak(1e-6, n)
    record = drain(vessel, leak)
    storage = 0.01 / (1.4 * ATMOSPHERE)
    solved = solve_ivp(lambda _, w: [-(1.0 - n) * 1e-6 / storage], (0.0, record.time_to_flat),
                       [200.0 ** (1.0 - n)], rtol=1e-10, atol=1e-14, t_eval=record.time)  # fmt: skip
    assert solved.success and np.all(np.isfinite(solved.y))
    assert record.pressure_difference == pytest.approx(solved.y[0] ** (1.0 / (1.0 - n)), rel=1e-8)


# ---- limits --------------------------------------------------------------------------------------


def test_exponent_one_is_no_special_case_in_the_decay():
    near, at = (pressure_decay_time(3.0, n, end=2.0) for n in (1.0 - 1e-9, 1.0))
    assert near == pytest.approx(at, rel=1e-7)
    near, at = (
        drain(SealedVessel(1.0), PowerLawLeak(1e-5, n)).time_to_flat for n in (1.0 - 1e-9, 1.0)
    )
    assert near == pytest.approx(at, rel=1e-7)


def test_pressure_below_the_straight_part():
    """From 50 Pa to 0.005 Pa: power law to 0.1 Pa, exponential below, both closed."""
    c, n, storage = 1e-6, 0.5, 0.01 / ATMOSPHERE
    record = drain(SealedVessel(0.01), PowerLawLeak(c, n), flat=1e-4)
    upper = storage / c * (math.sqrt(50.0) - math.sqrt(0.1)) / 0.5
    lower = storage * 0.1 / (c * math.sqrt(0.1)) * math.log(0.1 / 0.005)
    assert record.time_to_flat == pytest.approx(upper + lower, rel=1e-10)


def test_without_viscosity_or_density():
    thin, light = Air(1.2, 1e-30), Air(1e-9, 1.81e-5)
    two_term, plain = RoundHole(1e-3, flow_model="two-term"), RoundHole(1e-3)
    times = [drain(Balloon(), one, thin).time_to_flat for one in (two_term, plain)]
    assert times[0] == pytest.approx(times[1], rel=1e-9)
    creeping = PowerLawLeak(1e-9 / (24.0 * 1.81e-5), 1.0)
    times = [drain(Balloon(), one, light).time_to_flat for one in (two_term, creeping)]
    assert times[0] == pytest.approx(times[1], rel=1e-4)


# ---- invariants ----------------------------------------------------------------------------------

stretches, stiffenings = st.floats(1.05, 6.0), st.floats(0.0, 0.3)
modes = st.sampled_from(HOLE_MODES)


@st.composite
def hole_sets(draw):
    kinds = {
        "hole": lambda d: RoundHole(d), "creeping": lambda d: RoundHole(d, flow_model="two-term"),
        "fitted": lambda d: RoundHole(d, flow_model="fitted"), "crack": lambda d: Crack(0.01, d / 10, 2e-3),
        "porous": lambda d: PorousPatch(1e-6 * d, 0.01), "power": lambda d: PowerLawLeak(1e-4 * d, 0.7),
        "layers": lambda d: Series((RoundHole(d), PowerLawLeak(1e-4 * d, 0.7))),
    }  # fmt: skip
    names = draw(st.lists(st.sampled_from(list(kinds)), min_size=1, max_size=4))
    return tuple(kinds[name](draw(st.floats(1e-4, 4e-3))) for name in names)


@settings(max_examples=40, deadline=None)
@given(stretches, stiffenings, modes, hole_sets())
def test_nothing_is_lost_from_a_balloon(stretch, stiffening, mode, holes):
    record = drain(Balloon(stretch, stiffening=stiffening, hole_mode=mode), holes, frames=20001)
    assert simpson(record.flow, x=record.time) == pytest.approx(record.expelled, rel=1e-9)
    assert np.all(np.diff(record.volume) < 0.0) and np.all(np.diff(record.time) > 0.0)
    assert np.all(record.pressure_difference > 0.0) and np.all(np.isfinite(record.flow))
    assert record.time_to_5_pa > 0.0 and 0.0 < record.half_time < record.time_to_flat


@settings(max_examples=40, deadline=None)
@given(st.floats(1e-3, 1e3), st.floats(10.0, 500.0), st.floats(1.0, 1.4), hole_sets())
def test_nothing_is_lost_from_a_jar(volume, pressure, kappa, holes):
    vessel = SealedVessel(volume, pressure, kappa)
    record = drain(vessel, holes, frames=20001)
    assert simpson(record.flow, x=record.time) == pytest.approx(record.expelled, rel=1e-9)
    assert record.expelled == pytest.approx(0.99 * vessel.spare, rel=1e-12)
    assert record.half_time < record.time_to_flat
    assert (
        record.refills_per_hour is None
        and record.air_change_rate_at_50 is None
        and record.chips is None
    )


@settings(max_examples=30, deadline=None)
@given(stretches, modes, st.floats(2e-4, 4e-3), st.integers(2, 9))
def test_equal_holes_share_the_time(stretch, mode, diameter, count):
    balloon = Balloon(stretch, hole_mode=mode)
    one, many = (drain(balloon, RoundHole(diameter, k)).time_to_flat for k in (1, count))
    assert many == pytest.approx(one / count, rel=1e-9)
    spread = drain(balloon, (RoundHole(diameter),) * count).time_to_flat
    assert spread == pytest.approx(many, rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(stretches, st.floats(1e-2, 0.2), hole_sets())
def test_time_goes_with_the_volume_of_the_balloon(stretch, radius, holes):
    times = [drain(Balloon(stretch, r), holes).time_to_flat for r in (radius, 2.0 * radius)]
    assert times[1] == pytest.approx(8.0 * times[0], rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(1.0, 1e3), st.floats(1.0, 1.4), hole_sets())
def test_jar_time_goes_with_volume_and_one_over_kappa(volume, kappa, holes):
    base = drain(SealedVessel(volume), holes)
    assert drain(SealedVessel(volume, kappa=kappa), holes).half_time == pytest.approx(
        base.half_time / kappa, rel=1e-9
    )
    assert drain(SealedVessel(2.0 * volume), holes).half_time == pytest.approx(
        2.0 * base.half_time, rel=1e-9
    )


@settings(max_examples=30, deadline=None)
@given(stretches, modes, hole_sets(), hole_sets(), st.randoms())
def test_one_more_hole_never_slows(stretch, mode, holes, more, order):
    balloon = Balloon(stretch, hole_mode=mode)
    base = drain(balloon, holes)
    faster = drain(balloon, (*holes, *more))
    assert faster.time_to_flat < base.time_to_flat
    assert faster.air_change_rate_at_50 > base.air_change_rate_at_50
    mixed = [*holes, *more]
    order.shuffle(mixed)
    assert drain(balloon, mixed).time_to_flat == pytest.approx(faster.time_to_flat, rel=1e-10)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.1, 20.0), st.floats(0.5, 1.0), st.floats(10.0, 5000.0))
def test_decay_depends_on_the_rate_alone(rate, n, volume):
    leak = PowerLawLeak.from_flow(volume * rate / 3600.0, 50.0, n)
    record = drain(SealedVessel(volume), leak)
    assert record.half_time == pytest.approx(float(pressure_half_time(rate, n)), rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(hole_sets(), st.floats(0.0, 1.2))
def test_a_moment_lies_on_the_frames(holes, share):
    record = drain(Balloon(), holes)
    fine = drain(Balloon(), holes, frames=40001)
    moment = record.at(share * record.time_to_flat)
    exact = np.interp(min(share, 1.0) * record.time_to_flat, fine.time, fine.volume)
    assert moment.volume == pytest.approx(exact, abs=1e-5 * record.volume[0])
    first, last = record.at(-1.0), record.at(1e9)
    assert first.volume == record.volume[0] and last.volume == record.volume[-1]


# ---- said, not crashed ---------------------------------------------------------------------------


@pytest.mark.parametrize("vessel", [Balloon(), SealedVessel(300.0), FanHeldVolume(300.0)])
def test_no_holes_never_drains(vessel):
    record = drain(vessel, ())
    assert not record.drains and math.isinf(record.time_to_flat)
    assert "never drains" in record.sentence()
    assert record.chips is None
    assert np.all(record.volume == record.volume[0]) and not np.any(record.flow)
    assert len(record.time) == 200 and np.all(np.isfinite(record.time))


def test_sentences_are_plain_and_carry_their_pressure():
    leak = PowerLawLeak.from_flow(m3_per_h(900.0))
    said = drain(FanHeldVolume(300.0), leak).sentence()
    assert "3 air changes per hour at 50 Pa" in said and "20 min" in said and "37 %" in said
    said = drain(SealedVessel(300.0), leak).sentence()
    assert "half in 0.364 s" in said and "5 Pa in 0.936 s" in said and "air changes" not in said
    said = drain(Balloon(), RoundHole(mm(2.51))).sentence()
    assert (
        "refills an hour at the balloon's own pressure" in said
        and "50 Pa" in said
        and "flat:" in said
    )
    for vessel in (SealedVessel(300.0), FanHeldVolume(300.0)):
        us = drain(vessel, leak).sentence("us")
        assert "m³" not in us and ("cfm" in us or "ft³" in us)


def test_records_cannot_be_changed():
    record = drain(Balloon(), RoundHole(mm(2)))
    with pytest.raises(ValueError, match="read-only"):
        record.volume[0] = 1.0
    assert record.diameter[0] == pytest.approx(Balloon().diameter)


def test_warnings_name_the_range():
    assert any("locks or bursts" in text for text in Balloon(7.0).warnings)
    assert any("hump" in text for text in Balloon(stiffening=0.25).warnings)
    assert any("2000 to 5000 Pa" in text for text in Balloon(stiffness=9000.0).warnings)
    assert any("jet" in text for text in drain(SealedVessel(0.01), RoundHole(0.03)).warnings)
    assert not drain(SealedVessel(0.01), RoundHole(0.01)).warnings
    leak = PowerLawLeak.from_flow(12.0, flow_exponent=0.5)
    assert any("sound" in text for text in drain(SealedVessel(300.0), leak).warnings)
    assert not drain(Balloon(), RoundHole(mm(2))).warnings


# ---- refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Balloon(1.0), "slack"),
        (lambda: Balloon(0.5), "Stretch is 0.5"),
        (lambda: Balloon(float("nan")), "not a number"),
        (lambda: Balloon(4.4, 32.0), r"write mm\(32\)"),
        (lambda: Balloon(stiffening=0.31), "Stiffening"),
        (lambda: Balloon(stiffness=-1.0), "Stiffness"),
        (lambda: Balloon(softening=1.5), "Softening"),
        (lambda: Balloon(hole_mode="loose"), "Choose one of"),
        (lambda: Balloon.from_diameter(28.0), "Stretch"),
        (lambda: SealedVessel(0.0), "Internal volume"),
        (lambda: SealedVessel(-3.0), "Internal volume"),
        (lambda: SealedVessel(1.0, 0.0), "Pressure difference"),
        (lambda: SealedVessel(1.0, kappa=2.0), "Kappa"),
        (lambda: SealedVessel(1.0, skin_compliance=-1.0), "Skin compliance"),
        (lambda: FanHeldVolume(float("inf")), "infinite"),
        (lambda: drain(Balloon(), RoundHole(0.5)), "cannot be larger than what it is in"),
        (lambda: drain(SealedVessel(0.01), RoundHole.from_area(4.0)), "cannot be larger"),
        (lambda: drain(FanHeldVolume(1.0), PowerLawLeak(50.0)), "cannot be larger"),
        (lambda: drain(Balloon(), "hole"), "not an opening"),
        (lambda: drain(Balloon(), RoundHole(1e-3), frames=1), "Frames"),
        (lambda: drain(Balloon(), RoundHole(1e-3), flat=0.0), "Flat"),
        (lambda: drain(Balloon(), RoundHole(1e-3), hole_modes=("rigid", "free")), "One each"),
        (lambda: drain(Balloon(), RoundHole(1e-3), hole_modes=("soft",)), "Choose one of"),
        (lambda: pressure_decay_time(3.0, start=50.0, end=60.0), "below that at the start"),
        (lambda: pressure_half_time(-1.0), "Air change rate"),
        (lambda: hole_area_for_ach50(1.0, 0.0), "Volume"),
        (lambda: remaining_old_air(1.0, -5.0), "Time"),
        (lambda: mixing_time(1.0, 0.0), "Remaining"),
        (lambda: rubber_hump(0.4), "Stiffening"),
        (lambda: spare_air(1.0, kappa=0.5), "Kappa"),
    ],
)
def test_refused(make, said):
    with pytest.raises(InputError, match=said):
        make()
