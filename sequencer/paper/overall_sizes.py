"""Sizes of a part as a whole: length, width and thickness, every part of a longer piece, the waste that stays on. mm."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from sequencer.features.base import NEAR, Dimension, mm
from sequencer.model.frame import (
    AXES,
    Axis,
    Block,
    Point,
    axis_of,
)
from sequencer.paper.subject import Subject


def left_on_sizes(subject: Subject) -> tuple[Dimension, ...]:
    """The sizes of the waste that stays on until later."""
    found = []
    for face, amount in subject.left_on.items():
        low, high = subject.block.span(face, 0.0, amount)
        ends = [Point(*(level if axis == axis_of(face) else 0.0 for axis in AXES)) for level in (low, high)]
        found.append(Dimension(axis_of(face), ends[0], ends[1], f"{mm(amount)} left on"))
    return tuple(found)


def length_of(size: Dimension) -> float:
    index = AXES.index(size.along)
    return abs(size.start[index] - size.stop[index])


def along_sizes(subject: Subject, axes: Iterable[Axis]) -> tuple[Dimension, ...]:
    """The whole of a part along some axes; in a longer piece of every part there, with what lies before and between them."""
    if not subject.parts:
        return overall_sizes(subject.block, axes)
    parts, block = subject.parts, subject.block
    if len(parts) == 1:
        (low, high) = parts[0]
        sizes = [Dimension("x", Point(low, 0.0, 0.0), Point(high, 0.0, 0.0), mm(high - low))]
    else:
        # Where each part lies is told by running sizes; what lies between is said once where it is equal.
        cuts = [(low, high, f"{mm(high - low)} waste") for (_, low), (high, _) in pairwise(parts)]
        spans = list({label: (low, high, label) for low, high, label in reversed(cuts)}.values())
        spans.append((0.0, parts[0][0], f"{mm(parts[0][0])} spare"))
        sizes = [
            Dimension("x", Point(low, block.width, block.thickness), Point(high, block.width, block.thickness), label)
            for low, high, label in spans
            if high - low > NEAR
        ]
    return (
        (*sizes, *overall_sizes(subject.block, [axis for axis in axes if axis != "x"]))
        if "x" in axes
        else overall_sizes(subject.block, axes)
    )


def overall_sizes(block: Block, axes: Iterable[Axis]) -> tuple[Dimension, ...]:
    start = Point(0.0, 0.0, 0.0)
    ends = ((axis, Point(*(block.size(axis) if own == axis else 0.0 for own in AXES))) for axis in axes)
    return tuple(Dimension(axis, start, end, mm(block.size(axis))) for axis, end in ends)
