"""Dovetail housing: a housing wider below than at the face, on one side or both, so that what slides in cannot be pulled out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import atan, degrees
from typing import ClassVar, Literal

from sequencer.features.base import NEAR, Dimension, angle_label, finding, mm, register
from sequencer.features.channel import Channel, held_back
from sequencer.features.dovetailing import slope_of_the_trade
from sequencer.features.placing import prism
from sequencer.findings import Finding
from sequencer.model.fields import Slope
from sequencer.model.frame import Axis, Block, axis_of
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Shape

HOUSING_SOURCE = "boat-building school notes on joinery: a housing a quarter of the thickness deep, rarely over a third"


@register
@dataclass(frozen=True, kw_only=True)
class DovetailHousing(Channel):
    """As a housing; `distance` and `width` are those of its floor, as wide as the part that goes in is thick. Each of its
    `sides` that slopes (both, or the near or the far one from `from`) leans over it by 1 in `slope`."""

    gives: ClassVar = (*Channel.gives, "feature.angle", "feature.slope", "feature.sloping")

    kind: ClassVar = "dovetail-housing"
    title: ClassVar = "dovetail housing"
    says: ClassVar = "a housing with one side or both sloped, into which another piece slides from its end"

    slope: Slope
    sides: Literal["both", "near", "far"] = "both"

    usual: ClassVar = 1 / 3
    depth_source: ClassVar = HOUSING_SOURCE

    @property
    def leans(self) -> tuple[float, float]:
        """Slope of its near and its far side in degrees from square."""
        angle = degrees(atan(1 / self.slope))
        return (0.0 if self.sides == "far" else angle), (0.0 if self.sides == "near" else angle)

    def mouth(self) -> tuple[float, float]:
        """From where to where it is open at the face, from the face it is measured from."""
        near, far = (self.depth / self.slope if lean else 0.0 for lean in self.leans)
        return self.distance + near, self.distance + self.width - far

    def removes(self, block: Block) -> tuple[Shape, ...]:
        trench = self.trench()
        start, stop = trench.extent(block)
        near, far = self.mouth()
        if start >= stop or far - near <= NEAR:
            return ()
        beside, deep = axis_of(self.from_), axis_of(self.face)
        corners = ((near, 0.0), (far, 0.0), (self.distance + self.width, self.depth), (self.distance, self.depth))
        spots = [{beside: block.inward(self.from_, over), deep: block.inward(self.face, into)} for over, into in corners]
        return (prism(trench.run, spots, (start, stop)),)

    def marks(self, block: Block) -> Marks:
        near, far = self.mouth()
        return Trough(self.face, self.from_, near, far - near, self.depth, held_back(self.stops), leans=self.leans)

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {
            "feature.angle": max(self.leans),
            "feature.slope": self.slope,
            "feature.sloping": float(sum(1 for lean in self.leans if lean)),
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        """Those of the lines on the face, and the slope of a side below them."""
        near, far = self.mouth()
        lines = replace(self.trench(), distance=near, width=far - near)
        start, _ = lines.extent(block)
        over = (far, self.distance + self.width) if self.sides == "far" else (near, self.distance)
        corner, arm, slope = (
            lines.point(block, start, *at) for at in ((over[0], 0.0), (over[0], self.depth), (over[1], self.depth))
        )
        label = angle_label(max(self.leans), self.depth / self.slope, self.depth)
        return (*lines.dimensions(block), Dimension(axis_of(self.face), corner, arm, label, slope))

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        near, far = self.mouth()
        if far - near <= NEAR:
            yield finding(
                self,
                "error",
                "nothing-left",
                f"The sides of the housing meet before they reach the face: it is {mm(self.width)} mm wide at its floor and "
                f"{mm(self.depth)} mm deep.",
                remedy="Make it shallower, or slope one side only.",
            )
            return
        yield from super().check(block, grain)
        yield from slope_of_the_trade(self, self.slope, "sides of the housing")
        if self.trench().run == grain:
            yield finding(
                self,
                "note",
                "along-the-grain",
                "The housing runs along the grain.",
                why="What slides in there moves with the seasons along its own grain only; such a joint is kept for keys.",
                remedy="Measure it from an end if it is to run across.",
            )
