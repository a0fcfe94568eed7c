"""An order in one pass, for what is too large to be searched."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.ordering.problem import members, turned_round


def quick_order(set_ups: Sequence[int], before: Sequence[int]) -> tuple[int, ...]:
    """Go on with the set-up that is mounted as long as anything can be done in it; else go to one that can be finished in one go,
    the smallest number first among equals. `set_ups[i]` is the set-up of step i, `before[i]` the set of steps it demands. In a
    circle of demands nothing is ever ready, and its steps are missing in the answer."""
    after = turned_round(before)
    waiting = [many.bit_count() for many in before]
    awaited = dict.fromkeys(set_ups, 0)
    ready: dict[int, set[int]] = {}
    for step, set_up in enumerate(set_ups):
        awaited[set_up] += sum(set_ups[other] != set_up for other in members(before[step]))
        if not waiting[step]:
            ready.setdefault(set_up, set()).add(step)
    order: list[int] = []
    mounted = -1
    while ready:
        if mounted not in ready:
            mounted = min(ready, key=lambda set_up: (awaited[set_up] > 0, min(ready[set_up])))
        step = min(ready[mounted])
        order.append(step)
        ready[mounted].remove(step)
        if not ready[mounted]:
            del ready[mounted]
        for later in members(after[step]):
            waiting[later] -= 1
            awaited[set_ups[later]] -= set_ups[later] != mounted
            if not waiting[later]:
                ready.setdefault(set_ups[later], set()).add(later)
    return tuple(order)
