"""Dowel holes: blind holes for the dowels of a joint, in an edge, end or face."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, finding, mm, register
from sequencer.features.bored import Bored
from sequencer.features.checks import ENOUGH_LEFT
from sequencer.features.placing import all_references, bounding
from sequencer.features.rows import Row
from sequencer.findings import Finding
from sequencer.model.fields import Face, Length, Spots
from sequencer.model.frame import Axis, Block, FaceName, axis_of, others

ROOM = 2.0
"""How much deeper a hole is than its half of the dowel, mm: common practice, room for glue and air."""
THIN, THICK = 1 / 3, 1 / 2
"""Share of the wood's thickness that a dowel is wide."""
DIAMETER_SOURCE = "rule of thumb for dowel joints as published: a third to a half of the thickness"
DEPTH_SOURCE = "woodworking forum, dowel sizing: about three times its diameter in each part; common practice, twice at least"


@register
@dataclass(frozen=True, kw_only=True)
class DowelHoles(Bored):
    """In `face`, `diameter` wide, for dowels `dowel` long of which half goes in here; the hole is 2 mm deeper, or `depth`
    deep. Centred `at` spots; or in a `row`, for which `at` says how far the row lies from an edge. The other part has the
    same row from the face that comes flush with this one's."""

    gives: ClassVar[tuple[str, ...]] = (*Bored.gives, "feature.length")

    kind: ClassVar = "dowel-holes"
    title: ClassVar = "dowel hole"
    says: ClassVar = "blind holes for dowels, spot by spot or in a row"
    nature: ClassVar = "bored"

    face: Face
    diameter: Length
    dowel: Length
    at: Annotated[Spots, Field(min_length=1)] = ({},)
    row: Row | None = None
    depth: Length | None = None

    def __post_init__(self) -> None:
        for at in self.at:
            bounding(self.title, self.face, at)
        if self.row is not None:
            self.row.refuse(self.face, self.at)

    def enters(self) -> FaceName:
        return self.face

    def places(self, block: Block) -> tuple[Mapping[FaceName, float], ...]:
        return self.at if self.row is None else self.row.places(block, self.at[0])

    def bit(self) -> float:
        return self.diameter

    def blind(self) -> float | None:
        return self.dowel / 2 + ROOM if self.depth is None else self.depth

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.length` is the dowel's."""
        return super().figures(block) | {"feature.length": self.dowel}

    def measured_from(self) -> tuple[FaceName, ...]:
        if self.row is None:
            return all_references(self.face, self.at)
        return all_references(self.face, [self.at[0] | {end: 0.0} for end in self.row.ends])

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.row is not None:
            yield from self.row.check(self, block)
        thickness = min(block.size(axis) for axis in others(axis_of(self.face)))
        if axis_of(self.face) != "z" and not THIN - NEAR <= self.diameter / thickness <= THICK + NEAR:
            yield finding(
                self,
                "warning",
                "dowel-diameter",
                f"The dowels are {mm(self.diameter)} mm wide in {mm(thickness)} mm of wood; a third to a half is "
                f"{mm(thickness * THIN)} to {mm(thickness * THICK)} mm.",
                why="A thick dowel splits the wood beside it; a thin one breaks.",
                remedy="Take 6, 8 or 10 mm, whichever comes between.",
                source=DIAMETER_SOURCE,
            )
        depth = self.reach(block)
        if depth < self.dowel / 2 + NEAR:
            yield finding(
                self,
                "warning",
                "dowel-bottoms",
                f"The holes are {mm(depth)} mm deep, and half of a dowel of {mm(self.dowel)} mm is {mm(self.dowel / 2)} mm.",
                why="Glue and air caught under the dowel keep the joint from closing.",
                remedy=f"Bore {mm(self.dowel / 2 + ROOM)} mm deep, unless the other part takes the longer half.",
                source=DEPTH_SOURCE,
            )
        if axis_of(self.face) != "z" and depth < 2 * self.diameter - NEAR:
            yield finding(
                self,
                "warning",
                "dowel-shallow",
                f"The holes are {mm(depth)} mm deep for dowels {mm(self.diameter)} mm wide; three times that is usual, "
                "twice the least.",
                why="A dowel that is glued over so little pulls out.",
                remedy=f"Take dowels of {mm(6 * self.diameter)} mm.",
                source=DEPTH_SOURCE,
            )

    def near_edges(self, block: Block, grain: Axis) -> Iterator[Finding]:
        """A dowel stands off an edge by half its diameter of wood, 3 mm at least. Common practice."""
        need = max(ENOUGH_LEFT, self.diameter / 2)
        for face, gap in self.margins(block):
            left = gap - self.diameter / 2
            if -NEAR < left < need - NEAR:
                yield finding(
                    self,
                    "warning",
                    "near-edge",
                    f"Between a dowel hole and the {face} face only {mm(left)} mm of wood is left.",
                    why="So little wood splits out when the dowel goes in.",
                    remedy=f"Leave at least {mm(need)} mm: move the holes or take thinner dowels.",
                    source="common practice: half the dowel's diameter",
                )
