"""Hole: through, blind, countersunk or counterbored."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, finding, mm, refuse, register
from sequencer.features.bored import Bored, Head, countersink
from sequencer.features.checks import COMMON, END_GRAIN, ENOUGH_LEFT
from sequencer.features.placing import all_references, bounding
from sequencer.findings import Finding
from sequencer.model.fields import STRICT, Face, Length, Spots
from sequencer.model.frame import Axis, Block, FaceName, axis_of


@dataclass(frozen=True, kw_only=True)
class Counterbore:
    """The wider hole for a head or a plug: how wide and how deep."""

    __pydantic_config__ = STRICT

    diameter: Length
    depth: Length


@register
@dataclass(frozen=True, kw_only=True)
class Hole(Bored):
    """In `face`, centred `at` one spot or several, in the middle of the face without one; `depth` in from the face, or
    right through without one. `countersink` is the diameter at the face, at 90 degrees."""

    kind: ClassVar = "hole"
    title: ClassVar = "hole"
    says: ClassVar = "a round hole or several alike: through, blind, countersunk or counterbored"
    nature: ClassVar = "bored"

    face: Face
    diameter: Length
    at: Annotated[Spots, Field(min_length=1)] = ({},)
    depth: Length | None = None
    countersink: Length | None = None
    counterbore: Counterbore | None = None

    def __post_init__(self) -> None:
        for at in self.at:
            bounding(self.title, self.face, at)
        if self.countersink is not None and self.counterbore is not None:
            raise refuse("a hole is countersunk or counterbored, not both")
        head = self.head()
        if head is not None and head.diameter <= self.diameter:
            raise refuse(
                f"the {head.called} is {mm(head.diameter)} mm wide; it must be wider than the hole, {mm(self.diameter)} mm"
            )

    def enters(self) -> FaceName:
        return self.face

    def places(self, block: Block) -> tuple[Mapping[FaceName, float], ...]:
        return self.at

    def measured_from(self) -> tuple[FaceName, ...]:
        return all_references(self.face, self.at)

    def bit(self) -> float:
        return self.diameter

    def blind(self) -> float | None:
        return self.depth

    def head(self) -> Head | None:
        if self.countersink is not None:
            return countersink(self.countersink, self.diameter)
        if self.counterbore is not None:
            return Head(self.counterbore.diameter, self.counterbore.depth, False)
        return None

    def near_edges(self, block: Block, grain: Axis) -> Iterator[Finding]:
        """Wood beside a hole: half its diameter, between 3 and 10 mm; before the end of the grain its diameter, at least
        10 mm. Common practice."""
        head = self.head()
        wide = head.diameter if head else self.diameter
        for face, gap in self.margins(block):
            end = axis_of(face) == grain
            need = max(END_GRAIN, min(self.diameter, self.reach(block))) if end else min(max(ENOUGH_LEFT, wide / 2), 10.0)
            left = gap - wide / 2
            if -NEAR < left < need - NEAR:
                yield finding(
                    self,
                    "warning",
                    "short-grain" if end else "near-edge",
                    f"Between the hole and the {face} face only {mm(left)} mm of wood is left"
                    f"{' along the grain' if end else ''}.",
                    why="So little wood splits out when the hole is bored or loaded.",
                    remedy=f"Leave at least {mm(need)} mm: move the hole or make it smaller.",
                    source=COMMON,
                )
