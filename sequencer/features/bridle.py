"""Bridle: the open mortise of a bridle joint, a fork at the end of a part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, finding, mm, register
from sequencer.features.channel import Trench, Trenched
from sequencer.features.placing import at_an_end
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName
from sequencer.model.marks import Marks, Trough

THIRD_SOURCE = "W. Fairham, Woodwork Joints: a third of the thickness"


@register
@dataclass(frozen=True, kw_only=True)
class Bridle(Trenched):
    """At an `end`, `length` deep from the end and `thickness` wide, through the whole width; `from_outside` is how
    thick the cheek is there. A corner bridle goes over a tenon, a tee bridle over a `bridle-tongue`."""

    most: ClassVar = 1.0

    gives: ClassVar[tuple[str, ...]] = (*Trenched.gives, "feature.thickness")

    kind: ClassVar = "bridle"
    title: ClassVar = "bridle"
    says: ClassVar = "an open mortise: a fork at the end of a part that goes over a tenon or over the middle of another part"

    end: Face
    length: Length
    thickness: Length
    from_outside: Distance

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)

    def trench(self) -> Trench:
        return Trench(self.end, "outside", self.from_outside, self.thickness, self.length)

    def marks(self, block: Block) -> Marks:
        return Trough(self.end, "outside", self.from_outside, self.thickness, self.length)

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.length` goes through the width of the part, `feature.depth` in from its end."""
        return super().figures(block) | {"feature.thickness": self.thickness}

    def opens(self) -> tuple[FaceName, ...]:
        return (self.end, "top", "bottom")

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        cheeks = self.from_outside, block.thickness - self.from_outside - self.thickness
        if min(cheeks) <= NEAR:
            yield finding(
                self,
                "error",
                "no-cheek",
                f"The bridle is {mm(self.thickness)} mm wide, {mm(self.from_outside)} mm from the outside, in "
                f"{mm(block.thickness)} mm of wood: one of its cheeks is missing.",
                remedy="Make it narrower or move it inwards; an open step at an end is a halving.",
            )
        elif not 1 / 4 - NEAR <= self.thickness / block.thickness <= 1 / 2 + NEAR:
            yield finding(
                self,
                "warning",
                "bridle-thickness",
                f"The bridle is {mm(self.thickness)} mm wide in {mm(block.thickness)} mm of wood; a quarter to a half is "
                f"{mm(block.thickness / 4)} to {mm(block.thickness / 2)} mm.",
                why="Thin cheeks break; thick cheeks leave a thin tongue.",
                remedy=f"Make it about {mm(block.thickness / 3)} mm.",
                source=THIRD_SOURCE,
            )
