"""What a view shows of a part while it is marked out: what is cut of it, what is waste, on which hand, in which longer piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from sequencer.features.base import Dimension, Feature
from sequencer.model.frame import (
    FACES,
    FaceName,
    Hand,
    Point,
    mirrored,
)
from sequencer.model.job import Part
from sequencer.model.shapes import Shape, mirror
from sequencer.paper.longer_pieces import NO_ENDS, Ends, among_others, in_strip, lengthened, resized
from sequencer.paper.subject import Subject


def subject_of(
    part: Part, hand: Hand | None, features: Sequence[Feature], before: set[str], ends: Ends = NO_ENDS
) -> tuple[Subject, tuple[Dimension, ...]]:
    on_hand = {feature.name for feature in part.features_of(hand)}
    turn = hand == "right"
    block = part.block

    def shapes(chosen: Iterable[Feature]) -> tuple[Shape, ...]:
        found = [shape for feature in chosen if feature.name in on_hand for shape in feature.removes(block)]
        return tuple(mirror(shape, block.length) for shape in found) if turn else tuple(found)

    sizes = tuple(size for feature in features if feature.name in on_hand for size in feature.dimensions(block))
    # On a pair left and right are hands.
    called: dict[FaceName, str] = {"left": "first end", "right": "other end"} if part.handed else {}
    names = called | {face: word for word, face in part.names.items()}
    subject = Subject(
        part.letter,
        block,
        shapes(feature for feature in part.features.values() if feature.name in before),
        shapes(features),
        part.section,
        part.grain,
        mirrored(part.face_side) if turn else part.face_side,
        mirrored(part.face_edge) if turn else part.face_edge,
        {mirrored(face) if turn else face: names.get(face, face) for face in FACES},
    )
    if turn:
        sizes = tuple(_mirrored(size, block.length) for size in sizes)
    over = {
        mirrored(each.face) if turn else each.face: each.amount
        for each in part.allowances
        if f"{each.face}-allowance" not in before
    }
    subject, sizes = lengthened(subject, sizes, over)
    subject = replace(subject, left_on=dict(over))
    if ends.laid and ends.over:
        return in_strip(subject, sizes, ends, {feature.opens()[0] for feature in features})
    return among_others(subject, sizes, ends) if ends.over else (subject, sizes)


def _mirrored(size: Dimension, length: float) -> Dimension:
    return resized(size, lambda point: Point(length - point.x, point.y, point.z))
