"""Schedules keep what is asked, bounds are never above what can be had, and equal input gives equal output."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.scheduling.best import best_schedule
from sequencer.scheduling.bound import lower_bound
from sequencer.scheduling.breeding import best_order
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.checked import faults
from sequencer.scheduling.greedy import Order, Placer, schedule_by
from sequencer.scheduling.justifying import Justifier, mirrored
from sequencer.scheduling.problem import Activity, After, Keep, Need, Placed, Problem, Schedule, ends, in_order
from sequencer.scheduling.rules import orders
from sequencer.scheduling.solver import solve
from tests.scheduling.made_up import problem

LESSONS = Calendar(((100, 140), (1540, 1580), (2980, 3020)))


def test_minutes_at_work_are_counted_through_the_windows() -> None:
    assert LESSONS.minutes == 120
    assert [LESSONS.real(minute) for minute in (0, 39, 40, 119)] == [100, 139, 1540, 3019]
    assert [LESSONS.real_end(minute) for minute in (1, 40, 41, 120)] == [101, 140, 1541, 3020]
    assert [LESSONS.at(real) for real in (0, 100, 139, 140, 1000, 1550, 9999)] == [0, 0, 39, 40, 40, 50, 120]


def searched(asked: Problem, *, schedules: int = 8, seed: int = 1) -> Schedule:
    """The best schedule that is found, where one is."""
    search = best_order(asked, schedules=schedules, seed=seed)
    assert search is not None
    return search.schedule


def test_a_wait_is_real_time_and_not_time_at_work() -> None:
    """Glue of a day, spread until ten minutes past the start of the first lesson, has set ten minutes into the second."""
    glue, clean = Activity("glue", 10, (Need((0,)),)), Activity("clean", 5, (Need((0,)),))
    for soonest, wait, start in ((0, 1440, 50), (120, 1440, 70), (120, 1441, 71), (130, 1440, 80)):
        asked = Problem((replace(glue, soonest=soonest), replace(clean, after=(After(0, wait),))), (1,), (LESSONS,))
        found = searched(asked, schedules=1, seed=1)
        assert faults(asked, found) == []
        assert found.placed[1].start == start


def test_what_is_kept_is_given_back_when_somebody_is_there() -> None:
    """One cramp, an hour on: whoever glues next has it in the next lesson, not when the hour is over."""
    glue = Activity("glue", 20, (), (Keep(0, 1, 60),))
    asked = Problem((glue, replace(glue, name="glue too")), (1,), (LESSONS,))
    found = searched(asked, schedules=1, seed=1)
    assert [place.start for place in found.placed] == [0, 40]
    assert faults(asked, found) == []
    wrong = Schedule((found.placed[0], Placed(0, 20, 40, ())))
    assert faults(asked, wrong) == ["2 of thing 0 are taken at 120, and there are 1."]
    assert faults(replace(asked, names=("sash cramp",)), wrong) == ["2 of sash cramp are taken at 120, and there are 1."]


def test_what_is_kept_is_never_away() -> None:
    glue = Activity("glue", 20, (), (Keep(0, 1, 60),))
    with pytest.raises(ValueError, match="a thing that is kept cannot be away"):
        Problem((glue,), (1,), (LESSONS,), ((0, 1, 100, 140),))


def test_what_goes_on_in_the_next_window_takes_nothing_between() -> None:
    """Nor does the solver hold it as taken there, so it finds what the checker finds no fault with."""
    long = Activity("long", 60, (Need((0,)),), splits=5)
    between = Activity("between", 10, (), (Keep(0, 1, 0),), (), (1,))
    asked = Problem((long, between), (1,), (LESSONS, Calendar(((200, 210),))))
    there = Schedule((Placed(0, 0, 60, (0,)), Placed(1, 0, 10, ())))
    assert faults(asked, there) == []
    answer = solve(asked, there, 60, effort=1.0)
    assert answer.schedule is not None
    assert answer.proved
    assert ends(asked, answer.schedule) == 60
    assert faults(asked, answer.schedule) == []


def test_what_goes_on_leaves_five_minutes_on_either_side() -> None:
    busy = Activity("busy", 37, (Need((0,)),))
    long = Activity("long", 20, (Need((0,)),), after=(After(0),), splits=5)
    asked = Problem((busy, long), (1,), (LESSONS,))
    found = searched(asked, schedules=1, seed=1)
    assert found.placed[1].start == 40
    shorter = Problem((replace(busy, minutes=35), long), (1,), (LESSONS,))
    found = searched(shorter, schedules=1, seed=1)
    assert found.placed[1].start == 35


@pytest.mark.parametrize(
    ("place", "text"),
    [
        (Placed(0, 30, 60, (0,)), "work: it goes over the end of a window."),
        (Placed(0, 0, 20, (0,)), "work: it has 20 minutes of 30."),
        (Placed(0, 0, 30, (1,)), "work: it takes what it may not take."),
    ],
)
def test_the_checker_notices(place: Placed, text: str) -> None:
    asked = Problem((Activity("work", 30, (Need((0,)),)),), (1, 1), (LESSONS,))
    assert faults(asked, Schedule((place,))) == [text]


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_what_is_found_is_without_fault_the_same_again_and_no_bound_is_above_it(seed: int) -> None:
    asked = problem(seed)
    assert in_order(asked)
    found = searched(asked, schedules=40, seed=seed)
    assert faults(asked, found) == []
    assert lower_bound(asked).minute <= ends(asked, found)
    assert searched(asked, schedules=40, seed=seed) == found


@settings(max_examples=100, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_an_order_moved_back_and_forth_is_never_worse_and_in_the_mirror_nothing_waits_for_what_came_after(seed: int) -> None:
    asked = problem(seed, windows=20)
    order = next(orders(asked, seed))
    justifier = Justifier(asked)
    plain, moved = justifier.made(order), justifier.justified(order, 3)
    assert plain is not None
    assert moved is not None
    assert moved.worth <= plain.worth
    assert schedule_by(asked, moved.order) == moved.schedule
    back = schedule_by(justifier.mirror, Order(plain.order.rank[::-1].copy()))
    assert back is not None
    assert in_order(justifier.mirror)
    assert faults(justifier.mirror, back) == []
    assert [len(each.after) for each in mirrored(justifier.mirror).activities] == [len(each.after) for each in asked.activities]


def test_moving_back_and_forth_makes_room_for_what_cannot_wait() -> None:
    """A saw for one, lessons of 40 minutes. In the order given the short way saws first, and the long way, which glues for a day
    before it can plane, ends in the third lesson; from its end it is seen that the short way can wait."""
    saw, bench = Need((0,)), Need((1,))
    short = Activity("short", 40, (saw,), group=0)
    long = Activity("long", 40, (saw,), group=1)
    glued = Activity("plane", 40, (bench,), after=(After(1, 1000),), group=1)
    asked = Problem((short, long, glued), (1, 2), (LESSONS,))
    justifier = Justifier(asked)
    order = Order(np.arange(3.0))
    plain, moved = justifier.made(order), justifier.justified(order, 1)
    assert plain is not None
    assert moved is not None
    assert [place.start for place in plain.schedule.placed] == [0, 40, 80]
    assert [place.start for place in moved.schedule.placed] == [40, 0, 40]


def test_from_moment_to_moment_nothing_is_kept_free_for_what_cannot_start_yet() -> None:
    """Planing at one bench is first by rank, and waits for sawing; sanding there could begin at once."""
    saw = Activity("saw", 10, (Need((0,)),), group=0)
    plane = Activity("plane", 10, (Need((1,)),), after=(After(0),), group=0)
    sand = Activity("sand", 20, (Need((1,)),), group=1)
    placer = Placer(Problem((saw, plane, sand), (1, 1), (LESSONS,)))
    one_by_one, by_moments = (placer.schedule(Order(np.arange(3.0), by_moments=each)) for each in (False, True))
    assert one_by_one is not None
    assert by_moments is not None
    assert [place.start for place in one_by_one.placed] == [0, 10, 20]
    assert [place.start for place in by_moments.placed] == [0, 20, 0]


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_a_schedule_from_moment_to_moment_is_without_fault_and_its_order_gives_one_too(seed: int) -> None:
    asked = problem(seed, windows=40)
    order = next(each for each in orders(asked, seed) if each.by_moments)
    made = Justifier(asked).made(order)
    assert made is not None
    assert faults(asked, made.schedule) == []
    again = Justifier(asked).made(made.order)
    assert again is not None
    assert not made.order.by_moments
    assert faults(asked, again.schedule) == []


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_what_is_moved_late_starts_no_sooner_than_before_and_everything_else_stays(seed: int) -> None:
    asked = problem(seed, windows=24)
    found = searched(asked, schedules=10, seed=seed)
    moving = {number for number, activity in enumerate(asked.activities) if number % 3 == 0 or activity.group < 0}
    moved = Placer(asked).moved_late(found, moving)
    assert faults(asked, moved) == []
    for number, (before, after) in enumerate(zip(found.placed, moved.placed, strict=True)):
        assert after.start >= before.start if number in moving else after == before


def test_a_machine_is_set_just_before_it_is_used() -> None:
    """Staff have the day before each lesson; the work is in the second."""
    staff = Calendar(((0, 60), (1400, 1460)))
    set_up = Activity("set", 10, (Need((0,)),), calendars=(1,), group=-1)
    busy = Activity("busy", 40, (Need((1,)),), group=0)
    use = Activity("use", 20, (Need((0,)),), after=(After(0), After(1)), group=0)
    asked = Problem((set_up, busy, use), (1, 1), (LESSONS, staff))
    found = searched(asked, schedules=1)
    assert [place.start for place in found.placed] == [0, 0, 40]
    assert [place.start for place in Placer(asked).moved_late(found, [0]).placed] == [110, 0, 40]


def test_crossing_finds_what_no_rule_finds() -> None:
    """24 groups of the made-up problem of seed 7: the rules alone end later."""
    asked = problem(7, groups=24, steps=6, windows=60)
    rules, crossed = (best_order(asked, schedules=many, seed=1) for many in (76, 400))
    assert rules is not None
    assert crossed is not None
    assert crossed.worth < rules.worth


def test_what_is_shown_need_not_come_before_all_else() -> None:
    """What dries for a day begins in the first lesson only if the one adult shows something in the second."""
    lessons = Calendar(tuple((day, day + 10) for day in (0, 100, 200, 300)))
    adult = Need((0,))
    shown = Activity("shown", 10, (adult,), group=-1)
    coat = Activity("coat", 10, (adult,), group=0)
    second = Activity("second coat", 10, after=(After(1, 150),), group=0)
    use = Activity("use", 10, after=(After(0),), group=1)
    search = best_order(Problem((shown, coat, second, use), (1,), (lessons,)), schedules=60, seed=1)
    assert search is not None
    assert not search.order.first
    assert [place.start for place in search.schedule.placed] == [10, 0, 20, 20]


def test_an_interrupt_keeps_what_is_found_by_then() -> None:
    asked = problem(7, groups=6, steps=4, windows=60)

    def interrupt(_: Schedule) -> bool:
        raise KeyboardInterrupt

    search = best_order(asked, schedules=100, seed=1, enough=interrupt)
    assert search is not None
    assert search.stopped
    assert search.schedules < 20
    assert faults(asked, search.schedule) == []


@settings(max_examples=25, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_the_bound_is_never_above_the_best_that_a_solver_proves(seed: int) -> None:
    """OR-Tools CP-SAT, a general-purpose solver, finds the best end of small problems."""
    asked = problem(seed, groups=2, steps=3, windows=8)
    found = searched(asked, schedules=4, seed=seed)
    answer = solve(asked, found, ends(asked, found), effort=10.0)
    assert answer.proved
    assert answer.schedule is not None
    assert faults(asked, answer.schedule) == []
    assert lower_bound(asked).minute <= ends(asked, answer.schedule) <= ends(asked, found)


def test_the_solver_is_never_worse_and_repeats_itself() -> None:
    asked = problem(3, groups=4, steps=4)
    plain = best_schedule(asked, schedules=5)
    one, two = (best_schedule(asked, schedules=5, effort=1.0) for _ in range(2))
    assert plain is not None
    assert one is not None
    assert one == two
    assert ends(asked, one.schedule) <= ends(asked, plain.schedule)
    assert one.least <= one.last(asked)


def test_staffs_work_and_the_wait_behind_it_hold_nothing_up_that_it_is_long_before() -> None:
    """Staff glue in their own time, long before: the glue has set when the first lesson starts. A bound that counted the wait
    from the start of lessons was above the plan."""
    staff = Calendar(((-400, -200), (150, 1530)))
    glue = Activity("glue", 20, (Need((0,)),), calendars=(1,), group=-1)
    clean = Activity("clean", 10, (Need((1,)),), after=(After(0, 60),))
    away = Activity("put away", 5, (Need((0,)),), after=(After(1, 700),), calendars=(1,), group=-1)
    asked = Problem((glue, clean, away), (1, 1), (LESSONS, staff))
    found = searched(asked, schedules=1, seed=1)
    assert faults(asked, found) == []
    assert ends(asked, found) == 10
    assert lower_bound(asked).minute == 10


def test_a_class_of_nobody_has_a_schedule_too() -> None:
    asked = Problem((Activity("set", 5, (Need((0,)),), group=-1),), (1,), (LESSONS,))
    assert [place.start for place in searched(asked, schedules=5).placed] == [0]


def test_nothing_fits_where_there_is_no_time() -> None:
    asked = Problem((Activity("work", 50, ()),), (), (LESSONS,))
    assert best_order(asked, schedules=3, seed=1) is None
