"""Schedules an order from the end as well as from the start.

An order that is a schedule's own is moved as late as the end allows, everything that others wait for with it, and the schedule
made anew in the order that gives: what can wait makes room for what cannot (justification: V. Valls, F. Ballestín, S.
Quintanilla, European Journal of Operational Research 165, 2005). For the way back the problem is looked at in a mirror: windows,
waits and what comes after what are turned round.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.greedy import Order, Placer
from sequencer.scheduling.problem import ANY_TIME, After, Problem, Schedule
from sequencer.scheduling.worth import worth

BY_MOMENTS = 2
"""A schedule that is made from moment to moment takes as long as so many others."""
FIRST = -10.0
"""The rank of what no group does and may be done outside the first calendar: it is placed as soon as it can be."""


@dataclass(frozen=True)
class Made:
    """A schedule, the order that gives it, and what it is worth."""

    worth: tuple[int, float]
    order: Order
    schedule: Schedule


class Justifier:
    """Makes schedules of a problem forwards and backwards. `count`: how many so far."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.count = problem, 0
        self.mirror = mirrored(problem)
        self._ahead, self._back = Placer(problem), Placer(self.mirror)

    def made(self, order: Order) -> Made | None:
        """The schedule of an order, and the order that gives it activity by activity."""
        self.count += BY_MOMENTS if order.by_moments else 1
        soon = [each.group < 0 and (order.first or each.calendars != (0,)) for each in self.problem.activities]
        rank = [FIRST if first else rank for first, rank in zip(soon, order.rank, strict=True)]
        own = replace(order, rank=rank)
        schedule = self._ahead.schedule(own)
        if schedule is None:
            return None
        if order.by_moments:
            starts = [self.problem.calendars[each.calendar].real(each.start) for each in schedule.placed]
            own = Order(ranked(starts), order.patience, first=False)
        return Made(worth(self.problem, schedule), own, schedule)

    def justified(self, order: Order, times: int) -> Made | None:
        """The best of the schedules that an order gives and that come from moving it back and forth so many times."""
        now = best = self.made(order)
        for _ in range(times):
            if now is None:
                break
            late = self.latest(now.schedule)
            now = self.made(replace(order, rank=ranked(late), by_moments=False)) if late is not None else None
            if now is not None and best is not None and now.worth < best.worth:
                best = now
        return best

    def latest(self, schedule: Schedule) -> list[int] | None:
        """The real time at which each activity starts if all are moved as late as they can be, up to the end of the last window:
        those that end last first, but what no group does as soon as all that waits for it is moved, so that a demonstration for
        many comes shortly before its use. None where the windows are too few for it."""
        self.count += 1
        soon = [
            -math.inf if activity.group < 0 else -self.problem.calendars[each.calendar].real_end(each.stop)
            for activity, each in zip(self.problem.activities, schedule.placed, strict=True)
        ]
        back = self._back.schedule(Order(soon[::-1]))
        if back is None:
            return None
        zero = _end(self.problem)
        return [zero - self.mirror.calendars[each.calendar].real_end(each.stop) for each in reversed(back.placed)]


def ranked(times: Sequence[int]) -> list[float]:
    """Ranks from 0 to 1 in the order of times."""
    low, high = min(times, default=0), max(times, default=0)
    return [(each - low) / max(high - low, 1) for each in times]


def mirrored(problem: Problem) -> Problem:
    """The problem from its end: only good for ranks, since what is kept after an activity is kept after its mirror image too."""
    zero, count = _end(problem), len(problem.activities)
    return Problem(
        tuple(
            replace(
                activity,
                after=tuple(After(count - 1 - each.activity, each.wait) for each in followers),
                soonest=ANY_TIME,
            )
            for activity, followers in zip(reversed(problem.activities), reversed(problem.followers), strict=True)
        ),
        problem.counts,
        tuple(Calendar(_turned(calendar.windows, zero), calendar.slot) for calendar in problem.calendars),
        tuple((thing, amount, zero - stop, zero - start) for thing, amount, start, stop in problem.away),
    )


def _turned(windows: Iterable[tuple[int, int]], zero: int) -> tuple[tuple[int, int], ...]:
    return tuple(sorted((zero - stop, zero - start) for start, stop in windows))


def _end(problem: Problem) -> int:
    """The real time at which the last window of all is over."""
    return max(calendar.windows[-1][1] for calendar in problem.calendars if calendar.windows)
