"""Wedge kerfs: saw cuts in the end of a tenon that take the wedges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import Dimension, Feature, finding, mm, outside_part, refuse, register
from sequencer.features.placing import at_an_end, point
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Shape, box

SAW = 1.0
"""Width of a tenon saw's kerf, mm: common practice."""
STRIP = 3.0
"""Wood that must stand beside a kerf so that it bends and does not break, mm: from memory, 3 to 6."""
STRIP_SOURCE = "from memory: kerfs 3 to 6 mm from the edges of the tenon, two thirds to three quarters of its length deep"


@register
@dataclass(frozen=True, kw_only=True)
class WedgeKerfs(Feature):
    """At an `end`, through the thickness, `length` deep from the end: the first kerf `from_bottom`, its near side from the
    bottom edge, and `count` of them, each `apart` from the one before. `width` is the saw's kerf."""

    gives: ClassVar = ("feature.width", "feature.depth", "feature.distance", "feature.remaining", "feature.count")

    kind: ClassVar = "wedge-kerfs"
    title: ClassVar = "wedge kerf"
    says: ClassVar = "saw cuts in the end of a tenon for wedges to be driven in"
    own_walls: ClassVar = True

    end: Face
    length: Length
    from_bottom: Distance
    count: Annotated[int, Field(ge=1, le=4)] = 1
    apart: Length | None = None
    width: Length = SAW

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)
        if (self.count > 1) != (self.apart is not None):
            raise refuse("several wedge kerfs need `apart`, from one to the next, and a single one has none")

    @property
    def places(self) -> tuple[float, ...]:
        """The near sides, from the bottom edge."""
        return tuple(self.from_bottom + number * (self.apart or 0.0) for number in range(self.count))

    def removes(self, block: Block) -> tuple[Shape, ...]:
        along = block.span(self.end, 0.0, self.length)
        return tuple(box(along, (near, near + self.width), (0.0, block.thickness)) for near in self.places)

    def marks(self, block: Block) -> Marks:
        lines = Trough(self.end, "bottom", self.from_bottom, self.width, self.length)
        return lines if self.apart is None else replace(lines, count=self.count, pitch=self.apart)

    def figures(self, block: Block) -> dict[str, float]:
        return {
            "feature.width": self.width,
            "feature.depth": self.length,
            "feature.distance": self.from_bottom,
            "feature.remaining": min(self._strips(block)),
            "feature.count": float(self.count),
        }

    def _strips(self, block: Block) -> tuple[float, ...]:
        """Wood beside and between the kerfs, over the part's whole width."""
        between = [] if self.apart is None else [self.apart - self.width]
        return (self.from_bottom, *between, block.width - self.places[-1] - self.width)

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        tip, into = block.level(self.end), block.inward(self.end, self.length)
        corner: dict[Axis, float] = {"x": tip, "y": 0.0, "z": block.thickness}
        sizes = [Dimension("y", point(corner), point(corner | {"y": near}), mm(near)) for near in self.places if near]
        first = corner | {"y": self.from_bottom}
        return (*sizes, Dimension("x", point(first), point(first | {"x": into}), mm(self.length)))

    def opens(self) -> tuple[FaceName, ...]:
        return (self.end, "inside", "outside")

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.end, "bottom")

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from outside_part(self, block)
        least = min(self._strips(block))
        if least < STRIP:
            yield finding(
                self,
                "warning",
                "thin-beside-kerf",
                f"Beside a wedge kerf only {mm(max(least, 0.0))} mm of wood stands.",
                why="The strip breaks when the wedge bends it.",
                remedy=f"Leave at least {mm(STRIP)} mm beside and between the kerfs.",
                source=STRIP_SOURCE,
            )
