"""Tongue: an edge or end cut thinner to enter a groove or housing, in the middle or bare-faced."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, refuse, register
from sequencer.features.placing import Span, lines_across, point
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of, opposite
from sequencer.model.marks import Marks, Shoulders
from sequencer.model.shapes import Shape, box_along

THICKNESS_SOURCE = "common practice: about a third of the thickness, a quarter at least"
LENGTH_SOURCE = "W. Noyes, Handwork in Wood, 1910: a panel groove is about as deep as wide; common practice for tongues"


@register
@dataclass(frozen=True, kw_only=True)
class Tongue(Feature):
    """Along the face `edge`, an edge or end of the part: `length` out, `thickness` thick, over the whole edge; centred unless
    `from_outside` or `from_inside` says how wide the shoulder is there; 0 makes it bare-faced, with one shoulder only."""

    gives: ClassVar = (
        "feature.length",
        "feature.width",
        "feature.thickness",
        "feature.depth",
        "feature.cheek",
        "feature.shoulder",
        "feature.shoulder-behind",
        "feature.remaining",
        "feature.count",
    )

    kind: ClassVar = "tongue"
    title: ClassVar = "tongue"
    says: ClassVar = "an edge or end cut thinner to enter a groove or housing"

    edge: Face
    length: Length
    thickness: Length
    from_outside: Distance | None = None
    from_inside: Distance | None = None

    def __post_init__(self) -> None:
        if axis_of(self.edge) == "z":
            raise refuse(f"a tongue runs along an edge or end of the part; {self.edge} is a broad face")
        if self.from_outside is not None and self.from_inside is not None:
            raise refuse("the tongue is measured from the outside and from the inside; take `from_outside` or `from_inside` out")

    def on(self, block: Block) -> Tongue:
        """One whose only shoulder is in the outside face is measured from the inside face, which stays whole."""
        depths = self.shoulders(block)
        alone = depths["outside"] > 0.0 and depths["inside"] == 0.0 and self.section(block)[1] < block.thickness + NEAR
        return replace(self, from_outside=None, from_inside=0.0) if alone else self

    def section(self, block: Block) -> Span:
        """Where the tongue lies in the thickness."""
        if self.from_inside is not None:
            return block.thickness - self.from_inside - self.thickness, block.thickness - self.from_inside
        back = (block.thickness - self.thickness) / 2 if self.from_outside is None else self.from_outside
        return back, back + self.thickness

    def shoulders(self, block: Block) -> dict[FaceName, float]:
        """Depth of the shoulder in each broad face, 0 where there is none."""
        back, front = self.section(block)
        depths: dict[FaceName, float] = {"inside": block.thickness - front, "outside": back}
        return {face: depth if depth > NEAR else 0.0 for face, depth in depths.items()}

    def along(self) -> Axis:
        """The axis it runs along."""
        return "y" if axis_of(self.edge) == "x" else "x"

    def removes(self, block: Block) -> tuple[Shape, ...]:
        spans: dict[Axis, Span] = {
            axis_of(self.edge): block.span(self.edge, 0.0, self.length),
            self.along(): (0.0, block.size(self.along())),
        }
        return tuple(
            box_along(spans | {"z": block.span(face, 0.0, depth)}) for face, depth in self.shoulders(block).items() if depth
        )

    def marks(self, block: Block) -> Marks:
        stated: dict[FaceName, float | None] = {"outside": self.from_outside, "inside": self.from_inside}
        at = {face: distance for face, distance in stated.items() if distance is not None}
        return Shoulders(self.edge, self.length, (lines_across(block, at, "z", self.thickness),))

    def figures(self, block: Block) -> dict[str, float]:
        depths, worked_first = self.shoulders(block), self.opens()[0]
        return {
            "feature.length": self.length,
            "feature.width": block.size(self.along()),
            "feature.thickness": self.thickness,
            "feature.depth": max(depths.values()),
            "feature.cheek": self.section(block)[0] if self.from_inside is None else self.from_inside,
            "feature.shoulder": depths[worked_first],
            "feature.shoulder-behind": depths[opposite(worked_first)],
            "feature.remaining": self.thickness,
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        back, front = self.section(block)
        across, tip, shoulder = axis_of(self.edge), block.level(self.edge), block.inward(self.edge, self.length)
        corner: dict[Axis, float] = {across: tip, self.along(): 0.0, "z": front}

        def size(axis: Axis, start: float, stop: float) -> Dimension:
            return Dimension(axis, point(corner | {axis: start}), point(corner | {axis: stop}), mm(abs(stop - start)))

        depths = self.shoulders(block)
        sizes = [size(across, tip, shoulder), size("z", back, front)]
        sizes += [size("z", 0.0, back)] if depths["outside"] else []
        sizes += [size("z", front, block.thickness)] if depths["inside"] else []
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        faces: tuple[FaceName, ...] = ("inside", "outside")
        if self.from_outside == 0:
            faces = ("inside",)
        elif self.from_inside == 0:
            faces = ("outside",)
        return (*faces, self.edge)

    def measured_from(self) -> tuple[FaceName, ...]:
        if self.from_inside is not None:
            return (self.edge, "inside")
        return (self.edge, "outside", *(() if self.from_outside is not None else ("inside",)))

    def lines(self, block: Block) -> dict[str, tuple[FaceName, float]]:
        return {"shoulder": (self.edge, self.length)}

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        back, front = self.section(block)
        if back < -NEAR or front > block.thickness + NEAR:
            yield finding(
                self,
                "error",
                "tongue-outside-section",
                f"The tongue lies from {mm(back)} to {mm(front)} mm and the part is only {mm(block.thickness)} mm thick.",
                remedy="Make the tongue thinner or move it inwards.",
            )
            return
        if not self.removes(block):
            yield finding(
                self,
                "error",
                "no-shoulder",
                "The tongue is as thick as the part: it has no shoulder.",
                remedy="Make it thinner, or let the whole edge in by a groove or housing.",
            )
            return
        yield from outside_part(self, block)
        if self.thickness < block.thickness / 4 - NEAR or self.thickness < 3.0 - NEAR:
            yield finding(
                self,
                "warning",
                "thin-tongue",
                f"The tongue is {mm(self.thickness)} mm thick in {mm(block.thickness)} mm of wood.",
                why="A thin tongue breaks off at the shoulder.",
                remedy=f"Make it about {mm(block.thickness / 3)} mm.",
                source=THICKNESS_SOURCE,
            )
        if axis_of(self.edge) != grain and self.length > 2 * self.thickness + NEAR:
            yield finding(
                self,
                "warning",
                "short-grain",
                f"The tongue stands {mm(self.length)} mm out along short grain and is {mm(self.thickness)} mm thick.",
                why="Short grain breaks away.",
                remedy=f"Make it about {mm(self.thickness)} mm long.",
                source=LENGTH_SOURCE,
            )
