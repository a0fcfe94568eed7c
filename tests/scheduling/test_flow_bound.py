"""No schedule takes fewer windows than the linear programs say, and where several things hold it up together they say more than
the formula."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.scheduling.bound import Ways, lower_bound
from sequencer.scheduling.breeding import best_order
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.checked import faults
from sequencer.scheduling.flow_bound import Flow, fewest
from sequencer.scheduling.kinds import Kinds
from sequencer.scheduling.lags import Lags
from sequencer.scheduling.problem import Activity, After, Keep, Need, Problem, Schedule, ends
from sequencer.scheduling.program import Program
from sequencer.scheduling.solver import solve
from tests.scheduling.made_up import problem

LESSONS = Calendar(tuple((number * 1440, number * 1440 + 40) for number in range(12)))


def windows_of(asked: Problem, minute: int) -> int:
    return asked.calendars[0].window_of_end(minute) + 1


def by_programs(asked: Problem) -> int:
    """The windows that the programs ask for, with no other bound to start from."""
    flow, windows = Flow(asked, len(asked.calendars[0].windows)), 0
    while windows < flow.most and flow.longer_than(windows + 1) is not None:
        windows += 1
    return windows + 1


def mixed(seed: int, **size: int) -> Problem:
    """A made-up problem; in every third groups are mixed up, so that few activities are alike and nothing is one group's own."""
    asked = problem(seed, **size)
    random = Random(seed)
    if seed % 3:
        return asked
    return replace(asked, activities=tuple(replace(each, group=random.randint(-1, 2)) for each in asked.activities))


def found_for(asked: Problem, seed: int) -> Schedule:
    search = best_order(asked, schedules=20, seed=seed)
    assert search is not None
    assert faults(asked, search.schedule) == []
    return search.schedule


