"""How bodies that stand together come apart by straight moves along the three axes: in layers, as they would be put together.

What stands in the way of what is found between pairs (blocking graphs: R. H. Wilson and J.-C. Latombe, Geometric reasoning
about mechanical assembly, Artificial Intelligence 71(2), 1994): bodies that hold each other in a ring stay together, the rest
is in order along the axis. mm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sequencer.design.poses import Direction
from sequencer.model.frame import AXES, Axis, others
from sequencer.solid.solids import Solid
from sequencer.solid.sweeping import blocked

_TOUCH = 0.05
"""Boxes that share less than this along an axis only touch, mm."""

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Obstacles:
    """What stands in the way of what among bodies where they stand; each question is answered once."""

    standing: Mapping[str, Solid]
    _known: dict[tuple[str, str, Axis], bool] = field(default_factory=dict)

    def meets(self, moving: str, other: str, axis: Axis) -> bool:
        """Whether a body that moves up along an axis, as far as it takes, meets another.

        A body that lies wholly ahead counts as met where the boxes around both overlap across the axis.
        """
        key = (moving, other, axis)
        if key not in self._known:
            self._known[key] = self._find(self.standing[moving], self.standing[other], axis)
        return self._known[key]

    @staticmethod
    def _find(moving: Solid, other: Solid, axis: Axis) -> bool:
        mine, theirs = moving.bounds, other.bounds
        index = AXES.index(axis)
        if theirs.high[index] <= mine.low[index] + _TOUCH:
            return False
        if not _in_line(moving, other, axis):
            return False
        if theirs.low[index] >= mine.high[index] - _TOUCH:
            return True
        return blocked(moving, [other], Direction(axis, 1), theirs.high[index] - mine.low[index]) is not None


def _in_line(one: Solid, two: Solid, axis: Axis) -> bool:
    """Whether the boxes around two bodies overlap across an axis."""
    spans = ((one.bounds.span(side), two.bounds.span(side)) for side in others(axis))
    return all(min(high, stop) - max(low, start) > _TOUCH for (low, high), (start, stop) in spans)


@dataclass(frozen=True)
class Layers:
    """Bodies in layers along an axis, from low to high: each layer can be moved away from those before it."""

    axis: Axis
    layers: tuple[tuple[str, ...], ...]


def ways_apart(obstacles: Obstacles, bodies: Mapping[str, Sequence[str]]) -> tuple[Layers, ...]:
    """The axes along which bodies, each of one or several pieces, come apart, with the layers they come apart in."""
    names = tuple(bodies)
    found = (Layers(axis, _layered(names, _edges(obstacles, bodies, axis), _threaded(obstacles, bodies, axis))) for axis in AXES)
    return tuple(each for each in found if len(each.layers) > 1)


def _threaded(obstacles: Obstacles, bodies: Mapping[str, Sequence[str]], axis: Axis) -> Flags:
    """Which bodies have others in line with them along an axis, as a rod has what it goes through."""
    standing = obstacles.standing
    return np.array(
        [
            any(
                _in_line(standing[a], standing[b], axis)
                for two, theirs in bodies.items()
                if one != two
                for a in mine
                for b in theirs
            )
            for one, mine in bodies.items()
        ],
        dtype=np.bool_,
    )


def _edges(obstacles: Obstacles, bodies: Mapping[str, Sequence[str]], axis: Axis) -> Flags:
    """Which body (row) meets which (column) on its way up."""
    return np.array(
        [
            [one != two and any(obstacles.meets(a, b, axis) for a in mine for b in theirs) for two, theirs in bodies.items()]
            for one, mine in bodies.items()
        ],
        dtype=np.bool_,
    )


def _layered(names: Sequence[str], meets: Flags, threaded: Flags) -> tuple[tuple[str, ...], ...]:
    reach = meets | np.eye(len(names), dtype=np.bool_)
    for _ in names:
        further = reach @ reach
        if (further == reach).all():
            break
        reach = further
    before = reach & ~reach.T
    rank = np.zeros(len(names), dtype=np.int64)
    for each in np.argsort(before.sum(axis=0), kind="stable"):
        rank[each] = max((rank[one] + 1 for one in np.flatnonzero(before[:, each])), default=0)
    # What nothing holds from below stands next to what it goes into; what nothing holds at all stays with the most.
    held, holds = before.any(axis=0), before.any(axis=1)
    loose, free = ~held & holds, ~held & ~holds
    rank[loose] = [rank[before[each]].min() - 1 for each in np.flatnonzero(loose)]
    if free.all():
        # Only what slides through others, both ways, can come out of those that hold each other.
        rank[threaded & ~meets.any(axis=0) & ~meets.any(axis=1)] = 1
    else:
        counts = Counter(rank[~free].tolist())
        rank[free] = max(counts, key=lambda each: (counts[each], each))
    ranks = rank.tolist()
    return tuple(tuple(name for name, own in zip(names, ranks, strict=True) if own == each) for each in sorted(set(ranks)))
