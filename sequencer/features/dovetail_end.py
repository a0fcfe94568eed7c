"""Dovetail end: the end of a board sloped on one face or both, to slide into a dovetail housing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan, degrees
from typing import ClassVar, Literal

from sequencer.features.base import NEAR, Dimension, Feature, angle_label, finding, mm, outside_part, register
from sequencer.features.dovetailing import slope_of_the_trade
from sequencer.features.placing import at_an_end
from sequencer.findings import Finding
from sequencer.model.fields import Face, Length, Slope
from sequencer.model.frame import Axis, Block, FaceName, Point
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Prism, Shape


@register
@dataclass(frozen=True, kw_only=True)
class DovetailEnd(Feature):
    """At an `end`, `length` long, as deep as its housing. Its tip keeps the full thickness; from there each of its sloped
    `sides` (both, or one face: barefaced) runs in by 1 in `slope` to the shoulder line."""

    gives: ClassVar = (
        "feature.length",
        "feature.depth",
        "feature.thickness",
        "feature.remaining",
        "feature.angle",
        "feature.slope",
        "feature.sloping",
        "feature.count",
    )

    kind: ClassVar = "dovetail-end"
    title: ClassVar = "dovetail end"
    says: ClassVar = "the end of a board sloped on one face or both to slide into a dovetail housing"

    end: Face
    length: Length
    slope: Slope
    sides: Literal["both", "inside", "outside"] = "both"

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)

    @property
    def angle(self) -> float:
        """The slope in degrees from the faces."""
        return degrees(atan(1 / self.slope))

    @property
    def faces(self) -> tuple[FaceName, ...]:
        """The faces that slope."""
        return ("inside", "outside") if self.sides == "both" else (self.sides,)

    def root(self, block: Block) -> float:
        """How thick it is at the shoulder line."""
        return block.thickness - len(self.faces) * self.length / self.slope

    def removes(self, block: Block) -> tuple[Shape, ...]:
        if self.root(block) <= NEAR:
            return ()
        tip, shoulder, into = block.level(self.end), block.inward(self.end, self.length), self.length / self.slope
        return tuple(
            Prism(
                "y",
                ((tip, block.level(face)), (shoulder, block.level(face)), (shoulder, block.inward(face, into))),
                0.0,
                block.width,
            )
            for face in self.faces
        )

    def marks(self, block: Block) -> Marks:
        """What comes off starts at the tip in the plane of the face itself: each cut as wide as the part, beside the part."""
        beside, off = self.faces[-1], block.thickness
        return Trough(
            self.end,
            beside,
            -off,
            off,
            self.length,
            leans=(self.angle, self.angle),
            count=len(self.faces),
            pitch=2 * off,
        )

    def figures(self, block: Block) -> dict[str, float]:
        return {
            "feature.length": self.length,
            "feature.depth": self.length / self.slope,
            "feature.thickness": block.thickness,
            "feature.remaining": self.root(block),
            "feature.angle": self.angle,
            "feature.slope": self.slope,
            "feature.sloping": float(len(self.faces)),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        tip, shoulder, into = block.level(self.end), block.inward(self.end, self.length), self.length / self.slope
        front = block.level(self.faces[0])
        sizes = [Dimension("x", Point(tip, 0.0, front), Point(shoulder, 0.0, front), mm(self.length))]
        for face in self.faces:
            start, stop = Point(shoulder, 0.0, block.level(face)), Point(shoulder, 0.0, block.inward(face, into))
            sizes.append(Dimension("z", start, stop, mm(into)))
        label = angle_label(self.angle, into, self.length)
        slope = Point(shoulder, 0.0, block.inward(self.faces[0], into))
        sizes.append(Dimension("x", Point(tip, 0.0, front), Point(shoulder, 0.0, front), label, slope))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return (*self.faces, self.end)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.end, *reversed(self.faces))

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        if self.length >= block.length - NEAR or self.root(block) <= NEAR:
            yield finding(
                self,
                "error",
                "nothing-left",
                f"The dovetail end is {mm(self.length)} mm long and {mm(max(self.root(block), 0))} mm thick at its shoulder: "
                "nothing is left of the part.",
                remedy="Make it shorter, as long as its housing is deep.",
            )
            return
        yield from outside_part(self, block)
        if self.root(block) < block.thickness / 2 - NEAR:
            yield finding(
                self,
                "warning",
                "thin-neck",
                f"Only {mm(self.root(block))} mm of {mm(block.thickness)} mm is left at the shoulder.",
                why="A thin neck breaks off.",
                remedy="Make it shorter, or slope one side only.",
                source="common practice: at least half of the thickness",
            )
        yield from slope_of_the_trade(self, self.slope, "sides of the end")
        if grain != "x":
            yield finding(
                self,
                "warning",
                "short-grain",
                "The dovetail end lies across the grain of its part.",
                why="Short grain breaks away.",
                remedy="Let the grain run along the part.",
                source="common practice",
            )
