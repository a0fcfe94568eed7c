"""How large the things are that are cleaned up by themselves: a part that is joined to nothing, or parts joined to one. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from sequencer.model.frame import Axis, axis_of
from sequencer.model.job import Job, Joint, Part
from sequencer.model.quantities import Figures
from sequencer.model.shapes import bounds_of

SMALLEST, LARGEST = "cleaned.length", "cleaned.longest"
"""The figures of the smallest and the largest of them."""
BURIED = 0.8
"""A piece of which seats take this share of its size along the way that it goes in lies in its joints: a spline."""


def sizes_of_parts(job: Job, parts: Iterable[str]) -> dict[str, float]:
    """The longest sizes of the smallest and the largest of some parts, each by itself."""
    return _least_and_most(_longest(job, name) for name in parts)


def sizes_of_things(job: Job, parts: Collection[str]) -> dict[str, float]:
    """The longest sizes of the smallest and the largest thing that some parts are when all joints are made. Of parts that are
    joined the longest counts, which is no more than the whole of them."""
    together: dict[str, set[str]] = {piece: {piece} for piece in job.pieces() if job.part_of(piece).name in parts}
    for joint in job.joints.values():
        one, other = (together.get(piece, set()) for piece in (joint.enters_piece, joint.seat.piece))
        both = one | other
        together |= dict.fromkeys(both, both)
    things = {frozenset(pieces) for pieces in together.values()}
    return _least_and_most(max(_longest(job, job.part_of(piece).name) for piece in pieces) for pieces in things)


def _longest(job: Job, part: str) -> float:
    block = job.parts[part].block
    return max(block.length, block.width, block.thickness)


def _least_and_most(sizes: Iterable[float]) -> dict[str, float]:
    found = sorted(sizes)
    return {SMALLEST: found[0], LARGEST: found[-1]}


def joined_when_cleaned(job: Job, parts: Collection[str]) -> dict[str, float]:
    """How many joints there are among some parts, and how many of them are glued, as figures."""
    joints = [each for each in job.joints.values() if {job.part_of(piece).name for piece in _pieces(each)} <= {*parts}]
    glued = sum(1 for joint in joints if "glue" in joint.fixed)
    return {
        "cleaned.joined": float(len(joints)),
        "cleaned.loose": float(not joints),
        "cleaned.glued": float(glued),
        "cleaned.unglued": float(not glued),
    }


def buried(job: Job, part: Part) -> bool:
    """Whether the faces of a part are joint faces all over, because seats take nearly all of it: a spline, a loose tongue. Joint
    faces are never planed or rubbed."""
    by_piece: dict[tuple[str, Axis], float] = {}
    for joint in job.joints.values():
        face, taking = joint.its.face, job.part_of(joint.seat.piece)
        feature = taking.features.get(joint.seat.feature)
        if job.part_of(joint.enters_piece) is not part or face is None or axis_of(face) == "z" or feature is None:
            continue
        deep = bounds_of(feature.removes(taking.block)).size(axis_of(feature.opens()[0]))
        along = joint.enters_piece, axis_of(face)
        by_piece[along] = by_piece.get(along, 0.0) + deep
    return any(deep >= BURIED * part.block.size(axis) for (_, axis), deep in by_piece.items())


def _pieces(joint: Joint) -> tuple[str, str]:
    return joint.enters_piece, joint.seat.piece


def small_ones(figures: Figures, shortest: float | None) -> dict[str, float]:
    """Whether any of what is cleaned up is shorter than a station grips, and whether any is not, as figures."""
    if SMALLEST not in figures or shortest is None:
        return {}
    return {"cleaned.small": float(figures[SMALLEST] < shortest), "cleaned.large": float(figures[LARGEST] >= shortest)}
