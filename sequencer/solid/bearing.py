"""What wood a joint really meets: pushed a hair further home, or sideways in its seat, a piece must run into something. mm.

Boxes say where a piece lies; only solids say whether curves and other cuts have left wood there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import isfinite

from sequencer.design.closing import sloping
from sequencer.design.joining import MOVING_FITS, fit_of
from sequencer.design.loose_pieces import wedges
from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, Feature, mm
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.settings.fits import allowance
from sequencer.model.frame import AXES, Axis
from sequencer.model.job import Job, Joint
from sequencer.reading.words import listed
from sequencer.solid.solids import Solid
from sequencer.solid.sweeping import beyond_a_touch

PUSH = 0.05
"""How far a piece is pushed to see what it meets, mm."""
LEAST_SHARE = 0.1
"""A joint that meets less than this share of what its two faces have in common meets next to nothing; sound joints meet a
third and more, common practice."""
TOUCHES = 0.1
"""Pieces no further apart than this touch, mm."""
MEETS = 2.0
"""The pieces of a joint meet if they are no further apart than this, mm: more than the play of any fit."""
FAR = 1e5
"""Further than any two pieces of a job stand from each other, mm."""
LEAST_BETWEEN_TENONS = 0.5
"""Least room between two tenons that come near each other in one piece, mm: common practice."""


def met_area(moving: Solid, other: Solid, way: Direction, before: float = 0.0) -> float:
    """The area that a body meets square to a way, mm2, after it has moved `before` mm freely."""
    step = way.sign * (before + PUSH)
    moved = moving.moved(*(step if axis == way.axis else 0.0 for axis in AXES))
    return (moved & other).volume / PUSH


def bearing_findings(job: Job, placement: Placement, knowledge: Knowledge, standing: Mapping[str, Solid]) -> Iterator[Finding]:
    """Pieces that touch nothing, joints that do not meet, then joints that bear on or are held by next to nothing; alike ones
    once."""
    bearings = {name: bearing for name in job.joints if (bearing := placement.bearing(name)) is not None}
    home = {name: _home(bearing, standing) for name, bearing in bearings.items()}
    floating = set(_floating(job, placement, knowledge, standing, home))
    yield from _touching_nothing(job, floating)
    yield from _not_meeting(job, floating, standing)
    said: set[tuple[tuple[str, str], str]] = set()
    for name, bearing in bearings.items():
        joint = job.joints[name]
        if joint.enters_piece in floating or joint.seat.piece in floating:
            continue
        key = (job.part_of(joint.enters_piece).name, job.part_of(joint.seat.piece).name)
        for found in (_bears(job, placement, bearing, home[name]), _held(job, bearing, placement, standing)):
            if found is not None and (key, found.code) not in said:
                said.add((key, found.code))
                yield found


def _home(bearing: Bearing, standing: Mapping[str, Solid]) -> float:
    """What the entering piece meets when it is pushed home, mm2."""
    joint = bearing.meeting.joint
    return met_area(standing[joint.enters_piece], standing[joint.seat.piece], bearing.looks.reversed)


def _expected(bearing: Bearing) -> float:
    """What the two faces have in common by their boxes, mm2."""
    first, second = (bearing.overlap(axis) for axis in bearing.its_spans)
    return first * second


def _bears(job: Job, placement: Placement, bearing: Bearing, met: float) -> Finding | None:
    """What lies open along the way in, or goes right through, need not bear; a closed joint must."""
    joint = bearing.meeting.joint
    if bearing.floor is None or abs(placement.closures[joint.name].gap("contact")) > TOUCHES:
        return None
    wanted = _expected(bearing)
    if met >= LEAST_SHARE * wanted:
        return None
    slopes = [
        feature.name
        for seat in (joint.its, joint.seat)
        for feature in sloping(placement.bodies[seat.piece], seat, placement, bearing)
        if _covers(placement, seat.piece, feature, bearing)
    ]
    why = "There is no wood to glue or fix to."
    if slopes:
        why = f"{listed(slopes)} slopes there, and the pieces are placed as if it were square."
    return Finding(
        "warning" if slopes else "error",
        "bears-on-little",
        joint.name,
        f"{joint.its} meets {joint.seat} over {mm(met)} mm2; their faces have {mm(wanted)} mm2 in common.",
        why,
        "Look at what is cut away on both there: move the cut, or move the joint.",
        joint.place,
        COMMON,
    )


def _covers(placement: Placement, piece: str, feature: Feature, bearing: Bearing) -> bool:
    """Whether a cut takes the face away wherever the pieces meet, so that it is the cut they meet on."""
    boxes = (placement.lying(piece, box) for box in placement.bodies[piece].boxes(feature))
    regions = {axis: bearing.region(axis) for axis in bearing.its_spans}
    return any(
        all(box[axis][0] <= low + NEAR and high <= box[axis][1] + NEAR for axis, (low, high) in regions.items()) for box in boxes
    )


def _held(job: Job, bearing: Bearing, placement: Placement, standing: Mapping[str, Solid]) -> Finding | None:
    """A seat closed on both sides must have wood on both. A wedge bears by its slope, and a pivot may be open for what drops
    into it."""
    joint, seat = bearing.meeting.joint, bearing.seat
    if joint.crossing or not joint.seat.feature or fit_of(job, joint) in ("driven", "loose-pivot"):
        return None
    if wedges(job, joint) is not None:
        # What the flare takes away the wedges fill again.
        return None
    moving, other = standing[joint.enters_piece], standing[joint.seat.piece]
    for own in sorted(seat.bounded):
        axis = placement.poses[joint.seat.piece].direction(Direction(own, 1)).axis
        wanted = bearing.overlap(_third(axis, bearing.looks.axis)) * _let_in(bearing, placement)
        (low, high), (first, last) = bearing.its_spans[axis], bearing.seat_spans[axis]
        for sign, room in ((1, last - high), (-1, low - first)):
            met = met_area(moving, other, Direction(axis, sign), max(room, 0.0))
            if met < LEAST_SHARE * wanted:
                return Finding(
                    "warning",
                    "held-by-little",
                    joint.name,
                    f"{joint.seat} holds {joint.its} at one side by {mm(met)} mm2 of {mm(wanted)} mm2.",
                    "Too little wood is left beside it: it breaks away or lets go.",
                    "Look at what is cut away on both there: move the cut, or move the joint.",
                    joint.place,
                    COMMON,
                )
    return None


def _let_in(bearing: Bearing, placement: Placement) -> float:
    """How deep the entering piece is in its seat, mm."""
    joint, axis = bearing.meeting.joint, bearing.looks.axis
    low, high = placement.span(joint.enters_piece, axis)
    start, stop = placement.span(joint.seat.piece, axis)
    if bearing.floor is not None and not bearing.its.stands:
        start, stop = sorted((bearing.face, bearing.floor))
    return max(min(high, stop) - max(low, start), 0.0)


def _third(one: Axis, two: Axis) -> Axis:
    (third,) = (axis for axis in AXES if axis not in (one, two))
    return third


def _floating(
    job: Job, placement: Placement, knowledge: Knowledge, standing: Mapping[str, Solid], home: Mapping[str, float]
) -> Iterator[str]:
    """Placed pieces that touch no other, in spite of their joints; the first of a group only if all others touch."""
    for group in placement.groups:
        apart = [piece for piece in group if len(group) > 1 and _stands_apart(job, knowledge, standing, home, piece, group)]
        yield from apart[1:] if len(apart) > 1 and apart[0] == group[0] else apart


def _stands_apart(
    job: Job, knowledge: Knowledge, standing: Mapping[str, Solid], home: Mapping[str, float], piece: str, group: tuple[str, ...]
) -> bool:
    joints = [each for each in job.joints.values() if piece in (each.enters_piece, each.seat.piece)]
    if any(home.get(joint.name, 0.0) > 0.0 for joint in joints):
        return False
    plays = [_most(job, knowledge, joint) for joint in joints]
    near = TOUCHES + max(plays, default=0.0)
    return all(standing[piece].gap(standing[other], near) >= near for other in group if other != piece)


def _most(job: Job, knowledge: Knowledge, joint: Joint) -> float:
    """The most room a joint may have, mm; none where nothing says how it fits."""
    fit = fit_of(job, joint)
    most = allowance(knowledge.fits.get(fit), joint.play, moves=fit in MOVING_FITS).most
    return most if isfinite(most) else 0.0


def _touching_nothing(job: Job, floating: set[str]) -> Iterator[Finding]:
    for part in job.parts.values():
        pieces = [piece.name for piece in part.pieces if piece.name in floating]
        if pieces:
            yield Finding(
                "error",
                "touches-nothing",
                part.name,
                f"{listed(pieces)} {'touches' if len(pieces) == 1 else 'touch'} no other piece where the joints put "
                f"{'it' if len(pieces) == 1 else 'them'}.",
                "Nothing holds it in its place.",
                "Look at what is cut away there, on it and on the piece it is joined to.",
                part.place,
                COMMON,
            )


def _not_meeting(job: Job, floating: set[str], standing: Mapping[str, Solid]) -> Iterator[Finding]:
    """Joints whose two pieces stand apart, though each touches something else."""
    for joint in job.joints.values():
        pieces = (joint.enters_piece, joint.seat.piece)
        if not standing.keys() >= set(pieces) or floating & set(pieces):
            continue
        one, other = (standing[piece] for piece in pieces)
        if one.gap(other, 2 * MEETS) <= MEETS:
            continue
        yield Finding(
            "error",
            "does-not-meet",
            joint.name,
            f"{joint.its} does not reach {joint.seat}: {pieces[0]} lies {mm(one.gap(other, FAR))} mm from {pieces[1]} where the "
            "other joints put it.",
            "What does not meet cannot be joined.",
            f"Make one of the pieces reach the other, move one of them, or take {joint.name} out.",
            joint.place,
            COMMON,
        )


def tenons_that_meet(job: Job, placement: Placement, standing: Mapping[str, Solid]) -> Iterator[Finding]:
    """A warning for two tenons let into one piece from different faces that come to touch inside it. Where they stand in
    each other, that is a clash."""
    tenons = [bearing for name in job.joints if (bearing := placement.bearing(name)) is not None and bearing.its.stands]
    said = set()
    for number, one in enumerate(tenons):
        for other in tenons[number + 1 :]:
            first, second = one.meeting.joint, other.meeting.joint
            if first.seat.piece != second.seat.piece or one.looks == other.looks or first.enters_piece == second.enters_piece:
                continue
            rail, rail_beside = standing[first.enters_piece], standing[second.enters_piece]
            gap = rail.gap(rail_beside, LEAST_BETWEEN_TENONS)
            key = (job.part_of(first.seat.piece).name, first.seat.feature, second.seat.feature)
            if gap >= LEAST_BETWEEN_TENONS or key in said or beyond_a_touch(rail & rail_beside) is not None:
                continue
            said.add(key)
            yield Finding(
                "warning",
                "tenons-meet",
                first.name,
                f"{first.its} and {second.its} come within {mm(gap)} mm of each other in {first.seat.piece}.",
                "The one that is fitted second meets the first before its shoulder closes.",
                "Make both a little shorter, mitre their ends, or set one higher than the other.",
                first.place,
                COMMON,
            )
