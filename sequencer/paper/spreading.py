"""Pieces moved apart in a picture of them: along the axes they go in by, until nothing covers anything. mm."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from sequencer.design.poses import ORIGIN
from sequencer.model.frame import AXES, Axis, Point
from sequencer.model.job import Joint
from sequencer.model.shapes import Bounds
from sequencer.paper.outlines import Eye
from sequencer.paper.whole import Whole
from sequencer.solid.taking_apart import Layers, ways_apart

_MEET = 0.5
"""Pieces closer than this meet: a loose fit, mm."""


_CLEAR = 0.025
"""Between what is to be told apart in the picture: share of the size of the whole."""


@dataclass(frozen=True)
class Gaps:
    """How far layers are moved apart: at least, a share of the size of the whole, and at most, times the size of what they are
    moved from."""

    least: float
    most: float


TAKEN_APART = Gaps(0.05, 1.5)


JOINING = Gaps(0.2, 0.6)
"""A picture of joining is small: room for its arrows comes before seeing every piece alone."""


def spread(
    whole: Whole, bodies: Mapping[str, tuple[str, ...]], viewer: Eye, joints: Collection[Joint], gaps: Gaps
) -> dict[str, Point]:
    """How far each body is moved so that nothing covers anything; bodies that no joint connects stay as they stand."""
    of = {piece: name for name, own in bodies.items() for piece in own}
    pairs = {
        joint.name: {of[joint.enters_piece], of[joint.seat.piece]}
        for joint in joints
        if joint.enters_piece in of and joint.seat.piece in of
    }
    boxes = [whole.boxes[piece] for piece in of]
    spreading = Spreading(whole, bodies, pairs, viewer, _size(boxes), gaps)
    moves: dict[str, Point] = {}
    for cluster in _clusters(tuple(bodies), spreading.links):
        moves |= spreading.apart(cluster)
    return moves


@dataclass(frozen=True, eq=False)
class Spreading:
    """Moves bodies apart until each can be told in a viewer's picture."""

    whole: Whole
    bodies: Mapping[str, tuple[str, ...]]
    joints: Mapping[str, set[str]]
    """The two bodies that each joint joins."""
    viewer: Eye
    size: float
    gaps: Gaps

    @cached_property
    def links(self) -> list[set[str]]:
        """The pairs of bodies that are joined or touch."""
        touching = [
            {one, two}
            for one, two in combinations(self.bodies, 2)
            if any(_touch(a, b) for a in self._boxes(one) for b in self._boxes(two))
        ]
        return [*self.joints.values(), *touching]

    def apart(self, names: Sequence[str]) -> dict[str, Point]:
        """How far each body is moved, of bodies that belong together: first what is joined last, if it can be."""
        kept = _clusters(names, self._made_first(names))
        found = self._layers(kept) or self._layers([(name,) for name in names])
        if found is None:
            return dict.fromkeys(names, ORIGIN)
        moves: dict[str, Point] = {}
        placed: list[Bounds] = []
        at = 0.0
        for layer in found.layers:
            inner = {name: move for cluster in _clusters(layer, self.links) for name, move in self.apart(cluster).items()}
            boxes = [self._moved(box, inner[name]) for name in layer for box in self._boxes(name)]
            if placed:
                clear = max((self._clear(one, two, found.axis) for one in placed for two in boxes), default=0.0)
                at = max(at + self.gaps.least * self.size, min(clear, at + self.gaps.most * _size(placed)))
            shift = Point(*(at if axis == found.axis else 0.0 for axis in AXES))
            moves |= {name: summed(inner[name], shift) for name in layer}
            placed += [self._moved(box, shift) for box in boxes]
        return moves

    def _layers(self, kept: Sequence[tuple[str, ...]]) -> Layers | None:
        """The layers that bodies come apart in, where some are kept together; None if none do."""
        if len(kept) < 2:
            return None
        members = {each[0]: each for each in kept}
        pieces = {first: tuple(piece for name in each for piece in self.bodies[name]) for first, each in members.items()}
        found = [
            Layers(way.axis, tuple(tuple(name for first in layer for name in members[first]) for layer in way.layers))
            for way in ways_apart(self.whole.obstacles, pieces)
        ]
        return max(found, key=lambda way: (self._straight(way), len(way.layers)), default=None)

    def _straight(self, way: Layers) -> int:
        """How many joints between layers meet along the axis, less those that would be drawn apart sideways."""
        layer = {name: number for number, names in enumerate(way.layers) for name in names}
        inside = ((name, pair) for name, pair in self.joints.items() if pair <= set(layer))
        apart = (name for name, pair in inside if len({layer[each] for each in pair}) > 1)
        return sum(1 if self.whole.contact(self.whole.job.joints[name])[1] == way.axis else -1 for name in apart)

    def _made_first(self, names: Sequence[str]) -> list[set[str]]:
        """The pairs of bodies among these that are joined before others of them are: by a joint that comes before another,
        or in a sub-assembly that others join."""
        inside = {name: pair for name, pair in self.joints.items() if pair <= set(names)}
        job = self.whole.job
        before = {name for later in inside for name in job.joints[later].after}
        assemblies = {job.joints[name].assembly for name in inside}
        if len(assemblies) > 1:
            before |= {name for name in inside if job.joints[name].assembly}
        return [inside[name] for name in inside if name in before]

    def _boxes(self, name: str) -> list[Bounds]:
        return [self.whole.boxes[piece] for piece in self.bodies[name]]

    @staticmethod
    def _moved(box: Bounds, by: Point) -> Bounds:
        return Bounds(summed(box.low, by), summed(box.high, by))

    def _clear(self, one: Bounds, two: Bounds, axis: Axis) -> float:
        """How far the second box must be moved up along an axis to be beside the first in the picture; 0 if it never covers
        it. Both are seen as the six-sided outlines of boxes, which are square to the same three directions."""
        ways = {each: self.viewer.direction(Point(*(float(each == own) for own in AXES))) for each in AXES}
        along = ways[axis]
        last, first = float("inf"), 0.0
        for each in AXES:
            for sign in (1, -1):
                across = (-ways[each].y * sign, ways[each].x * sign)
                length = (across[0] ** 2 + across[1] ** 2) ** 0.5
                if length < 1e-9:
                    continue
                turned = {side: (across[0] * way.x + across[1] * way.y) / length for side, way in ways.items()}
                room = sum(_most(one, side, turned[side]) + _most(two, side, -turned[side]) for side in AXES)
                room += _CLEAR * self.size
                speed = (across[0] * along.x + across[1] * along.y) / length
                if speed > 1e-9:
                    last = min(last, room / speed)
                elif speed < -1e-9:
                    first = max(first, room / speed)
                elif room < 0:
                    return 0.0
        return last if first <= last < float("inf") else 0.0


