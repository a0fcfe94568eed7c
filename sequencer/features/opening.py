"""Openings with straight sides in a face: the shared shape of mortise, slot and cut-out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, mm, outside_part
from sequencer.features.checks import left_under, short_grain, thin_beside
from sequencer.features.placing import (
    Span,
    both_sides,
    bounding,
    lines_across,
    placed,
    placing,
    point,
    prism,
    references,
    run_in,
    runs_in,
)
from sequencer.findings import Finding
from sequencer.model.fields import At, AxisWord, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of, face_at, opposite, others
from sequencer.model.marks import Between, Marks, Window
from sequencer.model.shapes import Shape, arc


@dataclass(frozen=True, kw_only=True)
class Opening(Feature):
    """In `face`, `length` by `width`; the length runs `along` the part's length, width or thickness, by default along
    the longest side of the face. `at` goes to its near sides; what is left out is centred."""

    gives: ClassVar[tuple[str, ...]] = (
        "feature.length",
        "feature.width",
        "feature.depth",
        "feature.remaining",
        "feature.through",
        "feature.count",
    )

    face: Face
    at: At = field(default_factory=dict)
    length: Length
    width: Length
    along: AxisWord | None = None

    def __post_init__(self) -> None:
        bounding(self.title, self.face, self.at)
        runs_in(self.title, self.face, self.along)

    def blind(self) -> float | None:
        """Its depth, or none if it goes right through."""
        return None

    def run(self, block: Block) -> Axis:
        """The axis its length runs along."""
        return run_in(self.face, self.along, block)

    def across(self, block: Block) -> Axis:
        """The axis its width runs along."""
        return next(axis for axis in others(axis_of(self.face)) if axis != self.run(block))

    def in_face(self, block: Block) -> dict[Axis, Span]:
        """Its spans in the face."""
        return placed(block, self.face, self.at, {self.run(block): self.length, self.across(block): self.width})

    def reach(self, block: Block) -> float:
        """How deep it goes."""
        return self.blind() or block.size(axis_of(self.face))

    def spans(self, block: Block) -> dict[Axis, Span]:
        """Its spans along the three axes."""
        return self.in_face(block) | {axis_of(self.face): block.span(self.face, 0.0, self.reach(block))}

    def corner_radius(self, block: Block) -> float:
        """Radius of its rounded corners."""
        return 0.0

    def breaks(self, block: Block) -> tuple[FaceName, ...]:
        """The edges of the part it is open at."""
        return tuple(
            face_at(axis, high)
            for axis, (low, far) in self.in_face(block).items()
            for high, gap in ((False, low), (True, block.size(axis) - far))
            if abs(gap) < NEAR
        )

    def inner_corners(self, block: Block) -> list[tuple[bool, bool]]:
        """Its corners inside the part, as low or high along the two axes of the face in alphabetical order."""
        first, second = others(axis_of(self.face))
        breaks = self.breaks(block)
        return [(a, b) for a, b in _CORNERS if face_at(first, a) not in breaks and face_at(second, b) not in breaks]

    def corner_names(self, block: Block) -> list[str]:
        """Its corners inside the part by the two edges of the face that they lie towards, such as `top/left`."""
        first, second = others(axis_of(self.face))
        return [f"{face_at(second, b)}/{face_at(first, a)}" for a, b in self.inner_corners(block)]

    def removes(self, block: Block) -> tuple[Shape, ...]:
        spans, deep = self.spans(block), axis_of(self.face)
        first, second = others(deep)
        outline = _rounded(spans[first], spans[second], self.corner_radius(block), self.inner_corners(block))
        return (prism(deep, ({first: a, second: b} for a, b in outline), spans[deep]),)

    def lines_along(self, block: Block, axis: Axis) -> Between:
        """The two of its sides that are square to an axis."""
        return lines_across(block, self.at, axis, self.length if axis == self.run(block) else self.width)

    def marks(self, block: Block) -> Marks:
        first, second = (self.lines_along(block, axis) for axis in others(axis_of(self.face)))
        window, radius = Window(self.face, (first, second), self.blind()), self.corner_radius(block)
        if radius < NEAR:
            return window
        rounded = tuple((one, two) for one in _closed(block, first) for two in _closed(block, second))
        return replace(window, radius=radius, rounded=rounded)

    def figures(self, block: Block) -> dict[str, float]:
        spans, deep = self.in_face(block), axis_of(self.face)
        sides = [gap for axis, (low, high) in spans.items() for gap in (low, block.size(axis) - high)]
        under = block.size(deep) - self.reach(block)
        left = [gap for gap in (*sides, under) if gap > NEAR]
        return {
            # Tools go by the narrow way, whichever of the two the drawing calls the width.
            "feature.length": max(self.length, self.width),
            "feature.width": min(self.length, self.width),
            "feature.depth": self.reach(block),
            "feature.remaining": min(left, default=0.0) if under > -NEAR else under,
            "feature.through": float(self.blind() is None),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        spans = self.in_face(block)
        spot = {axis: low for axis, (low, _) in spans.items()} | {axis_of(self.face): block.level(self.face)}
        sizes = placing(block, self.face, self.at, spans)
        for axis, (low, high) in spans.items():
            sizes.append(Dimension(axis, point(spot), point(spot | {axis: high}), mm(high - low)))
        depth = self.blind()
        if depth is not None:
            bottom = point(spot | {axis_of(self.face): block.inward(self.face, depth)})
            sizes.append(Dimension(axis_of(self.face), point(spot), bottom, mm(depth)))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return both_sides(self.face, self.blind() is None)

    def measured_from(self) -> tuple[FaceName, ...]:
        return references(self.face, self.at)

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from outside_part(self, block, opposite(self.face))
        depth = self.blind()
        if depth is not None:
            yield from left_under(self, block, self.face, depth, usual=2 / 3, most=1.0, through=True)
        yield from thin_beside(self, block, self.face, self.spans(block), grain)
        yield from short_grain(self, block, self.face, self.spans(block), grain)


_CORNERS = ((False, False), (True, False), (True, True), (False, True))
"""The corners of a rectangle in order, as low or high along its two axes."""


def _closed(block: Block, lines: Between) -> tuple[FaceName, ...]:
    """The faces that two sides lie towards without reaching them."""
    towards = {lines.face: lines.near, opposite(lines.face): block.size(axis_of(lines.face)) - lines.far}
    return tuple(face for face, gap in towards.items() if gap > NEAR)


def _rounded(first: Span, second: Span, radius: float, inner: list[tuple[bool, bool]]) -> list[tuple[float, float]]:
    """A rectangle's outline with its inner corners rounded."""
    outline: list[tuple[float, float]] = []
    for turn, (high_a, high_b) in enumerate(_CORNERS):
        a, b = first[high_a], second[high_b]
        if radius > 0 and (high_a, high_b) in inner:
            centre = (a - radius if high_a else a + radius, b - radius if high_b else b + radius)
            outline.extend(arc(centre, radius, 180 + 90 * turn, 270 + 90 * turn))
        else:
            outline.append((a, b))
    return [each for each, after in pairwise([*outline, outline[0]]) if not _same(each, after)]


def _same(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) < NEAR and abs(one[1] - other[1]) < NEAR
