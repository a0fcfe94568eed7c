"""What no schedule can beat, by a formula: the work at one thing between the way to it and the way from it, walked through the
windows.

For an end that is asked for, every activity has an earliest start and a latest end. Whatever of the work at a thing, or at
things of which any serves, has to lie between two minutes must have room there at full speed. The first end at which it has is
the bound.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from sequencer.scheduling.problem import Problem


@dataclass(frozen=True)
class Bound:
    """The last minute at work, of the first calendar, that no schedule ends before; and the things it was looked for at, none
    where it is the longest way of activities: no bound is below that one, so that only a later minute is due to the things.
    `work`: minutes of work at them, for one of them. `together`: where it is due to several things at once, those of each set
    that serve for the same."""

    minute: int
    things: tuple[int, ...]
    work: float = 0.0
    together: tuple[tuple[int, ...], ...] = ()


def lower_bound(problem: Problem) -> Bound:
    """The largest of the bounds of all things."""
    return max(all_bounds(problem), key=lambda bound: bound.minute)


@lru_cache(maxsize=4)
def all_bounds(problem: Problem) -> tuple[Bound, ...]:
    """The longest way, and a bound for every thing or set of things of which an activity may take any; those of the last few
    problems are remembered."""
    ways = Ways(problem)
    longest = max((ways.over(number, start) for number, start in enumerate(ways.heads) if ways.minutes[number]), default=0)
    known: dict[tuple[object, ...], Bound] = {}
    found = [Bound(longest, ())]
    for things in ways.sets:
        alike = (
            sum(problem.counts[thing] for thing in things),
            tuple(sorted((ways.heads[number], ways.kinds[number], amount) for number, amount in ways.amounts[things].items())),
        )
        if alike not in known:
            known[alike] = _at(things, ways, longest)
        found.append(replace(known[alike], things=things))
    return tuple(found)


NO_MATTER = 10**9
"""The latest end of what is done outside the first calendar: only what comes after it there asks when."""
MANY = 4
"""What waits for so many groups or more is held up by all their work at a thing, not by the longest of them only."""


class Ways:
    """Ways through the windows of the first calendar. What may be done in other calendars too is taken to need no minute at work
    of the first.

    sets
        Things and sets of things of which an activity may take any.
    heads
        The earliest start of each activity.
    minutes
        Minutes at work of the first calendar that each activity surely takes.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem, self.calendar = problem, problem.calendars[0]
        self.minutes = tuple(each.minutes if each.calendars == (0,) else 0 for each in problem.activities)
        self.sets = sorted({tuple(sorted(need.options)) for activity in problem.activities for need in activity.needs})
        self.amounts: dict[tuple[int, ...], dict[int, int]] = {things: self._amounts(things) for things in self.sets}
        self.takers: dict[int, list[int]] = {}
        """Of a thing of which there is one, the activities that take it and nothing else will do."""
        for number in range(len(problem.activities)):
            for thing in self._single(number):
                self.takers.setdefault(thing, []).append(number)
        self.heads: list[int] = []
        self._find_heads()
        self._latest: dict[int, list[int]] = {}
        self._number_kinds()

    def _amounts(self, things: tuple[int, ...]) -> dict[int, int]:
        """The activities that take of some things, and how much."""
        own = set(things)
        found = {
            number: sum(need.amount for need in activity.needs if own.issuperset(need.options))
            for number, activity in enumerate(self.problem.activities)
            if self.minutes[number]
        }
        return {number: amount for number, amount in found.items() if amount}

    def _single(self, number: int) -> list[int]:
        """The things an activity takes of which there is one and no other will do: all work at such a thing is done one after
        the other."""
        if not self.minutes[number]:
            return []
        needs = self.problem.activities[number].needs
        return [need.options[0] for need in needs if len(need.options) == 1 and self.problem.counts[need.options[0]] == 1]

    def _wait(self, number: int, wait: int) -> int:
        """The wait after an activity; none is counted after what may be done outside the first calendar, long before."""
        return wait if self.minutes[number] else 0

    # From the start

    def _find_heads(self) -> None:
        stops: list[int] = []
        behind: list[int] = []
        after_all: dict[int, int] = {}
        for number, activity in enumerate(self.problem.activities):
            soonest = self.calendar.at(activity.soonest) if self.minutes[number] else 0
            head = max(
                [soonest, *(self.later(stops[each.activity], self._wait(each.activity, each.wait)) for each in activity.after)]
            )
            earlier = 0
            for each in activity.after:
                earlier |= behind[each.activity] | 1 << each.activity
            behind.append(earlier)
            if len({self.problem.activities[each.activity].group for each in activity.after}) >= MANY:
                if earlier not in after_all:
                    after_all[earlier] = self._after_all(earlier)
                head = max(head, after_all[earlier])
            self.heads.append(max(head, self._after_own(number, earlier)))
            stops.append(self.over(number, self.heads[number]))

    def _after_all(self, earlier: int) -> int:
        """The minute by which some activities, as bits of their numbers, can be over at each set of things."""
        best = 0
        for things, amounts in self.amounts.items():
            work = Work(self, things, ((number, self.heads[number], 0) for number in amounts if earlier >> number & 1))
            best = max([best, *(work.done(head) for head in work.heads)])
        return best

    def _after_own(self, number: int, earlier: int) -> int:
        """The minute by which all that comes before an activity and takes a single thing that it takes too can be over."""
        best = 0
        for thing in self._single(number):
            before = [(self.heads[other], self.minutes[other]) for other in self.takers[thing] if earlier >> other & 1]
            left = 0
            for head, minutes in sorted(before, reverse=True):
                left += minutes
                best = max(best, head + left)
        return best

    def later(self, stop: int, wait: int) -> int:
        """The earliest minute so long after a minute at which something is over."""
        return self.calendar.at(self.calendar.real_end(stop) + wait) if wait and stop <= self.calendar.minutes else stop

    def over(self, number: int, start: int) -> int:
        """When an activity that starts no earlier than a minute is over at the earliest."""
        firsts, long = self.calendar.firsts, self.minutes[number]
        if not long or self.problem.activities[number].splits:
            return start + long
        for at in range(self.calendar.window(start), len(firsts) - 1):
            first = max(start, firsts[at])
            if first + long <= firsts[at + 1]:
                return first + long
        return max(start, firsts[-1]) + long

    # From the end

    def _number_kinds(self) -> None:
        """Alike activities share a kind: those as long, with alike ones behind them. Their latest ends are the same."""
        known: dict[tuple[object, ...], int] = {}
        count = len(self.problem.activities)
        self.kinds = [0] * count
        self.first_of: list[int] = []
        self._after: list[list[tuple[int, int]]] = []
        self._own: list[list[list[int]]] = []
        self._all: list[dict[tuple[int, ...], list[int]]] = []
        later = [0] * count
        for number in reversed(range(count)):
            followers = self.problem.followers[number]
            for each in followers:
                later[number] |= later[each.activity] | 1 << each.activity
            own = [[other for other in self.takers[thing] if later[number] >> other & 1] for thing in self._single(number)]
            alike = tuple(tuple(sorted(self.kinds[other] for other in others)) for others in own)
            after = frozenset((each.wait, self.kinds[each.activity]) for each in followers)
            many = len({self.problem.activities[each.activity].group for each in followers}) >= MANY
            key = (self.minutes[number], self.problem.activities[number].splits, after, alike, later[number] if many else 0)
            self.kinds[number] = known.setdefault(key, len(known))
            if self.kinds[number] == len(self.first_of):
                self.first_of.append(number)
                self._after.append([(wait, kind) for wait, kind in after])
                self._own.append(own)
                self._all.append(self._later_work(later[number]) if many else {})

    def _later_work(self, later: int) -> dict[tuple[int, ...], list[int]]:
        return {things: [other for other in amounts if later >> other & 1] for things, amounts in self.amounts.items()}

    def latest(self, end: int) -> list[int]:
        """The latest end of each kind of activity, if all is to end by a minute."""
        if end not in self._latest:
            found: list[int] = []
            for number, after, own, all_ in zip(self.first_of, self._after, self._own, self._all, strict=True):
                late = end if self.minutes[number] else NO_MATTER
                for wait, kind in after:
                    start = self.no_later(self.first_of[kind], found[kind])
                    late = min(late, self.sooner(start, self._wait(number, wait)))
                for others in own:
                    left = 0
                    for stop, minutes in sorted((found[self.kinds[other]], self.minutes[other]) for other in others):
                        left += minutes
                        late = min(late, stop - left)
                for things, others in all_.items():
                    count, left = sum(self.problem.counts[thing] for thing in things), 0
                    amounts = self.amounts[things]
                    for stop, work in sorted(
                        (found[self.kinds[other]], amounts[other] * self.minutes[other]) for other in others
                    ):
                        left += work
                        late = min(late, stop - -(-left // count))
                found.append(late)
            self._latest[end] = found
        return self._latest[end]

    def sooner(self, start: int, wait: int) -> int:
        """The latest minute at which something is over so long before a minute."""
        if not wait or not 0 <= start < self.calendar.minutes:
            return start
        return self.calendar.at(self.calendar.real(start) - wait)

    def no_later(self, number: int, stop: int) -> int:
        """When an activity that is over no later than a minute starts at the latest."""
        firsts, long = self.calendar.firsts, self.minutes[number]
        if not long or self.problem.activities[number].splits or stop <= 0:
            return stop - long
        for at in range(self.calendar.window_of_end(min(stop, firsts[-1])), -1, -1):
            last = min(stop, firsts[at + 1])
            if last - long >= firsts[at]:
                return last - long
        return min(stop, 0) - long


class Work:
    """The work of some activities at some things, alike ones together: by the minute they start at the earliest and the minute
    they end at the latest."""

    def __init__(self, ways: Ways, things: Sequence[int], numbers: Iterable[tuple[int, int, int]]) -> None:
        self.ways, self.count = ways, sum(ways.problem.counts[thing] for thing in things)
        self.minutes: dict[tuple[int, int], int] = {}
        self.long: dict[tuple[int, int], set[int]] = {}
        amounts = ways.amounts[tuple(things)]
        for number, head, late in numbers:
            activity, amount = ways.problem.activities[number], amounts[number]
            like = head, late
            self.minutes[like] = self.minutes.get(like, 0) + amount * activity.minutes
            self.long.setdefault(like, set()).add(activity.minutes if amount == 1 and not activity.splits else 0)
        self.heads = sorted({head for head, _ in self.minutes})

    def fits(self) -> bool:
        """Whether all of it has room between its earliest starts and its latest ends."""
        by_late = sorted(self.minutes, key=lambda like: like[1])
        for first in self.heads:
            left, long = 0, set[int]()
            for at, like in enumerate(by_late):
                if like[0] >= first:
                    left += self.minutes[like]
                    long |= self.long[like]
                    last = at + 1 == len(by_late) or by_late[at + 1][1] > like[1]
                    if last and self._over(first, left, long) > like[1]:
                        return False
        return True

    def done(self, first: int) -> int:
        """The minute by which all of it that may start at a first minute or later can be over."""
        likes = [like for like in self.minutes if like[0] >= first]
        long = set[int]().union(*(self.long[like] for like in likes))
        return self._over(first, sum(self.minutes[like] for like in likes), long)

    def _over(self, first: int, left: int, long: set[int]) -> int:
        """The minute by which so much can be over from a first minute on, in whole pieces where they are not gone on with."""
        firsts = self.ways.calendar.firsts
        if 0 in long:
            return first - -left // self.count
        for at in range(self.ways.calendar.window(first), len(firsts) - 1):
            start = max(first, firsts[at])
            used = fullest(firsts[at + 1] - start, frozenset(long)) * self.count
            if left <= used:
                return start - -left // self.count
            left -= used
        return max(first, firsts[-1]) - -left // self.count


def _at(things: tuple[int, ...], ways: Ways, longest: int) -> Bound:
    """The bound by the work at some things: no less than the longest way."""
    amounts = ways.amounts[things]
    if not amounts:
        return Bound(0, things)
    count = sum(ways.problem.counts[thing] for thing in things)

    def fits(end: int) -> bool:
        late = ways.latest(end)
        return Work(ways, things, ((number, ways.heads[number], late[ways.kinds[number]]) for number in amounts)).fits()

    ends = range(longest, max(longest, ways.calendar.minutes) + 1)
    minute = ends[min(bisect_left(ends, True, key=fits), len(ends) - 1)]
    return Bound(minute, things, sum(amounts[number] * ways.minutes[number] for number in amounts) / count)


@cache
def fullest(room: int, long: frozenset[int]) -> int:
    """The most of a room that pieces of some lengths, as many as one likes, fill."""
    filled, grown = 0, 1
    while grown != filled:
        filled = grown
        for each in long:
            grown |= filled << each
        grown &= (1 << (room + 1)) - 1
    return filled.bit_length() - 1
