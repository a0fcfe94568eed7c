"""Goes over a schedule minute by minute, without knowing how it was found. What it finds wrong it says in a sentence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sequencer.scheduling.problem import Activity, Placed, Problem, Schedule


def faults(problem: Problem, schedule: Schedule) -> list[str]:
    """Everything that is wrong with a schedule; empty where nothing is."""
    if len(schedule.placed) != len(problem.activities):
        return [f"{len(schedule.placed)} places for {len(problem.activities)} activities."]
    found: list[str] = []
    spans = []
    for activity, place in zip(problem.activities, schedule.placed, strict=True):
        pieces = _pieces(problem, place)
        spans.append(pieces)
        found += [f"{activity.name}: {text}" for text in _own(activity, place, pieces)]
        if pieces and pieces[0][0] < activity.soonest:
            found.append(f"{activity.name}: it starts too soon.")
    if found:
        return found
    for number, activity in enumerate(problem.activities):
        for each in activity.after:
            if spans[number][0][0] < spans[each.activity][-1][1] + each.wait:
                found.append(f"{activity.name} starts before {problem.activities[each.activity].name} is over.")
    return found + list(_over(problem, schedule, spans))


def _pieces(problem: Problem, place: Placed) -> list[tuple[int, int]]:
    """The stretches of real time in which an activity is worked on."""
    pieces: list[tuple[int, int]] = []
    minute = 0
    for start, stop in problem.calendars[place.calendar].windows:
        low, high = max(place.start, minute), min(place.stop, minute + stop - start)
        if low < high or (low == high == place.start == place.stop and not pieces):
            pieces.append((start + low - minute, start + high - minute))
        minute += stop - start
    return pieces


def _own(activity: Activity, place: Placed, pieces: list[tuple[int, int]]) -> Iterator[str]:
    if place.calendar not in activity.calendars:
        yield "it is done at a time it may not be done at."
    if sum(stop - start for start, stop in pieces) != activity.minutes:
        yield f"it has {sum(stop - start for start, stop in pieces)} minutes of {activity.minutes}."
    if len(pieces) > 1 and not activity.splits:
        yield "it goes over the end of a window."
    if len(pieces) > 1 and min(pieces[0][1] - pieces[0][0], pieces[-1][1] - pieces[-1][0]) < activity.splits:
        yield "it is cut off with too little on one side."
    if len(place.taken) != len(activity.needs) or any(
        thing not in need.options for need, thing in zip(activity.needs, place.taken, strict=False)
    ):
        yield "it takes what it may not take."


def _over(problem: Problem, schedule: Schedule, spans: list[list[tuple[int, int]]]) -> Iterator[str]:
    """Things of which more are taken than there are."""
    changes: list[Counter[int]] = [Counter() for _ in problem.counts]

    def take(thing: int, amount: int, start: int, stop: int) -> None:
        if start < stop:
            changes[thing][start] += amount
            changes[thing][stop] -= amount

    for activity, place, pieces in zip(problem.activities, schedule.placed, spans, strict=True):
        for need, thing in zip(activity.needs, place.taken, strict=True):
            for start, stop in pieces:
                take(thing, need.amount, start, stop)
        for keep in activity.keeps:
            take(keep.thing, keep.amount, pieces[0][0], _given_back(problem, pieces[-1][1] + keep.minutes))
    for thing, amount, start, stop in problem.away:
        take(thing, amount, start, stop)
    for thing, moments in enumerate(changes):
        level = 0
        for moment in sorted(moments):
            level += moments[moment]
            if level > problem.counts[thing]:
                yield f"{level} of {problem.named(thing)} are taken at {moment}, and there are {problem.counts[thing]}."
                break


def _given_back(problem: Problem, moment: int) -> int:
    """The next moment in any window."""
    later = [max(start, moment) for calendar in problem.calendars for start, stop in calendar.windows if stop > moment]
    return min(later, default=moment)
