"""Cuts that take away the edge where two faces meet: the shared shape of chamfer, round-over and rounded corner."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm
from sequencer.features.checks import COMMON
from sequencer.features.placing import point, prism
from sequencer.findings import Finding
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Block, FaceName, axis_of, is_high, opposite
from sequencer.model.marks import Edges, Marks
from sequencer.model.shapes import Shape, arc

Pair = tuple[FaceName, FaceName]


def run_of(edge: Pair) -> Axis:
    """The axis an edge runs along."""
    return next(axis for axis in AXES if axis not in map(axis_of, edge))


@dataclass(frozen=True, kw_only=True)
class Arris(Feature):
    """The same cut along several edges of the part, over their whole length. Its kind says which and how large."""

    gives: ClassVar[tuple[str, ...]] = (
        "feature.width",
        "feature.depth",
        "feature.length",
        "feature.remaining",
        "feature.count",
        "feature.shortest-edge",
    )
    rounded: ClassVar[bool]
    """Whether the cut is a quarter round or a flat at 45 degrees."""

    def cut_edges(self) -> tuple[Pair, ...]:
        """The edges cut, each once."""
        raise NotImplementedError

    def reach(self) -> float:
        """How far the cut reaches into both faces from the edge."""
        raise NotImplementedError

    def outline(self, block: Block, edge: Pair) -> list[dict[Axis, float]]:
        """Corners of the waste along one edge."""
        (one, two), reach = edge, self.reach()
        a, b = axis_of(one), axis_of(two)
        corner = {a: block.level(one), b: block.level(two)}
        if not self.rounded:
            return [corner, corner | {a: block.inward(one, reach)}, corner | {b: block.inward(two, reach)}]
        # The quarter round touches the face `two` at 0 degrees of this circle and the face `one` at 90.
        inward_a, inward_b = block.inward(one, reach), block.inward(two, reach)
        flip_a, flip_b = (1 if is_high(face) else -1 for face in edge)
        curve = [{a: inward_a + flip_a * u, b: inward_b + flip_b * v} for u, v in arc((0.0, 0.0), reach, 90, 0)]
        return [corner, *curve]

    def removes(self, block: Block) -> tuple[Shape, ...]:
        return tuple(prism(run_of(edge), self.outline(block, edge), (0.0, block.size(run_of(edge)))) for edge in self.cut_edges())

    def marks(self, block: Block) -> Marks:
        return Edges(self.cut_edges(), self.reach(), self.rounded)

    def narrowest(self, block: Block) -> tuple[float, Axis]:
        """What the cuts leave of the face that loses most, and the axis along which."""
        left: list[tuple[float, Axis]] = []
        for edge in self.cut_edges():
            for face, across in (edge, edge[::-1]):
                axis = axis_of(across)
                cuts = sum({face, side} in map(set, self.cut_edges()) for side in (across, opposite(across)))
                left.append((block.size(axis) - cuts * self.reach(), axis))
        return min(left)

    def figures(self, block: Block) -> dict[str, float]:
        return {
            "feature.width": self.reach(),
            "feature.depth": self.reach(),
            "feature.length": max(block.size(run_of(edge)) for edge in self.cut_edges()),
            "feature.remaining": self.narrowest(block)[0],
            "feature.count": float(len(self.cut_edges())),
            "feature.shortest-edge": min(block.size(run_of(edge)) for edge in self.cut_edges()),
        }

    def label(self) -> str:
        """What the one dimension says."""
        raise NotImplementedError

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        one, two = self.cut_edges()[0]
        a, b = axis_of(one), axis_of(two)
        start: dict[Axis, float] = {a: block.level(one), b: block.inward(two, self.reach()), run_of((one, two)): 0.0}
        if self.rounded:
            start[a] = block.inward(one, self.reach())
        return (Dimension(b, point(start), point(start | {b: block.level(two)}), self.label()),)

    def opens(self) -> tuple[FaceName, ...]:
        return tuple(dict.fromkeys(face for edge in self.cut_edges() for face in edge))

    def measured_from(self) -> tuple[FaceName, ...]:
        return self.opens()

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        left, axis = self.narrowest(block)
        if left < -NEAR:
            yield finding(
                self,
                "error",
                "cuts-meet",
                f"The {self.title} reaches {mm(self.reach())} mm into the faces; along the {AXIS_WORDS[axis]} the part has "
                f"{mm(block.size(axis))} mm, too little for all the edges named.",
                remedy="Make it smaller or name fewer edges.",
            )
        elif self.reach() > block.size(axis) / 2 + NEAR:
            yield finding(
                self,
                "warning",
                "over-half",
                f"The {self.title} reaches {mm(self.reach())} mm into the faces, over half of the {AXIS_WORDS[axis]} of "
                f"{mm(block.size(axis))} mm.",
                why="Little of the square edge is left to guide a tool or to hold.",
                remedy=f"Make it at most {mm(block.size(axis) / 2)} mm.",
                source=COMMON,
            )


def each_once(edges: tuple[Pair, ...]) -> tuple[Pair, ...]:
    """Edges without repeats; inside/top and top/inside are one."""
    seen: dict[frozenset[FaceName], Pair] = {}
    for edge in edges:
        seen.setdefault(frozenset(edge), edge)
    return tuple(seen.values())
