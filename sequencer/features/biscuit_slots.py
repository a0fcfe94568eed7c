"""Biscuit slots: slots in the shape of a segment, plunged by a disc, for flat oval biscuits of pressed wood."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import asin, cos, sin, sqrt
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, refuse, register
from sequencer.features.checks import COMMON, left_under
from sequencer.features.placing import (
    Span,
    all_references,
    bounding,
    placed,
    placing,
    point,
    run_in,
    runs_in,
    spot_in,
    without_repeats,
)
from sequencer.features.rows import Row
from sequencer.findings import Finding
from sequencer.model.fields import AxisWord, Face, Length, Spots
from sequencer.model.frame import Axis, Block, FaceName, axis_of, opposite, others
from sequencer.model.marks import Marks, Plunges
from sequencer.model.shapes import Prism, Shape

BISCUITS = ((47.0, 15.0), (53.0, 19.0), (56.0, 23.0))
"""Lengths and widths biscuits are sold in, mm, all for a slot 4 mm wide: trade sizes, from memory."""
ROOM = 0.5
"""How much deeper a slot is than half its biscuit, mm at least: from memory."""
CHORDS = 32
"""Chords that a segment is drawn with."""
FROM_FACE = 5.0
"""Wood between a slot and the broad face beside it, mm: from memory."""
SIZE_SOURCE = "from memory: biscuits of 47 x 15, 53 x 19 and 56 x 23 mm in slots 8, 10 and 12.3 mm deep"


@register
@dataclass(frozen=True, kw_only=True)
class BiscuitSlots(Feature):
    """In `face`, `depth` deep at the middle of each, `width` across; the middles `at` spots, or in a `row`, for which `at`
    says how far the row lies from an edge. They run `along` the longest side of the face unless it says otherwise.
    `disc` is the cutter's diameter. The other part has the same slots from the face that comes flush with this one's."""

    gives: ClassVar[tuple[str, ...]] = (
        "feature.length",
        "feature.width",
        "feature.depth",
        "feature.distance",
        "feature.remaining",
        "feature.count",
        "feature.edge-distance",
    )

    kind: ClassVar = "biscuit-slots"
    title: ClassVar = "biscuit slot"
    says: ClassVar = "slots in the shape of a segment for flat biscuits, spot by spot or in a row"
    own_walls: ClassVar = True

    face: Face
    depth: Length
    width: Length = 4.0
    disc: Length = 100.0
    at: Annotated[Spots, Field(min_length=1)] = ({},)
    row: Row | None = None
    along: AxisWord | None = None

    def __post_init__(self) -> None:
        for at in self.at:
            bounding(self.title, self.face, at)
        if self.row is not None:
            self.row.refuse(self.face, self.at)
        runs_in(self.title, self.face, self.along)
        if self.depth >= self.disc / 2:
            raise refuse(
                f"the slot is {mm(self.depth)} mm deep; a disc of {mm(self.disc)} mm does not plunge as deep as its middle"
            )

    @property
    def length(self) -> float:
        """Length of a slot at the face, by the disc and its depth: the chord of a circle."""
        return 2 * sqrt((self.disc / 2) ** 2 - (self.disc / 2 - self.depth) ** 2)

    def run(self, block: Block) -> Axis:
        """The axis the slots run along."""
        return run_in(self.face, self.along, block)

    def across(self, block: Block) -> Axis:
        """The axis their width lies along."""
        return next(axis for axis in others(axis_of(self.face)) if axis != self.run(block))

    def places(self, block: Block) -> tuple[Mapping[FaceName, float], ...]:
        """The spots of the middles, each by its distances."""
        return self.at if self.row is None else self.row.places(block, self.at[0])

    def centres(self, block: Block) -> tuple[dict[Axis, float], ...]:
        """The middles in the face."""
        return tuple({axis: low for axis, (low, _) in placed(block, self.face, at, {}).items()} for at in self.places(block))

    def removes(self, block: Block) -> tuple[Shape, ...]:
        return tuple(self._segment(block, centre) for centre in self.centres(block))

    def _segment(self, block: Block, centre: Mapping[Axis, float]) -> Prism:
        run, into, across, radius = self.run(block), axis_of(self.face), self.across(block), self.disc / 2
        half = asin(min(1.0, self.length / self.disc))
        turns = [-half + 2 * half * number / CHORDS for number in range(CHORDS + 1)]
        corners = [
            {run: centre[run] + radius * sin(turn), into: block.inward(self.face, radius * cos(turn) - (radius - self.depth))}
            for turn in turns
        ]
        first, second = others(across)
        outline = tuple((corner[first], corner[second]) for corner in corners)
        return Prism(across, outline, centre[across] - self.width / 2, centre[across] + self.width / 2)

    def marks(self, block: Block) -> Marks:
        places = tuple(spot_in(block, self.face, at) for at in self.places(block))
        return Plunges(self.face, places, self.run(block), self.disc, self.width, self.depth)

    def _gap(self, block: Block) -> float:
        """The least wood between a slot and the face beside it."""
        across = self.across(block)
        middles = [centre[across] for centre in self.centres(block)]
        return min(min(middle, block.size(across) - middle) for middle in middles) - self.width / 2

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.distance` goes to the near side of the slots from the face they are measured from."""
        edge = next((face for at in self.places(block) for face in at if axis_of(face) == self.across(block)), None)
        middle = self.centres(block)[0][self.across(block)]
        distance = abs(middle - block.level(edge)) if edge is not None else middle
        return {
            "feature.length": self.length,
            "feature.width": self.width,
            "feature.depth": self.depth,
            "feature.distance": distance - self.width / 2,
            "feature.remaining": block.size(axis_of(self.face)) - self.depth,
            "feature.count": float(len(self.places(block))),
            "feature.edge-distance": distance,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        deep, run, across = axis_of(self.face), self.run(block), self.across(block)
        sizes: list[Dimension] = []
        for at, centre in zip(self.places(block), self.centres(block), strict=True):
            spans: dict[Axis, Span] = {axis: (where, where) for axis, where in centre.items()}
            sizes += placing(block, self.face, at, spans)
        middle: dict[Axis, float] = {**self.centres(block)[0], deep: block.level(self.face)}
        for axis, size in ((run, self.length), (across, self.width)):
            low, high = (point(middle | {axis: middle[axis] + sign * size / 2}) for sign in (-1, 1))
            sizes.append(Dimension(axis, low, high, mm(size)))
        sizes.append(Dimension(deep, point(middle), point(middle | {deep: block.inward(self.face, self.depth)}), mm(self.depth)))
        return without_repeats(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        return (self.face,)

    def measured_from(self) -> tuple[FaceName, ...]:
        if self.row is None:
            return all_references(self.face, self.at)
        return all_references(self.face, [self.at[0] | {end: 0.0} for end in self.row.ends])

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from outside_part(self, block, opposite(self.face))
        yield from left_under(self, block, self.face, self.depth, usual=2 / 3, most=1.0, source=COMMON)
        if self.row is not None:
            yield from self.row.check(self, block)
        gap = self._gap(block)
        if -NEAR < gap < FROM_FACE - NEAR and self.across(block) == "z":
            yield finding(
                self,
                "warning",
                "slot-near-face",
                f"Between a biscuit slot and the broad face only {mm(gap)} mm of wood stands.",
                why="The biscuit swells in the glue and shows through as a bump.",
                remedy=f"Leave at least {mm(FROM_FACE)} mm, in thin wood take another joint.",
                source="from memory",
            )
        if not any(breadth / 2 + ROOM - NEAR <= self.depth <= breadth / 2 + 4 * ROOM for _, breadth in BISCUITS):
            yield finding(
                self,
                "warning",
                "biscuit-depth",
                f"The slots are {mm(self.depth)} mm deep; biscuits are sold 15, 19 or 23 mm wide, half of "
                "which goes in with a little room.",
                why="A shallow slot keeps the joint open; in a deep one the biscuit holds little in the other part.",
                remedy="Make them 8, 10 or 12.3 mm deep.",
                source=SIZE_SOURCE,
            )
