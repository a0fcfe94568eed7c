"""Lessons in whole slots: what each step is given, and that nothing is lost by it."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate

from hypothesis import given
from hypothesis import strategies as st

from sequencer.classroom.slots import given_minutes, stretches, whole_slots
from sequencer.model.plan import Step
from tests import made


def _steps(*minutes: float, station: str = "bench") -> list[Step]:
    like = next(step for step in made.plan("picture-frame", "well-equipped").steps if step.kind == "work" and not step.one_go)
    return [
        replace(like, id=f"{station}{number}", station=station, minutes=each, set_up_minutes=0.0)
        for number, each in enumerate(minutes)
    ]


def test_what_takes_less_is_given_a_whole_slot() -> None:
    assert [whole_slots(minutes, 5) for minutes in (0.5, 4, 5, 5.1, 10)] == [5, 5, 5, 10, 10]
    assert whole_slots(15.000000001, 5) == 15


def test_minutes_to_spare_are_there_for_the_next_step_at_the_same_station() -> None:
    """17 and 17 and 9 are 43 minutes: nine slots of five, not four and four and two."""
    assert list(given_minutes(_steps(17, 17, 9), 5).values()) == [20, 15, 10]
    apart = [*_steps(17), *_steps(17, station="vice")]
    assert list(given_minutes(apart, 5).values()) == [20, 20]


def test_what_is_done_in_one_go_has_its_own_minutes_and_ends_the_sparing() -> None:
    first, between, last = _steps(17, 12, 17)
    assert given_minutes([first, replace(between, one_go=True), last], 5) == {first.id: 20, last.id: 20}


def test_stretches_are_the_longest_and_the_rest() -> None:
    assert stretches(25, 10) == [10, 10, 5]
    assert stretches(10, 10) == [10]


@given(st.lists(st.integers(1, 400), min_size=1, max_size=12), st.integers(1, 15))
def test_up_to_every_step_as_much_is_given_as_all_take(tenths: list[int], slot: int) -> None:
    minutes = [each / 10 for each in tenths]
    got = list(given_minutes(_steps(*minutes), slot).values())
    for have, takes in zip(accumulate(got), accumulate(minutes), strict=True):
        assert takes - 1e-4 <= have
    assert all(each > takes - slot for each, takes in zip(got, minutes, strict=True))
    assert all(each % slot == 0 for each in got)
