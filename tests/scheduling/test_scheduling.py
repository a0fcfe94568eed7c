"""Schedules keep what is asked, bounds are never above what can be had, and equal input gives equal output."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.scheduling.best import best_schedule
from sequencer.scheduling.bettering import bettered, worth
from sequencer.scheduling.bound import lower_bound
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.checked import faults
from sequencer.scheduling.problem import Activity, After, Keep, Need, Placed, Problem, Schedule, ends, in_order
from sequencer.scheduling.rules import best_by_rules, value
from sequencer.scheduling.solver import solve
from tests.scheduling.made_up import problem

LESSONS = Calendar(((100, 140), (1540, 1580), (2980, 3020)))


def test_minutes_at_work_are_counted_through_the_windows() -> None:
    assert LESSONS.minutes == 120
    assert [LESSONS.real(minute) for minute in (0, 39, 40, 119)] == [100, 139, 1540, 3019]
    assert [LESSONS.real_end(minute) for minute in (1, 40, 41, 120)] == [101, 140, 1541, 3020]
    assert [LESSONS.at(real) for real in (0, 100, 139, 140, 1000, 1550, 9999)] == [0, 0, 39, 40, 40, 50, 120]


def by_rules(asked: Problem, *, schedules: int, seed: int) -> Schedule:
    """The schedule that the rules find, where they find one."""
    found = best_by_rules(asked, schedules=schedules, seed=seed)
    assert found is not None
    return found[1]


def test_a_wait_is_real_time_and_not_time_at_work() -> None:
    """Glue of a day, spread until ten minutes past the start of the first lesson, has set ten minutes into the second."""
    glue, clean = Activity("glue", 10, (Need((0,)),)), Activity("clean", 5, (Need((0,)),))
    for soonest, wait, start in ((0, 1440, 50), (120, 1440, 70), (120, 1441, 71), (130, 1440, 80)):
        asked = Problem((replace(glue, soonest=soonest), replace(clean, after=(After(0, wait),))), (1,), (LESSONS,))
        found = by_rules(asked, schedules=1, seed=1)
        assert faults(asked, found) == []
        assert found.placed[1].start == start


def test_what_is_kept_is_given_back_when_somebody_is_there() -> None:
    """One cramp, an hour on: whoever glues next has it in the next lesson, not when the hour is over."""
    glue = Activity("glue", 20, (), (Keep(0, 1, 60),))
    asked = Problem((glue, replace(glue, name="glue too")), (1,), (LESSONS,))
    found = by_rules(asked, schedules=1, seed=1)
    assert [place.start for place in found.placed] == [0, 40]
    assert faults(asked, found) == []
    wrong = Schedule((found.placed[0], Placed(0, 20, 40, ())))
    assert faults(asked, wrong) == ["2 of thing 0 are taken at 120, and there are 1."]


def test_what_goes_on_leaves_five_minutes_on_either_side() -> None:
    busy = Activity("busy", 37, (Need((0,)),))
    long = Activity("long", 20, (Need((0,)),), after=(After(0),), splits=5)
    asked = Problem((busy, long), (1,), (LESSONS,))
    found = by_rules(asked, schedules=1, seed=1)
    assert found.placed[1].start == 40
    shorter = Problem((replace(busy, minutes=35), long), (1,), (LESSONS,))
    found = by_rules(shorter, schedules=1, seed=1)
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
def test_every_schedule_by_rules_is_without_fault_and_no_bound_is_above_it(seed: int) -> None:
    asked = problem(seed)
    assert in_order(asked)
    found = by_rules(asked, schedules=8, seed=seed)
    assert faults(asked, found) == []
    assert lower_bound(asked).minute <= ends(asked, found)
    again = by_rules(asked, schedules=8, seed=seed)
    assert again == found


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_a_bettered_order_is_without_fault_no_worse_and_the_same_again(seed: int) -> None:
    asked = problem(seed, windows=12)
    start = best_by_rules(asked, schedules=2, seed=seed)
    assert start is not None
    order, schedule = start
    order = replace(order, windows={0: 1})
    alike = [activity.name for activity in asked.activities]
    better, found = bettered(asked, order, schedule, alike, schedules=20, seed=seed)
    assert faults(better.asked(asked), found) == [] or found == schedule
    assert worth(asked, found) <= worth(asked, schedule)
    assert bettered(asked, order, schedule, alike, schedules=20, seed=seed) == (better, found)


def test_bettering_finds_what_no_rule_finds() -> None:
    """24 groups of the made-up problem of seed 7: the rules alone end later."""
    asked = problem(7, groups=24, steps=6, windows=60)
    start = best_by_rules(asked, schedules=10, seed=1)
    assert start is not None
    _, found = bettered(asked, *start, [activity.name[-1] for activity in asked.activities], schedules=150, seed=1)
    assert worth(asked, found) < worth(asked, start[1])


@settings(max_examples=25, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_the_bound_is_never_above_the_best_that_a_solver_proves(seed: int) -> None:
    """OR-Tools CP-SAT, a general-purpose solver, finds the best end of small problems."""
    asked = problem(seed, groups=2, steps=3, windows=8)
    found = by_rules(asked, schedules=4, seed=seed)
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
    assert value(asked, one.schedule)[1] <= value(asked, plain.schedule)[1]
    assert one.least <= one.last(asked)


def test_staffs_work_and_the_wait_behind_it_hold_nothing_up_that_it_is_long_before() -> None:
    """Staff glue in their own time, long before: the glue has set when the first lesson starts. A bound that counted the wait
    from the start of lessons was above the plan."""
    staff = Calendar(((-400, -200), (150, 1530)))
    glue = Activity("glue", 20, (Need((0,)),), calendars=(1,), group=-1)
    clean = Activity("clean", 10, (Need((1,)),), after=(After(0, 60),))
    away = Activity("put away", 5, (Need((0,)),), after=(After(1, 700),), calendars=(1,), group=-1)
    asked = Problem((glue, clean, away), (1, 1), (LESSONS, staff))
    found = by_rules(asked, schedules=1, seed=1)
    assert faults(asked, found) == []
    assert ends(asked, found) == 10
    assert lower_bound(asked).minute == 10


def test_where_nobody_has_anything_to_do_nothing_is_bettered() -> None:
    staff = Activity("set", 5, (Need((0,)),), group=-1)
    asked = Problem((staff,), (1,), (LESSONS,))
    start = best_by_rules(asked, schedules=1, seed=1)
    assert start is not None
    assert bettered(asked, *start, ["set"], schedules=5, seed=1) == start


def test_nothing_fits_where_there_is_no_time() -> None:
    asked = Problem((Activity("work", 50, ()),), (), (LESSONS,))
    assert best_by_rules(asked, schedules=3, seed=1) is None
