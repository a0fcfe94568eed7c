"""Screw holes: clearance holes for wood screws, spot by spot or in a row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil
from typing import Annotated, ClassVar

from pydantic import Field

from sequencer.features.base import NEAR, finding, mm, refuse, register
from sequencer.features.bored import Bored, Head, countersink
from sequencer.features.placing import all_references, bounding
from sequencer.features.rows import Row
from sequencer.findings import Finding
from sequencer.model.fields import Face, Length, Spots
from sequencer.model.frame import Axis, Block, FaceName, axis_of

EDGES_SOURCE = (
    "LVL Handbook Europe 2025, Table 5.1 (pattern of Eurocode 5): predrilled, unloaded edge 3 d and end 7 d, "
    "d the diameter of the screw"
)


def shank(gauge: int) -> float:
    """Diameter of a wood screw's shank, mm: 0.060 in + 0.013 in for each gauge number (published wood-screw tables)."""
    return (0.060 + 0.013 * gauge) * 25.4


def clearance(gauge: int) -> float:
    """The hole a wood screw slips through, mm: its shank and 0.1 mm, up to the next half millimetre. Common practice."""
    return ceil((shank(gauge) + 0.1) * 2 - NEAR) / 2


def head_width(gauge: int) -> float:
    """Diameter of a countersunk head, mm, from the rule gauge = 2 x (width in sixteenths of an inch) - 2 as trade
    newsletters print it, to the tenth of a millimetre as tables and cards give it."""
    return round((gauge + 2) / 2 / 16 * 25.4, 1)


@register
@dataclass(frozen=True, kw_only=True)
class ScrewHoles(Bored):
    """In `face`, right through, for screws of one `gauge`, centred `at` spots; or in a `row`, for which `at` says how far
    the row lies from an edge. Without `diameter` the clearance hole follows from the gauge."""

    gives: ClassVar[tuple[str, ...]] = (*Bored.gives, "feature.gauge")

    kind: ClassVar = "screw-holes"
    title: ClassVar = "screw hole"
    says: ClassVar = "clearance holes for wood screws, countersunk or plain, spot by spot or in a row"
    nature: ClassVar = "bored"

    face: Face
    gauge: Annotated[int, Field(ge=2, le=24)]
    at: Annotated[Spots, Field(min_length=1)] = ({},)
    row: Row | None = None
    countersunk: bool = True
    diameter: Length | None = None

    def __post_init__(self) -> None:
        for at in self.at:
            bounding(self.title, self.face, at)
        if self.diameter is not None and self.countersunk and self.diameter >= head_width(self.gauge):
            raise refuse(
                f"the hole is {mm(self.diameter)} mm wide; the head of a gauge {self.gauge} screw, about "
                f"{mm(head_width(self.gauge))} mm, would fall through"
            )
        if self.row is not None:
            self.row.refuse(self.face, self.at)

    def enters(self) -> FaceName:
        return self.face

    def places(self, block: Block) -> tuple[Mapping[FaceName, float], ...]:
        return self.at if self.row is None else self.row.places(block, self.at[0])

    def bit(self) -> float:
        return self.diameter if self.diameter is not None else clearance(self.gauge)

    def head(self) -> Head | None:
        return countersink(head_width(self.gauge), self.bit()) if self.countersunk else None

    def figures(self, block: Block) -> dict[str, float]:
        return super().figures(block) | {"feature.gauge": float(self.gauge)}

    def measured_from(self) -> tuple[FaceName, ...]:
        if self.row is None:
            return all_references(self.face, self.at)
        return all_references(self.face, [self.at[0] | {end: 0.0} for end in self.row.ends])

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from super().check(block, grain)
        if self.row is not None:
            yield from self.row.check(self, block)

    def near_edges(self, block: Block, grain: Axis) -> Iterator[Finding]:
        for face, gap in self.margins(block):
            times, word = (7, "end") if axis_of(face) == grain else (3, "edge")
            need = times * shank(self.gauge)
            if -NEAR < gap < need - NEAR:
                yield finding(
                    self,
                    "warning",
                    "near-edge",
                    f"A screw of gauge {self.gauge} stands {mm(gap)} mm from the {face} {word}; "
                    f"{times} times its {mm(shank(self.gauge))} mm is {mm(need)} mm.",
                    why="A screw too near to an edge or end splits the wood.",
                    remedy="Move it inwards or take a thinner screw.",
                    source=EDGES_SOURCE,
                )
