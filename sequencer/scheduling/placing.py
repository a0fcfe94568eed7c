"""Places activities, one after the other or from moment to moment: what is done many thousand times, and so compiled.

What is free of each thing at each minute is counted down as activities are placed.
"""

from __future__ import annotations

from heapq import heapify, heappop, heappush, heapreplace

import numpy as np
from numpy.typing import NDArray

from sequencer.scheduling.arrays import Arrays, Counts, Numbers
from sequencer.scheduling.compiled import compiled

NOWHERE = -1


@compiled
def minute_at(given: Arrays, calendar: int, real: int) -> int:
    """The first minute at work of a calendar from a moment of real time on, as `Calendar.at` has it."""
    first = low = given.window_at[calendar]
    high = given.window_at[calendar + 1]
    while low < high:
        middle = (low + high) // 2
        if real < given.opens[middle]:
            high = middle
        else:
            low = middle + 1
    if low == first:
        return 0
    return int(given.firsts[low - 1] + min(real, given.closes[low - 1]) - given.opens[low - 1])


@compiled
def _lacks(given: Arrays, free: Counts, number: int, things: int, cell: int) -> int:
    """The last cell of the stretch from a cell on in which some need of an activity is not met; NOWHERE where all are."""
    last = NOWHERE
    stop = cell + given.minutes[number]
    for need in range(given.need_at[number], given.need_at[number + 1]):
        thing, amount = given.things[things + need - given.need_at[number]], given.amounts[need]
        for at in range(stop - 1, max(cell, last + 1) - 1, -1):
            if free[thing, at] < amount:
                last = at
                break
    return last


@compiled
def _clash(given: Arrays, free: Counts, number: int, calendar: int, start: int) -> int:
    """The last minute of the own calendar up to which what an activity keeps is not there; NOWHERE where it is."""
    clash = NOWHERE
    base = given.base[calendar]
    for keep in range(given.keep_at[number], given.keep_at[number + 1]):
        low = given.real[base + start]
        high = given.real_end[base + start + given.minutes[number]] + given.keep_minutes[keep]
        for other in range(len(given.base)):
            first, last = minute_at(given, other, low), minute_at(given, other, high)
            for minute in range(last - 1, first - 1, -1):
                if free[given.keep_thing[keep], given.base[other] + minute] < given.keep_amount[keep]:
                    back = minute_at(given, calendar, given.real[given.base[other] + minute])
                    clash = max(clash, back if other == calendar else max(back - 1, start))
                    break
    return clash


@compiled
def _first(given: Arrays, free: Counts, number: int, way: int, things: int, soonest: int) -> int:
    """The first minute from one on at which an activity finds all it takes; NOWHERE where there is none."""
    calendar, nexts = given.way_calendar[way], given.way_next[way]
    base, long = given.base[calendar], given.long[calendar]
    start = given.nexts[nexts + soonest]
    while start >= 0:
        lacking = _lacks(given, free, number, things, base + start)
        if lacking != NOWHERE:
            after = lacking - base + 1
        elif given.keep_at[number] == given.keep_at[number + 1]:
            return int(start)
        else:
            after = _clash(given, free, number, calendar, start) + 1
            if after <= start:
                return int(start)
        start = given.nexts[nexts + after] if after <= long else NOWHERE
    return NOWHERE


@compiled
def _earliest(given: Arrays, free: Counts, number: int, way: int, soonest: int, patience: int) -> tuple[int, int]:
    """The first minute at which an activity can start in one of its calendars, and the choice of things for it. A choice that
    stands later is taken only where it saves more than so many minutes."""
    best, best_choice = NOWHERE, NOWHERE
    count = given.need_at[number + 1] - given.need_at[number]
    for choice in range(given.choice_at[number + 1] - given.choice_at[number]):
        start = _first(given, free, number, way, given.things_at[number] + choice * count, soonest)
        if start != NOWHERE and (best == NOWHERE or start < best - patience):
            best, best_choice = start, choice
    return best, best_choice


@compiled
def occupy(given: Arrays, free: Counts, number: int, calendar: int, start: int, choice: int) -> None:
    """Take what an activity takes at its place."""
    base, stop = given.base[calendar], start + given.minutes[number]
    first = given.need_at[number]
    things = given.things_at[number] + choice * (given.need_at[number + 1] - first)
    for need in range(first, given.need_at[number + 1]):
        for cell in range(base + start, base + stop):
            free[given.things[things + need - first], cell] -= given.amounts[need]
    low = given.real[base + start]
    for keep in range(given.keep_at[number], given.keep_at[number + 1]):
        high = given.real_end[base + stop] + given.keep_minutes[keep]
        for other in range(len(given.base)):
            for minute in range(minute_at(given, other, low), minute_at(given, other, high)):
                free[given.keep_thing[keep], given.base[other] + minute] -= given.keep_amount[keep]


