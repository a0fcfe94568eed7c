"""A problem as arrays of whole numbers, for what is compiled (`placing.py`).

What belongs to one of several lies in a row behind what belongs to the one before it: `x_at[n]` is where that of the nth begins
in `x`, and `x_at[n + 1]` where it is over.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate, product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.problem import Problem, starts_allowed

Numbers = NDArray[np.int64]
Counts = NDArray[np.int32]


class Arrays(NamedTuple):
    """The minutes at work of all calendars stand in one row, with one more for the end of each.

    calendars
        `base`: where the minutes of a calendar begin in the row. `long`: how many there are. `real`, `real_end`: of each minute,
        as in `Calendar`. `opens`, `closes`: real time of the windows. `firsts`: the minute each window begins with.
    ways
        The calendars in which an activity may be done, the preferred first. `way_next`: where in `nexts` the row of a way begins
        that says of each minute which is the first from it on at which the activity may start; -1 where there is none.
    choices
        Which thing is taken for each need: a row of `things` for each way to choose among the options of all needs.
    followers
        What comes after an activity, and the wait between; `waits_for`: how many an activity comes after.
    free
        How many of each thing are there at each minute before anything is placed.
    """

    base: Numbers
    long: Numbers
    real: Numbers
    real_end: Numbers
    window_at: Numbers
    opens: Numbers
    closes: Numbers
    firsts: Numbers
    minutes: Numbers
    way_at: Numbers
    way_calendar: Numbers
    way_next: Numbers
    nexts: Numbers
    need_at: Numbers
    amounts: Numbers
    choice_at: Numbers
    things_at: Numbers
    things: Numbers
    keep_at: Numbers
    keep_thing: Numbers
    keep_amount: Numbers
    keep_minutes: Numbers
    follower_at: Numbers
    followers: Numbers
    waits: Numbers
    waits_for: Numbers
    free: Counts


def arrays(problem: Problem) -> Arrays:
    """A problem as arrays."""
    calendars, activities = problem.calendars, problem.activities
    nexts, way_next = _nexts(problem)
    choices = [list(product(*(need.options for need in activity.needs))) for activity in activities]
    sizes = [len(each) * len(activity.needs) for each, activity in zip(choices, activities, strict=True)]
    base = _starts(calendar.minutes + 1 for calendar in calendars)
    return Arrays(
        base=base[:-1],
        long=_row(calendar.minutes for calendar in calendars),
        real=np.concatenate([_real(calendar) for calendar in calendars]),
        real_end=np.concatenate([_real_end(calendar) for calendar in calendars]),
        window_at=_starts(len(calendar.windows) for calendar in calendars),
        opens=_row(start for calendar in calendars for start, _ in calendar.windows),
        closes=_row(stop for calendar in calendars for _, stop in calendar.windows),
        firsts=_row(first for calendar in calendars for first in calendar.firsts[:-1]),
        minutes=_row(activity.minutes for activity in activities),
        way_at=_starts(len(activity.calendars) for activity in activities),
        way_calendar=_row(calendar for activity in activities for calendar in activity.calendars),
        way_next=way_next,
        nexts=nexts,
        need_at=_starts(len(activity.needs) for activity in activities),
        amounts=_row(need.amount for activity in activities for need in activity.needs),
        choice_at=_starts(len(each) for each in choices),
        things_at=_starts(sizes)[:-1],
        things=_row(thing for each in choices for things in each for thing in things),
        keep_at=_starts(len(activity.keeps) for activity in activities),
        keep_thing=_row(keep.thing for activity in activities for keep in activity.keeps),
        keep_amount=_row(keep.amount for activity in activities for keep in activity.keeps),
        keep_minutes=_row(keep.minutes for activity in activities for keep in activity.keeps),
        follower_at=_starts(map(len, problem.followers)),
        followers=_row(each.activity for after in problem.followers for each in after),
        waits=_row(each.wait for after in problem.followers for each in after),
        waits_for=_row(len(activity.after) for activity in activities),
        free=_free(problem, base),
    )


def _row(numbers: Iterable[int]) -> Numbers:
    return np.array(list(numbers), dtype=np.int64)


def _starts(sizes: Iterable[int]) -> Numbers:
    """Where those of the given sizes begin in a row, and where the last is over."""
    return _row(accumulate(sizes, initial=0))


def _real(calendar: Calendar) -> Numbers:
    """When each minute at work starts, and the end of the last."""
    end = calendar.windows[-1][1] if calendar.windows else 0
    return np.concatenate([*(np.arange(start, stop) for start, stop in calendar.windows), np.array([end])])


def _real_end(calendar: Calendar) -> Numbers:
    """When work is over that ends at each minute: the end of a window, not the start of the next."""
    start = calendar.windows[0][0] if calendar.windows else 0
    return np.concatenate([np.array([start]), *(np.arange(start + 1, stop + 1) for start, stop in calendar.windows)])


def _nexts(problem: Problem) -> tuple[Numbers, Numbers]:
    """The rows that say where work may start next, each once, and where that of each way begins."""
    known: dict[tuple[int, int, int, int], int] = {}
    rows: list[Numbers] = []
    found: list[int] = []
    size = 0
    for activity in problem.activities:
        for number in activity.calendars:
            calendar = problem.calendars[number]
            asked = number, activity.minutes, activity.splits, calendar.at(activity.soonest)
            if asked not in known:
                known[asked] = size
                rows.append(_next_starts(calendar, activity.minutes, activity.splits, asked[-1]))
                size += len(rows[-1])
            found.append(known[asked])
    return np.concatenate(rows) if rows else _row(()), _row(found)


def _next_starts(calendar: Calendar, minutes: int, splits: int, soonest: int) -> Numbers:
    """Of each minute, and the end, the first from it on at which something so long may start; -1 where there is none."""
    count = calendar.minutes + 1
    allowed = starts_allowed(calendar, minutes, splits).to_bytes(count // 8 + 1, "little")
    there = np.unpackbits(np.frombuffer(allowed, dtype=np.uint8), bitorder="little")[:count].astype(bool)
    there[:soonest] = False
    starts = np.flatnonzero(there)
    places = np.searchsorted(starts, np.arange(count))
    return np.append(starts, -1)[places].astype(np.int64)


def _free(problem: Problem, base: Numbers) -> Counts:
    free = np.repeat(np.array(problem.counts, dtype=np.int32)[:, None], int(base[-1]), axis=1)
    for thing, amount, start, stop in problem.away:
        for first, calendar in zip(base, problem.calendars, strict=False):
            free[thing, first + calendar.at(start) : first + calendar.at(stop)] -= amount
    return free
