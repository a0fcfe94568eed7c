"""Notch: a square piece taken out of an edge, right through the part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, register
from sequencer.features.channel import Trench, Trenched
from sequencer.features.placing import meet
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Block, FaceName, face_at
from sequencer.model.marks import Marks, Trough


@register
@dataclass(frozen=True, kw_only=True)
class Notch(Trenched):
    """In the `edge` face, `distance` from the face `from`, `length` long and `depth` deep. `distance: 0` takes the corner
    away."""

    usual: ClassVar = 1 / 2
    most: ClassVar = 1.0

    kind: ClassVar = "notch"
    title: ClassVar = "notch"
    says: ClassVar = "a square piece taken out of an edge or a corner, right through the part"

    edge: Face
    from_: Annotated[Face, Field(alias="from")]
    distance: Distance = 0.0
    length: Length
    depth: Length

    def __post_init__(self) -> None:
        meet(self.title, self.edge, self.from_)

    def marks(self, block: Block) -> Marks:
        return Trough(self.edge, self.from_, self.distance, self.length, self.depth)

    def trench(self) -> Trench:
        return Trench(self.edge, self.from_, self.distance, self.length, self.depth)

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.length` goes along the edge, `feature.width` through the part."""
        through = block.size(self.trench().run)
        return super().figures(block) | {"feature.length": self.length, "feature.width": through}

    def opens(self) -> tuple[FaceName, ...]:
        run = self.trench().run
        sides = (face_at(run, True), face_at(run, False))
        return (self.edge, *sides, self.from_) if self.distance < NEAR else (self.edge, *sides)
