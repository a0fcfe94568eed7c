"""Taper: an edge sawn or planed sloping along the part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, register
from sequencer.features.checks import COMMON, ENOUGH_LEFT
from sequencer.features.placing import both_sides, meet, point, prism
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Block, FaceName, axis_of, face_at, opposite
from sequencer.model.marks import Line, Marks
from sequencer.model.shapes import Shape


@register
@dataclass(frozen=True, kw_only=True)
class Taper(Feature):
    """The face `edge` slopes inwards away from the face `from`, which keeps its width; after `start` mm of full width it
    falls evenly to `amount` mm below the edge at the other end."""

    gives: ClassVar = (
        "feature.angle",
        "feature.length",
        "feature.depth",
        "feature.distance",
        "feature.width",
        "feature.remaining",
        "feature.count",
    )

    kind: ClassVar = "taper"
    title: ClassVar = "taper"
    says: ClassVar = "an edge that slopes evenly along the part, so that one end is narrower"
    nature: ClassVar = "shape"
    shape_left: ClassVar = "tapered"

    edge: Face
    from_: Annotated[Face, Field(alias="from")]
    start: Distance = 0.0
    amount: Length

    def __post_init__(self) -> None:
        meet(self.title, self.edge, self.from_)

    def through(self) -> Axis:
        """The axis the cut goes through."""
        return next(axis for axis in AXES if axis not in (axis_of(self.edge), axis_of(self.from_)))

    def sloping(self, block: Block) -> float:
        """Length of the sloping part along the edge."""
        return block.size(axis_of(self.from_)) - self.start

    def removes(self, block: Block) -> tuple[Shape, ...]:
        if self.sloping(block) <= 0:
            return ()
        edge, along = axis_of(self.edge), axis_of(self.from_)
        far, level = block.level(opposite(self.from_)), block.level(self.edge)
        corners: list[dict[Axis, float]] = [
            {along: block.inward(self.from_, self.start), edge: level},
            {along: far, edge: level},
            {along: far, edge: block.inward(self.edge, self.amount)},
        ]
        return (prism(self.through(), corners, (0.0, block.size(self.through()))),)

    def marks(self, block: Block) -> Marks:
        far = opposite(self.from_)
        points = (((self.from_, self.start), (self.edge, 0.0)), ((far, 0.0), (self.edge, self.amount)))
        return Line(self.through(), points, (self.edge, far))

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.depth` is what comes off at the narrow end, `feature.width` goes through the part, `feature.distance`
        is the length that stays parallel."""
        return {
            "feature.angle": degrees(atan2(self.amount, max(self.sloping(block), NEAR))),
            "feature.length": max(self.sloping(block), 0.0),
            "feature.depth": self.amount,
            "feature.distance": self.start,
            "feature.width": block.size(self.through()),
            "feature.remaining": block.size(axis_of(self.edge)) - self.amount,
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        edge, along, through = axis_of(self.edge), axis_of(self.from_), self.through()
        corner: dict[Axis, float] = {
            along: block.level(opposite(self.from_)),
            edge: block.level(self.edge),
            through: block.size(through),
        }
        narrow = corner | {edge: block.inward(self.edge, self.amount)}
        sizes = [
            Dimension(edge, point(corner), point(narrow), mm(self.amount)),
            Dimension(
                edge,
                point(narrow),
                point(corner | {edge: block.level(opposite(self.edge))}),
                mm(block.size(edge) - self.amount),
            ),
        ]
        if self.start:
            begin = corner | {along: block.level(self.from_)}
            sizes.append(
                Dimension(along, point(begin), point(begin | {along: block.inward(self.from_, self.start)}), mm(self.start))
            )
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return (*both_sides(face_at(self.through(), True), True), self.edge)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (opposite(self.edge), self.from_, opposite(self.from_))

    def spoils(self) -> tuple[FaceName, ...]:
        return (self.edge,)

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        size, left = block.size(axis_of(self.edge)), block.size(axis_of(self.edge)) - self.amount
        if self.sloping(block) <= NEAR:
            yield finding(
                self,
                "error",
                "nothing-to-cut",
                f"The taper starts {mm(self.start)} mm from the {self.from_} face and the part is "
                f"{mm(block.size(axis_of(self.from_)))} mm there.",
                remedy="Let it start nearer to that end.",
            )
        if left < ENOUGH_LEFT - NEAR:
            yield finding(
                self,
                "error" if left <= NEAR else "warning",
                "nothing-left" if left <= NEAR else "thin-under-cut",
                f"The taper takes {mm(self.amount)} mm off and the {AXIS_WORDS[axis_of(self.edge)]} is {mm(size)} mm: "
                f"{mm(max(left, 0.0))} mm is left at its narrow end.",
                remedy="Take less off.",
                source=COMMON,
            )
        if axis_of(self.edge) == grain:
            yield finding(
                self,
                "warning",
                "short-grain",
                "The taper slopes an end of the grain.",
                why="Its thin side is short grain and breaks away.",
                remedy="Shape that end as a mitre or an outline, or turn the grain.",
                source=COMMON,
            )
