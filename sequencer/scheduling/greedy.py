"""Places one activity after another at its earliest moment, in an order that says which comes next; or goes from moment to moment
and starts whatever can start there.

Serial and parallel generation of schedules (R. Kolisch, European Journal of Operational Research 90, 1996). All starts of an
activity are found at once, as bits of a whole number (`tally.py`).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cache
from heapq import heapify, heappop, heappush
from itertools import product

from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.problem import Activity, After, Keep, Placed, Problem, Schedule, starts_allowed
from sequencer.scheduling.tally import Tally, lacking, nothing_taken, take


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


@dataclass(frozen=True)
class Order:
    """What a schedule is made by.

    rank
        Of each activity: of those that can come next the one of the lowest rank is placed first.
    patience
        So many minutes are waited for a thing that stands earlier among the options.
    """

    rank: Sequence[float]
    patience: int = 0
    first: bool = True
    """Whether what no group does is placed before all else, so as soon as it can be; else by its rank too, where it may only be
    done in the first calendar."""
    by_moments: bool = False
    """Whether the schedule is made from moment to moment: what can start does, and nothing is kept free for what has a lower rank
    and cannot yet."""


@dataclass(frozen=True)
class _Work:
    """An activity as it is placed: its calendars with the starts allowed in each, the amount of each need, what it takes that has
    one option, and what has several."""

    minutes: int
    calendars: tuple[tuple[int, int], ...]
    amounts: tuple[int, ...]
    sure: tuple[tuple[int, int], ...]
    open: tuple[tuple[tuple[int, ...], int], ...]
    keeps: tuple[Keep, ...]
    followers: tuple[After, ...]
    options: tuple[tuple[int, ...], ...]
    first: tuple[int, ...]
    """The first option of each need."""


class Placer:
    """Makes schedules of one problem, by as many orders as one likes."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._calendars = problem.calendars
        self._whole = [(1 << calendar.minutes) - 1 for calendar in problem.calendars]
        self._allowed: dict[tuple[int, int, int, int], int] = {}
        self._work = [self._compiled(number, activity) for number, activity in enumerate(problem.activities)]
        self._waited: dict[tuple[int, int, int, int], int] = {}
        self._fresh = [[nothing_taken(count, whole) for count in problem.counts] for whole in self._whole]
        for thing, amount, start, stop in problem.away:
            self._take_real(self._fresh, thing, amount, start, stop)

    def _compiled(self, number: int, activity: Activity) -> _Work:
        return _Work(
            activity.minutes,
            tuple((each, self._starts(activity, each, activity.soonest)) for each in activity.calendars),
            tuple(need.amount for need in activity.needs),
            tuple((need.options[0], need.amount) for need in activity.needs if len(need.options) == 1),
            tuple((need.options, need.amount) for need in activity.needs if len(need.options) > 1),
            activity.keeps,
            self.problem.followers[number],
            tuple(need.options for need in activity.needs),
            tuple(need.options[0] for need in activity.needs),
        )

    def _starts(self, activity: Activity, number: int, soonest: int) -> int:
        asked = number, activity.minutes, activity.splits, soonest
        if asked not in self._allowed:
            calendar = self._calendars[number]
            first = calendar.at(soonest)
            self._allowed[asked] = starts_of(calendar, activity.minutes, activity.splits) >> first << first
        return self._allowed[asked]

    def schedule(self, order: Order) -> Schedule | None:
        """The schedule of an order. None where an activity finds no place in the windows."""
        making = _Making(self)
        if order.by_moments:
            return self._by_moments(making, order)
        queue = [(order.rank[number], number) for number in making.free()]
        heapify(queue)
        while queue:
            _, number = heappop(queue)
            place = self._place(self._work[number], making.ready[number], making.taken, order.patience)
            if place is None:
                return None
            for other in making.put(number, place):
                heappush(queue, (order.rank[other], other))
        return making.schedule()

    def _by_moments(self, making: _Making, order: Order) -> Schedule | None:
        """Goes from moment to moment of the first calendar and starts whatever can start there, the lowest rank first. What may
        be done in other calendars is placed as soon as it can be."""
        queue = [(self._soonest(number, making), order.rank[number], number) for number in making.free()]
        heapify(queue)
        while queue:
            moment, rank, number = heappop(queue)
            work = self._work[number]
            if moment < 0:
                place = self._place(work, making.ready[number], making.taken, order.patience)
            else:
                place = self._earliest(work, 0, work.calendars[0][1], moment, making.taken[0], making.taken, 0)
                if place is not None and place.start > moment:
                    heappush(queue, (place.start, rank, number))
                    continue
                if place is not None:
                    self._occupy(work, place, making.taken)
            if place is None:
                return None
            for other in making.put(number, place):
                heappush(queue, (self._soonest(other, making), order.rank[other], other))
        return making.schedule()

    def _soonest(self, number: int, making: _Making) -> int:
        """The minute of the first calendar from which an activity can start, as far as what it waits for goes; -1 where it may be
        done in other calendars."""
        return making.ready[number][0] if self.problem.activities[number].calendars == (0,) else -1

    def nothing_taken(self) -> list[list[Tally]]:
        """What is taken of each thing in each calendar before anything is placed."""
        return [[tally[:] for tally in tallies] for tallies in self._fresh]

    def moved_late(self, schedule: Schedule, numbers: Collection[int]) -> Schedule:
        """A schedule with some activities as late as they can be while all others stay where they are. What nothing waits for
        stays too, and what keeps something."""
        taken = self.nothing_taken()
        placed, moving = list(schedule.placed), {n for n in numbers if self._work[n].followers and not self._work[n].keeps}
        for number, place in enumerate(placed):
            if number not in moving:
                self._occupy(self._work[number], place, taken)
        for number in sorted(
            moving, key=lambda each: self._calendars[placed[each].calendar].real(placed[each].start), reverse=True
        ):
            work = self._work[number]
            later = self._latest(work, placed[number], self._no_later(number, placed), taken)
            if later is None:
                return schedule
            placed[number] = later
            self._occupy(work, later, taken)
        return Schedule(tuple(placed))

    def _no_later(self, number: int, placed: Sequence[Placed]) -> int:
        """The minute at which an activity is over at the latest, for those that wait for it."""
        own = self._calendars[placed[number].calendar]
        latest = own.minutes
        for each in self._work[number].followers:
            after = placed[each.activity]
            real = self._calendars[after.calendar].real(after.start) - each.wait
            latest = min(latest, after.start if after.calendar == placed[number].calendar and not each.wait else own.at(real))
        return latest

    def _latest(self, work: _Work, place: Placed, no_later: int, taken: list[list[Tally]]) -> Placed | None:
        """The latest place from a place on, in the same calendar, that is over by a minute. None where not even the old one is
        free any more."""
        allowed = next(starts for number, starts in work.calendars if number == place.calendar)
        starts = allowed >> place.start << place.start & (1 << max(no_later - work.minutes + 1, 0)) - 1
        best: tuple[int, tuple[int, ...]] | None = None
        for things in product(*work.options):
            busy = 0
            for thing, amount in zip(things, work.amounts, strict=True):
                busy |= lacking(taken[place.calendar][thing], amount)
            found = runs(self._whole[place.calendar] & ~busy, work.minutes) & starts
            if found and (best is None or found.bit_length() > best[0]):
                best = found.bit_length(), things
        if best is None:
            return None
        return Placed(place.calendar, best[0] - 1, best[0] - 1 + work.minutes, best[1])

    def wait(self, place: Placed, wait: int, calendars: tuple[int, ...], ready: list[int]) -> None:
        """What waits for something is ready no sooner than when it is over and has been left for so long."""
        for number in calendars:
            if not wait and number == place.calendar:
                minute = place.stop
            else:
                key = place.calendar, place.stop, wait, number
                known = self._waited.get(key)
                if known is None:
                    real = self._calendars[place.calendar].real_end(place.stop) + wait
                    known = self._waited[key] = self._calendars[number].at(real)
                minute = known
            if minute > ready[number]:
                ready[number] = minute

    def _place(self, work: _Work, ready: Sequence[int], taken: list[list[Tally]], patience: int) -> Placed | None:
        """The earliest place for some work, taken; None where there is none."""
        best: Placed | None = None
        for number, allowed in work.calendars:
            place = self._earliest(work, number, allowed, ready[number], taken[number], taken, patience)
            if place is not None and (best is None or self._real_end(place) < self._real_end(best)):
                best = place
        if best is not None:
            self._occupy(work, best, taken)
        return best

    def _occupy(self, work: _Work, place: Placed, taken: list[list[Tally]]) -> None:
        """Take what some work takes at its place."""
        minutes, tallies = (1 << place.stop) - (1 << place.start), taken[place.calendar]
        for thing, amount in zip(place.taken, work.amounts, strict=True):
            take(tallies[thing], amount, minutes)
        own = self._calendars[place.calendar]
        for keep in work.keeps:
            self._take_real(taken, keep.thing, keep.amount, own.real(place.start), own.real_end(place.stop) + keep.minutes)

    def _real_end(self, place: Placed) -> int:
        return self._calendars[place.calendar].real_end(place.stop)

    def _earliest(
        self,
        work: _Work,
        number: int,
        allowed: int,
        soonest: int,
        tallies: list[Tally],
        taken: list[list[Tally]],
        patience: int,
    ) -> Placed | None:
        busy = 0
        for thing, amount in work.sure:
            busy |= lacking(tallies[thing], amount)
        free, allowed = self._whole[number] & ~busy, allowed >> soonest << soonest
        best: tuple[int, tuple[int, ...]] | None = None
        for chosen in product(*(options for options, _ in work.open)) if work.open else ((),):
            room = free
            for thing, (_, amount) in zip(chosen, work.open, strict=True):
                room &= ~lacking(tallies[thing], amount)
            start = self._first(work, number, runs(room, work.minutes) & allowed, taken)
            if start is not None and (best is None or start < best[0] - patience):
                best = start, chosen
        if best is None:
            return None
        start, chosen = best
        rest = iter(chosen)
        things = tuple(next(rest) if len(each) > 1 else each[0] for each in work.options) if chosen else work.first
        return Placed(number, start, start + work.minutes, things)

    def _first(self, work: _Work, number: int, starts: int, taken: list[list[Tally]]) -> int | None:
        """The first of the starts at which what is kept is there for as long as it is kept."""
        while starts:
            start = (starts & -starts).bit_length() - 1
            clash = self._clash(work, number, start, taken) if work.keeps else -1
            if clash < start:
                return start
            starts = starts >> (clash + 1) << (clash + 1)
        return None

    def _clash(self, work: _Work, number: int, start: int, taken: list[list[Tally]]) -> int:
        """The last minute of the own calendar up to which what is kept is not there; -1 where it is."""
        own = self._calendars[number]
        clash = -1
        for keep in work.keeps:
            low, high = own.real(start), own.real_end(start + work.minutes) + keep.minutes
            for other, calendar in enumerate(self._calendars):
                first, last = calendar.at(low), calendar.at(high)
                away = lacking(taken[other][keep.thing], keep.amount) & ((1 << last) - (1 << first))
                if away:
                    moment = calendar.real(away.bit_length() - 1)
                    clash = max(clash, own.at(moment) if other == number else max(own.at(moment) - 1, start))
        return clash

    def _take_real(self, taken: list[list[Tally]], thing: int, amount: int, start: int, stop: int) -> None:
        for number, calendar in enumerate(self._calendars):
            low, high = calendar.at(start), calendar.at(stop)
            if low < high:
                take(taken[number][thing], amount, (1 << high) - (1 << low))


