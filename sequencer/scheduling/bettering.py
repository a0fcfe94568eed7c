"""Betters an order by small changes, each kept if the schedule it gives is no worse.

Local search over the ranks that serial generation places activities by (the random keys of J. C. Bean, ORSA Journal on Computing
6, 1994): alike activities are drawn forward or put back together, so are those of one group, or all are shaken a little; and what
is done at the start of a window is moved to another.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from random import Random

from sequencer.scheduling.greedy import Order, schedule_by
from sequencer.scheduling.problem import Problem, Schedule, ends
from sequencer.scheduling.rules import FIRST

STEEP = 6
"""Late ends weigh by this power: the last of all counts most, and a little is gained by every other."""
SHIFTS = (0.02, 0.1, 0.3)
"""How far activities are drawn forward or put back, as shares of the longest way."""
SHAKES = (0.01, 0.05)
PATIENCES = (0, 5, 20, 60)
MOVES = (-2, -1, 1, 2)
"""By so many windows what is done at the start of one is moved."""


def worth(problem: Problem, schedule: Schedule) -> tuple[int, float]:
    """What is made small: the windows that are used, and the ends of all groups, late ones weighing most."""
    calendar = problem.calendars[0]
    last: dict[int, int] = {}
    for activity, place in zip(problem.activities, schedule.placed, strict=True):
        if place.calendar == 0:
            last[activity.group] = max(last.get(activity.group, 0), place.stop)
    whole = max(calendar.minutes, 1)
    return calendar.window_of_end(ends(problem, schedule)), sum((stop / whole) ** STEEP for stop in last.values())


def bettered(
    problem: Problem,
    order: Order,
    schedule: Schedule,
    alike: Sequence[Hashable],
    *,
    schedules: int,
    seed: int,
    enough: Callable[[Schedule], bool] = lambda _: False,
    say: Callable[[int], None] = lambda _: None,
) -> tuple[Order, Schedule]:
    """The best order that so many schedules find from one on, and its schedule; both as given where none is better.

    alike
        A key for each activity, the same for those that are moved together.
    say
        Is told how many windows are used whenever they get fewer.
    """
    best, change = worth(problem, schedule), _Change(problem, alike, seed)
    for _ in range(schedules if change.together else 0):
        if enough(schedule):
            break
        tried = change.of(order)
        found = schedule_by(problem, tried)
        if found is None or (now := worth(problem, found)) > best:
            continue
        if now[0] < best[0]:
            say(now[0] + 1)
        best, order, schedule = now, tried, found
    return order, schedule


class _Change:
    """One small change after the other."""

    def __init__(self, problem: Problem, alike: Sequence[Hashable], seed: int) -> None:
        self.random = Random(seed)
        self.windows = len(problem.calendars[0].windows)
        together: dict[Hashable, list[int]] = {}
        groups: dict[int, list[int]] = {}
        for number, (activity, key) in enumerate(zip(problem.activities, alike, strict=True)):
            if activity.group >= 0:
                together.setdefault(key, []).append(number)
                groups.setdefault(activity.group, []).append(number)
        self.together, self.groups = list(together.values()), list(groups.values())

    def of(self, order: Order) -> Order:
        """An order that differs a little."""
        chance = self.random.random()
        if chance < 0.45:
            return self._shifted(order, [self.random.choice(self.together) for _ in range(self.random.choice((1, 1, 2, 3)))])
        if chance < 0.6:
            return self._shifted(order, [self.random.choice(self.groups)])
        if chance < 0.7:
            far = self.random.choice(SHAKES)
            rank = [each if each <= FIRST else each + self.random.gauss(0, far) for each in order.rank]
            return replace(order, rank=rank)
        if chance < 0.75 or not order.windows:
            return replace(order, patience=self.random.choice(PATIENCES))
        windows = dict(order.windows)
        for _ in range(self.random.choice((1, 1, 2, 4))):
            number = self.random.choice(list(windows))
            windows[number] = min(max(windows[number] + self.random.choice(MOVES), 0), self.windows - 1)
        return replace(order, windows=windows)

    def _shifted(self, order: Order, lists: Sequence[Sequence[int]]) -> Order:
        rank = list(order.rank)
        for numbers in lists:
            far = self.random.gauss(0, self.random.choice(SHIFTS))
            for number in numbers:
                rank[number] += far
        return replace(order, rank=rank)
