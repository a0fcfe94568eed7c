"""Dovetails: the tails at an end of a board, between which the pins of another board stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, angle_label, finding, mm, outside_part, register
from sequencer.features.dovetailing import Dovetailing
from sequencer.findings import Finding
from sequencer.model.frame import Axis, Block, FaceName, Point
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Prism, Shape


@register
@dataclass(frozen=True, kw_only=True)
class Dovetails(Dovetailing):
    """The tail board: tails `length` long at an `end`, as long as the pin board is thick, or shorter where its pins are
    lapped."""

    kind: ClassVar = "dovetails"
    title: ClassVar = "dovetails"
    says: ClassVar = "the tails at an end of a board that go between the pins of another"

    def reach(self, block: Block) -> float:
        return self.length

    def removes(self, block: Block) -> tuple[Shape, ...]:
        """The spaces for the pins, the first and the last of them open at the edges of the board."""
        spacing = self.spacing(block)
        if spacing.root <= NEAR:
            return ()
        tip, shoulder = block.level(self.end), block.inward(self.end, self.length)
        edges = [0.0, *(level for span in spacing.tips for level in span), block.width]
        spaces = []
        for low, high in zip(edges[::2], edges[1::2], strict=True):
            under = low - spacing.flare if low > NEAR else low
            over = high + spacing.flare if high < block.width - NEAR else high
            outline = ((tip, low), (tip, high), (shoulder, over), (shoulder, under))
            spaces.append(Prism("z", outline, 0.0, block.thickness))
        return tuple(spaces)

    def marks(self, block: Block) -> Marks:
        spacing = self.spacing(block)
        return Trough(
            self.end,
            "bottom",
            spacing.half_pin - spacing.pin,
            spacing.pin,
            self.length,
            leans=(self.angle, self.angle),
            count=self.tails + 1,
            pitch=spacing.pitch,
        )

    def figures(self, block: Block) -> dict[str, float]:
        spacing = self.spacing(block)
        return {
            "feature.width": spacing.pin + 2 * spacing.flare,
            "feature.depth": self.length,
            "feature.length": self.length,
            "feature.angle": self.angle,
            "feature.slope": self.slope,
            "feature.thickness": block.thickness,
            "feature.remaining": spacing.root,
            "feature.through": 1.0,
            "feature.count": float(self.tails),
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        spacing = self.spacing(block)
        tip, shoulder, front = block.level(self.end), block.inward(self.end, self.length), block.thickness

        def across(start: float, stop: float) -> Dimension:
            return Dimension("y", Point(tip, start, front), Point(tip, stop, front), mm(abs(stop - start)))

        low, high = spacing.tips[0]
        sizes = [
            Dimension("x", Point(tip, 0.0, front), Point(shoulder, 0.0, front), mm(self.length)),
            across(0.0, low),
            across(low, high),
        ]
        if self.tails > 1:
            sizes.append(across(high, high + spacing.pin))
        arm, slope = Point(shoulder, high, front), Point(shoulder, high - spacing.flare, front)
        label = angle_label(self.angle, spacing.flare, self.length)
        sizes.append(Dimension("x", Point(tip, high, front), arm, label, slope))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return ("inside", "outside", self.end)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.end, "bottom")

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
                f"The tails are {mm(self.length)} mm long and the part {mm(block.length)} mm: no shoulder is left.",
                remedy="Make the tails as long as the pin board is thick.",
            )
            return
        yield from outside_part(self, block)
        yield from self.proportions(block, grain)
