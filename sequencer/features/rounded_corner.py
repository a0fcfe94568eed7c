"""Rounded corner: corners of the broad face rounded, right through the thickness."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.arris import Arris, Pair, each_once, run_of
from sequencer.features.base import mm, refuse, register
from sequencer.features.placing import both_sides
from sequencer.model.fields import Edges, Length
from sequencer.model.frame import Block, FaceName, face_at


@register
@dataclass(frozen=True, kw_only=True)
class RoundedCorner(Arris):
    """`corners` of the broad face such as top/left, each rounded to `radius` through the thickness."""

    gives: ClassVar[tuple[str, ...]] = (*Arris.gives, "feature.radius", "feature.through")
    rounded: ClassVar = True

    kind: ClassVar = "rounded-corner"
    title: ClassVar = "rounded corner"
    says: ClassVar = "corners of the broad face rounded, right through the thickness"
    nature: ClassVar = "shape"
    sawn_to_line: ClassVar = True

    corners: Edges
    radius: Length

    def __post_init__(self) -> None:
        for one, two in self.corners:
            if run_of((one, two)) != "z":
                raise refuse(f"{one}/{two} is no corner of the broad face but an edge along it; round that by a round-over")

    def cut_edges(self) -> tuple[Pair, ...]:
        return each_once(self.corners)

    def reach(self) -> float:
        return self.radius

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.depth` goes through the part."""
        return super().figures(block) | {
            "feature.radius": self.radius,
            "feature.depth": block.thickness,
            "feature.through": 1.0,
        }

    def label(self) -> str:
        return f"radius {mm(self.radius)}"

    def opens(self) -> tuple[FaceName, ...]:
        return (*both_sides(face_at("z", True), True), *super().opens())

    def measured_from(self) -> tuple[FaceName, ...]:
        return super().opens()

    def lengthwise(self, block: Block) -> bool:
        return False
