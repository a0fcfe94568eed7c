"""A part as it lies in the longer piece it comes out of, with the others there; with waste left on its faces. mm."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from sequencer.features.base import NEAR, Dimension
from sequencer.model.frame import (
    AXES,
    Axis,
    FaceName,
    Point,
    axis_of,
    is_high,
    others,
)
from sequencer.model.job import Part
from sequencer.model.shapes import Prism, Rind, Shape, Turned, box
from sequencer.paper.subject import Subject

_KERF = 3.0
"""Between the parts of a long piece as it is drawn, mm."""


_FIELDS: Mapping[Axis, str] = {"x": "length", "y": "width", "z": "thickness"}


@dataclass(frozen=True)
class Laid:
    """A piece in a strip: how far along from the first one, its part, the features of that part that are cut, its name."""

    along: float
    part: Part
    before: frozenset[str]
    called: str


@dataclass(frozen=True)
class Ends:
    """Wood beyond the ends of a part while it is marked out, mm by face, and how many parts the whole piece gives; of a strip
    every piece where it lies."""

    over: Mapping[FaceName, float]
    yields: int = 1
    laid: tuple[Laid, ...] = ()


NO_ENDS = Ends({})


def in_strip(
    subject: Subject, sizes: tuple[Dimension, ...], ends: Ends, faces: set[FaceName]
) -> tuple[Subject, tuple[Dimension, ...]]:
    """The subject as the first piece of its strip, with every other piece where it lies, whichever part it is of."""
    first = ends.over.get("left", 0.0)
    longer, sizes = lengthened(subject, sizes, ends.over)
    block, before, waste = longer.block, [*longer.before], [*longer.waste]
    for each in ends.laid[1:]:
        for feature in each.part.features.values():
            if feature.when == "loose" and (feature.name in each.before or feature.opens()[0] in faces):
                shapes = (_over(shape, "x", first + each.along) for shape in feature.removes(each.part.block))
                (before if feature.name in each.before else waste).extend(shapes)
    parts = tuple((first + each.along, first + each.along + each.part.length) for each in ends.laid)
    edges = [0.0, *(edge for part in parts for edge in part), block.length]
    between = [(low, high) for low, high in zip(edges[::2], edges[1::2], strict=True) if high - low > NEAR]
    gone = tuple(box(span, (0.0, block.width), (0.0, block.thickness)) for span in between)
    called = tuple(each.called for each in ends.laid)
    # Sizes run from the end that is squared; the ends of the stick are no ends of a part.
    names = {**longer.names, "left": "first end", "right": ""} if len(parts) > 1 and first < NEAR else longer.names
    return replace(longer, before=tuple(before), waste=(*waste, *gone), parts=parts, called=called, names=names), sizes


def among_others(subject: Subject, sizes: tuple[Dimension, ...], ends: Ends) -> tuple[Subject, tuple[Dimension, ...]]:
    """The subject where it lies in the longer piece it comes out of, with the other parts there; all between and beyond
    them is waste."""
    length = subject.block.length
    first, spare = (ends.over.get(face, 0.0) for face in ("left", "right"))
    onward = 1.0 if spare >= first else -1.0
    fits = int((max(first, spare) + NEAR) // (length + _KERF))
    steps = [onward * number * (length + _KERF) for number in range(min(ends.yields, fits + 1))]
    longer, sizes = lengthened(subject, sizes, ends.over)
    block = longer.block
    parts = sorted((first + step, first + step + length) for step in steps)
    edges = [0.0, *(edge for part in parts for edge in part), block.length]
    between = [(low, high) for low, high in zip(edges[::2], edges[1::2], strict=True) if high - low > NEAR]
    gone = tuple(box(span, (0.0, block.width), (0.0, block.thickness)) for span in between)
    before, waste = (
        tuple(_over(shape, "x", step) for step in steps for shape in shapes) for shapes in (longer.before, longer.waste)
    )
    return replace(longer, before=before, waste=(*waste, *gone), parts=tuple(parts)), sizes


def lengthened(
    subject: Subject, sizes: tuple[Dimension, ...], over: Mapping[FaceName, float]
) -> tuple[Subject, tuple[Dimension, ...]]:
    """The subject in a block with more wood at some faces, and its sizes where they then are."""
    block, before, waste = subject.block, subject.before, subject.waste
    for face, amount in over.items():
        axis = axis_of(face)
        block = replace(block, **{_FIELDS[axis]: block.size(axis) + amount})
        if not is_high(face):
            before = tuple(_over(shape, axis, amount) for shape in before)
            waste = tuple(_over(shape, axis, amount) for shape in waste)
            sizes = tuple(_size_over(size, axis, amount) for size in sizes)
    return replace(subject, block=block, before=before, waste=waste), sizes


def _over(shape: Shape, axis: Axis, amount: float) -> Shape:
    """A shape moved along an axis."""
    if shape.axis == axis:
        if isinstance(shape, Turned):
            return replace(shape, profile=tuple((along + amount, radius) for along, radius in shape.profile))
        return replace(shape, start=shape.start + amount, stop=shape.stop + amount)
    index = others(shape.axis).index(axis)

    def moved(pair: tuple[float, float]) -> tuple[float, float]:
        return (pair[0] + amount, pair[1]) if index == 0 else (pair[0], pair[1] + amount)

    if isinstance(shape, Prism):
        return replace(shape, outline=tuple(moved(pair) for pair in shape.outline))
    if isinstance(shape, Rind):
        return replace(shape, centre=moved(shape.centre), low=moved(shape.low), high=moved(shape.high))
    return replace(shape, centre=moved(shape.centre))


def _size_over(size: Dimension, axis: Axis, amount: float) -> Dimension:
    def moved(point: Point) -> Point:
        return Point(*(value + (amount if own == axis else 0.0) for own, value in zip(AXES, point, strict=True)))

    return resized(size, moved)


def resized(size: Dimension, where: Callable[[Point], Point]) -> Dimension:
    slope = where(size.slope) if size.slope is not None else None
    return Dimension(size.along, where(size.start), where(size.stop), size.label, slope)
