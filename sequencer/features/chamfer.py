"""Chamfer: edges taken off at 45 degrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.arris import Arris, Pair, each_once
from sequencer.features.base import mm, register
from sequencer.model.fields import Edges, Length
from sequencer.model.frame import Block


@register
@dataclass(frozen=True, kw_only=True)
class Chamfer(Arris):
    """`edges` such as inside/top, or a face for the four round it; `size` is taken off both faces."""

    gives: ClassVar[tuple[str, ...]] = (*Arris.gives, "feature.angle")
    rounded: ClassVar = False

    kind: ClassVar = "chamfer"
    title: ClassVar = "chamfer"
    says: ClassVar = "edges taken off at 45 degrees"
    nature: ClassVar = "edge"

    edges: Edges
    size: Length

    def cut_edges(self) -> tuple[Pair, ...]:
        return each_once(self.edges)

    def reach(self) -> float:
        return self.size

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {"feature.angle": 45.0}

    def label(self) -> str:
        return f"{mm(self.size)} x 45 degrees"
