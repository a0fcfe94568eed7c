"""Rounding: a square stick made round over its whole length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import register
from sequencer.features.revolved import Revolved, Station
from sequencer.model.frame import Block


@register
@dataclass(frozen=True, kw_only=True)
class Rounding(Revolved):
    """The stick is square, as thick as the round is to be, and its grain runs along it: it needs no size of its own."""

    kind: ClassVar = "rounding"
    title: ClassVar = "rounding"
    says: ClassVar = "a square stick made round over its whole length"

    def stations(self, block: Block) -> tuple[Station, ...]:
        across = min(block.width, block.thickness)
        return ((0.0, across), (block.length, across))

    def lengthwise(self, block: Block) -> bool:
        return True
