"""Whether what a glue-up closes is a frame or box, and what its diagonals must measure. mm.

Both diagonals of a rectangle are alike, its sides being so: plane geometry. They say nothing of wind, which is sighted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, hypot, radians, sin

from sequencer.design.placement import Placement
from sequencer.features.base import NEAR
from sequencer.model.frame import AXES, Axis, axis_of
from sequencer.model.job import Job
from sequencer.planning.groups import Group

LEAST = 0.5
"""Closer than this a rule does not show, mm: common practice."""
MOST_OUT = 0.5
"""A corner may be so far out of square, degrees: common practice."""

Span = tuple[float, float]
"""From and to along an axis; or two sides of a rectangle."""


def square_figures(job: Job, group: Group, placement: Placement, within: float) -> dict[str, float]:
    """The diagonal of the largest rectangle that four pieces of a group close, and how much both may differ: 1 mm for each
    `within` mm, and no corner more than `MOST_OUT` out of square. Over the inner corners where horns or other allowances stand
    out, or where nothing is, at the outer ones. Nothing without one, or where it is too narrow for its diagonals to show that.
    """
    found = max(_rectangles(job, group, placement), key=lambda each: (hypot(*each[0]), each), default=None)
    if found is None:
        return {}
    outer, inner, inside = found
    wide, high = inner if inside else outer
    diagonal = hypot(wide, high)
    # The sides a, b at an angle off square by e: d1 d1 - d2 d2 = 4 a b sin(e).
    most = 2 * wide * high * sin(radians(MOST_OUT)) / diagonal
    allowed = max(LEAST, floor(2 * min(diagonal / within, most)) / 2)
    if allowed > most:
        return {}
    return {"joint.diagonal-inside" if inside else "joint.diagonal": round(diagonal), "joint.square-within": allowed}


def _rectangles(job: Job, group: Group, placement: Placement) -> Iterator[tuple[Span, Span, bool]]:
    """The sides over the outer and the inner corners of every ring of four pieces, two and two opposite; and whether the
    outer ones cannot be measured."""
    for ring in _rings(group):
        if any(piece not in placement.poses or placement.poses[piece].lean for piece in ring):
            continue
        one, two, three, four = ring
        across = [axis for axis in AXES if _gap(placement, one, three, axis) is not None]
        along = [axis for axis in AXES if _gap(placement, two, four, axis) is not None]
        for u in across:
            for v in along:
                first, second = _gap(placement, one, three, u), _gap(placement, two, four, v)
                if u == v or first is None or second is None:
                    continue
                wide, high = (_extent(placement, ring, axis) for axis in (u, v))
                yield (
                    (wide[1] - wide[0], high[1] - high[0]),
                    (first, second),
                    any(_stands_over(job, placement, each, (u, v)) for each in ring)
                    or not _has_corners(placement, ring, (u, wide), (v, high)),
                )


def _rings(group: Group) -> Iterator[tuple[str, str, str, str]]:
    """Four pieces, each joined to the next; each ring once."""
    beside: dict[str, set[str]] = {}
    for joint in group.joints:
        beside.setdefault(joint.enters_piece, set()).add(joint.seat.piece)
        beside.setdefault(joint.seat.piece, set()).add(joint.enters_piece)
    for one in sorted(beside):
        for three in sorted(beside):
            if three <= one or three in beside[one]:
                continue
            between = sorted(beside[one] & beside[three])
            for number, two in enumerate(between):
                for four in between[number + 1 :]:
                    if one < two and four not in beside[two]:
                        yield one, two, three, four


def _gap(placement: Placement, one: str, other: str, axis: Axis) -> float | None:
    """What is clear between two pieces along an axis; None if they do not lie apart along it."""
    (low, high), (start, stop) = sorted((placement.span(one, axis), placement.span(other, axis)))
    return start - high if start > high + NEAR and stop > low else None


def _extent(placement: Placement, pieces: Sequence[str], axis: Axis) -> Span:
    spans = [placement.span(piece, axis) for piece in pieces]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _has_corners(placement: Placement, pieces: Sequence[str], wide: tuple[Axis, Span], high: tuple[Axis, Span]) -> bool:
    """Whether a piece reaches into each outer corner: strips that cross have none."""
    return all(
        any(
            low - NEAR <= x <= up + NEAR and start - NEAR <= y <= stop + NEAR
            for piece in pieces
            for (low, up), (start, stop) in [(placement.span(piece, wide[0]), placement.span(piece, high[0]))]
        )
        for x in wide[1]
        for y in high[1]
    )


def _stands_over(job: Job, placement: Placement, piece: str, plane: Sequence[Axis]) -> bool:
    """Whether a piece is longer or wider in the plane of the rectangle until it is trimmed."""
    pose = placement.poses[piece]
    own = {axis for axis in AXES if any(lies.axis in plane for a, lies in zip(AXES, pose.turn, strict=True) if a == axis)}
    return any(axis_of(each.face) in own for each in job.part_of(piece).allowances)
