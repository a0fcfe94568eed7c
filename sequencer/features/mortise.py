"""Mortise: the hole a tenon enters, blind or through."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, finding, mm, register
from sequencer.features.checks import COMMON
from sequencer.features.opening import Opening
from sequencer.findings import Finding
from sequencer.model.fields import Length
from sequencer.model.frame import Axis, Block

WIDTH_SOURCE = "W. Fairham, Woodwork Joints: a third of the thickness; over half: common practice"


@register
@dataclass(frozen=True, kw_only=True)
class Mortise(Opening):
    """As an opening; `depth` in from the face, or right through without one."""

    kind: ClassVar = "mortise"
    title: ClassVar = "mortise"
    says: ClassVar = "a square hole for a tenon, blind or right through"

    depth: Length | None = None

    def blind(self) -> float | None:
        return self.depth

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.across(block) == "z" and self.width > block.thickness / 2 + NEAR:
            yield finding(
                self,
                "warning",
                "mortise-width",
                f"The mortise is {mm(self.width)} mm wide in {mm(block.thickness)} mm of wood, more than half.",
                why="A wide mortise leaves weak cheeks.",
                remedy=f"Make it about {mm(block.thickness / 3)} mm, the width of a chisel you have.",
                source=WIDTH_SOURCE,
            )
        if self.depth is not None and not 3 - NEAR <= self.depth / self.width <= 5 + NEAR:
            yield finding(
                self,
                "note",
                "mortise-depth",
                f"The mortise is {mm(self.depth)} mm deep; three to five times its width is "
                f"{mm(3 * self.width)} to {mm(5 * self.width)} mm.",
                source=COMMON,
            )
