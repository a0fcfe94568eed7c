"""Cope: the end of a moulded edge cut away, to the profile of the moulding it meets or square."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from sequencer.features.base import NEAR, Dimension, Feature, mm, refuse, register
from sequencer.features.moulding import SECTIONS
from sequencer.features.placing import at_an_end, point, prism
from sequencer.features.profiled import Section
from sequencer.model.fields import Distance, Edge, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of
from sequencer.model.marks import Coped, Marks
from sequencer.model.shapes import Shape


@register
@dataclass(frozen=True, kw_only=True)
class Cope(Feature):
    """At an `end`, along the moulded `edge`, whose first face shows the moulding: cut away to fit over a moulding of the same
    `profile`, `size` and `step` on the part it meets, from `from_end` on (the shoulder) and `depth` down from the face. Across
    the edge it is as wide as that moulding, or `width`. `profile: square` cuts the edge right back, `size` long."""

    gives: ClassVar = ("feature.length", "feature.width", "feature.depth", "feature.radius", "feature.count")

    kind: ClassVar = "cope"
    title: ClassVar = "cope"
    says: ClassVar = "the end of a moulded edge cut away, to fit over the moulding it meets or square"
    nature: ClassVar = "edge"

    end: Face
    edge: Edge
    profile: Literal["ovolo", "cove", "ogee", "square"]
    size: Length
    step: Distance = 0.0
    depth: Length
    width: Length | None = None
    from_end: Distance = 0.0

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)
        if "x" in {axis_of(face) for face in self.edge}:
            raise refuse("a cope is cut into the end of a long edge; name two faces of which neither is an end")
        if self.profile == "square" and (self.width is None or self.step):
            raise refuse("a square cope has a `width` across the edge and no `step`: it meets no moulding to take them from")
        if self.profile == "ovolo" and self.step == 0:
            raise refuse("an ovolo has a `step` beside its round; write the one of the moulding that the cope fits over")
        fall = max(down for _, down in self.section())
        if self.depth < fall - NEAR:
            raise refuse(
                f"the cope is {mm(self.depth)} mm deep and the moulding it fits over falls {mm(fall)} mm from the face; it must "
                "be as deep at least"
            )

    def section(self) -> Section:
        """The wood that comes to stand there, from its edge to its face: how far in from its edge, how far down."""
        if self.profile == "square":
            return ((0.0, 0.0), (self.size, 0.0))
        return SECTIONS[self.profile](self.size, self.step)

    def length(self) -> float:
        """How far it goes along the edge."""
        return max(over for over, _ in self.section())

    def across(self) -> float:
        """How far it goes in from the edge."""
        return self.length() if self.width is None else self.width

    def removes(self, block: Block) -> tuple[Shape, ...]:
        face, side = self.edge
        far = self.from_end + self.length()
        line = [(far - over, down) for over, down in self.section()]
        corners: list[dict[Axis, float]] = [
            {"x": block.inward(self.end, along), axis_of(face): block.inward(face, down)}
            for along, down in (*line, (self.from_end, self.depth), (far, self.depth))
        ]
        return (prism(axis_of(side), corners, block.span(side, 0.0, self.across())),)

    def marks(self, block: Block) -> Marks:
        return Coped(self.end, self.edge, self.from_end, self.across(), self.depth, self.section())

    def figures(self, block: Block) -> dict[str, float]:
        radius = {"square": 0.0, "ogee": self.size / 2}.get(self.profile, self.size)
        return {
            "feature.length": self.length(),
            "feature.width": self.across(),
            "feature.depth": self.depth,
            "feature.radius": radius,
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        face, side = self.edge
        near, far = (block.inward(self.end, along) for along in (self.from_end, self.from_end + self.length()))
        at: dict[Axis, float] = {"x": near, axis_of(face): block.level(face), axis_of(side): block.level(side)}
        sizes = [Dimension("x", point(at | {"x": block.level(self.end)}), point(at), mm(self.from_end))] if self.from_end else []
        called = mm(self.length()) if self.profile == "square" else f"{self.profile} {mm(self.length())}"
        ends: tuple[tuple[Axis, float, str], ...] = (
            ("x", far, called),
            (axis_of(side), block.inward(side, self.across()), mm(self.across())),
            (axis_of(face), block.inward(face, self.depth), mm(self.depth)),
        )
        return (*sizes, *(Dimension(axis, point(at), point(at | {axis: stop}), label) for axis, stop, label in ends))

    def opens(self) -> tuple[FaceName, ...]:
        return self.edge

    def measured_from(self) -> tuple[FaceName, ...]:
        return (self.end, *self.edge)
