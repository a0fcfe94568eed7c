"""The best order that so many schedules find: orders by rules, crossed with one another.

A genetic algorithm over the ranks that serial generation places activities by (J. C. Bean, ORSA Journal on Computing 6, 1994),
every order of it moved back and forth (`justifying.py`) before it is compared. Two good orders give a new one that has the ranks
of some groups, or of some activities, from either; or what begins by a moment has its order from the one, and the rest from the
other (two-point crossover: S. Hartmann, Naval Research Logistics 45, 1998). Then single ranks are shaken, and the ranks of what
all groups do alike moved together: everyone drills a little sooner.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np

from sequencer.scheduling.greedy import Order, Ranks
from sequencer.scheduling.justifying import Justifier, Made, ranked
from sequencer.scheduling.problem import Problem, Schedule
from sequencer.scheduling.rules import FIXED, orders

BY_RULES = 0.25
"""This share of all schedules is made by rules, but for what the fixed rules take."""
KEPT = 25
"""So many orders are crossed with one another."""
MOMENTS = 0.15
"""How often an order that comes from crossing is made from moment to moment."""
THOROUGH = 3
"""So many times an order by a rule is moved back and forth; one that comes from crossing, once."""
BY_TIME = 0.5
"""How often two orders are parted at moments, not by what they are orders of."""
SHAKES = (0.0, 0.0, 0.003, 0.01)
"""How far ranks, which go from 0 to 1, are moved by chance after crossing."""
MOVES = (0.0, 0.0, 0.0, 0.01, 0.03, 0.1)
"""How far the ranks of what all groups do alike are moved by chance, all of them by as much."""
TURNED = 0.1
"""How often it is turned round whether what no group does is placed first."""


@dataclass(frozen=True)
class Search:
    """What was found and what it is worth, with how many schedules, and whether the search was stopped from outside."""

    worth: tuple[int, float]
    order: Order
    schedule: Schedule
    schedules: int
    stopped: bool = False


def best_order(
    problem: Problem,
    *,
    schedules: int,
    seed: int,
    enough: Callable[[Schedule], bool] = lambda _: False,
    say: Callable[[int], None] = lambda _: None,
    known: Order | None = None,
) -> Search | None:
    """The best order that about so many schedules find; fewer where one is good enough. None where none fits the windows. An
    interrupt (KeyboardInterrupt) ends the search with what is found by then, if anything is.

    say
        Is told how many windows are used whenever they get fewer.
    known
        An order that is known to be good.
    """
    justifier = Justifier(problem)
    best: Made | None = None
    stopped = False
    try:
        for found in _found(justifier, schedules, seed, known):
            if best is None or found.worth < best.worth:
                if best is None or found.worth[0] < best.worth[0]:
                    say(found.worth[0] + 1)
                best = found
            if enough(best.schedule):
                break
    except KeyboardInterrupt:
        if best is None:
            raise
        stopped = True
    return Search(best.worth, best.order, best.schedule, justifier.count, stopped) if best is not None else None


def _found(justifier: Justifier, schedules: int, seed: int, known: Order | None) -> Iterator[Made]:
    """One schedule after the other, each the best of those that an order gives."""
    kept: list[Made] = []
    starts = [known] if known is not None else []
    for number, order in enumerate(chain(starts, orders(justifier.problem, seed))):
        share = BY_RULES if len(kept) > 1 else 1.0
        if number >= len(starts) + len(FIXED) and justifier.count >= share * schedules:
            break
        made = justifier.justified(order, THOROUGH)
        if made is not None:
            kept.append(made)
            yield made
        if justifier.count >= schedules and kept:
            break
    kept = sorted(kept, key=lambda each: each.worth)[:KEPT]
    crossing = _Crossing(justifier.problem, seed)
    while len(kept) > 1 and justifier.count < schedules:
        made = justifier.justified(crossing.of(kept), 1)
        if made is not None and made.worth < kept[-1].worth and all(made.worth != each.worth for each in kept):
            kept = sorted((*kept[:-1], made), key=lambda each: each.worth)
            yield made


class _Crossing:
    """New orders from two good ones."""

    def __init__(self, problem: Problem, seed: int) -> None:
        self.random = np.random.default_rng(seed)
        groups = [activity.group for activity in problem.activities]
        _, self.group = np.unique(groups, return_inverse=True)
        numbers: Counter[int] = Counter()
        alike = []
        for group in groups:
            alike.append(numbers[group] if group >= 0 else -1 - numbers[group])
            numbers[group] += 1
        _, self.alike = np.unique(alike, return_inverse=True)
        """Of each activity, the how many-th of its group it is: what all groups do has the same number."""

    def of(self, kept: list[Made]) -> Order:
        """An order from two of some, the better ones rather than the others, shaken a little or not."""
        random = self.random
        one, other = self._one(kept), self._one(kept)
        rank = self._by_time(one, other) if random.random() < BY_TIME else self._by_ranks(one.order, other.order)
        if far := random.choice(SHAKES):
            rank = rank + random.normal(0, far, len(rank))
        if far := random.choice(MOVES):
            rank = rank + random.normal(0, far, int(self.alike.max(initial=0)) + 1)[self.alike]
        first = (one if random.random() < 0.5 else other).order.first
        turned = bool(random.random() < TURNED)
        return replace(one.order, rank=rank, first=first != turned, by_moments=bool(random.random() < MOMENTS))

    def _by_ranks(self, one: Order, other: Order) -> Ranks:
        """The ranks of some groups, or of some activities, from the one, the rest from the other."""
        random = self.random
        if random.random() < 0.5:
            from_one = (random.random(int(self.group.max(initial=0)) + 1) < 0.5)[self.group]
        else:
            from_one = random.random(len(self.group)) < 0.5
        return np.where(from_one, one.rank, other.rank)

    def _by_time(self, one: Made, other: Made) -> Ranks:
        """What begins before a moment in the order of the one; of the rest some in that of the other, what is left as in the one.
        Half of the time nothing comes before the moment."""
        random = self.random
        begins, others = ranked(one.places.begins), ranked(other.places.begins)
        moment, share = random.random(2)
        if random.random() < 0.5:
            moment = 0.0
        rest = np.flatnonzero(begins >= moment)
        in_turn = rest[np.argsort(others[rest], kind="stable")]
        middle, last = np.split(in_turn, [round(share * len(in_turn))])
        rank = begins.copy()
        rank[middle] = 1 + others[middle]
        rank[last] = 2 + begins[last]
        return rank / 3

    def _one(self, kept: list[Made]) -> Made:
        """The better of two that chance chooses from a list, the best first."""
        return kept[int(self.random.choice(len(kept), 2, replace=False).min())]
