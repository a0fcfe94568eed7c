"""What no schedule can beat, by a formula: the work at one thing between the way to it and the way from it, walked through the
windows.

For every thing, or things of which any serves: the earliest moment at which work can be there, all that work at full speed, then
the shortest way to the end behind it. The same for the part of the work that comes late, and for the part that has long to go.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from sequencer.scheduling.problem import Problem


@dataclass(frozen=True)
class Bound:
    """The last minute at work, of the first calendar, that no schedule ends before; and the things whose work says so, none where
    it is the longest way of activities. `work`: minutes of work at them, for one of them."""

    minute: int
    things: tuple[int, ...]
    work: float = 0.0


def lower_bound(problem: Problem) -> Bound:
    """The largest of the bounds of all things."""
    return max(all_bounds(problem), key=lambda bound: bound.minute)


def all_bounds(problem: Problem) -> tuple[Bound, ...]:
    """The longest way, and a bound for every thing or set of things of which an activity may take any."""
    ways = _Ways(problem)
    longest = max((ways.over(number, start) for number, start in enumerate(ways.heads)), default=0)
    return (Bound(longest, ()), *(_at(things, ways) for things in ways.sets))


MANY = 4
"""What waits for so many groups or more is held up by all their work at a thing, not by the longest of them only."""


class _Ways:
    """Ways through the windows of the first calendar. What may be done in other calendars too is taken to need no minute at work
    of the first.

    sets
        Things and sets of things of which an activity may take any.
    heads
        The earliest start of each activity.
    kinds
        For each activity a number that alike ones share: those as long, with alike ones behind them.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem, self.calendar = problem, problem.calendars[0]
        self.sets = sorted({tuple(sorted(need.options)) for activity in problem.activities for need in activity.needs})
        self.amounts: dict[tuple[int, ...], dict[int, int]] = {things: self._amounts(things) for things in self.sets}
        self.heads: list[int] = []
        self._all: dict[int, int] = {}
        stops: list[int] = []
        behind: list[int] = []
        for number, activity in enumerate(problem.activities):
            soonest = self.calendar.at(activity.soonest) if self.minutes(number) else 0
            head = max([soonest, *(self.later(stops[each.activity], each.wait) for each in activity.after)])
            earlier = 0
            for each in activity.after:
                earlier |= behind[each.activity] | 1 << each.activity
            behind.append(earlier)
            if len({problem.activities[each.activity].group for each in activity.after}) >= MANY:
                head = max(head, self._after_all(earlier))
            self.heads.append(head)
            stops.append(self.over(number, head))
        self._number_kinds()
        self._ends: dict[tuple[int, int], int] = {}

    def _amounts(self, things: tuple[int, ...]) -> dict[int, int]:
        """The activities that take of some things, and how much."""
        own = set(things)
        found = {
            number: sum(need.amount for need in activity.needs if own.issuperset(need.options))
            for number, activity in enumerate(self.problem.activities)
            if self.minutes(number)
        }
        return {number: amount for number, amount in found.items() if amount}

    def _after_all(self, earlier: int) -> int:
        """The minute by which some activities, as bits of their numbers, can be over at each set of things."""
        if earlier not in self._all:
            best = 0
            for things, amounts in self.amounts.items():
                work = Work(self, things, [number for number in amounts if earlier >> number & 1])
                best = max([best, *(work.done(head, work.likes(head)) for head in work.heads)])
            self._all[earlier] = best
        return self._all[earlier]

    def _number_kinds(self) -> None:
        known: dict[tuple[object, ...], int] = {}
        self.kinds = [0] * len(self.problem.activities)
        self._first_of: dict[int, int] = {}
        for number in reversed(range(len(self.kinds))):
            activity = self.problem.activities[number]
            after = frozenset((each.wait, self.kinds[each.activity]) for each in self.problem.followers[number])
            kind = known.setdefault((self.minutes(number), activity.splits, after), len(known))
            self.kinds[number] = kind
            self._first_of.setdefault(kind, number)

    def later(self, stop: int, wait: int) -> int:
        """The earliest minute so long after a minute at which something is over."""
        return self.calendar.at(self.calendar.real_end(stop) + wait) if wait else stop

    def minutes(self, number: int) -> int:
        """Minutes at work of the first calendar that an activity surely takes."""
        activity = self.problem.activities[number]
        return activity.minutes if activity.calendars == (0,) else 0

    def over(self, number: int, start: int) -> int:
        """When an activity that starts no earlier than a minute is over at the earliest."""
        firsts, long = self.calendar.firsts, self.minutes(number)
        if not long or self.problem.activities[number].splits:
            return start + long
        for at in range(self.calendar.window(start), len(firsts) - 1):
            first = max(start, firsts[at])
            if first + long <= firsts[at + 1]:
                return first + long
        return max(start, firsts[-1]) + long

    def end_behind(self, kind: int, stop: int) -> int:
        """The earliest end of all that comes after an activity of a kind which is over at a minute."""
        if (kind, stop) not in self._ends:
            self._ends[kind, stop] = max(
                (
                    self.end_behind(self.kinds[each.activity], self.over(each.activity, self.later(stop, each.wait)))
                    for each in self.problem.followers[self._first_of[kind]]
                ),
                default=stop,
            )
        return self._ends[kind, stop]


