"""Mitre: an end cut at an angle, to meet another end cut alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, tan
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, angle_label, finding, mm, register
from sequencer.features.placing import at_an_end, meet, point, prism
from sequencer.findings import Finding
from sequencer.model.fields import Angle, Face
from sequencer.model.frame import AXIS_WORDS, Axis, Block, FaceName, axis_of, face_at, opposite
from sequencer.model.marks import Line, Marks, Spot
from sequencer.model.shapes import Shape

STEEPEST = 60.0
"""Beyond this the point is too thin to cut and to handle, degrees: common practice."""


@register
@dataclass(frozen=True, kw_only=True)
class Mitre(Feature):
    """At an `end`; the part keeps its full length at the face `long` and is shortest at the face opposite. `long: bottom`
    or `top` mitres across the width (a picture frame), `inside` or `outside` across the thickness (a box). `angle` is
    from square."""

    gives: ClassVar = (
        "feature.angle",
        "feature.width",
        "feature.length",
        "feature.depth",
        "feature.count",
    )

    kind: ClassVar = "mitre"
    title: ClassVar = "mitre"
    says: ClassVar = "an end cut at an angle across the width or the thickness, to meet another end cut alike"
    nature: ClassVar = "shape"
    shape_left: ClassVar = "bevelled"

    end: Face
    long: Face
    angle: Angle = 45.0

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)
        meet(self.title, self.end, self.long)

    def across(self) -> Axis:
        """The axis the mitre goes across."""
        return axis_of(self.long)

    def through(self) -> Axis:
        """The axis the cut goes through."""
        return "z" if self.across() == "y" else "y"

    def waste(self, block: Block) -> float:
        """How much shorter the part is at its short face."""
        return block.size(self.across()) * tan(radians(self.angle))

    def removes(self, block: Block) -> tuple[Shape, ...]:
        tip, short = block.level(self.end), opposite(self.long)
        corners: list[dict[Axis, float]] = [
            {"x": tip, self.across(): block.level(self.long)},
            {"x": tip, self.across(): block.level(short)},
            {"x": block.inward(self.end, self.waste(block)), self.across(): block.level(short)},
        ]
        return (prism(self.through(), corners, (0.0, block.size(self.through()))),)

    def marks(self, block: Block) -> Marks:
        """Both points lie so far from the left end, whichever end it is, as the length is measured from there; and from
        the long face, which keeps its length."""
        across = block.size(axis_of(self.long))
        tip, shorter = block.level(self.end), across * tan(radians(self.angle))
        toe = tip + shorter if self.end == "left" else tip - shorter
        points: tuple[Spot, Spot] = (("left", tip), (self.long, 0.0)), (("left", toe), (self.long, across))
        return Line(self.through(), points, (self.end, opposite(self.long)), self.angle)

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.width` goes across, `feature.length` along the sloping cut, `feature.depth` is the waste along the
        part at its short face."""
        across = block.size(self.across())
        return {
            "feature.angle": self.angle,
            "feature.width": across,
            "feature.length": across / cos(radians(self.angle)),
            "feature.depth": self.waste(block),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        short, through = opposite(self.long), self.through()
        corner: dict[Axis, float] = {
            "x": block.level(self.end),
            self.across(): block.level(short),
            through: block.size(through),
        }
        toe = corner | {"x": block.inward(self.end, self.waste(block))}
        tip = corner | {self.across(): block.level(self.long)}
        other = tip | {"x": block.level(opposite(self.end))}
        label = angle_label(self.angle, self.waste(block), block.size(self.across()))
        return (
            Dimension("x", point(corner), point(toe), mm(self.waste(block))),
            Dimension(self.across(), point(tip), point(corner), label, point(toe)),
            Dimension("x", point(tip), point(other), mm(block.length)),
        )

    def opens(self) -> tuple[FaceName, ...]:
        through = self.through()
        return (face_at(through, True), face_at(through, False), self.end, opposite(self.long))

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.long, face_at(self.through(), True))

    def spoils(self) -> tuple[FaceName, ...]:
        return (self.end,)

    def ends_part(self) -> tuple[FaceName, ...]:
        return (self.end,)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        if self.waste(block) >= block.length - NEAR:
            yield finding(
                self,
                "error",
                "nothing-left",
                f"The mitre takes {mm(self.waste(block))} mm off the {opposite(self.long)} face; the part is only "
                f"{mm(block.length)} mm long.",
                remedy="Make the part longer or the angle smaller.",
            )
        if self.angle > STEEPEST:
            yield finding(
                self,
                "warning",
                "steep-mitre",
                f"The mitre is cut at {mm(self.angle)} degrees from square across the {AXIS_WORDS[self.across()]}.",
                why="The point is long and thin: it breaks, and few saws can be set so far.",
                remedy=f"Keep it to {mm(STEEPEST)} degrees, or shape the end as a taper.",
                source="common practice",
            )
