"""A piece as geometry asks for it: the block of its part, with the features of its hand. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.design.poses import Pose, Turn
from sequencer.features.base import Feature
from sequencer.model.frame import AXES, Block, FaceName, Point, axis_of, mirrored, others
from sequencer.model.job import Job, Part, Piece
from sequencer.model.shapes import Bounds, Cone, Prism, Rind, Shape, bounds, box, mirror


@dataclass(frozen=True)
class Body:
    """A piece as geometry asks for it: its block, and its features on the hand it has."""

    piece: Piece
    part: Part

    @property
    def block(self) -> Block:
        return self.part.block

    @property
    def mirrored(self) -> bool:
        """Whether its features are those of the drawing turned left to right."""
        return self.piece.hand == "right"

    def feature(self, name: str) -> Feature | None:
        """The feature of that name on this hand."""
        return next((each for each in self.part.features_of(self.piece.hand) if each.name == name), None)

    def shapes(self, feature: Feature) -> tuple[Shape, ...]:
        """What the feature takes away, on the hand it has."""
        shapes = feature.removes(self.block)
        return tuple(mirror(shape, self.block.length) for shape in shapes) if self.mirrored else shapes

    def boxes(self, feature: Feature) -> tuple[Bounds, ...]:
        """The box around each shape the feature takes away, no larger than the piece."""
        return tuple(_clipped(bounds(shape), self.block) for shape in self.shapes(feature))

    def spots(self, feature: Feature) -> tuple[tuple[Bounds, ...], ...]:
        """The boxes of a feature by the spot they are at: each hole of several alike with its countersink."""
        boxes = self.boxes(feature)
        if feature.nature != "bored":
            return (boxes,)
        across = others(axis_of(feature.opens()[0]))
        spots: dict[tuple[float, ...], tuple[Bounds, ...]] = {}
        for each in boxes:
            centre = tuple(round(sum(each.span(axis)) / 2, 3) for axis in across)
            spots[centre] = (*spots.get(centre, ()), each)
        return tuple(spots.values())

    def outline(self, turn: Turn) -> tuple[tuple[float, ...], ...]:
        """Every corner and centre of the block and its cuts about the middle of the block, in a turn: two turns with the
        same outline look the same."""
        pose = Pose(turn)
        whole = box((0.0, self.block.length), (0.0, self.block.width), (0.0, self.block.thickness))
        middle = Point(self.block.length / 2, self.block.width / 2, self.block.thickness / 2)
        points: list[tuple[float, ...]] = [
            (*pose.to_world(Point(*(value - half for value, half in zip(point, middle, strict=True)))), radius)
            for shape in (whole, *(cut for each in self.part.features_of(self.piece.hand) for cut in self.shapes(each)))
            for point, radius in _marks(shape)
        ]
        return tuple(sorted(tuple(round(value, 3) + 0.0 for value in each) for each in points))

    def faces(self, faces: tuple[FaceName, ...]) -> tuple[FaceName, ...]:
        """Faces a feature names, as they are on this hand."""
        return tuple(mirrored(face) for face in faces) if self.mirrored else faces


def body(job: Job, piece: Piece) -> Body:
    """The piece with its part."""
    return Body(piece, job.parts[piece.part])


def _clipped(box: Bounds, block: Block) -> Bounds:
    sizes = (block.length, block.width, block.thickness)
    return Bounds(
        Point(*(min(max(value, 0.0), size) for value, size in zip(box.low, sizes, strict=True))),
        Point(*(min(max(value, 0.0), size) for value, size in zip(box.high, sizes, strict=True))),
    )


def _marks(shape: Shape) -> Iterator[tuple[Point, float]]:
    """The corners of a prism, the centres of a round shape with their radius."""

    def at(along: float, first: float, second: float) -> Point:
        spot = dict(zip((shape.axis, *others(shape.axis)), (along, first, second), strict=True))
        return Point(*(spot[axis] for axis in AXES))

    if isinstance(shape, Prism):
        yield from ((at(end, *corner), 0.0) for corner in shape.outline for end in (shape.start, shape.stop))
    elif isinstance(shape, Rind):
        corners = (shape.low, (shape.high[0], shape.low[1]), shape.high, (shape.low[0], shape.high[1]))
        yield from ((at(end, *corner), 0.0) for corner in corners for end in (shape.start, shape.stop))
    elif isinstance(shape, Cone):
        yield at(shape.start, *shape.centre), shape.radius_start
        yield at(shape.stop, *shape.centre), shape.radius_stop
    else:
        yield from ((at(along, *shape.centre), radius) for along, radius in shape.profile)


def around(boxes: tuple[Bounds, ...]) -> Bounds:
    """The box around boxes."""
    return Bounds(
        Point(*(min(box.low[i] for box in boxes) for i in range(3))),
        Point(*(max(box.high[i] for box in boxes) for i in range(3))),
    )
