"""Round holes in a face: the shared shape of holes and screw holes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations
from math import hypot
from typing import ClassVar

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part
from sequencer.features.checks import COMMON, ENOUGH_LEFT, left_under
from sequencer.features.placing import both_sides, placed, placing, point, spot_in, without_repeats
from sequencer.findings import Finding
from sequencer.model.frame import Axis, Block, FaceName, axis_of, face_at, is_high, opposite, others
from sequencer.model.marks import Marks, Spots
from sequencer.model.shapes import Cone, Shape


@dataclass(frozen=True)
class Head:
    """The wider mouth of a hole: a countersink of 90 degrees or a counterbore."""

    diameter: float
    depth: float
    conical: bool

    @property
    def called(self) -> str:
        """The trade's name for it."""
        return "countersink" if self.conical else "counterbore"


def countersink(head: float, diameter: float) -> Head:
    """The 90-degree countersink from its diameter at the face down to the hole's."""
    return Head(head, (head - diameter) / 2, True)


@dataclass(frozen=True, kw_only=True)
class Bored(Feature):
    """Alike round holes in one face, square to it. Its kind says where and how large."""

    gives: ClassVar[tuple[str, ...]] = (
        "feature.diameter",
        "feature.depth",
        "feature.remaining",
        "feature.through",
        "feature.count",
        "feature.edge-distance",
        "feature.head-diameter",
        "feature.head-depth",
        "feature.countersunk",
        "feature.counterbored",
    )

    def enters(self) -> FaceName:
        """The face it is bored from."""
        raise NotImplementedError

    def places(self, block: Block) -> tuple[Mapping[FaceName, float], ...]:
        """The spots of the centres, each by its distances."""
        raise NotImplementedError

    def bit(self) -> float:
        """Diameter of the hole."""
        raise NotImplementedError

    def blind(self) -> float | None:
        """Depth of the hole, or none if it goes right through."""
        return None

    def head(self) -> Head | None:
        """The wider mouth, if it has one."""
        return None

    def centres(self, block: Block) -> tuple[dict[Axis, float], ...]:
        """The centres in the face, along its two axes."""
        return tuple({axis: low for axis, (low, _) in placed(block, self.enters(), at, {}).items()} for at in self.places(block))

    def reach(self, block: Block) -> float:
        """How deep it goes."""
        return self.blind() or block.size(axis_of(self.enters()))

    def removes(self, block: Block) -> tuple[Shape, ...]:
        face, head, radius = self.enters(), self.head(), self.bit() / 2
        deep = axis_of(face)
        first, second = others(deep)
        shapes: list[Shape] = []
        for centre in self.centres(block):
            middle = (centre[first], centre[second])
            shapes.append(Cone(deep, middle, *block.span(face, 0.0, self.reach(block)), radius, radius))
            if head is not None:
                bottom = radius if head.conical else head.diameter / 2
                ends = (bottom, head.diameter / 2) if is_high(face) else (head.diameter / 2, bottom)
                shapes.append(Cone(deep, middle, *block.span(face, 0.0, head.depth), *ends))
        return tuple(shapes)

    def marks(self, block: Block) -> Marks:
        places = tuple(spot_in(block, self.enters(), at) for at in self.places(block))
        hole, head = Spots(self.enters(), places, self.bit(), self.blind()), self.head()
        if head is None:
            return hole
        return replace(hole, head_diameter=head.diameter, head_depth=head.depth, conical=head.conical)

    def margins(self, block: Block) -> tuple[tuple[FaceName, float], ...]:
        """From the centres to each of the four faces round the face bored: the least distance."""
        centres = self.centres(block)
        return tuple(
            (
                face_at(axis, high),
                min(block.size(axis) - centre[axis] if high else centre[axis] for centre in centres),
            )
            for axis in others(axis_of(self.enters()))
            for high in (False, True)
        )

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.remaining` is what is left under a blind hole, beside a through one."""
        head, nearest = self.head(), min(gap for _, gap in self.margins(block))
        under = block.size(axis_of(self.enters())) - self.reach(block)
        beside = nearest - (head.diameter if head else self.bit()) / 2
        return {
            "feature.diameter": self.bit(),
            "feature.depth": self.reach(block),
            "feature.remaining": beside if self.blind() is None else under,
            "feature.through": float(self.blind() is None),
            "feature.count": float(len(self.places(block))),
            "feature.edge-distance": nearest,
            "feature.head-diameter": head.diameter if head else 0.0,
            "feature.head-depth": head.depth if head else 0.0,
            "feature.countersunk": float(head is not None and head.conical),
            "feature.counterbored": float(head is not None and not head.conical),
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        face, head, depth = self.enters(), self.head(), self.blind()
        deep = axis_of(face)
        across = others(deep)[0]
        sizes: list[Dimension] = []
        for at, centre in zip(self.places(block), self.centres(block), strict=True):
            sizes += placing(block, face, at, {axis: (where, where) for axis, where in centre.items()})
        centre = self.centres(block)[0]
        middle = centre | {deep: block.level(face)}

        def round_about(diameter: float, label: str) -> Dimension:
            low, high = (middle | {across: centre[across] + sign * diameter / 2} for sign in (-1, 1))
            return Dimension(across, point(low), point(high), label)

        def into(depth: float) -> Dimension:
            return Dimension(deep, point(middle), point(middle | {deep: block.inward(face, depth)}), mm(depth))

        sizes.append(round_about(self.bit(), f"diameter {mm(self.bit())}"))
        if head is not None:
            sizes.append(round_about(head.diameter, f"{head.called} {mm(head.diameter)}"))
            if not head.conical:
                sizes.append(into(head.depth))
        if depth is not None:
            sizes.append(into(depth))
        return without_repeats(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return both_sides(self.enters(), self.blind() is None)

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from outside_part(self, block, opposite(self.enters()))
        depth, head = self.blind(), self.head()
        if depth is not None:
            yield from left_under(self, block, self.enters(), depth, usual=2 / 3, most=1.0, through=True)
        if head is not None and head.depth > self.reach(block) - NEAR:
            yield finding(
                self,
                "error",
                "head-too-deep",
                f"The {head.called} of the {self.title} is {mm(head.depth)} mm deep; the hole itself is "
                f"{mm(self.reach(block))} mm deep.",
                why="Nothing is left for the head of a screw to hold.",
                remedy=f"Make the {head.called} smaller or use thicker wood.",
            )
        yield from self.near_edges(block, grain)
        yield from self._near_each_other(block)

    def near_edges(self, block: Block, grain: Axis) -> Iterator[Finding]:
        """A warning where a hole stands too near to an edge or end."""
        raise NotImplementedError

    def _near_each_other(self, block: Block) -> Iterator[Finding]:
        head = self.head()
        wide = head.diameter if head else self.bit()
        first, second = others(axis_of(self.enters()))
        between = [
            hypot(one[first] - two[first], one[second] - two[second]) - wide for one, two in combinations(self.centres(block), 2)
        ]
        if between and min(between) < ENOUGH_LEFT - NEAR:
            gap = min(between)
            what = f"only {mm(gap)} mm of wood stands between two of them" if gap > NEAR else "two of them run into each other"
            yield finding(
                self,
                "warning",
                "holes-too-close",
                f"The holes are {mm(wide)} mm wide, and {what}.",
                why="The drill wanders into the hole beside it, and the wood between breaks out.",
                remedy="Move them apart, or write one slot.",
                source=COMMON,
            )
