"""Where something is on a piece, in words: at which of its faces, or how far from the nearest. mm."""

from __future__ import annotations

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction
from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, FaceName, face_at
from sequencer.model.job import Part
from sequencer.model.shapes import Bounds

AT_A_FACE = 0.1
"""What is nearer to a face than this is at it, mm."""
THROUGH = float("inf")
"""Distance of what reaches from face to face."""


def sizes(box: Bounds) -> str:
    """The size of a box as it is printed, longest first."""
    return " x ".join(mm(size) for size in sorted((box.size(axis) for axis in AXES), reverse=True)) + " mm"


def face_word(part: Part, face: FaceName) -> str:
    """The part's own name for a face, if it has one."""
    return next((name for name, known in part.names.items() if known == face), face)


def place_on(placement: Placement, piece: str, box: Bounds) -> str:
    """Where a box of the group lies on a placed piece: `at the top and the left of side.left`, `in floor, 12 mm from its
    right`."""
    pose, body = placement.poses[piece], placement.bodies[piece]
    near: list[tuple[float, FaceName]] = []
    for axis in AXES:
        there = pose.direction(Direction(axis, 1))
        shift = pose.shift[AXES.index(there.axis)]
        low, high = sorted((value - shift) * there.sign for value in box.span(there.axis))
        near.append(_nearest(axis, low, body.block.size(axis) - high))
    reached = [face_word(body.part, face) for distance, face in near if abs(distance) <= AT_A_FACE]
    if reached:
        return f"at the {' and the '.join(reached)} of {piece}"
    distance, face = min(near)
    if distance == THROUGH:
        return f"all through {piece}"
    return f"in {piece}, {mm(distance)} mm from its {face_word(body.part, face)}"


def _nearest(axis: Axis, under: float, over: float) -> tuple[float, FaceName]:
    """The nearer face along an axis with its distance; `THROUGH` where the box reaches from face to face."""
    if under <= AT_A_FACE and over <= AT_A_FACE:
        return THROUGH, face_at(axis, False)
    return (under, face_at(axis, False)) if under <= over else (over, face_at(axis, True))
