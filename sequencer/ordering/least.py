"""The order of least changing: found, then proved or bounded, and among equals the one nearest to the order of the numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from sequencer.ordering.bound import Bound, bound_of
from sequencer.ordering.exact import beam, search
from sequencer.ordering.exchange import exchanged
from sequencer.ordering.problem import Nodes, Steps, closed
from sequencer.ordering.states import START, Moves, State, least_changes, moves_of

EFFORT = 9_000_000
"""Steps of states looked at before a proof is given up: some seconds, far more than most jobs need."""
PATIENT = 60
"""Steps (of a plan its tasks, before they are grouped into printed steps) above which a proof is not worth waiting for: only the
first look is taken, and the bound is what it gave."""
QUICK = 120_000
"""Steps of states after which the proof waits until a good order is known."""
WIDTH = 100
"""States that the beam keeps at every number of steps done, at most."""
BREADTH = 600_000
"""The same for large jobs: width by the square of the steps."""
LARGE = 200
"""Steps above which a search takes too long for the one who waits: `quick_order` is for those."""
ROUNDS = 300
"""Rounds of exchanging blocks, where no proof was found."""


@dataclass(frozen=True)
class Ordered:
    """An order of all steps, what its changes cost, and what the changes of any order cost at least: equal if it is the best.
    Where a change is cheaper by way of another set-up, both count it at that."""

    order: tuple[int, ...]
    cost: int
    least: int

    @property
    def proved(self) -> bool:
        """Whether no order costs less."""
        return self.least >= self.cost


@lru_cache(maxsize=64)  # a question about an order, or what a decision costs, asks for the same order again and again
def least_changing(steps: Steps, effort: int = EFFORT) -> Ordered:
    """The order with the least changing of set-ups. Steps are numbered as they would be done if no change cost anything: among
    orders that cost the same the one is taken that at every change goes to the smallest number. Raises ValueError if the demands
    go round in a circle. Effort is counted in states, not by the clock, so equal input gives an equal answer."""
    if not steps.set_up:
        return Ordered((), 0, 0)
    count = len(steps.set_up)
    steps = least_changes(replace(steps, before=closed(steps.before)))
    moves, bound = moves_of(steps), bound_of(steps)
    look = min(QUICK, effort) // count
    states = effort // count if count <= PATIENT else look
    found = search(steps, moves, bound, None, look)
    path = found.path
    if not path:
        path = beam(steps, moves, bound, max(1, min(WIDTH, BREADTH // count**2)))
        if states > look:
            found = search(steps, moves, bound, steps.cost(_order(moves, path)), states)
            path = found.path or path
    cost = steps.cost(_order(moves, path))
    if found.least < cost:
        best = min(as_wished(steps.before), _polished(steps, _order(moves, path)), key=steps.cost)
        return Ordered(best, steps.cost(best), found.least)
    return _ordered(steps, moves, _nearest(steps, moves, bound, cost, states) or path, found.least)


def as_wished(before: Sequence[int]) -> tuple[int, ...]:
    """The steps by their numbers, each as early as what it demands (as sets of bits) lets it be."""
    order: list[int] = []
    done, left = 0, list(range(len(before)))
    while left:
        step = next(step for step in left if before[step] & ~done == 0)
        left.remove(step)
        order.append(step)
        done |= 1 << step
    return tuple(order)


def _ordered(steps: Steps, moves: Moves, path: Sequence[State], least: int) -> Ordered:
    order = tuple(_order(moves, path))
    return Ordered(order, steps.cost(order), least)


def _order(moves: Moves, path: Sequence[State]) -> list[int]:
    return [step for (done, _), (then, set_up) in pairwise(path) for step in moves.done_between(done, then, set_up)]


def _nearest(steps: Steps, moves: Moves, bound: Bound, most: int, effort: int) -> tuple[State, ...]:
    """Of the paths that cost no more than `most`, the one that at every change takes the smallest number that still can be:
    search in depth, the wished move first, remembering what led nowhere. Empty if that takes more than `effort` states."""
    failed: dict[State, int] = {}

    def onward(state: State, cost: int) -> Iterator[tuple[State, int]]:
        then = [(own & -own, toll, each) for toll, each in moves.from_(state) if (own := each[0] & ~state[0])]
        for _, toll, each in sorted(then):
            new = cost + toll
            hopeful = new + bound.of(steps.all & ~each[0], steps.station[each[1]]) <= most
            if hopeful and new < failed.get(each, most + 1):
                yield each, new

    path, ways = [(START, 0)], [onward(START, 0)]
    for _ in range(effort):
        state, cost = path[-1]
        if state[0] == steps.all:
            return tuple(each for each, _ in path)
        following = next(ways[-1], None)
        if following is not None:
            path.append(following)
            ways.append(onward(*following))
        else:
            failed[state] = cost
            path.pop()
            ways.pop()
            if not path:
                break
    return ()


def _polished(steps: Steps, order: Sequence[int]) -> tuple[int, ...]:
    """The order after exchanging blocks: the steps as nodes between a start and an end that cost nothing."""
    last = len(order) + 1
    cost = [
        (0, *(steps.first[set_up] for set_up in steps.set_up), 0),
        *((0, *(steps.change[own][set_up] for set_up in steps.set_up), 0) for own in steps.set_up),
        (0,) * (last + 1),
    ]
    before = (0, *(1 | many << 1 for many in steps.before), (1 << last) - 1)
    nodes = Nodes(tuple(cost), before)
    found = exchanged(nodes, [0, *(step + 1 for step in order), last], ROUNDS)
    return tuple(step - 1 for step in found[1:-1])
