"""Round-over: edges rounded to a quarter circle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.arris import Arris, Pair, each_once
from sequencer.features.base import mm, register
from sequencer.model.fields import Edges, Length
from sequencer.model.frame import Block


@register
@dataclass(frozen=True, kw_only=True)
class RoundOver(Arris):
    """`edges` such as inside/top, or a face for the four round it, each rounded to `radius`."""

    gives: ClassVar[tuple[str, ...]] = (*Arris.gives, "feature.radius")
    rounded: ClassVar = True

    kind: ClassVar = "round-over"
    title: ClassVar = "round-over"
    says: ClassVar = "edges rounded to a quarter circle"
    nature: ClassVar = "edge"

    edges: Edges
    radius: Length

    def cut_edges(self) -> tuple[Pair, ...]:
        return each_once(self.edges)

    def reach(self) -> float:
        return self.radius

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {"feature.radius": self.radius}

    def label(self) -> str:
        return f"radius {mm(self.radius)}"
