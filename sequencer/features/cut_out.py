"""Cut-out: an opening right through, inside the part or out of an edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, finding, mm, register
from sequencer.features.opening import Opening
from sequencer.features.placing import both_sides, point
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face
from sequencer.model.frame import Axis, Block, FaceName, axis_of, face_at, others


@register
@dataclass(frozen=True, kw_only=True)
class CutOut(Opening):
    """As an opening, always right through. A side at distance 0 from an edge is open there: `at: {bottom: 0}`. `radius`
    rounds the corners inside the part."""

    gives: ClassVar[tuple[str, ...]] = (*Opening.gives, "feature.radius", "feature.open")

    kind: ClassVar = "cut-out"
    sawn_to_line: ClassVar = True
    title: ClassVar = "cut-out"
    says: ClassVar = "an opening right through, inside the part or out of an edge, with square or rounded corners"

    face: Face = "inside"
    radius: Distance = 0.0

    def largest_radius(self, block: Block) -> float:
        """The largest radius its corners have room for: half a side that has two rounded corners, else the whole."""
        return min(self._room(block, axis) for axis in self.in_face(block))

    def _room(self, block: Block, axis: Axis) -> float:
        """The largest radius that its side along an axis has room for."""
        low, high = self.in_face(block)[axis]
        return (high - low) / (1 if self._opens_along(block, axis) else 2)

    def _opens_along(self, block: Block, axis: Axis) -> bool:
        return any(face_at(axis, high) in self.breaks(block) for high in (False, True))

    def corner_radius(self, block: Block) -> float:
        return min(self.radius, self.largest_radius(block))

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {
            "feature.radius": self.corner_radius(block),
            "feature.open": float(len(self.breaks(block))),
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        sizes, radius = super().dimensions(block), self.corner_radius(block)
        corners = self.inner_corners(block)
        if radius < NEAR or not corners:
            return sizes
        spans, axes = self.in_face(block), others(axis_of(self.face))
        sides = {axis: spans[axis][high] for axis, high in zip(axes, corners[0], strict=True)}
        centre = {axis_of(self.face): block.level(self.face)} | {
            axis: sides[axis] + (-radius if high else radius) for axis, high in zip(axes, corners[0], strict=True)
        }
        along = self.run(block)
        end = centre | {along: sides[along]}
        return (*sizes, Dimension(along, point(centre), point(end), f"radius {mm(radius)}"))

    def opens(self) -> tuple[FaceName, ...]:
        edges = (face for face, distance in self.at.items() if distance < NEAR)
        return (*both_sides(self.face, True), *edges)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.radius > self.largest_radius(block) + NEAR:
            side = min(self.in_face(block), key=lambda axis: self._room(block, axis))
            low, high = self.in_face(block)[side]
            yield finding(
                self,
                "error",
                "radius-too-large",
                f"The cut-out has its {', '.join(self.corner_names(block))} corners rounded to {mm(self.radius)} mm; it is "
                f"{mm(high - low)} mm from {face_at(side, False)} to {face_at(side, True)}, with room for "
                f"{mm(self.largest_radius(block))} mm.",
                remedy="Make the radius smaller or the cut-out larger.",
            )
