"""Lessons in whole slots: what a step is given."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sequencer.classroom.slots import stretches, whole_slots


def test_what_takes_less_is_given_a_whole_slot() -> None:
    assert [whole_slots(minutes, 5) for minutes in (0.5, 4, 5, 5.1, 10)] == [5, 5, 5, 10, 10]
    assert whole_slots(15.000000001, 5) == 15


def test_stretches_are_about_as_long_as_asked_and_as_equal_as_slots_allow() -> None:
    assert stretches(10, 20, 5) == [10]
    assert stretches(25, 20, 5) == [25]
    assert stretches(35, 20, 5) == [20, 15]
    assert stretches(65, 20, 5) == [25, 20, 20]


@given(st.integers(1, 4000), st.integers(1, 15))
def test_whole_slots_are_enough_and_none_is_too_many(tenths: int, slot: int) -> None:
    minutes = tenths / 10
    assert minutes - 1e-4 <= whole_slots(minutes, slot) < minutes + slot
    assert whole_slots(minutes, slot) % slot == 0
