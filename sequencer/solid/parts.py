"""The pieces of a drawing as solids: the block of the part less what its features take away, on the hand it has. mm."""

from __future__ import annotations

from sequencer.design.bodies import Body
from sequencer.features.base import Feature
from sequencer.model.shapes import Cone
from sequencer.solid.solids import Solid, block_solid, shape_solid, without


def blank_solid(body: Body) -> Solid:
    """The part before its features: its square block, or the rod if it is round."""
    block = body.block
    if body.part.section != "round":
        return block_solid(block)
    radius = block.thickness / 2
    return shape_solid(Cone("x", (block.width / 2, radius), 0.0, block.length, radius, radius))


def feature_solid(body: Body, feature: Feature) -> tuple[Solid, ...]:
    """What a feature takes away, as bodies, on the hand of the piece."""
    return tuple(shape_solid(shape) for shape in body.shapes(feature))


def part_solid(body: Body) -> Solid:
    """The finished piece as it is drawn, in its own frame."""
    cuts = (cut for feature in body.part.features_of(body.piece.hand) for cut in feature_solid(body, feature))
    return without(blank_solid(body), cuts)