def reached_from(start: set[str], links: Sequence[set[str]]) -> set[str]:
    """Everything that links connect to the start."""
    reached = set(start)
    grown = True
    while grown:
        more = {piece for link in links if reached & link for piece in link} - reached
        reached |= more
        grown = bool(more)
    return reached


def _clusters(names: Sequence[str], links: Sequence[set[str]]) -> list[tuple[str, ...]]:
    """Names in the sets that links between them connect."""
    inside = [link for link in links if link <= set(names)]
    found: list[tuple[str, ...]] = []
    for name in names:
        if not any(name in cluster for cluster in found):
            reached = reached_from({name}, inside)
            found.append(tuple(each for each in names if each in reached))
    return found


def _size(boxes: Sequence[Bounds]) -> float:
    """The longest side of the box around boxes."""
    return max((max(box.high[at] for box in boxes) - min(box.low[at] for box in boxes) for at in range(3)), default=0.0)


def _touch(one: Bounds, two: Bounds) -> bool:
    """Whether two boxes share anything or meet."""
    spans = zip(one.low, one.high, two.low, two.high, strict=True)
    return all(min(high, stop) - max(low, start) > -_MEET for low, high, start, stop in spans)


def _most(box: Bounds, axis: Axis, share: float) -> float:
    low, high = box.span(axis)
    return max(low * share, high * share)


def summed(one: Point, two: Point) -> Point:
    return Point(one.x + two.x, one.y + two.y, one.z + two.z)
