"""How a thing stands in use: which way of a group of placed pieces is up, and which looks at whoever stands before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, Pose, normal
from sequencer.model.frame import Axis, FaceName, mirrored, others

_UP: Mapping[str, int] = {"head": 1, "upper": 1, "foot": -1, "under": -1}
_FRONT: Mapping[str, int] = {"front": 1, "front-edge": 1, "back": -1, "rear": -1, "back-edge": -1}
"""Names of faces that say how a thing stands in use, and whether they look that way or the other."""


def _looking(placement: Placement, group: Sequence[str], words: Mapping[str, int], besides: Axis | None) -> Direction | None:
    """The way that most faces with one of these names look, off an axis."""
    votes: dict[Direction, int] = {}
    for piece in group:
        body, pose = placement.bodies[piece], placement.poses.get(piece, Pose())
        for word, sign in words.items():
            face: FaceName | None = body.part.names.get(word)
            if face is not None:
                lies = pose.direction(normal(mirrored(face) if body.mirrored else face))
                if lies.axis != besides:
                    way = Direction(lies.axis, lies.sign * sign)
                    votes[way] = votes.get(way, 0) + 1
    return max(votes, key=lambda way: votes[way]) if votes else None


def up_of(placement: Placement, group: Sequence[str]) -> Direction:
    """Which way of a group is up: where most heads and upper faces look, else as the first piece stands."""
    first = placement.poses.get(group[0], Pose())
    return _looking(placement, group, _UP, None) or first.direction(Direction("y", 1))


def front_of(placement: Placement, group: Sequence[str]) -> Direction:
    """Which way of a group looks at the viewer: where most fronts look, else so that its longer side is seen along."""
    up = up_of(placement, group)
    named = _looking(placement, group, _FRONT, up.axis)
    if named is not None:
        return named
    spans: dict[Axis, float] = {}
    for axis in others(up.axis):
        ends = [placement.span(piece, axis) for piece in group if piece in placement.poses]
        spans[axis] = max((high for _, high in ends), default=0.0) - min((low for low, _ in ends), default=0.0)
    first = placement.poses.get(group[0], Pose()).direction(Direction("z", 1))
    narrow = min(spans, key=lambda axis: (spans[axis], axis))
    return Direction(narrow, first.sign if first.axis == narrow else -1)