class _Making:
    """A schedule that is being made.

    taken
        Of each calendar, what is taken of each thing.
    ready
        Of each activity, the minute of each calendar from which what it waits for is over.
    """

    def __init__(self, placer: Placer) -> None:
        self._placer, self._activities = placer, placer.problem.activities
        self.taken = placer.nothing_taken()
        self.ready = [[0] * len(placer.problem.calendars) for _ in self._activities]
        self._left = [len(activity.after) for activity in self._activities]
        self._placed: list[Placed | None] = [None] * len(self._activities)

    def free(self) -> list[int]:
        """What waits for nothing."""
        return [number for number, count in enumerate(self._left) if not count]

    def put(self, number: int, place: Placed) -> list[int]:
        """Put an activity in its place: what waits for nothing else any more."""
        self._placed[number] = place
        found = []
        for each in self._placer.problem.followers[number]:
            other = each.activity
            self._placer.wait(place, each.wait, self._activities[other].calendars, self.ready[other])
            self._left[other] -= 1
            if not self._left[other]:
                found.append(other)
        return found

    def schedule(self) -> Schedule:
        """What was put."""
        return Schedule(tuple(place for place in self._placed if place is not None))


def schedule_by(problem: Problem, order: Order) -> Schedule | None:
    """The schedule of one order. None where an activity finds no place in the windows."""
    return Placer(problem).schedule(order)
