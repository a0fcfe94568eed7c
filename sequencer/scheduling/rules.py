"""Rules that say which activity is placed next, and the best schedule of many of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from random import Random

from sequencer.scheduling.greedy import Order, schedule_by
from sequencer.scheduling.problem import Problem, Schedule, ends, sum_of_ends

Say = Callable[[str], None]


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


FIRST = -10.0
"""The rank of what belongs to no group: it is placed as soon as it can be."""


def value(problem: Problem, schedule: Schedule) -> tuple[int, int, int]:
    """What is made small: the windows of the first calendar that are used, the last minute, and the sum of the groups' ends."""
    last = ends(problem, schedule)
    return problem.calendars[0].window_of_end(last), last, sum_of_ends(problem, schedule)


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
            random.choice(STRESSES),
        )


def best_by_rules(
    problem: Problem, *, schedules: int, seed: int, enough: Callable[[Schedule], bool] = lambda _: False, say: Say | None = None
) -> tuple[Order, Schedule] | None:
    """The best of so many schedules, each by a rule of its own, with the order that gives it; fewer where one is good enough."""
    ways = {stress: _ways(problem, stress) for stress in STRESSES}
    groups = max([0, *(activity.group for activity in problem.activities)]) + 1
    random = Random(seed + 1)
    best: tuple[tuple[int, int, int], Order, Schedule] | None = None
    for number, rule in zip(range(schedules), rules(seed), strict=False):
        order = Order(_rank(problem, rule, *ways[rule.stress], groups, random), rule.patience)
        found = schedule_by(problem, order)
        if found is None:
            continue
        worth = value(problem, found)
        if best is None or worth < best[0]:
            best = worth, order, found
            if say is not None:
                say(f"schedule {number + 1}: ends in window {worth[0] + 1}")
            if enough(found):
                break
    return best[1:] if best else None


def _ways(problem: Problem, stress: float) -> tuple[list[float], list[float], float]:
    """Heads, tails, and the longest of both together."""
    heads, tails = heads_and_tails(problem, stress)
    return heads, tails, max((head + tail for head, tail in zip(heads, tails, strict=True)), default=1.0) or 1.0


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
