"""Orders of nodes with costs of any kind: a quick start, exchanges of blocks, and a proof where the case is small enough."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.ordering.exchange import exchanged
from sequencer.ordering.layers import best_order
from sequencer.ordering.problem import Nodes


@dataclass(frozen=True)
class Arranged:
    """An order, what it costs, and whether it was proved that no order costs less."""

    order: tuple[int, ...]
    cost: int
    proved: bool


def arrange(nodes: Nodes, *, rounds: int, effort: int, seed: int = 0) -> Arranged:
    """An order of the nodes by `rounds` of exchanges, then a proof or a better order if `effort` states are enough for it."""
    order = exchanged(nodes, cheapest_next(nodes), rounds, seed)
    better = best_order(nodes, nodes.of(order), effort)
    if better:
        order = better
    return Arranged(order, nodes.of(order), better is not None)


def cheapest_next(nodes: Nodes) -> list[int]:
    """An order to begin with: at each place the cheapest of the nodes that may come, the smallest number among equals."""
    order, done, last = [0], 1, len(nodes.before) - 1
    left = list(range(1, last + 1))
    while left:
        ready = [node for node in left if not nodes.before[node] & ~done and (node != last or len(left) == 1)]
        node = min(ready, key=lambda each: (nodes.cost[order[-1]][each], each))
        order.append(node)
        left.remove(node)
        done |= 1 << node
    return order