@settings(max_examples=200, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_no_schedule_that_is_found_takes_fewer_windows(seed: int) -> None:
    asked = mixed(seed, groups=seed % 5 + 1, steps=seed % 4 + 2, windows=24)
    assert by_programs(asked) <= windows_of(asked, ends(asked, found_for(asked, seed)))


@settings(max_examples=25, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_no_schedule_that_a_solver_finds_takes_fewer_windows(seed: int) -> None:
    """OR-Tools CP-SAT, a general-purpose solver, finds the best end of small problems."""
    asked = mixed(seed, groups=2, steps=3, windows=8)
    found = found_for(asked, seed)
    answer = solve(asked, found, ends(asked, found), effort=10.0)
    assert answer.schedule is not None
    assert by_programs(asked) <= windows_of(asked, ends(asked, answer.schedule))


def two_things(sawing: int, fitting: int) -> Problem:
    """Four students saw, one a lesson, with half of the adult; a day later each fits, with the whole of the adult."""
    saw, adult = 4, 5
    activities: list[Activity] = []
    for group in range(4):
        saws = (Need((group,)), Need((saw,)), Need((adult,)))
        activities.append(Activity("saw", sawing, saws, splits=5, group=group))
        fit = (Need((group,)), Need((adult,), 2))
        activities.append(Activity("fit", fitting, fit, after=(After(len(activities) - 1, 100),), splits=5, group=group))
    return Problem(tuple(activities), (1, 1, 1, 1, 1, 2), (LESSONS,))


def test_what_the_first_lesson_cannot_use_is_missing_later() -> None:
    """All work with the adult fills five lessons (4 x 40 x 1/2 + 4 x 30 = 200 minutes), sawing and one fit fill five; but in the
    first lesson one student is at the saw and half of the adult is idle."""
    asked = two_things(40, 30)
    assert windows_of(asked, lower_bound(asked).minute) == 5
    at, windows, bound = fewest(((asked, 5),))
    assert (at, windows) == (0, 6)
    assert bound is not None
    assert bound.minute == 201
    assert bound.together == ((5,), (4,))
    assert bound.things == (4, 5)


def test_where_there_is_room_the_formula_stands() -> None:
    asked = two_things(40, 20)
    assert windows_of(asked, lower_bound(asked).minute) == 5
    assert fewest(((asked, 5),)) == (0, 5, None)


@pytest.mark.parametrize("known", [1, 2, 3, 4, 5, 6])
def test_from_wherever_it_is_looked_for_the_least_is_the_same(known: int) -> None:
    """Steps that double and then halve end where steps of one window end."""
    asked = two_things(40, 30)
    flow, windows = Flow(asked, 20), known
    while flow.longer_than(windows) is not None:
        windows += 1
    assert fewest(((asked, known),))[1] == windows == 6


def test_of_two_courses_the_one_that_asks_for_less_counts() -> None:
    held, free = two_things(40, 30), two_things(40, 20)
    assert fewest(((held, 5), (free, 5))) == (1, 5, None)
    assert fewest(((held, 5), (free, 7)))[:2] == (0, 6)


def test_what_is_kept_is_missing_until_it_is_given_back() -> None:
    """Two cramps for a day and a half: two of six students glue every second lesson."""
    glue = tuple(Activity("glue", 10, (Need((group,)),), (Keep(6, 1, 2000),), group=group) for group in range(6))
    asked = Problem(glue, (1,) * 6 + (2,), (LESSONS,))
    assert by_programs(asked) == windows_of(asked, ends(asked, found_for(asked, 1))) == 5


def test_of_long_work_no_second_piece_has_room_beside_short_work() -> None:
    """Twenty-one minutes have room once in a lesson, and beside them the short work; all together would fill three lessons."""
    long = tuple(Activity("long", 21, (Need((0,)),), group=group) for group in range(4))
    short = (Activity("short", 5, (Need((0,)),), group=4),)
    asked = Problem((*long, *short), (1,), (LESSONS,))
    assert by_programs(asked) == 4


def test_what_is_away_has_no_room() -> None:
    work = tuple(Activity("work", 20, (Need((0,)),), group=group) for group in range(4))
    asked = Problem(work, (1,), (LESSONS,), ((0, 1, 0, 1440), (0, 1, 20, 1440)))
    assert by_programs(asked) == 3


def test_alike_work_of_alike_groups_is_one_kind() -> None:
    asked = two_things(40, 30)
    kinds = Kinds(asked)
    assert kinds.members == [[0, 2, 4, 6], [1, 3, 5, 7]]
    assert kinds.own == {group: group for group in range(4)}
    assert kinds.before == [{}, {0: 100}]
    longer = replace(asked.activities[2], minutes=39)
    apart = Kinds(replace(asked, activities=(*asked.activities[:2], longer, *asked.activities[3:])))
    assert apart.members == [[0, 4, 6], [2], [1, 5, 7], [3]]


def test_a_groups_own_work_lies_between() -> None:
    """Between the first step and the last lie two of 30 minutes, side by side in the order but not for one student."""
    seat = (Need((0,)),)
    first, last = Activity("first", 10, seat), Activity("last", 10, seat, after=(After(1), After(2)))
    between = tuple(Activity(name, 30, seat, after=(After(0),)) for name in ("one", "other"))
    asked = Problem((first, *between, last), (1,), (LESSONS,))
    lags = Lags(Kinds(asked), Ways(asked), 6)
    (kind,) = [kind for kind in lags.sure if lags.kinds.activity(kind).name == "last"]
    assert lags.after[0][kind].windows.tolist() == [1, 2, 3, 4, 5, 6]


def test_a_wait_through_staffs_own_time_counts() -> None:
    """Staff clean up two days after gluing, in the hour after the lesson; students go on in the lesson after that."""
    staff = Calendar(tuple((start + 100, start + 160) for start, _ in LESSONS.windows))
    glue = Activity("glue", 10, (Need((0,)),))
    clean = Activity("clean", 10, (Need((1,)),), after=(After(0, 2 * 1440),), calendars=(1,), group=-1)
    finish = Activity("finish", 10, (Need((0,)),), after=(After(1),))
    asked = Problem((glue, clean, finish), (1, 1), (LESSONS, staff))
    assert by_programs(asked) == windows_of(asked, ends(asked, found_for(asked, 1))) == 4


def test_what_waits_for_everybody_has_no_larger_share_than_they() -> None:
    """A setting waits for four students; the next four steps wait for it. No lag is known to the others' steps but through it."""
    seats = range(4)
    use = tuple(Activity("use", 10, (Need((seat,)), Need((4,))), group=seat) for seat in seats)
    setting = Activity("set", 5, (Need((4,)),), after=tuple(After(seat) for seat in seats), group=-1)
    again = tuple(Activity("again", 10, (Need((seat,)), Need((4,))), after=(After(4),), group=seat) for seat in seats)
    asked = Problem((*use, setting, *again), (1,) * 5, (LESSONS,))
    lags = Lags(Kinds(asked), Ways(asked), 6)
    assert [lag.share for lag in lags.after[0].values()] == [1, 1]
    assert by_programs(asked) == windows_of(asked, ends(asked, found_for(asked, 1))) == 3


def test_a_class_of_nobody_asks_for_nothing() -> None:
    staff = Activity("set", 5, (Need((0,)),), calendars=(1, 0), group=-1)
    asked = Problem((staff,), (1,), (LESSONS, LESSONS))
    assert fewest(((asked, 1),)) == (0, 1, None)


def test_no_multipliers_prove_what_is_not_so() -> None:
    """Shares that keep all sums and are whole where they are asked for: whatever a solver says, it is no proof."""
    for seed in range(100):
        random = Random(seed)
        shares = [random.choice((0, 0, 1)) for _ in range(6)]
        program = Program(6, [number for number, share in enumerate(shares) if share])
        sums = []
        for _ in range(8):
            times = [random.randint(-5, 5) for _ in range(6)]
            sums.append(sum(each * share for each, share in zip(times, shares, strict=True)))
            program.at_most(list(enumerate(times)), sums[-1], (0,))
        for _ in range(20):
            multipliers = np.array([random.choice((0, random.randint(0, 2**21))) for _ in range(8)], dtype=np.int64)
            assert not program._shows(multipliers)
        assert program.proved() is None


@pytest.mark.parametrize(("most", "rests_on"), [(1, None), (0, ((7,),))])
def test_a_proof_names_only_what_it_rests_on(most: int, rests_on: tuple[tuple[int, ...], ...] | None) -> None:
    program = Program(2, [0, 1])
    program.at_most([(0, 1)], most, (7,))
    program.at_most([(1, 1)], 1, (8,))
    program.at_most([(0, 1), (1, -1)], 0)
    assert program.proved() == rests_on


def test_who_waits_for_most_counts_where_groups_are_unlike() -> None:
    """A teacher shows three students and then one; the three work in the second lesson, in the third there is one bench for the
    last."""
    teacher, bench = 4, 5
    shown = [
        Activity("show", 40, (Need((teacher,)), *(Need((seat,)) for seat in seats)), group=-1) for seats in ((0, 1, 2), (3,))
    ]
    work = [
        Activity("work", 40, (Need((seat,)), Need((bench,))), after=(After(0 if seat < 3 else 1),), group=seat)
        for seat in range(4)
    ]
    first, second = (replace(each, needs=each.needs[:1]) for each in shown)
    asked = Problem((first, second, *work), (1, 1, 1, 1, 1, 3), (LESSONS,), ((bench, 2, 2880, 2920),))
    lags = Lags(Kinds(asked), Ways(asked), 6)
    assert [(lag.share, lag.windows.tolist()) for lag in lags.after[0].values()] == [(Fraction(3, 2), [1, 2, 3, 4, 5, 6])]
    assert by_programs(asked) == windows_of(asked, ends(asked, found_for(asked, 1))) == 3


def test_a_way_that_only_some_go_is_no_way_of_all() -> None:
    """What staff do comes after the long way of one student and right after the cut of the other: no lag holds for both."""
    cuts = [Activity("cut", 10, (Need((seat,)),), group=seat) for seat in range(2)]
    glued = [Activity("glue", 10, (Need((seat,)),), after=(After(seat, 3000),), group=seat) for seat in range(2)]
    staff = [Activity("look", 5, (Need((2,)),), after=(After(2 + seat), After(1 - seat)), group=-1) for seat in range(2)]
    lags = Lags(Kinds(asked := Problem((*cuts, *glued, *staff), (1, 1, 1), (LESSONS,))), Ways(asked), 6)
    assert [lags.kinds.members[kind] for kind in lags.sure] == [[0, 1], [2, 3], [4, 5]]
    assert set(lags.after[0]) == {1}
    assert set(lags.after[1]) == {2}
