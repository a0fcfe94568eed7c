"""Slot: a long opening, through or blind, with square or round ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from sequencer.features.base import refuse, register
from sequencer.features.opening import Opening
from sequencer.features.placing import AXIS_CALLED, Span, both_sides
from sequencer.model.fields import Face, Length
from sequencer.model.frame import AXIS_WORDS, Axis, Block, FaceName, axis_of
from sequencer.model.marks import Between


@register
@dataclass(frozen=True, kw_only=True)
class Slot(Opening):
    """As an opening; `depth` in from the face, or right through without one. `open: top` lets it run out at that face:
    its length then counts from there. Round ends have the radius of half its width."""

    gives: ClassVar[tuple[str, ...]] = (*Opening.gives, "feature.radius", "feature.open")

    kind: ClassVar = "slot"
    title: ClassVar = "slot"
    says: ClassVar = "a long opening, through or blind, with square or round ends, closed or open at an edge"

    depth: Length | None = None
    ends: Literal["square", "round"] = "square"
    open: Face | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.ends == "round" and self.length < self.width:
            raise refuse("the slot has round ends; its length must be at least its width")
        if self.open is None:
            return
        if axis_of(self.open) == axis_of(self.face):
            raise refuse(f"the slot is in the {self.face} face; it cannot run out at the {self.open} face")
        if axis_of(self.open) in map(axis_of, self.at):
            raise refuse(
                f"the slot runs out at the {self.open} face; its place along the "
                f"{AXIS_WORDS[axis_of(self.open)]} follows from that and is not given again in `at`"
            )
        if self.along is not None and AXIS_CALLED[self.along] != axis_of(self.open):
            raise refuse(f"the slot runs along the {self.along}; it cannot run out at the {self.open} face")

    def blind(self) -> float | None:
        return self.depth

    def run(self, block: Block) -> Axis:
        return axis_of(self.open) if self.open is not None else super().run(block)

    def in_face(self, block: Block) -> dict[Axis, Span]:
        spans = super().in_face(block)
        if self.open is not None:
            spans[axis_of(self.open)] = block.span(self.open, 0.0, self.length)
        return spans

    def lines_along(self, block: Block, axis: Axis) -> Between:
        if self.open is not None and axis_of(self.open) == axis:
            return Between(self.open, 0.0, self.length)
        return super().lines_along(block, axis)

    def corner_radius(self, block: Block) -> float:
        return self.width / 2 if self.ends == "round" else 0.0

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {
            "feature.radius": self.corner_radius(block),
            "feature.open": float(len(self.breaks(block))),
        }

    def opens(self) -> tuple[FaceName, ...]:
        faces = both_sides(self.face, self.depth is None)
        return faces if self.open is None else (*faces, self.open)
