"""Straight cuts of square section along an edge: the shared shape of groove, housing, halving, rebate and notch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, refuse
from sequencer.features.checks import COMMON, left_under, short_grain, thin_beside
from sequencer.findings import Finding
from sequencer.model.fields import Distance, Face, Length
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, Block, FaceName, Point, axis_of, face_at, opposite
from sequencer.model.marks import Marks, Trough
from sequencer.model.shapes import Shape, box_along


@dataclass(frozen=True)
class Trench:
    """A square cut in `face`, parallel to the face `beside`: `distance` from it, `width` wide, `depth` deep.

    It runs along the third axis. `stops` holds it back from the ends of its run: {left: 20} leaves 20 mm uncut there.
    """

    face: FaceName
    beside: FaceName
    distance: float
    width: float
    depth: float
    stops: Mapping[FaceName, float] = field(default_factory=dict)

    @property
    def run(self) -> Axis:
        """The axis it runs along."""
        return next(axis for axis in AXES if axis not in (axis_of(self.face), axis_of(self.beside)))

    def extent(self, block: Block) -> tuple[float, float]:
        """Where it starts and ends along its run."""
        low, high = (self.stops.get(face_at(self.run, side), 0.0) for side in (False, True))
        return low, block.size(self.run) - high

    def spans(self, block: Block) -> dict[Axis, tuple[float, float]]:
        """Its low and high along each axis."""
        return {
            self.run: self.extent(block),
            axis_of(self.beside): block.span(self.beside, self.distance, self.distance + self.width),
            axis_of(self.face): block.span(self.face, 0.0, self.depth),
        }

    def point(self, block: Block, along: float, over: float, into: float) -> Point:
        """The point at `along` on the run, `over` from the face beside, `into` from the face it is cut in."""
        spot = {
            self.run: along,
            axis_of(self.beside): block.inward(self.beside, over),
            axis_of(self.face): block.inward(self.face, into),
        }
        return Point(*(spot[axis] for axis in AXES))

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        """Distance, width, depth and stops."""
        across, deep = axis_of(self.beside), axis_of(self.face)
        start, _ = self.extent(block)
        near, far = self.distance, self.distance + self.width

        def at(over: float, into: float = 0.0) -> Point:
            return self.point(block, start, over, into)

        sizes = [Dimension(across, at(0), at(near), mm(near))] if near else []
        sizes.append(Dimension(across, at(near), at(far), mm(self.width)))
        sizes.append(Dimension(deep, at(near), at(near, self.depth), mm(self.depth)))
        for face, gap in self.stops.items():
            if gap:
                level, end = block.level(face), block.inward(face, gap)
                sizes.append(Dimension(self.run, self.point(block, level, near, 0), self.point(block, end, near, 0), mm(gap)))
        return tuple(sizes)


@dataclass(frozen=True, kw_only=True)
class Trenched(Feature):
    """A feature that is one trench. Its kind says how its fields make it, and how deep is usual and most."""

    usual: ClassVar[float] = 1 / 3
    most: ClassVar[float] = 1 / 2
    depth_source: ClassVar[str] = COMMON

    gives: ClassVar[tuple[str, ...]] = (
        "feature.width",
        "feature.depth",
        "feature.length",
        "feature.distance",
        "feature.remaining",
        "feature.stopped",
        "feature.count",
    )

    def trench(self) -> Trench:
        """The cut."""
        raise NotImplementedError

    def removes(self, block: Block) -> tuple[Shape, ...]:
        start, stop = self.trench().extent(block)
        return (box_along(self.trench().spans(block)),) if start < stop else ()

    def figures(self, block: Block) -> dict[str, float]:
        trench = self.trench()
        start, stop = trench.extent(block)
        return {
            "feature.width": trench.width,
            "feature.depth": trench.depth,
            "feature.length": max(stop - start, 0.0),
            "feature.distance": trench.distance,
            "feature.remaining": block.size(axis_of(trench.face)) - trench.depth,
            "feature.stopped": float(sum(1 for gap in trench.stops.values() if gap > 0)),
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        return self.trench().dimensions(block)

    def opens(self) -> tuple[FaceName, ...]:
        return (self.trench().face,)

    def measured_from(self) -> tuple[FaceName, ...]:
        trench = self.trench()
        return (trench.beside, trench.face, *trench.stops)

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        trench = self.trench()
        start, stop = trench.extent(block)
        if start >= stop:
            yield finding(
                self,
                "error",
                "stops-meet",
                f"The stops of the {self.title} leave nothing to cut: the {AXIS_WORDS[trench.run]} is "
                f"{mm(block.size(trench.run))} mm and the stops take {mm(sum(trench.stops.values()))}.",
                remedy="Shorten the stops.",
            )
            return
        yield from outside_part(self, block, opposite(trench.face))
        yield from left_under(self, block, trench.face, trench.depth, usual=self.usual, most=self.most, source=self.depth_source)
        yield from thin_beside(self, block, trench.face, trench.spans(block), grain)
        yield from short_grain(self, block, trench.face, trench.spans(block), grain)


@dataclass(frozen=True, kw_only=True)
class Channel(Trenched):
    """A channel in a face, parallel to the edge it is measured from (`from`): `distance` mm away from it, `width` wide
    and `depth` deep. `stops` holds it back from the ends of its run: {left: 20} leaves 20 mm uncut at the left.
    """

    face: Face
    from_: Annotated[Face, Field(alias="from")]
    distance: Distance
    width: Length
    depth: Length
    stops: dict[Face, Distance] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if axis_of(self.face) == axis_of(self.from_):
            raise refuse(
                f"the {self.title} is in the {self.face} face and measured from the {self.from_} face; those do not meet. "
                "Measure it from a face that meets the one it is cut in"
            )
        along(self.title, self.trench(), self.stops)

    def marks(self, block: Block) -> Marks:
        return Trough(self.face, self.from_, self.distance, self.width, self.depth, held_back(self.stops))

    def trench(self) -> Trench:
        return Trench(self.face, self.from_, self.distance, self.width, self.depth, self.stops)

    def opens(self) -> tuple[FaceName, ...]:
        return (self.face, self.from_) if self.distance < NEAR else (self.face,)


def held_back(stops: Mapping[FaceName, float]) -> tuple[tuple[FaceName, float], ...]:
    """The stops that leave wood standing, as they are set out."""
    return tuple((face, gap) for face, gap in stops.items() if gap > 0)


def along(title: str, trench: Trench, stops: Mapping[FaceName, float]) -> None:
    """Refuses stops at faces where the cut does not end."""
    ends = (face_at(trench.run, False), face_at(trench.run, True))
    for face in stops:
        if face not in ends:
            raise refuse(f"the {title} runs from {ends[0]} to {ends[1]}; it cannot stop at the {face} face")
