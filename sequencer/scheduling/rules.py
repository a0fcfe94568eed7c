"""Rules that say which activity is placed next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

import numpy as np

from sequencer.scheduling.greedy import Order
from sequencer.scheduling.problem import Problem


@dataclass(frozen=True)
class Rule:
    """What counts for the rank of an activity: whose it is (one after the other), how long the way to the end is behind it, how
    long the way to it was, and chance.

    patience
        So many minutes are waited for a thing that stands earlier among the options.
    stress
        How much longer work counts at the thing that has most to do, as one of STRESSES.
    """

    group: float
    tail: float
    head: float
    chance: float
    patience: int = 0
    stress: float = 0.0


STRESSES = (0.0, 2.0, 8.0)
FIXED = (
    Rule(1, 0.02, 0, 0),
    Rule(0, 1, 0, 0),
    Rule(0, 1, 0, 0, 20, 8.0),
    Rule(0.3, 1, 0, 0, 20, 2.0),
    Rule(0, 0, 1, 0),
    Rule(0.5, 0, 0.5, 0, 20),
)


def heads_and_tails(problem: Problem, stress: float = 0.0) -> tuple[list[float], list[float]]:
    """Of each activity the longest way to its start and from its end, in minutes at work. A wait counts by its share of real time
    and half a window; work at a thing by how much there is to do at it, the busiest thing as (1 + stress) times as long."""
    calendar = problem.calendars[0]
    span = max(calendar.windows[-1][1] - calendar.windows[0][0], 1)
    share = calendar.minutes / span
    half = calendar.minutes / len(calendar.windows) / 2 if len(calendar.windows) > 1 else 0.0
    busy = _busy(problem)
    minutes = [activity.minutes * (1 + stress * each) for activity, each in zip(problem.activities, busy, strict=True)]
    count = len(problem.activities)
    heads, tails = [0.0] * count, [0.0] * count

    def waited(wait: int) -> float:
        return share * wait + half if wait else 0.0

    for number, activity in enumerate(problem.activities):
        heads[number] = max(
            (heads[each.activity] + minutes[each.activity] + waited(each.wait) for each in activity.after), default=0.0
        )
    for number in reversed(range(count)):
        for each in problem.followers[number]:
            tails[number] = max(tails[number], minutes[each.activity] + waited(each.wait) + tails[each.activity])
    return heads, tails


def _busy(problem: Problem) -> list[float]:
    """Of each activity how much there is to do at the busiest thing it takes that is not one group's own, as a share of the
    most."""
    load: dict[tuple[int, ...], float] = {}
    groups: dict[tuple[int, ...], set[int]] = {}
    for activity in problem.activities:
        for need in activity.needs:
            count = sum(problem.counts[thing] for thing in need.options)
            load[need.options] = load.get(need.options, 0.0) + need.amount * activity.minutes / count
            groups.setdefault(need.options, set()).add(activity.group)
    shared = {options: each for options, each in load.items() if len(groups[options] - {-1}) > 1}
    most = max(shared.values(), default=1.0) or 1.0
    return [
        max((shared.get(need.options, 0.0) / most for need in activity.needs), default=0.0) ** 2
        for activity in problem.activities
    ]


def rules(random: Random) -> Iterator[Rule]:
    """The fixed rules, then random ones without end."""
    yield from FIXED
    while True:
        yield Rule(
            random.choice((0.1, 0.3, 1.0, 2.0)),
            random.random() * random.choice((0.05, 0.3)),
            0.0,
            random.choice((0.05, 0.1, 0.2)),
            0,
            random.choice(STRESSES),
        )


def orders(problem: Problem, seed: int) -> Iterator[Order]:
    """An order by each rule."""
    random = Random(seed)
    ways = {stress: heads_and_tails(problem, stress) for stress in STRESSES}
    groups = max([0, *(activity.group for activity in problem.activities)]) + 1
    for number, rule in enumerate(rules(random)):
        heads, tails = ways[rule.stress]
        longest = max((head + tail for head, tail in zip(heads, tails, strict=True)), default=1.0) or 1.0
        yield Order(
            np.array(
                [
                    rule.group * activity.group / groups
                    + (rule.head * head - rule.tail * tail) / longest
                    + rule.chance * random.random()
                    for activity, head, tail in zip(problem.activities, heads, tails, strict=True)
                ]
            ),
            rule.patience,
            first=number < len(FIXED) or number % 2 == 0,
            by_moments=number >= len(FIXED) and number % 4 < 2,
        )
