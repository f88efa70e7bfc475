"""The day of the check: readings judged, the last batch weighed, the stop to go to, new holes."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import exp, hypot, log

import pytest

from airlab.files import demo_job
from airlab.leak_check import (
    Hole,
    Log,
    Reading,
    decide,
    hole_register,
    in_short,
    make_day,
    next_stage,
    reading_pair,
    stop_key,
    walked,
    weigh_hole,
)
from airlab.words import InputError, from_si, m3_per_h, mm

START = datetime(2026, 4, 19, 9, 0, tzinfo=UTC)


def at(minutes):
    return START + timedelta(minutes=minutes)


def reading(name, pressure, flow, minutes=None, stage="after sealing", **details):
    details.setdefault("direction", "depressurise")
    time = None if minutes is None else at(minutes)
    return Reading(name, pressure, m3_per_h(flow), at=time, stage=stage, **details)


def day_of(*readings, log=None, **parts):
    return make_day(demo_job(), readings=readings, leaks=log or Log(), **parts)


# known answers ------------------------------------------------------------------------------


def test_interval_of_a_reading_is_the_root_of_the_squares():
    """u² = 0.03² + (n·Δz/2/p)² + (ln(50/p)·0.07)²: propagation of independent spreads (JCGM 100,
    from memory), with the figures of the demo."""
    judged = day_of(reading("1", 40.0, 620, 0, zero_before=0.0, zero_after=1.0)).readings[0]
    pressure = 40.5  # 40 of suction and half a pascal of mean zero on the other side
    u = hypot(0.03, 0.65 * 0.5 / pressure, log(50.0 / pressure) * 0.07)
    assert judged.spread == pytest.approx(u, rel=1e-12)
    flow = 620.0 * (50.0 / pressure) ** 0.65
    assert from_si(judged.low, "m3/h") == pytest.approx(flow * exp(-1.959964 * u), rel=1e-6)
    assert from_si(judged.high, "m3/h") == pytest.approx(flow * exp(1.959964 * u), rel=1e-6)


def test_a_hole_of_20_mm_passes_what_a_sharp_hole_passes():
    """π/4·(2 cm)² times 2.008 m³/h for each cm² at 50 Pa (Cd = π/(π + 2), air of 1.2 kg/m³)."""
    hole = weigh_hole(Hole("1", diameter=mm(20)))
    assert from_si(hole.flow, "m3/h") == pytest.approx(3.14159 * 2.008, rel=2e-3)
    assert hole.left is None


def test_smallest_gain_of_the_next_reading():
    """1.96·√2·1.5 % = 4.2 % of the flow: published 1 to 2 % for one method and the same people."""
    day = day_of(reading("1", 50.0, 600, 0))
    assert from_si(day.smallest, "m3/h") == pytest.approx(600 * 0.042, rel=0.02)
    assert "Group small fixes" in day.gained()


# limits and rules ---------------------------------------------------------------------------


def test_no_reading_says_what_to_expect():
    day = day_of()
    assert day.gain is None and day.smallest is None and day.gained() == ""
    assert day.sentence().startswith("No reading yet. Expect ")


def test_places_against_the_range():
    below, inside, above = (day_of(reading("1", 50.0, flow, 0)) for flow in (300, 1000, 3000))
    assert [d.readings[0].place for d in (below, inside, above)] == ["below", "inside", "above"]
    assert "inside the range expected today" in inside.sentence()


def test_reached_38_pa_is_said_so():
    said = day_of(reading("1", 38.0, 820, 0)).sentence()
    assert said.startswith("Reading 1, suction: reached 38 Pa at 820 m³/h.")
    assert "ACH" not in said and "n50" not in said


def test_the_first_warning_stands_in_the_sentence():
    zero = {"zero_before": -1.0, "zero_after": -1.0}
    assert day_of(reading("1", 50.0, 820, 0, **zero)).sentence().endswith("expected today.")
    assert "No zero-flow pressure was read" in day_of(reading("1", 50.0, 820, 0)).sentence()
    low = day_of(reading("1", 8.0, 820, 0)).sentence()
    assert "Under 10 Pa" in low and "No zero-flow" not in low  # what weighs most, alone
    windy = day_of(reading("1", 50.0, 820, 0, zero_before=-9.0, zero_after=-9.0)).sentence()
    assert "beyond 5 Pa" in windy


def test_readings_no_such_fan_or_house_gives_are_warned_of_and_kept():
    """The fan of the demo moves 1320 m³/h at 50 Pa; 667 to 2410 m³/h are expected."""
    zero = {"zero_before": -1.0, "zero_after": -1.0}

    def told(pressure, flow, **more):
        return day_of(reading("1", pressure, flow, 0, **zero, **more), **more_parts).readings[0]

    more_parts = {}
    assert told(50.0, 1300).warnings == told(50.0, 480).warnings == ()
    assert "the fan does not give that flow" in told(50.0, 1500).warnings[0]
    assert len(told(50.0, 1e6).unlikely) == 2 and "Read again" in told(50.0, 1e6).sentence()
    assert "far from what is expected" in told(50.0, 2).sentence()
    assert "Over 100 Pa: film may tear" in " ".join(told(500.0, 600).warnings)
    assert "Over 100 Pa" not in " ".join(told(100.0, 480).warnings)
    fan = {**demo_job().settings["fan"], "count": 2}
    more_parts = {"settings": {**demo_job().settings, "fan": fan}}
    assert told(50.0, 1500).warnings == ()


def test_units_of_the_job():
    assert "cfm" in day_of(reading("1", 50.0, 600, 0)).sentence("us")


def test_stage_offered():
    log = Log().found(1, at=at(5), room="Hall").sealed(1, "tape", at=at(20))
    first = reading("1", 50.0, 700, 10, stage="first reading")
    again = reading("2", 50.0, 690, 15, stage="first reading")
    assert next_stage((), Log()) == "first reading"
    assert next_stage((first,), Log()) == next_stage((first, again), Log()) == "repeat"
    assert next_stage((first, again), log) == "after sealing"
    sealed = reading("3", 50.0, 600, 30)
    assert next_stage((first, sealed), log) == "repeat"


def test_a_repeat_is_of_the_house_as_it_stood_at_the_reading_before():
    def taken(second, third):
        return (
            reading("1", 50.0, 900, stage="first reading"), reading("2", 50.0, 700),
            reading("3", 50.0, 712, stage=second), reading("4", 50.0, 690, stage=third),
            reading("5", 50.0, 740, stage=second, direction="pressurise"),
        )  # fmt: skip

    by_name, repeats = (
        day_of(*taken("after sealing", "after sealing")),
        day_of(*taken("repeat", "repeat")),
    )
    assert repeats.repeat == by_name.repeat and repeats.repeat.degrees_of_freedom == 2
    pair = [one.name for one in reading_pair(taken("repeat", "repeat")[:4], Log())[:2]]
    assert pair == ["1", "4"]
    house = [decide(demo_job(), False, readings=taken(*two)).number.house for two in
             (("repeat", "repeat"), ("after sealing", "after sealing"))]  # fmt: skip
    assert house[0].flow_50 == house[1].flow_50 and house[0].both_directions


def test_the_batch_is_what_was_sealed_between_two_readings():
    log = Log()
    for number in (1, 2, 3):
        log = log.found(number, at=at(number), room="Hall").sealed(
            number, "tape", at=at(10 * number)
        )
    readings = (
        reading("1", 50.0, 800, 5, stage="first reading"), reading("2", 50.0, 700, 25),
        reading("3", 50.0, 600, 60), reading("4", 50.0, 595, 70),
    )  # fmt: skip
    before, after, batch = reading_pair(readings, log)
    assert (before.name, after.name, batch) == ("2", "3", (3,))
    day = day_of(*readings, log=log)
    assert day.gain.before.reading.name == "2"
    assert day.since.after.reading.name == "4"
    assert "nothing was sealed by the log" in day.gained()


def test_a_fall_with_no_seal_in_the_log_asks_what_was_done():
    log = Log().found(1, at=at(1)).sealed(1, "tape", at=at(10))
    day = day_of(
        reading("1", 50.0, 800, 5, stage="first reading"), reading("2", 50.0, 700, 20),
        reading("3", 50.0, 500, 40), log=log,
    )  # fmt: skip
    assert day.gain.proved and day.since.fell and not day.since.proved
    assert "What changed: a window or door shut" in day.gained()


def test_with_an_empty_log_no_gain_is_proved():
    first = reading("1", 50.0, 900, 0, stage="first reading")
    day = day_of(first, reading("2", 50.0, 500, 10))
    assert day.gain.fell and day.gain.unsealed and not day.gain.proved
    assert "by the log nothing was sealed in between: no gain is proved" in day.gained()
    assert "A gain is proved" not in day.gained()
    assert "not proved: nothing was sealed by the log" in day.total.sentence()
    sealed = Log().found(1, at=at(1)).sealed(1, "tape", at=at(5))
    assert day_of(first, reading("2", 50.0, 500, 10), log=sealed).gain.proved
    early = Log().found(1, at=at(-9)).sealed(1, "tape", at=at(-5))
    assert not day_of(first, reading("2", 50.0, 500, 10), log=early).gain.proved
    untimed = early.found(2).sealed(2, "tape", at=at(70), later=True)  # may have been in between
    assert day_of(first, reading("2", 50.0, 500, 10), log=untimed).gain.proved


def test_preparation_is_no_gain_and_another_ring_is_flagged():
    put_right = day_of(
        reading("1", 50.0, 900, 0, stage="first reading"),
        reading("2", 50.0, 700, 10, stage="preparation put right"),
    )
    assert put_right.gain.preparation and not put_right.gain.proved
    ring = day_of(
        reading("1", 50.0, 900, 0, stage="first reading", aperture="A"),
        reading("2", 50.0, 700, 10, aperture="B"),
    )
    assert "aperture was changed" in ring.gained() and not ring.gain.proved


def test_readings_without_times_pair_by_stage():
    readings = (
        reading("1", 50.0, 900, stage="first reading"), reading("2", 50.0, 880, stage="first reading"),
        reading("3", 50.0, 700),
    )  # fmt: skip
    before, after, batch = reading_pair(readings, Log())
    assert (before.name, after.name, batch) == ("2", "3", ())
    assert reading_pair(readings[:1], Log()) is None


def test_hazards_leave_no_flow():
    settings = demo_job().settings | {"hazards": {"combustion": "don't know"}}
    day = day_of(reading("1", 50.0, 600, 0), settings=settings)
    assert not day.fan_may_run and day.readings == () and day.gain is None
    assert day.sentence().startswith("No fan, no flow, no go.")
    decided = decide(demo_job(), settings=settings)
    assert any("Suction can pull" in one for one in decided.reasons), "whole in the card"
    short = in_short(decided)
    assert "Fires, boilers, stoves: don't know. Asbestos" in short
    assert "Suction" not in short and "areas wait. A person signs." in short


def test_without_rooms_the_readings_are_kept():
    day = make_day(readings=(reading("1", 50.0, 600, 0),), settings={"direction": "depressurise"})
    assert day.plan is None and "No rooms" in day.missing
    assert len(day.readings) == 1 and day.readings[0].place == ""


def test_a_reading_that_is_all_zero_is_refused():
    with pytest.raises(InputError, match="no pressure of its own"):
        day_of(reading("1", 2.0, 600, 0, zero_before=-3.0))


# route --------------------------------------------------------------------------------------


def test_a_stop_is_done_when_it_is_ticked_and_before_the_fan_once_it_was_read():
    route = day_of().plan.route
    assert walked(route) == frozenset()
    begun = walked(route, (), (reading("1", 50.0, 600),))
    assert begun == {stop.number for stop in route.phase("before the fan")}
    big = route.phase("big and obvious")
    done = walked(route, [stop_key(big[0])], (reading("1", 50.0, 600),))
    assert done == begun | {big[0].number} and route.next_stop(done) == big[1]


# decision in short --------------------------------------------------------------------------


def test_decision_in_short_says_flow_sizes_chance_and_who_signs():
    said = in_short(decide(demo_job(), readings=(reading("1", 50.0, 400, 0),)))
    assert "903 m³/h at 50 Pa" in said and "310 m³ of air, 301 m² of envelope" in said
    assert said.endswith("A person signs.") and "certificate" not in said
    assert in_short(decide(demo_job())).startswith("NO NUMBER.")


# holes --------------------------------------------------------------------------------------


def weighed(**hole):
    job, readings = demo_job(), (reading("1", 50.0, 400, 0),)
    hole = Hole("1", area="north wall hall", diameter=mm(50), **hole)
    number = decide(job, readings=readings, holes=(hole,)).number
    return number, hole_register((hole,), number)


def test_open_unseen_and_done():
    _, register = weighed()
    assert register.holes[0].state == "open" and register.ending
    assert "ends the release of north wall hall" in register.holes[0].sentence()
    assert "not planned" in register.holes[0].sentence()
    assert weighed(sealed_with="tape")[1].holes[0].state == "sealed, not looked at"
    done = weighed(sealed_with="tape", checked=True, approved_by="site lead")[1]
    assert done.ending == () and done.open_flow == 0.0 and done.holes[0].planned


def test_an_open_hole_takes_from_what_is_left():
    closed, _ = weighed(sealed_with="tape", checked=True)
    number, register = weighed()
    draft = weigh_hole(Hole("2", diameter=mm(50)), closed)
    assert register.holes[0].left == register.headroom == number.headroom
    second = Hole("2", diameter=mm(50))
    entered = decide(demo_job(), readings=(reading("1", 50.0, 400, 0),), holes=(second,)).number
    assert draft.left == pytest.approx(entered.headroom), "as it is once the hole is entered"
    assert number.headroom < closed.headroom


def test_register_without_a_number_or_holes():
    assert "No number yet" in hole_register(()).sentence()
    assert "every area" in weigh_hole(Hole("1")).sentence()


# the running total and the fan's lowest flow -----------------------------------------------


def test_the_day_says_what_is_missing_and_whether_to_go_on():
    job = demo_job()
    first = Reading("1", 50.0, m3_per_h(900), "depressurise", stage="first reading")
    assert make_day(job).total is None
    day = make_day(job, readings=(first,))
    aim = day.plan.expected.pass_flow
    assert day.total.aim_flow == aim
    assert day.total.gap == pytest.approx(day.readings[0].corrected.flow_50 - aim)
    assert "above today's aim at 50 Pa" in day.total.sentence()
    tight = replace(first, flow=0.7 * aim, zero_before=-1.0, zero_after=-1.0)
    low = make_day(job, readings=(tight,))
    assert low.total.gap < 0.0 and low.total.answer == "go on" and "searched" in low.total.why
    walk = dict(job.settings) | {"stops_done": ["a stop"]}
    assert make_day(job, readings=(tight,), settings=walk).total.answer == "stop"
    late = ("eaves joint", "sill joint", "window frames", "door frames", "floor edge joint")
    budget = [replace(b, at_check="not built yet") if b.item in late else b for b in job.budget]
    lower = make_day(job, readings=(tight,), settings=walk, budget=budget).total
    assert lower.answer == "go on" and "by the budget" in lower.why
    unsealed = make_day(job, readings=(replace(first, flow=0.5 * aim),), leaks=Log().found(1))
    assert unsealed.total.answer == "go on" and unsealed.total.open_leaks == (1,)


def test_a_reading_below_what_the_fan_holds_steady_is_warned_of():
    job = demo_job()
    fan = {**job.settings["fan"], "lowest_m3_per_h": 300.0}
    settings = {**job.settings, "fan": fan}
    low = Reading("1", 50.0, m3_per_h(250), "depressurise", stage="first reading")
    enough = replace(low, name="2", flow=m3_per_h(310))
    one, two = make_day(job, settings=settings, readings=(low, enough)).readings
    assert "below the lowest" in one.below_fan and one.warnings[0] == one.below_fan
    assert two.below_fan == ""
