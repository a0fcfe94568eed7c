"""Tenon: the end of a part cut thinner and narrower, to enter a mortise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, register
from sequencer.features.placing import Span, at_an_end, lines_across, point
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName
from sequencer.model.marks import Marks, Shoulders
from sequencer.model.shapes import Shape, box

THICKNESS_SOURCE = "W. Fairham, Woodwork Joints: a third of the thickness; Building Construction vol. 3: a quarter to a third"
WIDTH_SOURCE = "Building Construction vol. 3: at most 5 times its thickness; rules of thumb of a boatbuilding course: 6 times"


@register
@dataclass(frozen=True, kw_only=True)
class Tenon(Feature):
    """At an `end`, `length` long, `thickness` thick, `width` wide (the whole width without one); centred unless
    `from_bottom` or `from_outside` say how wide the shoulder is there."""

    gives: ClassVar = (
        "feature.length",
        "feature.width",
        "feature.thickness",
        "feature.depth",
        "feature.remaining",
        "feature.count",
    )

    kind: ClassVar = "tenon"
    title: ClassVar = "tenon"
    says: ClassVar = "the end of a part cut thinner, and narrower if wanted, to enter a mortise"

    end: Face
    length: Length
    thickness: Length
    width: Length | None = None
    from_bottom: Distance | None = None
    from_outside: Distance | None = None

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)

    def section(self, block: Block) -> tuple[Span, Span]:
        """Where the tenon lies along the width and along the thickness."""
        wide = block.width if self.width is None else self.width
        low = (block.width - wide) / 2 if self.from_bottom is None else self.from_bottom
        back = (block.thickness - self.thickness) / 2 if self.from_outside is None else self.from_outside
        return (low, low + wide), (back, back + self.thickness)

    def shoulders(self, block: Block) -> dict[FaceName, float]:
        """Depth of the shoulder at each of the four faces, 0 where there is none."""
        (low, high), (back, front) = self.section(block)
        depths: dict[FaceName, float] = {
            "inside": block.thickness - front,
            "outside": back,
            "top": block.width - high,
            "bottom": low,
        }
        return {face: depth if depth > NEAR else 0.0 for face, depth in depths.items()}

    def removes(self, block: Block) -> tuple[Shape, ...]:
        along = block.span(self.end, 0.0, self.length)
        (low, high), (back, front) = self.section(block)
        whole, cheek, depths = (0.0, block.width), (max(back, 0.0), min(front, block.thickness)), self.shoulders(block)
        waste: dict[FaceName, tuple[Span, Span]] = {
            "inside": (whole, (front, block.thickness)),
            "outside": (whole, (0.0, back)),
            "top": ((high, block.width), cheek),
            "bottom": ((0.0, low), cheek),
        }
        return tuple(box(along, *spans) for face, spans in waste.items() if depths[face] and cheek[0] < cheek[1])

    def marks(self, block: Block) -> Marks:
        wide = block.width if self.width is None else self.width
        gaps: dict[FaceName, float | None] = {"bottom": self.from_bottom, "outside": self.from_outside}
        at = {face: gap for face, gap in gaps.items() if gap is not None}
        keeps = lines_across(block, at, "y", wide), lines_across(block, at, "z", self.thickness)
        return Shoulders(self.end, self.length, keeps)

    def figures(self, block: Block) -> dict[str, float]:
        (low, high), _ = self.section(block)
        return {
            "feature.length": self.length,
            "feature.width": high - low,
            "feature.thickness": self.thickness,
            "feature.depth": max(self.shoulders(block).values()),
            "feature.remaining": min(self.thickness, high - low),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        (low, high), (back, front) = self.section(block)
        tip, shoulder = block.level(self.end), block.inward(self.end, self.length)

        def size(axis: Axis, start: float, stop: float) -> Dimension:
            corner: dict[Axis, float] = {"x": tip, "y": low, "z": front}
            return Dimension(axis, point(corner | {axis: start}), point(corner | {axis: stop}), mm(abs(stop - start)))

        depths = self.shoulders(block)
        sizes = [size("x", tip, shoulder)]
        if depths["bottom"]:
            sizes.append(size("y", 0.0, low))
        if depths["bottom"] or depths["top"]:
            sizes.append(size("y", low, high))
        if depths["top"]:
            sizes.append(size("y", high, block.width))
        if depths["outside"]:
            sizes.append(size("z", 0.0, back))
        if depths["outside"] or depths["inside"]:
            sizes.append(size("z", back, front))
        if depths["inside"]:
            sizes.append(size("z", front, block.thickness))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        """The end, and the faces that may have a shoulder: which have, depends on the part."""
        faces: list[FaceName] = ["inside"]
        faces += [] if self.from_outside == 0 else ["outside"]
        if self.width is not None:
            faces += ["top"] if self.from_bottom == 0 else ["top", "bottom"]
        return (*faces, self.end)

    def measured_from(self) -> tuple[FaceName, ...]:
        faces: list[FaceName] = [self.end, "outside"]
        faces += ["inside"] if self.from_outside is None else []
        if self.width is not None:
            faces += ["bottom", "top"] if self.from_bottom is None else ["bottom"]
        return tuple(faces)

    def lines(self, block: Block) -> dict[str, tuple[FaceName, float]]:
        return {"shoulder": (self.end, self.length)}

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        (low, high), (back, front) = self.section(block)
        for word, size, start, stop in (("wide", block.width, low, high), ("thick", block.thickness, back, front)):
            if start < -NEAR or stop > size + NEAR:
                yield finding(
                    self,
                    "error",
                    "tenon-outside-section",
                    f"The tenon lies from {mm(start)} to {mm(stop)} mm and the part is only {mm(size)} mm {word}.",
                    remedy="Make the tenon smaller or move it inwards.",
                )
                return
        if self.length >= block.length - NEAR:
            yield finding(
                self,
                "error",
                "tenon-too-long",
                f"The tenon is {mm(self.length)} mm long and the part {mm(block.length)} mm: no shoulder is left.",
                remedy="Make the tenon shorter.",
            )
            return
        if not self.removes(block):
            yield finding(
                self,
                "error",
                "no-shoulder",
                "The tenon is as large as the part: it has no shoulder.",
                remedy="Make it thinner, or let the whole end in by a mortise or housing.",
            )
            return
        yield from outside_part(self, block)
        share = self.thickness / block.thickness
        # A tenon as thick as the part has its shoulders on the edges; the rule is for shoulders on the faces.
        if share < 1 / 4 - NEAR or 1 / 2 + NEAR < share < 1 - NEAR:
            yield finding(
                self,
                "warning",
                "tenon-thickness",
                f"The tenon is {mm(self.thickness)} mm thick in {mm(block.thickness)} mm of wood; "
                f"a quarter to a half is {mm(block.thickness / 4)} to {mm(block.thickness / 2)} mm.",
                why="A thin tenon breaks; a thick one leaves weak shoulders and a weak mortise.",
                remedy=f"Make it about {mm(block.thickness / 3)} mm.",
                source=THICKNESS_SOURCE,
            )
        if high - low > 6 * self.thickness + NEAR:
            yield finding(
                self,
                "warning",
                "tenon-width",
                f"The tenon is {mm(high - low)} mm wide; six times its thickness is {mm(6 * self.thickness)} mm.",
                why="A wide tenon shrinks loose and its long mortise weakens the other part.",
                remedy="Make it narrower, or make two.",
                source=WIDTH_SOURCE,
            )
        if grain != "x":
            yield finding(
                self,
                "warning",
                "short-grain",
                "The tenon lies across the grain of its part.",
                why="Short grain breaks away.",
                remedy="Let the grain run along the tenon.",
                source="common practice",
            )
