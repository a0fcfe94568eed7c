"""Proof of the best order for costs of any kind: layer by layer, for every set of nodes done and the last of them, the cheapest
way there (M. Held and R. Karp, Journal of the Society for Industrial and Applied Mathematics 10, 1962). What cannot come below a
known cost is left out: every node still to come costs at least its cheapest entry."""

from __future__ import annotations

from sequencer.ordering.problem import Nodes, members


def best_order(nodes: Nodes, known: int, effort: int) -> tuple[int, ...] | None:
    """The cheapest order if it costs less than `known`, empty if none does; None if more than `effort` states had to be kept."""
    count = len(nodes.before)
    entry = [0, *(_entry(nodes, node) for node in range(1, count))]
    layer: dict[tuple[int, int], tuple[int, int]] = {(1, 0): (0, sum(entry))}
    trail: list[dict[tuple[int, int], int]] = []
    everything, kept = (1 << count) - 1, 0
    for _ in range(count - 1):
        next_: dict[tuple[int, int], tuple[int, int]] = {}
        before: dict[tuple[int, int], int] = {}
        for (done, last), (cost, to_come) in layer.items():
            for node in members(everything & ~done):
                if nodes.before[node] & ~done or (node == count - 1 and done.bit_count() < count - 1):
                    continue
                new, rest = cost + nodes.cost[last][node], to_come - entry[node]
                state = (done | 1 << node, node)
                if new + rest < known and (state not in next_ or new < next_[state][0]):
                    next_[state] = (new, rest)
                    before[state] = last
            if kept + len(next_) > effort:
                return None
        kept += len(next_)
        trail.append(before)
        layer = next_
    if not layer:
        return ()
    state = (everything, count - 1)
    order = [count - 1]
    for before in reversed(trail):
        last = before[state]
        state = (state[0] & ~(1 << state[1]), last)
        order.append(last)
    return tuple(reversed(order))


def _entry(nodes: Nodes, node: int) -> int:
    """The least cost of coming to a node, from any that may stand directly before it."""
    return min(
        (nodes.cost[other][node] for other in range(len(nodes.cost)) if other != node and not nodes.after[node] >> other & 1),
        default=0,
    )
