"""Dovetail pins: the sockets at an end of a board that take the tails of another, through or with a lap left in front."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, angle_label, finding, mm, outside_part, refuse, register
from sequencer.features.checks import left_under
from sequencer.features.dovetailing import LAP_SOURCE, Dovetailing
from sequencer.findings import Finding
from sequencer.model.fields import Face, Length
from sequencer.model.frame import Axis, Block, FaceName, Point, axis_of, opposite
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Prism, Shape


@register
@dataclass(frozen=True, kw_only=True)
class DovetailPins(Dovetailing):
    """The pin board: sockets in an `end`, `length` long from it, as long as the tail board is thick. They open in the broad
    face the tail board comes to (`face`, inside unless said) and go `depth` in, or right through without one; what is left
    is the lap."""

    kind: ClassVar = "dovetail-pins"
    title: ClassVar = "dovetail pins"
    says: ClassVar = "the pins at an end of a board, with sockets between them for the tails of another, through or lapped"

    depth: Length | None = None
    face: Face = "inside"

    def __post_init__(self) -> None:
        super().__post_init__()
        if axis_of(self.face) != "z":
            raise refuse(f"the sockets between the pins open in a broad face, inside or outside; {self.face} is none")

    def mouths(self) -> tuple[FaceName, ...]:
        return (self.face,)

    def reach(self, block: Block) -> float:
        return block.thickness if self.depth is None else self.depth

    def removes(self, block: Block) -> tuple[Shape, ...]:
        spacing = self.spacing(block)
        if spacing.root <= NEAR:
            return ()
        mouth, floor, flare = block.level(self.face), block.inward(self.face, self.reach(block)), spacing.flare
        along = block.span(self.end, 0.0, self.length)
        return tuple(
            Prism("x", ((low + flare, mouth), (high - flare, mouth), (high, floor), (low, floor)), *along)
            for low, high in spacing.tips
        )

    def marks(self, block: Block) -> Marks:
        spacing = self.spacing(block)
        return Trough(
            self.face,
            "bottom",
            spacing.half_pin + spacing.flare,
            spacing.root,
            self.reach(block),
            reach=(self.end, self.length),
            leans=(self.angle, self.angle),
            count=self.tails,
            pitch=spacing.pitch,
        )

    def figures(self, block: Block) -> dict[str, float]:
        spacing = self.spacing(block)
        return {
            "feature.width": spacing.root,
            "feature.depth": self.reach(block),
            "feature.length": self.length,
            "feature.angle": self.angle,
            "feature.slope": self.slope,
            "feature.thickness": block.thickness,
            "feature.remaining": block.thickness - self.reach(block),
            "feature.through": float(self.reach(block) >= block.thickness - NEAR),
            "feature.count": float(self.tails),
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        spacing = self.spacing(block)
        mouth = block.level(self.face)
        tip, inner = block.level(self.end), block.inward(self.end, self.length)
        low, high = spacing.tips[0]
        floor = block.inward(self.face, self.reach(block))

        def across(start: float, stop: float) -> Dimension:
            return Dimension("y", Point(tip, start, mouth), Point(tip, stop, mouth), mm(abs(stop - start)))

        sizes = [
            Dimension("x", Point(tip, 0.0, mouth), Point(inner, 0.0, mouth), mm(self.length)),
            across(0.0, low + spacing.flare),
            across(low + spacing.flare, high - spacing.flare),
        ]
        if self.tails > 1:
            sizes.append(across(high - spacing.flare, high + spacing.pin + spacing.flare))
        if self.depth is not None:
            sizes.append(Dimension("z", Point(tip, low, mouth), Point(tip, low, floor), mm(self.depth)))
        inner_low = low + spacing.flare
        label = angle_label(self.angle, spacing.flare, self.reach(block))
        arm, slope = Point(tip, inner_low, floor), Point(tip, low, floor)
        sizes.append(Dimension("z", Point(tip, inner_low, mouth), arm, label, slope))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        through = (opposite(self.face),) if self.depth is None else ()
        return (self.face, self.end, *through)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.end, "bottom", self.face)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        found = list(self.no_tails(block))
        yield from found
        if found:
            return
        if self.length >= block.length - NEAR:
            yield finding(
                self,
                "error",
                "nothing-left",
                f"The sockets are {mm(self.length)} mm long and the part {mm(block.length)} mm: nothing is left.",
                remedy="Make the sockets as long as the tail board is thick.",
            )
            return
        yield from outside_part(self, block, opposite(self.face))
        if self.depth is not None:
            usual, most = 3 / 4, 4 / 5
            yield from left_under(self, block, self.face, self.depth, usual=usual, most=most, through=True, source=LAP_SOURCE)
        yield from self.proportions(block, grain)