@compiled
def _best_way(given: Arrays, free: Counts, number: int, ready: Numbers, patience: int) -> tuple[int, int, int]:
    """The calendar, minute and choice with which an activity is over soonest."""
    best, best_start, best_choice, best_end = NOWHERE, NOWHERE, NOWHERE, 0
    for way in range(given.way_at[number], given.way_at[number + 1]):
        calendar = given.way_calendar[way]
        start, choice = _earliest(given, free, number, way, ready[calendar], patience)
        if start != NOWHERE:
            end = given.real_end[given.base[calendar] + start + given.minutes[number]]
            if best == NOWHERE or end < best_end:
                best, best_start, best_choice, best_end = calendar, start, choice, end
    return best, best_start, best_choice


@compiled
def _wait(given: Arrays, number: int, calendar: int, start: int, ready: Numbers, left: Numbers) -> None:
    """What waits for a placed activity is ready no sooner than when that is over and has been left for its time."""
    stop = start + given.minutes[number]
    end = given.real_end[given.base[calendar] + stop]
    for follower in range(given.follower_at[number], given.follower_at[number + 1]):
        other, wait = given.followers[follower], given.waits[follower]
        left[other] -= 1
        for way in range(given.way_at[other], given.way_at[other + 1]):
            own = given.way_calendar[way]
            minute = stop if wait == 0 and own == calendar else minute_at(given, own, end + wait)
            ready[other, own] = max(ready[other, own], minute)


@compiled
def placed(given: Arrays, rank: NDArray[np.float64], patience: int, by_moments: bool, places: Numbers) -> bool:
    """Fill in the calendar, the start and the choice of things of every activity; False where one finds no place.

    Of what can come next the one of the lowest rank is placed first, at its earliest. By moments: what can start soonest comes
    first, and of that what has the lowest rank; what cannot start after all waits for the minute at which it can.
    """
    count = len(given.minutes)
    free = given.free.copy()
    ready = np.zeros((count, len(given.base)), dtype=np.int64)
    left = given.waits_for.copy()
    queue = [(_soonest(given, number, ready, by_moments), rank[number], number) for number in range(count) if left[number] == 0]
    heapify(queue)
    while queue:
        moment, _, number = queue[0]
        if moment >= 0:
            calendar = 0
            start, choice = _earliest(given, free, number, given.way_at[number], moment, 0)
            if start > moment:
                heapreplace(queue, (start, rank[number], number))
                continue
        else:
            calendar, start, choice = _best_way(given, free, number, ready[number], patience)
        if start == NOWHERE:
            return False
        heappop(queue)
        occupy(given, free, number, calendar, start, choice)
        places[number, 0], places[number, 1], places[number, 2] = calendar, start, choice
        _wait(given, number, calendar, start, ready, left)
        for follower in range(given.follower_at[number], given.follower_at[number + 1]):
            other = given.followers[follower]
            if left[other] == 0:
                left[other] = NOWHERE
                heappush(queue, (_soonest(given, other, ready, by_moments), rank[other], other))
    return True


@compiled
def _soonest(given: Arrays, number: int, ready: Numbers, by_moments: bool) -> int:
    """By moments: the minute of the first calendar from which an activity that is done there alone can start. Else NOWHERE."""
    way = given.way_at[number]
    alone = given.way_at[number + 1] == way + 1 and given.way_calendar[way] == 0
    return int(ready[number, 0]) if by_moments and alone else NOWHERE


@compiled
def latest(given: Arrays, free: Counts, number: int, calendar: int, start: int, no_later: int) -> tuple[int, int]:
    """The latest start from one on, in a calendar, with which an activity is over by a minute, and the choice of things for it;
    NOWHERE where there is none."""
    base, first = given.base[calendar], given.way_at[number]
    way = first
    for each in range(first, given.way_at[number + 1]):
        if given.way_calendar[each] == calendar:
            way = each
    count = given.need_at[number + 1] - given.need_at[number]
    for at in range(no_later - given.minutes[number], start - 1, -1):
        if given.nexts[given.way_next[way] + at] == at:
            for choice in range(given.choice_at[number + 1] - given.choice_at[number]):
                if _lacks(given, free, number, given.things_at[number] + choice * count, base + at) == NOWHERE:
                    return at, choice
    return NOWHERE, NOWHERE
