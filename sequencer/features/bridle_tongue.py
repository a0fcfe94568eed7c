"""Bridle tongue: the middle of a part cut thinner from both faces, for a bridle to go over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, Dimension, finding, mm, refuse, register
from sequencer.features.channel import Trench, Trenched
from sequencer.features.placing import without_repeats
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Shape, box_along

THIRD_SOURCE = "W. Fairham, Woodwork Joints: a third of the thickness"


@register
@dataclass(frozen=True, kw_only=True)
class BridleTongue(Trenched):
    """`distance` from the face `from`, `width` wide; `depth` deep in the inside face and in the outside face alike."""

    kind: ClassVar = "bridle-tongue"
    title: ClassVar = "bridle tongue"
    says: ClassVar = "the middle of a part cut thinner from both faces, for a bridle to go over"

    from_: Annotated[Face, Field(alias="from")]
    distance: Distance
    width: Length
    depth: Length

    def __post_init__(self) -> None:
        if axis_of(self.from_) == "z":
            raise refuse(f"the bridle tongue is cut in both broad faces; it cannot be measured from the {self.from_} face")

    def trench(self) -> Trench:
        return Trench("inside", self.from_, self.distance, self.width, self.depth)

    def behind(self) -> Trench:
        """The same cut in the outside face."""
        return Trench("outside", self.from_, self.distance, self.width, self.depth)

    def removes(self, block: Block) -> tuple[Shape, ...]:
        return (*super().removes(block), box_along(self.behind().spans(block)))

    def marks(self, block: Block) -> Marks:
        return Trough("inside", self.from_, self.distance, self.width, self.depth, twin=True)

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {"feature.remaining": block.thickness - 2 * self.depth}

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        return without_repeats((*super().dimensions(block), *self.behind().dimensions(block)))

    def opens(self) -> tuple[FaceName, ...]:
        return ("inside", "outside")

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        left = block.thickness - 2 * self.depth
        if left <= NEAR:
            yield finding(
                self,
                "error",
                "nothing-left",
                f"The bridle tongue is cut {mm(self.depth)} mm deep from both faces of {mm(block.thickness)} mm of wood: nothing "
                "is left between.",
                remedy=f"Cut it {mm(block.thickness / 3)} mm deep.",
            )
        elif not 1 / 4 - NEAR <= left / block.thickness <= 1 / 2 + NEAR:
            yield finding(
                self,
                "warning",
                "bridle-thickness",
                f"Between the two cuts {mm(left)} mm is left of {mm(block.thickness)} mm of wood; a quarter to a half is "
                f"{mm(block.thickness / 4)} to {mm(block.thickness / 2)} mm.",
                why="A thin tongue breaks; a thick one leaves the cheeks of the bridle thin.",
                remedy=f"Cut it {mm(block.thickness / 3)} mm deep.",
                source=THIRD_SOURCE,
            )
