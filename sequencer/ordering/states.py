"""The states an order of steps goes through: which steps are done, and which set-up is mounted.

The cost of a change depends on the set-ups alone, so nothing else of the past matters. What can be done in the mounted set-up
is done at once: staying costs nothing, and a detour never pays (`least_changes` sees to that). So every move is a change of
set-up, followed by all that can be done there. (Held and Karp, Journal of the Society for Industrial and Applied Mathematics 10,
1962, for the search over sets.)
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sequencer.ordering.problem import Steps, any_order

State = tuple[int, int]
"""The set of steps done, and the set-up mounted; -1 before anything is mounted."""

START: State = (0, -1)


@dataclass(frozen=True)
class Moves:
    """The moves of a problem. `of_set_up[a]` holds the steps of a set-up, each with what it demands, none before its own;
    `all_of[a]` is the set of them."""

    steps: Steps
    of_set_up: tuple[tuple[tuple[int, int], ...], ...]
    all_of: tuple[int, ...]

    def from_(self, state: State) -> Iterator[tuple[int, State]]:
        """Each change to a set-up in which something can be done now: its cost, and the state when all that can be is done."""
        done, mounted = state
        costs = self.steps.first if mounted < 0 else self.steps.change[mounted]
        for set_up, every in enumerate(self.all_of):
            if set_up != mounted and every & ~done:
                then = done
                for step, before in self.of_set_up[set_up]:
                    if before & then == before:
                        then |= step
                if then != done:
                    yield costs[set_up], (then, set_up)

    def done_between(self, earlier: int, later: int, set_up: int) -> Iterator[int]:
        """The steps of a set-up by which one set of steps done is larger than another, in an order the demands allow."""
        for step, _ in self.of_set_up[set_up]:
            if step & later & ~earlier:
                yield step.bit_length() - 1


def moves_of(steps: Steps) -> Moves:
    """The moves of a problem."""
    of_set_up: list[list[tuple[int, int]]] = [[] for _ in steps.first]
    for step in any_order(steps.before):
        of_set_up[steps.set_up[step]].append((1 << step, steps.before[step]))
    return Moves(steps, tuple(map(tuple, of_set_up)), tuple(sum(step for step, _ in own) for own in of_set_up))


def least_changes(steps: Steps) -> Steps:
    """The same problem where a change costs no more than going by way of other set-ups (Floyd and Warshall), 1962."""
    change = [list(row) for row in steps.change]
    first = list(steps.first)
    set_ups = range(len(first))
    for via in set_ups:
        for one in set_ups:
            for other in set_ups:
                change[one][other] = min(change[one][other], change[one][via] + change[via][other])
    for via in set_ups:
        for other in set_ups:
            first[other] = min(first[other], first[via] + change[via][other])
    return replace(steps, change=tuple(tuple(row) for row in change), first=tuple(first))
