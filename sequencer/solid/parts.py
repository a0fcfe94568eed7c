"""The pieces of a drawing as solids: the block of the part less what its features take away, on the hand it has. mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.design.bodies import Body
from sequencer.design.placement import Placement
from sequencer.features.base import Feature
from sequencer.model.frame import Hand
from sequencer.model.shapes import Cone, Shape, Turned
from sequencer.solid.solids import Solid, block_solid, shape_solid, without


def blank_solid(body: Body) -> Solid:
    """The part before its features: its square block, or the rod if it is round."""
    block = body.block
    if body.part.section != "round":
        return block_solid(block)
    radius = block.thickness / 2
    return shape_solid(Cone("x", (block.width / 2, radius), 0.0, block.length, radius, radius))


def feature_solid(body: Body, feature: Feature) -> tuple[Solid, ...]:
    """What a feature takes away, as bodies, on the hand of the piece. A hole and its head are one body."""
    return tuple(shape_solid(shape) for shape in _turned_together(body.shapes(feature)))


def part_solid(body: Body) -> Solid:
    """The finished piece as it is drawn, in its own frame."""
    cuts = (cut for feature in body.part.features_of(body.piece.hand) for cut in feature_solid(body, feature))
    return without(blank_solid(body), cuts)


def standing_solids(placement: Placement) -> dict[str, Solid]:
    """Every placed piece as it is drawn, where its joints put it, by name in the order of the file."""
    made: dict[tuple[str, Hand | None], Solid] = {}
    standing = {}
    for name, body in placement.bodies.items():
        if name in placement.poses:
            key = (body.part.name, body.piece.hand)
            if key not in made:
                made[key] = part_solid(body)
            standing[name] = made[key].posed(placement.poses[name])
    return standing


def _turned_together(shapes: tuple[Shape, ...]) -> Iterator[Shape]:
    """The shapes, each head of a hole taken together with the hole before it: one turned body is cut three times as fast as
    two whose flat ends lie in one plane."""
    hole: Cone | None = None
    for shape in shapes:
        head = shape if isinstance(shape, Cone) else None
        together = _hole_with_head(hole, head) if hole and head else None
        if together is not None:
            yield together
            hole = None
            continue
        if hole is not None:
            yield hole
        hole = head
        if head is None:
            yield shape
    if hole is not None:
        yield hole


def _hole_with_head(hole: Cone, head: Cone) -> Turned | None:
    """Both as one turned body; None unless the second widens the first from one of its ends."""
    radius = hole.radius_start
    if (hole.axis, hole.centre, hole.radius_stop) != (head.axis, head.centre, radius):
        return None
    if min(head.radius_start, head.radius_stop) < radius:
        return None
    mouth = ((head.start, head.radius_start), (head.stop, head.radius_stop))
    if head.start == hole.start and head.stop < hole.stop:
        return Turned(hole.axis, hole.centre, (*mouth, (head.stop, radius), (hole.stop, radius)))
    if head.stop == hole.stop and head.start > hole.start:
        return Turned(hole.axis, hole.centre, ((hole.start, radius), (head.start, radius), *mouth))
    return None
