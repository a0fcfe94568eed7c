"""Finger joint: equal square fingers at an end, between which those of another board stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import ClassVar, Literal

from sequencer.features.base import NEAR, Dimension, finding, mm, outside_part, register
from sequencer.features.interlocking import Interlocking
from sequencer.features.placing import Span
from sequencer.findings import Finding
from sequencer.model.fields import Length
from sequencer.model.frame import Axis, Block, FaceName, Point
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Shape, box

FINGER_SOURCE = (
    "common practice: fingers as wide as the cutter that cuts between them, half to one and a half times the thickness"
)
LEAST_FINGER = 3.0
"""A thinner finger breaks, mm: common practice."""


@register
@dataclass(frozen=True, kw_only=True)
class FingerJoint(Interlocking):
    """Fingers `finger` wide from the bottom edge up, with gaps as wide between them. One board of a corner starts with a
    finger, the other with a gap."""

    gives: ClassVar = (
        "feature.width",
        "feature.depth",
        "feature.length",
        "feature.distance",
        "feature.thickness",
        "feature.remaining",
        "feature.through",
        "feature.count",
    )

    kind: ClassVar = "finger-joint"
    title: ClassVar = "finger joint"
    says: ClassVar = "equal square fingers at an end that go between those of another board"

    finger: Length
    start: Literal["finger", "gap"] = "finger"

    @property
    def first(self) -> float:
        """From the bottom edge to the first gap."""
        return self.finger if self.start == "finger" else 0.0

    def gaps(self, block: Block) -> tuple[Span, ...]:
        """From where to where each gap is open; the last may be cut short by the top edge."""
        number = max(0, ceil((block.width - self.first) / (2 * self.finger) - NEAR))
        starts = (self.first + 2 * self.finger * each for each in range(number))
        return tuple((start, min(start + self.finger, block.width)) for start in starts)

    def removes(self, block: Block) -> tuple[Shape, ...]:
        along = block.span(self.end, 0.0, self.length)
        return tuple(box(along, gap, (0.0, block.thickness)) for gap in self.gaps(block))

    def marks(self, block: Block) -> Marks:
        count = len(self.gaps(block))
        return Trough(self.end, "bottom", self.first, self.finger, self.length, count=count, pitch=2 * self.finger)

    def figures(self, block: Block) -> dict[str, float]:
        return {
            "feature.width": self.finger,
            "feature.depth": self.length,
            "feature.length": self.length,
            "feature.distance": self.first,
            "feature.thickness": block.thickness,
            "feature.remaining": min(self.finger, self._last(block)),
            "feature.through": 1.0,
            "feature.count": float(len(self.gaps(block))),
        }

    def _last(self, block: Block) -> float:
        """Width of the last finger or gap, at the top edge."""
        rest = block.width % self.finger
        return self.finger if min(rest, self.finger - rest) < NEAR else rest

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        tip, shoulder, front = block.level(self.end), block.inward(self.end, self.length), block.thickness
        first = min(self.finger, block.width)
        return (
            Dimension("x", Point(tip, 0.0, front), Point(shoulder, 0.0, front), mm(self.length)),
            Dimension("y", Point(tip, 0.0, front), Point(tip, first, front), mm(first)),
        )

    def opens(self) -> tuple[FaceName, ...]:
        return ("inside", "outside", self.end)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.end, "bottom")

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        if self.length >= block.length - NEAR or block.width < 2 * self.finger - NEAR:
            yield finding(
                self,
                "error",
                "nothing-left",
                f"Fingers {mm(self.finger)} mm wide and {mm(self.length)} mm long do not fit on a part {mm(block.length)} mm "
                f"long and {mm(block.width)} mm wide.",
                remedy="Make them narrower, or as long as the other board is thick.",
            )
            return
        yield from outside_part(self, block)
        if self.finger < LEAST_FINGER - NEAR:
            yield finding(
                self,
                "warning",
                "thin-finger",
                f"The fingers are only {mm(self.finger)} mm wide.",
                why="So thin a finger breaks when the joint is knocked together.",
                remedy=f"Make them at least {mm(LEAST_FINGER)} mm wide, and as wide as a cutter you have.",
                source=FINGER_SOURCE,
            )
        if self._last(block) < min(LEAST_FINGER, self.finger / 2) - NEAR:
            yield finding(
                self,
                "warning",
                "uneven-fingers",
                f"On {mm(block.width)} mm the last of the fingers and gaps of {mm(self.finger)} mm is only "
                f"{mm(self._last(block))} mm wide.",
                why="A sliver at the edge breaks off.",
                remedy=f"Make the width {mm(round(block.width / self.finger) * self.finger)} mm, or the fingers another width.",
                source=FINGER_SOURCE,
            )
        if grain != "x":
            yield finding(
                self,
                "warning",
                "short-grain",
                "The fingers lie across the grain of their part.",
                why="Short grain breaks away.",
                remedy="Let the grain run along the part.",
                source="common practice",
            )
