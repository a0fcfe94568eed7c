"""Edges cut to a section over their whole length: the shared shape of moulding and fielded edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.arris import Pair, run_of
from sequencer.features.base import NEAR, Dimension, Feature, finding, mm
from sequencer.features.placing import point, prism
from sequencer.findings import Finding
from sequencer.model.frame import AXIS_WORDS, Axis, Block, FaceName, axis_of, opposite
from sequencer.model.marks import Marks, Moulded
from sequencer.model.shapes import Shape

Section = tuple[tuple[float, float], ...]
"""The line of the section, from the edge to the face: how far in over the face, and how far down from it, mm."""


@dataclass(frozen=True, kw_only=True)
class Profiled(Feature):
    """The same section along several edges of the part. Its kind says which edges and what section."""

    gives: ClassVar[tuple[str, ...]] = (
        "feature.width",
        "feature.depth",
        "feature.length",
        "feature.remaining",
        "feature.count",
    )
    nature: ClassVar = "edge"

    def cut_edges(self) -> tuple[Pair, ...]:
        """The edges cut, each once: the face that shows the section, and the one beside it."""
        raise NotImplementedError

    def section(self) -> Section:
        """From (0, depth) on the edge to (width, 0) on the face."""
        raise NotImplementedError

    def reach(self) -> tuple[float, float]:
        """How far it goes in over the face, and down from it."""
        return max(over for over, _ in self.section()), max(down for _, down in self.section())

    def removes(self, block: Block) -> tuple[Shape, ...]:
        shapes = []
        for face, edge in self.cut_edges():
            a, b, run = axis_of(edge), axis_of(face), run_of((face, edge))
            line = [{a: block.inward(edge, over), b: block.inward(face, down)} for over, down in self.section()]
            corner: dict[Axis, float] = {a: block.level(edge), b: block.level(face)}
            shapes.append(prism(run, [corner, *line], (0.0, block.size(run))))
        return tuple(shapes)

    def marks(self, block: Block) -> Marks:
        return Moulded(self.cut_edges(), self.section())

    def left(self, block: Block) -> dict[Axis, float]:
        """What the cuts leave along each axis where they take most."""
        width, depth = self.reach()
        left: dict[Axis, float] = {}
        for face, edge in self.cut_edges():
            for side, reach in ((edge, width), (face, depth)):
                across = face if side == edge else edge
                both = {(across, opposite(side)), (opposite(side), across)} & set(self.cut_edges())
                axis = axis_of(side)
                left[axis] = min(left.get(axis, block.size(axis)), block.size(axis) - (2 if both else 1) * reach)
        return left

    def figures(self, block: Block) -> dict[str, float]:
        width, depth = self.reach()
        return {
            "feature.width": width,
            "feature.depth": depth,
            "feature.length": max(block.size(run_of(edge)) for edge in self.cut_edges()),
            "feature.remaining": min(self.left(block).values()),
            "feature.count": float(len(self.cut_edges())),
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        """Width and depth at the near end of the first edge."""
        face, edge = self.cut_edges()[0]
        width, depth = self.reach()
        a, b = axis_of(edge), axis_of(face)
        at: dict[Axis, float] = {a: block.level(edge), b: block.level(face), run_of((face, edge)): 0.0}
        return (
            Dimension(a, point(at), point(at | {a: block.inward(edge, width)}), self.label()),
            Dimension(b, point(at), point(at | {b: block.inward(face, depth)}), mm(depth)),
        )

    def label(self) -> str:
        """What the dimension of its width says."""
        return mm(self.reach()[0])

    def opens(self) -> tuple[FaceName, ...]:
        return tuple(dict.fromkeys(face for edge in self.cut_edges() for face in edge))

    def measured_from(self) -> tuple[FaceName, ...]:
        return self.opens()

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        for axis, left in self.left(block).items():
            if left < NEAR:
                yield finding(
                    self,
                    "error",
                    "cuts-meet",
                    f"The {self.title} takes all of the {AXIS_WORDS[axis]} of {mm(block.size(axis))} mm.",
                    remedy="Make it smaller or name fewer edges.",
                )
                return
