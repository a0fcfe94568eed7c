"""Where the pieces of a job lie: their poses, their contacts there, and what each joint leaves open. mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sequencer.design.bodies import Body
from sequencer.design.contacts import Meeting, Patch, WishKind
from sequencer.design.poses import Direction, Pose, Turn, face_towards, normal
from sequencer.findings import Finding
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of
from sequencer.model.shapes import Bounds


@dataclass(frozen=True)
class Gap:
    """What a joint leaves open where the pieces lie.

    looks
        The face of the other piece the gap is measured square to.
    amount
        mm; over zero the entering piece does not reach, under zero it is too far in. For `flush`, `at` and `held` the
        sign only says which way it is off.
    """

    kind: WishKind
    looks: FaceName
    amount: float


@dataclass(frozen=True)
class Closure:
    """A joint measured where its pieces lie. `turned`: its faces do not even look at each other."""

    joint: str
    gaps: tuple[Gap, ...]
    turned: bool = False

    def gap(self, *kinds: WishKind) -> float:
        """The largest gap of these kinds in size, with its sign; 0 if there is none."""
        return max((gap.amount for gap in self.gaps if gap.kind in kinds), key=abs, default=0.0)


@dataclass(frozen=True)
class Bearing:
    """A contact where the pieces lie, along the axes of their group.

    looks
        The way the seat looks. `face` is the level of the face it is in, `floor` that of the seat itself, `None` where
        it goes right through.
    its_spans, seat_spans
        Extent of both sections along the two other axes.
    """

    meeting: Meeting
    its: Patch
    seat: Patch
    looks: Direction
    face: float
    floor: float | None
    its_spans: Mapping[Axis, tuple[float, float]]
    seat_spans: Mapping[Axis, tuple[float, float]]

    @property
    def depth(self) -> float:
        """How deep the seat lies in its piece, mm; 0 for a face or a hole right through."""
        return 0.0 if self.floor is None else abs(self.face - self.floor)

    def region(self, axis: Axis) -> tuple[float, float]:
        """From where to where both sections lie along an axis; low over high if they miss each other."""
        (first, last), (start, stop) = self.its_spans[axis], self.seat_spans[axis]
        return max(first, start), min(last, stop)

    def overlap(self, axis: Axis) -> float:
        """How far the two sections lie on each other along an axis, mm."""
        low, high = self.region(axis)
        return max(high - low, 0.0)


def _lying(pose: Pose, spans: Mapping[Axis, tuple[float, float]]) -> dict[Axis, tuple[float, float]]:
    there = {}
    for axis, (low, high) in spans.items():
        first, second = pose.level(axis, low), pose.level(axis, high)
        there[pose.direction(Direction(axis, 1)).axis] = (first, second) if first <= second else (second, first)
    return there


@dataclass(frozen=True)
class Placement:
    """Where every piece lies, in the frame of the first piece of its group.

    groups
        Pieces that the joints connect, in the order they were placed; the first of each stands.
    placed_by
        Joints that placed a piece, in the order they did.
    closures
        Every joint between placed pieces, measured.
    findings
        What keeps a piece from being placed, with what to add.
    """

    poses: Mapping[str, Pose]
    bodies: Mapping[str, Body]
    meetings: Mapping[str, Meeting]
    groups: tuple[tuple[str, ...], ...]
    placed_by: tuple[str, ...]
    closures: Mapping[str, Closure]
    unplaced: tuple[str, ...]
    findings: tuple[Finding, ...]

    def to_world(self, piece: str, point: Point) -> Point:
        """A point of a placed piece in the frame of its group. KeyError if the piece is not placed."""
        return self.poses[piece].to_world(point)

    def face_plane(self, piece: str, face: FaceName) -> tuple[Direction, float]:
        """The way a face of a placed piece looks, and where its plane lies along that axis."""
        pose, block = self.poses[piece], self.bodies[piece].block
        return pose.direction(normal(face)), pose.level(axis_of(face), block.level(face))

    def span(self, piece: str, axis: Axis) -> tuple[float, float]:
        """Where a placed piece's block starts and ends along an axis of its group."""
        pose, block = self.poses[piece], self.bodies[piece].block
        own = pose.own(Direction(axis, 1)).axis
        first, second = pose.level(own, 0.0), pose.level(own, block.size(own))
        return (first, second) if first <= second else (second, first)

    def relative(self, joint: str) -> Turn:
        """How the entering piece is turned in the frame of the other. Both must be placed."""
        entering, other = self.meetings[joint].ends
        x, y, z = (self.poses[other].own(direction) for direction in self.poses[entering].turn)
        return x, y, z

    def bearing(self, joint: str) -> Bearing | None:
        """The contact of a joint as it lies. None if a piece has no place, the faces are turned away, or it is a mitre."""
        if joint not in self.closures or self.closures[joint].turned or self.meetings[joint].mitred:
            return None
        each = self.meetings[joint]
        found = each.bearing(self.relative(joint))
        if found is None:
            return None
        _, its, seat = found
        entering, other = (self.poses[name] for name in each.ends)
        face = each.other.block.level(face_towards(seat.normal))
        return Bearing(
            each,
            its,
            seat,
            other.direction(seat.normal),
            other.level(seat.normal.axis, face),
            None if seat.level is None else other.level(seat.normal.axis, seat.level),
            _lying(entering, its.spans),
            _lying(other, seat.spans),
        )

    def lying(self, piece: str, box: Bounds) -> dict[Axis, tuple[float, float]]:
        """Where a box in a placed piece's own frame lies along the axes of its group."""
        return _lying(self.poses[piece], {axis: box.span(axis) for axis in AXES})

    def together(self, first: str, second: str) -> bool:
        """Whether both pieces are placed in one group."""
        return any(first in group and second in group for group in self.groups)
