"""Recess: a shallow sinking with a flat bottom, for a hinge or a plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import register
from sequencer.features.opening import Opening
from sequencer.model.fields import Length
from sequencer.model.frame import Block


@register
@dataclass(frozen=True, kw_only=True)
class Recess(Opening):
    """In `face`, `length` by `width`, `depth` deep with a flat bottom and square corners. Where `at` puts it 0 from an edge
    it is open there: a hinge is let in so."""

    gives: ClassVar[tuple[str, ...]] = (*Opening.gives, "feature.open")

    kind: ClassVar = "recess"
    title: ClassVar = "recess"
    says: ClassVar = "a shallow sinking with a flat bottom, closed all round or open at an edge, for a hinge or a plate"

    depth: Length

    def blind(self) -> float | None:
        return self.depth

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {"feature.open": float(len(self.breaks(block)))}
