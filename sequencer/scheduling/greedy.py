"""Places one activity after another at its earliest moment, by a rule that says which comes next.

Serial generation of schedules (R. Kolisch, European Journal of Operational Research 90, 1996). What is taken of a thing is kept
as whole numbers whose bits are minutes at work, one for each count, so that all starts of an activity are found in a few
operations.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from heapq import heapify, heappop, heappush
from itertools import product

from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.problem import Activity, Placed, Problem, Schedule, reached, starts_allowed


def runs(free: int, long: int) -> int:
    """The bits at which so many set bits in a row start."""
    have = 1
    while have < long:
        step = min(have, long - have)
        free &= free >> step
        have += step
    return free


@cache
def starts_of(calendar: Calendar, minutes: int, splits: int) -> int:
    """`starts_allowed`, remembered."""
    return starts_allowed(calendar, minutes, splits)


class Board:
    """What is taken so far. `taken[calendar][thing][n]` has a bit for every minute at which more than n of the thing are
    taken."""

    def __init__(self, problem: Problem, patience: int = 0) -> None:
        self.problem, self.patience = problem, patience
        self.whole = tuple((1 << calendar.minutes) - 1 for calendar in problem.calendars)
        self.taken = [[[0] * count for count in problem.counts] for _ in problem.calendars]
        for thing, amount, start, stop in problem.away:
            self._take_real(thing, amount, start, stop)

    def _free(self, calendar: int, thing: int, amount: int) -> int:
        levels = self.taken[calendar][thing]
        if amount > len(levels):
            return 0
        return self.whole[calendar] & ~levels[len(levels) - amount]

    def _take(self, calendar: int, thing: int, amount: int, bits: int) -> None:
        levels = self.taken[calendar][thing]
        used = levels.index(0) if 0 in levels else len(levels)
        for at in range(min(used + amount, len(levels)) - 1, -1, -1):
            levels[at] |= bits & levels[at - amount] if at >= amount else bits

    def _take_real(self, thing: int, amount: int, start: int, stop: int) -> None:
        for number, calendar in enumerate(self.problem.calendars):
            low, high = calendar.at(start), calendar.at(stop)
            if low < high:
                self._take(number, thing, amount, (1 << high) - (1 << low))

    def place(self, activity: Activity, done: Sequence[Placed | None], soonest: int) -> Placed | None:
        """The earliest place for an activity from a moment on, taken; None where there is none."""
        best: tuple[int, Placed] | None = None
        for number in activity.calendars:
            calendar = self.problem.calendars[number]
            waits = [
                (self.problem.calendars[before.calendar], before.stop, each.wait)
                for each in activity.after
                for before in [done[each.activity]]
                if before is not None
            ]
            place = self._earliest(activity, number, max(reached(waits, calendar), calendar.at(soonest)))
            if place is not None and (best is None or calendar.real_end(place.stop) < best[0]):
                best = calendar.real_end(place.stop), place
        if best is None:
            return None
        place = best[1]
        bits = (1 << place.stop) - (1 << place.start)
        for need, thing in zip(activity.needs, place.taken, strict=True):
            self._take(place.calendar, thing, need.amount, bits)
        own = self.problem.calendars[place.calendar]
        for keep in activity.keeps:
            self._take_real(keep.thing, keep.amount, own.real(place.start), own.real_end(place.stop) + keep.minutes)
        return place

    def _earliest(self, activity: Activity, number: int, soonest: int) -> Placed | None:
        calendar = self.problem.calendars[number]
        allowed = starts_of(calendar, activity.minutes, activity.splits) >> soonest << soonest
        free = self.whole[number]
        for need in activity.needs:
            if len(need.options) == 1:
                free &= self._free(number, need.options[0], need.amount)
        open_needs = [need for need in activity.needs if len(need.options) > 1]
        best: tuple[int, tuple[int, ...]] | None = None
        for chosen in product(*(need.options for need in open_needs)):
            room = free
            for need, thing in zip(open_needs, chosen, strict=True):
                room &= self._free(number, thing, need.amount)
            start = self._first(activity, number, runs(room, activity.minutes) & allowed)
            if start is not None and (best is None or start < best[0] - self.patience):
                best = start, chosen
        if best is None:
            return None
        start, chosen = best
        rest = iter(chosen)
        taken = tuple(need.options[0] if len(need.options) == 1 else next(rest) for need in activity.needs)
        return Placed(number, start, start + activity.minutes, taken)

    def _first(self, activity: Activity, number: int, starts: int) -> int | None:
        """The first of the starts at which what is kept is there for as long as it is kept."""
        while starts:
            start = (starts & -starts).bit_length() - 1
            clash = self._clash(activity, number, start)
            if clash < start:
                return start
            starts = starts >> (clash + 1) << (clash + 1)
        return None

    def _clash(self, activity: Activity, number: int, start: int) -> int:
        """The last minute of the own calendar up to which what is kept is not there; -1 where it is."""
        own = self.problem.calendars[number]
        clash = -1
        for keep in activity.keeps:
            low, high = own.real(start), own.real_end(start + activity.minutes) + keep.minutes
            for other, calendar in enumerate(self.problem.calendars):
                first, last = calendar.at(low), calendar.at(high)
                away = ~self._free(other, keep.thing, keep.amount) & ((1 << last) - (1 << first))
                if away > 0:
                    moment = calendar.real(away.bit_length() - 1)
                    clash = max(clash, own.at(moment) if other == number else max(own.at(moment) - 1, start))
        return clash


@dataclass(frozen=True)
class Order:
    """What a schedule is made by.

    rank
        Of each activity: of those that can come next the one of the lowest rank is placed first.
    patience
        So many minutes are waited for a thing that stands earlier among the options.
    windows
        The windows of the first calendar before which some activities do not start, in place of their own soonest time.
    """

    rank: Sequence[float]
    patience: int = 0
    windows: Mapping[int, int] = field(default_factory=dict)

    def asked(self, problem: Problem) -> Problem:
        """The problem with its activities no sooner than in their windows."""
        activities = list(problem.activities)
        for number, window in self.windows.items():
            activities[number] = replace(activities[number], soonest=problem.calendars[0].windows[window][0])
        return replace(problem, activities=tuple(activities))


def schedule_by(problem: Problem, order: Order) -> Schedule | None:
    """The schedule of an order. None where an activity finds no place in the windows."""
    board = Board(problem, order.patience)
    starts = problem.calendars[0].windows
    soonest = [activity.soonest for activity in problem.activities]
    for number, window in order.windows.items():
        soonest[number] = starts[window][0]
    placed: list[Placed | None] = [None] * len(problem.activities)
    left = [len(activity.after) for activity in problem.activities]
    ready = [(order.rank[number], number) for number, count in enumerate(left) if not count]
    heapify(ready)
    while ready:
        _, number = heappop(ready)
        place = board.place(problem.activities[number], placed, soonest[number])
        if place is None:
            return None
        placed[number] = place
        for each in problem.followers[number]:
            left[each.activity] -= 1
            if not left[each.activity]:
                heappush(ready, (order.rank[each.activity], each.activity))
    return Schedule(tuple(place for place in placed if place is not None))
