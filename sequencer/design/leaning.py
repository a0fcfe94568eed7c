"""What lies on a slope: a roof on the sloping ends of its sides leans as they do. mm, degrees."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import atan2, degrees, radians, tan

from sequencer.design.bodies import Body
from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction, Lean, Pose, normal, plane_of
from sequencer.features.base import NEAR, Feature
from sequencer.model.frame import AXES, Axis, Point, others
from sequencer.model.job import Job, Joint
from sequencer.model.shapes import Prism

SAME_SLOPE = 0.01
"""Slopes that differ by less are one, degrees."""
HAIR = 1e-3
"""How far inside a corner is looked whether there is wood, mm."""


@dataclass(frozen=True)
class _Slope:
    """A sloping seat where the pieces lie: the axis it does not rise along, its angle about it, and a point of it."""

    axis: Axis
    angle: float
    through: Point


def leaning(job: Job, placement: Placement) -> Mapping[str, Pose]:
    """The poses, with each piece leaning whose joints all lay one of its faces on one slope.

    It is turned about the line where it touches the slope, and then slid along the slope until it is where `at` says, measured
    to the corner that is nearest then. Where `flush` asks for faces in one plane that cannot be in one plane when it leans,
    it does not.
    """
    poses = dict(placement.poses)
    for group in placement.groups:
        for piece in group[1:]:
            joints = [joint for joint in job.joints.values() if piece in (joint.enters_piece, joint.seat.piece)]
            slopes = [_slope(placement, joint) for joint in joints if joint.enters_piece == piece]
            if not joints or len(slopes) < len(joints) or None in slopes or not _one(slopes):
                continue
            lean = _lean(placement, joints, slopes[0], piece)
            if lean is not None:
                poses[piece] = replace(poses[piece], lean=lean)
    return poses


def _one(slopes: list[_Slope | None]) -> bool:
    first, *rest = (slope for slope in slopes if slope is not None)
    return all(slope.axis == first.axis and abs(slope.angle - first.angle) < SAME_SLOPE for slope in rest)


def _slope(placement: Placement, joint: Joint) -> _Slope | None:
    """The slope a plain face is laid on; None if the seat is square there, or no single cut makes it."""
    bearing = placement.bearing(joint.name)
    if bearing is None or joint.its.face is None or joint.seat.face is None:
        return None
    own, pose = placement.bodies[joint.seat.piece], placement.poses[joint.seat.piece]
    found = [
        line
        for feature in own.part.features_of(own.piece.hand)
        if joint.seat.face in own.faces(feature.spoils()) and _covers(placement, joint.seat.piece, feature, bearing)
        if (line := _line(own, feature)) is not None
    ]
    if len(found) != 1:
        return None
    along, (start, stop) = found[0]
    axis = pose.direction(Direction(along, 1)).axis
    if axis == bearing.looks.axis or any(pose.direction(normal(theirs)).axis != axis for _, theirs in joint.flush):
        return None
    first, second = plane_of(axis)
    a, b = pose.to_world(start), pose.to_world(stop)
    rise, run = b[second] - a[second], b[first] - a[first]
    # The angle from the level the piece lies at: about its own plane, whichever of the two coordinates that is.
    angle = degrees(atan2(rise, run) if AXES[second] == bearing.looks.axis else -atan2(run, rise))
    return _Slope(axis, (angle + 90.0) % 180.0 - 90.0, a)


def _line(own: Body, feature: Feature) -> tuple[Axis, tuple[Point, Point]] | None:
    """The sloping line of a cut with one slope, by two points, and the axis the cut runs along."""
    shapes = own.shapes(feature)
    if len(shapes) != 1 or not isinstance(shapes[0], Prism):
        return None
    prism = shapes[0]
    outline = prism.outline
    slopes = [
        pair
        for pair in zip(outline, (*outline[1:], outline[0]), strict=True)
        if abs(pair[0][0] - pair[1][0]) > NEAR and abs(pair[0][1] - pair[1][1]) > NEAR
    ]
    if len(slopes) != 1:
        return None
    start, stop = (_point(prism.axis, 0.0, corner) for corner in slopes[0])
    return prism.axis, (start, stop)


def _point(axis: Axis, along: float, flat: tuple[float, float]) -> Point:
    at = dict(zip((axis, *others(axis)), (along, *flat), strict=True))
    return Point(*(at[each] for each in AXES))


def _covers(placement: Placement, piece: str, feature: Feature, bearing: Bearing) -> bool:
    """Whether a cut takes the face away wherever the pieces meet, so that they meet on the cut."""
    boxes = (placement.lying(piece, box) for box in placement.bodies[piece].boxes(feature))
    regions = {axis: bearing.region(axis) for axis in bearing.its_spans}
    return any(
        all(box[axis][0] <= low + NEAR and high <= box[axis][1] + NEAR for axis, (low, high) in regions.items()) for box in boxes
    )


def _lean(placement: Placement, joints: list[Joint], slope: _Slope | None, piece: str) -> Lean | None:
    bearing = placement.bearing(joints[0].name)
    if slope is None or bearing is None or bearing.floor is None or abs(slope.angle) < SAME_SLOPE:
        return None
    rises = AXES.index(bearing.looks.axis)
    level = next(index for index in plane_of(slope.axis) if index != rises)
    # A right-handed turn takes the first coordinate towards the second: along the second it falls.
    steep = tan(radians(slope.angle)) * (1 if plane_of(slope.axis)[0] == level else -1)
    through = list(slope.through)
    through[level] += (bearing.floor - slope.through[rises]) / steep
    through[rises] = bearing.floor
    resting = Lean(slope.axis, slope.angle, Point(*through))
    way = next((way for joint in joints if (way := _named(placement, joint, level)) is not None), None)
    slide = _to_its_place(placement, piece, resting, level, way) if way is not None else 0.0
    return _slid(resting, level, rises, slide, slide * steep)


def _named(placement: Placement, joint: Joint, level: int) -> Direction | None:
    """The way the face of the other piece looks that `at` measures from along a coordinate."""
    pose = placement.poses[joint.seat.piece]
    named = (pose.direction(normal(face)) for face, _ in joint.at)
    return next((way for way in named if AXES.index(way.axis) == level), None)


def _to_its_place(placement: Placement, piece: str, resting: Lean, level: int, way: Direction) -> float:
    """How far the leaning piece has to move level, so that its foremost corner is where its face lay before it leaned."""
    low, high = placement.span(piece, way.axis)
    pose = placement.poses[piece]
    reached = [resting.turned(pose.to_world(corner))[level] for corner in _corners(placement.bodies[piece])]
    return high - max(reached) if way.sign > 0 else low - min(reached)


def _slid(resting: Lean, level: int, rises: int, by: float, up: float) -> Lean:
    """The lean that does the same and then moves by a step in its plane: a turn about another line."""
    first, second = plane_of(resting.axis)
    step = {level: by, rises: up}
    half = 1 / tan(radians(resting.angle) / 2)
    through = list(resting.through)
    through[first] += (step[first] - half * step[second]) / 2
    through[second] += (half * step[first] + step[second]) / 2
    return replace(resting, through=Point(*through))


def _corners(own: Body) -> Iterator[Point]:
    """The corners of a piece: those of its block and of its straight cuts that have wood behind them."""
    block, prisms = own.block, []
    for feature in own.part.features_of(own.piece.hand):
        prisms += [shape for shape in own.shapes(feature) if isinstance(shape, Prism)]
    corners = [Point(x, y, z) for x in (0.0, block.length) for y in (0.0, block.width) for z in (0.0, block.thickness)]
    corners += [_point(each.axis, end, flat) for each in prisms for flat in each.outline for end in (each.start, each.stop)]
    middle = (block.length / 2, block.width / 2, block.thickness / 2)
    for corner in corners:
        inside = Point(*(at + (HAIR if at < half else -HAIR) for at, half in zip(corner, middle, strict=True)))
        if not any(_within(prism, inside) for prism in prisms):
            yield corner


def _within(prism: Prism, point: Point) -> bool:
    """Whether a point is inside a prism: a ray crosses its outline an odd number of times."""
    along = point[AXES.index(prism.axis)]
    x, y = (point[AXES.index(axis)] for axis in others(prism.axis))
    crossed = 0
    for (ax, ay), (bx, by) in zip(prism.outline, (*prism.outline[1:], prism.outline[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            crossed += 1
    return prism.start < along < prism.stop and crossed % 2 == 1
