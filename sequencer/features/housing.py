"""Housing: a channel across the grain that takes the end or edge of another piece, through or stopped."""

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
class Housing(Channel):
    """A channel whose run crosses the grain."""

    kind: ClassVar = "housing"
    title: ClassVar = "housing"
    says: ClassVar = "a channel across the grain that takes the end of another piece"

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.trench().run == grain:
            yield finding(
                self,
                "note",
                "along-the-grain",
                "The housing runs along the grain.",
                why="The trade calls such a channel a groove, and cuts it with other tools.",
                remedy="Write it as a groove, or measure it from an end.",
            )
