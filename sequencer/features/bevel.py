"""Bevel: an edge or end planed or sawn at an angle, over the whole thickness or part of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, tan
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, angle_label, finding, mm, register
from sequencer.features.checks import COMMON, ENOUGH_LEFT
from sequencer.features.placing import meet, point, prism
from sequencer.findings import Finding
from sequencer.model.fields import Angle, Distance, Face
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Block, FaceName, axis_of, opposite
from sequencer.model.marks import Line, Marks
from sequencer.model.shapes import Shape


@register
@dataclass(frozen=True, kw_only=True)
class Bevel(Feature):
    """The face `edge` slopes `angle` degrees from square: wood comes off at the face `low`, none at the face opposite.
    `leave` keeps that much of the edge square there."""

    gives: ClassVar = (
        "feature.angle",
        "feature.width",
        "feature.length",
        "feature.depth",
        "feature.remaining",
        "feature.count",
    )

    kind: ClassVar = "bevel"
    title: ClassVar = "bevel"
    says: ClassVar = "an edge or end that slopes from one face to the other"
    nature: ClassVar = "shape"
    shape_left: ClassVar = "bevelled"

    edge: Face
    low: Face
    angle: Angle
    leave: Distance = 0.0

    def __post_init__(self) -> None:
        meet(self.title, self.edge, self.low)

    def run(self) -> Axis:
        """The axis the bevel runs along."""
        return next(axis for axis in AXES if axis not in (axis_of(self.edge), axis_of(self.low)))

    def rise(self, block: Block) -> float:
        """How much of the edge slopes, square to the face `low`."""
        return max(block.size(axis_of(self.low)) - self.leave, 0.0)

    def waste(self, block: Block) -> float:
        """How much comes off at the face `low`."""
        return self.rise(block) * tan(radians(self.angle))

    def removes(self, block: Block) -> tuple[Shape, ...]:
        rise = self.rise(block)
        if rise <= 0:
            return ()
        edge, low = axis_of(self.edge), axis_of(self.low)
        corners: list[dict[Axis, float]] = [
            {edge: block.level(self.edge), low: block.level(self.low)},
            {edge: block.level(self.edge), low: block.inward(self.low, rise)},
            {edge: block.inward(self.edge, self.waste(block)), low: block.level(self.low)},
        ]
        return (prism(self.run(), corners, (0.0, block.size(self.run()))),)

    def marks(self, block: Block) -> Marks:
        full, rest = block.size(axis_of(self.low)), opposite(self.low)
        foot = (full - self.leave) * tan(radians(self.angle))
        points = (((self.edge, 0.0), (rest, self.leave)), ((self.edge, foot), (rest, full)))
        return Line(self.run(), points, (self.edge, self.low), self.angle)

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.width` goes across the slope, `feature.depth` is what comes off at the face `low`."""
        return {
            "feature.angle": self.angle,
            "feature.width": self.rise(block) / cos(radians(self.angle)),
            "feature.length": block.size(self.run()),
            "feature.depth": self.waste(block),
            "feature.remaining": block.size(axis_of(self.edge)) - self.waste(block),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        edge, low = axis_of(self.edge), axis_of(self.low)
        corner: dict[Axis, float] = {edge: block.level(self.edge), low: block.level(self.low), self.run(): 0.0}
        foot = corner | {edge: block.inward(self.edge, self.waste(block))}
        top = corner | {low: block.inward(self.low, self.rise(block))}
        label = angle_label(self.angle, self.waste(block), self.rise(block))
        sizes = [
            Dimension(edge, point(corner), point(foot), mm(self.waste(block))),
            Dimension(low, point(top), point(corner), label, point(foot)),
        ]
        if self.leave:
            sizes.append(Dimension(low, point(top), point(top | {low: block.level(opposite(self.low))}), mm(self.leave)))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return (self.edge, self.low)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (opposite(self.low), self.edge)

    def spoils(self) -> tuple[FaceName, ...]:
        return (self.edge,)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        size = block.size(axis_of(self.edge))
        left = size - self.waste(block)
        if self.rise(block) <= NEAR:
            yield finding(
                self,
                "error",
                "nothing-to-cut",
                f"The bevel leaves {mm(self.leave)} mm of the edge and the edge is {mm(block.size(axis_of(self.low)))} mm.",
                remedy="Make `leave` smaller.",
            )
        elif left < ENOUGH_LEFT - NEAR:
            yield finding(
                self,
                "error" if left <= NEAR else "warning",
                "nothing-left" if left <= NEAR else "thin-under-cut",
                f"The bevel takes {mm(self.waste(block))} mm off the {self.low} face, and the "
                f"{AXIS_WORDS[axis_of(self.edge)]} is {mm(size)} mm: {mm(max(left, 0.0))} mm is left there.",
                remedy="Make the angle smaller, or leave more of the edge square.",
                source=COMMON,
            )
