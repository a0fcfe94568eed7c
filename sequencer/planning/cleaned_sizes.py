"""How large the things are that are cleaned up by themselves: a part that is joined to nothing, or parts joined to one. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from sequencer.model.job import Job
from sequencer.model.quantities import Figures

SMALLEST = "cleaned.length"
"""The figure of the smallest of them."""


def smallest_part(job: Job, parts: Iterable[str]) -> float:
    """The longest size of the smallest of some parts, each by itself."""
    return min(max(block.length, block.width, block.thickness) for name in parts for block in [job.parts[name].block])


def smallest_thing(job: Job, parts: Collection[str]) -> float:
    """The longest size of the smallest thing that some parts are when all joints are made. Of parts that are joined the longest
    counts, which is no more than the whole of them."""
    together: dict[str, set[str]] = {piece: {piece} for piece in job.pieces() if job.part_of(piece).name in parts}
    for joint in job.joints.values():
        one, other = (together.get(piece, set()) for piece in (joint.enters_piece, joint.seat.piece))
        both = one | other
        together |= dict.fromkeys(both, both)
    things = {frozenset(pieces) for pieces in together.values()}
    return min(max(smallest_part(job, [job.part_of(piece).name]) for piece in pieces) for pieces in things)


def small_ones(figures: Figures, shortest: float | None) -> dict[str, float]:
    """Whether any of what is cleaned up is shorter than a station holds, as a figure."""
    length = figures.get(SMALLEST)
    return {} if length is None or shortest is None else {"cleaned.small": float(length < shortest)}
