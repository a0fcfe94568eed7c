"""Fielded edge: a panel thinned towards its edges, so that its middle stands raised."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import atan2, degrees
from typing import ClassVar

from sequencer.features.arris import Pair, run_of
from sequencer.features.base import NEAR, finding, mm, refuse, register
from sequencer.features.checks import left_under
from sequencer.features.profiled import Profiled, Section
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Faces, Length
from sequencer.model.frame import FACES, Axis, Block, axis_of


@register
@dataclass(frozen=True, kw_only=True)
class FieldedEdge(Profiled):
    """In the broad `face`, along all four edges or those named: a border `width` wide that slopes down to `depth` below the
    face at the edge. With a `step` the middle stands up by so much at once, and the slope starts below it."""

    gives: ClassVar[tuple[str, ...]] = (*Profiled.gives, "feature.angle", "feature.shortest-edge")

    kind: ClassVar = "fielded-edge"
    title: ClassVar = "fielded edge"
    says: ClassVar = "a panel sloped down towards its edges, so that the middle stands raised"

    face: Face
    width: Length
    depth: Length
    step: Distance = 0.0
    edges: Faces = field(default=())

    def __post_init__(self) -> None:
        if axis_of(self.face) != "z":
            raise refuse(f"a panel is fielded in a broad face, inside or outside; {self.face} is none")
        if any(axis_of(edge) == "z" for edge in self.edges):
            raise refuse("the edges that are fielded are left, right, bottom or top")
        if self.step >= self.depth:
            raise refuse("the step of a fielded edge is less than its depth: the rest is the slope")

    def cut_edges(self) -> tuple[Pair, ...]:
        named = self.edges or tuple(each for each in FACES if axis_of(each) != "z")
        return tuple((self.face, edge) for edge in dict.fromkeys(named))

    def section(self) -> Section:
        slope = ((0.0, self.depth), (self.width, self.step))
        return (*slope, (self.width, 0.0)) if self.step else slope

    def angle(self) -> float:
        """Of the slope from the face, degrees."""
        return degrees(atan2(self.depth - self.step, self.width))

    def figures(self, block: Block) -> dict[str, float]:
        shortest = min(block.size(run_of(edge)) for edge in self.cut_edges())
        return super().figures(block) | {"feature.angle": self.angle(), "feature.shortest-edge": shortest}

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        yield from left_under(self, block, self.face, self.depth, usual=1 / 2, most=2 / 3)
        if self.angle() > 30 + NEAR:
            yield finding(
                self,
                "warning",
                "steep-field",
                f"The fielded edge slopes {mm(self.angle())} degrees from the face.",
                why="So steep a slope is no field; it wedges its frame apart when the panel swells.",
                remedy="Make it wider or less deep.",
                source="common practice: 8 to 15 degrees",
            )
