"""Rebate: a step along an edge or across an end."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from sequencer.features.base import register
from sequencer.features.channel import Trench, Trenched, along, held_back
from sequencer.model.fields import Distance, Edge, Face, Length
from sequencer.model.frame import Block, FaceName
from sequencer.model.marks import Marks, Trough


@register
@dataclass(frozen=True, kw_only=True)
class Rebate(Trenched):
    """`edge: inside/top` is the face it is cut into and the edge it lies along; `width` goes across that face from the
    edge, `depth` in from the face. `stops` holds it back from the ends of its run."""

    usual: ClassVar = 1 / 2
    most: ClassVar = 2 / 3

    kind: ClassVar = "rebate"
    title: ClassVar = "rebate"
    says: ClassVar = "a step along an edge or across an end, for a panel, glass or another piece"

    edge: Edge
    width: Length
    depth: Length
    stops: dict[Face, Distance] = field(default_factory=dict)

    def __post_init__(self) -> None:
        along(self.title, self.trench(), self.stops)

    def marks(self, block: Block) -> Marks:
        face, beside = self.edge
        return Trough(face, beside, 0.0, self.width, self.depth, held_back(self.stops))

    def trench(self) -> Trench:
        return Trench(*self.edge, 0.0, self.width, self.depth, self.stops)

    def opens(self) -> tuple[FaceName, ...]:
        return self.edge
