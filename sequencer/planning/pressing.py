"""Where the cramps of a glue-up press: which pieces each draws together, straight into the joint. mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from sequencer.design.placement import Bearing, Placement
from sequencer.knowledge.working import Working
from sequencer.model.frame import Axis, others
from sequencer.model.job import Job, Joint
from sequencer.planning.groups import fixing_of


@dataclass(frozen=True)
class Press:
    """Cramps side by side over the same pieces.

    over
        The two outer pieces, one under each jaw.
    between
        The piece that both of them are pressed on to; empty where they are pressed on each other.
    number
        How many, along the joint.
    opening
        From the outside of one to the outside of the other, mm.
    """

    over: tuple[str, str]
    between: str
    number: int
    opening: float


def mitred(job: Job, joint: Joint) -> bool:
    """Whether a joint is of two slopes, which cramps push along each other unless something holds the corner."""
    ends = ((joint.enters_piece, joint.its.feature), (joint.seat.piece, joint.seat.feature))
    return any(feature and job.part_of(piece).features[feature].ends_part() for piece, feature in ends)


def cramps_along(length: float, working: Working) -> int:
    """Cramps along one joint: one up to `cramp_span`, else two and one more for each `cramp_apart` between the outer ones, which
    stand `cramp_from_end` from its ends. The figures and their sources stand in `lists/working-figures.yaml`."""
    if length <= working.cramp_span:
        return 1
    return 1 + max(1, ceil(round((length - 2 * working.cramp_from_end) / working.cramp_apart, 6)))


def presses(job: Job, joints: Sequence[Joint], placement: Placement, working: Working) -> Iterator[Press]:
    """The cramps of a glue-up.

    Seats that face each other on both sides of a piece are drawn on to it by the same cramps; any other joint by its own, over
    both its pieces, but for joints of one piece that lie nearer to each other than `cramp_span`. Mitres, keys, rods and pieces
    without a place are left out.
    """
    glued: dict[str, list[tuple[Joint, Bearing]]] = {}
    for joint in joints:
        bearing = placement.bearing(joint.name)
        round_in = job.part_of(joint.enters_piece).section == "round"
        if fixing_of(joint) == "glue" and bearing is not None and not round_in and not mitred(job, joint):
            glued.setdefault(joint.enters_piece, []).append((joint, bearing))
    for piece, entering in glued.items():
        for axis in dict.fromkeys(bearing.looks.axis for _, bearing in entering):
            along = [each for each in entering if each[1].looks.axis == axis]
            yield from _along(piece, axis, along, placement, working)


def _along(
    piece: str, axis: Axis, entering: Sequence[tuple[Joint, Bearing]], placement: Placement, working: Working
) -> Iterator[Press]:
    """The cramps that press along one axis on a piece that enters others."""
    left = [each for each in entering if each[1].looks.sign < 0]
    for joint, bearing in (each for each in entering if each[1].looks.sign > 0):
        facing = min(left, key=lambda each: _apart(bearing, each[1]), default=None)
        if facing is None or _apart(bearing, facing[1]) > working.cramp_span:
            left.append((joint, bearing))
            continue
        left.remove(facing)
        ends = joint.seat.piece, facing[0].seat.piece
        number = max(cramps_along(_length(each), working) for each in (bearing, facing[1]))
        yield Press(ends, piece, number, _opening(placement, (*ends, piece), axis))
    pressed: list[Bearing] = []
    for joint, bearing in left:
        if any(one.looks == bearing.looks and _apart(one, bearing) < working.cramp_span for one in pressed):
            continue
        pressed.append(bearing)
        ends = piece, joint.seat.piece
        yield Press(ends, "", cramps_along(_length(bearing), working), _opening(placement, ends, axis))


def _length(bearing: Bearing) -> float:
    """How long a joint is across the way it is pressed."""
    return max((bearing.overlap(axis) for axis in others(bearing.looks.axis)), default=0.0)


def _apart(one: Bearing, other: Bearing) -> float:
    """How far the middles of two joints lie from each other, across the way they are pressed."""
    return max(abs(sum(one.region(axis)) - sum(other.region(axis))) / 2 for axis in others(one.looks.axis))


def _opening(placement: Placement, pieces: Sequence[str], axis: Axis) -> float:
    spans = [placement.span(piece, axis) for piece in pieces]
    return max(high for _, high in spans) - min(low for low, _ in spans)
