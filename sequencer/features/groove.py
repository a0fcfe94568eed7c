"""Groove: a channel along the grain, through or stopped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import finding, register
from sequencer.features.channel import Channel
from sequencer.findings import Finding
from sequencer.model.frame import Axis, Block


@register
@dataclass(frozen=True, kw_only=True)
class Groove(Channel):
    """A channel whose run follows the grain."""

    kind: ClassVar = "groove"
    title: ClassVar = "groove"
    says: ClassVar = "a channel along the edge it is measured from, for a panel or a tongue"

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.trench().run != grain:
            yield finding(
                self,
                "note",
                "across-the-grain",
                "The groove runs across the grain.",
                why="The trade calls such a channel a housing, and cuts it with other tools.",
                remedy="Write it as a housing, or measure it from an edge along the grain.",
            )
