"""Groove: a channel along the edge it is measured from, through or stopped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import Dimension, Feature, finding, mm, register
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import AXES, Axis, Block, FaceName, Point, axis_of, face_at
from sequencer.model.shapes import Shape, box_along


@dataclass(frozen=True, kw_only=True)
class Channel(Feature):
    """A straight channel of square section in a face: the shared shape of grooves and housings.

    It runs parallel to the edge it is measured from (`from`), `distance` mm away from it, is `width` wide and `depth`
    deep. `stops` holds it back from the ends of its run: {left: 20} leaves 20 mm uncut at the left.
    """

    gives: ClassVar = (
        "feature.width", "feature.depth", "feature.length", "feature.distance", "feature.remaining", "feature.stopped",
        "feature.count",
    )

    face: Face
    from_: Annotated[Face, Field(alias="from")]
    distance: Distance
    width: Length
    depth: Length
    stops: dict[Face, Distance] = field(default_factory=dict)

    def run(self) -> Axis:
        """The axis the channel runs along."""
        return next(axis for axis in AXES if axis not in (axis_of(self.face), axis_of(self.from_)))

    def extent(self, block: Block) -> tuple[float, float]:
        """Where it starts and ends along its run."""
        run = self.run()
        return (
            self.stops.get(face_at(run, False), 0.0),
            block.size(run) - self.stops.get(face_at(run, True), 0.0),
        )

    def removes(self, block: Block) -> tuple[Shape, ...]:
        spans = {
            self.run(): self.extent(block),
            axis_of(self.from_): block.span(self.from_, self.distance, self.distance + self.width),
            axis_of(self.face): block.span(self.face, 0.0, self.depth),
        }
        return (box_along(spans),)

    def figures(self, block: Block) -> dict[str, float]:
        start, stop = self.extent(block)
        return {
            "feature.width": self.width,
            "feature.depth": self.depth,
            "feature.length": stop - start,
            "feature.distance": self.distance,
            "feature.remaining": block.size(axis_of(self.face)) - self.depth,
            "feature.stopped": float(sum(1 for gap in self.stops.values() if gap > 0)),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        run, across, deep = self.run(), axis_of(self.from_), axis_of(self.face)
        start, _ = self.extent(block)

        def at(along: float, over: float, into: float) -> Point:
            spot = {run: along, across: block.inward(self.from_, over), deep: block.inward(self.face, into)}
            return Point(*(spot[axis] for axis in AXES))

        near, far = self.distance, self.distance + self.width
        sizes = [
            Dimension(across, at(start, near, 0), at(start, far, 0), mm(self.width)),
            Dimension(deep, at(start, near, 0), at(start, near, self.depth), mm(self.depth)),
        ]
        if self.distance:
            sizes.insert(0, Dimension(across, at(start, 0, 0), at(start, near, 0), mm(self.distance)))
        for face, gap in self.stops.items():
            end = block.level(face)
            sizes.append(Dimension(run, at(end, near, 0), at(block.inward(face, gap), near, 0), mm(gap)))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return (self.face,)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.from_, self.face, *self.stops)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if axis_of(self.face) == axis_of(self.from_):
            yield finding(
                self, "error", "face-and-edge",
                f"The {self.title} is in the {self.face} face and measured from the {self.from_} face; those are parallel.",
                remedy="Measure it from a face that meets the one it is cut in.",
            )


@register
@dataclass(frozen=True, kw_only=True)
class Groove(Channel):
    kind: ClassVar = "groove"
    title: ClassVar = "groove"
    says: ClassVar = "a channel along the edge it is measured from, for a panel or a tongue"
