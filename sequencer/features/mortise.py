"""Mortise: the hole a tenon enters, blind or through; with a recess for a haunch, flared for wedges, or with round ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar, Literal

from sequencer.features.base import NEAR, Dimension, finding, mm, refuse, register
from sequencer.features.checks import COMMON
from sequencer.features.opening import Opening
from sequencer.features.placing import Span, point, prism
from sequencer.findings import Finding
from sequencer.model.fields import STRICT, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of, face_at, is_high, opposite
from sequencer.model.marks import Marks, Ramp, Window
from sequencer.model.shapes import Shape

WIDTH_SOURCE = "W. Fairham, Woodwork Joints: a third of the thickness; over half: common practice"
FLARED = 3 / 4
"""Share of a through mortise that slopes for its wedges; the rest at the shoulder stays parallel. From memory."""
FLARE_SOURCE = "from memory: about 3 mm at each end, or a slope of 1 in 8 to 1 in 6"


@dataclass(frozen=True, kw_only=True)
class HaunchRecess:
    """The recess for a tenon's haunch, at the end of the mortise towards the face `side`: `depth` deep, `length` on from the
    mortise, or out to that face without one; `sloping` falls from the face up to the mortise."""

    __pydantic_config__ = STRICT

    side: Face
    depth: Length
    length: Length | None = None
    form: Literal["square", "sloping"] = "square"


@register
@dataclass(frozen=True, kw_only=True)
class Mortise(Opening):
    """As an opening; `depth` in from the face, or right through without one. `ends: round` for a loose tenon cut with a
    turning cutter. `flare` makes a through mortise so much longer at each end on its far side, for wedges. `haunch` adds the
    recess for a haunch."""

    gives: ClassVar[tuple[str, ...]] = (*Opening.gives, "feature.radius", "feature.haunch", "feature.flare")

    kind: ClassVar = "mortise"
    title: ClassVar = "mortise"
    says: ClassVar = "a square hole for a tenon, blind or right through"

    depth: Length | None = None
    ends: Literal["square", "round"] = "square"
    flare: Length | None = None
    haunch: HaunchRecess | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.flare is not None and self.depth is not None:
            raise refuse(
                "the mortise is flared for wedges on its far side, so it goes right through; take `depth` or `flare` out"
            )
        if self.ends == "round" and (self.flare is not None or self.haunch is not None):
            raise refuse("a mortise with round ends takes a loose tenon; it has no flare and no haunch")
        if self.ends == "round" and self.length < self.width:
            raise refuse("the mortise has round ends; its length must be at least its width")
        if self.haunch is not None and axis_of(self.haunch.side) == axis_of(self.face):
            raise refuse(f"the mortise is in the {self.face} face; its haunch cannot lie towards the {self.haunch.side} face")
        if self.haunch is not None and self.depth is not None and self.haunch.depth >= self.depth:
            raise refuse("the recess for the haunch is as deep as the mortise; make it shallower")

    def blind(self) -> float | None:
        return self.depth

    def corner_radius(self, block: Block) -> float:
        return self.width / 2 if self.ends == "round" else 0.0

    def ramps(self, block: Block) -> tuple[Ramp, ...]:
        """The recess for the haunch and the slopes for wedges, each at an end of the mortise."""
        run = self.run(block)
        found = []
        if self.haunch is not None:
            near, far = self._recess(block)
            at_edge = self.haunch.depth if self.haunch.form == "square" else 0.0
            found.append(Ramp(self.face, self.haunch.side, near, far, self.haunch.depth, at_edge))
        if self.flare is not None:
            deep = FLARED * block.size(axis_of(self.face))
            for side in (face_at(run, False), face_at(run, True)):
                near = self._gap(block, side)
                found.append(Ramp(opposite(self.face), side, near, near - self.flare, deep, 0.0))
        return tuple(found)

    def _gap(self, block: Block, side: FaceName) -> float:
        """Wood from a face to the near end of the mortise."""
        low, high = self.in_face(block)[axis_of(side)]
        return block.size(axis_of(side)) - high if is_high(side) else low

    def _recess(self, block: Block) -> Span:
        """From the face at its side to the two ends of the recess for the haunch: at the mortise, and further out."""
        assert self.haunch is not None
        near = self._gap(block, self.haunch.side)
        return near, 0.0 if self.haunch.length is None else near - self.haunch.length

    def removes(self, block: Block) -> tuple[Shape, ...]:
        return (*super().removes(block), *(self._shape(block, ramp) for ramp in self.ramps(block)))

    def _shape(self, block: Block, ramp: Ramp) -> Shape:
        along, into, across = axis_of(ramp.side), axis_of(ramp.face), self.across(block)
        near, far, mouth = block.inward(ramp.side, ramp.near), block.inward(ramp.side, ramp.far), block.level(ramp.face)
        corners: list[dict[Axis, float]] = [
            {along: near, into: mouth},
            {along: near, into: block.inward(ramp.face, ramp.deep)},
            {along: far, into: block.inward(ramp.face, ramp.shallow)},
            *([{along: far, into: mouth}] if ramp.shallow > NEAR else []),
        ]
        return prism(across, corners, self.in_face(block)[across])

    def marks(self, block: Block) -> Marks:
        window = super().marks(block)
        assert isinstance(window, Window)
        return replace(window, ramps=self.ramps(block))

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {
            "feature.radius": self.corner_radius(block),
            "feature.haunch": self.haunch.depth if self.haunch is not None else 0.0,
            "feature.flare": self.flare or 0.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        sizes = list(super().dimensions(block))
        across = self.across(block)
        for ramp in self.ramps(block):
            along, into = axis_of(ramp.side), axis_of(ramp.face)
            corner: dict[Axis, float] = {
                across: self.in_face(block)[across][0],
                along: block.inward(ramp.side, ramp.near),
                into: block.level(ramp.face),
            }
            beyond, below = block.inward(ramp.side, ramp.far), block.inward(ramp.face, ramp.deep)
            sizes.append(Dimension(along, point(corner), point(corner | {along: beyond}), mm(abs(ramp.near - ramp.far))))
            if self.haunch is not None and ramp.face == self.face:
                sizes.append(Dimension(into, point(corner), point(corner | {into: below}), mm(ramp.deep)))
        return tuple(sizes)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.across(block) == "z" and self.width > block.thickness / 2 + NEAR:
            yield finding(
                self,
                "warning",
                "mortise-width",
                f"The mortise is {mm(self.width)} mm wide in {mm(block.thickness)} mm of wood, more than half.",
                why="A wide mortise leaves weak cheeks.",
                remedy=f"Make it about {mm(block.thickness / 3)} mm, the width of a chisel you have.",
                source=WIDTH_SOURCE,
            )
        if self.depth is not None and not 3 - NEAR <= self.depth / self.width <= 5 + NEAR:
            yield finding(
                self,
                "note",
                "mortise-depth",
                f"The mortise is {mm(self.depth)} mm deep; three to five times its width is "
                f"{mm(3 * self.width)} to {mm(5 * self.width)} mm.",
                source=COMMON,
            )
        yield from self._recess_check(block)
        yield from self._flare_check(block)

    def _recess_check(self, block: Block) -> Iterator[Finding]:
        """The recess lies along the mortise, with wood to lie in."""
        if self.haunch is None:
            return
        near, far = self._recess(block)
        if axis_of(self.haunch.side) != self.run(block):
            yield finding(
                self,
                "error",
                "haunch-beside-mortise",
                f"The recess for the haunch is to lie towards the {self.haunch.side} face, beside the mortise; it lies at one of "
                "its ends.",
                remedy=f"Name the {face_at(self.run(block), False)} or the {face_at(self.run(block), True)} face.",
            )
        elif near <= NEAR or far < -NEAR:
            yield finding(
                self,
                "error",
                "haunch-outside-part",
                f"Between the mortise and the {self.haunch.side} face are {mm(near)} mm: no room for the recess of the haunch.",
                remedy="Move the mortise inwards, or make the recess shorter.",
            )

    def _flare_check(self, block: Block) -> Iterator[Finding]:
        """A slope for wedges is slight, and stays in the part."""
        if self.flare is None:
            return
        run, deep = self.run(block), FLARED * block.size(axis_of(self.face))
        for side in (face_at(run, False), face_at(run, True)):
            if self._gap(block, side) - self.flare < -NEAR:
                yield finding(
                    self,
                    "error",
                    "flare-outside-part",
                    f"The flare of {mm(self.flare)} mm reaches beyond the {side} face of the part.",
                    remedy="Move the mortise inwards, or leave the waste on there until it is wedged.",
                )
        if self.flare > deep / 6 + NEAR:
            yield finding(
                self,
                "warning",
                "flare-steep",
                f"The mortise opens {mm(self.flare)} mm at each end over {mm(deep)} mm: steeper than 1 in 6.",
                why="A blunt wedge springs out, and splits the part as it is driven.",
                remedy=f"Flare it by 3 mm, or {mm(deep / 6)} mm at most.",
                source=FLARE_SOURCE,
            )
