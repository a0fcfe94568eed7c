"""What has room to move along lies in the middle of its room: a roller between brackets, a lid between its grooves. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from sequencer.design.joining import MOVING_FITS, fit_of
from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, Pose
from sequencer.features.base import NEAR
from sequencer.model.frame import AXES, Axis, Point
from sequencer.model.job import Job, Joint


def settled(job: Job, placement: Placement) -> Mapping[str, Pose]:
    """The poses, with all that moves in seats at both of its ends put midway between them.

    Placing pushes such a piece against the first seat; that is no place it is meant to have. One that is too long, or so
    short that it comes out of a seat, is left pushed, so that its joint is found open or tight by the whole of it.
    """
    poses = dict(placement.poses)
    moving = [job.joints[name] for name in placement.closures if fit_of(job, job.joints[name]) in MOVING_FITS]
    stands = {group[0] for group in placement.groups}
    done: set[str] = set()
    for joint in moving:
        own = moves_with(job, joint.enters_piece, MOVING_FITS)
        if joint.enters_piece in done or joint.seat.piece in own or stands & own:
            continue
        done |= own
        rooms = list(_rooms(placement, moving, own))
        by = [_shift(rooms, axis) for axis in AXES]
        if any(abs(step) > NEAR for step in by):
            for name in own:
                shift = Point(*(value + step for value, step in zip(poses[name].shift, by, strict=True)))
                poses[name] = replace(poses[name], shift=shift)
    return poses


def moves_with(job: Job, piece: str, fits: tuple[str, ...]) -> set[str]:
    """The piece with everything that joints hold to it, other than joints of these fits."""
    reached, todo = {piece}, [piece]
    while todo:
        here = todo.pop()
        for joint in job.joints.values():
            ends = {joint.enters_piece, joint.seat.piece}
            if here in ends and fit_of(job, joint) not in fits:
                todo.extend(sorted(ends - reached))
                reached |= ends
    return reached


def _shift(rooms: list[tuple[Direction, float, float]], axis: Axis) -> float:
    """How far along an axis the middle of the room is; 0 without a seat at both ends."""
    up, down = ([(room, deep) for way, room, deep in rooms if way == Direction(axis, sign)] for sign in (1, -1))
    if not up or not down:
        return 0.0
    (above, _), (below, _), least = min(up), min(down), min(deep for _, deep in (*up, *down))
    return (above - below) / 2 if 0.0 < above + below < least else 0.0


def _rooms(placement: Placement, moving: list[Joint], own: set[str]) -> Iterator[tuple[Direction, float, float]]:
    """The ways these pieces have a seat in, with the room to it and how deep it is."""
    for joint in moving:
        bearing, ends = placement.bearing(joint.name), (joint.enters_piece, joint.seat.piece)
        if bearing is None or bearing.floor is None or (ends[0] in own) == (ends[1] in own):
            continue
        way = bearing.looks.reversed if ends[0] in own else bearing.looks
        yield way, placement.closures[joint.name].gap("contact"), bearing.depth
