"""What is asked: activities that take time and counted things, within windows, some before others. Whole minutes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from typing import NamedTuple

from sequencer.scheduling.calendar import Calendar

ANY_TIME = -(10**9)
"""Real time before all windows."""


@dataclass(frozen=True)
class Need:
    """So many of a counted thing, of whichever of the options has them."""

    options: tuple[int, ...]
    amount: int = 1


@dataclass(frozen=True)
class Keep:
    """A counted thing that stays taken from the start of an activity until so many minutes of real time after its end, and then
    until the next moment at work, when somebody can give it back."""

    thing: int
    amount: int
    minutes: int


@dataclass(frozen=True)
class After:
    """What an activity comes after, and the minutes of real time between."""

    activity: int
    wait: int = 0


@dataclass(frozen=True)
class Activity:
    """One piece of work.

    calendars
        Those it may be done in, the preferred first.
    splits
        0: it is done in one window. Else it may go on in the next, as the first thing that is done there, with no less than so
        many minutes on either side.
    group
        Whose it is; only for rules that take one after the other.
    """

    name: str
    minutes: int
    needs: tuple[Need, ...] = ()
    keeps: tuple[Keep, ...] = ()
    after: tuple[After, ...] = ()
    calendars: tuple[int, ...] = (0,)
    splits: int = 0
    group: int = 0
    soonest: int = ANY_TIME
    """The real time before which it does not start."""


@dataclass(frozen=True)
class Problem:
    """Activities, so many of each counted thing, windows, and the stretches of real time in which so many of a thing are away.

    The activities are in an order in which each comes after those it waits for.
    """

    activities: tuple[Activity, ...]
    counts: tuple[int, ...]
    calendars: tuple[Calendar, ...]
    away: tuple[tuple[int, int, int, int], ...] = ()
    """Thing, amount, from, until; never of a thing that is kept, for whose time nobody would look."""
    names: tuple[str, ...] = ()
    """What the things are called, where somebody reads of them."""

    def __post_init__(self) -> None:
        if self.away and {keep.thing for each in self.activities for keep in each.keeps} & {each[0] for each in self.away}:
            raise ValueError("a thing that is kept cannot be away")

    def named(self, thing: int) -> str:
        """What a thing is called, else its number."""
        return self.names[thing] if self.names else f"thing {thing}"

    @cached_property
    def followers(self) -> tuple[tuple[After, ...], ...]:
        """Of each activity, what comes after it, with the same waits."""
        found: list[list[After]] = [[] for _ in self.activities]
        for number, activity in enumerate(self.activities):
            for each in activity.after:
                found[each.activity].append(After(number, each.wait))
        return tuple(map(tuple, found))


class Placed(NamedTuple):
    """Where an activity lies: the calendar, the minutes at work from and until, and the thing taken for each need."""

    calendar: int
    start: int
    stop: int
    taken: tuple[int, ...]


@dataclass(frozen=True)
class Schedule:
    """Every activity in its place."""

    placed: tuple[Placed, ...]


def ends(problem: Problem, schedule: Schedule, calendar: int = 0) -> int:
    """The last minute at work of a calendar."""
    return max((each.stop for each in schedule.placed if each.calendar == calendar), default=0)


@cache
def starts_allowed(calendar: Calendar, minutes: int, splits: int) -> int:
    """A bit for every minute at work at which something so long may start: at a whole slot, within one window, or over the end of
    one where it `splits`."""
    slot, allowed = calendar.slot, 0
    for at, (start, stop) in enumerate(calendar.windows):
        first, long = calendar.firsts[at], stop - start
        within = min(max((long - minutes) // slot + 1, 0), -(-long // slot))
        slots = ((1 << slot * within) - 1) // ((1 << slot) - 1)
        if splits:
            for minute in range(slot * within, long, slot):
                over = first + minute + minutes
                parts = (long - minute, _rest(calendar, over)) if over <= calendar.minutes else (0,)
                if min(parts) >= min(splits, minutes):
                    slots |= 1 << minute
        allowed |= slots << first
    return allowed


def _rest(calendar: Calendar, stop: int) -> int:
    """How much of what ends at a minute lies in its last window."""
    return stop - calendar.firsts[calendar.window_of_end(stop)]


def in_order(problem: Problem) -> bool:
    """Whether each activity stands after those it waits for."""
    return all(each.activity < number for number, activity in enumerate(problem.activities) for each in activity.after)
