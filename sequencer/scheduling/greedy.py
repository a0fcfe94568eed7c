"""Places one activity after another at its earliest moment, in an order that says which comes next; or goes from moment to moment
and starts whatever can start there.

Serial and parallel generation of schedules (R. Kolisch, European Journal of Operational Research 90, 1996).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sequencer.scheduling.arrays import Numbers, arrays
from sequencer.scheduling.placing import NOWHERE, latest, occupy, placed
from sequencer.scheduling.problem import Placed, Problem, Schedule

Ranks = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Order:
    """What a schedule is made by.

    rank
        Of each activity: of those that can come next the one of the lowest rank is placed first.
    patience
        So many minutes are waited for a thing that stands earlier among the options.
    """

    rank: Ranks
    patience: int = 0
    first: bool = True
    """Whether what no group does is placed before all else, so as soon as it can be; else by its rank too, where it may only be
    done in the first calendar."""
    by_moments: bool = False
    """Whether the schedule is made from moment to moment: what can start does, and nothing is kept free for what has a lower rank
    and cannot yet."""


@dataclass(frozen=True, eq=False)
class Places:
    """Where every activity lies: the calendar, the minutes at work from and until, which of the choices of things is taken, and
    the real time from and until."""

    calendar: Numbers
    start: Numbers
    stop: Numbers
    choice: Numbers
    begins: Numbers
    over: Numbers


class Placer:
    """Makes schedules of one problem, by as many orders as one likes."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._given = arrays(problem)

    def places(self, order: Order) -> Places | None:
        """Where everything lies by an order. None where an activity finds no place in the windows."""
        given = self._given
        found = np.empty((len(given.minutes), 3), dtype=np.int64)
        if not placed(given, order.rank, order.patience, order.by_moments, found):
            return None
        return self._places(found)

    def _places(self, found: Numbers) -> Places:
        given = self._given
        calendar, start, choice = found.T
        stop, base = start + given.minutes, given.base[calendar]
        return Places(calendar, start, stop, choice, given.real[base + start], given.real_end[base + stop])

    def schedule_of(self, places: Places) -> Schedule:
        """The same as a schedule."""
        rows = zip(places.calendar.tolist(), places.start.tolist(), places.stop.tolist(), places.choice.tolist(), strict=True)
        return Schedule(
            tuple(
                Placed(calendar, start, stop, self._things(number, choice))
                for number, (calendar, start, stop, choice) in enumerate(rows)
            )
        )

    def places_of(self, schedule: Schedule) -> Places:
        """Where everything lies in a schedule."""
        rows = [(each.calendar, each.start, self._choice(number, each.taken)) for number, each in enumerate(schedule.placed)]
        return self._places(np.array(rows, dtype=np.int64).reshape(-1, 3))

    def schedule(self, order: Order) -> Schedule | None:
        """The schedule of an order. None where an activity finds no place in the windows."""
        found = self.places(order)
        return None if found is None else self.schedule_of(found)

    def _things(self, number: int, choice: int) -> tuple[int, ...]:
        count = len(self.problem.activities[number].needs)
        start = self._given.things_at[number] + choice * count
        return tuple(self._given.things[start : start + count].tolist())

    def _choice(self, number: int, things: Sequence[int]) -> int:
        choices = range(self._given.choice_at[number + 1] - self._given.choice_at[number])
        return next(choice for choice in choices if self._things(number, choice) == tuple(things))

    def moved_late(self, schedule: Schedule, numbers: Collection[int]) -> Schedule:
        """A schedule with some activities as late as they can be while all others stay where they are. What nothing waits for
        stays too, and what keeps something."""
        given, activities = self._given, self.problem.activities
        own, free = list(schedule.placed), given.free.copy()
        moving = {number for number in numbers if self.problem.followers[number] and not activities[number].keeps}
        for number, place in enumerate(own):
            if number not in moving:
                occupy(given, free, number, place.calendar, place.start, self._choice(number, place.taken))
        for number in sorted(moving, key=lambda each: self._begins(own[each]), reverse=True):
            calendar, start = own[number].calendar, own[number].start
            later, choice = latest(given, free, number, calendar, start, self._no_later(number, own))
            if later == NOWHERE:
                return schedule
            own[number] = Placed(calendar, later, later + activities[number].minutes, self._things(number, choice))
            occupy(given, free, number, calendar, later, choice)
        return Schedule(tuple(own))

    def _begins(self, place: Placed) -> int:
        return self.problem.calendars[place.calendar].real(place.start)

    def _no_later(self, number: int, own: Sequence[Placed]) -> int:
        """The minute at which an activity is over at the latest, for those that wait for it."""
        calendar = self.problem.calendars[own[number].calendar]
        found = calendar.minutes
        for each in self.problem.followers[number]:
            after = own[each.activity]
            same = after.calendar == own[number].calendar and not each.wait
            found = min(found, after.start if same else calendar.at(self._begins(after) - each.wait))
        return found


def schedule_by(problem: Problem, order: Order) -> Schedule | None:
    """The schedule of one order. None where an activity finds no place in the windows."""
    return Placer(problem).schedule(order)
