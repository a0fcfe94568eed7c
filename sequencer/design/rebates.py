"""What lies in a rebate: far enough over it to be held, and clear of the wood behind every rebate around it. mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.design.joining import seat_feature
from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction, normal
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, Feature, mm
from sequencer.findings import Finding
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of, is_high
from sequencer.model.job import Job
from sequencer.model.shapes import Bounds

ROUNDING = 0.1
"""Less than this is rounding of the drawing, mm."""

Span = tuple[float, float]
Region = dict[Axis, Span]


def rebates_that_hold(job: Job, placement: Placement, working: Working) -> Iterator[Finding]:
    """What lies in a rebate must reach over it far enough to be held. Every joint is looked at: of two alike rebates a
    panel that is too small still fills the one it is pushed against."""
    said = set()
    parts = {name: piece.part for name, piece in job.pieces().items()}
    for joint in job.joints.values():
        bearing = placement.bearing(joint.name)
        if bearing is None or bearing.seat.run is None:
            continue
        for axis in bearing.seat.walls:
            there = placement.poses[joint.seat.piece].direction(Direction(axis, 1)).axis
            over = bearing.overlap(there)
            if axis == bearing.seat.run or over >= working.panel_hold - NEAR:
                continue
            about = (parts[joint.enters_piece], parts[joint.seat.piece], joint.seat.feature, mm(over))
            if about in said:
                continue
            said.add(about)
            low, high = bearing.seat_spans[there]
            yield Finding(
                "error",
                "misses-rebate",
                joint.name,
                f"{joint.its} lies only {mm(over)} mm over {joint.seat}, which is {mm(high - low)} mm wide.",
                "It falls through.",
                "Make the piece larger or the rebate wider, or correct where the joint puts it.",
                joint.place,
                COMMON,
            )


def rebates_that_leave_room(job: Job, placement: Placement) -> Iterator[Finding]:
    """What lies in one rebate may not lie in the wood behind another at the same level. Rebates that the piece has a joint
    to are left out: those joints are measured by themselves."""
    said = set()
    parts = {name: piece.part for name, piece in job.pieces().items()}
    rebates = [
        (name, feature)
        for name, own in placement.bodies.items()
        for feature in own.part.features_of(own.piece.hand)
        if feature.kind == "rebate" and name in placement.poses
    ]
    joined = {(joint.enters_piece, joint.seat.piece, joint.seat.feature) for joint in job.joints.values()}
    for joint in job.joints.values():
        bearing, seat = placement.bearing(joint.name), seat_feature(job, joint.seat)
        if bearing is None or joint.its.face is None or seat is None or seat.kind != "rebate":
            continue
        panel = joint.enters_piece
        for other, rebate in rebates:
            if other == panel or (panel, other, rebate.name) in joined or not placement.together(panel, other):
                continue
            beyond = _beyond(placement, bearing, panel, other, rebate)
            about = (parts[panel], parts[other], rebate.name, mm(beyond))
            if beyond <= ROUNDING or about in said:
                continue
            said.add(about)
            yield Finding(
                "error",
                "too-large-for-rebate",
                joint.name,
                f"Where {joint.name} puts it, {panel} lies {mm(beyond)} mm in the wood behind {other}/{rebate.name}.",
                "It does not go in.",
                f"Make it {mm(beyond)} mm smaller and a little more for play, or the rebate wider, or correct where the joint "
                "puts it.",
                joint.place,
                COMMON,
            )


def _beyond(placement: Placement, bearing: Bearing, panel: str, other: str, rebate: Feature) -> float:
    """How far a panel lies in the wood behind the wall of another piece's rebate whose floor is level with the one it lies
    on; 0 if it is clear of it."""
    pose, own = placement.poses[other], placement.bodies[other]
    opens = own.faces(rebate.opens())
    whole = placement.lying(panel, _whole(placement, panel))
    most = 0.0
    for face, beside in (opens, opens[::-1]):
        for box in own.boxes(rebate):
            floor = box.span(axis_of(face))[0 if is_high(face) else 1]
            if pose.direction(normal(face)) != bearing.looks or bearing.floor is None:
                continue
            if abs(pose.level(axis_of(face), floor) - bearing.floor) > NEAR:
                continue
            behind = placement.lying(other, _behind(box, _whole(placement, other), beside))
            shared: Region = {axis: _shared(whole[axis], behind[axis]) for axis in AXES}
            if any(high - low <= ROUNDING for low, high in shared.values()):
                continue
            if not any(_cut_away(placement, piece, shared) for piece in (panel, other)):
                low, high = shared[pose.direction(normal(beside)).axis]
                most = max(most, high - low)
    return most


def _whole(placement: Placement, piece: str) -> Bounds:
    block = placement.bodies[piece].block
    return Bounds(Point(0.0, 0.0, 0.0), Point(block.length, block.width, block.thickness))


def _behind(box: Bounds, whole: Bounds, beside: FaceName) -> Bounds:
    """The wood between the wall of a rebate along the face `beside` and the opposite face."""
    across = axis_of(beside)
    spans = {axis: box.span(axis) for axis in AXES}
    spans[across] = (whole.span(across)[0], spans[across][0]) if is_high(beside) else (spans[across][1], whole.span(across)[1])
    low, high = (Point(*(spans[axis][side] for axis in AXES)) for side in (0, 1))
    return Bounds(low, high)


def _shared(one: Span, two: Span) -> Span:
    return max(one[0], two[0]), min(one[1], two[1])


def _cut_away(placement: Placement, piece: str, region: Region) -> bool:
    """Whether one cut of a piece takes away a whole region."""
    own = placement.bodies[piece]
    for feature in own.part.features_of(own.piece.hand):
        if feature.nature != "cut":
            continue
        for box in own.boxes(feature):
            lies = placement.lying(piece, box)
            if all(lies[axis][0] <= low + NEAR and high <= lies[axis][1] + NEAR for axis, (low, high) in region.items()):
                return True
    return False
