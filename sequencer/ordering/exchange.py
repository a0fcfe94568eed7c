"""Moving blocks: an order is made better by exchanging two neighbouring blocks of it, as long as an exchange helps.

Both blocks keep their direction, so an exchange of `order[i:j]` with `order[j:k]` changes three costs only, whatever the costs
are. It is allowed as long as nothing in the first block is demanded by anything in the second. When nothing helps, a few
exchanges are made at random and mended again; a result slightly worse is taken at first, ever less so towards the end.

Sources: L. Gambardella and M. Dorigo, INFORMS Journal on Computing 12, 2000 (the exchange); S. Lin and B. Kernighan, Operations
Research 21, 1973 (look only where the first cost saved exceeds the first one added); S. Kirkpatrick and others, Science 220,
1983 (taking what is slightly worse, ever less).
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from sequencer.ordering.problem import Nodes

SLACK = 0.03
"""What a result may be worse than the best at first, as a share of it."""
REACH = 8
"""The longest block that is exchanged at random."""

Exchange = tuple[int, int, int]
"""Places i < j < k: `order[i:j]` and `order[j:k]` change places."""


def exchanged(nodes: Nodes, order: Sequence[int], rounds: int, seed: int = 0) -> tuple[int, ...]:
    """The best order found from a given one by `rounds` of disturbing and mending. Equal input gives an equal answer."""
    random = Random(seed)
    now = _Order(nodes, order)
    now.mend(list(now.order))
    cost = nodes.of(now.order)
    best, least = tuple(now.order), cost
    for left in range(rounds, 0, -1):
        trial = _Order(nodes, now.order, now.near)
        trial.mend(trial.disturb(random))
        new = nodes.of(trial.order)
        if new <= cost + SLACK * least * left / rounds * random.random():
            now, cost = trial, new
            if new < least:
                best, least = tuple(trial.order), new
    return best


class _Order:
    """An order while it is worked on. The first and the last node stay where they are."""

    def __init__(self, nodes: Nodes, order: Sequence[int], near: Sequence[Sequence[int]] | None = None) -> None:
        self.nodes = nodes
        self.order = list(order)
        self.place = [0] * len(self.order)
        self.until = [0] * (len(self.order) + 1)
        """The set of nodes before each place."""
        self.near = near if near is not None else _nearest(nodes)
        self._number(0, len(self.order))

    def _number(self, start: int, end: int) -> None:
        for at in range(start, end):
            node = self.order[at]
            self.place[node] = at
            self.until[at + 1] = self.until[at] | 1 << node

    def exchange(self, move: Exchange) -> list[int]:
        """Make an exchange. The nodes beside the three joints that it changes."""
        i, j, k = move
        order = self.order
        beside = [order[at] for joint in move for at in (joint - 1, joint)]
        order[i:k] = order[j:k] + order[i:j]
        self._number(i, k)
        return beside

    def disturb(self, random: Random) -> list[int]:
        """Make one to three exchanges at random, as far as any is allowed. The nodes beside what changed."""
        beside: list[int] = []
        end = len(self.order) - 1
        if end < 3:
            return beside
        for _ in range(random.randint(1, 3)):
            for _ in range(50):
                i = random.randint(1, end - 2)
                j = random.randint(i + 1, min(end - 1, i + REACH))
                k = random.randint(j + 1, min(end, j + REACH))
                if self._allowed(i, j, k):
                    beside += self.exchange((i, j, k))
                    break
        return beside

    def mend(self, unsure: list[int]) -> None:
        """Make exchanges that help, until none that begins after an unsure node does."""
        while unsure:
            node = unsure.pop()
            while move := self._after(node):
                unsure += self.exchange(move)

    def _allowed(self, i: int, j: int, k: int) -> bool:
        first, before = self.until[j] ^ self.until[i], self.nodes.before
        return not any(before[node] & first for node in self.order[j:k])

    def _after(self, node: int) -> Exchange | None:
        """An exchange that helps and puts a node that is nearer directly after this one."""
        at = self.place[node]
        if at == len(self.order) - 1:
            return None
        costs = self.nodes.cost[node]
        parted = costs[self.order[at + 1]]
        for nearer in self.near[node]:
            saved = parted - costs[nearer]
            if saved <= 0:
                return None
            there = self.place[nearer]
            move = (
                self._skip(at + 1, there, saved) or self._bring(at + 1, there, saved)
                if there > at + 1
                else self._send(there, at + 1, saved)
            )
            if move:
                return move
        return None

    def _skip(self, i: int, j: int, saved: int) -> Exchange | None:
        """The second block begins at j, the first at i: where does it end?"""
        order, cost, before = self.order, self.nodes.cost, self.nodes.before
        first = self.until[j] ^ self.until[i]
        head, tail = order[i], cost[order[j - 1]]
        saved += tail[order[j]]
        for k in range(j + 1, len(order)):
            end, next_ = order[k - 1], order[k]
            if before[end] & first:
                return None
            if saved + cost[end][next_] > tail[next_] + cost[end][head]:
                return i, j, k
        return None

    def _bring(self, j: int, k: int, saved: int) -> Exchange | None:
        """The second block is from j to k: where does the first begin?"""
        order, cost = self.order, self.nodes.cost
        head, last = order[j], cost[order[k - 1]]
        saved += last[order[k]]
        demanded = 0
        for node in order[j:k]:
            demanded |= self.nodes.before[node]
        for i in range(j - 1, 0, -1):
            start, earlier = order[i], cost[order[i - 1]]
            if demanded >> start & 1:
                return None
            if saved + earlier[start] > last[start] + earlier[head]:
                return i, j, k
        return None

    def _send(self, i: int, k: int, saved: int) -> Exchange | None:
        """The first block begins at i, the second ends at k: where do they meet?"""
        if not i:
            return None
        order, cost = self.order, self.nodes.cost
        earlier, head = cost[order[i - 1]], order[k]
        saved += earlier[order[i]]
        for j in range(k - 1, i, -1):
            end, start = order[j - 1], order[j]
            if saved + cost[end][start] > earlier[start] + cost[end][head] and self._allowed(i, j, k):
                return i, j, k
        return None


def _nearest(nodes: Nodes) -> list[list[int]]:
    """For each node the others that may follow directly on it, the nearest first."""
    everyone = range(len(nodes.cost))
    return [
        sorted(
            (other for other in everyone[1:] if other != node and not nodes.before[node] >> other & 1),
            key=lambda other: (nodes.cost[node][other], other),
        )
        for node in everyone
    ]
