"""Spline slot: one half of a saw cut across a mitred corner, which takes a thin spline when the corner is glued."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, refuse, register
from sequencer.features.placing import at_an_end, meet, point, prism
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of, face_at, opposite
from sequencer.model.marks import Corner, Marks
from sequencer.model.shapes import Shape

MOST_OF_CORNER = 1.5
"""How far a slot runs along the outer face at most, as a share of how wide the part is there: beyond that its floor comes near
the inner corner. Common practice, about three quarters of the way through the corner."""


@register
@dataclass(frozen=True, kw_only=True)
class SplineSlot(Feature):
    """At a mitred `end` of which the long face is `long`: from the corner `length` along the outer face, and as far along that
    of the other piece, `width` wide, its near side `distance` from the face `from`. It is sawn straight across both pieces
    when they are glued."""

    gives: ClassVar = (
        "feature.length",
        "feature.width",
        "feature.depth",
        "feature.distance",
        "feature.remaining",
        "feature.thickness",
        "feature.count",
    )

    kind: ClassVar = "spline-slot"
    title: ClassVar = "spline slot"
    says: ClassVar = "one half of a slot that is sawn for a spline across a mitred corner when it is glued"

    when: Literal["loose", "assembled"] = "assembled"
    end: Face
    long: Face
    from_: Annotated[Face, Field(alias="from")]
    distance: Distance
    width: Length
    length: Length

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)
        meet(self.title, self.end, self.long)
        if axis_of(self.from_) != self.across():
            near, far = (face_at(self.across(), high) for high in (False, True))
            raise refuse(f"with the long face {self.long}, a spline slot is measured from {near} or {far}, not {self.from_}")
        if self.when == "loose":
            raise refuse("a spline slot is sawn across the corner when it is glued; take `when: loose` out")

    def across(self) -> Axis:
        """The axis its width lies along."""
        return "z" if axis_of(self.long) == "y" else "y"

    @property
    def depth(self) -> float:
        """How deep it is at the corner, square to its floor: both sides of the corner are alike, at 45 degrees."""
        return self.length / sqrt(2)

    def removes(self, block: Block) -> tuple[Shape, ...]:
        outer = axis_of(self.long)
        deep = min(self.length, block.size(outer))
        cut = [(0.0, 0.0), (self.length, 0.0), *([(self.length - deep, deep)] if self.length > deep else []), (0.0, deep)]
        corners: list[dict[Axis, float]] = [
            {"x": block.inward(self.end, along), outer: block.inward(self.long, over)} for along, over in cut
        ]
        return (prism(self.across(), corners, self.band(block)),)

    def marks(self, block: Block) -> Marks:
        return Corner(self.end, self.long, self.from_, self.distance, self.width, self.length)

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.depth` is that at the corner, `feature.thickness` that of the part, across the slot."""
        thick = block.size(self.across())
        return {
            "feature.length": self.length,
            "feature.width": self.width,
            "feature.depth": self.depth,
            "feature.distance": self.distance,
            "feature.remaining": min(self.beside(block)),
            "feature.thickness": thick,
            "feature.count": 1.0,
        }

    def beside(self, block: Block) -> tuple[float, float]:
        """Wood between it and the face it is measured from, and between it and the face opposite."""
        return self.distance, block.size(self.across()) - self.distance - self.width

    def band(self, block: Block) -> tuple[float, float]:
        """From where to where it lies across the part."""
        return block.span(self.from_, self.distance, self.distance + self.width)

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        corner: dict[Axis, float] = {"x": block.level(self.end), axis_of(self.long): block.level(self.long)}
        start = corner | {self.across(): block.level(self.from_)}
        near, far = (start | {self.across(): block.inward(self.from_, at)} for at in (self.distance, self.distance + self.width))
        back = near | {"x": block.inward(self.end, self.length)}
        beside = (Dimension(self.across(), point(start), point(near), mm(self.distance)),) if self.distance > NEAR else ()
        return (
            *beside,
            Dimension(self.across(), point(near), point(far), mm(self.width)),
            Dimension("x", point(near), point(back), mm(self.length)),
        )

    def opens(self) -> tuple[FaceName, ...]:
        return (self.long, self.end)

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.from_, self.end)

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from outside_part(self, block)
        wide = block.size(axis_of(self.long))
        if self.length > MOST_OF_CORNER * wide + NEAR:
            yield finding(
                self,
                "error",
                "through-the-corner",
                f"The spline slot runs {mm(self.length)} mm along the outer face, and the part is {mm(wide)} mm wide there.",
                why=f"At the {self.end} end its floor comes near the {opposite(self.long)} face, or through it, in the corner "
                "with the other part.",
                remedy=f"Make it {mm(MOST_OF_CORNER * wide)} mm long at most.",
            )