class Work:
    """The work of some activities at some things, alike ones together: by the minute they can start and the kind, if kinds are
    known."""

    def __init__(self, ways: _Ways, things: Sequence[int], numbers: Iterable[int], kinds: Sequence[int] = ()) -> None:
        self.ways, self.count = ways, sum(ways.problem.counts[thing] for thing in things)
        self.minutes: dict[tuple[int, int], int] = {}
        self.long: dict[tuple[int, int], set[int]] = {}
        for number in numbers:
            activity, amount = ways.problem.activities[number], ways.amounts[tuple(things)][number]
            like = ways.heads[number], kinds[number] if kinds else 0
            self.minutes[like] = self.minutes.get(like, 0) + amount * activity.minutes
            self.long.setdefault(like, set()).add(activity.minutes if amount == 1 and not activity.splits else 0)
        self.heads = sorted({head for head, _ in self.minutes})

    def likes(self, head: int) -> list[tuple[int, int]]:
        """Those that cannot start before a minute."""
        return [like for like in self.minutes if like[0] >= head]

    def done(self, first: int, likes: Collection[tuple[int, int]]) -> int:
        """The minute by which some of it can be over from a first minute on, in whole pieces where they are not gone on with."""
        left, long = sum(self.minutes[like] for like in likes), set[int]().union(*(self.long[like] for like in likes))
        firsts = self.ways.calendar.firsts
        if 0 in long:
            return first - -left // self.count
        for at in range(self.ways.calendar.window(first), len(firsts) - 1):
            start = max(first, firsts[at])
            used = _fullest(firsts[at + 1] - start, frozenset(long)) * self.count
            if left <= used:
                return start - -left // self.count
            left -= used
        return max(first, firsts[-1]) - -left // self.count


def _at(things: Sequence[int], ways: _Ways) -> Bound:
    """The bound by the work at some things."""
    work = Work(ways, things, ways.amounts[tuple(things)], ways.kinds)
    to_go = {kind: ways.end_behind(kind, 0) for _, kind in work.minutes}
    best = 0
    for head in work.heads:
        for least in sorted(set(to_go.values())):
            chosen = [like for like in work.likes(head) if to_go[like[1]] >= least]
            if chosen:
                stop = work.done(min(first for first, _ in chosen), chosen)
                best = max(best, min(ways.end_behind(kind, stop) for kind in {kind for _, kind in chosen}))
    return Bound(best, tuple(things), sum(work.minutes.values()) / work.count if work.count else 0.0)


@cache
def _fullest(room: int, long: frozenset[int]) -> int:
    """The most of a room that pieces of some lengths, as many as one likes, fill."""
    filled, grown = 0, 1
    while grown != filled:
        filled = grown
        for each in long:
            grown |= filled << each
        grown &= (1 << (room + 1)) - 1
    return filled.bit_length() - 1
