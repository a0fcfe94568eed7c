"""Rules that say which activity is placed next, and the best schedule of many of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from random import Random

from sequencer.scheduling.greedy import schedule_by
from sequencer.scheduling.problem import Problem, Schedule, ends, sum_of_ends

Say = Callable[[str], None]


@dataclass(frozen=True)
class Rule:
    """What counts for the rank of an activity: whose it is (one after the other), how long the way to the end is behind it, how
    long the way to it was, and chance."""

    group: float
    tail: float
    head: float
    chance: float
    patience: int = 0


FIXED = (Rule(1, 0.02, 0, 0), Rule(0, 1, 0, 0), Rule(0.3, 1, 0, 0, 20), Rule(0, 0, 1, 0), Rule(0.5, 0, 0.5, 0, 20))


FIRST = -10.0
"""The rank of what belongs to no group: it is placed as soon as it can be."""


def value(problem: Problem, schedule: Schedule) -> tuple[int, int, int]:
    """What is made small: the windows of the first calendar that are used, the last minute, and the sum of the groups' ends."""
    last = ends(problem, schedule)
    return problem.calendars[0].window_of_end(last), last, sum_of_ends(problem, schedule)


def heads_and_tails(problem: Problem) -> tuple[list[float], list[float]]:
    """Of each activity the longest way to its start and from its end, in minutes at work; a wait counts by its share of real
    time."""
    calendar = problem.calendars[0]
    span = max(calendar.windows[-1][1] - calendar.windows[0][0], 1)
    share = calendar.minutes / span
    count = len(problem.activities)
    heads, tails = [0.0] * count, [0.0] * count
    for number, activity in enumerate(problem.activities):
        heads[number] = max(
            (heads[each.activity] + problem.activities[each.activity].minutes + share * each.wait for each in activity.after),
            default=0.0,
        )
    for number in reversed(range(count)):
        for each in problem.followers[number]:
            tails[number] = max(
                tails[number], problem.activities[each.activity].minutes + share * each.wait + tails[each.activity]
            )
    return heads, tails


def rules(seed: int) -> Iterator[Rule]:
    """The fixed rules, then random ones without end."""
    yield from FIXED
    random = Random(seed)
    while True:
        yield Rule(
            random.random() ** 2,
            random.random(),
            random.random() * 0.5,
            random.random() * random.choice((0.05, 0.3)),
            random.choice((0, 5, 20, 60)),
        )


def best_by_rules(
    problem: Problem, *, schedules: int, seed: int, enough: Callable[[Schedule], bool] = lambda _: False, say: Say | None = None
) -> Schedule | None:
    """The best of so many schedules, each by a rule of its own; fewer where one is good enough."""
    heads, tails = heads_and_tails(problem)
    long = max((head + tail for head, tail in zip(heads, tails, strict=True)), default=1.0) or 1.0
    groups = max([0, *(activity.group for activity in problem.activities)]) + 1
    random = Random(seed + 1)
    best: tuple[tuple[int, int, int], Schedule] | None = None
    for number, rule in zip(range(schedules), rules(seed), strict=False):
        rank = _rank(problem, rule, heads, tails, long, groups, random)
        found = schedule_by(problem, rank, rule.patience)
        if found is None:
            continue
        worth = value(problem, found)
        if best is None or worth < best[0]:
            best = worth, found
            if say is not None:
                say(f"schedule {number + 1}: ends in window {worth[0] + 1}")
            if enough(found):
                break
    return best[1] if best else None


def _rank(
    problem: Problem,
    rule: Rule,
    heads: Sequence[float],
    tails: Sequence[float],
    long: float,
    groups: int,
    random: Random,
) -> list[float]:
    return [
        FIRST
        if activity.group < 0
        else rule.group * activity.group / groups
        - rule.tail * tails[number] / long
        + rule.head * heads[number] / long
        + rule.chance * random.random()
        for number, activity in enumerate(problem.activities)
    ]
