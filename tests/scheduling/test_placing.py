"""What is compiled against the same said plainly: a count for every minute, every start tried."""

from __future__ import annotations

from collections import Counter
from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.scheduling.greedy import Order, Placer
from sequencer.scheduling.problem import Placed, Problem, Schedule, starts_allowed
from tests.scheduling.made_up import problem


class Plainly:
    """Places one activity after the other by rank, each so that it is over soonest."""

    def __init__(self, asked: Problem) -> None:
        self.asked = asked
        self.taken: Counter[tuple[int, int]] = Counter()
        """Of a thing, at a moment of real time."""
        for thing, amount, start, stop in asked.away:
            self._take(thing, amount, range(start, stop))

    def _take(self, thing: int, amount: int, moments: range | list[int]) -> None:
        for moment in moments:
            self.taken[thing, moment] += amount

    def _at_work(self, moment: int) -> bool:
        return any(start <= moment < stop for calendar in self.asked.calendars for start, stop in calendar.windows)

    def _uses(self, number: int, calendar: int, start: int, things: tuple[int, ...]) -> list[tuple[int, int, list[int]]]:
        """What an activity takes, how much, and when."""
        activity, own = self.asked.activities[number], self.asked.calendars[calendar]
        moments = [own.real(minute) for minute in range(start, start + activity.minutes)]
        found = [(thing, need.amount, moments) for need, thing in zip(activity.needs, things, strict=True)]
        over = own.real_end(start + activity.minutes)
        for keep in activity.keeps:
            kept = [moment for moment in range(own.real(start), over + keep.minutes) if self._at_work(moment)]
            found.append((keep.thing, keep.amount, kept))
        return found

    def _fits(self, uses: list[tuple[int, int, list[int]]]) -> bool:
        counts = self.asked.counts
        return all(self.taken[thing, moment] + amount <= counts[thing] for thing, amount, when in uses for moment in when)

    def _earliest(self, number: int, calendar: int, ready: int) -> Placed | None:
        activity, own = self.asked.activities[number], self.asked.calendars[calendar]
        allowed = starts_allowed(own, activity.minutes, activity.splits)
        for start in range(max(own.at(ready), own.at(activity.soonest)), own.minutes):
            if allowed >> start & 1:
                for things in product(*(need.options for need in activity.needs)):
                    if self._fits(self._uses(number, calendar, start, things)):
                        return Placed(calendar, start, start + activity.minutes, things)
        return None

    def schedule(self, rank: list[float]) -> Schedule | None:
        """Everything in its place; None where something finds none."""
        activities, calendars = self.asked.activities, self.asked.calendars
        placed: dict[int, Placed] = {}
        while len(placed) < len(activities):
            free = [n for n, each in enumerate(activities) if n not in placed and all(a.activity in placed for a in each.after)]
            number = min(free, key=lambda each: (rank[each], each))
            before = [(placed[each.activity], each.wait) for each in activities[number].after]
            ready = max((calendars[each.calendar].real_end(each.stop) + wait for each, wait in before), default=-(10**6))
            places = [self._earliest(number, calendar, ready) for calendar in activities[number].calendars]
            found = [each for each in places if each is not None]
            if not found:
                return None
            place = min(found, key=lambda each: calendars[each.calendar].real_end(each.stop))
            for thing, amount, when in self._uses(number, place.calendar, place.start, place.taken):
                self._take(thing, amount, when)
            placed[number] = place
        return Schedule(tuple(placed[number] for number in range(len(activities))))


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.integers(0, 10**6))
def test_what_is_compiled_places_everything_where_plain_counting_does(seed: int) -> None:
    asked = problem(seed, windows=10)
    rank = np.random.default_rng(seed).random(len(asked.activities))
    assert Placer(asked).schedule(Order(rank)) == Plainly(asked).schedule(rank.tolist())


def test_a_schedule_is_the_same_as_arrays_and_back() -> None:
    asked = problem(5)
    placer = Placer(asked)
    places = placer.places(Order(np.zeros(len(asked.activities))))
    assert places is not None
    schedule = placer.schedule_of(places)
    again = placer.places_of(schedule)
    assert placer.schedule_of(again) == schedule
    real = [asked.calendars[each.calendar].real(each.start) for each in schedule.placed]
    assert places.begins.tolist() == again.begins.tolist() == real
