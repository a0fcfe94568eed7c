"""What is asked of an order, and the check of an answer.

Things to be ordered are numbers 0, 1, 2 ... A set of them is an `int` whose bits say which are in it, so that "everything
demanded before is done" is one operation on numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise


@dataclass(frozen=True)
class Steps:
    """Steps, each with the set-up it is done in, and what a change of set-up costs.

    `before[i]` is the set of steps that must come before step i. `change[a][b]` is the cost of going from set-up a to set-up b,
    and `first[b]` that of starting with b; both are whole numbers (seconds, say), nothing for staying. `station[a]` is the
    station of set-up a: only a grouping, from which the bound learns what a return costs.
    """

    set_up: tuple[int, ...]
    before: tuple[int, ...]
    change: tuple[tuple[int, ...], ...]
    first: tuple[int, ...]
    station: tuple[int, ...]

    @cached_property
    def after(self) -> tuple[int, ...]:
        """For each step the set of steps which demand it."""
        return turned_round(self.before)

    @cached_property
    def all(self) -> int:
        """The set of all steps."""
        return (1 << len(self.set_up)) - 1

    def cost(self, order: Sequence[int]) -> int:
        """What the changes of an order cost, the first set-up included; 0 for no steps."""
        if not order:
            return 0
        return self.first[self.set_up[order[0]]] + sum(
            self.change[self.set_up[one]][self.set_up[next_]] for one, next_ in pairwise(order)
        )


@dataclass(frozen=True)
class Nodes:
    """The general case: nodes of which the first is done first and the last last, `cost[i][j]` when j follows directly on i."""

    cost: tuple[tuple[int, ...], ...]
    before: tuple[int, ...]

    @cached_property
    def after(self) -> tuple[int, ...]:
        """For each node the set of nodes which demand it."""
        return turned_round(self.before)

    def of(self, order: Sequence[int]) -> int:
        """What an order costs."""
        return sum(self.cost[one][next_] for one, next_ in pairwise(order))


def members(many: int) -> Iterator[int]:
    """The numbers in a set, smallest first."""
    while many:
        lowest = many & -many
        yield lowest.bit_length() - 1
        many ^= lowest


def set_of(numbers: Iterable[int]) -> int:
    """The set of some numbers."""
    many = 0
    for number in numbers:
        many |= 1 << number
    return many


def turned_round(before: Sequence[int]) -> tuple[int, ...]:
    """For each number the set of those which have it in theirs."""
    after = [0] * len(before)
    for number, many in enumerate(before):
        for earlier in members(many):
            after[earlier] |= 1 << number
    return tuple(after)


def closed(before: Sequence[int]) -> tuple[int, ...]:
    """The same demands with everything that follows from them. Raises ValueError if they go round in a circle."""
    whole = list(before)
    for number in any_order(before):
        for earlier in members(before[number]):
            whole[number] |= whole[earlier]
    return tuple(whole)


def any_order(before: Sequence[int]) -> tuple[int, ...]:
    """The first order that the demands allow, smallest numbers first. Raises ValueError if they go round in a circle."""
    order: list[int] = []
    done, left = 0, list(range(len(before)))
    while left:
        ready = next((number for number in left if not before[number] & ~done), None)
        if ready is None:
            raise ValueError("the demands go round in a circle")
        order.append(ready)
        left.remove(ready)
        done |= 1 << ready
    return tuple(order)


def faults(order: Sequence[int], before: Sequence[int]) -> tuple[str, ...]:
    """What is wrong with an order: things missing or twice, and each demand it breaks. Knows nothing of how it was found."""
    found = []
    if sorted(order) != list(range(len(before))):
        found.append("not every step comes once")
    place = {number: at for at, number in enumerate(order)}
    for number, at in place.items():
        found += [
            f"{earlier} must come before {number}" for earlier in members(before[number]) if place.get(earlier, len(order)) > at
        ]
    return tuple(found)
