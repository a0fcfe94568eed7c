"""Schedules an order from the end as well as from the start.

An order that is a schedule's own is moved as late as the end allows, everything that others wait for with it, and the schedule
made anew in the order that gives: what can wait makes room for what cannot (justification: V. Valls, F. Ballestín, S.
Quintanilla, European Journal of Operational Research 165, 2005). For the way back the problem is looked at in a mirror: windows,
waits and what comes after what are turned round.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from sequencer.scheduling.arrays import Numbers
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.greedy import Order, Placer, Places, Ranks
from sequencer.scheduling.problem import ANY_TIME, After, Problem, Schedule
from sequencer.scheduling.worth import Worth

BY_MOMENTS = 2
"""A schedule that is made from moment to moment takes as long as so many others."""
FIRST = -10.0
"""The rank of what no group does and may be done outside the first calendar: it is placed as soon as it can be."""


@dataclass(frozen=True, eq=False)
class Made:
    """Where everything lies, the order that gives it, and what it is worth."""

    worth: tuple[int, float]
    order: Order
    places: Places
    placer: Placer

    @cached_property
    def schedule(self) -> Schedule:
        """The same as a schedule."""
        return self.placer.schedule_of(self.places)


class Justifier:
    """Makes schedules of a problem forwards and backwards. `count`: how many so far."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.count = problem, 0
        self.mirror = mirrored(problem)
        self._ahead, self._back = Placer(problem), Placer(self.mirror)
        self._worth = Worth(problem)
        self._nobodys = np.array([each.group < 0 for each in problem.activities], dtype=bool)
        self._elsewhere = self._nobodys & np.array([each.calendars != (0,) for each in problem.activities], dtype=bool)
        self._zero = _end(problem)

    def made(self, order: Order) -> Made | None:
        """The schedule of an order, and the order that gives it activity by activity."""
        self.count += BY_MOMENTS if order.by_moments else 1
        own = replace(order, rank=np.where(self._nobodys if order.first else self._elsewhere, FIRST, order.rank))
        places = self._ahead.places(own)
        if places is None:
            return None
        if order.by_moments:
            own = Order(ranked(places.begins), order.patience, first=False)
        return Made(self._worth.of(places), own, places, self._ahead)

    def justified(self, order: Order, times: int) -> Made | None:
        """The best of the schedules that an order gives and that come from moving it back and forth so many times."""
        now = best = self.made(order)
        for _ in range(times):
            if now is None:
                break
            late = self.latest(now.places)
            now = self.made(replace(order, rank=ranked(late), by_moments=False)) if late is not None else None
            if now is not None and best is not None and now.worth < best.worth:
                best = now
        return best

    def places_of(self, schedule: Schedule) -> Places:
        """Where everything lies in a schedule."""
        return self._ahead.places_of(schedule)

    def latest(self, places: Places) -> Numbers | None:
        """The real time at which each activity starts if all are moved as late as they can be, up to the end of the last window:
        those that end last first, but what no group does as soon as all that waits for it is moved, so that a demonstration for
        many comes shortly before its use. None where the windows are too few for it."""
        self.count += 1
        soon = np.where(self._nobodys, -np.inf, -places.over.astype(float))
        back = self._back.places(Order(soon[::-1].copy()))
        return None if back is None else self._zero - back.over[::-1]


def ranked(times: Numbers) -> Ranks:
    """Ranks from 0 to 1 in the order of times."""
    if not len(times):
        return np.zeros(0)
    low = times.min()
    found: Ranks = (times - low) / max(int(times.max() - low), 1)
    return found


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
