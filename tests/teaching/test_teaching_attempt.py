"""One try at a prediction: locked before the run, seen before the explanation, never taken back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from airlab.teaching import BENCH_CAUTIONS, BENCH_STEPS, Attempt
from airlab.teaching.attempt import STAGES
from airlab.words import InputError

OPTIONS = ((10.0, "10 s"), (60.0, "1 min"), (360.0, "6 min"))
ASKED = Attempt(OPTIONS)


def test_the_four_steps_in_order():
    locked = ASKED.lock(360.0)
    told = locked.run().see("about one minute")
    assert [one.stage for one in (ASKED, locked, locked.run(), told)] == list(STAGES)
    assert locked.sentence() == "You said 6 min."
    assert told.sentence() == "You said 6 min. You saw: about one minute."
    assert ASKED.sentence() == ""


def test_what_is_said_beside_the_answer():
    race = Attempt((("left", "the left one"), ("right", "the right one")))
    assert race.lock("right", "4 times as fast").sentence() == (
        "You said the right one, 4 times as fast."
    )


def test_a_class_raises_its_hands():
    told = ASKED.raise_hands((3, 12, 5)).run().see("a minute")
    assert told.sentence() == "Hands up: 10 s 3, 1 min 12, 6 min 5. You saw: a minute."
    assert told.right_hands(60.0) == "12 of 20 were right."
    assert ASKED.lock(60.0).right_hands(60.0) == ""


def test_a_teacher_may_skip_at_any_step():
    for attempt in (ASKED, ASKED.lock(10.0), ASKED.lock(10.0).run()):
        assert attempt.skip().stage == "told"
    assert ASKED.lock(10.0).skip().sentence() == "You said 10 s."


@pytest.mark.parametrize(
    ("work", "said"),
    [
        (lambda: ASKED.lock(17.0), "Guess is 17"),
        (lambda: ASKED.lock(10.0).lock(60.0), "locked. It stays"),
        (lambda: ASKED.lock(10.0).raise_hands((1, 1, 1)), "locked. It stays"),
        (lambda: ASKED.run(), "Lock an answer first"),
        (lambda: ASKED.see("nothing"), "Run the clock"),
        (lambda: ASKED.lock(10.0).see("a minute"), "Run the clock"),
        (lambda: ASKED.lock(10.0).run().see("  "), "Say what you saw first"),
        (lambda: ASKED.raise_hands((1, 2)), "3 answers and 2 counts"),
        (lambda: ASKED.raise_hands((1, -2, 0)), "Hands for '1 min' are -2"),
        (lambda: ASKED.raise_hands((0, 0, 0)), "No hand is up"),
        (lambda: ASKED.raise_hands((1, 2.5, 0)), "whole number"),
    ],
)
def test_refused(work, said):
    with pytest.raises(InputError, match=said):
        work()


@given(st.lists(st.sampled_from(["lock", "hands", "run", "see", "skip"]), max_size=8))
def test_no_explanation_without_a_locked_answer_and_a_look(acts):
    """Whatever is tried in whatever order: told means locked, run and seen, or skipped."""
    does = {
        "lock": lambda a: a.lock(60.0), "hands": lambda a: a.raise_hands((1, 2, 3)),
        "run": Attempt.run, "see": lambda a: a.see("a minute"), "skip": Attempt.skip,
    }  # fmt: skip
    attempt, done = ASKED, []
    for act in acts:
        try:
            attempt = does[act](attempt)
            done.append(act)
        except InputError:
            continue
    if attempt.stage == "told" and "skip" not in done:
        assert attempt.saw and (attempt.said or attempt.hands)
    assert done.count("lock") + done.count("hands") <= 1


def test_the_bench_is_told_with_its_cautions():
    assert {one.key for one in BENCH_CAUTIONS} == {"latex", "eyes", "burst"}
    assert len(BENCH_STEPS) == 7 and all(step.endswith(".") for step in BENCH_STEPS)
